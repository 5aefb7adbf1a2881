package draw

import (
	"math"
	"testing"

	"platebook/rules/floor"
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
