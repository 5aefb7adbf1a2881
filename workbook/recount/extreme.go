package recount

import (
	"math"
	"slices"
)

// class is the extreme-value estimate of the area not examined.
type class struct {
	nominal                             float64
	blocks                              []float64
	u, a, period, level, se, whole, rho float64
	used                                bool
}

// fitExtreme is section 9, for the nominal that most of the floor has.
func (c *count) fitExtreme() {
	area := map[float64]float64{}
	best := 0.0
	for _, p := range c.plates {
		if !p.annular && !p.sump {
			area[p.nominal] += p.net
			if area[p.nominal] > area[best] {
				best = p.nominal
			}
		}
	}
	side := c.word("Extreme value side")
	var nets []float64
	var unexamined float64
	var own []*plate
	for _, p := range c.plates {
		if !p.annular && !p.sump && p.nominal == best {
			own, nets = append(own, p), append(nets, p.net)
			unexamined += p.net * (100 - p.examined) / 100
		}
	}
	half := quantile(nets, 0.5) / 2
	e := &class{nominal: best}
	without, block := 0, 0.0
	for _, p := range own {
		if p.examined < 90-1e-9 || p.net < half-1e-12 {
			continue
		}
		x := math.Inf(-1)
		for _, l := range c.places {
			if l.plate == p && (l.kind == 'a' || l.kind == 'b') && !l.irrel && !l.noRate && !l.patched && l.zone == "general" &&
				(l.side == side || l.side == "unknown") {
				x = max(x, l.loss/100*best)
			}
		}
		if math.IsInf(x, -1) {
			without++
			continue
		}
		e.blocks = append(e.blocks, x)
		block += p.net
	}
	n := float64(len(e.blocks))
	if float64(without) > n || n < c.number("Extreme value minimum blocks") || unexamined < 1e-9 || !e.solve() {
		return
	}
	e.period = max(2, unexamined/(block/n))
	e.reach()
	e.used = c.word("Extreme value in interval") == "yes" && e.rho >= 0.95
	c.class = e
	if !e.used {
		return
	}
	r := max(0, best-max(e.level+1.645*e.se, e.whole))
	l := &place{kind: 'f', label: "area not examined", r: r, counts: true, side: side, nominal: best, t0: best, age: c.floorAge}
	c.rates(l)
	c.places = append(c.places, l)
}

// solve is the maximum-likelihood fit by halving on the scale.
func (e *class) solve() bool {
	m, s := mean(e.blocks), deviation(e.blocks)
	if s < 1e-9 {
		return false
	}
	equation := func(a float64) float64 {
		var top, bottom float64
		for _, x := range e.blocks {
			w := math.Exp(-(x - m) / a)
			top, bottom = top+x*w, bottom+w
		}
		return m - a - top/bottom
	}
	low, high := s/100, s*100 // falls through 0
	for range 200 {
		if mid := (low + high) / 2; equation(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	e.a = (low + high) / 2
	var w float64
	for _, x := range e.blocks {
		w += math.Exp(-(x-m)/e.a) / float64(len(e.blocks))
	}
	e.u = m - e.a*math.Log(w)
	return true
}

// reach carries the fit to the area not examined.
func (e *class) reach() {
	var uu, ua, aa float64
	for _, x := range e.blocks {
		z := (x - e.u) / e.a
		w := math.Exp(-z)
		uu += w / e.a / e.a
		ua += (1 - w + z*w) / e.a / e.a
		aa += (2*z*(1-w) - 1 + z*z*w) / e.a / e.a
	}
	det := uu*aa - ua*ua
	vu, vua, va := aa/det, -ua/det, uu/det
	k := -math.Log(-math.Log(1 - 1/e.period))
	e.level = e.u + e.a*k
	e.se = math.Sqrt(vu + 2*k*vua + k*k*va)
	e.whole = e.u + e.a*(math.Log(e.period)-math.Log(-math.Log(0.95)))
	xs := slices.Clone(e.blocks)
	slices.Sort(xs)
	var ys []float64
	for i := range xs {
		ys = append(ys, -math.Log(-math.Log(float64(i+1)/float64(len(xs)+1))))
	}
	var sxy, sxx, syy float64
	mx, my := mean(xs), mean(ys)
	for i := range xs {
		sxy += (xs[i] - mx) * (ys[i] - my)
		sxx += (xs[i] - mx) * (xs[i] - mx)
		syy += (ys[i] - my) * (ys[i] - my)
	}
	e.rho = sxy / math.Sqrt(sxx*syy)
}

func (c *count) tellExtreme(w Wants) {
	e := c.class
	if e == nil {
		w["statistics.extreme"] = nil
		return
	}
	at := "statistics.extreme."
	w[at+"side"], w[at+"nominal_mm"], w[at+"blocks"] = c.word("Extreme value side"), e.nominal, float64(len(e.blocks))
	w[at+"location_mm"], w[at+"scale_mm"], w[at+"period"] = e.u, e.a, e.period
	w[at+"level_mm"], w[at+"se_mm"], w[at+"level_95_mm"] = e.level, e.se, e.whole
	w[at+"correlation"], w[at+"used"] = e.rho, e.used
}
