package repair

import (
	"math"
	"slices"
	"sort"

	"platebook/rules/floor"
)

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

// enough says that no pair of a patch with one of these members or later can
// be among the nearest: patches that lie over each other come in the order of
// the sheet, and in a crowd all do.
func (b *beside) enough(own, from int) bool {
	best := pair{first: min(own, from), second: max(own, from)}
	return len(b.pairs) == kept && !best.before(&b.pairs[kept-1])
}

// pairs is a heap, nearest first, ties in the order of the sheet.
type pairs []pair

func (p pairs) Len() int { return len(p) }

func (p pairs) Less(i, j int) bool { return p[i].before(&p[j]) }

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
