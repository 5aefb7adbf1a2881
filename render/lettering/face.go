// Package lettering knows the letters of reports and drawings: which fonts
// have them, how wide they run, in which order and shape a line shows them,
// and what stands for a letter that no font has.
//
// Text is set in Liberation Sans. Letters it lacks come from DejaVu Sans, a
// free font (its licence allows embedding) with Arabic, Armenian, Georgian and
// many signs, and then from Droid Sans Fallback, which has Chinese, Japanese and
// Korean in one weight. A letter that none has is printed as its Unicode number,
// never as an empty box.
package lettering

import (
	"io/fs"
	"sync"
	"sync/atomic"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"platebook/templates"
)

// Family is a font a letter comes from.
type Family uint8

// The families.
const (
	Main    Family = iota // Liberation Sans
	Reserve               // DejaVu Sans, for letters Main lacks
	East                  // Droid Sans Fallback, for letters both lack

	Families = 3
)

// face is one weight of a family. What it knows of letters is filled page by
// page of 256, and may be by several callers at once: each would fill in the
// same.
type face struct {
	file  []byte
	font  *sfnt.Font
	pages [256]atomic.Pointer[[256]uint16]
}

// absent marks a letter the face has no drawing for.
const absent = 1 << 15

var faces = [Families][2]func() *face{
	{embedded("LiberationSans-Regular"), embedded("LiberationSans-Bold")},
	{sync.OnceValue(func() *face { return parse(dejavusans.TTF) }), sync.OnceValue(func() *face { return parse(dejavusansbold.TTF) })},
	{east, east},
}

var east = embedded("DroidSansFallback")

func embedded(name string) func() *face {
	return sync.OnceValue(func() *face {
		file, err := fs.ReadFile(templates.Fonts, "fonts/"+name+".ttf")
		if err != nil {
			panic("lettering: " + err.Error())
		}
		return parse(file)
	})
}

func parse(file []byte) *face {
	f, err := sfnt.Parse(file)
	if err != nil {
		panic("lettering: " + err.Error())
	}
	return &face{file: file, font: f}
}

func of(family Family, bold bool) *face {
	if bold {
		return faces[family][1]()
	}
	return faces[family][0]()
}

// File is the font file of a family's weight.
func File(family Family, bold bool) []byte { return of(family, bold).file }

// look is the advance of a letter in thousandths of an em, with absent set
// when the face lacks it.
func (f *face) look(r rune) uint16 {
	if r < 0 || r >= 1<<16 {
		return absent
	}
	page := f.pages[r>>8].Load()
	if page == nil {
		page = f.learn(r >> 8)
		f.pages[r>>8].Store(page)
	}
	return page[r&0xFF]
}

func (f *face) learn(high rune) *[256]uint16 {
	var (
		page [256]uint16
		buf  sfnt.Buffer
	)
	upem := int(f.font.UnitsPerEm())
	for low := range page {
		glyph, err := f.font.GlyphIndex(&buf, high<<8|rune(low))
		if err != nil || glyph == 0 {
			page[low] = absent
			continue
		}
		a, err := f.font.GlyphAdvance(&buf, glyph, fixed.I(upem), font.HintingNone)
		if err != nil {
			page[low] = absent
			continue
		}
		// Whole thousandths, as a PDF's table of widths holds them.
		page[low] = uint16((int(a)*1000/64 + upem/2) / upem)
	}
	return &page
}

// From is the family a letter is drawn from; ok is false when none has it.
func From(r rune) (family Family, ok bool) {
	for family = range Family(Families) {
		if of(family, false).look(r)&absent == 0 {
			return family, true
		}
	}
	return Reserve, false
}

// Advance is how far a letter moves on, in thousandths of the size. A letter
// that no font has moves on by the words that stand for it.
func Advance(r rune, bold bool) int {
	if mark(r) {
		return 0
	}
	if a := of(Main, bold).look(r); a&absent == 0 {
		return int(a)
	}
	if formatting(r) {
		return 0
	}
	for family := Reserve; family < Families; family++ {
		if a := of(family, bold).look(r); a&absent == 0 {
			return int(a)
		}
	}
	sum := 0
	for _, c := range coded([]rune{r}) {
		sum += Advance(c, bold)
	}
	return sum
}

// Width is how wide a clean line runs, in the unit of size.
func Width(line string, size float64, bold bool) float64 {
	f := of(Main, bold)
	f.look('A')
	latin := f.pages[0].Load()
	sum := 0
	for _, r := range line {
		if r < 0x100 {
			if a := latin[r]; a&absent == 0 {
				sum += int(a)
				continue
			}
		}
		if joins(r) {
			// A letter's width depends on its neighbours.
			return shapedWidth(line, size, bold)
		}
		sum += Advance(r, bold)
	}
	return float64(sum) * size / 1000
}

func shapedWidth(line string, size float64, bold bool) float64 {
	sum := 0
	for _, r := range joined([]rune(line)) {
		sum += Advance(r, bold)
	}
	return float64(sum) * size / 1000
}
