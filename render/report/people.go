package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// worked is the days on which somebody or something worked.
type worked map[unit.Date]bool

// add notes a day of work, one that is not given or not readable aside.
func (d worked) add(day inspection.Date) {
	if day.OK() {
		d[day.Value] = true
	}
}

func (d worked) sorted() []unit.Date {
	out := make([]unit.Date, 0, len(d))
	for day := range d {
		out = append(out, day)
	}
	slices.Sort(out)
	return out
}

// words is the first and last day and their number.
func (d worked) words() string {
	days := d.sorted()
	switch len(days) {
	case 0:
		return "no dated work in the workbook"
	case 1:
		return days[0].String()
	}
	return fmt.Sprintf("%s to %s, %d days", days[0], days[len(days)-1], len(days))
}

// validity holds the days against the last on which a certificate or a
// calibration counts.
func (d worked) validity(until inspection.Date) (text string, lapsed bool) {
	if !until.OK() {
		return "not known: no date", false
	}
	late, all := 0, d.sorted()
	for _, day := range all {
		if day > until.Value {
			late++
		}
	}
	switch {
	case len(all) == 0:
		return none, false
	case late == 0 && len(all) == 1:
		return "valid on that day", false
	case late == 0:
		return "valid on all days", false
	}
	return fmt.Sprintf("EXPIRED on %d of %s", late, count(len(all), "day")), true
}

// certificates are the methods of Crew that serve for a method of work.
var certificates = map[string][]string{
	"MFL": {"MFL"}, "hand scan": {"MFL"}, "UT": {"UT"}, "visual": {"VT"}, "vacuum box": {"vacuum box"}, "tracer gas": {"vacuum box"},
	"MT": {"MT"}, "PT": {"PT"},
}

// daysOf is the days on which each person worked by each method of
// certificate, and each instrument was used; the keys are folded.
func (w *writer) daysOf() (people map[[2]string]worked, instruments map[string]worked) {
	people, instruments = map[[2]string]worked{}, map[string]worked{}
	crew := map[string]bool{}
	for i := range w.in.Crew {
		crew[inspection.Fold(w.in.Crew[i].Name.Or(""))] = true
	}
	work := func(by inspection.Text, method string, instrument inspection.Text, day inspection.Date) {
		for _, name := range named(by.Or(""), crew) {
			for _, c := range certificates[method] {
				k := [2]string{inspection.Fold(name), inspection.Fold(c)}
				if people[k] == nil {
					people[k] = worked{}
				}
				people[k].add(day)
			}
		}
		if k := inspection.Fold(instrument.Or("")); k != "" {
			if instruments[k] == nil {
				instruments[k] = worked{}
			}
			instruments[k].add(day)
		}
	}
	var without inspection.Text
	for i := range w.in.Plates {
		r := &w.in.Plates[i]
		work(r.ScannedBy, "MFL", r.Instrument, r.ScanDate)
	}
	for i := range w.in.Indications {
		r := &w.in.Indications[i]
		work(r.By, r.Method.Value, without, r.Date)
	}
	for i := range w.in.ProveUps {
		r := &w.in.ProveUps[i]
		work(r.By, "UT", r.Instrument, r.Date)
	}
	for i := range w.in.Readings {
		r := &w.in.Readings[i]
		work(r.By, "UT", r.Instrument, r.Date)
	}
	for i := range w.in.Tracks {
		r := &w.in.Tracks[i]
		work(r.By, "MFL", without, r.Date)
	}
	for i := range w.in.Welds {
		r := &w.in.Welds[i]
		work(r.By, r.Method.Value, without, r.Date)
	}
	for i := range w.in.Checks {
		r := &w.in.Checks[i]
		if k := inspection.Fold(r.Instrument.Value); k != "" {
			if instruments[k] == nil {
				instruments[k] = worked{}
			}
			instruments[k].add(r.Date)
		}
	}
	return people, instruments
}

// named is the people a cell names: one, or several divided when the whole is
// no one's name.
func named(text string, crew map[string]bool) []string {
	if crew[inspection.Fold(text)] {
		return []string{text}
	}
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("/,;&+", r) })
}

// people is section 6: who worked with what, and whether it was valid on the
// days it was used.
func (w *writer) people() []Block {
	people, instruments := w.daysOf()
	blocks := []Block{Heading{2, "People"}}
	if len(w.in.Crew) == 0 {
		blocks = append(blocks, Paragraph{Text: "People and certificates are not recorded in the workbook."})
	} else {
		t := Table{Columns: []Column{
			{Head: "Name", Share: 2},
			{Head: "Employer", Share: 2},
			{Head: "Method", Share: 1.2},
			{Head: "Level", Share: 0.8},
			{Head: "Certificate", Share: 1.5},
			{Head: "Valid until", Share: 1.3},
			{Head: "Days worked by it", Share: 3},
			{Head: "On those days", Share: 2},
		}}
		for _, p := range w.in.Crew {
			days := people[[2]string{inspection.Fold(p.Name.Or("")), inspection.Fold(p.Method.Value)}]
			if inspection.Is(p.Method, "inspector") {
				days = worked{}
				days.add(w.in.Tank.InspectionStart)
				days.add(w.in.Tank.InspectionEnd)
			}
			valid, lapsed := days.validity(p.ValidUntil)
			r := Row{Cells: []string{
				text(p.Name), text(p.Employer), text(p.Method), text(p.Level), text(p.Certificate), date(p.ValidUntil), days.words(), valid,
			}, Bold: lapsed}
			if inspection.Is(p.Method, "inspector") && len(days) > 0 {
				r.Cells[6] = "the inspection, " + w.span()
			}
			if lapsed {
				r.Mark = "fail"
			}
			t.Rows = append(t.Rows, r)
		}
		blocks = append(blocks, filled(t))
	}
	blocks = append(blocks, Heading{2, "Instruments"})
	if len(w.in.Instruments) == 0 {
		return append(blocks, Paragraph{Text: "Instruments and calibration are not recorded in the workbook."})
	}
	t := Table{Columns: []Column{
		{Head: "Instrument", Share: 1.5},
		{Head: "Kind", Share: 1.5},
		{Head: "Serial", Share: 1.5},
		{Head: "Calibration due", Share: 1.5},
		{Head: w.head("Reference plate", unit.Thickness), Align: Right, Share: 1.3},
		{Head: "Days used", Share: 3},
		{Head: "On those days", Share: 2},
	}}
	for _, i := range w.in.Instruments {
		days := instruments[inspection.Fold(i.Name.Value)]
		valid, lapsed := days.validity(i.CalibrationDue)
		r := Row{Cells: []string{
			text(i.Name), text(i.Kind), text(i.Serial), date(i.CalibrationDue), fieldBare(w, unit.Thickness, i.Reference), days.words(), valid,
		}, Bold: lapsed}
		if lapsed {
			r.Mark = "fail"
		}
		t.Rows = append(t.Rows, r)
	}
	blocks = append(blocks, filled(t))
	return append(blocks, w.functionChecks()...)
}

// functionChecks counts the checks on reference plates by what came of them.
func (w *writer) functionChecks() []Block {
	n := len(w.in.Checks)
	if n == 0 {
		return nil
	}
	passed, failed := 0, 0
	for _, c := range w.in.Checks {
		switch {
		case inspection.Is(c.Result, "fail"):
			failed++
		case inspection.Is(c.Result, "pass"):
			passed++
		}
	}
	s := fmt.Sprintf("%s on reference plates %s recorded: %d passed, %d failed", capital(count(n, "function check")), was(n), passed, failed)
	if rest := n - passed - failed; rest > 0 {
		s += fmt.Sprintf(", %d without a result", rest)
	}
	return []Block{Paragraph{Text: s + "."}}
}
