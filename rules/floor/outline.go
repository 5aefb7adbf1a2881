package floor

import (
	"math"
	"slices"
)

// outlines joins convex parts that share sides into rings: outer ones
// anticlockwise, holes clockwise.
//
// Every side is split where another part's corner lies on it; a piece of side
// that two parts run along in opposite directions is inside the shape and falls
// away; what remains is linked end to start.
func outlines(parts []convex) Shape {
	switch len(parts) {
	case 0:
		return nil
	case 1:
		if parts[0] == nil {
			return nil
		}
		return Shape{Ring(parts[0])}
	}
	return link(sides(parts))
}

// near is the distance within which corners of neighbouring parts are one, mm.
const near = 1e-4

type side struct{ from, to int }

// sides are the directed sides of all parts that no other part runs back
// along, between numbered corners.
func sides(parts []convex) ([]Point, []side) {
	var corners []Point
	number := func(q Point) int {
		for i, c := range corners {
			if math.Abs(c.X-q.X) < near && math.Abs(c.Y-q.Y) < near {
				return i
			}
		}
		corners = append(corners, q)
		return len(corners) - 1
	}
	var all []side
	for _, c := range parts {
		first := number(c[0])
		last := first
		for i := 1; i <= len(c); i++ {
			n := first
			if i < len(c) {
				n = number(c[i])
			}
			if n != last {
				all = append(all, side{last, n})
			}
			last = n
		}
	}
	var split []side
	for _, s := range all {
		split = append(split, splitSide(corners, s)...)
	}
	keep := split[:0:0]
	gone := make([]bool, len(split))
	for i, s := range split {
		if gone[i] {
			continue
		}
		for k := i + 1; k < len(split); k++ {
			if !gone[k] && split[k].from == s.to && split[k].to == s.from {
				gone[i], gone[k] = true, true
				break
			}
		}
		if !gone[i] {
			keep = append(keep, s)
		}
	}
	return corners, keep
}

// splitSide cuts a side at the corners that lie on it.
func splitSide(corners []Point, s side) []side {
	a, b := corners[s.from], corners[s.to]
	d := minus(b, a)
	l := math.Hypot(d.X, d.Y)
	type stop struct {
		at float64
		n  int
	}
	var stops []stop
	for n, c := range corners {
		if n == s.from || n == s.to {
			continue
		}
		q := minus(c, a)
		t := (q.X*d.X + q.Y*d.Y) / l
		if t > 0 && t < l && math.Abs(cross(d, q))/l < near {
			stops = append(stops, stop{t, n})
		}
	}
	if len(stops) == 0 {
		return []side{s}
	}
	slices.SortFunc(stops, func(x, y stop) int {
		if x.at < y.at {
			return -1
		}
		return 1
	})
	out := make([]side, 0, len(stops)+1)
	from := s.from
	for _, st := range stops {
		out = append(out, side{from, st.n})
		from = st.n
	}
	return append(out, side{from, s.to})
}

// link runs along the sides. Where several leave one corner the sharpest turn
// to the left keeps rings that only touch at a corner apart.
func link(corners []Point, sides []side) Shape {
	used := make([]bool, len(sides))
	var shape Shape
	for i := range sides {
		if used[i] {
			continue
		}
		var ring Ring
		k := i
		for k >= 0 && !used[k] {
			used[k] = true
			ring = append(ring, corners[sides[k].from])
			k = next(corners, sides, used, k)
		}
		if ring = straighten(ring); len(ring) >= 3 && math.Abs(area(ring)) > 1 {
			shape = append(shape, ring)
		}
	}
	return shape
}

func next(corners []Point, sides []side, used []bool, k int) int {
	came := minus(corners[sides[k].to], corners[sides[k].from])
	best, most := -1, math.Inf(-1)
	for n, s := range sides {
		if used[n] || s.from != sides[k].to {
			continue
		}
		d := minus(corners[s.to], corners[s.from])
		if turn := math.Atan2(cross(came, d), came.X*d.X+came.Y*d.Y); turn > most {
			best, most = n, turn
		}
	}
	return best
}

// straighten drops corners in the middle of a straight side.
func straighten(r Ring) Ring {
	out := make(Ring, 0, len(r))
	for i, q := range r {
		prev, next := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		d := minus(next, prev)
		if l := math.Hypot(d.X, d.Y); l > near && math.Abs(cross(d, minus(q, prev)))/l < near &&
			(q.X-prev.X)*(next.X-q.X)+(q.Y-prev.Y)*(next.Y-q.Y) > 0 {
			continue
		}
		out = append(out, q)
	}
	return out
}
