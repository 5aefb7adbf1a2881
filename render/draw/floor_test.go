package draw

import (
	"math"
	"testing"
)

// What is zoomed on a screen stands where the geometry says: a plate for each
// plate, spots at their place, y downward.
func TestFloorStandsInPlan(t *testing.T) {
	for name, v := range map[string]invented{"small": small, "middle": middle} {
		a := v.assessment()
		f := FloorOf(a, PlannedWork(a))
		if len(f.Plates) != len(a.Plan.Plates) || f.X2-f.X1 != 2*a.Plan.Radius {
			t.Fatalf("%s: %d plates, width %v", name, len(f.Plates), f.X2-f.X1)
		}
		placed := 0
		for _, s := range f.Spots {
			l := &a.Result.Locations[s.Location]
			if !s.Placed {
				continue
			}
			placed++
			if math.Hypot(s.X-l.At.X, s.Y+l.At.Y) > 1e-9 {
				t.Errorf("%s: %s at %v %v, want %v", name, l.Label, s.X, s.Y, l.At)
			}
		}
		if placed == 0 {
			t.Errorf("%s: nothing is placed", name)
		}
	}
}
