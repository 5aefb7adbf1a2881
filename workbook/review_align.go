package workbook

// pair is a row of one list and the row of the other that it is, -1 without
// one.
type pair struct{ a, b int }

// mostAligned bounds the table of the longest common sequence.
const mostAligned = 4_000_000

// align pairs the rows of two lists by their names, in order, so that a row
// that came or went does not make all rows below it differ. Every row stands
// in one pair.
func align(a, b []string) []pair {
	var out []pair
	from := 0
	for from < len(a) && from < len(b) && a[from] == b[from] {
		out = append(out, pair{from, from})
		from++
	}
	endA, endB := len(a), len(b)
	for endA > from && endB > from && a[endA-1] == b[endB-1] {
		endA--
		endB--
	}
	out = append(out, middle(a, b, from, endA, endB)...)
	for i := 0; endA+i < len(a); i++ {
		out = append(out, pair{endA + i, endB + i})
	}
	return out
}

// middle aligns what is left between the equal ends.
func middle(a, b []string, from, endA, endB int) []pair {
	n, m := endA-from, endB-from
	if n*m > mostAligned {
		return byName(a, b, from, endA, endB)
	}
	// common[i][j] is the longest common sequence of what begins at i and j.
	common := make([]int32, (n+1)*(m+1))
	at := func(i, j int) *int32 { return &common[i*(m+1)+j] }
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			if a[from+i] == b[from+j] {
				*at(i, j) = *at(i+1, j+1) + 1
			} else {
				*at(i, j) = max(*at(i+1, j), *at(i, j+1))
			}
		}
	}
	var out []pair
	for i, j := 0, 0; i < n || j < m; {
		switch {
		case i < n && j < m && a[from+i] == b[from+j]:
			out = append(out, pair{from + i, from + j})
			i++
			j++
		case j == m || i < n && *at(i+1, j) >= *at(i, j+1):
			out = append(out, pair{from + i, -1})
			i++
		default:
			out = append(out, pair{-1, from + j})
			j++
		}
	}
	return out
}

// byName pairs rows of one name in their order, for lists too long to align.
func byName(a, b []string, from, endA, endB int) []pair {
	where := map[string][]int{}
	for j := from; j < endB; j++ {
		where[b[j]] = append(where[b[j]], j)
	}
	var out []pair
	taken := make([]bool, endB)
	for i := from; i < endA; i++ {
		p := pair{i, -1}
		if list := where[a[i]]; len(list) > 0 {
			p.b, where[a[i]] = list[0], list[1:]
			taken[p.b] = true
		}
		out = append(out, p)
	}
	for j := from; j < endB; j++ {
		if !taken[j] {
			out = append(out, pair{-1, j})
		}
	}
	return out
}

// zipped makes one pair of a row that went and a row that came in its place.
func zipped(list []pair) []pair {
	var out []pair
	for i := 0; i < len(list); {
		var gone, came []pair
		for ; i < len(list) && (list[i].a < 0 || list[i].b < 0); i++ {
			if list[i].b < 0 {
				gone = append(gone, list[i])
			} else {
				came = append(came, list[i])
			}
		}
		for n := range max(len(gone), len(came)) {
			switch {
			case n >= len(came):
				out = append(out, gone[n])
			case n >= len(gone):
				out = append(out, came[n])
			default:
				out = append(out, pair{gone[n].a, came[n].b})
			}
		}
		if i < len(list) {
			out = append(out, list[i])
			i++
		}
	}
	return out
}
