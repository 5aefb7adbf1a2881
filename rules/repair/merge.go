package repair

import (
	"container/heap"
	"math"
	"slices"
	"sort"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// reach is how far off another patch may have to be: the gap, and beside a
// tombstone the clear metal of half the lesser dimension.
func (s *shop) reach(p *patch) float64 {
	return math.Max(s.z.gap, math.Min(p.box.Length(), p.box.Width())/2)
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
	least  []int // of each seed and those behind it, the least member
	held   int   // pairs held against each other: the work
}

// merged joins the patches of needed locations that overlap or stand nearer
// than the gap, nearest first, ties in the order of the sheet. gone takes plates
// given up.
func (s *shop) merged(g *seeds, needed []bool, gone map[int]string) []*patch {
	return s.merger(g, needed, gone).merge()
}

func (s *shop) merger(g *seeds, needed []bool, gone map[int]string) *merger {
	m := &merger{shop: s, seeds: g, gone: gone, ground: g.squares, joint: g.squares.Layer(), queue: make([]*beside, len(g.alone)), own: make([]*patch, len(g.alone)), alive: make([]*patch, len(g.alone))}
	for k, p := range g.alone {
		m.own[k] = g.of(k, needed)
		if _, out := gone[p.plate]; !out {
			m.alive[k] = m.own[k]
		}
	}
	return m
}

func (m *merger) merge() []*patch {
	if m.crowded {
		m.leastMembers()
		m.ground = m.squares.Clone()
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
	for near := m.seeds.pairs; len(near) > 0 || len(m.next) > 0; {
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
		p, ok := m.joined(a, b, m.gone)
		if !ok {
			m.wait(n.b)
			continue
		}
		m.drop(n.a)
		m.drop(n.b)
		if why := m.pastPatching(p); why != "" {
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
			m.held++
			if n, ok := m.pair(q, p, at, bt); ok && out.last.before(&n) {
				n.a, n.b = j, k
				out.add(n)
			}
		}
	}
	e, placed := m.extent(k)
	if placed {
		m.ground.Each(e, m.reach(p), func(j int) bool {
			if j >= k {
				return false
			}
			if m.crowded && out.enough(p.least, m.least[j]) {
				out.more = true
				return false
			}
			at, _ := m.extent(j)
			meet(j, at, e)
			return true
		})
		m.found = m.joint.Near(e, m.reach(p), m.found[:0])
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

// leastMembers finds, for each seed, the least member of it and those behind it.
func (m *merger) leastMembers() {
	m.least = make([]int, len(m.own))
	least := math.MaxInt
	for k, p := range slices.Backward(m.own) {
		if p != nil {
			least = min(least, p.least)
		}
		m.least[k] = least
	}
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
