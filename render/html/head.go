package html

import (
	"html/template"
	"strconv"
	"strings"

	"platebook/render/report"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// head is the part of the page that stands without its script.
type head struct {
	Title, Heading string
	Facts          [][2]string // label, value
	Status         string
	Caution        bool
	Figures        []figure
	Condition      []string
	Limits         []string
	Cautions       []report.Block
	LeftOut        []inspection.Row
	Record         string

	Policy  string
	Style   template.CSS
	Guard   template.JS
	Script  template.JS
	Data    template.JS
	Drawing template.HTML
	Heads   []string    // of the table
	Same    [][2]string // what all its rows share
	Table   template.HTML
}

// figure is one of the few numbers that answer what is here, how deep, and
// what will be done.
type figure struct {
	Label, Value, Note string
	At                 string // row key of the place, "" without one
	Show               string // what the script can show of it
}

// The kinds of block of the cautions, for the template.
func (head) IsList(b report.Block) bool      { _, ok := b.(report.List); return ok }
func (head) IsHeading(b report.Block) bool   { _, ok := b.(report.Heading); return ok }
func (head) IsParagraph(b report.Block) bool { _, ok := b.(report.Paragraph); return ok }

func headOf(a *rules.Assessment, opt Options, words map[string]string) *head {
	t := &a.Inspection.Tank
	h := &head{Heading: "Tank " + t.Tank.Or("not named") + ": floor", LeftOut: a.LeftOut}
	h.Status, h.Caution = a.Standing()
	h.Title = h.Heading
	if r := t.ReportNumber.Or(""); r != "" {
		h.Title += ", report " + r
	}
	h.Title += " – " + h.Status
	add := func(label, value string) {
		if value != "" {
			h.Facts = append(h.Facts, [2]string{label, value})
		}
	}
	add("Client", t.Client.Or(""))
	add("Site", t.Site.Or(""))
	add("Report", t.ReportNumber.Or(""))
	add("Revision", t.Revision.Or(""))
	add("Report date", a.Inspection.AsOf.String())
	if t.InspectionEnd.OK() {
		add("Inspected until", t.InspectionEnd.Value.String())
	}
	add("Firm", t.FirmName.Or(""))
	h.Condition, h.Limits = report.Condition(a)
	h.Cautions = report.Cautions(a)
	h.Figures = figures(a)
	hash := a.Inspection.File.SHA256
	h.Record = "Calculated by platebook " + opt.Version + " (rules " + rules.Version + ") from " + a.Inspection.File.Name
	if len(hash) >= 8 {
		h.Record += ", SHA-256 " + hash[:8] + "…"
	}
	return h
}

func figures(a *rules.Assessment) []figure {
	r, sys := a.Result, a.Inspection.Units
	length := func(m unit.Maybe[unit.Length]) string {
		if !m.Known {
			return "not known"
		}
		return unit.Thickness.TextUnit(sys, float64(m.V), 0)
	}
	found := &r.AsFound
	list := []figure{
		{Label: "Smallest remaining, soil side, as found", Value: length(found.SoilMin), Note: where(a, found.SoilMinAt), At: found.SoilMinAt},
		{Label: "Smallest remaining, product side, as found", Value: length(found.ProductMin), Note: where(a, found.ProductMinAt), At: found.ProductMinAt},
		{Label: "Required thickness", Value: length(r.Required)},
		toDo(a), interval(a), unexamined(a),
	}
	if f, ok := grown(a); ok {
		list = append(list, f)
	}
	return list
}

// grown is what changed since the previous inspection.
func grown(a *rules.Assessment) (figure, bool) {
	c := a.Comparison
	if c == nil || len(c.Refused) > 0 || c.Old().In == nil {
		return figure{}, false
	}
	f := figure{
		Label: "Grown or new since " + c.Old().In.Tank.InspectionEnd.Value.String(),
		Value: count(c.Count[compare.Grown]+c.Count[compare.New], "place"), Show: "grown",
	}
	best, side := &c.Soil, "soil"
	if c.Product.Growth.Known && (!best.Growth.Known || c.Product.Growth.V > best.Growth.V) {
		best, side = &c.Product, "product"
	}
	f.Note = "no rate of growth was measured"
	if best.Growth.Known {
		f.Note = "most, " + side + " side: " + unit.RateKind.TextUnit(a.Inspection.Units, float64(best.Growth.V), 0) + " at " + best.At
	}
	return f, true
}

func where(a *rules.Assessment, label string) string {
	if label == "" {
		return ""
	}
	return report.Where(a, label)
}

// toDo is the places that need something done, and what is planned.
func toDo(a *rules.Assessment) figure {
	n, without := 0, 0
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if !urgent(l.Verdict) || l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt {
			continue
		}
		n++
		if l.Repair == "" {
			without++
		}
	}
	f := figure{Label: "Places to repair or to evaluate", Value: count(n, "place")}
	if n == 0 {
		f.Value = "none"
		return f
	}
	what := "repairs planned"
	if a.Result.Proposed {
		what = "repairs proposed by the program"
	}
	repairs := 0
	if a.Repairs != nil {
		repairs = len(a.Repairs.Items)
	}
	f.Show = "todo"
	f.Note = strconv.Itoa(repairs) + " " + what
	if without > 0 {
		f.Note += "; " + count(without, "place") + " without one"
	}
	return f
}

func urgent(v assess.Verdict) bool {
	return v == assess.Repair || v == assess.RepairFirst || v == assess.Engineering
}

func interval(a *rules.Assessment) figure {
	s := a.Result.State(a.Result.PageOne)
	f := figure{Label: "Calculated interval, " + a.Result.PageOne.Words(), Value: "not calculated"}
	if s == nil || !s.Interval.Known {
		return f
	}
	if s.GovernedBy == assess.GovRepairFirst {
		f.Value, f.Note = "none", s.GovernedBy.Words()
		return f
	}
	years := unit.IntervalText(s.Interval.V) + " years"
	f.Value, f.Note = years, "governed by "+s.GovernedBy.Words()
	if s.NextDate != 0 { // what is asked for first
		f.Label = "Calculated next date, " + a.Result.PageOne.Words()
		f.Value, f.Note = s.NextDate.String(), "interval "+years+", "+f.Note
	}
	return f
}

func unexamined(a *rules.Assessment) figure {
	f := figure{Label: "Not examined, share of plate area", Value: "not recorded"}
	if c := a.Plan.Coverage.NotExamined; c.Known {
		f.Value = unit.Share.TextUnit(a.Inspection.Units, float64(c.V), 0)
	}
	n, silent := 0, 0
	for i := range a.Inspection.Plates {
		if a.Inspection.Plates[i].Out {
			continue
		}
		switch e := a.Result.Plates[i].Examined; {
		case !e.Known:
			silent++
		case !step.AtLeast(unit.Share, float64(e.V), 100):
			n++
		}
	}
	if len(a.Inspection.Plates) == 0 {
		return f
	}
	f.Note = "on " + count(n, "plate")
	if silent > 0 {
		f.Note += "; " + count(silent, "plate") + " without a record"
	}
	if n+silent > 0 {
		f.Show = "unexamined"
	}
	return f
}

func count(n int, noun string) string {
	s := unit.Round(float64(n), 0) + " " + noun
	if n != 1 {
		s += "s"
	}
	return s
}

// oneLine is a workbook's text on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
