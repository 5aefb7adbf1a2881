package draw

import (
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
)

// detail is one plate drawn by itself, its length along the paper. An annular
// plate is unrolled along the shell, which stands on top.
type detail struct {
	*frame
	plate  int
	p      *floor.Plate
	sector bool
	cut    [][]point // what the rim and the sump left of the plate, on paper
	old    []string  // labels of the patches found on it

	stands []standing // fixtures where the plate is

	trimmed, measured bool // the plate was cut, places are measured out
}

// PlateDetail is one plate to scale with its dimensions from the datum corner,
// its indications with loss and remaining thickness, and the repairs on it
// with their sizes and their distance to the nearest seam. What its list holds
// and a fitter needs goes on on further sheets; rest says where the remaining
// indications are listed. Nil for a plate without a size or an outline.
func PlateDetail(a *rules.Assessment, s Sheet, plate int, works []Work, rest string) []*Scene {
	if a.Plan == nil || a.Inspection == nil || plate < 0 || plate >= len(a.Plan.Plates) || plate >= len(a.Inspection.Plates) {
		return nil
	}
	p := &a.Plan.Plates[plate]
	if !p.Placed || len(p.Cut) == 0 {
		return nil
	}
	name := a.Inspection.Plates[plate].Label.Value
	lay := func(s Sheet) *detail {
		d := &detail{frame: newFrame(a, s, "plate "+name, "Plate "+name), plate: plate, p: p, sector: p.Sector}
		if !d.lay() {
			return nil
		}
		return d
	}
	// A long plate gets the sheet's whole width where that makes it larger.
	d := lay(s)
	s.below = true
	if e := lay(s); d == nil || e != nil && e.view.k > d.view.k {
		d = e
	}
	if d == nil {
		return nil
	}
	f := d.frame
	f.alone = 0.8
	f.scene.Items = f.scene.Items[:0]
	f.box(Path{Fill: paper, Class: "sheet"}, rect{0, 0, f.scene.Width, f.scene.Height}.grow(-0.3))
	f.turned, f.unrolled = p.Turned, p.Sector
	d.outline(works)
	d.rulers()
	d.fixtures()
	d.oldPatches()
	spots, rows := d.spots()
	done, edges := d.works(works)
	then := d.before()
	bands := lossScale(a)
	d.dimensions(d.toMeasure(done, rows))
	for i := range spots {
		fill := paper
		if spots[i].band >= 0 {
			fill = bands.paint(spots[i].band)
		}
		mark(&f.board, &spots[i], fill)
	}
	then.surround(d, spots)
	labelled := d.labels(done, edges, spots, rows)
	d.words(done, spots, rows, labelled, then)
	return d.finishAll(rest)
}

// point is a place of the plate's own frame on paper.
func (d *detail) point(q floor.Point) point {
	if d.sector {
		q.Y = -q.Y
	}
	return d.view.pt(q)
}

// ring is an outline of the plan in the plate's frame, on paper.
func (d *detail) ring(r floor.Ring) []point {
	out := make([]point, 0, len(r))
	for _, q := range r {
		if l, ok := d.a.Plan.PlanToLocal(d.plate, q); ok {
			out = append(out, d.point(l))
		}
	}
	return out
}

// lay chooses the scale: the plate with rulers along two sides.
func (d *detail) lay() bool {
	w, h := d.p.Length, d.p.Width
	if !(w > 0 && h > 0) || math.IsInf(w+h, 0) {
		return false
	}
	room := d.room.grow(-16)
	k := min(room.width()/w, room.height()/h)
	d.view = view{at: room.centre(), of: floor.Point{X: w / 2, Y: h / 2}, k: 1 / niceScale(1/k)}
	if d.sector {
		d.view.of.Y = -h / 2
	}
	d.known = true
	return d.view.k > 0
}

func (d *detail) outline(works []Work) {
	// The plate before cutting, then what the rim and the sump left of it.
	c := [...]floor.Point{{}, {X: d.p.Length}, {X: d.p.Length, Y: d.p.Width}, {Y: d.p.Width}}
	var whole []point
	for _, q := range c {
		whole = append(whole, d.point(q))
	}
	for _, r := range d.p.Cut {
		d.cut = append(d.cut, d.ring(r))
	}
	if d.trimmed = d.lacksCorner(whole); d.trimmed {
		d.shape(uncutPath, whole)
	}
	fill := haze
	for i := range works {
		if w := &works[i]; w.Plate == d.plate && w.whole() {
			fill = workPath(*w).Fill
		}
	}
	d.shape(Path{Fill: fill, Stroke: ink, Width: strong, Class: "plate", ID: d.plateName(d.plate), EvenOdd: true}, d.cut...)
	// Words stand inside the plate or beside it, not across its edge or a lap.
	for _, ring := range d.cut {
		d.keepOffRing(ring)
	}
	for _, r := range d.laps() {
		ring := d.ring(r)
		d.shape(lapPath, ring)
		d.keepOffRing(ring)
	}
	if d.sector {
		a, b := whole[0], whole[1]
		d.line(Path{Stroke: ink, Width: 0.8, Class: "shell"}, point{a.x, a.y - 0.4}, point{b.x, b.y - 0.4})
		d.taken.add(rect{a.x, a.y - 0.9, b.x, a.y + 0.1})
	}
}

// laps is the outlines along the middle of the laps; plates of the annular ring
// have none.
func (d *detail) laps() floor.Shape {
	if d.sector || d.a.Plan.Lap <= 0 {
		return nil
	}
	return d.p.Net
}

// lacksCorner says whether the plate lost one of its corners.
func (d *detail) lacksCorner(whole []point) bool {
	if d.sector {
		return false
	}
	for _, c := range whole {
		at := func(p point) bool { return math.Hypot(p.x-c.x, p.y-c.y) < 0.1 }
		if !slices.ContainsFunc(d.cut, func(ring []point) bool { return slices.ContainsFunc(ring, at) }) {
			return true
		}
	}
	return false
}

var uncutPath = Path{Stroke: mist, Width: fine, Dash: []float64{1.5, 1}, Class: "uncut"}

// lapPath is the middle of a lap with the next plate.
var lapPath = Path{Stroke: steel, Width: hair, Dash: []float64{0.8, 0.6}, Class: "lap"}

// keepOffRing keeps words off an outline, on a drawing that has words.
func (f *frame) keepOffRing(ring []point) {
	if len(ring) > 0 && f.taken != nil {
		keepOff(f.taken, 0.15, append(ring[:len(ring):len(ring)], ring[0])...)
	}
}

// spots is the plate's indications in its own frame, the worst last, and their
// locations in the same order.
func (d *detail) spots() ([]spot, []*assess.Location) {
	if d.a.Result == nil {
		return nil, nil
	}
	bands := lossScale(d.a)
	type pair struct {
		m spot
		l *assess.Location
	}
	var all []pair
	for i := range d.a.Result.Locations {
		l := &d.a.Result.Locations[i]
		if l.Plate != d.plate || l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt {
			continue
		}
		m := spot{id: spotName(d.a, l), key: l.Label, side: l.Side, band: -1, at: d.point(l.Box.Centre())}
		if m.side == assess.Both {
			m.side = assess.Unknown
		}
		if m.loss, m.known = LossOf(l); m.known {
			m.band = bands.band(m.loss)
		}
		m.proved = l.ProveUp >= 0 || len(l.Tied) > 0
		m.faint = l.Verdict == assess.NotRelevant || l.Verdict == assess.Excluded
		m.a = max(l.Box.Length()*d.view.k, leastMark) / 2
		m.b = max(l.Box.Width()*d.view.k, leastMark) / 2
		m.box = turnedBox(m.at, point{m.a, m.b}, 0)
		all = append(all, pair{m, l})
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		switch {
		case a.m.faint != b.m.faint:
			return before(a.m.faint)
		case a.m.known != b.m.known:
			return before(!a.m.known)
		case a.m.loss < b.m.loss:
			return -1
		case a.m.loss > b.m.loss:
			return 1
		}
		return 0
	})
	d.marks = newOccupied(d.taken.area)
	spots := make([]spot, len(all))
	rows := make([]*assess.Location, len(all))
	for i, p := range all {
		spots[i], rows[i] = p.m, p.l
		d.marks.add(p.m.box)
	}
	return spots, rows
}

// works draws the repairs on this plate and returns them with the boxes of
// those that have a place, empty for others.
func (d *detail) works(works []Work) (on []*Work, boxes []rect) {
	for i := range works {
		w := &works[i]
		if w.Plate != d.plate {
			continue
		}
		on, boxes = append(on, w), append(boxes, rect{})
		if !w.Boxed || w.whole() {
			continue
		}
		shape := w.Shape
		if w.Kind == "weld build-up" {
			shape = "circle"
		}
		var ring []point
		if w.Shell != nil {
			ring = d.ring(w.Shell.Outline)
		} else {
			ring = d.boxed(w.Box, shape)
		}
		p := workPath(*w)
		p.ID = w.Label
		d.shape(p, ring)
		boxes[len(boxes)-1] = bounds(ring)
		// Words may stand inside a patch or outside, not across its edge.
		d.keepOffRing(ring)
	}
	return on, boxes
}

// boxed is the outline of a box along the plate, on paper.
func (d *detail) boxed(b floor.Box, shape string) (ring []point) {
	for _, q := range roundBox(d.a, d.a.Plan, d.plate, b, shape) {
		ring = append(ring, d.point(q))
	}
	return ring
}

// oldPatches draws the patches found on the plate, which no new one may lie on.
func (d *detail) oldPatches() {
	for i := range d.a.Inspection.Patches {
		p := &d.a.Inspection.Patches[i]
		if p.Out || d.plateIndex(p.Plate.Value) != d.plate {
			continue
		}
		at, ok := d.a.Plan.PatchAt(d.plate, p, d.a.Inspection.Criteria)
		if !ok || !(at.Box.Length() > 0 && at.Box.Width() > 0) {
			continue
		}
		ring := d.boxed(at.Box, p.Shape.Value)
		if at.Along() {
			outline, ok := patchOutline(d.a, at.Plan, at.Frame, at.Box, p.Shape.Value)
			if !ok {
				continue
			}
			ring = d.ring(outline)
		}
		style := patchPath
		style.ID = rowKey(p.Row)
		d.shape(style, ring)
		d.keepOffRing(ring)
		d.old = append(d.old, p.Label.Value)
	}
}
