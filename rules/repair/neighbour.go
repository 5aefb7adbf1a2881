package repair

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/floor"
)

// nextTo is a patch shaped on another plate, when its own is none of those along
// the same lines, and not gone: on the one under its middle, where that is not its
// own, since a patch has its place on the plate it is listed under; and on the one
// inside the ring, when it takes less than half as much there. Seams that run at a
// skew to the ring run along the plates inside it.
func (s *shop) nextTo(p *patch, gone map[int]string) (*patch, bool) {
	off := s.middleOff(p)
	over := p.frame == p.plate && s.sector(p.plate) && p.box.V2 > s.plan.Plates[p.plate].Width
	if p.tombstone || !off && !over {
		return nil, false
	}
	from := p.box.Centre()
	if !off {
		from.Y = p.box.V2
	}
	at, _ := s.plan.LocalToPlan(p.frame, from)
	k := s.plan.PlateAt(at)
	_, out := gone[k]
	if !out && s.parallel(p.plate, k) {
		return nil, false // and may be listed under it
	}
	if q, ok := s.shapedOn(p, k); ok && !out && (off || !q.tombstone && 2*q.box.Length()*q.box.Width() < p.box.Length()*p.box.Width()) {
		return q, true
	}
	if !off {
		return nil, false
	}
	r := *p
	if s.inward(&r); r.unsettled || s.lost(&r) {
		r = *p // has no plate to stand on: left to an engineer
		r.unsettled = true
	}
	return &r, true
}

// shapedOn is a patch shaped anew on another plate, false when it cannot stand
// there.
func (s *shop) shapedOn(p *patch, k int) (*patch, bool) {
	if k < 0 || s.sector(k) && s.sector(p.plate) {
		return nil, false
	}
	q := &patch{plate: k, locations: p.locations, parts: p.parts, least: p.least}
	ok := true
	if q.raw, ok = s.carried(p.plate, p.raw, k); ok && p.parts[0] != nil {
		a, one := s.carried(p.parts[0].plate, p.parts[0].raw, k)
		b, two := s.carried(p.parts[1].plate, p.parts[1].raw, k)
		q.raw, ok = a.Join(b), one && two
	}
	if !ok {
		return nil, false
	}
	s.shape(q)
	s.inward(q)
	return q, !q.unsettled && !s.lost(q)
}

// lost says whether a patch has no plate to be listed under.
func (s *shop) lost(p *patch) bool {
	if !s.middleOff(p) {
		return false
	}
	at, _ := s.plan.LocalToPlan(p.frame, p.box.Centre())
	k := s.plan.PlateAt(at)
	return k < 0 || !p.tombstone && !s.parallel(p.plate, k)
}

// inward grows a patch on a plate inside the ring, whose middle lies outside the
// rim, towards the centre of the tank until it lies within, and one on the ring,
// whose middle lies inside, towards the shell.
func (s *shop) inward(p *patch) {
	for range rounds {
		c := p.box.Centre()
		at, _ := s.plan.LocalToPlan(p.frame, c)
		centre, _ := s.plan.PlanToLocal(p.frame, floor.Point{})
		off := math.Hypot(at.X, at.Y) - s.plan.Rim
		b := p.box.Grow(-s.z.overlap)
		switch {
		case p.tombstone || !s.lost(p):
			return
		case s.sector(p.plate) && p.frame == p.plate:
			p.raw.V1 = b.V1 - 2*math.Max(1, c.Y-s.plan.Plates[p.plate].Width)
			s.shape(p)
			continue
		case s.sector(p.plate) || off <= fine:
			return
		}
		du, dv := centre.X-c.X, centre.Y-c.Y
		by := 2 * off * math.Hypot(du, dv) / math.Max(math.Abs(du), math.Abs(dv)) // the middle moves by half
		switch {
		case math.Abs(du) < math.Abs(dv) && dv > 0:
			p.raw.V2 = b.V2 + by
		case math.Abs(du) < math.Abs(dv):
			p.raw.V1 = b.V1 - by
		case du > 0:
			p.raw.U2 = b.U2 + by
		default:
			p.raw.U1 = b.U1 - by
		}
		s.shape(p)
	}
}

// middleOff says whether the middle of a patch lies beyond the plate it is
// listed under.
func (s *shop) middleOff(p *patch) bool {
	at := p.box.Centre()
	if p.frame != p.plate {
		in, ok := s.plan.LocalToPlan(p.frame, at)
		if !ok {
			return false
		}
		at, _ = s.plan.PlanToLocal(p.plate, in)
	}
	x, y, ok := s.plan.FromLocal(p.plate, at)
	return ok && !s.plan.Inside(p.plate, x, y, s.set.Number(criteria.PositionTolerance)).OK
}

// parallel says whether two plates lie along the same lines.
func (s *shop) parallel(a, b int) bool {
	return a >= 0 && b >= 0 && !s.sector(a) && !s.sector(b) && s.plan.Plates[a].Turned == s.plan.Plates[b].Turned
}
