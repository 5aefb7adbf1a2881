package floor

import "math"

// Fault says how a place is off its plate.
type Fault string

// The faults of a place.
const (
	OffPlate   Fault = "off the plate"
	OutsideRim Fault = "outside the rim"
	InSump     Fault = "in a sump opening"
)

// Standing is where a place stands on its plate.
type Standing struct {
	OK      bool
	Fault   Fault   // "" when OK
	By      float64 // how far beyond the edge or rim, or how deep in the opening; mm
	Axis    string  // off the plate: X or Y, the one further beyond
	Value   float64 // off the plate: the coordinate
	Limit   float64 // off the plate: the edge in that coordinate, 0 or the plate's length or width
	Opening int     // in a sump: index in Plan.Openings
}

// Inside judges a position measured from the plate's datum corner: it must lie
// within the plate's cut shape grown by tol. What is not known is not judged:
// a plate without a size accepts every place, one without a place every place
// on its rectangle.
//
//	off the plate:     distance to the rectangle or segment > tol
//	outside the rim:   within that, distance to the part within Rc > tol
//	in a sump opening: within that, more than tol from the opening's edge
//
// x, y from the datum corner, tol and Rc, the radius of the plates' rim, in mm.
//
// Source: derived, method section 2.
// Check: exactly at the tolerance is inside, TestInsideTellsTheEdge.
func (p *Plan) Inside(plate int, x, y, tol float64) Standing {
	if !p.has(plate) || !p.Plates[plate].Sized {
		return Standing{OK: true, Opening: -1}
	}
	pl := &p.Plates[plate]
	limit := tol + slack
	overX, overY := beyond(x, pl.Length), beyond(y, pl.Width)
	dx := overX
	if pl.Sector && p.Radius > 0 {
		dx *= math.Max(0, p.Radius-y) / p.Radius // along the shell at the place's own radius
	}
	if math.Hypot(dx, overY) > limit {
		s := Standing{Fault: OffPlate, By: overX, Axis: "X", Value: x, Limit: edge(x, pl.Length), Opening: -1}
		if overY > dx {
			s.By, s.Axis, s.Value, s.Limit = overY, "Y", y, edge(y, pl.Width)
		}
		return s
	}
	at, ok := p.ToPlan(plate, x, y)
	if !ok {
		return Standing{OK: true, Opening: -1}
	}
	if d := p.offRim(pl, at); d > limit {
		return Standing{Fault: OutsideRim, By: d, Opening: -1}
	}
	if !pl.Sump {
		for i, o := range p.Openings {
			if !o.Cuts {
				continue
			}
			if d := o.depth(at); d > limit {
				return Standing{Fault: InSump, By: d, Opening: i}
			}
		}
	}
	return Standing{OK: true, Opening: -1}
}

// OutsideTank says whether a placed plate lies wholly outside the rim: its cut
// shape is empty.
func (p *Plan) OutsideTank(plate int) bool {
	return p.has(plate) && p.Plates[plate].Placed && len(p.Plates[plate].Cut) == 0
}

// beyond is how far a coordinate lies outside 0 to most.
func beyond(v, most float64) float64 { return math.Max(0, math.Max(-v, v-most)) }

func edge(v, most float64) float64 {
	if v < 0 {
		return 0
	}
	return most
}

// offRim is the distance from a place to the part of its plate's rectangle
// within the rim; 0 in it. A plate wholly outside the tank has no such part:
// the distance to the rim then.
func (p *Plan) offRim(pl *Plate, at Point) float64 {
	rho := math.Hypot(at.X, at.Y)
	if pl.Sector || p.Rim <= 0 || rho <= p.Rim {
		return 0
	}
	// straight inward, where that stays on the plate
	whole := Box{0, 0, pl.Length, pl.Width}
	in := Point{at.X * p.Rim / rho, at.Y * p.Rim / rho}
	if whole.Grow(slack).Has(p.toLocal(pl, in)) {
		return rho - p.Rim
	}
	// else the nearest place of an edge's part within the rim
	least := math.Inf(1)
	corners := whole.corners()
	for i := range corners {
		a, b := p.toPlan(pl, corners[i]), p.toPlan(pl, corners[(i+1)%4])
		d := minus(b, a)
		from, to, cuts := chord(a, d, p.Rim)
		if cuts {
			least = math.Min(least, toSegment(at,
				Point{a.X + from*d.X, a.Y + from*d.Y}, Point{a.X + to*d.X, a.Y + to*d.Y}))
		}
	}
	if math.IsInf(least, 1) {
		return rho - p.Rim
	}
	return least
}
