package pdf

import (
	"slices"
	"strings"
	"testing"
)

func TestWrap(t *testing.T) {
	all := newFaces()
	f := all.regular
	for _, c := range []struct {
		text, widest string // the width is that of widest
		want         []string
	}{
		{"one two three", "one two", []string{"one two", "three"}},
		{"one\ntwo", "one two three", []string{"one", "two"}},
		{"", "one", []string{""}},
		{"least 3.39 mm here", "least 3.39", []string{"least", "3.39 mm", "here"}},
		{"estimate − 1.9 points", "− 1.9 points", []string{"estimate", "− 1.9 points"}},
		{"photos/IMG_0412.jpg", "photos/IMG", []string{"photos/", "IMG_0412.", "jpg"}},
		{"abcdefghijkl", "abcdef", []string{"abcdef", "ghijkl"}},
	} {
		width := f.width(c.widest, 10) + 0.01
		got := f.wrap(c.text, 10, width)
		if !slices.Equal(got, c.want) {
			t.Errorf("wrap(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// Whatever the width, the letters of a text are all there and in order.
func FuzzWrap(f *testing.F) {
	all := newFaces()
	f.Add("least 3.39 mm at 3-4/17", 12.0)
	f.Add("東京 שלום\n\n  x", 3.0)
	f.Fuzz(func(t *testing.T, text string, width float64) {
		if width < 0.1 || width > 500 {
			return
		}
		text = all.clean(strings.ToValidUTF8(text, "?"))
		lines := all.regular.wrap(text, 9, width)
		if got, want := squeeze(strings.Join(lines, "")), squeeze(text); got != want {
			t.Errorf("%q became %q", want, got)
		}
	})
}

// Widths hold against the font's own table of advances, in 1/2048 em.
// Source: hmtx of Liberation Sans Regular 2.x, as its metric twin prints them:
// space 569, 0 1139, A 1366, i 455, m 1706.
func TestWidths(t *testing.T) {
	all := newFaces()
	for r, units := range map[rune]float64{' ': 569, '0': 1139, 'A': 1366, 'i': 455, 'm': 1706} {
		got := all.regular.width(string(r), 72)
		want := units / 2048 * 25.4
		if d := got - want; d > 0.02 || d < -0.02 {
			t.Errorf("%q is %.3f mm wide at 72 pt, want %.3f", r, got, want)
		}
	}
}
