package html

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestAccessible runs the checks of axe-core over the page in every state and
// view of TestLook. PLATEBOOK_AXE names its axe.min.js, which .ci/axe fetches.
func TestAccessible(t *testing.T) {
	name := os.Getenv("PLATEBOOK_AXE")
	if name == "" {
		t.Skip("PLATEBOOK_AXE names no axe.min.js: see .ci/axe")
	}
	axe, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	_, page := comparedPage(t)
	ctx := browser(t)
	check := func(t *testing.T, p *tab, name string) {
		t.Helper()
		for _, f := range ask[[]string](p, `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
		  .then(r => r.violations.map(v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + ' ' + n.failureSummary).join(' | ')))`) {
			t.Errorf("%s: %s", name, f)
		}
	}
	for _, v := range views {
		before := append(v.emulate(), dark(v.dark))
		t.Run(v.name, func(t *testing.T) {
			p := open(t, ctx, page, "", before...)
			p.do(run(string(axe)))
			for _, s := range states {
				p.do(run("showAll(); " + s.script))
				check(t, p, s.name)
			}
			p.quiet()
		})
		t.Run(v.name+", other floors", func(t *testing.T) {
			for _, w := range walks[1:] {
				p := open(t, ctx, write(t, w.of(t), Options{}), "", before...)
				p.do(run(string(axe)))
				check(t, p, w.name)
				p.do(run("step(1)"))
				check(t, p, w.name+", selected")
			}
		})
		t.Run(v.name+", without a script", func(t *testing.T) {
			p := load(t, ctx, rescripted(t, page, func(s string) string { return s + "const = 1;" }), "", before...)
			wait(p, "document.querySelector('.still') !== null")
			p.do(run(string(axe)))
			check(t, p, "drawing and table")
		})
	}
	if n := len(views) * len(states); n < 40 {
		t.Errorf("only %d pages looked at", n)
	}
}

// TestKeyboard walks the whole page with Tab: every control is reached, each
// shows that it has the focus, and what is not shown is passed over.
func TestKeyboard(t *testing.T) {
	_, page := comparedPage(t)
	p := open(t, browser(t), page, "")
	want := ask[[]string](p, `[...document.querySelectorAll('button, select, input, summary, a[href], [tabindex="0"]')]
	  .filter(e => e.checkVisibility() && !e.disabled && !e.closest('noscript')).map((e, i) => e.dataset.tab = String(i))`)
	reached := map[string]bool{}
	for range len(want) + 20 {
		p.do(chromedp.KeyEvent(kb.Tab))
		at := ask[[]string](p, `(() => { const e = document.activeElement; return [e.dataset.tab ?? '', getComputedStyle(e).outlineStyle]; })()`)
		if at[0] == "" {
			continue
		}
		if at[1] == "none" {
			t.Errorf("the focus is not seen on control %s", at[0])
		}
		reached[at[0]] = true
	}
	for _, n := range want {
		if !reached[n] {
			t.Errorf("Tab does not reach %s", ask[string](p, fmt.Sprintf("document.querySelector('[data-tab=%q]').outerHTML", n)))
		}
	}
	// A place is found, told and left again without a mouse.
	p.do(chromedp.Focus(chromedp.CSS("#find")), chromedp.KeyEvent("10-2/107"), chromedp.KeyEvent(kb.Enter))
	wait(p, "el('live').textContent.includes('Indication 107')")
	if got := text(p, "#card"); !strings.Contains(got, "from the bottom left corner") {
		t.Errorf("the card does not say where the position is measured from: %q", got)
	}
	p.quiet()
}
