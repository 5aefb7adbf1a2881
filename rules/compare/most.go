package compare

// most is how many pairs there can be at most, whatever their distance: the
// greatest matching of a two-sided graph.
//
// Source: shortest augmenting paths in phases, J. E. Hopcroft and R. M. Karp,
// SIAM J. Comput. 2 (1973) 225–231.
// Check: as many pairs as the exact assignment makes (TestGatedPairs).
func most(edges [][]edge, cols int) int {
	m := matching{edges: edges, rowOf: make([]int, cols), colOf: make([]int, len(edges)), depth: make([]int, len(edges)), next: make([]int, len(edges))}
	for j := range m.rowOf {
		m.rowOf[j] = -1
	}
	n := 0
	for i := range edges {
		m.colOf[i] = -1
		for _, e := range edges[i] {
			if m.rowOf[e.to] < 0 {
				m.rowOf[e.to], m.colOf[i] = i, e.to
				n++
				break
			}
		}
	}
	for m.layer() {
		clear(m.next)
		for i := range edges {
			if m.colOf[i] < 0 && m.extend(i) {
				n++
			}
		}
	}
	return n
}

// matching is a growing set of pairs.
type matching struct {
	edges [][]edge
	rowOf []int
	colOf []int
	depth []int // steps from a row without a column, 0 not reached
	next  []int // the edge to try next
	queue []int
}

// layer measures how far each row is from one without a column, and says
// whether a free column can be reached at all.
func (m *matching) layer() bool {
	clear(m.depth)
	m.queue = m.queue[:0]
	for i, j := range m.colOf {
		if j < 0 && len(m.edges[i]) > 0 {
			m.depth[i] = 1
			m.queue = append(m.queue, i)
		}
	}
	last := 0 // depth at which the first free column was met
	for k := 0; k < len(m.queue); k++ {
		i := m.queue[k]
		if last > 0 && m.depth[i] > last {
			break
		}
		for _, e := range m.edges[i] {
			switch r := m.rowOf[e.to]; {
			case r < 0:
				last = m.depth[i]
			case m.depth[r] == 0:
				m.depth[r] = m.depth[i] + 1
				m.queue = append(m.queue, r)
			}
		}
	}
	return last > 0
}

// extend finds a free column for a row along the layers.
func (m *matching) extend(i int) bool {
	for ; m.next[i] < len(m.edges[i]); m.next[i]++ {
		j := m.edges[i][m.next[i]].to
		r := m.rowOf[j]
		if r < 0 || m.depth[r] == m.depth[i]+1 && m.extend(r) {
			m.rowOf[j], m.colOf[i] = i, j
			m.next[i]++
			return true
		}
	}
	return false
}
