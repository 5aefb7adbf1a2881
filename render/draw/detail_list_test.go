package draw

import (
	"fmt"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
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
	text := textOf(t, detailOf(a, A4.Landscape(), 20, []Work{w}))
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
	if text = textOf(t, detailOf(a, A4.Landscape(), 20, []Work{w})); !strings.Contains(text, "cut: diameter 260, thickness not given") {
		t.Errorf("no diameter, or a thickness out of nowhere, in %s", text)
	}
	if text = textOf(t, detailOf(a, A4.Landscape(), 20, nil)); !strings.Contains(text, "No repair is planned on this plate") {
		t.Errorf("does not say that no repair is planned: %s", text)
	}
}

// A plate to be replaced is shaded and named on its detail, place or none.
func TestDetailOfAReplacedPlate(t *testing.T) {
	a := middle.assessment()
	w := Work{Label: "R5", Kind: "replace plate", Plate: 20}
	s := detailOf(a, A4.Landscape(), 20, []Work{w})
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
	for _, it := range detailOf(a, A4.Landscape(), 20, []Work{at("R1", 200), at("R2", 1100)}).Items {
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
			s := detailOf(a, A4.Landscape(), k, works)
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

// detailOf is the sheet of a plate that has the drawing.
func detailOf(a *rules.Assessment, s Sheet, plate int, works []Work) *Scene {
	if all := PlateDetail(a, s, plate, works, "the appendix"); len(all) > 0 {
		return all[0]
	}
	return nil
}

// A plate with more repairs and thin places than its drawing has room for goes
// on on sheets of its own, and nothing that a fitter needs is missing. What is
// only milder is counted, with the place where it is listed.
func TestDetailGoesOn(t *testing.T) {
	floors := map[string]*rules.Assessment{}
	for name, v := range crowded {
		floors[name] = v.assessment()
	}
	floors["grown"] = grown(t)
	most := 0
	for name, a := range floors {
		works := PlannedWork(a)
		for _, paper := range []Sheet{A4.Landscape(), Letter.Landscape()} {
			for k := range a.Plan.Plates {
				sheets := PlateDetail(a, paper, k, works, "the appendix")
				most = max(most, len(sheets))
				var all []string
				for i, s := range sheets {
					text := textOf(t, s)
					all = append(all, text)
					if i+1 < len(sheets) && !strings.Contains(text, fmt.Sprintf("… goes on on sheet %d of Plate", i+2)) {
						t.Errorf("%s, plate %d, sheet %d does not say where it goes on: %s", name, k, i+1, text)
					}
					if len(sheets) > 1 && !strings.Contains(text, fmt.Sprintf("%d of %d", i+1, len(sheets))) {
						t.Errorf("%s, plate %d: sheet %d has no number", name, k, i+1)
					}
					if i > 0 {
						detailIsLegible(t, name, s)
					}
					if strings.Contains(text, "see the report") {
						t.Errorf("%s, plate %d, sheet %d sends to nowhere: %s", name, k, i+1, text)
					}
				}
				text := strings.Join(all, " ")
				missing, needed := 0, 0
				d := &detail{frame: &frame{a: a}, plate: k}
				var here []*Work
				for i := range works {
					if works[i].Plate == k {
						here = append(here, &works[i])
						if len(sheets) > 0 && !strings.Contains(text, works[i].Label+" "+works[i].Kind) {
							t.Errorf("%s, plate %d: %s is on no sheet", name, k, works[i].Label)
						}
					}
				}
				for i := range a.Result.Locations {
					l := &a.Result.Locations[i]
					if l.Plate != k || len(sheets) == 0 || l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt {
						continue
					}
					if x, y, ok := a.Plan.FromLocal(k, l.Box.Centre()); ok {
						row := spotName(a, l) + ": X " + unit.Size.Text(a.Inspection.Units, x, 0) + ", Y " + unit.Size.Text(a.Inspection.Units, y, 0)
						if !strings.Contains(text, row) {
							missing++
							if d.needed(here, l) {
								needed++
							}
						}
					}
				}
				if needed > 0 {
					t.Errorf("%s, plate %d: %d places that a fitter needs are on none of %d sheets", name, k, needed, len(sheets))
				}
				if told := fmt.Sprintf("… %d more indication", missing); missing > 0 && (!strings.Contains(text, told) || !strings.Contains(text, "own: see the appendix")) {
					t.Errorf("%s, plate %d: %d places are missing and it is not said where they are: %s", name, k, missing, text)
				}
			}
		}
	}
	if most < 3 {
		t.Errorf("no plate needs more than %d sheets", most)
	}
}
