package draw

import "math"

// Sheet is the room a drawing gets on its page, in millimetres of paper.
// Drawings are true to the scale they print as long as the room is not
// shrunk.
type Sheet struct {
	Width, Height float64
	Paper         string // "A4", printed beside the scale; "" for a figure in text

	below bool   // legend and title block under the drawing though it is wide
	tile  *tile  // the part of the floor to show; nil: all of it
	pages int    // sheets of the same plan; 0: this one alone
	parts []tile // of a plan that is split, on each of its sheets
}

// Paper is a size of paper.
type Paper uint8

// The papers.
const (
	A4 Paper = iota
	Letter
	A3
)

// Margins of a drawing sheet: what remains round the drawing for the page's
// running head and foot.
const (
	MarginSide   = 12.0
	MarginTop    = 16.0
	MarginBottom = 14.0
)

// Size is the paper's short and long side, mm.
// Source: ISO 216 (A4 210 × 297, A3 297 × 420); ANSI/ASME Y14.1 size A
// (8.5 × 11 in).
func (p Paper) Size() (short, long float64) {
	switch p {
	case Letter:
		return 215.9, 279.4
	case A3:
		return 297, 420
	}
	return 210, 297
}

func (p Paper) String() string { return [...]string{"A4", "Letter", "A3"}[p] }

// Landscape is the sheet of a page lying on its long side.
func (p Paper) Landscape() Sheet {
	short, long := p.Size()
	return Sheet{Width: long - 2*MarginSide, Height: short - MarginTop - MarginBottom, Paper: p.String()}
}

// Portrait is the sheet of a page standing on its short side.
func (p Paper) Portrait() Sheet {
	short, long := p.Size()
	return Sheet{Width: short - 2*MarginSide, Height: long - MarginTop - MarginBottom, Paper: p.String()}
}

// point is a place on paper: mm, y down.
type point struct{ x, y float64 }

// rect is an axis-parallel box on paper.
type rect struct{ x1, y1, x2, y2 float64 }

func (r rect) width() float64  { return r.x2 - r.x1 }
func (r rect) height() float64 { return r.y2 - r.y1 }
func (r rect) centre() point   { return point{(r.x1 + r.x2) / 2, (r.y1 + r.y2) / 2} }

func (r rect) grow(d float64) rect {
	return rect{r.x1 - d, r.y1 - d, r.x2 + d, r.y2 + d}
}

func (r rect) moved(x, y float64) rect {
	return rect{r.x1 + x, r.y1 + y, r.x2 + x, r.y2 + y}
}

func (r rect) join(o rect) rect {
	return rect{min(r.x1, o.x1), min(r.y1, o.y1), max(r.x2, o.x2), max(r.y2, o.y2)}
}

func (r rect) holds(p point) bool {
	return p.x >= r.x1 && p.x <= r.x2 && p.y >= r.y1 && p.y <= r.y2
}

func (r rect) within(o rect) bool {
	return r.x1 >= o.x1 && r.x2 <= o.x2 && r.y1 >= o.y1 && r.y2 <= o.y2
}

func (r rect) meets(o rect) bool {
	return r.x1 < o.x2 && o.x1 < r.x2 && r.y1 < o.y2 && o.y1 < r.y2
}

func bounds(pts []point) rect {
	r := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		r.x1, r.y1 = min(r.x1, p.x), min(r.y1, p.y)
		r.x2, r.y2 = max(r.x2, p.x), max(r.y2, p.y)
	}
	return r
}
