package draw

import (
	"bytes"
	"strconv"
)

// PointsPerMillimetre is the size of a scene millimetre in PDF user space.
const PointsPerMillimetre = 72 / 25.4

// Run is a label as a PDF text writer needs it: page points, y up.
type Run struct {
	Text  string
	X, Y  float64 // left end of the baseline
	Size  float64 // points
	Angle float64 // degrees anticlockwise
	Bold  bool
	Paint Paint
	Halo  bool // stroke a thin white outline first
}

// PDF writes the scene as PDF content operators into w. Its lower left corner
// stands at x, y points on the page, and a scene millimetre measures
// scale × 72/25.4 points (1 for true size). Labels are handed to show, which
// writes their text operators into the same buffer, so the order of painting
// is kept: only it knows the font's glyph numbers. The operators are enclosed
// in q … Q.
func (s *Scene) PDF(w *bytes.Buffer, x, y, scale float64, show func(*bytes.Buffer, Run)) {
	c := &operators{
		w: w, show: show, k: scale * PointsPerMillimetre,
		x: x, y: y + s.Height*scale*PointsPerMillimetre,
	}
	w.WriteString("q\n1 j 1 J\n")
	s.Paint(c)
	w.WriteString("Q\n")
}

type operators struct {
	w            *bytes.Buffer
	show         func(*bytes.Buffer, Run)
	k, x, y      float64
	fill, stroke Paint
	width        float64
	dash         string
	num          []byte
}

func (c *operators) point(x, y float64) {
	c.number(c.x + x*c.k)
	c.number(c.y - y*c.k)
}

func (c *operators) number(v float64) {
	c.num = appendFixed(c.num[:0], v, 2)
	c.w.Write(c.num)
	c.w.WriteByte(' ')
}

func (c *operators) paint(p Paint, op string) {
	for _, v := range [...]uint8{p.R, p.G, p.B} {
		c.num = appendFixed(c.num[:0], float64(v)/255, 3)
		c.w.Write(c.num)
		c.w.WriteByte(' ')
	}
	c.w.WriteString(op)
}

func (c *operators) Path(p Path) {
	if !p.Fill.On && !p.Stroke.On || len(p.Segments) == 0 {
		return
	}
	if p.Fill.On && p.Fill != c.fill {
		c.fill = p.Fill
		c.paint(p.Fill, "rg\n")
	}
	if p.Stroke.On {
		c.pen(p)
	}
	for _, s := range p.Segments {
		switch s.Op {
		case Move:
			c.point(s.X, s.Y)
			c.w.WriteString("m\n")
		case Line:
			c.point(s.X, s.Y)
			c.w.WriteString("l\n")
		case Curve:
			c.point(s.X1, s.Y1)
			c.point(s.X2, s.Y2)
			c.point(s.X, s.Y)
			c.w.WriteString("c\n")
		case Close:
			c.w.WriteString("h\n")
		}
	}
	star := ""
	if p.EvenOdd && p.Fill.On {
		star = "*"
	}
	switch {
	case p.Fill.On && p.Stroke.On:
		c.w.WriteString("B" + star + "\n")
	case p.Fill.On:
		c.w.WriteString("f" + star + "\n")
	default:
		c.w.WriteString("S\n")
	}
}

func (c *operators) pen(p Path) {
	if p.Stroke != c.stroke {
		c.stroke = p.Stroke
		c.paint(p.Stroke, "RG\n")
	}
	if w := p.Width * c.k; w != c.width {
		c.width = w
		c.number(w)
		c.w.WriteString("w\n")
	}
	dash := "["
	for i, d := range p.Dash {
		if i > 0 {
			dash += " "
		}
		dash += strconv.FormatFloat(d*c.k, 'f', 2, 64)
	}
	if dash += "] 0 d\n"; dash != c.dash {
		c.dash = dash
		c.w.WriteString(dash)
	}
}

func (c *operators) Label(l Label) {
	if l.Text == "" {
		return
	}
	x, y := l.Baseline()
	// A text writer sets its own colours and widths, so ours are restored
	// around it.
	c.w.WriteString("q\n")
	c.show(c.w, Run{
		Text: l.Text, X: c.x + x*c.k, Y: c.y - y*c.k, Size: l.Size * c.k,
		Angle: l.Angle, Bold: l.Bold, Paint: l.Paint, Halo: l.Halo,
	})
	c.w.WriteString("Q\n")
}
