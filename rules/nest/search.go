package nest

import "math"

// search looks for a packing of all items in a fixed supply: first every order
// and way of cutting, then small changes of the best order, keeping each that
// leaves no more area without a place. effort is candidate places to try.
func (j *job) search(s supply, effort int) (packing, bool) {
	stop := j.work + effort
	var b builder
	var p packing
	type start struct {
		order        []int
		score, split int
		left         float64
	}
	var starts []start
	for _, o := range j.orders() {
		for score := range scores {
			for split := range splits {
				j.build(&b, s, o, score, split, nil, &p)
				if len(p.left) == 0 {
					return p.copied(), true
				}
				starts = append(starts, start{o, score, split, j.without(p.left)})
			}
		}
		if j.work > stop {
			return packing{}, false
		}
	}
	j.rand = 1
	n := len(j.items)
	order, best := make([]int, n), make([]int, n)
	ways, bestWays := make([]uint8, n), make([]uint8, n)
	const patience = 400
	for round := 0; j.work < stop; round++ {
		at := starts[0]
		for _, c := range starts[1:] {
			if c.left < at.left {
				at = c
			}
		}
		if round%3 != 0 {
			at = starts[j.rand.next(len(starts))]
		}
		copy(best, at.order)
		clear(bestWays)
		if round > 0 {
			j.shuffle(best, 2+j.rand.next(1+n/4))
		}
		score, split, least := at.score, at.split, math.Inf(1)
		var left []int
		for still := 0; still < patience && j.work < stop; still++ {
			copy(order, best)
			copy(ways, bestWays)
			useScore, useSplit := score, split
			if len(left) > 0 && j.rand.next(2) == 0 {
				j.forward(order, left[j.rand.next(len(left))])
			} else {
				j.shuffle(order, 1+j.rand.next(2))
			}
			switch j.rand.next(6) {
			case 0:
				useScore = j.rand.next(scores)
			case 1:
				useSplit = j.rand.next(splits)
			case 2:
				ways[j.rand.next(n)] = uint8(j.rand.next(3))
			}
			j.build(&b, s, order, useScore, useSplit, ways, &p)
			l := j.without(p.left)
			if l == 0 {
				return p.copied(), true
			}
			if l <= least {
				if l < least {
					still = 0
				}
				least, score, split = l, useScore, useSplit
				copy(best, order)
				copy(bestWays, ways)
				left = append(left[:0], p.left...)
			}
		}
	}
	return packing{}, false
}

func (j *job) without(left []int) float64 {
	var a float64
	for _, i := range left {
		a += j.items[i].area
	}
	return a
}

func (j *job) shuffle(order []int, swaps int) {
	for range swaps {
		a, b := j.rand.next(len(order)), j.rand.next(len(order))
		order[a], order[b] = order[b], order[a]
	}
}

// forward moves an item to a place before the one it has.
func (j *job) forward(order []int, it int) {
	for n, i := range order {
		if i != it {
			continue
		}
		to := j.rand.next(n + 1)
		copy(order[to+1:n+1], order[to:n])
		order[to] = it
		return
	}
}
