package check

import (
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// signature is one line of those who answer for the report.
type signature struct {
	item string
	name *inspection.Text
	date *inspection.Date
}

func (j *judge) signatures() []signature {
	t := &j.in.Tank
	return []signature{
		{"Prepared by", &t.PreparedBy, &t.PreparedDate},
		{"Reviewed by", &t.ReviewedBy, &t.ReviewedDate},
		{"Responsible inspector", &t.ResponsibleInspector, &t.InspectorDate},
	}
}

// signed judges the signatures and the revision (Q304, Q305, Q603, Q604).
func (j *judge) signed() {
	t := &j.in.Tank
	for _, s := range j.signatures() {
		switch {
		case none(s.name.State):
			h := j.onItem("Q304", s.item, s.name.Ref, "", "%s is empty", s.item)
			if s.item != "Reviewed by" {
				h.Do = "Enter who signs."
			}
			j.put(h)
		case none(s.date.State):
			h := j.onItem("Q304", s.item+" date", s.date.Ref, "", "%s date is empty", s.item)
			h.Do = "Enter the day of the signature."
			j.put(h)
		}
	}
	if t.PreparedBy.OK() && t.ReviewedBy.OK() && inspection.Fold(t.PreparedBy.Value) == inspection.Fold(t.ReviewedBy.Value) {
		h := j.onItem("Q305", "Reviewed by", t.ReviewedBy.Ref, t.ReviewedBy.Text, "%s prepared and reviewed", t.ReviewedBy.Text)
		h.Related = see("", t.PreparedBy.Ref)
		j.put(h)
	}
	if r := inspection.Fold(t.Revision.Or("")); r != "" && r != "0" && r != "a" && none(t.RevisionNote.State) {
		h := j.onItem("Q604", "Revision note", itemOr(t.RevisionNote.Ref, t.Revision.Ref), "", "Revision %s, no note", t.Revision.Text)
		h.Related = see("", t.Revision.Ref)
		j.put(h)
	}
	for i := range j.in.Sections {
		s := &j.in.Sections[i]
		if inspection.Is(s.Include, "no") && requiredSection(s.Name.Or("")) {
			j.put(onRow("Q603", "Report", &s.Row, s.Include.Ref, s.Name.Ref, s.Include.Text, "%s left out: a final report must have it", s.Name.Text))
		}
	}
}

// signedTooEarly looks for signatures before the last work (Q306).
func (j *judge) signedTooEarly(works []work) {
	var last unit.Date
	what := ""
	for _, w := range works {
		if w.date.OK() && !j.undated[w.date.Ref] && w.date.Value > last {
			last, what = w.date.Value, "last work on "+w.kind
		}
	}
	for i := range j.in.Repairs {
		if c := j.in.Repairs[i].Completed; c.OK() && !j.undated[c.Ref] && c.Value > last {
			last, what = c.Value, "last repair"
		}
	}
	t := &j.in.Tank
	for _, s := range j.signatures() {
		switch {
		case !s.date.OK():
		case last != 0 && s.date.Value < last:
			j.put(j.onItem("Q306", s.item+" date", s.date.Ref, s.date.Text, "%s signed %s, %s %s", s.item, s.date.Value, what, last))
		case s.item == "Reviewed by" && t.PreparedDate.OK() && s.date.Value < t.PreparedDate.Value:
			h := j.onItem("Q306", s.item+" date", s.date.Ref, s.date.Text, "reviewed %s, prepared %s", s.date.Value, t.PreparedDate.Value)
			h.Related = see("", t.PreparedDate.Ref)
			j.put(h)
		}
	}
}

// requiredSections are the sections the inspection standard asks for.
//
// Source: API 653 6.9.2 with ballot item 653-2031.
var requiredSections = []string{
	"Cover", "Summary", "Tank and history", "Scope, standards, criteria", "People and instruments",
	"Coverage and areas not examined", "Floor", "Corrosion rates", "Minimum thickness and interval",
	"Repairs and recommendations", "Limitations and cautions",
}

func requiredSection(name string) bool {
	for _, s := range requiredSections {
		if strings.EqualFold(strings.TrimSpace(name), s) {
			return true
		}
	}
	return false
}

// criteriaChanged judges the criteria in force (Q402, Q403 of two criteria
// against each other, Q404).
func (j *judge) criteriaChanged() {
	set := j.in.Criteria
	for _, d := range criteria.Table {
		v := set.Get(d.Name)
		if !v.Given || !v.Changed {
			continue
		}
		if !j.in.Tank.Units.OK() && d.Default(unit.SI) != d.Default(unit.US) {
			continue // which default it differs from is not known
		}
		unitText := d.Unit(j.in.Units)
		if unitText != "" {
			unitText = " " + unitText
		}
		deflt := d.Default(j.in.Units)
		if deflt == "" {
			deflt = "none"
		}
		row := &inspection.Row{Sheet: v.Ref.Sheet, Number: v.Ref.Row, Key: string(d.Name)}
		h := onRow("Q404", "Criteria", row, v.Ref, v.Ref, v.Text, "%s %s%s, default %s", d.Name, v.Text, unitText, deflt)
		if strings.TrimSpace(v.Note) == "" {
			h.Rule = "Q402"
			h.Message += ", and no Note"
		}
		j.put(h)
	}
	for _, pair := range [][2]criteria.Name{
		{criteria.MFLThreshold, criteria.ProveUpThreshold},
		{criteria.PatchMinimum, criteria.PatchMinimumOverWeld},
		{criteria.EdgeLimitBew, criteria.EdgeLimitBe},
	} {
		a, b := set.Get(pair[0]), set.Get(pair[1])
		if !a.Set || !b.Set || atMost(a.Number, b.Number) {
			continue
		}
		name, v := pair[0], a
		if !a.Ref.IsCell() || !a.Changed && b.Changed {
			name, v = pair[1], b
		}
		row := &inspection.Row{Sheet: v.Ref.Sheet, Number: v.Ref.Row, Key: string(name)}
		h := onRow("Q403", "Criteria", row, v.Ref, v.Ref, v.Text, "%s %s is above %s %s", pair[0], j.criterion(pair[0], a), pair[1], j.criterion(pair[1], b))
		h.Related = see("", a.Ref, b.Ref)
		j.put(h)
	}
}

// criterion is a criterion's number with its unit.
func (j *judge) criterion(name criteria.Name, v criteria.Value) string {
	d, _ := criteria.Find(name)
	return j.text(d.Kind, v.Number)
}
