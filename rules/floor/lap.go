package floor

import "math"

// laps finds every lap between two placed plates: the strip is a seam, and
// each plate loses the half of it that it does not keep.
//
// An overlap rectangle is halved along its longer middle line; each plate keeps
// the half on the side of its own centre, the first in the sheet the lower or
// left one when the centres stand level. Of plates that lie at a skew to each
// other the first in the sheet keeps the whole overlap. Which way the plates run
// in the plan is no matter: laps are measured along them.
//
// Source: derived, method section 2.
// Check: 6 m tank, net areas sum to 9π m² within 1e-6; the same floor turned by
// 37.25° has the same net areas (TestTurnedPlanTurnsResults).
func (p *Plan) laps(boxes []convex) (lost [][]convex) {
	lost = make([][]convex, len(boxes))
	halves := make([][]Bounds, len(boxes)) // along the plate, as along is
	extents, along := make([]Bounds, len(boxes)), make([]Bounds, len(boxes))
	for i, b := range boxes {
		extents[i] = boundsOf(b)
		along[i] = boundsOf(b.turned(-p.skew(i)))
	}
	for i := range boxes {
		if boxes[i] == nil || p.Plates[i].Sump {
			continue
		}
		for j := i + 1; j < len(boxes); j++ {
			if boxes[j] == nil || p.Plates[j].Sump || !extents[i].meets(extents[j], seamGap) {
				continue
			}
			if !p.parallel(i, j) {
				if q := boxes[i].within(boxes[j]); q != nil {
					lost[j] = append(lost[j], q)
					p.addLap(i, j, q)
				}
				continue
			}
			if !along[i].meets(along[j], seamGap) {
				continue
			}
			first, second, ok := halve(along[i], along[j])
			if ok {
				halves[i] = append(halves[i], first)
				halves[j] = append(halves[j], second)
			}
			p.addLap(i, j, between(along[i], along[j]).outline().turned(p.skew(i)))
		}
	}
	for i, hs := range halves {
		for _, h := range merge(hs) {
			lost[i] = append(lost[i], h.outline().turned(p.skew(i)))
		}
	}
	return lost
}

// skew is by how much a plate's edges are turned against the plan's axes,
// degrees from 0 to below 90.
func (p *Plan) skew(plate int) float64 { return math.Mod(whole(p.Plates[plate].Turned), 90) }

// parallel says whether the edges of two plates run the same ways.
func (p *Plan) parallel(a, b int) bool {
	const degree = 1e-9
	return math.Abs(math.Remainder(p.skew(a)-p.skew(b), 90)) <= degree
}

// turned is an outline turned about the tank's centre, degrees anticlockwise.
func (c convex) turned(by float64) convex {
	if by == 0 {
		return c
	}
	sin, cos := turn(by)
	out := make(convex, len(c))
	for i, q := range c {
		out[i] = Point{q.X*cos - q.Y*sin, q.X*sin + q.Y*cos}
	}
	return out
}

// halve gives the halves of the overlap of a and b that a and b lose.
func halve(a, b Bounds) (lostByA, lostByB Bounds, ok bool) {
	o := Bounds{
		Point{math.Max(a.Min.X, b.Min.X), math.Max(a.Min.Y, b.Min.Y)},
		Point{math.Min(a.Max.X, b.Max.X), math.Min(a.Max.Y, b.Max.Y)},
	}
	dx, dy := o.Max.X-o.Min.X, o.Max.Y-o.Min.Y
	if dx <= slack || dy <= slack {
		return Bounds{}, Bounds{}, false
	}
	low, high := o, o
	aLow := true
	if dx >= dy {
		mid := (o.Min.Y + o.Max.Y) / 2
		low.Max.Y, high.Min.Y = mid, mid
		aLow = a.Min.Y+a.Max.Y <= b.Min.Y+b.Max.Y
	} else {
		mid := (o.Min.X + o.Max.X) / 2
		low.Max.X, high.Min.X = mid, mid
		aLow = a.Min.X+a.Max.X <= b.Min.X+b.Max.X
	}
	if aLow {
		return high, low, true
	}
	return low, high, true
}

// merge joins halves that continue each other, so that the laps with the two
// plates of a brick bond are taken off in one cut.
func merge(hs []Bounds) []Bounds {
	for again := true; again; {
		again = false
		for i := 0; i < len(hs); i++ {
			for j := i + 1; j < len(hs); j++ {
				a, b := hs[i], hs[j]
				level := same(a.Min.Y, b.Min.Y) && same(a.Max.Y, b.Max.Y)
				upright := same(a.Min.X, b.Min.X) && same(a.Max.X, b.Max.X)
				if (level || upright) && a.meets(b, slack) {
					hs[i] = Bounds{
						Point{math.Min(a.Min.X, b.Min.X), math.Min(a.Min.Y, b.Min.Y)},
						Point{math.Max(a.Max.X, b.Max.X), math.Max(a.Max.Y, b.Max.Y)},
					}
					hs = append(hs[:j], hs[j+1:]...)
					again = true
					j--
				}
			}
		}
	}
	return hs
}

func same(a, b float64) bool { return math.Abs(a-b) <= slack }

// between is the overlap of two extents, or what lies between them where they
// stand clear of each other.
func between(a, b Bounds) Bounds {
	o := Bounds{
		Point{math.Max(a.Min.X, b.Min.X), math.Max(a.Min.Y, b.Min.Y)},
		Point{math.Min(a.Max.X, b.Max.X), math.Min(a.Max.Y, b.Max.Y)},
	}
	if o.Min.X > o.Max.X {
		o.Min.X, o.Max.X = o.Max.X, o.Min.X
	}
	if o.Min.Y > o.Max.Y {
		o.Min.Y, o.Max.Y = o.Max.Y, o.Min.Y
	}
	return o
}
