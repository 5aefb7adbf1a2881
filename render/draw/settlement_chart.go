package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Level is a surveyed elevation of the shell.
type Level struct {
	Point     string
	Bearing   float64 // degrees clockwise from north
	Elevation float64 // mm
}

// SettlementChart is the elevations around the shell with the fitted plane,
// which around a circle is one cosine wave: its mean a0 and its cosine and
// sine terms a1 and b1, mm. fitted says whether there is a fit to draw.
func SettlementChart(a *rules.Assessment, s Sheet, levels []Level, a0, a1, b1 float64, fitted bool) *Scene {
	c := newChart(a, s, "settlement chart", "Settlement around the shell")
	sys := unit.SI
	if a.Inspection != nil {
		sys = a.Inspection.Units
	}
	factor := unit.Settlement.Factor(sys)
	wave := func(deg float64) float64 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return (a0 + a1*cos + b1*sin) / factor
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range levels {
		low, high = min(low, l.Elevation/factor), max(high, l.Elevation/factor)
	}
	c.x1, c.x2 = -12, 372
	if len(levels) == 0 || !isNumber(low) || !isNumber(high) {
		c.y1, c.y2 = 0, 1
		c.border()
		c.empty("No settlement survey of the shell")
		return c.finish()
	}
	fitted = fitted && isNumber(a0) && isNumber(a1) && isNumber(b1)
	if fitted {
		amp := math.Hypot(a1, b1) / factor
		low, high = min(low, a0/factor-amp), max(high, a0/factor+amp)
	}
	pad := max((high-low)*0.15, 1/factor)
	c.y1, c.y2 = low-pad, high+2.5*pad
	c.axes([]float64{0, 45, 90, 135, 180, 225, 270, 315, 360}, ticks(c.y1, c.y2, 6), "Bearing, degrees clockwise from north", "Elevation, "+unit.Settlement.Unit(sys))
	clip := c.plot
	taken := newOccupied(c.plot)
	c.clip = &clip
	if fitted {
		var pts []point
		for d := 0; d <= 360; d += 3 {
			pts = append(pts, c.at(float64(d), wave(float64(d))))
		}
		c.line(fitPath, pts...)
		keepOff(taken, 0.2, pts...)
		for _, l := range levels {
			b := turnWithin(l.Bearing)
			from, to := c.at(b, l.Elevation/factor), c.at(b, wave(b))
			c.line(residualPath, from, to)
			keepOff(taken, 0.2, from, to)
		}
	}
	for _, l := range levels {
		p := c.at(turnWithin(l.Bearing), l.Elevation/factor)
		taken.add(rect{p.x, p.y, p.x, p.y}.grow(0.8))
	}
	unnamed := 0
	for _, l := range levels {
		p := c.at(turnWithin(l.Bearing), l.Elevation/factor)
		level := levelPath
		level.ID = l.Point
		c.circle(level, p, 0.8)
		if w := (Label{Text: l.Point, Size: leastSize, Paint: ink, Halo: true, Class: "point"}); w.Text != "" && !c.beside(taken, w, p) {
			unnamed++
		}
	}
	c.border()
	at := point{c.plot.x1 + 3, c.plot.y1 + 3.5}
	text := "surveyed point with its number"
	if unnamed > 0 {
		text += "; " + spelling.Count(unnamed, "number", "numbers") + " without room, see the table"
	}
	at = c.key(at, text, func(b *board, p point) { b.circle(levelPath, p, 0.8) })
	if fitted {
		at = c.key(at, "fitted plane", func(b *board, p point) { b.line(fitPath, point{p.x - 3, p.y}, point{p.x + 3, p.y}) })
		c.key(at, "off the plane", func(b *board, p point) { b.line(residualPath, point{p.x, p.y - 1.3}, point{p.x, p.y + 1.3}) })
	}
	return c.finish()
}

var (
	levelPath    = Path{Fill: ramp[2], Stroke: ink, Width: fine, Class: "level"}
	residualPath = Path{Stroke: steel, Width: fine, Class: "residual"}
)

// turnWithin brings a bearing into 0 to below 360.
func turnWithin(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		deg += 360
	}
	return deg
}
