package assess

import (
	"fmt"

	"platebook/rules/criteria"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// bases are the rates an interval rests on: of the floor, or of one plate.
// Product is the rate without a lining; soil is 0 under effective cathodic
// protection. Lined is the product-side rate under a living lining: 0 unless a
// pit was measured to grow under it.
type bases struct {
	soil, product unit.Maybe[unit.Rate]
	lined         unit.Maybe[unit.Rate]
	unknown       string // why there are none
	byPlate       []bases
}

func (b bases) known() bool { return b.unknown == "" && b.soil.Known && b.product.Known }

// Why no rate is known, in words: grounds that a finding says what to do about.
const (
	NoUltrasonicValue = "not one ultrasonic value on the floor"
	NoAge             = "the age of the metal is not known: no Floor installed or Installed"
	NoOldMetal        = "no metal old enough for a rate"
)

// groundsForRate says why no rate can be known on this floor, "" when it can.
func (w *work) groundsForRate() string {
	if why := w.nominalMissing(); why != "" {
		return why
	}
	if !w.measuredByUT() {
		return NoUltrasonicValue
	}
	least := w.number(criteria.LeastExaminedForARate)
	missing := unit.Maybe[unit.Percent]{}
	if w.plan != nil {
		missing = w.plan.Coverage.NotExamined
	}
	if !missing.Known {
		return "the share of the floor examined is not known"
	}
	if done := 100 - float64(missing.V); !step.AtLeast(unit.Share, done, least) {
		return fmt.Sprintf("%s of the floor examined, %s needed for a rate",
			unit.Share.TextUnit(w.in.Units, done, 0), unit.Share.TextUnit(w.in.Units, least, 0))
	}
	return ""
}

func (w *work) measuredByUT() bool {
	for i := range w.in.Readings {
		if r := &w.in.Readings[i]; !r.Out && r.Thickness.OK() {
			return true
		}
	}
	for i := range w.in.ProveUps {
		if u := &w.in.ProveUps[i]; !u.Out && (u.Remaining.OK() || u.Sound.OK()) {
			return true
		}
	}
	for i := range w.in.Indications {
		if n := &w.in.Indications[i]; !n.Out && relevant(n) && ultrasonic(n) && (n.Remaining.OK() || n.Loss.OK() || n.Depth.OK()) {
			return true
		}
	}
	return false
}

// ratesOf are the rates of what a state rests on.
//
//	UPr = max(rates of soil, unknown and both; growth; 0; Minimum soil-side rate)
//	StPr = max(rates of product, unknown and both; growth; 0; Minimum product-side rate)
//
// Growth is what a comparison with an earlier inspection measured. That of the
// same pit counts where cathodic protection, or a lining that was there at the
// earlier inspection, would make a rate 0.
func (w *work) ratesOf(cs []Counted) bases {
	b := w.ratesOver(cs, -2)
	if w.set.Is(criteria.RateBasis, "plate") {
		b.byPlate = make([]bases, len(w.plates))
		groups := make([][]Counted, len(w.plates))
		for _, c := range cs {
			if c.Plate >= 0 {
				groups[c.Plate] = append(groups[c.Plate], c)
			}
		}
		for k := range groups {
			b.byPlate[k] = w.ratesOver(groups[k], k)
		}
	}
	return b
}

func (w *work) ratesOver(cs []Counted, k int) bases {
	b := bases{unknown: w.unknown}
	for i := range cs {
		c := &cs[i]
		if c.ageless && b.unknown == "" {
			b.unknown = NoAge
		}
		b.soil, b.product = b.soil.Max(c.SoilRate), b.product.Max(c.ProductRate)
	}
	if b.unknown == "" && !(b.soil.Known && b.product.Known) {
		b.unknown = NoOldMetal
	}
	soil, product := w.grownOver(cs)
	if b.soil.Known {
		b.soil = b.soil.Max(soil.all)
		b.soil.V = max(b.soil.V, 0, unit.Rate(w.number(criteria.MinimumSoilSideRate)))
		if w.lining.cathodic {
			b.soil.V = max(0, soil.same.Or(0))
		}
	}
	if b.product.Known {
		b.product = b.product.Max(product.all)
		b.product.V = max(b.product.V, 0, unit.Rate(w.number(criteria.MinimumProductSideRate)))
	}
	if w.growth != nil && w.growth.OlderLine && product.same.Known {
		b.lined = unit.Some(max(0, product.same.V))
	}
	return b
}

// after is the rates of a state after repair: as found, or recomputed from
// what remains, on a side whose cause was removed in any case.
func (w *work) after(cs []Counted) bases {
	now := w.ratesOf(cs)
	recomputed := w.set.Is(criteria.RateAfterRepair, "recomputed")
	soil := recomputed || w.set.Is(criteria.SoilSideCauseRemoved, "yes")
	product := recomputed || w.set.Is(criteria.ProductSideCauseRemoved, "yes")
	mix := func(found, now bases) bases {
		out := bases{soil: found.soil, product: found.product, lined: found.lined, unknown: found.unknown}
		if soil {
			out.soil = now.soil
		}
		if product {
			out.product, out.lined = now.product, now.lined
		}
		if (soil && !now.soil.Known) || (product && !now.product.Known) {
			out.unknown = now.unknown
		}
		if soil && product {
			out.unknown = now.unknown
		}
		return out
	}
	out := mix(w.base, now)
	if now.byPlate != nil {
		out.byPlate = make([]bases, len(now.byPlate))
		for k := range now.byPlate {
			out.byPlate[k] = mix(w.base.byPlate[k], now.byPlate[k])
		}
	}
	return out
}

// basesOf are the rates that go with a plate: the floor's, or under rate basis
// plate its own; a plate without any of its own takes the floor's.
func (w *work) basesOf(k int, b bases) bases {
	if b.byPlate == nil || k < 0 || !b.known() || !b.byPlate[k].known() {
		return b
	}
	return b.byPlate[k]
}

// productOver is StPr over an interval: 0 while a lining lives through it,
// unless pits grew under it.
func (w *work) productOver(b bases, or unit.Maybe[unit.Years]) unit.Rate {
	if w.lining.covers(or) {
		return b.lined.Or(0)
	}
	return b.product.V
}

// readAge writes the floor's age as a step.
func (w *work) ageStep() step.Step {
	t := &w.in.Tank
	s := step.Step{
		ID: "rate.age", Title: "age of the floor", Symbol: "N", Kind: unit.Time, Formula: step.Parse("(E - F)/365.25"),
		Inputs: []step.Input{dateCell("E", "inspection end", t.InspectionEnd), dateCell("F", "floor installed", t.FloorInstalled)},
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
	}
	switch {
	case !t.FloorInstalled.OK():
		return step.Unknown(s, "Floor installed is not known")
	case !t.InspectionEnd.OK():
		return step.Unknown(s, "Inspection end is not known")
	case !w.floorAge.Known:
		return step.Unknown(s, "Floor installed lies after Inspection end")
	}
	return step.New(s)
}

// youngFloor says whether the floor takes the initial interval.
func (w *work) initialRule() bool {
	switch w.set.Get(criteria.IntervalRule).Text {
	case "initial":
		return true
	case "subsequent":
		return false
	}
	return w.floorAge.Known && float64(w.floorAge.V) < w.number(criteria.AgeForAReliableRate)-1e-9
}

// served is the time the floor was in service before this inspection, which
// the initial interval has used up.
func (w *work) served() unit.Years {
	t := &w.in.Tank
	if !w.floorAge.Known || !t.FloorInstalled.OK() || (t.InspectionStart.OK() && t.FloorInstalled.Value >= t.InspectionStart.Value) {
		return 0
	}
	return w.floorAge.V
}
