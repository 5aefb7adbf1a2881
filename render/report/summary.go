package report

import (
	"fmt"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// summary is page one: the condition in three sentences, the figures that
// decide, and what is still open.
func (w *writer) summary() []Block {
	blocks := []Block{
		Paragraph{Text: w.conditionSentence()},
		Paragraph{Text: w.thicknessSentence()},
		Paragraph{Text: w.intervalSentence()},
		w.figures(),
		w.answersTable(),
	}
	if open := w.openQuestions(); len(open) > 0 {
		blocks = append(blocks, Heading{2, "Open before this report can be final"}, List{open})
	}
	return append(blocks, Heading{2, "Limitations of these figures"}, List{w.limits()})
}

// limits is what the figures of page one leave out.
func (w *writer) limits() []string {
	limits := append([]string(nil), w.res.Limitations...)
	if n := len(w.a.LeftOut); n > 0 {
		limits = append(limits, fmt.Sprintf("%s %s left out of the calculation because of an error in them; they are listed in the appendix.", capital(count(n, "row")), was(n)))
	}
	return append(limits, "Licensed people and local codes decide on fitness for service; see Limitations and cautions.")
}

func (w *writer) conditionSentence() string {
	t := w.in.Tank
	about := []string{count(len(w.in.Plates), "plate")}
	if t.Diameter.OK() {
		about = append([]string{field(w, unit.Height, t.Diameter) + " in diameter"}, about...)
	}
	if t.NominalThickness.OK() {
		about = append(about, "nominal "+field(w, unit.Thickness, t.NominalThickness))
	}
	if t.FloorInstalled.OK() {
		about = append(about, "installed "+date(t.FloorInstalled))
	}
	s := fmt.Sprintf("The floor of tank %s (%s) was inspected %s.", t.Tank.Or("not named"), strings.Join(about, ", "), w.inspected())
	c := w.a.Plan.Coverage
	if !c.MFL.Known {
		return s + " The area examined is not recorded."
	}
	p := unit.Share.Parts(w.sys, c.Shares())
	return s + fmt.Sprintf(" Of the plate area %s %% was scanned by MFL, %s %% by hand, %s %% gridded by UT and %s %% not examined.", p[0], p[1], p[2], p[3])
}

// inspected is when, for a sentence.
func (w *writer) inspected() string {
	a, b := w.in.Tank.InspectionStart, w.in.Tank.InspectionEnd
	switch {
	case a.OK() && b.OK() && a.Value != b.Value:
		return fmt.Sprintf("from %s to %s", a.Value, b.Value)
	case a.OK() && b.OK():
		return "on " + a.Value.String()
	case a.OK():
		return fmt.Sprintf("from %s on; its end is not recorded", a.Value)
	case b.OK():
		return fmt.Sprintf("until %s; its start is not recorded", b.Value)
	}
	return "on days that are not recorded"
}

func (w *writer) thicknessSentence() string {
	n, proved := 0, 0
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if l.Kind == assess.IndicationAt && l.Verdict != assess.NotRelevant {
			n++
			if len(l.Tied) > 0 {
				proved++
			}
		}
	}
	f := w.res.AsFound
	s := fmt.Sprintf("%s %s recorded", capital(count(n, "indication")), was(n))
	if n == 0 {
		s = "No indications were recorded: a clean floor within the areas examined and the reach of the methods"
		if w.a.Counts.Errors > 0 || len(w.a.LeftOut) > 0 {
			s = "No indications could be read from the workbook, which has errors: nothing follows from that for the floor"
		}
	} else {
		s += fmt.Sprintf(", %d of them proved up", proved)
	}
	if !f.SoilMin.Known && !f.ProductMin.Known {
		return s + ". The smallest remaining thickness is not known."
	}
	return s + fmt.Sprintf(". As found, the smallest remaining thickness is %s on the soil side (%s) and %s on the product side (%s).",
		full(w, unit.Thickness, f.SoilMin), w.whereOf(f.SoilMinAt, f.SoilMin), full(w, unit.Thickness, f.ProductMin), w.whereOf(f.ProductMinAt, f.ProductMin))
}

func (w *writer) intervalSentence() string {
	s := w.res.State(w.res.PageOne)
	if s == nil || !s.Interval.Known {
		return "An interval could not be calculated: " + w.why() + "."
	}
	if s.GovernedBy == assess.GovRepairFirst {
		return fmt.Sprintf("As found the floor does not reach the required %s: repair before return to service. No next date is calculated.",
			full(w, unit.Thickness, s.Required))
	}
	base := "inspection end"
	if w.in.Criteria != nil {
		base = w.in.Criteria.Get("Interval base date").Text
	}
	out := fmt.Sprintf("%s, the calculated interval is %s years, governed by %s", capital(w.res.PageOne.Words()), intervalText(s.Interval), governors[s.GovernedBy])
	if s.NextDate != 0 {
		out += fmt.Sprintf("; the calculated next date is %s, counted from the %s by API 653 4.4.5 and 6.4.2", s.NextDate, base)
	}
	if w.res.Proposed && w.res.PageOne == assess.AsFound && w.res.AsPlanned.Interval.Known && w.anyRepair() {
		out += fmt.Sprintf(". With the repairs proposed here it would be %s years (%s), if carried out",
			intervalText(w.res.AsPlanned.Interval), w.res.AsPlanned.NextDate)
	}
	return out + "."
}

func (w *writer) anyRepair() bool {
	for i := range w.res.Locations {
		if w.res.Locations[i].Repair != "" {
			return true
		}
	}
	return false
}

func (w *writer) why() string {
	id := "interval.adopted." + w.res.PageOne.String()
	if s := w.res.Steps.Find(id); s != nil && s.Why != "" {
		return s.Why
	}
	return "a value it needs is missing; see the findings"
}

// figures is the table of what decides, as found beside as planned.
func (w *writer) figures() Block {
	t := Table{
		Caption: "Results",
		Columns: []Column{{Head: "", Share: 3.2}, {Head: "As found", Align: Right, Share: 2}, {Head: w.plannedHead(), Align: Right, Share: 2}},
	}
	states := []*assess.StateResult{&w.res.AsFound, &w.res.AsPlanned}
	if w.res.AsCompleted != nil {
		t.Columns = append(t.Columns, Column{Head: "As completed", Align: Right, Share: 2})
		states = append(states, w.res.AsCompleted)
	}
	row := func(label string, value func(*assess.StateResult) string) {
		cells := []string{label}
		for _, s := range states {
			cells = append(cells, value(s))
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	th := func(label string, pick func(*assess.StateResult) unit.Maybe[unit.Length]) {
		row(label+", "+w.unit(unit.Thickness), func(s *assess.StateResult) string { return bare(w, unit.Thickness, pick(s)) })
	}
	th("Smallest remaining, soil side", func(s *assess.StateResult) unit.Maybe[unit.Length] { return s.SoilMin })
	row("   at", func(s *assess.StateResult) string { return w.whereOf(s.SoilMinAt, s.SoilMin) })
	th("Smallest remaining, product side", func(s *assess.StateResult) unit.Maybe[unit.Length] { return s.ProductMin })
	row("   at", func(s *assess.StateResult) string { return w.whereOf(s.ProductMinAt, s.ProductMin) })
	row("Corrosion rate, soil side, "+w.unit(unit.RateKind), func(s *assess.StateResult) string { return bare(w, unit.RateKind, s.SoilRate) })
	row("Corrosion rate, product side, "+w.unit(unit.RateKind), func(s *assess.StateResult) string { return bare(w, unit.RateKind, s.ProductRate) })
	th("Required thickness", func(s *assess.StateResult) unit.Maybe[unit.Length] { return s.Required })
	row("Minimum remaining thickness (MRT), "+w.unit(unit.Thickness), func(s *assess.StateResult) string {
		if !s.MRT.Known {
			return none
		}
		return fmt.Sprintf("%s after %s years", bare(w, unit.Thickness, s.MRT), bare(w, unit.Time, s.MRTYears))
	})
	row("Interval before limits, years", func(s *assess.StateResult) string {
		switch {
		case s.IntervalUncapped.Known || !s.Interval.Known:
		case s.SoilRate.Known && s.ProductRate.Known:
			return "not limited by corrosion"
		default:
			return "not known"
		}
		return intervalText(s.IntervalUncapped)
	})
	row("Calculated interval, years", func(s *assess.StateResult) string { return intervalText(s.Interval) })
	row("Governed by", func(s *assess.StateResult) string {
		if g := governors[s.GovernedBy]; g != "" {
			return g
		}
		return none
	})
	row("Calculated next date", func(s *assess.StateResult) string {
		if s.NextDate == 0 {
			return none
		}
		return s.NextDate.String()
	})
	for i, r := range t.Rows {
		if l := r.Cells[0]; l == "Calculated interval, years" || l == "Calculated next date" {
			t.Rows[i].Bold = true
		}
	}
	return t
}

func (w *writer) plannedHead() string {
	if w.res.Proposed {
		return "If the proposal is carried out"
	}
	return "As planned"
}

// answersTable is zone verdicts, repairs and coverage in one small table.
func (w *writer) answersTable() Block {
	p := Pairs{}
	add := func(label, value string) { p.Rows = append(p.Rows, [2]string{label, value}) }
	c := w.res.CriticalZone
	add("Critical zone", w.zoneWords(c, "nothing was measured within it: not judged"))
	if inspection.Yes(w.in.Tank.AnnularRing) {
		add("Annular ring", w.zoneWords(w.res.Annular, "not judged; see the calculation"))
	}
	n := 0
	plates := map[int]bool{}
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Repair != "" {
			n++
			plates[l.Plate] = true
		}
	}
	what := "planned"
	if w.res.Proposed {
		what = "proposed"
	}
	if n == 0 {
		add("Repairs", "none "+what)
	} else {
		add("Repairs", fmt.Sprintf("%s on %s taken out by repair, %s", count(n, "location"), count(len(plates), "plate"), what))
		if s := w.steel(); s != "" {
			add("Steel and weld", s)
		}
	}
	if d := w.in.Tank.DesiredInterval; d.OK() {
		got := w.res.State(w.res.PageOne)
		verdict := "not known"
		if got != nil && got.Interval.Known {
			verdict = "not reached"
			if got.Interval.V >= d.Value-1e-9 {
				verdict = "reached"
			}
		}
		add("Owner's desired interval", fmt.Sprintf("%s, %s %s", field(w, unit.Time, d), verdict, w.res.PageOne.Words()))
	}
	if s := w.res.Sizing.All; s.Pairs > 0 {
		add("MFL against UT", fmt.Sprintf("%s, bias %s points, worst underestimate %s points", count(s.Pairs, "pair"),
			bare(w, unit.Points, s.Bias), bare(w, unit.Points, s.WorstUnder)))
	}
	return p
}

// steel is what the repairs need, "" where nothing is known of it.
func (w *writer) steel() string {
	r := w.a.Repairs
	if r == nil || r.Pieces == 0 && r.PlateMass.V == 0 {
		return ""
	}
	var parts []string
	if r.Pieces > 0 {
		parts = append(parts, fmt.Sprintf("%s of %s", count(r.Pieces, "patch blank"), full(w, unit.MassKind, r.Mass)))
	}
	if r.PlateMass.V > 0 {
		parts = append(parts, "replacement plates of "+full(w, unit.MassKind, r.PlateMass))
	}
	if r.Weld > 0 {
		parts = append(parts, unit.Height.TextUnit(w.sys, float64(r.Weld), 0)+" of weld")
	}
	return strings.Join(parts, ", ")
}

func (w *writer) zoneWords(z assess.ZoneResult, unjudged string) string {
	if !z.Min.Known {
		if z.Required.Known {
			return fmt.Sprintf("requires %s; %s", full(w, unit.Thickness, z.Required), unjudged)
		}
		return unjudged
	}
	s := fmt.Sprintf("smallest %s at %s, requires %s", full(w, unit.Thickness, z.Min), w.where(z.MinAt), full(w, unit.Thickness, z.Required))
	now := z.Required.Known && step.AtLeast(unit.Thickness, float64(z.Min.V), float64(z.Required.V))
	switch {
	case z.Required.Known && !now:
		return s + ": does not meet it now"
	case !z.OKKnown:
		return s + ": meets it now; the years to come are not judged"
	case z.OK:
		return s + ": meets it now and at the end of the years considered"
	}
	return s + ": meets it now, but not at the end of the years considered"
}

// openQuestions lists what keeps the report from being final, worst first,
// with the true count.
func (w *writer) openQuestions() []string {
	const most = 6
	var out []string
	total := 0
	for _, sev := range []finding.Severity{finding.Error, finding.Warning} {
		for _, f := range w.a.Findings {
			if f.Severity != sev || f.Answer != nil {
				continue
			}
			total++
			if len(out) < most {
				place := f.Place()
				if place == "" {
					place = "workbook"
				}
				out = append(out, fmt.Sprintf("%s (%s %s): %s", place, f.Severity, f.Rule, f.Message))
			}
		}
	}
	if total > len(out) {
		out = append(out, fmt.Sprintf("and %d more, listed in the appendix", total-len(out)))
	}
	return out
}
