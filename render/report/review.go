package report

import (
	"fmt"

	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/rules/review"
)

// How much of a review its one page shows; the workbook beside it has all.
const (
	pageDifferences = 8
	pageSample      = 8
	pageChanges     = 6
)

// Review is the one page of a review: what was compared, what differs, what
// to check by hand. lines are its outcome in pairs.
func Review(a *rules.Assessment, r *review.Review, lines [][2]string, full string) *Report {
	t := a.Inspection.Tank
	status, loud := "Review: nothing differs", false
	if r.Differs() {
		status, loud = "Review: something differs", true
	}
	title := fmt.Sprintf("Tank %s: review of results", t.Tank.Or("not named"))
	out := &Report{
		Title: title, Author: t.FirmName.Or(""), Letter: inspection.Is(t.PageSize, "Letter"), Units: a.Inspection.Units, Strip: true,
		Running: Running{
			Tank: t.Tank.Or("–"), Report: t.ReportNumber.Or("–"), Revision: t.Revision.Or("–"),
			Status: status, Loud: loud, Hash: short(a.Inspection.File.SHA256), Date: a.Inspection.AsOf.String(),
		},
		Cover: Cover{Firm: t.FirmName.Or(""), Heading: title, Status: status, Lines: lines},
	}
	pageDifferences, pageSample, pageChanges := pageDifferences, pageSample, pageChanges
	if g := r.Against; g != nil && len(g.Changes) > 0 && len(r.Differences) > 0 { // three tables and the signature on one page
		pageDifferences, pageSample, pageChanges = 4, 3, 3
	}
	var blocks []Block
	if n := len(r.Differences); n > 0 {
		table := Table{
			Caption: "Results that differ", Dense: true,
			Columns: []Column{{"Cell", Left, 2}, {"Result", Left, 3}, {"Stored", Left, 2}, {"Recomputed", Left, 2}, {"Inputs", Left, 3}},
		}
		for _, d := range r.Differences[:min(n, pageDifferences)] {
			table.Rows = append(table.Rows, Row{Cells: []string{d.Ref.String(), shortened(d.What, 60), shortened(d.Stored, 40), shortened(d.Recomputed, 40), shortened(review.Cells(d.Inputs, d.More), 60)}})
		}
		if n > pageDifferences {
			table.Note = fmt.Sprintf("first %d of %d; all in %s", pageDifferences, n, full)
		}
		blocks = append(blocks, table)
	}
	if g := r.Against; g != nil && len(g.Changes) > 0 {
		table := Table{
			Caption: "Inputs that differ from " + g.Other, Dense: true,
			Columns: []Column{{"Cell", Left, 2}, {"Input", Left, 3}, {"There", Left, 2}, {"Here", Left, 2}},
		}
		for _, c := range g.Changes[:min(len(g.Changes), pageChanges)] {
			table.Rows = append(table.Rows, Row{Cells: []string{c.Place(), shortened(c.What, 60), shortened(c.Old, 40), shortened(c.New, 40)}})
		}
		if n := len(g.Changes); n > pageChanges {
			table.Note = fmt.Sprintf("first %d of %d; all in %s", pageChanges, n, full)
		}
		blocks = append(blocks, table)
	}
	if n := len(r.Sample); n > 0 {
		table := Table{
			Caption: "Check by hand, seed " + r.Seed, Dense: true,
			Columns: []Column{{"Cell", Left, 2}, {"Result", Left, 3}, {"Stored", Right, 1}, {"Formula", Left, 3}, {"By hand", Left, 2}},
		}
		for _, s := range r.Sample[:min(n, pageSample)] {
			table.Rows = append(table.Rows, Row{Cells: []string{s.Ref.String(), shortened(s.What, 60), s.Stored, shortened("="+s.Formula, 60), ""}})
		}
		if n > pageSample {
			table.Note = fmt.Sprintf("first %d of %d; all in %s", pageSample, n, full)
		}
		blocks = append(blocks, table)
	}
	blocks = append(blocks, Signatures{Lines: []Signature{{"Reviewed by", "", "", ""}}})
	out.Sections = []Section{{Number: 1, Name: "Review", Blocks: blocks}}
	return out
}

// shortened keeps a text to the page's cells.
func shortened(s string, runes int) string {
	if r := []rune(s); len(r) > runes {
		return string(r[:runes-1]) + "…"
	}
	return s
}
