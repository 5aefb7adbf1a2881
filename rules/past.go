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
	Earlier []compare.Survey  // of Earlier
	Renamed []compare.Renamed // plates whose label changed, where a list was given
	Missing string            // why an earlier inspection named in the workbook could not be read
	Ref     finding.Ref       // where it is named
}

// Earlier judges an inspection for those after it: its places as found, and its
// errors. What only outputs of its own would show is not found: proposed
// repairs, settlement, and the steps behind a value.
func Earlier(in *Inspection, hits []finding.Hit) compare.Survey {
	a := &Assessment{Inspection: in}
	hits = a.place(hits, nil)
	found := assess.Assess(in, a.Plan)
	hits = append(hits, check.Results(in, a.Plan, found)...)
	found.Forget()
	return compare.Survey{In: in, Plan: a.Plan, Found: found, Errors: check.Count(check.Arrange(in, hits)).Errors}
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
	found := assess.Assess(a.Inspection, a.Plan)
	found.Forget() // the steps are written when the growth is in them
	c := compare.Compare(past.Earlier, compare.Survey{In: a.Inspection, Plan: a.Plan, Found: found}, past.Renamed)
	a.Result, a.Repairs = repair.AssessGrown(a.Inspection, a.Plan, c.Growth)
	c.Conclude(a.Result)
	a.Result.Steps = append(a.Result.Steps, c.Steps...)
	a.Comparison = c
}
