package draw

import (
	"math"
	"unicode/utf8"

	"platebook/render/lettering"
)

// Heights of Liberation Sans as shares of the em: letters without descenders,
// and how far descenders reach below the baseline.
// Source: the font's OS/2 table (cap height 1409 of 2048 units; descent of
// "g" and "p" 431).
const (
	capHeight = 0.688
	descent   = 0.21
)

// Width is how wide text runs in the letters of the report, in the unit of
// size.
func Width(text string, size float64, heavy bool) float64 {
	for i := range len(text) {
		if text[i] >= 0x7F || text[i] < ' ' {
			text, _ = lettering.Clean(text)
			break
		}
	}
	return lettering.Width(text, size, heavy)
}

// Fit shortens text with an ellipsis until it runs no wider than limit.
func Fit(text string, size float64, heavy bool, limit float64) string {
	all := len(text)
	text = lettering.Head(text, size, heavy, limit)
	if len(text) == all && Width(text, size, heavy) <= limit {
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

// nameRoom is how wide a name runs on a plan at most, mm: the tables hold it
// whole.
const nameRoom = 32.0

// brief is a name as plans show it. Of a long one its end stays too: names of
// one floor differ there.
func brief(name string, size float64, heavy bool) string {
	if Width(name, size, heavy) <= nameRoom {
		return name
	}
	const ending = 8
	letters := []rune(name)
	if len(letters) <= 2*ending {
		return Fit(name, size, heavy, nameRoom)
	}
	end := string(letters[len(letters)-ending:])
	head := Fit(name, size, heavy, nameRoom-Width(end, size, heavy))
	if head == "" {
		return Fit(name, size, heavy, nameRoom)
	}
	return head + end
}

// Width is how wide the label runs, mm.
func (l Label) Width() float64 { return Width(l.Text, l.Size, l.Bold) }

// corner is a point of the label's unturned box, turned into the scene: along
// in widths w from the left end, up in em from the baseline.
func (l Label) corner(w, along, up float64) (x, y float64) {
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
	w := l.Width()
	for _, c := range [...][2]float64{{0, -descent}, {1, -descent}, {0, capHeight}, {1, capHeight}} {
		x, y := l.corner(w, c[0], c[1])
		x1, y1, x2, y2 = min(x1, x), min(y1, y), max(x2, x), max(y2, y)
	}
	return x1, y1, x2, y2
}
