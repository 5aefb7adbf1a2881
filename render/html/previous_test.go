package html

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"platebook/rules/compare"
	"platebook/rules/unit"
)

// The page's two dates are the comparison's: its counts, its pairs, its rates.
func TestPreviousInspection(t *testing.T) {
	a, page := comparedPage(t)
	c := a.Comparison
	for _, k := range []compare.Class{compare.Grown, compare.New, compare.Unchanged, compare.Gone} {
		if c.Count[k] == 0 {
			t.Fatalf("no place is %s: the test proves nothing", k.Words())
		}
	}
	p := open(t, browser(t), page, "")
	of := func(class compare.Class) string {
		return text(p, fmt.Sprintf("#facet-class .option:has([data-word=%q]) .n", class.Words()))
	}
	for class, n := range c.Count {
		if got := of(class); n > 0 && got != fmt.Sprint(n) {
			t.Errorf("%s of %s, want %d", got, class.Words(), n)
		}
	}
	if got := text(p, "#numbers"); !strings.Contains(got, "Since 2014-05-20") {
		t.Errorf("the statistics say nothing of the previous inspection: %q", got)
	}

	// One click shows what grew, and lists it.
	p.do(chromedp.Click(chromedp.CSS("[data-show=grown] button")))
	if got, want := ask[int](p, "shownCount"), c.Count[compare.Grown]+c.Count[compare.New]; got != want {
		t.Errorf("%d places shown of those grown or new, want %d", got, want)
	}
	if n, want := ask[int](p, "document.querySelectorAll('#card .lines li').length"), c.Count[compare.Grown]+c.Count[compare.New]; n != want {
		t.Errorf("%d places listed, want %d", n, want)
	}
	p.do(chromedp.Click(chromedp.CSS("#reset")))

	// A place's card tells its past as the comparison has it.
	for i := range c.Pairs {
		q := &c.Pairs[i]
		if q.Class != compare.Grown || !q.Growth.Known {
			continue
		}
		l := &a.Result.Locations[q.New]
		p.do(run(fmt.Sprintf("choosePlace(placeByKey(%s))", js(l.Label))))
		card := text(p, "#card")
		for _, want := range []string{
			"grown", strings.ReplaceAll(unit.Thickness.TextUnit(unit.SI, float64(q.OldR.V), 0), " ", "\u00a0"),
			strings.ReplaceAll(unit.RateKind.TextUnit(unit.SI, float64(q.Growth.V), 0), " ", "\u00a0"),
		} {
			if !strings.Contains(card, want) {
				t.Errorf("the card of %s lacks %q: %q", l.Label, want, card)
			}
		}
		break
	}

	// Side by side, a click in the earlier pane selects the earlier place.
	p.do(chromedp.SetValue(chromedp.CSS("#dates"), "beside"), run("el('dates').dispatchEvent(new Event('change')); choosePlate(-1); paint()"))
	j := ask[int](p, `(() => {
	  for (let j = 0; j < then.n; j++) {
	    const x = sx(then.x[j]), y = sy(then.y[j]);
	    if (x > 20 && y > 20 && x < view.width - 20 && y < view.height - 20 && thenUnder(x, y, 3) === j) return j;
	  }
	  return -1;
	})()`)
	if j < 0 {
		t.Fatal("no earlier place to click on")
	}
	at := ask[[]float64](p, fmt.Sprintf("(() => { const b = el('plan').getBoundingClientRect(); return [b.left + 1 + sx(then.x[%d]), b.top + 1 + sy(then.y[%d]), view.full[0], view.width]; })()", j, j))
	p.do(chromedp.MouseClickXY(at[0], at[1]))
	if got := ask[string](p, "other?.kind + ' ' + other?.i"); got != fmt.Sprint("then ", j) {
		t.Errorf("a click on earlier place %d selects %s", j, got)
	}
	if got := text(p, "#card h3"); !strings.Contains(got, "of 2014-05-20") {
		t.Errorf("the card is headed %q", got)
	}
	if at[3] > at[2]/2 {
		t.Errorf("a pane is %v of %v pixels wide", at[3], at[2])
	}
	// The same place now stands one pane further on.
	p.do(chromedp.MouseClickXY(at[0]+at[3]+4, at[1]))
	if got := ask[string](p, "other?.kind ?? 'place'"); got == "then" {
		t.Error("a click in the pane of this inspection selects an earlier place")
	}
	p.quiet()
}

// What was not examined, and what will be done, is one click away.
func TestFiguresOfTheHead(t *testing.T) {
	a, page := examplePage(t)
	p := open(t, browser(t), page, "")
	partly := 0
	for i := range a.Result.Plates {
		if e := a.Result.Plates[i].Examined; !e.Known || e.V < 100-1e-9 {
			partly++
		}
	}
	p.do(chromedp.Click(chromedp.CSS("[data-show=unexamined] button")))
	if n := ask[int](p, "document.querySelectorAll('#card .lines li').length"); n != partly || n == 0 {
		t.Errorf("%d plates not examined whole, want %d", n, partly)
	}
	for i := range a.Inspection.Plates {
		if why := a.Inspection.Plates[i].ReasonNotExamined.Or(""); why != "" && !strings.Contains(text(p, "#card"), oneLine(why)) {
			t.Errorf("the reason %q is not told", why)
		}
	}
	p.do(chromedp.Click(chromedp.CSS("[data-show=todo] button")))
	if n := ask[int](p, "document.querySelectorAll('#card .lines li').length"); n < len(a.Repairs.Items) {
		t.Errorf("%d repairs listed, want %d", n, len(a.Repairs.Items))
	}
	it := &a.Repairs.Items[0]
	plate := a.Inspection.Plates[it.Plate].Label.Text
	p.do(chromedp.Click(chromedp.CSS("#reset")), chromedp.SendKeys(chromedp.CSS("#find"), plate+"\r"))
	wait(p, "other?.kind === 'plate'")
	if got := text(p, "#card"); !strings.Contains(got, it.Label) || !strings.Contains(got, string(it.Kind)) {
		t.Errorf("the card of plate %s does not tell of repair %s: %q", plate, it.Label, got)
	}

	// Under four millimetres on the soil side: the count beside the choice.
	p.do(chromedp.SendKeys(chromedp.CSS("#remaining-to"), "<4.2"))
	n := 0
	for _, i := range placesOf(a) {
		if l := &a.Result.Locations[i]; l.Remaining.Known && l.Remaining.V < 4.2-1e-6 && l.Side.String() == "soil" {
			n++
		}
	}
	if got := text(p, "#facet-side .option:has([data-word=soil]) .n"); got != fmt.Sprint(n) || n == 0 {
		t.Errorf("%s places under 4.2 mm on the soil side, want %d", got, n)
	}

	// Strips and seams stand in the page as the geometry has them.
	if got := ask[int](p, "D.seams.length"); got != len(a.Plan.Seams) {
		t.Errorf("%d seams, want %d", got, len(a.Plan.Seams))
	}
	if got := ask[int](p, "D.tracks.length"); got == 0 || got > len(a.Inspection.Tracks) {
		t.Errorf("%d strips of %d", got, len(a.Inspection.Tracks))
	}
	p.quiet()
}
