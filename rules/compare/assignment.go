package compare

// edge is a possible partner of a row and what the pair costs.
type edge struct {
	to   int
	cost float64
}

// cost orders assignments: fewer rows left over first, then the lesser sum.
// Two numbers instead of one large penalty keep the sum exact.
type cost struct {
	left int
	sum  float64
}

func (a cost) add(b cost) cost { return cost{a.left + b.left, a.sum + b.sum} }
func (a cost) sub(b cost) cost { return cost{a.left - b.left, a.sum - b.sum} }

func (a cost) less(b cost) bool {
	if a.left != b.left {
		return a.left < b.left
	}
	return a.sum < b.sum
}

// assignment pairs rows with columns over the edges there are: the most pairs,
// then the least sum of costs.
//
// It grows one row at a time along the shortest augmenting path, with prices on
// rows and columns that keep every reduced cost at 0 or more. Each row has a
// column of its own beside the real ones, which stands for staying alone.
//
// Source: shortest augmenting paths for the linear assignment problem,
// R. Jonker and A. Volgenant, Computing 38 (1987) 325–340, on sparse rows.
// Check: textbook 4 × 4, 13; OR-Library assign100, 305 (TestAssignmentOptima).
type assignment struct {
	edges  [][]edge
	cols   int
	rowOf  []int // row of a column, -1
	colOf  []int // column of a row; cols+row is its own
	u, v   []cost
	dist   []cost
	from   []int // row a column was reached from
	state  []uint8
	heap   []entry
	marked []int
}

const (
	unseen uint8 = iota
	reached
	settled
)

type entry struct {
	cost cost
	col  int
}

// assign gives the column of each row, -1 for a row left over. Edges of a row
// are in rising order of their column; costs are 0 or more.
func assign(edges [][]edge, cols int) []int {
	n := len(edges)
	a := &assignment{
		edges: edges, cols: cols, rowOf: make([]int, cols+n), colOf: make([]int, n),
		u: make([]cost, n), v: make([]cost, cols+n), dist: make([]cost, cols+n), from: make([]int, cols+n), state: make([]uint8, cols+n),
	}
	for j := range a.rowOf {
		a.rowOf[j] = -1
	}
	for i := range a.colOf {
		a.colOf[i] = -1
	}
	for _, i := range a.start() {
		a.insert(i)
	}
	a.settleTies()
	out := make([]int, n)
	for i, j := range a.colOf {
		out[i] = j
		if j >= cols {
			out[i] = -1
		}
	}
	return out
}

// start gives rows the column they like best while that is free, then lets rows
// that were too late bid for theirs: a row pays for its best column up to what
// its second best would cost, and the one that had it looks again. Prices stay
// such that no reduced cost is below 0. The rows left over are returned.
func (a *assignment) start() (left []int) {
	waiting := make([]int, len(a.edges))
	for i := range waiting {
		waiting[i] = len(waiting) - 1 - i
	}
	for bids := 4 * len(waiting); len(waiting) > 0; bids-- {
		i := waiting[len(waiting)-1]
		waiting = waiting[:len(waiting)-1]
		best, second := cost{2, 0}, cost{2, 0}
		col := -1
		look := func(j int, c cost) {
			switch c = c.sub(a.v[j]); {
			case c.less(best):
				best, second, col = c, best, j
			case c.less(second):
				second = c
			}
		}
		for _, e := range a.edges[i] {
			look(e.to, cost{0, e.cost})
		}
		look(a.cols+i, cost{1, 0})
		was := a.rowOf[col]
		if was >= 0 && (bids <= 0 || !best.less(second)) {
			left = append(left, i)
			a.u[i] = cost{}
			continue
		}
		if was < 0 {
			a.u[i] = best
		} else {
			a.u[i] = second
			a.v[col] = a.v[col].sub(second.sub(best))
			a.colOf[was] = -1
			waiting = append(waiting, was)
		}
		a.rowOf[col], a.colOf[i] = i, col
	}
	return left
}

// insert finds the cheapest place for one more row.
func (a *assignment) insert(row int) {
	for _, j := range a.marked {
		a.state[j] = unseen
	}
	a.marked, a.heap = a.marked[:0], a.heap[:0]
	a.relax(row, cost{})
	var done []int
	for {
		e := a.pop()
		if a.state[e.col] == settled || a.dist[e.col] != e.cost {
			continue
		}
		j := e.col
		a.state[j] = settled
		if a.rowOf[j] < 0 {
			a.price(row, done, e.cost)
			a.augment(row, j)
			return
		}
		done = append(done, j)
		a.relax(a.rowOf[j], e.cost)
	}
}

// relax reaches out from a row at a distance.
func (a *assignment) relax(row int, at cost) {
	base := at.sub(a.u[row])
	for _, e := range a.edges[row] {
		a.reach(row, e.to, base.add(cost{0, e.cost}))
	}
	a.reach(row, a.cols+row, base.add(cost{1, 0}))
}

func (a *assignment) reach(row, col int, d cost) {
	if a.state[col] == settled {
		return
	}
	d = d.sub(a.v[col])
	if a.state[col] == reached && !d.less(a.dist[col]) {
		return
	}
	if a.state[col] == unseen {
		a.marked = append(a.marked, col)
	}
	a.state[col], a.dist[col], a.from[col] = reached, d, row
	a.push(entry{d, col})
}

// price moves the prices so that the path found costs nothing more.
func (a *assignment) price(row int, done []int, end cost) {
	a.u[row] = a.u[row].add(end)
	for _, j := range done {
		short := end.sub(a.dist[j])
		a.v[j] = a.v[j].sub(short)
		a.u[a.rowOf[j]] = a.u[a.rowOf[j]].add(short)
	}
}

// augment moves every row on the path one column on.
func (a *assignment) augment(row, col int) {
	for {
		i := a.from[col]
		a.rowOf[col] = i
		a.colOf[i], col = col, a.colOf[i]
		if i == row {
			return
		}
	}
}

func (e entry) before(o entry) bool {
	if e.cost != o.cost {
		return e.cost.less(o.cost)
	}
	return e.col < o.col
}

func (a *assignment) push(e entry) {
	h := append(a.heap, e)
	i := len(h) - 1
	for i > 0 && h[i].before(h[(i-1)/2]) {
		h[i], h[(i-1)/2] = h[(i-1)/2], h[i]
		i = (i - 1) / 2
	}
	a.heap = h
}

func (a *assignment) pop() entry {
	h := a.heap
	top, last := h[0], len(h)-1
	h[0] = h[last]
	h = h[:last]
	for i := 0; ; {
		least := i
		for _, k := range [2]int{2*i + 1, 2*i + 2} {
			if k < last && h[k].before(h[least]) {
				least = k
			}
		}
		if least == i {
			break
		}
		h[i], h[least] = h[least], h[i]
		i = least
	}
	a.heap = h
	return top
}

// equalSum is how far two sums may differ and count as a tie, mm.
const equalSum = 1e-7

func nothing(c cost) bool { return c.left == 0 && c.sum <= equalSum && c.sum >= -equalSum }

// settleTies takes, of all assignments of equal cost, the first in the order of
// rows and columns. Such an assignment uses edges without reduced cost only,
// and leaves a column empty only where its price is 0.
func (a *assignment) settleTies() {
	t := ties{a: a, free: make([][]int, len(a.edges)), tried: make([]bool, len(a.edges))}
	any := false
	for i := range a.edges {
		for _, e := range a.edges[i] {
			if nothing((cost{0, e.cost}).sub(a.u[i]).sub(a.v[e.to])) {
				t.free[i] = append(t.free[i], e.to)
			}
		}
		own := a.cols + i
		if nothing((cost{1, 0}).sub(a.u[i]).sub(a.v[own])) {
			t.free[i] = append(t.free[i], own)
		}
		any = any || len(t.free[i]) > 1
	}
	if !any {
		return
	}
	for i := range t.free {
		for _, j := range t.free[i] {
			if j >= a.colOf[i] || t.give(i, j) {
				break
			}
		}
	}
}

// ties moves one row at a time to an earlier column at no cost.
type ties struct {
	a      *assignment
	free   [][]int // by row: columns without reduced cost, in order
	tried  []bool  // rows that were asked to move
	first  int     // rows up to this one stay where they are
	was    int     // the column it leaves
	pooled bool
	moves  []move
}

type move struct{ row, to int }

// give moves row i to column j when the rows this pushes on find other columns
// at no cost without moving a row before i.
func (t *ties) give(i, j int) bool {
	a := t.a
	clear(t.tried)
	t.first, t.was, t.pooled, t.moves = i, a.colOf[i], false, t.moves[:0]
	if !t.vacate(j) {
		return false
	}
	t.moves = append(t.moves, move{i, j})
	for _, m := range t.moves {
		a.rowOf[a.colOf[m.row]] = -1
	}
	for _, m := range t.moves {
		a.colOf[m.row], a.rowOf[m.to] = m.to, m.row
	}
	return true
}

// vacate finds another place for the row in a column, or, where the column is
// empty, a row that fills the one that was left.
func (t *ties) vacate(col int) bool {
	a := t.a
	if col == t.was {
		return true
	}
	if q := a.rowOf[col]; q >= 0 {
		return q > t.first && t.find(q)
	}
	if nothing(a.v[t.was]) {
		return true
	}
	if t.pooled {
		return false
	}
	t.pooled = true
	for r := t.first + 1; r < len(a.colOf); r++ {
		if from := a.colOf[r]; nothing(a.v[from]) && t.find(r) {
			return true
		}
	}
	return false
}

func (t *ties) find(row int) bool {
	if t.tried[row] {
		return false
	}
	t.tried[row] = true
	for _, k := range t.free[row] {
		if k != t.a.colOf[row] && t.vacate(k) {
			t.moves = append(t.moves, move{row, k})
			return true
		}
	}
	return false
}
