package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Metal is new metal of a repair.
type Metal struct {
	Label     string
	Plate     int // index in Inspection.Plates
	Box       floor.Box
	Placed    bool // Box is known
	Whole     bool // in the place of the plate
	Thickness unit.Maybe[unit.Length]
}

// Proposal is what a program would repair: by location the repair that takes it
// out, "" for none, and the new metal.
type Proposal struct {
	Repair []string
	Metal  []Metal
}

// Propose makes a proposal from the floor as found. needs says by location
// whether it has to be repaired at as-found rates.
type Propose func(found *Result, needs []bool) Proposal

// AssessWith evaluates the floor and, when no repair is planned, as planned by
// the proposal instead of a patch on every location that needs one.
func AssessWith(in *inspection.Inspection, plan *floor.Plan, propose Propose) *Result {
	return assess(in, plan, propose, nil)
}

// If evaluates the floor with some locations taken out and new metal in their
// place, at the rates of Rate after repair. Of a product pit over a soil pit
// neither is taken out alone. A plate that is replaced takes all of its own with
// it.
func (r *Result) If(out func(location int) bool, metal []Metal) StateResult {
	w := r.work
	cs := w.without(out, metal)
	return w.evaluate(AsPlanned, cs, w.zonedWithout(replacedBy(metal)), w.after(cs)).out
}

// Needed is the thickness a location wants at as-found rates, section 6 apart:
// the required thickness and what is lost over the years.
//
//	T = t_req + Or·(StPr + UPr)
//
// Unknown without rates.
func (r *Result) Needed(or unit.Years) unit.Maybe[unit.Length] {
	w := r.work
	if !w.base.known() {
		return unit.Maybe[unit.Length]{}
	}
	years := unit.Some(or)
	lost := float64(or) * float64(w.base.soil.V+w.productOver(w.base, years))
	return unit.Some(w.lining.required(years) + unit.Length(lost))
}

func (w *work) without(out func(int) bool, metal []Metal) []Counted {
	cs := make([]Counted, 0, len(w.res.Locations)+len(metal))
	gone := replacedBy(metal)
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if gone[l.Plate] && l.Kind != ExtremeAt {
			continue
		}
		if l.Counts && !(out(i) && (l.Over < 0 || out(l.Over))) {
			cs = append(cs, w.entry(i))
		}
	}
	for _, m := range metal {
		if !m.Thickness.Known {
			continue
		}
		c := Counted{Location: -1, Label: m.Label, Plate: m.Plate, OnSoil: true, OnProduct: true, Remaining: m.Thickness.V}
		if m.Placed && w.plan != nil {
			c.critical, c.ring = w.zonesOf(m.Plate, w.plan.ZoneOf(m.Plate, m.Box, w.number(criteria.CriticalZoneWidth)))
		} else {
			_, c.ring = w.zonesOf(m.Plate, "")
		}
		cs = append(cs, c)
	}
	return cs
}

// replacedBy are the plates that new metal stands in the place of.
func replacedBy(metal []Metal) map[int]bool {
	var out map[int]bool
	for i := range metal {
		if metal[i].Whole {
			if out == nil {
				out = map[int]bool{}
			}
			out[metal[i].Plate] = true
		}
	}
	return out
}

// Over is what counts for an interval of some years at as-found rates: the
// required thickness and the two rates, a lining credited only while it lives
// that long. Rates are unknown without one.
func (r *Result) Over(or unit.Years) (required unit.Length, soil, product unit.Maybe[unit.Rate]) {
	w := r.work
	years := unit.Some(or)
	required = w.lining.required(years)
	if w.base.known() {
		soil, product = w.base.soil, unit.Some(w.productOver(w.base, years))
	}
	return required, soil, product
}
