package check

import (
	"testing"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// resulting is the hits of Results over a result given by the test.
func resulting(in *inspection.Inspection, res *assess.Result) map[string][]finding.Hit {
	by := make(map[string][]finding.Hit)
	for _, h := range Results(in, floor.Place(in), res) {
		by[h.Rule] = append(by[h.Rule], h)
	}
	return by
}

// located is a result with a location for each indication, tied as given.
func located(in *inspection.Inspection, tied map[int][]int) *assess.Result {
	res := &assess.Result{}
	for i := range in.Indications {
		res.Locations = append(res.Locations, assess.Location{
			Kind: assess.IndicationAt, Label: in.Indications[i].Key, Indication: i, ProveUp: -1, Patch: -1, Tied: tied[i], Zone: floor.General,
		})
	}
	res.AsFound.SoilRate, res.AsFound.ProductRate = unit.Some(unit.Rate(0.1)), unit.Some(unit.Rate(0.1))
	return res
}

func TestProveUpThreshold(t *testing.T) {
	for loss, want := range map[float64]int{39.9: 0, 40: 1} {
		in := builder()
		indication(in, "1", "2-1", 500, 500, loss)
		if got := resulting(in, located(in, nil))["R307"]; len(got) != want {
			t.Errorf("%v %%: %+v", loss, got)
		}
	}
}

func TestAMissingProveUpIsNotAskedForTwice(t *testing.T) {
	// a prove-up in error is there: its own error is enough
	in := builder()
	indication(in, "1", "2-1", 500, 500, 52)
	u := proveUp(in, "U1", "1", "2-1", 500, 500, 3)
	u.Remaining.State, u.Out = inspection.Wrong, true
	if got := resulting(in, located(in, nil)); len(got["R307"]) > 0 {
		t.Errorf("prove-up in error: %+v", got["R307"])
	}
	// so is a wrong link near by, and one whose suggestion names it
	in = builder()
	indication(in, "17", "2-1", 500, 500, 52)
	proveUp(in, "U1", "71", "2-1", 590, 500, 3)
	if got := resulting(in, located(in, nil)); len(got["R307"]) > 0 {
		t.Errorf("link near by: %+v", got["R307"])
	}
	in = builder()
	indication(in, "17", "2-1", 500, 500, 52)
	proveUp(in, "U1", "71", "2-1", 2500, 500, 3)
	if got := resulting(in, located(in, nil)); len(got["R307"]) > 0 {
		t.Errorf("named in the suggestion: %+v", got["R307"])
	}
	// but a pit gauge is no ultrasonic prove-up
	in = builder()
	indication(in, "17", "2-1", 500, 500, 52)
	u = proveUp(in, "U1", "17", "2-1", 500, 500, 3)
	u.Remaining, u.Depth = inspection.Length{}, length(3, at("Prove-ups", 7, 2))
	if got := resulting(in, located(in, map[int][]int{0: {0}})); len(got["R307"]) != 1 {
		t.Errorf("pit gauge: %+v", got["R307"])
	}
}

func TestUnrepairedOnlyWhereNothingClaimsIt(t *testing.T) {
	in := builder()
	indication(in, "1", "2-1", 500, 500, 70)
	indication(in, "2", "2-1", 1500, 500, 70)
	in.Repairs = append(in.Repairs, inspection.Repair{
		Row:   inspection.Row{Sheet: "Planned repairs", Number: 2, Key: "R1"},
		Label: text("R1", at("Planned repairs", 1, 2)), Kind: text("patch", at("Planned repairs", 2, 2)), Plate: text("2-1", at("Planned repairs", 3, 2)),
		Indications: inspection.Labels{Value: []string{"1"}, State: inspection.Given, Text: "1"},
	})
	res := located(in, nil)
	for i := range res.Locations {
		l := &res.Locations[i]
		l.Verdict, l.Remaining, l.Required = assess.RepairFirst, unit.Some(unit.Length(1.9)), unit.Some(unit.Length(2.54))
	}
	got := resulting(in, res)["R504"]
	if len(got) != 1 || Key(got[0]) != "R504:Indications:2-1/2" || got[0].Message != "2: 1.90 mm left, required 2.54 mm, no repair planned" {
		t.Errorf("%+v", got)
	}
}

func TestStepsThatMissTheirLimitOrFail(t *testing.T) {
	in := builder()
	res := located(in, nil)
	res.Steps = step.List{
		{ID: "mrt.as_found", Title: "minimum remaining thickness", Kind: unit.Thickness, Value: 2.5399, Known: true, Limit: &step.Limit{Value: 2.54, Known: true, Op: "≥"}},
		{ID: "mrt.as_planned", Title: "minimum remaining thickness", Kind: unit.Thickness, Value: 2.54 - 5e-7, Known: true, Limit: &step.Limit{Value: 2.54, Known: true, Op: "≥"}},
		{ID: "rate.soil.as_found", Why: "the formula gives no number"},
	}
	got := resulting(in, res)
	if len(got["K103"]) != 1 || got["K103"][0].Message != "minimum remaining thickness as found 2.5399 mm, limit 2.5400 mm" {
		t.Errorf("%+v", got["K103"])
	}
	if len(got["K107"]) != 1 || Key(got["K107"][0]) != "K107::[rate.soil.as_found]" {
		t.Errorf("%+v", got["K107"])
	}
}

// Each ground for an unknown rate has its own remedy.
func TestUnknownRateSaysWhatHelps(t *testing.T) {
	for why, do := range map[string]string{
		assess.NoAge:             "Enter Floor installed.",
		assess.NoUltrasonicValue: "Measure by UT, or accept the cap.",
		assess.NoOldMetal:        "Check Floor installed, or accept the cap.",
		"60.0 % of the floor examined, 80.0 % needed for a rate": "Examine more, or accept the cap.",
	} {
		in := builder()
		res := located(in, nil)
		res.AsFound.RateUnknown, res.AsFound.Interval = why, unit.Some(unit.Years(10))
		res.Steps = step.List{{ID: "rate.soil.as_found", Why: why}}
		r := &resultJudge{judge: &judge{in: in}, res: res}
		r.rateUnknown()
		list := merge(false, r.hits)
		if len(list) != 1 || list[0].Do != do || list[0].Message != why+": 10-year cap" {
			t.Errorf("%s: %+v", why, list)
		}
		// a young floor has its initial interval, not the cap of unknown rates
		res.Steps = append(res.Steps, step.Step{ID: "interval.cap", Inputs: []step.Input{{Symbol: "I_0"}, {Symbol: "N"}}})
		r.hits = nil
		r.rateUnknown()
		if m := r.hits[0].Message; m != why+": the initial interval limits" {
			t.Error(m)
		}
		// what was read is told where it would not last as long
		res.AsFound.ReadAlone = unit.Some(unit.Years(1.59))
		r.hits = nil
		r.rateUnknown()
		if m := r.hits[0].Message; m != why+": the initial interval limits; what was read gives 1.5 years by itself" {
			t.Error(m)
		}
	}
}

func TestRepairCheckStandsInTheKey(t *testing.T) {
	in := builder()
	in.Repairs = append(in.Repairs, inspection.Repair{Row: inspection.Row{Sheet: "Planned repairs", Number: 2, Key: "R3"}, Label: text("R3", at("Planned repairs", 1, 2))})
	h := RepairFails(in, 0, "patch.minimum_seam", "200, limit 300 mm")
	if Key(h) != "R505:Planned repairs:R3:patch.minimum_seam" || h.Message != "R3 patch.minimum_seam 200, limit 300 mm" {
		t.Errorf("%s %s", Key(h), h.Message)
	}
}

func TestAnUltrasonicIndicationInThePlaceIsAProveUp(t *testing.T) {
	in := builder()
	indication(in, "1", "2-1", 500, 500, 52)
	u := indication(in, "2", "2-1", 520, 510, 0)
	u.Method, u.Loss, u.Remaining = text("UT", at("Indications", 8, 3)), inspection.Percent{}, length(3.1, at("Indications", 10, 3))
	if got := resulting(in, located(in, nil)); len(got["R307"]) > 0 {
		t.Errorf("%+v", got["R307"])
	}
	in.Indications[1].X.Value = 700
	if got := resulting(in, located(in, nil)); len(got["R307"]) != 1 {
		t.Errorf("200 mm away: %+v", got["R307"])
	}
}

func TestRescan(t *testing.T) {
	pairs := func(in *inspection.Inspection, n int, apart float64) *assess.Result {
		for i := range n {
			id := string(rune('a' + i))
			indication(in, id, "2-1", 300+float64(i)*200, 500, 40)
			proveUp(in, "U"+id, id, "2-1", 300+float64(i)*200, 500, 3)
		}
		res := located(in, nil)
		for i := range n {
			res.Locations[i].Tied = []int{i}
			res.Sizing.Pairs = append(res.Sizing.Pairs, sizing.Pair{MFL: 40, UT: 40 + apart, Nominal: 6.35, Indication: i, ProveUp: i, By: "J. Roe"})
		}
		return res
	}
	for _, c := range []struct {
		pairs       int
		apart       float64
		plates, far int
	}{{3, 20, 0, 0}, {3, 20.1, 1, 0}, {2, 20.1, 0, 0}, {2, 30, 0, 0}, {2, 30.1, 0, 2}, {3, 30.1, 1, 0}} {
		in := builder()
		got := resulting(in, pairs(in, c.pairs, c.apart))
		if len(got["T204"]) != c.plates || len(got["R309"]) != c.far {
			t.Errorf("%d pairs %v points apart: %d plates, %d rows", c.pairs, c.apart, len(got["T204"]), len(got["R309"]))
		}
	}
	for _, c := range []struct {
		n            int
		bias, within float64
		want         string
	}{
		{8, 10, 50, ""},
		{8, -10.1, 60, "J. Roe: MFL against UT, bias −10.1 points, 8 pairs"},
		{7, -20, 0, ""},
		{8, 2, 49, "J. Roe: MFL against UT, bias +2 points, 8 pairs, 49 % within 10 points"},
	} {
		in := builder()
		res := located(in, nil)
		res.Sizing.ByPerson = []sizing.Group{{Name: "J. Roe", Fit: sizing.Fit{
			Pairs: c.n, Bias: unit.Some(unit.Percent(c.bias)), Within10: unit.Some(unit.Percent(c.within)),
		}}}
		message := ""
		for _, h := range resulting(in, res)["T205"] {
			message = h.Message
		}
		if message != c.want {
			t.Errorf("%+v: %q", c, message)
		}
	}
}

func TestPolicyForUnproved(t *testing.T) {
	for policy, rule := range map[string]string{"exclude": "K105", "block": "K106", "estimate": ""} {
		in := builder()
		in.Criteria.Put(criteria.UnprovedIndications, criteria.Value{Text: policy, Set: true, Given: true, Changed: true, Note: "owner's letter"})
		indication(in, "1", "2-1", 500, 500, 30)
		res := located(in, nil)
		res.Locations[0].Basis = assess.ByMFL
		if policy == "exclude" {
			res.Locations[0].Verdict = assess.Excluded
		}
		got := resulting(in, res)
		for _, r := range []string{"K105", "K106"} {
			if (len(got[r]) == 1) != (r == rule) {
				t.Errorf("%s: %s %+v", policy, r, got[r])
			}
		}
	}
}

// An interval that misses its limit is told rounded down, as everywhere.
func TestAnIntervalIsToldRoundedDown(t *testing.T) {
	in := builder()
	res := located(in, nil)
	res.Steps = step.List{{ID: "interval.adopted.as_found", Title: "interval", Kind: unit.Time, Value: 4.68, Known: true, Limit: &step.Limit{Value: 10, Known: true, Op: "≥"}}}
	got := resulting(in, res)["K103"]
	if len(got) != 1 || got[0].Message != "interval as found 4.6 years, limit 10.0 years" {
		t.Errorf("%+v", got)
	}
}
