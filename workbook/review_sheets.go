package workbook

import (
	"context"
	"strconv"

	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/rules/spelling"
	"platebook/workbook/save"
	"platebook/workbook/xlsx"
)

// WriteReview writes a review as a workbook of its own, with columns for what
// the reviewer finds by hand.
func WriteReview(ctx context.Context, out string, inputs []string, b *Book, r *review.Review, rec Record) (path string, err error) {
	d := xlsx.NewDraft("Review of " + b.File.Name)
	d.Properties = []xlsx.Property{{Name: reviewProperty, Value: b.Inspection.File.SHA256}}
	reviewSheet(d, b, r, rec)
	differencesSheet(d, r)
	sampleSheet(d, r)
	if r.Against != nil {
		revisionsSheet(d, r.Against)
	}
	return save.Save(ctx, out, inputs, d.Write, func(path string) error { _, err := xlsx.Open(path); return err })
}

// mostNamed is how many changed cells a review's outcome names; its findings
// name more.
const mostNamed = 4

// ReviewLines are a review's outcome in pairs of question and answer.
func ReviewLines(file string, sha string, r *review.Review, rec Record) [][2]string {
	lines := [][2]string{
		{"Reviewed file", file},
		{"SHA-256 of the file", sha},
		{"Reviewed with", "platebook " + rec.Version + ", rule set " + rec.Rules},
		{"Results compared", strconv.Itoa(r.Compared)},
		{"Results that differ", strconv.Itoa(len(r.Differences))},
	}
	if r.Unstored > 0 {
		lines = append(lines, [2]string{"Results without a stored value", strconv.Itoa(r.Unstored) + ", not compared: saved by a program that does not calculate; open and save it in a spreadsheet program"})
	}
	inputs := "as the results were made from"
	switch {
	case r.Inputs.Recorded == "":
		inputs = "not known: the Record sheet holds no hash"
	case r.Inputs.Changed():
		inputs = "changed since the results: " + r.Inputs.Told()
		if n := len(r.Inputs.Places); n > 0 {
			var first []string
			for _, ref := range r.Inputs.Places[:min(n, mostNamed)] {
				first = append(first, ref.String())
			}
			inputs += ": " + review.Cells(first, n-len(first))
		}
	}
	lines = append(lines, [2]string{"Inputs", inputs})
	if r.TimeBase != "" {
		lines = append(lines, [2]string{"Time base", r.TimeBase})
	}
	if r.Unseen > 0 {
		lines = append(lines, [2]string{"Photos", count(r.Unseen, "photo") + " named, none beside the file: not looked at"})
	}
	for _, v := range r.Versions {
		lines = append(lines, [2]string{"Another " + v.What, v.Stored + " then, " + v.Now + " now"})
	}
	lines = append(lines, [2]string{"Answers that do not count", strconv.Itoa(len(r.Answers))}, [2]string{"Answers given since", strconv.Itoa(len(r.Since))})
	lines = append(lines, [2]string{"Sample to check by hand", strconv.Itoa(len(r.Sample)) + " results, seed " + r.Seed + " (the beginning of the file's SHA-256)"})
	if a := r.Against; a != nil {
		told := count(len(a.Changes), "changed input cell")
		if a.Alike > 0 {
			told += "; " + count(a.Alike, "other cell") + " the same in another unit, to the digits typed"
		}
		lines = append(lines, [2]string{"Against " + a.Other, told})
		lines = append(lines, otherLines(a)...)
	}
	return lines
}

// otherLines tell what a reader has to know of the other revision: both are run
// again by this program, whatever stands in their results.
func otherLines(a *review.Revisions) (lines [][2]string) {
	put := func(told string) { lines = append(lines, [2]string{"Of " + a.Other, told}) }
	if !a.Made {
		put("it holds no results; run for this comparison")
	}
	for _, v := range a.Versions {
		put("results by another " + v.What + ": " + v.Stored + " then, " + v.Now + " now; run again for this comparison")
	}
	if a.Edited {
		put("inputs changed since its results; compared as they stand now")
	}
	if n := len(a.Answers); n > 0 {
		put(spelling.Count(n, "answer that does", "answers that do") + " not count")
	}
	return lines
}

func newReviewSheet(d *xlsx.Draft, name, title string, widths ...float64) *xlsx.NewSheet {
	s := d.Sheet(name)
	s.Print = xlsx.Print{Landscape: true, FitWidth: true, Footer: "&L&A&R&P of &N"}
	for i, w := range widths {
		s.Width(i+1, i+1, w)
	}
	s.Row(xlsx.Text(title, xlsx.Title))
	return s
}

func heads(s *xlsx.NewSheet, list ...string) {
	row := make([]xlsx.Entry, len(list))
	for i, h := range list {
		row[i] = xlsx.Text(h, xlsx.Header)
	}
	s.FreezeRow = s.FitRow(row...)
}

func wrapped(list ...string) []xlsx.Entry {
	row := make([]xlsx.Entry, len(list))
	for i, t := range list {
		row[i] = xlsx.Text(t, xlsx.Wrapped)
	}
	return row
}

func reviewSheet(d *xlsx.Draft, b *Book, r *review.Review, rec Record) {
	s := newReviewSheet(d, "Review", "Review", 34, 90)
	verdict, look := "Nothing differs", xlsx.Good
	if r.Differs() {
		verdict, look = "Something differs: see below and the next sheets", xlsx.Bad
	}
	s.Row(xlsx.Text(verdict, look))
	s.Skip(1)
	for _, l := range ReviewLines(b.File.Name, b.Inspection.File.SHA256, r, rec) {
		s.FitRow(xlsx.Text(l[0], xlsx.Muted), xlsx.Text(l[1], xlsx.Wrapped))
	}
	for _, f := range r.Answers {
		s.FitRow(xlsx.Text("answer, "+f.Place(), xlsx.Warn), xlsx.Text(f.Rule+": "+f.Message, xlsx.Wrapped))
	}
	for _, key := range r.Since {
		s.FitRow(xlsx.Text("answered since the results", xlsx.Warn), xlsx.Text(key, xlsx.Wrapped))
	}
	s.Skip(1)
	for _, role := range []string{"Reviewed by", "Date", "Signature"} {
		s.Row(xlsx.Text(role, xlsx.Muted), xlsx.Blank(xlsx.InputText))
	}
}

func differencesSheet(d *xlsx.Draft, r *review.Review) {
	s := newReviewSheet(d, "Differences", "Results that differ", 26, 44, 24, 24, 60)
	heads(s, "Cell", "Result", "Stored", "Recomputed", "Inputs it depends on")
	for _, v := range r.Differences {
		s.FitRow(wrapped(v.Ref.String(), v.What, v.Stored, v.Recomputed, review.Cells(v.Inputs, v.More))...)
	}
	if len(r.Differences) == 0 {
		s.Row(xlsx.Text("none", xlsx.Good))
	}
}

func sampleSheet(d *xlsx.Draft, r *review.Review) {
	s := newReviewSheet(d, "Sample", "Results to check by hand", 26, 44, 16, 50, 50, 18, 18)
	s.Row(xlsx.Text("Drawn with the seed "+r.Seed+", the beginning of the file's SHA-256: the same file gives the same sample.", xlsx.Quiet))
	heads(s, "Cell", "Result", "Stored", "Formula", "Inputs it depends on", "By hand", "Agrees")
	for _, v := range r.Sample {
		row := wrapped(v.Ref.String(), v.What, v.Stored, v.Formula, review.Cells(v.Inputs, v.More))
		s.FitRow(append(row, xlsx.Blank(xlsx.InputText), xlsx.Blank(xlsx.InputText))...)
	}
}

func revisionsSheet(d *xlsx.Draft, a *review.Revisions) {
	s := newReviewSheet(d, "Revisions", "Inputs that differ from "+a.Other+", by the results that changed", 44, 24, 24, 30, 44, 24, 24)
	heads(s, "Result", "There", "Here", "Cell", "Input", "There", "Here")
	for _, g := range a.Groups {
		for i, n := range g.Changes {
			c := a.Changes[n]
			row := wrapped("", "", "", c.Place(), c.What, c.Old, c.New)
			if i == 0 {
				copy(row, wrapped(g.Result, g.Old, g.New))
			}
			s.FitRow(row...)
		}
		if len(g.Changes) == 0 {
			s.FitRow(wrapped(g.Result, g.Old, g.New, "no changed input leads to it by formulas")...)
		}
	}
	if len(a.Changes) == 0 {
		s.Row(xlsx.Text("none", xlsx.Good))
	}
}

// changeRef is the place of a change in one of two files.
func changeRef(sheet string, col, row int) finding.Ref {
	return finding.Ref{Sheet: sheet, Col: col, Row: row}
}
