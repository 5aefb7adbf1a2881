package html

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// rescripted is a page with another script that its policy still lets run.
func rescripted(t *testing.T, page string, change func(string) string) string {
	t.Helper()
	from := strings.LastIndex(page, "<script>") + len("<script>")
	to := from + strings.Index(page[from:], "</script>")
	digest := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return strings.ReplaceAll(base64.StdEncoding.EncodeToString(sum[:]), "+", "&#43;")
	}
	was, is := page[from:to], change(page[from:to])
	out := strings.Replace(page[:from]+is+page[to:], digest(was), digest(is), 1)
	if !strings.Contains(out, digest(is)) {
		t.Fatal("the policy does not know the changed script")
	}
	return out
}

// A page whose script cannot be read, does not run or stops half way shows the
// drawing and the table instead, and keeps its figures, on a phone too.
func TestFailedStart(t *testing.T) {
	_, whole := examplePage(t)
	ctx := browser(t)
	for name, page := range map[string]string{
		"data that is not what it should be": strings.Replace(whole, `"places":{`, `"places":null,"was":{`, 1),
		"data that cannot be read":           strings.Replace(whole, `"places":{`, `"places":{{`, 1),
		"a script that cannot be read":       rescripted(t, whole, func(s string) string { return s + "\nconst = 1;" }),
		"a script of a later language":       rescripted(t, whole, func(s string) string { return "let x = y ??? 1;\n" + s }),
		"a script that is not let run":       strings.Replace(whole, "'use strict';", "'use strict'; ", 1),
		"a script that stops half way": rescripted(t, whole, func(s string) string {
			return strings.Replace(s, "function buildTable() {", "function buildTable() {\n  no();", 1)
		}),
	} {
		for _, v := range views {
			if v.dark || !v.phone && !allViews() && name != "a script that stops half way" {
				continue // a phone has more to put back
			}
			t.Run(name+", "+v.name, func(t *testing.T) {
				p := load(t, ctx, page, "", v.emulate()...)
				wait(p, "document.querySelector('.still') !== null && document.readyState === 'complete'")
				if n := ask[int](p, "document.querySelectorAll('.still svg path').length"); n < 20 {
					t.Errorf("%d paths are drawn", n)
				}
				if got, want := ask[int](p, "document.querySelectorAll('.wide tbody tr').length"), strings.Count(whole, "<tr><td>"); got != want {
					t.Errorf("%d rows, want %d", got, want)
				}
				if got := text(p, ".plainly:not(#cut)"); !strings.Contains(got, "does not run here") {
					t.Errorf("the page says %q", got)
				}
				for _, part := range []string{".status", ".figures", ".condition summary", ".still svg"} {
					if !ask[bool](p, fmt.Sprintf("document.querySelector(%q).checkVisibility()", part)) {
						t.Errorf("%s is not shown", part)
					}
				}
				if ask[bool](p, "document.getElementById('cut').checkVisibility() || document.getElementById('floor').checkVisibility()") {
					t.Error("what does not work is shown")
				}
			})
		}
	}
}

// A file of which the end is missing tells so, wherever it was cut.
func TestCutFile(t *testing.T) {
	_, whole := examplePage(t)
	ctx := browser(t)
	for name, mark := range map[string]string{"in the data": `"places":{`, "in the script": "function buildTable() {"} {
		t.Run(name, func(t *testing.T) {
			p := load(t, ctx, whole[:strings.Index(whole, mark)], "")
			if got := ask[string](p, "document.getElementById('cut').innerText"); !strings.Contains(got, "its end is missing") || !ask[bool](p, "document.getElementById('cut').checkVisibility()") {
				t.Errorf("the page says %q", got)
			}
			if !ask[bool](p, "document.querySelector('.figures').checkVisibility()") {
				t.Error("the figures are not shown")
			}
		})
	}
	// What is cut behind the script is not missed: the page has all it needs.
	p := load(t, ctx, whole[:strings.Index(whole, "<noscript>")], "")
	wait(p, "ready > 0")
	p.do(chromedp.Click(chromedp.CSS("#fit")))
	p.quiet()
}

// On a slow computer frames come between the parts of the start, and sizes
// change from part to part. A browser tells with an error that it has put
// something off to its next frame; the page is not to take that for a failure.
func TestSlowStart(t *testing.T) {
	ctx := browser(t)
	_, whole := examplePage(t)
	slow := rescripted(t, whole, func(s string) string {
		s = strings.Replace(s, "if (performance.now() - began < 30) continue;", "", 1)
		return strings.Replace(s, "const nextTask = () => new Promise(go => { setTimeout(go); });",
			"const nextTask = () => new Promise(go => { setTimeout(go, 100); });\naddEventListener('error', e => (window.told ??= []).push(e.message));", 1)
	})
	p, told := open(t, ctx, slow, ""), 0
	for _, v := range walkViews {
		t.Run(v.name, func(t *testing.T) {
			p.again(v.emulate()...)
			if !ask[bool](p, "el('floor').checkVisibility()") || !ask[bool](p, painted) {
				t.Error("no plan is shown")
			}
			told += ask[int](p, "(window.told ?? []).length")
		})
	}
	p.quiet()
	if told == 0 {
		t.Error("no browser put anything off: the test proves nothing")
	}
}
