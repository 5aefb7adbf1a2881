package assess

import (
	"math"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// writeSteps writes every number down as a step, in the order it was found.
func (w *work) writeSteps(states []*state) {
	found := states[0]
	w.floorSteps()
	w.thicknessSteps()
	w.keep(w.ageStep())
	if w.lining.step.ID != "" {
		w.keep(w.lining.step)
	}
	w.requirementSteps(found)
	plain := w.requiredStep("required.general", "t_req", nil)
	if w.lining.thick && w.lining.credited {
		plain = w.requiredStep("required.unlined", "t_req", nil)
	}
	w.keep(plain)
	limits := make([]step.Step, len(states))
	for i, s := range states {
		id := "interval.cap"
		if i > 0 {
			if s.limit == found.limit {
				limits[i] = limits[0]
				continue
			}
			id += "." + s.is.String()
		}
		limits[i] = w.limitStep(id, s)
		w.keep(limits[i])
	}
	for i, s := range states {
		w.stateSteps(s, plain, limits[i])
	}
	if plain.ID != "required.general" {
		for _, s := range states {
			if s.is == w.res.PageOne {
				or := w.orInput(s)
				w.keep(w.requiredStep("required.general", "t_req", &or))
			}
		}
	}
}

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
		st.Formula = step.Parse("max(0, min(if(B = 1, C_b, C), I_0 + c + max(0, (CA - 3.81)/0.381)) - N)")
		st.US = step.Parse("max(0, min(if(B = 1, C_b, C), I_0 + c + max(0, (CA - 0.15)/0.015)) - N)")
		st.Inputs = append(most,
			w.criterion("I_0", criteria.InitialInterval),
			constant("c", "credits", float64(w.credits()), unit.Time, w.creditText()),
			w.criterion("CA", criteria.BottomCorrosionAllowance),
			w.servedInput(),
		)
	}
	return step.New(st)
}

func (w *work) servedInput() step.Input {
	if s := w.res.Steps.Find("rate.age"); w.served() > 0 && s != nil && s.Known {
		return step.From(*s)
	}
	return constant("N", "years in service", 0, unit.Time, "floor installed during this inspection, or its age not known")
}

func (w *work) creditText() string {
	var parts []string
	switch {
	case w.lining.credited && w.lining.thin:
		parts = append(parts, string(criteria.CreditThinFilmLining))
	case w.lining.credited && w.lining.reinforced:
		parts = append(parts, string(criteria.CreditReinforcedLining))
	}
	if w.lining.cathodic {
		parts = append(parts, string(criteria.CreditCathodicProtection))
	}
	if w.lining.barrier {
		parts = append(parts, string(criteria.CreditBarrier))
	}
	if parts == nil {
		return "no credit applies"
	}
	return strings.Join(parts, " + ")
}

// stateSteps are the steps of one state.
func (w *work) stateSteps(s *state, required, limit step.Step) {
	sfx := "." + s.is.String()
	g := &s.groups[s.gov]
	soil := w.columnStep(s, "thickness.soil"+sfx, "least remaining, soil side", "RTbc", true, required)
	product := w.columnStep(s, "thickness.product"+sfx, "least remaining, product side", "RTip", false, required)
	w.keep(soil)
	w.keep(product)
	upr, measured := w.rateStep(s, true), w.rateStep(s, false)
	w.keep(upr)
	w.keep(measured)

	rt, rtInputs := w.leastInputs(g, soil, product)
	rates := []step.Input{as("StPr", step.From(measured)), step.From(upr)}
	corrosion := w.untilStep("interval.corrosion"+sfx, rt, "t_req", append(append(rtInputs, step.From(required)), rates...), g.w.corrosion, s)
	corrosion.Title = "interval by the general requirement"
	w.keep(corrosion)
	parts := []step.Step{corrosion}
	if g.critical.known {
		c := w.untilStep("interval.critical"+sfx, "r", "t_cz", append([]step.Input{w.placeInput(g.critical.c), w.criticalInput(g.critical)}, rates...), g.w.critical, s)
		c.Title, c.Clause = "interval by the critical zone", api653_5.Clause(api653_5.CriticalZone)
		w.keep(c)
		parts = append(parts, c)
	}
	if g.ring.known {
		c := w.untilStep("interval.annular"+sfx, "r", "t_ann", append([]step.Input{w.placeInput(g.ring.c), step.From(w.zone.ring)}, rates...), g.w.ring, s)
		c.Title, c.Clause = "interval by the annular ring", api653_5.Clause(api653_5.AnnularRing)
		w.keep(c)
		parts = append(parts, c)
	}
	lined := step.Step{}
	if w.lining.credited && s.rates.known() {
		lined = w.linedStep("interval.lining"+sfx, s, g, rt, rtInputs, upr)
		w.keep(lined)
	}
	adopted := w.adoptedStep("interval.adopted"+sfx, s, parts, lined, limit)
	w.keep(adopted)
	or := w.orInput(s)
	stpr := measured
	if w.lining.credited {
		stpr = step.Step{
			ID: "rate.product" + sfx, Title: "product-side rate as used", Symbol: "StPr", Kind: unit.RateKind,
			Formula: step.Parse("if(L >= Or, 0, StPr_m)"), Inputs: []step.Input{step.From(w.lining.step), or, step.From(measured)},
			Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document, Verify: []string{api653_5.VerifyLiningLife},
			Branch: "the lining does not live through the interval: no credit",
		}
		if w.lining.covers(s.out.MRTYears) {
			stpr.Branch = "0 while the lining lives through the interval"
		}
		if lined := g.rates.lined; lined.Known && lined.V > 0 {
			stpr.Formula = step.Parse("if(L >= Or, g_1, StPr_m)")
			stpr.Inputs = append(stpr.Inputs, w.linedInput(lined))
			if w.lining.covers(s.out.MRTYears) {
				stpr.Branch = "pits grew under the lining: their growth counts while it lives"
			}
		}
		if !measured.Known {
			stpr.Why = measured.Why
		}
		stpr = step.New(stpr)
		w.keep(stpr)
	}
	w.keep(w.mrtStep("mrt"+sfx, s, soil, product, stpr, upr, or))
	used := []step.Input{as("StPr", step.From(stpr)), step.From(upr), or}
	all := w.group(-1, s.rates, s.counted, s.zoned)
	if all.critical.known {
		w.keep(w.projectedStep("critical.projected"+sfx, "critical zone at the end of the interval", s, all.critical, used, w.criticalInput(all.critical), api653_5.CriticalZone))
	}
	if all.ring.known {
		w.keep(w.projectedStep("annular.projected"+sfx, "annular ring at the end of the interval", s, all.ring, used, step.From(w.zone.ring), api653_5.AnnularRing))
	}
	w.keep(w.dateStep("interval.next_date"+sfx, s, adopted))
}

// columnStep is the least of a side over everything a state rests on.
func (w *work) columnStep(s *state, id, title, symbol string, soil bool, required step.Step) step.Step {
	column, values, at := "location.product."+s.is.String(), []float64(nil), s.out.ProductMinAt
	if soil {
		column, at = "location.soil."+s.is.String(), s.out.SoilMinAt
	}
	for i := range s.counted {
		c := &s.counted[i]
		if (soil && c.OnSoil) || (!soil && c.OnProduct) {
			values = append(values, float64(c.Remaining))
		}
	}
	st := step.Step{
		ID: id, Title: title, Symbol: symbol, Kind: unit.Thickness, Formula: leastOf,
		Inputs: []step.Input{{Symbol: "r", Title: "remaining thickness of each location", Values: values, Known: len(values) > 0, Kind: unit.Thickness, From: step.Source{Column: column}}},
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	if len(values) == 0 {
		st.Why = "no location has a value"
		return step.New(st)
	}
	st.Branch = "at " + at
	st = step.New(st)
	if s.out.Required.Known {
		st.Limit = &step.Limit{Symbol: "t_req", Value: float64(s.out.Required.V), Known: true, Op: "≥", From: w.requiredFrom(s)}
	}
	return st
}

func (w *work) requiredFrom(s *state) step.Source {
	if s.out.Required == w.res.Required || !w.lining.thick {
		return step.Source{Step: "required.general"}
	}
	return step.Source{Text: "required thickness over this state's interval"}
}

var (
	leastOf     = step.Parse("min(r)")
	rateFormula = step.Parse("max(u, 0, m)")
	soilFormula = step.Parse("if(P = 1, 0, max(u, 0, m))")
	rateGrown   = step.Parse("max(u, g, 0, m)")
	soilGrown   = step.Parse("if(P = 1, 0, max(u, g, 0, m))")
	soilSame    = step.Parse("if(P = 1, max(g_1, 0), max(u, g, 0, m))")
	takenOver   = step.Parse("u_0")
)

// rateStep is a side's rate without lining.
func (w *work) rateStep(s *state, soil bool) step.Step {
	g := &s.groups[s.gov]
	name, symbol, title := "rate.product", "StPr", "product-side rate"
	least, cause := criteria.MinimumProductSideRate, criteria.ProductSideCauseRemoved
	rate := g.rates.product
	if soil {
		name, symbol, title = "rate.soil", "UPr", "soil-side rate"
		least, cause = criteria.MinimumSoilSideRate, criteria.SoilSideCauseRemoved
		rate = g.rates.soil
	} else if w.lining.credited {
		name, symbol, title = "rate.product_measured", "StPr_m", "product-side rate as measured"
	}
	st := step.Step{
		ID: name + "." + s.is.String(), Title: title, Symbol: symbol, Kind: unit.RateKind,
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	if s.rates.unknown != "" {
		st.Formula = rateFormula
		st.Inputs = []step.Input{{Symbol: "u", Kind: unit.RateKind}, w.criterion("m", least)}
		return step.Unknown(st, s.rates.unknown)
	}
	if s.is != AsFound && !w.set.Is(criteria.RateAfterRepair, "recomputed") && !w.set.Is(cause, "yes") {
		st.Formula, st.Branch = takenOver, "after repair as found: the cause has not been removed"
		from := step.Source{Step: name + "." + AsFound.String()}
		if s.rates.byPlate != nil {
			from = step.Source{Text: "as found, plate " + w.in.Plates[g.plate].Label.Value}
		}
		st.Inputs = []step.Input{{Symbol: "u_0", Title: "rate as found", Value: float64(rate.V), Known: rate.Known, Kind: unit.RateKind, From: from}}
		return step.New(st)
	}
	values, at := w.rateColumn(s, g, soil)
	side := "product"
	if soil {
		side = "soil"
	}
	in := step.Input{
		Symbol: "u", Title: "rate of each location", Values: values, Known: len(values) > 0, Kind: unit.RateKind,
		From: step.Source{Column: "location." + side + "_rate." + s.is.String()},
	}
	if g.plate >= 0 && g.rates.byPlate == nil {
		in.From = step.Source{Text: "locations of plate " + w.in.Plates[g.plate].Label.Value}
	}
	st.Formula, st.Inputs = rateFormula, []step.Input{in, w.criterion("m", least)}
	st.Branch = "at " + at
	if soil && w.lining.cathodic {
		st.Formula = soilFormula
		st.Inputs = append(st.Inputs, wordCell("P", "cathodic protection recorded effective", w.in.Tank.CathodicProtection, true))
		st.Branch, st.Verify = "0 under cathodic protection recorded effective", []string{api653_5.VerifyCathodic}
	} else if rate.V <= api653_5.NoRate {
		st.Branch = "no measurable loss"
	} else if soil {
		if l := w.labelled(s, at); l != nil && l.Kind == ThresholdAt {
			st.Branch += ": what the scan may have missed"
			st.Verify = []string{api653_5.VerifyThresholdRule}
		}
	}
	w.grownStep(&st, s, g, soil, values, at)
	return step.New(st)
}

// labelled is the location of a state whose soil-side rate governs.
func (w *work) labelled(s *state, at string) *Location {
	g := &s.groups[s.gov]
	for i := range s.counted {
		c := &s.counted[i]
		if c.Label == at && c.Location >= 0 && c.SoilRate.Known && c.SoilRate.V == g.rates.soil.V {
			return &w.res.Locations[c.Location]
		}
	}
	return nil
}

func (w *work) rateColumn(s *state, g *group, soil bool) (values []float64, at string) {
	greatest := math.Inf(-1)
	for i := range s.counted {
		c := &s.counted[i]
		if g.plate >= 0 && c.Plate != g.plate && g.rates.byPlate == nil {
			continue
		}
		r := c.ProductRate
		if soil {
			r = c.SoilRate
		}
		if !r.Known {
			continue
		}
		values = append(values, float64(r.V))
		if float64(r.V) > greatest {
			greatest, at = float64(r.V), c.Label
		}
	}
	return values, at
}

// leastInputs are the least thicknesses an interval starts from, as an
// expression: of the floor, or of the plate that governs under rate basis
// plate.
func (w *work) leastInputs(g *group, soil, product step.Step) (string, []step.Input) {
	in := []step.Input{step.From(soil), step.From(product)}
	if g.plate >= 0 || !g.known {
		text := "no plate"
		if g.plate >= 0 {
			text = "least of plate " + w.in.Plates[g.plate].Label.Value
		}
		in = []step.Input{
			{Symbol: "RTbc", Title: "least remaining, soil side", Value: float64(g.soil.V), Known: g.soil.Known, Kind: unit.Thickness, From: step.Source{Text: text}},
			{Symbol: "RTip", Title: "least remaining, product side", Value: float64(g.product.V), Known: g.product.Known, Kind: unit.Thickness, From: step.Source{Text: text}},
		}
	}
	switch {
	case in[0].Known && !in[1].Known:
		return "RTbc", in[:1]
	case in[1].Known && !in[0].Known:
		return "RTip", in[1:]
	}
	return "min(RTbc, RTip)", in
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
func (w *work) linedStep(id string, s *state, g *group, rt string, rtInputs []step.Input, upr step.Step) step.Step {
	lined := constant("t_l", "required thickness under the lining", float64(w.lining.lined), unit.Thickness, "Table 4.4")
	if w.lining.thick {
		lined = w.criterion("t_l", criteria.MinimumThicknessReinforcedLining)
		lined.Value = float64(w.lining.lined)
	}
	st := step.Step{
		ID: id, Title: "interval on the lining's credit", Symbol: "I_L", Kind: unit.Time,
		Inputs: append(append([]step.Input{}, rtInputs...), lined, step.From(upr), step.From(w.lining.step)),
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyLiningLife, api653_5.VerifyThinFilm},
		Branch: "V with no product-side rate, at most the life left in the lining",
	}
	margins := []string{rt + " - t_l"}
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
	if lined := g.rates.lined; lined.Known && lined.V > api653_5.NoRate {
		st.Formula = w.formula("if(" + margin + " <= 0, 0, min(L, (" + margin + ")/(UPr + g_1)))")
		st.Inputs = append(st.Inputs, w.linedInput(lined))
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
		return step.Unknown(st, "no thickness is known")
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
	rt, in := w.leastInputs(g, soil, product)
	rates := []step.Input{as("StPr", step.From(stpr)), step.From(upr)}
	if g != &s.groups[s.gov] {
		text := "plate " + w.in.Plates[max(0, g.plate)].Label.Value
		rates = []step.Input{
			constant("StPr", "product-side rate", float64(w.productOver(g.rates, s.out.MRTYears)), unit.RateKind, text),
			constant("UPr", "soil-side rate", float64(g.rates.soil.V), unit.RateKind, text),
		}
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
		b := w.basesOf(n.c.Plate, s.rates)
		st.Inputs[1] = constant("StPr", "product-side rate", float64(w.productOver(b, s.out.MRTYears)), unit.RateKind, "rate of its plate")
		st.Inputs[2] = constant("UPr", "soil-side rate", float64(b.soil.V), unit.RateKind, "rate of its plate")
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
