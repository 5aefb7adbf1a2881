package check

import (
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// plainPercent says whether a percent was typed as a bare number: neither with
// a sign of its own nor in a cell formatted as a percentage.
func plainPercent(f *inspection.Percent) bool {
	return f.OK() && !strings.Contains(f.Text, "%") && (f.Scale == 0 || f.Scale == 1)
}

// percentScales looks for shares of 1 among percents (C110).
func (j *judge) percentScales() {
	in := j.in
	type loss struct {
		f   *inspection.Percent
		row string
	}
	judgeColumn := func(kind, column string, all []loss, scanned func(i int) bool) {
		var small, large []loss
		whole := len(all) > 0
		for i, l := range all {
			switch {
			case !plainPercent(l.f) || l.f.Value <= 0:
				whole = whole && !(l.f.OK() && l.f.Value > 0)
			case l.f.Value <= 1:
				if scanned(i) {
					small = append(small, l)
				} else {
					whole = false
				}
			default:
				whole = false
				large = append(large, l)
			}
		}
		if len(small) == 0 || len(large) == 0 && !whole {
			return
		}
		refs := make([]finding.Ref, len(small))
		for i, l := range small {
			l.f.State = inspection.Wrong
			refs[i] = l.f.Ref
		}
		first := small[0]
		message := "Loss " + first.f.Text + " in a whole column up to 1"
		if len(large) > 0 {
			message = "Loss " + first.f.Text + " beside " + large[0].f.Text
		}
		h := j.columnHit("C110", kind, column, refs, first.f.Text, "%s", message)
		h.Row = first.row
		if len(large) > 0 {
			h.Related = append(h.Related, see("another scale", large[0].f.Ref)...)
		}
		j.put(h)
	}

	losses := make([]loss, len(in.Indications))
	for i := range in.Indications {
		losses[i] = loss{&in.Indications[i].Loss, in.Indications[i].Key}
	}
	whole := allUpToOne(len(losses), func(i int) *inspection.Percent { return losses[i].f })
	judgeColumn("Indications", "Loss %", losses, func(i int) bool {
		m := in.Indications[i].Method
		return whole || inspection.Is(m, "MFL") || inspection.Is(m, "hand scan")
	})
	tracks := make([]loss, len(in.Tracks))
	for i := range in.Tracks {
		tracks[i] = loss{&in.Tracks[i].LargestLoss, in.Tracks[i].Key}
	}
	judgeColumn("Tracks", "Largest loss %", tracks, func(int) bool { return true })
	j.coverageScales()
}

func allUpToOne(n int, at func(int) *inspection.Percent) bool {
	any := false
	for i := range n {
		f := at(i)
		if !f.OK() || f.Value <= 0 {
			continue
		}
		if !plainPercent(f) || f.Value > 1 {
			return false
		}
		any = true
	}
	return any
}

// coverageScales looks for plates whose plain percents sum to about 1.
func (j *judge) coverageScales() {
	var refs []finding.Ref
	var text, row string
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		sum, plain := 0.0, true
		parts := coverageOf(p)
		for _, f := range parts {
			plain = plain && f.State != inspection.Wrong
			if f.OK() && f.Value != 0 {
				sum += float64(f.Value)
				plain = plain && plainPercent(f)
			}
		}
		if !plain || sum < 0.98 || sum > 1.02 {
			continue
		}
		for _, f := range parts {
			if f.OK() && f.Value != 0 {
				if len(refs) == 0 {
					text, row = f.Text, p.Key
				}
				if len(refs) == 0 || refs[len(refs)-1].Row != f.Ref.Row {
					refs = append(refs, f.Ref)
				}
				f.State = inspection.Wrong
			}
		}
	}
	if len(refs) == 0 {
		return
	}
	column := "MFL scanned %"
	if s := j.in.Sheet("Plates"); s != nil {
		for _, name := range []string{"MFL scanned %", "Hand scanned %", "UT gridded %", "Not examined %"} {
			if c, ok := s.Columns[name]; ok && c.Col == refs[0].Col {
				column = name
			}
		}
	}
	h := j.columnHit("C110", "Plates", column, refs, text, "coverage %s: the row sums to 1, not to 100", text)
	h.Row = row
	j.put(h)
}

// coverageOf is the four shares of a plate.
func coverageOf(p *inspection.Plate) [4]*inspection.Percent {
	return [4]*inspection.Percent{&p.MFLScanned, &p.HandScanned, &p.UTGridded, &p.NotExamined}
}
