package cell

import "platebook/rules/unit"

// Want says what number a column asks for.
type Want struct {
	Kind   unit.Kind
	Scale  float64 // stored units per number in the column: 25.4 for a length under (in), 1000 for (m)
	Commas bool    // other texts of the column use a decimal comma, so that 1.250 is in doubt
}

// PercentScale says how a percent was written, to find columns that mix scales.
type PercentScale uint8

// The scales.
const (
	NoPercent PercentScale = iota // the column is none
	Plain                         // 45 or 0.45, bare
	Signed                        // 45 % as text
	Formatted                     // 0.45 shown as 45 %
)

// Quantity is a number read from a cell.
type Quantity struct {
	State  State
	Value  float64      // in stored units: mm, MPa, years, percent
	Cell   float64      // the number in the unit it was written in
	Own    string       // the unit the cell carries itself (C108), "" for the column's
	AsText bool         // a number stored as text (C102)
	Plain  bool         // the cell is a number that a live formula can refer to
	Scale  float64      // Value per number in the cell, when Plain
	Scaled PercentScale // how a percent was written
}

// ParseNumber reads a number.
func ParseNumber(r Raw, w Want) (Quantity, *Problem) { return parseNumber(r, w) }

// UsesDecimalComma says whether a text is a number with a decimal comma beyond
// doubt, such as 6,35; the reader asks it of a whole column before parsing.
func UsesDecimalComma(text string) bool { return usesDecimalComma(text) }
