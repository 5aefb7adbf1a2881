package recount

import (
	"math"
	"strings"
)

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
	if !m.along {
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
		line, along := y.patched(q)
		doubt := 0.02
		if along {
			doubt = arcs
		}
		see(line, q.Number("Length"), q.Number("Width"), doubt)
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
