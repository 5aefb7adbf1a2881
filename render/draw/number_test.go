package draw

import (
	"strings"
	"testing"
)

// On a floor in parts every plate's value has room: on the annular ring in one
// line along the shell.
func TestValuesOnPartsHaveRoom(t *testing.T) {
	a := large.assessment()
	for _, kind := range []string{"shading", "margin", "coverage"} {
		along := 0
		for n, drawn := range Sheets(a, A4.Landscape(), everyPlan[kind])[1:] {
			for _, it := range drawn().Items {
				l, ok := it.(Label)
				if !ok || !strings.HasPrefix(l.Class, "plate-number") {
					continue
				}
				if strings.Contains(l.Class, "crowded") {
					t.Errorf("%s plan, sheet %d: %q stands over edges", kind, n+2, l.Text)
				}
				if l.Angle != 0 && l.Angle != 90 && strings.Contains(l.Text, " ") {
					along++
				}
			}
		}
		if along < 40 {
			t.Errorf("%s plan: %d values along the shell for 40 plates", kind, along)
		}
	}
}

// What the sheet's edge leaves of a plate is not filled with turned letters: the
// next sheet shows its number.
func TestCutOffPlatesCarryNoTurnedNumbers(t *testing.T) {
	a := large.assessment()
	s := A4.Landscape()
	tiles := s.tiles(a, PlatePlan(a, s))
	s.pages, s.parts = len(tiles)+1, tiles
	byName := map[string]int{}
	for i := range a.Inspection.Plates {
		byName[a.Inspection.Plates[i].Label.Value] = i
	}
	seen := 0
	for i := range tiles {
		part := s
		part.tile = &tiles[i]
		f := newFrame(a, part, "", "")
		for _, it := range PlatePlan(a, part).Items {
			l, ok := it.(Label)
			if !ok || l.Class != "plate-number" {
				continue
			}
			seen++
			if p := &a.Plan.Plates[byName[l.Text]]; l.Angle == 90 && !p.Sector && !f.clip.holds(f.view.pt(p.Label)) {
				t.Errorf("sheet %d: %s is turned into what the edge leaves of it", i+2, l.Text)
			}
		}
	}
	if seen < 300 {
		t.Errorf("only %d numbers", seen)
	}
}

// Between two plates of the darkest band an edge is seen: a light line lies
// beneath it.
func TestEdgesShowBetweenDarkPlates(t *testing.T) {
	for _, kind := range []string{"shading", "margin", "coverage"} {
		edges, cast := 0, 0
		for _, it := range everyPlan[kind](middle.assessment(), A4.Landscape()).Items {
			switch p, _ := it.(Path); p.Class {
			case "edge":
				edges++
				if cast == 0 {
					t.Fatalf("%s plan: an edge comes before the light lines", kind)
				}
			case "cast":
				cast++
			}
		}
		if edges == 0 || cast < edges/2 {
			t.Errorf("%s plan: %d edges, %d light lines", kind, edges, cast)
		}
	}
}
