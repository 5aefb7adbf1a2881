package floor

import (
	"math"

	"platebook/rules/unit"
)

// Box is the extent of a location in the plate's frame: centred on X and Y
// from the datum corner, length along the plate and width across it, mm.
// False when the datum corner cannot be converted, or a number is beyond any
// tank.
func (p *Plan) Box(plate int, x, y, length, width float64) (Box, bool) {
	at, ok := p.ToLocal(plate, x, y)
	for _, v := range [4]float64{x, y, length, width} {
		ok = ok && math.Abs(v) < farthest
	}
	if !ok {
		return Box{}, false
	}
	return BoxAt(at, length, width), true
}

// BoxAt is a box about a place in the plate's frame.
func BoxAt(at Point, length, width float64) Box {
	return Box{at.X - length/2, at.Y - width/2, at.X + length/2, at.Y + width/2}
}

// Centre of the box.
func (b Box) Centre() Point { return Point{(b.U1 + b.U2) / 2, (b.V1 + b.V2) / 2} }

// Length along the plate.
func (b Box) Length() float64 { return b.U2 - b.U1 }

// Width across the plate.
func (b Box) Width() float64 { return b.V2 - b.V1 }

// Grow is the box carried outward on all sides.
func (b Box) Grow(by float64) Box { return Box{b.U1 - by, b.V1 - by, b.U2 + by, b.V2 + by} }

// Join is the smallest box around both.
func (b Box) Join(o Box) Box {
	return Box{math.Min(b.U1, o.U1), math.Min(b.V1, o.V1), math.Max(b.U2, o.U2), math.Max(b.V2, o.V2)}
}

// Common is the part shared by both; false when they share no area.
func (b Box) Common(o Box) (Box, bool) {
	c := Box{math.Max(b.U1, o.U1), math.Max(b.V1, o.V1), math.Min(b.U2, o.U2), math.Min(b.V2, o.V2)}
	return c, c.U1 < c.U2 && c.V1 < c.V2
}

// Overlaps says whether two boxes share area. Boxes that only touch do not, in
// whatever unit their places were typed.
func (b Box) Overlaps(o Box) bool {
	return b.U1 < o.U2-slack && o.U1 < b.U2-slack && b.V1 < o.V2-slack && o.V1 < b.V2-slack
}

// Covers says whether the other box lies wholly in this one, edges included.
func (b Box) Covers(o Box) bool {
	return b.U1 <= o.U1+slack && b.V1 <= o.V1+slack && b.U2 >= o.U2-slack && b.V2 >= o.V2-slack
}

// Has says whether a place lies in the box, edges included.
func (b Box) Has(at Point) bool {
	return at.X >= b.U1-slack && at.X <= b.U2+slack && at.Y >= b.V1-slack && at.Y <= b.V2+slack
}

// Distance from the box to a place, 0 inside.
func (b Box) Distance(at Point) float64 {
	return math.Hypot(gap(b.U1, b.U2, at.X, at.X), gap(b.V1, b.V2, at.Y, at.Y))
}

// Apart is the clear distance (Euclid) of two boxes, 0 when they meet.
func (b Box) Apart(o Box) float64 {
	return math.Hypot(gap(b.U1, b.U2, o.U1, o.U2), gap(b.V1, b.V2, o.V1, o.V2))
}

// gap is the clear distance between two intervals, 0 when they meet.
func gap(a1, a2, b1, b2 float64) float64 { return math.Max(0, math.Max(b1-a2, a1-b2)) }

func (b Box) corners() [4]Point {
	return [4]Point{{b.U1, b.V1}, {b.U2, b.V1}, {b.U2, b.V2}, {b.U1, b.V2}}
}

// Outline is the box in plan, anticlockwise. On an annular plate its sides
// along the shell are arcs, drawn as chords.
func (p *Plan) Outline(plate int, b Box) (Ring, bool) {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return nil, false
	}
	pl := &p.Plates[plate]
	if pl.Sector {
		return p.sectorOutline(pl, b), true
	}
	out := make(Ring, 4)
	for i, c := range b.corners() {
		out[i] = p.toPlan(pl, c)
	}
	return out, true
}

func (p *Plan) sectorOutline(pl *Plate, b Box) Ring {
	n := p.chordsOf(b)
	out := make(Ring, 0, 2*n+2)
	// u runs clockwise, so the outer arc is followed backwards
	for i := n; i >= 0; i-- {
		out = append(out, p.toPlan(pl, Point{b.U1 + b.Length()*float64(i)/float64(n), b.V1}))
	}
	for i := 0; i <= n; i++ {
		out = append(out, p.toPlan(pl, Point{b.U1 + b.Length()*float64(i)/float64(n), b.V2}))
	}
	return out
}

// chordsOf is how many chords of about a degree draw a box on an annular plate.
// A box longer than the ring, from a slip of the pen, takes no more than that.
func (p *Plan) chordsOf(b Box) int {
	return int(math.Ceil(math.Max(1, math.Min(360, degrees(b.Length()/p.Radius)))))
}

// reach is the greatest distance from the tank centre of any part of a box.
func (p *Plan) reach(pl *Plate, b Box) float64 {
	if pl.Sector {
		return p.Radius - b.V1
	}
	far := 0.0
	for _, c := range b.corners() {
		q := p.toPlan(pl, c)
		far = math.Max(far, math.Hypot(q.X, q.Y))
	}
	return far
}

// ZoneOf is the zone of a box: critical if any part of it is within
// criticalWidth of the shell, inclusive; else annular on an annular plate;
// else general. Unknown ("") on a plate without a place or without Diameter;
// a sump plate without a place is general, since it does not meet the shell.
//
//	critical: max ρ ≥ R − width
//
// ρ distance of a part of the box from the centre, R inside radius, mm.
// Equality is judged with 1e-6 mm in favour of critical.
//
// Source: API Std 653, 3rd ed., 4.4.5.4.
// Check: R 15 000, annular, X 2500, Y 60, width 76.2 → critical.
func (p *Plan) ZoneOf(plate int, b Box, criticalWidth float64) Zone {
	if !p.has(plate) {
		return ""
	}
	pl := &p.Plates[plate]
	if pl.Sector {
		// distance from the shell is measured directly: no place needed
		if b.V1 <= criticalWidth+slack {
			return Critical
		}
		return Annular
	}
	if !pl.Placed || p.Radius <= 0 {
		if pl.Sump {
			return General
		}
		return ""
	}
	if p.reach(pl, b) >= p.Radius-criticalWidth-slack {
		return Critical
	}
	return General
}

// slack is the tolerance of comparing lengths, mm.
const slack = 1e-6

// ToShell is the clear distance of a box from the shell, mm, negative beyond
// it; false without a place or Diameter.
func (p *Plan) ToShell(plate int, b Box) (float64, bool) {
	if !p.has(plate) {
		return 0, false
	}
	pl := &p.Plates[plate]
	if pl.Sector {
		return b.V1, true
	}
	if !pl.Placed || p.Radius <= 0 {
		return 0, false
	}
	return p.Radius - p.reach(pl, b), true
}

// BoxArea is the area of the part of a box on the plate's cut shape; unknown
// on a plate without a size, or whose rim is unknown.
func (p *Plan) BoxArea(plate int, b Box) unit.Maybe[unit.Area] {
	return p.UnionArea(plate, []Box{b})
}

const perSquareMetre = 1e6 // mm²

// PolarExtent is how far a box reaches around and along the radius: bearings
// clockwise from the first to the second, degrees, and least and greatest
// distance from the centre, mm. A box over the centre reaches from 0 to 360°.
// False without a place or north.
func (p *Plan) PolarExtent(plate int, b Box) (from, to, inner, outer float64, ok bool) {
	if !p.has(plate) || !p.Plates[plate].Placed || !p.NorthKnown {
		return 0, 0, 0, 0, false
	}
	pl := &p.Plates[plate]
	if pl.Sector {
		from = whole(pl.Start + degrees(b.U1/p.Radius))
		return from, from + degrees(b.Length()/p.Radius), p.Radius - b.V2, p.Radius - b.V1, true
	}
	var c [4]Point
	for i, q := range b.corners() {
		c[i] = p.toPlan(pl, q)
	}
	outer = p.reach(pl, b)
	if inner = convex(c[:]).distance(Point{}); inner == 0 {
		return 0, 360, 0, outer, true
	}
	mid := p.Bearing(p.toPlan(pl, b.Centre()))
	lo, hi := 0.0, 0.0
	for _, q := range c {
		d := math.Remainder(p.Bearing(q)-mid, 360)
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	from = whole(mid + lo)
	return from, from + hi - lo, inner, outer, true
}

// PlateAt is the plate whose net shape holds a place in plan, −1 without one.
// A place in a sump opening is on no plate.
func (p *Plan) PlateAt(at Point) int {
	for i := range p.Plates {
		if p.Plates[i].Sump {
			continue
		}
		in := false
		for _, r := range p.Plates[i].Net {
			if r.has(at) {
				in = !in
			}
		}
		if in {
			return i
		}
	}
	return -1
}
