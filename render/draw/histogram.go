package draw

import (
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/statistics"
)

// binWidth is the width of a histogram's bar, percent of nominal.
const binWidth = 5

// Histogram is the count of indications by loss, stacked by side. Losses
// above 100 % and below 0 stand in the last and the first bar.
func Histogram(a *rules.Assessment, s Sheet) *Scene {
	c := newChart(a, s, "histogram of loss", "Indications by loss")
	bins := [100 / binWidth][3]int{}
	var total, unknown int
	if a.Result != nil {
		for i := range a.Result.Locations {
			l := &a.Result.Locations[i]
			if !statistics.Counts(l) {
				continue
			}
			loss, ok := LossOf(l)
			if !ok {
				unknown++
				continue
			}
			// A lower edge belongs to its bar.
			b := min(max(int(math.Floor(loss/binWidth+1e-9)), 0), len(bins)-1)
			bins[b][sideOf(l.Side)]++
			total++
		}
	}
	most := 0
	for _, b := range bins {
		most = max(most, b[0]+b[1]+b[2])
	}
	c.x1, c.x2, c.y1, c.y2 = 0, 100, 0, float64(max(most, 4))*1.12
	ys := ticks(0, c.y2, 5)
	// Half an indication is none.
	ys = slices.DeleteFunc(ys, func(y float64) bool { return y != math.Trunc(y) })
	c.axes(ticks(0, 100, 10), ys, "Loss, % of nominal thickness", "Indications")
	for i, b := range bins {
		low := 0
		for side, n := range b {
			if n == 0 {
				continue
			}
			p, q := c.at(float64(i*binWidth), float64(low)), c.at(float64((i+1)*binWidth), float64(low+n))
			c.box(sidePath(side), rect{p.x + 0.3, q.y, q.x - 0.3, p.y})
			low += n
		}
		if low > 0 {
			p := c.at((float64(i)+0.5)*binWidth, float64(low))
			c.label(Label{Text: count(low), X: p.x, Y: p.y - 0.8, Size: leastSize, Anchor: Centre, Paint: ink, Class: "count"})
		}
	}
	c.border()
	c.histogramKey(bins[:], total, unknown)
	return c.finish()
}

func sideOf(s assess.Side) int {
	switch s {
	case assess.Soil:
		return 0
	case assess.Product:
		return 1
	}
	return 2
}

var sideNames = [3]string{"soil side", "product side", "side unknown"}

func sidePath(side int) Path {
	p := Path{Stroke: ink, Width: fine, Class: "bar " + [3]string{"soil", "product", "unknown"}[side]}
	switch side {
	case 0:
		p.Fill = ramp[4]
	case 1:
		p.Fill = ramp[1]
		p.Dash = []float64{0.9, 0.6}
	default:
		p.Fill = paper
		p.Dash = []float64{0.01, 0.45}
		p.Width = 0.24 // dots as seen as the lines are
	}
	return p
}

func (c *chart) histogramKey(bins [][3]int, total, unknown int) {
	var sum [3]int
	for _, b := range bins {
		for i, n := range b {
			sum[i] += n
		}
	}
	if total == 0 {
		c.empty("No indication with a known loss")
	}
	at := point{c.plot.x2 - 44, c.plot.y1 + 4}
	// The key stands where the bars are low: deep losses are few, but not always.
	left, right := 0, 0
	for i, b := range bins {
		n := b[0] + b[1] + b[2]
		if i < len(bins)/4 {
			left = max(left, n)
		} else if i >= len(bins)*3/4-1 {
			right = max(right, n)
		}
	}
	if right > left {
		at.x = c.plot.x1 + 3
	}
	for side, n := range sum {
		if n == 0 {
			continue
		}
		at = c.key(at, sideNames[side]+": "+count(n), func(b *board, p point) {
			b.box(sidePath(side), rect{p.x - 2.4, p.y - 1.2, p.x + 2.4, p.y + 1.2})
		})
	}
	if unknown > 0 {
		c.key(at, "loss unknown, not shown: "+count(unknown), func(*board, point) {})
	}
}
