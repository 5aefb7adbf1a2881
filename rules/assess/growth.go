package assess

import (
	"math"
	"slices"

	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Growth is what a comparison with an earlier inspection measured. It enters
// the rates beside the long-term ones: the greater of both counts.
type Growth struct {
	By        []Grown   // in the order of the locations
	Soil      step.Step // compare.growth.soil
	Product   step.Step // compare.growth.product
	Since     unit.Date // end of the earlier inspection
	OlderLine bool      // the lining was there already: a pit grew under it
}

// Grown is the growth of one location.
type Grown struct {
	Location int // index in Result.Locations
	Soil     unit.Maybe[unit.Rate]
	Product  unit.Maybe[unit.Rate]
	Same     bool // the same pit was measured on both dates, so it counts under protection too
}

// AssessGrown is AssessWith for a floor that was compared with an earlier
// inspection. growth may be nil.
func AssessGrown(in *inspection.Inspection, plan *floor.Plan, propose Propose, growth *Growth) *Result {
	return assess(in, plan, propose, growth)
}

// grown are the growth rates of the places that count.
//
// all is the greatest of a side; same is the greatest of a pit measured on both
// dates, which no protection makes 0.
type grown struct {
	all, same unit.Maybe[unit.Rate]
	at        string // location of all
	values    []float64
	sames     []float64
}

func (g *grown) take(r unit.Maybe[unit.Rate], same bool, label string) {
	if !r.Known {
		return
	}
	g.values = append(g.values, float64(r.V))
	if same {
		g.sames = append(g.sames, float64(r.V))
		g.same = g.same.Max(r)
	}
	if !g.all.Known || r.V > g.all.V {
		g.all, g.at = r, label
	}
}

// grownOver is the growth of what a state rests on, by side.
func (w *work) grownOver(cs []Counted) (soil, product grown) {
	if w.growth == nil {
		return
	}
	if w.grownAt == nil {
		w.grownAt = make(map[int]*Grown, len(w.growth.By))
		for i := range w.growth.By {
			w.grownAt[w.growth.By[i].Location] = &w.growth.By[i]
		}
	}
	for i := range cs {
		c := &cs[i]
		g := w.grownAt[c.Location]
		if c.Location < 0 || g == nil {
			continue
		}
		if c.OnSoil {
			soil.take(g.Soil, g.Same, c.Label)
		}
		if c.OnProduct {
			product.take(g.Product, g.Same, c.Label)
		}
	}
	return soil, product
}

// growthInput is the growth of a side as an input: the step of the comparison
// where nothing of it was taken out, else the growths that are left.
func (w *work) growthInput(symbol string, g grown, soil, same bool) step.Input {
	s, values, title := w.growth.Product, g.values, "growth since "+w.growth.Since.String()
	if soil {
		s = w.growth.Soil
	}
	if same {
		values, title = g.sames, title+" of pits measured on both dates"
	} else if s.Known && g.all.Known && s.Value == float64(g.all.V) {
		in := step.From(s)
		in.Symbol = symbol
		return in
	}
	return step.Input{Symbol: symbol, Title: title, Values: values, Known: len(values) > 0, Kind: unit.RateKind, From: step.Source{Text: "growth of the places that count"}}
}

// grownStep adds the growth to the step of a side's rate, and says which of the
// two governs.
func (w *work) grownStep(st *step.Step, s *state, of *group, soil bool, longTerm []float64, at string) {
	cs := s.counted
	if of.plate >= 0 && of.rates.byPlate == nil {
		cs = slices.DeleteFunc(slices.Clone(cs), func(c Counted) bool { return c.Plate != of.plate })
	}
	onSoil, g := w.grownOver(cs)
	if soil {
		g = onSoil
	}
	if !g.all.Known {
		return
	}
	st.Inputs = append(st.Inputs, w.growthInput("g", g, soil, false))
	if soil && w.lining.cathodic {
		st.Formula = soilGrown
		if g.same.Known {
			st.Formula = soilSame
			st.Inputs = append(st.Inputs, w.growthInput("g_1", g, soil, true))
			st.Branch = "pits grew although cathodic protection is recorded effective: their growth counts"
		}
		return
	}
	st.Formula = rateGrown
	most := math.Inf(-1)
	for _, v := range longTerm {
		most = max(most, v)
	}
	if float64(g.all.V) > most {
		st.Branch = "growth since " + w.growth.Since.String() + " governs, at " + g.at
		st.Verify = nil
	} else {
		st.Branch += ": the long-term rate governs, the growth since " + w.growth.Since.String() + " is not greater"
	}
}

// linedInput is the growth measured under a living lining.
func (w *work) linedInput(lined unit.Maybe[unit.Rate]) step.Input {
	return step.Input{
		Symbol: "g_1", Title: "growth of pits measured on both dates, under the lining", Value: float64(lined.V), Known: true, Kind: unit.RateKind,
		From: step.Source{Text: "comparison with the inspection that ended " + w.growth.Since.String()},
	}
}
