package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/sizing"
	"platebook/rules/unit"
)

// SizingChart sets MFL losses against ultrasonic ones: the line of equal
// values, 10 points either side of it, and the fitted line with the limits in
// which 95 % of further prove-ups are expected, over the pairs' own range only.
func SizingChart(a *rules.Assessment, s Sheet) *Scene {
	c := newChart(a, s, "sizing chart", "MFL against UT")
	// Equal scales on both axes: the plot is square.
	side := min(c.plot.width(), c.plot.height())
	keyX := c.plot.x1 + side + 6
	c.plot.x2, c.plot.y1 = c.plot.x1+side, c.plot.y2-side
	var r sizing.Result
	if a.Result != nil {
		r = a.Result.Sizing
	}
	low, high := 0.0, 60.0
	for _, p := range r.Pairs {
		if isNumber(p.MFL) && isNumber(p.UT) {
			low = min(low, p.MFL, p.UT)
			high = max(high, p.MFL, p.UT)
		}
	}
	low, high = math.Floor(low/10)*10, math.Ceil(high/10)*10
	c.x1, c.x2, c.y1, c.y2 = low, high, low, high
	t := ticks(low, high, 10)
	c.axes(t, t, "MFL loss, % of nominal thickness", "UT loss, % of nominal thickness")
	clip := c.plot
	c.clip = &clip
	c.line(tenPath, c.at(low, low+10), c.at(high, high+10))
	c.line(tenPath, c.at(low, low-10), c.at(high, high-10))
	c.line(equalPath, c.at(low, low), c.at(high, high))
	fitted := false
	if a.Inspection == nil || a.Inspection.Criteria == nil || r.All.Pairs >= int(a.Inspection.Criteria.Number(criteria.SizingMinimumPairs)) {
		fitted = c.fitLines(r.All)
	}
	for _, p := range r.Pairs {
		if isNumber(p.MFL) && isNumber(p.UT) {
			pairMark(&c.board, c.at(p.MFL, p.UT), p.Side)
		}
	}
	c.border()
	if len(r.Pairs) == 0 {
		c.empty("No MFL loss has a UT prove-up")
	}
	c.sizingKey(point{keyX, c.plot.y1 + 3}, r, fitted)
	return c.finish()
}

var (
	equalPath = Path{Stroke: ink, Width: plain, Class: "equal"}
	tenPath   = Path{Stroke: mist, Width: fine, Dash: []float64{1.2, 0.8}, Class: "ten"}
	fitPath   = Path{Stroke: ramp[3], Width: strong, Class: "fit"}
	limitPath = Path{Stroke: ramp[3], Width: fine, Dash: []float64{0.4, 0.6}, Class: "limit"}
)

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// fitLines draws the fit and its limits where there is a fit.
func (c *chart) fitLines(f sizing.Fit) bool {
	if !f.Slope.Known || !f.Intercept.Known || !(f.MaxX > f.MinX) {
		return false
	}
	line := func(x float64) float64 { return float64(f.Intercept.V) + float64(f.Slope.V)*x }
	c.line(fitPath, c.at(f.MinX, line(f.MinX)), c.at(f.MaxX, line(f.MaxX)))
	if !f.Line() || f.Pairs < 3 || !(f.Sxx > 0) {
		return true
	}
	for _, limit := range [...]func(x, p float64) unit.Maybe[unit.Percent]{f.Upper, f.Lower} {
		var pts []point
		for i := 0; i <= 48; i++ {
			x := f.MinX + (f.MaxX-f.MinX)*float64(i)/48
			if y := limit(x, 0.975); y.Known {
				pts = append(pts, c.at(x, float64(y.V)))
			}
		}
		if len(pts) > 1 {
			c.line(limitPath, pts...)
		}
	}
	return true
}

// pairMark shows the side by shape, as the indication plan does.
func pairMark(b *board, p point, side string) {
	const r = 0.75
	path := Path{Fill: ramp[2], Stroke: ink, Width: fine, Class: "pair"}
	switch side {
	case "soil":
		b.box(path, rect{p.x - r, p.y - r, p.x + r, p.y + r})
	case "product":
		b.circle(path, p, r)
	default:
		b.shape(path, []point{{p.x - 1, p.y}, {p.x, p.y - 1}, {p.x + 1, p.y}, {p.x, p.y + 1}})
	}
}

func (c *chart) sizingKey(at point, r sizing.Result, fitted bool) {
	run := func(p Path) func(*board, point) {
		return func(b *board, q point) { b.line(p, point{q.x - 3, q.y}, point{q.x + 3, q.y}) }
	}
	at = c.key(at, "equal values", run(equalPath))
	at = c.key(at, "10 points either side", run(tenPath))
	if fitted {
		at = c.key(at, "fit over all pairs", run(fitPath))
		if r.All.Line() {
			at = c.key(at, "95 % limits of a single prove-up", run(limitPath))
		}
	} else {
		at = c.key(at, "no fit: too few pairs or no spread", func(*board, point) {})
	}
	counts := map[string]int{}
	for _, p := range r.Pairs {
		switch p.Side {
		case "soil", "product":
			counts[p.Side]++
		default:
			counts["unknown"]++
		}
	}
	for i, side := range [...]string{"soil", "product", "unknown"} {
		if counts[side] > 0 {
			at = c.key(at, sideNames[i]+": "+count(counts[side]), func(b *board, q point) { pairMark(b, q, side) })
		}
	}
	at.x -= 7.5
	at.y += 1.5
	line := func(text string) { at = c.key(at, text, func(*board, point) {}) }
	line("above equal values: MFL reads too shallow")
	f := r.All
	if f.Pairs > 0 {
		line("pairs: " + count(f.Pairs))
	}
	for _, v := range [...]struct {
		name  string
		value unit.Maybe[unit.Percent]
	}{{"mean of MFL − UT", f.Bias}, {"spread (one standard deviation)", f.SD}, {"worst underestimate", f.WorstUnder}} {
		if v.value.Known {
			line(v.name + ": " + unit.Points.TextUnit(unit.SI, float64(v.value.V), 0))
		}
	}
}
