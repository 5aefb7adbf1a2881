package workbook

import (
	"encoding/json"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// findingsHeaders are the columns of the program's own Findings sheet that a
// person's answers stand in or beside.
var findingsHeaders = layout.Sheet{Columns: []layout.Column{
	{Header: "Key"},
	{Header: "Value", Also: []string{"Value as typed"}},
	{Header: "Answer"},
	{Header: "Answered by", Also: []string{"By"}},
	{Header: "Date", Also: []string{"Answered on"}},
	{Header: "Until"},
	{Header: "Members"},
	{Header: "Member values"},
}}

func takeAnswers(rows []givenAnswer) []inspection.Answer {
	var answers []inspection.Answer
	for _, r := range rows {
		answers = append(answers, inspection.Answer{
			Row: r.Row, Findings: r.findings, Answer: r.answer, By: r.by, Date: r.date, Until: r.until,
		})
	}
	return answers
}

// answersInFindings reads what people answered in the Findings sheet of a
// results workbook. A value that is no date is kept as a wrong one; the rules
// about answers tell of it.
func answersInFindings(sheet string, g *xlsx.Grid, date1904 bool) []inspection.Answer {
	h := findHeader(g, newVocabulary(&findingsHeaders))
	cols := map[string]int{}
	for _, head := range h.headings {
		if head.def != nil && cols[head.def.Header] == 0 {
			cols[head.def.Header] = head.col
		}
	}
	if cols["Key"] == 0 || cols["Answer"] == 0 {
		return nil
	}
	var answers []inspection.Answer
	for i := range g.Rows {
		row := &g.Rows[i]
		at := func(name string) (cell.Raw, finding.Ref) {
			return row.Cell(cols[name]).Raw, finding.Ref{Sheet: sheet, Col: cols[name], Row: row.Number}
		}
		text := func(name string) inspection.Text {
			raw, ref := at(name)
			f := inspection.Text{Text: typedText(raw, date1904), Ref: ref}
			if said, p := cell.ParseText(raw, date1904); p == nil {
				f.Value, f.State = said.Value, stateOf(said.State)
			} else {
				f.State = inspection.Wrong
			}
			return f
		}
		date := func(name string) inspection.Date {
			raw, ref := at(name)
			f := inspection.Date{Text: typedText(raw, date1904), Ref: ref}
			day, p := cell.ParseDate(raw, date1904)
			f.Value, f.State = day.Value, stateOf(day.State)
			if p != nil {
				f.State = inspection.Wrong
			}
			return f
		}
		a := inspection.Answer{
			Row:    inspection.Row{Sheet: sheet, Number: row.Number},
			Answer: text("Answer"), By: text("Answered by"), Date: date("Date"), Until: date("Until"), InSheet: true,
		}
		key := text("Key")
		if row.Number <= h.last || key.Text == "" ||
			a.Answer.State == inspection.Blank && a.By.State == inspection.Blank && a.Date.State == inspection.Blank {
			continue
		}
		a.Key, a.Value = key.Text, text("Value").Text
		keys := splitKeys(text("Members").Text)
		if len(keys) == 0 {
			keys = []string{key.Text}
		}
		var values []string
		if json.Unmarshal([]byte(text("Member values").Text), &values) == nil && len(values) == len(keys) {
			a.Values = values
		}
		a.Findings = inspection.Labels{Value: keys, State: inspection.Given, Text: key.Text, Ref: key.Ref}
		answers = append(answers, a)
	}
	return answers
}
