package check

import (
	"regexp"
	"strings"
	"testing"
)

// The families in the order in which All lists them.
const families = "FSCRTKQ"

func TestEachRuleIsComplete(t *testing.T) {
	code := regexp.MustCompile(`^[FSCRTKQ][1-9][0-9]{2}$`)
	last := ""
	order := func(c string) string { return string(rune('a'+strings.IndexByte(families, c[0]))) + c[1:] }
	for _, r := range All() {
		if !code.MatchString(r.Code) {
			t.Errorf("%q is no code", r.Code)
		}
		if last != "" && order(r.Code) <= order(last) {
			t.Errorf("%s stands after %s", r.Code, last)
		}
		last = r.Code
		for name, s := range map[string]string{
			"title": r.Title, "what": r.What, "why": r.Why, "before": r.Before, "after": r.After,
			"do": r.Do, "source": r.Source, "since": r.Since,
		} {
			if strings.TrimSpace(s) == "" && !(name == "do" && r.Class == Note) {
				t.Errorf("%s has no %s", r.Code, name)
			}
		}
		if Explain(r.Code) == "" {
			t.Errorf("%s cannot be explained", r.Code)
		}
	}
	if Explain("X999") != "" {
		t.Error("an unknown code is explained")
	}
}
