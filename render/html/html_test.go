package html

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"platebook/templates"
)

func TestSameBytes(t *testing.T) {
	_, first := examplePage(t)
	second := write(t, example(t, nil), Options{})
	if first != second {
		t.Error("two pages of one workbook differ")
	}
}

func TestSizeOfALargeFloor(t *testing.T) {
	const most = 2_000_000
	if n := len(write(t, large(t, 5000), Options{})); n > most {
		t.Errorf("%d bytes for 5,000 indications, at most %d", n, most)
	}
}

// A card names the first reasons of a repair and counts the others.
func TestReasonsOfARepairAreCounted(t *testing.T) {
	var many []string
	for i := range 40 {
		many = append(many, fmt.Sprintf("%d: 3.00 mm, below 2.54 mm within 10.0 years", i))
	}
	got := foremost(many)
	if len(got) != 7 || got[5] != many[5] || got[6] != "34 more, told by the table of places" {
		t.Errorf("%q", got)
	}
	if len(many) != 40 || many[6] == got[6] {
		t.Error("the repair's own reasons changed")
	}
	if got := foremost(many[:7]); len(got) != 7 || got[6] != many[6] {
		t.Errorf("%q", got)
	}
}

// between is what stands between two marks.
func between(t *testing.T, page, from, to string) string {
	t.Helper()
	_, rest, ok := strings.Cut(page, from)
	inside, _, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		t.Fatalf("no %q … %q in the page", from, to)
	}
	return inside
}

func TestPolicyNamesThePagesOwnScriptAndStyle(t *testing.T) {
	page := write(t, hostile(t), Options{})
	digest := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + strings.ReplaceAll(base64.StdEncoding.EncodeToString(sum[:]), "+", "&#43;") + "'"
	}
	policy := strings.ReplaceAll(between(t, page, `http-equiv="Content-Security-Policy" content="`, `"`), "&#39;", "'")
	guard := between(t, page, "<script>", "</script>")
	_, rest, _ := strings.Cut(page, guard)
	for _, part := range []string{
		"default-src 'none'", "base-uri 'none'", "form-action 'none'",
		"script-src " + digest(guard) + " " + digest(between(t, rest, "<script>", "</script>")),
		"style-src " + digest(between(t, page, "<style>", "</style>")),
	} {
		if !strings.Contains(policy, part) {
			t.Errorf("policy %q lacks %q", policy, part)
		}
	}
	if strings.Contains(policy, "unsafe") {
		t.Errorf("policy %q", policy)
	}
}

func TestHostileTextIsEscaped(t *testing.T) {
	page := write(t, hostile(t), Options{})
	if n := strings.Count(page, "<script"); n != 3 {
		t.Errorf("%d script elements, want the guard, the data and the script", n)
	}
	for _, bad := range []string{"<img src=x", `" onmouseover="window`, "http://", "https://", "javascript:"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if err := json.Unmarshal([]byte(between(t, page, `id="data">`, "</script>")), &struct{ Plates *[]any }{}); err != nil {
		t.Errorf("the data is no JSON: %v", err)
	}
}

// Every word that the script and the frame ask for exists, and none is idle.
func TestWords(t *testing.T) {
	words := map[string]string{}
	if err := json.Unmarshal(templates.PageWords, &words); err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{"loss": true, "remaining": true, "from": true, "to": true} // by name in the filters
	for _, m := range regexp.MustCompile(`\bW\.(\w+)`).FindAllStringSubmatch(templates.PageJS(), -1) {
		used[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`\{\{w "(\w+)"\}\}`).FindAllStringSubmatch(templates.PageHTML, -1) {
		used[m[1]] = true
	}
	for k := range used {
		if words[k] == "" {
			t.Errorf("no word for %q", k)
		}
	}
	for k := range words {
		if !used[k] {
			t.Errorf("word %q is not used", k)
		}
	}
}

// The drawing and the table that need no script hold every place.
func TestWithoutScript(t *testing.T) {
	a, page := examplePage(t)
	still := between(t, page, "<noscript>", "</noscript>")
	if n, want := strings.Count(still, "<tr><td>"), len(placesOf(a)); n != want || want == 0 {
		t.Errorf("%d rows, want %d", n, want)
	}
	if !strings.Contains(still, "<svg ") || !strings.Contains(still, "Indication plan") {
		t.Error("no drawing")
	}
}
