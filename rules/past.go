package rules

import (
	"platebook/rules/assess"
	"platebook/rules/check"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/repair"
)

// Past is what stands before an inspection: earlier ones, judged by themselves.
type Past struct {
	Earlier []*Assessment
	Renamed []compare.Renamed // plates whose label changed, where a list was given
	Missing string            // why an earlier inspection named in the workbook could not be read
	Ref     finding.Ref       // where it is named
}

func (p Past) missing() []finding.Hit {
	if p.Missing == "" {
		return nil
	}
	return []finding.Hit{check.NotJudged("compare.years", "not compared: "+p.Missing, p.Ref)}
}

// evaluate finds the floor's results. With an earlier inspection the growth
// since enters the rates, so the floor is evaluated before and after.
func (a *Assessment) evaluate(past Past) {
	if len(past.Earlier) == 0 {
		a.Result, a.Repairs = repair.Assess(a.Inspection, a.Plan)
		return
	}
	before := assess.Assess(a.Inspection, a.Plan)
	earlier := make([]compare.Survey, len(past.Earlier))
	for i, e := range past.Earlier {
		earlier[i] = compare.Survey{In: e.Inspection, Plan: e.Plan, Found: e.Result, Errors: e.Counts.Errors}
	}
	c := compare.Compare(earlier, compare.Survey{In: a.Inspection, Plan: a.Plan, Found: before}, past.Renamed)
	a.Result, a.Repairs = repair.AssessGrown(a.Inspection, a.Plan, c.Growth)
	c.Conclude(before, a.Result)
	a.Result.Steps = append(a.Result.Steps, c.Steps...)
	a.Comparison = c
}
