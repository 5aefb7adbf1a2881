package check

import (
	"fmt"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// dates judges the order of days (Q301 to Q303, Q306). A date that cannot be
// is unknown from here on.
func (j *judge) dates(works []work) {
	t := &j.in.Tank
	ordered := true
	order := func(item string, later, earlier inspection.Date, name string) {
		if !later.OK() || !earlier.OK() || later.Value >= earlier.Value {
			return
		}
		h := j.onItem("Q301", item, later.Ref, later.Text, "%s %s is before %s %s", item, later.Value, name, earlier.Value)
		h.Related = see("", earlier.Ref)
		j.put(h)
		ordered = false
	}
	before := func(item string, d *inspection.Date) {
		if d.OK() && t.InspectionStart.OK() && d.Value > t.InspectionStart.Value {
			h := j.onItem("Q301", item, d.Ref, d.Text, "%s %s is after Inspection start %s", item, d.Value, t.InspectionStart.Value)
			h.Related = see("", t.InspectionStart.Ref)
			j.put(h)
			d.State = inspection.Wrong
		}
	}
	before("Commissioned", &t.Commissioned)
	before("Floor installed", &t.FloorInstalled)
	before("Previous internal inspection", &t.PreviousInternalInspection)
	order("Inspection end", t.InspectionEnd, t.InspectionStart, "Inspection start")
	order("Report date", t.ReportDate, t.InspectionEnd, "Inspection end")
	end := t.InspectionEnd
	installed := func(kind string, r *inspection.Row, key finding.Ref, d *inspection.Date) {
		if d.OK() && end.OK() && d.Value > end.Value {
			h := onRow("Q301", kind, r, d.Ref, key, d.Text, "installed %s, after Inspection end %s", d.Value, end.Value)
			h.Related = see("", end.Ref)
			j.put(h)
			d.State = inspection.Wrong
		}
	}
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		installed("Plates", &p.Row, p.Label.Ref, &p.Installed)
		if p.Installed.OK() && t.FloorInstalled.OK() && p.Installed.Value < t.FloorInstalled.Value {
			h := onRow("Q303", "Plates", &p.Row, p.Installed.Ref, p.Label.Ref, p.Installed.Text, "%s installed %s, before the floor, %s", p.Label.Text, p.Installed.Value, t.FloorInstalled.Value)
			h.Related = see("", t.FloorInstalled.Ref)
			j.put(h)
		}
	}
	for i := range j.in.Patches {
		installed("Existing patches", &j.in.Patches[i].Row, j.in.Patches[i].Label.Ref, &j.in.Patches[i].Installed)
	}
	if t.LiningInstalled.OK() && end.OK() && t.LiningInstalled.Value > end.Value {
		j.put(j.onItem("Q301", "Lining installed", t.LiningInstalled.Ref, t.LiningInstalled.Text, "lining installed %s, after Inspection end %s", t.LiningInstalled.Value, end.Value))
	}
	for i := range j.in.Repairs {
		r := &j.in.Repairs[i]
		if r.Completed.OK() && t.InspectionStart.OK() && r.Completed.Value < t.InspectionStart.Value {
			h := onRow("Q301", "Planned repairs", &r.Row, r.Completed.Ref, r.Label.Ref, r.Completed.Text, "completed %s, before Inspection start %s", r.Completed.Value, t.InspectionStart.Value)
			h.Related = see("", t.InspectionStart.Ref)
			j.put(h)
		}
	}
	if t.FloorInstalled.OK() && t.Commissioned.OK() && t.Commissioned.Value.YearsSince(t.FloorInstalled.Value) > 2 {
		h := j.onItem("Q303", "Floor installed", t.FloorInstalled.Ref, t.FloorInstalled.Text, "floor installed %s, over 2 years before the tank was commissioned, %s", t.FloorInstalled.Value, t.Commissioned.Value)
		h.Related = see("", t.Commissioned.Ref)
		j.put(h)
	}
	if ordered {
		late := j.afterReport(works)
		j.outsideInspection(works, late)
	}
	j.signedTooEarly(works)
}

// afterReport looks for work and signatures after the report date (Q301), and
// gives the cells.
func (j *judge) afterReport(works []work) map[finding.Ref]bool {
	late := make(map[finding.Ref]bool)
	t := &j.in.Tank
	if !t.ReportDate.OK() {
		return late
	}
	put := func(kind string, r *inspection.Row, key finding.Ref, d *inspection.Date) {
		if !d.OK() || d.Value <= t.ReportDate.Value {
			return
		}
		late[d.Ref] = true
		j.undated[d.Ref] = true
		h := onRow("Q301", kind, r, d.Ref, key, d.Text, "work %s, after Report date %s", d.Value, t.ReportDate.Value)
		h.Related = see("", t.ReportDate.Ref)
		j.put(h)
	}
	for _, w := range works {
		put(w.kind, w.row, w.key, w.date)
	}
	for i := range j.in.Repairs {
		r := &j.in.Repairs[i]
		put("Planned repairs", &r.Row, r.Label.Ref, &r.Completed)
	}
	for _, s := range j.signatures() {
		if s.date.OK() && s.date.Value > t.ReportDate.Value {
			h := j.onItem("Q301", s.item+" date", s.date.Ref, s.date.Text, "%s signed %s, after Report date %s", s.item, s.date.Value, t.ReportDate.Value)
			h.Related = see("", t.ReportDate.Ref)
			j.put(h)
		}
	}
	return late
}

// outsideInspection looks for work before the start or after the end (Q302).
func (j *judge) outsideInspection(works []work, late map[finding.Ref]bool) {
	t := &j.in.Tank
	if !t.InspectionStart.OK() || !t.InspectionEnd.OK() {
		return
	}
	start, end := t.InspectionStart.Value, t.InspectionEnd.Value
	type group struct {
		kind string
		day  unit.Date
	}
	hits := make(map[group]*finding.Hit)
	var order []group
	for _, w := range works {
		if !w.inside || !w.date.OK() || late[w.date.Ref] || w.date.Value >= start && w.date.Value <= end {
			continue
		}
		j.undated[w.date.Ref] = true
		g := group{w.kind, w.date.Value}
		if h, ok := hits[g]; ok {
			h.Related = append(h.Related, see("", w.date.Ref)...)
			continue
		}
		question := ""
		if turned, ok := turnedDate(w.date.Value); ok && turned >= start && turned <= end {
			question = fmt.Sprintf("; %s?", turned)
		}
		h := onRow("Q302", w.kind, w.row, w.date.Ref, w.key, w.date.Text, "%s is outside the inspection, %s to %s%s", w.date.Value, start, end, question)
		h.Subject, h.Column = w.date.Value.String(), w.dateColumn
		h.Related = see("inspection", t.InspectionStart.Ref, t.InspectionEnd.Ref)
		hits[g] = &h
		order = append(order, g)
	}
	for _, g := range order {
		j.put(*hits[g])
	}
}

// turnedDate is the date with day and month exchanged.
func turnedDate(d unit.Date) (unit.Date, bool) {
	t := d.Time()
	if t.Day() > 12 || t.Day() == int(t.Month()) {
		return 0, false
	}
	turned, err := unit.ParseDate(fmt.Sprintf("%04d-%02d-%02d", t.Year(), t.Day(), int(t.Month())))
	return turned, err == nil
}
