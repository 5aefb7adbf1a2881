package repair

import (
	"container/heap"
	"math"
	"slices"
	"sort"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// seeds are the patches of single locations, each alone, with those that stand
// near each other. They do not depend on what else is repaired, so one set
// serves every threshold: a proposal starts from those of them that it needs.
//
// Locations that lie in one and the same box have one seed. They would become
// one patch before any other, of that same box, and as many of them as a sheet
// holds would each be held against each.
type seeds struct {
	ls      []assess.Location
	alone   []*patch // in the order of the sheet
	by      []int32  // of each location, in alone
	extents []floor.Bounds
	placed  []bool
	squares *floor.Squares // by their number in alone
	loose   map[int][]int  // those without a place in plan, by plate
	pairs   pairs          // nearest first, unless crowded
	crowded bool           // many in one place: pairs are looked for as they are needed
}

// square is the side of the squares in which patches are looked up, mm.
const square = 600

// seedsOf shapes the patch of each location by itself.
func (s *shop) seedsOf(ls []assess.Location, need []int) *seeds {
	g := &seeds{ls: ls, loose: map[int][]int{}, by: make([]int32, len(ls))}
	all := make([]patch, len(need))
	own := slices.Clone(need)
	in := make(map[corroded]int32, len(need))
	for n, i := range need {
		at := corroded{ls[i].Plate, ls[i].Box}
		if k, ok := in[at]; ok {
			g.by[i] = k
			g.alone[k].locations = append(g.alone[k].locations, i)
			continue
		}
		k := len(g.alone)
		p := &all[k]
		g.by[i], in[at] = int32(k), int32(k)
		p.plate, p.raw, p.locations, p.least = ls[i].Plate, ls[i].Box, own[n:n+1:n+1], i
		if s.shape(p); s.middleOff(p) || s.sector(p.plate) {
			if q, ok := s.nextTo(p, nil); ok {
				*p = *q
			}
		}
		if p.tombstone {
			p.figure, _ = s.figure(p)
		}
		e, ok := s.plan.Extent(p.frame, p.box)
		if !ok {
			e = nowhere
			g.loose[p.plate] = append(g.loose[p.plate], k)
		}
		g.alone, g.extents, g.placed = append(g.alone, p), append(g.extents, e), append(g.placed, ok)
	}
	g.squares = floor.NewSquares(g.extents, square)
	if len(g.alone) < len(need) {
		g.crowded = true // which of a box's locations is the first hangs on what is needed
		return g
	}
	var near []int
	for k, p := range g.alone {
		near = near[:0]
		if g.placed[k] {
			near = g.squares.Near(g.extents[k], s.reach(p), near)
		} else {
			near = append(near, g.loose[p.plate]...)
		}
		for _, j := range near {
			if j >= k {
				break
			}
			if n, ok := s.pair(g.alone[j], p, g.extents[j], g.extents[k]); ok {
				n.a, n.b = j, k
				g.pairs = append(g.pairs, n)
			}
		}
		if len(g.pairs) > crowd*(1000+len(need)) {
			g.pairs, g.crowded = nil, true
			return g
		}
	}
	sort.Sort(g.pairs)
	return g
}

// crowd is how many pairs a location may have on average and all of them still
// be kept.
const crowd = 16

// holds says whether a location has a seed.
func (g *seeds) holds(i int) bool {
	if len(g.alone) == 0 {
		return false
	}
	_, ok := slices.BinarySearch(g.alone[g.by[i]].locations, i)
	return ok
}

// of is a seed as far as it is needed, nil where none of its locations is.
func (g *seeds) of(k int, needed []bool) *patch {
	p := g.alone[k]
	if len(p.locations) == 1 {
		if !needed[p.least] {
			return nil
		}
		return p
	}
	q := *p
	q.locations = nil
	for _, i := range p.locations {
		if needed[i] {
			q.locations = append(q.locations, i)
		}
	}
	if len(q.locations) == 0 {
		return nil
	}
	q.least = q.locations[0]
	return &q
}

var nowhere = floor.Bounds{Min: floor.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: floor.Point{X: math.Inf(-1), Y: math.Inf(-1)}}

// pair is two patches near each other: a stands before b in the list.
type pair struct {
	a, b          int
	distance      float64
	first, second int // least members, for ties
}

func (p *pair) before(o *pair) bool {
	switch {
	case p.distance != o.distance:
		return p.distance < o.distance
	case p.first != o.first:
		return p.first < o.first
	}
	return p.second < o.second
}

// beside are the pairs of a patch with those before it in the list. Only the
// nearest are kept, and only one at a time waits in the heap: a crowd in one
// place takes room for its patches, not for all pairs of them.
type beside struct {
	pairs pairs // nearest first
	more  bool  // that were not kept
	last  pair  // that was taken off
}

// kept is how many pairs of a patch are kept.
const kept = 16

func (b *beside) add(n pair) {
	at := sort.Search(len(b.pairs), func(i int) bool { return n.before(&b.pairs[i]) })
	if len(b.pairs) == kept {
		if b.more = true; at == kept {
			return
		}
		b.pairs = b.pairs[:kept-1]
	}
	b.pairs = slices.Insert(b.pairs, at, n)
}

// pairs is a heap, nearest first, ties in the order of the sheet.
type pairs []pair

func (p pairs) Len() int           { return len(p) }
func (p pairs) Less(i, j int) bool { return p[i].before(&p[j]) }
func (p pairs) Swap(i, j int)      { p[i], p[j] = p[j], p[i] }

// Push and Pop serve container/heap.
func (p *pairs) Push(x any) { *p = append(*p, x.(pair)) }

// Pop takes the last.
func (p *pairs) Pop() any {
	old := *p
	last := old[len(old)-1]
	*p = old[:len(old)-1]
	return last
}

// reach is how far off another patch may have to be: the gap, and beside a
// tombstone the clear metal of half the lesser dimension.
func (s *shop) reach(p *patch) float64 {
	return math.Max(s.z.gap, math.Min(p.box.Length(), p.box.Width())/2)
}

// pair measures between two patches; false when they stand clear of each other.
// What is too near a tombstone for the critical zone becomes one patch with it.
func (s *shop) pair(a, b *patch, at, bt floor.Bounds) (pair, bool) {
	d, ok, gap := 0.0, true, s.z.gap
	if a.tombstone || b.tombstone {
		gap = math.Min(s.reach(a), s.reach(b))
	}
	switch same := a.frame == b.frame && !s.sector(a.frame); {
	case same:
		d = a.box.Apart(b.box)
	case at.Apart(bt) >= gap+fine:
		return pair{}, false
	default:
		f, placed := s.figure(a)
		o, too := s.figure(b)
		if ok = placed && too; ok {
			d = f.Apart(o, gap)
		}
	}
	if !ok || !(d < gap-fine || d == 0) {
		return pair{}, false
	}
	if d < fine {
		d = 0
	}
	return pair{distance: d, first: min(a.least, b.least), second: max(a.least, b.least)}, true
}

// figure is a patch in plan. A tombstone's is kept: its arcs are many parts.
func (s *shop) figure(p *patch) (*floor.Figure, bool) {
	if p.figure != nil {
		return p.figure, true
	}
	f, ok := s.plan.Figure(p.frame, p.box)
	return &f, ok
}

func (s *shop) apart(a, b *patch) (float64, bool) {
	if a.frame == b.frame && !s.sector(a.frame) {
		return a.box.Apart(b.box), true
	}
	return s.plan.ToBox(a.frame, a.box, b.frame, b.box)
}

// joined is the patch over two, on the plate of the first where it can be, and on
// none of those gone.
func (s *shop) joined(a, b *patch, gone map[int]string) (*patch, bool) {
	raw, ok := s.carried(b.plate, b.raw, a.plate)
	if !ok {
		return nil, false
	}
	p := &patch{plate: a.plate, raw: a.raw.Join(raw), parts: [2]*patch{a, b}, least: min(a.least, b.least)}
	s.shape(p)
	if q, ok := s.nextTo(p, gone); ok {
		return q, true
	}
	return p, true
}

// nextTo is a patch shaped on another plate, when its own is none of those along
// the same lines, and not gone: on the one under its middle, where that is not its
// own, since a patch has its place on the plate it is listed under; and on the one
// inside the ring, when it takes less than half as much there. Seams that run at a
// skew to the ring run along the plates inside it.
func (s *shop) nextTo(p *patch, gone map[int]string) (*patch, bool) {
	off := s.middleOff(p)
	over := p.frame == p.plate && s.sector(p.plate) && p.box.V2 > s.plan.Plates[p.plate].Width
	if p.tombstone || !off && !over {
		return nil, false
	}
	from := p.box.Centre()
	if !off {
		from.Y = p.box.V2
	}
	at, _ := s.plan.LocalToPlan(p.frame, from)
	k := s.plan.PlateAt(at)
	_, out := gone[k]
	if !out && s.parallel(p.plate, k) {
		return nil, false // and may be listed under it
	}
	if q, ok := s.shapedOn(p, k); ok && !out && (off || !q.tombstone && 2*q.box.Length()*q.box.Width() < p.box.Length()*p.box.Width()) {
		return q, true
	}
	if !off {
		return nil, false
	}
	r := *p
	if s.inward(&r); r.unsettled || s.lost(&r) {
		r = *p // has no plate to stand on: left to an engineer
		r.unsettled = true
	}
	return &r, true
}

// shapedOn is a patch shaped anew on another plate, false when it cannot stand
// there.
func (s *shop) shapedOn(p *patch, k int) (*patch, bool) {
	if k < 0 || s.sector(k) && s.sector(p.plate) {
		return nil, false
	}
	q := &patch{plate: k, locations: p.locations, parts: p.parts, least: p.least}
	ok := true
	if q.raw, ok = s.carried(p.plate, p.raw, k); ok && p.parts[0] != nil {
		a, one := s.carried(p.parts[0].plate, p.parts[0].raw, k)
		b, two := s.carried(p.parts[1].plate, p.parts[1].raw, k)
		q.raw, ok = a.Join(b), one && two
	}
	if !ok {
		return nil, false
	}
	s.shape(q)
	s.inward(q)
	return q, !q.unsettled && !s.lost(q)
}

// lost says whether a patch has no plate to be listed under.
func (s *shop) lost(p *patch) bool {
	if !s.middleOff(p) {
		return false
	}
	at, _ := s.plan.LocalToPlan(p.frame, p.box.Centre())
	k := s.plan.PlateAt(at)
	return k < 0 || !p.tombstone && !s.parallel(p.plate, k)
}

// inward grows a patch on a plate inside the ring, whose middle lies outside the
// rim, towards the centre of the tank until it lies within, and one on the ring,
// whose middle lies inside, towards the shell.
func (s *shop) inward(p *patch) {
	for range rounds {
		c := p.box.Centre()
		at, _ := s.plan.LocalToPlan(p.frame, c)
		centre, _ := s.plan.PlanToLocal(p.frame, floor.Point{})
		off := math.Hypot(at.X, at.Y) - s.plan.Rim
		b := p.box.Grow(-s.z.overlap)
		switch {
		case p.tombstone || !s.lost(p):
			return
		case s.sector(p.plate) && p.frame == p.plate:
			p.raw.V1 = b.V1 - 2*math.Max(1, c.Y-s.plan.Plates[p.plate].Width)
			s.shape(p)
			continue
		case s.sector(p.plate) || off <= fine:
			return
		}
		du, dv := centre.X-c.X, centre.Y-c.Y
		by := 2 * off * math.Hypot(du, dv) / math.Max(math.Abs(du), math.Abs(dv)) // the middle moves by half
		switch {
		case math.Abs(du) < math.Abs(dv) && dv > 0:
			p.raw.V2 = b.V2 + by
		case math.Abs(du) < math.Abs(dv):
			p.raw.V1 = b.V1 - by
		case du > 0:
			p.raw.U2 = b.U2 + by
		default:
			p.raw.U1 = b.U1 - by
		}
		s.shape(p)
	}
}

// middleOff says whether the middle of a patch lies beyond the plate it is
// listed under.
func (s *shop) middleOff(p *patch) bool {
	at := p.box.Centre()
	if p.frame != p.plate {
		in, ok := s.plan.LocalToPlan(p.frame, at)
		if !ok {
			return false
		}
		at, _ = s.plan.PlanToLocal(p.plate, in)
	}
	x, y, ok := s.plan.FromLocal(p.plate, at)
	return ok && !s.plan.Inside(p.plate, x, y, s.set.Number(criteria.PositionTolerance)).OK
}

// parallel says whether two plates lie along the same lines.
func (s *shop) parallel(a, b int) bool {
	return a >= 0 && b >= 0 && !s.sector(a) && !s.sector(b) && s.plan.Plates[a].Turned == s.plan.Plates[b].Turned
}

// merger joins patches of one floor. A plate that a joint patch shows to be
// past patching is given up on the way, so that a cluster does not grow over
// the whole floor.
//
// Of n locations at most n joints are made, each looked up among what stands
// beside it: the work grows as n·log n while patches stand about as densely.
type merger struct {
	*shop
	*seeds
	own    []*patch       // seeds, as far as they are needed
	alive  []*patch       // seeds by their number, then joint patches
	ground *floor.Squares // of seeds
	joint  *floor.Squares // of joint patches
	queue  []*beside      // of each in alive, nil for a seed whose pairs are kept
	next   pairs          // the nearest of each queue
	gone   map[int]string
	found  []int
}

// merged joins the patches of needed locations that overlap or stand nearer
// than the gap, nearest first, ties in the order of the sheet. gone takes plates
// given up.
func (s *shop) merged(g *seeds, needed []bool, gone map[int]string) []*patch {
	m := &merger{shop: s, seeds: g, gone: gone, ground: g.squares, joint: g.squares.Layer(), queue: make([]*beside, len(g.alone)), own: make([]*patch, len(g.alone)), alive: make([]*patch, len(g.alone))}
	for k, p := range g.alone {
		m.own[k] = g.of(k, needed)
		if _, out := gone[p.plate]; !out {
			m.alive[k] = m.own[k]
		}
	}
	if g.crowded {
		m.ground = g.squares.Clone()
		for k, p := range m.alive {
			if p != nil {
				m.queue[k] = m.look(k)
				m.wait(k)
			}
		}
	}
	for _, p := range m.own {
		if p == nil {
			continue
		}
		if q, ok := m.home(p); ok {
			m.add(q)
		}
	}
	for near := g.pairs; len(near) > 0 || len(m.next) > 0; {
		var n pair
		if len(near) > 0 && (len(m.next) == 0 || near[0].before(&m.next[0])) {
			n, near = near[0], near[1:]
		} else {
			n = heap.Pop(&m.next).(pair)
		}
		a, b := m.alive[n.a], m.alive[n.b]
		if b == nil {
			continue
		}
		if a == nil {
			m.wait(n.b)
			continue
		}
		p, ok := s.joined(a, b, gone)
		if !ok {
			m.wait(n.b)
			continue
		}
		m.drop(n.a)
		m.drop(n.b)
		if why := s.pastPatching(p); why != "" {
			m.giveUp(p, why)
			continue
		}
		m.add(p)
	}
	return slices.DeleteFunc(m.alive, func(p *patch) bool { return p == nil })
}

// home is the patch of a single location on the location's own plate, when it was
// shaped on another that is gone.
func (m *merger) home(p *patch) (*patch, bool) {
	l := &m.ls[p.least]
	if l.Plate == p.plate {
		return nil, false
	}
	_, out := m.gone[p.plate]
	if _, too := m.gone[l.Plate]; !out || too {
		return nil, false
	}
	q := &patch{plate: l.Plate, raw: l.Box, locations: p.locations, least: p.least}
	m.shape(q)
	return q, true
}

func (m *merger) drop(k int) {
	m.alive[k] = nil
	if k >= len(m.alone) {
		m.joint.Drop(k)
	} else if m.crowded {
		m.ground.Drop(k)
	}
}

// add puts a patch among the others and looks for those near it.
func (m *merger) add(p *patch) {
	if p.tombstone && p.figure == nil {
		p.figure, _ = m.figure(p)
	}
	e, ok := m.plan.Extent(p.frame, p.box)
	if !ok {
		e = nowhere
	}
	k := m.joint.Add(e)
	m.alive = append(m.alive, p)
	m.queue = append(m.queue, m.look(k))
	m.wait(k)
}

// wait puts the nearest of a patch's pairs that can still become one into the
// heap.
func (m *merger) wait(k int) {
	for q := m.queue[k]; q != nil; {
		for len(q.pairs) > 0 {
			n := q.pairs[0]
			q.pairs, q.last = q.pairs[1:], n
			if m.alive[n.a] != nil {
				heap.Push(&m.next, n)
				return
			}
		}
		if !q.more {
			return
		}
		*q = *m.look(k)
	}
}

// look finds the pairs of a patch with those before it that are there, behind
// the one that was taken off last.
func (m *merger) look(k int) *beside {
	p, out := m.alive[k], &beside{}
	if k < len(m.queue) && m.queue[k] != nil {
		out.last = m.queue[k].last
	}
	meet := func(j int, at, bt floor.Bounds) {
		if q := m.alive[j]; q != nil && j < k {
			if n, ok := m.pair(q, p, at, bt); ok && out.last.before(&n) {
				n.a, n.b = j, k
				out.add(n)
			}
		}
	}
	e, placed := m.extent(k)
	if placed {
		m.found = m.ground.Near(e, m.reach(p), m.found[:0])
		m.found = m.joint.Near(e, m.reach(p), m.found)
		for _, j := range m.found {
			at, _ := m.extent(j)
			meet(j, at, e)
		}
		return out
	}
	for j, q := range m.alive[:k] {
		if _, placed := m.extent(j); !placed && q != nil && q.plate == p.plate {
			meet(j, nowhere, nowhere)
		}
	}
	return out
}

// extent is where a patch lies in plan; false without a place.
func (m *merger) extent(k int) (floor.Bounds, bool) {
	if k < len(m.alone) {
		return m.ground.Extent(k)
	}
	return m.joint.Extent(k)
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
	share := s.set.Number(criteria.ReplacePlateAtPatchShare)
	if whole := p.box.Length() * p.box.Width() / 1e6; 100*whole/float64(pl.NetArea) <= share {
		return "" // and what of it lies on the plate is no more
	}
	part := 100 * float64(s.plan.BoxArea(p.plate, p.box).Or(0)/pl.NetArea)
	if step.AtMost(unit.Share, part, share) {
		return ""
	}
	return s.covered(part)
}

// mostAlong is how many times too long a tombstone may be and still be looked
// at for a split.
const mostAlong = 6

const tooLong = "patch at the shell longer than allowed along it"

// giveUp replaces the plate of a patch: its patches go, what they took in on
// other plates stands for itself again.
func (m *merger) giveUp(p *patch, why string) {
	m.gone[p.plate] = why
	back := p.members()
	for i, q := range m.alive {
		if q != nil && q.plate == p.plate {
			back = append(back, q.members()...)
			m.drop(i)
		}
	}
	sort.Ints(back)
	for _, i := range back {
		if _, gone := m.gone[m.ls[i].Plate]; !gone {
			p := m.own[m.by[i]]
			if p.least != i {
				continue // stands with the first of its box
			}
			if q, ok := m.home(p); ok {
				p = q
			}
			m.add(p)
		}
	}
}
