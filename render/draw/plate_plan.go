package draw

import (
	"platebook/rules"
	"platebook/rules/spelling"
)

// PlatePlan is the floor with the plates' numbers, cut at the rim.
func PlatePlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "plate plan", "Plate plan")
	f.drawPlates(plateStyle{edge: ink, lap: true})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.number(f.numbers(ink), true, mostNumber, nil)
	unnamed := f.nameFixtures()

	f.legend.heading("Legend")
	f.plateEntries(true)
	f.legend.heading("Positions")
	f.datumNotes()
	f.floorNotes(unnamed)
	return f.finish()
}

// numbers is a tag for every placed plate with its number alone.
func (f *frame) numbers(paint Paint) []tag {
	var tags []tag
	if f.a.Plan == nil {
		return nil
	}
	for i := range f.a.Plan.Plates {
		if p := &f.a.Plan.Plates[i]; p.Placed && len(p.Cut) > 0 {
			tags = append(tags, tag{plate: i, number: f.plateName(i), paint: paint})
		}
	}
	return tags
}

// plateEntries explains plates, laps, the ring, shell and fixtures: those
// that are on the plan.
func (f *frame) plateEntries(laps bool) {
	plan := f.a.Plan
	if plan == nil || !f.known {
		return
	}
	flat, ring := false, false
	for i := range plan.Plates {
		if p := &plan.Plates[i]; p.Placed && len(p.Cut) > 0 {
			flat = flat || !p.Sector
			ring = ring || p.Sector
		}
	}
	if flat {
		f.legend.entry("Floor plate with its number", func(b *board, c point) {
			b.box(Path{Fill: paper, Stroke: ink, Width: plain}, rect{c.x - 3.2, c.y - 1.4, c.x + 3.2, c.y + 1.4})
			b.label(Label{Text: "3-4", X: c.x, Y: c.y, Size: leastSize, Anchor: Centre, Middle: true, Bold: true, Paint: ink, Class: "sample"})
		})
		switch {
		case laps && plan.Lap*f.view.k >= lapShown:
			f.legend.entry("Lap joint, both edges; which plate lies on top is not recorded", func(b *board, c point) {
				p := Path{Stroke: ink, Width: fine}
				b.line(p, point{c.x - 3.2, c.y - 0.3}, point{c.x + 3.2, c.y - 0.3})
				b.line(p, point{c.x - 3.2, c.y + 0.3}, point{c.x + 3.2, c.y + 0.3})
			})
		case plan.Lap > 0:
			f.legend.entry("Lap joint, its middle line", func(b *board, c point) {
				b.line(Path{Stroke: ink, Width: plain}, point{c.x - 3.2, c.y}, point{c.x + 3.2, c.y})
			})
		}
	}
	if ring {
		f.legend.entry("Annular ring plate", func(b *board, c point) {
			b.box(Path{Fill: haze, Stroke: ink, Width: plain}, rect{c.x - 3.2, c.y - 1.4, c.x + 3.2, c.y + 1.4})
		})
	}
	if plan.Radius > 0 {
		f.legend.entry("Shell, inside face", func(b *board, c point) {
			b.line(Path{Stroke: ink, Width: heavy}, point{c.x - 3.2, c.y}, point{c.x + 3.2, c.y})
		})
	}
	f.fixtureEntries()
}

func (f *frame) fixtureEntries() {
	seen := map[string]bool{}
	for _, o := range f.a.Plan.Openings {
		seen[o.Kind] = true
	}
	out := Path{Fill: paper, Stroke: ink, Width: plain}
	in := Path{Stroke: ink, Width: hair}
	var list []item
	if seen["sump"] {
		list = append(list, item{"sump", func(b *board, c point) {
			b.circle(out, c, 1.4)
			b.circle(in, c, 1)
		}})
	}
	if seen["column"] || seen["support"] {
		list = append(list, item{"column, support", func(b *board, c point) {
			b.circle(out, c, 1.2)
			b.line(in, point{c.x - 1.2, c.y}, point{c.x + 1.2, c.y})
			b.line(in, point{c.x, c.y - 1.2}, point{c.x, c.y + 1.2})
		}})
	}
	if seen["manway"] || seen["nozzle"] {
		list = append(list, item{"manway, nozzle", func(b *board, c point) {
			b.circle(out, c, 1.2)
			b.line(in, point{c.x - 0.85, c.y - 0.85}, point{c.x + 0.85, c.y + 0.85})
			b.line(in, point{c.x - 0.85, c.y + 0.85}, point{c.x + 0.85, c.y - 0.85})
		}})
	}
	if seen["other"] {
		list = append(list, item{"other fixture", func(b *board, c point) { b.circle(out, c, 1.2) }})
	}
	f.legend.items(list)
}

// floorNotes says what the plan leaves out and what it takes for granted.
func (f *frame) floorNotes(unnamed []string) {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	automatic := 0
	for i := range plan.Plates {
		if plan.Plates[i].Automatic {
			automatic++
		}
	}
	if automatic > 0 {
		f.legend.text(spelling.Count(automatic, "plate", "plates") + " placed from row and position, not from measured coordinates")
	}
	if plan.Radius <= 0 && f.known {
		f.legend.text("Diameter unknown: no shell, no bearings")
	}
	if f.toParts > 0 {
		f.legend.text(spelling.Count(f.toParts, "small plate is", "small plates are") + " numbered on the next sheets only")
	}
	f.unplaced()
	f.legend.names("Fixtures without room for their name", unnamed)
}
