package layout

import (
	"strings"

	"platebook/rules/unit"
)

// Sheets lists the input sheets in the order of the blank workbook. Within a
// sheet the needed columns stand first and the seldom used ones last. The
// Guide has no columns: it is written, never read.
var Sheets = []Sheet{
	guide, tank, plates, indications, proveUps, readings, photos,
	tracks, visual, welds, fixtures, existingPatches, plannedRepairs, settlement,
	crew, instruments, checks,
	criterionRows, reportSections, answers,
}

var guide = Sheet{
	Name:    "Guide",
	Purpose: "One page to print: what to fill in which order, where a position is measured from, what is optional and what happens next. It is not read.",
}

// Find is the sheet of a name, without regard to case or spaces; nil for
// none.
func Find(name string) *Sheet {
	for i := range Sheets {
		if fold(Sheets[i].Name) == fold(name) {
			return &Sheets[i]
		}
	}
	return nil
}

// Column is the sheet's column or item of a contract header, without regard
// to case or spaces; nil for none. Other accepted headers count too.
func (s *Sheet) Column(header string) *Column {
	for i := range s.Columns {
		if fold(s.Columns[i].Header) == fold(header) {
			return &s.Columns[i]
		}
	}
	for i := range s.Columns {
		for _, also := range s.Columns[i].Also {
			if fold(also) == fold(header) {
				return &s.Columns[i]
			}
		}
	}
	return nil
}

// Title is the header as the blank workbook prints it: a length, thickness or
// stress ends with its unit, "Length (mm)".
func (c *Column) Title(s unit.System) string {
	if u := c.Unit(s); u != "" {
		return c.Header + " (" + u + ")"
	}
	return c.Header
}

// Unit is the unit the header ends with, "" where the header needs none: a
// percentage carries its sign in the name, a bearing is always in degrees.
func (c *Column) Unit(s unit.System) string {
	if c.Type != Number {
		return ""
	}
	switch c.Kind {
	case unit.Share, unit.Bearing, unit.Time, unit.None, unit.Number, unit.Statistic, unit.Points:
		return ""
	}
	return c.Kind.Unit(s)
}

// ItemUnit is the word in the Unit column beside an item: an item list shows
// every unit, also degrees and years.
func (c *Column) ItemUnit(s unit.System) string {
	if c.Type != Number {
		return ""
	}
	if c.Kind == unit.Bearing {
		return "degrees"
	}
	return c.Kind.Unit(s)
}

// Word is the accepted word of a typed one, by the list or by its aliases.
func (c *Column) Word(typed string) (string, bool) {
	t := strings.ToLower(strings.Join(strings.Fields(typed), " "))
	for _, w := range c.Words {
		if strings.ToLower(w) == t {
			return w, true
		}
	}
	w, ok := c.Aliases[t]
	return w, ok
}

func fold(s string) string {
	return strings.ToLower(strings.Join(strings.Fields(s), ""))
}
