package draw

import (
	"math"

	"platebook/rules/unit"
)

// rulers marks X along the length and Y along the width, from the datum
// corner, as the workbook counts them.
func (d *detail) rulers() {
	plan := d.a.Plan
	at := func(x, y float64) (point, bool) {
		q, ok := plan.ToLocal(d.plate, x, y)
		return d.point(q), ok
	}
	origin, ok := at(0, 0)
	if !ok {
		return
	}
	one := unit.Size.Factor(d.sys)
	far, _ := at(d.p.Length, d.p.Width)
	down, left := 1.0, -1.0
	if origin.y < far.y {
		down = -1
	}
	if origin.x > far.x {
		left = 1
	}
	pen := Path{Stroke: steel, Width: fine, Class: "ruler"}
	text := func(t string, p point, angle float64) {
		l := Label{Text: t, X: p.x, Y: p.y, Size: leastSize, Anchor: Centre, Middle: true, Angle: angle, Paint: steel, Class: "ruler"}
		if d.taken.free(l.box()) && d.label(l) {
			d.taken.add(l.box().grow(0.3))
		}
	}
	offset := d.rulerOff()
	along := rulerSteps(d.p.Length/one, d.p.Length*d.view.k)
	for i, name := range tickTexts(along) {
		v := along[i]
		p, _ := at(v*one, 0)
		d.line(pen, point{p.x, p.y + down*offset}, point{p.x, p.y + down*(offset+1.2)})
		text(name, point{p.x, p.y + down*(offset+2.8)}, 0)
	}
	across := rulerSteps(d.p.Width/one, d.p.Width*d.view.k)
	for i, name := range tickTexts(across) {
		v := across[i]
		p, _ := at(0, v*one)
		d.line(pen, point{p.x + left*offset, p.y}, point{p.x + left*(offset+1.2), p.y})
		text(name, point{p.x + left*(offset+2.8), p.y}, 90)
	}
	x, _ := at(d.p.Length, 0)
	y, _ := at(0, d.p.Width)
	for _, s := range [...]segment{
		{point{origin.x, origin.y + down*offset}, point{x.x, x.y + down*offset}},
		{point{origin.x + left*offset, origin.y}, point{y.x + left*offset, y.y}},
	} {
		d.line(pen, s.a, s.b)
		d.taken.add(bounds([]point{s.a, s.b}).grow(0.06))
	}
	name := unit.Size.Unit(d.sys)
	overall := func(v float64) string { return unit.Size.TextUnit(d.sys, v, 0) }
	text("X, "+name+" (length "+overall(d.p.Length)+")", point{(origin.x + x.x) / 2, origin.y + down*(offset+6.4)}, 0)
	text("Y, "+name+" (width "+overall(d.p.Width)+")", point{origin.x + left*(offset+6.4), (origin.y + y.y) / 2}, 90)
	in := func(u float64, toX, toY point) point {
		dx, dy := math.Copysign(u, toX.x-origin.x), math.Copysign(u, toY.y-origin.y)
		return point{origin.x + dx, origin.y + dy}
	}
	far3 := in(2.4, x, y)
	d.shape(Path{Fill: steel, Class: "datum"}, []point{origin, {far3.x, origin.y}, {origin.x, far3.y}})
}

// rulerSteps is round values along a ruler, about 14 mm apart on paper.
func rulerSteps(length, onPaper float64) []float64 {
	return ticks(0, length, min(max(int(onPaper/14), 2), 30))
}

// rulerOff is how far a ruler stands from the plate, mm of paper: further
// where the shell is drawn between them.
func (d *detail) rulerOff() float64 {
	if d.sector {
		return 4.2
	}
	return 3
}
