package floor

import (
	"math"
	"slices"

	"platebook/rules/unit"
)

// UnionArea is the area of the part of a plate's cut shape that lies under any
// of the boxes, each place counted once; unknown on a plate without a size or
// place, or whose rim is unknown. A sump plate without a place takes them whole.
//
// Source: computational geometry (plane sweep), exact arcs.
// Check: rect_union.json, area exact on integers, inside a circle relative 1e-9.
func (p *Plan) UnionArea(plate int, boxes []Box) unit.Maybe[unit.Area] {
	if !p.has(plate) {
		return unit.Maybe[unit.Area]{}
	}
	pl := &p.Plates[plate]
	if !pl.Sized || !(pl.Measured || (pl.Sump && !pl.Placed)) {
		return unit.Maybe[unit.Area]{}
	}
	whole := Box{0, 0, pl.Length, pl.Width}
	clipped := make([]Box, 0, len(boxes))
	for _, b := range boxes {
		if c, ok := b.Common(whole); ok {
			clipped = append(clipped, c)
		}
	}
	s := 0.0
	for _, b := range Disjoint(clipped) {
		s += p.onPlate(pl, b)
	}
	return unit.Some(unit.Area(s / perSquareMetre))
}

// onPlate is the area, mm², of the part of a box within the plate's rectangle
// that lies on its cut shape.
func (p *Plan) onPlate(pl *Plate, b Box) float64 {
	if !pl.Placed {
		return b.Length() * b.Width()
	}
	if pl.Sector {
		// u is measured at the shell; further in the same angle is shorter
		full := b.Length() * b.Width() * (1 - (b.V1+b.V2)/(2*p.Radius))
		opened := p.openedBy(boundsOf(p.sectorOutline(pl, b)))
		if len(opened) == 0 {
			return full
		}
		return p.wedge(pl, b).less(opened).area()
	}
	var corners [4]Point
	far := 0.0
	for i, c := range b.corners() {
		corners[i] = p.toPlan(pl, c)
		far = math.Max(far, corners[i].X*corners[i].X+corners[i].Y*corners[i].Y)
	}
	if !pl.Sump {
		if opened := p.openedBy(boundsOf(corners[:])); len(opened) > 0 {
			return region{parts: []convex{corners[:]}, outer: p.Rim}.less(opened).area()
		}
	}
	if far <= p.Rim*p.Rim {
		return b.Length() * b.Width()
	}
	return math.Max(0, inCircle(corners[:], p.Rim))
}

// Union is the area of a union of boxes in one frame, mm².
func Union(boxes []Box) float64 {
	s := 0.0
	for _, b := range Disjoint(boxes) {
		s += b.Length() * b.Width()
	}
	return s
}

// Disjoint cuts a union of boxes into boxes that share no area: a sweep along
// u, in which each slab between two edges holds the joined extents of the boxes
// across it. Slabs that continue each other are one box.
func Disjoint(boxes []Box) []Box {
	edges := make([]float64, 0, 2*len(boxes))
	order := make([]int, 0, len(boxes))
	for i, b := range boxes {
		if b.U1 < b.U2 && b.V1 < b.V2 {
			edges = append(edges, b.U1, b.U2)
			order = append(order, i)
		}
	}
	if len(order) <= 1 {
		if len(order) == 0 {
			return nil
		}
		return []Box{boxes[order[0]]}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	slices.SortStableFunc(order, func(a, b int) int { return compare(boxes[a].U1, boxes[b].U1) })
	out := make([]Box, 0, len(order))
	active := make([]int, 0, 16) // by V1
	var last, slab []int         // of the slab before and of this one, in out, by V1
	entered := 0
	for k := 0; k+1 < len(edges); k++ {
		from, to := edges[k], edges[k+1]
		active = slices.DeleteFunc(active, func(i int) bool { return boxes[i].U2 <= from })
		for entered < len(order) && boxes[order[entered]].U1 <= from {
			i := order[entered]
			at, _ := slices.BinarySearchFunc(active, boxes[i].V1, func(n int, v float64) int { return compare(boxes[n].V1, v) })
			active = slices.Insert(active, at, i)
			entered++
		}
		last, slab = slab, last[:0]
		before := 0
		for n := 0; n < len(active); {
			lo, hi := boxes[active[n]].V1, boxes[active[n]].V2
			for n++; n < len(active) && boxes[active[n]].V1 <= hi; n++ {
				hi = math.Max(hi, boxes[active[n]].V2)
			}
			for before < len(last) && out[last[before]].V1 < lo {
				before++
			}
			if before < len(last) && out[last[before]].V1 == lo && out[last[before]].V2 == hi {
				out[last[before]].U2 = to
				slab = append(slab, last[before])
				continue
			}
			slab = append(slab, len(out))
			out = append(out, Box{from, lo, to, hi})
		}
	}
	return out
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Covered is a place that something covers: a box in a plate's frame, or the
// circle within it.
type Covered struct {
	Plate int
	Box   Box
	Round bool
}

// PlanUnion is the area of a union of places that stand on different plates,
// each place counted once and nothing clipped, m². Boxes on plates without a
// place are summed plate by plate. Boxes on an annular plate count as
// quadrilaterals of one degree, carried outward so that each has the area of
// its piece of the ring. What lies on the net shape of one of the plates besides
// is left out: it is counted with that plate. A circle counts as a polygon of its
// area.
func (p *Plan) PlanUnion(places []Covered, besides ...int) unit.Area {
	var parts []convex
	var extents []Bounds
	loose := map[int][]Box{}
	var order []int
	for _, at := range places {
		plate := at.Plate
		if !p.has(plate) {
			continue
		}
		if pl := &p.Plates[plate]; pl.Placed {
			if at.Round {
				c := p.roundOutline(pl, at.Box)
				parts, extents = append(parts, c), append(extents, c.bounds())
				continue
			}
			for _, c := range p.boxParts(pl, at.Box) {
				if pl.Sector {
					p.swell(c, at.Box)
				}
				parts = append(parts, c)
				extents = append(extents, c.bounds())
			}
			continue
		}
		if _, ok := loose[plate]; !ok {
			order = append(order, plate)
		}
		loose[plate] = append(loose[plate], at.Box)
	}
	s := 0.0
	squares := NewSquares(extents, patchSquare)
	var near []int
	for i, c := range parts {
		left := []convex{c}
		for _, b := range besides {
			for _, q := range p.Plates[b].net {
				left = lessAll(left, q)
			}
		}
		for _, j := range squares.Near(extents[i], 0, near[:0]) {
			if j >= i || len(left) == 0 {
				break
			}
			left = lessAll(left, parts[j])
		}
		for _, q := range left {
			s += area(q)
		}
	}
	for _, plate := range order {
		s += Union(loose[plate])
	}
	return unit.Area(s / perSquareMetre)
}

// roundOutline is the circle within a box as a polygon in plan that has its area.
func (p *Plan) roundOutline(pl *Plate, b Box) convex {
	const sides = 72
	c := p.toPlan(pl, b.Centre())
	step := 2 * math.Pi / sides
	r := math.Min(b.Length(), b.Width()) / 2 * math.Sqrt(step/math.Sin(step))
	out := make(convex, sides)
	for i := range out {
		s, cos := math.Sincos(step * float64(i))
		out[i] = Point{c.X + r*cos, c.Y + r*s}
	}
	return out
}

// patchSquare is the side of the squares in which patches are looked up, mm.
const patchSquare = 600

// swell carries a quadrilateral between chords outward from the tank centre
// until it has the area between the arcs.
//
//	f = √(δ/sin δ)
//
// δ angle of the chord, radians.
func (p *Plan) swell(c convex, b Box) {
	d := b.Length() / p.Radius / float64(p.chordsOf(b))
	if d <= 0 || d > math.Pi/4 {
		return
	}
	f := math.Sqrt(d / math.Sin(d))
	for i := range c {
		c[i] = Point{c[i].X * f, c[i].Y * f}
	}
}
