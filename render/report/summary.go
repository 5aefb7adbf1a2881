package report

import (
	"fmt"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
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
	shares := c.Shares()
	p := unit.Share.Parts(w.sys, shares)
	var parts []string
	for i, how := range []string{"scanned by MFL", "scanned by hand", "gridded by UT"} {
		if shares[i] > 0 {
			parts = append(parts, p[i]+" % was "+how)
		}
	}
	return s + " Of the plate area " + and(append(parts, p[3]+" % was not examined")) + "."
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
	f := w.res.AsFound
	s := w.inWords(w.tally())
	if !f.SoilMin.Known && !f.ProductMin.Known {
		return s + ". The smallest remaining thickness is not known."
	}
	return s + fmt.Sprintf(". As found, the smallest remaining thickness is %s on the soil side (%s) and %s on the product side (%s).",
		full(w, unit.Thickness, f.SoilMin), w.whereOf(f.SoilMinAt, f.SoilMin), full(w, unit.Thickness, f.ProductMin), w.whereOf(f.ProductMinAt, f.ProductMin)) + w.holes()
}

// holes names the places where the metal is through.
func (w *writer) holes() string {
	const most = 3
	var at []string
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Hole && l.Counts {
			place := w.where(l.Label)
			if l.Estimated() {
				place += ", estimated"
			}
			at = append(at, place)
		}
	}
	n := len(at)
	if n == 0 {
		return ""
	}
	if n > most {
		at = append(at[:most:most], fmt.Sprintf("%d more", n-most))
	}
	return fmt.Sprintf(" %s through the floor (%s): it may have opened long ago, so a rate from it is a lower bound.", capital(spelling.Count(n, "hole goes", "holes go")), and(at))
}

func (w *writer) intervalSentence() string {
	s := w.res.State(w.res.PageOne)
	if s == nil || !s.Interval.Known {
		return "An interval could not be calculated: " + w.why() + "."
	}
	if s.GovernedBy == assess.GovRepairFirst {
		return fmt.Sprintf("%s, metal is at or below %s: repair before return to service. No next date is calculated%s.",
			capital(w.res.StateWords(w.res.PageOne)), w.notLeft(s), w.ifCarriedOut())
	}
	base := "inspection end"
	if w.in.Criteria != nil {
		base = w.in.Criteria.Get("Interval base date").Text
	}
	out := fmt.Sprintf("%s, the calculated interval is %s years, governed by %s", capital(w.res.StateWords(w.res.PageOne)), intervalText(s.Interval), s.GovernedBy.Words())
	if s.NextDate != 0 {
		out += fmt.Sprintf("; the calculated next date is %s, counted from the %s by API 653 4.4.5 and 6.4.2", s.NextDate, base)
	}
	return out + w.ifCarriedOut() + "."
}

// ifCarriedOut is the interval with the repairs that the program proposes, a
// further sentence without its full stop.
func (w *writer) ifCarriedOut() string {
	p := &w.res.AsPlanned
	if !w.res.Proposes() || w.res.PageOne != assess.AsFound || !p.Interval.Known {
		return ""
	}
	if p.GovernedBy == assess.GovRepairFirst {
		return ". With the repairs proposed here, too, metal is at or below " + w.notLeft(p)
	}
	out := fmt.Sprintf(". With the repairs proposed here, if carried out, the calculated interval would be %s years", intervalText(p.Interval))
	if p.NextDate != 0 {
		out += fmt.Sprintf(" and the calculated next date %s", p.NextDate)
	}
	return out
}

// notLeft names the requirements that a state has no metal above.
func (w *writer) notLeft(s *assess.StateResult) string {
	var parts []string
	for _, r := range []struct {
		id, whose string
		required  unit.Maybe[unit.Length]
	}{
		{"corrosion", "floor", s.Required}, {"critical", "critical zone", w.res.CriticalZone.Required}, {"annular", "annular ring", w.res.Annular.Required},
	} {
		if st := w.res.Steps.Find("interval." + r.id + "." + s.State.String()); st != nil && st.Known && st.Value <= 0 {
			parts = append(parts, full(w, unit.Thickness, r.required)+" ("+r.whose+")")
		}
	}
	if len(parts) == 0 {
		return "what is required"
	}
	return "the required " + and(parts)
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
		Columns: []Column{{Head: "", Share: 3.2}},
	}
	states := w.states()
	for _, s := range states {
		t.Columns = append(t.Columns, Column{Head: w.stateHead(s.State), Align: Right, Share: 2})
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
	row("Corrosion rate, product side, "+w.unit(unit.RateKind), w.productRate)
	th("Required thickness", func(s *assess.StateResult) unit.Maybe[unit.Length] { return s.Required })
	row("Minimum remaining thickness (MRT), "+w.unit(unit.Thickness), func(s *assess.StateResult) string {
		if !s.MRT.Known {
			return none
		}
		return bare(w, unit.Thickness, s.MRT) + " " + afterYears(s.MRTYears)
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
		return orDash(s.GovernedBy.Words())
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

// productRate is the rate in force on the product side, and the measured one
// where a lining that lives through the interval stands for it.
func (w *writer) productRate(s *assess.StateResult) string {
	out := bare(w, unit.RateKind, s.ProductRate)
	m := w.res.Steps.Find("rate.product_measured." + s.State.String())
	if m == nil || !m.Known || !s.ProductRate.Known || m.Value <= float64(s.ProductRate.V) {
		return out
	}
	return fmt.Sprintf("%s (%s without the lining)", out, unit.RateKind.Text(w.sys, m.Value, 0))
}

// states are those with something to tell: where nothing is planned and
// nothing proposed, the floor as planned is the floor as found.
func (w *writer) states() []*assess.StateResult {
	out := []*assess.StateResult{&w.res.AsFound}
	if !w.res.Proposed || w.res.Proposes() {
		out = append(out, &w.res.AsPlanned)
	}
	if w.res.AsCompleted != nil {
		out = append(out, w.res.AsCompleted)
	}
	return out
}

// afterYears is when a thickness is left: an interval is rounded down wherever
// it stands.
func afterYears(v unit.Maybe[unit.Years]) string {
	if v.Known && v.V <= 0 {
		return "now"
	}
	return "after " + intervalText(v) + " years"
}

// answersTable is zone verdicts, repairs and coverage in one small table.
func (w *writer) answersTable() Block {
	p := Pairs{}
	add := func(label, value string) { p.Rows = append(p.Rows, [2]string{label, value}) }
	c := w.res.CriticalZone
	add("Critical zone", w.zoneWords(c, "critical", "nothing was measured within it: not judged"))
	if inspection.Yes(w.in.Tank.AnnularRing) {
		add("Annular ring", w.zoneWords(w.res.Annular, "annular", "not judged; see the calculation"))
	}
	n := 0
	plates := map[int]bool{}
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Repair != "" {
			n++
			plates[l.Plate] = true
		}
	}
	what := w.repairState()
	repairs := "none " + what
	switch {
	case n == 0 && len(w.in.Repairs) > 0:
		repairs = count(len(w.in.Repairs), "row") + " " + what + ", taking out no place"
	case n > 0:
		repairs = fmt.Sprintf("%s on %s, taken out by the repairs %s", count(n, "place"), count(len(plates), "plate"), what)
	}
	if open := w.openSentence(); open != "" {
		repairs += "." + open
	}
	add("Repairs", repairs)
	if n > 0 {
		if s := w.steel(); s != "" {
			add("Steel and weld", s)
		}
	}
	if d := w.in.Tank.DesiredInterval; d.OK() {
		add("Owner's desired interval", field(w, unit.Time, d)+": "+w.reached(d.Value))
	}
	if s := w.res.Sizing.All; s.Pairs > 0 {
		add("MFL against UT", fmt.Sprintf("%s, bias %s points, worst underestimate %s points", count(s.Pairs, "pair"),
			bare(w, unit.Points, s.Bias), bare(w, unit.Points, s.WorstUnder)))
	}
	return p
}

// repairState is how far the repairs are: proposed, planned, completed.
func (w *writer) repairState() string {
	r := w.a.Repairs
	if w.res.Proposed || r == nil {
		return "proposed"
	}
	done := 0
	for i := range r.Items {
		if r.Items[i].Completed {
			done++
		}
	}
	switch {
	case done == 0:
		return "planned"
	case done == len(r.Items):
		return "completed"
	}
	return "planned and completed"
}

// steel is what the repairs need, "" where nothing is known of it.
func (w *writer) steel() string {
	r := w.a.Repairs
	if r == nil || r.Pieces == 0 && r.PlateMass.V == 0 {
		return ""
	}
	var parts []string
	if r.Pieces > 0 {
		parts = append(parts, fmt.Sprintf("%s, %s in all", count(r.Pieces, "patch blank"), full(w, unit.MassKind, r.Mass)))
	}
	if r.PlateMass.V > 0 {
		parts = append(parts, fmt.Sprintf("replacement plates, %s in all", full(w, unit.MassKind, r.PlateMass)))
	}
	if r.Weld > 0 {
		parts = append(parts, unit.Height.TextUnit(w.sys, float64(r.Weld), 0)+" of weld")
	}
	return strings.Join(parts, "; ")
}

func (w *writer) zoneWords(z assess.ZoneResult, id, unjudged string) string {
	if !z.Min.Known {
		if z.Required.Known {
			return fmt.Sprintf("requires %s; %s", full(w, unit.Thickness, z.Required), unjudged)
		}
		return unjudged
	}
	s := fmt.Sprintf("smallest %s at %s, requires %s", full(w, unit.Thickness, z.Min), w.whereOf(z.MinAt, z.Min), full(w, unit.Thickness, z.Required))
	now := z.Required.Known && step.AtLeast(unit.Thickness, float64(z.Min.V), float64(z.Required.V))
	switch {
	case z.Required.Known && !now:
		return s + ": does not meet it now" + w.later(id)
	case !z.OKKnown:
		return s + ": meets it now; the years to come are not judged"
	}
	after, later := afterYears(w.res.AsFound.MRTYears), w.later(id)
	if one := w.res.State(w.res.PageOne); z.OK && one != nil && one.MRTYears == w.res.AsFound.MRTYears && !strings.Contains(later, " not ") {
		later = "" // the same words
	}
	if later != "" && after != "now" {
		after = "as found " + after
	}
	switch {
	case after == "now":
		return s + ": meets it now" + later
	case z.OK:
		return s + ": meets it now and " + after + later
	}
	return s + ": meets it now, but not " + after + later
}

// later is whether a zone meets its requirement at the end of the interval of
// page one, where that is not the one of the floor as found.
func (w *writer) later(id string) string {
	state := w.res.State(w.res.PageOne)
	if w.res.PageOne == assess.AsFound || state == nil {
		return ""
	}
	s := w.res.Steps.Find(id + ".projected." + w.res.PageOne.String())
	if s == nil {
		return ""
	}
	ok, known := s.OK()
	if !known {
		return ""
	}
	not := ""
	if !ok {
		not = "not "
	}
	return "; " + w.res.StateWords(w.res.PageOne) + " " + not + afterYears(state.MRTYears)
}

// reached is whether the interval comes up to the owner's wish, in the state
// of page one and, where that is the floor as found, with the proposal too.
func (w *writer) reached(wish unit.Years) string {
	states := []assess.State{w.res.PageOne}
	if w.res.Proposes() && w.res.PageOne == assess.AsFound {
		states = append(states, assess.AsPlanned)
	}
	var parts []string
	for _, st := range states {
		verdict := "not known"
		if s := w.res.State(st); s != nil && s.Interval.Known {
			verdict = "not reached"
			if s.Interval.V >= wish-1e-9 {
				verdict = "reached"
			}
		}
		parts = append(parts, verdict+" "+w.res.StateWords(st))
	}
	return strings.Join(parts, ", ")
}

// openQuestions lists what keeps the report from being final, worst first,
// with the true count.
func (w *writer) openQuestions() []string {
	const most = 6
	var out []string
	all := w.open()
	for i, f := range all {
		if i == most {
			return append(out, fmt.Sprintf("and %d more, listed in the appendix", len(all)-most))
		}
		out = append(out, fmt.Sprintf("%s (%s %s): %s", w.placed(f), f.Severity, f.Rule, f.Message))
	}
	return out
}
