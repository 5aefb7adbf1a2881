package draw

import (
	"math"
	"slices"
)

// board puts paths and labels into a scene. While clip is set nothing is
// drawn outside it: formats without a clipping path need no other care.
type board struct {
	scene *Scene
	clip  *rect
}

// shape draws closed outlines in the style of p.
func (b *board) shape(p Path, rings ...[]point) {
	if b.clip == nil {
		b.add(p, rings, true)
		return
	}
	inside, outside := true, true
	for _, r := range rings {
		box := bounds(r)
		inside = inside && box.within(*b.clip)
		outside = outside && !box.meets(*b.clip)
	}
	switch {
	case outside:
	case inside:
		b.add(p, rings, true)
	default:
		b.clippedShape(p, rings)
	}
}

func (b *board) clippedShape(p Path, rings [][]point) {
	if p.Fill.On {
		fill := p
		fill.Stroke = Paint{}
		var cut [][]point
		for _, r := range rings {
			if c := clipRing(r, *b.clip); len(c) >= 3 {
				cut = append(cut, c)
			}
		}
		if len(cut) > 0 {
			b.add(fill, cut, true)
		}
	}
	if !p.Stroke.On {
		return
	}
	// The outline is clipped as a line, so that the edge of the sheet does
	// not look like an edge of the plate.
	p.Fill = Paint{}
	for _, r := range rings {
		if len(r) > 0 {
			b.line(p, append(r[:len(r):len(r)], r[0])...)
		}
	}
}

// line draws an open run of straight lines.
func (b *board) line(p Path, pts ...point) {
	p.Fill = Paint{}
	if b.clip == nil || bounds(pts).within(*b.clip) {
		b.add(p, [][]point{pts}, false)
		return
	}
	if runs := clipLine(pts, *b.clip); len(runs) > 0 {
		b.add(p, runs, false)
	}
}

func (b *board) add(p Path, rings [][]point, closed bool) {
	n := 0
	for _, r := range rings {
		n += len(r) + 1
	}
	p.Segments = make([]Segment, 0, n)
	for _, r := range rings {
		for i, q := range r {
			op := Line
			if i == 0 {
				op = Move
			}
			p.Segments = append(p.Segments, Segment{Op: op, X: q.x, Y: q.y})
		}
		if closed && len(r) > 0 {
			p.Segments = append(p.Segments, Segment{Op: Close})
		}
	}
	if len(p.Segments) > 0 {
		b.scene.Items = append(b.scene.Items, p)
	}
}

// oval draws an ellipse with half axes a and b, its first axis turned
// anticlockwise by the given degrees.
func (b *board) oval(p Path, c point, ra, rb, turned float64) {
	r := max(ra, rb)
	box := rect{c.x - r, c.y - r, c.x + r, c.y + r}
	if b.clip != nil && !box.within(*b.clip) {
		if box.meets(*b.clip) {
			b.shape(p, ovalPoints(c, ra, rb, turned))
		}
		return
	}
	// Source: the usual cubic approximation of a quarter circle,
	// k = 4(√2 − 1)/3, within 0.03 % of the radius.
	const k = 0.5522847498
	sin, cos := math.Sincos(turned * math.Pi / 180)
	at := func(u, v float64) (float64, float64) {
		return c.x + u*ra*cos + v*rb*sin, c.y + -(u * ra * sin) + v*rb*cos
	}
	x, y := at(1, 0)
	p.Segments = append(make([]Segment, 0, 6), Segment{Op: Move, X: x, Y: y})
	quarter := func(u1, v1, u2, v2, u, v float64) {
		s := Segment{Op: Curve}
		s.X1, s.Y1 = at(u1, v1)
		s.X2, s.Y2 = at(u2, v2)
		s.X, s.Y = at(u, v)
		p.Segments = append(p.Segments, s)
	}
	quarter(1, k, k, 1, 0, 1)
	quarter(-k, 1, -1, k, -1, 0)
	quarter(-1, -k, -k, -1, 0, -1)
	quarter(k, -1, 1, -k, 1, 0)
	p.Segments = append(p.Segments, Segment{Op: Close})
	b.scene.Items = append(b.scene.Items, p)
}

func (b *board) circle(p Path, c point, r float64) { b.oval(p, c, r, r, 0) }

func ovalPoints(c point, ra, rb, turned float64) []point {
	// Chords stay within 0.02 mm of the curve.
	n := int(math.Ceil(math.Pi / math.Acos(1-min(0.02/max(ra, rb, 0.02), 1))))
	n = min(max(n, 12), 720)
	sin, cos := math.Sincos(turned * math.Pi / 180)
	pts := make([]point, n)
	for i := range pts {
		s, t := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts[i] = point{c.x + t*ra*cos + s*rb*sin, c.y - t*ra*sin + s*rb*cos}
	}
	return pts
}

// hatchStep is the distance between hatching lines, mm.
const hatchStep = 1.5

// hatch draws lines rising to the right within an outline, by the even-odd
// rule.
func (b *board) hatch(p Path, rings [][]point) {
	// Along such a line x + y is constant.
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		for _, q := range r {
			low, high = min(low, q.x+q.y), max(high, q.x+q.y)
		}
	}
	if !(high > low) || high-low > 4000 {
		return
	}
	var crossings []float64
	for n := math.Ceil(low/hatchStep/math.Sqrt2 + 1e-9); n*hatchStep*math.Sqrt2 < high; n++ {
		sum := n * hatchStep * math.Sqrt2
		crossings = crossings[:0]
		for _, r := range rings {
			if len(r) == 0 {
				continue
			}
			last := r[len(r)-1]
			for _, q := range r {
				d, e := last.x+last.y-sum, q.x+q.y-sum
				if (d < 0) != (e < 0) {
					crossings = append(crossings, last.x+d/(d-e)*(q.x-last.x))
				}
				last = q
			}
		}
		slices.Sort(crossings)
		for i := 1; i < len(crossings); i += 2 {
			x, y := crossings[i-1], crossings[i]
			b.line(p, point{x, sum - x}, point{y, sum - y})
		}
	}
}

// box draws a rectangle.
func (b *board) box(p Path, r rect) {
	b.shape(p, []point{{r.x1, r.y1}, {r.x2, r.y1}, {r.x2, r.y2}, {r.x1, r.y2}})
}

// label writes text and says whether it did: text that would leave the clip
// is not written.
func (b *board) label(l Label) bool {
	if l.Text == "" {
		return false
	}
	if b.clip != nil && !l.box().within(*b.clip) {
		return false
	}
	b.scene.Items = append(b.scene.Items, l)
	return true
}

func (l Label) box() rect {
	x1, y1, x2, y2 := l.Bounds()
	return rect{x1, y1, x2, y2}
}
