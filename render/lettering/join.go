package lettering

import (
	"slices"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// forms are the shapes of an Arabic letter: alone, at the end of a word, at
// its beginning, within it; 0 where it has none.
type forms [4]rune

const (
	alone = iota
	final
	initial
	medial
)

type tables struct {
	letters map[rune]forms
	lamAlef map[rune]forms // by the alef
}

// arabic is the letters with their shapes, and the two-letter shapes of lam
// with alef.
// Source: Unicode blocks Arabic Presentation Forms-A and -B, whose shapes of a
// letter stand in a row in the order alone, final, initial, medial; the letter
// itself is their compatibility decomposition.
var arabic = sync.OnceValue(func() *tables {
	t := &tables{map[rune]forms{}, map[rune]forms{}}
	count := map[string]int{}
	add := func(from, to rune) {
		for r := from; r <= to; r++ {
			text := norm.NFKC.String(string(r))
			base := []rune(text)
			n := count[text]
			if text == string(r) || n > medial {
				continue
			}
			count[text]++
			switch {
			case len(base) == 1:
				f := t.letters[base[0]]
				f[n] = r
				t.letters[base[0]] = f
			case len(base) == 2 && base[0] == 'ل':
				f := t.lamAlef[base[1]]
				f[n] = r
				t.lamAlef[base[1]] = f
			}
		}
	}
	add(0xFE80, 0xFEFC)
	// Alef maksura within a word, then the letters of Persian, Urdu and others.
	add(0xFBE8, 0xFBE9)
	add(0xFB50, 0xFBE7)
	add(0xFBFC, 0xFBFF)
	return t
})

// joins says whether a letter's shape depends on its neighbours.
func joins(r rune) bool { return r >= 0x0620 && r <= 0x06D5 && unicode.IsLetter(r) || r == '\u0640' }

// joined is letters in the shapes that their neighbours ask for, in the order
// given. Signs that say how to join are gone.
func joined(in []rune) []rune {
	out, _ := shaped(in)
	return out
}

// shaped tells besides how many of the letters each shape stands for.
func shaped(in []rune) (out []rune, stand []int) {
	t := arabic()
	out = make([]rune, 0, len(in))
	for i := 0; i < len(in); i++ {
		r := in[i]
		if formatting(r) {
			if n := len(stand); n > 0 {
				stand[n-1]++
			}
			continue
		}
		f, ok := t.letters[r]
		if !ok {
			out, stand = append(out, r), append(stand, 1)
			continue
		}
		before, after := t.reaches(in, i, -1), t.reaches(in, i, 1)
		taken := 1
		if r == 'ل' && i+1 < len(in) {
			if pair, ok := t.lamAlef[in[i+1]]; ok {
				f, after, taken = pair, false, 2
			}
		}
		k := alone
		switch {
		case before && after && f[medial] != 0:
			k = medial
		case before && f[final] != 0:
			k = final
		case after && f[initial] != 0:
			k = initial
		}
		shape := f[k]
		if _, ok := From(shape); shape == 0 || !ok {
			shape = r
			if taken == 2 {
				taken = 1
			}
		}
		out, stand = append(out, shape), append(stand, taken)
		i += taken - 1
	}
	return out, stand
}

// Meaning is the letters that a drawn shape stands for: itself but for the
// shapes of Arabic letters. The two letters of lam with alef come in the order
// of the page: a reader that turns a line back turns them too (held by a test
// with poppler).
func Meaning(r rune) string {
	if r < 0xFB50 || r > 0xFDFF && r < 0xFE70 || r > 0xFEFC {
		return string(r)
	}
	text := []rune(norm.NFKC.String(string(r)))
	slices.Reverse(text)
	return string(text)
}

// reaches says whether the next letter in a direction, marks aside, joins
// towards the letter at i.
func (t *tables) reaches(in []rune, i, step int) bool {
	for j := i + step; j >= 0 && j < len(in); j += step {
		r := in[j]
		switch {
		case r == '\u200D' || r == '\u0640':
			return true
		case unicode.Is(unicode.Mn, r):
			continue
		}
		f := t.letters[r]
		if step < 0 {
			return f[initial] != 0
		}
		return f[final] != 0
	}
	return false
}
