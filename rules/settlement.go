package rules

import (
	"fmt"
	"sync"

	"platebook/rules/assess"
	"platebook/rules/check"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/settle"
	"platebook/rules/statistics"
	"platebook/rules/unit"
)

// survey judges settlement. What only outputs show is found when first asked
// for.
func (a *Assessment) survey() {
	in := a.Inspection
	if a.Settlement = settle.Judge(in); a.Settlement != nil {
		a.Result.Steps = append(a.Result.Steps, a.Settlement.Steps...)
	}
	a.statistics = sync.OnceValue(func() *statistics.Tally {
		t := statistics.Count(in, a.Plan, a.Result)
		return &t
	})
	a.sensitivity = sync.OnceValue(func() []assess.Change { return a.Result.Sensitivity() })
}

// Statistics sums up the corrosion found.
func (a *Assessment) Statistics() *statistics.Tally {
	if a.statistics == nil {
		return &statistics.Tally{}
	}
	return a.statistics()
}

// Sensitivity is what would change page one's interval, one input at a time.
func (a *Assessment) Sensitivity() []assess.Change {
	if a.sensitivity == nil {
		return nil
	}
	return a.sensitivity()
}

// Ahead begins what outputs share and is only found when first asked for: the
// thresholds, the sensitivity and the statistics. Whoever asks waits for what is
// not found yet, and a bug in it comes up there.
func (a *Assessment) Ahead() {
	for _, find := range []func(){
		func() {
			if a.Repairs != nil {
				a.Repairs.Thresholds()
			}
		},
		func() { a.Sensitivity() },
		func() { a.Statistics() },
	} {
		go func() {
			defer func() { _ = recover() }()
			find()
		}()
	}
}

// settlementFindings are the parts of the survey without a verdict (K104).
// Too few points and edges without limits are checked on their rows.
func settlementFindings(in *Inspection, r *settle.Result) []finding.Hit {
	if r == nil {
		return nil
	}
	var hits []finding.Hit
	first := func() finding.Ref { return in.Settlement[r.Shell[0].Row].Elevation.Ref }
	if r.Poor {
		hits = append(hits, check.NotJudged("settlement.r2", fmt.Sprintf("the plane fits the shell poorly: R² %s, limit %s",
			unit.Round(float64(r.R2.V), 4), unit.Round(r.Limit, 2)), first(), in.Criteria.Get(criteria.SettlementCosineR2).Ref))
	}
	if !r.Fitted && len(r.Shell) >= 4 {
		hits = append(hits, check.NotJudged("settlement.deflection", r.Why, first()))
	}
	for _, l := range r.Edge {
		s := &in.Settlement[l.Row]
		if !l.Known && l.Measured.Known && s.Radius.OK() && in.Criteria.Get(criteria.EdgeLimitBe).Set && s.WeldAngle.State != 0 && !s.WeldAngle.OK() {
			continue // the angle is in error, and reported so
		}
		if l.Why == "the angle of the nearest weld is not known" || l.Why == "the angle of the nearest weld is not 0 to 90°" {
			hits = append(hits, check.NotJudged("settlement.edge."+l.Name, l.Why, s.Measured.Ref))
		}
	}
	return hits
}
