package floor

import "math"

// inCircle is the exact area, mm², of the part of an outline within a circle
// about the origin: every edge adds, signed, the part of the triangle it makes
// with the centre that lies within the circle.
//
//	inside: (a × b)/2     outside: r²·φ/2
//
// a, b ends of an edge or of its part inside or outside the circle, mm;
// φ the angle between them; r radius, mm. r ≤ 0 gives 0.
//
// Source: elementary geometry (Green's theorem).
// Check: circle_areas.json, relative 1e-9.
func inCircle(c []Point, r float64) float64 {
	if r <= 0 {
		return 0
	}
	s := 0.0
	for i := range c {
		s += edgeInCircle(c[i], c[(i+1)%len(c)], r)
	}
	return s
}

func edgeInCircle(a, b Point, r float64) float64 {
	d := minus(b, a)
	from, to, cuts := chord(a, d, r)
	if !cuts {
		return r * r * angle(a, b) / 2
	}
	s := 0.0
	p, q := a, b
	if from > 0 {
		p = Point{a.X + from*d.X, a.Y + from*d.Y}
		s += r * r * angle(a, p) / 2
	}
	if to < 1 {
		q = Point{a.X + to*d.X, a.Y + to*d.Y}
		s += r * r * angle(q, b) / 2
	}
	// p × q = (to − from)·(a × b) loses no digits to the ends' rounding.
	return s + (to-from)*cross(a, d)/2
}

// chord is the part, in parameters from 0 to 1, of the line from a along d
// that lies within a circle about the origin.
func chord(a, d Point, r float64) (from, to float64, cuts bool) {
	l := d.X*d.X + d.Y*d.Y
	if l == 0 {
		return 0, 0, false
	}
	h := cross(a, d)
	disc := r*r*l - h*h
	if disc <= 0 {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	mid := -(a.X*d.X + a.Y*d.Y)
	from, to = math.Max(0, (mid-root)/l), math.Min(1, (mid+root)/l)
	return from, to, from < to
}

func angle(a, b Point) float64 { return math.Atan2(cross(a, b), a.X*b.X+a.Y*b.Y) }

// region is straight-edged parts, disjoint, of which the metal between two
// circles about the tank centre counts, less round openings that do not overlap
// each other.
type region struct {
	parts        []convex
	inner, outer float64 // outer 0: no circle
	round        []disc
}

type disc struct {
	at Point
	r  float64
}

// area of the region, mm², exact.
func (g region) area() float64 {
	s := 0.0
	for _, c := range g.parts {
		s += g.part(c)
	}
	return math.Max(0, s)
}

func (g region) part(c convex) float64 {
	s := 0.0
	if g.outer > 0 {
		s = inCircle(c, g.outer) - inCircle(c, g.inner)
	} else {
		s = area(c)
	}
	for _, o := range g.round {
		s -= g.opened(c, o)
	}
	return s
}

// opened is the area a round opening takes from a part of the region.
func (g region) opened(c convex, o disc) float64 {
	if !c.bounds().meets(o.bounds(), 0) {
		return 0
	}
	if g.outer <= 0 {
		return inDiscs(c, []disc{o})
	}
	s := inDiscs(c, []disc{o, {r: g.outer}})
	if g.inner > 0 {
		s -= inDiscs(c, []disc{o, {r: g.inner}})
	}
	return s
}

func (o disc) bounds() Bounds {
	return Bounds{Point{o.at.X - o.r, o.at.Y - o.r}, Point{o.at.X + o.r, o.at.Y + o.r}}
}

// polygon is a circle as a convex outline for drawing.
func (o disc) polygon() convex {
	out := make(convex, 72)
	for i := range out {
		sin, cos := turn(float64(i) * 5)
		out[i] = Point{o.at.X + o.r*cos, o.at.Y + o.r*sin}
	}
	return out
}

// inRim is the outline of the part of a convex outline within a circle about
// the origin, its arcs as chords of at most one degree; nil without any.
func (c convex) inRim(r float64) convex {
	inside := true
	for _, q := range c {
		if q.X*q.X+q.Y*q.Y > r*r {
			inside = false
			break
		}
	}
	if inside {
		return c
	}
	var out convex
	var first, last Point
	found := false
	for i := range c {
		a := c[i]
		d := minus(c[(i+1)%len(c)], a)
		from, to, cuts := chord(a, d, r)
		if !cuts {
			continue
		}
		p, q := Point{a.X + from*d.X, a.Y + from*d.Y}, Point{a.X + to*d.X, a.Y + to*d.Y}
		if from == 0 {
			p = a
		}
		if to == 1 {
			q = c[(i+1)%len(c)]
		}
		if !found {
			first, found = p, true
		} else if p != last {
			out = arc(out, last, p, r)
		}
		out = append(out, p)
		if q != p {
			out = append(out, q)
		}
		last = q
	}
	if !found {
		if !c.has(Point{}, 0) {
			return nil
		}
		return disc{r: r}.degreewise()
	}
	if last == first {
		out = out[:len(out)-1]
	} else {
		out = arc(out, last, first, r)
	}
	// an end of one side is the start of the next
	clean := out[:0]
	for i, q := range out {
		if i == 0 || q != clean[len(clean)-1] {
			clean = append(clean, q)
		}
	}
	if len(clean) < 3 || area(clean) < speck {
		return nil
	}
	return clean
}

func (o disc) degreewise() convex {
	out := make(convex, 360)
	for i := range out {
		sin, cos := turn(float64(i))
		out[i] = Point{o.r * cos, o.r * sin}
	}
	return out
}

// arc appends the places on the circle at whole degrees strictly between two
// places on it, anticlockwise. Whole degrees make neighbouring plates share
// their chords.
func arc(out convex, from, to Point, r float64) convex {
	a := degrees(math.Atan2(from.Y, from.X))
	b := a + whole(degrees(math.Atan2(to.Y, to.X))-a)
	// where an edge only touches the circle its ends may change places
	const apart, hair = 1e-6, 1e-4
	if b-a > 360-hair {
		return out
	}
	for k := math.Floor(a + 1); k < b-apart; k++ {
		if k-a < apart {
			continue
		}
		sin, cos := turn(k)
		out = append(out, Point{r * cos, r * sin})
	}
	return out
}
