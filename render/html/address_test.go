package html

import (
	"fmt"
	"net/url"
	"strings"
	"testing"

	"platebook/rules/inspection"
)

// A link to a plate opens it whatever it is called, going back returns to what
// was selected before, and an address of nothing on the floor is told.
func TestAddress(t *testing.T) {
	names := []string{"A/1 #2%", "é\u2028?&=", `"><i>'`, "%41", strings.Repeat("long", 1250)}
	a := example(t, func(in *inspection.Inspection) {
		for i, name := range names {
			p := &in.Plates[i+20]
			old := p.Label.Value
			p.Label.Value, p.Label.Text = name, name
			for k := range in.Indications {
				if r := &in.Indications[k]; r.Plate.Value == old {
					r.Plate.Value, r.Plate.Text = name, name
				}
			}
		}
	})
	page, ctx := write(t, a, Options{}), browser(t)
	p := open(t, ctx, page, "#plate="+strings.ReplaceAll(url.QueryEscape(names[0]), "+", "%20"))
	for i, name := range names {
		name = oneLine(name)
		heading := func() string { return ask[string](p, "document.querySelector('#card h3').textContent") }
		if i == 0 {
			if got := heading(); got != "Plate "+name {
				t.Errorf("the address of plate %q opens %q", name, got)
			}
		}
		p.do(run(fmt.Sprintf("since = -Infinity; goTo(%s, 'plate')", js(name))))
		if got := heading(); got != "Plate "+name {
			t.Errorf("plate %q is %q", name, got)
		}
		p.do(run("readAddress(written = null)"))
		if got := heading(); got != "Plate "+name {
			t.Errorf("the page's own address of plate %q opens %q", name, got)
		}
	}
	for i := len(names) - 2; i >= 0; i-- {
		p.do(run("history.back()"))
		wait(p, fmt.Sprintf("document.querySelector('#card h3')?.textContent === 'Plate ' + %s", js(oneLine(names[i]))))
	}
	p.do(run("history.forward()"))
	wait(p, fmt.Sprintf("document.querySelector('#card h3')?.textContent === 'Plate ' + %s", js(oneLine(names[1]))))
	p.do(run("location.hash = '#plate=9-9-9'"))
	wait(p, "el('card').textContent.includes('No plate or place is called 9-9-9') && other === null")
	p.do(run("location.hash = '#place=%E0%A4%A'"))
	wait(p, "el('card').textContent.includes('%E0%A4%A')")
	p.do(run("location.hash = ''"))
	wait(p, "el('card').textContent.includes('Point at the plan')")
	p.quiet()
}

// A sump's plate lies below the floor: it is not missing from the plan, and is
// found at its opening.
func TestSump(t *testing.T) {
	_, page := examplePage(t)
	p := open(t, browser(t), page, "#plate=S1")
	if got := ask[string](p, "el('unplaced').textContent"); got != "" {
		t.Errorf("told as missing: %q", got)
	}
	if got := text(p, "#below"); !strings.Contains(got, "2 places of the table are in sump S1") {
		t.Errorf("of the sump's places the page says %q", got)
	}
	if !ask[bool](p, "(() => { const f = D.fixtures[sumpAt(other.i)]; return f.name === 'S1' && inSight(sx(f.at[0]), sy(-f.at[1]), 0) && view.k > 2 * wholeScale(); })()") {
		t.Error("the link does not lead to the sump's opening")
	}
	if n := ask[int](p, "(choosePlate(-1), pickAt(view.width / 2, view.height / 2, false, 3), other.kind === 'plate' ? 1 : 0)"); n != 1 {
		t.Error("a click in the opening does not select the sump's plate")
	}
	if got := text(p, "#numbers p"); got != "of the 2 places shown on plate S1" {
		t.Errorf("the statistics are %q", got)
	}
	p.quiet()
}
