package draw

import (
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/unit"
)

// GrowthHistogram is the count of places by growth a year: measured by UT on
// both dates, and above them the new pits as adopted.
func GrowthHistogram(a *rules.Assessment, s Sheet, measured, adopted []unit.Rate) *Scene {
	c := newChart(a, s, "histogram of growth", "Places by growth")
	sys := unit.SI
	if a.Inspection != nil {
		sys = a.Inspection.Units
	}
	factor := unit.RateKind.Factor(sys)
	low, high := 0.0, 0.0
	for _, list := range [][]unit.Rate{measured, adopted} {
		for _, r := range list {
			low, high = min(low, float64(r)/factor), max(high, float64(r)/factor)
		}
	}
	if high <= low {
		high = low + 0.1
	}
	t := ticks(low, high, 12)
	width := 1.0
	if len(t) > 1 {
		width = t[1] - t[0]
	}
	first := math.Floor(low/width + 1e-9)
	bins := make([][2]int, max(1, int(math.Floor(high/width+1e-9)-first)+1))
	for kind, list := range [][]unit.Rate{measured, adopted} {
		for _, r := range list {
			// A lower edge belongs to its bar.
			b := int(math.Floor(float64(r)/factor/width+1e-9) - first)
			bins[min(max(b, 0), len(bins)-1)][kind]++
		}
	}
	most := 0
	for _, b := range bins {
		most = max(most, b[0]+b[1])
	}
	c.x1, c.x2, c.y1, c.y2 = first*width, (first+float64(len(bins)))*width, 0, float64(max(most, 4))*1.4
	ys := slices.DeleteFunc(ticks(0, c.y2, 5), func(y float64) bool { return y != math.Trunc(y) })
	c.axes(ticks(c.x1, c.x2, 8), ys, "Growth, "+unit.RateKind.Unit(sys), "Places")
	look := [2]Path{
		{Fill: ramp[3], Stroke: ink, Width: fine, Class: "bar measured"},
		{Fill: paper, Stroke: ink, Width: fine, Dash: []float64{0.9, 0.6}, Class: "bar adopted"},
	}
	for i, b := range bins {
		base := 0
		for kind, n := range b {
			if n == 0 {
				continue
			}
			x := c.x1 + float64(i)*width
			p, q := c.at(x, float64(base)), c.at(x+width, float64(base+n))
			c.box(look[kind], rect{p.x + 0.3, q.y, q.x - 0.3, p.y})
			base += n
		}
		if base > 0 {
			p := c.at(c.x1+(float64(i)+0.5)*width, float64(base))
			c.label(Label{Text: count(base), X: p.x, Y: p.y - 0.8, Size: leastSize, Anchor: Centre, Paint: ink, Class: "count"})
		}
	}
	c.border()
	if len(measured)+len(adopted) == 0 {
		c.empty("No growth was measured")
	}
	at := point{c.plot.x2 - 62, c.plot.y1 + 4}
	for kind, name := range [2]string{"measured by UT on both dates", "new pits, as adopted"} {
		if n := len([2][]unit.Rate{measured, adopted}[kind]); n > 0 {
			at = c.key(at, name+": "+count(n), func(b *board, p point) {
				b.box(look[kind], rect{p.x - 2.4, p.y - 1.2, p.x + 2.4, p.y + 1.2})
			})
		}
	}
	return c.finish()
}
