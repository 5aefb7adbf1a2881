package draw

import (
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// detail is one plate drawn by itself, its length along the paper. An annular
// plate is unrolled along the shell, which stands on top.
type detail struct {
	*frame
	plate  int
	p      *floor.Plate
	sector bool
}

// PlateDetail is one plate to scale with its dimensions from the datum corner,
// its indications with loss and remaining thickness, and the repairs on it
// with their sizes and their distance to the nearest seam. Nil for a plate
// without a size or an outline.
func PlateDetail(a *rules.Assessment, s Sheet, plate int, works []Work) *Scene {
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
	f.spotText = 2.4
	f.scene.Items = f.scene.Items[:0]
	f.box(Path{Fill: paper, Class: "sheet"}, rect{0, 0, f.scene.Width, f.scene.Height}.grow(-0.3))
	f.turned, f.unrolled = p.Turned, p.Sector
	d.outline()
	d.rulers()
	spots, rows := d.spots()
	done := d.works(works)
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
	labelled := f.labelSpots(spots)
	d.words(done, spots, rows, labelled, then)
	return f.finish()
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

func (d *detail) outline() {
	// The plate before cutting, then what the rim and the sump left of it.
	c := [...]floor.Point{{}, {X: d.p.Length}, {X: d.p.Length, Y: d.p.Width}, {Y: d.p.Width}}
	var whole []point
	for _, q := range c {
		whole = append(whole, d.point(q))
	}
	d.shape(Path{Stroke: mist, Width: fine, Dash: []float64{1.5, 1}, Class: "uncut"}, whole)
	var cut [][]point
	for _, r := range d.p.Cut {
		cut = append(cut, d.ring(r))
	}
	d.shape(Path{Fill: haze, Stroke: ink, Width: strong, Class: "plate", ID: d.plateName(d.plate), EvenOdd: true}, cut...)
	// Words stand inside the plate or beside it, not across its edge.
	for _, ring := range cut {
		for i, q := range ring {
			d.keepOff(q, ring[(i+1)%len(ring)])
		}
	}
	for _, r := range d.p.Net {
		d.shape(Path{Stroke: steel, Width: hair, Dash: []float64{0.8, 0.6}, Class: "lap"}, d.ring(r))
	}
	if d.sector {
		a, b := whole[0], whole[1]
		d.line(Path{Stroke: ink, Width: 0.8, Class: "shell"}, point{a.x, a.y - 0.4}, point{b.x, b.y - 0.4})
		d.taken.add(rect{a.x, a.y - 0.9, b.x, a.y + 0.1})
	}
}

// keepOff keeps words off a line; a slanting one in short boxes.
func (d *detail) keepOff(a, b point) {
	n := 1
	if math.Abs(a.x-b.x) > 0.2 && math.Abs(a.y-b.y) > 0.2 {
		n = int(math.Ceil(math.Hypot(a.x-b.x, a.y-b.y)))
	}
	at := func(i int) point {
		s := float64(i) / float64(n)
		return point{a.x + s*(b.x-a.x), a.y + s*(b.y-a.y)}
	}
	for i := range n {
		d.taken.add(bounds([]point{at(i), at(i + 1)}).grow(0.15))
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

// works draws the repairs on this plate and returns them.
func (d *detail) works(works []Work) []*Work {
	var on []*Work
	var edges []rect
	for i := range works {
		w := &works[i]
		if w.Plate != d.plate {
			continue
		}
		on = append(on, w)
		if !w.Boxed {
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
			for _, q := range roundBox(d.a, d.a.Plan, d.plate, w.Box, shape) {
				ring = append(ring, d.point(q))
			}
		}
		p := workPath(*w)
		p.ID = w.Label
		d.shape(p, ring)
		b := bounds(ring)
		edges = append(edges, rect{b.x1, b.y1, b.x2, b.y1}, rect{b.x1, b.y2, b.x2, b.y2}, rect{b.x1, b.y1, b.x1, b.y2}, rect{b.x2, b.y1, b.x2, b.y2})
		l := Label{Text: w.Label, Size: 2.8, Bold: true, Paint: ink, Halo: true, Class: "repair-label"}
		if !d.beside(l, b, 0.5) {
			d.beside(l, b, 3)
		}
	}
	// Words may stand inside a patch or outside, not across its edge.
	for _, e := range edges {
		d.taken.add(e.grow(0.1))
	}
	return on
}

// words fills the legend: repairs with their sizes, then the indications.
func (d *detail) words(works []*Work, spots []spot, rows []*assess.Location, labelled int, then *earlier) {
	size := func(v float64) string { return unit.Size.Text(d.sys, v, 0) }
	if len(works) > 0 {
		d.legend.heading("Repairs, " + unit.Size.Unit(d.sys))
		for _, w := range works {
			text := w.Label + " " + w.Kind
			if w.Shell != nil {
				text = w.Label + " " + w.Shape
			}
			if w.Boxed {
				middle := w.middle()
				x, y, ok := d.a.Plan.FromLocal(d.plate, middle)
				length, width := w.size()
				far, _ := d.a.Plan.ToSeam(d.plate, w.Box)
				if w.Shell != nil {
					text += ": " + size(length) + " along the shell × " + size(width) + " inward"
					far = w.Shell.Clear
				} else {
					text += ": " + size(length) + " × " + size(width)
				}
				if ok && !w.whole() {
					text += " at X " + size(x) + ", Y " + size(y)
				}
				if at, ok := d.a.Plan.LocalToPlan(d.plate, middle); ok && w.Shell != nil && d.a.Plan.NorthKnown {
					text += ", bearing " + unit.Bearing.TextUnit(d.sys, d.a.Plan.Bearing(at), 0)
				}
				if !math.IsInf(far, 0) && !w.whole() {
					if far <= 0 {
						text += ", over a seam"
					} else {
						text += ", " + size(far) + " from the nearest seam"
					}
				}
			}
			switch {
			case w.Done:
				text += ", completed"
			case w.Proposed:
				text += ", proposed by the program"
			}
			p := workPath(*w)
			d.legend.entry(text, func(b *board, c point) { b.box(p, rect{c.x - 1.9, c.y - 1.3, c.x + 1.9, c.y + 1.3}) })
		}
	}
	d.legend.heading("Indications, worst first")
	d.legend.text("X and Y in " + unit.Size.Unit(d.sys) + ", loss, remaining thickness in " + unit.Thickness.Unit(d.sys))
	for i := len(rows) - 1; i >= 0; i-- {
		l, m := rows[i], &spots[i]
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
		d.legend.row(text + then.since(d, l))
	}
	if len(rows) == 0 {
		d.legend.text("None on this plate")
	} else {
		d.legend.text(labelNote(labelled, len(rows)))
	}
	then.gone(d)
}
