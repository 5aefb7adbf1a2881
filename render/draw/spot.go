package draw

import (
	"cmp"
	"math"
	"slices"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
)

// spot is an indication, or a prove-up tied to none, on paper.
type spot struct {
	id       string // as typed
	key      string
	side     assess.Side
	loss     float64
	known    bool // the loss
	band     int  // -1 when it is unknown
	proved   bool
	labelled bool
	faint    bool // counts for nothing: not relevant, excluded
	sought   bool // below its requirement, or to be repaired
	at       point
	a, b     float64 // half extents along the plate's axes
	turned   float64
	long     []point // outline where the axes bend along the shell
	box      rect
}

// leastMark is the size of the smallest mark, mm of paper.
const leastMark = 1.1

// spots gathers what stands on the plan, all of it or what is to be kept; the
// second result names what has no place.
func (f *frame) spots(s scale, keep func(*assess.Location) bool) (on []spot, unplaced []string) {
	r, plan := f.a.Result, f.a.Plan
	if r == nil || plan == nil || f.a.Inspection == nil {
		return nil, nil
	}
	if keep == nil {
		on = make([]spot, 0, len(r.Locations)/f.sheets())
	}
	for i := range r.Locations {
		l := &r.Locations[i]
		if l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt || keep != nil && !keep(l) {
			continue
		}
		if !l.Placed || l.Plate < 0 || l.Plate >= len(plan.Plates) || !f.known {
			unplaced = append(unplaced, l.Label)
			continue
		}
		m := spot{id: spotName(f.a, l), key: l.Label, side: l.Side, band: -1, at: f.view.pt(l.At)}
		if m.side == assess.Both {
			m.side = assess.Unknown
		}
		if m.loss, m.known = LossOf(l); m.known {
			m.band = s.band(m.loss)
		}
		m.proved = l.ProveUp >= 0 || len(l.Tied) > 0
		m.faint = l.Verdict == assess.NotRelevant || l.Verdict == assess.Excluded
		m.sought = sought(l)
		f.size(&m, plan, l)
		if f.sheet.tile == nil && !m.box.within(*f.clip) {
			unplaced = append(unplaced, l.Label)
			continue
		}
		if m.box.meets(*f.clip) {
			on = append(on, m)
		}
	}
	return on, unplaced
}

// sheets is how many sheets a floor that is split comes on, 1 for a whole one.
func (f *frame) sheets() int {
	if f.sheet.tile == nil {
		return 1
	}
	return f.sheet.tile.n * f.sheet.tile.n
}

func spotName(a *rules.Assessment, l *assess.Location) string {
	in := a.Inspection
	switch {
	case l.Indication >= 0 && l.Indication < len(in.Indications):
		return in.Indications[l.Indication].ID.Value
	case l.ProveUp >= 0 && l.ProveUp < len(in.ProveUps):
		return in.ProveUps[l.ProveUp].ID.Value
	}
	return l.Label
}

// LossOf is a location's loss in percent of nominal, without allowance: as
// measured, else from its remaining thickness.
func LossOf(l *assess.Location) (float64, bool) {
	if l.Loss.Known {
		return float64(l.Loss.V), true
	}
	if l.Remaining.Known && l.Nominal.Known && l.Nominal.V > 0 {
		return 100 * (1 - float64(l.Remaining.V/l.Nominal.V)), true
	}
	return 0, false
}

// size lays a location's box on paper, at least as large as can be seen.
func (f *frame) size(m *spot, plan *floor.Plan, l *assess.Location) {
	p := &plan.Plates[l.Plate]
	k := f.view.k
	m.a = max((l.Box.U2-l.Box.U1)*k, leastMark) / 2
	m.b = max((l.Box.V2-l.Box.V1)*k, leastMark) / 2
	m.turned = p.Turned
	if p.Sector {
		m.turned = -(math.Atan2(l.At.X, l.At.Y) * 180 / math.Pi)
		// Along a tenth of a radian the chord leaves the arc by 0.1 %.
		if plan.Radius > 0 && l.Box.U2-l.Box.U1 > 0.1*plan.Radius {
			if ring, ok := plan.Outline(l.Plate, l.Box); ok {
				m.long = f.view.ring(ring)
				m.box = bounds(m.long)
				return
			}
		}
	}
	m.box = turnedBox(m.at, point{m.a, m.b}, m.turned)
}

// sought says whether a place is one that a crew or a reader looks for: below
// its requirement, in need of a repair or under one.
func sought(l *assess.Location) bool {
	switch l.Verdict {
	case assess.Repair, assess.RepairFirst, assess.Engineering:
		return true
	}
	return l.Repair != "" || l.Margin.Known && l.Margin.V < 0
}

// byWorst orders spots for painting, the worst last, so that it lies on top.
func byWorst(spots []spot) {
	type rank struct {
		faint, unknown bool
		n              int32
		loss           float64
	}
	order := make([]rank, len(spots))
	for i := range spots {
		order[i] = rank{spots[i].faint, !spots[i].known, int32(i), spots[i].loss}
	}
	slices.SortFunc(order, func(a, b rank) int {
		switch {
		case a.faint != b.faint:
			return before(a.faint)
		case a.unknown != b.unknown:
			return before(a.unknown)
		}
		if c := cmp.Compare(a.loss, b.loss); c != 0 {
			return c
		}
		return int(a.n - b.n)
	})
	// Only numbers are moved while sorting: a spot is large.
	sorted := make([]spot, len(spots))
	for i, o := range order {
		sorted[i] = spots[o.n]
	}
	copy(spots, sorted)
}

func before(first bool) int {
	if first {
		return -1
	}
	return 1
}

// mark draws a spot: its shape and outline tell the side, its shade the loss.
func mark(b *board, m *spot, fill Paint) {
	p := Path{Fill: fill, Stroke: ink, Width: fine, Class: "indication", ID: m.key}
	if m.faint {
		p.Fill, p.Stroke, p.Class = paper, mist, "indication faint"
	}
	tiny := min(m.a, m.b) < 1.2
	at := func(u, v float64) point {
		sin, cos := math.Sincos(m.turned * math.Pi / 180)
		return point{m.at.x + u*m.a*cos - v*m.b*sin, m.at.y - (u*m.a*sin + v*m.b*cos)}
	}
	switch m.side {
	case assess.Product:
		if !tiny {
			p.Dash = []float64{0.9, 0.6}
			p.Width = plain
		}
		if m.long != nil {
			b.shape(p, m.long)
		} else {
			b.oval(p, m.at, m.a, m.b, m.turned)
		}
	case assess.Soil:
		if m.long != nil {
			b.shape(p, m.long)
		} else {
			b.shape(p, []point{at(-1, -1), at(1, -1), at(1, 1), at(-1, 1)})
		}
	default:
		if !tiny {
			p.Dash = []float64{0.01, 0.45}
			p.Width = 0.24
		}
		if m.long != nil {
			b.shape(p, m.long)
		} else {
			// A lozenge of the same extent, a little larger when tiny to keep its area.
			g := 1.0
			if tiny {
				g = 1.2
			}
			b.shape(p, []point{at(-g, 0), at(0, -g), at(g, 0), at(0, g)})
		}
	}
	if m.faint {
		d := 0.35 * min(m.a, m.b)
		b.line(Path{Stroke: steel, Width: hair, Class: "faint"}, point{m.at.x - d, m.at.y - d}, point{m.at.x + d, m.at.y + d})
		b.line(Path{Stroke: steel, Width: hair, Class: "faint"}, point{m.at.x - d, m.at.y + d}, point{m.at.x + d, m.at.y - d})
	}
	if m.proved && (b.clip == nil || b.clip.holds(m.at)) {
		b.circle(Path{Fill: over(p.Fill), Class: "proved"}, m.at, 0.27)
	}
}
