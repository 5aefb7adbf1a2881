package html

import (
	"math"

	"platebook/render/draw"
)

// ellipse is an oval that a scene draws as four curves, and an SVG as two arcs
// with a third of the writing.
type ellipse struct {
	a, b, turned float64 // half axes, degrees clockwise
	dx, dy       float64 // from its first point to the opposite one
}

// quarter is how far the control points of a quarter of a circle stand out.
const quarter = 0.5522847498

// oval knows an ellipse at the start of some segments: a move, four curves and
// a close.
func oval(s []draw.Segment) (ellipse, bool) {
	if len(s) < 6 || s[0].Op != draw.Move || s[5].Op != draw.Close {
		return ellipse{}, false
	}
	for _, c := range s[1:5] {
		if c.Op != draw.Curve {
			return ellipse{}, false
		}
	}
	cx, cy := (s[0].X+s[2].X)/2, (s[0].Y+s[2].Y)/2
	for k := 1; k <= 4; k++ { // each quarter bulges as one of an ellipse does
		p, q := s[k-1], s[k]
		far := math.Hypot(q.X1-p.X-quarter*(q.X-cx), q.Y1-p.Y-quarter*(q.Y-cy)) + math.Hypot(q.X2-q.X-quarter*(p.X-cx), q.Y2-q.Y-quarter*(p.Y-cy))
		if far > 0.01 {
			return ellipse{}, false
		}
	}
	if math.Hypot(s[1].X+s[3].X-2*cx, s[1].Y+s[3].Y-2*cy) > 0.01 || math.Hypot(s[4].X-s[0].X, s[4].Y-s[0].Y) > 0.01 {
		return ellipse{}, false
	}
	return ellipse{
		a: math.Hypot(s[0].X-cx, s[0].Y-cy), b: math.Hypot(s[1].X-cx, s[1].Y-cy),
		turned: math.Atan2(s[0].Y-cy, s[0].X-cx) * 180 / math.Pi, dx: s[2].X - s[0].X, dy: s[2].Y - s[0].Y,
	}, true
}

// halves is the ellipse as two arcs from its first point.
func (e ellipse) halves() string {
	turned := e.turned
	if math.Abs(e.a-e.b) < 0.005 {
		turned = 0 // a circle
	}
	arc := func(dx, dy float64) string {
		return "a" + short(e.a) + " " + short(e.b) + " " + short(turned) + " 1 0 " + short(dx) + " " + short(dy)
	}
	dx, dy := hundredth(e.dx), hundredth(e.dy)
	return arc(dx, dy) + arc(-dx, -dy) + "z"
}
