// Package report says what the report says: its sections as blocks of text,
// tables, steps and drawings. How they look on paper is the business of
// render/pdf.
package report

import (
	"platebook/render/draw"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Report is the whole document.
type Report struct {
	Title    string // "Tank 7 floor inspection, report 26-014"
	Author   string // the firm
	Letter   bool   // Letter paper instead of A4
	Strip    bool   // the cover is a strip above the first section, no contents page: the preliminary list
	NoCover  bool   // the firm leaves the cover out
	Units    unit.System
	Running  Running
	Cover    Cover
	Names    []string  // what persons wrote from right to left: read by itself in a sentence
	Sections []Section // after the cover, in order
}

// Running is what every page carries.
type Running struct {
	Tank, Report, Revision string
	Status                 string // "PRELIMINARY: 3 rows left out", "FINAL WITHHELD: 2 errors, 1 open warning", "FINAL"
	Loud                   bool   // the status is a caution, not plain
	Hash                   string // first eight digits of the input's SHA-256
	Date                   string
}

// Cover is the first page.
type Cover struct {
	Firm, FirmAddress, FirmNumber string
	Logo                          *Picture
	Heading                       string
	Lines                         [][2]string // label, value
	Status                        string
	Signatures                    []Signature
	Note                          string // "The program signs and approves nothing."
}

// Signature is one line to sign on: never a signature.
type Signature struct{ Role, Name, Number, Date string }

// Section is a chapter with its name from the method's list of sections.
type Section struct {
	Number int    // printed number
	Name   string // also the word of the workbook's Report sheet
	Break  bool   // starts a new page
	Blocks []Block
}

// Block is one piece of a section.
type Block interface{ block() }

type (
	// Heading is a sub-heading; Level 2 or 3. It stays with what follows it.
	Heading struct {
		Level int
		Text  string
	}
	// Paragraph is running text.
	Paragraph struct {
		Text  string
		Small bool
	}
	// List is bulleted items.
	List struct{ Items []string }
	// Pairs is label and value in two or four columns.
	Pairs struct{ Rows [][2]string }
	// Caution is text that must not be overlooked: framed.
	Caution struct{ Title, Text string }
	// Table repeats its heads on every page.
	Table struct {
		Caption string
		Columns []Column
		Rows    []Row
		Note    string
		Dense   bool // appendix size
	}
	// Steps is calculation steps: symbols, numbers, result, verdict, source.
	Steps struct{ Steps []step.Step }
	// Figure is a drawing. A Sheet stands alone on a page, landscape when it is wider than high.
	Figure struct {
		Scene   *draw.Scene
		Later   func() *draw.Scene // draws it in its turn, in place of Scene; nil without
		Caption string
		Sheet   bool
	}
	// Photos is pictures, four to a page.
	Photos struct{ Photos []Photo }
	// Signatures is lines to sign on.
	Signatures struct{ Lines []Signature }
)

// Drawing is the figure's scene, nil when it could not be made.
func (f Figure) Drawing() *draw.Scene {
	if f.Later != nil {
		return f.Later()
	}
	return f.Scene
}

// Align of a column.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Right
	Middle
)

// Column is a table's head and share of the width.
type Column struct {
	Head  string // may hold a line break: name, then unit
	Align Align
	Share float64 // relative width
}

// Row is the cells of a table row.
type Row struct {
	Cells []string
	Bold  bool
	Mark  string // "fail", "warn", "": a sign in words stands in the cells, never colour alone
	Group bool   // a heading row across the table, Cells[0] only
}

// Photo is one picture with its words. A nil Picture prints a marked frame
// with Missing.
type Photo struct {
	Number  int
	File    string
	Caption string
	Place   string // "plate 3-4, X 1200, Y 340 mm, looking north"
	Picture *Picture
	Missing string
	Map     *draw.Scene // thumbnail plan with the place marked, may be nil
}

// Picture is a decoded, turned and scaled image ready to embed.
type Picture struct {
	JPEG          []byte
	Width, Height int // pixels
}

func (Heading) block()    {}
func (Paragraph) block()  {}
func (List) block()       {}
func (Pairs) block()      {}
func (Caution) block()    {}
func (Table) block()      {}
func (Steps) block()      {}
func (Figure) block()     {}
func (Photos) block()     {}
func (Signatures) block() {}
