package workbook

import (
	"cmp"
	"slices"

	"platebook/workbook/xlsx"
)

// likeness pairs rows that changed, by the cells that are still alike.
type likeness struct {
	was, now []xlsx.Printed
	gone     []int // rows of was without a partner, in order
	came     []int // rows of now without a partner, in order
	held     int   // pairs of rows held against each other: the work
}

// Bounds of the work: a cell that more rows have says little of which row one
// is, and a row has few candidates at a time.
const (
	mostOfOne     = 8
	mostCandidate = 4
	mostRounds    = 4
)

// mark is a cell, or two neighbours, of a row.
type mark struct {
	key uint64
	row int
}

// marksOf are the cells of a row, and each with the next one that is filled:
// rows share plates, dates and names, but seldom two neighbours.
func marksOf(list []mark, row int, cells []string) []mark {
	last := uint64(0)
	for col, c := range cells {
		if c == "" {
			continue
		}
		key := uint64(col) + 1
		for i := range len(c) {
			key = key<<8 | uint64(c[i])
		}
		key *= 0x9e3779b97f4a7c15
		list = append(list, mark{key, row})
		if last != 0 {
			list = append(list, mark{(last ^ key>>17) * 0xff51afd7ed558ccd, row})
		}
		last = key
	}
	return list
}

// candidate is an old and a new row that may be one.
type candidate struct{ was, now, alike, away int }

// pairs gives each new row the old one that has most cells alike, the nearest
// of several, the surest first; then the one that stood at its place.
func (l *likeness) pairs() []pair {
	var out []pair
	for range mostRounds {
		taken := l.round()
		if len(taken) == 0 {
			break
		}
		out = append(out, taken...)
	}
	return append(out, l.inPlace()...)
}

func (l *likeness) round() []pair {
	var marks []mark
	for _, i := range l.gone {
		marks = marksOf(marks, i, l.was[i].Cells)
	}
	slices.SortFunc(marks, func(a, b mark) int { return cmp.Or(cmp.Compare(a.key, b.key), a.row-b.row) })
	var all []candidate
	at := l.places()
	for _, j := range l.came {
		all = append(all, l.candidates(j, marks, at)...)
	}
	slices.SortFunc(all, func(a, b candidate) int {
		return cmp.Or(b.alike-a.alike, a.away-b.away, a.now-b.now, a.was-b.was)
	})
	var out []pair
	old, new := map[int]bool{}, map[int]bool{}
	for _, c := range all {
		if !old[c.was] && !new[c.now] {
			old[c.was], new[c.now] = true, true
			out = append(out, pair{c.was, c.now})
		}
	}
	l.without(old, new)
	return out
}

// places are the old rows by the number of their row.
func (l *likeness) places() map[int]int {
	at := map[int]int{}
	for _, i := range l.gone {
		at[l.was[i].Row] = i
	}
	return at
}

// candidates are the old rows likest to a new one: of those that share a mark
// with it that few have, and the one that stood at its place.
func (l *likeness) candidates(j int, marks []mark, at map[int]int) []candidate {
	row := &l.now[j]
	var rows []int
	if i, ok := at[row.Row]; ok {
		rows = append(rows, i)
	}
	for _, m := range marksOf(nil, j, row.Cells) {
		n, _ := slices.BinarySearchFunc(marks, m.key, func(a mark, key uint64) int { return cmp.Compare(a.key, key) })
		end := n
		for end < len(marks) && marks[end].key == m.key && end-n <= mostOfOne {
			end++
		}
		if end-n <= mostOfOne {
			for _, same := range marks[n:end] {
				rows = append(rows, same.row)
			}
		}
	}
	slices.Sort(rows)
	var list []candidate
	for _, i := range slices.Compact(rows) {
		l.held++
		if n := alikeCells(l.was[i].Cells, row.Cells); n > 0 {
			list = append(list, candidate{i, j, n, max(row.Row-l.was[i].Row, l.was[i].Row-row.Row)})
		}
	}
	slices.SortFunc(list, func(a, b candidate) int { return cmp.Or(b.alike-a.alike, a.away-b.away, a.was-b.was) })
	return list[:min(len(list), mostCandidate)]
}

// inPlace pairs rows of which nothing is left with what stood at their place.
func (l *likeness) inPlace() []pair {
	var out []pair
	at := l.places()
	old, new := map[int]bool{}, map[int]bool{}
	for _, j := range l.came {
		if i, ok := at[l.now[j].Row]; ok {
			old[i], new[j] = true, true
			out = append(out, pair{i, j})
		}
	}
	l.without(old, new)
	return out
}

func (l *likeness) without(old, new map[int]bool) {
	l.gone = slices.DeleteFunc(l.gone, func(i int) bool { return old[i] })
	l.came = slices.DeleteFunc(l.came, func(j int) bool { return new[j] })
}

func alikeCells(a, b []string) int {
	n := 0
	for i := range min(len(a), len(b)) {
		if a[i] != "" && a[i] == b[i] {
			n++
		}
	}
	return n
}
