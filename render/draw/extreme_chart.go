package draw

import (
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/unit"
)

// Extreme is a fit to the largest loss of each block.
type Extreme struct {
	Losses   []float64 // mm, one a block
	Location float64   // u, mm
	Scale    float64   // α, mm
	Period   float64   // T: unexamined area over mean block area; 0: none
	Level    float64   // x_T, mm
	SE       float64   // its standard error, mm
	Doubtful bool
}

// ExtremeChart is the probability plot of the largest losses: each at the
// reduced variate of its plotting position i/(n + 1), and the fitted line.
func ExtremeChart(a *rules.Assessment, s Sheet, e Extreme) *Scene {
	c := newChart(a, s, "extreme value plot", "Largest loss of each block")
	sys := unit.SI
	if a.Inspection != nil {
		sys = a.Inspection.Units
	}
	factor := unit.Thickness.Factor(sys)
	var x []float64
	for _, v := range e.Losses {
		if isNumber(v) {
			x = append(x, v/factor)
		}
	}
	slices.Sort(x)
	n := len(x)
	if n == 0 {
		c.x1, c.x2, c.y1, c.y2 = 0, 1, 0, 1
		c.border()
		c.empty("No block has an indication")
		return c.finish()
	}
	variate := func(f float64) float64 { return -math.Log(-math.Log(f)) }
	top := variate(float64(n)/float64(n+1)) + 0.5
	period := e.Period >= 2 && isNumber(e.Level)
	if period {
		top = max(top, variate(1-1/e.Period)+0.5)
	}
	c.x1, c.x2 = variate(1/float64(n+1))-0.4, top
	fit := func(y float64) float64 { return (e.Location + e.Scale*y) / factor }
	fitted := isNumber(e.Location) && e.Scale > 0
	c.y1, c.y2 = 0, x[n-1]*1.3
	if fitted {
		c.y2 = max(c.y2, fit(top)*1.05)
	}
	if period && isNumber(e.SE) {
		c.y2 = max(c.y2, (e.Level+1.645*e.SE)/factor*1.05)
	}
	if !(c.y2 > c.y1) {
		c.y2 = 1
	}
	c.axes(ticks(c.x1, c.x2, 7), ticks(0, c.y2, 6), "Reduced variate −ln(−ln F), F = i/(n + 1)", "Largest loss of the block, "+unit.Thickness.Unit(sys))
	clip := c.plot
	c.clip = &clip
	if fitted {
		c.line(fitPath, c.at(c.x1, fit(c.x1)), c.at(c.x2, fit(c.x2)))
	}
	for i, v := range x {
		c.circle(Path{Fill: ramp[2], Stroke: ink, Width: fine, Class: "block"}, c.at(variate(float64(i+1)/float64(n+1)), v), 0.8)
	}
	if period {
		y := variate(1 - 1/e.Period)
		if isNumber(e.SE) {
			for _, end := range [...]float64{-1.645, 1.645} {
				p := c.at(y, (e.Level+end*e.SE)/factor)
				c.line(Path{Stroke: accent, Width: plain, Class: "level"}, point{p.x - 1, p.y}, point{p.x + 1, p.y})
			}
			c.line(Path{Stroke: accent, Width: plain, Class: "level"}, c.at(y, (e.Level-1.645*e.SE)/factor), c.at(y, (e.Level+1.645*e.SE)/factor))
		}
		c.circle(Path{Fill: accent, Class: "level"}, c.at(y, e.Level/factor), 0.9)
	}
	c.border()
	at := point{c.plot.x1 + 3, c.plot.y1 + 3.5}
	at = c.key(at, "largest loss of a block: "+count(n), func(b *board, p point) {
		b.circle(Path{Fill: ramp[2], Stroke: ink, Width: fine}, p, 0.8)
	})
	if fitted {
		text := "fitted line"
		if e.Doubtful {
			text = "fitted line, doubtful: the points do not follow it"
		}
		at = c.key(at, text, func(b *board, p point) { b.line(fitPath, point{p.x - 3, p.y}, point{p.x + 3, p.y}) })
	}
	if period {
		c.key(at, "estimate for the area not examined, ± 1.645 standard errors", func(b *board, p point) {
			if isNumber(e.SE) {
				for _, dy := range [...]float64{-1.5, 1.5} {
					b.line(Path{Stroke: accent, Width: plain}, point{p.x - 1, p.y + dy}, point{p.x + 1, p.y + dy})
				}
				b.line(Path{Stroke: accent, Width: plain}, point{p.x, p.y - 1.5}, point{p.x, p.y + 1.5})
			}
			b.circle(Path{Fill: accent}, p, 0.9)
		})
	}
	return c.finish()
}
