package cell

import "platebook/rules/unit"

// Day is a date read from a cell.
type Day struct {
	State  State
	Value  unit.Date
	AsText bool // ISO text, not a real date
	Bare   bool // a whole serial without a date format (C102)
}

// ParseDate reads a date: a real one, or ISO text. since1904 is the
// workbook's date system.
func ParseDate(r Raw, since1904 bool) (Day, *Problem) { return parseDate(r, since1904) }
