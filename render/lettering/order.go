package lettering

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// Span is letters of one family as they stand on paper from left to right.
type Span struct {
	Family Family
	Glyphs string // as drawn
	Text   string // what they stand for where that differs, in reading order; else ""
	Right  bool   // they read from right to left: readers of PDF turn them back themselves
}

// Simple says whether a clean line is drawn letter by letter as it reads, in
// the main font.
func Simple(line string) bool {
	if plain(line) && !strings.Contains(line, "U+") {
		return true
	}
	for _, r := range line {
		if r >= 0x590 && (r < 0x2000 || r > 0x2BFF) || mark(r) {
			return false
		}
	}
	return !strings.Contains(line, "U+") && !strings.ContainsFunc(line, func(r rune) bool { f, _ := From(r); return f != Main })
}

// Spans puts a clean line into the order it stands in on paper, in the shapes
// and fonts of its letters.
func Spans(line string) []Span {
	if Simple(line) {
		return []Span{{Glyphs: line}}
	}
	in := []rune(line)
	var out []Span
	for _, r := range visual(levels(in)) {
		if letters := in[r.from:r.to]; r.level%2 == 0 {
			out = coming(out, string(letters))
		} else {
			out = append(out, turnedSpans(letters)...)
		}
	}
	return out
}

// coming adds letters that read from left to right: parts in either font, and
// numbers that stand for letters.
func coming(out []Span, text string) []Span {
	add := func(part string) {
		for _, r := range part {
			if formatting(r) || mark(r) {
				continue
			}
			f, _ := From(r)
			if n := len(out); n > 0 && out[n-1].Family == f && out[n-1].Text == "" {
				out[n-1].Glyphs += string(r)
			} else {
				out = append(out, Span{Family: f, Glyphs: string(r)})
			}
		}
	}
	at := 0
	for _, m := range codes.FindAllStringIndex(text, -1) {
		stands := decoded(text[m[0]:m[1]])
		if stands == "" {
			continue
		}
		add(text[at:m[0]])
		out = append(out, Span{Glyphs: text[m[0]:m[1]], Text: stands})
		at = m[1]
	}
	add(text[at:])
	return out
}

// RightToLeft says whether a letter belongs to a script that reads from right
// to left.
func RightToLeft(r rune) bool {
	if r < 0x590 {
		return false
	}
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

var mirrored = map[rune]rune{'(': ')', ')': '(', '[': ']', ']': '[', '{': '}', '}': '{', '<': '>', '>': '<', '«': '»', '»': '«', '≤': '≥', '≥': '≤'}

// turnedSpans is letters from right to left as they stand on paper, each mark
// behind its letter.
func turnedSpans(in []rune) []Span {
	shapes, stand := shaped(in)
	var text []string // the letters each shape stands for
	pos := 0
	for i := range shapes {
		text = append(text, string(in[pos:pos+stand[i]]))
		pos += stand[i]
	}
	var order []int
	for j := len(shapes); j > 0; {
		i := j - 1
		for i > 0 && unicode.Is(unicode.Mn, shapes[i]) {
			i--
		}
		for k := i; k < j; k++ {
			order = append(order, k)
		}
		j = i
	}
	var out []Span
	var stands []int // shapes of the last span
	read := func() {
		if n := len(out); n > 0 {
			slices.Sort(stands)
			for _, k := range stands {
				out[n-1].Text += text[k]
			}
		}
		stands = stands[:0]
	}
	for _, k := range order {
		r := shapes[k]
		if m, ok := mirrored[r]; ok {
			r = m
		}
		if f, _ := From(r); len(out) == 0 || out[len(out)-1].Family != f {
			read()
			out = append(out, Span{Family: f, Right: true})
		}
		out[len(out)-1].Glyphs += string(r)
		stands = append(stands, k)
	}
	read()
	return out
}
