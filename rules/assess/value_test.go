package assess

import (
	"math"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// All figures here are derived: method section 3.

func TestWhichValueCounts(t *testing.T) {
	for _, c := range []struct {
		what   string
		build  func(*builder)
		want   float64
		basis  Basis
		counts bool
	}{
		{"UT before gauge and estimate on the soil side", func(b *builder) {
			b.indication("1", "3-2", 900, 900, "soil", "MFL", b.loss(60)).proveUp("U", "1", "3-2", 900, 900, b.ut(4.4), b.gauge(4))
		}, 4.40, ByUT, true},
		{"least of two UT", func(b *builder) {
			b.indication("1", "3-2", 900, 900, "soil", "MFL", b.loss(60)).
				proveUp("U", "1", "3-2", 900, 900, b.ut(4.4)).proveUp("V", "1", "3-2", 900, 900, b.ut(4.1))
		}, 4.10, ByUT, true},
		{"product side: UT and gauge are one rank", func(b *builder) {
			b.indication("1", "3-2", 900, 900, "product", "visual", b.deep(1)).proveUp("U", "1", "3-2", 900, 900, b.ut(4.4), b.gauge(2.5), b.sound(6.2))
		}, 3.70, ByPitGauge, true},
		{"depth off the prove-up's sound metal", func(b *builder) {
			b.indication("1", "3-2", 900, 900, "product", "MFL", b.loss(20)).proveUp("U", "1", "3-2", 900, 900, b.gauge(1.3), b.sound(6.3))
		}, 5.00, ByPitGauge, true},
		{"depth off the median reading", func(b *builder) {
			b.reading("3-2", 100, 100, 6.20).reading("3-2", 200, 100, 6.10).
				indication("1", "3-2", 900, 900, "product", "visual", b.deep(1.2))
		}, 5.00, ByPitGauge, true},
		{"depth off the nominal", func(b *builder) { b.indication("1", "2-1", 900, 900, "product", "visual", b.deep(1.35)) }, 5.00, ByPitGauge, true},
		{"visual remaining is gauged", func(b *builder) { b.indication("1", "2-1", 900, 900, "product", "visual", b.rest(5.1)) }, 5.10, ByPitGauge, true},
		{"visual bare loss is an estimate", func(b *builder) { b.indication("1", "2-1", 900, 900, "product", "visual", b.loss(35)) }, 3.4925, ByAllowance, true},
		{"visual loss beside a depth, within the tolerance", func(b *builder) {
			b.indication("1", "2-1", 900, 900, "product", "visual", b.deep(1.35), b.loss(24))
		}, 5.00, ByPitGauge, true},
		{"visual loss beside a depth, beyond it: the least", func(b *builder) {
			b.indication("1", "2-1", 900, 900, "product", "visual", b.deep(1.35), b.loss(40))
		}, 3.81, ByPitGauge, true},
		{"a row of method UT", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(4.2), b.loss(30)) }, 4.20, ByUT, true},
		{"a UT row by its loss", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "UT", b.loss(40)) }, 3.81, ByUT, true},
		{"MFL with a remaining is an estimate", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "MFL", b.rest(4.1275)) }, 3.4925, ByAllowance, true},
		{"hand scan with a depth is an estimate", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "hand scan", b.deep(2.2225)) }, 3.4925, ByAllowance, true},
		{"least of an estimate's own values", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35), b.rest(4.0)) }, 3.365, ByAllowance, true},
		{"estimate as it is", func(b *builder) {
			b.set(criteria.UnprovedIndications, "estimate").indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35))
		}, 4.1275, ByMFL, true},
		{"excluded", func(b *builder) {
			b.set(criteria.UnprovedIndications, "exclude").indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35))
		}, 4.1275, ByMFL, false},
		{"block counts like the default", func(b *builder) {
			b.set(criteria.UnprovedIndications, "block").indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35))
		}, 3.4925, ByAllowance, true},
		{"a method nobody knows is an estimate", func(b *builder) {
			b.indication("1", "2-1", 900, 900, "soil", "", b.loss(35))
			b.in.Indications[0].Method = inspection.Word{State: inspection.Wrong, Text: "ACFM"}
		}, 3.4925, ByAllowance, true},
		{"allowance alone makes no hole", func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(95)) }, 0, ByAllowance, true},
	} {
		b := tank()
		c.build(b)
		r := b.assess()
		checkSteps(t, b, r)
		l := &r.Locations[0]
		near(t, c.what, known(t, c.what, l.Remaining), c.want, 1e-9)
		if l.Basis != c.basis || l.Counts != c.counts || l.Hole {
			t.Errorf("%s: %s, counts %v, hole %v", c.what, l.Basis, l.Counts, l.Hole)
		}
	}
}

func TestHoles(t *testing.T) {
	for what, build := range map[string]func(*builder){
		"loss 100 %":       func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(100)) },
		"remaining 0":      func(b *builder) { b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(0)) },
		"depth over sound": func(b *builder) { b.indication("1", "2-1", 900, 900, "product", "visual", b.deep(6.5)) },
	} {
		b := tank()
		build(b)
		r := b.assess()
		checkSteps(t, b, r)
		l := &r.Locations[0]
		if !l.Hole || !l.Remaining.Known || l.Remaining.V != 0 || l.Verdict != RepairFirst {
			t.Errorf("%s: %+v hole %v %s", what, l.Remaining, l.Hole, l.Verdict)
		}
		if r.AsFound.GovernedBy != GovRepairFirst || r.AsFound.NextDate != 0 || r.AsFound.Interval.V != 0 {
			t.Errorf("%s: %s, %v", what, r.AsFound.GovernedBy, r.AsFound.NextDate)
		}
	}
}

// Depths 1.30 over 1.95 in 6.30 → 3.05; StPr 0.0540015, UPr 0.0780021 (method
// sections 3 and 4).
func TestProductOverSoil(t *testing.T) {
	over := func() *builder {
		b := tank()
		return b.
			indication("1", "3-2", 900, 900, "product", "visual", b.deep(1.30), b.sized(60, 60)).
			indication("2", "3-2", 930, 900, "soil", "UT", b.deep(1.95), b.sized(60, 60))
	}
	b := over()
	r := b.assess()
	checkSteps(t, b, r)
	for i, label := range []string{"3-2/1", "3-2/2"} {
		l := find(t, r, label)
		near(t, label, known(t, label, l.Remaining), 3.05, 1e-9)
		near(t, "StPr", known(t, "StPr", l.ProductRate), 0.0540015, 5e-8)
		near(t, "UPr", known(t, "UPr", l.SoilRate), 0.0780021, 5e-8)
		if l.Over != 1-i || !find(t, r, label).Counts {
			t.Errorf("%s over %d", label, l.Over)
		}
	}
	near(t, "UPr", float64(r.AsFound.SoilRate.V), 0.0780021, 5e-8)
	near(t, "StPr", float64(r.AsFound.ProductRate.V), 0.0540015, 5e-8)
	if r.AsFound.SoilMinAt != "3-2/1" || r.AsFound.ProductMinAt != "3-2/1" {
		t.Errorf("at %s, %s: it counts on both sides, first in sheet order", r.AsFound.SoilMinAt, r.AsFound.ProductMinAt)
	}

	// a UT prove-up in both boxes decides, here a stand-alone one
	b = over()
	b.proveUp("U", "2", "3-2", 915, 900, b.ut(3.40))
	r = b.assess()
	checkSteps(t, b, r)
	near(t, "UT in both", known(t, "r", find(t, r, "3-2/1").Remaining), 3.40, 1e-9)
	if find(t, r, "3-2/1").Basis != ByUT {
		t.Errorf("basis %s", find(t, r, "3-2/1").Basis)
	}
	// one that lies in the soil pit only does not
	b = over()
	b.proveUp("U", "2", "3-2", 958, 900, b.ut(4.20))
	r = b.assess()
	checkSteps(t, b, r)
	near(t, "UT in the soil pit only", known(t, "r", find(t, r, "3-2/1").Remaining), 6.30-1.30-(6.30-4.20), 1e-9)

	// an estimate below loses its allowance in r, not in the loss: 6.30 − 1.30 −
	// (6.30 − 6.35·0.55) = 2.1925, and 35 % without the 10 points is 2.8275
	b = tank()
	b.indication("1", "3-2", 900, 900, "product", "visual", b.deep(1.30), b.sized(60, 60)).
		indication("2", "3-2", 930, 900, "soil", "MFL", b.loss(35), b.sized(60, 60))
	r = b.assess()
	checkSteps(t, b, r)
	l := find(t, r, "3-2/2")
	near(t, "r", known(t, "r", l.Remaining), 2.1925, 1e-9)
	near(t, "loss", known(t, "loss", l.Loss), 100*(1-2.8275/6.35), 1e-9)

	// boxes that only touch, other plates and equal sides stay apart
	for what, move := range map[string]func(*inspection.Indication){
		"touching":    func(i *inspection.Indication) { i.X.Value = 960 },
		"other plate": func(i *inspection.Indication) { i.Plate.Value = "2-1" },
		"same side":   func(i *inspection.Indication) { i.Side.Value = "product" },
		"unknown":     func(i *inspection.Indication) { i.Side.Value = "unknown" },
	} {
		b := over()
		move(&b.in.Indications[1])
		r := b.assess()
		near(t, what, known(t, what, r.Locations[0].Remaining), 5.00, 1e-9)
		if r.Locations[0].Over >= 0 {
			t.Errorf("%s: joined", what)
		}
	}
}

func TestUnknownSideCountsAsBoth(t *testing.T) {
	b := tank()
	b.indication("1", "2-1", 900, 900, "unknown", "UT", b.rest(4.0))
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "soil", float64(r.AsFound.SoilMin.V), 4.0, 1e-9)
	near(t, "product", float64(r.AsFound.ProductMin.V), 4.0, 1e-9)
	near(t, "soil rate", float64(r.AsFound.SoilRate.V), 2.35/(9131/365.25), 1e-9)
	near(t, "product rate", float64(r.AsFound.ProductRate.V), 2.35/(9131/365.25), 1e-9)
	// a prove-up that knows the side settles it
	b.proveUp("U", "1", "2-1", 900, 900, b.ut(4.0), b.on("soil"))
	if r := b.assess(); r.Locations[0].Side != Soil || r.AsFound.ProductMin.V == 4.0 {
		t.Errorf("side %v, product least %v", r.Locations[0].Side, r.AsFound.ProductMin.V)
	}
	// two that disagree do not
	b.proveUp("V", "1", "2-1", 900, 900, b.ut(4.0), b.on("product"))
	if r := b.assess(); r.Locations[0].Side != Unknown {
		t.Errorf("side %v", r.Locations[0].Side)
	}
}

func TestTying(t *testing.T) {
	for _, c := range []struct {
		what  string
		build func(*builder)
		tied  bool
		place bool
	}{
		{"by column, wherever it lies", func(b *builder) { b.proveUp("U", "1", "2-1", 2000, 300, b.ut(4)) }, true, false},
		{"by column without a place", func(b *builder) { b.proveUp("U", "01", "2-1", 0, 0, b.ut(4)) }, true, false},
		{"in the box", func(b *builder) { b.proveUp("U", "", "2-1", 910, 900, b.ut(4)) }, true, true},
		{"at the tolerance: 12.5 + 25 mm", func(b *builder) { b.proveUp("U", "", "2-1", 937.5, 900, b.ut(4)) }, true, true},
		{"beyond it", func(b *builder) { b.proveUp("U", "", "2-1", 937.6, 900, b.ut(4)) }, false, false},
		{"on another plate", func(b *builder) { b.proveUp("U", "1", "2-2", 900, 900, b.ut(4)) }, false, false},
		{"an indication that is not there", func(b *builder) { b.proveUp("U", "7", "2-1", 900, 900, b.ut(4)) }, false, false},
		{"without a value", func(b *builder) { b.proveUp("U", "1", "2-1", 900, 900) }, false, false},
		{"left out", func(b *builder) {
			b.proveUp("U", "1", "2-1", 900, 900, b.ut(4))
			b.in.ProveUps[0].Out = true
		}, false, false},
	} {
		b := tank()
		b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35))
		c.build(b)
		r := b.assess()
		checkSteps(t, b, r)
		l := &r.Locations[0]
		if (len(l.Tied) > 0) != c.tied || l.TiedByPlace != c.place {
			t.Errorf("%s: tied %v by place %v", c.what, l.Tied, l.TiedByPlace)
		}
		loose := 0
		for _, l := range r.Locations {
			if l.Kind == ProveUpAt {
				loose++
			}
		}
		usable := b.in.ProveUps[0].Remaining.OK() && !b.in.ProveUps[0].Out
		if (loose == 1) != (usable && !c.tied) {
			t.Errorf("%s: %d stand alone", c.what, loose)
		}
	}
	// the value of a prove-up of something not relevant is not lost
	b := tank()
	b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35), b.kind("not relevant")).proveUp("U", "1", "2-1", 900, 900, b.ut(3.1), b.on("soil"))
	r := b.assess()
	near(t, "soil least", float64(r.AsFound.SoilMin.V), 3.1, 1e-9)
	if r.Locations[0].Verdict != NotRelevant || r.Plates[1].Indications != 0 {
		t.Errorf("%s, %d indications", r.Locations[0].Verdict, r.Plates[1].Indications)
	}
	// in two boxes: the nearest centre, of its own side first
	b = tank()
	b.indication("1", "2-1", 900, 900, "product", "MFL", b.loss(35), b.sized(200, 200)).
		indication("2", "2-1", 960, 900, "soil", "MFL", b.loss(35), b.sized(200, 200)).
		proveUp("U", "", "2-1", 905, 900, b.ut(4), b.on("soil"))
	if r := b.assess(); len(r.Locations[1].Tied) != 1 {
		t.Errorf("ties %v, %v", r.Locations[0].Tied, r.Locations[1].Tied)
	}
}

func TestSoundMetal(t *testing.T) {
	at := func(r *Result, label string) *Location {
		for i := range r.Locations {
			if l := &r.Locations[i]; l.Kind == SoundMetal && l.Label == label {
				return l
			}
		}
		t.Fatalf("no sound metal of %s", label)
		return nil
	}
	b := tank()
	b.reading("2-1", 100, 100, 6.05).reading("2-1", 200, 100, 6.60).proveUp("U", "", "2-2", 700, 700, b.ut(6), b.sound(5.9)).
		reading("1-1", 2500, 1000, 6.7)
	b.change("4-1", func(p *inspection.Plate) { p.MFLScanned = inspection.Percent{} })
	b.change("3-1", func(p *inspection.Plate) {
		p.MFLScanned = given(b, "Plates", unit.Percent(0))
		p.NotExamined = given(b, "Plates", unit.Percent(100))
	}).reading("3-1", 500, 500, 6.0)
	r := b.assess()
	checkSteps(t, b, r)
	for label, want := range map[string]float64{"2-1": 6.05, "2-2": 5.9, "1-1": 6.35, "3-3": 6.35, "3-1": 6.0} {
		near(t, label, known(t, label, at(r, label).Remaining), want, 1e-9)
	}
	unknown(t, "a plate not examined", at(r, "4-1").Remaining)
	unknown(t, "its worst", r.Plates[6].Worst)
	unknown(t, "its interval", r.Plates[6].Interval)
	if at(r, "1-1").Basis != ByReading || at(r, "3-3").Basis != ByNominal {
		t.Errorf("bases %s, %s", at(r, "1-1").Basis, at(r, "3-3").Basis)
	}
	// within the mill tolerance: 0; beyond it: the loss. 6.325 is the median of 6.05 and 6.60
	near(t, "rate of 6.10", float64(at(r, "3-3").SoilRate.V), 0, 0)
	near(t, "rate of 6.05", float64(at(r, "2-1").SoilRate.V), (6.35-6.05)/(9131/365.25), 1e-9)
	b = tank()
	b.reading("2-1", 100, 100, 6.10)
	near(t, "at the mill tolerance", float64(at(b.assess(), "2-1").SoilRate.V), 0, 0)
}

func TestScanThreshold(t *testing.T) {
	least := func(b *builder) float64 { return float64(b.assess().AsFound.SoilMin.V) }
	near(t, "20 % of 6.35", least(tank()), 5.08, 1e-9)
	near(t, "0 % is off", least(tank().set(criteria.MFLThreshold, "0")), 6.30, 1e-9)
	b := tank()
	for i := range b.in.Plates {
		b.in.Plates[i].MFLScanned = inspection.Percent{}
		b.in.Plates[i].UTGridded = given(b, "Plates", unit.Percent(100))
	}
	near(t, "UT grids have none", least(b), 6.30, 1e-9)
	b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(10))
	near(t, "found by MFL where no scan is recorded", least(b), 5.08, 1e-9)
}

func TestExistingPatch(t *testing.T) {
	b := tank()
	b.patch("P", "2-1", 900, 900, 300, 300, 5.0, "2016-05-01").
		indication("1", "2-1", 950, 900, "product", "MFL", b.loss(20)).
		indication("2", "2-1", 2000, 900, "product", "MFL", b.loss(20))
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "on the patch", known(t, "r", r.Locations[0].Remaining), 5.0*0.70, 1e-9)
	near(t, "its age", known(t, "N", r.Locations[0].Age), 3652/365.25, 1e-9)
	near(t, "beside it", known(t, "r", r.Locations[1].Remaining), 6.35*0.70, 1e-9)
	var patch *Location
	for i := range r.Locations {
		if r.Locations[i].Kind == PatchAt {
			patch = &r.Locations[i]
		}
	}
	if patch == nil || patch.Remaining.V != 5.0 || patch.SoilRate.Known || patch.ProductRate.Known || !patch.Counts {
		t.Fatalf("patch %+v", patch)
	}
	// blank: the plate's nominal, and the plate's age
	b = tank()
	b.patch("P", "2-1", 900, 900, 300, 300, 0, "").indication("1", "2-1", 950, 900, "product", "MFL", b.loss(20))
	r = b.assess()
	near(t, "blank thickness", known(t, "r", r.Locations[0].Remaining), 6.35*0.70, 1e-9)
	near(t, "blank date", known(t, "N", r.Locations[0].Age), 24.99932, 5e-6)
}

// Method section 3 (e): an indication in a patch's box takes its thickness, also
// beyond a seam. The seam of 2-1 and 2-2 stands at X 3025 of 2-1, 25 of 2-2: a
// patch of 400 about it ends at X 225 of 2-2.
func TestExistingPatchOverASeam(t *testing.T) {
	b := tank().change("2-2", func(p *inspection.Plate) { p.Nominal = mm(&builder{rows: map[string]int{}}, "Plates", 8) })
	b.patch("P", "2-1", 3025, 900, 400, 300, 5.0, "").
		indication("1", "2-2", 220, 900, "product", "MFL", b.loss(20)).
		indication("2", "2-2", 230, 900, "product", "MFL", b.loss(20))
	r := b.assess()
	near(t, "on the patch", known(t, "r", r.Locations[0].Remaining), 5.0*0.70, 1e-9)
	near(t, "beside it", known(t, "r", r.Locations[1].Remaining), 8*0.70, 1e-9)
	b.in.Patches[0].Thickness = inspection.Length{}
	near(t, "blank, of the plate it is listed under", known(t, "r", b.assess().Locations[0].Remaining), 6.35*0.70, 1e-9)
}

// A tombstone found at the shell lies along it, as a planned one. Derived: 400
// along it by 200 about a place 100 mm from the shell, at 15° to the plate's axes;
// a place 190 mm round the shell and as deep is on it, though its plate's axes put
// it beside, and one that they put on it lies 302 mm from the shell.
func TestExistingTombstoneLiesAlongTheShell(t *testing.T) {
	b := tank()
	b.patch("T", "2-2", 2826.2, 1024.4, 400, 200, 5.0, "").
		indication("1", "2-2", 2687.8, 877.4, "product", "MFL", b.loss(20)).
		indication("2", "2-2", 2640, 1110, "product", "MFL", b.loss(20))
	for shape, on := range map[string][2]bool{"tombstone": {true, false}, "rounded rectangle": {false, true}} {
		b.in.Patches[0].Shape = word(b, "Existing patches", shape)
		r := b.assess()
		for i, want := range on {
			if l := &r.Locations[i]; (l.Patch == 0) != want {
				t.Errorf("%s: %s on it %v, want %v", shape, l.Label, l.Patch == 0, want)
			}
		}
		for i := range r.Locations {
			if l := &r.Locations[i]; l.Kind == PatchAt && (l.Zone != floor.Critical || !l.Placed || math.Abs(l.Radius-2900) > 20) {
				t.Errorf("%s: zone %s, %v from the centre", shape, l.Zone, l.Radius)
			}
		}
	}
}

// Method section 8: with enough pairs on the nominal the allowance is P95 less
// the loss; 6.35 at 35 % → 3.46967.
func TestAllowanceFromPairs(t *testing.T) {
	x := []float64{20, 25, 30, 35, 40, 45, 50, 55, 60, 70}
	y := []float64{18, 30, 27, 41, 38, 52, 49, 50, 66, 73}
	build := func() *builder {
		b := tank()
		for i := range x {
			id := string(rune('a' + i))
			px := 300 + 220*float64(i)
			b.indication(id, "3-2", px, 300, "soil", "MFL", b.loss(x[i])).proveUp("U"+id, id, "3-2", px, 300, b.ut(6.35*(1-y[i]/100)), b.on("soil"))
		}
		return b
	}
	b := build()
	b.indication("17", "2-1", 900, 900, "soil", "MFL", b.loss(35)).indication("18", "2-1", 1900, 900, "soil", "MFL", b.loss(10)).
		indication("19", "2-1", 2200, 900, "soil", "MFL", b.rest(6.35*0.65))
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "35 %", known(t, "r", find(t, r, "2-1/17").Remaining), 3.46967, 5e-6)
	near(t, "a", known(t, "a", find(t, r, "2-1/17").Allowance), 10.35947, 5e-6)
	near(t, "the same typed as remaining", known(t, "r", find(t, r, "2-1/19").Remaining), 3.46967, 5e-6)
	if a := known(t, "a", find(t, r, "2-1/18").Allowance); a < 10 {
		t.Errorf("outside the pairs' range: %v points, not below the Sizing allowance", a)
	}
	if r.Sizing.All.Pairs != 10 || len(r.Sizing.BySide) != 1 {
		t.Errorf("%d pairs", r.Sizing.All.Pairs)
	}
	near(t, "sizing.allowance", r.Steps.Find("sizing.allowance").Value, 10.35947, 5e-6)
	// too few on this nominal: the plain allowance
	b = build().set(criteria.SizingMinimumPairs, "11")
	b.indication("17", "2-1", 900, 900, "soil", "MFL", b.loss(35))
	near(t, "too few pairs", float64(find(t, b.assess(), "2-1/17").Remaining.V), 3.4925, 1e-9)
	// another nominal: the plain allowance
	b = build().change("2-1", func(p *inspection.Plate) {
		p.Nominal = inspection.Length{Value: 8, State: inspection.Given, Ref: p.Length.Ref}
	})
	b.indication("17", "2-1", 900, 900, "soil", "MFL", b.loss(35))
	near(t, "another nominal", float64(find(t, b.assess(), "2-1/17").Remaining.V), 8*0.55, 1e-9)
}

func TestUnusableValuesAreNotGuessed(t *testing.T) {
	b := tank()
	b.change("2-1", func(p *inspection.Plate) { p.Nominal = inspection.Length{State: inspection.Wrong, Text: "6,35?"} })
	b.indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(35)).indication("2", "2-1", 1500, 900, "soil", "UT", b.rest(4))
	r := b.assess()
	checkSteps(t, b, r)
	unknown(t, "estimate without a nominal", r.Locations[0].Remaining)
	near(t, "UT without a nominal", known(t, "r", r.Locations[1].Remaining), 4, 0)
	if r.Locations[0].Counts || !r.Locations[1].Counts {
		t.Error("counting is mixed up")
	}
	b = tank()
	b.in.Tank.NominalThickness = inspection.Length{}
	b.in.Readings = nil
	r = b.assess()
	checkSteps(t, b, r)
	unknown(t, "interval without any thickness", r.AsFound.Interval)
	if r.AsFound.GovernedBy != "" || r.AsFound.NextDate != 0 {
		t.Errorf("%q, %v", r.AsFound.GovernedBy, r.AsFound.NextDate)
	}
	if math.IsNaN(float64(r.AsFound.Interval.V)) {
		t.Error("not a number")
	}
	// readings alone, without the nominal they are losses of: no interval, no rate
	b = pitted(4.0)
	b.in.Tank.NominalThickness = inspection.Length{}
	r = b.assess()
	checkSteps(t, b, r)
	for _, s := range []*StateResult{&r.AsFound, &r.AsPlanned} {
		unknown(t, "interval without a nominal", s.Interval)
		unknown(t, "MRT without a nominal", s.MRT)
		unknown(t, "rate without a nominal", s.SoilRate)
		if s.NextDate != 0 || s.RateUnknown != "the nominal thickness is not known" {
			t.Errorf("%v, %q", s.NextDate, s.RateUnknown)
		}
	}
	near(t, "what was measured stands", known(t, "r", r.AsFound.ProductMin), 4, 0)
	if st := r.Steps.Find("interval.adopted.as_found"); st == nil || st.Why != "the nominal thickness is not known" {
		t.Errorf("%+v", st)
	}
	// no plates, no plan, no criteria: no panic
	checkSteps(t, bare(), bare().assess())
	Assess(&inspection.Inspection{}, nil)
}
