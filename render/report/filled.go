package report

import (
	"slices"
	"strings"
)

// filled leaves out the columns of a table in which no row has an entry, and
// says which, so that what is there gets the room.
func filled(t Table) Table {
	if len(t.Rows) == 0 {
		return t
	}
	var keep []int
	var empty []string
	for c, col := range t.Columns {
		if slices.ContainsFunc(t.Rows, func(r Row) bool { return !r.Group && c < len(r.Cells) && r.Cells[c] != none && r.Cells[c] != "" }) {
			keep = append(keep, c)
			continue
		}
		name, _, _ := strings.Cut(col.Head, "\n")
		empty = append(empty, name)
	}
	if len(empty) == 0 {
		return t
	}
	out := t
	out.Columns, out.Rows = nil, nil
	for _, c := range keep {
		out.Columns = append(out.Columns, t.Columns[c])
	}
	for _, r := range t.Rows {
		if !r.Group {
			cells := r.Cells
			r.Cells = nil
			for _, c := range keep {
				if c < len(cells) {
					r.Cells = append(r.Cells, cells[c])
				}
			}
		}
		out.Rows = append(out.Rows, r)
	}
	note := "Without an entry in any row: " + and(empty) + "."
	out.Note = strings.TrimLeft(t.Note+" "+note, " ")
	return out
}
