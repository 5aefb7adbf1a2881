package assess

import (
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
)

// Derived: method section 5, a repair takes a location out when its box grown
// by Patch overlap lies in it, to 1 mm. A 60 × 40 pit and 50 mm overlap want
// 160 × 140.
func TestWhatARepairTakesOut(t *testing.T) {
	for _, c := range []struct {
		what       string
		x, y, l, w float64
		out        bool
		shape      string
	}{
		{"exactly", 900, 900, 160, 140, true, ""},
		{"1 mm short on each side", 900, 900, 158, 138, true, ""},
		{"more than 1 mm short", 900, 900, 157.9, 140, false, ""},
		{"off centre", 902, 900, 160, 140, false, ""},
		{"wide enough off centre", 950, 900, 260, 140, true, ""},
		{"round, box only", 900, 900, 160, 160, false, "circle"},
		{"round, corners too", 900, 900, 213, 213, true, "circle"},
		{"without a size", 0, 0, 0, 0, false, ""},
	} {
		b := tank()
		b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(3.0), b.sized(60, 40)).repair("R1", "patch", "2-1", c.x, c.y, c.l, c.w, 6.35, "planned")
		if c.shape != "" {
			b.in.Repairs[0].Shape = word(b, "Planned repairs", c.shape)
		}
		r := b.assess()
		checkSteps(t, b, r)
		if got := find(t, r, "2-1/1").Repair == "R1"; got != c.out || (r.AsPlanned.SoilMin.V > 3.0) != c.out {
			t.Errorf("%s: out %v, least %v", c.what, got, r.AsPlanned.SoilMin)
		}
	}
}

func TestKindsOfRepair(t *testing.T) {
	build := func(kind string, thickness float64) (*builder, *Result) {
		b := tank().set(criteria.MFLThreshold, "0").set(criteria.RateAfterRepair, "recomputed")
		b.indication("p", "2-1", 900, 900, "product", "UT", b.rest(3.0)).
			indication("s", "2-1", 905, 900, "soil", "UT", b.rest(4.0), b.sized(10, 10)).
			indication("u", "2-1", 1500, 900, "unknown", "UT", b.rest(5.0)).
			repair("R1", kind, "2-1", 1200, 900, 1000, 400, thickness, "planned")
		r := b.assess()
		checkSteps(t, b, r)
		return b, r
	}
	_, r := build("line", 0)
	near(t, "as found", float64(r.AsFound.SoilMin.V), 3.0+4.0-6.35, 1e-9)
	near(t, "line changes nothing", float64(r.AsPlanned.SoilMin.V), 3.0+4.0-6.35, 1e-9)
	if find(t, r, "2-1/p").Repair != "" {
		t.Error("a line takes something out")
	}
	_, r = build("patch", 5.5)
	near(t, "patch", float64(r.AsPlanned.SoilMin.V), 5.5, 1e-9)
	near(t, "patch has no rate", float64(r.AsPlanned.SoilRate.V), 0, 0)
	_, r = build("patch", 0)
	near(t, "patch of the plate's nominal", float64(r.AsPlanned.SoilMin.V), 6.30, 1e-9)
	b, _ := build("patch", 0)
	near(t, "patch of the criterion", float64(b.set(criteria.PatchThickness, "6").assess().AsPlanned.SoilMin.V), 6.0, 1e-9)
	// the soil pit beneath a build-up stays by itself, so does the unknown one
	_, r = build("weld build-up", 0)
	near(t, "soil beneath the build-up", float64(r.AsPlanned.SoilMin.V), 4.0, 1e-9)
	near(t, "product: the unknown one", float64(r.AsPlanned.ProductMin.V), 5.0, 1e-9)
	if find(t, r, "2-1/p").Repair != "R1" || find(t, r, "2-1/s").Repair != "" || find(t, r, "2-1/u").Repair != "" {
		t.Errorf("taken out: %q %q %q", find(t, r, "2-1/p").Repair, find(t, r, "2-1/s").Repair, find(t, r, "2-1/u").Repair)
	}
	_, r = build("replace plate", 8)
	near(t, "replaced", float64(r.AsPlanned.SoilMin.V), 6.30, 1e-9)
	_, r = build("replace plate", 5)
	near(t, "replaced by thinner metal", float64(r.AsPlanned.SoilMin.V), 5, 1e-9)
}

// One half of a pair is not taken out without the other.
func TestPairsAreRepairedTogether(t *testing.T) {
	b := tank()
	b.indication("1", "3-2", 900, 900, "product", "visual", b.deep(1.30), b.sized(60, 60)).
		indication("2", "3-2", 930, 900, "soil", "UT", b.deep(1.95), b.sized(60, 60)).
		repair("R1", "patch", "3-2", 900, 900, 160, 160, 6.35, "planned")
	r := b.assess()
	near(t, "half covered", float64(r.AsPlanned.SoilMin.V), 3.05, 1e-9)
	b.in.Repairs[0].Length.Value = 260
	r = b.assess()
	if r.AsPlanned.SoilMin.V < 5 {
		t.Errorf("both covered: %v", r.AsPlanned.SoilMin)
	}
}

// Near the shell a patch ends at the shell: what lies beyond has no metal.
func TestPatchEndsAtTheShell(t *testing.T) {
	b := ringed()
	b.indication("1", "A1", 2500, 30, "soil", "UT", b.rest(3.0)).
		repair("R1", "patch", "A1", 2500, 100, 200, 200, 8, "planned")
	if r := b.assess(); find(t, r, "A1/1").Repair != "R1" {
		t.Error("a patch carried to the shell does not take it out")
	}
	b.in.Repairs[0].Y.Value, b.in.Repairs[0].Width.Value = 110, 180
	if r := b.assess(); find(t, r, "A1/1").Repair != "" {
		t.Error("a patch that stops short of the shell takes it out")
	}
	// on a floor plate: plan (0, −2950), 50 mm from the shell at y 525
	b = tank()
	b.indication("1", "1-1", 2500, 575, "soil", "UT", b.rest(3.0)).repair("R1", "patch", "1-1", 2500, 620, 200, 194, 6.35, "planned")
	if r := b.assess(); find(t, r, "1-1/1").Repair != "R1" {
		t.Error("a floor patch carried to the shell does not take it out")
	}
	b.in.Repairs[0].Y.Value = 640
	if r := b.assess(); find(t, r, "1-1/1").Repair != "" {
		t.Error("a floor patch that stops short takes it out")
	}
}

// Derived: method section 10, what needs repair, and the proposal until rows
// are filled.
func TestProposal(t *testing.T) {
	// sum 0.168305 mm/y: needed for 10 y 4.22305 (method section 7)
	for _, c := range []struct {
		r     float64
		needs bool
	}{{4.2230, true}, {4.2231, false}} {
		b := example().desired(10)
		b.indication("9", "2-1", 2500, 300, "soil", "UT", b.rest(c.r))
		r := b.assess()
		checkSteps(t, b, r)
		l := find(t, r, "2-1/9")
		if (l.Repair == "patch") != c.needs || (l.Verdict == Repair) != c.needs {
			t.Errorf("%v: %q, %s", c.r, l.Repair, l.Verdict)
		}
	}
	r := example().desired(10).assess()
	near(t, "as planned", float64(r.AsPlanned.IntervalUncapped.V), 11.0514, 5e-5)
	if !r.Proposed || find(t, r, "2-2/2").Repair != "" || find(t, r, "2-2/1").Verdict != Repair {
		t.Errorf("proposal: %v", r.Proposed)
	}
	// without a target, Planning interval
	near(t, "planning interval", float64(example().assess().AsPlanned.IntervalUncapped.V), 11.0514, 5e-5)
	// rates unknown: only what is required now
	b := example().desired(10)
	b.in.Tank.FloorInstalled = inspection.Date{}
	if r := b.assess(); find(t, r, "2-1/4").Repair != "" {
		t.Error("repaired without rates though it passes now")
	}
	// a repair threshold asks for more
	if r := example().desired(10).set(criteria.RepairThreshold, "4.5").assess(); find(t, r, "2-2/2").Repair != "patch" {
		t.Error("4.40 is over a repair threshold of 4.50")
	}
	// a pair is repaired together; verdict repair first when it fails now
	b = tank()
	b.indication("1", "3-2", 900, 900, "product", "visual", b.deep(2.30), b.sized(60, 60)).
		indication("2", "3-2", 930, 900, "soil", "UT", b.deep(1.95), b.sized(60, 60))
	r = b.assess()
	if find(t, r, "3-2/1").Verdict != RepairFirst || find(t, r, "3-2/2").Verdict != RepairFirst || find(t, r, "3-2/2").Repair != "patch" {
		t.Errorf("%s, %s", find(t, r, "3-2/1").Verdict, find(t, r, "3-2/2").Verdict)
	}
	// exactly at the requirement: left, with the tolerance of a thickness
	for _, c := range []struct {
		r float64
		v Verdict
	}{{2.54, Repair}, {2.54 - 5e-7, Repair}, {2.54 - 2e-6, RepairFirst}} {
		b := tank()
		b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(c.r))
		if l := b.assess().Locations[0]; l.Verdict != c.v {
			t.Errorf("%v: %s, want %s", c.r, l.Verdict, c.v)
		}
	}
}

// Derived: causes removed let one side be recomputed.
func TestCauseRemoved(t *testing.T) {
	repaired := func() *builder {
		return example().desired(10).
			repair("R1", "patch", "2-2", 500, 500, 150, 150, 6.35, "planned").
			repair("R2", "patch", "2-1", 1500, 900, 150, 150, 6.35, "planned").
			repair("R3", "patch", "3-2", 600, 700, 150, 150, 6.35, "planned")
	}
	for _, c := range []struct {
		soil, product     string
		wantSoil, wantPro float64
	}{{"no", "no", 0.114303, 0.0540015}, {"yes", "no", 0.0780021, 0.0540015}, {"no", "yes", 0.114303, 0}, {"yes", "yes", 0.0780021, 0}} {
		b := repaired().set(criteria.SoilSideCauseRemoved, c.soil).set(criteria.ProductSideCauseRemoved, c.product)
		r := b.assess()
		checkSteps(t, b, r)
		near(t, "soil", float64(r.AsPlanned.SoilRate.V), c.wantSoil, 5e-7)
		near(t, "product", float64(r.AsPlanned.ProductRate.V), c.wantPro, 5e-7)
		near(t, "as found stays", float64(r.AsFound.SoilRate.V), 0.114303, 5e-7)
	}
}
