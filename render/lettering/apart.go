package lettering

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Left and right are signs that show nothing and read as a letter of their
// direction: they keep what stands on both sides of them apart.
// Source: Unicode Standard Annex 9, 2.6, implicit directional marks.
const (
	left  = '\u200E'
	right = '\u200F'
)

// mark says whether a sign only tells a direction.
func mark(r rune) bool { return r == left || r == right }

// Names are what a person wrote in a script that reads from right to left:
// labels, names, remarks. Within a sentence each is read by itself, so that it
// draws no number behind it to its other side.
type Names struct {
	known   map[string]bool
	lengths []int // in bytes, longest first
}

// NamesOf are those of the texts that hold letters from right to left.
func NamesOf(texts []string) Names {
	n := Names{known: map[string]bool{}}
	for _, t := range texts {
		t, _ = Clean(strings.TrimSpace(t))
		if strings.ContainsFunc(t, RightToLeft) && !n.known[t] {
			n.known[t] = true
			n.lengths = append(n.lengths, len(t))
		}
	}
	slices.Sort(n.lengths)
	n.lengths = slices.Compact(n.lengths)
	slices.Reverse(n.lengths)
	return n
}

// Apart is a clean text with its names parted from what stands around them. A
// text that is nothing but a name stays as it is.
func (n Names) Apart(text string) string {
	if len(n.known) == 0 || n.known[text] || !strings.ContainsFunc(text, RightToLeft) {
		return text
	}
	var b strings.Builder
	done, before := 0, ' '
	for i, r := range text {
		if i < done || word(before) && word(r) {
			before = r
			continue
		}
		before = r
		for _, l := range n.lengths {
			if i+l > len(text) || !n.known[text[i:i+l]] {
				continue
			}
			last, _ := utf8.DecodeLastRuneInString(text[:i+l])
			if next, _ := utf8.DecodeRuneInString(text[i+l:]); i+l < len(text) && word(last) && word(next) {
				continue // the beginning of another word
			}
			b.WriteString(text[done:i])
			b.WriteRune(left)
			b.WriteString(text[i : i+l])
			b.WriteRune(left)
			done = i + l
			break
		}
	}
	b.WriteString(text[done:])
	return b.String()
}

func word(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r) }

// Lines gives the lines that a text was broken into its direction: each alone
// would take that of its own first letter.
func Lines(text string, lines []string) []string {
	if len(lines) < 2 || !strings.ContainsFunc(text, turning) {
		return lines
	}
	way, sign := base([]rune(text)), left
	if way == 1 {
		sign = right
	}
	for i, l := range lines {
		if base([]rune(l)) != way {
			lines[i] = string(sign) + l
		}
	}
	return lines
}
