package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
)

// VisualPlan is the visual observations and the weld examinations at their
// places.
func VisualPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "visual and weld plan", "Visual and weld plan")
	notes, lost := f.observations()
	f.marks = newOccupied(f.taken.area)
	for i := range notes {
		f.marks.add(notes[i].box())
	}
	f.drawPlates(plateStyle{edge: mist})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.drawPatches()
	f.number(f.numbers(steel), false, 2.4, func(r rect) int { return f.marks.overlap(r, 60) })
	counts := map[string]int{}
	for i := range notes {
		counts[notes[i].kind]++
		notes[i].mark(&f.board, notes[i].at)
	}
	unlabelled := 0
	for i := range notes {
		n := &notes[i]
		l := Label{Text: n.id, Size: leastSize, Paint: ink, Halo: true, Bold: n.kind == "repair" || n.kind == "rejected", Class: "visual-label"}
		if n.id != "" && !f.beside(l, n.box(), 0.3) && !f.beside(l, n.box(), 2.4) {
			unlabelled++
		}
	}
	f.unnamed = f.nameFixtures()

	f.legend.heading("Visual observations")
	show := func(kind, text string) {
		if counts[kind] > 0 {
			f.legend.entry(text+": "+count(counts[kind]), func(b *board, c point) { note{kind: kind}.mark(b, c) })
		}
	}
	show("note", "note")
	show("monitor", "monitor")
	show("repair", "repair")
	if counts["note"]+counts["monitor"]+counts["repair"] == 0 {
		f.legend.text("None at a known place")
	}
	f.legend.heading("Weld examinations")
	show("accepted", "accepted")
	show("rejected", "rejected")
	show("retested accepted", "retested, accepted")
	show("no result", "result not given")
	if counts["accepted"]+counts["rejected"]+counts["retested accepted"]+counts["no result"] == 0 {
		f.legend.text("None at a known place")
	}
	if unlabelled > 0 {
		f.legend.text(spelling.Count(unlabelled, "mark has", "marks have") + " no room for a number; see the tables")
	}
	f.legend.names("Without a place on the plan, by number", lost)
	f.leftOut()
	f.legend.heading("Plan")
	f.datumNotes()
	f.patchEntry()
	f.fixtureLegend()
	f.floorNotes(f.unnamed)
	return f.finish()
}

// note is a visual observation or a weld examination on paper.
type note struct {
	id, key string
	kind    string // weight of an observation, or result of an examination
	at      point
}

func (n *note) box() rect { return rect{n.at.x, n.at.y, n.at.x, n.at.y}.grow(1) }

// mark draws observations as circles and examinations as squares; the worse
// the darker, and what is to be repaired or was rejected with a cross.
func (n note) mark(b *board, c point) {
	p := Path{Fill: paper, Stroke: ink, Width: fine, Class: "visual " + n.kind, ID: n.key}
	box := rect{c.x - 0.8, c.y - 0.8, c.x + 0.8, c.y + 0.8}
	switch n.kind {
	case "note":
		b.circle(p, c, 0.9)
	case "monitor":
		p.Fill = ramp[2]
		b.circle(p, c, 0.9)
	case "repair":
		p.Fill = ramp[4]
		b.circle(p, c, 0.9)
		crossed(b, c, paper)
	case "accepted":
		b.box(p, box)
	case "rejected":
		p.Fill = ramp[4]
		b.box(p, box)
		crossed(b, c, paper)
	case "retested accepted":
		p.Fill = ramp[2]
		b.box(p, box)
	default:
		p.Dash = []float64{0.4, 0.4}
		b.box(p, box)
	}
}

func crossed(b *board, c point, ink Paint) {
	const d = 0.45
	p := Path{Stroke: ink, Width: plain, Class: "cross"}
	b.line(p, point{c.x - d, c.y - d}, point{c.x + d, c.y + d})
	b.line(p, point{c.x - d, c.y + d}, point{c.x + d, c.y - d})
}

func (f *frame) observations() (notes []note, lost []string) {
	in, plan := f.a.Inspection, f.a.Plan
	if in == nil || plan == nil {
		return nil, nil
	}
	put := func(at floor.Point, ok bool, id, kind, key string) {
		p := f.view.pt(at)
		if !ok || !f.known || math.IsNaN(p.x) || !f.clip.holds(p) {
			if f.sheet.tile == nil || !ok {
				lost = append(lost, id)
			}
			return
		}
		notes = append(notes, note{id: id, key: key, kind: kind, at: p})
	}
	for i := range in.Visual {
		v := &in.Visual[i]
		if v.Out {
			continue
		}
		at, ok := plan.ToPlan(f.plateIndex(v.Plate.Value), float64(v.X.Value), float64(v.Y.Value))
		put(at, ok && v.X.OK() && v.Y.OK(), v.ID.Value, v.Weight.Or("note"), rowKey(v.Row))
	}
	for i := range in.Welds {
		w := &in.Welds[i]
		if w.Out {
			continue
		}
		at, ok := f.weldPlace(w)
		put(at, ok, w.ID.Value, w.Result.Or("no result"), rowKey(w.Row))
	}
	return notes, lost
}

// weldPlace is where a weld was examined: X, Y on the seam's first plate, or a
// bearing along the shell.
func (f *frame) weldPlace(w *inspection.Weld) (floor.Point, bool) {
	plan := f.a.Plan
	if w.X.OK() && w.Y.OK() {
		first := w.Seam.Value
		for i, r := range first {
			if r == '/' {
				first = first[:i]
				break
			}
		}
		return plan.ToPlan(f.plateIndex(first), float64(w.X.Value), float64(w.Y.Value))
	}
	if w.Bearing.OK() && plan.Radius > 0 && inspection.Fold(w.Seam.Value) == "shell-to-floor" {
		return plan.AtBearing(plan.Radius, float64(w.Bearing.Value))
	}
	return floor.Point{}, false
}
