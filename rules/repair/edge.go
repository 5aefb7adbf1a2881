package repair

import (
	"math"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// edges is what metal under the edge of a patch has to keep.
type edges struct {
	lost  unit.Maybe[unit.Length] // until the target
	found *assess.Result
}

func (s *shop) edgesOf(found *assess.Result) edges {
	e := edges{found: found}
	if f := &found.AsFound; f.SoilRate.Known && f.ProductRate.Known {
		e.lost = unit.Some(unit.Length(float64(s.target()) * float64(f.SoilRate.V+f.ProductRate.V)))
	}
	return e
}

// least is the thickness that metal of a plate keeps now under an edge, at the
// shell enough for the critical zone at the end.
func (e edges) least(plate int, atShell bool) float64 {
	if need, _ := e.found.CriticalNeed(plate); atShell && e.lost.Known && need.Known {
		return math.Max(leastMetal, float64(need.V+e.lost.V))
	}
	return leastMetal
}

// extended proposes as often as an edge still stands on metal that is too thin
// to carry its weld: such a place, whether it lasts by itself or not, is then
// taken under the patch.
func (s *shop) extended(found *assess.Result, needed []bool, seedsOf func([]bool) *seeds, at *places) work {
	e := s.edgesOf(found)
	for range rounds {
		w := s.propose(seedsOf(needed), needed)
		bare := s.bare(&w, at, e, needed)
		if len(bare) == 0 {
			return w
		}
		own := append([]bool(nil), needed...)
		for _, i := range bare {
			own[i] = true
		}
		needed = own
	}
	return s.propose(seedsOf(needed), needed)
}

// bare are the places, not yet among the needed ones, that are too thin for the
// edge of a patch that crosses them.
func (s *shop) bare(w *work, at *places, e edges, needed []bool) []int {
	var out []int
	for _, p := range w.patches {
		if _, gone := w.replaced[p.plate]; gone {
			continue
		}
		extent, placed := s.plan.Extent(p.frame, p.box)
		limit := e.least(p.plate, p.tombstone || s.zone(p.frame, p.box) == floor.Critical)
		for _, i := range at.near(extent, at.widest, placed, []int{p.plate}) {
			l := &at.ls[i]
			if needed[i] || !l.Remaining.Known || step.AtLeast(unit.Thickness, float64(l.Remaining.V), limit) {
				continue
			}
			if s.crosses(p.frame, p.box, l) {
				out = append(out, i)
			}
		}
	}
	return out
}

// with are seeds of all needed places: those at hand, or, where an edge asks for
// one that is not among them, new ones.
func (s *shop) with(g *seeds, needed []bool) *seeds {
	var need []int
	missing := false
	for i, n := range needed {
		if n {
			need = append(need, i)
			missing = missing || !g.holds(i)
		}
	}
	if missing {
		return s.seedsOf(g.ls, need)
	}
	return g
}

// crosses says whether the edge of a patch runs over a place. What of a place
// lies beyond the shell is not there, and at the shell a tombstone has no edge.
func (s *shop) crosses(frame int, box floor.Box, l *assess.Location) bool {
	b, ok := s.carried(l.Plate, l.Box, frame)
	if ok && s.sector(frame) && box.V1 <= fine {
		b.V1 = math.Max(b.V1, box.V1)
	}
	if !ok || !b.Overlaps(box) || box.Covers(b) {
		return false
	}
	if frame == l.Plate {
		return true
	}
	d, ok := s.plan.ToBox(frame, box, l.Plate, l.Box) // at a skew the box around it reaches farther than it does
	return ok && d <= fine
}
