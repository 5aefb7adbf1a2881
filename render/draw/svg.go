package draw

import (
	"bufio"
	"io"
	"math"
	"strconv"
	"unicode/utf8"
)

// SVG writes the scene as one SVG document, sized in millimetres. Equal
// scenes give equal bytes.
func (s *Scene) SVG(w io.Writer) error {
	c := &svg{w: bufio.NewWriterSize(w, 1<<16)}
	c.text(`<svg xmlns="http://www.w3.org/2000/svg" width="`)
	c.number(s.Width)
	c.text(`mm" height="`)
	c.number(s.Height)
	c.text(`mm" viewBox="0 0 `)
	c.number(s.Width)
	c.text(" ")
	c.number(s.Height)
	c.text(`"`)
	c.attribute("id", identifier(s.Name))
	c.text(` font-family="Liberation Sans, Arimo, Arial, Helvetica, sans-serif" stroke-linejoin="round" stroke-linecap="round" role="img">` + "\n<title>")
	c.escaped(s.Title)
	c.text("</title>\n")
	s.Paint(c)
	c.text("</svg>\n")
	return c.w.Flush()
}

type svg struct {
	w   *bufio.Writer
	buf []byte
}

func (c *svg) text(s string) { c.w.WriteString(s) }

func (c *svg) number(v float64) {
	c.buf = appendFixed(c.buf[:0], v, 3)
	c.w.Write(c.buf)
}

// appendFixed prints v with at most the given decimals, no exponent, no
// trailing zeros and no negative zero. A number that is none becomes 0: it
// must never break a document.
func appendFixed(b []byte, v float64, decimals int) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0')
	}
	scale := int64(1)
	for range decimals {
		scale *= 10
	}
	n := int64(math.Round(v * float64(scale)))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/scale, 10)
	frac := n % scale
	if frac == 0 {
		return b
	}
	b = append(b, '.')
	for scale /= 10; frac > 0; scale /= 10 {
		b = append(b, byte('0'+frac/scale))
		frac %= scale
	}
	return b
}

// escaped writes text from a workbook as XML character data: markup escaped,
// characters that XML forbids replaced.
func (c *svg) escaped(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			c.text("&amp;")
		case r == '<':
			c.text("&lt;")
		case r == '>':
			c.text("&gt;")
		case r == '"':
			c.text("&quot;")
		case r == '\t' || r == '\n' || r == '\r':
			c.text(" ")
		case r < 0x20 || r == 0xFFFE || r == 0xFFFF:
			c.text("\uFFFD")
		default:
			c.buf = utf8.AppendRune(c.buf[:0], r)
			c.w.Write(c.buf)
		}
	}
}

func (c *svg) attribute(name, value string) {
	if value == "" {
		return
	}
	c.text(" " + name + `="`)
	c.escaped(value)
	c.text(`"`)
}

func (c *svg) size(name string, v float64) {
	c.text(" " + name + `="`)
	c.number(v)
	c.text(`"`)
}

func (c *svg) colour(name string, p Paint) {
	const hex = "0123456789abcdef"
	c.text(" " + name + `="`)
	if !p.On {
		c.text(`none"`)
		return
	}
	c.text("#")
	for _, v := range [...]uint8{p.R, p.G, p.B} {
		c.w.WriteByte(hex[v>>4])
		c.w.WriteByte(hex[v&15])
	}
	c.text(`"`)
}

func (c *svg) Path(p Path) {
	c.text("<path")
	c.attribute("class", p.Class)
	c.attribute("data-id", p.ID)
	c.text(` d="`)
	for _, s := range p.Segments {
		switch s.Op {
		case Move:
			c.step("M", s.X, s.Y)
		case Line:
			c.step("L", s.X, s.Y)
		case Curve:
			c.step("C", s.X1, s.Y1)
			c.step(" ", s.X2, s.Y2)
			c.step(" ", s.X, s.Y)
		case Close:
			c.text("Z")
		}
	}
	c.text(`"`)
	c.colour("fill", p.Fill)
	if p.EvenOdd {
		c.text(` fill-rule="evenodd"`)
	}
	if p.Stroke.On {
		c.colour("stroke", p.Stroke)
		c.size("stroke-width", p.Width)
		if len(p.Dash) > 0 {
			c.text(` stroke-dasharray="`)
			for i, d := range p.Dash {
				if i > 0 {
					c.text(" ")
				}
				c.number(d)
			}
			c.text(`"`)
		}
	}
	c.text("/>\n")
}

func (c *svg) step(op string, x, y float64) {
	c.text(op)
	c.number(x)
	c.text(" ")
	c.number(y)
}

func (c *svg) Label(l Label) {
	c.text("<text")
	c.attribute("class", l.Class)
	y := l.Y
	// The middle of the letters is set by hand: renderers differ about
	// dominant-baseline.
	if l.Middle && l.Angle == 0 {
		y += capHeight / 2 * l.Size
	}
	c.size("x", l.X)
	c.size("y", y)
	if l.Middle && l.Angle != 0 {
		c.size("dy", capHeight/2*l.Size)
	}
	c.size("font-size", l.Size)
	switch l.Anchor {
	case Centre:
		c.text(` text-anchor="middle"`)
	case End:
		c.text(` text-anchor="end"`)
	}
	if l.Bold {
		c.text(` font-weight="bold"`)
	}
	if l.Angle != 0 {
		c.text(` transform="rotate(`)
		c.number(-l.Angle)
		c.text(" ")
		c.number(l.X)
		c.text(" ")
		c.number(y)
		c.text(`)"`)
	}
	c.colour("fill", l.Paint)
	if l.Halo {
		c.text(` stroke="#fff" paint-order="stroke"`)
		c.size("stroke-width", l.Size*haloShare)
	}
	c.text(">")
	c.escaped(l.Text)
	c.text("</text>\n")
}

// haloShare is the width of a halo's stroke as a share of the letters' size.
const haloShare = 0.22

// identifier is a name as an XML id: letters, digits and hyphens.
func identifier(name string) string {
	b := []byte(name)
	for i, c := range b {
		if (c < '0' || c > '9') && (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') {
			b[i] = '-'
		}
	}
	return string(b)
}
