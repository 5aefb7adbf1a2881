package workbook

import (
	"slices"
	"strings"

	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// findings compares the findings by their keys: one that the reading of a
// results workbook itself adds is none.
func (v *reviewer) findings(name string, g *xlsx.Grid) {
	type entry struct{ severity, message string }
	now := map[string]entry{}
	var keys []string
	for row := range v.draft.NewSheet(name).EachWritten() {
		if row.Number <= headFindings || find(row, findRule).Text == "" || find(row, findRule).Text == "F204" {
			continue
		}
		if len(v.renamed) > 0 && find(row, findRule).Text == "S105" {
			continue // a renamed sheet of results is told as one
		}
		key := find(row, findKey).Text
		now[key] = entry{bareSeverity(find(row, findSeverity).Text), find(row, findMessage).Text}
		keys = append(keys, key)
	}
	seen := map[string]bool{}
	for i := range g.Rows {
		row := &g.Rows[i]
		key := row.Cell(findKey).Text
		if row.Number <= headFindings || row.Cell(findRule).Text == "" || row.Cell(findRule).Text == "F204" {
			continue
		}
		if v.r.Unseen > 0 && slices.Contains(check.OfPictures, row.Cell(findRule).Text) {
			continue
		}
		v.r.Compared++
		seen[key] = true
		ref := finding.Ref{Sheet: name, Col: findKey, Row: row.Number}
		was, is := entry{bareSeverity(row.Cell(findSeverity).Text), row.Cell(findMessage).Text}, now[key]
		switch {
		case is == (entry{}):
			v.differ(ref, finding.Ref{}, "finding "+key, was.severity+": "+was.message, "")
		case was != is:
			ref.Col = findMessage
			v.differ(ref, finding.Ref{}, "finding "+key, was.severity+": "+was.message, is.severity+": "+is.message)
		}
	}
	for _, key := range keys {
		if !seen[key] {
			v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "finding "+key, "", now[key].severity+": "+now[key].message)
		}
	}
}

func bareSeverity(text string) string { return strings.TrimSuffix(text, ", answered") }
