// Package textbook builds workbooks from readable text, for tests and scripts.
//
// A line that begins with a bracket starts a sheet; each line after it is a
// row, its cells divided by bars:
//
//	[Plates]
//	Plate | Type        | Length (mm) | Width (mm) | Installed
//	3-4   | rectangular | 6000        | 1800       | 2001-05-01
//	.                                  a dot alone is an empty row
//	@20 | 3-5 | sketch                 a row at a given number
//	# a comment; blank lines mean nothing
//
// What a cell may be:
//
//	6.35  -2  1e3          a number
//	45%                    a number shown as percent: 0.45
//	2026-05-01             a real date
//	12:30                  a real time
//	TRUE  FALSE            a truth value
//	#REF!                  an error value
//	=B2*25.4 -> 161.29     a formula with its stored value (number, "text", TRUE, #REF!)
//	=B2*25.4               a formula without a stored value
//	"6.35"                 text; "" inside is a quote, \n a line break
//	soil  3-4/17           any other words are text
//	~6.35                  the value after the wave, struck through
//	0.13 {C104}            the finding expected at this cell, see Expected
//	(nothing)              an empty cell
//
// Lines with an exclamation mark set things apart from values:
//
//	!title T   !property NAME = VALUE   !1904   !macros   !link last-year.xlsx
//	!hidden   !veryhidden   !merge A1:C1   !hide row 5   !hide column C
//	!filter A3:F20   !header T   !footer T   !tab 1F3864
//	!formatted 1000        empty rows below that only have a format
//	!expect C104           a finding expected on the sheet, or, before the first sheet, on the file
//
// Edits change what was built so far, so that a case can be told as a clean
// workbook and its faults. They stand after a line of three dashes or come
// through Edit; addresses are those of the state before the line:
//
//	Prove-ups!F12 = 0.13 {C104}
//	Prove-ups(U44).Remaining = 0.13    the row whose first cell is U44, the column by its header
//	Prove-ups!F4:F99 = 6.2             every cell of a range
//	Prove-ups!F4:F99 *= 0.03937        numbers multiplied
//	Tank(Diameter).Value =             cleared
//	delete row Plates!7                delete column Plates!C      delete sheet Crew
//	insert row Plates!7 | 3-9 | sketch append Plates | 3-9 | sketch
//	copy row Plates!7 = Plates!12      the row at 7 written over the one at 12
//	rename sheet Plates = Plattes 2    rename column Plates!C = Length (in)
//	swap Plates!C = D                  two columns exchanged
//	hide row Plates!7                  merge Plates!A7:A9          hide sheet Crew
//	!macros                            and the other lines of the whole book
package textbook

import (
	"bytes"
	"fmt"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// Book is a workbook as text.
type Book struct {
	title      string
	properties []xlsx.Property
	since1904  bool
	macros     bool
	links      []string
	sheets     []*sheet
	expected   []Expected
}

// Expected is a finding that a test expects, written beside the faulty cell.
// An expectation of a cell moves with it.
type Expected struct {
	Rule string
	Ref  finding.Ref
}

type sheet struct {
	name       string
	state      string
	rows       [][]string // cells as written
	merges     []xlsx.Area
	hiddenRows map[int]bool
	hiddenCols map[int]bool
	filter     xlsx.Area
	header     string
	footer     string
	tab        string
	formatted  int
	expected   []string
}

// Build makes the bytes of an .xlsx file from its text.
func Build(text string) ([]byte, error) {
	b, err := Parse(text)
	if err != nil {
		return nil, err
	}
	return b.Bytes()
}

// Parse reads the text of a workbook, with its edits if it has any.
func Parse(text string) (*Book, error) {
	b := &Book{}
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	for i, line := range lines {
		t := strings.TrimSpace(line)
		if t == "---" {
			return b, b.edit(lines[i+1:], i+1)
		}
		if err := b.line(t); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	return b, nil
}

// Edit changes the workbook by lines of edits.
func (b *Book) Edit(text string) error {
	return b.edit(strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n"), 0)
}

func (b *Book) line(t string) error {
	var s *sheet
	if len(b.sheets) > 0 {
		s = b.sheets[len(b.sheets)-1]
	}
	switch {
	case t == "" || strings.HasPrefix(t, "# "), t == "#":
		return nil
	case strings.HasPrefix(t, "[") && strings.HasSuffix(t, "]"):
		b.sheets = append(b.sheets, &sheet{name: t[1 : len(t)-1], hiddenRows: map[int]bool{}, hiddenCols: map[int]bool{}})
		return nil
	case strings.HasPrefix(t, "!"):
		return b.setting(s, t[1:])
	case s == nil:
		return fmt.Errorf("%q stands before the first sheet", t)
	case t == ".":
		s.rows = append(s.rows, nil)
		return nil
	}
	cells := split(t)
	if at, ok := strings.CutPrefix(cells[0], "@"); ok {
		var n int
		if _, err := fmt.Sscanf(at, "%d", &n); err != nil || n <= len(s.rows) {
			return fmt.Errorf("row %q: rows rise from %d", at, len(s.rows)+1)
		}
		for len(s.rows) < n-1 {
			s.rows = append(s.rows, nil)
		}
		cells = cells[1:]
	}
	s.rows = append(s.rows, cells)
	return nil
}

// split divides a row at its bars, but not within quotes.
func split(t string) []string {
	var cells []string
	quoted, start := false, 0
	for i := 0; i < len(t); i++ {
		switch t[i] {
		case '"':
			cell := strings.TrimSpace(t[start:i])
			if quoted || cell == "" || cell == "~" || strings.HasPrefix(cell, "=") {
				quoted = !quoted
			}
		case '|':
			if !quoted {
				cells = append(cells, strings.TrimSpace(t[start:i]))
				start = i + 1
			}
		}
	}
	return append(cells, strings.TrimSpace(t[start:]))
}

// Bytes is the .xlsx file.
func (b *Book) Bytes() ([]byte, error) {
	d := xlsx.NewDraft(b.title)
	d.Properties, d.Since1904, d.Macros, d.Links = b.properties, b.since1904, b.macros, b.links
	for _, s := range b.sheets {
		if err := s.write(d.Sheet(s.name), b.since1904); err != nil {
			return nil, fmt.Errorf("sheet %s, %w", s.name, err)
		}
	}
	var out bytes.Buffer
	err := d.Write(&out)
	return out.Bytes(), err
}

// Expected lists the findings written beside their cells, sheets and the
// file, in the order of the sheets and their cells.
func (b *Book) Expected() []Expected {
	list := append([]Expected(nil), b.expected...)
	for _, s := range b.sheets {
		for _, rule := range s.expected {
			list = append(list, Expected{rule, finding.Ref{Sheet: s.name}})
		}
		for r, row := range s.rows {
			for c, t := range row {
				_, rules := expectations(t)
				for _, rule := range rules {
					list = append(list, Expected{rule, finding.Ref{Sheet: s.name, Col: c + 1, Row: r + 1}})
				}
			}
		}
	}
	return list
}

func (b *Book) find(name string) (*sheet, error) {
	for _, s := range b.sheets {
		if s.name == name {
			return s, nil
		}
	}
	return nil, fmt.Errorf("no sheet %q", name)
}
