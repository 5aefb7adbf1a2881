package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/unit"
)

// Change is one place in two inspections.
type Change struct {
	Label string
	Class string // grown, unchanged, apparently less, new, not found again, repaired …
	Plate int    // index in the new Inspection.Plates, -1 when unknown
	X, Y  unit.Maybe[unit.Length]
	Old   unit.Maybe[unit.Length] // remaining thickness then
	New   unit.Maybe[unit.Length] // and now
}

// changeClasses are the classes in the order of the legend, with their look.
var changeClasses = [...]struct {
	name string
	fill Paint
	form uint8 // 0 circle, 1 square, 2 lozenge, 3 cross, which needs no fill
}{
	{"grown", ramp[5], 0},
	{"new", ramp[5], 1},
	{"unchanged", ramp[1], 0},
	{"apparently less", paper, 0},
	{"newly covered", ramp[1], 1},
	{"below previous threshold", paper, 1},
	{"not found again", paper, 2},
	{"repaired", ramp[2], 2},
	{"not examined now", paper, 3},
	{"not judged", paper, 3},
}

func changeMark(b *board, class, key string, c point) {
	p := Path{Fill: paper, Stroke: ink, Width: fine, Class: "change " + class, ID: key}
	form := uint8(3)
	for _, k := range changeClasses {
		if k.name == class {
			p.Fill, form = k.fill, k.form
		}
	}
	const r = 0.85
	switch form {
	case 0:
		b.circle(p, c, r)
	case 1:
		b.box(p, rect{c.x - r, c.y - r, c.x + r, c.y + r})
	case 2:
		b.shape(p, []point{{c.x - 1.1, c.y}, {c.x, c.y - 1.1}, {c.x + 1.1, c.y}, {c.x, c.y + 1.1}})
	default:
		crossed(b, c, ink)
	}
}

// ChangePlan is where the floor changed since the previous inspection.
func ChangePlan(a *rules.Assessment, s Sheet, changes []Change) *Scene {
	f := newFrame(a, s, "change plan", "Change plan")
	type place struct {
		c  *Change
		at point
	}
	var on []place
	var lost []string
	counts := map[string]int{}
	f.marks = newOccupied(f.taken.area)
	for i := range changes {
		c := &changes[i]
		if a.Plan == nil || !c.X.Known || !c.Y.Known {
			lost = append(lost, c.Label)
			continue
		}
		q, ok := a.Plan.ToPlan(c.Plate, float64(c.X.V), float64(c.Y.V))
		p := f.view.pt(q)
		if !ok || !f.known || !f.clip.holds(p) {
			if !ok || f.sheet.tile == nil {
				lost = append(lost, c.Label)
			}
			continue
		}
		counts[c.Class]++
		on = append(on, place{c, p})
		f.marks.add(rect{p.x, p.y, p.x, p.y}.grow(0.9))
	}
	f.drawPlates(plateStyle{edge: mist})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.number(f.numbers(steel), false, 2.4, func(r rect) int { return f.marks.overlap(r, 60) })
	for _, d := range on {
		changeMark(&f.board, d.c.Class, d.c.Label, d.at)
	}
	written, named := 0, 0
	for _, class := range changeClasses[:2] {
		for _, d := range on {
			if d.c.Class != class.name {
				continue
			}
			named++
			l := Label{Text: d.c.Label, Size: spotSize, Paint: ink, Halo: true, Class: "change-label"}
			b := rect{d.at.x, d.at.y, d.at.x, d.at.y}.grow(0.9)
			if f.beside(l, b, 0.3) || named <= mostLeaders && f.beside(l, b, 2.5) {
				written++
			}
		}
	}
	f.unnamed = f.nameFixtures()

	f.legend.heading("Since the previous inspection")
	for _, class := range changeClasses {
		if n := counts[class.name]; n > 0 {
			f.legend.entry(class.name+": "+count(n), func(b *board, c point) { changeMark(b, class.name, "", c) })
		}
	}
	f.legend.names("Plates renewed since", renewedPlates(a))
	if len(changes) == 0 {
		f.legend.text("No pair of places was compared")
	}
	if named > 0 {
		f.legend.text("Labels of grown and new: " + count(written) + " of " + count(named))
	}
	f.legend.names("Without a place on the plan", lost)
	f.closePlan()
	return f.finish()
}

// renewedPlates are the labels of plates whose metal is newer than the
// inspection compared with.
func renewedPlates(a *rules.Assessment) []string {
	var out []string
	if c := a.Comparison; c != nil && a.Inspection != nil {
		for i := range c.Plates {
			if p := &c.Plates[i]; p.Replaced != "" && p.New >= 0 {
				out = append(out, a.Inspection.Plates[p.New].Label.Text)
			}
		}
	}
	return out
}

// GrowthChart sets the remaining thickness of paired places now against then:
// below the line of equal values metal was lost. spread is how far UT values
// may differ without a change, mm.
func GrowthChart(a *rules.Assessment, s Sheet, changes []Change, spread float64) *Scene {
	c := newChart(a, s, "growth chart", "Remaining thickness then and now")
	side := min(c.plot.width(), c.plot.height())
	keyX := c.plot.x1 + side + 6
	c.plot.x2, c.plot.y1 = c.plot.x1+side, c.plot.y2-side
	sys := unit.SI
	if a.Inspection != nil {
		sys = a.Inspection.Units
	}
	factor := unit.Thickness.Factor(sys)
	top, pairs := 0.0, 0
	counts := map[string]int{}
	for _, ch := range changes {
		if ch.Old.Known && ch.New.Known {
			top = max(top, float64(ch.Old.V), float64(ch.New.V))
			pairs++
			counts[ch.Class]++
		}
	}
	c.x1, c.y1 = 0, 0
	c.x2 = max(top/factor*1.05, 1e-3)
	if pairs == 0 {
		c.x2 = 1
	}
	c.y2 = c.x2
	t := ticks(0, c.x2, 7)
	c.axes(t, t, "Then, "+unit.Thickness.Unit(sys), "Now, "+unit.Thickness.Unit(sys))
	clip := c.plot
	c.clip = &clip
	c.line(equalPath, c.at(0, 0), c.at(c.x2, c.y2))
	if spread > 0 && isNumber(spread) {
		d := spread / factor
		c.line(tenPath, c.at(0, d), c.at(c.x2, c.y2+d))
		c.line(tenPath, c.at(0, -d), c.at(c.x2, c.y2-d))
	}
	for _, ch := range changes {
		if ch.Old.Known && ch.New.Known {
			changeMark(&c.board, ch.Class, ch.Label, c.at(float64(ch.Old.V)/factor, float64(ch.New.V)/factor))
		}
	}
	c.border()
	if pairs == 0 {
		c.empty("No place has both values")
	}
	at := point{keyX, c.plot.y1 + 3}
	run := func(p Path) func(*board, point) {
		return func(b *board, q point) { b.line(p, point{q.x - 3, q.y}, point{q.x + 3, q.y}) }
	}
	at = c.key(at, "equal values", run(equalPath))
	if spread > 0 && !math.IsInf(spread, 0) {
		at = c.key(at, "within the spread of two UT values", run(tenPath))
	}
	for _, class := range changeClasses {
		if n := counts[class.name]; n > 0 {
			at = c.key(at, class.name+": "+count(n), func(b *board, p point) { changeMark(b, class.name, "", p) })
		}
	}
	return c.finish()
}
