package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Threshold is one repair threshold: what is repaired at it, and the interval
// that remains.
type Threshold struct {
	RepairBelow unit.Length
	Interval    unit.Maybe[unit.Years]
	Repairs     int
}

var stepPath = Path{Stroke: ramp[4], Width: plain, Class: "interval"}

// steps joins thresholds. The interval changes where another place falls below
// the threshold, and where that is between two of them nobody worked out: the
// shorter interval of both is drawn.
func (c *chart) steps(taken *occupied, points []point) {
	if len(points) < 2 {
		return
	}
	run := points[:1:1]
	for i, q := range points[1:] {
		p := points[i]
		// The longer interval stands higher on paper.
		if q.y < p.y {
			run = append(run, point{q.x, p.y}, q)
		} else {
			run = append(run, point{p.x, q.y}, q)
		}
	}
	c.line(stepPath, run...)
	keepOff(taken, 0.2, run...)
}

// ThresholdChart is the interval against the repair threshold, with the number
// of repairs beneath. wanted is the desired interval, chosen the owner's
// threshold; either may be unknown.
func ThresholdChart(a *rules.Assessment, s Sheet, levels []Threshold, wanted unit.Maybe[unit.Years], chosen unit.Maybe[unit.Length]) *Scene {
	c := newChart(a, s, "threshold chart", "Repair threshold against interval")
	sys := unit.SI
	if a.Inspection != nil {
		sys = a.Inspection.Units
	}
	factor := unit.Thickness.Factor(sys)
	low, high, top := math.Inf(1), math.Inf(-1), 0.0
	for _, l := range levels {
		x := float64(l.RepairBelow) / factor
		low, high = min(low, x), max(high, x)
		top = max(top, float64(l.Interval.Or(0)))
	}
	if len(levels) == 0 || !isNumber(low) || !isNumber(high) {
		c.x1, c.x2, c.y1, c.y2 = 0, 1, 0, 1
		c.border()
		c.empty("No repair threshold was evaluated")
		return c.finish()
	}
	pad := max((high-low)*0.04, 0.05*max(high, 1e-3))
	c.x1, c.x2 = low-pad, high+pad
	c.y1, c.y2 = 0, max(top, float64(wanted.Or(0)), 1)*1.35
	c.axes(ticks(c.x1, c.x2, 8), ticks(0, c.y2, 6), "Repair everything below, "+unit.Thickness.Unit(sys), "Interval, years")
	clip := c.plot
	c.clip = &clip
	taken, uncounted := newOccupied(c.plot), 0
	if wanted.Known {
		keepOff(taken, 0.2, c.at(c.x1, float64(wanted.V)), c.at(c.x2, float64(wanted.V)))
		c.line(Path{Stroke: steel, Width: fine, Dash: []float64{1.6, 1}, Class: "wanted"}, c.at(c.x1, float64(wanted.V)), c.at(c.x2, float64(wanted.V)))
	}
	if chosen.Known {
		x := float64(chosen.V) / factor
		keepOff(taken, 0.2, c.at(x, c.y1), c.at(x, c.y2))
		c.line(Path{Stroke: accent, Width: plain, Class: "chosen"}, c.at(x, c.y1), c.at(x, c.y2))
	}
	var points []point
	var repairs []int
	flush := func() {
		c.steps(taken, points)
		for _, p := range points {
			taken.add(rect{p.x, p.y, p.x, p.y}.grow(0.7))
		}
		for i, p := range points {
			c.circle(Path{Fill: ramp[4], Class: "level"}, p, 0.7)
			if !c.beside(taken, Label{Text: count(repairs[i]), Size: leastSize, Paint: ink, Halo: true, Class: "count"}, p) {
				uncounted++
			}
		}
		points, repairs = nil, nil
	}
	for _, l := range levels {
		if !l.Interval.Known {
			flush()
			continue
		}
		points, repairs = append(points, c.at(float64(l.RepairBelow)/factor, float64(l.Interval.V))), append(repairs, l.Repairs)
	}
	flush()
	c.border()
	at := point{c.plot.x1 + 3, c.plot.y1 + 3.5}
	// The axis ends well above the curve, to leave the key its room.
	text := "interval at a threshold, with the number of repairs"
	if uncounted > 0 {
		text += "; " + spelling.Count(uncounted, "number", "numbers") + " without room, see the table"
	}
	at = c.key(at, text, func(b *board, p point) { b.circle(Path{Fill: ramp[4]}, p, 0.7) })
	at = c.key(at, "between two of them: the shorter interval, nothing is worked out", func(b *board, p point) {
		b.line(stepPath, point{p.x - 3, p.y}, point{p.x + 3, p.y})
	})
	if wanted.Known {
		at = c.key(at, "desired interval", func(b *board, p point) {
			b.line(Path{Stroke: steel, Width: fine, Dash: []float64{1.6, 1}}, point{p.x - 3, p.y}, point{p.x + 3, p.y})
		})
	}
	if chosen.Known {
		c.key(at, "the owner's threshold", func(b *board, p point) {
			b.line(Path{Stroke: accent, Width: plain}, point{p.x, p.y - 1.6}, point{p.x, p.y + 1.6})
		})
	}
	return c.finish()
}
