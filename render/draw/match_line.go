package draw

import (
	"math"

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

// upright and level draw a line across the floor, short of the bearings.
func (g grid) upright(x float64) {
	c := *g.f.clip
	if r := g.f.a.Plan.Radius*g.f.view.k + shellRoom; r > shellRoom {
		o := g.f.view.pt(floor.Point{})
		half := math.Sqrt(max(0, r*r-(x-o.x)*(x-o.x)))
		c.y1, c.y2 = max(c.y1, o.y-half), min(c.y2, o.y+half)
	}
	if c.y2 > c.y1 {
		g.f.line(matchStyle, point{x, c.y1}, point{x, c.y2})
	}
}

func (g grid) level(y float64) {
	c := *g.f.clip
	if r := g.f.a.Plan.Radius*g.f.view.k + shellRoom; r > shellRoom {
		o := g.f.view.pt(floor.Point{})
		half := math.Sqrt(max(0, r*r-(y-o.y)*(y-o.y)))
		c.x1, c.x2 = max(c.x1, o.x-half), min(c.x2, o.x+half)
	}
	if c.x2 > c.x1 {
		g.f.line(matchStyle, point{c.x1, y}, point{c.x2, y})
	}
}

// shellRoom is how far a match line reaches beyond the shell, mm of paper.
const shellRoom = 3.0

var matchStyle = Path{Stroke: accent, Width: strong, Dash: []float64{5, 1.2, 0.6, 1.2}, Class: "match-line"}

// nameNeighbours takes the room for the names of the sheets on which a part
// goes on: beyond the match line, where the neighbour shows the floor too.
func (f *frame) nameNeighbours() {
	g, ok := f.grid()
	t := f.sheet.tile
	if !ok || t == nil {
		return
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
			f.taken.add(l.box().grow(0.3))
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
	if t := f.sheet.tile; t != nil {
		for _, col := range [...]int{t.col, t.col + 1} {
			if col > 0 && col < g.n {
				g.upright(g.x(col))
			}
		}
		for _, row := range [...]int{t.row, t.row + 1} {
			if row > 0 && row < g.n {
				g.level(g.y(row))
			}
		}
		for _, l := range f.meets {
			f.box(Path{Fill: paper, Class: "match-name"}, l.box().grow(0.3))
			f.label(l)
		}
		f.legend.text("Match lines, dash and dot: the plan goes on on the sheet named beyond")
		return
	}
	for i := 1; i < g.n; i++ {
		g.upright(g.x(i))
		g.level(g.y(i))
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
