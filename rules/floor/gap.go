package floor

import (
	"math"
	"sort"
	"strconv"
)

// Overlap is two plates that lie over each other by more than a lap.
type Overlap struct {
	A, B int
	By   float64 // the shorter side of the overlap, mm
	Area float64 // mm²
}

// Overlaps are the pairs of plates, sump plates apart, whose overlap within the
// rim has a shorter side over Lap + 100 mm, in the order of the sheet. Of an
// overlap at a skew the shorter side is its least width.
//
// Source: derived; the margin is common practice, no source.
func (p *Plan) Overlaps() []Overlap {
	const margin = 100
	var out []Overlap
	boxes := make([]convex, len(p.Plates))
	extents := make([]Bounds, len(p.Plates))
	for i := range p.Plates {
		pl := &p.Plates[i]
		if !pl.Placed || pl.Sector || pl.Sump {
			continue
		}
		boxes[i] = p.rectangle(pl)
		extents[i] = boxes[i].bounds()
		for j := range i {
			if boxes[j] == nil || !extents[i].meets(extents[j], 0) {
				continue
			}
			q := boxes[j].within(boxes[i])
			if q == nil || (p.Rim > 0 && q.inRim(p.Rim) == nil) {
				continue
			}
			if by := q.leastWidth(); by > p.Lap+margin+slack {
				out = append(out, Overlap{j, i, by, area(q)})
			}
		}
	}
	sort.Slice(out, func(a, b int) bool {
		return out[a].A < out[b].A || (out[a].A == out[b].A && out[a].B < out[b].B)
	})
	return out
}

// leastWidth is the least distance between two parallel lines that hold c.
func (c convex) leastWidth() float64 {
	least := math.Inf(1)
	for i := range c {
		d := minus(c[(i+1)%len(c)], c[i])
		l := math.Hypot(d.X, d.Y)
		if l < near {
			continue
		}
		far := 0.0
		for _, q := range c {
			far = math.Max(far, cross(d, minus(q, c[i]))/l)
		}
		least = math.Min(least, far)
	}
	return least
}

// ShortRow is a row of plates that does not reach across the floor.
type ShortRow struct {
	Row         string
	Plates      []int
	Length      float64 // of the row as laid, mm
	Chord       float64 // widest chord of the rim within the row, mm
	Bottom, Top float64 // of the row in plan, mm
	Missing     []string
}

// ShortRows are the rows placed automatically that are over 300 mm short of
// their widest chord. Missing are the whole numbers below the highest position
// that no plate has.
//
//	chord = 2·√(Rc² − y²),  y the row's least distance from the centre line
//
// Rc radius of the rim, mm. Rows without a known length or rim are not judged.
//
// Source: derived; the limit is common practice, no source.
// Check: 300 mm short passes, 301 mm does not (TestShortRowAtTheLimit).
func (p *Plan) ShortRows() []ShortRow {
	const limit = 300
	var out []ShortRow
	for _, r := range p.rows {
		if !r.automatic || !p.RimKnown || math.IsNaN(r.total) || math.IsNaN(r.bottom) {
			continue
		}
		top := r.bottom + r.height
		y := math.Max(0, math.Max(r.bottom, -top))
		if y >= p.Rim {
			continue
		}
		chord := 2 * math.Sqrt(p.Rim*p.Rim-y*y)
		if chord-r.total <= limit+slack {
			continue
		}
		out = append(out, ShortRow{
			Row: r.label, Plates: r.plates, Length: r.total, Chord: chord,
			Bottom: r.bottom, Top: top, Missing: missing(r.positions),
		})
	}
	return out
}

func missing(positions []string) []string {
	have, most := map[int]bool{}, 0
	for _, label := range positions {
		n, err := strconv.Atoi(label)
		if err != nil || n < 1 || n > 1000 {
			return nil
		}
		have[n], most = true, max(most, n)
	}
	var out []string
	for n := 1; n < most; n++ {
		if !have[n] {
			out = append(out, strconv.Itoa(n))
		}
	}
	return out
}

// Hole is a part of the floor within the rim that no placed plate and no sump
// opening covers.
type Hole struct {
	Area      float64 // mm²
	Perimeter float64 // mm
	Shape     Shape
	At        Point // centre of gravity of its outline
	AtRim     bool  // it reaches the rim, so it is not between plates
	Plates    []int // around it, in the order of the sheet
}

// Width is the hole's mean width, mm.
//
//	w = 4·A/P
//
// A area, mm²; P perimeter, mm: the side of a square, the diameter of a circle,
// twice the width of a long slot.
//
// Source: the hydraulic diameter of elementary hydraulics.
// Check: 1000 × 1001 mm → 1000.5 mm (TestHoleLimits).
func (h Hole) Width() float64 { return 4 * h.Area / h.Perimeter }

// Holes are the uncovered parts of the floor of more than 1 m² and 300 mm mean
// width, from the top left. Holes that reach the rim are marked: they show a row
// or plate that ends too early rather than one missing between others. None
// without a known rim.
//
// Source: derived; the limits are common practice, no source.
func (p *Plan) Holes() []Hole {
	const least, narrow = 1e6, 300
	if !p.RimKnown {
		return nil
	}
	left := []convex{disc{r: p.Rim}.degreewise()}
	for i := range p.Plates {
		if pl := &p.Plates[i]; pl.Placed && !pl.Sector && !pl.Sump {
			left = lessAll(left, p.rectangle(pl))
		}
	}
	for _, o := range p.Openings {
		if o.Cuts {
			left = lessAll(left, o.outline())
		}
	}
	var out []Hole
	for _, h := range p.separate(outlines(left)) {
		if h.Area > least && h.Width() > narrow {
			h.Plates = p.around(h)
			out = append(out, h)
		}
	}
	sort.SliceStable(out, func(a, b int) bool {
		if !same(out[a].At.Y, out[b].At.Y) {
			return out[a].At.Y > out[b].At.Y
		}
		return out[a].At.X < out[b].At.X
	})
	return out
}

// separate tells the holes apart: each outer ring with the rings inside it.
func (p *Plan) separate(s Shape) []Hole {
	var holes []Hole
	for _, r := range s {
		if a := area(r); a > 0 {
			holes = append(holes, Hole{
				Area: a, Perimeter: perimeter(r), Shape: Shape{r},
				At: centroid(convex(r), a), AtRim: p.reachesRim(r),
			})
		}
	}
	for _, r := range s {
		a := area(r)
		if a > 0 {
			continue
		}
		best := -1
		for k := range holes {
			if holes[k].Shape[0].has(r[0]) && (best < 0 || area(holes[k].Shape[0]) < area(holes[best].Shape[0])) {
				best = k
			}
		}
		if best >= 0 {
			h := &holes[best]
			h.Area, h.Perimeter, h.Shape = h.Area+a, h.Perimeter+perimeter(r), append(h.Shape, r)
		}
	}
	return holes
}

func (p *Plan) reachesRim(r Ring) bool {
	onChord := p.Rim*math.Cos(radians(0.5)) - near
	for _, q := range r {
		if math.Hypot(q.X, q.Y) >= onChord {
			return true
		}
	}
	return false
}

func perimeter(r Ring) float64 {
	s := 0.0
	for i, q := range r {
		d := minus(r[(i+1)%len(r)], q)
		s += math.Hypot(d.X, d.Y)
	}
	return s
}

// has says whether a place is within an outline, by counting crossings.
func (r Ring) has(at Point) bool {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(at.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// around are the plates that touch a hole's outline.
func (p *Plan) around(h Hole) []int {
	var out []int
	for i := range p.Plates {
		pl := &p.Plates[i]
		if !pl.Placed || pl.Sector || pl.Sump {
			continue
		}
		box := p.rectangle(pl)
		touches := false
		for _, r := range h.Shape {
			for k, q := range r {
				n := r[(k+1)%len(r)]
				if box.has(Point{(q.X + n.X) / 2, (q.Y + n.Y) / 2}, 10*near) || box.has(q, 10*near) {
					touches = true
				}
			}
		}
		if touches {
			out = append(out, i)
		}
	}
	return out
}

// RingGap is the joint of two annular plates, going clockwise.
type RingGap struct {
	A, B int     // B follows A; the same plate when there is only one
	Open float64 // degrees from the end of A to the start of B; negative when they overlap
	At   float64 // bearing of A's end
}

// RingGaps are the joints of the ring, clockwise from north. A closed ring has
// all of them within a degree of 0. None without annular plates of known
// bearings.
func (p *Plan) RingGaps() []RingGap {
	var order []int
	for i := range p.Plates {
		if pl := &p.Plates[i]; pl.Sector && pl.End > pl.Start {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return p.Plates[order[a]].Start < p.Plates[order[b]].Start })
	out := make([]RingGap, 0, len(order))
	for k, a := range order {
		b := order[(k+1)%len(order)]
		from, to := p.Plates[a].End, p.Plates[b].Start
		if k == len(order)-1 {
			to += 360 // once round
		}
		out = append(out, RingGap{A: a, B: b, Open: to - from, At: whole(from)})
	}
	return out
}
