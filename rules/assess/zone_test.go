package assess

import (
	"strings"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// ringed is the 30 m tank of the method's section 6, with one annular plate
// and one floor plate: D 30 m, H 13.9, G 0.85, unknown steel, E 1, t1 12.
func ringed() *builder {
	b := bare()
	t := &b.in.Tank
	t.Diameter, t.MaximumFillHeight = b.metres("Tank", 30), b.metres("Tank", 13.9)
	t.JointEfficiency = given(b, "Tank", unit.Ratio(1))
	t.FirstCourseAsBuilt = mm(b, "Tank", 12)
	t.AnnularRing = word(b, "Tank", "yes")
	t.AnnularNominal, t.AnnularWidth = mm(b, "Tank", 8), mm(b, "Tank", 700)
	b.plate("3-1", "1", "1", 6000, 1800)
	b.plate("A1", "", "", 7854, 700, func(p *inspection.Plate) {
		p.Type.Value, p.RowNo, p.Position = "annular", inspection.Label{}, inspection.Label{}
		p.StartBearing, p.EndBearing = given(b, "Plates", unit.Angle(40)), given(b, "Plates", unit.Angle(70))
	})
	return b.reading("3-1", 1000, 900, 6.30)
}

// Derived: method section 6.
func TestShellAndRing(t *testing.T) {
	b := ringed()
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "t_min", r.Steps.Find("shell.tmin").Value, 10.44217, 5e-6)
	near(t, "σ", known(t, "σ", r.Annular.Stress), 149.922, 5e-4)
	near(t, "ring", known(t, "ring", r.Annular.Required), 0.17*25.4, 1e-9)
	near(t, "t_cz of the ring", known(t, "t_cz", r.CriticalZone.Required), 4, 1e-9)
	unknown(t, "nothing measured on the ring", r.Annular.Min)
	unknown(t, "nothing measured in the zone", r.CriticalZone.Min)
	if r.CriticalZone.OKKnown || r.Annular.OKKnown {
		t.Error("a verdict on nothing")
	}
	// 6.35 → t_cz 3.175
	b.in.Tank.AnnularRing, b.in.Plates = inspection.Word{}, b.in.Plates[:1]
	near(t, "t_cz of the floor", known(t, "t_cz", b.assess().CriticalZone.Required), 3.175, 1e-9)
	// a barrier does not lower it
	near(t, "under a barrier", known(t, "t_cz", b.barrier().assess().CriticalZone.Required), 3.175, 1e-9)
}

func TestShellInputs(t *testing.T) {
	value := func(edit func(*builder)) float64 {
		b := ringed()
		edit(b)
		r := b.assess()
		checkSteps(t, b, r)
		s := r.Steps.Find("shell.tmin")
		if !s.Known {
			return -1
		}
		return s.Value
	}
	base := 10.44217
	for _, c := range []struct {
		what string
		edit func(*builder)
		want float64
	}{
		{"already calculated wins", func(b *builder) { b.in.Tank.FirstCourseRequired = mm(b, "Tank", 9) }, 9},
		{"stress wins over steel", func(b *builder) {
			b.in.Tank.AllowableStress = given(b, "Tank", unit.Stress(2*23600)*unit.PSI)
			b.in.Tank.ShellSteel = word(b, "Tank", "A36")
		}, base / 2},
		{"steel by name", func(b *builder) { b.in.Tank.ShellSteel = word(b, "Tank", "A516-70") }, base * 236 / 300},
		{"joint efficiency if unknown", func(b *builder) { b.in.Tank.JointEfficiency = inspection.Ratio{} }, base / 0.7},
		{"hydrotest planned", func(b *builder) { b.set(criteria.HydrotestPlanned, "yes") }, base / 0.85},
		{"no gravity", func(b *builder) { b.in.Tank.SpecificGravity = inspection.Ratio{} }, -1},
		{"no diameter", func(b *builder) { b.in.Tank.Diameter = inspection.Length{} }, -1},
		{"over 200 ft", func(b *builder) { b.in.Tank.Diameter.Value = 61000 }, -1},
		{"200 ft", func(b *builder) { b.in.Tank.Diameter.Value = 60960 }, base * 60.96 / 30},
		{"a stress that cannot be read is not replaced", func(b *builder) { b.in.Tank.AllowableStress = inspection.Stress{State: inspection.Wrong} }, -1},
	} {
		near(t, c.what, value(c.edit), c.want, 2e-5)
	}
	// the verdict: first course now, blank as built, against t_min
	for _, c := range []struct {
		now, built float64
		ok, known  bool
	}{{0, 12, true, true}, {10, 12, false, true}, {0, 0, false, false}, {11, 0, true, true}} {
		b := ringed()
		b.in.Tank.FirstCourseAsBuilt, b.in.Tank.FirstCourseNow = inspection.Length{}, inspection.Length{}
		if c.now > 0 {
			b.in.Tank.FirstCourseNow = mm(b, "Tank", c.now)
		}
		if c.built > 0 {
			b.in.Tank.FirstCourseAsBuilt = mm(b, "Tank", c.built)
		}
		ok, known := b.assess().Steps.Find("shell.tmin").OK()
		if ok != c.ok || known != c.known {
			t.Errorf("first course %v, %v: ok %v known %v", c.now, c.built, ok, known)
		}
	}
}

func TestRingRefused(t *testing.T) {
	for what, spoil := range map[string]func(*builder){
		"needs evaluation":            func(b *builder) { b.in.Tank.SpecificGravity.Value = 1.0 },
		"engineering review":          func(b *builder) { b.in.Tank.FirstCourseAsBuilt.Value = 6 },
		"first-course thickness":      func(b *builder) { b.in.Tank.FirstCourseAsBuilt = inspection.Length{} },
		"specific gravity is not":     func(b *builder) { b.in.Tank.SpecificGravity = inspection.Ratio{} },
		"maximum fill height is not ": func(b *builder) { b.in.Tank.MaximumFillHeight = inspection.Length{} },
	} {
		b := ringed()
		b.indication("1", "A1", 2500, 300, "soil", "UT", b.rest(5))
		spoil(b)
		r := b.assess()
		checkSteps(t, b, r)
		unknown(t, what, r.Annular.Required)
		if s := r.Steps.Find("annular.required"); !strings.Contains(s.Why, what) {
			t.Errorf("%s: why %q", what, s.Why)
		}
		if r.Annular.OKKnown {
			t.Errorf("%s: judged", what)
		}
		// a place whose requirement is not known is not left in peace
		if v := find(t, r, "A1/1").Verdict; v != Engineering {
			t.Errorf("%s: verdict %s", what, v)
		}
	}
}

// Derived: locations and readings in the zones, now and after the interval.
func TestZones(t *testing.T) {
	// X 2500, Y 60 on A1 lies in the critical zone and on the ring: both apply
	b := ringed().desired(5)
	b.indication("1", "A1", 2500, 60, "soil", "UT", b.rest(5.0)).reading("A1", 3000, 400, 7.8)
	r := b.assess()
	checkSteps(t, b, r)
	l := find(t, r, "A1/1")
	if l.Zone != floor.Critical {
		t.Fatalf("zone %s", l.Zone)
	}
	near(t, "bearing", l.Bearing, 49.5493, 5e-5)
	near(t, "required of both", float64(l.Required.V), 0.17*25.4, 1e-9)
	near(t, "margin", float64(l.Margin.V), 5-0.17*25.4, 1e-9)
	near(t, "critical least", float64(r.CriticalZone.Min.V), 5, 0)
	near(t, "ring least", float64(r.Annular.Min.V), 5, 0)
	N := 9131 / 365.25
	rate := 3 / N // t_nom 8 on the ring
	near(t, "UPr", float64(r.AsFound.SoilRate.V), rate, 1e-9)
	// the reading's plate is worn to 7.8, within the mill tolerance: no product rate
	near(t, "ring interval", float64(r.AsFound.IntervalUncapped.V), (5-0.17*25.4)/rate, 1e-9)
	if r.AsFound.GovernedBy != GovAnnular || !r.CriticalZone.OK || !r.CriticalZone.OKKnown || !r.Annular.OK {
		t.Errorf("%s, critical %v, ring %v", r.AsFound.GovernedBy, r.CriticalZone, r.Annular)
	}
	near(t, "projected", r.Steps.Find("annular.projected.as_found").Value, 5-5*rate, 1e-9)
	near(t, "critical interval", r.Steps.Find("interval.critical.as_found").Value, (5-4)/rate, 1e-9)
	// six years on it fails, though it passes now
	b.in.Tank.DesiredInterval.Value = 6
	if r := b.assess(); r.Annular.OK || !r.Annular.OKKnown || !r.CriticalZone.OK {
		t.Errorf("after 6 years: ring %v, critical %v", r.Annular, r.CriticalZone)
	}
	// rates not known: no verdict
	b.in.Tank.FloorInstalled = inspection.Date{}
	r = b.assess()
	if r.Annular.OKKnown || r.CriticalZone.OKKnown || !r.Annular.Min.Known {
		t.Errorf("rates unknown: %v", r.Annular)
	}
}

func TestZoneOddities(t *testing.T) {
	// what the scan may have missed is never held against a zone
	b := ringed().set(criteria.MFLThreshold, "60")
	if r := b.assess(); r.Annular.Min.Known || r.CriticalZone.Min.Known {
		t.Errorf("threshold in the zones: %v %v", r.Annular, r.CriticalZone)
	}
	// a reading on the ring counts there, in the zone also there
	b = ringed()
	b.reading("A1", 3000, 60, 4.1)
	r := b.assess()
	checkSteps(t, b, r)
	near(t, "ring", known(t, "ring", r.Annular.Min), 4.1, 0)
	near(t, "critical", known(t, "critical", r.CriticalZone.Min), 4.1, 0)
	if r.Annular.OK || !r.Annular.OKKnown || r.AsFound.GovernedBy != GovRepairFirst {
		t.Errorf("4.1 on a ring that needs 4.318: %v, %s", r.Annular, r.AsFound.GovernedBy)
	}
	// isolated pits: count, or the general requirement and an engineer
	pit := func() *builder {
		b := ringed().desired(1)
		return b.indication("1", "A1", 2500, 300, "soil", "UT", b.rest(4.2), b.kind("pit"))
	}
	if r := pit().assess(); r.Annular.Min.V != 4.2 || find(t, r, "A1/1").Verdict != RepairFirst {
		t.Errorf("counted: %v %s", r.Annular, find(t, r, "A1/1").Verdict)
	}
	r = pit().set(criteria.IsolatedPitsCriticalZoneAndRing, "general requirement").assess()
	if l := find(t, r, "A1/1"); r.Annular.Min.Known || l.Verdict != Engineering || l.Required.V != 2.54 {
		t.Errorf("general requirement: %v %s %v", r.Annular, l.Verdict, l.Required)
	}
	// linear reading of the table and an allowance
	b = ringed().set(criteria.AnnularInterpolation, "linear").set(criteria.AnnularCorrosionAllowance, "1.5")
	b.in.Tank.FirstCourseAsBuilt.Value = 149.9219 * 12 / (25650 * 0.006894757293168361)
	r = b.assess()
	checkSteps(t, b, r)
	near(t, "linear", float64(r.Annular.Required.V), 0.185*25.4+1.5, 2e-4)
	// projection
	for _, c := range []struct {
		p  float64
		ok bool
	}{{9.525, true}, {9.5249, false}, {50, true}} {
		b := ringed()
		b.in.Tank.Projection = mm(b, "Tank", c.p)
		if ok, known := b.assess().Steps.Find("projection.width").OK(); ok != c.ok || !known {
			t.Errorf("projection %v: %v", c.p, ok)
		}
	}
}

// Derived: on a floor without a ring the zone is told by the distance from the
// shell.
func TestCriticalZoneOfAFloorPlate(t *testing.T) {
	b := tank().set(criteria.MFLThreshold, "0").desired(5)
	b.indication("1", "1-1", 2500, 575+12.5, "soil", "UT", b.rest(3.0)).indication("2", "1-1", 2500, 900, "soil", "UT", b.rest(3.0))
	r := b.assess()
	checkSteps(t, b, r)
	if find(t, r, "1-1/1").Zone != floor.Critical || find(t, r, "1-1/2").Zone != floor.General {
		t.Errorf("zones %s, %s", find(t, r, "1-1/1").Zone, find(t, r, "1-1/2").Zone)
	}
	// H 5 m on D 6 m: t_min 2.54, so t_cz is the least, 2.54
	near(t, "t_cz", float64(r.CriticalZone.Required.V), 2.54, 1e-9)
	if r.AsFound.GovernedBy != GovCritical {
		t.Errorf("equal margins: governed by %s, the zone is first", r.AsFound.GovernedBy)
	}
	// the shell unknown: half the bottom alone, 3.175
	b.in.Tank.SpecificGravity = inspection.Ratio{}
	r = b.assess()
	checkSteps(t, b, r)
	near(t, "t_cz alone", float64(r.CriticalZone.Required.V), 3.175, 1e-9)
	if v := find(t, r, "1-1/1").Verdict; v != RepairFirst || r.AsFound.GovernedBy != GovRepairFirst {
		t.Errorf("3.0 where 3.175 is required: %s, %s", v, r.AsFound.GovernedBy)
	}
}
