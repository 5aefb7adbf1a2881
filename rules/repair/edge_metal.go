package repair

import (
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// perimeter is the least thickness known under a patch's edge.
func (j *judge) perimeter(it *Item) Check {
	least, at, any := j.toe(it)
	if !any {
		return unchecked("patch.perimeter", "no reading under the edge", patchClause, countyScope)
	}
	c := held("patch.perimeter", least, "≥", leastMetal, patchClause, countyScope).against("at " + at)
	c.Kind = unit.Thickness
	return c
}

// toe is the least thickness measured under the edge of a patch, and where:
// indications and prove-ups that it crosses, and readings beside it. A plate
// that is replaced has none of them any more.
func (j *judge) toe(it *Item) (least float64, where string, any bool) {
	least = math.Inf(1)
	tol := j.set.Number("Position tolerance")
	take := func(r float64, at string) {
		if any = true; r < least {
			least, where = r, at
		}
	}
	for i := range j.res.Locations {
		l := &j.res.Locations[i]
		if !repairable(l) || !l.Counts || !l.Remaining.Known || j.renewed[l.Plate] {
			continue
		}
		if j.besides(l.Plate, it) && j.edgeOver(it, l) {
			take(float64(l.Remaining.V), l.Label)
		}
	}
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		if r.Out || !r.Thickness.OK() || !r.X.OK() || !r.Y.OK() {
			continue
		}
		k := j.plateOf(r.Plate)
		if k < 0 || j.renewed[k] {
			continue
		}
		at, ok := j.plan.ToLocal(k, float64(r.X.Value), float64(r.Y.Value))
		if !ok {
			continue
		}
		if b, ok := j.nearby(k, floor.BoxAt(at, 0, 0), it); ok && it.within(b.Centre(), tol) && !j.inner(it, b.Centre(), tol) {
			take(float64(r.Thickness.Value), "a reading on "+r.Plate.Text)
		}
	}
	return least, where, any
}

// edgeOver says whether the edge of a patch runs over a place.
func (j *judge) edgeOver(it *Item, l *assess.Location) bool {
	if it.Shape != Circle {
		return j.crosses(it.frame, it.own, l)
	}
	b, ok := j.carried(l.Plate, l.Box, it.frame)
	return ok && it.own.SticksOut(true, b) > fine && j.meets(it, l)
}

// within says whether a point of a patch's frame lies in the patch grown by so
// much.
func (i *Item) within(at floor.Point, grown float64) bool {
	if i.Shape == Circle {
		c := i.own.Centre()
		return math.Hypot(at.X-c.X, at.Y-c.Y) <= i.rounding()+grown+fine
	}
	return i.own.Grow(grown).Has(at)
}

// inner says whether a point of a patch's frame lies in it farther from its edge
// than so much. At the shell it has none.
func (j *judge) inner(it *Item, at floor.Point, off float64) bool {
	if j.sector(it.frame) && it.own.V1 <= fine {
		at.Y = math.Max(at.Y, it.own.V1+off)
	}
	return it.within(at, -off)
}

// nearby carries a box into the frame of a repair when it may meet it.
func (j *judge) nearby(plate int, b floor.Box, it *Item) (floor.Box, bool) {
	if !j.besides(plate, it) {
		return floor.Box{}, false
	}
	return j.carried(plate, b, it.frame)
}

// besides says whether a plate is a repair's own, joined to it, or under the
// repair: the ring is joined to no plate that lies beneath its edge.
func (j *judge) besides(plate int, it *Item) bool {
	if it.beside == nil {
		it.beside = j.platesBeside(it.Plate, it.frame, it.own)
	}
	return slices.Contains(it.beside, plate)
}

// platesBeside are a plate, those joined to it, and those under a box.
func (s *shop) platesBeside(plate, frame int, b floor.Box) []int {
	out := append([]int{plate}, s.plan.Neighbours(plate)...)
	for _, k := range s.plan.Under(frame, b) {
		if k < s.own && !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}
