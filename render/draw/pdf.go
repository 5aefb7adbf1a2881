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
	w.Grow(s.operatorBytes())
	w.WriteString("q\n1 j 1 J\n")
	s.Paint(c)
	w.WriteString("Q\n")
}

// operatorBytes is about how long the scene's operators are.
func (s *Scene) operatorBytes() int {
	const place, path, label = 15, 40, 220
	n := 0
	for _, it := range s.Items {
		if p, ok := it.(Path); ok {
			n += path
			for _, seg := range p.Segments {
				n += place
				if seg.Op == Curve {
					n += 2 * place
				}
			}
		} else {
			n += label
		}
	}
	return n
}

type operators struct {
	w            *bytes.Buffer
	show         func(*bytes.Buffer, Run)
	k, x, y      float64
	fill, stroke Paint
	width        float64
	dash         string
}

func (c *operators) point(b []byte, x, y float64) []byte {
	b = append(appendFixed(b, c.x+x*c.k, 2), ' ')
	return append(appendFixed(b, c.y-y*c.k, 2), ' ')
}

func appendPaint(b []byte, p Paint, op string) []byte {
	for _, v := range [...]uint8{p.R, p.G, p.B} {
		b = append(appendFixed(b, float64(v)/255, 3), ' ')
	}
	return append(b, op...)
}

func (c *operators) Path(p Path) {
	if !p.Fill.On && !p.Stroke.On || len(p.Segments) == 0 {
		return
	}
	b := c.w.AvailableBuffer()
	if p.Fill.On && p.Fill != c.fill {
		c.fill = p.Fill
		b = appendPaint(b, p.Fill, "rg\n")
	}
	if p.Stroke.On {
		b = c.pen(b, p)
	}
	for _, s := range p.Segments {
		switch s.Op {
		case Move:
			b = append(c.point(b, s.X, s.Y), "m\n"...)
		case Line:
			b = append(c.point(b, s.X, s.Y), "l\n"...)
		case Curve:
			b = c.point(b, s.X1, s.Y1)
			b = c.point(b, s.X2, s.Y2)
			b = append(c.point(b, s.X, s.Y), "c\n"...)
		case Close:
			b = append(b, "h\n"...)
		}
	}
	switch {
	case p.Fill.On && p.Stroke.On:
		b = append(b, 'B')
	case p.Fill.On:
		b = append(b, 'f')
	default:
		b = append(b, 'S')
	}
	if p.EvenOdd && p.Fill.On {
		b = append(b, '*')
	}
	c.w.Write(append(b, '\n'))
}

func (c *operators) pen(b []byte, p Path) []byte {
	if p.Stroke != c.stroke {
		c.stroke = p.Stroke
		b = appendPaint(b, p.Stroke, "RG\n")
	}
	if w := p.Width * c.k; w != c.width {
		c.width = w
		b = append(appendFixed(b, w, 2), " w\n"...)
	}
	from := len(b)
	b = append(b, '[')
	for i, d := range p.Dash {
		if i > 0 {
			b = append(b, ' ')
		}
		b = strconv.AppendFloat(b, d*c.k, 'f', 2, 64)
	}
	b = append(b, "] 0 d\n"...)
	if string(b[from:]) == c.dash {
		return b[:from]
	}
	c.dash = string(b[from:])
	return b
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
