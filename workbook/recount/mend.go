package recount

import (
	"math"
	"slices"
	"strings"

	"platebook/workbook/invented"
)

// mend is a planned repair in plan.
type mend struct {
	row       invented.Row
	label     string
	plate     *plate
	line      outline
	patch     bool
	round     bool
	tombstone bool
	along     bool // a tombstone whose length runs along the shell
	atShell   bool // a tombstone that is carried to the shell
	completed bool
	long      float64
	wide      float64
	thick     float64
}

// joint is a seam strip, an existing patch or the edge of the ring.
type joint struct {
	line   outline
	name   string
	dx, dy float64 // across it; 0, 0 for a patch
	ring   bool    // the inner edge of the ring: |ρ − rim| ≤ half
	old    bool
	along  bool // an old patch whose length runs along the shell
	half   float64
}

// yard is what stands about a tank's repairs.
type yard struct {
	*count
	plates map[*plate]outline // before they are cut at the rim
	joints []joint
	mends  []*mend
}

func newYard(c *count) *yard {
	y := &yard{count: c, plates: map[*plate]outline{}}
	for _, q := range c.t.Repairs {
		y.mends = append(y.mends, y.mend(q))
	}
	for _, p := range c.plates {
		if l := c.plan.Plates[p.label]; l != nil {
			y.plates[p] = y.rectangle(l)
		}
	}
	y.seams()
	for _, q := range c.t.Patches {
		line, along := y.patched(q)
		y.joints = append(y.joints, joint{line: line, name: "existing patch " + q.Word("Patch"), old: true, along: along})
	}
	return y
}

// patched is a patch or repair in plan, planned or found, and whether its length
// runs along the shell: on an annular plate, and of a tombstone nearer to the
// shell than Tombstone distance. Such a one is taken to stand at the shell where
// its X and Y put it there within Position tolerance.
func (c *count) patched(q invented.Row) (outline, bool) {
	p, x, v, length, width := c.named[q.Word("Plate")], q.Number("X"), q.Number("Y"), q.Number("Length"), q.Number("Width")
	switch {
	case q.Word("Shape") == "circle":
		return c.circle(p, x, v, length/2), p.annular
	case p.annular || q.Word("Shape") != "tombstone":
		return c.box(p, x, v, length, width), p.annular
	}
	px, py, _ := c.plan.At(p.label, x, v)
	outer := c.plan.Radius - math.Hypot(px, py) - width/2
	if outer >= c.size("Tombstone distance", 150)-sure {
		return c.box(p, x, v, length, width), false
	}
	if math.Abs(outer) <= c.size("Position tolerance", 25)+sure {
		outer = 0 // its width is that of the steel, so all of it moves
	}
	var out outline
	mid, half, n := math.Atan2(px, py), length/2/c.plan.Radius, int(math.Ceil(length/10))
	for _, side := range []struct{ off, way float64 }{{outer, 1}, {outer + width, -1}} {
		for k := range n + 1 {
			s, cos := math.Sincos(mid + side.way*half*(2*float64(k)/float64(n)-1))
			out = append(out, spot{(c.plan.Radius - side.off) * s, (c.plan.Radius - side.off) * cos})
		}
	}
	return out, true
}

// box is a box of a plate in plan; on an annular plate its sides follow the
// shell and the radii.
func (c *count) box(p *plate, x, v, length, width float64) outline {
	var out outline
	at := func(x, v float64) {
		px, py, _ := c.plan.At(p.label, x, v)
		out = append(out, spot{px, py})
	}
	n := 1
	if p.annular {
		n = max(1, int(math.Ceil(length/10)))
	}
	x1, x2 := x-length/2, x+length/2
	for k := range n + 1 {
		at(x1+(x2-x1)*float64(k)/float64(n), v-width/2)
	}
	for k := range n + 1 {
		at(x2+(x1-x2)*float64(k)/float64(n), v+width/2)
	}
	return out
}

func (c *count) circle(p *plate, x, v, radius float64) outline {
	px, py, _ := c.plan.At(p.label, x, v)
	var out outline
	const n = 720
	for k := range n {
		s, cos := math.Sincos(2 * math.Pi * float64(k) / n)
		out = append(out, spot{px + radius*cos, py + radius*s})
	}
	return out
}

// disc is a circle about the centre of the floor.
func disc(radius float64) outline {
	var out outline
	n := int(math.Ceil(math.Pi / math.Acos(1-0.002/radius)))
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out = append(out, spot{radius * c, radius * s})
	}
	return out
}

// rectangle is a plate as it came from the mill, anticlockwise in plan; an
// annular one as it lies.
func (y *yard) rectangle(l *invented.Laid) outline {
	p, length, width := y.named[l.Row.Word("Plate")], l.Row.Number("Length"), l.Row.Number("Width")
	if l.Annular {
		length = (l.Row.Number("End bearing") - l.Row.Number("Start bearing")) * math.Pi / 180 * y.plan.Radius
		return y.box(p, length/2, width/2, length, width)
	}
	o := y.box(p, length/2, width/2, length, width)
	if area2(o) < 0 {
		o[1], o[3] = o[3], o[1]
	}
	return o
}

func area2(o outline) float64 {
	s := 0.0
	for i, a := range o {
		b := o[(i+1)%len(o)]
		s += a.x*b.y - a.y*b.x
	}
	return s
}

// reach is how near the centre and how far from it an outline's line runs.
func (o outline) reach() (in, out float64) {
	in = math.Inf(1)
	for _, p := range o.dotted(2) {
		in = min(in, p.off())
	}
	for _, p := range o {
		out = max(out, p.off())
	}
	return in, out
}

// seams are the laps of every two plates, the butts of the ring and its inner
// edge. What plates share that meet corner to corner is part of other seams.
func (y *yard) seams() {
	order := y.plan.Order
	for i, a := range order {
		la := y.plan.Plates[a]
		if la.Annular {
			x, v := y.plan.Polar(1, la.Row.Number("Start bearing"))
			y.joints = append(y.joints, joint{line: outline{{x * y.plan.Rim, v * y.plan.Rim}, {x * y.plan.Radius, v * y.plan.Radius}}, name: "butt at the start of " + a, dx: v, dy: -x})
			continue
		}
		for _, b := range order[i+1:] {
			lb := y.plan.Plates[b]
			if lb.Annular {
				continue
			}
			s := y.rectangle(la).crossed(y.rectangle(lb))
			if len(s) < 2 {
				continue
			}
			l, w := measure(s)
			if l <= max(y.plan.Lap, 25)+1e-3 {
				continue
			}
			if !slices.ContainsFunc(y.mends, func(m *mend) bool { return m.line != nil && gapOfBoxes(m.line, s) < 300 }) {
				continue
			}
			if _, out := s.reach(); out > y.plan.Rim {
				if s = s.crossed(disc(y.plan.Rim)); len(s) < 2 {
					continue
				}
			}
			y.joints = append(y.joints, joint{line: s, name: a + "/" + b, dx: -w.y, dy: w.x})
		}
	}
	if y.plan.Rim < y.plan.Radius {
		y.joints = append(y.joints, joint{ring: true, name: "inner edge of the ring", half: y.plan.Lap / 2})
	}
}

// measure is the longest stretch between two points of an outline, and its
// direction: of a lap's strip, that along the seam.
func measure(o outline) (length float64, along spot) {
	// the longest side, for a strip's diagonal leans
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if l := a.to(b); l > length {
			length, along = l, spot{(b.x - a.x) / l, (b.y - a.y) / l}
		}
	}
	return length, along
}

func (y *yard) mend(q invented.Row) *mend {
	m := &mend{
		row: q, label: q.Word("Repair"), plate: y.named[q.Word("Plate")], patch: q.Word("Kind") == "patch", completed: q.Word("Status") == "completed",
		long: q.Number("Length"), wide: q.Number("Width"),
	}
	if q.Word("Kind") == "replace plate" {
		return m
	}
	m.thick = q.Or("Thickness", y.t.Criteria.Or("Patch thickness", m.plate.nominal))
	m.round, m.tombstone = q.Word("Shape") == "circle", q.Word("Shape") == "tombstone"
	m.line, m.along = y.patched(q)
	if _, out := m.line.reach(); m.tombstone && out > y.plan.Radius-1 {
		m.atShell = true
	}
	return m
}

// rounds are an outline's points as seen by one who measures along the shell from
// the middle of a repair: so far round it, as an arc at it, and so far inward.
func (y *yard) rounds(m *mend, o outline) []spot {
	var out []spot
	mid := m.middle()
	for _, p := range o.dotted(1) {
		a := math.Remainder(math.Atan2(p.x, p.y)-math.Atan2(mid.x, mid.y), 2*math.Pi)
		out = append(out, spot{a * y.plan.Radius, y.plan.Radius - p.off()})
	}
	return out
}

// room is how much metal lies between a place beside the shell and the sides of
// a repair along it, less than none where it reaches out.
func (y *yard) room(m *mend, o outline) float64 {
	_, out := m.spread()
	outer, least := y.plan.Radius-out, math.Inf(1)
	for _, p := range y.rounds(m, o) {
		if p.y <= 1 && m.atShell { // beyond the shell there is no metal
			continue
		}
		least = min(least, m.long/2-math.Abs(p.x), outer+m.wide-p.y)
		if !m.atShell {
			least = min(least, p.y-outer)
		}
	}
	return least
}

// edge are points along the weld of a patch: a tombstone has none at the shell.
func (y *yard) edge(m *mend) []spot {
	var out []spot
	for _, p := range m.line.dotted(1) {
		if p.off() < y.plan.Radius && (!m.atShell || p.off() < y.plan.Radius-1.5) {
			out = append(out, p)
		}
	}
	return out
}

// over says how deep a repair reaches into a joint; a line is crossed when the
// repair lies on both sides of it.
func (y *yard) over(m *mend, j *joint) float64 {
	if j.ring {
		in, out := m.spread()
		return max(0, min(out-(y.plan.Rim-j.half), y.plan.Rim+j.half-in))
	}
	if len(j.line) > 2 && math.Abs(area2(j.line)) > 1 {
		return deep(m.line, j.line)
	}
	d := 0.0
	if gapOfBoxes(m.line, j.line) > 0 {
		return 0
	}
	for _, p := range j.line.dotted(1) {
		if m.line.in(p) {
			d = max(d, m.line.from(p))
		}
	}
	return d
}

// spread is how near the centre and how far from it a repair's area lies.
func (m *mend) spread() (in, out float64) {
	in, out = m.line.reach()
	if m.line.in(spot{}) {
		in = 0
	}
	return in, out
}

// off is the distance of a repair from a joint that it does not cross.
func (y *yard) off(m *mend, j *joint) float64 {
	if j.ring {
		in, out := m.spread()
		return max(0, in-(y.plan.Rim+j.half), y.plan.Rim-j.half-out)
	}
	if d := gapOfBoxes(m.line, j.line); d > 250 {
		return d
	}
	return apart(m.line, j.line)
}

// beyond is how far a repair that crosses a joint reaches past it, on its
// lesser side.
func (y *yard) beyond(m *mend, j *joint) float64 {
	switch {
	case j.ring:
		in, out := m.spread()
		return max(0, min(y.plan.Rim-j.half-in, out-(y.plan.Rim+j.half)))
	case j.old:
		least := math.Inf(1)
		for _, p := range j.line.dotted(1) {
			if !m.line.in(p) {
				return 0
			}
			least = min(least, m.line.from(p))
		}
		return least
	}
	a, b := m.line.across(j.dx, j.dy)
	lo, hi := j.line.across(j.dx, j.dy)
	return max(0, min(lo-a, b-hi))
}

// lists says whether a row names an indication.
func lists(q invented.Row, id string) bool {
	for _, s := range strings.FieldsFunc(q.Word("Indications"), func(r rune) bool { return r == ',' || r == ';' }) {
		if strings.TrimSpace(s) == id {
			return true
		}
	}
	return false
}
