package xlsx

import (
	"iter"
	"math"
	"slices"
	"sort"
	"strconv"

	"platebook/workbook/cell"
)

// Written is a cell of a sheet being made, for holding it against a stored
// one.
type Written struct {
	Col     int
	Type    cell.Type
	Number  float64
	Text    string
	Formula string
	Style   Style
}

// WrittenRow is a row of a sheet being made that holds something.
type WrittenRow struct {
	Number int
	Cells  []Written
}

// NewSheet is the sheet of a name, nil without one.
func (d *Draft) NewSheet(name string) *NewSheet {
	for _, s := range d.sheets {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// Written gives the rows as they would be read back: without cells that hold
// nothing, a number that is none as blank, a text as far as a cell holds it.
func (s *NewSheet) Written() []WrittenRow {
	var rows []WrittenRow
	for row := range s.EachWritten() {
		row.Cells = slices.Clone(row.Cells)
		for i := range row.Cells {
			row.Cells[i].Text = row.Cells[i].Plain()
		}
		rows = append(rows, row)
	}
	return rows
}

// EachWritten is Written row by row, for what need not be whole in memory: the
// cells of a row hold until the next, and the text of a number is left out.
func (s *NewSheet) EachWritten() iter.Seq[WrittenRow] {
	return func(yield func(WrittenRow) bool) {
		var cells []Written
		for r := range s.all() {
			cells = appendWritten(cells[:0], r.cells)
			if len(cells) > 0 && !yield(WrittenRow{Number: r.number, Cells: cells}) {
				return
			}
		}
	}
}

// WrittenRow is one row as EachWritten gives it, without cells when it holds
// nothing. It is made anew each time.
func (s *NewSheet) WrittenRow(number int) WrittenRow {
	row := WrittenRow{Number: number}
	i := sort.Search(len(s.rows), func(i int) bool { return s.rows[i].number >= number })
	if i == len(s.rows) {
		return row
	}
	r := &s.rows[i]
	switch m := r.many; {
	case m.rows > 0:
		cells := make([]Entry, m.wide)
		m.write(number-r.number+m.rows-1, cells)
		row.Cells = appendWritten(nil, cells)
	case r.number == number:
		row.Cells = appendWritten(nil, r.cells)
	}
	return row
}

func appendWritten(cells []Written, entries []Entry) []Written {
	for i := range entries {
		e := &entries[i]
		w := Written{Col: i + 1, Number: e.number, Text: clip(e.text), Formula: e.formula, Style: e.Style}
		switch {
		case e.kind == entryNumber && !math.IsNaN(e.number) && !math.IsInf(e.number, 0):
			w.Type = cell.Number
		case e.kind == entryText && (e.text != "" || e.formula != ""):
			w.Type = cell.String
		case e.kind == entryBool:
			w.Type, w.Text = cell.Bool, "FALSE"
			if e.number != 0 {
				w.Text = "TRUE"
			}
		case e.kind == entryError:
			w.Type = cell.Error
		}
		if w.Type != cell.Blank || w.Formula != "" {
			cells = append(cells, w)
		}
	}
	return cells
}

// Plain is the text of a cell, a number with all its digits.
func (w Written) Plain() string {
	if w.Type == cell.Number {
		return strconv.FormatFloat(w.Number, 'g', -1, 64)
	}
	return w.Text
}

// LinkOf is the place a cell leads to, "" without a link.
func (s *NewSheet) LinkOf(col, row int) string {
	for _, l := range s.links {
		if l.col == col && l.row == row {
			return l.target
		}
	}
	return ""
}

// RowLinks gives the places that the cells of a row lead to, in the order in
// which they were linked.
func (s *NewSheet) RowLinks() func(row int) []string {
	order := make([]int32, len(s.links))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return s.links[a].row - s.links[b].row })
	return func(row int) (targets []string) {
		i := sort.Search(len(order), func(i int) bool { return s.links[order[i]].row >= row })
		for ; i < len(order) && s.links[order[i]].row == row; i++ {
			targets = append(targets, s.links[order[i]].target)
		}
		return targets
	}
}

// Decimals is how many decimals a style shows; ok is false for a style that
// shows a number as it is.
func (st Style) Decimals() (n int, ok bool) {
	switch st {
	case Whole, DateISO, InputDate, PlainDate:
		return 0, true
	case Fixed1, Percent1:
		return 1, true
	case Fixed2:
		return 2, true
	case Fixed3:
		return 3, true
	case Fixed4:
		return 4, true
	case Precise:
		return 6, true
	}
	return 0, false
}

// Heads says whether a style is that of a column's header.
func (st Style) Heads() bool { return st == Header || st == HeaderKey || st == HeaderOpt }

// Dated says whether a style shows a date.
func (st Style) Dated() bool { return st == DateISO || st == InputDate || st == PlainDate }
