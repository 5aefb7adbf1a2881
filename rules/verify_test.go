package rules_test

import (
	"slices"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/method"
	"platebook/rules/std/api653_5"
)

// Each result that rests on something from memory says so, and only then.
func TestVerifyListsWhatIsUsed(t *testing.T) {
	plain, ring := method.Scene("example").Verify(), method.Scene("ring").Verify()
	for _, c := range []struct {
		scene, text string
		listed      bool
	}{
		{"ring", api653_5.VerifyAnnularStress, true},
		{"example", api653_5.VerifyAnnularStress, false},
		{"ring", "default of Isolated pits, critical zone and ring", true},
		{"example", "default of Isolated pits, critical zone and ring", false},
		{"example", api653_5.VerifyCriticalNominal, true},
		{"example", api653_5.VerifyThresholdRule, true},
		{"barrier", api653_5.VerifyBarrierCap, true},
		{"example", api653_5.VerifyBarrierCap, false},
		{"lined", api653_5.VerifyLiningLife, true},
		{"lined", api653_5.VerifyThinFilm, true},
		{"example", api653_5.VerifyLiningLife, false},
		{"protected", api653_5.VerifyCathodic, true},
		{"example", api653_5.VerifyCathodic, false},
		{"survey", "default of Settlement cosine R2", true},
		{"example", "default of Settlement cosine R2", false},
		{"compared", "default of UT tolerance", true},
	} {
		if got := slices.Contains(method.Scene(c.scene).Verify(), c.text); got != c.listed {
			t.Errorf("%s: %q listed %v, want %v", c.scene, c.text, got, c.listed)
		}
	}
	if len(plain) == 0 || len(ring) <= len(plain) {
		t.Errorf("%d and %d listed", len(plain), len(ring))
	}
	for _, list := range [][]string{plain, ring} {
		for i, s := range list {
			if slices.Contains(list[:i], s) || strings.TrimSpace(s) == "" {
				t.Errorf("%q twice or empty", s)
			}
		}
	}
}

// Every criterion from memory can come to the list.
func TestEveryRememberedCriterionIsListed(t *testing.T) {
	listed := map[string]bool{}
	for _, scene := range []string{"ring", "survey", "compared"} {
		for _, s := range method.Scene(scene).Verify() {
			listed[s] = true
		}
	}
	for _, d := range criteria.Table {
		if d.Mark == criteria.Memory && !listed["default of "+string(d.Name)] {
			t.Errorf("%s is from memory and never listed", d.Name)
		}
	}
}

// An empty assessment has nothing to verify.
func TestVerifyOfNothing(t *testing.T) {
	if list := (&rules.Assessment{}).Verify(); list != nil {
		t.Errorf("%v", list)
	}
}
