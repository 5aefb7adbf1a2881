package draw

import (
	"math"
	"strings"

	"platebook/rules"
	"platebook/rules/unit"
)

// chart is a plot with two straight axes in a figure of its own.
type chart struct {
	board
	a      *rules.Assessment
	plot   rect
	x1, x2 float64 // values at the plot's left and right
	y1, y2 float64 // and at its foot and top
}

// newChart makes a figure of the sheet's size with room for axis words.
func newChart(a *rules.Assessment, s Sheet, name, title string) *chart {
	if s.Width <= 0 || s.Height <= 0 {
		s = Sheet{Width: 170, Height: 95}
	}
	c := &chart{a: a}
	c.scene = &Scene{Name: name, Title: title, Width: s.Width, Height: s.Height}
	c.plot = rect{15, 4, s.Width - 5, s.Height - 13}
	return c
}

func (c *chart) at(x, y float64) point {
	return point{
		c.plot.x1 + (x-c.x1)/(c.x2-c.x1)*c.plot.width(),
		c.plot.y2 - (y-c.y1)/(c.y2-c.y1)*c.plot.height(),
	}
}

// ticks is round values from low to high, about n of them.
func ticks(low, high float64, n int) []float64 {
	if !(high > low) || math.IsInf(high-low, 0) {
		return nil
	}
	raw := (high - low) / float64(max(n, 1))
	decade := niceLength(raw)
	for _, m := range [...]float64{2, 5} {
		// niceLength is 1, 2 or 5 times a power of ten; back to the power.
		if d := math.Log10(decade / m); math.Abs(d-math.Round(d)) < 1e-6 {
			decade /= m
		}
	}
	step := 10 * decade
	for _, m := range [...]float64{1, 2, 2.5, 5} {
		if s := m * decade; s >= raw*(1-1e-9) {
			step = s
			break
		}
	}
	if !(step > 0) {
		return nil
	}
	var out []float64
	for i := math.Ceil(low/step - 1e-9); i*step <= high+step*1e-9 && len(out) < 60; i++ {
		out = append(out, i*step+0) // a tick at −0 is 0
	}
	return out
}

// tickTexts are ticks of one axis in the fewest decimals that tell all of them,
// the same for each.
func tickTexts(values []float64) []string {
	const most = 6 // more are the tail of a binary fraction
	places := 0
	for _, v := range values {
		_, decimals, _ := strings.Cut(unit.Round(v, most), ".")
		places = max(places, len(strings.TrimRight(decimals, "0")))
	}
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = strings.Replace(unit.Round(v, places), "-", "−", 1)
	}
	return out
}

// axes draws the plot's frame, light grid lines, and both axes with words.
func (c *chart) axes(xs, ys []float64, xName, yName string) {
	grid := Path{Stroke: Paint{R: 0xdd, G: 0xe1, B: 0xe5, On: true}, Width: hair, Class: "grid"}
	names := tickTexts(ys)
	for i, y := range ys {
		p := c.at(c.x1, y)
		c.line(grid, p, point{c.plot.x2, p.y})
		c.label(Label{Text: names[i], X: p.x - 1.2, Y: p.y, Size: 2.3, Anchor: End, Middle: true, Paint: ink, Class: "tick"})
	}
	names = tickTexts(xs)
	for i, x := range xs {
		p := c.at(x, c.y1)
		c.line(grid, p, point{p.x, c.plot.y1})
		c.label(Label{Text: names[i], X: p.x, Y: p.y + 3.2, Size: 2.3, Anchor: Centre, Paint: ink, Class: "tick"})
	}
	c.label(Label{Text: xName, X: (c.plot.x1 + c.plot.x2) / 2, Y: c.plot.y2 + 8.2, Size: 2.6, Anchor: Centre, Paint: ink, Class: "axis"})
	c.label(Label{Text: yName, X: 4, Y: (c.plot.y1 + c.plot.y2) / 2, Size: 2.6, Anchor: Centre, Middle: true, Angle: 90, Paint: ink, Class: "axis"})
}

// border draws the plot's outline over what stands in it.
func (c *chart) border() {
	c.clip = nil
	c.box(Path{Stroke: ink, Width: plain, Class: "plot"}, c.plot)
}

func (c *chart) finish() *Scene { return c.scene }

// key writes one entry of a chart's legend and returns where the next begins.
func (c *chart) key(at point, text string, swatch func(b *board, p point)) point {
	swatch(&c.board, point{at.x + 3, at.y})
	c.label(Label{Text: text, X: at.x + 7.5, Y: at.y, Size: 2.3, Middle: true, Paint: ink, Halo: true, Class: "key"})
	return point{at.x, at.y + 4}
}

// beside writes words by a point of the plot, at the nearest of the places
// round it where they lie on nothing; false without one.
func (c *chart) beside(taken *occupied, l Label, p point) bool {
	l.Middle = true
	for _, far := range [...]float64{1.3, 2.4, 3.6, 5} {
		const h = (capHeight + descent) / 2
		up := far + h*l.Size
		for _, s := range [...]struct {
			x, y float64
			a    Anchor
		}{{0, -up, Centre}, {0, up, Centre}, {far, 0, Start}, {-far, 0, End}, {far, -far, Start}, {-far, -far, End}, {far, far, Start}, {-far, far, End}} {
			l.X, l.Y, l.Anchor = p.x+s.x, p.y+s.y, s.a
			if box := l.box().grow(0.1); taken.free(box) && c.label(l) {
				taken.add(box)
				return true
			}
		}
	}
	return false
}

// empty says in the middle of a plot why it holds nothing.
func (c *chart) empty(text string) {
	m := c.plot.centre()
	c.label(Label{Text: text, X: m.x, Y: m.y, Size: 3, Anchor: Centre, Middle: true, Paint: steel, Class: "empty"})
}
