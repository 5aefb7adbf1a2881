package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/extreme"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// calculation says what the evaluation leaves open or should be noted for
// (K101 to K107).
func (r *resultJudge) calculation() {
	r.rates()
	r.steps()
	r.toNote()
	r.notJudged()
	r.policy()
}

// rates says when a rate is unknown or zero (K101, K102).
func (r *resultJudge) rates() {
	t := &r.in.Tank
	found := &r.res.AsFound
	if !found.SoilRate.Known && !found.ProductRate.Known {
		if t.FloorInstalled.State == inspection.Wrong || t.InspectionEnd.State == inspection.Wrong || r.ageInError() || !r.floorKnown() || !r.plan.Coverage.NotExamined.Known {
			return // follows from what is reported there
		}
		if !found.Interval.Known && len(found.Counted) > 0 {
			return // no nominal thickness: the empty item tells
		}
		r.rateUnknown()
		return
	}
	protected := inspection.Is(t.CathodicProtection, "recorded effective") && t.CathodicProtectionEvidence.OK()
	if found.SoilRate.Known && found.SoilRate.V == 0 && !protected {
		r.put(finding.Hit{Rule: "K102", Subject: "soil", Row: "soil", Message: "soil side: no measurable loss, rate 0"})
	}
	lined := t.Lining.OK() && t.Lining.Value != "none" && t.LiningInstalled.OK() && t.LiningExpectedLife.OK()
	if found.ProductRate.Known && found.ProductRate.V == 0 && !lined {
		r.put(finding.Hit{Rule: "K102", Subject: "product", Row: "product", Message: "product side: no measurable loss, rate 0"})
	}
}

// rateUnknown says why no rate is known, and what helps: each ground has its
// own remedy (K101).
func (r *resultJudge) rateUnknown() {
	why := "no corrosion rate"
	for _, id := range []string{"rate.soil.as_found", "rate.product.as_found", "rate.age"} {
		if s := r.res.Steps.Find(id); s != nil && !s.Known && s.Why != "" {
			why = s.Why
			break
		}
	}
	cap := r.in.Criteria.Get(criteria.IntervalCapRateUnknown)
	h := finding.Hit{Rule: "K101", Message: fmt.Sprintf("%s: %s-year cap", why, short(cap.Number, 1))}
	if s := r.res.Steps.Find("interval.cap"); s != nil && !slices.ContainsFunc(s.Inputs, func(in step.Input) bool { return in.Symbol == "C_u" }) {
		h.Message = why + ": the initial interval limits"
		cap = r.in.Criteria.Get(criteria.InitialInterval)
	}
	if alone := r.res.AsFound.ReadAlone; alone.Known {
		h.Message += fmt.Sprintf("; what was read gives %s years by itself", unit.IntervalText(alone.V))
	}
	installed := see("", r.in.Tank.FloorInstalled.Ref)
	switch r.res.AsFound.RateUnknown {
	case assess.NoUltrasonicValue:
		h.Do = "Measure by UT, or accept the cap."
	case assess.NoOldMetal:
		h.Do, h.Related = "Check Floor installed, or accept the cap.", installed
	case assess.NoAge, "":
		h.Related = installed
	default:
		h.Do = "Examine more, or accept the cap."
		h.Related = see("needed", r.in.Criteria.Get(criteria.LeastExaminedForARate).Ref)
	}
	h.Related = append(h.Related, see("limit", cap.Ref)...)
	r.put(h)
}

// ageInError says whether the age of a plate or a patch is unknown for an error
// in its date.
func (r *resultJudge) ageInError() bool {
	for i := range r.in.Plates {
		if r.in.Plates[i].Installed.State == inspection.Wrong {
			return true
		}
	}
	for i := range r.in.Patches {
		if r.in.Patches[i].Installed.State == inspection.Wrong {
			return true
		}
	}
	return false
}

// steps says which steps miss their limit (K103) or fail (K107).
func (r *resultJudge) steps() {
	for i := range r.res.Steps {
		s := &r.res.Steps[i]
		if s.ID == "floor.balance" {
			continue // T101
		}
		if !s.Known && s.Why == "the formula gives no number" {
			r.put(finding.Hit{Rule: "K107", Subject: s.ID, Row: s.ID, Message: s.ID + " gives no number"})
			continue
		}
		if ok, known := s.OK(); known && !ok {
			r.put(ToNote(s.ID, fmt.Sprintf("%s%s %s, limit %s", s.Title, stateOf(s.ID), r.stepText(s, s.Value), r.stepText(s, s.Limit.Value)), inputs(s)...))
		}
	}
}

// stateOf is the state a step belongs to, as words: " as planned".
func stateOf(id string) string {
	for _, s := range assess.States {
		if strings.HasSuffix(id, "."+s.String()) {
			return " " + s.Words()
		}
	}
	return ""
}

// stepText prints a step's value or limit; an interval is rounded down, as it
// is wherever it stands.
func (r *resultJudge) stepText(s *step.Step, v float64) string {
	if s.Kind == unit.Time && strings.HasPrefix(s.ID, "interval.adopted.") && v == s.Value {
		return unit.IntervalText(unit.Years(v)) + " " + unit.Time.Unit(r.in.Units)
	}
	extra := 0
	if s.Limit != nil {
		for s.Kind.Text(r.in.Units, s.Value, extra) == s.Kind.Text(r.in.Units, s.Limit.Value, extra) && extra < 6 {
			extra++ // a fail must not read as equal
		}
	}
	return s.Kind.TextUnit(r.in.Units, v, extra)
}

func inputs(s *step.Step) []finding.Ref {
	var refs []finding.Ref
	for _, in := range s.All() {
		if in.From.Ref.IsCell() {
			refs = append(refs, in.From.Ref)
		}
	}
	return refs
}

// toNote gathers the results that are no fault and should not be missed (K103).
func (r *resultJudge) toNote() {
	t := &r.in.Tank
	page := r.res.State(r.res.PageOne)
	if page == nil {
		page = &r.res.AsFound
	}
	desired := t.DesiredInterval
	if desired.OK() && page.Interval.Known && float64(page.Interval.V) < float64(desired.Value)-1e-9 {
		id := "interval.adopted." + r.res.PageOne.String()
		if s := r.res.Steps.Find(id); s == nil || s.Limit == nil {
			r.put(ToNote(id, fmt.Sprintf("%s years, %s desired", unit.IntervalText(page.Interval.V), short(float64(desired.Value), 1)), desired.Ref))
		}
	}
	r.patchingReaches(desired)
	r.extentOfRepairs()
	r.unevenSurvey()
	if t.ServiceChange.OK() && t.FloorInstalled.OK() && t.ServiceChange.Value > t.FloorInstalled.Value {
		r.put(ToNote("rate.product", fmt.Sprintf("service changed %s, floor of %s: the product-side rate mixes services", t.ServiceChange.Value, t.FloorInstalled.Value), t.ServiceChange.Ref))
	}
	if v := r.in.Criteria.Get(criteria.MFLThreshold); v.Number > 0 && v.Number <= 20 {
		for i := range r.in.Plates {
			if n := r.nominal(i); n > 10 && r.in.Plates[i].MFLScanned.Or(0) > 0 {
				r.put(ToNote("thickness.threshold", fmt.Sprintf("MFL threshold %s on %s, %s", percent(v.Number), r.in.Plates[i].Label.Text, r.thick(n)), r.in.Plates[i].Label.Ref))
				break
			}
		}
	}
	for i := range r.in.Patches {
		p := &r.in.Patches[i]
		if none(p.Installed.State) {
			h := onRow("K103", "Existing patches", &p.Row, p.Installed.Ref, p.Label.Ref, "", "%s without Installed: its age is taken as the plate's", p.Label.Text)
			r.put(h)
		}
	}
}

// patchingReaches says when what the scan may have missed, or sound metal
// itself, is below what the desired interval needs.
func (r *resultJudge) patchingReaches(desired inspection.Years) {
	found := &r.res.AsFound
	if !desired.OK() || !found.SoilRate.Known || !found.ProductRate.Known || !r.res.Required.Known {
		return
	}
	needed := float64(r.res.Required.V) + float64(desired.Value)*float64(found.SoilRate.V+found.ProductRate.V)
	least, at := math.Inf(1), -1
	for i := range r.res.Plates {
		if v := r.res.Plates[i].Threshold; v.Known && float64(v.V) < least {
			least, at = float64(v.V), i
		}
		if v := r.res.Plates[i].Sound; v.Known && float64(v.V) < least {
			least, at = float64(v.V), i
		}
	}
	if at < 0 || step.AtLeast(unit.Thickness, least, needed) {
		return
	}
	r.put(ToNote("threshold.needed", fmt.Sprintf("%s years need %s; %s of %s stays by patching", short(float64(desired.Value), 1),
		r.thick(unit.Length(needed)), r.thick(unit.Length(least)), r.in.Plates[at].Label.Text), desired.Ref))
}

// extentOfRepairs says when repairs touch much of the floor.
func (r *resultJudge) extentOfRepairs() {
	plates, touched := len(r.in.Plates), make(map[int]bool)
	area := 0.0
	for i := range r.res.Locations {
		if l := &r.res.Locations[i]; l.Repair != "" && l.Plate >= 0 {
			touched[l.Plate] = true
		}
	}
	for i := range r.in.Repairs {
		rep := &r.in.Repairs[i]
		p := r.plate(rep.Plate)
		if p < 0 || rep.Out {
			continue
		}
		touched[p] = true
		switch {
		case inspection.Is(rep.Kind, "replace plate"):
			area += float64(r.plan.Plates[p].NetArea)
		case rep.Length.OK() && rep.Width.OK():
			area += float64(rep.Length.Value) * float64(rep.Width.Value) / 1e6
		}
	}
	if plates > 0 && 4*len(touched) >= plates && len(touched) > 0 {
		r.put(ToNote("repair.plates", fmt.Sprintf("repairs on %d of %d plates", len(touched), plates)))
	}
	if f := r.plan.FloorArea; f.Known && f.V > 0 && area >= 0.1*float64(f.V) {
		r.put(ToNote("repair.area", fmt.Sprintf("repairs of %s on %s of floor", r.text(unit.AreaKind, area), r.text(unit.AreaKind, float64(f.V)))))
	}
}

// unevenSurvey says when shell points are not evenly spaced.
func (r *resultJudge) unevenSurvey() {
	var bearings []float64
	var at finding.Ref
	for i := range r.in.Settlement {
		if s := &r.in.Settlement[i]; inspection.Is(s.Kind, "shell") && s.Bearing.OK() {
			bearings = append(bearings, math.Mod(float64(s.Bearing.Value)+360, 360))
			if !at.IsCell() {
				at = s.Bearing.Ref
			}
		}
	}
	if len(bearings) < 3 {
		return
	}
	even := 360 / float64(len(bearings))
	sortFloats(bearings)
	worst := 0.0
	for i := range bearings {
		next := bearings[(i+1)%len(bearings)]
		if i == len(bearings)-1 {
			next += 360
		}
		worst = math.Max(worst, math.Abs(next-bearings[i]-even))
	}
	if worst > 0.1*even+1e-9 {
		r.put(ToNote("settlement.points", fmt.Sprintf("points uneven by %s of %s", r.bareAngle(worst), r.bareAngle(even)), at))
	}
}

// notJudged gathers what has no verdict (K104).
func (r *resultJudge) notJudged() {
	t := &r.in.Tank
	width := r.in.Criteria.Get(criteria.CriticalZoneWidth)
	if !r.res.CriticalZone.Min.Known && r.plan.Radius > 0 && len(r.in.Plates) > 0 && r.floorKnown() && !r.lostInZone(width.Number) {
		r.put(NotJudged("critical.required", fmt.Sprintf("no reading within %s of the shell: the critical zone is not judged", r.thick(unit.Length(width.Number))), width.Ref))
	}
	r.plates()
	r.governing()
	r.edges()
	r.unexamined()
	if r.offBalance() {
		return // the diameter itself is in doubt (T101)
	}
	if t.Diameter.OK() && !atMost(float64(t.Diameter.Value), float64(largestDiameter)) {
		r.put(NotJudged("shell.tmin", fmt.Sprintf("diameter %s, the formula holds to %s", r.text(unit.Height, float64(t.Diameter.Value)), r.text(unit.Height, float64(largestDiameter))), t.Diameter.Ref))
	}
	r.annularRing()
}

// plates tells of each plate that nothing is known of; of many, once.
func (r *resultJudge) plates() {
	const most = 20
	var blind []int
	for i := range r.in.Plates {
		if r.notExamined(i) {
			blind = append(blind, i)
		}
	}
	n := len(blind)
	if n <= most && (n < len(r.in.Plates) || n <= 1) {
		for _, i := range blind {
			r.put(r.onPlate("K104", i, "", "%s not examined at all: no value", r.in.Plates[i].Label.Text))
		}
		return
	}
	var shown []string
	var from []finding.Ref
	for _, i := range blind[:min(n, most)] {
		shown, from = append(shown, r.in.Plates[i].Label.Text), append(from, r.in.Plates[i].Label.Ref)
	}
	message := fmt.Sprintf("%d of %d plates not examined at all: no value: %s", n, len(r.in.Plates), strings.Join(shown, ", "))
	switch {
	case n == len(r.in.Plates):
		message = fmt.Sprintf("none of the %d plates examined: no value", n)
	case n > most:
		message += fmt.Sprintf(" and %d more", n-most)
	}
	r.put(NotJudged("plates.examined", message, from...))
}

// notExamined says whether a plate has no value at all. One without percents
// and without a reason is reported as such (R401).
func (r *resultJudge) notExamined(i int) bool {
	p := &r.in.Plates[i]
	if p.ReasonNotExamined.State != inspection.Given {
		return false
	}
	for _, f := range []*inspection.Percent{&p.MFLScanned, &p.HandScanned, &p.UTGridded} {
		if f.State == inspection.Wrong || f.OK() && f.Value > 0 {
			return false
		}
	}
	if i < len(r.res.Plates) && r.res.Plates[i].SoundFrom == assess.ByReading {
		return false
	}
	return true
}

// governing says when a minimum rests on an estimate nobody proved up, or on a
// side nobody named.
func (r *resultJudge) governing() {
	state := r.res.State(r.res.PageOne)
	if state == nil {
		return
	}
	at := make(map[string]*assess.Location, len(r.res.Locations))
	for i := range r.res.Locations {
		l := &r.res.Locations[i]
		if (l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt) && at[l.Label] == nil {
			at[l.Label] = l
		}
	}
	var before *assess.Location
	for _, m := range []struct {
		id, label string
		min       unit.Maybe[unit.Length]
	}{
		{"thickness.soil." + state.State.String(), state.SoilMinAt, state.SoilMin},
		{"thickness.product." + state.State.String(), state.ProductMinAt, state.ProductMin},
	} {
		l := at[m.label]
		if l != nil && l == before {
			continue // one location on both sides: one finding
		}
		before = l
		if l == nil || !m.min.Known || !l.Remaining.Known || l.Indication < 0 && l.ProveUp < 0 {
			continue
		}
		var from finding.Ref
		if l.Indication >= 0 {
			from = r.in.Indications[l.Indication].ID.Ref
		} else if l.ProveUp >= 0 {
			from = r.in.ProveUps[l.ProveUp].ID.Ref
		}
		unnamed := false
		if l.Indication >= 0 {
			side := r.in.Indications[l.Indication].Side
			if r.excuses[l.Indication] || l.Side == assess.Unknown && !side.OK() {
				continue // its prove-up or its side is in error, and reported so
			}
			unnamed = l.Side == assess.Unknown
		} else {
			unnamed = l.Side == assess.Unknown && r.in.ProveUps[l.ProveUp].Side.State != inspection.Wrong
		}
		switch {
		case l.Basis == assess.ByMFL || l.Basis == assess.ByAllowance:
			r.put(NotJudged(m.id, fmt.Sprintf("%s of %s governs and is an estimate: prove it up", r.thick(m.min.V), l.Label), from))
		case unnamed:
			r.put(NotJudged(m.id, fmt.Sprintf("%s of %s governs and its side is unknown", r.thick(m.min.V), l.Label), from))
		}
	}
}

// unexamined says when the workbook asks for an extreme-value estimate in the
// interval and there is none to use.
func (r *resultJudge) unexamined() {
	asked := r.in.Criteria.Get(criteria.ExtremeValueInInterval)
	e := &r.res.Extreme
	if !r.in.Criteria.Is(criteria.ExtremeValueInInterval, "yes") || e.Used || !r.floorKnown() {
		return
	}
	why := e.Why
	if e.Made {
		why = fmt.Sprintf("doubtful: correlation of the probability plot %s, limit %s", unit.Round(e.Fit.Correlation, 4), unit.Round(extreme.Straight, 2))
	}
	r.put(NotJudged("extreme.level", "extreme-value estimate not used: "+why, asked.Ref))
}

func (r *resultJudge) annularRing() {
	t := &r.in.Tank
	has := false
	for i := range r.in.Plates {
		has = has || inspection.Is(r.in.Plates[i].Type, "annular")
	}
	if !has {
		return
	}
	if none(t.FirstCourseAsBuilt.State) {
		r.put(NotJudged("annular.required", "no First-course thickness as built", t.FirstCourseAsBuilt.Ref))
		return
	}
	if required, over := r.res.RingOverNominal(t); over {
		r.put(ToNote("annular.required", fmt.Sprintf("annular ring: required %s, more than its nominal %s: even sound metal falls short",
			r.thick(required), r.thick(t.AnnularNominal.Value)), t.AnnularNominal.Ref, t.FirstCourseAsBuilt.Ref))
	}
	if s := r.res.Steps.Find("annular.required"); s != nil && !s.Known && t.FirstCourseAsBuilt.OK() && t.SpecificGravity.OK() &&
		t.Diameter.OK() && t.MaximumFillHeight.OK() {
		r.put(NotJudged("annular.required", s.Why, inputs(s)...))
	}
}

// edges says which edge settlements have no limit to be held against.
func (r *resultJudge) edges() {
	be, bew := r.in.Criteria.Get(criteria.EdgeLimitBe), r.in.Criteria.Get(criteria.EdgeLimitBew)
	radius := r.in.Criteria.Get(criteria.EdgeLimitRadius)
	for i := range r.in.Settlement {
		s := &r.in.Settlement[i]
		if !inspection.Is(s.Kind, "edge") || !s.Measured.OK() {
			continue
		}
		why := ""
		switch {
		case !be.Set || !bew.Set || !radius.Set:
			why = "no Edge limit Be, Bew and radius in Criteria"
		case s.Radius.OK() && float64(s.Radius.Value) < radius.Number-1e-6:
			why = fmt.Sprintf("radius %s, limits read at %s", r.text(unit.Height, float64(s.Radius.Value)), r.text(unit.Height, radius.Number))
		default:
			continue
		}
		r.put(NotJudged("settlement.edge."+s.Point.Or(s.Key), why, s.Measured.Ref))
	}
}

// policy says what the policy for unproved indications does (K105, K106).
func (r *resultJudge) policy() {
	v := r.in.Criteria.Get(criteria.UnprovedIndications)
	excluded, estimated := 0, 0
	for i := range r.res.Locations {
		switch l := &r.res.Locations[i]; {
		case l.Verdict == assess.NotRelevant:
		case l.Verdict == assess.Excluded:
			excluded++
		case l.Basis == assess.ByMFL || l.Basis == assess.ByAllowance:
			estimated++
		}
	}
	switch {
	case v.Text == "exclude" && excluded > 0:
		r.put(finding.Hit{Rule: "K105", Message: spelling.Count(excluded, "unproved indication", "unproved indications") + " left out of the minima", Related: see("policy", v.Ref)})
	case v.Text == "block" && estimated > 0:
		r.put(finding.Hit{Rule: "K106", Message: spelling.Count(estimated, "unproved indication", "unproved indications") + ", and the policy is block", Related: see("policy", v.Ref)})
	}
}

// offBalance says whether the areas do not balance.
func (r *resultJudge) offBalance() bool {
	b := r.plan.Balance
	return b.Known && math.Abs(float64(b.V)) > r.in.Criteria.Number(criteria.AreaBalance)+1e-9
}

// floorKnown says whether the floor's areas are known and balance: else where
// the shell stands over the plates is not known, and said elsewhere.
func (r *resultJudge) floorKnown() bool {
	if !r.plan.Balance.Known || r.offBalance() {
		return false
	}
	for i := range r.plan.Plates {
		if p := &r.plan.Plates[i]; p.Why != "" && !p.Sump {
			return false
		}
	}
	return true
}

// lostInZone says whether a row with an error may be what was measured in the
// critical zone.
func (r *resultJudge) lostInZone(width float64) bool {
	lost := false
	r.spots(func(s spot) {
		if lost || s.kind != "Indications" && s.kind != "Prove-ups" && s.kind != "Readings" {
			return
		}
		plate := r.plate(*s.plate)
		if !s.row.Out && (plate < 0 || r.nominal(plate) > 0) {
			return
		}
		if plate < 0 || !s.x.OK() || !s.y.OK() {
			lost = true
			return
		}
		box, ok := r.plan.Box(plate, float64(s.x.Value), float64(s.y.Value), 0, 0)
		zone := r.plan.ZoneOf(plate, box, width)
		lost = !ok || zone == "" || zone == floor.Critical
	})
	return lost
}
