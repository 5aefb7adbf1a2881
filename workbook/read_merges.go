package workbook

import (
	"fmt"
	"sort"

	"platebook/rules/finding"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// merges are the merged ranges that touch the table's read columns. A merged
// label stands for every row of the merge. A merged number stands for none:
// nobody can say of which row it is.
type merges struct {
	filled  []fill
	fillOf  map[int][]int // row → indices in filled, for rows below a merge's first
	spoiled []xlsx.Area
	banners []xlsx.Area   // one row, two or more read columns: a note if nothing else stands there
	spoilOf map[int][]int // row → indices in spoiled
}

// fill is a merge of one column of labels.
type fill struct {
	area   xlsx.Area
	column int // index
	first  *xlsx.Cell
}

func (t *table) sortMerges() {
	for _, area := range t.grid.Merged {
		if area.Row2 <= t.header.last {
			continue
		}
		area.Row1 = max(area.Row1, t.header.last+1) // one from the titles down covers the rows all the same
		var over []int
		numbers := false
		for i := range t.columns {
			for _, col := range [...]int{t.columns[i].col, t.columns[i].twin} {
				if col > 0 && col >= area.Col1 && col <= area.Col2 {
					over = append(over, i)
					typ := t.columns[i].def.Type
					numbers = numbers || typ == layout.Number || typ == layout.Date
				}
			}
		}
		switch {
		case len(over) == 0:
		case len(over) > 1 && area.Row1 == area.Row2:
			t.merges.banners = append(t.merges.banners, area)
		case len(over) > 1 || numbers && area.Row2 > area.Row1:
			t.merges.spoiled = append(t.merges.spoiled, area)
		case area.Row2 > area.Row1:
			first := t.grid.At(area.Col1, area.Row1)
			t.merges.filled = append(t.merges.filled, fill{area, over[0], &first})
		}
	}
	sort.Slice(t.merges.filled, func(i, j int) bool {
		a, b := t.merges.filled[i], t.merges.filled[j]
		return a.area.Row1 < b.area.Row1 || a.area.Row1 == b.area.Row1 && a.area.Col1 < b.area.Col1
	})
	t.merges.fillOf = map[int][]int{}
	for i, f := range t.merges.filled {
		t.eachRow(f.area.Row1+1, f.area.Row2, func(row int) {
			t.merges.fillOf[row] = append(t.merges.fillOf[row], i)
		})
	}
}

// eachRow calls f for the rows of a range that hold something.
func (t *table) eachRow(first, last int, f func(row int)) {
	i := sort.Search(len(t.grid.Rows), func(i int) bool { return t.grid.Rows[i].Number >= first })
	for ; i < len(t.grid.Rows) && t.grid.Rows[i].Number <= last; i++ {
		f(t.grid.Rows[i].Number)
	}
}

// judgeMerges reports merges once it is known which rows are records.
func (t *table) judgeMerges() {
	for _, area := range t.merges.banners {
		if t.rowAt(area.Row1) != nil {
			t.merges.spoiled = append(t.merges.spoiled, area)
		}
	}
	sort.Slice(t.merges.spoiled, func(i, j int) bool {
		a, b := t.merges.spoiled[i], t.merges.spoiled[j]
		return a.Row1 < b.Row1 || a.Row1 == b.Row1 && a.Col1 < b.Col1
	})
	t.merges.spoilOf = map[int][]int{}
	for i, area := range t.merges.spoiled {
		t.eachRow(area.Row1, area.Row2, func(row int) {
			t.merges.spoilOf[row] = append(t.merges.spoilOf[row], i)
		})
		row := t.rowIn(area.Row1, area.Row2)
		if row == nil {
			continue
		}
		h := finding.Hit{
			Rule: "S301", Ref: finding.Ref{Sheet: t.name, Col: area.Col1, Row: area.Row1},
			Message: fmt.Sprintf("%s is one cell", areaText(area)),
		}
		if at := t.byCol[area.Col1]; at > 0 {
			h.Column = t.columns[at-1].def.Header
		}
		h.Value = typedText(t.grid.At(area.Col1, area.Row1).Raw, t.date1904)
		t.rowHit(row, h)
	}
	counts := make([]int, len(t.columns))
	for _, f := range t.merges.filled {
		if t.rowIn(f.area.Row1, f.area.Row2) != nil && !f.first.IsBlank() {
			counts[f.column]++
		}
	}
	for i, n := range counts {
		if n == 0 {
			continue
		}
		c := &t.columns[i]
		t.hit(finding.Hit{
			Rule: "S302", Ref: t.headRef(c.head), Column: c.def.Header,
			Message: fmt.Sprintf("%s filled down in %s", c.def.Header, count(n, "merge")),
		})
	}
}

// spoils says whether a cell lies in a merge whose value is of no row.
func (m *merges) spoils(col, row int) bool {
	for _, i := range m.spoilOf[row] {
		if m.spoiled[i].Has(col, row) {
			return true
		}
	}
	return false
}

// rowAt is the record in a row, nil for none.
func (t *table) rowAt(number int) *dataRow { return t.rowIn(number, number) }

// rowIn is the first record in a run of rows, nil for none.
func (t *table) rowIn(first, last int) *dataRow {
	i := sort.Search(len(t.rows), func(i int) bool { return t.rows[i].Number >= first })
	if i < len(t.rows) && t.rows[i].Number <= last {
		return &t.rows[i]
	}
	return nil
}

func areaText(a xlsx.Area) string {
	return finding.Ref{Sheet: "-", Col: a.Col1, Row: a.Row1}.Cell() + ":" + finding.Ref{Sheet: "-", Col: a.Col2, Row: a.Row2}.Cell()
}
