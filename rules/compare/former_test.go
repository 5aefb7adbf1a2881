package compare_test

import (
	"fmt"
	"math"
	"testing"

	"platebook/rules/compare"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Every place of last time is laid where it is on the present plan, with what
// became of it.
func TestFormerPlaces(t *testing.T) {
	old := floorAt(then, []pit{
		{id: "1", plate: "2-2", x: 500, y: 700, loss: 45, ut: 5.0},
		{id: "2", plate: "1-1", x: 2000, y: 2500, loss: 30},
		{id: "3", plate: "3-3", x: 500, y: 500, loss: 30}, // its plate is not there now
	})
	in := floorAt(now, []pit{{id: "9", plate: "2-2", x: 540, y: 700, ut: 3.6}, {id: "8", plate: "2-3", x: 540, y: 700, ut: 3.6}})
	in.Plates[8].Label, in.Plates[8].Key = given("9-9"), "9-9"
	a := judged(in, old)
	list := a.Comparison.Former(a.Plan)
	if len(list) != 3 {
		t.Fatalf("%d former places, want 3", len(list))
	}
	for _, c := range []struct {
		id, plate string
		at        floor.Point
		class     compare.Class
		remaining float64
		loss      float64
		elsewhere bool
	}{
		{"1", "2-2", floor.Point{X: -1000, Y: -800}, compare.Grown, 5.0, 100 * (1 - 5.0/6.35), false},
		{"2", "1-1", floor.Point{X: -2500, Y: -2000}, compare.Gone, 6.35 * 0.7, 30, false},
		{"3", "3-3", floor.Point{X: 2000, Y: 2000}, compare.Unseen, 6.35 * 0.7, 30, true},
	} {
		found := false
		for i := range list {
			f := &list[i]
			if f.ID != c.id {
				continue
			}
			found = true
			if f.OldPlate != c.plate || !f.Placed || f.Elsewhere != c.elsewhere || f.Elsewhere != (f.Plate < 0) {
				t.Errorf("%s: %+v", c.id, f)
			}
			if math.Hypot(f.At.X-c.at.X, f.At.Y-c.at.Y) > 1e-6 || math.Abs(f.Radius-math.Hypot(c.at.X, c.at.Y)) > 1e-6 {
				t.Errorf("%s at %v, want %v", c.id, f.At, c.at)
			}
			if got := a.Comparison.Pairs[f.Pair].Class; got != c.class {
				t.Errorf("%s %q, want %q", c.id, got, c.class)
			}
			if math.Abs(float64(f.Remaining.V)-c.remaining) > 1e-9 || math.Abs(float64(f.Loss.V)-c.loss) > 1e-9 {
				t.Errorf("%s: remaining %v, loss %v", c.id, f.Remaining, f.Loss)
			}
			if f.Box.Length() != 25 || f.Box.Width() != 25 { // the assumed size
				t.Errorf("%s: extent %+v", c.id, f.Box)
			}
		}
		if !found {
			t.Errorf("%s is not listed", c.id)
		}
	}
	if a := judged(in, in); len(a.Comparison.Former(a.Plan)) != 0 {
		t.Error("former places of a comparison that was refused")
	}
}

// A drawing that stands turned with a wrong north moves no pit within its
// plate, but is told.
func TestWrongNorth(t *testing.T) {
	var pits []pit
	for i := range 12 {
		pits = append(pits, pit{id: fmt.Sprint(i), plate: fmt.Sprintf("%d-%d", 1+i%3, 1+i/3%3), x: 300 + 200*float64(i), y: 2500 - 150*float64(i), ut: 4})
	}
	for _, up := range []float64{90, 180, 270} {
		old := turnedPlan(floorAt(then, pits), up)
		old.Tank.PlanUpBearing = given(unit.Angle(0))
		a := judged(floorAt(now, pits), old)
		for _, p := range a.Comparison.Pairs {
			if p.Old < 0 || p.New < 0 || p.Distance.V > 1e-6 {
				t.Fatalf("up %v: %+v", up, p)
			}
		}
		if g := a.Comparison.Position; !g.Better() || g.Turn != 360-int(up) || g.Mirrored || has(a, "T301") == nil {
			t.Errorf("up %v: %+v", up, g)
		}
	}
}

// turnedPlan is floorAt drawn with another direction up: a place of the floor
// has the same position on its plate, and the plates stand turned.
func turnedPlan(in *inspection.Inspection, up float64) *inspection.Inspection {
	in.Tank.PlanUpBearing = given(unit.Angle(up))
	sin, cos := math.Sincos(up * math.Pi / 180)
	for i := range in.Plates {
		x, y := -4500+3000*float64(i%3), -4500+3000*float64(i/3)
		in.Plates[i].Left, in.Plates[i].Bottom = given(unit.Length(x*cos-y*sin)), given(unit.Length(x*sin+y*cos))
		in.Plates[i].Turned = given(unit.Angle(up))
	}
	return in
}

// A plan drawn with another direction up moves no pit, whichever way the plates
// are described.
func TestAnotherDirectionUp(t *testing.T) {
	pits := []pit{{id: "1", plate: "2-2", x: 400, y: 700, ut: 4}, {id: "2", plate: "1-2", x: 400, y: 700, ut: 4}}
	for _, up := range []float64{90, 180, 270} {
		old := turnedPlan(floorAt(then, pits), up)
		in := floorAt(now, pits)
		in.Tank.PlanUpBearing = given(unit.Angle(0))
		a := judged(in, old)
		for _, l := range []string{"2-2/1", "1-2/2"} {
			if p := pairOf(t, a, l, l); p.Distance.V > 1e-6 {
				t.Errorf("up %v: %s moved by %v", up, l, p.Distance.V)
			}
		}
		for _, f := range a.Comparison.Former(a.Plan) {
			if p := a.Comparison.Pairs[f.Pair]; math.Hypot(f.At.X-a.Result.Locations[p.New].At.X, f.At.Y-a.Result.Locations[p.New].At.Y) > 1e-6 {
				t.Errorf("up %v: %s drawn at %v", up, f.ID, f.At)
			}
		}
		if g := a.Comparison.Position; g.Better() {
			t.Errorf("up %v: %+v", up, g)
		}
	}
	// the plates alone stand a quarter turn round, the plan does not: X along
	// the old plate is Y along the new one
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 700, y: 3000 - 400, ut: 4}})
	for i := range old.Plates {
		x, y := -4500+3000*float64(i%3), -4500+3000*float64(i/3)
		old.Plates[i].Left, old.Plates[i].Bottom, old.Plates[i].Turned = given(unit.Length(x+3000)), given(unit.Length(y)), given(unit.Angle(90))
	}
	if p := pairOf(t, judged(floorAt(now, pits), old), "2-2/1", "2-2/1"); p.Distance.V > 1e-6 {
		t.Errorf("a quarter turn: moved by %v", p.Distance.V)
	}
}
