package repair

import (
	"math"
	"testing"

	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// at is X, Y of a place in plan on a plate of the builder's floor.
func (b *builder) at(t *testing.T, plate string, p floor.Point) (x, y float64) {
	t.Helper()
	plan := floor.Place(b.in)
	for i := range b.in.Plates {
		if b.in.Plates[i].Label.Value == plate {
			x, y, ok := plan.FromPlan(i, p)
			if !ok {
				t.Fatal("no place on", plate)
			}
			return x, y
		}
	}
	t.Fatal("no plate", plate)
	return 0, 0
}

// A round patch is measured from its own edge, and so is an old one: the corners
// of their boxes are no part of them. Derived, plane geometry.
func TestRoundPatchIsRound(t *testing.T) {
	clear := func(b *builder) *Check {
		_, r := b.assess()
		return check(t, r.Item("P1"), "patch.weld_clearance")
	}
	b := wide().old("E1", "2-1", 5000, 2500, 200, 200).repair("P1", "patch", "2-1", 5170, 2670, 200, 200, 6.35, "")
	near1(t, "from a square", float64(clear(b).Value.V), 0, 1e-9)
	b.in.Repairs[0].Shape = given(b, Circle)
	near1(t, "round over a square's corner", float64(clear(b).Value.V), 0, 1e-9) // 70√2 < 100
	b.in.Patches[0].Shape = given(b, Circle)
	near1(t, "round from round", float64(clear(b).Value.V), 240.41630560342614-200, 1e-9)
	b.in.Repairs[0].Shape = inspection.Word{}
	near1(t, "square from round", float64(clear(b).Value.V), 0, 1e-9) // its corner lies 99 mm from the centre
	b.in.Repairs[0].X.Value, b.in.Repairs[0].Y.Value = 5190, 2690
	near1(t, "square clear of round", float64(clear(b).Value.V), 127.27922061357856-100, 1e-9)
}

// Two round patches on different plates are as far apart as they are.
func TestRoundPatchesOnTwoPlates(t *testing.T) {
	b := wide().desired(1)
	x, y := b.at(t, "2-1", floor.Point{X: -9800, Y: -100})
	b.repair("P1", "patch", "2-1", x, y, 160, 160, 6, Circle).repair("P2", "patch", "3-2", 5000, 2500, 700, 700, 6, Circle)
	_, r := b.assess()
	c := check(t, r.Item("P1"), "critical.spacing")
	if !c.OK || c.Value.V < 10000 {
		t.Errorf("%+v", c)
	}
}

// Derived: a circle of 300 about a place 9840 mm from the centre ends 10 mm from
// the shell; its box would reach beyond.
func TestRoundPatchWithinTheShell(t *testing.T) {
	b := wide().desired(1)
	x, y := b.at(t, "2-1", floor.Point{X: -9840 * 0.8, Y: -9840 * 0.6})
	if x < 0 || y < 0 {
		x, y = b.at(t, "1-1", floor.Point{X: -9840 * 0.8, Y: -9840 * 0.6})
		b.repair("P1", "patch", "1-1", x, y, 300, 300, 6, Circle)
	} else {
		b.repair("P1", "patch", "2-1", x, y, 300, 300, 6, Circle)
	}
	_, r := b.assess()
	passes(t, r.Item("P1"), map[string]bool{"patch.inside": true})
	b.in.Repairs[0].Shape = inspection.Word{}
	_, r = b.assess()
	passes(t, r.Item("P1"), map[string]bool{"patch.inside": false})
}

// A patch may end on the shell to 1 mm, one that is carried to it to the half of a
// tenth of an inch that a printed place may be off; what is beyond is told as it
// is.
func TestPatchBeyondTheShell(t *testing.T) {
	for _, c := range []struct {
		y  float64
		ok bool
	}{{150, true}, {148.6, true}, {148.4, false}, {138, false}} {
		b := ringed()
		b.repair("P1", "patch", "A1", 3000, c.y, 300, 300, 6, Tombstone)
		_, r := b.assess()
		passes(t, r.Item("P1"), map[string]bool{"patch.inside": c.ok})
		if got := check(t, r.Item("P1"), "patch.inside"); !c.ok {
			near1(t, "beyond", float64(got.Value.V), 150-c.y, 1e-6)
		}
	}
}

// The edge of a round patch runs over a pit that its box covers: a pit of 40 × 40
// about a corner of the box, 212 mm from the centre of a circle of 400, lies
// across the edge.
func TestEdgeOfARoundPatch(t *testing.T) {
	b := wide().desired(10).pit("1", "2-1", 5150, 2650, 40, 40, 2.2).repair("P1", "patch", "2-1", 5000, 2500, 400, 400, 6.35, Circle, "1")
	_, r := b.assess()
	passes(t, r.Item("P1"), map[string]bool{"patch.perimeter": false})
	_, r = wide().desired(10).pit("1", "2-1", 5170, 2670, 40, 40, 2.2).repair("P1", "patch", "2-1", 5000, 2500, 400, 400, 6.35, Circle, "1").assess()
	if c := check(t, r.Item("P1"), "patch.perimeter"); c.Known {
		t.Errorf("a pit in the corner of the box is off the circle: %+v", c)
	}
}

// Corrosion of the next plate under a patch over a seam keeps its overlap too.
func TestOverlapOnTheNextPlate(t *testing.T) {
	item := func(length float64) *Item {
		// the pit's box begins 105 − 20 mm on 2-2, that is at 9 975 + 85 on 2-1
		_, r := wide().desired(10).pit("1", "2-2", 105, 2500, 40, 40, 2.9).repair("P1", "patch", "2-1", 9900, 2500, length, 300, 6.35, "").assess()
		return r.Item("P1")
	}
	c := check(t, item(400), "patch.overlap") // ends at 10 100 on 2-1, in the middle of the pit
	if !c.Known || c.OK {
		t.Errorf("%+v", c)
	}
	near1(t, "beyond its edge", float64(c.Value.V), 10100-(9975+125), 1e-6)
	passes(t, item(500), map[string]bool{"patch.overlap": true})
	none(t, item(300), "patch.overlap") // off the pit
}

// Each plate's own critical zone and the ring set what remains at the weld toe,
// from the least sound metal: 0.17 in on a ring at low stress, and half of the
// plate elsewhere.
func TestProjectedByItsOwnPlate(t *testing.T) {
	b := ringed()
	tank := &b.in.Tank
	tank.FirstCourseAsBuilt, tank.ShellHeight = b.mm(12), b.mm(6000)
	b.repair("P1", "patch", "A1", 3000, 150, 300, 300, 6, Tombstone).desired(1)
	_, r := b.assess()
	near1(t, "the ring's", float64(check(t, r.Item("P1"), "critical.projected").Limit.V), 0.17*25.4, 1e-9)

	b = wide().desired(1)
	x, y := b.at(t, "2-1", floor.Point{X: -9850, Y: -100})
	b.repair("P1", "patch", "2-1", x, y, 160, 160, 6, "")
	b.in.Tank.FirstCourseRequired, b.in.Plates[2].Nominal = b.mm(20), b.mm(8)
	for _, v := range []float64{3.0, 6.3, 6.3} {
		b.in.Readings = append(b.in.Readings, inspection.Reading{Plate: label(b, "2-1"), Thickness: b.mm(v)})
	}
	res, r := b.assess()
	c := check(t, r.Item("P1"), "critical.projected")
	near1(t, "from the least", float64(c.Value.V), 3.0-float64(res.AsFound.SoilRate.V+res.AsFound.ProductRate.V), 1e-9)
	near1(t, "half of the plate", float64(c.Limit.V), 4, 1e-9)
}

// Along the shell as on any plate, 1 mm too little overlap is too little, in
// whatever unit it was typed.
func TestOverlapOnTheRing(t *testing.T) {
	for _, c := range []struct {
		length float64
		ok     bool
	}{{140, true}, {139.8, false}, {138, false}, {138.0000000001, false}} {
		_, r := ringed().pit("1", "A1", 3000, 350, 40, 40, 2.9).repair("P1", "patch", "A1", 3000, 350, c.length, 300, 6, "").assess()
		passes(t, r.Item("P1"), map[string]bool{"patch.overlap": c.ok})
	}
}

// What fails for another reason than its value is not printed to more digits.
func TestFailTextOfAnEqualValue(t *testing.T) {
	c := held("patch.dent", 6.35, "≥", 6.35, patchClause, siteProcedure)
	c.Kind, c.OK, c.Note = unit.Thickness, false, "over a seam"
	if got := c.Text(unit.SI); got != "6.35, limit 6.35 mm, over a seam" {
		t.Error(got)
	}
}

// In the critical zone no patch stands on another, planned or old.
func TestPlannedPatchOnPlannedPatch(t *testing.T) {
	for _, apart := range []float64{-10, 10} {
		b := ringed()
		b.repair("P1", "patch", "A1", 3000, 150, 300, 300, 6, Tombstone).repair("P2", "patch", "A1", 3300+apart, 150, 300, 300, 6, Tombstone)
		_, r := b.assess()
		passes(t, r.Item("P1"), map[string]bool{"critical.patch_on_patch": apart > 0})
		passes(t, r.Item("P2"), map[string]bool{"critical.patch_on_patch": apart > 0})
	}
}

// Two rows over one pit both say so.
func TestTwoPatchesOverOnePit(t *testing.T) {
	_, r := wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).
		repair("P1", "patch", "2-1", 5000, 2500, 300, 300, 6.35, "").repair("P2", "patch", "2-1", 5010, 2500, 300, 300, 6.35, "").assess()
	for _, l := range []string{"P1", "P2"} {
		if it := r.Item(l); len(it.IDs) != 1 {
			t.Errorf("%s takes out %v", l, it.IDs)
		}
	}
	if r.Area < 0.09 || r.Area > 0.0931 {
		t.Errorf("area %v, each place once", r.Area)
	}
}

// Derived: a circle of 400 about the ring's inner edge reaches 200 mm beyond it
// on either side, and so one moved by 120 mm only 80; the corners of its box lie
// further out. Its area is that of a circle.
func TestRoundPatchOverTheRing(t *testing.T) {
	for _, by := range []float64{0, 120} {
		b := ringed()
		turn := 33.0 / 57.29577951308232
		r := 9400 - by
		x, y := b.at(t, "A1", floor.Point{X: r * math.Sin(turn), Y: r * math.Cos(turn)})
		b.repair("P1", "patch", "A1", x, y, 400, 400, 6, Circle)
		_, res := b.assess()
		near1(t, "beyond", float64(check(t, res.Item("P1"), "patch.beyond_seam").Value.V), 200-25-by, 1e-6)
		near1(t, "area", float64(res.Area), math.Pi*0.04, 1e-12)
	}
	_, r := wide().old("E1", "2-1", 5000, 2500, 100, 100).repair("P1", "patch", "2-1", 5000, 2500, 400, 400, 6.35, Circle).assess()
	near1(t, "beyond an old square", float64(check(t, r.Item("P1"), "patch.beyond_seam").Value.V), 200-50*math.Sqrt2, 1e-9)
}
