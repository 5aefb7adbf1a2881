package workbook

import (
	"strings"

	"platebook/rules/review"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

const (
	recordProgram  = "Program"
	recordRules    = "Rule set"
	recordStandard = "Standard"
	recordInput    = "Input"
	recordFile     = "SHA-256 of the file"
	recordValues   = "SHA-256 of the values of its sheets"
	recordSheet    = "SHA-256 of the values of "
	recordTime     = "Time base"
)

// recordRows of the Record sheet are no results.
var recordRows = []string{recordProgram, recordRules, recordInput, recordFile, recordValues}

// Recorded is what a results workbook says of how it was made.
type Recorded struct {
	Program, Rules, Standard string
	Values                   string // hash of the values of the input sheets
	Sheets                   map[string]string
	TimeBase                 unit.Date
	Prints                   map[string][]string // fingerprints of the cells, sheet by sheet
}

// recordOf reads the Record sheet of a results workbook: nil when the workbook
// is none.
func recordOf(file *xlsx.Book) (*Recorded, error) {
	s := ownSheet(file, resultSheets(file), "Record")
	if s == nil {
		return nil, nil
	}
	g, err := s.Read()
	if err != nil {
		return nil, err
	}
	r := &Recorded{Sheets: map[string]string{}, Prints: recordedPrints(g)}
	for i := range g.Rows {
		name, value := g.Rows[i].Cell(1).Text, g.Rows[i].Cell(2).Text
		switch name {
		case recordProgram:
			r.Program = value
		case recordRules:
			r.Rules = value
		case recordStandard:
			r.Standard = value
		case recordValues:
			r.Values = value
		case recordTime:
			if d, err := unit.ParseDate(value); err == nil {
				r.TimeBase = d
			}
		default:
			if sheet, found := strings.CutPrefix(name, recordSheet); found && value != "" {
				r.Sheets[sheet] = value
			}
		}
	}
	return r, nil
}

// versions are those that differ from this program's.
func (r *Recorded) versions(now Record) (list []review.Version) {
	for _, v := range []review.Version{
		{What: "program", Stored: r.Program, Now: "platebook " + now.Version},
		{What: "rule set", Stored: r.Rules, Now: now.Rules},
	} {
		if v.Stored != v.Now {
			list = append(list, v)
		}
	}
	return list
}
