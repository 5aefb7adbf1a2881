package assess

import (
	"math"
	"slices"

	"github.com/tidwall/rtree"

	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// alone is a location before it was joined with one on the other side.
type alone struct {
	r    unit.Length
	soil unit.Maybe[unit.Rate]
}

// joinSides makes a product pit over a soil pit one location on both sides.
//
//	r = t_s − d_product − d_soil
//
// unless a UT prove-up lies in both boxes: then the least such. The product
// pit's rate stays its own; the soil pit's is (t0 − r)/N less that. A location
// under several others takes the worst.
func (w *work) joinSides() {
	type members struct{ product, soil []int }
	byPlate := make([]members, len(w.plates))
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if l.Plate < 0 || !l.Counts || l.Box == (floor.Box{}) || (l.Kind != IndicationAt && l.Kind != ProveUpAt) {
			continue
		}
		switch l.Side {
		case Product:
			byPlate[l.Plate].product = append(byPlate[l.Plate].product, i)
		case Soil:
			byPlate[l.Plate].soil = append(byPlate[l.Plate].soil, i)
		}
	}
	for k, m := range byPlate {
		if len(m.product) == 0 || len(m.soil) == 0 {
			continue
		}
		var tree rtree.RTreeG[int]
		for _, i := range m.soil {
			b := w.res.Locations[i].Box
			tree.Insert([2]float64{b.U1, b.V1}, [2]float64{b.U2, b.V2}, i)
		}
		spots := w.probes(k)
		joined := map[int]*join{}
		for _, p := range m.product {
			b := w.res.Locations[p].Box
			var under []int
			tree.Search([2]float64{b.U1, b.V1}, [2]float64{b.U2, b.V2}, func(_, _ [2]float64, s int) bool {
				if b.Overlaps(w.res.Locations[s].Box) {
					under = append(under, s)
				}
				return true
			})
			slices.Sort(under)
			for _, s := range under {
				j := w.join(p, s, spots)
				for _, member := range []int{p, s} {
					if old, ok := joined[member]; !ok || j.r < old.r {
						joined[member] = j
					}
				}
			}
		}
		for _, list := range [][]int{m.product, m.soil} {
			for _, i := range list {
				if j, ok := joined[i]; ok {
					w.apply(i, j)
				}
			}
		}
	}
}

// join is one product pit with one soil pit beneath it.
type join struct {
	product, soil         int
	r                     float64
	bare                  float64 // without the allowance of an estimate: what the loss is of
	hole                  bool
	soilRate, productRate unit.Maybe[unit.Rate]
	t0                    unit.Maybe[unit.Length]
	above                 value // the product pit by itself
	sound                 unit.Maybe[unit.Length]
	proveUp               int // UT prove-up that lies in both, -1

	formula step.Formula // written when a location takes it
	inputs  []step.Input
	branch  string
}

// probe is a UT prove-up with a place.
type probe struct {
	u  int
	at floor.Point
	r  float64
}

func (w *work) probes(k int) []probe {
	if w.probesOf == nil {
		w.probesOf = make([][]probe, len(w.plates))
		for u := range w.in.ProveUps {
			row := &w.in.ProveUps[u]
			if row.Out || !row.Remaining.OK() {
				continue
			}
			plate := w.plateOf(row.Plate)
			if at, ok := w.spot(plate, row.X, row.Y); ok {
				w.probesOf[plate] = append(w.probesOf[plate], probe{u, at, float64(row.Remaining.Value)})
			}
		}
	}
	return w.probesOf[k]
}

func (w *work) join(p, s int, spots []probe) *join {
	lp, ls := &w.res.Locations[p], &w.res.Locations[s]
	j := &join{product: p, soil: s, proveUp: -1, t0: lp.T0.Max(ls.T0), above: w.values[p], sound: lp.Sound.Min(ls.Sound)}
	var both []int
	best := -1
	for n, probe := range spots {
		if lp.Box.Has(probe.at) && ls.Box.Has(probe.at) {
			both = append(both, probe.u)
			if best < 0 || probe.r < spots[best].r {
				best = n
			}
		}
	}
	if both != nil {
		j.above = j.above.without(both)
	}
	rp, rs := math.Max(0, j.above.top[0].r), math.Max(0, w.values[s].top[0].r)
	if best >= 0 {
		j.proveUp, j.r = spots[best].u, spots[best].r
		j.bare = j.r
	} else {
		// the depth of each pit is off the sound metal beside it
		dp, ds := float64(j.above.top[0].sound.V)-rp, float64(ls.Sound.V)-rs
		j.r = float64(j.sound.V) - math.Max(0, dp) - math.Max(0, ds)
		dp, ds = float64(j.above.top[0].sound.V)-j.above.top[0].bare(lp), float64(ls.Sound.V)-w.values[s].top[0].bare(ls)
		j.bare = float64(j.sound.V) - math.Max(0, dp) - math.Max(0, ds)
	}
	j.hole = j.r+w.points(lp)+w.points(ls) <= 0
	j.r = math.Max(0, j.r)
	j.productRate = unit.Maybe[unit.Rate]{}
	if w.old(lp.Age) && lp.T0.Known && !lp.NoRate {
		j.productRate = unit.Some(unit.Rate((float64(lp.T0.V) - rp) / float64(lp.Age.V)))
	}
	if w.old(ls.Age) && j.t0.Known && !ls.NoRate {
		all := (float64(j.t0.V) - j.r) / float64(ls.Age.V)
		switch {
		case lp.NoRate:
			j.soilRate = ls.SoilRate
		default:
			j.soilRate = unit.Some(unit.Rate(math.Max(0, all-float64(j.productRate.V))))
		}
	}
	return j
}

// points is what the allowance takes off a location, mm: a hole is none by the
// allowance alone.
func (w *work) points(l *Location) float64 {
	return float64(l.Allowance.V) / 100 * float64(l.Nominal.V)
}

// write is the formula of a join with its inputs.
func (w *work) write(j *join) (expr string, inputs []step.Input, branch string) {
	if j.proveUp >= 0 {
		in := cell("UT", "remaining by UT in both", w.in.ProveUps[j.proveUp].Remaining, unit.Thickness)
		return exprUT, []step.Input{in}, "product pit over soil pit: a UT prove-up lies in both, the least such counts"
	}
	dp, above := depthOf(j.above, "_p")
	ds, below := depthOf(w.values[j.soil], "_s")
	inputs = make([]step.Input, 1, 1+len(above)+len(below))
	inputs[0] = constant("t_s", "sound metal", float64(j.sound.V), unit.Thickness, "the lesser of both places")
	inputs = append(append(inputs, above...), below...)
	for _, in := range inputs[1:] {
		if (in.Symbol == "t_s_p" || in.Symbol == "t_s_s") && in.Value == float64(j.sound.V) {
			inputs[0] = as("t_s", in)
			break
		}
	}
	return "t_s - " + dp + " - " + ds, inputs, "product pit over soil pit: one location, both depths off the sound metal"
}

// depthOf is a pit's depth as an expression, with its inputs. Every symbol
// carries the suffix.
func depthOf(v value, suffix string) (expr string, inputs []step.Input) {
	c := v.top[0]
	if len(v.top) == 1 && c.depth != "" {
		_, in, _ := named(c, suffix)
		return c.depth + suffix, in
	}
	e, in, _ := v.expression(suffix)
	sound := constant("t_s"+suffix, "sound metal", float64(c.sound.V), unit.Thickness, "sound metal beside it")
	has := false
	for _, i := range in {
		has = has || i.Symbol == sound.Symbol
	}
	if !has {
		in = append(slices.Clone(in), sound)
	}
	return "max(0, t_s" + suffix + " - max(0, " + e + "))", in
}

// apply makes a location one half of a join.
func (w *work) apply(i int, j *join) {
	l := &w.res.Locations[i]
	w.alone[i] = alone{r: l.Remaining.V, soil: l.SoilRate}
	own := l.Step
	l.Alone, l.AloneT0 = &own, l.T0
	l.Over = j.soil
	if i == j.soil {
		l.Over = j.product
	}
	l.Remaining, l.Hole, l.T0 = unit.Some(unit.Length(j.r)), j.hole, j.t0
	l.SoilRate, l.ProductRate = j.soilRate, j.productRate
	if l.Nominal.Known {
		l.Loss = unit.Some(unit.Percent(100 * (1 - math.Max(0, j.bare)/float64(l.Nominal.V))))
	}
	if j.proveUp >= 0 {
		l.ProveUp, l.Basis = j.proveUp, ByUT
		l.Allowance = unit.Maybe[unit.Percent]{}
	}
	if w.like != nil {
		return
	}
	if j.formula.IsZero() {
		var expr string
		expr, j.inputs, j.branch = w.write(j)
		j.formula = w.formula("max(0, " + expr + ")")
	}
	l.Step.Formula, l.Step.Inputs, l.Step.Shared, l.Step.Value, l.Step.Branch = j.formula, j.inputs, nil, j.r, j.branch
}
