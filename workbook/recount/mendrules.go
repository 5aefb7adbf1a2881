package recount

import (
	"math"
	"slices"
	"strings"

	"platebook/workbook/invented"
)

// Verdict is what the method gives for one rule on one repair. Known says
// whether it could be decided: a value within the counting's own error of its
// limit, or one that the method lets mean two things, is not.
type Verdict struct {
	OK, Known bool
	None      bool    // the rule does not apply, or there is nothing to hold it against
	Lo, Hi    float64 // the value lies between, in mm; NaN is no value
	Limit     float64
}

// Mended is what the method gives for one planned repair.
type Mended struct {
	Label     string
	Checks    map[string]Verdict
	Covers    []string // plate/ID of what it takes out
	Weld      float64  // mm
	ShellWeld float64
	Mass      float64 // kg, NaN unknown
	Zone      string
}

// MendingSums is what a tank's rows of Planned repairs add up to.
type MendingSums struct {
	Area, Weld, Mass float64 // m², m, kg
	Pieces           int
	Exact            bool // Area is: no patch stands on a plate that is replaced
}

// Sums adds up the rows: areas each place once, the steel still to be cut.
func Sums(t *invented.Tank) MendingSums {
	c := evaluate(t, change{rates: 1})
	y := newYard(c)
	out := MendingSums{Exact: true}
	var list []outline
	gone := map[*plate]bool{}
	for _, m := range y.mends {
		switch {
		case m.line == nil && !gone[m.plate]:
			gone[m.plate] = true
			out.Area += m.plate.net
		case m.line != nil && m.row.Word("Kind") != "line":
			list = append(list, m.line)
		}
		if m.patch {
			weld, _ := y.weld(m)
			out.Weld += weld / 1000
			out.Mass += blank(m)
			if !m.completed {
				out.Pieces++
			}
		}
	}
	for p := range gone {
		for _, o := range list {
			out.Exact = out.Exact && gapOfBoxes(o, y.plates[p]) > 0
		}
	}
	out.Area += covered(list)
	return out
}

// weld is the length of a patch's weld to the floor and to the shell, mm.
func (y *yard) weld(m *mend) (floor, shell float64) {
	radius := min(y.size("Patch corner radius", 50), m.long/2, m.wide/2)
	floor = 2*(m.long+m.wide) - (8-2*math.Pi)*radius
	switch {
	case m.round:
		return math.Pi * m.long, 0
	case m.atShell:
		return floor - m.long, m.long
	}
	return floor, 0
}

// blank is the mass of a patch's rectangular blank, kg.
func blank(m *mend) float64 { return 7.85 * m.long * m.wide * m.thick / 1e6 }

// Mending is what the method gives for the rows of Planned repairs, each held
// against the rules for it.
func Mending(t *invented.Tank) []Mended {
	c := evaluate(t, change{rates: 1})
	y := newYard(c)
	var out []Mended
	for _, m := range y.mends {
		w := Mended{Label: m.label, Checks: map[string]Verdict{}, Mass: math.NaN()}
		for _, l := range c.places {
			if y.takes(m, l) && (!m.patch || l.over == nil || slices.ContainsFunc(y.mends, func(o *mend) bool { return o.patch && y.takes(o, l.over) || o.plate == l.plate && o.line == nil })) {
				w.Covers = append(w.Covers, l.label)
			}
		}
		slices.Sort(w.Covers)
		switch m.row.Word("Kind") {
		case "patch":
			y.judge(m, w.Checks)
			w.Weld, w.ShellWeld = y.weld(m)
			w.Mass = blank(m)
		case "weld build-up":
			y.judgeFill(m, w.Checks)
		}
		out = append(out, w)
	}
	return out
}

func (c *count) size(name string, standard float64) float64 {
	if v, ok := c.t.Criteria[name].(float64); ok {
		return v
	}
	return standard
}

// grown is a location's box in plan, grown on its four sides.
func (y *yard) grown(l *place, by float64) outline {
	return y.box(l.plate, (l.box.X1+l.box.X2)/2, (l.box.Y1+l.box.Y2)/2, l.box.X2-l.box.X1+2*by, l.box.Y2-l.box.Y1+2*by)
}

// spotted says whether a location has a box in plan.
func (y *yard) spotted(l *place) bool {
	return (l.kind == 'a' || l.kind == 'b') && !l.irrel && y.plan.Plates[l.plate.label] != nil
}

// takes says whether a repair takes a location out: all of its box, grown by
// the overlap, lies in it, to 1 mm.
func (y *yard) takes(m *mend, l *place) bool {
	if m.row.Word("Kind") == "replace plate" {
		return l.plate == m.plate && (l.kind == 'a' || l.kind == 'b') && !l.irrel
	}
	if !y.spotted(l) || m.row.Word("Kind") == "line" || (!m.patch && l.side != "product") {
		return false
	}
	by := y.size("Patch overlap", 50)
	if l.plate == m.plate && !m.round { // in X, Y of the plate
		x, v, a, b := m.row.Number("X"), m.row.Number("Y"), m.long/2+1+1e-6, m.wide/2+1+1e-6
		down := l.box.Y1 - by
		if m.plate.annular {
			down = max(0, down) // beyond the shell there is no metal
		}
		sides := l.box.X1-by >= x-a && l.box.X2+by <= x+a && l.box.Y2+by <= v+b && down >= v-b
		if y.plan.Plates[m.plate.label].Annular || sides {
			return sides
		}
	}
	box := y.grown(l, by)
	if gapOfBoxes(box, m.line) > 0 {
		return false
	}
	for _, p := range box.dotted(5) {
		if !m.line.in(p) && m.line.from(p) > 1+1e-6 && p.off() < y.plan.Radius-1 {
			return false
		}
	}
	return true
}

const sure = 1e-6

// atLeastSure is a value that must not be less than its limit, known to err.
func atLeastSure(value, limit, err float64) Verdict {
	return Verdict{OK: value >= limit-sure, Known: math.Abs(value-limit+sure/2) > err, Lo: value - err, Hi: value + err, Limit: limit}
}

func atMostSure(value, limit, err float64) Verdict {
	return Verdict{OK: value <= limit+sure, Known: math.Abs(value-limit-sure/2) > err, Lo: value - err, Hi: value + err, Limit: limit}
}

// exact is the counting's own error: that of a floating number for straight
// lines along the plan's axes, that of chords otherwise.
func (m *mend) exact() float64 {
	if m.round || m.plate.annular || math.Mod(m.plate.row.Number("Turned"), 90) != 0 {
		return 0.01
	}
	return 1e-7
}

// bent is how far apart an arc along the ring and its chords may lie.
func (m *mend) bent() float64 {
	if m.plate.annular {
		return 0.6
	}
	return m.exact()
}

func (y *yard) judge(m *mend, to map[string]Verdict) {
	err := m.exact()
	lesser := min(m.long, m.wide)
	if m.round {
		lesser = m.long
	}
	clearance := y.size("Patch weld clearance", 50)
	crosses, nearest, least := false, math.Inf(1), math.Inf(1)
	doubt := false
	for i := range y.joints {
		j := &y.joints[i]
		errHere := err
		if j.ring {
			errHere = 0.01
		}
		d := y.over(m, j)
		if d > errHere {
			crosses = true
			least = min(least, y.beyond(m, j))
			continue
		}
		away := y.off(m, j)
		if away < errHere { // they touch
			doubt = true
		}
		if d == 0 {
			nearest = min(nearest, away)
		}
		if err = max(err, m.bent()); j.ring || j.dx != 0 && j.dy != 0 {
			err = max(err, 0.01)
		}
	}
	for _, o := range y.mends {
		if o == m || !o.patch {
			continue
		}
		if gapOfBoxes(m.line, o.line) > 250 {
			continue
		}
		switch d := deep(m.line, o.line); {
		case d > 0.01:
			nearest = 0
		case d > 0:
			doubt = true
		default:
			if away := apart(m.line, o.line); away < nearest {
				nearest = away
				err = max(err, m.bent(), o.bent())
			}
		}
	}
	if doubt {
		for _, id := range []string{"patch.minimum_seam", "patch.beyond_seam", "patch.weld_clearance"} {
			to[id] = Verdict{}
		}
	}
	to["patch.minimum"] = atLeastSure(lesser, y.size("Patch minimum", 150), 1e-7)
	if !doubt {
		if crosses {
			to["patch.minimum_seam"] = atLeastSure(lesser, y.size("Patch minimum over weld", 300), 1e-7)
			v := atLeastSure(least, clearance, err)
			to["patch.beyond_seam"] = v
		}
		v := atLeastSure(nearest, clearance, err)
		if nearest >= clearance {
			v.Lo, v.Hi = math.NaN(), math.NaN() // of what is far enough off any may be told
		}
		to["patch.weld_clearance"] = v
	}
	to["patch.corners"] = atLeastSure(min(lesser/2, y.size("Patch corner radius", 50)), y.size("Patch corner radius", 50), 1e-7)
	if m.round {
		delete(to, "patch.corners")
	}
	y.judgeInside(m, to)
	y.judgeOverlap(m, to)
	y.judgeMetal(m, to)
	y.judgeDents(m, to, crosses)
	y.judgeShell(m, to)
}

// judgeInside asks each square centimetre of a patch for a plate.
func (y *yard) judgeInside(m *mend, to map[string]Verdict) {
	far, outside := 0.0, false
	for _, p := range m.line.dotted(2) {
		far = max(far, p.off()-y.plan.Radius)
	}
	lo, hi := m.line.limits()
	for x := lo.x + 5; x < hi.x && !outside; x += 10 {
		for v := lo.y + 5; v < hi.y; v += 10 {
			if p := (spot{x, v}); m.line.in(p) && !y.on(p) {
				outside = true
				break
			}
		}
	}
	to["patch.inside"] = Verdict{OK: far <= 1 && !outside, Known: (far <= 0.05 || far > 1.5) && (!outside || far > 1.5 || far < -20), Lo: math.NaN(), Hi: math.NaN()}
}

// on says whether there is a plate under a point.
func (y *yard) on(p spot) bool {
	for _, o := range y.plan.Openings {
		if p.x > o.X1 && p.x < o.X2 && p.y > o.Y1 && p.y < o.Y2 {
			return false
		}
	}
	if p.off() > y.plan.Rim-1 {
		return p.off() <= y.plan.Radius
	}
	for q, o := range y.plates {
		if q.annular {
			continue
		}
		if o.in(p) || o.from(p) < 0.1 {
			return true
		}
	}
	return false
}

// wanted says whether a location needs repair as found.
func (y *yard) wanted(l *place) bool {
	need := y.needOf(l, y.requiredOver(y.target()))
	return y.verdict(l, need) != "leave"
}

// judgeOverlap measures sound metal between corrosion under a patch and its
// edge; what sticks out of the patch has less than none.
func (y *yard) judgeOverlap(m *mend, to map[string]Verdict) {
	limit := y.size("Patch overlap", 50)
	least, listed, elsewhere := math.Inf(1), false, false
	var worst *place
	for _, l := range y.places {
		if !y.spotted(l) || !l.counts {
			continue
		}
		box := y.grown(l, 0)
		taken := y.takes(m, l)
		if gapOfBoxes(m.line, box) > 0 || !taken && deep(m.line, box) < 0.01 {
			continue
		}
		if !taken && !lists(m.row, l.id) && y.gone(m, l) {
			elsewhere = true // under another patch, and whether it needed one is not told
			continue
		}
		if lists(m.row, l.id) && l.plate == m.plate && !y.takes(m, l) {
			listed = true // said as another finding
			continue
		}
		if !taken && !y.wanted(l) {
			continue
		}
		own := math.Inf(1)
		if l.plate == m.plate && m.plate.annular {
			x, v := m.row.Number("X"), m.row.Number("Y")
			own = min(l.box.X1-(x-m.long/2), x+m.long/2-l.box.X2, v+m.wide/2-l.box.Y2)
			if !m.atShell {
				own = min(own, l.box.Y1-(v-m.wide/2))
			}
			if own < least {
				least, worst = own, l
			}
			continue
		}
		for _, p := range box.dotted(1) {
			d := math.Inf(1)
			for _, e := range y.edgeLines(m) {
				d = min(d, e.from(p))
			}
			if !m.line.in(p) {
				d = -d
				if m.atShell && p.off() > y.plan.Radius {
					continue
				}
			}
			own = min(own, d)
		}
		if own < least {
			least, worst = own, l
		}
	}
	if worst == nil {
		if listed || elsewhere {
			to["patch.overlap"] = Verdict{None: !elsewhere}
			return
		}
		to["patch.overlap"] = Verdict{OK: true, Known: true, Lo: math.NaN(), Hi: math.NaN(), Limit: limit}
		return
	}
	err := m.exact()
	if worst.plate == m.plate && m.plate.annular {
		err = 1e-7
	} else if worst.plate.annular || m.plate.annular {
		err = max(err, 1.001) // X is measured at the shell, further in it is a little less
	}
	v := atLeastSure(least, limit, err)
	v.Known = v.Known && !(v.OK && elsewhere)
	if elsewhere || least < 0 {
		v.Lo = math.Inf(-1) // how far a corner sticks out can be measured in two ways
	}
	if _, out := m.spread(); out > y.plan.Radius && !m.atShell {
		v.Known = false // no edge at all on that side
	}
	to["patch.overlap"] = v
}

// gone says whether another repair takes a place out.
func (y *yard) gone(m *mend, l *place) bool {
	return slices.ContainsFunc(y.mends, func(o *mend) bool { return o != m && y.takes(o, l) })
}

// edgeLines is the weld of a patch as lines: of a tombstone without its side
// at the shell.
func (y *yard) edgeLines(m *mend) []outline {
	if !m.atShell {
		return []outline{m.line}
	}
	var out []outline
	for i, a := range m.line {
		b := m.line[(i+1)%len(m.line)]
		if a.off() < y.plan.Radius-1.5 || b.off() < y.plan.Radius-1.5 {
			out = append(out, outline{a, b})
		}
	}
	return out
}

// metal is the least thickness measured at the edge of a patch: sure of places
// that it crosses beyond doubt and readings within the tolerance of positions,
// and perhaps less of those so near that it may be either.
type metal struct{ sure, perhaps float64 }

func (m *metal) take(r float64, doubt bool) {
	m.perhaps = min(m.perhaps, r)
	if !doubt {
		m.sure = min(m.sure, r)
	}
}

func (y *yard) underEdge(m *mend) (got metal, under map[*plate]bool) {
	got, under = metal{math.Inf(1), math.Inf(1)}, map[*plate]bool{}
	edge, lines := y.edge(m), y.edgeLines(m)
	for p, o := range y.plates {
		if gapOfBoxes(o, m.line) > 0 {
			continue
		}
		for _, e := range edge {
			if o.in(e) && o.from(e) > 0.5 && (p.annular || e.off() < y.plan.Rim) {
				under[p] = true
				break
			}
		}
	}
	for _, l := range y.places {
		if !y.spotted(l) || !l.counts || y.renewed(l.plate) {
			continue
		}
		box := y.grown(l, 0)
		if gapOfBoxes(box, m.line) > 2 {
			continue
		}
		hit, touch := false, math.Inf(1)
		for _, e := range edge {
			hit = hit || box.in(e) && box.from(e) > 0.6
			touch = min(touch, box.from(e))
		}
		if hit || touch < 1 {
			got.take(l.r, !hit)
		}
	}
	tol := y.size("Position tolerance", 25)
	for _, q := range y.t.Readings {
		p := y.named[q.Word("Plate")]
		if !q.Has("X") || y.plates[p] == nil || y.renewed(p) {
			continue
		}
		px, py, _ := y.plan.At(p.label, q.Number("X"), q.Number("Y"))
		away := math.Inf(1)
		for _, e := range lines {
			away = min(away, e.from(spot{px, py}))
		}
		if away < 1.5*tol { // near a corner there is more than one way to measure
			got.take(q.Number("Thickness"), away > tol-1)
		}
	}
	return got, under
}

// renewed says whether a plate is replaced.
func (y *yard) renewed(p *plate) bool {
	for _, m := range y.mends {
		if m.plate == p && m.row.Word("Kind") == "replace plate" {
			return true
		}
	}
	return false
}

// eitherOf is the verdict over a value that is one of two, both thicknesses.
func eitherOf(least, most, limit, err float64) Verdict {
	a, b := atLeastSure(least, limit, err), atLeastSure(most, limit, err)
	return Verdict{OK: a.OK, Known: a.Known && b.Known && a.OK == b.OK, Lo: a.Lo, Hi: b.Hi, Limit: limit}
}

const tenth = 2.54 // 0.10 in

func (y *yard) judgeMetal(m *mend, to map[string]Verdict) {
	got, _ := y.underEdge(m)
	v := eitherOf(got.perhaps, got.sure, tenth, 1e-7)
	if math.IsInf(got.sure, 1) {
		v.Known = v.Known && !v.OK
		v.None = math.IsInf(got.perhaps, 1) // nothing measured: not checked
	}
	to["patch.perimeter"] = v
}

func (y *yard) judgeDents(m *mend, to map[string]Verdict, crosses bool) {
	for _, d := range y.t.Visual {
		if d.Word("Item") != "dent" || d.Word("Plate") == "" {
			continue
		}
		px, py, _ := y.plan.At(d.Word("Plate"), d.Number("X"), d.Number("Y"))
		p := spot{px, py}
		if m.line.from(p) < 0.01 { // on the edge
			to["patch.dent"] = Verdict{}
			continue
		}
		if !m.line.in(p) {
			continue
		}
		v := atLeastSure(m.thick, max(6.35, m.plate.nominal), 1e-7)
		for i := range y.joints {
			if d := y.over(m, &y.joints[i]); d > 0.01 {
				v.OK = false
			} else if d > 0 || y.off(m, &y.joints[i]) < 0.05 {
				v.Known = !v.OK
			}
		}
		to["patch.dent"] = v
		return
	}
}

// judgeShell is the rules of the critical zone.
func (y *yard) judgeShell(m *mend, to map[string]Verdict) {
	_, out := m.spread()
	clear := y.plan.Radius - out
	reach := y.size("Tombstone distance", 150)
	if math.Abs(clear-reach+sure/2) < 1e-7 {
		return // on the very line
	}
	if clear >= reach-sure && clear > y.size("Critical zone width", 76.2)+sure {
		for _, id := range []string{"critical.thickness", "critical.length", "critical.tombstone", "critical.patch_on_patch", "critical.spacing", "critical.projected"} {
			to[id] = Verdict{None: true}
		}
		corner := y.box(m.plate, m.row.Number("X"), m.row.Number("Y"), m.long, m.wide)
		if _, far := corner.reach(); m.round && y.plan.Radius-far <= y.size("Critical zone width", 76.2)+sure {
			for id := range to { // a zone goes by the box, which a circle does not fill
				if strings.HasPrefix(id, "critical.") {
					to[id] = Verdict{}
				}
			}
		}
		if m.tombstone {
			to["critical.tombstone"] = Verdict{OK: false, Known: true, Lo: math.NaN(), Hi: math.NaN()}
		}
		return
	}
	to["critical.thickness"] = atMostSure(m.thick, y.size("Critical patch thickness", 6.35), 1e-7)
	limit := y.size("Critical patch length", 609.6)
	lo, hi := m.long, m.long
	if !m.plate.annular {
		lo, hi = math.Inf(1), math.Inf(-1)
		mid := m.middle()
		for _, p := range m.line {
			a := math.Remainder(math.Atan2(p.x, p.y)-math.Atan2(mid.x, mid.y), 2*math.Pi)
			lo, hi = min(lo, a), max(hi, a)
		}
		span := (hi - lo) * y.plan.Radius
		lo, hi = min(m.long, m.wide), max(m.long, m.wide, span)
	}
	to["critical.length"] = Verdict{OK: hi <= limit+sure, Known: (hi <= limit+sure) == (lo <= limit+sure), Lo: lo - 0.01, Hi: hi + 0.01, Limit: limit}
	to["critical.tombstone"] = Verdict{OK: m.tombstone && m.atShell, Known: true, Lo: math.NaN(), Hi: math.NaN()}
	stands, touch := false, false
	near, half := math.Inf(1), math.Inf(1)
	fails, known := false, true
	see := func(o outline, a, b float64, doubt float64) {
		if gapOfBoxes(m.line, o) > 400 {
			return
		}
		d := 0.0
		if deep(m.line, o) == 0 {
			d = apart(m.line, o)
		}
		h := min(m.long, m.wide, a, b) / 2
		if math.Abs(d-h+sure/2) < doubt {
			known = false
		}
		fails = fails || d < h-sure
		if d < near {
			near, half = d, h
		}
	}
	for i := range y.joints {
		if j := &y.joints[i]; j.old {
			stands = stands || deep(m.line, j.line) > 0.01
		}
	}
	for _, q := range y.t.Patches {
		p := y.named[q.Word("Plate")]
		see(y.box(p, q.Number("X"), q.Number("Y"), q.Number("Length"), q.Number("Width")), q.Number("Length"), q.Number("Width"), 0.02)
	}
	for _, o := range y.mends {
		if o != m && o.patch {
			see(o.line, o.long, o.wide, max(m.bent(), o.bent()))
			stands = stands || deep(m.line, o.line) > 0.01
			if o.line != nil && deep(m.line, o.line) <= 0.01 && apart(m.line, o.line) < 0.6 {
				touch = true
			}
		}
	}
	to["critical.patch_on_patch"] = Verdict{OK: !stands, Known: stands || !touch, Lo: math.NaN(), Hi: math.NaN()}
	to["critical.spacing"] = Verdict{OK: !fails, Known: known, Lo: math.NaN(), Hi: math.NaN(), Limit: half}
	y.judgeProjected(m, to)
}

func (m *mend) middle() spot {
	var c spot
	for _, p := range m.line {
		c.x += p.x / float64(len(m.line))
		c.y += p.y / float64(len(m.line))
	}
	return c
}

// judgeProjected is the metal at the weld toe at the end of the interval: as
// measured at the edge, else the plate's sound metal.
func (y *yard) judgeProjected(m *mend, to map[string]Verdict) {
	got, under := y.underEdge(m)
	if math.IsInf(got.sure, 1) {
		got.sure = m.plate.sound
		got.perhaps = min(got.sure, got.perhaps)
	}
	or := y.target()
	need, known := y.criticalOf(m.plate.nominal), true
	if m.plate.annular {
		if y.ringNeeds == nil {
			known = false
		} else {
			need = max(need, *y.ringNeeds)
		}
	}
	u, q, ok := y.ratesFor(m.plate, y.base())
	if !ok || m.plate.blind {
		to["critical.projected"] = Verdict{Lo: math.NaN(), Hi: math.NaN(), Limit: math.NaN()}
		return
	}
	lost := or * (u + y.productOver(q, or))
	v := eitherOf(got.perhaps-lost, got.sure-lost, need, 1e-6)
	v.Known = v.Known && (known || !v.OK) && len(under) == 1
	to["critical.projected"] = v
}

// judgeFill is the rule for a weld build-up.
func (y *yard) judgeFill(m *mend, to map[string]Verdict) {
	least, soil, any := math.Inf(1), false, false
	for _, l := range y.places {
		if !y.spotted(l) || deep(m.line, y.grown(l, 0)) == 0 {
			continue
		}
		any = true
		if l.side != "product" {
			soil = true
		}
		least = min(least, l.r)
	}
	_, out := m.spread()
	critical := y.plan.Radius-out <= y.size("Critical zone width", 76.2)+sure
	v := atLeastSure(least, tenth, 1e-7)
	if math.IsInf(least, 1) {
		v.Lo, v.Hi = math.NaN(), math.NaN()
	}
	if soil || critical {
		v.OK, v.Known = false, true
	}
	if !any && !critical {
		v.Known = false
	}
	to["buildup.remaining"] = v
}
