package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/unit"
)

// Threshold is one repair threshold: what is repaired at it, and the interval
// that remains.
type Threshold struct {
	RepairBelow unit.Length
	Interval    unit.Maybe[unit.Years]
	Repairs     int
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
	c.y1, c.y2 = 0, max(top, float64(wanted.Or(0)), 1)*1.3
	c.axes(ticks(c.x1, c.x2, 8), ticks(0, c.y2, 6), "Repair everything below, "+unit.Thickness.Unit(sys), "Interval, years")
	clip := c.plot
	c.clip = &clip
	if wanted.Known {
		c.line(Path{Stroke: steel, Width: fine, Dash: []float64{1.6, 1}, Class: "wanted"}, c.at(c.x1, float64(wanted.V)), c.at(c.x2, float64(wanted.V)))
	}
	if chosen.Known {
		x := float64(chosen.V) / factor
		c.line(Path{Stroke: accent, Width: plain, Class: "chosen"}, c.at(x, c.y1), c.at(x, c.y2))
	}
	var run []point
	draw := func() {
		if len(run) > 1 {
			c.line(Path{Stroke: ramp[4], Width: 0.3, Class: "interval"}, run...)
		}
		run = nil
	}
	for _, l := range levels {
		if !l.Interval.Known {
			draw()
			continue
		}
		run = append(run, c.at(float64(l.RepairBelow)/factor, float64(l.Interval.V)))
	}
	draw()
	taken := newOccupied(c.plot)
	for _, l := range levels {
		if !l.Interval.Known {
			continue
		}
		p := c.at(float64(l.RepairBelow)/factor, float64(l.Interval.V))
		c.circle(Path{Fill: ramp[4], Class: "level"}, p, 0.7)
		w := Label{Text: count(l.Repairs), X: p.x, Y: p.y - 1.6, Size: leastSize, Anchor: Centre, Paint: ink, Halo: true, Class: "count"}
		if taken.free(w.box().grow(0.2)) {
			taken.add(w.box().grow(0.2))
			c.label(w)
		}
	}
	c.border()
	at := point{c.plot.x1 + 3, c.plot.y1 + 3.5}
	// The axis ends well above the curve, to leave the key its room.
	at = c.key(at, "interval, with the number of repairs", func(b *board, p point) {
		b.line(Path{Stroke: ramp[4], Width: 0.3}, point{p.x - 3, p.y}, point{p.x + 3, p.y})
		b.circle(Path{Fill: ramp[4]}, p, 0.7)
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
