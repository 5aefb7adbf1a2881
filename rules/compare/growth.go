package compare

import (
	"strconv"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// The columns of the Comparison sheet that the growth steps run over.
const (
	SoilColumn    = "compare.growth.soil"
	ProductColumn = "compare.growth.product"
)

// Enters says whether a pair's growth enters the rate of a side: a pit grown by
// UT on both dates, or a new one, on that side or of unknown side, not damage
// without a rate.
func (r *Result) Enters(p *Pair, now *assess.Result, soil bool) bool {
	if p.New < 0 || !p.Growth.Known || p.Class != Grown && p.Class != New || r.Refused != nil {
		return false
	}
	l := &now.Locations[p.New]
	if !l.Counts || l.NoRate || p.Class == Grown && !p.UT {
		return false
	}
	if soil {
		return l.Side.OnSoil()
	}
	// a value common to both sides is counted once, beneath
	return l.Side.OnProduct() && (!p.joint || l.Side == assess.Unknown)
}

// growth gathers what enters the rates, and writes it down as steps.
func (w *work) growth() {
	r := w.res
	g := &assess.Growth{Since: w.end, OlderLine: w.linedThen()}
	at := map[int]int{}
	var soil, product []float64
	for i := range r.Pairs {
		p := &r.Pairs[i]
		onSoil, onProduct := r.Enters(p, w.now.Found, true), r.Enters(p, w.now.Found, false)
		if !onSoil && !onProduct {
			continue
		}
		k, ok := at[p.New]
		if !ok {
			k = len(g.By)
			at[p.New] = k
			g.By = append(g.By, assess.Grown{Location: p.New, Same: p.Class == Grown})
		}
		label := w.now.Found.Locations[p.New].Label
		if onSoil {
			g.By[k].Soil = p.Growth
			soil = append(soil, float64(p.Growth.V))
			r.Soil.take(p, label)
		}
		if onProduct {
			g.By[k].Product = p.Growth
			product = append(product, float64(p.Growth.V))
			r.Product.take(p, label)
		}
	}
	r.Steps = append(r.Steps, w.yearsStep())
	g.Soil = w.growthStep(SoilColumn, "soil side", &r.Soil, soil)
	g.Product = w.growthStep(ProductColumn, "product side", &r.Product, product)
	r.Steps = append(r.Steps, g.Soil, g.Product)
	r.Growth = g
}

func (s *SideGrowth) take(p *Pair, label string) {
	if p.Class == Grown {
		s.Same = s.Same.Max(p.Growth)
	}
	if !s.Growth.Known || p.Growth.V > s.Growth.V {
		s.Growth, s.At, s.Class = p.Growth, label, p.Class
	}
}

// linedThen says whether the lining was there at the earlier inspection: a pit
// that grew since grew under it.
func (w *work) linedThen() bool {
	l := w.now.In.Tank.LiningInstalled
	return l.OK() && l.Value <= w.end
}

// yearsStep is the time between the two inspections.
//
//	y = (E − E_o)/365.25
func (w *work) yearsStep() step.Step {
	end, then := w.now.In.Tank.InspectionEnd, w.old.In.Tank.InspectionEnd
	return step.New(step.Step{
		ID: "compare.years", Title: "time between the inspections", Symbol: "y", Kind: unit.Time, Formula: step.Parse("(E - E_o)/365.25"),
		Inputs: []step.Input{
			dateCell("E", "inspection end", end),
			{Symbol: "E_o", Title: "inspection end then", Value: float64(then.Value), Known: true, Kind: unit.DateKind, From: step.Source{Text: w.old.In.File.Name + " " + then.Ref.String()}},
		},
		Branch: "since " + w.old.In.File.Name,
	})
}

func dateCell(symbol, title string, f inspection.Date) step.Input {
	return step.Input{
		Symbol: symbol, Title: title, Value: float64(f.Value), Known: f.OK(), Kind: unit.DateKind,
		From: step.Source{Ref: f.Ref, Plain: f.Plain, Scale: f.Scale},
	}
}

// growthStep is the greatest growth on a side.
func (w *work) growthStep(id, side string, s *SideGrowth, values []float64) step.Step {
	st := step.Step{
		ID: id, Title: "growth, " + side, Symbol: "g", Kind: unit.RateKind, Formula: step.Parse("max(v)"),
		Inputs: []step.Input{{
			Symbol: "v", Title: "growth of each place grown or new", Values: values, Known: len(values) > 0, Kind: unit.RateKind, From: step.Source{Column: id},
		}},
		Source: "the method, section 13",
		Verify: []string{"UT tolerance " + unit.Thickness.TextUnit(w.now.In.Units, float64(w.set.Length(criteria.UTTolerance)), 0) + " (from memory)"},
	}
	if len(values) == 0 {
		return step.Unknown(st, "no growth was measured on this side")
	}
	st.Branch = "at " + s.At + ", " + s.Class.Words() + "; of " + strconv.Itoa(len(values))
	return step.New(st)
}

// Conclude says which rate governs each side, now that the floor was evaluated
// with the growth: the greater of the long-term rate and the growth.
func (r *Result) Conclude(with *assess.Result) {
	r.Soil.conclude(with.AsFound.SoilRate)
	r.Product.conclude(with.AsFound.ProductRate)
}

func (s *SideGrowth) conclude(with unit.Maybe[unit.Rate]) {
	s.Used = with
	before := s.LongTerm
	switch {
	case !with.Known:
		s.Why = "the long-term rate is not known, so growth at single places gives none for the floor"
	case !before.Known || with.V > before.V:
		s.Governs, s.Why = ByGrowth, "growth at "+s.At+" is greater than the long-term rate"
		if s.Same.Known && with.V == s.Same.V && s.Same.V < s.Growth.V {
			s.Why = "a pit grew although protection would make the rate 0"
		}
	case !s.Growth.Known:
		s.Governs, s.Why = ByLongTerm, "no growth was measured on this side"
	case s.Growth.V > before.V:
		s.Governs, s.Why = ByLongTerm, "the new pits' growth does not count under protection"
	default:
		s.Governs, s.Why = ByLongTerm, "growth is not greater than the long-term rate"
	}
}

// Governs is what governs the floor: growth when it does on either side, "" when
// no rate is known.
func (r *Result) Governs() string {
	if r.Soil.Governs == ByGrowth || r.Product.Governs == ByGrowth {
		return ByGrowth
	}
	if r.Soil.Governs != "" {
		return r.Soil.Governs
	}
	return r.Product.Governs
}
