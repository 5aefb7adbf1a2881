package recount

import "math"

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
