package draw

import (
	"math"
)

func turnedBox(c, half point, angle float64) rect {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	w := math.Abs(half.x*cos) + math.Abs(half.y*sin)
	h := math.Abs(half.x*sin) + math.Abs(half.y*cos)
	return rect{c.x - w, c.y - h, c.x + w, c.y + h}
}

// boxInside says whether a turned box lies wholly within an outline: its
// centre is inside and no edge reaches into it.
func boxInside(rings [][]point, c, half point, angle float64) bool {
	if !inside(rings, c) {
		return false
	}
	r := rect{-half.x, -half.y, half.x, half.y}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	reach := half.x + half.y
	local := func(p point) point {
		dx, dy := p.x-c.x, p.y-c.y
		return point{dx*cos - dy*sin, dx*sin + dy*cos}
	}
	for _, ring := range rings {
		if len(ring) == 0 {
			continue
		}
		last := ring[len(ring)-1]
		for _, p := range ring {
			near := min(last.x, p.x) < c.x+reach && max(last.x, p.x) > c.x-reach &&
				min(last.y, p.y) < c.y+reach && max(last.y, p.y) > c.y-reach
			if near {
				if _, _, hit := clipSegment(local(last), local(p), r); hit {
					return false
				}
			}
			last = p
		}
	}
	return true
}

// inside is the even-odd rule.
func inside(rings [][]point, c point) bool {
	in := false
	for _, ring := range rings {
		if len(ring) == 0 {
			continue
		}
		a := ring[len(ring)-1]
		for _, b := range ring {
			if (a.y > c.y) != (b.y > c.y) && c.x < a.x+(c.y-a.y)/(b.y-a.y)*(b.x-a.x) {
				in = !in
			}
			a = b
		}
	}
	return in
}
