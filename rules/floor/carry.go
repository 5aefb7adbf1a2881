package floor

import "math"

// Carry is a box on one plate as the smallest box around it in the frame of
// another; false when they are two plates of which one has no place. Into an
// annular plate's frame the edges are carried in eighths, since an edge across
// the radius is nearest to the centre in between.
func (p *Plan) Carry(from int, b Box, to int) (Box, bool) {
	if from == to {
		return b, p.has(from)
	}
	if !p.has(from) || !p.has(to) || !p.Plates[from].Placed || !p.Plates[to].Placed {
		return Box{}, false
	}
	src, dst := &p.Plates[from], &p.Plates[to]
	out := Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	take := func(at Point) {
		at = p.toLocal(dst, at)
		out = out.Join(Box{at.X, at.Y, at.X, at.Y})
	}
	if !src.Sector && !dst.Sector {
		for _, c := range b.corners() {
			take(p.toPlan(src, c))
		}
		return out, true
	}
	parts := 1
	if dst.Sector {
		parts = 8
	}
	ring, _ := p.Outline(from, b)
	for i, c := range ring {
		next := ring[(i+1)%len(ring)]
		for k := range parts {
			f := float64(k) / float64(parts)
			take(Point{c.X + f*(next.X-c.X), c.Y + f*(next.Y-c.Y)})
		}
	}
	return out, true
}

// Under are the plates that may lie under a box, in the order of the sheet: the
// box's own, and every other plate with a place whose rectangle or segment it
// meets in plan.
func (p *Plan) Under(plate int, b Box) []int {
	if !p.has(plate) {
		return nil
	}
	e, ok := p.Extent(plate, b)
	if !ok {
		return []int{plate}
	}
	var out []int
	for k := range p.Plates {
		pl := &p.Plates[k]
		if k == plate {
			out = append(out, k)
			continue
		}
		if o, ok := p.Extent(k, Box{U2: pl.Length, V2: pl.Width}); ok && pl.Sized && o.meets(e, 0) {
			out = append(out, k)
		}
	}
	return out
}
