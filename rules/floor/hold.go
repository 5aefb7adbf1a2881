package floor

import "math"

// Holds says whether a repair on a plate takes in a box on it, to 1 mm, in the
// plate's frame. What reaches beyond the shell has no metal and need not be
// taken in; under a round repair the corners must be too. Without a plan or a
// place nothing lies beyond the shell.
func (p *Plan) Holds(plate int, repair Box, round bool, g Box) bool {
	const fit = 1.0
	if round {
		return repair.sticksOut(g) <= fit
	}
	r := repair.Grow(fit)
	for _, strip := range []Box{
		{U1: g.U1, V1: g.V1, U2: math.Min(g.U2, r.U1), V2: g.V2},
		{U1: math.Max(g.U1, r.U2), V1: g.V1, U2: g.U2, V2: g.V2},
		{U1: g.U1, V1: g.V1, U2: g.U2, V2: math.Min(g.V2, r.V1)},
		{U1: g.U1, V1: math.Max(g.V1, r.V2), U2: g.U2, V2: g.V2},
	} {
		if strip.U1 < strip.U2-slack && strip.V1 < strip.V2-slack && !p.beyondShell(plate, strip, fit) {
			return false
		}
	}
	return true
}

// SticksOut is how far a box reaches out of a repair, mm, negative when it lies
// within it.
func (b Box) SticksOut(round bool, g Box) float64 {
	if round {
		return b.sticksOut(g)
	}
	return math.Max(math.Max(b.U1-g.U1, g.U2-b.U2), math.Max(b.V1-g.V1, g.V2-b.V2))
}

// sticksOut is the same of a round repair, which the box's corners leave first.
func (b Box) sticksOut(g Box) float64 {
	c, far := b.Centre(), 0.0
	for _, q := range g.corners() {
		far = math.Max(far, math.Hypot(q.X-c.X, q.Y-c.Y))
	}
	return far - math.Min(b.Length(), b.Width())/2
}

// beyondShell says whether a box lies wholly outside the shell.
func (p *Plan) beyondShell(plate int, b Box, fit float64) bool {
	if p == nil || p.Radius <= 0 || !p.has(plate) {
		return false
	}
	if p.Plates[plate].Sector {
		return b.V2 <= fit
	}
	centre, ok := p.PlanToLocal(plate, Point{})
	return ok && b.Distance(centre) >= p.Radius-fit
}
