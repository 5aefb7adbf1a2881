package draw

// clipRing cuts a closed outline to a rectangle, side by side.
// Source: Sutherland and Hodgman, "Reentrant polygon clipping", CACM 17
// (1974).
func clipRing(ring []point, r rect) []point {
	inside := [...]func(p point) float64{
		func(p point) float64 { return p.x - r.x1 },
		func(p point) float64 { return r.x2 - p.x },
		func(p point) float64 { return p.y - r.y1 },
		func(p point) float64 { return r.y2 - p.y },
	}
	out := ring
	for _, in := range inside {
		out = clipHalf(out, in)
	}
	return out
}

// clipHalf keeps the part of an outline where in is not negative; in must be
// linear in the point.
func clipHalf(ring []point, in func(point) float64) []point {
	if len(ring) == 0 {
		return nil
	}
	out := make([]point, 0, len(ring)+4)
	last := ring[len(ring)-1]
	was := in(last)
	for _, p := range ring {
		is := in(p)
		if (was < 0) != (is < 0) {
			t := was / (was - is)
			out = append(out, point{last.x + t*(p.x-last.x), last.y + t*(p.y-last.y)})
		}
		if is >= 0 {
			out = append(out, p)
		}
		last, was = p, is
	}
	return out
}

// clipLine is the parts of a run of lines inside a rectangle.
func clipLine(pts []point, r rect) [][]point {
	var runs [][]point
	var run []point
	for i := 1; i < len(pts); i++ {
		a, b, ok := clipSegment(pts[i-1], pts[i], r)
		if !ok {
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			if len(run) > 1 {
				runs = append(runs, run)
			}
			run = []point{a}
		}
		run = append(run, b)
	}
	if len(run) > 1 {
		runs = append(runs, run)
	}
	return runs
}

// clipSegment is the part of a segment inside a rectangle.
// Source: Liang and Barsky, "A new concept and method for line clipping",
// ACM Transactions on Graphics 3 (1984).
func clipSegment(a, b point, r rect) (point, point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.x-a.x, b.y-a.y
	for _, e := range [...][2]float64{{-dx, a.x - r.x1}, {dx, r.x2 - a.x}, {-dy, a.y - r.y1}, {dy, r.y2 - a.y}} {
		p, q := e[0], e[1]
		switch {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			t0 = max(t0, q/p)
		default:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = point{a.x + t0*dx, a.y + t0*dy}
	}
	if t1 < 1 {
		to = point{a.x + t1*dx, a.y + t1*dy}
	}
	return from, to, true
}
