package recount

import (
	"math"
	"slices"

	"platebook/workbook/invented"
)

// netAreas are the plates' areas within the rim, less sump openings and less
// their half of each lap, in m²: each plate is cut into cells at every edge
// that bears on it, and the cells it keeps are cut at the rim.
func netAreas(p *invented.Plan) map[string]float64 {
	out := map[string]float64{}
	for _, label := range p.Order {
		l := p.Plates[label]
		if l.Annular {
			inner := p.Radius - l.Row.Number("Width")
			angle := (l.Row.Number("End bearing") - l.Row.Number("Start bearing")) * math.Pi / 180
			out[label] = angle / 2 * (p.Radius*p.Radius - inner*inner) / 1e6
			continue
		}
		out[label] = kept(l.Rect, goneOf(p, label), p.Rim) / 1e6
	}
	return out
}

// goneOf is what a plate does not keep: openings, and its half of each lap.
func goneOf(p *invented.Plan, label string) []invented.Rect {
	own, gone := p.Plates[label].Rect, slices.Clone(p.Openings)
	for _, other := range p.Order {
		o := p.Plates[other]
		if other == label || o.Annular {
			continue
		}
		if lap, ok := own.Overlap(o.Rect); ok {
			gone = append(gone, given(lap, own, o.Rect))
		}
	}
	return gone
}

// given is the half of a lap that goes to the other plate: the lap halved
// along its longer middle line.
func given(lap, own, other invented.Rect) invented.Rect {
	if lap.X2-lap.X1 >= lap.Y2-lap.Y1 {
		middle := (lap.Y1 + lap.Y2) / 2
		if other.Y1+other.Y2 > own.Y1+own.Y2 {
			lap.Y1 = middle
		} else {
			lap.Y2 = middle
		}
		return lap
	}
	middle := (lap.X1 + lap.X2) / 2
	if other.X1+other.X2 > own.X1+own.X2 {
		lap.X1 = middle
	} else {
		lap.X2 = middle
	}
	return lap
}

func kept(r invented.Rect, gone []invented.Rect, rim float64) float64 {
	xs, ys := []float64{r.X1, r.X2}, []float64{r.Y1, r.Y2}
	for _, g := range gone {
		for _, x := range []float64{g.X1, g.X2} {
			if x > r.X1 && x < r.X2 {
				xs = append(xs, x)
			}
		}
		for _, y := range []float64{g.Y1, g.Y2} {
			if y > r.Y1 && y < r.Y2 {
				ys = append(ys, y)
			}
		}
	}
	slices.Sort(xs)
	slices.Sort(ys)
	var sum float64
	for i := 1; i < len(xs); i++ {
		for j := 1; j < len(ys); j++ {
			mx, my := (xs[i-1]+xs[i])/2, (ys[j-1]+ys[j])/2
			out := false
			for _, g := range gone {
				out = out || (mx > g.X1 && mx < g.X2 && my > g.Y1 && my < g.Y2)
			}
			if !out {
				sum += inDisc(xs[i-1], xs[i], ys[j-1], ys[j], rim)
			}
		}
	}
	return sum
}

// inDisc is the area of a rectangle within a circle about the origin: the
// chord's height over x, piece by piece between the corners of the outline.
func inDisc(x1, x2, y1, y2, r float64) float64 {
	x1, x2 = max(x1, -r), min(x2, r)
	if x1 >= x2 {
		return 0
	}
	at := []float64{x1, x2}
	for _, y := range []float64{y1, y2} {
		if math.Abs(y) <= r { // also where it only touches
			if x := math.Sqrt(r*r - y*y); x > x1 && x < x2 {
				at = append(at, x)
			}
			if x := -math.Sqrt(r*r - y*y); x > x1 && x < x2 {
				at = append(at, x)
			}
		}
	}
	slices.Sort(at)
	circle := func(a, b float64) float64 { // ∫ √(r² − x²)
		g := func(x float64) float64 { return (x*math.Sqrt(max(0, r*r-x*x)) + r*r*math.Asin(x/r)) / 2 }
		return g(b) - g(a)
	}
	var sum float64
	for i := 1; i < len(at); i++ {
		a, b := at[i-1], at[i]
		h := math.Sqrt(max(0, r*r-(a+b)*(a+b)/4))
		if min(y2, h) <= max(y1, -h) {
			continue
		}
		top, bottom := y2*(b-a), y1*(b-a)
		if h < y2 {
			top = circle(a, b)
		}
		if -h > y1 {
			bottom = -circle(a, b)
		}
		sum += top - bottom
	}
	return sum
}
