package recount

import (
	"math"
	"slices"
)

// spot is a point of the plan, mm.
type spot struct{ x, y float64 }

func (p spot) off() float64                 { return math.Hypot(p.x, p.y) }
func (p spot) to(q spot) float64            { return math.Hypot(p.x-q.x, p.y-q.y) }
func (p spot) along(q spot, f float64) spot { return spot{p.x + f*(q.x-p.x), p.y + f*(q.y-p.y)} }

// outline is a closed line of points; two of them are a stretch of a line. A
// curve is given by so many points that its chords lie within 0.002 mm of it.
type outline []spot

// in says whether a point lies inside, by the crossings of a ray.
func (o outline) in(p spot) bool {
	odd := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			odd = !odd
		}
	}
	return odd
}

// from is how far a point lies from the line itself.
func (o outline) from(p spot) float64 {
	best := math.Inf(1)
	for i, a := range o {
		b := o[(i+1)%len(o)]
		f, l := 0.0, (b.x-a.x)*(b.x-a.x)+(b.y-a.y)*(b.y-a.y)
		if l > 0 {
			f = min(1, max(0, ((p.x-a.x)*(b.x-a.x)+(p.y-a.y)*(b.y-a.y))/l))
		}
		best = min(best, p.to(a.along(b, f)))
	}
	return best
}

// dotted are points along the line, at most so far apart.
func (o outline) dotted(step float64) []spot {
	var out []spot
	for i, a := range o {
		b := o[(i+1)%len(o)]
		n := max(1, math.Ceil(a.to(b)/step))
		for k := range int(n) {
			out = append(out, a.along(b, float64(k)/n))
		}
	}
	return out
}

// deep is how far an outline reaches into another: 0 when they only touch or
// lie apart. It is found point by point, along both lines.
func deep(a, b outline) float64 {
	if gapOfBoxes(a, b) > 0 {
		return 0
	}
	d := 0.0
	for _, s := range [][2]outline{{a, b}, {b, a}} {
		for _, p := range s[0].dotted(5) {
			if s[1].in(p) {
				d = max(d, s[1].from(p))
			}
		}
	}
	return d
}

// apart is the distance of two outlines that do not overlap.
func apart(a, b outline) float64 {
	best := math.Inf(1)
	for _, s := range [][2]outline{{a, b}, {b, a}} {
		for _, p := range s[0] {
			best = min(best, s[1].from(p))
		}
	}
	return best
}

func (o outline) limits() (lo, hi spot) {
	lo, hi = o[0], o[0]
	for _, p := range o {
		lo, hi = spot{min(lo.x, p.x), min(lo.y, p.y)}, spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	return lo, hi
}

// gapOfBoxes is a distance that two outlines have at least.
func gapOfBoxes(a, b outline) float64 {
	al, ah := a.limits()
	bl, bh := b.limits()
	return math.Hypot(max(0, al.x-bh.x, bl.x-ah.x), max(0, al.y-bh.y, bl.y-ah.y))
}

// across is how far an outline reaches along a direction.
func (o outline) across(dx, dy float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range o {
		v := p.x*dx + p.y*dy
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}

// crossed cuts off what lies outside a convex outline, which runs
// anticlockwise; a line of both stays, as an outline without area.
func (o outline) crossed(by outline) outline {
	for i, a := range by {
		b := by[(i+1)%len(by)]
		side := func(p spot) float64 {
			return ((b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x)) / a.to(b)
		}
		var kept outline
		for k, p := range o {
			q := o[(k+1)%len(o)]
			s, t := side(p), side(q)
			if s >= -1e-7 {
				kept = append(kept, p)
			}
			if (s > 1e-7 && t < -1e-7) || (s < -1e-7 && t > 1e-7) {
				kept = append(kept, p.along(q, s/(s-t)))
			}
		}
		o = kept
	}
	return o
}

// covered is the area of outlines, each place once, m²: what they cover on
// level lines 0.5 mm apart.
func covered(list []outline) float64 {
	const step = 0.5
	rows := map[int][]outline{} // by line
	for _, o := range list {
		a, b := o.limits()
		for n := int(math.Floor(a.y / step)); float64(n)*step < b.y; n++ {
			rows[n] = append(rows[n], o)
		}
	}
	sum := 0.0
	for n, own := range rows {
		for _, s := range stretches(own, (float64(n)+0.5)*step) {
			sum += (s[1] - s[0]) * step
		}
	}
	return sum / 1e6
}

// stretches are the parts of a level line inside of any outline, in order.
func stretches(list []outline, y float64) [][2]float64 {
	var out [][2]float64
	for _, o := range list {
		var xs []float64
		for i, a := range o {
			b := o[(i+1)%len(o)]
			if (a.y > y) != (b.y > y) {
				xs = append(xs, a.x+(y-a.y)/(b.y-a.y)*(b.x-a.x))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			out = append(out, [2]float64{xs[i], xs[i+1]})
		}
	}
	slices.SortFunc(out, func(a, b [2]float64) int {
		switch {
		case a[0] < b[0]:
			return -1
		case a[0] > b[0]:
			return 1
		}
		return 0
	})
	var joined [][2]float64
	for _, s := range out {
		if n := len(joined); n > 0 && s[0] <= joined[n-1][1] {
			joined[n-1][1] = max(joined[n-1][1], s[1])
		} else {
			joined = append(joined, s)
		}
	}
	return joined
}
