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

// squares finds the spots near a place: they are filed by plate and by squares
// as wide as the gate, so that those within it lie in the nine around a place.
type squares struct {
	spots  []spot
	gate   float64
	filed  []int // spots, square by square
	square map[square][2]int
}

type square struct{ plate, x, y int }

func squaresOf(spots []spot, gate float64) *squares {
	q := &squares{spots: spots, gate: gate, filed: make([]int, len(spots)), square: make(map[square][2]int, len(spots))}
	of := make([]square, len(spots))
	for j := range spots {
		of[j], q.filed[j] = q.of(&spots[j]), j
	}
	slices.SortFunc(q.filed, func(a, b int) int {
		s, t := of[a], of[b]
		switch {
		case s.plate != t.plate:
			return s.plate - t.plate
		case s.x != t.x:
			return s.x - t.x
		case s.y != t.y:
			return s.y - t.y
		}
		return a - b
	})
	for from, j := range q.filed {
		if from > 0 && of[q.filed[from-1]] == of[j] {
			continue
		}
		to := from + 1
		for to < len(q.filed) && of[q.filed[to]] == of[j] {
			to++
		}
		q.square[of[j]] = [2]int{from, to}
	}
	return q
}

func (q *squares) of(s *spot) square {
	const far = 1e9 // a position beyond all floors is filed at their edge
	cell := func(v float64) int { return int(min(max(math.Floor(v/max(q.gate, 1)), -far), far)) }
	return square{s.plate, cell(s.at.X), cell(s.at.Y)}
}

// near appends the spots within the gate of one, in rising order.
func (q *squares) near(o *spot, sides bool, found []edge) []edge {
	start := len(found)
	c := q.of(o)
	for x := c.x - 1; x <= c.x+1; x++ {
		for y := c.y - 1; y <= c.y+1; y++ {
			span := q.square[square{c.plate, x, y}]
			for _, j := range q.filed[span[0]:span[1]] {
				n := &q.spots[j]
				dx, dy := n.at.X-o.at.X, n.at.Y-o.at.Y
				if math.Abs(dx) > q.gate+hair || math.Abs(dy) > q.gate+hair || sides && !fits(o.side, n.side) {
					continue
				}
				if d := math.Hypot(dx, dy); d <= q.gate+hair {
					found = append(found, edge{j, d})
				}
			}
		}
	}
	if list := found[start:]; len(list) > 1 {
		slices.SortFunc(list, func(a, b edge) int { return a.to - b.to })
	}
	return found
}

// edgesFrom lists, for each old spot, those on the same plate and side within
// the gate.
func (q *squares) edgesFrom(old []spot, sides bool) [][]edge {
	var all []edge
	ends := make([]int, len(old))
	for i := range old {
		all = q.near(&old[i], sides, all)
		ends[i] = len(all)
	}
	out := make([][]edge, len(old))
	from := 0
	for i, to := range ends {
		out[i] = all[from:to:to]
		from = to
	}
	return out
}

func within(old, now []spot, gate float64, sides bool) [][]edge {
	return squaresOf(now, gate).edgesFrom(old, sides)
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
			own[k] = make([]edge, 0, len(edges[i]))
			for _, e := range edges[i] {
				own[k] = append(own[k], edge{local[e.to], e.cost})
			}
		}
		for k, j := range assign(own, len(across)) {
			if j >= 0 {
				out[members[k]] = across[j]
			}
		}
	}
	return out
}
