package repair

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// work is a proposal: patches and the plates replaced, with the reason.
type work struct {
	patches  []*patch
	replaced map[int]string
}

// propose shapes repairs over the needed locations by the five steps of the
// method. A plate that its own patches, each alone, already cover beyond the
// share is replaced from the start. Plates that are given up later are taken out
// and the rest is proposed anew, as often as there are more of them.
//
// Source: derived, method section 10. Check: TestPrintedSizes,
// TestProposalMerges, TestPlateReplaced.
func (s *shop) propose(g *seeds, needed []bool) work {
	w := work{replaced: s.full(g, needed)}
	for {
		w.patches = s.shortened(s.merged(g, needed, w.replaced), g.ls)
		if !s.giveUp(&w) {
			return w
		}
	}
}

// full are the plates that the patches of single locations cover beyond the
// share, with the reason.
func (s *shop) full(g *seeds, needed []bool) map[int]string {
	boxes, sum := make([][]floor.Box, s.own), make([]float64, s.own)
	for k := range g.alone {
		if p := g.of(k, needed); p != nil && p.frame == p.plate && !s.sector(p.plate) {
			boxes[p.plate] = append(boxes[p.plate], p.box)
			sum[p.plate] += p.box.Length() * p.box.Width() / 1e6
		}
	}
	out := map[int]string{}
	share := s.set.Number(criteria.ReplacePlateAtPatchShare)
	for k := range s.own {
		pl := &s.plan.Plates[k]
		if !pl.Measured || pl.NetArea <= 0 || step.AtMost(unit.Share, 100*sum[k]/float64(pl.NetArea), share) {
			continue
		}
		if part := 100 * float64(s.plan.UnionArea(k, boxes[k]).Or(0)/pl.NetArea); !step.AtMost(unit.Share, part, share) {
			out[k] = s.covered(part)
		}
	}
	return out
}

func (s *shop) covered(part float64) string {
	return "patches on " + unit.Share.TextUnit(s.set.System, part, 0) + " of the plate"
}

// giveUp marks plates to be replaced; false when there are no more.
func (s *shop) giveUp(w *work) bool {
	any := false
	over := make([][]int, s.own) // patches that may lie on each plate
	count := make([]int, s.own)
	for i, p := range w.patches {
		count[p.plate]++
		if _, gone := w.replaced[p.plate]; p.replace != "" && !gone {
			w.replaced[p.plate] = p.replace
			any = true
		}
		for _, k := range s.under(p) {
			over[k] = append(over[k], i)
		}
	}
	share, most := s.set.Number(criteria.ReplacePlateAtPatchShare), s.set.Get(criteria.ReplacePlateAtPatches)
	for k := range s.own {
		if _, gone := w.replaced[k]; gone || count[k] == 0 {
			continue
		}
		if most.Set && most.Number > 0 && float64(count[k]) >= most.Number-1e-9 {
			w.replaced[k] = fmt.Sprintf("%d patches on the plate", count[k])
			any = true
			continue
		}
		net := s.plan.Plates[k].NetArea
		if !s.plan.Plates[k].Measured || net <= 0 {
			continue
		}
		if part := 100 * float64(s.areaOn(k, w.patches, over[k])/net); !step.AtMost(unit.Share, part, share) {
			w.replaced[k] = s.covered(part)
			any = true
		}
	}
	return any
}

// under are the plates that a patch may lie on, by their extents in plan: its
// own, and every other that it meets.
func (s *shop) under(p *patch) []int {
	s.found = s.found[:0]
	if e, ok := s.plan.Extent(p.frame, p.box); ok {
		s.found = s.plates.Near(e, fine, s.found)
	}
	if !slices.Contains(s.found, p.plate) {
		s.found = append(s.found, p.plate)
	}
	return s.found
}

// areaOn is the area of a plate under patches, each place once.
func (s *shop) areaOn(k int, list []*patch, over []int) unit.Area {
	var boxes []floor.Box
	var at unit.Area
	extent := floor.Box{U2: s.plan.Plates[k].Length, V2: s.plan.Plates[k].Width}
	for _, i := range over {
		p := list[i]
		if p.frame >= s.own || s.sector(p.frame) != s.sector(k) {
			if p.plate == k {
				at += s.plan.PlanUnion([]floor.Covered{{Plate: p.frame, Box: p.box}})
			}
			continue
		}
		if b, ok := s.carried(p.frame, p.box, k); ok && b.Overlaps(extent) {
			boxes = append(boxes, b)
		}
	}
	return at + s.plan.UnionArea(k, boxes).Or(0)
}

// takes says whether a repair in a frame takes a location out: its box grown by
// the overlap lies in it, to 1 mm, what is beyond the shell apart.
func (s *shop) takes(frame int, box floor.Box, l *assess.Location) bool {
	const fit = 1.0
	b, ok := s.carried(l.Plate, l.Box, frame)
	if !ok {
		return false
	}
	b = b.Grow(s.z.overlap)
	if s.sector(frame) {
		b.V1 = math.Max(b.V1, 0)
	}
	return box.Grow(fit).Covers(b)
}

// places are the locations that a repair can take out, as they lie on the
// floor.
type places struct {
	ls      []assess.Location
	byPlate [][]int
	squares *floor.Squares
	reach   float64 // a place at the shell may lie so far off its plate
	widest  float64 // half the longest diagonal of any place
}

func (s *shop) placesOf(ls []assess.Location) *places {
	at := &places{ls: ls, byPlate: make([][]int, s.own), reach: s.set.Number(criteria.PositionTolerance) + 1}
	extents := make([]floor.Bounds, len(ls))
	for i := range ls {
		l := &ls[i]
		extents[i] = nowhere
		if !repairable(l) || !l.Counts {
			continue
		}
		at.byPlate[l.Plate] = append(at.byPlate[l.Plate], i)
		at.widest = math.Max(at.widest, math.Hypot(l.Box.Length(), l.Box.Width())/2)
		if l.Placed {
			extents[i] = floor.Bounds{Min: l.At, Max: l.At}
		}
	}
	at.squares = floor.NewSquares(extents, square)
	return at
}

// near are the locations whose centre may lie in an extent in plan, or off it by
// no more than a gap; without one, all of some plates.
func (at *places) near(e floor.Bounds, gap float64, placed bool, plates []int) []int {
	if placed {
		return at.squares.Near(e, at.reach+gap, nil)
	}
	var out []int
	for _, k := range plates {
		out = append(out, at.byPlate[k]...)
	}
	slices.Sort(out)
	return out
}

// taken are the locations that a patch takes out: those it was made for, and
// others of its plate, of those beside it or under it and of those it was made
// for, that are covered as well.
func (s *shop) taken(p *patch, at *places) []int {
	members := p.members()
	plates := s.platesBeside(p.plate, p.frame, p.box)
	for _, i := range members {
		if k := at.ls[i].Plate; !slices.Contains(plates, k) {
			plates = append(plates, k)
		}
	}
	e, placed := s.plan.Extent(p.frame, p.box)
	out := members
	for _, i := range at.near(e, 0, placed, plates) {
		l := &at.ls[i]
		if _, member := slices.BinarySearch(members, i); !member && slices.Contains(plates, l.Plate) && s.takes(p.frame, p.box, l) {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// items writes a proposal as repairs in crew order: by plate, then along it.
func (s *shop) items(w work, at *places) []Item {
	var out []Item
	for _, p := range w.patches {
		if _, gone := w.replaced[p.plate]; gone {
			continue
		}
		it := Item{
			Kind: Patch, Plate: p.plate, Boxed: true, Shape: Rounded, Proposed: true, Row: -1,
			Length: unit.Length(p.box.Length()), Width: unit.Length(p.box.Width()),
			frame: p.frame, own: p.box, Engineer: p.unsettled, unsettled: p.unsettled,
		}
		if p.tombstone {
			it.Shape = Tombstone
		}
		if k, ok := s.listedUnder(p, w.replaced); ok {
			it.Plate = k
			if !p.tombstone {
				it.frame = k
				it.own, _ = s.carried(p.frame, p.box, k)
			}
		} else if s.middleOff(p) { // no plate to list it under
			it.Engineer, it.unsettled = true, true
		}
		it.Box, it.Boxed = s.carried(it.frame, it.own, it.Plate)
		it.Zone = s.zone(it.frame, it.own)
		if s.sector(it.Plate) && it.Zone == floor.General {
			it.Zone = floor.Annular
		}
		it.Engineer = it.Engineer || it.Zone == floor.Critical || s.sector(it.Plate)
		it.Thickness = s.thickness(it.Plate, p.tombstone)
		it.Locations = s.taken(p, at)
		out = append(out, it)
	}
	for k := range s.own {
		why, gone := w.replaced[k]
		if !gone {
			continue
		}
		pl := &s.plan.Plates[k]
		it := Item{
			Kind: Replace, Plate: k, Proposed: true, Row: -1, Thickness: s.nominal(k), Reasons: []string{why},
			Length: unit.Length(pl.Length), Width: unit.Length(pl.Width), Boxed: pl.Sized, Box: floor.Box{U2: pl.Length, V2: pl.Width},
			Locations: slices.Clone(at.byPlate[k]), frame: k, own: floor.Box{U2: pl.Length, V2: pl.Width},
		}
		it.Engineer = pl.Sector
		out = append(out, it)
	}
	for i := range out {
		it := &out[i]
		if it.Boxed {
			c := it.Box.Centre()
			if at, ok := s.plan.LocalToPlan(it.frame, it.own.Centre()); ok && it.frame != it.Plate {
				c, _ = s.plan.PlanToLocal(it.Plate, at) // of the patch itself, not of the box around it
			}
			if x, y, ok := s.plan.FromLocal(it.Plate, c); ok {
				it.X, it.Y = unit.Length(x), unit.Length(y)
			}
		}
	}
	sort.SliceStable(out, func(a, b int) bool {
		p, q := &out[a], &out[b]
		if p.Plate != q.Plate {
			return p.Plate < q.Plate
		}
		if p.X != q.X {
			return p.X < q.X
		}
		return p.Y < q.Y
	})
	for i := range out {
		out[i].Label = fmt.Sprintf("R%d", i+1)
	}
	return out
}

// listedUnder is the plate under the middle of a patch, where that is not the one
// it was made for and the patch can be told on it as it is.
func (s *shop) listedUnder(p *patch, replaced map[int]string) (int, bool) {
	if !s.middleOff(p) {
		return 0, false
	}
	at, _ := s.plan.LocalToPlan(p.frame, p.box.Centre())
	k := s.plan.PlateAt(at)
	if _, gone := replaced[k]; k < 0 || k >= s.own || gone {
		return 0, false
	}
	return k, p.tombstone || s.parallel(p.plate, k)
}

// proposal is items as the evaluation takes them. A plate that is replaced takes
// all that was found on it out.
func (s *shop) proposal(items []Item, ls []assess.Location) assess.Proposal {
	p := assess.Proposal{Repair: make([]string, len(ls))}
	replaced := map[int]string{}
	for i := range items {
		it := &items[i]
		if it.Kind == Replace {
			replaced[it.Plate] = it.Label
		}
		for _, n := range it.Locations {
			if p.Repair[n] == "" {
				p.Repair[n] = it.Label
			}
		}
		p.Metal = append(p.Metal, assess.Metal{
			Label: it.Label, Plate: it.Plate, Box: it.Box, Placed: it.Boxed && it.Kind == Patch, Whole: it.Kind == Replace, Thickness: it.Thickness,
		})
	}
	if len(replaced) > 0 {
		for n := range ls {
			if l := &ls[n]; p.Repair[n] == "" && l.Kind != assess.ExtremeAt {
				p.Repair[n] = replaced[l.Plate]
			}
		}
	}
	return p
}
