package rules

import (
	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/floor"
)

// Assess judges an inspection. hits are what the reader found wrong; photos
// answers for the picture files beside the workbook and may be nil. One bad
// cell never stops the rest: a row that cannot be used is marked, listed in
// LeftOut, and everything else is calculated.
func Assess(in *Inspection, hits []finding.Hit, photos check.Photos) *Assessment {
	return AssessSince(in, hits, photos, Past{})
}

// AssessSince is Assess for an inspection that earlier ones are set beside.
func AssessSince(in *Inspection, hits []finding.Hit, photos check.Photos, past Past) *Assessment {
	a := &Assessment{Inspection: in}
	hits = a.place(hits, photos)
	a.evaluate(past)
	a.survey()
	hits = append(hits, check.Results(in, a.Plan, a.Result)...)
	hits = append(hits, check.Compared(in, a.Plan, a.Result, a.Comparison)...)
	hits = append(hits, past.missing()...)
	hits = append(hits, repairFindings(in, a.Plan, a.Repairs)...)
	hits = append(hits, settlementFindings(in, a.Settlement)...)
	a.Findings = check.Arrange(in, hits)
	a.Counts = check.Count(a.Findings)
	for i := range in.Indications {
		a.leave(in.Indications[i].Row)
	}
	for i := range in.ProveUps {
		a.leave(in.ProveUps[i].Row)
	}
	for i := range in.Readings {
		a.leave(in.Readings[i].Row)
	}
	for i := range in.Repairs {
		a.leave(in.Repairs[i].Row)
	}
	return a
}

// place lays the floor out, and adds to what the reader found wrong what is
// wrong with values and rows.
func (a *Assessment) place(hits []finding.Hit, photos check.Photos) []finding.Hit {
	hits = append(hits[:len(hits):len(hits)], check.Values(a.Inspection)...)
	a.Plan = floor.Place(a.Inspection)
	return append(hits, check.Rows(a.Inspection, a.Plan, photos, hits...)...)
}
