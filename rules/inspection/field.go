// Package inspection is one inspection of one tank floor as plain data: what
// the people wrote, typed, with the cell each value came from.
package inspection

import (
	"strings"
	"unicode"

	"platebook/rules/finding"
	"platebook/rules/unit"
)

// State says what a cell holds.
type State uint8

// The states of a field.
const (
	Blank State = iota // nothing typed, or the column is absent
	Given              // a usable value
	Wrong              // something typed that is no value, or a value out of its range: unknown, and reported; a number out of its range is still in Value, for the test of units
	Left               // a word such as n/a or nil that means "none"
)

// Field is one value with what was typed and where.
type Field[T any] struct {
	Value T
	Text  string      // as typed
	Ref   finding.Ref // the cell, also of a blank one when its row exists
	Scale float64     // stored value per cell number when Plain: 25.4 under an inch header
	State State
	Plain bool // the cell is a plain number in the column's unit, so a spreadsheet formula can refer to it
}

// PerNumber is the cell of a plain number and the stored value of one in it; 0
// for any other field.
func (f *Field[T]) PerNumber() (finding.Ref, float64) {
	if !f.Plain {
		return f.Ref, 0
	}
	return f.Ref, f.Scale
}

// OK says whether the field holds a usable value.
func (f Field[T]) OK() bool { return f.State == Given }

// Or is the value, or d without one.
func (f Field[T]) Or(d T) T {
	if f.State == Given {
		return f.Value
	}
	return d
}

// Is says whether a word field stands on the given word.
func Is(f Field[string], word string) bool { return f.State == Given && f.Value == word }

// Yes says whether a yes/no field says yes.
func Yes(f Field[string]) bool { return Is(f, "yes") }

// Typed kinds of field. A word field (from a list) holds the accepted word in
// lower case as the list spells it; a label field holds the label as typed.
type (
	Text    = Field[string]
	Label   = Field[string]
	Word    = Field[string]
	Length  = Field[unit.Length]
	Years   = Field[unit.Years]
	Percent = Field[unit.Percent]
	Angle   = Field[unit.Angle]
	Ratio   = Field[unit.Ratio]
	Stress  = Field[unit.Stress]
	Date    = Field[unit.Date]
	Count   = Field[unit.Count]
	Labels  = Field[[]string]
)

// Row is where a record stands.
type Row struct {
	Sheet  string // as the workbook spells it
	Number int    // spreadsheet row
	Key    string // row key by checks: 3-4/17
	Out    bool   // taken out by an error on its plate, place or thickness; listed, never dropped silently
}

// Ref is the row's place in the given column.
func (r Row) Ref(col int) finding.Ref {
	return finding.Ref{Sheet: r.Sheet, Col: col, Row: r.Number}
}

// Fold makes labels comparable: no case, no spaces, no leading zeros in any
// group of digits. "3-04 A" folds to "3-4a".
func Fold(label string) string {
	var b strings.Builder
	b.Grow(len(label))
	inDigits := false
	zeros := 0
	for _, r := range label {
		if unicode.IsSpace(r) {
			continue
		}
		digit := r >= '0' && r <= '9'
		if digit && !inDigits && r == '0' {
			zeros++
			continue
		}
		if zeros > 0 && !digit {
			b.WriteByte('0')
		}
		zeros = 0
		b.WriteRune(unicode.ToLower(r))
		inDigits = digit
	}
	if zeros > 0 {
		b.WriteByte('0')
	}
	return b.String()
}
