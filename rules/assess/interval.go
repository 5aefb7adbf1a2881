package assess

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
)

// state is one state being evaluated.
type state struct {
	is      State
	counted []Counted
	zoned   []Counted // readings that count in the critical zone or on the ring
	rates   bases
	limit   limit
	groups  []group
	gov     int // group that governs
	out     StateResult
}

// group is what one pair of rates meets: the floor, or under rate basis plate
// each plate. plate is −1 for the floor, and for what lies on no plate.
type group struct {
	plate         int
	alone         bool // one of several: under rate basis plate
	rates         bases
	soil, product unit.Maybe[unit.Length] // RTbc, RTip
	soilAt        int                     // index in counted
	productAt     int
	critical      need // least margin in the critical zone
	ring          need
	lined         bool
	w, v          body
	years         float64 // I, +Inf when unlimited
	known         bool    // there is any thickness
}

// need is the place with the least margin against a requirement.
type need struct {
	c        Counted
	required unit.Length
	known    bool
}

func (n need) margin() float64 { return float64(n.c.Remaining - n.required) }

func (n *need) take(c Counted, required unit.Maybe[unit.Length]) {
	if !required.Known {
		return
	}
	if m := float64(c.Remaining - required.V); !n.known || m < n.margin() {
		n.c, n.required, n.known = c, required.V, true
	}
}

// body is the interval before caps, by what limits it; +Inf is unlimited.
type body struct{ critical, ring, corrosion float64 }

// rt is the least remaining thickness of both sides.
func (g *group) rt() unit.Maybe[unit.Length] { return g.soil.Min(g.product) }

// evaluate finds the interval of a state.
func (w *work) evaluate(is State, counted, zoned []Counted, rates bases) *state {
	s := &state{is: is, counted: counted, zoned: zoned, rates: rates, limit: w.limitOf(rates)}
	s.out.State = is
	s.out.Counted = counted
	s.groups = w.grouped(s)
	for i := range s.groups {
		w.solve(&s.groups[i])
		if i > 0 && s.groups[i].years < s.groups[s.gov].years {
			s.gov = i
		}
	}
	w.minima(s)
	w.adopt(s)
	return s
}

func (w *work) grouped(s *state) []group {
	all := w.group(-1, s.rates, s.counted, s.zoned)
	if s.rates.byPlate == nil || !all.known {
		return []group{all}
	}
	cs, zs := byPlate(s.counted, len(w.plates)), byPlate(s.zoned, len(w.plates))
	var out []group
	for k := range cs {
		plate := k
		if k == len(w.plates) {
			plate = -1
		}
		if g := w.group(plate, w.basesOf(plate, s.rates), cs[k], zs[k]); g.known {
			g.alone = true
			out = append(out, g)
		}
	}
	return out
}

// byPlate sorts places by plate; the last list holds those without one.
func byPlate(cs []Counted, n int) [][]Counted {
	at := func(c *Counted) int {
		if c.Plate < 0 {
			return n
		}
		return c.Plate
	}
	sizes := make([]int, n+1)
	for i := range cs {
		sizes[at(&cs[i])]++
	}
	all, out := make([]Counted, 0, len(cs)), make([][]Counted, n+1)
	for k, size := range sizes {
		used := len(all)
		all = all[:used+size]
		out[k] = all[used : used : used+size]
	}
	for i := range cs {
		k := at(&cs[i])
		out[k] = append(out[k], cs[i])
	}
	return out
}

// thinner says whether a thickness is less than another by more than the
// rounding of doubles: what is equal in millimetres is equal in inches, and the
// first in the sheet stands for both.
func thinner(a, b unit.Length) bool { return a < b-1e-9 }

func (w *work) group(plate int, rates bases, counted, zoned []Counted) group {
	g := group{plate: plate, rates: rates, soilAt: -1, productAt: -1}
	for i := range counted {
		c := &counted[i]
		if c.OnSoil && (!g.soil.Known || thinner(c.Remaining, g.soil.V)) {
			g.soil, g.soilAt = unit.Some(c.Remaining), i
		}
		if c.OnProduct && (!g.product.Known || thinner(c.Remaining, g.product.V)) {
			g.product, g.productAt = unit.Some(c.Remaining), i
		}
		g.critical.take(*c, c.critical)
		g.ring.take(*c, c.ring)
	}
	for _, c := range zoned {
		g.critical.take(c, c.critical)
		g.ring.take(c, c.ring)
	}
	g.known = g.soil.Known || g.product.Known
	return g
}

// solve finds a group's interval before caps.
//
//	I = max(W, min(V, L))
//
// W with the measured rates and no lining in t_req, V with StPr 0 (or the
// growth measured under the lining) and the lining's t_req, L the lining's
// remaining life.
func (w *work) solve(g *group) {
	if !g.known {
		g.years = math.Inf(1)
		return
	}
	g.w = g.intervals(w.lining.plain, g.rates.product.V)
	g.years = g.w.least()
	if !w.lining.credited || !g.rates.known() {
		return
	}
	g.v = g.intervals(w.lining.lined, g.rates.lined.Or(0))
	if lined := min(g.v.least(), float64(w.lining.left)); lined > g.years {
		g.years, g.lined = lined, true
	}
}

// intervals are the years until each requirement is reached. Without rates
// only what is already reached counts.
func (g *group) intervals(required unit.Length, stpr unit.Rate) body {
	return body{
		critical:  g.until(g.critical.margin(), g.critical.known, stpr),
		ring:      g.until(g.ring.margin(), g.ring.known, stpr),
		corrosion: g.until(float64(g.rt().V-required), g.rt().Known, stpr),
	}
}

func (g *group) until(margin float64, known bool, stpr unit.Rate) float64 {
	if !known {
		return math.Inf(1)
	}
	upr := g.rates.soil.V
	if !g.rates.known() {
		stpr, upr = 0, 0
	}
	i := api653_5.Interval(unit.Length(margin), 0, stpr, upr)
	if !i.Known {
		return math.Inf(1)
	}
	return float64(i.V)
}

// minima writes a state's least thicknesses and where they are, over the whole
// floor under either rate basis.
func (w *work) minima(s *state) {
	all := w.group(-1, s.rates, s.counted, s.zoned)
	s.out.SoilMin, s.out.ProductMin = all.soil, all.product
	if all.soilAt >= 0 {
		s.out.SoilMinAt = s.counted[all.soilAt].Label
	}
	if all.productAt >= 0 {
		s.out.ProductMinAt = s.counted[all.productAt].Label
	}
}

// adopt caps the interval, finds what governs, and the figures that go with
// it.
func (w *work) adopt(s *state) {
	o := &s.out
	g := &s.groups[s.gov]
	o.RateUnknown = s.rates.unknown
	if s.rates.known() {
		o.SoilRate = g.rates.soil
	}
	if w.noInterval(s) != "" {
		if s.rates.known() {
			o.ProductRate = g.rates.product
		}
		return
	}
	if !math.IsInf(g.years, 1) {
		o.IntervalUncapped = unit.Some(unit.Years(g.years))
	}
	adopted := least(w.choices(g, s.limit))
	if g.years <= 1e-9 {
		adopted = choice{GovRepairFirst, 0}
		o.IntervalUncapped = unit.Some(unit.Years(0))
	}
	o.Interval, o.GovernedBy = unit.Some(unit.Years(adopted.years)), adopted.gov
	o.MRTYears = o.Interval
	if d := w.in.Tank.DesiredInterval; d.OK() {
		o.MRTYears = unit.Some(d.Value)
	}
	o.Required = unit.Some(w.lining.required(o.MRTYears))
	if s.rates.known() {
		o.ProductRate = unit.Some(w.productOver(g.rates, o.MRTYears))
		o.MRT = unit.Some(w.mrt(s).value)
	}
	if base := w.baseDate(); base != 0 && adopted.gov != GovRepairFirst {
		o.NextDate = base.AddYears(o.Interval.V)
	}
}

// noInterval says why no interval can be given, "" when one can.
func (w *work) noInterval(s *state) string {
	if why := w.nominalMissing(); why != "" && len(s.counted) > 0 {
		return why
	}
	if !s.groups[s.gov].known || len(s.counted) == 0 {
		return "no thickness is known"
	}
	return ""
}

// nominalMissing says which nominal thickness of the sheet Tank a plate needs
// and has not, "" when none is missing. Without it neither the loss of what was
// measured is known, nor what an estimate or the scan's threshold leaves: the
// metal may be thinner, and go faster, than all that can still be judged.
func (w *work) nominalMissing() string {
	for i := range w.plates {
		p, row := &w.plates[i], &w.in.Plates[i]
		if p.out || p.nominal.Known || row.Nominal.State == inspection.Wrong {
			continue // a cell of one row leaves out what needs it, not the floor
		}
		if p.annular {
			return "the annular nominal thickness is not known"
		}
		return "the nominal thickness is not known"
	}
	return ""
}

// thinnest is the group whose projected thickness is least.
type thinnest struct {
	value unit.Length
	group int
}

func (w *work) mrt(s *state) thinnest {
	out := thinnest{group: -1}
	for i := range s.groups {
		g := &s.groups[i]
		rt := g.rt()
		if !rt.Known {
			continue
		}
		v := api653_5.MinimumRemaining(rt.V, rt.V, s.out.MRTYears.V, w.productOver(g.rates, s.out.MRTYears), g.rates.soil.V)
		if out.group < 0 || v < out.value {
			out = thinnest{v, i}
		}
	}
	return out
}

// baseDate is the day the interval counts from.
func (w *work) baseDate() unit.Date {
	if w.set.Is(criteria.IntervalBaseDate, "report date") {
		return w.in.AsOf
	}
	if !w.in.Tank.InspectionEnd.OK() {
		return 0
	}
	return w.in.Tank.InspectionEnd.Value
}

// plateInterval is a plate's own interval as found, capped like the adopted
// one.
func (w *work) plateInterval(s *state, k int, counted, zoned []Counted) unit.Maybe[unit.Years] {
	g := w.group(k, w.basesOf(k, s.rates), counted, zoned)
	if !g.known {
		return unit.Maybe[unit.Years]{}
	}
	w.solve(&g)
	if g.years <= 1e-9 {
		return unit.Some(unit.Years(0))
	}
	return unit.Some(unit.Years(least(w.choices(&g, s.limit)).years))
}
