package floor

import (
	"math"
	"slices"
)

// SeamKind says how two plates are joined.
type SeamKind string

// The kinds of seam.
const (
	LapSeam  SeamKind = "lap"  // the whole overlap; which plate lies on top is not recorded
	ButtSeam SeamKind = "butt" // radial, between annular plates, without width
	RingSeam SeamKind = "ring" // the ring's inner edge ± lap/2
)

// Seam is a weld between plates as a strip in plan.
type Seam struct {
	Kind  SeamKind
	A, B  int  // indices of the plates, B −1 without one; the ring has neither: −1, −1
	Strip Ring // convex; a butt is a line of two points; empty for the ring
	// Inner and Outer are the radii of the ring's strip, mm.
	Inner, Outer float64
	// Length along the weld, mm.
	Length float64

	extent Bounds
}

// seamGap is how far apart, mm, edges of neighbouring plates may lie and still
// be welded together: places typed in whole units leave such gaps. At a skew
// only a true overlap is a seam.
//
// Common practice, no source; equals the default Position tolerance.
const seamGap = 25

// addLap records the lap between two plates, cut at the rim. The square that
// diagonal neighbours share at a crossing of seams is part of those seams, and
// a gap at a corner joins nothing.
func (p *Plan) addLap(i, j int, strip convex) {
	b := strip.bounds()
	dx, dy := b.Max.X-b.Min.X, b.Max.Y-b.Min.Y
	if p.square(i) && p.square(j) && math.Max(dx, dy) <= math.Max(p.Lap, seamGap)+slack {
		return
	}
	s := Seam{Kind: LapSeam, A: i, B: j, Length: math.Max(dx, dy), extent: b}
	if p.Rim > 0 {
		if math.Min(dx, dy) <= slack {
			if strip = strip.lineInRim(p.Rim); strip == nil {
				return
			}
		} else if strip = strip.inRim(p.Rim); strip == nil {
			return
		}
		s.extent = strip.bounds()
		s.Length = math.Max(s.extent.Max.X-s.extent.Min.X, s.extent.Max.Y-s.extent.Min.Y)
	}
	s.Strip = Ring(strip)
	p.Seams = append(p.Seams, s)
}

// lineInRim is the part of a strip without width inside the rim.
func (c convex) lineInRim(r float64) convex {
	a, b := c[0], c[2]
	from, to, cuts := chord(a, minus(b, a), r)
	if !cuts {
		return nil
	}
	d := minus(b, a)
	return convex{{a.X + from*d.X, a.Y + from*d.Y}, {a.X + to*d.X, a.Y + to*d.Y}}
}

// ringSeams adds the butts of the annular plates and the ring's inner edge.
func (p *Plan) ringSeams() {
	any := false
	for i := range p.Plates {
		pl := &p.Plates[i]
		if !pl.Sector || !pl.Placed {
			continue
		}
		any = true
		p.addButt(pl, pl.Start, i, p.endsAt(pl.Start, i))
		if p.startsAt(pl.End) < 0 {
			p.addButt(pl, pl.End, i, -1)
		}
	}
	if p.Rim <= 0 || (p.Rim == p.Radius && !any) {
		return
	}
	at := p.Rim
	if at == p.Radius { // a ring of unknown width: its plates tell where it ends
		for i := range p.Plates {
			if pl := &p.Plates[i]; pl.Sector && pl.Placed {
				at = math.Min(at, p.Radius-pl.Width)
			}
		}
	}
	s := Seam{Kind: RingSeam, A: -1, B: -1, Inner: at - p.Lap/2, Outer: at + p.Lap/2, Length: 2 * math.Pi * at}
	s.extent = Bounds{Point{-s.Outer, -s.Outer}, Point{s.Outer, s.Outer}}
	p.Seams = append(p.Seams, s)
}

// joined is how far apart the bearings of two annular plates may be and still
// be one butt, degrees: the limit of an open ring.
const joined = 1

func (p *Plan) endsAt(bearing float64, but int) int {
	for i := range p.Plates {
		pl := &p.Plates[i]
		if i != but && pl.Sector && pl.Placed && math.Abs(math.Remainder(pl.End-bearing, 360)) <= joined {
			return i
		}
	}
	return -1
}

func (p *Plan) startsAt(bearing float64) int {
	for i := range p.Plates {
		pl := &p.Plates[i]
		if pl.Sector && pl.Placed && math.Abs(math.Remainder(pl.Start-bearing, 360)) <= joined {
			return i
		}
	}
	return -1
}

func (p *Plan) addButt(pl *Plate, bearing float64, a, b int) {
	line := convex{p.polar(p.Radius-pl.Width, bearing), p.polar(p.Radius, bearing)}
	p.Seams = append(p.Seams, Seam{Kind: ButtSeam, A: a, B: b, Strip: Ring(line), Length: pl.Width, extent: line.bounds()})
}

// NearSeam is a seam near a box.
type NearSeam struct {
	Seam     int     // index in Plan.Seams
	Distance float64 // clear distance from the box to the strip, mm; 0 when it lies over it
	Extent   Box     // of the strip's part beside the box, over its full width, in the plate's frame
}

// SeamsNear are the seams whose strips lie within reach of a box on a plate, in
// the order of Plan.Seams. The box may reach over the plate's edge.
func (p *Plan) SeamsNear(plate int, b Box, reach float64) []NearSeam {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return nil
	}
	pl := &p.Plates[plate]
	parts := p.boxParts(pl, b)
	extent := partsBounds(parts)
	var out []NearSeam
	for k := range p.Seams {
		s := &p.Seams[k]
		if !s.extent.meets(extent, reach) {
			continue
		}
		d := math.Inf(1)
		for _, c := range parts {
			d = math.Min(d, s.distance(c))
		}
		if d > reach+slack {
			continue
		}
		if e, ok := p.extentOf(pl, s, b.Grow(reach+s.width()+slack)); ok {
			out = append(out, NearSeam{k, d, e})
		}
	}
	return out
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

// extentOf is the extent, in the plate's frame, of the part of a seam's strip
// within a box.
func (p *Plan) extentOf(pl *Plate, s *Seam, b Box) (Box, bool) {
	out := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	add := func(at Point) {
		out = out.Join(Box{at.X, at.Y, at.X, at.Y})
	}
	if pl.Sector && s.Kind == RingSeam {
		return Box{b.U1, p.Radius - s.Outer, b.U2, p.Radius - s.Inner}, true
	}
	for _, c := range p.boxParts(pl, b) {
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
	for a := lo - step; a < hi+step; a += step {
		s1, c1 := turn(ref + a)
		s2, c2 := turn(ref + a + step)
		q := convex{
			{s.Inner * c1, s.Inner * s1}, {s.Outer * c1, s.Outer * s1},
			{s.Outer * c2, s.Outer * s2}, {s.Inner * c2, s.Inner * s2},
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
	n := max(1, int(math.Ceil(degrees(b.Length()/p.Radius))))
	parts := make([]convex, n)
	at := func(i int, v float64) Point {
		return p.toPlan(pl, Point{b.U1 + b.Length()*float64(i)/float64(n), v})
	}
	for i := range parts {
		parts[i] = convex{at(i+1, b.V1), at(i, b.V1), at(i, b.V2), at(i+1, b.V2)}
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
	d := math.Inf(1)
	for _, s := range p.boxParts(&p.Plates[plateA], a) {
		for _, t := range p.boxParts(&p.Plates[plateB], b) {
			d = math.Min(d, apart(s, t))
		}
	}
	return d, true
}

// Neighbours are the plates joined to a plate by a lap or a butt, in the order
// of the sheet.
func (p *Plan) Neighbours(plate int) []int {
	var out []int
	for _, s := range p.Seams {
		other := -1
		switch plate {
		case s.A:
			other = s.B
		case s.B:
			other = s.A
		}
		if other >= 0 && other != plate && !slices.Contains(out, other) {
			out = append(out, other)
		}
	}
	slices.Sort(out)
	return out
}
