// Package layout is the workbook as data: one table of sheets, columns, items
// and words from which the template, the reader, the drop-downs, the import
// and the manual are all made.
package layout

import "platebook/rules/unit"

// Type says how a cell is read.
type Type uint8

// The types.
const (
	Text   Type = iota // free text
	Label              // a name: compares folded, shown as typed, formatted as text
	Number             // a number of the column's Kind
	Date
	Word   // one of Words
	Labels // several labels divided by ; or , (finding keys of Answers by ; alone: a key may hold a comma)
)

// Column is one column of a table, or one item of an item list.
type Column struct {
	Header   string // contract name, without unit
	Group    string // items only: the bold heading it stands under
	Type     Type
	Kind     unit.Kind // of a Number
	Required bool
	Words    []string          // of a Word, as the drop-down shows them
	Aliases  map[string]string // accepted spelling → word, lower case; never a guess
	Also     []string          // other accepted headers
	Help     string            // one or two sentences shown in the cell and in the manual
	Example  string            // a typical entry
	Seldom   bool              // stands right, in the group that folds away
	Low      float64           // legal range in stored units, both inclusive
	High     float64           // 0, 0: no range of its own
	Signed   bool              // may be below 0
	ZeroOK   bool              // 0 is a value
}

// Sheet is one input sheet.
type Sheet struct {
	Name     string
	Purpose  string
	Required bool     // must be present
	Optional bool     // pale tab
	Items    bool     // rows of Item | Value | Unit | Note
	Key      []string // headers that make the row key, in order
	Columns  []Column
}

// A blank workbook states the version of its template in a custom document
// property of this name. The version rises when a sheet or a column changes
// its meaning.
const (
	TemplateProperty = "platebook template"
	TemplateVersion  = 1
)

// HeaderRow is the row of the headers in a blank workbook, below the sheet's
// title and its purpose.
const HeaderRow = 3
