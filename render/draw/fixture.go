package draw

import (
	"math"

	"platebook/rules/floor"
)

// fixtureBox is a fixture's extent on paper, never smaller than can be seen.
func (f *frame) fixtureBox(o floor.Opening) rect {
	c := f.view.pt(o.At)
	w, h := max(o.Length*f.view.k, 1.2)/2, max(o.Width*f.view.k, 1.2)/2
	return rect{c.x - w, c.y - h, c.x + w, c.y + h}
}

// drawFixtures draws sumps, columns, manways, nozzles and supports.
func (f *frame) drawFixtures() {
	if f.a.Plan == nil || !f.known {
		return
	}
	for _, o := range f.a.Plan.Openings {
		b := f.fixtureBox(o)
		if !b.meets(*f.clip) {
			continue
		}
		p := Path{Fill: paper, Stroke: ink, Width: plain, Class: "fixture", ID: o.Name}
		c := b.centre()
		if o.Round {
			f.circle(p, c, b.width()/2)
		} else {
			f.box(p, b)
		}
		in := Path{Stroke: ink, Width: hair, Class: "fixture"}
		switch o.Kind {
		case "sump":
			if o.Round {
				f.circle(in, c, b.width()/2*0.75)
			} else {
				f.box(in, rect{c.x - b.width()*0.38, c.y - b.height()*0.38, c.x + b.width()*0.38, c.y + b.height()*0.38})
			}
		case "column", "support":
			f.line(in, point{b.x1, c.y}, point{b.x2, c.y})
			f.line(in, point{c.x, b.y1}, point{c.x, b.y2})
		case "manway", "nozzle":
			d := b.width() / 2 * math.Sqrt2 / 2
			f.line(in, point{c.x - d, c.y - d}, point{c.x + d, c.y + d})
			f.line(in, point{c.x - d, c.y + d}, point{c.x + d, c.y - d})
		}
		f.taken.add(b)
	}
}

// nameFixtures writes the fixtures' names beside them, where there is room.
// It returns the names that found none.
func (f *frame) nameFixtures() (left []string) {
	if f.a.Plan == nil || !f.known {
		return nil
	}
	for _, o := range f.a.Plan.Openings {
		if o.Name == "" {
			continue
		}
		b := f.fixtureBox(o)
		if !f.clip.holds(b.centre()) {
			if f.sheet.tile == nil {
				left = append(left, o.Name)
			}
			continue
		}
		l := Label{Text: brief(o.Name, leastSize, false), Size: leastSize, Paint: ink, Halo: true, Class: "fixture-name"}
		if !f.beside(l, b, 0.5) && !f.beside(l, b, 3) {
			left = append(left, o.Name)
		}
	}
	return left
}
