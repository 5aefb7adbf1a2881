// Package review is what a reviewer learns from running results again: where
// the stored ones differ, what changed since, and what to check by hand.
package review

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules/check"
	"platebook/rules/finding"
)

// Review is the outcome of running a results workbook again from its inputs.
type Review struct {
	Differences []Difference // results that differ, sheet by sheet
	Compared    int          // result cells held against each other
	Unstored    int          // live results without a stored value: nothing to hold against
	TimeBase    string       // what the results were judged by, where it is not the Report date
	Unseen      int          // photos named in the workbook, when none of them is at hand
	Inputs      Inputs
	Versions    []Version // program, rule set and standard, where they differ
	Answers     []finding.Finding
	Since       []string // answers given since the results were written, by key
	Seed        string   // of the sample: the beginning of the file's SHA-256
	Sample      []Sampled
	Against     *Revisions // nil without another revision
}

// Difference is a result that does not come out again.
type Difference struct {
	Ref        finding.Ref // in the reviewed file; where nothing stands there, where it would
	What       string      // row and column in words
	Stored     string
	Recomputed string
	Inputs     []string // cells of the workbook that it depends on, at most MostInputs
	More       int      // those beyond
}

// mostPlaces is how many related cells a finding names.
const mostPlaces = 20

// MostInputs is how many cells a difference names.
const MostInputs = 12

// Inputs says whether the inputs are those the results were made from.
type Inputs struct {
	Recorded string // hash of the values that the results were made from, "" when the file has none
	Now      string
	Sheets   []string // sheets whose own hash differs, or that came or went
	Known    bool     // the file tells a hash for each sheet

	Cells     int           // input cells that differ, on the sheets that Untold does not name
	Places    []finding.Ref // where they stand; a row that is gone has none
	Gone      int           // of Cells, those in rows that are gone
	Elsewhere []string      // sheets on which equal rows stand in another place
	Untold    []string      // of Sheets, those that came or went or whose cells the file does not tell
}

// Told says how many input cells differ, and on which sheets, as far as the
// file tells.
func (i Inputs) Told() string {
	if i.Recorded == "" {
		return "the Record sheet holds no hash of the inputs"
	}
	var parts []string
	if i.Cells > 0 {
		part := fmt.Sprintf("%d input cells differ", i.Cells)
		if i.Cells == 1 {
			part = "1 input cell differs"
		}
		var on []string
		for _, s := range i.Sheets {
			if !slices.Contains(i.Untold, s) && slices.ContainsFunc(i.Places, func(r finding.Ref) bool { return r.Sheet == s }) {
				on = append(on, s)
			}
		}
		if len(on) > 0 {
			part += ", on " + strings.Join(on, ", ")
		}
		if i.Gone > 0 {
			part += fmt.Sprintf("; %d of them in rows that are gone", i.Gone)
		}
		parts = append(parts, part)
	}
	if len(i.Elsewhere) > 0 {
		parts = append(parts, "rows stand in another place on "+strings.Join(i.Elsewhere, ", "))
	}
	if len(i.Untold) > 0 {
		parts = append(parts, "other than then: "+strings.Join(i.Untold, ", "))
	}
	if len(parts) == 0 {
		return "the input cells are not those the results were made from"
	}
	return strings.Join(parts, "; ")
}

// Changed says that the inputs are others.
func (i Inputs) Changed() bool { return i.Recorded != i.Now }

// Version is one that differs between the results and this program.
type Version struct{ What, Stored, Now string }

// Sampled is a result drawn to be checked by hand.
type Sampled struct {
	Ref     finding.Ref
	What    string
	Stored  string
	Formula string
	Inputs  []string
	More    int
}

// Revisions is what changed between another revision and this one.
type Revisions struct {
	Other   string
	Changes []Change
	Alike   int // cells that hold the same in another unit, to the digits typed

	Made     bool              // the other holds results
	Versions []Version         // of the other's results, where they are not this program's
	Edited   bool              // the other's inputs changed since its results
	Answers  []finding.Finding // of the other, that do not count
	Groups   []Group
}

// Change is one cell of the inputs that differs between two revisions. Ref is
// in the reviewed file, Was in the other; one of them is no cell when the row
// or the sheet is only in one.
type Change struct {
	Ref, Was finding.Ref
	What     string
	Old, New string
}

// Place is where a change stands, in the reviewed file where it can be.
func (c Change) Place() string {
	if c.Ref.Sheet != "" {
		return c.Ref.String()
	}
	return c.Was.String() + " of the other file"
}

// Group is a result that came out otherwise in the other revision, with the
// changed inputs it rests on. A group without a result holds the changes that
// no result rests on.
type Group struct {
	Result   string
	Old, New string
	Changes  []int // in Revisions.Changes
}

// Differs says whether there is anything a reviewer has to look at.
func (r *Review) Differs() bool {
	return len(r.Differences) > 0 || r.Inputs.Changed() || len(r.Versions) > 0 || len(r.Answers) > 0 || len(r.Since) > 0 ||
		r.Against != nil && len(r.Against.Changes) > 0
}

// Findings are the differences as findings: K201 for each result, K202 for
// the inputs.
func (r *Review) Findings() []finding.Finding {
	var list []finding.Finding
	put := func(h finding.Hit, more int) {
		rule, ok := check.Find(h.Rule)
		if !ok {
			panic("review: no rule " + h.Rule)
		}
		do := h.Do
		if do == "" {
			do = rule.Do
		}
		list = append(list, finding.Finding{
			Key: check.Key(h), Rule: h.Rule, Severity: rule.Class.Severity(false), Ref: h.Ref,
			Row: h.Row, Value: h.Value, Message: h.Message, Do: do, Related: h.Related, More: more,
		})
	}
	if r.Inputs.Changed() {
		h := finding.Hit{Rule: "K202", Message: r.Inputs.Told()}
		for _, ref := range r.Inputs.Places[:min(len(r.Inputs.Places), mostPlaces)] {
			h.Related = append(h.Related, finding.Related{Ref: ref})
		}
		put(h, len(r.Inputs.Places)-len(h.Related))
	}
	for _, d := range r.Differences {
		m := fmt.Sprintf("%s: %s stored, %s recomputed", d.What, orNothing(d.Stored), orNothing(d.Recomputed))
		if len(d.Inputs) > 0 {
			m += "; from " + Cells(d.Inputs, d.More)
		}
		put(finding.Hit{Rule: "K201", Kind: d.Ref.Sheet, Subject: d.Ref.Cell(), Ref: d.Ref, Value: d.Stored, Message: m}, 0)
	}
	return list
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}

// Cells lists places, and how many more there are.
func Cells(list []string, more int) string {
	s := strings.Join(list, ", ")
	if more > 0 {
		s += fmt.Sprintf(" and %d more", more)
	}
	return s
}

// Codes of findings that speak of answers: incomplete, or answering nothing.
var aboutAnswers = []string{"Q501", "Q502"}

// Stale takes from a list what it says of answers.
func Stale(list []finding.Finding) []finding.Finding {
	var out []finding.Finding
	for _, f := range list {
		if slices.Contains(aboutAnswers, f.Rule) {
			out = append(out, f)
		}
	}
	return out
}
