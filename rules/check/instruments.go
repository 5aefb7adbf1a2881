package check

import (
	"fmt"
	"math"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// use is an instrument on a day.
type use struct {
	instrument string // folded
	day        unit.Date
}

// instruments holds what was used against Instruments and Checks (Q201 to Q205).
func (j *judge) instruments(works []work) {
	known := make(map[string]*inspection.Instrument)
	var names []string
	for i := range j.in.Instruments {
		if r := &j.in.Instruments[i]; r.Name.OK() {
			known[inspection.Fold(r.Name.Value)] = r
			names = append(names, r.Name.Value)
		}
	}
	type group struct{ rule, kind, name string }
	hits := make(map[group]*finding.Hit)
	var order []group
	put := func(rule string, w work, subject, message string, related ...finding.Related) {
		g := group{rule, w.kind, inspection.Fold(subject)}
		if h, ok := hits[g]; ok {
			h.Related = append(h.Related, see("", w.instrument.Ref)...)
			return
		}
		h := onRow(rule, w.kind, w.row, w.instrument.Ref, w.key, w.instrument.Text, "%s", message)
		h.Subject, h.Column, h.Related = subject, "Instrument", related
		hits[g] = &h
		order = append(order, g)
	}
	used := make(map[use]work)
	var days []use
	for _, w := range works {
		if !w.instrument.OK() {
			continue
		}
		name := strings.TrimSpace(w.instrument.Value)
		f := inspection.Fold(name)
		day := j.day(w.date)
		r := known[f]
		switch {
		case r == nil && len(known) > 0:
			question := ""
			if near := closest(name, names, nil); near != "" {
				question = "; " + near + "?"
			}
			put("Q201", w, name, fmt.Sprintf("“%s” is not on Instruments%s", name, question))
			continue
		case r != nil && w.kind != "Checks" && day != 0 && r.CalibrationDue.OK() && day > r.CalibrationDue.Value:
			put("Q202", w, name, fmt.Sprintf("%s: calibration due %s, used %s", name, r.CalibrationDue.Value, day), see("due", r.CalibrationDue.Ref)...)
		}
		if w.kind == "Checks" || day == 0 || r != nil && inspection.Is(r.Kind, "pit gauge") {
			continue
		}
		u := use{f, day}
		if _, ok := used[u]; !ok {
			used[u] = w
			days = append(days, u)
		}
	}
	for _, g := range order {
		j.put(*hits[g])
	}
	if len(j.in.Checks) == 0 {
		return
	}
	j.checksMissing(days, used)
	j.failedChecks(works)
	j.referencePlates(works, known, days, used)
}

// checksMissing looks for days without a check at start and end (Q203). A pit
// gauge needs no function check.
func (j *judge) checksMissing(days []use, used map[use]work) {
	type marks struct{ starts, ends []unit.Date }
	of := make(map[string]*marks)
	for i := range j.in.Checks {
		c := &j.in.Checks[i]
		if c.Instrument.State == inspection.Wrong || c.Date.State == inspection.Wrong || c.Shift.State == inspection.Wrong {
			return // a check in error may be the one missing
		}
		if !c.Instrument.OK() || !c.Date.OK() {
			continue
		}
		f := inspection.Fold(c.Instrument.Value)
		m := of[f]
		if m == nil {
			m = &marks{}
			of[f] = m
		}
		switch c.Shift.Value {
		case "start":
			m.starts = append(m.starts, c.Date.Value)
		case "end":
			m.ends = append(m.ends, c.Date.Value)
		}
	}
	usedOn := make(map[string][]unit.Date)
	for _, u := range days {
		usedOn[u.instrument] = append(usedOn[u.instrument], u.day)
	}
	missing := make(map[use]string)
	for f, on := range usedOn {
		m := of[f]
		if m == nil {
			m = &marks{}
		}
		byDay := unchecked(on, m.starts, m.ends, false)
		if byNight := unchecked(on, m.starts, m.ends, true); len(byNight) < len(byDay) {
			byDay = byNight
		}
		for day, what := range byDay {
			missing[use{f, day}] = what
		}
	}
	for _, u := range days {
		what, ok := missing[u]
		if !ok {
			continue
		}
		w := used[u]
		name := strings.TrimSpace(w.instrument.Value)
		h := onRow("Q203", w.kind, w.row, w.instrument.Ref, w.key, w.instrument.Text, "%s, %s: %s", name, u.day, what)
		h.Subject = fmt.Sprintf("%s, %s", name, u.day)
		j.put(h)
	}
}

// unchecked is the days of use that no start and end enclose, with what is
// missing. A shift ends on the day it began, or on the next: by day the first
// is tried first, by night the second; whichever leaves fewer days open is the
// way the crew worked.
func unchecked(on, starts, ends []unit.Date, night bool) map[unit.Date]string {
	open, close := make(map[unit.Date]bool), make(map[unit.Date]bool)
	for _, d := range starts {
		open[d] = true
	}
	for _, d := range ends {
		close[d] = true
	}
	inside := make(map[unit.Date]bool)
	match := func(days unit.Date) {
		for _, d := range starts {
			if open[d] && close[d+days] {
				open[d], close[d+days] = false, false
				inside[d], inside[d+days] = true, true
			}
		}
	}
	if night {
		match(1)
		match(0)
	} else {
		match(0)
		match(1)
	}
	missing := make(map[unit.Date]string)
	for _, d := range on {
		switch {
		case open[d]:
			missing[d] = "no end check"
		case close[d]:
			missing[d] = "no start check"
		case !inside[d]:
			missing[d] = "no start and no end check"
		}
	}
	return missing
}

// failedChecks looks for failed checks and what was done since the last pass
// (Q204).
func (j *judge) failedChecks(works []work) {
	shift := map[string]int{"start": 0, "middle": 1, "end": 2}
	for i := range j.in.Checks {
		c := &j.in.Checks[i]
		if !inspection.Is(c.Result, "fail") || !c.Instrument.OK() {
			continue
		}
		name := inspection.Fold(c.Instrument.Value)
		var since unit.Date
		for k := range j.in.Checks {
			o := &j.in.Checks[k]
			if !inspection.Is(o.Result, "pass") || !o.Date.OK() || !c.Date.OK() || inspection.Fold(o.Instrument.Or("")) != name {
				continue
			}
			before := o.Date.Value < c.Date.Value || o.Date.Value == c.Date.Value && shift[o.Shift.Value] < shift[c.Shift.Value]
			if before && o.Date.Value > since {
				since = o.Date.Value
			}
		}
		plates := make(map[int]bool)
		values := 0
		for _, w := range works {
			if w.kind == "Checks" || !w.instrument.OK() || inspection.Fold(w.instrument.Value) != name {
				continue
			}
			day := j.day(w.date)
			if c.Date.OK() && day != 0 && (day > c.Date.Value || day < since) {
				continue
			}
			if w.plate >= 0 {
				plates[w.plate] = true
			}
			values++
		}
		what := "nothing recorded"
		if len(plates) > 0 {
			what = spelling.Count(len(plates), "plate", "plates")
		} else if values > 0 {
			what = spelling.Count(values, "row", "rows")
		}
		pass := "its last pass"
		if since == 0 {
			pass = "the start: no pass before"
		}
		j.put(onRow("Q204", "Checks", &c.Row, c.Result.Ref, c.Instrument.Ref, c.Result.Text, "%s failed its check: %s since %s", c.Instrument.Text, what, pass))
	}
}

// referencePlates looks for scans checked on another thickness only (Q205).
// Days on which no reference plate is stated are not judged.
func (j *judge) referencePlates(works []work, known map[string]*inspection.Instrument, days []use, used map[use]work) {
	nominals := make(map[use][]unit.Length)
	for _, w := range works {
		if w.kind != "Plates" || !w.instrument.OK() {
			continue
		}
		p := &j.in.Plates[w.plate]
		if !p.MFLScanned.OK() && !p.HandScanned.OK() {
			continue
		}
		if t := j.nominal(w.plate); t > 0 {
			u := use{inspection.Fold(w.instrument.Value), j.day(w.date)}
			nominals[u] = append(nominals[u], t)
		}
	}
	references := make(map[use][]unit.Length)
	at := make(map[use]finding.Ref)
	for i := range j.in.Checks {
		c := &j.in.Checks[i]
		if !c.Instrument.OK() || !c.Date.OK() {
			continue
		}
		u := use{inspection.Fold(c.Instrument.Value), c.Date.Value}
		v := c.Reference
		if none(v.State) {
			if r := known[u.instrument]; r != nil {
				v = r.Reference
			}
		}
		if v.OK() {
			references[u] = append(references[u], v.Value)
			at[u] = v.Ref
		}
	}
	for _, u := range days {
		w := used[u]
		refs := references[u]
		if len(refs) == 0 {
			continue
		}
		var bad unit.Length
		for _, t := range nominals[u] {
			fits := false
			for _, r := range refs {
				fits = fits || atMost(math.Abs(float64(r-t)), 0.1*float64(t))
			}
			if !fits {
				bad = t
				break
			}
		}
		if bad == 0 {
			continue
		}
		name := strings.TrimSpace(w.instrument.Value)
		h := onRow("Q205", w.kind, w.row, w.instrument.Ref, w.key, w.instrument.Text, "%s, %s: checked on %s, scanned %s plates",
			name, u.day, j.thick(refs[0]), j.thick(bad))
		h.Subject = fmt.Sprintf("%s, %s", name, u.day)
		h.Related = see("reference", at[u])
		j.put(h)
	}
}
