package repair

import (
	"fmt"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// Source: method section 10, check line.
func TestPrintedMeasures(t *testing.T) {
	near1(t, "weld", float64(WeldLength(150, 160, 50)), 534.159, 5e-4)
	near1(t, "mass", float64(BlankMass(150, 160, 6.35)), 1.19634, 5e-6)
	near1(t, "circle", float64(CircleWeld(300)), 942.478, 5e-4)
	near1(t, "tombstone", float64(TombstoneWeld(150, 160, 50)), 384.159, 5e-4)
	if WeldLength(0, 160, 50) != 0 || TombstoneWeld(-1, 2, 3) != 0 || CircleWeld(-1) != 0 {
		t.Error("without sides there is no weld")
	}
	// a radius over half the lesser side is a half circle, not a negative length
	near1(t, "radius over half", float64(WeldLength(100, 100, 500)), 314.159, 5e-4)
}

// Source: method section 10, check line: sizes in the middle of a plate and
// over a seam, in SI and with the US set at step 0.
func TestPrintedSizes(t *testing.T) {
	for _, c := range []struct {
		us                    bool
		x, l, w, wantL, wantW float64
	}{
		{false, 5000, 40, 60, 150, 160},
		{false, 10000, 40, 60, 300, 300},
		{false, 5000, 250, 180, 350, 280},
		{false, 10000, 250, 180, 350, 300},
		{true, 5000, 40, 60, 152.4, 161.6},
		{true, 10000, 40, 60, 304.8, 304.8},
		{true, 5000, 250, 180, 351.6, 281.6},
		{true, 10000, 250, 180, 351.6, 304.8},
	} {
		b := wide().desired(10)
		if c.us {
			b.in.Criteria = criteria.Defaults(unit.US)
			b.set(criteria.PatchSizeStep, "0")
		}
		_, r := b.pit("1", "2-1", c.x, 2500, c.l, c.w, 2.9).assess()
		if len(r.Items) != 1 {
			t.Fatalf("%+v: %d repairs", c, len(r.Items))
		}
		it := &r.Items[0]
		near1(t, "length", float64(it.Length), c.wantL, 1e-6)
		near1(t, "width", float64(it.Width), c.wantW, 1e-6)
		if it.Kind != Patch || it.Label != "R1" || !it.Proposed || it.Failed() {
			t.Errorf("%+v: %s %s %+v", c, it.Label, it.Kind, it.Checks)
		}
	}
}

// Derived: a side that stands nearer than the clearance to a seam is carried as
// far beyond it. The seam between 2-1 and 2-2 is a strip from 9975 to 10025
// along plate 2-1.
func TestSideCarriedOverSeam(t *testing.T) {
	// right side at 9960: 15 mm from the strip, so it moves to 10075
	_, r := wide().desired(10).pit("1", "2-1", 9885, 2500, 40, 60, 2.9).assess()
	it := &r.Items[0]
	if it.Box.U2 < 10075 {
		t.Errorf("right side %v, carried to at least 10075", it.Box.U2)
	}
	if it.Length < 300 || it.Width < 300 {
		t.Errorf("over a weld both sides are at least 300: %v × %v", it.Length, it.Width)
	}
	passes(t, it, map[string]bool{"patch.minimum_seam": true, "patch.beyond_seam": true, "patch.overlap": true})
	// right side at 9925: exactly the clearance, so it stays
	_, r = wide().desired(10).pit("1", "2-1", 9850, 2500, 40, 60, 2.9).assess()
	near1(t, "right side", r.Items[0].Box.U2, 9925, 1e-6)
	near1(t, "width", float64(r.Items[0].Length), 150, 1e-6)
}

func TestClearOfExistingPatch(t *testing.T) {
	_, r := wide().desired(10).old("P1", "2-1", 5200, 2500, 200, 200).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).assess()
	it := &r.Items[0]
	if it.Box.U2 < 5350-1e-6 || it.Width < 300 {
		t.Errorf("the existing patch and the clearance beyond it belong under the new one: %+v", it.Box)
	}
	passes(t, it, map[string]bool{"patch.beyond_seam": true, "patch.minimum_seam": true})
}

// Derived: patches nearer than the gap become one, also across a seam; at the
// gap they stay two.
func TestProposalMerges(t *testing.T) {
	_, r := wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).pit("2", "2-1", 5199, 2500, 40, 60, 2.9).assess()
	if len(r.Items) != 1 || len(r.Items[0].IDs) != 2 {
		t.Fatalf("49 mm apart: %d repairs", len(r.Items))
	}
	near1(t, "joint length", float64(r.Items[0].Length), 340, 1e-6) // 239 + 2·50, rounded up to 10
	_, r = wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).pit("2", "2-1", 5200, 2500, 40, 60, 2.9).assess()
	if len(r.Items) != 2 {
		t.Errorf("50 mm apart: %d repairs", len(r.Items))
	}
	// either side of the seam between 2-1 and 2-2
	res, r := wide().desired(10).pit("1", "2-1", 9900, 2500, 40, 60, 2.9).pit("2", "2-2", 150, 2500, 40, 60, 2.9).assess()
	if len(r.Items) != 1 || len(r.Items[0].Locations) != 2 {
		t.Fatalf("across the seam: %d repairs", len(r.Items))
	}
	if res.Locations[r.Items[0].Locations[0]].Repair != "R1" || res.Locations[r.Items[0].Locations[1]].Repair != "R1" {
		t.Error("both places carry the repair's number")
	}
}

// Many places in one box are one repair, the same as of one of them, whatever
// each of them asks for: a level that needs only the second of them too.
func TestPlacesInOneBox(t *testing.T) {
	_, one := wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9).pit("x", "2-1", 5199, 2500, 40, 60, 2.9).assess()
	many := wide().desired(10).pit("0", "2-1", 5000, 2500, 40, 60, 5.9)
	for i := range 300 {
		many.pit(fmt.Sprint(i+1), "2-1", 5000, 2500, 40, 60, 2.9)
	}
	_, r := many.pit("x", "2-1", 5199, 2500, 40, 60, 2.9).assess()
	if len(r.Items) != 1 || len(r.Items[0].IDs) != 302 {
		t.Fatalf("%d repairs", len(r.Items))
	}
	a, b := one.Items[0], r.Items[0]
	if a.X != b.X || a.Y != b.Y || a.Length != b.Length || a.Width != b.Width {
		t.Errorf("%v × %v at %v, %v; of one place %v × %v at %v, %v", b.Length, b.Width, b.X, b.Y, a.Length, a.Width, a.X, a.Y)
	}
	for i, l := range one.Thresholds() {
		if m := r.Thresholds()[i]; m.Repairs != l.Repairs || m.Area != l.Area {
			t.Errorf("below %v mm: %d repairs, %v m²; of one place %d, %v", l.Below, m.Repairs, m.Area, l.Repairs, l.Area)
		}
	}
}

// Places that crowd together take room for as many pairs as there are places,
// and still become one patch.
func TestCrowdTakesLittleRoom(t *testing.T) {
	b := wide().desired(10)
	const n = 600
	for i := range n {
		b.pit(fmt.Sprint(i+1), "2-1", 5000+0.1*float64(i), 2500, 40, 60, 2.9)
	}
	res, r := b.assess()
	if len(r.Items) != 1 || len(r.Items[0].IDs) != n {
		t.Fatalf("%d repairs", len(r.Items))
	}
	near1(t, "joint length", float64(r.Items[0].Length), 200, 1e-6) // 99.9 + 2·50, rounded up to 10
	s, ls := newShop(b.in, floor.Place(b.in)), res.Locations
	if g := s.seedsOf(ls, below(ls, 3)); len(g.alone) != n || len(g.pairs) > 0 {
		t.Errorf("%d places, %d pairs kept", len(g.alone), len(g.pairs))
	}
}

// Thousands of places over each other, each a little elsewhere, are held
// against the first few of them, not each against each.
func TestCrowdIsJoinedInItsOwnTime(t *testing.T) {
	work := func(n int) int {
		b := wide().desired(10)
		for i := range n {
			b.pit(fmt.Sprint(i+1), "2-1", 5000+float64(i%89)/30, 2500+float64(i/89)/30, 40, 60, 2.9)
		}
		res, _ := b.assess()
		s, ls := newShop(b.in, floor.Place(b.in)), res.Locations
		need := below(ls, 3)
		needed := make([]bool, len(ls))
		for _, i := range need {
			needed[i] = true
		}
		m := s.merger(s.seedsOf(ls, need), needed, map[int]string{})
		if list := m.merge(); len(list) != 1 || len(list[0].members()) != n || !m.crowded {
			t.Fatalf("%d patches of %d places, crowded: %v", len(list), n, m.crowded)
		}
		return m.held
	}
	small, large := work(1500), work(3000)
	if large > 3*small || small > 60*1500 {
		t.Errorf("%d pairs held against each other for 1,500 places, %d for 3,000", small, large)
	}
}

func TestNeighbourUnderThePatchIsCovered(t *testing.T) {
	// 2 needs no repair but lies under the patch of 1 with its overlap
	_, r := wide().desired(10).pit("1", "2-1", 5000, 2500, 300, 300, 2.9).pit("2", "2-1", 5050, 2550, 20, 20, 5.9).assess()
	if len(r.Items) != 1 || len(r.Items[0].IDs) != 2 {
		t.Errorf("%+v", r.Items)
	}
}

// Derived: step 5.
func TestPlateReplaced(t *testing.T) {
	b := wide().desired(10)
	for i := range 6 {
		b.pit(string(rune('1'+i)), "2-1", 1000+1200*float64(i), 2500, 40, 60, 2.9)
	}
	res, r := b.assess()
	if len(r.Items) != 1 || r.Items[0].Kind != Replace || r.Plates != 1 {
		t.Fatalf("six patches: %+v", r.Items)
	}
	near1(t, "least after", float64(res.AsPlanned.SoilMin.V), 6.35*0.8, 1e-9) // what the scan may miss elsewhere
	if len(r.Cutting.Separate) != 1 || r.Pieces != 0 {
		t.Errorf("replacement plates are ordered by themselves: %+v", r.Cutting)
	}
	near1(t, "area", float64(r.Area), float64(floor.Place(b.in).Plates[2].NetArea), 1e-9)

	_, r = wide().desired(10).pit("1", "2-1", 5000, 2500, 5000, 3200, 2.9).assess()
	if len(r.Items) != 1 || r.Items[0].Kind != Replace {
		t.Errorf("over 30 %% of the plate: %+v", r.Items)
	}
	b = wide().desired(10).set(criteria.ReplacePlateAtPatchShare, "100")
	_, r = b.pit("1", "2-1", 5000, 2500, 5000, 3200, 2.9).assess()
	if len(r.Items) != 1 || r.Items[0].Kind != Patch {
		t.Fatalf("with the share at 100 %%: %+v", r.Items)
	}
	if len(r.Cutting.Separate) != 1 || r.Sheets != 0 || r.Pieces != 1 {
		t.Errorf("a patch larger than any sheet is listed, not laid out: %+v", r.Cutting)
	}
}

// Derived: step 4. On the 20 m floor plate 1-1 meets the shell.
func TestTombstone(t *testing.T) {
	b := wide().desired(10)
	plan := floor.Place(b.in)
	// a pit 100 mm from the shell on plate 2-1, at its left
	at, _ := plan.PlanToLocal(2, floor.Point{X: -9900, Y: -2000})
	x, y, _ := plan.FromLocal(2, at)
	_, r := b.pit("1", "2-1", x, y, 40, 60, 2.9).assess()
	if len(r.Items) != 1 {
		t.Fatalf("%+v", r.Items)
	}
	it := &r.Items[0]
	if it.Shape != Tombstone || it.Kind != Patch {
		t.Fatalf("%+v", it)
	}
	if it.own.V1 != 0 || it.ShellWeld != it.Length {
		t.Errorf("carried to the shell: %+v", it.own)
	}
	passes(t, it, map[string]bool{"critical.tombstone": true, "critical.length": true, "critical.thickness": true, "critical.patch_on_patch": true, "patch.inside": true, "patch.overlap": true})
	if it.Zone != floor.Critical || !it.Engineer {
		t.Errorf("a patch at the shell is in the critical zone and goes to an engineer: %s %v", it.Zone, it.Engineer)
	}
	if it.Thickness.V > 6.35 {
		t.Errorf("thickness %v", it.Thickness.V)
	}
	// thicker floor: still no more than 1/4 in at the shell
	b.in.Tank.NominalThickness = b.mm(8)
	_, r = b.assess()
	near1(t, "thickness at the shell", float64(r.Items[0].Thickness.V), 6.35, 0)

	// longer than allowed along the shell, and nothing to split: the plate goes
	b = wide().desired(10)
	_, r = b.pit("1", "2-1", x, y, 40, 700, 2.9).assess()
	if len(r.Items) != 1 || r.Items[0].Kind != Replace {
		t.Errorf("700 mm along the shell: %+v", r.Items)
	}
}

func TestLongTombstoneIsSplit(t *testing.T) {
	b := wide().desired(10)
	plan := floor.Place(b.in)
	place := func(dy float64) (float64, float64) {
		at, _ := plan.PlanToLocal(2, floor.Point{X: -9880, Y: -2000 + dy})
		x, y, _ := plan.FromLocal(2, at)
		return x, y
	}
	// three pits whose tombstones merge by the gap, yet leave no room for the
	// clear metal: the plate has to be replaced
	for i, dy := range []float64{0, 190, 380, 570} {
		x, y := place(dy)
		b.pit(string(rune('1'+i)), "2-1", x, y, 40, 60, 2.9)
	}
	_, r := b.assess()
	for i := range r.Items {
		it := &r.Items[i]
		if it.Shape == Tombstone {
			passes(t, it, map[string]bool{"critical.length": true, "critical.spacing": true})
		}
	}
	if len(r.Items) == 0 {
		t.Fatal("nothing proposed")
	}
	t.Logf("%s %s", r.Items[0].Kind, r.Items[0].Reasons)
}

// Published: API 653 9.10.1.2 as restated by a county repair scope of 2010 and
// a public engineering forum: a patch within 6 in of the shell that is no
// tombstone is rejected; over 24 in along it is not allowed; a 1/4 in patch in
// the critical zone is allowed over 0.105 in, its perimeter ≥ 0.10 in.
func TestPublishedPatchCases(t *testing.T) {
	plan := floor.Place(wide().in)
	at, _ := plan.PlanToLocal(2, floor.Point{X: -9790, Y: 0})
	x, y, _ := plan.FromLocal(2, at)
	in := func(v float64) float64 { return v * 25.4 }
	patch := func(l, w, thick float64, shape string) *Item {
		b := wide().desired(10).pit("1", "2-1", x, y, 40, 60, in(0.105)).repair("P1", "patch", "2-1", x, y, l, w, thick, shape)
		_, r := b.assess()
		return r.Item("P1")
	}
	it := patch(200, 200, in(0.25), "rounded rectangle")
	passes(t, it, map[string]bool{"critical.tombstone": false, "critical.thickness": true, "critical.length": true})
	passes(t, patch(in(24), 420, in(0.25), "tombstone"), map[string]bool{"critical.length": true, "critical.thickness": true})
	passes(t, patch(in(24)+1, 420, in(0.25), "tombstone"), map[string]bool{"critical.length": false})
	passes(t, patch(420, 300, in(0.25)+0.01, "tombstone"), map[string]bool{"critical.thickness": false})

	// Published: site procedure and data sheet: 12 in over a seam or patch, 6 in
	// clear with 2 in overlap, 2 in from a weld.
	planned := func(x, l, w float64) *Item {
		_, r := wide().desired(10).pit("1", "2-1", x, 2500, 20, 20, 2.9).repair("P1", "patch", "2-1", x, 2500, l, w, 6.35, "").assess()
		return r.Item("P1")
	}
	passes(t, planned(5000, 152.4, 152.4), map[string]bool{"patch.minimum": true, "patch.overlap": true, "patch.weld_clearance": true, "patch.corners": true})
	passes(t, planned(5000, 149, 200), map[string]bool{"patch.minimum": false})
	passes(t, planned(10000, 300, 300), map[string]bool{"patch.minimum_seam": true, "patch.beyond_seam": true})
	passes(t, planned(10000, 200, 200), map[string]bool{"patch.minimum_seam": false})
	passes(t, planned(9975-50-100, 200, 200), map[string]bool{"patch.weld_clearance": true})
	passes(t, planned(9975-49-100, 200, 200), map[string]bool{"patch.weld_clearance": false})
	passes(t, planned(5000, 90, 200), map[string]bool{"patch.corners": false, "patch.overlap": false})
}
