package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

var update = flag.Bool("update", false, "write the goldens anew")

func svgOf(t testing.TB, s *Scene) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := s.SVG(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// parse reads the SVG as XML and returns its texts.
func parse(t *testing.T, data []byte) (texts []string) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = true
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return texts
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		if c, ok := tok.(xml.CharData); ok && strings.TrimSpace(string(c)) != "" {
			texts = append(texts, string(c))
		}
	}
}

var sheets = map[string]Sheet{
	"A4 landscape": A4.Landscape(), "A4 portrait": A4.Portrait(), "Letter landscape": Letter.Landscape(),
	"Letter portrait": Letter.Portrait(), "A3 landscape": A3.Landscape(), "A3 portrait": A3.Portrait(),
}

// everyScene calls see with each drawing of each invented floor.
func everyScene(t *testing.T, see func(t *testing.T, a *rules.Assessment, s *Scene)) {
	floors := map[string]invented{"small": small, "middle": middle, "american": american, "large": large}
	for _, name := range slices.Sorted(maps.Keys(floors)) {
		a := floors[name].assessment()
		for _, kind := range slices.Sorted(maps.Keys(everyPlan)) {
			for _, sheet := range slices.Sorted(maps.Keys(sheets)) {
				// The large floor is slow to compare, and one sheet splits like another.
				if name == "large" && (sheet != "A4 landscape" || kind != "plate" && kind != "indication" && kind != "shading") {
					continue
				}
				t.Run(name+"/"+kind+"/"+sheet, func(t *testing.T) {
					for _, drawn := range Sheets(a, sheets[sheet], everyPlan[kind]) {
						see(t, a, drawn())
					}
				})
			}
		}
		t.Run(name+"/charts", func(t *testing.T) {
			for i := range a.Plan.Plates {
				if s := detailOf(a, A4.Landscape(), i, PlannedWork(a)); s != nil && (name != "large" || i%40 == 0) {
					see(t, a, s)
				}
			}
			for _, s := range charts(a) {
				see(t, a, s)
			}
			if s := PhotoThumb(a, 0, 40); s != nil {
				see(t, a, s)
			}
		})
	}
}

func TestScenesAreXMLOnTheSheet(t *testing.T) {
	everyScene(t, func(t *testing.T, _ *rules.Assessment, s *Scene) {
		parse(t, svgOf(t, s))
		sheet := rect{0, 0, s.Width, s.Height}
		for _, it := range s.Items {
			switch it := it.(type) {
			case Label:
				if !it.box().within(sheet) {
					t.Errorf("%s: label %q leaves the sheet: %+v", s.Name, it.Text, it.box())
				}
			case Path:
				for _, q := range it.Segments {
					if q.Op != Close && !sheet.grow(0.01).holds(point{q.X, q.Y}) {
						t.Fatalf("%s: %s leaves the sheet at %.1f, %.1f", s.Name, it.Class, q.X, q.Y)
					}
				}
			}
		}
	})
}

// Words that stand on the plan keep off each other. The words of the legend
// and title block are set in lines and cells, which is tested with them.
func TestLabelsDoNotOverlap(t *testing.T) {
	everyScene(t, func(t *testing.T, _ *rules.Assessment, s *Scene) {
		var seen []Label
		for _, it := range s.Items {
			l, ok := it.(Label)
			if !ok || strings.Contains(l.Class, "crowded") {
				continue
			}
			// Letters may share a hair's breadth of empty descender.
			b := l.box().grow(-0.12)
			for _, o := range seen {
				if l.Angle != 0 && l.Angle != 90 || o.Angle != 0 && o.Angle != 90 {
					if !turnedMeet(l, o) {
						continue
					}
				}
				if b.meets(o.box().grow(-0.12)) {
					t.Errorf("%s: %s %q lies on %s %q", s.Name, l.Class, l.Text, o.Class, o.Text)
				}
			}
			seen = append(seen, l)
		}
	})
}

// turnedMeet compares turned letters by their true boxes: a side of either
// parts them, or they meet.
func turnedMeet(a, b Label) bool {
	corners := func(l Label) []point {
		var out []point
		for _, c := range [...][2]float64{{0, -descent}, {1, -descent}, {1, capHeight}, {0, capHeight}} {
			x, y := l.corner(l.Width(), c[0], c[1])
			out = append(out, point{x, y})
		}
		return out
	}
	p, q := corners(a), corners(b)
	for _, box := range [][]point{p, q} {
		for i := range 2 {
			ax, ay := box[i+1].x-box[i].x, box[i+1].y-box[i].y
			span := func(pts []point) (lo, hi float64) {
				lo, hi = 1e9, -1e9
				for _, r := range pts {
					v := r.x*ax + r.y*ay
					lo, hi = min(lo, v), max(hi, v)
				}
				return lo, hi
			}
			l1, h1 := span(p)
			l2, h2 := span(q)
			if h1 <= l2 || h2 <= l1 {
				return false
			}
		}
	}
	return true
}

func TestEveryPlateHasItsNumber(t *testing.T) {
	for name, v := range map[string]invented{"small": small, "middle": middle, "large": large} {
		a := v.assessment()
		for kind, plan := range everyPlan {
			numbered := map[string]int{}
			crowded := 0
			for _, it := range plan(a, A4.Landscape()).Items {
				if l, ok := it.(Label); ok && strings.HasPrefix(l.Class, "plate-number") {
					number, _, _ := strings.Cut(l.Text, " ")
					numbered[number]++
					if strings.Contains(l.Class, "crowded") {
						crowded++
					}
				}
			}
			for i := range a.Inspection.Plates {
				if p := a.Inspection.Plates[i].Label.Value; len(a.Plan.Plates[i].Cut) > 0 && numbered[p] != 1 {
					t.Errorf("%s %s: plate %s has %d numbers", name, kind, p, numbered[p])
				}
			}
			if name != "large" && crowded > 0 {
				t.Errorf("%s %s: %d numbers stand over edges", name, kind, crowded)
			}
		}
	}
}

// A number inside its plate touches no edge of it.
func TestNumbersKeepOffEdges(t *testing.T) {
	a := middle.assessment()
	f := newFrame(a, A4.Landscape(), "", "")
	byName := map[string]int{}
	for i := range a.Inspection.Plates {
		byName[a.Inspection.Plates[i].Label.Value] = i
	}
	checked := 0
	for _, it := range PlatePlan(a, A4.Landscape()).Items {
		l, ok := it.(Label)
		if !ok || l.Class != "plate-number" {
			continue
		}
		rings := f.view.shape(visible(&a.Plan.Plates[byName[l.Text]]))
		c := point{l.X, l.Y}
		if !inside(rings, c) {
			continue // outside, with a leader
		}
		checked++
		if !boxInside(rings, c, point{l.Width() / 2, l.Size * capHeight / 2}, l.Angle) {
			t.Errorf("number %s crosses an edge", l.Text)
		}
	}
	if checked < 60 {
		t.Errorf("only %d numbers stand inside their plates", checked)
	}
}

func TestEveryIndicationIsDrawn(t *testing.T) {
	for name, v := range map[string]invented{"small": small, "middle": middle, "large": large} {
		a := v.assessment()
		drawn := map[string]bool{}
		for _, it := range IndicationPlan(a, A4.Landscape()).Items {
			if p, ok := it.(Path); ok && p.Class == "indication" {
				drawn[p.ID] = true
			}
		}
		for i := range a.Result.Locations {
			if !drawn[a.Result.Locations[i].Label] {
				t.Errorf("%s: indication %s is not drawn", name, a.Result.Locations[i].Label)
			}
		}
	}
}

// Each indication stands on at least one sheet of a floor that is split.
func TestTilesLeaveNothingOut(t *testing.T) {
	a := large.assessment()
	sheets := Sheets(a, A4.Landscape(), IndicationPlan)
	if len(sheets) < 5 {
		t.Fatalf("%d sheets", len(sheets))
	}
	drawn, numbered := map[string]bool{}, map[string]bool{}
	for _, part := range sheets[1:] {
		for _, it := range part().Items {
			switch it := it.(type) {
			case Path:
				if strings.HasPrefix(it.Class, "indication") {
					drawn[it.ID] = true
				}
			case Label:
				if strings.HasPrefix(it.Class, "plate-number") {
					numbered[it.Text] = true
				}
			}
		}
	}
	for i := range a.Result.Locations {
		if l := a.Result.Locations[i].Label; !drawn[l] {
			t.Errorf("indication %s is on no part", l)
		}
	}
	for i := range a.Inspection.Plates {
		if p := a.Inspection.Plates[i].Label.Value; len(a.Plan.Plates[i].Cut) > 0 && !numbered[p] {
			t.Errorf("plate %s has a number on no part", p)
		}
	}
}

func TestGoldens(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "draw")
	scenes := map[string]*Scene{}
	for name, v := range map[string]invented{"small": small, "american": american} {
		a := v.assessment()
		for kind, plan := range everyPlan {
			scenes[name+"-"+kind] = plan(a, A4.Landscape())
		}
		scenes[name+"-detail"] = detailOf(a, A4.Landscape(), len(a.Plan.Plates)-1, PlannedWork(a))
		for kind, s := range charts(a) {
			scenes[name+"-"+kind] = s
		}
	}
	a := middle.assessment()
	scenes["middle-plate"] = PlatePlan(a, A4.Landscape())
	scenes["middle-indication"] = IndicationPlan(a, Letter.Portrait())
	scenes["middle-thumb"] = PhotoThumb(a, 0, 40)
	for _, name := range slices.Sorted(maps.Keys(scenes)) {
		file := filepath.Join(dir, name+".svg")
		got := svgOf(t, scenes[name])
		if *update {
			if err := os.MkdirAll(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs at byte %d; look at it, then run with -update", name, differs(got, want))
		}
	}
}

func differs(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

func TestSameBytesTwice(t *testing.T) {
	for kind, plan := range everyPlan {
		one, two := svgOf(t, plan(middle.assessment(), A4.Landscape())), svgOf(t, plan(middle.assessment(), A4.Landscape()))
		if !bytes.Equal(one, two) {
			t.Errorf("%s differs at byte %d", kind, differs(one, two))
		}
	}
}

// Text from a workbook may hold anything.
func TestTextIsEscaped(t *testing.T) {
	const evil = "<b>&\"'</text>\x00\x1b\uFFFF]]> \xff"
	a := small.assessment()
	in := a.Inspection
	in.Tank.Client, in.Tank.Tank, in.Tank.Datum = given(evil), given(evil), given(evil)
	in.Plates[0].Label = given(evil)
	a.Plan.Openings[0].Name = evil
	in.Indications[0].ID, in.Indications[0].Key = given(evil), evil
	a.Result.Locations[0].Label = evil
	for kind, plan := range everyPlan {
		data := svgOf(t, plan(a, A4.Landscape()))
		parse(t, data)
		if bytes.Contains(data, []byte("<b>")) {
			t.Errorf("%s: markup from the workbook stands in the drawing", kind)
		}
	}
	texts := strings.Join(parse(t, svgOf(t, PlatePlan(a, A4.Landscape()))), "\n")
	if !strings.Contains(texts, `<b>&"'</text>`) {
		t.Error("the tank's name is not on the drawing as typed")
	}
}

func BenchmarkPlans(b *testing.B) {
	v := large
	// About 150 plates and 5,000 indications.
	v.diameter, v.ringPlates = 55000, 24
	a := v.assessment()
	b.ReportMetric(float64(len(a.Inspection.Plates)), "plates")
	for b.Loop() {
		for _, plan := range []func(*rules.Assessment, Sheet) *Scene{PlatePlan, IndicationPlan} {
			if err := plan(a, A4.Landscape()).SVG(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func ExampleScene_PDF() {
	s := &Scene{Width: 20, Height: 10, Items: []Item{
		Path{Stroke: ink, Width: 0.2, Segments: []Segment{{Op: Move, X: 0, Y: 10}, {Op: Line, X: 20, Y: 0}}},
		Label{Text: "3-4", X: 10, Y: 5, Size: 3, Anchor: Centre, Paint: ink},
	}}
	var page bytes.Buffer
	s.PDF(&page, 0, 0, 1, func(w *bytes.Buffer, r Run) {
		fmt.Fprintf(w, "%% %s at %.1f %.1f, %.1f points\n", r.Text, r.X, r.Y, r.Size)
	})
	fmt.Print(page.String())
	// Output:
	// q
	// 1 j 1 J
	// 0.11 0.141 0.173 RG
	// 0.57 w
	// [] 0 d
	// 0 0 m
	// 56.69 28.35 l
	// S
	// q
	// % 3-4 at 22.2 14.2, 8.5 points
	// Q
	// Q
}

var american = invented{
	diameter: 40 * 12 * 25.4, length: 20 * 12 * 25.4, width: 6 * 12 * 25.4, lap: 1.5 * 25.4,
	ring: 24 * 25.4, ringPlates: 8, spots: 60, up: 270, units: unit.US,
}

// Each repair on a plate's detail is measured out from the datum corner along
// both rulers, unless distances would overprint, and no word crosses the plate's
// edge.
func TestDetailsAreDimensioned(t *testing.T) {
	a := middle.assessment()
	works := PlannedWork(a)
	measured, crossing, seen := 0, 0, 0
	for k := range a.Plan.Plates {
		s := detailOf(a, A4.Landscape(), k, works)
		if s == nil {
			continue
		}
		var edge rect
		want := map[string]bool{}
		for i := range works {
			if w := &works[i]; w.Plate == k && w.Boxed {
				x, y, _ := a.Plan.FromLocal(k, w.Box.Centre())
				want[unit.Size.Text(a.Inspection.Units, x, 0)], want[unit.Size.Text(a.Inspection.Units, y, 0)] = true, true
			}
		}
		for i := range a.Result.Locations {
			if l := &a.Result.Locations[i]; l.Plate == k && lacksRepair(l) != "" {
				x, y, _ := a.Plan.FromLocal(k, l.Box.Centre())
				want[unit.Size.Text(a.Inspection.Units, x, 0)], want[unit.Size.Text(a.Inspection.Units, y, 0)] = true, true
			}
		}
		seen += len(want)
		for _, it := range s.Items {
			if p, ok := it.(Path); ok && p.Class == "plate" && !a.Plan.Plates[k].Sector {
				var corners []point
				for _, g := range p.Segments {
					if g.Op != Close {
						corners = append(corners, point{g.X, g.Y})
					}
				}
				edge = bounds(corners)
			}
		}
		for _, it := range s.Items {
			l, ok := it.(Label)
			if !ok {
				continue
			}
			if l.Class == "dimension" {
				if !want[l.Text] {
					t.Errorf("plate %d is dimensioned %s, which is no repair's distance", k, l.Text)
				}
				measured++
			}
			if b := l.box(); l.Class == "indication-label" && edge.x2 > 0 && (b.x1 < edge.x2 && b.x2 > edge.x2 || b.x1 < edge.x1 && b.x2 > edge.x1) && b.y1 < edge.y2 && b.y2 > edge.y1 {
				crossing++
				t.Errorf("plate %d: %q crosses the edge", k, l.Text)
			}
		}
	}
	if measured < 4 || measured > seen {
		t.Errorf("%d distances on the details of repairs with %d", measured, seen)
	}
}

// Two repairs nearly above each other have both their distances on the plate.
func TestCloseDimensionsStandBesideEachOther(t *testing.T) {
	a := middle.assessment()
	const k = 5
	works := []Work{
		{Label: "R1", Kind: "patch", Plate: k, Boxed: true, Box: floor.Box{U1: 600, U2: 750, V1: 200, V2: 350}},
		{Label: "R2", Kind: "patch", Plate: k, Boxed: true, Box: floor.Box{U1: 640, U2: 790, V1: 900, V2: 1050}},
	}
	got := map[string]bool{}
	for _, it := range detailOf(a, A4.Landscape(), k, works).Items {
		if l, ok := it.(Label); ok && l.Class == "dimension" {
			got[l.Text] = true
		}
	}
	for i := range works {
		x, y, _ := a.Plan.FromLocal(k, works[i].Box.Centre())
		for _, v := range []float64{x, y} {
			if text := unit.Size.Text(a.Inspection.Units, v, 0); !got[text] {
				t.Errorf("%s is not dimensioned %s", works[i].Label, text)
			}
		}
	}
}
