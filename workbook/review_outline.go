package workbook

import (
	"slices"
	"sort"
	"strings"

	"platebook/workbook/xlsx"
)

// outline is a sheet of results as it is stored and as it comes out now: which
// rows there are, and which stored row each new one is. Of the cells it holds
// what tells one row from others.
type outline struct {
	stored, now []rowMark
	pairs       []pair
	moved       map[int]bool // new rows that stand elsewhere
}

// rowMark is a row by its number and name, and by its first two cells.
type rowMark struct {
	number int
	name   string
	first  string
	heads  bool // it holds the headers of a table
	live   int  // its cells that hold a number by a formula
}

func (v *reviewer) outline(name string, s *xlsx.Sheet) (*outline, error) {
	if o := v.outlines[name]; o != nil {
		return o, nil
	}
	o, steps := &outline{}, strings.HasPrefix(name, "Calculation")
	err := s.Each(func() { o.stored = nil }, func(row *xlsx.Row) error {
		o.stored = append(o.stored, markOf(row.Number, steps, func(col int) string { return shownText(row.Cell(col).Raw) }))
		return nil
	})
	if err != nil {
		return nil, err
	}
	o.now = nowOutline(v.draft.NewSheet(name))
	names := func(list []rowMark) []string {
		out := make([]string, len(list))
		for i := range list {
			out[i] = list[i].name
		}
		return out
	}
	pairs := align(names(o.stored), names(o.now))
	o.moved = reorder(pairs, o.stored, o.now)
	o.pairs = zipped(slices.DeleteFunc(pairs, func(p pair) bool { return p.a < 0 && p.b < 0 }))
	v.outlines[name] = o
	return o, nil
}

// nowOutline are the rows of a new sheet of results.
func nowOutline(s *xlsx.NewSheet) (list []rowMark) {
	steps := strings.HasPrefix(s.Name, "Calculation")
	for row := range s.EachWritten() {
		m := markOf(row.Number, steps, func(col int) string { return writtenText(find(row, col)) })
		m.heads, m.live = isHead(row), live(row)
		list = append(list, m)
	}
	return list
}

// markOf keeps nothing of a row but what it returns.
func markOf(number int, steps bool, text func(col int) string) rowMark {
	m := rowMark{number: number, first: text(1) + "\x00" + text(2)}
	if m.name = m.first[:strings.IndexByte(m.first, 0)]; steps {
		m.name = rowName(text, true)
	}
	return m
}

// headings are the headers that hold from one pair of rows on.
type headings []struct {
	from  int
	heads map[int]string
}

// headers are those of a sheet of results, table by table.
func (o *outline) headers(draft *xlsx.NewSheet, name string) headings {
	var list headings
	for i, p := range o.pairs {
		if p.b < 0 || !o.now[p.b].heads || p.a < 0 && ofRecord(name, o.now[p.b].name) {
			continue
		}
		heads := map[int]string{}
		takeHeads(heads, draft.WrittenRow(o.now[p.b].number))
		list = append(list, struct {
			from  int
			heads map[int]string
		}{i, heads})
	}
	return list
}

// at are the headers of a pair of rows.
func (h headings) at(pair int) map[int]string {
	n := sort.Search(len(h), func(i int) bool { return h[i].from > pair })
	if n == 0 {
		return nil
	}
	return h[n-1].heads
}

func takeHeads(heads map[int]string, row xlsx.WrittenRow) {
	if !isHead(row) {
		return
	}
	clear(heads)
	for _, c := range row.Cells {
		heads[c.Col] = oneLine(c.Plain())
	}
}

func isHead(row xlsx.WrittenRow) bool {
	return slices.ContainsFunc(row.Cells, func(c xlsx.Written) bool { return c.Style.Heads() })
}
