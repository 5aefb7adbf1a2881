package pdf

import (
	"strings"
	"unicode/utf8"

	"platebook/render/lettering"
)

// units are the words that never stand apart from the number before them.
var units = map[string]bool{
	"mm": true, "m": true, "m²": true, "in": true, "ft": true, "ft²": true, "%": true, "mm/year": true, "in/year": true,
	"mil/year": true, "year": true, "years": true, "MPa": true, "psi": true, "kg": true, "lb": true, "°": true, "mm/m": true, "points": true,
}

// signs never stand apart from the number after them.
var signs = map[string]bool{"+": true, "−": true, "±": true, "≥": true, "≤": true, "<": true, ">": true, "=": true, "≈": true}

// wrap breaks text into lines that fit a width: at spaces, a number never
// parted from its unit; a word wider than the line after a sign within it;
// and between letters when there is no other way. Nothing is dropped but the
// space at a break.
func (f *face) wrap(text string, size, width float64) []string {
	if strings.IndexByte(text, '\n') < 0 && f.width(text, size) <= width {
		return []string{text}
	}
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		n := len(lines)
		lines = f.wrapPart(lines, part, size, width)
		lettering.Lines(part, lines[n:])
	}
	return lines
}

func (f *face) wrapPart(lines []string, text string, size, width float64) []string {
	text = strings.TrimRight(text, " ")
	if f.width(text, size) <= width {
		return append(lines, text)
	}
	line := ""
	for _, word := range words(text) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if f.width(next, size) <= width {
			line = next
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for f.width(lettering.Head(word, size, f.bold, width/pt), size) > width {
			n := f.fitting(word, size, width)
			lines = append(lines, strings.TrimRight(word[:n], " "))
			word = word[n:]
		}
		line = word
	}
	return append(lines, line)
}

// words is the pieces between which a line may break.
func words(text string) []string {
	raw := strings.Split(text, " ")
	out := raw[:0:0]
	for _, w := range raw {
		if n := len(out); n > 0 && units[strings.TrimRight(w, ".,;:)")] && endsInDigit(out[n-1]) {
			out[n-1] += " " + w
			continue
		}
		if n := len(out); n > 0 && signs[out[n-1]] && w != "" {
			out[n-1] += " " + w
			continue
		}
		if w == "" && len(out) > 0 {
			continue
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(s string) bool {
	return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9'
}

// fitting is how many bytes of a word too wide for a line go onto it: up to
// the last sign it may be broken after, else up to the last letter that fits.
func (f *face) fitting(word string, size, width float64) int {
	sum, last, sign := 0.0, 0, 0
	for i, r := range word {
		sum += f.width(string(r), size)
		n := i + utf8.RuneLen(r)
		if sum > width {
			break
		}
		last = n
		if strings.ContainsRune(`/\-_.,;:@=+)]&· `, r) {
			sign = n
		}
	}
	if sign > last/3 {
		return sign
	}
	if last == 0 {
		_, last = utf8.DecodeRuneInString(word)
	}
	return last
}

// longest is the width of the widest piece a text cannot be broken within
// without breaking a word.
func (f *face) longest(text string, size float64) float64 {
	if strings.IndexByte(text, ' ') < 0 && strings.IndexByte(text, '\n') < 0 {
		return f.width(text, size)
	}
	w := 0.0
	for _, part := range strings.Split(text, "\n") {
		for _, word := range words(part) {
			w = max(w, f.width(word, size))
		}
	}
	return w
}
