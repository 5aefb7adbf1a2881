package floor

import "math"

// convex is a convex outline, anticlockwise.
type convex []Point

// speck is the area, mm², below which a part left by a cut is rounding and
// not metal.
const speck = 1e-6

func cross(a, b Point) float64 { return a.X*b.Y - a.Y*b.X }

func minus(a, b Point) Point { return Point{a.X - b.X, a.Y - b.Y} }

// area of any outline in mm², positive when anticlockwise. It is taken about
// the first point, which keeps digits far from the origin.
func area(c []Point) float64 {
	s := 0.0
	for i := 1; i+1 < len(c); i++ {
		s += cross(minus(c[i], c[0]), minus(c[i+1], c[0]))
	}
	return s / 2
}

// half keeps the part of c on the left of the line through a and b (keep > 0)
// or on its right (keep < 0).
func (c convex) half(a, b Point, keep float64) convex {
	if len(c) == 0 {
		return nil
	}
	d := minus(b, a)
	side := func(q Point) float64 { return keep * cross(d, minus(q, a)) }
	in, off := false, false
	for _, q := range c {
		switch v := side(q); {
		case v > 0:
			in = true
		case v < 0:
			off = true
		}
	}
	switch {
	case !in:
		return nil
	case !off:
		return c
	}
	out := make(convex, 0, len(c)+2)
	last := c[len(c)-1]
	was := side(last)
	for _, q := range c {
		is := side(q)
		if (is > 0 && was < 0) || (is < 0 && was > 0) {
			t := was / (was - is)
			out = append(out, Point{last.X + t*(q.X-last.X), last.Y + t*(q.Y-last.Y)})
		}
		if is >= 0 {
			out = append(out, q)
		}
		last, was = q, is
	}
	if len(out) < 3 {
		return nil
	}
	return out
}

// within is the part of c inside q.
func (c convex) within(q convex) convex { return c.withinBounds(q, q.bounds()) }

// withinBounds is within for a q whose extent is known.
func (c convex) withinBounds(q convex, extent Bounds) convex {
	if !c.bounds().meets(extent, 0) {
		return nil
	}
	for i := range q {
		if c = c.half(q[i], q[(i+1)%len(q)], 1); c == nil {
			return nil
		}
	}
	if area(c) < speck {
		return nil
	}
	return c
}

// less appends the parts of c outside q, each convex, to parts. extent is q's.
func (c convex) less(q convex, extent Bounds, parts []convex) []convex {
	if c.withinBounds(q, extent) == nil {
		return append(parts, c)
	}
	for i := range q {
		a, b := q[i], q[(i+1)%len(q)]
		if out := c.half(a, b, -1); out != nil && area(out) >= speck {
			parts = append(parts, out)
		}
		if c = c.half(a, b, 1); c == nil {
			break
		}
	}
	return parts
}

// lessAll takes q off all parts.
func lessAll(parts []convex, q convex) []convex {
	out, extent := make([]convex, 0, len(parts)), q.bounds()
	for _, c := range parts {
		out = c.less(q, extent, out)
	}
	return out
}

// has says whether a place is inside c or within slack of it being so.
func (c convex) has(at Point, slack float64) bool {
	for i := range c {
		a, b := c[i], c[(i+1)%len(c)]
		d := minus(b, a)
		if cross(d, minus(at, a)) < -slack*math.Hypot(d.X, d.Y) {
			return false
		}
	}
	return len(c) > 0
}

// distance from a place to c; 0 inside.
func (c convex) distance(at Point) float64 {
	if c.has(at, 0) {
		return 0
	}
	least := math.Inf(1)
	for i := range c {
		least = math.Min(least, toSegment(at, c[i], c[(i+1)%len(c)]))
	}
	return least
}

// apart is the distance between two convex outlines, 0 when they touch or
// overlap. Either may be a line of two points.
func apart(a, b convex) float64 {
	if len(a) == 0 || len(b) == 0 {
		return math.Inf(1)
	}
	if touch(a, b) {
		return 0
	}
	least := math.Inf(1)
	for i := range a {
		for j := range b {
			least = math.Min(least, toSegment(a[i], b[j], b[(j+1)%len(b)]))
			least = math.Min(least, toSegment(b[j], a[i], a[(i+1)%len(a)]))
		}
	}
	return least
}

// touch says whether two convex outlines share a place: no edge's line parts
// them.
func touch(a, b convex) bool {
	if a.spot() && b.spot() {
		return a[0] == b[0]
	}
	for range 2 {
		for i := range a {
			d := minus(a[(i+1)%len(a)], a[i])
			n := Point{d.Y, -d.X} // outward of an anticlockwise outline
			least, most := math.Inf(1), math.Inf(-1)
			for _, q := range b {
				s := n.X*(q.X-a[i].X) + n.Y*(q.Y-a[i].Y)
				least, most = math.Min(least, s), math.Max(most, s)
			}
			if least > 0 || (len(a) == 2 && most < 0) {
				return false
			}
			if len(a) == 2 { // a line also ends: its own direction parts
				lo, hi := math.Inf(1), math.Inf(-1)
				for _, q := range b {
					s := d.X*(q.X-a[i].X) + d.Y*(q.Y-a[i].Y)
					lo, hi = math.Min(lo, s), math.Max(hi, s)
				}
				if lo > d.X*d.X+d.Y*d.Y || hi < 0 {
					return false
				}
			}
		}
		a, b = b, a
	}
	return true
}

// spot says whether an outline is one place only.
func (c convex) spot() bool {
	for _, q := range c {
		if q != c[0] {
			return false
		}
	}
	return true
}

// toSegment is the distance from a place to the line from a to b.
func toSegment(at, a, b Point) float64 {
	d, q := minus(b, a), minus(at, a)
	l := d.X*d.X + d.Y*d.Y
	t := 0.0
	if l > 0 {
		t = math.Max(0, math.Min(1, (q.X*d.X+q.Y*d.Y)/l))
	}
	return math.Hypot(q.X-t*d.X, q.Y-t*d.Y)
}

// Bounds is an axis-parallel extent in plan.
type Bounds struct{ Min, Max Point }

func (c convex) bounds() Bounds { return boundsOf(c) }

func boundsOf(c []Point) Bounds {
	b := Bounds{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
	for _, q := range c {
		b.Min.X, b.Min.Y = min(b.Min.X, q.X), min(b.Min.Y, q.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, q.X), max(b.Max.Y, q.Y)
	}
	return b
}

// meets says whether two extents are at most gap apart along both axes.
func (b Bounds) meets(o Bounds, gap float64) bool {
	return b.Min.X <= o.Max.X+gap && o.Min.X <= b.Max.X+gap &&
		b.Min.Y <= o.Max.Y+gap && o.Min.Y <= b.Max.Y+gap
}

func (b Bounds) outline() convex {
	return convex{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}
