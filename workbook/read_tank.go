package workbook

import (
	"fmt"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// readTank reads the item list. Items are found by name, in any order; Units
// is read first, since it decides how the others are read.
func (r *reader) readTank(tb tab) {
	t := r.newTable(tb)
	r.tables[tb.def.Name] = t
	l := itemList{table: t, words: r.words.sheets[tb.def.Name]}
	if !l.findColumns() {
		return
	}
	l.sortItems()
	if c := t.named("Units"); c.col > 0 {
		said, p := cell.ParseWord(l.cell(c).Raw, c.def.Words, c.def.Aliases)
		if p == nil && said.State == cell.Given && c.twin == 0 {
			r.unitsKnown = true
			if said.Value == unit.US.String() {
				r.ins.Units = unit.US
			}
		}
	}
	t.units, t.unitsKnown = r.ins.Units, r.unitsKnown
	for i := range t.columns {
		l.settleUnit(&t.columns[i])
	}
	l.spoilMerged()
	of := t.fields(len(tankSlots), func(i int) string { return tankSlots[i].header })
	for i := range tankSlots {
		if of[i] < 0 {
			continue
		}
		c := &t.columns[of[i]]
		row := dataRow{Row: &xlsx.Row{}, key: c.def.Header, label: c.def.Header}
		var x *xlsx.Cell
		if c.col > 0 {
			row.Row = &t.grid.Rows[l.rows[of[i]]]
			found := l.cell(c)
			x = &found
		}
		t.fill(0, &row, c, x, tankSlots[i].of(&r.ins.Tank))
	}
	t.finish()
}

// itemList is an item list being read: each item is a column of one cell.
type itemList struct {
	*table
	words vocabulary
	item  int // columns of the spreadsheet
	value int
	unit  int
	rows  map[int]int // index in columns → index in grid.Rows
}

func (l *itemList) findColumns() bool {
	for _, h := range l.header.headings {
		at := map[string]*int{"Item": &l.item, "Value": &l.value, "Unit": &l.unit}
		if h.def == nil {
			l.extra = append(l.extra, h)
			continue
		}
		switch p := at[h.def.Header]; {
		case p == nil:
		case *p == 0:
			*p = h.col
		default:
			first := heading{col: *p, row: h.row}
			l.hit(finding.Hit{
				Rule: "S202", Ref: l.headRef(h), Column: h.def.Header, Value: h.text,
				Related: []finding.Related{{Ref: l.headRef(first), Text: "the other column"}},
				Message: fmt.Sprintf("%s (%s), %s (%s) mean the same", h.def.Header, l.headRef(first).Cell(), h.def.Header, l.headRef(h).Cell()),
			})
			return false
		}
	}
	for _, need := range []struct {
		name string
		col  int
	}{{"Item", l.item}, {"Value", l.value}} {
		if need.col == 0 && l.header.known >= 2 {
			l.hit(finding.Hit{
				Rule: "S201", Ref: finding.Ref{Sheet: l.name}, Column: need.name,
				Message: fmt.Sprintf("no column %s; found: %s", need.name, headingTexts(l.header.headings)),
				Do:      fmt.Sprintf("Name it %s.", need.name),
			})
		}
	}
	return l.item > 0 && l.value > 0
}

// sortItems ties the rows to the items they name.
func (l *itemList) sortItems() {
	l.columns = make([]column, len(l.def.Columns))
	l.rows = map[int]int{}
	for i := range l.columns {
		l.columns[i].def = &l.def.Columns[i]
	}
	var unknown []heading
	for n := range l.grid.Rows {
		row := &l.grid.Rows[n]
		if row.Number <= l.header.last {
			continue
		}
		value := row.Cell(l.value)
		head := l.words.read(l.item, typedText(row.Cell(l.item).Raw, l.date1904))
		head.row = row.Number
		if head.def == nil {
			if !value.IsBlank() {
				unknown = append(unknown, head)
			}
			continue
		}
		l.table.rows = append(l.table.rows, dataRow{Row: row, key: head.def.Header, label: head.def.Header})
		l.takeItem(n, head, value.IsBlank())
	}
	for i := range l.columns {
		if c := &l.columns[i]; c.col == 0 && c.def.Required {
			c.broken = true
			ref, question := l.perhaps(c, unknown)
			if question == "" {
				ref = finding.Ref{Sheet: l.name} // an unknown item is nothing odd
			}
			l.hit(finding.Hit{
				Rule: "S201", Ref: ref, Column: c.def.Header,
				Message: "no item " + c.def.Header + question, Do: fmt.Sprintf("Add a row %s.", c.def.Header),
			})
		}
	}
	for _, head := range unknown {
		if c := l.near(head); c != nil {
			l.hit(finding.Hit{
				Rule: "S203", Ref: finding.Ref{Sheet: l.name, Col: l.item, Row: head.row}, Column: head.name, Value: head.text,
				Message: fmt.Sprintf("“%s” not read; %s?", head.text, c.def.Header),
			})
			continue
		}
		l.extra = append(l.extra, head)
	}
}

func (l *itemList) takeItem(n int, head heading, blank bool) {
	c := l.columnOf(head.def)
	for i := range l.columns {
		if &l.columns[i] != c {
			continue
		}
		switch {
		case c.col == 0:
			c.col, c.head, l.rows[i] = l.value, head, n
		case blank:
		case l.cell(c).IsBlank():
			c.head, l.rows[i] = head, n
		default:
			c.twin, c.broken = head.row, true
			second := finding.Ref{Sheet: l.name, Col: l.value, Row: head.row}
			first := finding.Ref{Sheet: l.name, Col: l.value, Row: c.head.row}
			l.hit(finding.Hit{
				Rule: "S202", Ref: second, Column: c.def.Header, Related: []finding.Related{{Ref: first, Text: "the other row"}},
				Value:   typedText(l.grid.At(l.value, head.row).Raw, l.date1904),
				Message: fmt.Sprintf("“%s” (%s), “%s” (%s) mean the same", c.head.text, first.Cell(), head.text, second.Cell()),
			})
		}
	}
}

// cell is the value of an item.
func (l *itemList) cell(c *column) xlsx.Cell { return l.grid.At(l.value, c.head.row) }

// settleUnit takes the unit beside an item, or the one in its name.
func (l *itemList) settleUnit(c *column) {
	if c.col == 0 || c.def.Type != layout.Number {
		return
	}
	inName := c.head.unit
	if l.unit > 0 {
		if typed := oneLine(l.grid.At(l.unit, c.head.row).Text); typed != "" {
			c.head.unit = typed
		}
	}
	a, okA := findUnit(inName)
	b, okB := findUnit(c.head.unit)
	if okA && okB && a != b && a.of == b.of {
		c.broken = true
		l.hit(finding.Hit{
			Rule: "S205", Ref: finding.Ref{Sheet: l.name, Col: l.unit, Row: c.head.row}, Column: c.def.Header, Value: c.head.unit,
			Message: fmt.Sprintf("“%s” stands beside %s", c.head.text, c.head.unit), Do: writeUnit(c.def.Kind),
		})
	}
	l.measure(c)
}

// spoilMerged takes out values that stand in a merge of several rows.
func (l *itemList) spoilMerged() {
	for _, area := range l.grid.Merged {
		if area.Row2 > area.Row1 && area.Row2 > l.header.last && area.Has(l.value, area.Row1) {
			l.merges.spoiled = append(l.merges.spoiled, area)
		}
	}
	l.judgeMerges()
}

// named is the column of a contract header.
func (t *table) named(header string) *column {
	for i := range t.columns {
		if t.columns[i].def.Header == header {
			return &t.columns[i]
		}
	}
	panic("workbook: no column " + header + " in " + t.def.Name)
}

// placeItems describes the item list: no header row, each item a column.
func (t *table) placeItems() inspection.Sheet {
	s := t.place()
	s.Header = 0
	return s
}
