package recount

import (
	"math"
	"slices"
)

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
	if l.plate == m.plate && !m.round && m.along == m.plate.annular { // in X, Y of the plate
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
	if m.along && !l.plate.annular { // at a skew: so much metal to each side of the repair
		return y.room(m, y.grown(l, 0)) >= by-1-1e-6
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
	if m.round || m.along || math.Mod(m.plate.row.Number("Turned"), 90) != 0 {
		return 0.01
	}
	return 1e-7
}

// arcs is how far apart an arc along the shell and chords of a degree may lie, mm.
const arcs = 0.6

// bent is how far apart a repair and its chords may lie.
func (m *mend) bent() float64 {
	if m.along {
		return arcs
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
		if j.along {
			errHere = max(errHere, arcs)
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
		if d == 0 && away < nearest {
			if nearest = away; j.along {
				err = max(err, arcs)
			}
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
		if m.along && !l.plate.annular && !m.plate.annular {
			if own = y.room(m, box); own < least {
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
	} else if worst.plate.annular || m.along {
		err = max(err, 1.001) // X is measured at the shell, further in it is a little less
	}
	v := atLeastSure(least, limit, err)
	v.Known = v.Known && !(v.OK && elsewhere)
	if _, far := y.grown(worst, 0).reach(); m.along && far > y.plan.Radius {
		v.Lo, v.Known = math.Inf(-1), v.Known && !v.OK // a corner beyond the shell is no metal, but part of its box
	}
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
