package draw

import (
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// mostMeasured is how many places without a repair are measured out on one
// plate, the worst first; the legend has them all.
const mostMeasured = 6

// toMeasure is what a crew marks out with a tape: the middle of each repair but
// those of whole plates, then of the places that need one and have none.
func (d *detail) toMeasure(works []*Work, rows []*assess.Location) (out []floor.Point) {
	for _, w := range works {
		if w.Boxed && !w.whole() {
			out = append(out, w.middle())
		}
	}
	for i := len(rows) - 1; i >= 0 && len(out) < len(works)+mostMeasured; i-- {
		if lacksRepair(rows[i]) != "" {
			out = append(out, rows[i].Box.Centre())
		}
	}
	return out
}

// lacksRepair is what a place needs and nobody planned, "" when nothing.
func lacksRepair(l *assess.Location) string {
	if l.Repair == "" {
		switch l.Verdict {
		case assess.Repair, assess.RepairFirst:
			return "needs repair"
		case assess.Engineering:
			return "needs an engineer's evaluation"
		}
	}
	return ""
}

var dimensionPath = Path{Stroke: accent, Width: hair, Dash: []float64{1.2, 0.5, 0.2, 0.5}, Class: "dimension"}

// apart is how far distances that stand in a row keep from each other, mm of
// paper.
const apart = 1.0

// dimensions carries places to both rulers, with their distance from the datum
// corner. A distance that another leaves no room stands beside its line, led to
// it; where there is no room either, the legend alone has it.
func (d *detail) dimensions(places []floor.Point) {
	size := func(v float64) string { return unit.Size.Text(d.sys, v, 0) }
	var feet []point
	for _, c := range places {
		x, y, ok := d.a.Plan.FromLocal(d.plate, c)
		if !ok {
			continue
		}
		middle := d.point(c)
		for _, end := range [...]struct {
			x, y  float64
			text  string
			angle float64
		}{{x, 0, size(x), 0}, {0, y, size(y), 90}} {
			q, ok := d.a.Plan.ToLocal(d.plate, end.x, end.y)
			if !ok {
				continue
			}
			foot := d.point(q)
			if slices.ContainsFunc(feet, func(p point) bool { return math.Hypot(p.x-foot.x, p.y-foot.y) < 0.3 }) {
				d.line(dimensionPath, middle, foot) // told there
				continue
			}
			// Beyond the plate's edge, inside the ruler.
			out, off := unitStep(middle, foot), d.rulerOff()-1.3
			l := Label{Text: end.text, Size: leastSize, Anchor: Centre, Middle: true, Angle: end.angle, Bold: true, Paint: accent, Class: "dimension"}
			wide := Width(l.Text, l.Size, l.Bold)
			for _, aside := range [...]float64{0, 0.6, -0.6, 0.9, -0.9, 1.3, -1.3} {
				by := aside * wide
				l.X, l.Y = foot.x+off*out.x+by*math.Abs(out.y), foot.y+off*out.y+by*math.Abs(out.x)
				if box := l.box(); !d.taken.free(rect{box.x1 - apart*math.Abs(out.y), box.y1 - apart*math.Abs(out.x), box.x2 + apart*math.Abs(out.y), box.y2 + apart*math.Abs(out.x)}) || !d.label(l) {
					continue
				}
				d.taken.add(l.box().grow(0.2))
				d.line(dimensionPath, middle, point{foot.x + 0.3*out.x, foot.y + 0.3*out.y})
				keepOff(d.taken, 0.4, middle, foot)
				feet, d.measured = append(feet, foot), true
				if aside != 0 {
					tail := -sign(by) * wide / 2 // end of the text, from its middle
					d.line(Path{Stroke: accent, Width: hair, Class: "dimension"},
						point{foot.x + 0.3*out.x, foot.y + 0.3*out.y},
						point{l.X + tail*math.Abs(out.y), l.Y + tail*math.Abs(out.x)})
				}
				break
			}
		}
	}
}

// unitStep is one millimetre of paper from a towards b, along the paper's
// nearer direction.
func unitStep(a, b point) point {
	dx, dy := b.x-a.x, b.y-a.y
	if dx*dx > dy*dy {
		return point{sign(dx), 0}
	}
	return point{0, sign(dy)}
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}
