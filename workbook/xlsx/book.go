// Package xlsx is the only place that knows the .xlsx file format. It opens a
// workbook safely and recognises by content what is none, reads sheets by a
// strict streaming pass that hides nothing, writes new sheets in a small
// palette of styles, and adds sheets to a copy of a person's workbook without
// touching a byte of the person's own.
package xlsx

import (
	"io/fs"
	"slices"
	"sync"

	"platebook/workbook/cell"
)

// Limits of what is read, so that a small file cannot exhaust the machine.
const (
	MaxUnpacked = 512 << 20 // bytes of all parts together
	MaxPart     = 256 << 20 // bytes of one part
	MaxRows     = 200_000   // rows with a value in one sheet
	MaxCells    = 4_000_000 // cells with a value of all sheets together
	MaxText     = 128 << 20 // bytes of all their texts and formulas, a shared text once for each cell that names it
	MaxSheets   = 1000      // sheets of all kinds
	MaxMerged   = 5_000_000 // rows with a value under merged ranges in one sheet, each range counted
)

// Visibility of a sheet.
type Visibility uint8

// The visibilities.
const (
	Visible Visibility = iota
	Hidden
	VeryHidden // can only be shown by a macro or a tool
)

// Book is a workbook read once into memory. The file is not kept open.
type Book struct {
	Path       string
	Name       string // base name of the file
	Size       int64
	SHA256     string // of the file's bytes
	Date1904   bool
	Macros     bool
	Title      string     // document title
	Properties []Property // custom document properties
	Names      []DefinedName
	Links      []string // targets of external links: [1] in a formula is Links[0]
	Sheets     []*Sheet // worksheets in the order of their tabs

	pkg  *pack
	info fs.FileInfo // of the file as it was read, nil for one in memory
}

// Property is a custom document property.
type Property struct{ Name, Value string }

// DefinedName is a name for a range. Sheet is the sheet it is limited to.
type DefinedName struct{ Name, Sheet, RefersTo string }

// Property is the value of a custom document property, "" without it.
func (b *Book) Property(name string) string {
	for _, p := range b.Properties {
		if p.Name == name {
			return p.Value
		}
	}
	return ""
}

// Sheet is the sheet of exactly this name, nil without one.
func (b *Book) Sheet(name string) *Sheet {
	for _, s := range b.Sheets {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// Sheet is one worksheet, read when first asked for.
type Sheet struct {
	Name       string
	Visibility Visibility

	book *Book
	part string
	once sync.Once
	grid *Grid
	err  error
	sum  string // hash of its values, "" while it is not known

	prints []byte // its values as Fingerprints gives them, with sum
}

// Release lets go of the cells of all sheets but those to keep; one that is
// asked for again is read again. Nobody else may use the sheets at the same
// time.
func (b *Book) Release(keep ...string) {
	cells, text := 0, 0
	for _, s := range b.Sheets {
		if s.grid == nil || !slices.Contains(keep, s.Name) {
			s.once, s.grid, s.err = sync.Once{}, nil, nil
			continue
		}
		for i := range s.grid.Rows {
			cells += len(s.grid.Rows[i].Cells)
			for _, c := range s.grid.Rows[i].Cells {
				text += len(c.Text) + len(c.Formula)
			}
		}
	}
	b.pkg.cells.Store(int64(cells))
	b.pkg.text.Store(int64(text))
}

// Read reads the whole sheet, once; later calls give the same Grid, which is
// not to be changed. Different sheets may be read at the same time. An error
// is a *finding.Unusable (F106, F107).
func (s *Sheet) Read() (*Grid, error) {
	s.once.Do(func() { s.grid, s.err = s.read() })
	return s.grid, s.err
}

// Grid is the content of a sheet.
type Grid struct {
	Rows         []Row  // rows that hold a value or a formula, from the top
	Merged       []Area // merged ranges
	HiddenCols   []Span // hidden columns
	Filter       Area   // range of the automatic filter; zero without one
	Filtered     bool   // the filter has conditions, so that it hides rows
	HeaderFooter []string
	Formatted    int // rows without any value, present only for their format
}

// Row is one row that holds something.
type Row struct {
	Number int // from 1
	Hidden bool
	Cells  []Cell // cells that hold something, from the left
}

// Cell is one cell that holds something.
type Cell struct {
	Col int // from 1
	cell.Raw
	Strike bool // the whole cell is struck through
}

// Area is a range of cells, all borders inclusive.
type Area struct{ Col1, Row1, Col2, Row2 int }

// Has says whether a cell lies in the range.
func (a Area) Has(col, row int) bool {
	return col >= a.Col1 && col <= a.Col2 && row >= a.Row1 && row <= a.Row2
}

// Span is a run of columns, both inclusive.
type Span struct{ First, Last int }

// Cell is the cell of a column, blank when the row has none.
func (r Row) Cell(col int) Cell {
	lo, hi := 0, len(r.Cells)
	for lo < hi {
		if mid := (lo + hi) / 2; r.Cells[mid].Col < col {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(r.Cells) && r.Cells[lo].Col == col {
		return r.Cells[lo]
	}
	return Cell{Col: col}
}

// Row is the row of a number, empty when it holds nothing.
func (g *Grid) Row(number int) Row {
	lo, hi := 0, len(g.Rows)
	for lo < hi {
		if mid := (lo + hi) / 2; g.Rows[mid].Number < number {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(g.Rows) && g.Rows[lo].Number == number {
		return g.Rows[lo]
	}
	return Row{Number: number}
}

// At is one cell, blank when it holds nothing.
func (g *Grid) At(col, row int) Cell { return g.Row(row).Cell(col) }
