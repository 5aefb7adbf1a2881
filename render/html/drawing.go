package html

import (
	"html"
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
)

// drawing is the report's indication plan as a small SVG, for a browser
// without script. It is the same scene; only the writing is shorter: lengths
// to a hundredth of a millimetre, steps relative, and neighbours in the same
// style as one path. Marks of one loss band stand together: which of them lies
// on top of another of the same shade does not matter.
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
	band  draw.Paint // of the marks being gathered
	paths []styled   // not yet written

	lettering string // style of the group of labels that is open, "" without one
}

// styled is paths of one style.
type styled struct {
	style string
	d     []byte
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

// short writes a number with at most two decimals, without a zero before the
// point.
func short(v float64) string {
	v = hundredth(v)
	if v == 0 {
		return "0" // not -0
	}
	t := strconv.FormatFloat(v, 'f', -1, 64)
	if rest, ok := strings.CutPrefix(t, "0."); ok {
		return "." + rest
	}
	if rest, ok := strings.CutPrefix(t, "-0."); ok {
		return "-." + rest
	}
	return t
}

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
	run := c.run(p, style)
	var x, y float64 // where the pen stands, as written
	step := func(op byte, at ...float64) {
		run.d = append(run.d, op)
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
			t := short(hundredth(v) - base)
			if i > 0 && t[0] != '-' {
				run.d = append(run.d, ' ')
			}
			run.d = append(run.d, t...)
		}
		x, y = hundredth(at[len(at)-2]), hundredth(at[len(at)-1])
	}
	var x0, y0 float64
	for i := 0; i < len(p.Segments); i++ {
		s := p.Segments[i]
		if o, ok := oval(p.Segments[i:]); ok {
			step('M', s.X, s.Y)
			run.d = append(run.d, o.halves()...)
			i += 5
			continue
		}
		switch s.Op {
		case draw.Move:
			step('M', s.X, s.Y)
			x0, y0 = x, y
		case draw.Line:
			switch {
			case hundredth(s.Y) == y && hundredth(s.X) != x:
				run.d = append(append(run.d, 'h'), short(hundredth(s.X)-x)...)
				x = hundredth(s.X)
			case hundredth(s.X) == x && hundredth(s.Y) != y:
				run.d = append(append(run.d, 'v'), short(hundredth(s.Y)-y)...)
				y = hundredth(s.Y)
			default:
				step('l', s.X, s.Y)
			}
		case draw.Curve:
			step('c', s.X1, s.Y1, s.X2, s.Y2, s.X, s.Y)
		case draw.Close:
			run.d = append(run.d, 'z')
			x, y = x0, y0
		}
	}
}

// run is where a path of a style goes: after the one before it when that looks
// the same, or among the marks of its band.
func (c *sketch) run(p draw.Path, style string) *styled {
	mark := strings.HasPrefix(p.Class, "indication")
	switch {
	case mark && p.Fill == c.band || p.Class == "proved" && c.band.On:
		for i := range c.paths {
			if c.paths[i].style == style {
				return &c.paths[i]
			}
		}
	case !mark && len(c.paths) == 1 && !c.band.On && c.paths[0].style == style && !p.EvenOdd:
		return &c.paths[0]
	default:
		c.flush()
		if mark {
			c.band = p.Fill
		}
	}
	c.paths = append(c.paths, styled{style: style})
	return &c.paths[len(c.paths)-1]
}

// dots is the style of prove-ups, which lie on the marks of their band.
func (s *styled) dots() bool { return !strings.Contains(s.style, "stroke") }

func (c *sketch) flush() {
	c.flushPaths()
	c.endLabels()
}

func (c *sketch) flushPaths() {
	if len(c.paths) > 0 {
		c.endLabels()
	}
	slices.SortStableFunc(c.paths, func(a, b styled) int {
		switch {
		case !c.band.On || a.dots() == b.dots():
			return 0
		case a.dots():
			return 1
		}
		return -1
	})
	for _, p := range c.paths {
		c.out.WriteString("<path" + p.style + ` d="`)
		c.out.Write(p.d)
		c.out.WriteString("\"/>\n")
	}
	c.paths, c.band = c.paths[:0], draw.Paint{}
}

// Label writes a label; what neighbours share stands once, in their group.
func (c *sketch) Label(l draw.Label) {
	c.flushPaths()
	style := ` font-size="` + short(l.Size) + `" fill="` + colour(l.Paint) + `"`
	if l.Bold {
		style += ` font-weight="bold"`
	}
	if l.Halo {
		style += ` stroke="#fff" paint-order="stroke" stroke-width="` + short(l.Size*0.22) + `"`
	}
	if style != c.lettering {
		c.endLabels()
		c.out.WriteString("<g" + style + ">\n")
		c.lettering = style
	}
	x, y := l.Baseline()
	c.out.WriteString(`<text x="` + short(x) + `" y="` + short(y) + `"`)
	if l.Angle != 0 {
		c.out.WriteString(` transform="rotate(` + short(-l.Angle) + " " + short(x) + " " + short(y) + `)"`)
	}
	if len(l.Text) >= longLine { // a browser's own font may be wider than the sheet's
		c.out.WriteString(` textLength="` + short(l.Width()) + `" lengthAdjust="spacingAndGlyphs"`)
	}
	c.out.WriteString(">" + html.EscapeString(legible(l.Text)) + "</text>\n")
}

// longLine is from how many bytes on a label is held to its width: lines of the
// legend reach to the edge of the sheet, and no number is as long.
const longLine = 24

func (c *sketch) endLabels() {
	if c.lettering != "" {
		c.out.WriteString("</g>\n")
		c.lettering = ""
	}
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
