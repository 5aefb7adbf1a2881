package repair

import (
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// overlap is the least metal between what a patch takes in and its edge: the
// indications it covers, and those that need repair and reach under it. What a
// row lists without covering it is another finding.
func (j *judge) overlap(it *Item) (float64, bool) {
	best, any := math.Inf(1), false
	for i := range j.res.Locations {
		l := &j.res.Locations[i]
		if !repairable(l) || !l.Counts {
			continue
		}
		covered := slices.Contains(it.Locations, i)
		if !covered && (j.renewed[l.Plate] || j.listed(it, l) || !wants(l) || !j.meets(it, l)) {
			continue
		}
		b, ok := j.carried(l.Plate, l.Box, it.frame)
		if !ok {
			continue
		}
		by := math.Min(math.Min(b.U1-it.own.U1, it.own.U2-b.U2), it.own.V2-b.V2)
		if !j.sector(it.frame) || it.own.V1 > fine {
			by = math.Min(by, b.V1-it.own.V1)
		}
		if it.Shape == Circle {
			c, far := it.own.Centre(), 0.0
			for _, u := range []float64{b.U1, b.U2} {
				for _, v := range []float64{b.V1, b.V2} {
					far = math.Max(far, math.Hypot(u-c.X, v-c.Y))
				}
			}
			by = math.Min(it.own.Length(), it.own.Width())/2 - far
		}
		if l.Plate != it.frame && j.sector(it.frame) && by < j.z.overlap && by >= j.z.overlap-1-fine {
			by = j.z.overlap // bends in a frame along the shell, within a millimetre
		}
		best, any = math.Min(best, by), true
	}
	return best, any
}

// meets says whether a place shares area with a patch.
func (j *judge) meets(it *Item, l *assess.Location) bool {
	if l.Plate == it.Plate && it.frame == it.Plate && it.Shape != Circle {
		return l.Box.Overlaps(it.own)
	}
	if l.Plate != it.Plate && !j.besides(l.Plate, it) {
		return false
	}
	d, ok := j.apartFrom(it, l.Plate, l.Box, 0)
	return ok && d < fine
}

func (j *judge) listed(it *Item, l *assess.Location) bool {
	if it.Row < 0 || l.Indication < 0 {
		return false
	}
	id := inspection.Fold(j.in.Indications[l.Indication].ID.Value)
	return slices.ContainsFunc(j.in.Repairs[it.Row].Indications.Or(nil), func(s string) bool { return inspection.Fold(s) == id })
}

// wants says whether a verdict asks for a repair.
func wants(l *assess.Location) bool {
	return l.Verdict == assess.Repair || l.Verdict == assess.RepairFirst || l.Verdict == assess.Engineering || l.Verdict == assess.Repaired
}

// past is how far a patch reaches beyond a weld it lies over, on the side where
// it reaches less.
func (j *judge) past(it *Item, s strip) float64 {
	b := it.own
	switch {
	case !s.patch && it.Shape == Circle:
		return j.plan.BeyondRound(it.frame, b, s.seam)
	case !s.patch:
		return j.plan.Beyond(it.frame, b, s.seam)
	case it.Shape == Circle && s.round:
		c, o := b.Centre(), s.box.Centre()
		return math.Max(0, it.rounding()-math.Hypot(c.X-o.X, c.Y-o.Y)-math.Min(s.box.Length(), s.box.Width())/2)
	case it.Shape == Circle:
		return math.Max(0, -b.SticksOut(true, s.box))
	}
	u := math.Min(s.box.U1-b.U1, b.U2-s.box.U2)
	v := math.Min(s.box.V1-b.V1, b.V2-s.box.V2)
	return math.Max(0, math.Min(u, v))
}

// inside says whether a patch stands on plates, within the shell.
func (j *judge) inside(it *Item) Check {
	const id, edge = "patch.inside", 1.0
	if !j.plan.Plates[it.Plate].Placed || !j.plan.RimKnown {
		pl := &j.plan.Plates[it.Plate]
		if !pl.Sized || pl.Sector {
			return unchecked(id, "the plate has no place in plan", patchClause, "derived")
		}
		return told(id, floor.Box{U2: pl.Length, V2: pl.Width}.Grow(edge).Covers(it.own), "", patchClause, "derived")
	}
	whole, ok := j.outline(it, it.own)
	if !ok {
		return unchecked(id, "no place in plan", patchClause, "derived")
	}
	off := 0.0
	for _, p := range whole {
		off = math.Max(off, math.Hypot(p.X, p.Y)-j.plan.Radius)
	}
	ring, _ := j.outline(it, it.own.Grow(-edge))
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		for _, f := range []float64{0, 0.25, 0.5, 0.75} {
			at := floor.Point{X: p.X + f*(q.X-p.X), Y: p.Y + f*(q.Y-p.Y)}
			if math.Hypot(at.X, at.Y) <= j.plan.Radius-edge && j.plan.PlateAt(at) < 0 {
				return told(id, false, "reaches where there is no plate", patchClause, "derived")
			}
		}
	}
	if off > edge {
		return Check{
			ID: id, Known: true, Value: unit.Some(unit.Length(off)), Limit: unit.Some(unit.Length(0)), Kind: unit.Size, Op: "≤",
			Note: "reaches beyond the shell", Clause: patchClause, Source: "derived",
		}
	}
	return told(id, true, "", patchClause, "derived")
}

// outline is a box of a patch's in plan, of a round one as a polygon.
func (j *judge) outline(it *Item, b floor.Box) (floor.Ring, bool) {
	if it.Shape != Circle {
		return j.plan.Outline(it.frame, b)
	}
	const sides = 72
	c, r := b.Centre(), math.Min(b.Length(), b.Width())/2
	ring := make(floor.Ring, sides)
	for i := range ring {
		s, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		at, ok := j.plan.LocalToPlan(it.frame, floor.Point{X: c.X + r*cos, Y: c.Y + r*s})
		if !ok {
			return nil, false
		}
		ring[i] = at
	}
	return ring, true
}
