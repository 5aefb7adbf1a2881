package check

import (
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// work is one piece of work that a person did on a day with an instrument.
type work struct {
	kind       string
	row        *inspection.Row
	key        finding.Ref
	column     string // of the person
	by         *inspection.Text
	methods    []string // certificates that serve, "" when none is asked for
	shown      string   // the method as a person calls it
	date       *inspection.Date
	dateColumn string
	instrument *inspection.Text
	plate      int
	inside     bool // must lie within the inspection's days
}

// works is all work in the order of the sheets.
func (j *judge) works() []work {
	in := j.in
	all := make([]work, 0, len(in.Plates)+len(in.Indications)+len(in.ProveUps)+len(in.Readings)+len(in.Tracks)+len(in.Welds))
	nothing := &inspection.Text{}
	for i := range in.Plates {
		r := &in.Plates[i]
		all = append(all, work{"Plates", &r.Row, r.Label.Ref, "Scanned by", &r.ScannedBy, mfl, "MFL", &r.ScanDate, "Scan date", &r.Instrument, i, true})
	}
	for i := range in.Indications {
		r := &in.Indications[i]
		w := work{"Indications", &r.Row, r.ID.Ref, "By", &r.By, nil, "", &r.Date, "Date", nothing, j.plate(r.Plate), true}
		switch r.Method.Value {
		case "MFL", "hand scan":
			w.methods, w.shown = mfl, "MFL"
		case "UT":
			w.methods, w.shown = ut, "UT"
		case "visual":
			w.methods, w.shown = eye, "VT"
		}
		all = append(all, w)
	}
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		all = append(all, work{"Prove-ups", &r.Row, r.ID.Ref, "By", &r.By, ut, "UT", &r.Date, "Date", &r.Instrument, j.plate(r.Plate), true})
	}
	for i := range in.Readings {
		r := &in.Readings[i]
		all = append(all, work{"Readings", &r.Row, r.Plate.Ref, "By", &r.By, ut, "UT", &r.Date, "Date", &r.Instrument, j.plate(r.Plate), true})
	}
	for i := range in.Tracks {
		r := &in.Tracks[i]
		all = append(all, work{"Tracks", &r.Row, r.Track.Ref, "By", &r.By, mfl, "MFL", &r.Date, "Date", nothing, j.plate(r.Plate), true})
	}
	for i := range in.Welds {
		r := &in.Welds[i]
		w := work{"Welds", &r.Row, r.ID.Ref, "By", &r.By, nil, "", &r.Date, "Date", nothing, -1, false}
		switch r.Method.Value {
		case "visual":
			w.methods, w.shown = eye, "VT"
		case "vacuum box", "tracer gas":
			w.methods, w.shown = []string{"vacuum box"}, "vacuum box"
		case "MT", "PT":
			w.methods, w.shown = []string{r.Method.Value}, r.Method.Value
		}
		all = append(all, w)
	}
	for i := range in.Checks {
		r := &in.Checks[i]
		all = append(all, work{"Checks", &r.Row, r.Instrument.Ref, "By", &r.By, nil, "", &r.Date, "Date", &r.Instrument, -1, false})
	}
	return all
}

// The certificates that serve for a method.
var (
	mfl = []string{"MFL"}
	ut  = []string{"UT"}
	eye = []string{"VT", "inspector"}
)

// day is the day of a piece of work; undated work counts on the last day of
// the inspection. 0 when the date is in error or nothing is known.
func (j *judge) day(d *inspection.Date) unit.Date {
	switch d.State {
	case inspection.Given:
		if j.undated[d.Ref] {
			return 0
		}
		return d.Value
	case inspection.Wrong:
		return 0
	}
	return j.in.Tank.InspectionEnd.Or(0)
}
