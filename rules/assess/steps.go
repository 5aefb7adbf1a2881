package assess

import (
	"math"

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
	for _, s := range w.extremeSteps {
		w.keep(s)
	}
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
		if i > 0 && s.limit == found.limit {
			limits[i] = limits[0]
			continue
		}
		limits[i] = w.limitStep(w.limitID(s), s)
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

// stateSteps are the steps of one state.
func (w *work) stateSteps(s *state, required, limit step.Step) {
	sfx := "." + s.is.String()
	g := &s.groups[s.gov]
	soil := w.columnStep(s, "thickness.soil"+sfx, LeastSoil, "RTbc", true, required)
	product := w.columnStep(s, "thickness.product"+sfx, LeastProduct, "RTip", false, required)
	w.keep(soil)
	w.keep(product)
	upr, measured := w.rateStep(s, true), w.rateStep(s, false)
	w.keep(upr)
	w.keep(measured)

	rt, rtInputs := w.leastInputs(s, g, soil, product)
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
		lined = w.linedStep("interval.lining"+sfx, s, g, rt, rtInputs, required, upr)
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
	name, symbol, title := "rate.product", "StPr", ProductRate
	least, cause := criteria.MinimumProductSideRate, criteria.ProductSideCauseRemoved
	rate := g.rates.product
	if soil {
		name, symbol, title = "rate.soil", "UPr", SoilRate
		least, cause = criteria.MinimumSoilSideRate, criteria.SoilSideCauseRemoved
		rate = g.rates.soil
	} else if w.lining.credited {
		name, symbol = "rate.product_measured", "StPr_m"
	}
	head := title
	if name == "rate.product_measured" {
		head += " as measured"
	}
	st := step.Step{
		ID: name + "." + s.is.String(), Title: head, Symbol: symbol, Kind: unit.RateKind,
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	if s.rates.unknown != "" {
		st.Formula = rateFormula
		st.Inputs = []step.Input{{Symbol: "u", Kind: unit.RateKind}, w.criterion("m", least)}
		return step.Unknown(st, s.rates.unknown)
	}
	if s.is != AsFound && !w.set.Is(criteria.RateAfterRepair, "recomputed") && !w.set.Is(cause, "yes") {
		st.Formula, st.Branch = takenOver, "after repair the rate as found is kept: the criterion does not say its cause is removed"
		from, whose := step.Source{Step: name + "." + AsFound.String()}, "rate as found"
		if g.alone {
			from, whose = step.Source{Text: PlateRateText(AsFound, w.nameOf(g))}, title
		}
		st.Inputs = []step.Input{{Symbol: "u_0", Title: whose, Value: float64(rate.V), Known: rate.Known, Kind: unit.RateKind, From: from}}
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
		in.From.Column = PlateColumn(in.From.Column, w.nameOf(g))
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
func (w *work) leastInputs(s *state, g *group, soil, product step.Step) (string, []step.Input) {
	in := []step.Input{step.From(soil), step.From(product)}
	if g.alone || !g.known {
		text := "no plate"
		if g.known {
			text = LeastText(s.is, w.nameOf(g))
		}
		in = []step.Input{
			{Symbol: "RTbc", Title: LeastSoil, Value: float64(g.soil.V), Known: g.soil.Known, Kind: unit.Thickness, From: step.Source{Text: text}},
			{Symbol: "RTip", Title: LeastProduct, Value: float64(g.product.V), Known: g.product.Known, Kind: unit.Thickness, From: step.Source{Text: text}},
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
