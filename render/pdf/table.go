package pdf

import (
	"strings"

	"platebook/render/report"
)

// look is the measures of a table's type: points and millimetres.
type look struct {
	size, lead, pad, side float64
}

var (
	normalLook = look{8.3, 3.9, 0.85, 1.7}
	denseLook  = look{7, 3.1, 0.4, 1.2}
)

// grid is a table with its columns' places.
type grid struct {
	look
	columns []report.Column
	x, w    []float64
	left    float64
	width   float64
}

// line sets one line of a cell as its column is aligned.
func (g grid) line(s *sheet, c int, y float64, bold bool, k ink, text string) {
	switch g.columns[c].Align {
	case report.Right:
		s.textRight(g.x[c]+g.w[c]-g.side, y, g.size, bold, k, text)
	case report.Middle:
		s.textMiddle(g.x[c]+g.w[c]/2, y, g.size, bold, k, text)
	default:
		s.text(g.x[c]+g.side, y, g.size, bold, k, text)
	}
}

func (t *setter) table(b report.Table) {
	n := len(b.Columns)
	if n == 0 {
		return
	}
	rows := make([]report.Row, len(b.Rows))
	for i, r := range b.Rows {
		rows[i] = r
		rows[i].Cells = make([]string, len(r.Cells))
		for c, text := range r.Cells {
			rows[i].Cells[c] = t.faces.clean(text)
		}
		// A cell beyond the last column joins it: nothing is dropped.
		if cells := rows[i].Cells; len(cells) > n && !r.Group {
			cells[n-1] = strings.Join(cells[n-1:], " ")
			rows[i].Cells = cells[:n]
		}
	}
	b.Rows = rows
	for _, p := range t.parts(b) {
		t.wholeTable(p)
	}
}

func (t *setter) wholeTable(b report.Table) {
	g := t.columns(b)
	g.pad *= t.gaps
	caption := style{8.8, 4.3, true, black}
	if b.Caption != "" {
		lines := t.wrap(b.Caption, caption, g.width)
		t.lines(lines, g.left, caption, 4, true)
		t.add(piece{height: 0.8, keep: true})
	}
	head := t.tableHead(g, "")
	first := head
	first.keep = true
	if b.Caption == "" {
		first.space = 3.5
	}
	t.add(first)
	again := head
	if b.Caption != "" {
		again = t.tableHead(g, t.faces.clean(b.Caption)+", continued")
	}
	if len(b.Rows) == 0 {
		t.lines([]string{"No rows."}, g.left+g.side, style{g.size, g.lead, false, grey}, 0.8, false)
	}
	limit := t.paper.body() - again.height - 4
	var pieces []piece
	for _, r := range b.Rows {
		if r.Group {
			pieces = append(pieces, t.group(g, r.Cells, &again))
			continue
		}
		pieces = append(pieces, t.row(g, r, r.Cells, &again, limit)...)
	}
	if n := len(pieces); n > 0 {
		last := pieces[n-1].draw
		h := pieces[n-1].height
		pieces[n-1].draw = func(s *sheet, y float64) {
			last(s, y)
			s.rule(g.left, y+h, g.left+g.width, y+h, 0.3, deep)
		}
		pieces[n-1].keep = b.Note != ""
		// Neither the first row nor the last stands alone.
		if n > 1 {
			pieces[0].keep, pieces[n-2].keep = true, true
		}
	}
	t.add(pieces...)
	if b.Note != "" {
		t.lines(t.wrap(b.Note, smallStyle, g.width), g.left, smallStyle, 1.2, false)
	}
	t.add(piece{height: 2})
}

// tableHead is the columns' names, units in plain type under them.
func (t *setter) tableHead(g grid, caption string) piece {
	type cell struct{ name, unit []string }
	cells := make([]cell, len(g.columns))
	rows := 1
	for c, col := range g.columns {
		name, unit, _ := strings.Cut(t.faces.clean(col.Head), "\n")
		inner := g.w[c] - 2*g.side
		cells[c].name = t.faces.bold.wrap(name, g.size, inner)
		if unit != "" {
			cells[c].unit = t.faces.regular.wrap(unit, g.size, inner)
		}
		rows = max(rows, len(cells[c].name)+len(cells[c].unit))
	}
	above := 0.0
	var captions []string
	if caption != "" {
		captions = t.faces.regular.wrap(caption, 7.8, g.width)
		above = float64(len(captions))*3.8 + 0.8
	}
	band := float64(rows)*g.lead + 2*g.pad + 0.4
	return piece{height: above + band, draw: func(s *sheet, y float64) {
		for i, l := range captions {
			s.text(g.left, y+3.8*(float64(i)+0.76), 7.8, false, grey, l)
		}
		y += above
		s.fill(g.left, y, g.width, band, shaded)
		s.rule(g.left, y, g.left+g.width, y, 0.3, deep)
		s.rule(g.left, y+band, g.left+g.width, y+band, 0.3, deep)
		for c, cl := range cells {
			base := y + g.pad + 0.2 + g.lead*0.76
			for _, l := range cl.name {
				g.line(s, c, base, true, deep, l)
				base += g.lead
			}
			// Units stand on the lowest line, so that they read across.
			base = y + g.pad + 0.2 + g.lead*(float64(rows-len(cl.unit))+0.76)
			for _, l := range cl.unit {
				g.line(s, c, base, false, grey, l)
				base += g.lead
			}
		}
	}}
}

func (t *setter) group(g grid, cells []string, head *piece) piece {
	lines := t.faces.bold.wrap(strings.Join(cells, " "), g.size, g.width-2*g.side)
	h := float64(len(lines))*g.lead + 2*g.pad
	return piece{height: h, keep: true, head: head, draw: func(s *sheet, y float64) {
		s.fill(g.left, y, g.width, h, pale)
		for i, l := range lines {
			s.text(g.left+g.side, y+g.pad+g.lead*(float64(i)+0.76), g.size, true, deep, l)
		}
		s.rule(g.left, y+h, g.left+g.width, y+h, 0.12, hair)
	}}
}

// row is one table row, or several continued ones when its text is taller
// than a page; each then says in its first cell what it belongs to.
func (t *setter) row(g grid, r report.Row, cells []string, head *piece, limit float64) []piece {
	face := t.faces.of(r.Bold)
	lines := make([][]string, len(g.columns))
	rows := 1
	for c := range min(len(g.columns), len(cells)) {
		lines[c] = face.wrap(cells[c], g.size, g.w[c]-2*g.side+0.01)
		rows = max(rows, len(lines[c]))
	}
	per := rows
	if float64(rows)*g.lead+2*g.pad > limit {
		per = max(4, int(limit*0.45/g.lead))
	}
	if per >= rows {
		return []piece{t.rowPart(g, r, lines, rows, head)}
	}
	label := ""
	if len(cells) > 0 && cells[0] != "" && face.width(cells[0]+" (cont.)", g.size) <= g.w[0]-2*g.side {
		label = cells[0] + " (cont.)"
	}
	var out []piece
	for from := 0; from < rows; from += per {
		part := make([][]string, len(lines))
		n := 0
		for c, l := range lines {
			if from < len(l) {
				part[c] = l[from:min(from+per, len(l))]
				n = max(n, len(part[c]))
			}
		}
		if from > 0 && len(part[0]) == 0 && label != "" {
			part[0] = []string{label}
		}
		out = append(out, t.rowPart(g, r, part, n, head))
	}
	return out
}

func (t *setter) rowPart(g grid, r report.Row, lines [][]string, rows int, head *piece) piece {
	h := float64(rows)*g.lead + 2*g.pad
	const line = 0.12 // of the rule above, which a tint must not cover
	return piece{height: h, head: head, draw: func(s *sheet, y float64) {
		switch r.Mark {
		case "fail":
			s.fill(g.left, y+line/2, g.width, h-line/2, rose)
			s.fill(g.left, y+line/2, 0.7, h-line/2, alarm)
		case "warn":
			s.fill(g.left, y+line/2, g.width, h-line/2, cream)
			s.fill(g.left, y+line/2, 0.7, h-line/2, amber)
		}
		for c, col := range lines {
			base := y + g.pad + g.lead*0.76
			for _, l := range col {
				g.line(s, c, base, r.Bold, black, l)
				base += g.lead
			}
		}
		s.rule(g.left, y+h, g.left+g.width, y+h, line, hair)
	}}
}
