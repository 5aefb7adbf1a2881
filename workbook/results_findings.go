package workbook

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the Findings sheet. A later run reads Key, Value, the answer's
// columns and Members back.
const (
	findKey = iota + 1
	findSeverity
	findRule
	findSheet
	findCell
	findRow
	findValue
	findMessage
	findDo
	findAnswer
	findBy
	findDate
	findUntil
	findRelated
	findMembers
	findValues
)

var findHeaders = []string{"Key", "Severity", "Rule", "Sheet", "Cell", "Row", "Value", "Message", "What to do", "Answer", "Answered by", "Date", "Until", "See also", "Members", "Member values"}

const headFindings = 5

func (rs *results) writeFindings(s *xlsx.NewSheet) {
	c := rs.a.Counts
	s.Row(xlsx.Text("Findings", xlsx.Title))
	s.Row(xlsx.Text(fmt.Sprintf("%s, %s, %s; %s. Every finding is listed here.",
		count(c.Errors, "error"), count(c.Warnings, "unanswered warning"), count(c.Notes, "note"), count(c.Answered, "answered warning")), xlsx.Bold))
	note := s.TallRow(30, xlsx.Text("A warning can be answered in the columns Answer, Answered by and Date (and Until, if the answer is for a time); run the program on this file again and it takes the answers over. Errors have to be put right in their cells.", xlsx.Muted))
	s.Merge(xlsx.Area{Col1: 1, Row1: note, Col2: findDo, Row2: note})
	s.Skip(1)
	cells := make([]xlsx.Entry, len(findHeaders))
	for i, h := range findHeaders {
		cells[i] = xlsx.Text(h, xlsx.Header)
		if col := i + 1; col >= findAnswer && col <= findUntil {
			cells[i].Style = xlsx.HeaderKey
		}
	}
	s.Row(cells...)
	s.Width(findKey, findKey, 26)
	s.Width(findSeverity, findRule, 9)
	s.Width(findSheet, findRow, 14)
	s.Width(findValue, findValue, 14)
	s.Width(findMessage, findDo, 48)
	s.Width(findAnswer, findAnswer, 36)
	s.Width(findBy, findUntil, 14)
	s.Width(findRelated, findRelated, 60)
	s.HideColumns(findMembers, findValues)
	s.FreezeRow = headFindings
	s.Print.TitleRows = strconv.Itoa(headFindings)
	given := rs.givenAnswers()
	for i := range rs.a.Findings {
		rs.writeFinding(s, &rs.a.Findings[i], given)
	}
	if n := len(rs.a.Findings); n > 0 {
		s.Filter(xlsx.Area{Col1: 1, Row1: headFindings, Col2: len(findHeaders), Row2: headFindings + n})
	}
	rs.writeLoose(s, given)
}

func (rs *results) writeFinding(s *xlsx.NewSheet, f *finding.Finding, given map[string][]*inspection.Answer) {
	row := s.Next()
	look := map[finding.Severity]xlsx.Style{finding.Note: xlsx.Muted, finding.Warning: xlsx.Warn}[f.Severity]
	word := f.Severity.String()
	if f.Severity >= finding.Error {
		look = xlsx.Bad
	}
	if f.Answer != nil {
		look, word = xlsx.Good, word+", answered"
	}
	place := f.Range()
	if n := f.Cells(); n > 1 {
		place = strings.TrimPrefix(place+", "+strconv.Itoa(n)+" cells", ", ")
	}
	cellLook := xlsx.Normal
	if f.Ref.IsCell() {
		cellLook = xlsx.Link
		s.LinkTo(findCell, row, f.Ref.String())
	}
	answer, by, date, until := rs.answerCells(f, given)
	s.FitRow(
		xlsx.Text(f.Key, xlsx.Wrapped), xlsx.Text(word, look), xlsx.Text(f.Rule, xlsx.Normal), xlsx.Text(f.Ref.Sheet, xlsx.Wrapped),
		xlsx.Text(place, cellLook), xlsx.Text(f.Row, xlsx.Wrapped), xlsx.Text(f.Value, xlsx.Wrapped), xlsx.Text(f.Message, xlsx.Wrapped), xlsx.Text(f.Do, xlsx.Wrapped),
		answer, by, date, until, xlsx.Text(related(f), xlsx.Wrapped), xlsx.Text(strings.Join(f.Members, ";"), xlsx.Normal),
		xlsx.Text(listed(f.Values), xlsx.Normal),
	)
}

// listed writes the values of a run into one cell, so that each can be held
// against its answer by the next run; "" when they do not fit.
func listed(values []string) string {
	if len(values) == 0 {
		return ""
	}
	b, err := json.Marshal(values)
	if err != nil || len(b) > 32_000 {
		return ""
	}
	return string(b)
}

func related(f *finding.Finding) string {
	var parts []string
	for _, r := range f.Related {
		t := r.Ref.String()
		if r.Text != "" {
			t += " (" + r.Text + ")"
		}
		parts = append(parts, t)
	}
	if f.More > 0 {
		parts = append(parts, fmt.Sprintf("and %d more", f.More))
	}
	return strings.Join(parts, "; ")
}

// answerCells are the open cells for an answer, filled with the one that
// counts, or with one given here before that does not count yet.
func (rs *results) answerCells(f *finding.Finding, given map[string][]*inspection.Answer) (answer, by, date, until xlsx.Entry) {
	for i, a := range given[f.Key] {
		if a.Value != f.Value || f.Answer != nil && f.Answer.Ref != a.Answer.Ref {
			continue
		}
		given[f.Key] = slices.Delete(given[f.Key], i, i+1)
		return xlsx.Text(a.Answer.Text, xlsx.InputWrap), xlsx.Text(a.By.Text, xlsx.InputText), rs.dateCell(a.Date), rs.dateCell(a.Until)
	}
	answer, by, date, until = xlsx.Blank(xlsx.InputWrap), xlsx.Blank(xlsx.InputText), xlsx.Blank(xlsx.InputDate), xlsx.Blank(xlsx.InputDate)
	if f.Answer == nil {
		return answer, by, date, until
	}
	for i := range rs.a.Inspection.Answers {
		// given for a run that has since come apart: each part carries it on
		if a := &rs.a.Inspection.Answers[i]; a.InSheet && a.Answer.Ref == f.Answer.Ref {
			return xlsx.Text(a.Answer.Text, xlsx.InputWrap), xlsx.Text(a.By.Text, xlsx.InputText), rs.dateCell(a.Date), rs.dateCell(a.Until)
		}
	}
	// Given in the Answers sheet, which stays: shown here, not given twice.
	text := func(t string) xlsx.Entry { return xlsx.Text(t, xlsx.Muted) }
	return text(""), text(""), text(""), text("answered in " + f.Answer.Ref.String())
}

func (rs *results) dateCell(f inspection.Date) xlsx.Entry {
	if f.OK() {
		return xlsx.Date(f.Value-unit.Date(rs.since), xlsx.InputDate)
	}
	return xlsx.Text(f.Text, xlsx.InputText)
}

// givenAnswers are the answers that stand in the Findings sheet of the input,
// by key.
func (rs *results) givenAnswers() map[string][]*inspection.Answer {
	given := map[string][]*inspection.Answer{}
	for i := range rs.a.Inspection.Answers {
		if a := &rs.a.Inspection.Answers[i]; a.InSheet {
			given[a.Key] = append(given[a.Key], a)
		}
	}
	return given
}

// writeLoose keeps answers whose finding is gone or has another value now:
// nothing a person wrote is dropped.
func (rs *results) writeLoose(s *xlsx.NewSheet, given map[string][]*inspection.Answer) {
	headed := false
	for i := range rs.a.Inspection.Answers {
		a := &rs.a.Inspection.Answers[i]
		if !slices.Contains(given[a.Key], a) {
			continue
		}
		if !headed {
			headed = true
			s.Skip(1)
			s.Row(xlsx.Text("Answers given before that belong to no finding of this run", xlsx.Heading))
		}
		cells := make([]xlsx.Entry, len(findHeaders))
		cells[findKey-1], cells[findValue-1] = xlsx.Text(a.Key, xlsx.Wrapped), xlsx.Text(a.Value, xlsx.Wrapped)
		cells[findAnswer-1], cells[findBy-1] = xlsx.Text(a.Answer.Text, xlsx.InputWrap), xlsx.Text(a.By.Text, xlsx.InputText)
		cells[findDate-1], cells[findUntil-1] = rs.dateCell(a.Date), rs.dateCell(a.Until)
		if a.Findings.Value != nil {
			cells[findMembers-1] = xlsx.Text(strings.Join(a.Findings.Value, ";"), xlsx.Normal)
			cells[findValues-1] = xlsx.Text(listed(a.Values), xlsx.Normal)
		}
		s.Row(cells...)
	}
}
