package draw

import (
	"cmp"
	"math"
	"slices"

	"platebook/rules/floor"
)

// grid is where the parts of a split plan meet, on paper.
type grid struct {
	f     *frame
	n     int
	parts []tile
}

func (f *frame) grid() (grid, bool) {
	if len(f.sheet.parts) == 0 || !f.known {
		return grid{}, false
	}
	return grid{f, f.sheet.parts[0].n, f.sheet.parts}, true
}

func (g grid) centre(col, row int) floor.Point {
	t := tile{col: col, row: row, n: g.n}
	return fit(extentOf(g.f.a.Plan), g.f.room.grow(-0.5), &t).of
}

// x is between a column and the one before it, y between a row and the one
// above it.
func (g grid) x(col int) float64 {
	return g.f.view.pt(floor.Point{X: (g.centre(col-1, 0).X + g.centre(col, 0).X) / 2}).x
}

func (g grid) y(row int) float64 {
	return g.f.view.pt(floor.Point{Y: (g.centre(0, row-1).Y + g.centre(0, row).Y) / 2}).y
}

// lines is the match lines of this sheet, across the floor and short of the
// bearings: on a part those to its neighbours, on the whole floor all.
func (g grid) lines() [][2]point {
	cols, rows := make([]int, 0, g.n), make([]int, 0, g.n)
	if t := g.f.sheet.tile; t != nil {
		cols, rows = append(cols, t.col, t.col+1), append(rows, t.row, t.row+1)
	} else {
		for i := range g.n {
			cols, rows = append(cols, i), append(rows, i)
		}
	}
	var out [][2]point
	add := func(a, b point) {
		if b.x > a.x || b.y > a.y {
			out = append(out, [2]point{a, b})
		}
	}
	// half is how far a line at a distance from the centre reaches each way.
	o, r := g.f.view.pt(floor.Point{}), g.f.a.Plan.Radius*g.f.view.k+shellRoom
	half := func(away float64) float64 {
		if r <= shellRoom {
			return math.Inf(1)
		}
		return math.Sqrt(max(0, r*r-away*away))
	}
	for _, col := range cols {
		if col > 0 && col < g.n {
			x := g.x(col)
			add(point{x, max(g.f.clip.y1, o.y-half(x-o.x))}, point{x, min(g.f.clip.y2, o.y+half(x-o.x))})
		}
	}
	for _, row := range rows {
		if row > 0 && row < g.n {
			y := g.y(row)
			add(point{max(g.f.clip.x1, o.x-half(y-o.y)), y}, point{min(g.f.clip.x2, o.x+half(y-o.y)), y})
		}
	}
	return out
}

// shellRoom is how far a match line reaches beyond the shell, mm of paper.
const shellRoom = 3.0

var matchStyle = Path{Stroke: accent, Width: strong, Dash: []float64{5, 1.2, 0.6, 1.2}, Class: "match-line"}

// keepOffMatchLines takes the room of a part's match lines, and of the names
// of the sheets on which it goes on: beyond the line, where the neighbour shows
// the floor too. On the whole floor the lines give way.
func (f *frame) keepOffMatchLines() {
	g, ok := f.grid()
	t := f.sheet.tile
	if !ok || t == nil {
		return
	}
	for _, l := range g.lines() {
		f.taken.add(lineRoom(l))
	}
	name := func(col, row int, x, y, angle float64) {
		for _, p := range g.parts {
			if p.col != col || p.row != row {
				continue
			}
			l := Label{
				Text: "Sheet " + count(p.number), X: x, Y: y, Size: 2.6, Anchor: Centre, Middle: true, Angle: angle,
				Bold: true, Paint: accent, Class: "match-name",
			}
			f.meets = append(f.meets, l)
			f.taken.add(l.box().grow(0.8))
		}
	}
	const off = 2.6*(capHeight+descent)/2 + 0.8
	// Off the middle, where a seam or a fixture often stands.
	c := *f.clip
	x, y := c.x1+0.4*c.width(), c.y1+0.4*c.height()
	if t.col > 0 {
		name(t.col-1, t.row, g.x(t.col)-off, y, 90)
	}
	if t.col < g.n-1 {
		name(t.col+1, t.row, g.x(t.col+1)+off, y, 90)
	}
	if t.row > 0 {
		name(t.col, t.row-1, x, g.y(t.row)-off, 0)
	}
	if t.row < g.n-1 {
		name(t.col, t.row+1, x, g.y(t.row+1)+off, 0)
	}
}

// matchLines draws where the parts of a split plan meet: on each part the line
// to its neighbours with the number of their sheet, on the whole floor all
// lines and the sheet of each part. A line stands at the same place of the
// floor on both of its sheets.
func (f *frame) matchLines() {
	g, ok := f.grid()
	if !ok {
		return
	}
	if f.sheet.tile != nil {
		for _, l := range g.lines() {
			f.line(matchStyle, l[0], l[1])
		}
		for _, l := range f.meets {
			f.box(Path{Fill: paper, Class: "match-name"}, l.box().grow(0.3))
			f.label(l)
		}
		f.legend.text("Match lines, dash and dot: the plan goes on on the sheet named beyond")
		return
	}
	for _, l := range g.lines() {
		f.broken(l)
	}
	for _, t := range g.parts {
		cell := *f.clip
		if t.col > 0 {
			cell.x1 = g.x(t.col)
		}
		if t.col < g.n-1 {
			cell.x2 = g.x(t.col + 1)
		}
		if t.row > 0 {
			cell.y1 = g.y(t.row)
		}
		if t.row < g.n-1 {
			cell.y2 = g.y(t.row + 1)
		}
		f.partName(t, cell)
	}
	f.legend.text("Lines of dash and dot divide the floor into the parts on sheets 2 to " + count(len(g.parts)+1))
}

func lineRoom(l [2]point) rect { return rect{l[0].x, l[0].y, l[1].x, l[1].y}.grow(0.3) }

// broken draws a match line with gaps where words or fixtures stand.
func (f *frame) broken(l [2]point) {
	const room = 0.6 // between a word and the line, mm
	type gap struct{ from, to float64 }
	upright := l[0].x == l[1].x
	var gaps []gap
	for _, b := range f.taken.boxes {
		if !b.meets(lineRoom(l)) {
			continue
		}
		if upright {
			gaps = append(gaps, gap{b.y1 - room, b.y2 + room})
		} else {
			gaps = append(gaps, gap{b.x1 - room, b.x2 + room})
		}
	}
	slices.SortFunc(gaps, func(a, b gap) int { return cmp.Compare(a.from, b.from) })
	at, end := l[0].x, l[1].x
	if upright {
		at, end = l[0].y, l[1].y
	}
	for _, g := range append(gaps, gap{end, end}) {
		const least = 1.0 // mm of line worth drawing
		if to := min(g.from, end); to-at > least {
			a, b := point{at, l[0].y}, point{to, l[0].y}
			if upright {
				a, b = point{l[0].x, at}, point{l[0].x, to}
			}
			f.line(matchStyle, a, b)
		}
		at = max(at, g.to)
	}
}

// partName writes a part's sheet into its share of the whole floor, from the
// corner inwards, where nothing stands yet.
func (f *frame) partName(t tile, cell rect) {
	l := Label{Text: "Sheet " + count(t.number), Size: 2.6, Anchor: Centre, Middle: true, Bold: true, Paint: accent, Halo: true, Class: "match-name"}
	half := point{l.Width()/2 + 0.8, l.Size*(capHeight+descent)/2 + 0.8}
	const step = 2.5
	for d := 0.0; d < max(cell.width(), cell.height())/2; d += step {
		x1, x2 := min(cell.x1+half.x+d, cell.centre().x), max(cell.x2-half.x-d, cell.centre().x)
		y1, y2 := min(cell.y1+half.y+d, cell.centre().y), max(cell.y2-half.y-d, cell.centre().y)
		for _, p := range [...]point{{x1, y1}, {x2, y1}, {x1, y2}, {x2, y2}, {x1, cell.y1 + half.y}, {x2, cell.y1 + half.y}, {cell.x1 + half.x, y1}, {cell.x1 + half.x, y2}} {
			l.X, l.Y = p.x, p.y
			if f.writeFree(l) {
				return
			}
		}
	}
}

// writeFree writes a label where neither words nor marks stand.
func (f *frame) writeFree(l Label) bool {
	box := l.box().grow(0.2)
	if !f.taken.free(box) || f.marks != nil && f.marks.overlap(box, 1) > 0 || !f.label(l) {
		return false
	}
	f.taken.add(box)
	return true
}
