package workbook

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// A workbook is often made from the last job's. Its header, footer, title or
// a sheet's name may still speak of that job.

// printCodes are what a header or footer holds beside its text: &P the page,
// &"Arial,Bold" a font, &8 its size.
var printCodes = regexp.MustCompile(`&("[^"]*"|K[0-9A-Fa-f]{6}|\d{1,3}|[A-Za-z])`)

// namedTank is “Tank 12”, “tank no. T-12”.
var namedTank = regexp.MustCompile(`(?i)\btank\s*(?:no\.?|number|#)?\s*([a-z]{0,4}-?\d+[a-z]?)\b`)

// otherJobs reports texts around the cells that name another report or tank.
func (r *reader) otherJobs(tabs []tab) {
	job := jobNames{
		report:   saidIn(r.ins.Tank.ReportNumber),
		previous: saidIn(r.ins.Tank.PreviousReportNumber),
		tank:     saidIn(r.ins.Tank.Tank),
	}
	tell := func(what, kind string, ref finding.Ref, text string) {
		if message := job.other(what, text); message != "" {
			r.hit(finding.Hit{Rule: "Q602", Kind: kind, Ref: ref, Subject: strings.TrimSpace(ref.Sheet + " " + what), Value: text, Message: message})
		}
	}
	tell("document title", "", finding.Ref{}, oneLine(r.book.Title))
	for _, t := range tabs {
		ref, kind := finding.Ref{Sheet: t.sheet.Name}, ""
		if t.def != nil {
			kind = t.def.Name
		}
		tell("sheet name", kind, ref, t.sheet.Name)
		for _, text := range t.grid.HeaderFooter {
			tell("header or footer", kind, ref, oneLine(printCodes.ReplaceAllString(strings.ReplaceAll(text, "&&", "+"), " ")))
		}
	}
}

func saidIn(f inspection.Text) string {
	if !f.OK() {
		return ""
	}
	return f.Value
}

type jobNames struct{ report, previous, tank string }

// other is what a text says of another job, "" when it says nothing.
func (j jobNames) other(what, text string) string {
	if shape := shapeOf(j.report); len([]rune(j.report)) >= 5 && digitsIn(j.report) >= 2 {
		for _, word := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;:()[]“”\"", r) }) {
			word = strings.TrimRight(word, ".")
			if shapeOf(word) == shape && !sameLabel(word, j.report) && !sameLabel(word, j.previous) {
				return fmt.Sprintf("%s says %s; this is %s", what, word, j.report)
			}
		}
	}
	if digitsIn(j.tank) == 0 {
		return ""
	}
	for _, m := range namedTank.FindAllStringSubmatch(text, -1) {
		if !sameLabel(m[1], j.tank) && numbersOf(m[1]) != numbersOf(j.tank) {
			return fmt.Sprintf("%s says Tank %s; this is %s", what, m[1], j.tank)
		}
	}
	return ""
}

func sameLabel(a, b string) bool { return inspection.Fold(a) == inspection.Fold(b) }

// shapeOf is a report number with its letters and digits made equal: one run
// of digits is like another, TF-2026-014 like TF-2025-3.
func shapeOf(s string) string {
	var b strings.Builder
	digits := false
	for _, r := range s {
		switch {
		case unicode.IsDigit(r):
			if !digits {
				b.WriteByte('9')
			}
			digits = true
			continue
		case unicode.IsLetter(r):
			b.WriteByte('A')
		default:
			b.WriteRune(r)
		}
		digits = false
	}
	return b.String()
}

func digitsIn(s string) int {
	n := 0
	for _, r := range s {
		if unicode.IsDigit(r) {
			n++
		}
	}
	return n
}

// numbersOf is the digits of a label without leading zeros: T-07 and Tank 7
// name one tank.
func numbersOf(s string) string {
	var groups []string
	for _, g := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsDigit(r) }) {
		groups = append(groups, strings.TrimLeft(g, "0"))
	}
	return strings.Join(groups, "-")
}
