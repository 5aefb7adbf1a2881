package draw

import (
	"math"

	"platebook/rules/floor"
)

// view lays plan coordinates on paper.
type view struct {
	at point       // where the plan point `of` stands on paper
	of floor.Point // mm in plan
	k  float64     // paper millimetre per plan millimetre
}

func (v view) pt(p floor.Point) point {
	return point{v.at.x + (p.X-v.of.X)*v.k, v.at.y - (p.Y-v.of.Y)*v.k}
}

func (v view) ring(r floor.Ring) []point {
	out := make([]point, len(r))
	for i, p := range r {
		out[i] = v.pt(p)
	}
	return out
}

func (v view) shape(s floor.Shape) [][]point {
	out := make([][]point, len(s))
	for i, r := range s {
		out[i] = v.ring(r)
	}
	return out
}

// steps of the printed scale's denominator: the usual drawing scales and what
// lies between, so that a plan fills most of its room.
var scaleSteps = [...]float64{1, 1.25, 1.5, 1.75, 2, 2.25, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10}

// niceScale is the denominator n of a scale 1:n, rounded up to a round number.
func niceScale(n float64) float64 {
	if !(n > 0) || math.IsInf(n, 1) {
		return 1
	}
	decade := math.Pow(10, math.Floor(math.Log10(n)))
	for _, s := range scaleSteps {
		if s*decade >= n*(1-1e-9) {
			return s * decade
		}
	}
	return 10 * decade
}

// extent is the plan box that everything known of the floor stands in.
type extent struct{ x1, y1, x2, y2 float64 }

func (e extent) empty() bool     { return !(e.x2 > e.x1 && e.y2 > e.y1) }
func (e extent) width() float64  { return e.x2 - e.x1 }
func (e extent) height() float64 { return e.y2 - e.y1 }

func extentOf(plan *floor.Plan) extent {
	if plan == nil {
		return extent{}
	}
	if plan.Radius > 0 && !math.IsInf(plan.Radius, 1) {
		return extent{-plan.Radius, -plan.Radius, plan.Radius, plan.Radius}
	}
	e := extent{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range plan.Plates {
		for _, r := range plan.Plates[i].Cut {
			for _, p := range r {
				e.x1, e.y1 = min(e.x1, p.X), min(e.y1, p.Y)
				e.x2, e.y2 = max(e.x2, p.X), max(e.y2, p.Y)
			}
		}
	}
	if e.empty() || math.IsInf(e.width(), 0) || math.IsInf(e.height(), 0) {
		return extent{}
	}
	return e
}

// tile is one of n × n sheets that a large floor is split into. Col and row
// count from the top left.
type tile struct {
	col, row, n int
	number      int // of the sheet
}

// ringRoom is kept free round the floor for bearings and numbers, mm of paper.
const ringRoom = 11.0

// tileOverlap is the share of a sheet that the next one shows again.
const tileOverlap = 0.06

// fit chooses the scale and lays the extent, or its tile, into the room.
func fit(e extent, room rect, t *tile) view {
	if e.empty() {
		return view{at: room.centre(), k: 1}
	}
	n := 1
	if t != nil {
		n = t.n
	}
	k := math.Inf(1)
	for _, d := range [...][2]float64{{room.width(), e.width()}, {room.height(), e.height()}} {
		k = min(k, (d[0]*(1+(1-tileOverlap)*float64(n-1))-2*ringRoom)/d[1])
	}
	v := view{at: room.centre(), of: floor.Point{X: (e.x1 + e.x2) / 2, Y: (e.y1 + e.y2) / 2}}
	v.k = 1 / niceScale(1/max(k, 1e-9))
	if t == nil {
		return v
	}
	v.of.X = tileCentre(e.x1, e.x2, room.width(), v.k, t.col, n)
	v.of.Y = tileCentre(e.y1, e.y2, room.height(), v.k, n-1-t.row, n)
	return v
}

func tileCentre(low, high, room, k float64, i, n int) float64 {
	first := low - ringRoom/k + room/(2*k)
	last := high + ringRoom/k - room/(2*k)
	if n < 2 || first >= last {
		return (low + high) / 2
	}
	return first + (last-first)*float64(i)/float64(n-1)
}
