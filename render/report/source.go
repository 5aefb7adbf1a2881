package report

import (
	"strings"

	"platebook/rules/step"
)

// columnSheets are the sheets of the results workbook that hold the columns of
// values, by the first part of a column's name.
var columnSheets = map[string]string{
	"location": "Indication results", "plate": "Plate results", "repair": "Repairs", "settlement": "Settlement results",
	"extreme": "Statistics", "compare": "Comparison",
}

// Source says where a number of a step comes from: a cell, another step by the
// id that stands beside its title, or a sheet of the results workbook.
func Source(s step.Source) string {
	switch {
	case s.Ref.Sheet != "":
		return s.Ref.String()
	case s.Step != "":
		if place, is := strings.CutPrefix(s.Step, "location."); is {
			return columnSheets["location"] + ", " + place
		}
		return "step " + s.Step
	case s.Column != "":
		first, _, _ := strings.Cut(s.Column, ".")
		if sheet := columnSheets[first]; sheet != "" {
			return "sheet " + sheet
		}
		return "column " + s.Column
	}
	return s.Text
}
