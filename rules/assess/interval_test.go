package assess

import (
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// pitted is the tank with one product pit by UT and nothing else to lose: the
// scan threshold is off.
func pitted(r float64) *builder {
	b := tank().set(criteria.MFLThreshold, "0")
	return b.indication("1", "3-2", 900, 900, "product", "UT", b.rest(r))
}

// years sets the floor's age so that N is exactly that many years of 365.25
// days.
func (b *builder) years(n float64) *builder {
	b.in.Tank.FloorInstalled.Value = b.in.Tank.InspectionEnd.Value - unit.Date(365.25*n)
	return b
}

func (b *builder) plain() *builder {
	for i := range b.in.Readings {
		b.in.Readings[i].Thickness.Value = b.in.Tank.NominalThickness.Value
	}
	return b
}

const in = 25.4

// Derived: method section 5, the table of checks.
func TestIntervalTable(t *testing.T) {
	quarter := func() *builder { // 0.250 → 0.180 in, 20 y, no repair
		b := pitted(0.180 * in).years(20)
		b.in.Tank.NominalThickness.Value = 0.250 * in
		return b.plain()
	}
	for _, c := range []struct {
		what     string
		b        *builder
		uncapped float64
		adopted  float64
		tol      float64
		by       Governor
	}{
		{"0.250 → 0.180 in", quarter(), 22.857, 20, 5e-4, GovCapRate},
		{"with a barrier", quarter().barrier(), 37.143, 30, 5e-4, GovCapRate},
		{"jurisdiction 12", quarter().jurisdiction(12), 22.857, 12, 5e-4, GovJurisdiction},
		{"owner 8", quarter().set(criteria.OwnerLimit, "8"), 22.857, 8, 5e-4, GovOwner},
		{"owner at the cap: the cap has it", quarter().set(criteria.OwnerLimit, "20"), 22.857, 20, 5e-4, GovCapRate},
		{"jurisdiction before owner", quarter().set(criteria.OwnerLimit, "12").jurisdiction(12), 22.857, 12, 5e-4, GovJurisdiction},
		{"a cap given by the owner's sheet", quarter().set(criteria.IntervalCap, "15"), 22.857, 15, 5e-4, GovCapRate},
	} {
		r := c.b.assess()
		checkSteps(t, c.b, r)
		near(t, c.what, known(t, c.what, r.AsFound.IntervalUncapped), c.uncapped, c.tol)
		near(t, c.what+" adopted", known(t, c.what, r.AsFound.Interval), c.adopted, 1e-9)
		if r.AsFound.GovernedBy != c.by {
			t.Errorf("%s: governed by %s", c.what, r.AsFound.GovernedBy)
		}
	}
	// r 2.00, lining and CP make both rates 0: 0 years, repair first
	b := pitted(2.00).protected().lining("thin film", "2025-01-01", 30)
	r := b.assess()
	checkSteps(t, b, r)
	if a := r.AsFound; a.Interval.V != 0 || !a.Interval.Known || a.GovernedBy != GovRepairFirst || a.NextDate != 0 {
		t.Errorf("r 2.00: %+v by %s", a.Interval, a.GovernedBy)
	}
	// the same metal, sound: no corrosion limit, the cap governs, never an infinite life
	b = pitted(6.35).plain()
	r = b.assess()
	checkSteps(t, b, r)
	unknown(t, "unlimited", r.AsFound.IntervalUncapped)
	near(t, "capped", known(t, "I", r.AsFound.Interval), 20, 0)
	if r.AsFound.SoilRate.V != 0 || r.AsFound.GovernedBy != GovCapRate {
		t.Errorf("%v by %s", r.AsFound.SoilRate, r.AsFound.GovernedBy)
	}
}

// CR and slides: initial intervals; derived where the method says so.
func TestInitialCap(t *testing.T) {
	for _, c := range []struct {
		what string
		b    *builder
		want float64
		by   Governor
	}{
		{"10 + reinforced 5 + CP 5", fresh().lining("reinforced", "2026-04-25", 30).protected(), 20, GovCapInitial},
		{"allowance 0.200 in too: 23.33 → 20", fresh().lining("reinforced", "2026-04-25", 30).protected().set(criteria.BottomCorrosionAllowance, "5.08"), 20, GovCapInitial},
		{"barrier instead", fresh().lining("reinforced", "2026-04-25", 30).protected().barrier(), 30, GovCapInitial},
		{"interval slides: 10 + thin film 2 + barrier 10", fresh().lining("thin film", "2026-04-25", 30).barrier(), 22, GovCapInitial},
		{"10", fresh(), 10, GovCapInitial},
		{"a lining without life has no credit", fresh().tank(func(k *inspection.Tank) { k.Lining = inspection.Word{Value: "thin film", State: inspection.Given} }), 10, GovCapInitial},
		{"a lining past its life", fresh().lining("thin film", "2000-01-01", 10), 10, GovCapInitial},
		{"CP without evidence", fresh().tank(func(k *inspection.Tank) {
			k.CathodicProtection = inspection.Word{Value: "recorded effective", State: inspection.Given}
		}), 10, GovCapInitial},
		{"first service not known: no more than with a rate unknown", fresh().barrier().set(criteria.IntervalRule, "initial").
			tank(func(k *inspection.Tank) { k.FloorInstalled = inspection.Date{} }), 10, GovCapUnknown},
		{"said to be subsequent", fresh().set(criteria.IntervalRule, "subsequent"), 10, GovCapUnknown},
	} {
		r := c.b.assess()
		checkSteps(t, c.b, r)
		near(t, c.what, known(t, c.what, r.AsFound.Interval), c.want, 1e-9)
		if r.AsFound.GovernedBy != c.by {
			t.Errorf("%s: governed by %s", c.what, r.AsFound.GovernedBy)
		}
		unknown(t, c.what+": rate", r.AsFound.SoilRate)
		unknown(t, c.what+": MRT", r.AsFound.MRT)
		unknown(t, c.what+": uncapped", r.AsFound.IntervalUncapped)
	}
	// derived: 10 + thin film 2 + barrier 10, floor 2.5 y in service → 19.5
	b := pitted(6.30).plain().lining("thin film", "2026-04-25", 30).barrier()
	b.in.Tank.FloorInstalled.Value = b.in.Tank.InspectionEnd.Value - 913
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "2.5 y in service", known(t, "I", r.AsFound.Interval), 22-913/365.25, 1e-9)
	// the corrosion interval counts as well once the floor is old enough for a rate
	b = pitted(4.0).plain()
	b.in.Tank.FloorInstalled.Value = b.in.Tank.InspectionEnd.Value - 913
	r = b.assess()
	if r.AsFound.GovernedBy != GovCorrosion || r.AsFound.Interval.V > 2 {
		t.Errorf("young floor: %v by %s", r.AsFound.Interval, r.AsFound.GovernedBy)
	}
	// at Age for a reliable rate exactly: subsequent
	b = pitted(6.30).plain().set(criteria.AgeForAReliableRate, "4")
	b.in.Tank.FloorInstalled.Value = b.in.Tank.InspectionEnd.Value - 1461
	if r := b.assess(); r.AsFound.GovernedBy != GovCapRate {
		t.Errorf("at the limit: %s", r.AsFound.GovernedBy)
	}
}

// fresh is a floor laid during this inspection.
func fresh() *builder {
	b := pitted(6.30).plain()
	b.in.Tank.FloorInstalled.Value = b.in.Tank.InspectionStart.Value + 2
	return b
}

// Derived: method section 4, rates not known.
func TestRateUnknown(t *testing.T) {
	for what, spoil := range map[string]func(*builder){
		"no floor age":      func(b *builder) { b.in.Tank.FloorInstalled = inspection.Date{} },
		"no inspection end": func(b *builder) { b.in.Tank.InspectionEnd = inspection.Date{} },
		"not one UT value": func(b *builder) {
			b.in.Readings = nil
			b.in.Indications[0].Method.Value = "visual"
		},
		"79 % examined": func(b *builder) {
			for i := range b.in.Plates {
				b.in.Plates[i].MFLScanned.Value = 79
			}
		},
		"one plate without an age": func(b *builder) {
			b.change("1-1", func(p *inspection.Plate) { p.Installed = inspection.Date{State: inspection.Wrong, Text: "1987"} })
		},
	} {
		b := pitted(4.0)
		spoil(b)
		r := b.assess()
		checkSteps(t, b, r)
		a := r.AsFound
		unknown(t, what+": UPr", a.SoilRate)
		unknown(t, what+": StPr", a.ProductRate)
		unknown(t, what+": MRT", a.MRT)
		near(t, what, known(t, what, a.Interval), 10, 0)
		if a.GovernedBy != GovCapUnknown || a.RateUnknown == "" {
			t.Errorf("%s: %s, %q", what, a.GovernedBy, a.RateUnknown)
		}
		// below the requirement it is 0 even so
		b = pitted(2.0)
		spoil(b)
		if a := b.assess().AsFound; a.GovernedBy != GovRepairFirst || a.Interval.V != 0 {
			t.Errorf("%s, below the requirement: %s %v", what, a.GovernedBy, a.Interval)
		}
	}
	b := pitted(4.0)
	for i := range b.in.Plates {
		b.in.Plates[i].MFLScanned.Value = 80
	}
	if a := b.assess().AsFound; !a.SoilRate.Known {
		t.Errorf("exactly 80 %% examined: %s", a.RateUnknown)
	}
}

// Derived: method section 4.
func TestRates(t *testing.T) {
	N := 9131 / 365.25
	for _, c := range []struct {
		what          string
		b             *builder
		soil, product float64
	}{
		{"6.50 sound and remaining on 6.35", func() *builder {
			b := tank().set(criteria.MFLThreshold, "0")
			b.in.Readings = nil
			return b.reading("3-2", 1, 1, 6.5).indication("1", "3-2", 900, 900, "soil", "MFL", b.loss(10)).proveUp("U", "1", "3-2", 900, 900, b.ut(6.50), b.sound(6.50))
		}(), 0, 0},
		{"thick delivery does not hide loss", func() *builder {
			b := pitted(5.0)
			b.in.Readings = nil
			return b.proveUp("U", "1", "3-2", 900, 900, b.ut(5.0), b.sound(6.60))
		}(), 0, 1.60 / N},
		{"thicker than it was: negative becomes 0", pitted(6.45).plain(), 0, 0},
		{"mechanical damage has no rate", func() *builder {
			b := pitted(4.0)
			b.in.Indications[0].Kind = word(b, "Indications", "mechanical")
			return b
		}(), 0, 0},
		{"least rates", pitted(6.45).set(criteria.MinimumSoilSideRate, "0.05").set(criteria.MinimumProductSideRate, "0.02"), 0.05, 0.02},
		{"cathodic protection", example().protected(), 0, 0.0540015},
		{"no least rate under cathodic protection", example().protected().set(criteria.MinimumSoilSideRate, "0.05"), 0, 0.0540015},
		{"what the scan may have missed", tank(), 1.27 / N, 0},
		{"an old threshold behind a worse pit", example(), 0.114303, 0.0540015},
	} {
		r := c.b.assess()
		checkSteps(t, c.b, r)
		near(t, c.what+": soil", known(t, c.what, r.AsFound.SoilRate), c.soil, 5e-7)
		near(t, c.what+": product", known(t, c.what, r.AsFound.ProductRate), c.product, 5e-7)
	}
	// with CP the threshold stays in the least thickness
	if r := tank().protected().assess(); r.AsFound.SoilMin.V != 5.08 {
		t.Errorf("least thickness under CP %v", r.AsFound.SoilMin)
	}
	// a young plate: no rate of its own, but the threshold takes the floor's age
	b := tank().change("2-1", func(p *inspection.Plate) {})
	b.change("2-1", func(p *inspection.Plate) { p.Installed = day(b, "Plates", "2025-11-01") })
	b.indication("1", "2-1", 900, 900, "product", "UT", b.rest(4.0))
	r := b.assess()
	checkSteps(t, b, r)
	unknown(t, "rate of a young plate", r.Locations[0].ProductRate)
	for _, l := range r.Locations {
		if l.Kind == ThresholdAt && l.Label == "2-1" {
			near(t, "threshold of a young plate", float64(l.SoilRate.V), 1.27/N, 1e-9)
		}
	}
}

// Derived: floor pairs the worst rates with the least thickness; plate does so
// per plate.
func TestRateBasis(t *testing.T) {
	build := func() *builder {
		b := tank().set(criteria.MFLThreshold, "0")
		return b.indication("1", "2-1", 900, 900, "product", "UT", b.rest(3.5)).indication("2", "2-2", 900, 900, "soil", "UT", b.rest(4.5))
	}
	N := 9131 / 365.25
	near(t, "floor", float64(build().assess().AsFound.Interval.V), 0.96/((2.85+1.85)/N), 1e-9)
	b := build().set(criteria.RateBasis, "plate")
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "plate", float64(r.AsFound.Interval.V), 0.96/(2.85/N), 1e-9)
	near(t, "its rate", float64(r.AsFound.ProductRate.V), 2.85/N, 1e-9)
	near(t, "the other plate", float64(r.Plates[2].Interval.V), 20, 0)
	near(t, "as the floor", float64(r.Plates[1].Interval.V), float64(r.AsFound.Interval.V), 0)
}

// Derived: the least of the plates' intervals is the floor's.
func TestPlateIntervals(t *testing.T) {
	r := example().assess()
	least := unit.Maybe[unit.Years]{}
	for _, p := range r.Plates {
		least = least.Min(p.Interval)
	}
	near(t, "least", float64(least.V), float64(r.AsFound.Interval.V), 1e-12)
	near(t, "plate 2-1", float64(r.Plates[1].Interval.V), 5.65938, 5e-6)
	near(t, "plate 2-2", float64(r.Plates[2].Interval.V), (3.60-2.54)/0.168305, 5e-5)
	near(t, "a plate with the threshold only", float64(r.Plates[0].Interval.V), (5.08-2.54)/0.168305, 5e-4)
	near(t, "worst of 2-2", float64(r.Plates[2].Worst.V), 3.60, 1e-12)
	near(t, "worst of 1-1 leaves the threshold out", float64(r.Plates[0].Worst.V), 6.35, 0)
	if r.Plates[2].Indications != 2 || r.Plates[2].ProvedUp != 2 || r.Plates[2].WorstAt != "2-2/1" {
		t.Errorf("%+v", r.Plates[2])
	}
}

// Derived: method sections 4 and 5.
func TestLining(t *testing.T) {
	// shorter than the target: counts neither in MRT nor in t_req
	for _, c := range []struct {
		life          float64
		product, treq float64
	}{{9, 0.0540015, 2.54}, {10, 0, 1.27}, {14, 0, 1.27}} {
		b := example().desired(10).lining("reinforced", "2026-05-01", c.life)
		b.in.Tank.ReinforcedLining = word(b, "Tank", "yes")
		r := b.assess()
		checkSteps(t, b, r)
		near(t, "StPr", float64(r.AsFound.ProductRate.V), c.product, 5e-8)
		near(t, "t_req", float64(r.Required.V), c.treq, 1e-9)
	}
	// a thin film never lowers t_req; a reinforced one under another name neither
	for _, what := range []string{"thin film", "none"} {
		b := example().desired(10).lining(what, "2026-05-01", 30)
		b.in.Tank.ReinforcedLining = word(b, "Tank", "yes")
		if r := b.assess(); r.Required.V != 2.54 {
			t.Errorf("%s: t_req %v", what, r.Required)
		}
	}
	// I = max(W, min(V, L)): never shorter than without the lining
	plain := example().assess().AsFound.Interval.V
	for _, life := range []float64{1, 4, 5.6, 6, 8, 30} {
		b := example().lining("thin film", "2026-05-01", life)
		if got := b.assess().AsFound.Interval.V; got < plain-1e-9 || float64(got) > max(float64(plain), life)+1e-9 {
			t.Errorf("life %v: %v, without %v", life, got, plain)
		}
	}
}

// Derived: page one shows as completed when every row is completed, as planned
// when rows are filled, else as found.
func TestPageOne(t *testing.T) {
	b := example()
	if r := b.assess(); r.PageOne != AsFound || !r.Proposed || r.AsCompleted != nil {
		t.Errorf("blank: %v", r.PageOne)
	}
	b.repair("R1", "patch", "2-2", 500, 500, 150, 150, 6.35, "completed").repair("R2", "patch", "2-1", 1500, 900, 150, 150, 6.35, "planned")
	r := b.assess()
	checkSteps(t, b, r)
	if r.PageOne != AsPlanned || r.Proposed || r.AsCompleted == nil {
		t.Errorf("planned: %v", r.PageOne)
	}
	if l := find(t, r, "2-2/1"); l.Verdict != Repaired || l.Repair != "R1" || !l.Completed {
		t.Errorf("2-2/1: %s %s", l.Verdict, l.Repair)
	}
	if l := find(t, r, "2-1/4"); l.Repair != "R2" || l.Completed {
		t.Errorf("2-1/4: %s %s", l.Verdict, l.Repair)
	}
	near(t, "completed", float64(r.AsCompleted.SoilMin.V), 3.4925, 1e-9)
	near(t, "planned", float64(r.AsPlanned.SoilMin.V), 4.40, 1e-9)
	b.in.Repairs[1].Status.Value = "completed"
	if r := b.assess(); r.PageOne != AsCompleted {
		t.Errorf("completed: %v", r.PageOne)
	}
}

// Derived: one governor only, the first of the list within 1e-9 years.
func TestTies(t *testing.T) {
	order := []Governor{GovCritical, GovAnnular, GovCorrosion, GovLining, GovCapInitial, GovCapRate, GovCapUnknown, GovJurisdiction, GovOwner}
	for i := range order {
		var cs []choice
		for j, g := range order {
			years := 10.0
			if j < i {
				years = 10 + 2e-9
			} else if j > i {
				years = 10
			}
			cs = append(cs, choice{g, years})
		}
		if got := least(cs); got.gov != order[i] || got.years != 10 {
			t.Errorf("tie from %s: %s %v", order[i], got.gov, got.years)
		}
	}
}
