package draw

import (
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/spelling"
)

// Work is one repair as the plan draws it.
type Work struct {
	Label    string
	Kind     string // patch, weld build-up, replace plate, line
	Plate    int    // index in Inspection.Plates
	Box      floor.Box
	Boxed    bool         // Box is known
	Shape    string       // rounded rectangle, circle, tombstone
	Done     bool         // completed
	Proposed bool         // by the program, not by a person
	Shell    *AlongShell  // of a repair that follows the shell instead of the plate
	Item     *repair.Item // as the list of repairs has it, nil without one
}

// AlongShell is a repair whose sides run along the shell and square to it.
type AlongShell struct {
	Outline       floor.Ring  // in plan
	Middle        floor.Point // in the plate's frame
	Length, Width float64     // along the shell and inward from it, mm
	Clear         float64     // from the nearest seam, mm; infinite without one
}

// size is what is cut, mm.
func (w *Work) size() (length, width float64) {
	if w.Shell != nil {
		return w.Shell.Length, w.Shell.Width
	}
	return w.Box.Length(), w.Box.Width()
}

// middle is where it lies, in the plate's frame.
func (w *Work) middle() floor.Point {
	if w.Shell != nil {
		return w.Shell.Middle
	}
	return w.Box.Centre()
}

// whole says whether the repair takes the whole plate.
func (w *Work) whole() bool { return w.Kind == "replace plate" || w.Kind == "line" }

// RepairPlan shows the repairs of the Planned repairs sheet, and the places
// that need a repair and have none.
func RepairPlan(a *rules.Assessment, s Sheet) *Scene {
	return RepairPlanOf(a, s, PlannedWork(a))
}

// PlannedWork is the rows of the Planned repairs sheet, or what the program
// proposes where it is blank.
func PlannedWork(a *rules.Assessment) []Work {
	if a.Inspection == nil || a.Plan == nil {
		return nil
	}
	if a.Repairs != nil && a.Repairs.Proposed {
		return proposedWork(a)
	}
	f := &frame{a: a}
	items := map[int]*repair.Item{}
	if a.Repairs != nil {
		for i := range a.Repairs.Items {
			items[a.Repairs.Items[i].Row] = &a.Repairs.Items[i]
		}
	}
	var out []Work
	for i := range a.Inspection.Repairs {
		r := &a.Inspection.Repairs[i]
		if r.Out {
			continue
		}
		w := Work{
			Label: r.Label.Value, Kind: r.Kind.Value, Plate: f.plateIndex(r.Plate.Value), Shape: r.Shape.Value,
			Done: inspection.Is(r.Status, "completed"), Item: items[i],
		}
		if at, ok := a.Plan.RepairAt(w.Plate, r, a.Inspection.Criteria); ok {
			w.Box, w.Boxed = at.OnPlate(), true
			w.Shell = alongShell(a, &at, float64(r.X.Value), float64(r.Y.Value), w.Shape)
		}
		out = append(out, w)
	}
	return out
}

func proposedWork(a *rules.Assessment) []Work {
	var out []Work
	for i := range a.Repairs.Items {
		it := &a.Repairs.Items[i]
		w := Work{Label: it.Label, Kind: string(it.Kind), Plate: it.Plate, Box: it.Box, Boxed: it.Boxed, Shape: it.Shape, Done: it.Completed, Proposed: true, Item: it}
		if at, ok := a.Repairs.Footprint(it); ok {
			w.Shell = alongShell(a, &at, float64(it.X), float64(it.Y), it.Shape)
		}
		out = append(out, w)
	}
	return out
}

// alongShell is a repair that follows the shell, nil where it follows its plate.
func alongShell(a *rules.Assessment, at *floor.Footprint, x, y float64, shape string) *AlongShell {
	if !at.Along() {
		return nil
	}
	ring, ok := patchOutline(a, at.Plan, at.Frame, at.Box, shape)
	middle, too := a.Plan.ToLocal(at.Plate, x, y)
	if !ok || !too {
		return nil
	}
	clear, _ := at.Plan.ToSeam(at.Frame, at.Box)
	return &AlongShell{Outline: ring, Middle: middle, Length: at.Box.Length(), Width: at.Box.Width(), Clear: clear}
}

// leastPatch is the size of the smallest patch drawn, mm of paper.
const leastPatch = 1.6

// RepairPlanOf shows the given repairs to shape: planned, completed and
// proposed apart, with their labels; and what needs repair and has none.
func RepairPlanOf(a *rules.Assessment, s Sheet, works []Work) *Scene {
	f := newFrame(a, s, "repair plan", "Repair plan")
	whole, lost := f.wholePlates(works)
	f.drawPlates(plateStyle{edge: steel, fill: func(i int) Paint {
		if w, ok := whole[i]; ok {
			return workPath(*w).Fill
		}
		if a.Plan.Plates[i].Sector {
			return haze
		}
		return paper
	}})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.drawPatches()

	f.marks = newOccupied(f.taken.area)
	open, engineer := f.open()
	for i := range open {
		f.marks.add(open[i].box)
	}
	type drawn struct {
		w   *Work
		box rect
	}
	var list []drawn
	for i := range works {
		w := &works[i]
		if w.whole() {
			continue
		}
		ring, ok := f.workRing(w)
		if !ok {
			lost = append(lost, w.Label)
			continue
		}
		b := bounds(ring)
		if !b.meets(*f.clip) {
			if s.tile == nil {
				lost = append(lost, w.Label)
			}
			continue
		}
		f.marks.add(b)
		list = append(list, drawn{w, b})
		p := workPath(*w)
		p.ID = w.Label
		f.shape(p, ring)
	}
	tags := f.numbers(steel)
	for i := range tags {
		if w, ok := whole[tags[i].plate]; ok {
			tags[i].value = w.Label + " " + w.Kind
			tags[i].paint = over(workPath(*w).Fill)
		}
	}
	f.number(tags, false, 2.4, func(r rect) int { return f.marks.overlap(r, 60) })
	for i := range open {
		m := &open[i]
		f.needMark(&f.board, m.at, m.key)
	}
	unlabelled := 0
	for _, d := range list {
		l := Label{Text: d.w.Label, Size: leastSize, Bold: true, Paint: ink, Halo: true, Class: "repair-label"}
		if !f.beside(l, d.box, 0.4) && !f.beside(l, d.box, 2.6) && !f.beside(l, d.box, 5) {
			unlabelled++
		}
	}
	for i := len(open) - 1; i >= 0; i-- {
		f.beside(Label{Text: open[i].id, Size: spotSize, Paint: accent, Halo: true, Class: "indication-label"}, open[i].box, 0.4)
	}
	f.unnamed = f.nameFixtures()
	f.repairLegend(works, len(open), engineer)
	if unlabelled > 0 {
		f.legend.text(spelling.Count(unlabelled, "repair is", "repairs are") + " drawn without room for the label; see the list")
	}
	f.legend.names("Repairs without a place on the plan", lost)
	f.leftOut()
	f.legend.heading("Plan")
	f.datumNotes()
	f.patchEntry()
	f.fixtureLegend()
	f.floorNotes(f.unnamed)
	return f.finish()
}

// wholePlates finds the repairs that take a whole plate.
func (f *frame) wholePlates(works []Work) (map[int]*Work, []string) {
	whole := map[int]*Work{}
	var lost []string
	for i := range works {
		w := &works[i]
		if !w.whole() {
			continue
		}
		if f.a.Plan == nil || w.Plate < 0 || w.Plate >= len(f.a.Plan.Plates) || !f.a.Plan.Plates[w.Plate].Placed {
			lost = append(lost, w.Label)
			continue
		}
		// Replacing a plate outweighs lining it.
		if old, ok := whole[w.Plate]; !ok || old.Kind == "line" {
			whole[w.Plate] = w
		}
	}
	return whole, lost
}

// workRing is the repair's outline, grown about its centre where it would be
// too small to see.
func (f *frame) workRing(w *Work) ([]point, bool) {
	if !w.Boxed || !f.known {
		return nil, false
	}
	if w.Shell != nil && !f.unrolled {
		return f.view.ring(w.Shell.Outline), true
	}
	b := w.Box
	grow := func(lo, hi *float64) {
		if d := leastPatch/f.view.k - (*hi - *lo); d > 0 {
			*lo -= d / 2
			*hi += d / 2
		}
	}
	grow(&b.U1, &b.U2)
	grow(&b.V1, &b.V2)
	shape := w.Shape
	if w.Kind == "weld build-up" {
		shape = "circle"
	}
	return f.patchRing(w.Plate, b, shape)
}

// workPath is a repair's look: completed ones dark, planned ones light, the
// program's proposals dashed.
func workPath(w Work) Path {
	p := Path{Fill: ramp[1], Stroke: ink, Width: 0.25, Class: "repair planned"}
	switch {
	case w.Done:
		p.Fill, p.Class = ramp[4], "repair completed"
	case w.Proposed:
		p.Dash, p.Class = []float64{0.8, 0.5}, "repair proposed"
	}
	if w.Kind == "line" && !w.Done {
		p.Fill = ramp[0]
	}
	return p
}

// open is the places that need a repair and have none, and how many of them
// an engineer must look at first.
func (f *frame) open() (list []spot, engineer int) {
	if f.a.Result == nil || f.a.Plan == nil || !f.known {
		return nil, 0
	}
	need := map[string]assess.Verdict{}
	for i := range f.a.Result.Locations {
		l := &f.a.Result.Locations[i]
		switch l.Verdict {
		case assess.Repair, assess.RepairFirst, assess.Engineering:
			if l.Repair == "" {
				need[l.Label] = l.Verdict
			}
		}
	}
	if len(need) == 0 {
		return nil, 0
	}
	spots, _ := f.spots(lossScale(f.a), func(l *assess.Location) bool { return need[l.Label] != "" })
	byWorst(spots)
	for _, m := range spots {
		if need[m.key] == assess.Engineering {
			engineer++
		}
		m.box = rect{m.at.x, m.at.y, m.at.x, m.at.y}.grow(0.9)
		list = append(list, m)
	}
	return list, engineer
}

// needMark is a triangle: something to be done here.
func (f *frame) needMark(b *board, c point, key string) {
	b.shape(Path{Fill: paper, Stroke: accent, Width: 0.25, Class: "needs-repair", ID: key},
		[]point{{c.x, c.y - 0.9}, {c.x + 0.85, c.y + 0.6}, {c.x - 0.85, c.y + 0.6}})
}

// workSwatch is a repair of a kind in a legend.
func workSwatch(b *board, p Path, kind string, c point) {
	switch kind {
	case "weld build-up":
		b.circle(p, c, 1.4)
	case "patch":
		b.box(p, rect{c.x - 1.9, c.y - 1.3, c.x + 1.9, c.y + 1.3})
	default:
		b.box(p, rect{c.x - 3.2, c.y - 1.5, c.x + 3.2, c.y + 1.5})
	}
}

func (f *frame) repairLegend(works []Work, open, engineer int) {
	f.legend.heading("Repairs")
	type key struct {
		kind           string
		done, proposed bool
	}
	counts := map[key]int{}
	for _, w := range works {
		counts[key{w.Kind, w.Done, w.Proposed}]++
	}
	for _, kind := range [...]string{"patch", "weld build-up", "replace plate", "line"} {
		for _, st := range [...]struct {
			word           string
			done, proposed bool
		}{{"planned", false, false}, {"completed", true, false}, {"proposed by the program", false, true}} {
			n := counts[key{kind, st.done, st.proposed}]
			if n == 0 {
				continue
			}
			p := workPath(Work{Kind: kind, Done: st.done, Proposed: st.proposed})
			f.legend.entry(kind+", "+st.word+": "+count(n), func(b *board, c point) { workSwatch(b, p, kind, c) })
		}
	}
	if len(works) == 0 {
		f.legend.text("No repair is planned")
	}
	if open > 0 {
		f.legend.entry("needs repair, none assigned: "+count(open), func(b *board, c point) { f.needMark(b, c, "") })
	}
	if engineer > 0 {
		f.legend.text(spelling.Count(engineer, "of them needs", "of them need") + " an engineer's evaluation first")
	}
	if f.known && len(works) > 0 {
		f.legend.text("Repairs are to size, but no smaller than " + f.floorLength(leastPatch/f.view.k) + " of floor")
	}
}
