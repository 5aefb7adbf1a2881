package assess

import (
	"math"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// limitStep is the cap by the interval rule.
func (w *work) limitStep(id string, s *state) step.Step {
	t := &w.in.Tank
	barrier := wordCell("B", "release-prevention barrier", t.ReleasePreventionBarrier, w.lining.barrier)
	most := []step.Input{barrier, w.criterion("C_b", criteria.IntervalCapWithBarrier), w.criterion("C", criteria.IntervalCap)}
	st := step.Step{
		ID: id, Title: "longest interval allowed", Symbol: "cap", Kind: unit.Time, Branch: s.limit.text, Inputs: most,
		Formula: step.Parse("if(B = 1, C_b, C)"),
		Clause:  api653_5.Clause(api653_5.IntervalLimit), Source: api653_5.Document,
	}
	if w.lining.barrier {
		st.Verify = []string{api653_5.VerifyBarrierCap}
	}
	switch {
	case s.limit.gov == GovCapUnknown && w.initialRule():
		st.Formula = step.Parse("C_u")
		st.Inputs = []step.Input{w.criterion("C_u", criteria.IntervalCapRateUnknown)}
	case s.limit.gov == GovCapUnknown:
		st.Formula = step.Parse("min(C_u, if(B = 1, C_b, C))")
		st.Inputs = append(most, w.criterion("C_u", criteria.IntervalCapRateUnknown))
	case s.limit.gov == GovCapInitial:
		credits, inputs := w.creditTerms()
		st.Formula = w.formula("max(0, min(if(B = 1, C_b, C), I_0" + credits + " + max(0, (CA - 3.81)/0.381)) - N)")
		st.US = w.formula("max(0, min(if(B = 1, C_b, C), I_0" + credits + " + max(0, (CA - 0.15)/0.015)) - N)")
		st.Inputs = append(append(append(most, w.criterion("I_0", criteria.InitialInterval)), inputs...),
			w.criterion("CA", criteria.BottomCorrosionAllowance), w.servedInput())
	}
	return step.New(st)
}

func (w *work) servedInput() step.Input {
	if s := w.res.Steps.Find("rate.age"); w.served() > 0 && s != nil && s.Known {
		return step.From(*s)
	}
	return constant("N", "years in service", 0, unit.Time, "floor installed during this inspection, or its age not known")
}

// creditTerms are the credits that apply, as terms of a sum with their inputs.
func (w *work) creditTerms() (terms string, inputs []step.Input) {
	add := func(symbol string, n criteria.Name) {
		terms += " + " + symbol
		inputs = append(inputs, w.criterion(symbol, n))
	}
	switch {
	case w.lining.credited && w.lining.thin:
		add("c_t", criteria.CreditThinFilmLining)
	case w.lining.credited && w.lining.reinforced:
		add("c_r", criteria.CreditReinforcedLining)
	}
	if w.lining.cathodic {
		add("c_p", criteria.CreditCathodicProtection)
	}
	return terms + " + if(B = 1, c_b, 0)", append(inputs, w.criterion("c_b", criteria.CreditBarrier))
}

// limitID is the step of a state's cap: its own where it differs from that as
// found.
func (w *work) limitID(s *state) string {
	if s.is != AsFound && s.limit != w.states[0].limit {
		return "interval.cap." + s.is.String()
	}
	return "interval.cap"
}

// untilStep is the time until a requirement is reached; value is +Inf when the
// rates never reach it or are not known.
func (w *work) untilStep(id, r, required string, inputs []step.Input, value float64, s *state) step.Step {
	st := step.Step{
		ID: id, Symbol: "Or", Kind: unit.Time, Inputs: inputs,
		Formula: w.formula("if(" + r + " <= " + required + ", 0, (" + r + " - " + required + ")/(StPr + UPr))"),
		Clause:  api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	if w.lining.credited {
		st.Branch = "with the product-side rate as measured and no lining in the required thickness"
	}
	switch {
	case !s.groups[s.gov].known:
		return step.Unknown(st, "no thickness is known")
	case math.IsInf(value, 1) && !s.rates.known():
		return step.Unknown(st, "rates are not known")
	case !s.rates.known(): // below the requirement now, whatever the rates
		st.Formula = w.formula("if(" + r + " <= " + required + ", 0, cap)")
		st.Inputs = append(st.Inputs[:len(st.Inputs)-2:len(st.Inputs)-2], step.Input{
			Symbol: "cap", Title: "longest interval allowed", Value: s.limit.years, Known: true, Kind: unit.Time, From: step.Source{Step: w.limitID(s)},
		})
	case math.IsInf(value, 1):
		return step.Unknown(st, "no measurable loss: not limited by corrosion, a cap governs")
	}
	st.Value, st.Known = value, true
	if value == 0 {
		st.Branch = "below the requirement now: repair before return to service"
	}
	return st
}

// linedStep is the interval on the credit of the lining: no product-side rate,
// the lining's required thickness, at most its life.
func (w *work) linedStep(id string, s *state, g *group, rt string, rtInputs []step.Input, required, upr step.Step) step.Step {
	lined, tl := []step.Input{as("t_l", step.From(required))}, "t_l"
	if w.lining.thick {
		lined[0] = w.criterion("t_l", criteria.MinimumThicknessReinforcedLining)
		if w.lining.barrier {
			tl, lined = "min(t_l, t_b)", append(lined, w.criterion("t_b", criteria.MinimumThicknessBarrier))
		}
	}
	st := step.Step{
		ID: id, Title: "interval on the lining's credit", Symbol: "I_L", Kind: unit.Time,
		Inputs: append(append(append([]step.Input{}, rtInputs...), lined...), step.From(upr), step.From(w.lining.step)),
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyLiningLife, api653_5.VerifyThinFilm},
		Branch: "V with no product-side rate, at most the life left in the lining",
	}
	margins := []string{rt + " - " + tl}
	for _, n := range []struct {
		need     need
		r, t     string
		required func(need) step.Input
	}{
		{g.critical, "r_cz", "t_cz", w.criticalInput},
		{g.ring, "r_an", "t_ann", func(need) step.Input { return step.From(w.zone.ring) }},
	} {
		if n.need.known {
			margins = append(margins, n.r+" - "+n.t)
			st.Inputs = append(st.Inputs, as(n.r, w.placeInput(n.need.c)), n.required(n.need))
		}
	}
	margin := margins[0]
	if len(margins) > 1 {
		margin = "min(" + strings.Join(margins, ", ") + ")"
	}
	st.Formula = w.formula("if(" + margin + " <= 0, 0, min(L, (" + margin + ")/UPr))")
	if grown := g.rates.lined; grown.Known && grown.V > api653_5.NoRate {
		st.Formula = w.formula("if(" + margin + " <= 0, 0, min(L, (" + margin + ")/(UPr + g_1)))")
		st.Inputs = append(st.Inputs, w.linedInput(grown))
		st.Branch = "V with the growth measured under the lining, at most the life left in the lining"
	} else if g.rates.soil.V <= api653_5.NoRate {
		st.Formula = w.formula("if(" + margin + " <= 0, 0, L)")
	}
	st = step.New(st)
	if st.Known && g.v.least() == 0 {
		st.Value = 0
	}
	return st
}

// adoptedStep is the interval after caps.
func (w *work) adoptedStep(id string, s *state, parts []step.Step, lined, limit step.Step) step.Step {
	st := step.Step{
		ID: id, Title: "interval", Symbol: "I", Kind: unit.Time,
		Clause: api653_5.Clause(api653_5.IntervalLimit), Source: api653_5.Document,
		Branch: "governed by " + s.out.GovernedBy.Words(),
	}
	var body []string
	for i, p := range parts {
		if p.Known {
			symbol := []string{"I_corr", "I_2", "I_3"}[i]
			switch {
			case strings.HasPrefix(p.ID, "interval.critical"):
				symbol = "I_cz"
			case strings.HasPrefix(p.ID, "interval.annular"):
				symbol = "I_ann"
			}
			body = append(body, symbol)
			st.Inputs = append(st.Inputs, as(symbol, step.From(p)))
		}
	}
	terms := body
	if lined.Known && len(body) > 0 {
		st.Inputs = append(st.Inputs, step.From(lined))
		terms = []string{"max(min(" + strings.Join(body, ", ") + "), I_L)"}
	}
	terms = append(terms, "cap")
	st.Inputs = append(st.Inputs, step.From(limit))
	if j := w.in.Tank.JurisdictionLimit; j.OK() {
		terms = append(terms, "J")
		st.Inputs = append(st.Inputs, cell("J", "jurisdiction limit", j, unit.Time))
	}
	if o := w.set.Get(criteria.OwnerLimit); o.Set {
		terms = append(terms, "O")
		st.Inputs = append(st.Inputs, w.criterion("O", criteria.OwnerLimit))
	}
	st.Formula = w.formula("min(" + strings.Join(terms, ", ") + ")")
	if !s.out.Interval.Known {
		return step.Unknown(st, w.noInterval(s))
	}
	st = step.New(st)
	if d := w.in.Tank.DesiredInterval; d.OK() {
		st.Limit = &step.Limit{
			Symbol: "desired", Value: float64(d.Value), Known: true, Op: "≥",
			From: step.Source{Ref: d.Ref, Plain: d.Plain, Scale: d.Scale},
		}
	}
	return st
}

// orInput is the interval a state's thickness is projected over.
func (w *work) orInput(s *state) step.Input {
	if d := w.in.Tank.DesiredInterval; d.OK() {
		return cell("Or", "desired interval", d, unit.Time)
	}
	return step.Input{
		Symbol: "Or", Title: "interval", Value: float64(s.out.MRTYears.V), Known: s.out.MRTYears.Known, Kind: unit.Time,
		From: step.Source{Step: "interval.adopted." + s.is.String()},
	}
}

func (w *work) mrtStep(id string, s *state, soil, product, stpr, upr step.Step, or step.Input) step.Step {
	st := step.Step{
		ID: id, Title: "minimum remaining thickness", Symbol: "MRT", Kind: unit.Thickness,
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	g := &s.groups[s.gov]
	if s.rates.byPlate != nil && s.out.MRT.Known {
		if t := w.mrt(s); t.group >= 0 {
			g = &s.groups[t.group]
		}
	}
	rt, in := w.leastInputs(s, g, soil, product)
	rates := []step.Input{as("StPr", step.From(stpr)), step.From(upr)}
	if g != &s.groups[s.gov] {
		rates = w.plateRates(s, g.plate, g.rates)
	}
	st.Formula = w.formula(rt + " - Or*(StPr + UPr)")
	st.Inputs = append(append(append([]step.Input{}, in...), or), rates...)
	if !s.out.MRT.Known {
		why := "no thickness is known"
		if s.rates.unknown != "" {
			why = s.rates.unknown
		}
		return step.Unknown(st, why)
	}
	st = step.New(st)
	st.Limit = &step.Limit{Symbol: "t_req", Value: float64(s.out.Required.V), Known: true, Op: "≥", From: w.requiredFrom(s)}
	return st
}

// projectedStep is the place with the least margin in a zone at the end of the
// interval.
func (w *work) projectedStep(id, title string, s *state, n need, used []step.Input, required step.Input, clause api653_5.Subject) step.Step {
	st := step.Step{
		ID: id, Title: title, Symbol: "r_end", Kind: unit.Thickness, Formula: w.formula("r - Or*(StPr + UPr)"),
		Inputs: append([]step.Input{w.placeInput(n.c)}, used...), Branch: "least margin, at " + n.c.Label,
		Clause: api653_5.Clause(clause), Source: api653_5.Document, Verify: []string{api653_5.VerifyIsolatedPits},
	}
	if s.rates.byPlate != nil {
		copy(st.Inputs[1:], w.plateRates(s, n.c.Plate, w.basesOf(n.c.Plate, s.rates)))
	}
	switch {
	case !s.rates.known():
		st.Why = s.rates.unknown
	case !s.out.MRTYears.Known:
		st.Why = "no interval is known"
	}
	st = step.New(st)
	st.Limit = &step.Limit{Symbol: required.Symbol, Value: required.Value, Known: required.Known, Op: "≥", From: required.From}
	return st
}

// plateRates are the two rates of a plate, as inputs.
func (w *work) plateRates(s *state, k int, b bases) []step.Input {
	text := PlateRateText(s.is, w.plateName(k))
	return []step.Input{
		constant("StPr", ProductRate, float64(w.productOver(b, s.out.MRTYears)), unit.RateKind, text),
		constant("UPr", SoilRate, float64(b.soil.V), unit.RateKind, text),
	}
}

// placeInput is the remaining thickness of one place: a location's own step, or
// the cell of a reading.
func (w *work) placeInput(c Counted) step.Input {
	in := step.Input{Symbol: "r", Title: "remaining at " + c.Label, Value: float64(c.Remaining), Known: true, Kind: unit.Thickness, From: step.Source{Text: c.Label}}
	if c.Location < 0 {
		if c.from != nil {
			in.From = *c.from
		}
		return in
	}
	if l := &w.res.Locations[c.Location]; l.Remaining.V == c.Remaining {
		in.From = step.Source{Step: l.Step.ID}
	} else {
		in.From = step.Source{Text: c.Label + " after weld build-up"}
	}
	return in
}

// criticalInput is t_cz on the plate of a place.
func (w *work) criticalInput(n need) step.Input {
	in := step.Input{Symbol: "t_cz", Title: "required in the critical zone", Value: float64(n.required), Known: true, Kind: unit.Thickness}
	if s := w.res.Steps.Find("critical.required"); s != nil && s.Known && s.Value == float64(n.required) {
		in.From = step.Source{Step: s.ID}
		return in
	}
	in.From = step.Source{Text: "plate of " + n.c.Label}
	return in
}

func (w *work) dateStep(id string, s *state, adopted step.Step) step.Step {
	base := dateCell("base", "inspection end", w.in.Tank.InspectionEnd)
	if w.set.Is(criteria.IntervalBaseDate, "report date") {
		base = dateCell("base", "report date", w.in.Tank.ReportDate)
		if !base.Known || base.Value != float64(w.in.AsOf) {
			base = constant("base", "time base", float64(w.in.AsOf), unit.DateKind, "given in place of the report date")
			base.Known = w.in.AsOf != 0
		}
	}
	st := step.Step{
		ID: id, Title: "calculated next date", Symbol: "next", Kind: unit.DateKind,
		Formula: step.Parse("base + floor(365.25*I + 0.000001)"), Inputs: []step.Input{base, as("I", step.From(adopted))},
		Clause: api653_5.Clause(api653_5.IntervalLimit), Source: api653_5.Document,
	}
	switch {
	case !base.Known:
		st.Why = base.Title + " is not known"
	case !s.out.Interval.Known:
		st.Why = "no interval is known"
	case s.out.GovernedBy == GovRepairFirst:
		st.Why = "repair before return to service"
	}
	return step.New(st)
}
