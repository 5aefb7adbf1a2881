// Package rules judges an inspection: it places the floor, checks what was
// written, evaluates the thickness and gathers the outcome.
package rules

import (
	"platebook/rules/assess"
	"platebook/rules/check"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/settle"
	"platebook/rules/statistics"
)

// Inspection is what was read from a workbook.
type Inspection = inspection.Inspection

// Version is the version of the rule set: it changes when a result or a
// finding of an unchanged workbook can change.
const Version = "1"

// Assessment is the judged inspection: everything the outputs show.
type Assessment struct {
	Inspection *inspection.Inspection
	Findings   []finding.Finding // folded and in order
	Counts     check.Counts
	Plan       *floor.Plan
	Result     *assess.Result
	Repairs    *repair.Result
	Comparison *compare.Result  // nil when there is nothing to compare with
	Settlement *settle.Result   // nil without a survey
	LeftOut    []inspection.Row // rows taken out by an error, in order

	statistics  func() *statistics.Tally
	sensitivity func() []assess.Change
}

func (a *Assessment) leave(r inspection.Row) {
	if r.Out {
		a.LeftOut = append(a.LeftOut, r)
	}
}
