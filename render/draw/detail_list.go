package draw

import (
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/repair"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// words fills the legend: what a crew cuts and where it goes, what the signs
// mean, then the indications. Where that takes further sheets, the signs come
// first, to stand beside the drawing that they explain.
func (d *detail) words(works []*Work, spots []spot, rows []*assess.Location, labelled int, then *earlier) {
	d.legend.goesOn = true
	empty, drawn := d.legend, len(d.scene.Items)
	key := func() {
		d.key(spots)
		then.explain(d)
	}
	d.list(works, spots, rows, labelled, then, func() {}, key)
	if d.legend.needed() {
		d.legend, d.scene.Items = empty, d.scene.Items[:drawn]
		d.list(works, spots, rows, labelled, then, key, func() {})
	}
}

// list is the words, with the signs before or after the repairs.
func (d *detail) list(works []*Work, spots []spot, rows []*assess.Location, labelled int, then *earlier, before, after func()) {
	if n := len(rows) - labelled; n > 0 {
		// A caution comes before anything that may run out of room.
		d.legend.text("Of the indications " + count(labelled) + " have a label; " + spelling.Count(n, "found no room for one and stands in lists only", "found no room for one and stand in lists only"))
	}
	before()
	if len(works) > 0 {
		d.legend.heading("Repairs, sizes and thickness (" + unit.Size.Unit(d.sys) + ")")
		for _, w := range works {
			p := workPath(*w)
			d.legend.block(d.workLines(w), func(b *board, c point) { workSwatch(b, p, w.Kind, c) })
		}
		d.legend.text("Weld size, procedure and grade of steel are not set by this sheet")
	} else {
		d.legend.text("No repair is planned on this plate")
	}
	after()
	d.legend.together(float64(len(rows)+3)*1.5*wordSize + 4)
	d.legend.heading("Indications, worst first")
	if len(rows) == 0 {
		d.legend.text("None on this plate")
		then.gone(d)
		return
	}
	order, mixed := d.neededFirst(works, rows)
	words := "X and Y of the middle (" + unit.Size.Unit(d.sys) + "), loss, remaining thickness (" + unit.Thickness.Unit(d.sys) + ")"
	if mixed {
		words += "; before others those with a repair or to be judged"
	}
	d.legend.explain(words)
	for _, r := range order {
		d.legend.minor = r.minor
		d.legend.row(d.spotRow(&spots[r.i], rows[r.i]) + then.since(d, rows[r.i]))
	}
	d.legend.minor = false
	then.gone(d)
}

// ranked is a row of the list of indications.
type ranked struct {
	i     int
	minor bool
}

// neededFirst is the rows, which come with the worst last, in the order of the
// list: what a fitter needs before the rest, each with the worst first. Mixed is
// whether anything milder stands before something worse.
func (d *detail) neededFirst(works []*Work, rows []*assess.Location) (order []ranked, mixed bool) {
	for i := len(rows) - 1; i >= 0; i-- {
		r := ranked{i, !d.needed(works, rows[i])}
		mixed = mixed || !r.minor && len(order) > 0 && order[len(order)-1].minor
		order = append(order, r)
	}
	slices.SortStableFunc(order, func(a, b ranked) int {
		if a.minor == b.minor {
			return 0
		}
		return before(!a.minor)
	})
	return order, mixed
}

// needed says whether a fitter may look for a place in the list: one that is to
// be repaired or judged by itself, not with the whole plate.
func (d *detail) needed(works []*Work, l *assess.Location) bool {
	if l.Repair != "" {
		for _, w := range works {
			if w.Label == l.Repair && w.whole() {
				return false
			}
		}
	}
	return d.mustFind(works, l)
}

func (d *detail) spotRow(m *spot, l *assess.Location) string {
	size := func(v float64) string { return unit.Size.Text(d.sys, v, 0) }
	text := m.id
	if x, y, ok := d.a.Plan.FromLocal(d.plate, l.Box.Centre()); ok {
		text += ": X " + size(x) + ", Y " + size(y)
	}
	if m.known {
		text += ", " + unit.Share.TextUnit(d.sys, m.loss, 0)
	}
	if l.Remaining.Known {
		text += ", " + sentence(unit.Thickness.Text(d.sys, float64(l.Remaining.V), 0), string(l.Basis))
	}
	text += ", " + m.side.String()
	if m.side == assess.Unknown {
		text += " side"
	}
	if need := lacksRepair(l); need != "" {
		text += ", " + need
	}
	return text
}

// workLines is all that a fitter needs of a repair: what it is, its steel, its
// place, what is around it, and what is still to be settled.
func (d *detail) workLines(w *Work) []string {
	what := w.Label + " " + w.Kind
	if w.Kind == "patch" && (w.Shape == repair.Tombstone || w.Shape == repair.Circle) {
		what += ", " + w.Shape
	}
	switch {
	case w.Done:
		what += ", completed"
	case w.Proposed:
		what += ", proposed by the program"
	default:
		what += ", planned"
	}
	lines := []string{what}
	add := func(parts ...string) {
		if text := strings.Join(filled(parts), "; "); text != "" {
			lines = append(lines, text)
		}
	}
	add(d.steel(w))
	if w.Boxed && !w.whole() {
		add(d.place(w))
		add(d.clear(w), d.reach(w))
	}
	it := w.Item
	if it == nil {
		return lines
	}
	covers, weld := "", ""
	if len(it.IDs) > 0 && !w.whole() {
		covers = "covers " + some(it.IDs, 12)
	}
	if it.Weld > 0 {
		weld = unit.Height.TextUnit(d.sys, float64(it.Weld), 0) + " of weld to the floor"
		if it.ShellWeld > 0 {
			weld += ", " + unit.Height.TextUnit(d.sys, float64(it.ShellWeld), 0) + " at the shell"
		}
	}
	add(covers, weld)
	engineer, checks := "", ""
	if it.Engineer && !w.Done {
		engineer = "an engineer has to agree"
	}
	failed := 0
	var open []string
	for _, c := range it.Checks {
		switch {
		case !c.Known:
			open = append(open, c.Note)
		case !c.OK:
			failed++
		}
	}
	if failed > 0 {
		checks = spelling.Count(failed, "check fails", "checks fail") + ", see the list of repairs"
	}
	unmade := ""
	if len(open) > 0 {
		unmade = "not checked: " + some(open, 2)
	}
	add(engineer, checks, unmade)
	return lines
}

// steel is what is cut: sizes, thickness, corners.
func (d *detail) steel(w *Work) string {
	size := func(v float64) string { return unit.Size.Text(d.sys, v, 0) }
	thick := ""
	if w.Kind == "patch" || w.Kind == "replace plate" {
		thick = "thickness not given"
		if w.Item != nil && w.Item.Thickness.Known {
			thick = unit.Thickness.Text(d.sys, float64(w.Item.Thickness.V), 0) + " thick"
		}
	}
	length, width := w.size()
	switch {
	case w.Kind == "line":
		return "the whole plate"
	case w.whole():
		text := "new plate " + size(d.p.Length) + " along X × " + size(d.p.Width) + " along Y, " + thick
		if d.trimmed {
			text += ", cut to the outline drawn"
		}
		return text
	case !w.Boxed:
		return strings.Join(filled([]string{"no place or size given", thick}), ", ")
	case w.Kind != "patch":
		return size(length) + " along X × " + size(width) + " along Y"
	case w.Shape == repair.Circle:
		return "cut: diameter " + size(min(length, width)) + ", " + thick
	}
	sides := size(length) + " along X × " + size(width) + " along Y"
	corners := "corners"
	if w.Shell != nil {
		sides = size(length) + " along the shell × " + size(width) + " inward"
	}
	if w.Shape == repair.Tombstone {
		corners = "corners at the shell square, the others"
	}
	radius := cornerRadius(d.a, length, width)
	if radius > 0 {
		corners += " rounded, radius " + size(radius)
	} else {
		corners += " square"
	}
	return "cut: " + sides + ", " + thick + ", " + corners
}

// place is where the repair lies, from the datum corner.
func (d *detail) place(w *Work) string {
	size := func(v float64) string { return unit.Size.Text(d.sys, v, 0) }
	plan := d.a.Plan
	x, y, ok := plan.FromLocal(d.plate, w.middle())
	if !ok {
		return "the plate's datum corner is unusable: no place can be given"
	}
	text := "centre X " + size(x) + ", Y " + size(y)
	if w.Shell != nil {
		if at, ok := plan.LocalToPlan(d.plate, w.middle()); ok && plan.NorthKnown {
			text += ", bearing " + unit.Bearing.TextUnit(d.sys, plan.Bearing(at), 0)
		}
		return text
	}
	x1, y1, _ := plan.FromLocal(d.plate, floor.Point{X: w.Box.U1, Y: w.Box.V1})
	x2, y2, _ := plan.FromLocal(d.plate, floor.Point{X: w.Box.U2, Y: w.Box.V2})
	return text + "; edges X " + size(min(x1, x2)) + " to " + size(max(x1, x2)) + ", Y " + size(min(y1, y2)) + " to " + size(max(y1, y2))
}

// clear is how far the repair stays from the nearest seam.
func (d *detail) clear(w *Work) string {
	far, _ := d.a.Plan.ToSeam(d.plate, w.Box)
	if w.Shell != nil {
		far = w.Shell.Clear
	}
	switch {
	case math.IsInf(far, 0):
		return ""
	case far <= 0:
		return "over a seam"
	}
	return unit.Size.Text(d.sys, far, 0) + " clear of the nearest seam"
}

// reach is how far a patch goes beyond the thin metal it covers.
func (d *detail) reach(w *Work) string {
	if w.Item == nil {
		return ""
	}
	for _, c := range w.Item.Checks {
		if c.ID == "patch.overlap" && c.Value.Known {
			return "reaches " + unit.Size.Text(d.sys, float64(c.Value.V), 0) + " beyond what it covers"
		}
	}
	return ""
}
