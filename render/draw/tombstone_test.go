package draw

import (
	"math"
	"testing"

	"platebook/rules"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// A tombstone along the shell is drawn as it is cut: square at the shell, its
// inner corners rounded by Patch corner radius.
func TestTombstoneHasRoundedInnerCorners(t *testing.T) {
	a := invented{diameter: 15000, length: 6000, width: 1800, lap: 50}.assessment()
	wide := a.Plan.AlongShell()
	frame := wide.ShellFrame(floor.Point{X: 5000, Y: 5000})
	box := floor.Box{U1: 1000, U2: 1300, V2: 250}
	ring, ok := patchOutline(a, wide, frame, box, "tombstone")
	if !ok {
		t.Fatal("no outline")
	}
	from := func(u, v float64) float64 {
		at, _ := wide.LocalToPlan(frame, floor.Point{X: u, Y: v})
		d := math.Inf(1)
		for _, q := range ring {
			d = math.Min(d, math.Hypot(q.X-at.X, q.Y-at.Y))
		}
		return d
	}
	for _, u := range []float64{box.U1, box.U2} {
		if d := from(u, 0); d > 1e-6 {
			t.Errorf("the corner at the shell is %v off", d)
		}
		if d := from(u, box.V2); d < 50*(math.Sqrt2-1)-2 || d > 50*(math.Sqrt2-1)+2 {
			t.Errorf("the arc passes the inner corner at %v, want %v", d, 50*(math.Sqrt2-1))
		}
	}
}

const shellRadius = 7500.0

// foundAtShell is a floor with a tombstone found at its shell, on a plate whose
// axes run otherwise.
func foundAtShell(t *testing.T) (a *rules.Assessment, plate int) {
	t.Helper()
	a = invented{diameter: 2 * shellRadius, length: 6000, width: 1800, lap: 50}.assessment()
	at := floor.Point{X: (shellRadius - 100) * 0.8, Y: (shellRadius - 100) * 0.6}
	plate = a.Plan.PlateAt(at)
	x, y, ok := a.Plan.FromPlan(plate, at)
	if !ok {
		t.Fatal("no place")
	}
	size := func(v float64) inspection.Length { return given(unit.Length(v)) }
	a.Inspection.Patches = []inspection.Patch{{
		Plate: a.Inspection.Plates[plate].Label, X: size(x), Y: size(y), Length: size(600), Width: size(200), Shape: given("tombstone"),
	}}
	return a, plate
}

// One found at the shell is drawn along it as a planned one is: its outer side
// lies on the shell, wherever its plate's axes run.
func TestTombstoneFoundIsDrawnAlongTheShell(t *testing.T) {
	a, _ := foundAtShell(t)
	on := 0
	for _, p := range FloorOf(a, nil).Patches {
		for _, c := range p.Segments {
			if c.Op == Close {
				continue
			}
			d := math.Hypot(c.X, c.Y)
			if d > shellRadius+1e-3 || d < shellRadius-200.5 {
				t.Errorf("a point %v from the centre", d)
			}
			if d > shellRadius-0.5 {
				on++
			}
		}
	}
	if on < 2 {
		t.Errorf("%d points on the shell", on)
	}
}

// So it is on the drawing of its plate, whose edge at the shell is cut there.
func TestTombstoneFoundStandsAtTheShellOnItsPlate(t *testing.T) {
	a, plate := foundAtShell(t)
	var edge, patch []Segment
	for _, it := range detailOf(a, A4.Landscape(), plate, nil).Items {
		if p, ok := it.(Path); ok && p.Class == "plate" {
			edge = p.Segments
		} else if ok && p.Class == "patch" && len(p.Segments) > len(patch) {
			patch = p.Segments // the other one is its sign in the key
		}
	}
	on := 0
	for _, c := range patch {
		near := math.Inf(1)
		for i := 1; i < len(edge); i++ {
			a, b := edge[i-1], edge[i]
			long := math.Hypot(b.X-a.X, b.Y-a.Y)
			if b.Op != Line || long == 0 {
				continue
			}
			s := min(max(((c.X-a.X)*(b.X-a.X)+(c.Y-a.Y)*(b.Y-a.Y))/(long*long), 0), 1)
			near = min(near, math.Hypot(c.X-a.X-s*(b.X-a.X), c.Y-a.Y-s*(b.Y-a.Y)))
		}
		if c.Op != Close && near < 0.05 { // mm of paper
			on++
		}
	}
	if on < 2 {
		t.Errorf("%d of %d points on the shell", on, len(patch))
	}
}
