package draw

import (
	"slices"
	"strings"
	"testing"
)

// keepsOffRulers holds that no fixture lies on a ruler's figures.
func keepsOffRulers(t *testing.T, plate int, s *Scene) {
	t.Helper()
	for _, it := range s.Items {
		p, ok := it.(Path)
		if !ok || p.Class != "fixture" || !p.Fill.On || len(p.Segments) < 3 {
			continue
		}
		var pts []point
		for _, q := range p.Segments {
			if q.Op != Close {
				pts = append(pts, point{q.X, q.Y})
			}
		}
		for _, o := range s.Items {
			if l, ok := o.(Label); ok && l.Class == "ruler" && l.box().meets(bounds(pts)) {
				t.Errorf("plate %d: a fixture lies on %q", plate, l.Text)
			}
		}
	}
}

// A column or sump stands on the detail of each plate that it reaches onto,
// named and explained; those of other plates do not.
func TestDetailsShowWhatStandsOnThePlate(t *testing.T) {
	a := middle.assessment()
	seen := map[string]int{}
	for k := range a.Plan.Plates {
		p := &a.Plan.Plates[k]
		s := detailOf(a, A4.Landscape(), k, nil)
		if s == nil || p.Sector {
			continue
		}
		text := textOf(t, s)
		keepsOffRulers(t, k, s)
		for _, o := range a.Plan.Openings {
			at, ok := a.Plan.PlanToLocal(k, o.At)
			if !ok || o.Kind == "manway" || o.Kind == "nozzle" {
				continue
			}
			r := o.Length / 2
			on := at.X > -r && at.X < p.Length+r && at.Y > -r && at.Y < p.Width+r
			drawn := slices.ContainsFunc(s.Items, func(it Item) bool {
				q, ok := it.(Path)
				return ok && q.Class == "fixture" && q.Fill == paper
			})
			if on {
				seen[o.Name]++
				if !drawn {
					t.Errorf("plate %d: %s is not drawn", k, o.Name)
				}
			}
			if told := strings.Contains(text, "on the floor here") && strings.Contains(text, o.Name); told && !on || on && !told && (at.X > 0 && at.X < p.Length-r && at.Y > 0 && at.Y < p.Width) {
				t.Errorf("plate %d: %s stands there: %v, told: %v", k, o.Name, on, told)
			}
		}
	}
	if len(seen) < 7 {
		t.Errorf("only %v stand on plates", seen)
	}
}
