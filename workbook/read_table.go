package workbook

import (
	"context"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// table is one sheet on its way from cells to records.
type table struct {
	def        *layout.Sheet
	name       string // as the workbook spells it
	grid       *xlsx.Grid
	header     header
	units      unit.System
	unitsKnown bool
	date1904   bool

	columns    []column     // one for each contract column, in the contract's order
	byCol      map[int]int  // spreadsheet column → index in columns + 1
	headless   map[int]bool // spreadsheet columns with a header of their own that is not read: false
	extra      []heading    // columns that are left alone
	orphans    map[int]*spots
	merges     merges
	rows       []dataRow
	keys       map[string]int
	hits       []finding.Hit
	links      []link
	unprinted  func(text string) []rune
	lettered   spots  // cells with letters that the report cannot print
	letters    []rune // those
	visibility xlsx.Visibility
}

// dataRow is one row that is a record.
type dataRow struct {
	*xlsx.Row
	key   string // as checks name the row
	label string // as a person would name it
}

// link is a formula of a read cell that points to another file.
type link struct {
	ref    finding.Ref
	number int    // of the workbook's list of links, from 1; 0 when named
	file   string // when named in the formula itself
}

func (r *reader) newTable(t tab) *table {
	return &table{
		def: t.def, name: t.sheet.Name, grid: t.grid, header: t.header,
		units: r.ins.Units, unitsKnown: r.unitsKnown, date1904: r.book.Date1904, visibility: t.sheet.Visibility,
		byCol: map[int]int{}, headless: map[int]bool{}, keys: map[string]int{},
		unprinted: r.unprinted,
	}
}

func (t *table) hit(h finding.Hit) {
	h.Kind = t.def.Name
	t.hits = append(t.hits, h)
}

func (t *table) rowHit(row *dataRow, h finding.Hit) {
	h.Subject, h.Row = row.key, row.label
	t.hit(h)
}

// prepare settles columns and rows, all that can be known before a label's
// home spelling is.
func (t *table) prepare() {
	t.mapColumns()
	t.sortMerges()
	t.sortRows()
}

// readTable turns the rows of a prepared table into records.
func readTable[T any](ctx context.Context, t *table, slots []slot[T], place func(*T) *inspection.Row) []T {
	t.judgeMerges()
	of := t.fields(len(slots), func(i int) string { return slots[i].header })
	records := make([]T, len(t.rows))
	cells := make([]*xlsx.Cell, len(t.columns))
	for n := range t.rows {
		if n%1024 == 0 && ctx.Err() != nil {
			return nil
		}
		row := &t.rows[n]
		*place(&records[n]) = inspection.Row{Sheet: t.name, Number: row.Number, Key: row.key}
		t.spread(row, cells)
		for i := range slots {
			if c := of[i]; c >= 0 {
				t.fill(n, row, &t.columns[c], cells[c], slots[i].of(&records[n]))
			}
		}
	}
	t.finish()
	return records
}

// fields gives the index of the column behind each slot.
func (t *table) fields(n int, header func(int) string) []int {
	of := make([]int, n)
	for i := range of {
		of[i] = -1
		for c := range t.columns {
			if t.columns[c].def.Header == header(i) {
				of[i] = c
			}
		}
	}
	return of
}

// spread lays the cells of a row under their columns. A cell inside a merge of
// labels is the merge's first cell.
func (t *table) spread(row *dataRow, cells []*xlsx.Cell) {
	clear(cells)
	for i := range row.Cells {
		c := &row.Cells[i]
		at := t.byCol[c.Col]
		if at == 0 || cells[at-1] != nil && !cells[at-1].IsBlank() {
			continue // of two columns of one meaning, the filled cell
		}
		cells[at-1] = c
	}
	for _, i := range t.merges.fillOf[row.Number] {
		cells[t.merges.filled[i].column] = t.merges.filled[i].first
	}
}

// place describes the sheet for whoever needs its headers later.
func (t *table) place() inspection.Sheet {
	s := inspection.Sheet{
		Kind: t.def.Name, Name: t.name, Header: t.header.first,
		Columns: make(map[string]inspection.Column, len(t.columns)), Rows: len(t.rows),
	}
	if len(t.rows) > 0 {
		s.LastRow = t.rows[len(t.rows)-1].Number
	}
	for i := range t.columns {
		c := &t.columns[i]
		if c.col == 0 || c.twin > 0 {
			continue
		}
		scale := 1.0
		if c.def.Type == layout.Number {
			scale = c.want.Scale
		}
		s.Columns[c.def.Header] = inspection.Column{Col: c.col, Header: c.head.text, Unit: c.head.unit, Scale: scale}
	}
	return s
}
