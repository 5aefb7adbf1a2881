package pdf

import (
	"fmt"
	"strings"

	"platebook/render/report"
)

// columns shares the width: as the table asks, but each column at least as
// wide as its longest word. Where that is too much for the page, type gets
// smaller, then long words are broken, numbers never.
func (t *setter) columns(b report.Table) grid {
	g := grid{look: normalLook, columns: b.Columns, left: t.paper.left, width: t.paper.width()}
	if b.Dense {
		g.look = denseLook
	}
	need, hard := t.needs(b, g)
	for sum(need) > g.width && g.size > smallestSize {
		g = g.smaller()
		need, hard = t.needs(b, g)
	}
	if sum(need) < g.width {
		natural := t.naturals(b, g)
		// Where a little less does away with wrapping, type is a little less.
		if s := sum(natural); s > g.width && s <= g.width*1.08 && g.size > 7 {
			g = g.smaller()
			need, hard = t.needs(b, g)
			natural = t.naturals(b, g)
		}
		need = comfort(b.Columns, need, natural, g.width)
	}
	g.w = share(b.Columns, need, hard, g.width)
	g.x = make([]float64, len(g.w))
	x := g.left
	for c := range g.w {
		g.x[c] = x
		x += g.w[c]
	}
	return g
}

// smallestSize is the least type a table shrinks to, in points.
const smallestSize = 6.3

func (g grid) smaller() grid {
	g.size = max(smallestSize, g.size-0.5)
	g.lead = g.size * 0.45
	g.side = max(0.8, g.side-0.2)
	return g
}

// needs is the width of each column's longest word, and of its longest number
// or label with a digit in it, which is never broken.
func (t *setter) needs(b report.Table, g grid) (need, hard []float64) {
	n := len(b.Columns)
	need, hard = make([]float64, n), make([]float64, n)
	for c, col := range b.Columns {
		for _, line := range strings.Split(t.faces.clean(col.Head), "\n") {
			need[c] = max(need[c], t.faces.bold.longest(line, g.size))
		}
	}
	for _, row := range b.Rows {
		if row.Group {
			continue
		}
		f := t.faces.of(row.Bold)
		for c, text := range row.Cells[:min(n, len(row.Cells))] {
			w := f.longest(text, g.size)
			need[c] = max(need[c], w)
			if w <= hard[c] || !strings.ContainsAny(text, "0123456789") {
				continue
			}
			for _, word := range strings.Fields(text) {
				if strings.ContainsAny(word, "0123456789") && len(word) <= 24 {
					hard[c] = max(hard[c], f.width(word, g.size))
				}
			}
		}
	}
	for c := range n {
		// An overlong word in a column of words may be broken.
		if b.Columns[c].Align == report.Left {
			need[c] = max(hard[c], min(need[c], g.width*0.3))
		}
		need[c] += 2*g.side + 0.05
		hard[c] += 2*g.side + 0.05
	}
	return need, hard
}

// naturals is the width at which each column's texts stand on one line.
func (t *setter) naturals(b report.Table, g grid) []float64 {
	out := make([]float64, len(b.Columns))
	for _, row := range b.Rows {
		if row.Group {
			continue
		}
		f := t.faces.of(row.Bold)
		for c, text := range row.Cells[:min(len(out), len(row.Cells))] {
			for len(text) > 0 {
				line, rest, _ := strings.Cut(text, "\n")
				out[c] = max(out[c], f.width(line, g.size))
				text = rest
			}
		}
	}
	for c := range out {
		out[c] += 2*g.side + 0.05
	}
	return out
}

// comfort raises needs towards the natural widths, so that no short text is
// wrapped while another column has room to spare; long texts share what is
// left by their columns' weights.
func comfort(columns []report.Column, need, natural []float64, width float64) []float64 {
	out := make([]float64, len(need))
	at := func(limit float64) float64 {
		for c := range out {
			out[c] = max(need[c], min(natural[c], limit*weight(columns[c])))
		}
		return sum(out)
	}
	low, high := 0.0, 100*width
	if at(high) <= width {
		return out
	}
	for range 60 {
		limit := (low + high) / 2
		if at(limit) > width {
			high = limit
		} else {
			low = limit
		}
	}
	at(low)
	return out
}

func sum(all []float64) float64 {
	s := 0.0
	for _, v := range all {
		s += v
	}
	return s
}

// parts splits a table whose numbers do not fit the page side by side into
// tables that do, the first column repeated in each.
func (t *setter) parts(b report.Table) []report.Table {
	g := grid{look: normalLook, columns: b.Columns, left: t.paper.left, width: t.paper.width()}
	if b.Dense {
		g.look = denseLook
	}
	for g.size > smallestSize {
		g = g.smaller()
	}
	_, hard := t.needs(b, g)
	if sum(hard) <= g.width || len(hard) < 3 {
		return []report.Table{b}
	}
	var out []report.Table
	n := len(b.Columns)
	for from := 1; from < n; {
		to, room := from+1, g.width-hard[0]-hard[from]
		for to < n && hard[to] <= room {
			room -= hard[to]
			to++
		}
		p := report.Table{Dense: b.Dense, Caption: strings.TrimLeft(fmt.Sprintf("%s (columns %d to %d of %d)", b.Caption, from+1, to, n), " ")}
		p.Columns = append([]report.Column{b.Columns[0]}, b.Columns[from:to]...)
		for _, r := range b.Rows {
			row := r
			if !r.Group {
				row.Cells = nil
				if len(r.Cells) > 0 {
					row.Cells = append(row.Cells, r.Cells[0])
				}
				if from < len(r.Cells) {
					row.Cells = append(row.Cells, r.Cells[from:min(to, len(r.Cells))]...)
				}
			}
			p.Rows = append(p.Rows, row)
		}
		if to == n {
			p.Note = b.Note
		}
		out = append(out, p)
		from = to
	}
	return out
}

// share divides a width by the columns' shares, none below its need while the
// needs fit; else the widest needs are cut down to a common cap, though not
// below what must stay whole.
func share(columns []report.Column, need, hard []float64, width float64) []float64 {
	n := len(columns)
	w := make([]float64, n)
	if sum(need) > width {
		capped := func(limit float64) {
			for c := range w {
				w[c] = max(hard[c], min(need[c], limit))
			}
		}
		low, high := 0.0, width
		for range 60 {
			limit := (low + high) / 2
			if capped(limit); sum(w) > width {
				high = limit
			} else {
				low = limit
			}
		}
		capped(low)
		// Even the least does not fit: only a table of one or two columns with
		// overlong labels comes here, and those are broken.
		if s := sum(w); s > width {
			for c := range w {
				w[c] *= width / s
			}
		}
		return w
	}
	fixed := make([]bool, n)
	for range n {
		rest, shares := width, 0.0
		for c := range n {
			if fixed[c] {
				rest -= w[c]
			} else {
				shares += weight(columns[c])
			}
		}
		again := false
		for c := range n {
			if fixed[c] {
				continue
			}
			w[c] = rest * weight(columns[c]) / shares
			if w[c] < need[c] {
				w[c], fixed[c], again = need[c], true, true
				break
			}
		}
		if !again {
			break
		}
	}
	return w
}

func weight(c report.Column) float64 {
	if c.Share > 0 {
		return c.Share
	}
	return 1
}
