package xlsx

import (
	"math"
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
	for r := range s.all() {
		row := WrittenRow{Number: r.number}
		for i, e := range r.cells {
			w := Written{Col: i + 1, Number: e.number, Text: clip(e.text), Formula: e.formula, Style: e.Style}
			switch {
			case e.kind == entryNumber && !math.IsNaN(e.number) && !math.IsInf(e.number, 0):
				w.Type, w.Text = cell.Number, strconv.FormatFloat(e.number, 'g', -1, 64)
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
				row.Cells = append(row.Cells, w)
			}
		}
		if len(row.Cells) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
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

// RowLinks are the places that the cells of each row lead to.
func (s *NewSheet) RowLinks() map[int][]string {
	m := make(map[int][]string, len(s.links))
	for _, l := range s.links {
		m[l.row] = append(m[l.row], l.target)
	}
	return m
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
