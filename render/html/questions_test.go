package html

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// What a stranger asks of a floor is answered at once or with one press, or
// with a few words in the field.
func TestQuestions(t *testing.T) {
	a, page := comparedPage(t)
	ctx := browser(t)
	ask := func(p *tab, words string) string {
		t.Helper()
		p.do(run("el('find').value = ''"), chromedp.SendKeys(chromedp.CSS("#find"), words+"\r"))
		return text(p, "#card")
	}
	p := open(t, ctx, page, "")

	// Where is the thinnest place on the soil side, and how thin?
	found := a.Result.AsFound
	if got := text(p, ".figures"); !strings.Contains(got, unit.Thickness.TextUnit(unit.SI, float64(found.SoilMin.V), 0)) {
		t.Errorf("the head does not say how thin: %q", got)
	}
	p.do(chromedp.Click(chromedp.CSS("[data-at] button")))
	plate, number, _ := strings.Cut(found.SoilMinAt, "/")
	if got := text(p, "#card h3"); got != plate+" · Indication "+number {
		t.Errorf("the first figure leads to %q", got)
	}

	// What is the next date, and what governs it?
	s := a.Result.State(a.Result.PageOne)
	if got := text(p, ".figures"); !strings.Contains(got, "Calculated next date, as found\n"+s.NextDate.String()) || !strings.Contains(got, "interval "+unit.IntervalText(s.Interval.V)+" years, governed by ") {
		t.Errorf("the head does not tell the date: %q", got)
	}

	// Which plates get patches, and how many?
	p.do(chromedp.Click(chromedp.CSS("[data-show=todo] button")))
	patches, plates := map[string]int{}, map[int]bool{}
	for i := range a.Repairs.Items {
		it := &a.Repairs.Items[i]
		plates[it.Plate] = true
		patches[a.Inspection.Plates[it.Plate].Label.Text+" "+string(it.Kind)]++
	}
	card := text(p, "#card")
	for at, n := range patches {
		plate, kind, _ := strings.Cut(at, " ")
		if !strings.Contains(card, fmt.Sprintf("Plate %s: %d × %s", plate, n, kind)) {
			t.Errorf("%d × %s on plate %s is not told: %q", n, kind, plate, card)
		}
	}
	if want := fmt.Sprintf("on %d plates:", len(plates)); !strings.Contains(card, want) {
		t.Errorf("the card lacks %q: %q", want, card)
	}
	for i := range a.Repairs.Items {
		if !strings.Contains(card, a.Repairs.Items[i].Label) {
			t.Errorf("repair %s is not listed", a.Repairs.Items[i].Label)
		}
	}

	// Only what is deeper than so much on the soil side of the ring.
	card = ask(p, "Soil annular >20 %")
	n := 0
	for _, i := range placesOf(a) {
		l := &a.Result.Locations[i]
		if loss, ok := draw.LossOf(l); ok && loss > 20+1e-6 && l.Side == assess.Soil && l.Zone == floor.Annular {
			n++
		}
	}
	if got := askInt(p, "shownCount"); got != n || n == 0 {
		t.Errorf("%d places shown, want %d", got, n)
	}
	if !strings.Contains(card, "Loss, %: from >20; Side: soil; Zone: annular") || text(p, "#list #rows")[:len(fmt.Sprint(n))] != fmt.Sprint(n) {
		t.Errorf("the card says %q", card)
	}
	for words, expression := range map[string]string{
		"≥20% product":       "shown.every((s, i) => !s || P.loss[i] >= 20 && word(P.side, i) === 'product')",
		"< 4.2 mm":           "shown.every((s, i) => !s || P.remaining[i] < 4.2)",
		"repair first MFL":   "shownCount === 0",
		"unchanged soil 4-3": "shownCount > 0 && shown.every((s, i) => !s || plateOf(i) === '4-3' && word(P.class, i) === 'unchanged')",
		"product soil":       "shownCount > 100 && shown.every((s, i) => !s || word(P.side, i) !== 'unknown')",
	} {
		ask(p, words)
		if !askBool(p, expression) {
			t.Errorf("%q shows %d places, which are not those", words, askInt(p, "shownCount"))
		}
	}
	before := askInt(p, "shownCount")
	for _, words := range []string{"soil >4", "soil deeper than 4 mm", "soil >40 in", "soil annular zzz", "> %"} {
		if card := ask(p, words); !strings.Contains(card, "is called "+words+".") || askInt(p, "shownCount") != before {
			t.Errorf("%q is taken for something: %q", words, card)
		}
	}
	p.do(chromedp.Click(chromedp.CSS("#reset")))

	// What became of a plate since the last time?
	for i := range a.Inspection.Plates {
		label := a.Inspection.Plates[i].Label.Text
		counts := map[compare.Class]int{}
		for k := range a.Comparison.Pairs {
			if q := &a.Comparison.Pairs[k]; q.New >= 0 && a.Result.Locations[q.New].Plate == i {
				counts[q.Class]++
			}
		}
		if counts[compare.Grown] == 0 {
			continue
		}
		card := ask(p, label)
		if want := fmt.Sprintf("%s %d", compare.Grown.Words(), counts[compare.Grown]); !strings.Contains(card, want) {
			t.Errorf("the card of plate %s lacks %q: %q", label, want, card)
		}
		if got, want := askInt(p, "[...document.querySelectorAll('#card dd')].filter(d => d.textContent.includes(' → ')).length"), 1; got != want {
			t.Errorf("plate %s does not list what grew", label)
		}
		break
	}
	p.quiet()
}

func askInt(p *tab, expression string) int   { return ask[int](p, expression) }
func askBool(p *tab, expression string) bool { return ask[bool](p, expression) }
