package workbook

import (
	"slices"
	"strconv"
	"strings"
)

// rowMap tells where the rows of a sheet of results stand in the stored one,
// by their number; a row that is gone has none.
type rowMap struct {
	stored map[int]int
	rows   []int // in order
}

// one is the stored row of a new one; ok is false when it is gone. A row that
// holds nothing goes with the one above it.
func (m rowMap) one(row int) (int, bool) {
	if at, ok := m.stored[row]; ok {
		return at, at > 0
	}
	i, _ := slices.BinarySearch(m.rows, row)
	for i--; i >= 0; i-- {
		if at := m.stored[m.rows[i]]; at > 0 {
			return at + row - m.rows[i], true
		}
	}
	return row, true
}

// span is a range of rows, less the rows at its ends that are gone.
func (m rowMap) span(from, to int) (a, b int, ok bool) {
	for ; from <= to; from++ {
		if a, ok = m.one(from); ok {
			break
		}
	}
	for ; to >= from; to-- {
		if b, ok = m.one(to); ok {
			return a, b, true
		}
	}
	return 0, 0, false
}

// movedRows are the rows of a sheet of results, nil when each stands where it
// stood. A sheet is aligned once, and only when a formula asks for it.
func (v *reviewer) movedRows(sheet string) *rowMap {
	if m, known := v.moved[sheet]; known {
		return m
	}
	v.moved[sheet] = nil
	s := v.stored(sheet)
	if s == nil {
		return nil
	}
	o, err := v.outline(sheet, s)
	if err != nil {
		return nil // told when the sheet is compared
	}
	m, away := rowMap{stored: map[int]int{}}, false
	if len(o.moved) > 0 {
		return nil // sorting moves no reference along
	}
	for _, p := range o.pairs {
		if p.b < 0 {
			continue
		}
		now, at := o.now[p.b].number, 0
		if p.a >= 0 {
			at = o.stored[p.a].number
		}
		m.stored[now] = at
		m.rows = append(m.rows, now)
		away = away || at != now
	}
	if !away {
		return nil
	}
	slices.Sort(m.rows)
	v.moved[sheet] = &m
	return &m
}

// asStored is a formula of a sheet of results as it reads where rows of the
// stored sheets have moved: a spreadsheet program moves references along.
func (v *reviewer) asStored(sheet, formula string) string {
	var out strings.Builder
	done := 0
	for _, n := range namedIn(formula) {
		on := n.sheet
		if on == "" {
			on = sheet
		}
		m := v.movedRows(on)
		if m == nil {
			continue
		}
		out.WriteString(formula[done:n.from] + n.prefix + m.rewritten(n))
		done = n.to
	}
	return out.String() + formula[done:]
}

// rewritten is a cell or range with its stored rows.
func (m *rowMap) rewritten(n named) string {
	if n.lastCol == "" {
		if row, ok := m.one(n.row); ok {
			return n.col + strconv.Itoa(row)
		}
		return "#REF!"
	}
	if a, b, ok := m.span(n.row, n.lastRow); ok {
		return n.col + strconv.Itoa(a) + ":" + n.lastCol + strconv.Itoa(b)
	}
	return "#REF!"
}
