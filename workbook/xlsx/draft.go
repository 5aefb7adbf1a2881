package xlsx

import (
	"iter"
	"strings"
	"unicode/utf8"

	"platebook/rules/unit"
)

// Draft is a set of new sheets being made. Written by itself it is a new
// workbook; Book.WriteWith adds it to a copy of a person's workbook.
type Draft struct {
	Title      string
	Author     string
	Properties []Property
	Macros     bool     // an empty macro part: for a test of such a file
	Links      []string // other workbooks that formulas name as [1], [2]: the same
	Since1904  bool     // dates count from 1904: for a test of such a file
	sheets     []*NewSheet
}

// NewDraft is a Draft without sheets.
func NewDraft(title string) *Draft { return &Draft{Title: title} }

// Sheet appends a sheet.
func (d *Draft) Sheet(name string) *NewSheet {
	s := &NewSheet{Name: name}
	d.sheets = append(d.sheets, s)
	return s
}

// Sheets are the names of the sheets, in order.
func (d *Draft) Sheets() []string {
	var names []string
	for _, s := range d.sheets {
		names = append(names, s.Name)
	}
	return names
}

// NewSheet is a sheet being made. Rows are appended from the top.
type NewSheet struct {
	Name       string
	Tab        string // tab colour, "1F3864"
	Hidden     bool
	VeryHidden bool // for a test of such a file
	FreezeRow  int  // rows that stay in sight
	FreezeCol  int
	Protected  bool // against slips, without a password; Input styles stay unlocked
	NoGrid     bool // without grid lines
	Print      Print

	widths  []width
	columns []columnStyle
	rows    []newRow
	merges  []Area
	lists   []List
	notes   []Note
	links   []link
	images  []Image
	shapes  []Shape
	filter  Area
	outline []outline
}

type (
	width struct {
		first, last int
		chars       float64
		hidden      bool
	}
	columnStyle struct {
		first, last int
		style       Style
	}
	newRow struct {
		number int // of several the last
		height float64
		hidden bool
		cells  []Entry
		many   many // instead of cells
	}
	many struct {
		rows, wide int
		write      func(i int, cells []Entry)
	}
	link struct {
		col, row int
		target   string
	}
	outline struct {
		first, last int
		folded      bool
	}
)

// Print is the print set-up of a sheet.
type Print struct {
	TitleRows string // "1:3": rows repeated on each page
	Landscape bool
	FitWidth  bool // one page wide
	Letter    bool // Letter paper, else A4
	Header    string
	Footer    string // "&P of &N"
}

// Entry is one written cell.
type Entry struct {
	Style   Style
	kind    entryKind
	number  float64
	text    string
	formula string
}

type entryKind uint8

const (
	entryBlank entryKind = iota
	entryNumber
	entryText
	entryBool
	entryError
)

// Blank is a cell with a style only.
func Blank(st Style) Entry { return Entry{Style: st} }

// Number is a number. One that is not finite is written as a blank cell: a
// spreadsheet has no such number.
func Number(v float64, st Style) Entry { return Entry{Style: st, kind: entryNumber, number: v} }

// Text is a text that is never run, whatever it begins with.
func Text(s string, st Style) Entry { return Entry{Style: st, kind: entryText, text: s} }

// Date is a real date; no date gives a blank cell.
func Date(d unit.Date, st Style) Entry {
	if d == 0 {
		return Blank(st)
	}
	return Entry{Style: st, kind: entryNumber, number: float64(d)}
}

// Live is a formula, without the equals sign, with its stored number.
func Live(formula string, stored float64, st Style) Entry {
	return Entry{Style: st, kind: entryNumber, number: stored, formula: formula}
}

// LiveText is a formula with its stored text.
func LiveText(formula, stored string, st Style) Entry {
	return Entry{Style: st, kind: entryText, text: stored, formula: formula}
}

// LiveBool is a formula with its stored truth value.
func LiveBool(formula string, stored bool, st Style) Entry {
	e := Entry{Style: st, kind: entryBool, formula: formula}
	if stored {
		e.number = 1
	}
	return e
}

// Unstored is a formula without a stored value, as some programs leave it.
func Unstored(formula string, st Style) Entry { return Entry{Style: st, formula: formula} }

// LiveError is a formula whose stored value is an error such as #REF!.
func LiveError(formula, stored string, st Style) Entry {
	return Entry{Style: st, kind: entryError, text: stored, formula: formula}
}

// Truth is a truth value.
func Truth(v bool, st Style) Entry {
	e := LiveBool("", v, st)
	return e
}

// Row appends a row, cells from column A, and gives its number.
func (s *NewSheet) Row(cells ...Entry) int { return s.row(0, cells) }

// TallRow is Row with a height in points.
func (s *NewSheet) TallRow(height float64, cells ...Entry) int { return s.row(height, cells) }

// FitRow is Row with a height that shows the wrapped texts in full, as far as
// the widths of the columns set so far tell; programs do not agree on doing
// that by themselves.
func (s *NewSheet) FitRow(cells ...Entry) int {
	lines := 1
	for i, e := range cells {
		if e.kind == entryText && wraps(e.Style) {
			lines = max(lines, linesOf(e.text, s.chars(i+1)))
		}
	}
	if lines == 1 {
		return s.row(0, cells)
	}
	return s.row(float64(min(15*lines, 405)), cells) // 409 points is the most a row may have
}

func wraps(st Style) bool {
	switch st {
	case Wrapped, Muted, Header, HeaderKey, HeaderOpt, InputWrap:
		return true
	}
	return false
}

func (s *NewSheet) chars(col int) float64 {
	chars := 8.4 // of a column without a width
	for _, w := range s.widths {
		if col >= w.first && col <= w.last && !w.hidden {
			chars = w.chars
		}
	}
	return max(2, chars)
}

// linesOf is how many lines a text takes, broken between words.
func linesOf(text string, chars float64) int {
	lines := 0
	for _, paragraph := range strings.Split(text, "\n") {
		lines++
		used := 0.0
		for _, word := range strings.Fields(paragraph) {
			n := float64(utf8.RuneCountInString(word))
			switch {
			case used == 0:
			case used+1+n > chars:
				lines++
				used = 0
			default:
				used++
			}
			for used += n; used > chars; used -= chars {
				lines++
			}
		}
	}
	return lines
}

func (s *NewSheet) row(height float64, cells []Entry) int {
	n := s.Next()
	s.rows = append(s.rows, newRow{number: n, height: height, cells: cells})
	return n
}

// Rows appends n rows of a number of cells that are made when the sheet is
// written, each when its turn comes, so that a long table is never whole in
// memory. write fills the cells of row i, from 0, which are blank when it gets
// them; it gives the same each time it is asked.
func (s *NewSheet) Rows(n, wide int, write func(i int, cells []Entry)) {
	if n > 0 {
		s.rows = append(s.rows, newRow{number: s.Next() + n - 1, many: many{n, wide, write}})
	}
}

// all are the rows from the top. A row's cells hold until the next.
func (s *NewSheet) all() iter.Seq[*newRow] {
	return func(yield func(*newRow) bool) {
		for i := range s.rows {
			r := &s.rows[i]
			if r.many.rows == 0 && !yield(r) {
				return
			}
			one := newRow{cells: make([]Entry, r.many.wide)}
			for k := range r.many.rows {
				clear(one.cells)
				r.many.write(k, one.cells)
				one.number = r.number - r.many.rows + 1 + k
				if !yield(&one) {
					return
				}
			}
		}
	}
}

// Skip leaves empty rows.
func (s *NewSheet) Skip(n int) { s.rows = append(s.rows, newRow{number: s.Next() + n - 1}) }

// Next is the number of the row that Row will append.
func (s *NewSheet) Next() int {
	if len(s.rows) == 0 {
		return 1
	}
	return s.rows[len(s.rows)-1].number + 1
}

// HideRow hides a row that was written.
func (s *NewSheet) HideRow(number int) {
	for i := len(s.rows) - 1; i >= 0; i-- {
		if s.rows[i].number == number {
			s.rows[i].hidden = true
			return
		}
	}
}

// Width sets the width of columns in characters.
func (s *NewSheet) Width(first, last int, chars float64) {
	s.widths = append(s.widths, width{first, last, chars, false})
}

// ColumnStyle gives columns a style for the cells that no row writes, so that
// a label typed far below still is a text.
func (s *NewSheet) ColumnStyle(first, last int, st Style) {
	s.columns = append(s.columns, columnStyle{first, last, st})
}

// HideColumns hides columns.
func (s *NewSheet) HideColumns(first, last int) {
	s.widths = append(s.widths, width{first, last, 10, true})
}

// Group makes columns a group that folds away.
func (s *NewSheet) Group(first, last int, folded bool) {
	s.outline = append(s.outline, outline{first, last, folded})
}

// Merge makes a range one cell.
func (s *NewSheet) Merge(a Area) { s.merges = append(s.merges, a) }

// Filter puts filter buttons on a range.
func (s *NewSheet) Filter(a Area) { s.filter = a }

// LinkTo makes a cell a hyperlink to a place in the workbook, "Tank!B31".
func (s *NewSheet) LinkTo(col, row int, target string) {
	s.links = append(s.links, link{col, row, target})
}

// List is a drop-down over a range, with a help text shown in its cells.
// Without Words it is a help text alone.
type List struct {
	Area   Area
	Words  []string
	From   string // a range that holds the words, "Plates!$A$4:$A$500", in place of Words
	Title  string // of the help, at most 32 letters
	Help   string // at most 255 letters
	Strict bool   // refuse other words; else they are asked about
}

// List adds a drop-down.
func (s *NewSheet) List(l List) { s.lists = append(s.lists, l) }

// Note is a note at a cell, shown under the mouse.
type Note struct {
	Col, Row int
	Text     string
}

// Note adds a note.
func (s *NewSheet) Note(n Note) { s.notes = append(s.notes, n) }

// Image is an embedded PNG picture whose upper left corner stands in a cell.
type Image struct {
	Col, Row int
	PNG      []byte
	Scale    float64 // 1 is one pixel per 1/96 in
	Alt      string
}

// Image adds a picture.
func (s *NewSheet) Image(i Image) { s.images = append(s.images, i) }

// Shape is a drawn box, ellipse, line or arrow with an optional text.
type Shape struct {
	Col, Row      int
	Kind          string // "rect", "ellipse", "line", "rightArrow", "upArrow"
	Width, Height uint   // pixels
	Line, Fill    string // colours; Fill "" is none
	Text          string
}

// Shape adds a drawn shape.
func (s *NewSheet) Shape(p Shape) { s.shapes = append(s.shapes, p) }
