package pdf

import (
	"math/bits"
	"slices"
	"sync"
	"sync/atomic"

	"platebook/render/lettering"
)

const (
	mm = 72 / 25.4 // points in a millimetre
	pt = 25.4 / 72 // millimetres in a point

	// capHeight is the height of a capital as a share of the size.
	// Source: OS/2 table of Liberation Sans, 1409 of 2048 units.
	capHeight = 0.688
)

// face is one weight of the report's letters.
type face struct {
	bold bool
	used [lettering.Families]letterSet // by family, of text written without maroto
}

func newFace(bold bool) *face { return &face{bold: bold} }

// letterSet is a set of the letters that the fonts' encoding knows, those
// below 0x10000. Several pages may add to it at once.
type letterSet [1 << 16 / 64]atomic.Uint64

func (s *letterSet) add(r rune) {
	if r < 0 || r >= 1<<16 {
		return
	}
	word, bit := &s[r>>6], uint64(1)<<(r&63)
	if word.Load()&bit == 0 {
		word.Or(bit)
	}
}

// all is the letters in order.
func (s *letterSet) all() []rune {
	var out []rune
	for i := range s {
		for w := s[i].Load(); w != 0; w &= w - 1 {
			out = append(out, rune(i<<6+bits.TrailingZeros64(w)))
		}
	}
	return out
}

// width of a clean text in millimetres at a size in points.
func (f *face) width(s string, size float64) float64 {
	return lettering.Width(s, size, f.bold) * pt
}

// faces are the two weights of a document and what they could not draw.
type faces struct {
	regular, bold *face
	names         lettering.Names // persons' words from right to left

	lock    sync.Mutex // drawings are lettered beside the text
	missing map[rune]bool
}

func newFaces() *faces {
	return &faces{regular: newFace(false), bold: newFace(true), missing: map[rune]bool{}}
}

func (f *faces) of(bold bool) *face {
	if bold {
		return f.bold
	}
	return f.regular
}

// lost is the letters that were printed as their numbers, in order.
func (f *faces) lost() []rune {
	out := make([]rune, 0, len(f.missing))
	for r := range f.missing {
		out = append(out, r)
	}
	slices.Sort(out)
	return out
}

// clean makes text fit to be set, its names apart from the sentence around
// them, and notes the letters that no font has.
func (f *faces) clean(s string) string {
	text, lost := lettering.Clean(s)
	if len(lost) > 0 {
		f.lock.Lock()
		defer f.lock.Unlock()
		for _, r := range lost {
			f.missing[r] = true
		}
	}
	return f.names.Apart(text)
}
