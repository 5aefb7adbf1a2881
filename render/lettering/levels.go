package lettering

import (
	"slices"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// levels is the level of each letter of a line: even ones read from left to
// right, odd ones from right to left, the line as its first strong letter does.
// Source: Unicode Standard Annex 9, rules P2 to N2, I1, I2 and L1, for a line
// without embeddings and isolates, whose signs Clean takes out.
// Check: the published BidiCharacterTest, TestLevels.
func levels(in []rune) []int {
	if !slices.ContainsFunc(in, turning) {
		return make([]int, len(in))
	}
	return levelsIn(in, base(in))
}

// base is 1 for a line whose first strong letter reads from right to left,
// else 0 (P2, P3).
func base(in []rune) int {
	for _, r := range in {
		switch p, _ := bidi.LookupRune(r); p.Class() {
		case bidi.L:
			return 0
		case bidi.R, bidi.AL:
			return 1
		}
	}
	return 0
}

// levelsIn is the levels in a line of a known direction.
func levelsIn(in []rune, base int) []int {
	out := make([]int, len(in))
	l := newLine(in, base)
	l.weak()
	l.brackets()
	l.neutral()
	last := l.base
	next := 0
	for i := range in {
		if next < len(l.at) && l.at[next] == i {
			last = l.level(l.class[next])
			next++
		}
		out[i] = last // a sign that shows nothing goes with the letter before it
	}
	// Space at the end reads as the line does.
	for i := len(in) - 1; i >= 0 && (unicode.IsSpace(in[i]) || formatting(in[i])); i-- {
		out[i] = l.base
	}
	return out
}

// turning says whether a letter can change the order of a line.
func turning(r rune) bool {
	if r < 0x590 {
		return false
	}
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL || p.Class() == bidi.AN
}

// line is the letters of a line with their classes as the rules change them.
type line struct {
	letters  []rune
	at       []int // where each stands in the line
	original []bidi.Class
	class    []bidi.Class
	base     int
}

func newLine(in []rune, base int) *line {
	l := &line{base: base}
	for i, r := range in {
		p, _ := bidi.LookupRune(r)
		c := p.Class()
		if c == bidi.BN {
			continue
		}
		l.letters, l.at, l.original = append(l.letters, r), append(l.at, i), append(l.original, c)
	}
	l.class = slices.Clone(l.original)
	return l
}

// embedding is the direction of the line, and of the text before and after it.
func (l *line) embedding() bidi.Class {
	if l.base == 1 {
		return bidi.R
	}
	return bidi.L
}

// level is the level that a class leads to (I1, I2).
func (l *line) level(c bidi.Class) int {
	switch {
	case c == bidi.R:
		return 1
	case l.base == 1:
		return 2
	case c == bidi.L:
		return 0
	}
	return 2 // numbers
}

// weak settles marks and numbers (W1 to W7).
func (l *line) weak() {
	c := l.class
	before := func(i int) bidi.Class {
		if i == 0 {
			return l.embedding()
		}
		return c[i-1]
	}
	strong := l.embedding()
	for i := range c {
		if c[i] == bidi.NSM {
			c[i] = before(i)
		}
		switch c[i] {
		case bidi.L, bidi.R, bidi.AL:
			strong = c[i]
		case bidi.EN:
			if strong == bidi.AL {
				c[i] = bidi.AN
			}
		}
	}
	for i := range c {
		if c[i] == bidi.AL {
			c[i] = bidi.R
		}
	}
	for i := 1; i+1 < len(c); i++ {
		a, b := c[i-1], c[i+1]
		if a == b && (c[i] == bidi.CS && (a == bidi.EN || a == bidi.AN) || c[i] == bidi.ES && a == bidi.EN) {
			c[i] = a
		}
	}
	for i := 0; i < len(c); i++ {
		j := i
		for j < len(c) && c[j] == bidi.ET {
			j++
		}
		if j > i && (i > 0 && c[i-1] == bidi.EN || j < len(c) && c[j] == bidi.EN) {
			for k := i; k < j; k++ {
				c[k] = bidi.EN
			}
		}
		i = max(i, j-1)
	}
	strong = l.embedding()
	for i := range c {
		switch c[i] {
		case bidi.ES, bidi.ET, bidi.CS:
			c[i] = bidi.ON
		case bidi.L, bidi.R:
			strong = c[i]
		case bidi.EN:
			if strong == bidi.L {
				c[i] = bidi.L
			}
		}
	}
}

// direction is what a class counts as beside signs: numbers as from right to
// left, 0 and false when it has none.
func direction(c bidi.Class) (d bidi.Class, strong bool) {
	switch c {
	case bidi.L:
		return bidi.L, true
	case bidi.R, bidi.EN, bidi.AN:
		return bidi.R, true
	}
	return 0, false
}

// brackets gives both of a pair one direction (N0): that of the line when it
// stands between them, else that of what stands there when it stands before
// them too.
func (l *line) brackets() {
	e := l.embedding()
	for _, p := range l.pairs() {
		inside, other := false, false
		for _, c := range l.class[p[0]+1 : p[1]] {
			if d, strong := direction(c); strong {
				inside = inside || d == e
				other = other || d != e
			}
		}
		to := e
		if !inside && !other {
			continue
		}
		if !inside {
			before := e
			for i := p[0] - 1; i >= 0; i-- {
				if d, strong := direction(l.class[i]); strong {
					before = d
					break
				}
			}
			to = before
		}
		for _, i := range p {
			l.class[i] = to
			for k := i + 1; k < len(l.class) && l.original[k] == bidi.NSM; k++ {
				l.class[k] = to
			}
		}
	}
}

// pairs is the brackets that belong together, in the order they open (BD16).
func (l *line) pairs() [][2]int {
	const most = 63
	type opened struct {
		closing rune
		at      int
	}
	var stack []opened
	var out [][2]int
	for i, r := range l.letters {
		p, _ := bidi.LookupRune(r)
		switch {
		case l.class[i] != bidi.ON || !p.IsBracket():
		case p.IsOpeningBracket():
			if len(stack) == most {
				return nil
			}
			stack = append(stack, opened{[]rune(bidi.ReverseString(string(r)))[0], i})
		default:
			for k := len(stack) - 1; k >= 0; k-- {
				if stack[k].closing == r {
					out = append(out, [2]int{stack[k].at, i})
					stack = stack[:k]
					break
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b [2]int) int { return a[0] - b[0] })
	return out
}

// neutral gives signs the direction of both sides, else of the line (N1, N2).
func (l *line) neutral() {
	e := l.embedding()
	before := e
	for i := 0; i < len(l.class); {
		if d, strong := direction(l.class[i]); strong {
			before = d
			i++
			continue
		}
		j, after := i, e
		for ; j < len(l.class); j++ {
			if d, strong := direction(l.class[j]); strong {
				after = d
				break
			}
		}
		to := e
		if before == after {
			to = before
		}
		for ; i < j; i++ {
			l.class[i] = to
		}
	}
}

// stretch is letters of one level, next to each other.
type stretch struct{ from, to, level int }

// visual is a line's stretches in the order they stand in on paper (L2).
func visual(levels []int) []stretch {
	var out []stretch
	highest := 0
	for i, v := range levels {
		highest = max(highest, v)
		if n := len(out); n > 0 && out[n-1].level == v {
			out[n-1].to = i + 1
			continue
		}
		out = append(out, stretch{i, i + 1, v})
	}
	for v := highest; v > 0; v-- {
		for i := 0; i < len(out); i++ {
			j := i
			for j < len(out) && out[j].level >= v {
				j++
			}
			slices.Reverse(out[i:j])
			i = max(i, j-1)
		}
	}
	return out
}
