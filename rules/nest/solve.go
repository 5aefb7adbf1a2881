package nest

import "sort"

// solve finds the packing: exactly where the pieces are few, else by many
// orders and a bounded search.
func (j *job) solve() packing {
	if p, ok := j.exact(min(fewPairs, j.effort/perPair)); ok {
		return p
	}
	best := j.first()
	if len(best.bins) > j.bound {
		if p, ok := j.exact(min(mostPairs, j.effort/perPair)); ok {
			return p
		}
	}
	for len(best.bins) > j.bound {
		p, ok := j.fewer(len(best.bins) - 1)
		if !ok {
			break
		}
		best = p
	}
	if j.enough(len(best.bins)) {
		return best
	}
	best = j.lighter(best)
	if j.rules.Count {
		return best
	}
	return j.roomier(best)
}

// enough says whether a number of sheets is all that is asked for: no layout
// has fewer.
func (j *job) enough(sheets int) bool { return j.rules.Count && sheets == j.bound }

// perPair is the effort that a pair of choices of the exact solution counts as.
const perPair = 50

// first tries every order and way of cutting with as many sheets as it takes.
func (j *job) first() packing {
	var best, p packing
	var b builder
	bestCount, bestArea := 0, 0.0
	for _, s := range j.open() {
		for _, o := range j.orders() {
			for score := range scores {
				for split := range splits {
					j.build(&b, s, o, score, split, nil, &p)
					if a := p.area(); bestCount == 0 || len(p.bins) < bestCount || (len(p.bins) == bestCount && a < bestArea) {
						bestCount, bestArea = len(p.bins), a
						best = p.copied()
					}
				}
			}
			if bestCount == j.bound && (len(j.sheets) == 1 || j.rules.Count) {
				return best
			}
		}
	}
	return best
}

func (p *packing) copied() packing {
	return packing{bins: append([]bin(nil), p.bins...), at: append([]spot(nil), p.at...)}
}

// open are supplies without end: each stock size first in turn.
func (j *job) open() []supply {
	var out []supply
	for k := range j.sheets {
		if k > 0 && !j.needed(k) {
			continue
		}
		s := supply{count: make([]int, len(j.sheets)), order: []int{k}}
		for i := range j.sheets {
			s.count[i] = len(j.items)
			if i != k {
				s.order = append(s.order, i)
			}
		}
		out = append(out, s)
	}
	return out
}

// needed says whether no larger stock size takes the place of one when only
// the number of sheets counts.
func (j *job) needed(k int) bool {
	for i, b := range j.sheets {
		if i != k && b.w >= j.sheets[k].w && b.h >= j.sheets[k].h {
			return false
		}
	}
	return true
}

// most supplies tried for one number of sheets.
const mostSupplies = 60

// supplies are the choices of n sheets among the given stock sizes, least area
// first.
func (j *job) supplies(n int, stocks []int) []supply {
	var out []supply
	count := make([]int, len(j.sheets))
	var choose func(at, left int)
	choose = func(at, left int) {
		if len(out) > 5000 {
			return
		}
		if at == len(stocks)-1 {
			count[stocks[at]] = left
			out = append(out, supply{count: append([]int(nil), count...)})
			count[stocks[at]] = 0
			return
		}
		for c := left; c >= 0; c-- {
			count[stocks[at]] = c
			choose(at+1, left-c)
		}
		count[stocks[at]] = 0
	}
	choose(0, n)
	for i := range out {
		for k := range j.sheets {
			out[i].order = append(out[i].order, k)
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return j.supplyArea(out[a]) < j.supplyArea(out[b]) })
	return out
}

// itemArea is what the pieces need of it, kerf included, in square ticks.
func (j *job) itemArea() float64 {
	var a float64
	for i := range j.items {
		a += j.items[i].area
	}
	return a
}

// fewer looks for a packing in n sheets.
func (j *job) fewer(n int) (packing, bool) {
	var stocks []int
	for k := range j.sheets {
		if j.needed(k) {
			stocks = append(stocks, k)
		}
	}
	list := j.supplies(n, stocks)
	need := j.itemArea()
	tried := 0
	for i := len(list) - 1; i >= 0 && tried < mostSupplies && j.work < j.effort; i-- {
		if j.room(list[i])*(1+1e-12) < need {
			continue
		}
		tried++
		left := j.effort - j.work
		if p, ok := j.search(list[i], left/min(4, i+1)); ok {
			return p, true
		}
	}
	return packing{}, false
}

// lighter keeps the number of sheets and looks for less sheet area.
func (j *job) lighter(best packing) packing {
	if len(j.sheets) < 2 {
		return best
	}
	n := len(best.bins)
	all := make([]int, len(j.sheets))
	for k := range all {
		all[k] = k
	}
	need := j.itemArea()
	if list := j.supplies(n, all); len(list) <= mostSupplies {
		for _, s := range list {
			a := j.supplyArea(s)
			if a >= best.area() {
				break
			}
			if j.room(s)*(1+1e-12) < need {
				continue
			}
			if p, ok := j.search(s, j.effort/40); ok {
				return p
			}
		}
		return best
	}
	for again := true; again; {
		again = false
		held := j.held(best)
		type swap struct {
			from, to int
			saving   float64
		}
		var swaps []swap
		for from, c := range held.count {
			for to := range j.sheets {
				if saving := j.sheets[from].area() - j.sheets[to].area(); c > 0 && saving > 0 {
					swaps = append(swaps, swap{from, to, saving})
				}
			}
		}
		sort.SliceStable(swaps, func(a, b int) bool { return swaps[a].saving > swaps[b].saving })
		for _, w := range swaps {
			s := supply{order: held.order, count: append([]int(nil), held.count...)}
			s.count[w.from]--
			s.count[w.to]++
			if j.room(s)*(1+1e-12) < need {
				continue
			}
			if p, ok := j.search(s, j.effort/100); ok {
				best, again = p, true
				break
			}
		}
	}
	return best
}

// held is the supply a packing used up.
func (j *job) held(p packing) supply {
	s := supply{count: make([]int, len(j.sheets))}
	for k := range j.sheets {
		s.order = append(s.order, k)
		for _, b := range p.bins {
			if b.stock == j.sheets[k].stock {
				s.count[k]++
			}
		}
	}
	return s
}

// roomier keeps sheets and area and looks for a larger single offcut: other
// orders over all sheets, then the emptiest sheet exactly.
func (j *job) roomier(best packing) packing {
	k, least := up(j.rules.Kerf), down(j.rules.Offcut)
	widest := func(p *packing) float64 {
		most := 0.0
		for n, b := range p.bins {
			var boxes []box
			for _, a := range p.at {
				if a.bin == n {
					boxes = append(boxes, box{a.x, a.y, a.w, a.h})
				}
			}
			most = max(most, largestOffcut(box{0, 0, b.w, b.h}, boxes, k, least))
		}
		return most
	}
	most := widest(&best)
	var b builder
	var p packing
	s := j.held(best)
	for _, order := range j.orders() {
		for score := range scores {
			for split := range splits {
				if len(j.items)*len(j.items) > j.effort/500 && score != firstBin {
					continue
				}
				j.build(&b, s, order, score, split, nil, &p)
				if len(p.left) > 0 || len(p.bins) != len(best.bins) {
					continue
				}
				if m := widest(&p); m > most*(1+1e-12) {
					best, most = p.copied(), m
				}
			}
		}
	}
	return best
}
