package repair

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

func none(t *testing.T, it *Item, id string) {
	t.Helper()
	for _, c := range it.Checks {
		if c.ID == id {
			t.Errorf("%s has %s: %s", it.Label, id, c.Text(unit.SI))
		}
	}
}

// A planned patch over a seam takes out what lies under it on both plates.
// Derived: the box grown by the overlap has to lie in the patch, to 1 mm.
func TestPatchOverTwoPlates(t *testing.T) {
	// the seam of 2-1 and 2-2 runs from 9975 to 10025 on 2-1
	for _, c := range []struct {
		width float64
		out   bool
	}{{300, true}, {158, true}, {156, false}} {
		res, r := wide().desired(10).
			pit("1", "2-1", 9900, 2500, 40, 60, 2.9).
			pit("2", "2-2", 125, 2500, 40, 60, 3.0).
			repair("P1", "patch", "2-1", 10000, 2500, 400, c.width, 6.35, "").assess()
		it := r.Item("P1")
		if got := len(it.Locations) == 2; got != c.out {
			t.Errorf("width %v: takes out %v", c.width, it.IDs)
		}
		if c.out && strings.Join(it.IDs, " ") != "1 2-2/2" {
			t.Errorf("the pit on the other plate is named with it: %v", it.IDs)
		}
		if got := res.AsPlanned.SoilMin.V > 3.0; got != c.out {
			t.Errorf("width %v: least as planned %v", c.width, res.AsPlanned.SoilMin)
		}
	}
}

// Derived: areas are unions. Plate 2-1 keeps half of the lap with 2-2, so its
// net shape ends at 10 000 on itself; of a patch on 2-2 over the seam, 400 × 300
// about 9 950, 250 × 300 mm lie on it.
func TestAreaOfPatchBesideReplacedPlate(t *testing.T) {
	b := wide().repair("P1", "replace plate", "2-1", 0, 0, 0, 0, 0, "").repair("P2", "patch", "2-2", -25, 2500, 400, 300, 0, "")
	_, r := b.assess()
	near1(t, "area", float64(r.Area), float64(floor.Place(b.in).Plates[2].NetArea)+0.4*0.3-0.25*0.3, 1e-9)
}

// A patch over a seam is over a seam whatever clearance is asked for.
func TestSeamWithoutClearance(t *testing.T) {
	_, r := wide().set(criteria.PatchWeldClearance, "0").repair("P1", "patch", "2-1", 10000, 2500, 400, 200, 6.35, "").assess()
	for _, c := range r.Item("P1").Checks {
		if c.ID == "patch.minimum_seam" {
			if c.OK {
				t.Errorf("200 mm over a seam passes: %s", c.Text(unit.SI))
			}
			return
		}
	}
	t.Error("no check of the least size over a seam")
}

// The same over the inner edge of the ring, and on a floor plate at a skew.
func TestPatchOverRingAndSkew(t *testing.T) {
	b := ringed()
	plan := floor.Place(b.in)
	ring := 0
	for !plan.Plates[ring].Sector {
		ring++
	}
	// a pit just outside the ring's inner edge, and a patch on the ring plate
	at, _ := plan.LocalToPlan(ring, floor.Point{X: plan.Plates[ring].Length / 2, Y: plan.Plates[ring].Width + 60})
	inner := plan.PlateAt(at)
	if inner < 0 || inner == ring {
		t.Fatalf("no floor plate inside the ring: %d", inner)
	}
	x, y, _ := plan.FromPlan(inner, at)
	b.pit("1", b.in.Plates[inner].Label.Value, x, y, 20, 20, 2.9).
		repair("P1", "patch", b.in.Plates[ring].Label.Value, plan.Plates[ring].Length/2, plan.Plates[ring].Width, 400, 400, 6.35, "")
	_, r := b.assess()
	if it := r.Item("P1"); len(it.Locations) != 1 {
		t.Errorf("the pit inside the ring lies under the patch: %v", it.IDs)
	}
}

// Figure 9.13: the weld of one planned patch keeps clear of another's.
func TestPlannedPatchesKeepApart(t *testing.T) {
	clear := func(apart float64, shape string) *Item {
		_, r := wide().desired(10).
			repair("P1", "patch", "2-1", 5000, 2500, 200, 200, 6.35, shape).
			repair("P2", "patch", "2-1", 5200+apart, 2500, 200, 200, 6.35, shape).assess()
		return r.Item("P1")
	}
	passes(t, clear(50, ""), map[string]bool{"patch.weld_clearance": true})
	passes(t, clear(49, ""), map[string]bool{"patch.weld_clearance": false})
	passes(t, clear(-20, ""), map[string]bool{"patch.weld_clearance": false})
	if c := check(t, clear(25, ""), "patch.weld_clearance"); c.Note != "to P2" || c.Value.V != 25 {
		t.Errorf("names the other patch and the distance: %+v", c)
	}
	// two circles whose boxes stand corner to corner are further apart
	round := func(by float64) *Item {
		_, r := wide().desired(10).
			repair("P1", "patch", "2-1", 5000, 2500, 200, 200, 6.35, Circle).
			repair("P2", "patch", "2-1", 5000+by, 2500+by, 200, 200, 6.35, Circle).assess()
		return r.Item("P1")
	}
	passes(t, round(180), map[string]bool{"patch.weld_clearance": true})  // 254.6 − 200 mm
	passes(t, round(170), map[string]bool{"patch.weld_clearance": false}) // 240.4 − 200 mm
}

// A tombstone is a shape for the shell joint.
func TestTombstoneAwayFromTheShell(t *testing.T) {
	_, r := wide().desired(10).repair("P1", "patch", "2-1", 5000, 2500, 300, 300, 6.35, Tombstone).
		repair("P2", "patch", "2-1", 7000, 2500, 300, 300, 6.35, "").assess()
	passes(t, r.Item("P1"), map[string]bool{"critical.tombstone": false})
	near1(t, "it is welded all round", float64(r.Item("P1").Weld), float64(WeldLength(300, 300, 50)), 1e-9)
	near1(t, "and not to the shell", float64(r.Item("P1").ShellWeld), 0, 0)
	none(t, r.Item("P2"), "critical.tombstone")
}

// Larger than any stock sheet: listed with the parts it could be cut into.
// Derived: 6000 × 2000 less 10 mm trim holds 5980 × 1980.
func TestPieceLargerThanStock(t *testing.T) {
	parts := func(l, w float64, stock string) string {
		_, r := wide().desired(10).set(criteria.StockSheets, stock).repair("P1", "patch", "2-1", 5000, 2500, l, w, 6.35, "").assess()
		if len(r.Cutting.Separate) == 0 {
			return ""
		}
		return r.Cutting.Separate[0].Why
	}
	if got := parts(5980, 1980, "2000x6000"); got != "" {
		t.Errorf("just fits: %s", got)
	}
	for _, c := range []struct {
		l, w float64
		want string
	}{{5990, 1980, "2 parts of 2995 × 1980 mm"}, {1000, 7000, "2 parts of 1000 × 3500 mm"}, {9000, 4000, "5 parts of 1800 × 4000 mm"}} {
		if got := parts(c.l, c.w, "2000x6000"); !strings.Contains(got, c.want) {
			t.Errorf("%v × %v: %q, want %q", c.l, c.w, got, c.want)
		}
	}
}

// Stock that cannot be used leaves the pieces listed, with the reason.
func TestStockThatCannotBeUsed(t *testing.T) {
	for name, numbers := range map[string][]float64{"none": nil, "zero": {0, 0}, "thinner than the trim": {15, 6000}, "beyond any mill": {1e6, 1e6}} {
		b := wide().desired(10).repair("P1", "patch", "2-1", 5000, 2500, 300, 300, 6.35, "")
		v := b.in.Criteria.Get(criteria.StockSheets)
		v.Numbers = numbers
		b.in.Criteria.Put(criteria.StockSheets, v)
		_, r := b.assess()
		if len(r.Cutting.Groups) != 1 || r.Cutting.Groups[0].Layout != nil || r.Cutting.Groups[0].Why == "" || r.Sheets != 0 || r.Pieces != 1 {
			t.Errorf("%s: %+v", name, r.Cutting)
		}
		if r.Yield.Known {
			t.Errorf("%s: a yield without a sheet: %v", name, r.Yield)
		}
	}
}

// A thousand planned patches are judged, laid out and summed up in no time.
func TestThousandPlannedPatches(t *testing.T) {
	b := wide().desired(10)
	for i := range 1000 {
		plate := fmt.Sprintf("%d-%d", i%4+1, i/4%2+1)
		b.repair(fmt.Sprintf("P%d", i+1), "patch", plate, 200+float64(i/8%25)*390, 300+float64(i/200)*900, 150+float64(i%7)*10, 160, 6.35, "")
	}
	start := time.Now()
	_, r := b.assess()
	if len(r.Items) != 1000 || r.Pieces != 1000 || len(r.Cutting.Separate) != 0 {
		t.Fatalf("%d repairs, %d pieces, %d apart", len(r.Items), r.Pieces, len(r.Cutting.Separate))
	}
	if r.Sheets < r.BoundArea || r.Sheets < r.BoundDual {
		t.Errorf("%d sheets under the bounds %d, %d", r.Sheets, r.BoundArea, r.BoundDual)
	}
	t.Logf("%d sheets, bounds %d and %d, %v", r.Sheets, r.BoundArea, r.BoundDual, time.Since(start).Round(time.Millisecond))
}

// A row without a place is kept, and neither judged nor taken for done.
func TestZeroAndMissingSizes(t *testing.T) {
	for _, size := range [][2]float64{{0, 200}, {200, 0}, {-200, 200}} {
		b := wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).repair("P1", "patch", "2-1", 5000, 2500, 200, 200, 6.35, "", "1")
		for i, f := range []*inspection.Length{&b.in.Repairs[0].Length, &b.in.Repairs[0].Width} {
			if size[i] <= 0 {
				f.Value, f.State = unit.Length(size[i]), inspection.Wrong // as the reader leaves it
			}
		}
		res, r := b.assess()
		it := r.Item("P1")
		if len(it.Locations) != 0 || res.AsPlanned.SoilMin.V != 2.9 {
			t.Errorf("%v: a patch without a size takes out %v", size, it.IDs)
		}
		if it.Mass.Known || it.Weld != 0 || len(r.Cutting.Unknown) != 1 {
			t.Errorf("%v: mass %v, weld %v, %+v", size, it.Mass, it.Weld, r.Cutting)
		}
	}
}

// ringed is the wide floor within a ring of eight annular plates, 600 mm wide.
func ringed() *builder {
	b := wide()
	b.in.Tank.AnnularRing, b.in.Tank.AnnularWidth, b.in.Tank.AnnularNominal = given(b, "yes"), b.mm(600), b.mm(8)
	for i := range 8 {
		p := inspection.Plate{Label: label(b, fmt.Sprintf("A%d", i+1)), Type: given(b, "annular"), MFLScanned: given(b, unit.Percent(100))}
		p.StartBearing, p.EndBearing = given(b, unit.Angle(45*i)), given(b, unit.Angle(45*(i+1)))
		p.Width = b.mm(600)
		b.in.Plates = append(b.in.Plates, p)
	}
	return b
}

// A patch on the ring that reaches over its inner edge stands on floor plates too:
// a pit of theirs 745 mm from the shell lies under its edge at 750.
func TestEdgeOnThePlatesInsideTheRing(t *testing.T) {
	b := ringed().desired(10)
	s, c := math.Sincos(3000.0 / 10000)
	x, y := b.at(t, "4-2", floor.Point{X: 9255 * s, Y: 9255 * c})
	b.pit("1", "4-2", x, y, 40, 20, 2.2).repair("P1", "patch", "A1", 3000, 600, 400, 300, 6.35, "")
	_, r := b.assess()
	passes(t, r.Item("P1"), map[string]bool{"patch.perimeter": false, "patch.overlap": false})
	near1(t, "under the edge", float64(check(t, r.Item("P1"), "patch.perimeter").Value.V), 2.2, 1e-9)
}

// At the shell a tombstone has no edge: a reading 18 mm from the shell, well
// within it, is not under its edge, one beside its end is.
func TestReadingAtTheShellUnderATombstone(t *testing.T) {
	for x, known := range map[float64]bool{3000: false, 3140: true} {
		b := ringed().desired(10).repair("P1", "patch", "A1", 3000, 100, 300, 200, 6, Tombstone)
		b.in.Readings = append(b.in.Readings, inspection.Reading{Plate: label(b, "A1"), X: b.mm(x), Y: b.mm(18), Thickness: b.mm(2.5)})
		_, r := b.assess()
		if c := check(t, r.Item("P1"), "patch.perimeter"); c.Known != known {
			t.Errorf("reading at X %v: known %v (%s)", x, c.Known, c.Note)
		}
	}
}

// The box around a place at a skew to a tombstone reaches farther than the place:
// one whose corner only it touches is not under the edge. Derived: 120 × 40 at 34°
// to the shell has a box of 122 × 100 along it, of which two corners are empty.
func TestPlaceAtASkewBesideATombstone(t *testing.T) {
	for side, known := range map[float64]bool{-1: false, 1: true} {
		b := wide().desired(10)
		at := func(round, inward float64) (x, y float64) {
			s, c := math.Sincos(0.6 + round/10000)
			return b.at(t, "2-1", floor.Point{X: -(10000 - inward) * c, Y: -(10000 - inward) * s})
		}
		x, y := at(0, 100)
		b.repair("P1", "patch", "2-1", x, y, 300, 200, 6, Tombstone)
		x, y = at(side*(150+45), 200+36)
		b.pit("1", "2-1", x, y, 120, 40, 2.2)
		_, r := b.assess()
		if c := check(t, r.Item("P1"), "patch.perimeter"); c.Known != known {
			t.Errorf("side %v: known %v (%s)", side, c.Known, c.Note)
		}
	}
}
