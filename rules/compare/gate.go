package compare

import (
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/floor"
)

// spot is a place that can be paired: a position on a plate and a side.
type spot struct {
	at    floor.Point // mm, in the frame both dates share
	plate int         // of the new floor; spots of different plates never meet
	side  assess.Side
}

// fits says whether two sides can be the same: one that is not known fits any.
func fits(a, b assess.Side) bool {
	return a == b || a == assess.Unknown || b == assess.Unknown || a == assess.Both || b == assess.Both
}

// hair is how far a distance may pass the gate by rounding alone, mm.
const hair = 1e-6

// within lists, for each old spot, the new ones on the same plate and side
// within the gate.
func within(old, now []spot, gate float64, sides bool) [][]edge {
	groups := make(map[int][]int)
	for j := range now {
		groups[now[j].plate] = append(groups[now[j].plate], j)
	}
	indexes := make(map[int]*floor.Index, len(groups))
	edges := make([][]edge, len(old))
	var found []int
	for i := range old {
		o := &old[i]
		members := groups[o.plate]
		if len(members) == 0 {
			continue
		}
		index := indexes[o.plate]
		if index == nil {
			extents := make([]floor.Bounds, len(members))
			for k, j := range members {
				extents[k] = floor.Bounds{Min: now[j].at, Max: now[j].at}
			}
			index = floor.NewIndex(extents)
			indexes[o.plate] = index
		}
		found = index.Near(floor.Bounds{Min: o.at, Max: o.at}, gate+hair, found[:0])
		for _, k := range found {
			n := &now[members[k]]
			d := math.Hypot(n.at.X-o.at.X, n.at.Y-o.at.Y)
			if d <= gate+hair && (!sides || fits(o.side, n.side)) {
				edges[i] = append(edges[i], edge{members[k], d})
			}
		}
	}
	return edges
}

// pairs gives the new spot of each old one, −1 without: the most pairs within
// the gate, then the least total distance, then the first in order.
//
// Source: method section 13; derived.
// Check: the sets of testdata/assignment/point_matching_gated.json.
func pairs(old, now []spot, gate float64) []int {
	return solve(within(old, now, gate, true), len(now))
}

// solve assigns over sparse edges, each group that hangs together by itself.
func solve(edges [][]edge, cols int) []int {
	n := len(edges)
	up := make([]int, n+cols)
	for k := range up {
		up[k] = k
	}
	root := func(k int) int {
		for up[k] != k {
			up[k] = up[up[k]]
			k = up[k]
		}
		return k
	}
	for i := range edges {
		for _, e := range edges[i] {
			up[root(i)] = root(n + e.to)
		}
	}
	rows := make(map[int][]int)
	var order []int
	out := make([]int, n)
	for i := range out {
		out[i] = -1
		if len(edges[i]) == 0 {
			continue
		}
		r := root(i)
		if rows[r] == nil {
			order = append(order, r)
		}
		rows[r] = append(rows[r], i)
	}
	local := make([]int, cols)
	for _, r := range order {
		members := rows[r]
		if len(members) == 1 && len(edges[members[0]]) == 1 {
			out[members[0]] = edges[members[0]][0].to
			continue
		}
		var across []int
		for _, i := range members {
			for _, e := range edges[i] {
				across = append(across, e.to)
			}
		}
		slices.Sort(across)
		across = slices.Compact(across)
		for k, j := range across {
			local[j] = k
		}
		own := make([][]edge, len(members))
		for k, i := range members {
			for _, e := range edges[i] {
				own[k] = append(own[k], edge{local[e.to], e.cost})
			}
		}
		sortEdges(own)
		for k, j := range assign(own, len(across)) {
			if j >= 0 {
				out[members[k]] = across[j]
			}
		}
	}
	return out
}

// most is how many pairs there can be at most, whatever their distance.
func most(edges [][]edge, cols int) int {
	rowOf := make([]int, cols)
	for j := range rowOf {
		rowOf[j] = -1
	}
	seen := make([]int, cols)
	turn, n := 0, 0
	var find func(i int) bool
	find = func(i int) bool {
		for _, e := range edges[i] {
			if rowOf[e.to] < 0 {
				rowOf[e.to] = i
				return true
			}
		}
		for _, e := range edges[i] {
			if seen[e.to] == turn {
				continue
			}
			seen[e.to] = turn
			if find(rowOf[e.to]) {
				rowOf[e.to] = i
				return true
			}
		}
		return false
	}
	for i := range edges {
		if turn++; find(i) {
			n++
		}
	}
	return n
}
