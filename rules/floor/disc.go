package floor

import (
	"math"
	"slices"
)

// inDiscs is the exact area, mm², of the part of a convex outline within every
// one of several discs. The part is convex; its boundary is pieces of the
// outline's sides and of the circles, each added as
//
//	side from p to q:       (p × q)/2
//	arc about c, θ1 to θ2:  (r²·(θ2 − θ1) + r·cx·(sin θ2 − sin θ1) − r·cy·(cos θ2 − cos θ1))/2
//
// r radius, cx, cy centre, mm. Equal discs count once.
//
// Source: elementary geometry (Green's theorem).
// Check: circle_areas.json, two_circle_lens, relative 1e-9.
func inDiscs(c convex, discs []disc) float64 {
	if len(c) == 0 {
		return 0
	}
	s := 0.0
	for i, a := range c {
		d := minus(c[(i+1)%len(c)], a)
		from, to := 0.0, 1.0
		for _, o := range discs {
			f, t, cuts := chord(minus(a, o.at), d, o.r)
			if !cuts {
				from, to = 1, 0
				break
			}
			from, to = math.Max(from, f), math.Min(to, t)
		}
		if from < to {
			s += (to - from) * cross(a, d) / 2
		}
	}
	for i, o := range discs {
		if slices.Index(discs, o) == i {
			s += o.arcs(c, discs)
		}
	}
	return math.Max(0, s)
}

// arcs is what the pieces of the disc's circle inside the outline and inside
// the other discs add to the boundary.
func (o disc) arcs(c convex, discs []disc) float64 {
	var stops []float64
	for i, a := range c {
		d := minus(c[(i+1)%len(c)], a)
		from, to, cuts := chord(minus(a, o.at), d, o.r)
		if !cuts {
			continue
		}
		for _, t := range []float64{from, to} {
			if t > 0 && t < 1 {
				stops = append(stops, math.Atan2(a.Y+t*d.Y-o.at.Y, a.X+t*d.X-o.at.X))
			}
		}
		// a corner on the circle ends an arc as well; a stop too many does no harm
		stops = append(stops, math.Atan2(a.Y-o.at.Y, a.X-o.at.X))
	}
	for _, n := range discs {
		if n == o {
			continue
		}
		d := minus(n.at, o.at)
		l := math.Hypot(d.X, d.Y)
		cos := (o.r*o.r + l*l - n.r*n.r) / (2 * o.r * l)
		if l > 0 && cos > -1 && cos < 1 {
			mid, half := math.Atan2(d.Y, d.X), math.Acos(cos)
			stops = append(stops, math.Remainder(mid-half, 2*math.Pi), math.Remainder(mid+half, 2*math.Pi))
		}
	}
	if len(stops) == 0 {
		stops = append(stops, 0)
	}
	slices.Sort(stops)
	s := 0.0
	for i, from := range stops {
		to := stops[0] + 2*math.Pi
		if i+1 < len(stops) {
			to = stops[i+1]
		}
		if to <= from || !o.keeps((from+to)/2, c, discs) {
			continue
		}
		sin1, cos1 := math.Sincos(from)
		sin2, cos2 := math.Sincos(to)
		s += o.r * (o.r*(to-from) + o.at.X*(sin2-sin1) - o.at.Y*(cos2-cos1)) / 2
	}
	return s
}

// keeps says whether the place at an angle on the circle is inside the outline
// and the other discs.
func (o disc) keeps(angle float64, c convex, discs []disc) bool {
	sin, cos := math.Sincos(angle)
	at := Point{o.at.X + o.r*cos, o.at.Y + o.r*sin}
	if !c.has(at, 0) {
		return false
	}
	for _, n := range discs {
		if n != o && math.Hypot(at.X-n.at.X, at.Y-n.at.Y) > n.r {
			return false
		}
	}
	return true
}
