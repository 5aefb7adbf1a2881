package workbook

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"platebook/rules/finding"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// farBelow is how many blank rows part a table from what is no longer of it.
const farBelow = 50

// sortRows tells records from totals, notes and stray cells. Blank rows are
// skipped and never the end of the table.
func (t *table) sortRows() {
	cells := make([]*xlsx.Cell, len(t.columns))
	last, far := t.header.last, false
	for i := range t.grid.Rows {
		x := &t.grid.Rows[i]
		if x.Number <= t.header.last || !slices.ContainsFunc(x.Cells, func(c xlsx.Cell) bool { return !c.IsBlank() }) {
			continue
		}
		row := dataRow{Row: x}
		t.spread(&row, cells)
		far = far || x.Number-last > farBelow
		last = x.Number
		switch {
		case far && !t.complete(cells):
			t.strayCells(&row)
		case t.repeatsHeaders(x):
			t.noteRow(&row, "repeats the headers, not read as data")
		case t.isTotal(x, cells) || t.isNote(x, cells):
			t.noteRow(&row, "not read as data")
		case !t.holdsData(x):
			t.countHeadless(x)
		default:
			far = false
			t.countHeadless(x)
			t.learnCommas(x)
			t.rows = append(t.rows, row)
		}
	}
}

// holdsData says whether any read column of the row is filled by the row
// itself, not only by a merge from above.
func (t *table) holdsData(x *xlsx.Row) bool {
	return slices.ContainsFunc(x.Cells, func(c xlsx.Cell) bool { return t.byCol[c.Col] > 0 && !c.IsBlank() })
}

// complete says whether every required cell is filled.
func (t *table) complete(cells []*xlsx.Cell) bool {
	for i := range t.columns {
		c := &t.columns[i]
		if c.def.Required && c.col > 0 && (cells[i] == nil || cells[i].IsBlank()) {
			return false
		}
	}
	return true
}

var totalWords = map[string]bool{
	"total": true, "totals": true, "subtotal": true, "subtotals": true, "sum": true, "sums": true,
	"average": true, "averages": true, "avg": true, "mean": true, "min": true, "minimum": true, "max": true, "maximum": true,
	"count": true, "note": true, "notes": true, "legend": true,
}

// isTotal says whether a row begins like a total and holds no other word a
// record needs. A number beside the word is no objection: a total has one.
func (t *table) isTotal(x *xlsx.Row, cells []*xlsx.Cell) bool {
	first := firstFilled(x)
	if first.Type != cell.String || !totalWords[firstWord(first.Text)] {
		return false
	}
	numbers, empty, needed := 0, 0, 0
	for i := range t.columns {
		c := &t.columns[i]
		if !c.def.Required || c.col == 0 || c.col == first.Col {
			continue
		}
		needed++
		switch {
		case cells[i] == nil || cells[i].IsBlank():
			empty++
		case c.def.Type == layout.Number || cells[i].Type == cell.Number || cells[i].Formula != "":
			numbers++
		default:
			return false
		}
	}
	if needed == 0 { // nothing else to judge by: Minimum thickness is a criterion
		rest := strings.TrimLeftFunc(strings.TrimSpace(first.Text), unicode.IsLetter)
		return strings.Trim(rest, " :=.,0123456789") == ""
	}
	return empty > 0 || numbers <= 1
}

// isNote says whether the row holds a single text that is no record: beside
// the key, merged over several columns, or a whole sentence.
func (t *table) isNote(x *xlsx.Row, cells []*xlsx.Cell) bool {
	var only *xlsx.Cell
	for i := range x.Cells {
		c := &x.Cells[i]
		if c.IsBlank() {
			continue
		}
		if _, other := t.headless[c.Col]; only != nil || other {
			return false
		}
		only = c
	}
	if only == nil || only.Type != cell.String || len(t.columns) < 2 {
		return false
	}
	for _, area := range t.merges.banners {
		if area.Row1 == x.Number && area.Has(only.Col, x.Number) {
			return true
		}
	}
	text := oneLine(only.Text)
	if len([]rune(text)) > 24 && strings.Count(text, " ") >= 3 && !t.isName(only, text) {
		return true
	}
	for _, name := range t.def.Key {
		for i := range t.columns {
			if c := &t.columns[i]; c.def.Header == name && c.def.Required && c.col > 0 && (cells[i] == nil || cells[i].IsBlank()) {
				return true
			}
		}
	}
	return false
}

// isName says whether a long text is one the sheet itself prints: a criterion
// or a section of the report.
func (t *table) isName(c *xlsx.Cell, text string) bool {
	if t.def.Name == "Criteria" {
		return true
	}
	at := t.byCol[c.Col]
	if at == 0 {
		return false
	}
	_, ok := t.columns[at-1].def.Word(text)
	return ok
}

// repeatsHeaders finds a header row printed again at the head of a page.
func (t *table) repeatsHeaders(x *xlsx.Row) bool {
	same, filled := 0, 0
	for i := range x.Cells {
		c := &x.Cells[i]
		at := t.byCol[c.Col]
		if at == 0 || c.IsBlank() {
			continue
		}
		filled++
		if c.Type == cell.String && foldHeader(c.Text) == t.columns[at-1].folded {
			same++
		} else if filled == 1 {
			return false // the usual row, for little
		}
	}
	return same >= 2 && 2*same > filled
}

func firstFilled(x *xlsx.Row) *xlsx.Cell {
	for i := range x.Cells {
		if !x.Cells[i].IsBlank() {
			return &x.Cells[i]
		}
	}
	return &xlsx.Cell{}
}

// firstWord is the first word of a text, in lower case, its letters alone.
func firstWord(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.Replace(text, "sub-total", "subtotal", 1)
	end := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
	if end < 0 {
		return text
	}
	if r := rune(text[end]); r == '-' || r == '_' || unicode.IsDigit(r) {
		return "" // Max-3 is a label
	}
	return text[:end]
}

func (t *table) noteRow(row *dataRow, what string) {
	first := firstFilled(row.Row)
	text := typedText(first.Raw, t.date1904)
	t.nameByTexts(row)
	t.rowHit(row, finding.Hit{
		Rule: "S304", Ref: finding.Ref{Sheet: t.name, Col: first.Col, Row: row.Number}, Value: text,
		Message: fmt.Sprintf("“%s” %s", shorten(text, 60), what),
	})
}

func (t *table) strayCells(row *dataRow) {
	t.nameByTexts(row)
	for i := range row.Cells {
		c := &row.Cells[i]
		if c.IsBlank() {
			continue
		}
		column := finding.ColumnName(c.Col)
		if at := t.byCol[c.Col]; at > 0 {
			column = t.columns[at-1].def.Header
		}
		text := typedText(c.Raw, t.date1904)
		t.rowHit(row, finding.Hit{
			Rule: "S305", Ref: finding.Ref{Sheet: t.name, Col: c.Col, Row: row.Number}, Column: column, Value: text,
			Message: shorten(text, 60) + " far below the table",
		})
	}
}

// countHeadless counts values under an empty header.
func (t *table) countHeadless(x *xlsx.Row) {
	for i := range x.Cells {
		c := &x.Cells[i]
		if _, known := t.headless[c.Col]; c.IsBlank() || known || t.byCol[c.Col] > 0 {
			continue
		}
		if t.orphans == nil {
			t.orphans = map[int]*spots{}
		}
		if t.orphans[c.Col] == nil {
			t.orphans[c.Col] = &spots{}
		}
		t.orphans[c.Col].add(finding.Ref{Sheet: t.name, Col: c.Col, Row: x.Number})
	}
}

func shorten(text string, runes int) string {
	r := []rune(text)
	if len(r) <= runes {
		return text
	}
	return string(r[:runes-1]) + "…"
}
