package validation

import (
	"math"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/method"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

const (
	county  = "San Joaquin County Environmental Health Department, California, public record "
	methodP = "the method, section "
)

func years(m unit.Maybe[unit.Years]) float64 {
	if !m.Known {
		return math.NaN()
	}
	return float64(m.V)
}

func intervals(r *record) {
	r.subject = "Interval, rates and minimum remaining thickness"
	in := func(v float64) unit.Length { return unit.Length(v) * unit.Inch }
	rate := func(v float64) unit.Rate { return unit.Rate(v) * unit.Rate(unit.Inch) }

	r.from(county+"361164, p. 276: silo S-2, 2007", published)
	r.number("half of the remaining life", "0.109 in over 4 × 0.0023 in/year", 11.85, years(api653_5.Interval(in(0.109), 0, 0, rate(4*0.0023))), 0.01, "years")
	r.number("remaining life", "0.109 in over 2 × 0.0023 in/year", 23.70, years(api653_5.Interval(in(0.109), 0, 0, rate(2*0.0023))), 0.01, "years")
	r.from(county+"575814, p. 628: tank TNKO-0480, 2009", published)
	r.number("rate", "5.8 mm to a mean of 5.493333 mm in 4 years", 0.0766667, float64(api653_5.Rate(5.8, 5.493333333333333, 4).V), 1e-6, "mm/year")
	r.from("published case history of a power-station oil tank, Massachusetts; interval derived", published)
	rt := api653_5.Rate(in(0.375), in(0.225), 25)
	r.number("rate", "0.375 to 0.225 in, 25 years", 0.006, float64(rt.V)/25.4, 1e-12, "in/year")
	r.number("interval before the cap", "0.225 in, required 0.10 in, 0.006 in/year", 20.83, years(api653_5.Interval(in(0.225), in(0.10), 0, rt.V)), 0.005, "years")
	r.from("eng-tips.com thread 498951", published)
	r.number("rate", "0.250 in, product-side pit 0.05 in, 10 years", 0.005, float64(api653_5.Rate(in(0.25), in(0.20), 10).V)/25.4, 1e-12, "in/year")
	r.number("interval with leak detection and containment", "0.200 in, required 0.05 in, 0.005 in/year", 30, years(api653_5.Interval(in(0.20), in(0.05), rate(0.005), 0)), 1e-9, "years")
	r.from("eng-tips.com thread 299063; verdict derived", published)
	mrt := float64(api653_5.MinimumRemaining(3, 3, 5, rate(0.005), 0)) / 25.4
	r.number("minimum remaining thickness", "3 mm both sides, 5 years, 0.005 in/year", 0.0931, mrt, 1e-4, "in")
	r.text("verdict against 0.10 in", "as before", "fail", passFail(mrt >= 0.10))
	r.from("API 653 Tank Inspection Intervals, training slides, studylib.net/doc/27152246", published)
	r.number("initial interval", "10 + thin film 2 + barrier 10", 22, float64(api653_5.InitialInterval(10, 12, 0)), 1e-9, "years")

	r.from(methodP+"5", derived)
	r.number("initial interval", "10 + reinforced lining 5 + cathodic protection 5", 20, float64(api653_5.InitialInterval(10, 10, 0)), 1e-9, "years")
	r.number("the same with an allowance of 0.200 in", "(200 − 150)/15 mils more", 23+1.0/3, float64(api653_5.InitialInterval(10, 10, in(0.200))), 1e-9, "years")
	r.number("minimum remaining thickness", "0.190/0.210 in, 10 years, 0.002 + 0.005 in/year", 0.120, float64(api653_5.MinimumRemaining(in(0.19), in(0.21), 10, rate(0.002), rate(0.005)))/25.4, 1e-9, "in")
	r.number("interval", "0.190 in, 0.10 in, 0.007 in/year", 12.857, years(api653_5.Interval(in(0.19), in(0.10), rate(0.002), rate(0.005))), 5e-4, "years")
	r.number("interval with a barrier", "0.190 in, 0.05 in, 0.007 in/year", 20, years(api653_5.Interval(in(0.19), in(0.05), rate(0.002), rate(0.005))), 1e-9, "years")
	r.number("interval without repair", "0.250 to 0.180 in in 20 years", 22.857, years(api653_5.Interval(in(0.18), in(0.10), 0, rate(0.0035))), 5e-4, "years")
	r.number("the same with a barrier", "required 0.05 in", 37.143, years(api653_5.Interval(in(0.18), in(0.05), 0, rate(0.0035))), 5e-4, "years")
	r.number("at the limit", "thickness equal to the requirement", 0, years(api653_5.Interval(2.54, 2.54, 0, 0)), 0, "years")
	r.text("no rate", "above the requirement, rates 0", "no number", known(api653_5.Interval(5, 2.54, 0, 0).Known))
	r.from(methodP+"4", derived)
	r.number("soil-side rate", "6.35 to 3.4925 mm in 9131 days", 0.114303, float64(api653_5.Rate(6.35, 3.4925, 9131/365.25).V), 5e-7, "mm/year")
	r.number("product-side rate", "6.35 to 5.00 mm in 9131 days", 0.0540015, float64(api653_5.Rate(6.35, 5, 9131/365.25).V), 5e-8, "mm/year")
	r.number("rate of the threshold after repair", "0.250 in, threshold 0.125, 25 years", 0.005, float64(api653_5.Rate(in(0.25), in(0.125), 25).V)/25.4, 1e-12, "in/year")
}

// caps are intervals of whole evaluations that a cap or a limit governs, and
// values at a limit.
func caps(r *record) {
	r.subject = "Caps, limits and values at a limit"
	floor := func(installed string, left float64, edit func(*inspection.Inspection)) assess.StateResult {
		in := wide(unit.SI)
		in.Tank.FloorInstalled = given(day(installed))
		pitAt(in, "1", "1-1", "soil", 4000, 2500, 40, 40, left)
		if edit != nil {
			edit(in)
		}
		return rules.Assess(in, nil, nil).Result.AsFound
	}
	one := func(what, inputs string, o assess.StateResult, want float64, governs string) {
		r.number(what, inputs, want, years(o.Interval), 5e-4, "years")
		r.text("governed by", inputs, governs, string(o.GovernedBy))
	}
	barrier := func(in *inspection.Inspection) { in.Tank.ReleasePreventionBarrier = given("yes") }
	r.from("published case history of a power-station oil tank, Massachusetts; nominal and cap derived", published)
	one("capped interval", "9.525 to 5.715 mm in 25 years", floor("2001-05-01", 5.715, func(in *inspection.Inspection) { in.Tank.NominalThickness = mm(9.525) }), 20, "cap_rate")
	r.from(methodP+"5", derived)
	one("capped interval", "0.250 to 0.180 in in 20 years", floor("2006-05-01", 4.572, nil), 20, "cap_rate")
	one("capped interval with a barrier", "0.250 to 0.180 in in 20 years", floor("2006-05-01", 4.572, barrier), 30, "cap_rate")
	credited := func(in *inspection.Inspection) {
		t := &in.Tank
		t.Lining, t.LiningInstalled, t.LiningExpectedLife = given("thin film"), given(day("2026-05-01")), given(unit.Years(20))
		t.CathodicProtection, t.CathodicProtectionEvidence = given("recorded effective"), given("survey 2025-11")
	}
	one("below the requirement, both rates 0", "2.00 mm, lining and cathodic protection", floor("2001-05-01", 2.00, credited), 0, "repair_first")
	r.text("no rate", "6.00 mm, lining and cathodic protection: not limited by corrosion, never an infinite life", "cap_rate", string(floor("2001-05-01", 6.00, credited).GovernedBy))
	owner := func(in *inspection.Inspection) { in.Tank.JurisdictionLimit = given(unit.Years(12)) }
	one("a jurisdiction's limit", "0.250 to 0.180 in in 20 years, limit 12", floor("2006-05-01", 4.572, owner), 12, "jurisdiction")
	r.from(methodP+"3 and 4", derived)
	both := func(in *inspection.Inspection) {
		in.Indications = nil
		for _, p := range []struct {
			side  string
			depth float64
		}{{"product", 1.30}, {"soil", 1.95}} {
			pitAt(in, p.side, "1-1", p.side, 4000, 2500, 60, 60, 0)
			i := &in.Indications[len(in.Indications)-1]
			i.Remaining, i.Depth = inspection.Length{}, mm(p.depth)
		}
		in.Readings = append(in.Readings, inspection.Reading{Plate: given("1-1"), X: mm(1000), Y: mm(1000), Thickness: mm(6.30)})
		in.Criteria.Put(criteria.MFLThreshold, criteria.Value{Number: 0, Set: true, Given: true})
	}
	o := floor("2001-05-01", 0, both)
	r.number("least, product-side over soil-side pit", "1.30 over 1.95 mm deep in 6.30", 3.05, float64(o.SoilMin.V), 1e-9, "mm")
	r.number("product-side rate of the two", "1.30 over 1.95 mm deep in 6.30, 9131 days", 0.0540015, float64(o.ProductRate.V), 5e-8, "mm/year")
	r.number("soil-side rate of the two", "1.30 over 1.95 mm deep in 6.30, 9131 days", 0.0780021, float64(o.SoilRate.V), 5e-8, "mm/year")
	r.from(methodP+"4", derived)
	r.number("thick delivery", "6.50 mm sound and remaining on 6.35", 0, float64(api653_5.Rate(6.50, 6.50, 24.99932).V), 0, "mm/year")
	r.from(methodP+"1", derived)
	r.text("a thickness at its limit", "2.54 less 5e-7 mm against 2.54", "pass", passFail(step.AtLeast(unit.Thickness, 2.54-5e-7, 2.54)))
	r.text("a thickness below its limit", "2.54 less 2e-6 mm against 2.54", "fail", passFail(step.AtLeast(unit.Thickness, 2.54-2e-6, 2.54)))
}

func passFail(ok bool) string {
	if ok {
		return "pass"
	}
	return "fail"
}

func known(k bool) string {
	if k {
		return "a number"
	}
	return "no number"
}

func day(iso string) unit.Date {
	d, err := unit.ParseDate(iso)
	if err != nil {
		panic(err)
	}
	return d
}

func dates(r *record) {
	r.subject = "Dates"
	r.from(county+"361164, p. 276: silo S-2, 2007", published)
	base := day("2007-02-20")
	r.text("next date", "2007-02-20 + 5 years", "2012-02-20", base.AddYears(5).String())
	r.text("next date", "2007-02-20 + 15 years", "2022-02-19", base.AddYears(15).String())
	r.from(methodP+"5", derived)
	end := day("2026-05-01")
	r.text("next date", "2026-05-01 + 5.65938 years", "2031-12-28", end.AddYears(5.65938).String())
	r.text("next date", "2026-05-01 + 11.0514 years, 4036 days", "2037-05-19", end.AddYears(11.0514).String())
	r.text("next date", "2026-05-01 + 14.0905 years", "2040-06-02", end.AddYears(14.0905).String())
	r.number("age", "2001-05-01 to 2026-05-01, 9131 days", 24.99932, float64(end.YearsSince(day("2001-05-01"))), 5e-6, "years")
	r.text("interval as printed", "5.65938 years, rounded down", "5.6", unit.IntervalText(5.65938))
	r.text("interval as printed", "12.0 years less the last digit of a double", "12.0", unit.IntervalText(12-1e-12))
	serials(r)
}

func evaluations(r *record) {
	r.subject = "Whole evaluation of the example tank"
	r.from(methodP+"3", derived)
	a := method.Scene("example")
	at := func(label string) float64 {
		for i := range a.Result.Locations {
			if l := &a.Result.Locations[i]; l.Label == label && l.Step.ID == "location."+label && l.Remaining.Known {
				return float64(l.Remaining.V)
			}
		}
		return math.NaN()
	}
	r.number("estimate minus allowance", "MFL 35 % of 6.35 mm, allowance 10 points", 3.4925, at("2-1/4"), 1e-9, "mm")
	r.number("pit gauge", "1.30 mm deep in 6.30 mm", 5.00, at("3-2/3"), 1e-9, "mm")
	r.number("threshold", "20 % of 6.35 mm", 5.08, a.Result.Steps.Find("thickness.threshold").Value, 1e-9, "mm")
	r.from(methodP+"5", derived)
	f := a.Result.AsFound
	r.number("soil-side rate as found", "the example tank", 0.114303, float64(f.SoilRate.V), 5e-7, "mm/year")
	r.number("product-side rate as found", "the example tank", 0.0540015, float64(f.ProductRate.V), 5e-8, "mm/year")
	r.number("sum of the rates", "the example tank", 0.168305, float64(f.SoilRate.V+f.ProductRate.V), 5e-7, "mm/year")
	r.number("minimum remaining thickness", "the example tank, 10 years", 1.80945, float64(f.MRT.V), 5e-6, "mm")
	r.number("interval as found", "the example tank", 5.65938, years(f.Interval), 5e-6, "years")
	r.text("next date as found", "the example tank", "2031-12-28", f.NextDate.String())
	p := method.Scene("planned").Result.AsPlanned
	r.number("least after repair", "3.4925 and 3.60 mm patched", 4.40, float64(p.SoilMin.V), 1e-9, "mm")
	r.number("minimum remaining thickness", "the same, rate as found", 2.71695, float64(p.MRT.V), 5e-6, "mm")
	r.number("interval", "the same, rate as found", 11.0514, years(p.Interval), 5e-5, "years")
	r.text("next date", "the same, rate as found", "2037-05-19", p.NextDate.String())
	p = method.Scene("recomputed").Result.AsPlanned
	r.number("soil-side rate", "the same, rate recomputed", 0.0780021, float64(p.SoilRate.V), 5e-8, "mm/year")
	r.number("interval", "the same, rate recomputed", 14.0905, years(p.Interval), 5e-5, "years")
	r.text("next date", "the same, rate recomputed", "2040-06-02", p.NextDate.String())
	lined := method.Scene("lined").Result
	p = lined.AsPlanned
	r.number("interval with a lining of 14 years", "the same, thin film", 14, years(p.Interval), 1e-9, "years")
	r.text("governed by", "the same, thin film", "lining", string(p.GovernedBy))
	r.number("with the product-side rate as measured", "the same, thin film: W", 11.0514, lined.Steps.Find("interval.corrosion.as_planned").Value, 5e-5, "years")
	r.number("initial interval left", "10 + thin film 2 + barrier 10, 2.5 years in service", 19.5, method.Scene("young").Result.Steps.Find("interval.cap").Value, 0.005, "years")
	r.from(methodP+"7", derived)
	r.number("needed for 10 years", "the example tank", 4.22305, a.Result.Steps.Find("threshold.needed").Value, 5e-6, "mm")
	levels := a.Repairs.Thresholds()
	r.number("levels", "2.75 to 6.25 mm by 0.25", 15, float64(len(levels)), 0, "")
	for _, c := range []struct{ below, want float64 }{{2.75, 5.65938}, {3.50, 6.29810}, {3.75, 11.0514}, {4.25, 11.0514}, {4.50, 14.6164}, {5.25, 15.0917}} {
		got := math.NaN()
		for _, l := range levels {
			if math.Abs(float64(l.Below)-c.below) < 1e-9 {
				got = years(l.Uncapped)
			}
		}
		r.number("interval when repaired below "+unit.Round(c.below, 2)+" mm", "the example tank, uncapped", c.want, got, 5e-5, "years")
	}
	for _, l := range levels {
		if math.Abs(float64(l.Below)-4.25) < 1e-9 {
			r.number("closed form, at least", "repaired below 4.25 mm", 10.1601, years(l.AtLeast), 5e-5, "years")
		}
	}
}
