package draw

import (
	"io/fs"
	"math"
	"sync"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"platebook/templates"
)

// Heights of Liberation Sans as shares of the em: letters without descenders,
// and how far descenders reach below the baseline.
// Source: the font's OS/2 table (cap height 1409 of 2048 units; descent of
// "g" and "p" 431).
const (
	capHeight = 0.688
	descent   = 0.21
)

// Advance widths of one weight in em, for the scripts that labels come in.
type widths struct {
	low  [0x530]float32
	high [0x300]float32 // from U+2000
	// what a glyph the font lacks is drawn as
	missing float32
}

var regular, bold = weight("fonts/LiberationSans-Regular.ttf"), weight("fonts/LiberationSans-Bold.ttf")

func weight(file string) func() *widths {
	return sync.OnceValue(func() *widths {
		data, err := fs.ReadFile(templates.Fonts, file)
		if err != nil {
			panic("draw: " + err.Error())
		}
		f, err := sfnt.Parse(data)
		if err != nil {
			panic("draw: " + file + ": " + err.Error())
		}
		var buf sfnt.Buffer
		em := fixed.I(int(f.UnitsPerEm()))
		of := func(r rune) float32 {
			// A rune the font lacks is glyph 0, the box.
			g, err := f.GlyphIndex(&buf, r)
			if err != nil {
				g = 0
			}
			a, err := f.GlyphAdvance(&buf, g, em, font.HintingNone)
			if err != nil {
				return 1
			}
			return float32(float64(a) / float64(em))
		}
		w := &widths{missing: max(of(0xFFFF), 1)}
		for r := range w.low {
			w.low[r] = of(rune(r))
		}
		for r := range w.high {
			w.high[r] = of(0x2000 + rune(r))
		}
		return w
	})
}

// Width is how wide text set in Liberation Sans runs, in the unit of size.
func Width(text string, size float64, heavy bool) float64 {
	w := regular()
	if heavy {
		w = bold()
	}
	var sum float32
	for _, r := range text {
		switch {
		case int(r) < len(w.low):
			sum += w.low[r]
		case r >= 0x2000 && int(r) < 0x2000+len(w.high):
			sum += w.high[r-0x2000]
		default:
			sum += w.missing
		}
	}
	return float64(sum) * size
}

// Fit shortens text with an ellipsis until it runs no wider than limit.
func Fit(text string, size float64, heavy bool, limit float64) string {
	if Width(text, size, heavy) <= limit {
		return text
	}
	for len(text) > 0 {
		_, n := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-n]
		if t := text + "…"; Width(t, size, heavy) <= limit {
			return t
		}
	}
	return ""
}

// Width is how wide the label runs, mm.
func (l Label) Width() float64 { return Width(l.Text, l.Size, l.Bold) }

// corner is a point of the label's unturned box, turned into the scene: along
// in widths from the left end, up in em from the baseline.
func (l Label) corner(along, up float64) (x, y float64) {
	w := l.Width()
	dx := along * w
	switch l.Anchor {
	case Centre:
		dx -= w / 2
	case End:
		dx -= w
	}
	dy := -up * l.Size
	if l.Middle {
		dy += capHeight / 2 * l.Size
	}
	if l.Angle == 0 {
		return l.X + dx, l.Y + dy
	}
	sin, cos := math.Sincos(l.Angle * math.Pi / 180)
	return l.X + dx*cos + dy*sin, l.Y - dx*sin + dy*cos
}

// Bounds is the axis-parallel box around the label's letters, descenders
// included.
func (l Label) Bounds() (x1, y1, x2, y2 float64) {
	x1, y1 = math.Inf(1), math.Inf(1)
	x2, y2 = math.Inf(-1), math.Inf(-1)
	for _, c := range [...][2]float64{{0, -descent}, {1, -descent}, {0, capHeight}, {1, capHeight}} {
		x, y := l.corner(c[0], c[1])
		x1, y1, x2, y2 = min(x1, x), min(y1, y), max(x2, x), max(y2, y)
	}
	return x1, y1, x2, y2
}
