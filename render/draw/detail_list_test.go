package draw

import (
	"strings"
	"testing"

	"platebook/rules/floor"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

// A fitter reads off the sheet what to cut and where it goes, and what is still
// to be settled.
func TestDetailTellsAFitterAll(t *testing.T) {
	a := middle.assessment()
	it := repair.Item{
		Thickness: unit.Some(unit.Length(8)), IDs: []string{"17", "18"}, Weld: 1120, Engineer: true,
		Checks: []repair.Check{
			{ID: "patch.overlap", Known: true, OK: true, Kind: unit.Size, Value: unit.Some(unit.Length(61)), Limit: unit.Some(unit.Length(50))},
			{ID: "patch.spacing", Known: true},
			{ID: "patch.perimeter", Note: "no reading under the edge"},
		},
	}
	w := Work{Label: "R1", Kind: "patch", Plate: 20, Box: floor.Box{U1: 1000, V1: 500, U2: 1300, V2: 760}, Boxed: true, Shape: repair.Rounded, Item: &it}
	text := textOf(t, PlateDetail(a, A4.Landscape(), 20, []Work{w}))
	for _, want := range []string{
		"R1 patch, planned", "cut: 300 along X × 260 along Y, 8.00 thick, corners rounded, radius 50",
		"centre X 1150, Y 630; edges X 1000 to 1300, Y 500 to 760", "clear of the nearest seam", "reaches 61 beyond what it covers",
		"covers 17, 18; 1.12 m of weld to the floor", "an engineer has to agree", "1 check fails", "not checked: no reading under the edge",
		"datum corner of the plate before cutting", "Weld size, procedure and grade of steel are not set",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	w.Shape = repair.Circle
	w.Item = nil
	if text = textOf(t, PlateDetail(a, A4.Landscape(), 20, []Work{w})); !strings.Contains(text, "cut: diameter 260, thickness not given") {
		t.Errorf("no diameter, or a thickness out of nowhere, in %s", text)
	}
	if text = textOf(t, PlateDetail(a, A4.Landscape(), 20, nil)); !strings.Contains(text, "No repair is planned on this plate") {
		t.Errorf("does not say that no repair is planned: %s", text)
	}
}

// A plate to be replaced is shaded and named on its detail, place or none.
func TestDetailOfAReplacedPlate(t *testing.T) {
	a := middle.assessment()
	w := Work{Label: "R5", Kind: "replace plate", Plate: 20}
	s := PlateDetail(a, A4.Landscape(), 20, []Work{w})
	named, shaded := false, false
	for _, it := range s.Items {
		switch it := it.(type) {
		case Label:
			named = named || it.Text == "R5 replace plate" && it.Class == "repair-label"
		case Path:
			shaded = shaded || it.Class == "plate" && it.Fill == workPath(w).Fill
		}
	}
	if !named || !shaded {
		t.Errorf("named %v, shaded %v", named, shaded)
	}
	if text := textOf(t, s); !strings.Contains(text, "new plate 6000 along X × 1800 along Y, thickness not given") {
		t.Errorf("no size of the new plate in %s", text)
	}
}

// Two repairs at one distance from an edge tell it once.
func TestOneDistanceIsToldOnce(t *testing.T) {
	a := middle.assessment()
	at := func(label string, v float64) Work {
		return Work{Label: label, Kind: "patch", Plate: 20, Boxed: true, Box: floor.Box{U1: 1000, V1: v, U2: 1300, V2: v + 300}}
	}
	n := 0
	for _, it := range PlateDetail(a, A4.Landscape(), 20, []Work{at("R1", 200), at("R2", 1100)}).Items {
		if l, ok := it.(Label); ok && l.Class == "dimension" && l.Text == "1150" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("X 1150 stands %d times", n)
	}
}

// The legend of a detail explains what is drawn, and nothing else.
func TestDetailExplainsItsSigns(t *testing.T) {
	for name, a := range examples(t) {
		works := PlannedWork(a)
		for k := range a.Plan.Plates {
			s := PlateDetail(a, A4.Landscape(), k, works)
			if s == nil {
				continue
			}
			text := textOf(t, s)
			// The legend, which has signs of its own, stands beside the drawing or
			// below it, from its first heading on.
			legend := point{s.Width, s.Height}
			for _, it := range s.Items {
				if l, ok := it.(Label); ok && l.Class == "heading" {
					legend = point{min(legend.x, l.X), min(legend.y, l.Y-4)}
				}
			}
			drawn := map[string]bool{}
			for _, it := range s.Items {
				p, ok := it.(Path)
				if ok && len(p.Segments) > 0 && (legend.x > s.Width/2 && p.Segments[0].X < legend.x || legend.x < s.Width/2 && p.Segments[0].Y < legend.y) {
					drawn[p.Class] = true
				}
			}
			for class, words := range map[string]string{"dimension": "distance to a centre", "lap": "middle of the lap", "patch": "patch found on the floor"} {
				if drawn[class] != strings.Contains(text, words) {
					t.Errorf("%s, plate %d: %s drawn %v, %q told %v", name, k, class, drawn[class], words, !drawn[class])
				}
			}
		}
	}
}
