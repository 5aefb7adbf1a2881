package draw

import (
	"sort"

	"platebook/rules"
	"platebook/rules/unit"
)

// reading is a measured thickness at its place.
type reading struct {
	at    point
	mm    float64
	sound bool // sound metal, not the least found at a spot
	key   string
}

// ReadingPlan is the ultrasonic values at their places: sound metal and
// prove-ups apart, the thinnest named first.
func ReadingPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "reading plan", "Reading plan")
	list, lost := f.readings()
	// The thickest are painted first, so that the thinnest stay visible.
	sort.SliceStable(list, func(i, j int) bool { return list[i].mm > list[j].mm })
	f.marks = newOccupied(f.taken.area)
	for i := range list {
		f.marks.add(rect{list[i].at.x, list[i].at.y, list[i].at.x, list[i].at.y}.grow(0.5))
	}
	f.drawPlates(plateStyle{edge: mist})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.number(f.numbers(steel), false, 2.6, func(r rect) int { return f.marks.overlap(r, 60) })
	sound, proved := 0, 0
	for i := range list {
		r := &list[i]
		f.readingMark(&f.board, r.at, r.sound, r.key)
		if r.sound {
			sound++
		} else {
			proved++
		}
	}
	f.unnamed = f.nameFixtures()
	written := 0
	for i := len(list) - 1; i >= 0; i-- {
		l := Label{Text: unit.Thickness.Text(f.sys, list[i].mm, 0), Size: leastSize, Paint: ink, Halo: true, Bold: !list[i].sound, Class: "reading-label"}
		b := rect{list[i].at.x, list[i].at.y, list[i].at.x, list[i].at.y}.grow(0.5)
		if f.beside(l, b, 0.3) || (len(list)-i <= mostLeaders && f.beside(l, b, 2.4)) {
			written++
		}
	}

	f.legend.heading("Readings, " + unit.Thickness.Unit(f.sys))
	f.legend.entry("sound metal: "+count(sound), func(b *board, c point) { f.readingMark(b, c, true, "") })
	f.legend.entry("least found at a prove-up, in bold: "+count(proved), func(b *board, c point) { f.readingMark(b, c, false, "") })
	switch {
	case len(list) == 0 && len(lost) == 0:
		f.legend.text("No thickness reading is recorded")
	case written == len(list):
		f.legend.text("Values: all " + count(written))
	default:
		f.legend.text("Values, thinnest first: " + count(written) + " of " + count(len(list)) + "; the rest in the table")
	}
	f.legend.names("Without a place on the plan", lost)
	f.leftOut()
	f.legend.heading("Plan")
	f.datumNotes()
	f.fixtureLegend()
	f.floorNotes(f.unnamed)
	return f.finish()
}

func (f *frame) readingMark(b *board, c point, sound bool, key string) {
	if sound {
		b.circle(Path{Fill: paper, Stroke: ink, Width: fine, Class: "reading", ID: key}, c, 0.45)
		return
	}
	b.circle(Path{Fill: ink, Stroke: ink, Width: fine, Class: "reading", ID: key}, c, 0.45)
}

func (f *frame) readings() (list []reading, lost []string) {
	in, plan := f.a.Inspection, f.a.Plan
	if in == nil || plan == nil {
		return nil, nil
	}
	put := func(plate int, x, y float64, known bool, mm float64, sound bool, key string) {
		at, ok := plan.ToPlan(plate, x, y)
		if !known || !ok || !f.known {
			lost = append(lost, key)
			return
		}
		p := f.view.pt(at)
		if !f.clip.holds(p) {
			if f.sheet.tile == nil {
				lost = append(lost, key)
			}
			return
		}
		list = append(list, reading{p, mm, sound, key})
	}
	for i := range in.Readings {
		r := &in.Readings[i]
		if r.Out || !r.Thickness.OK() {
			continue
		}
		put(f.plateIndex(r.Plate.Value), float64(r.X.Value), float64(r.Y.Value), r.X.OK() && r.Y.OK(), float64(r.Thickness.Value), true, rowKey(r.Row))
	}
	for i := range in.ProveUps {
		p := &in.ProveUps[i]
		if p.Out || !p.Remaining.OK() {
			continue
		}
		x, y, known := float64(p.X.Value), float64(p.Y.Value), p.X.OK() && p.Y.OK()
		plate := f.plateIndex(p.Plate.Value)
		if !known {
			plate, x, y, known = f.indicationPlace(i)
		}
		put(plate, x, y, known, float64(p.Remaining.Value), false, rowKey(p.Row))
	}
	return list, lost
}

// indicationPlace is where the indication lies that prove-up i is tied to.
func (f *frame) indicationPlace(i int) (plate int, x, y float64, ok bool) {
	if f.a.Result == nil {
		return -1, 0, 0, false
	}
	if f.tied == nil {
		f.tied = map[int]int{}
		for n := range f.a.Result.Locations {
			l := &f.a.Result.Locations[n]
			for _, t := range append(l.Tied[:len(l.Tied):len(l.Tied)], l.ProveUp) {
				if _, ok := f.tied[t]; !ok && t >= 0 {
					f.tied[t] = n
				}
			}
		}
	}
	n, ok := f.tied[i]
	if !ok {
		return -1, 0, 0, false
	}
	l := &f.a.Result.Locations[n]
	if l.Indication < 0 || l.Indication >= len(f.a.Inspection.Indications) {
		return -1, 0, 0, false
	}
	ind := &f.a.Inspection.Indications[l.Indication]
	return l.Plate, float64(ind.X.Value), float64(ind.Y.Value), ind.X.OK() && ind.Y.OK()
}
