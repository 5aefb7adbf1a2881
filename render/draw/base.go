package draw

import (
	"math"
	"sort"

	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// plateStyle says how a plan paints its plates.
type plateStyle struct {
	fill func(i int) Paint // nil: white, the annular ring apart
	edge Paint
	lap  bool // show both edges of a lap where paper has room for them
}

// lapShown is the least width of a lap on paper at which both of its edges
// are drawn; narrower ones would be one thick line.
const lapShown = 0.35

// drawPlates paints the plates in sheet order, then their edges.
func (f *frame) drawPlates(st plateStyle) {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		fill := paper
		if p.Sector {
			fill = haze
		}
		if st.fill != nil {
			fill = st.fill(i)
		}
		f.shape(Path{Fill: fill, Class: "plate", ID: f.plateName(i), EvenOdd: true}, f.view.shape(visible(p))...)
	}
	f.drawEdges(st)
}

func (f *frame) drawEdges(st plateStyle) {
	plan := f.a.Plan
	laps := st.lap && plan.Lap*f.view.k >= lapShown
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		if laps && !p.Sector {
			f.shape(Path{Stroke: st.edge, Width: fine, Class: "lap"}, f.view.shape(p.Cut)...)
			continue
		}
		f.shape(Path{Stroke: st.edge, Width: plain, Class: "edge"}, f.view.shape(visible(p))...)
	}
}

// visible is the plate less half of each lap, so that neighbours share a line.
func visible(p *floor.Plate) floor.Shape {
	if len(p.Net) > 0 {
		return p.Net
	}
	return p.Cut
}

func (f *frame) plateName(i int) string {
	if f.a.Inspection == nil || i < 0 || i >= len(f.a.Inspection.Plates) {
		return ""
	}
	return f.a.Inspection.Plates[i].Label.Value
}

// drawShell draws the shell's inside and the rim of the floor plates.
func (f *frame) drawShell() {
	plan := f.a.Plan
	if plan == nil || plan.Radius <= 0 {
		return
	}
	c := f.view.pt(floor.Point{})
	if plan.Rim > 0 && plan.Rim < plan.Radius {
		f.circle(Path{Stroke: steel, Width: plain, Class: "rim"}, c, plan.Rim*f.view.k)
	}
	f.circle(Path{Stroke: ink, Width: heavy, Class: "shell"}, c, plan.Radius*f.view.k+heavy/2)
}

// keepOffShell keeps words off the heavy line.
func (f *frame) keepOffShell() {
	if f.a.Plan.Radius <= 0 {
		return
	}
	c, r := f.view.pt(floor.Point{}), f.a.Plan.Radius*f.view.k+heavy/2
	n := max(12, int(2*math.Pi*r/0.7))
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		if b := (rect{c.x + r*cos, c.y + r*sin, c.x + r*cos, c.y + r*sin}).grow(0.4); b.meets(*f.clip) {
			f.taken.add(b)
		}
	}
}

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
		l := Label{Text: Fit(o.Name, 1.9, false, 30), Size: 1.9, Paint: ink, Halo: true, Class: "fixture-name"}
		if !f.beside(l, b, 0.5) && !f.beside(l, b, 3) {
			left = append(left, o.Name)
		}
	}
	return left
}

// beside puts a label next to a box, at the first of eight places that is
// free. A distant label gets a leader.
func (f *frame) beside(l Label, b rect, gap float64) bool {
	c := b.centre()
	h := l.Size * (capHeight + descent)
	up, down := b.y1-gap-h/2, b.y2+gap+h/2
	right, left := b.x2+gap, b.x1-gap
	l.Middle = true
	type side struct {
		x, y float64
		a    Anchor
	}
	places := [...]side{
		{right, c.y, Start},
		{left, c.y, End},
		{c.x, up, Centre},
		{c.x, down, Centre},
		{right - gap/2, up, Start},
		{right - gap/2, down, Start},
		{left + gap/2, up, End},
		{left + gap/2, down, End},
	}
	if l.Class == "fixture-name" {
		// A fixture often stands on a seam: its name goes off the seam's line.
		places = [...]side{places[4], places[5], places[6], places[7], places[0], places[1], places[2], places[3]}
	}
	for _, s := range places {
		l.X, l.Y, l.Anchor = s.x, s.y, s.a
		box := l.box().grow(0.15)
		if !f.taken.free(box) || f.marks != nil && f.marks.overlap(box, 1) > 0 {
			continue
		}
		if !f.label(l) {
			continue
		}
		f.taken.add(box)
		if gap > 1.5 {
			near := point{min(max(c.x, box.x1), box.x2), min(max(c.y, box.y1), box.y2)}
			if s.a != Centre {
				near = point{s.x, s.y}
				if s.a == Start {
					near.x = min(near.x, s.x) - 0.2
				}
			}
			edge := point{min(max(near.x, b.x1), b.x2), min(max(near.y, b.y1), b.y2)}
			f.line(Path{Stroke: l.Paint, Width: hair, Class: "leader"}, edge, near)
		}
		return true
	}
	return false
}

// datumMarks draws a small corner at the place X and Y are measured from, on
// every plate whose datum corner lies on the floor.
func (f *frame) datumMarks() {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || p.Sector || len(p.Cut) == 0 || p.Length <= 0 || p.Width <= 0 {
			continue
		}
		inset := max(plan.Lap/2, 0.25/f.view.k)
		size := min(1.3/f.view.k, p.Length/6, p.Width/6)
		c, ok := plan.ToPlan(i, inset, inset)
		if !ok || plan.Rim > 0 && math.Hypot(c.X, c.Y)+size > plan.Rim {
			continue
		}
		x, _ := plan.ToPlan(i, inset+size, inset)
		y, _ := plan.ToPlan(i, inset, inset+size)
		f.shape(Path{Fill: steel, Class: "datum", ID: f.plateName(i)}, []point{f.view.pt(c), f.view.pt(x), f.view.pt(y)})
	}
}

// datumNotes says where positions are measured from.
func (f *frame) datumNotes() {
	plan := f.a.Plan
	if plan == nil || f.a.Inspection == nil {
		return
	}
	by := map[string][]string{}
	ring := false
	var unknown []string
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if p.Sector {
			ring = true
			continue
		}
		c := p.Corner
		switch c {
		case "":
			c = floor.BottomLeft
		case floor.UnknownCorner:
			unknown = append(unknown, f.plateName(i))
			continue
		}
		by[c] = append(by[c], f.plateName(i))
	}
	kinds := make([]string, 0, len(by))
	for c := range by {
		kinds = append(kinds, c)
	}
	sort.Slice(kinds, func(i, j int) bool {
		if len(by[kinds[i]]) != len(by[kinds[j]]) {
			return len(by[kinds[i]]) > len(by[kinds[j]])
		}
		return kinds[i] < kinds[j]
	})
	if len(kinds) > 0 {
		f.legend.entry("X, Y are measured from the plate's "+kinds[0]+" corner before cutting, along its length and width", func(b *board, c point) {
			b.line(Path{Stroke: mist, Width: plain}, point{c.x - 1.4, c.y - 1.2}, point{c.x - 1.4, c.y + 1.2}, point{c.x + 2.4, c.y + 1.2})
			b.shape(Path{Fill: steel, Class: "datum"}, []point{{c.x - 1.2, c.y + 1}, {c.x + 0.2, c.y + 1}, {c.x - 1.2, c.y - 0.4}})
		})
		for _, c := range kinds[1:] {
			f.legend.names("From the "+c+" corner on", by[c])
		}
	}
	f.legend.names("Datum corner unusable on", unknown)
	if ring {
		f.legend.text("Annular plates: X clockwise along the shell from the first radial seam, Y inward from the shell")
	}
	if t := words(f.a.Inspection.Tank.Datum); t != "" {
		f.legend.text("Datum: " + Fit(t, wordSize, false, 4*f.legend.width()))
	}
}

// unplaced lists plates without a place in plan.
func (f *frame) unplaced() {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	var names, why []string
	for i := range plan.Plates {
		if p := &plan.Plates[i]; !p.Placed || len(p.Cut) == 0 {
			names = append(names, f.plateName(i))
			if p.Why != "" {
				why = append(why, f.plateName(i)+" ("+p.Why+")")
			}
		}
	}
	// A few are told with the reason; many would fill the sheet.
	if len(why) == len(names) && len(names) <= 3 {
		names = why
	}
	f.legend.names("Plates without a place in plan", names)
}

// rowKey is a row's key, or its sheet and number when it has none.
func rowKey(r inspection.Row) string {
	if r.Key != "" {
		return r.Key
	}
	return r.Sheet + " row " + count(r.Number)
}
