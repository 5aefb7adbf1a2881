package draw

import (
	"platebook/rules/assess"
)

// How far a leader on a plate's detail reaches, mm of paper: for a label that
// has to stand, and for one that is only welcome.
const (
	farthest = 90.0
	nearby   = 9.0
)

// labels writes what stands beside the repairs and the indications, and counts
// the latter. First come those that a crew or a reader must find: the worst
// place of the plate, and what is below its requirement, needs a repair or lies
// under one. They get a leader, as long as it takes.
func (d *detail) labels(works []*Work, boxes []rect, spots []spot, rows []*assess.Location) (done int) {
	l := d.leads(d.cut)
	for i, w := range works {
		name := Label{Text: brief(w.Label, 2.8, true), Size: 2.8, Bold: true, Paint: ink, Halo: true, Class: "repair-label"}
		if w.whole() {
			d.across(l, name, w.Kind)
			continue
		}
		if boxes[i] == (rect{}) {
			continue
		}
		_ = l.beside(name, boxes[i], 0.5) || l.led(name, boxes[i], farthest)
	}
	for _, s := range d.stands {
		name := Label{Text: brief(s.name, leastSize, false), Size: leastSize, Paint: ink, Halo: true, Class: "fixture-name"}
		inside := name
		c := s.box.centre()
		inside.X, inside.Y, inside.Anchor, inside.Middle = c.x, c.y, Centre, true
		if !s.crossed && inside.Width() < 0.7*s.box.width() && inside.Size < 0.5*s.box.height() && d.writeFree(inside) {
			l.words.add(inside.box())
			continue
		}
		_ = l.beside(name, s.box, 0.5) || l.led(name, s.box, nearby)
	}
	must := make([]bool, len(spots))
	for i := range spots {
		must[i] = d.mustFind(works, rows[i]) || i == len(spots)-1
	}
	for _, pass := range [...]bool{true, false} {
		for i := len(spots) - 1; i >= 0; i-- {
			if m := &spots[i]; m.id != "" && must[i] == pass && l.spot(m, pass) {
				m.labelled = true
				done++
			}
		}
	}
	return done
}

// across writes the name of a repair of the whole plate on it, where there is
// room.
func (d *detail) across(l *leads, name Label, kind string) {
	name.Text += " " + kind
	name.Anchor, name.Middle = Centre, true
	b := bounds(d.cut[0])
	const n = 12
	for i := range n * n {
		name.X, name.Y = b.x1+b.width()*(float64(i%n)+0.5)/n, b.y1+b.height()*(float64(i/n)+0.5)/n
		if box := name.box(); boxInside(d.cut, box.centre(), point{box.width() / 2, box.height() / 2}, 0) && d.writeFree(name) {
			l.words.add(box)
			return
		}
	}
}

// mustFind says whether a place is one that is looked for, or lies under a
// repair that was not meant for it.
func (d *detail) mustFind(works []*Work, l *assess.Location) bool {
	if sought(l) {
		return true
	}
	for _, w := range works {
		if w.Boxed && !w.whole() && w.Shell == nil && w.Box.Overlaps(l.Box) {
			return true
		}
	}
	return false
}

// spot writes a place's number and loss beside it or at the end of a leader, or
// the number alone where both find no room.
func (l *leads) spot(m *spot, must bool) bool {
	short, w := spotLabels(m, 2.4)
	const gap = 0.35
	if !must {
		return l.beside(w, m.box, gap) || l.led(w, m.box, nearby) || l.beside(short, m.box, gap)
	}
	return l.beside(w, m.box, gap) || l.led(w, m.box, farthest) || l.beside(short, m.box, gap) || l.led(short, m.box, farthest)
}
