package draw

import (
	"math"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/unit"
)

func textOf(t *testing.T, s *Scene) string {
	t.Helper()
	return strings.Join(parse(t, svgOf(t, s)), " ")
}

// Whatever is missing, there is a drawing and it is XML.
func TestIncompleteInputs(t *testing.T) {
	noDiameter := small
	noDiameter.spots = 0
	a := noDiameter.assessment()
	a.Inspection.Tank.Diameter = inspection.Length{}
	a.Plan = floor.Place(a.Inspection)

	unplaced := middle.assessment()
	for i := range unplaced.Inspection.Plates {
		unplaced.Inspection.Plates[i].RowNo, unplaced.Inspection.Plates[i].Position = inspection.Label{}, inspection.Label{}
	}
	unplaced.Plan = floor.Place(unplaced.Inspection)
	for i := range unplaced.Result.Locations {
		unplaced.Result.Locations[i].Placed = false
	}

	odd := small.assessment()
	odd.Plan.UpBearing = math.NaN()
	for i := range odd.Plan.Plates {
		odd.Plan.Plates[i].Cut = append(odd.Plan.Plates[i].Cut, nil)
		odd.Plan.Plates[i].Net = nil
	}
	odd.Result.Locations[0].At = floor.Point{X: math.NaN(), Y: math.Inf(1)}
	odd.Result.Locations[1].Plate = 99
	odd.Result.Locations[2].Indication = 99
	odd.Result.Locations[3].Box = floor.Box{U1: math.Inf(-1), V1: math.NaN(), U2: 1, V2: 1}
	odd.Result.Plates = odd.Result.Plates[:1]
	odd.Plan.Openings = append(odd.Plan.Openings, floor.Opening{Name: "far", Kind: "sump", At: floor.Point{X: 1e9}, Length: 1, Width: 1})

	for name, a := range map[string]*rules.Assessment{
		"nothing":       {},
		"no plan":       {Inspection: &inspection.Inspection{}},
		"no plates":     {Inspection: &inspection.Inspection{}, Plan: &floor.Plan{}, Result: &assess.Result{}},
		"only a shell":  {Inspection: &inspection.Inspection{}, Plan: &floor.Plan{Radius: 5000, Rim: 5000}},
		"no diameter":   a,
		"no places":     unplaced,
		"odd":           odd,
		"tiny":          {Plan: &floor.Plan{Radius: 1e-6, Rim: 1e-6}},
		"huge":          {Plan: &floor.Plan{Radius: 1e12, Rim: 1e12}},
		"infinite":      {Plan: &floor.Plan{Radius: math.Inf(1), Rim: math.Inf(1)}},
		"not a number":  {Plan: &floor.Plan{Radius: math.NaN(), Rim: math.NaN()}},
		"no prove-ups":  {Inspection: &inspection.Inspection{}, Plan: &floor.Plan{}, Result: &assess.Result{Sizing: sizing.Result{Pairs: []sizing.Pair{{MFL: math.NaN(), UT: 1}}}}},
		"huge lone rim": {Plan: &floor.Plan{Rim: 1e6}},
	} {
		for kind, plan := range everyPlan {
			for _, sheet := range []Sheet{A4.Landscape(), A3.Portrait(), {}, {Width: 60, Height: 60}} {
				for _, drawn := range Sheets(a, sheet, plan) {
					s := drawn()
					parse(t, svgOf(t, s))
					if len(s.Items) == 0 {
						t.Errorf("%s: %s is empty", name, kind)
					}
				}
			}
		}
		parse(t, svgOf(t, Histogram(a, Sheet{})))
		parse(t, svgOf(t, SizingChart(a, Sheet{})))
		for i := range 4 {
			if s := detailOf(a, A4.Landscape(), i, []Work{{Plate: i, Boxed: true}, {Plate: i}}); s != nil {
				parse(t, svgOf(t, s))
			}
		}
		PhotoThumb(a, 0, 40)
		PhotoThumb(a, -1, 40)
	}
}

// What cannot be drawn is named in the legend.
func TestWhatIsNotDrawnIsListed(t *testing.T) {
	a := middle.assessment()
	a.Inspection.Plates[0].RowNo = inspection.Label{}
	a.Plan = floor.Place(a.Inspection)
	a.Result.Locations[0].Placed = false
	a.LeftOut = []inspection.Row{{Sheet: "Indications", Number: 9}, {Sheet: "Indications", Number: 11}, {Sheet: "Plates", Number: 5}}
	text := textOf(t, IndicationPlan(a, A4.Landscape()))
	for _, want := range []string{
		"Plates without a place in plan: 1-1",
		"Without a place on the plan: " + a.Result.Locations[0].Label,
		"not drawn: Indications 2, Plates 1",
		"3 rows left out",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the plan", want)
		}
	}
	empty := small
	empty.spots = 0
	if text := textOf(t, IndicationPlan(empty.assessment(), A4.Landscape())); !strings.Contains(text, "No indication is recorded") {
		t.Error("a clean floor does not say so")
	}
}

// Hundreds of names end in a count, never in silence.
func TestLongListsAreCounted(t *testing.T) {
	a := large.assessment()
	for i := range a.Result.Locations {
		a.Result.Locations[i].Placed = false
	}
	text := textOf(t, IndicationPlan(a, A4.Landscape()))
	if !strings.Contains(text, "Without a place on the plan: "+a.Result.Locations[0].Label) || !strings.Contains(text, "more") {
		t.Error("indications without a place are not counted")
	}
}

// The status is the one of every page, and a caution is set apart.
func TestStatusStandsInTheTitleBlock(t *testing.T) {
	a := small.assessment()
	a.Inspection.Tank.ReportStatus = given("final")
	a.Counts.Errors, a.Counts.Warnings = 2, 1
	want, _ := a.Standing()
	withheld := a.Counts
	for _, free := range []bool{false, true} {
		a.Counts = withheld
		if free {
			a.Counts.Errors, a.Counts.Warnings = 0, 0
		}
		want, caution := a.Standing()
		found := false
		for _, it := range PlatePlan(a, A4.Landscape()).Items {
			if l, ok := it.(Label); ok && l.Text == want {
				found = true
				if (l.Paint == accent) != caution {
					t.Errorf("%q is set in %v", want, l.Paint)
				}
			}
		}
		if !found {
			t.Errorf("the drawing does not say %q", want)
		}
	}
	if !strings.HasPrefix(want, "FINAL WITHHELD") {
		t.Errorf("two errors stand as %q", want)
	}
}

func TestLongWordsStayInTheirCells(t *testing.T) {
	a := small.assessment()
	long := strings.Repeat("Very long company name ", 12)
	tk := &a.Inspection.Tank
	tk.Client, tk.Site, tk.Tank, tk.ReportNumber, tk.Revision = given(long), given(strings.Repeat("W", 300)), given(long), given(long), given(long)
	tk.Datum = given(long + long)
	for i := range a.Inspection.Plates {
		a.Inspection.Plates[i].Label = given(a.Inspection.Plates[i].Label.Value + strings.Repeat(" north bay", 9))
	}
	for i := range a.Inspection.Indications {
		a.Inspection.Indications[i].ID = given(a.Inspection.Indications[i].ID.Value + strings.Repeat("-pit", 80))
	}
	// A number with room in its plate stands there whole.
	names := map[string]bool{"plate-number crowded": true, "indication-label": true, "fixture-name": true, "repair-label": true, "visual-label": true, "change-label": true}
	for _, sheet := range sheets {
		for _, plan := range everyPlan {
			s := plan(a, sheet)
			room := rect{0, 0, s.Width, s.Height}
			for _, it := range s.Items {
				l, ok := it.(Label)
				if !ok {
					continue
				}
				if !l.box().within(room) {
					t.Errorf("%s: %q leaves the sheet", s.Name, l.Text)
				}
				if names[l.Class] && l.Width() > nameRoom+8 {
					t.Errorf("%s: the name %q runs over %.0f mm", s.Name, l.Text, l.Width())
				}
			}
		}
	}
}

func TestNiceScale(t *testing.T) {
	for _, c := range [][2]float64{{1, 1}, {1.01, 1.25}, {156.2, 175}, {160, 175}, {99.9, 100}, {100, 100}, {9999, 10000}, {0.012, 0.0125}} {
		if got := niceScale(c[0]); math.Abs(got-c[1]) > 1e-9*c[1] {
			t.Errorf("scale for 1:%g is 1:%g, want 1:%g", c[0], got, c[1])
		}
	}
}

// The shades fall in lightness, far enough apart for grey print.
func TestBandsSurviveGreyPrint(t *testing.T) {
	for n := 2; n <= 6; n++ {
		last := 2.0
		for i := range n {
			l := shade(i, n).light()
			// Contrast as WCAG 2.1 defines it; 1.3 tells neighbours apart.
			if i > 0 && (last+0.05)/(l+0.05) < 1.3 {
				t.Errorf("bands %d and %d of %d are too close: %.3f, %.3f", i-1, i, n, last, l)
			}
			last = l
		}
	}
}

// Letters on a band reach the contrast WCAG 2.1 asks of large text (3:1).
func TestLettersOnBandsAreReadable(t *testing.T) {
	for n := 2; n <= 8; n++ {
		for i := range n {
			ground := shade(i, n)
			a, b := ground.light(), over(ground).light()
			if c := (max(a, b) + 0.05) / (min(a, b) + 0.05); c < 3 {
				t.Errorf("letters on band %d of %d have contrast %.1f", i, n, c)
			}
		}
	}
}

func TestBandEdges(t *testing.T) {
	s := lossScale(&rules.Assessment{})
	for _, c := range []struct {
		v    float64
		want int
	}{{-3, 0}, {0, 0}, {19.99, 0}, {20, 1}, {39.9, 1}, {40, 2}, {80, 4}, {120, 4}} {
		if got := s.band(c.v); got != c.want {
			t.Errorf("%g is in band %d, want %d", c.v, got, c.want)
		}
	}
	m := marginScale(unit.SI)
	if m.letter(m.band(-0.01)) != "E" || m.letter(m.band(0)) != "D" || m.letter(m.band(5)) != "A" {
		t.Error("the worst margin is not the last letter")
	}
	if m.paint(m.band(-1)).light() > m.paint(m.band(5)).light() {
		t.Error("the worst margin is not the darkest")
	}
}

// The printed widths are the font's own: a known word against the advance
// widths in the font's hmtx table (units of 1/2048 em: 3 1139, - 682, 4 1139).
// Each is rounded to a thousandth of an em, as in a PDF's table of widths.
func TestWidth(t *testing.T) {
	want := (1139.0 + 682 + 1139) / 2048
	if got := Width("3-4", 1, false); math.Abs(got-want) > 3*0.0005 {
		t.Errorf("got %.4f, want %.4f", got, want)
	}
	if Width("≥≤√Δσ", 1, false) <= 0 || Width("漢", 1, true) < 1 {
		t.Error("signs outside Latin have no width")
	}
}

func TestCompass(t *testing.T) {
	for text, want := range map[string]float64{"north": 0, "Looking SW": 225, "south-west": 225, "135": 135, "135°": 135, "northwards": 0, " e ": 90, "nnw": 337.5, "12.5°": 12.5} {
		if got, ok := Compass(text); !ok || got != want {
			t.Errorf("%q: %g, %v", text, got, ok)
		}
	}
	for _, text := range []string{"", "along the shell", "400", "up", "1.2.3", "north of sump"} {
		if got, ok := Compass(text); ok {
			t.Errorf("%q reads as %g", text, got)
		}
	}
}

// A mark stands where the floor says: plan coordinates, the scale and the
// bearing ring agree. Plate 2-2 of the 6 m tank, top right, X 400, Y 300 is
// x 2625, y −275 (method, section 2).
func TestMarksStandAtTheirPlace(t *testing.T) {
	plan := &floor.Plan{Radius: 3000, Rim: 3000}
	plan.Plates = []floor.Plate{{
		Placed: true, Length: 3050, Width: 1800, Sized: true, Origin: floor.Point{X: -25, Y: -1775}, Corner: floor.TopRight,
		Cut: floor.Shape{{{X: -25, Y: -1775}, {X: 2400, Y: -1775}, {X: 2900, Y: 25}, {X: -25, Y: 25}}},
	}}
	at, ok := plan.ToPlan(0, 400, 300)
	if !ok {
		t.Fatal("no place")
	}
	a := &rules.Assessment{
		Inspection: &inspection.Inspection{Plates: []inspection.Plate{{Label: given("2-2")}}, Indications: []inspection.Indication{{ID: given("1")}}},
		Plan:       plan,
		Result: &assess.Result{Locations: []assess.Location{{
			Kind: assess.IndicationAt, Label: "2-2/1", Indication: 0, ProveUp: -1, Placed: true, At: at, Side: assess.Soil,
			Box: floor.BoxAt(floor.Point{X: 2650, Y: 1500}, 400, 200), Loss: unit.Some(unit.Percent(50)),
		}}},
	}
	s := IndicationPlan(a, A4.Landscape())
	var mark, shell rect
	for _, it := range s.Items {
		if p, ok := it.(Path); ok {
			var pts []point
			for _, q := range p.Segments {
				if q.Op != Close {
					pts = append(pts, point{q.X, q.Y})
				}
			}
			switch {
			case p.ID == "2-2/1":
				mark = bounds(pts)
			case p.Class == "shell":
				shell = bounds(pts).grow(-heavy / 2)
			}
		}
	}
	k := shell.width() / 6000
	c := shell.centre()
	near := func(got, want float64) bool { return math.Abs(got-want) < 0.01 }
	if m := mark.centre(); !near(m.x, c.x+2625*k) || !near(m.y, c.y+275*k) {
		t.Errorf("the mark stands at %.2f, %.2f, want %.2f, %.2f", m.x, m.y, c.x+2625*k, c.y+275*k)
	}
	if !near(mark.width(), 400*k) || !near(mark.height(), 200*k) {
		t.Errorf("the mark measures %.2f × %.2f, want %.2f × %.2f", mark.width(), mark.height(), 400*k, 200*k)
	}
	if n := 1 / k; math.Abs(n-niceScale(n)) > 0.01 {
		t.Errorf("the scale is 1:%g", n)
	}
}

// A printed value never stands under another band's letter.
func TestValuesPrintInTheirBand(t *testing.T) {
	m := marginScale(unit.SI)
	for _, c := range []struct {
		v    float64
		want string
	}{{1.996, "1.996"}, {2, "2.00"}, {-0.001, "-0.001"}, {0, "0.00"}, {1.2345, "1.23"}} {
		if got := m.text(c.v, 1, 2); got != c.want {
			t.Errorf("%g prints as %s, want %s", c.v, got, c.want)
		}
	}
	l := lossScale(&rules.Assessment{})
	if got := l.text(39.7, 1, 0); got != "39.7" {
		t.Errorf("39.7 prints as %s", got)
	}
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		n         int
		want      string
	}{
		{0, 100, 10, "0 10 20 30 40 50 60 70 80 90 100"},
		{0, 104, 5, "0 25 50 75 100"},
		{0, 4.48, 5, "0 1 2 3 4"},
		{-14, 20, 6, "−10 0 10 20"},
		{2.6, 5.8, 8, "3.0 3.5 4.0 4.5 5.0 5.5"},
		{0, 0.3, 6, "0.00 0.05 0.10 0.15 0.20 0.25 0.30"},
		{1, 1, 5, ""},
	} {
		if s := strings.Join(tickTexts(ticks(c.low, c.high, c.n)), " "); s != c.want {
			t.Errorf("%g to %g: %s, want %s", c.low, c.high, s, c.want)
		}
	}
}
