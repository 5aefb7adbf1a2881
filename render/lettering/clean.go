package lettering

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Clean makes text fit to be set: accents joined to their letters, control and
// formatting characters gone, odd spaces made plain, letters that no font has
// as their numbers, “[U+77F3 U+6CB9]”. Those are returned too. Line feeds
// stay.
func Clean(s string) (text string, lost []rune) {
	if plain(s) {
		return s, nil
	}
	s = norm.NFC.String(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n"))
	var (
		b    strings.Builder
		gone []rune // a run of letters that no font has
		last rune
	)
	b.Grow(len(s))
	for _, r := range s {
		out, keep := fitted(r, last)
		if !keep {
			continue
		}
		if out != '\n' {
			if _, ok := From(out); !ok && !formatting(out) {
				gone = append(gone, out)
				last = out
				continue
			}
		}
		if len(gone) > 0 {
			b.WriteString(string(coded(gone)))
			lost, gone = append(lost, gone...), nil
		}
		b.WriteRune(out)
		last = out
	}
	if len(gone) > 0 {
		b.WriteString(string(coded(gone)))
		lost = append(lost, gone...)
	}
	return b.String(), lost
}

// fitted is what stands for a character, and whether anything does.
func fitted(r, last rune) (rune, bool) {
	switch {
	case r == '\n':
		return r, true
	case r == '\t' || r == '\v' || r == '\f' || r == '\u2028' || r == '\u2029' || r == '\u0085':
		return ' ', true
	case formatting(r):
		// Between Arabic letters it says whether they join.
		return r, joins(last)
	case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r >= '\uFE00' && r <= '\uFE0F':
		return 0, false
	}
	if r == '\u2011' || unicode.IsSpace(r) {
		if _, ok := From(r); !ok {
			if r == '\u2011' {
				return '-', true
			}
			return ' ', true
		}
	}
	return r, true
}

// formatting are the signs that part or join letters and show nothing.
func formatting(r rune) bool { return r == '\u200C' || r == '\u200D' }

// plain says whether text is all in ASCII, which every font has.
func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if (s[i] < ' ' && s[i] != '\n') || s[i] >= 0x7F {
			return false
		}
	}
	return true
}

// coded is letters as their Unicode numbers.
func coded(letters []rune) []rune {
	out := []rune{'['}
	for i, r := range letters {
		if i > 0 {
			out = append(out, ' ')
		}
		out = append(out, []rune(fmt.Sprintf("U+%04X", r))...)
	}
	return append(out, ']')
}

var codes = regexp.MustCompile(`\[?U\+[0-9A-F]{4,6}( U\+[0-9A-F]{4,6})*\]?`)

// decoded is the letters that coded text stands for, "" when it stands for
// itself: a person may have typed such a number of a letter that can be
// printed.
func decoded(text string) string {
	var out []rune
	for _, w := range strings.Fields(strings.Trim(text, "[]")) {
		n, err := strconv.ParseUint(w[2:], 16, 32)
		if err != nil || n > unicode.MaxRune {
			return ""
		}
		if _, ok := From(rune(n)); ok {
			return ""
		}
		out = append(out, rune(n))
	}
	return string(out)
}
