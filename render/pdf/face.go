package pdf

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"

	"platebook/templates"
)

const (
	mm = 72 / 25.4 // points in a millimetre
	pt = 25.4 / 72 // millimetres in a point

	// capHeight is the height of a capital as a share of the size.
	// Source: OS/2 table of Liberation Sans, 1409 of 2048 units.
	capHeight = 0.688

	replacement = '\uFFFD'
)

// face measures one weight of the embedded font. Widths are whole thousandths
// of an em, as the PDF's own table of widths holds them.
type face struct {
	file    []byte
	parsed  *sfnt.Font
	buf     sfnt.Buffer
	known   [1 << 16]bool
	lacking [1 << 16]bool
	advance [1 << 16]uint16
	used    map[rune]bool // by text written without maroto
}

func loadFace(name string) (*face, error) {
	file, err := fs.ReadFile(templates.Fonts, "fonts/"+name+".ttf")
	if err != nil {
		return nil, fmt.Errorf("font: %w", err)
	}
	parsed, err := sfnt.Parse(file)
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	return &face{file: file, parsed: parsed, used: map[rune]bool{}}, nil
}

func (f *face) learn(r rune) {
	upem := int(f.parsed.UnitsPerEm())
	glyph, err := f.parsed.GlyphIndex(&f.buf, r)
	if err != nil || glyph == 0 {
		glyph, f.lacking[r] = 0, true
	}
	a, err := f.parsed.GlyphAdvance(&f.buf, glyph, fixed.I(upem), font.HintingNone)
	if err != nil {
		a = fixed.I(upem / 2)
	}
	f.advance[r] = uint16((int(a)*1000/64 + upem/2) / upem)
	f.known[r] = true
}

// lacks says whether the font has no drawing of its own for a letter.
func (f *face) lacks(r rune) bool {
	if r >= 1<<16 {
		return true
	}
	if !f.known[r] {
		f.learn(r)
	}
	return f.lacking[r]
}

// width of a text in millimetres at a size in points.
func (f *face) width(s string, size float64) float64 {
	sum := 0
	for _, r := range s {
		if r >= 1<<16 {
			r = replacement
		}
		if !f.known[r] {
			f.learn(r)
		}
		sum += int(f.advance[r])
	}
	return float64(sum) * size * (pt / 1000)
}

// faces are the two weights of a document and what it could not draw.
type faces struct {
	regular, bold *face
	missing       map[rune]bool
}

func loadFaces() (*faces, error) {
	regular, err := loadFace("LiberationSans-Regular")
	if err != nil {
		return nil, err
	}
	bold, err := loadFace("LiberationSans-Bold")
	if err != nil {
		return nil, err
	}
	return &faces{regular, bold, map[rune]bool{}}, nil
}

func (f *faces) of(bold bool) *face {
	if bold {
		return f.bold
	}
	return f.regular
}

// lost is the letters that were drawn as an empty box, in order.
func (f *faces) lost() []rune {
	out := make([]rune, 0, len(f.missing))
	for r := range f.missing {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}

// clean makes text fit to be set: accents joined to their letters, control
// and formatting characters gone, odd spaces made plain. Letters the font
// lacks stay: they print as a box and are found by a search all the same,
// except those beyond the basic plane, which become the replacement character.
// Line feeds stay.
func (f *faces) clean(s string) string {
	if plain(s) {
		return s
	}
	s = norm.NFC.String(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n"))
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		switch {
		case r == '\n':
			b.WriteByte('\n')
		case r == '\t' || r == '\v' || r == '\f' || r == '\u2028' || r == '\u2029' || r == '\u0085':
			b.WriteByte(' ')
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r >= '\uFE00' && r <= '\uFE0F':
		case r == '\u2011' && f.regular.lacks(r):
			b.WriteByte('-')
		case unicode.IsSpace(r) && f.regular.lacks(r):
			b.WriteByte(' ')
		case r >= 1<<16:
			f.missing[r] = true
			b.WriteRune(replacement)
		default:
			if f.regular.lacks(r) {
				f.missing[r] = true
			}
			b.WriteRune(r)
		}
	}
	return b.String()
}

func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if (s[i] < ' ' && s[i] != '\n') || s[i] >= 0x7F {
			return false
		}
	}
	return true
}

// visual puts a line into the order it is read in from the left, which
// differs from the order of its letters where a name runs right to left: from
// its first to its last such letter, numbers after it included, the line is
// turned, and within it numbers and names that run left to right are not.
func visual(line string) string {
	if !strings.ContainsFunc(line, rightToLeft) {
		return line
	}
	in := []rune(line)
	out := make([]rune, 0, len(in))
	for i := 0; i < len(in); {
		if !rightToLeft(in[i]) {
			out = append(out, in[i])
			i++
			continue
		}
		end := i + 1
		for j := i + 1; j < len(in) && (rightToLeft(in[j]) || !unicode.IsLetter(in[j])); j++ {
			if rightToLeft(in[j]) || unicode.IsDigit(in[j]) || unicode.Is(unicode.Mn, in[j]) {
				end = j + 1
			}
		}
		out = append(out, turned(in[i:end])...)
		i = end
	}
	return string(out)
}

func rightToLeft(r rune) bool {
	if r < 0x590 {
		return false
	}
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

var mirrored = map[rune]rune{'(': ')', ')': '(', '[': ']', ']': '[', '{': '}', '}': '{', '<': '>', '>': '<', '«': '»', '»': '«'}

// turned is letters from right to left, numbers within them as they were.
func turned(in []rune) []rune {
	out := make([]rune, 0, len(in))
	for j := len(in); j > 0; {
		i := j - 1
		if unicode.IsDigit(in[i]) {
			for i > 0 && (unicode.IsDigit(in[i-1]) || i > 1 && strings.ContainsRune(".,:/-", in[i-1]) && unicode.IsDigit(in[i-2])) {
				i--
			}
			out = append(out, in[i:j]...)
		} else if m, ok := mirrored[in[i]]; ok {
			out = append(out, m)
		} else {
			out = append(out, in[i])
		}
		j = i
	}
	return out
}
