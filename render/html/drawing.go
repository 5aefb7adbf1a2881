package html

import (
	"html"
	"math"
	"strconv"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
)

// drawing is the report's indication plan as a small SVG, for a browser
// without script. It is the same scene; only the writing is shorter: lengths
// to a hundredth of a millimetre, steps relative, and neighbours in the same
// style as one path.
func drawing(a *rules.Assessment) string {
	s := draw.IndicationPlan(a, draw.A4.Landscape())
	c := &sketch{}
	c.out.WriteString(`<svg viewBox="0 0 ` + short(s.Width) + " " + short(s.Height) + `" role="img" font-family="Arial,Helvetica,sans-serif"><title>` + html.EscapeString(s.Title) + "</title>")
	s.Paint(c)
	c.flush()
	c.out.WriteString("</svg>")
	return c.out.String()
}

type sketch struct {
	out   strings.Builder
	style string
	d     []byte
}

func short(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func colour(p draw.Paint) string {
	if !p.On {
		return "none"
	}
	const hex = "0123456789abcdef"
	b := []byte{'#'}
	for _, v := range [...]uint8{p.R, p.G, p.B} {
		b = append(b, hex[v>>4], hex[v&15])
	}
	return string(b)
}

// Path joins paths of one style. Shapes of one style may lie over each other:
// with the non-zero rule and all turning the same way their union is filled,
// so those with holes stay apart.
func (c *sketch) Path(p draw.Path) {
	style := ` fill="` + colour(p.Fill) + `"`
	if p.Stroke.On {
		style += ` stroke="` + colour(p.Stroke) + `" stroke-width="` + short(p.Width) + `"`
	}
	for i, d := range p.Dash {
		if i == 0 {
			style += ` stroke-dasharray="`
		} else {
			style += " "
		}
		style += short(d)
		if i == len(p.Dash)-1 {
			style += `"`
		}
	}
	if p.EvenOdd {
		style += ` fill-rule="evenodd"`
	}
	if style != c.style || p.EvenOdd {
		c.flush()
		c.style = style
	}
	var x, y float64 // where the pen stands, as written
	step := func(op byte, at ...float64) {
		c.d = append(c.d, op)
		for i, v := range at {
			// Each written number is a difference of rounded places, so
			// that errors do not add up.
			base := x
			if i%2 == 1 {
				base = y
			}
			if op == 'M' {
				base = 0
			}
			t := short(math.Round(v*100)/100 - base)
			if i > 0 && t[0] != '-' {
				c.d = append(c.d, ' ')
			}
			c.d = append(c.d, t...)
		}
		x, y = math.Round(at[len(at)-2]*100)/100, math.Round(at[len(at)-1]*100)/100
	}
	var x0, y0 float64
	for _, s := range p.Segments {
		switch s.Op {
		case draw.Move:
			step('M', s.X, s.Y)
			x0, y0 = x, y
		case draw.Line:
			step('l', s.X, s.Y)
		case draw.Curve:
			step('c', s.X1, s.Y1, s.X2, s.Y2, s.X, s.Y)
		case draw.Close:
			c.d = append(c.d, 'z')
			x, y = x0, y0
		}
	}
}

func (c *sketch) flush() {
	if len(c.d) > 0 {
		c.out.WriteString("<path" + c.style + ` d="`)
		c.out.Write(c.d)
		c.out.WriteString("\"/>\n")
	}
	c.d, c.style = c.d[:0], ""
}

func (c *sketch) Label(l draw.Label) {
	c.flush()
	x, y := l.Baseline()
	c.out.WriteString(`<text x="` + short(x) + `" y="` + short(y) + `" font-size="` + short(l.Size) + `" fill="` + colour(l.Paint) + `"`)
	if l.Bold {
		c.out.WriteString(` font-weight="bold"`)
	}
	if l.Angle != 0 {
		c.out.WriteString(` transform="rotate(` + short(-l.Angle) + " " + short(x) + " " + short(y) + `)"`)
	}
	if l.Halo {
		c.out.WriteString(` stroke="#fff" paint-order="stroke" stroke-width="` + short(l.Size*0.22) + `"`)
	}
	c.out.WriteString(">" + html.EscapeString(legible(l.Text)) + "</text>\n")
}

// legible replaces characters that a document must not hold.
func legible(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\n' && r != '\t' || r == 0xFFFE || r == 0xFFFF {
			return '\uFFFD'
		}
		return r
	}, s)
}
