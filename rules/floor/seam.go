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
// be welded together: places typed in whole units leave such gaps. Of plates at
// a skew to each other only a true overlap is a seam.
//
// Common practice, no source; equals the default Position tolerance.
const seamGap = 25

// addLap records the lap between two plates, cut at the rim. The square that
// diagonal neighbours share at a crossing of seams is part of those seams, and
// a gap at a corner joins nothing.
func (p *Plan) addLap(i, j int, strip convex) {
	parallel, skew := p.parallel(i, j), 0.0
	if parallel {
		skew = -p.skew(i)
	}
	sides := func(c convex) (dx, dy float64) { // along the plates
		b := c.turned(skew).bounds()
		return b.Max.X - b.Min.X, b.Max.Y - b.Min.Y
	}
	dx, dy := sides(strip)
	if parallel && math.Max(dx, dy) <= math.Max(p.Lap, seamGap)+slack {
		return
	}
	if p.Rim > 0 {
		if math.Min(dx, dy) <= slack {
			strip = strip.lineInRim(p.Rim)
		} else {
			strip = strip.inRim(p.Rim)
		}
		if strip == nil {
			return
		}
		dx, dy = sides(strip)
	}
	p.Seams = append(p.Seams, Seam{Kind: LapSeam, A: i, B: j, Length: math.Max(dx, dy), Strip: Ring(strip), extent: strip.bounds()})
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

// Neighbours are the plates joined to a plate by a lap or a butt, in the order
// of the sheet. The caller must not change the list.
func (p *Plan) Neighbours(plate int) []int {
	if plate >= 0 && plate < len(p.neighbours) {
		return p.neighbours[plate]
	}
	return p.joinedTo(plate)
}

// meetNeighbours remembers each plate's neighbours and where seams run: they
// are asked for at every patch.
func (p *Plan) meetNeighbours() {
	extents := make([]Bounds, len(p.Seams))
	for k := range p.Seams {
		extents[k] = p.Seams[k].extent
	}
	p.seams = NewSquares(extents, seamSquare)
	p.neighbours = make([][]int, len(p.Plates))
	for i := range p.Plates {
		p.neighbours[i] = p.joinedTo(i)
	}
}

// seamSquare is the side of the squares in which seams are looked up, mm.
const seamSquare = 1000

func (p *Plan) joinedTo(plate int) []int {
	var out []int
	for k := range p.Seams {
		s := &p.Seams[k]
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
