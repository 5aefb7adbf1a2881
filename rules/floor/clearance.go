package floor

import (
	"math"
	"slices"
)

// NearSeam is a seam near a box.
type NearSeam struct {
	Seam     int     // index in Plan.Seams
	Distance float64 // clear distance from the box to the strip, mm; 0 when it lies over it
	Beside   Box     // what of the strip lies in it is beside the box, over the strip's full width
}

// SeamsNear are the seams whose strips lie within reach of a box on a plate, in
// the order of Plan.Seams. The box may reach over the plate's edge.
func (p *Plan) SeamsNear(plate int, b Box, reach float64) []NearSeam {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return nil
	}
	pl := &p.Plates[plate]
	var held [8]int
	near := p.seamsAt(p.about(pl, b), reach, held[:0])
	inner, outer := p.radii(pl, b)
	near = slices.DeleteFunc(near, func(k int) bool {
		s := &p.Seams[k]
		return s.Kind == RingSeam && (s.Inner-outer > reach+1 || inner-s.Outer > reach+1)
	})
	if len(near) == 0 {
		return nil // most boxes stand clear of every seam
	}
	parts := p.boxParts(pl, b)
	extent := partsBounds(parts)
	around := reach
	if pl.Sector { // lengths along the shell are shorter further in
		around *= p.Radius / math.Max(p.Radius/2, p.Radius-b.V2-reach)
	}
	var out []NearSeam
	for _, k := range near {
		s := &p.Seams[k]
		if !s.extent.meets(extent, reach) {
			continue
		}
		d := math.Inf(1)
		if pl.Sector && s.Kind == RingSeam { // both are arcs about the centre
			d = gap(p.Radius-b.V2, p.Radius-b.V1, s.Inner, s.Outer)
		} else {
			for _, c := range parts {
				if c.bounds().Apart(s.extent) <= math.Min(d, reach+1) {
					d = math.Min(d, s.distance(c))
				}
			}
		}
		if d > reach+slack {
			continue
		}
		out = append(out, NearSeam{k, d, b.Grow(around + s.width() + slack)})
	}
	return out
}

// seamsAt appends the seams whose extents may be within reach of one, in order.
func (p *Plan) seamsAt(at Bounds, reach float64, found []int) []int {
	if p.seams != nil {
		return p.seams.Near(at, reach, found)
	}
	for k := range p.Seams {
		found = append(found, k)
	}
	return found
}

// about is an extent in plan that holds a box: the box's own, or on an annular
// plate one that takes its bend in.
func (p *Plan) about(pl *Plate, b Box) Bounds {
	if !pl.Sector {
		corners := b.corners()
		for i, c := range corners {
			corners[i] = p.toPlan(pl, c)
		}
		return boundsOf(corners[:])
	}
	// an arc further in is shorter, one beyond the shell longer
	wider := math.Max(1, math.Max(math.Abs(1-b.V1/p.Radius), math.Abs(1-b.V2/p.Radius)))
	at, r := p.toPlan(pl, b.Centre()), 1+math.Hypot(b.Length()/2*wider, b.Width()/2)
	return Bounds{Point{at.X - r, at.Y - r}, Point{at.X + r, at.Y + r}}
}

// radii are bounds of a box's least and greatest distance from the tank centre.
func (p *Plan) radii(pl *Plate, b Box) (inner, outer float64) {
	if pl.Sector {
		half := math.Min(math.Pi, b.Length()/p.Radius/2) // of the arc, whose chords stand nearer
		n := float64(p.chordsOf(b))
		return (p.Radius - b.V2) * math.Cos(math.Min(math.Pi/2, half/n)), p.Radius - b.V1
	}
	c := p.toPlan(pl, b.Centre())
	mid, half := math.Hypot(c.X, c.Y), math.Hypot(b.Length(), b.Width())/2
	return mid - half, p.reach(pl, b)
}

// ToSeam is the clear distance from a box to the nearest seam strip, mm, and
// that seam; infinite and −1 when the floor has no seam or the plate no place.
func (p *Plan) ToSeam(plate int, b Box) (float64, int) {
	best, which := math.Inf(1), -1
	if !p.has(plate) || !p.Plates[plate].Placed {
		return best, which
	}
	for _, c := range p.boxParts(&p.Plates[plate], b) {
		extent := c.bounds()
		for k := range p.Seams {
			s := &p.Seams[k]
			if !s.extent.meets(extent, best) {
				continue
			}
			if d := s.distance(c); d < best {
				best, which = d, k
			}
		}
	}
	return best, which
}

// distance from a convex outline to the seam's strip.
func (s *Seam) distance(c convex) float64 {
	if s.Kind != RingSeam {
		return apart(c, convex(s.Strip))
	}
	far := 0.0
	for _, q := range c {
		far = math.Max(far, math.Hypot(q.X, q.Y))
	}
	return gap(c.distance(Point{}), far, s.Inner, s.Outer)
}

// Beyond is how far a box on a plate reaches beyond a seam that it lies over, on
// the side where it reaches less, square to the weld; 0 where it ends on the
// strip.
func (p *Plan) Beyond(plate int, b Box, seam int) float64 {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return 0
	}
	s, parts := &p.Seams[seam], p.boxParts(&p.Plates[plate], b)
	lo, hi := math.Inf(1), math.Inf(-1)
	if s.Kind == RingSeam {
		if p.Plates[plate].Sector {
			return math.Max(0, math.Min(s.Inner-p.Radius+b.V2, p.Radius-b.V1-s.Outer))
		}
		for _, c := range parts {
			lo = math.Min(lo, c.distance(Point{}))
			for _, q := range c {
				hi = math.Max(hi, math.Hypot(q.X, q.Y))
			}
		}
		return math.Max(0, math.Min(s.Inner-lo, hi-s.Outer))
	}
	across := convex(s.Strip).across()
	first, last := math.Inf(1), math.Inf(-1)
	for _, q := range s.Strip {
		at := across.X*q.X + across.Y*q.Y
		first, last = math.Min(first, at), math.Max(last, at)
	}
	for _, c := range parts {
		for _, q := range c {
			at := across.X*q.X + across.Y*q.Y
			lo, hi = math.Min(lo, at), math.Max(hi, at)
		}
	}
	return math.Max(0, math.Min(first-lo, hi-last))
}

// BeyondRound is Beyond of the circle within a box.
func (p *Plan) BeyondRound(plate int, b Box, seam int) float64 {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return 0
	}
	s, r := &p.Seams[seam], math.Min(b.Length(), b.Width())/2
	c := p.toPlan(&p.Plates[plate], b.Centre())
	if s.Kind == RingSeam {
		at := math.Hypot(c.X, c.Y)
		return math.Max(0, math.Min(s.Inner-(at-r), at+r-s.Outer))
	}
	across := convex(s.Strip).across()
	at := across.X*c.X + across.Y*c.Y
	first, last := math.Inf(1), math.Inf(-1)
	for _, q := range s.Strip {
		v := across.X*q.X + across.Y*q.Y
		first, last = math.Min(first, v), math.Max(last, v)
	}
	return math.Max(0, math.Min(first-(at-r), at+r-last))
}

// across is the direction square to the longest side of an outline.
func (c convex) across() Point {
	most, out := 0.0, Point{}
	for i, q := range c {
		d := minus(c[(i+1)%len(c)], q)
		if l := math.Hypot(d.X, d.Y); l > most {
			most, out = l, Point{-d.Y / l, d.X / l}
		}
	}
	return out
}

// width of the strip, mm.
func (s *Seam) width() float64 {
	switch {
	case s.Kind == RingSeam:
		return s.Outer - s.Inner
	case len(s.Strip) < 3:
		return 0
	}
	return convex(s.Strip).leastWidth()
}

// SeamWithin is the extent, in the plate's frame, of the part of a seam's strip
// within a box; false where it has none there.
func (p *Plan) SeamWithin(plate, seam int, b Box) (Box, bool) {
	pl, s := &p.Plates[plate], &p.Seams[seam]
	out := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	add := func(at Point) {
		out = out.Join(Box{at.X, at.Y, at.X, at.Y})
	}
	if pl.Sector && s.Kind == RingSeam {
		return Box{b.U1, p.Radius - s.Outer, b.U2, p.Radius - s.Inner}, true
	}
	for _, c := range p.boxParts(pl, b) {
		if !c.bounds().meets(s.extent, slack) {
			continue
		}
		for _, strip := range s.parts(c) {
			for _, q := range clipLine(strip, c) {
				add(p.toLocal(pl, q))
			}
		}
	}
	return out, out.U1 <= out.U2
}

// parts of the strip near an outline, convex each. The ring's strip is cut
// into quarter degrees there.
func (s *Seam) parts(near convex) []convex {
	if s.Kind != RingSeam {
		return []convex{convex(s.Strip)}
	}
	mid := centroid(near, area(near))
	ref := degrees(math.Atan2(mid.Y, mid.X))
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range near {
		a := math.Remainder(degrees(math.Atan2(q.Y, q.X))-ref, 360)
		lo, hi = math.Min(lo, a), math.Max(hi, a)
	}
	if near.has(Point{}, 0) {
		lo, hi = -180, 180
	}
	const step = 0.25
	var out []convex
	// whole quarters of the circle's own, so that a floor in a mirror has the same
	for n := math.Floor((ref+lo)/step) - 1; n < (ref+hi)/step+1; n++ {
		s1, c1 := turn(n * step)
		s2, c2 := turn((n + 1) * step)
		q := convex{
			{s.Inner * c1, s.Inner * s1},
			{s.Outer * c1, s.Outer * s1},
			{s.Outer * c2, s.Outer * s2},
			{s.Inner * c2, s.Inner * s2},
		}
		if s.Inner == s.Outer {
			q = convex{q[0], q[3]}
		}
		out = append(out, q)
	}
	return out
}

// clipLine is the part of a strip, which may be a line, inside an outline.
func clipLine(strip, c convex) convex {
	if len(strip) > 2 && area(strip) > speck {
		for i := range c {
			if strip = strip.half(c[i], c[(i+1)%len(c)], 1); strip == nil {
				return nil
			}
		}
		return strip
	}
	if len(strip) < 2 {
		return nil
	}
	a, b := strip[0], strip[len(strip)/2]
	from, to := 0.0, 1.0
	d := minus(b, a)
	for i := range c {
		e := minus(c[(i+1)%len(c)], c[i])
		at, rate := cross(e, minus(a, c[i])), cross(e, d)
		switch {
		case rate == 0 && at < 0:
			return nil
		case rate > 0:
			from = math.Max(from, -at/rate)
		case rate < 0:
			to = math.Min(to, -at/rate)
		}
	}
	if from > to {
		return nil
	}
	return convex{{a.X + from*d.X, a.Y + from*d.Y}, {a.X + to*d.X, a.Y + to*d.Y}}
}

// boxParts is a box on a plate as convex outlines in plan: one, or on an
// annular plate one for each degree.
func (p *Plan) boxParts(pl *Plate, b Box) []convex {
	if !pl.Sector {
		c := make(convex, 4)
		for i, q := range b.corners() {
			c[i] = p.toPlan(pl, q)
		}
		return []convex{c}
	}
	n := p.chordsOf(b)
	parts := make([]convex, n)
	at := func(i int, v float64) Point {
		return p.toPlan(pl, Point{b.U1 + b.Length()*float64(i)/float64(n), v})
	}
	corners := make(convex, 4*n) // of all parts; each shares a side with the next
	outer, inner := at(0, b.V1), at(0, b.V2)
	for i := range parts {
		c := corners[4*i : 4*i+4 : 4*i+4]
		c[1], c[2] = outer, inner
		outer, inner = at(i+1, b.V1), at(i+1, b.V2)
		c[0], c[3] = outer, inner
		parts[i] = c
	}
	return parts
}

func partsBounds(parts []convex) Bounds {
	var all []Point
	for _, c := range parts {
		all = append(all, c...)
	}
	return boundsOf(all)
}

// ToBox is the clear distance (Euclid, in plan) between boxes on two plates, mm,
// 0 when they meet; false when a plate has no place and they are not on one
// plate.
func (p *Plan) ToBox(plateA int, a Box, plateB int, b Box) (float64, bool) {
	if !p.has(plateA) || !p.has(plateB) {
		return 0, false
	}
	if plateA == plateB && !p.Plates[plateA].Sector {
		return a.Apart(b), true
	}
	if !p.Plates[plateA].Placed || !p.Plates[plateB].Placed {
		return 0, false
	}
	f, _ := p.Figure(plateA, a)
	g, _ := p.Figure(plateB, b)
	return f.Apart(&g, math.Inf(1)), true
}

// Figure is a box on a plate as it lies in plan, ready to be measured from.
type Figure struct {
	parts   []convex
	extents []Bounds
	Extent  Bounds
}

// Figure is the box in plan; false without a place.
func (p *Plan) Figure(plate int, b Box) (Figure, bool) {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return Figure{}, false
	}
	f := Figure{parts: p.boxParts(&p.Plates[plate], b), Extent: nowhere}
	f.extents = make([]Bounds, len(f.parts))
	for i, c := range f.parts {
		f.extents[i] = c.bounds()
		f.Extent = f.Extent.join(f.extents[i])
	}
	return f, true
}

// Apart is the clear distance (Euclid) of two figures, 0 when they meet; what is
// over most may be told as infinite, which spares the measuring.
func (f *Figure) Apart(o *Figure, most float64) float64 {
	d := math.Inf(1)
	for i, s := range f.parts {
		if f.extents[i].Apart(o.Extent) > math.Min(d, most)+slack {
			continue
		}
		for k, t := range o.parts {
			if f.extents[i].Apart(o.extents[k]) > math.Min(d, most)+slack {
				continue
			}
			if d = math.Min(d, apart(s, t)); d == 0 {
				return 0
			}
		}
	}
	return d
}
