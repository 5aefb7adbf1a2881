package repair

import (
	"container/heap"
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

// patch is a patch being shaped. raw is the corroded metal, in the frame of the
// plate it is listed under.
type patch struct {
	plate     int
	raw       floor.Box
	members   []int
	frame     int // of box
	box       floor.Box
	tombstone bool
	unsettled bool
	replace   string // why the plate has to be replaced instead
}

// alone is the patch of one location.
func (s *shop) alone(ls []assess.Location, i int) *patch {
	if p := s.shaped[i]; p != nil {
		return p
	}
	p := &patch{plate: ls[i].Plate, raw: ls[i].Box, members: []int{i}}
	s.shape(p)
	s.shaped[i] = p
	return p
}

// shape sizes a patch: overlap and least size, clear of welds, and near the
// shell as a tombstone. The shape follows from plate and metal alone, and the
// table of thresholds asks for the same one at level after level, so it is
// remembered.
func (s *shop) shape(p *patch) {
	at := corroded{p.plate, p.raw}
	if known, ok := s.shapes[at]; ok {
		p.frame, p.box, p.tombstone, p.unsettled = known.frame, known.box, known.tombstone, known.unsettled
		return
	}
	s.sized(p)
	s.shapes[at] = *p
}

// corroded is metal of a plate that a patch has to cover.
type corroded struct {
	plate int
	raw   floor.Box
}

func (s *shop) sized(p *patch) {
	p.frame, p.tombstone, p.unsettled = p.plate, false, false
	first := s.z.over(p.raw)
	b, ok := s.z.clearOf(first, func(b floor.Box) []strip { return s.near(p.frame, b, s.z.clearance) }, false)
	if !ok {
		b, p.unsettled = first, true
	}
	p.box = b
	if d, known := s.shellDistance(p.frame, b); known && d < s.z.tombstone-fine && s.plan.Radius > 0 {
		s.atShell(p)
	}
}

// atShell shapes a tombstone: its length along the shell and its width inward
// from it, square to the shell at both sides.
func (s *shop) atShell(p *patch) {
	frame := p.plate
	if !s.sector(frame) {
		c, ok := s.plan.LocalToPlan(p.plate, p.raw.Centre())
		if !ok {
			return
		}
		frame = s.frame(c)
	}
	raw, ok := s.carried(p.plate, p.raw, frame)
	if !ok {
		return
	}
	// Lengths run along the shell; further in the same angle is shorter, so
	// the overlap is taken larger by as much.
	r := s.plan.Radius
	inner := r - raw.V2 - s.z.overlap
	if inner <= r/2 {
		return
	}
	grown := raw
	extra := s.z.overlap * (r/inner - 1)
	grown.U1, grown.U2 = raw.U1-extra, raw.U2+extra
	b := s.z.over(grown)
	b.V1, b.V2 = 0, s.z.rounded(math.Max(raw.V2+s.z.overlap, s.z.minimum))
	p.frame, p.tombstone = frame, true
	first := b
	if b.Length() > mostAlong*s.z.longest {
		p.box = b // given up or replaced, whatever welds it crosses
		return
	}
	b, ok = s.z.clearOf(first, func(b floor.Box) []strip { return s.near(frame, b, s.z.clearance) }, true)
	p.unsettled = !ok
	if !ok {
		b = first
	}
	p.box = b
}

func (s *shop) apart(a, b *patch) (float64, bool) {
	if a.frame == b.frame && !s.sector(a.frame) {
		return a.box.Apart(b.box), true
	}
	return s.plan.ToBox(a.frame, a.box, b.frame, b.box)
}

// joined is the patch over two, on the plate of the first.
func (s *shop) joined(a, b *patch) (*patch, bool) {
	raw, ok := s.carried(b.plate, b.raw, a.plate)
	if !ok {
		return nil, false
	}
	p := &patch{plate: a.plate, raw: a.raw.Join(raw), members: append(slices.Clone(a.members), b.members...)}
	sort.Ints(p.members)
	s.shape(p)
	return p, true
}

// pair is two patches near each other: a stands before b in the list.
type pair struct {
	a, b          int
	distance      float64
	first, second int // least members, for ties
}

// pairs is a heap, nearest first, ties in the order of the sheet.
type pairs []pair

func (p pairs) Len() int { return len(p) }

func (p pairs) Less(i, j int) bool {
	a, b := &p[i], &p[j]
	switch {
	case a.distance != b.distance:
		return a.distance < b.distance
	case a.first != b.first:
		return a.first < b.first
	}
	return a.second < b.second
}

func (p pairs) Swap(i, j int) { p[i], p[j] = p[j], p[i] }

// Push and Pop serve container/heap.
func (p *pairs) Push(x any) { *p = append(*p, x.(pair)) }

// Pop takes the last.
func (p *pairs) Pop() any {
	old := *p
	last := old[len(old)-1]
	*p = old[:len(old)-1]
	return last
}

// merger joins patches of one floor. A plate that a joint patch shows to be
// past patching is given up on the way, so that a cluster does not grow over
// the whole floor.
type merger struct {
	*shop
	ls      []assess.Location
	alive   []*patch
	extents []floor.Bounds
	placed  []bool
	near    pairs
	gone    map[int]string
	grid    map[[2]int][]int // patches by the squares of the floor they touch
	seen    []int            // of each patch: the last search that met it
	search  int
}

// square is the side of the squares in which patches are looked up, mm.
const square = 600

// squares calls for each square that an extent touches.
func squares(e floor.Bounds, by float64, call func([2]int)) {
	for x := int(math.Floor((e.Min.X - by) / square)); x <= int(math.Floor((e.Max.X+by)/square)); x++ {
		for y := int(math.Floor((e.Min.Y - by) / square)); y <= int(math.Floor((e.Max.Y+by)/square)); y++ {
			call([2]int{x, y})
		}
	}
}

// merged joins patches that overlap or stand nearer than the gap, nearest
// first, ties in the order of the sheet. gone takes plates given up.
func (s *shop) merged(list []*patch, ls []assess.Location, gone map[int]string) []*patch {
	m := &merger{shop: s, ls: ls, gone: gone, grid: map[[2]int][]int{}}
	for _, p := range list {
		m.add(p)
	}
	for m.near.Len() > 0 {
		n := heap.Pop(&m.near).(pair)
		a, b := m.alive[n.a], m.alive[n.b]
		if a == nil || b == nil {
			continue
		}
		if n.second < n.first {
			a, b = b, a
		}
		p, ok := s.joined(a, b)
		if !ok {
			continue
		}
		m.alive[n.a], m.alive[n.b] = nil, nil
		if why := s.pastPatching(p); why != "" {
			m.giveUp(p, why)
			continue
		}
		m.add(p)
	}
	return slices.DeleteFunc(m.alive, func(p *patch) bool { return p == nil })
}

// add puts a patch among the others and looks for those near it.
func (m *merger) add(p *patch) {
	k := len(m.alive)
	e, ok := m.plan.Extent(p.frame, p.box)
	m.alive, m.extents, m.placed, m.seen = append(m.alive, p), append(m.extents, e), append(m.placed, ok), append(m.seen, 0)
	if !ok {
		for j := range k {
			if m.alive[j] != nil {
				m.meet(j, k)
			}
		}
		return
	}
	m.search++
	squares(e, m.z.gap, func(at [2]int) {
		for _, j := range m.grid[at] {
			if m.alive[j] != nil && m.seen[j] != m.search && meet(m.extents[j], e, m.z.gap) {
				m.seen[j] = m.search
				m.meet(j, k)
			}
		}
	})
	squares(e, 0, func(at [2]int) { m.grid[at] = append(m.grid[at], k) })
}

// meet notes two patches that are near enough to become one.
func (m *merger) meet(i, j int) {
	a, b := m.alive[i], m.alive[j]
	if m.placed[i] != m.placed[j] || (!m.placed[i] && a.plate != b.plate) {
		return
	}
	if d, ok := m.apart(a, b); ok && (d < m.z.gap-fine || d == 0) {
		if d < fine {
			d = 0
		}
		heap.Push(&m.near, pair{i, j, d, min(a.members[0], b.members[0]), max(a.members[0], b.members[0])})
	}
}

// pastPatching says why a patch shows that its plate has to be replaced; a
// tombstone a little too long may still be split.
func (s *shop) pastPatching(p *patch) string {
	if p.tombstone && p.box.Length() > mostAlong*s.z.longest {
		return tooLong
	}
	pl := &s.plan.Plates[p.plate]
	if p.frame != p.plate || !pl.Measured || pl.NetArea <= 0 || s.sector(p.plate) {
		return ""
	}
	part := 100 * float64(s.plan.BoxArea(p.plate, p.box).Or(0)/pl.NetArea)
	if step.AtMost(unit.Share, part, s.set.Number(criteria.ReplacePlateAtPatchShare)) {
		return ""
	}
	return "patches on " + unit.Share.TextUnit(s.set.System, part, 0) + " of the plate"
}

// mostAlong is how many times too long a tombstone may be and still be looked
// at for a split.
const mostAlong = 6

const tooLong = "patch at the shell longer than allowed along it"

// giveUp replaces the plate of a patch: its patches go, what they took in on
// other plates stands for itself again.
func (m *merger) giveUp(p *patch, why string) {
	m.gone[p.plate] = why
	back := slices.Clone(p.members)
	for i, q := range m.alive {
		if q != nil && q.plate == p.plate {
			back = append(back, q.members...)
			m.alive[i] = nil
		}
	}
	sort.Ints(back)
	for _, i := range back {
		if _, gone := m.gone[m.ls[i].Plate]; !gone {
			m.add(m.alone(m.ls, i))
		}
	}
}

func meet(a, b floor.Bounds, by float64) bool {
	return a.Min.X <= b.Max.X+by && b.Min.X <= a.Max.X+by && a.Min.Y <= b.Max.Y+by && b.Min.Y <= a.Max.Y+by
}

// shortened splits tombstones that are too long for the critical zone where
// enough clear metal stays between the parts, else gives the plate up.
func (s *shop) shortened(list []*patch, ls []assess.Location) []*patch {
	var out []*patch
	for _, p := range list {
		if !p.tombstone || p.box.Length() <= s.z.longest+fine {
			out = append(out, p)
			continue
		}
		if parts := s.split(p, ls); parts != nil {
			out = append(out, parts...)
			continue
		}
		p.replace = tooLong
		out = append(out, p)
	}
	return out
}

// split parts a tombstone at the widest gaps between its members.
func (s *shop) split(p *patch, ls []assess.Location) []*patch {
	type member struct {
		i   int
		box floor.Box
	}
	var ms []member
	for _, i := range p.members {
		b, ok := s.carried(ls[i].Plate, ls[i].Box, p.frame)
		if !ok {
			return nil
		}
		ms = append(ms, member{i, b})
	}
	sort.SliceStable(ms, func(a, b int) bool { return ms[a].box.U1 < ms[b].box.U1 })
	const mostParts = 6
	for n := 2; n <= min(len(ms), mostParts); n++ {
		cuts := make([]int, 0, len(ms))
		for i := 1; i < len(ms); i++ {
			cuts = append(cuts, i)
		}
		open := func(i int) float64 { return ms[i].box.U1 - ms[i-1].box.U2 }
		sort.SliceStable(cuts, func(a, b int) bool { return open(cuts[a]) > open(cuts[b]) })
		cuts = cuts[:n-1]
		sort.Ints(cuts)
		var parts []*patch
		from := 0
		for _, to := range append(cuts, len(ms)) {
			q := &patch{plate: ls[ms[from].i].Plate}
			for k := from; k < to; k++ {
				raw, ok := s.carried(ls[ms[k].i].Plate, ls[ms[k].i].Box, q.plate)
				if !ok {
					return nil
				}
				if k == from {
					q.raw = raw
				}
				q.raw = q.raw.Join(raw)
				q.members = append(q.members, ms[k].i)
			}
			sort.Ints(q.members)
			s.shape(q)
			parts = append(parts, q)
			from = to
		}
		if s.standApart(parts) {
			return parts
		}
	}
	return nil
}

// standApart says whether parts of a split keep the length and the clear metal
// of the critical zone: half the lesser dimension between neighbours.
func (s *shop) standApart(parts []*patch) bool {
	for i, p := range parts {
		if !p.tombstone || p.unsettled || p.box.Length() > s.z.longest+fine {
			return false
		}
		for _, q := range parts[:i] {
			d, ok := s.apart(p, q)
			lesser := math.Min(math.Min(p.box.Length(), p.box.Width()), math.Min(q.box.Length(), q.box.Width()))
			if !ok || d < lesser/2-fine {
				return false
			}
		}
	}
	return true
}

// work is a proposal: patches and the plates replaced, with the reason.
type work struct {
	patches  []*patch
	replaced map[int]string
}

// propose shapes repairs over locations by the five steps of the method.
//
// Source: derived, method section 10. Check: TestPrintedSizes,
// TestProposalMerges, TestPlateReplaced.
func (s *shop) propose(ls []assess.Location, need []int) work {
	w := work{replaced: map[int]string{}}
	for {
		var seeds []*patch
		for _, i := range need {
			if _, gone := w.replaced[ls[i].Plate]; !gone {
				seeds = append(seeds, s.alone(ls, i))
			}
		}
		w.patches = s.shortened(s.merged(seeds, ls, w.replaced), ls)
		if !s.giveUp(&w) {
			return w
		}
	}
}

// giveUp marks plates to be replaced; false when there are no more.
func (s *shop) giveUp(w *work) bool {
	any := false
	count := map[int]int{}
	for _, p := range w.patches {
		count[p.plate]++
		if _, gone := w.replaced[p.plate]; p.replace != "" && !gone {
			w.replaced[p.plate] = p.replace
			any = true
		}
	}
	share, most := s.set.Number(criteria.ReplacePlateAtPatchShare), s.set.Get(criteria.ReplacePlateAtPatches)
	extents := make([]floor.Bounds, len(w.patches))
	for i, p := range w.patches {
		extents[i], _ = s.plan.Extent(p.frame, p.box)
	}
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
		if part := 100 * float64(s.areaOn(k, w.patches, extents)/net); !step.AtMost(unit.Share, part, share) {
			w.replaced[k] = "patches on " + unit.Share.TextUnit(s.set.System, part, 0) + " of the plate"
			any = true
		}
	}
	return any
}

// areaOn is the area of a plate under patches, each place once. Patches whose
// extents in plan stand clear of the plate's are passed over at once.
func (s *shop) areaOn(k int, list []*patch, extents []floor.Bounds) unit.Area {
	var boxes []floor.Box
	var at unit.Area
	extent := floor.Box{U2: s.plan.Plates[k].Length, V2: s.plan.Plates[k].Width}
	plate, placed := s.plan.Extent(k, extent)
	for i, p := range list {
		switch {
		case placed && p.plate != k && !meet(plate, extents[i], fine):
		case p.frame >= s.own || s.sector(p.frame) != s.sector(k):
			if p.plate == k {
				at += s.plan.PlanUnion([]int{p.frame}, []floor.Box{p.box})
			}
		default:
			if b, ok := s.carried(p.frame, p.box, k); ok && b.Overlaps(extent) {
				boxes = append(boxes, b)
			}
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

// within says whether a location can lie under a patch of this extent in plan:
// its centre does, but for the tolerance of a place at the shell.
func within(e floor.Bounds, l *assess.Location, tolerance float64) bool {
	return !l.Placed || l.At.X >= e.Min.X-tolerance && l.At.X <= e.Max.X+tolerance && l.At.Y >= e.Min.Y-tolerance && l.At.Y <= e.Max.Y+tolerance
}

// items writes a proposal as repairs in crew order: by plate, then along it.
func (s *shop) items(w work, ls []assess.Location) []Item {
	var out []Item
	byPlate := make(map[int][]int)
	for i := range ls {
		if repairable(&ls[i]) && ls[i].Counts {
			byPlate[ls[i].Plate] = append(byPlate[ls[i].Plate], i)
		}
	}
	tolerance := s.set.Number(criteria.PositionTolerance) + 1
	for _, p := range w.patches {
		if _, gone := w.replaced[p.plate]; gone {
			continue
		}
		it := Item{
			Kind: Patch, Plate: p.plate, Boxed: true, Shape: Rounded, Proposed: true, Row: -1,
			Length: unit.Length(p.box.Length()), Width: unit.Length(p.box.Width()),
			Thickness: s.thickness(p.plate, p.tombstone), frame: p.frame, own: p.box, Engineer: p.unsettled, unsettled: p.unsettled,
		}
		if p.tombstone {
			it.Shape = Tombstone
		}
		it.Box, it.Boxed = s.carried(p.frame, p.box, p.plate)
		it.Zone = s.zone(p.frame, p.box)
		if s.sector(p.plate) && it.Zone == floor.General {
			it.Zone = floor.Annular
		}
		it.Engineer = it.Engineer || it.Zone == floor.Critical || s.sector(p.plate)
		if p.unsettled {
			it.Reasons = append(it.Reasons, "no size keeps clear of the welds around it")
		}
		plates := append([]int{p.plate}, s.plan.Neighbours(p.plate)...)
		for _, i := range p.members {
			if !slices.Contains(plates, ls[i].Plate) {
				plates = append(plates, ls[i].Plate)
			}
		}
		reach, placed := s.plan.Extent(p.frame, p.box)
		for _, k := range plates {
			for _, i := range byPlate[k] {
				if slices.Contains(p.members, i) || (!placed || within(reach, &ls[i], tolerance)) && s.takes(p.frame, p.box, &ls[i]) {
					it.Locations = append(it.Locations, i)
				}
			}
		}
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
			Locations: byPlate[k], frame: k, own: floor.Box{U2: pl.Length, V2: pl.Width},
		}
		it.Engineer = pl.Sector
		out = append(out, it)
	}
	for i := range out {
		it := &out[i]
		sort.Ints(it.Locations)
		if it.Boxed {
			c := it.Box.Centre()
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

// proposal is items as the evaluation takes them.
func (s *shop) proposal(items []Item, locations int) assess.Proposal {
	p := assess.Proposal{Repair: make([]string, locations)}
	for i := range items {
		it := &items[i]
		for _, n := range it.Locations {
			if p.Repair[n] == "" {
				p.Repair[n] = it.Label
			}
		}
		if it.Thickness.Known {
			p.Metal = append(p.Metal, assess.Metal{
				Label: it.Label, Plate: it.Plate, Box: it.Box, Placed: it.Boxed && it.Kind == Patch, Thickness: it.Thickness.V,
			})
		}
	}
	return p
}
