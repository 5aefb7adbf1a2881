package repair

import (
	"math"
	"slices"
	"sort"

	"platebook/rules/assess"
	"platebook/rules/floor"
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
