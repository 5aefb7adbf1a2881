package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules/finding"
)

// bySeverity is the findings as a reader takes them up: errors, warnings,
// notes, and within each as the sheets stand.
func (w *writer) bySeverity() []finding.Finding {
	out := slices.Clone(w.a.Findings)
	slices.SortStableFunc(out, func(a, b finding.Finding) int { return int(b.Severity) - int(a.Severity) })
	return out
}

// open is the errors and unanswered warnings, worst first.
func (w *writer) open() []finding.Finding {
	return slices.DeleteFunc(w.bySeverity(), func(f finding.Finding) bool { return f.Severity == finding.Note || f.Answer != nil })
}

// placeOf is the cell of a finding.
func placeOf(f finding.Finding) string {
	if p := f.Place(); p != "" {
		return p
	}
	return "workbook"
}

// rowOf is the label of a finding's row: a calculated result's is its step.
func (w *writer) rowOf(f finding.Finding) string {
	if s := w.res.Steps.Find(f.Row); s != nil && f.Place() == "" {
		_, state, of := ofState(s.ID)
		if of {
			return capital(s.Title) + ", " + state.Words()
		}
		return capital(s.Title)
	}
	switch n := f.Cells(); {
	case f.Row == "":
	case n > 1:
		return fmt.Sprintf("%s and %d more", f.Row, n-1)
	case f.LastRow > f.Ref.Row:
		return f.Row + " and more"
	}
	return f.Row
}

// placed is where a finding stands, in words and by its cell, for a sentence.
func (w *writer) placed(f finding.Finding) string {
	row := w.rowOf(f)
	switch {
	case row == "" || strings.Contains(f.Message, row):
		return placeOf(f)
	case f.Place() == "":
		return row
	}
	return row + ", " + f.Place()
}
