package pdf

import (
	"slices"
	"strings"
	"testing"

	"platebook/render/lettering"
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

// A line begins as its paragraph reads, also where it starts in the middle of a
// name from right to left, and a name parts from the number after it.
func TestWrapKeepsDirection(t *testing.T) {
	all := newFaces()
	all.names = lettering.NamesOf([]string{"שמן אבג 7", "plate"})
	text := all.clean("tank שמן אבג 7 (10.00 m)")
	if want := "tank \u200Eשמן אבג 7\u200E (10.00 m)"; text != want {
		t.Fatalf("%+q, want %+q", text, want)
	}
	f := all.regular
	got := f.wrap(text, 10, f.width("tank שמן אבג", 10)+0.01)
	if want := []string{"tank \u200Eשמן אבג", "7\u200E (10.00 m)"}; !slices.Equal(got, want) {
		t.Errorf("%+q, want %+q", got, want)
	}
	got = f.wrap(text, 10, max(f.width("tank שמן", 10), f.width("(10.00 m)", 10))+0.01)
	if want := []string{"tank \u200Eשמן", "\u200Eאבג 7\u200E", "(10.00 m)"}; !slices.Equal(got, want) {
		t.Errorf("%+q, want %+q", got, want)
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
		unmarked := strings.NewReplacer("\u200E", "", "\u200F", "").Replace(strings.Join(lines, "")) // signs of direction, which show nothing
		if got, want := squeeze(unmarked), squeeze(text); got != want {
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
