package text

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"platebook/rules/finding"
)

// Colour wraps a word for a terminal; the zero Colour leaves it plain. Colour
// is never the only carrier of meaning.
type Colour bool

func (c Colour) severity(s finding.Severity) string {
	if !c {
		return s.String()
	}
	code := map[finding.Severity]string{finding.Fatal: "1;31", finding.Error: "1;31", finding.Warning: "33", finding.Note: "36"}[s]
	return "\x1b[" + code + "m" + s.String() + "\x1b[0m"
}

// Findings prints a list in the order errors, warnings, notes when it must be
// cut to limit (0: all), always saying how many there are.
func Findings(w io.Writer, file string, list []finding.Finding, limit int, colour Colour) error {
	b := bufio.NewWriter(w)
	shown := list
	if limit > 0 && len(list) > limit {
		shown = worst(list, limit)
	}
	for _, f := range shown {
		one(b, file, f, colour)
	}
	if len(shown) < len(list) {
		fmt.Fprintf(b, "%s: first %d of %d findings\n", file, len(shown), len(list))
	}
	return b.Flush()
}

func worst(list []finding.Finding, limit int) []finding.Finding {
	out := make([]finding.Finding, 0, limit)
	for s := finding.Fatal; ; s-- {
		for _, f := range list {
			if f.Severity == s && len(out) < limit {
				out = append(out, f)
			}
		}
		if s == finding.Note {
			return out
		}
	}
}

func one(b *bufio.Writer, file string, f finding.Finding, colour Colour) {
	b.WriteString(Line(file) + ": ")
	if p := f.Place(); p != "" {
		b.WriteString(Line(p) + ": ")
	}
	fmt.Fprintf(b, "%s %s: %s", colour.severity(f.Severity), f.Rule, Line(f.Message))
	if n := f.Cells(); n > 1 && !strings.HasPrefix(f.Message, fmt.Sprintf("%d ", n)) { // else the message tells how many
		fmt.Fprintf(b, " (%d cells)", n)
	}
	b.WriteByte('\n')
	if f.Answer != nil {
		fmt.Fprintf(b, "    answered: %s (%s, %s)\n", Line(f.Answer.Text), Line(f.Answer.By), f.Answer.Date)
	} else if f.Do != "" {
		fmt.Fprintf(b, "    do: %s\n", Line(f.Do))
	}
	if places := related(f); len(places) > 0 {
		fmt.Fprintf(b, "    see: %s\n", strings.Join(places, ", "))
	}
}

// related is the related places in words, cells one below the other as a
// range.
func related(f finding.Finding) []string {
	var out []string
	for i := 0; i < len(f.Related); {
		first := f.Related[i]
		last := first.Ref
		for i++; i < len(f.Related); i++ {
			next := f.Related[i]
			below := last
			below.Row++
			if !last.IsCell() || next.Ref != below || next.Text != first.Text {
				break
			}
			last = next.Ref
		}
		p := finding.Finding{Ref: first.Ref, LastRow: last.Row}.Place()
		if first.Text != "" {
			p += " (" + Line(first.Text) + ")"
		}
		out = append(out, p)
	}
	if f.More > 0 {
		out = append(out, fmt.Sprintf("and %d more", f.More))
	}
	return out
}

// longest is how many letters of one text are printed: of a longer one the
// beginning and how many it has. JSON and the sheet Findings hold the whole.
const longest = 400

// Line keeps a person's text on one line, to a length that can be read, and
// away from the terminal's control codes.
func Line(s string) string {
	if len(s) > longest {
		if n := utf8.RuneCountInString(s); n > longest {
			s = fmt.Sprintf("%s… (%d letters)", string([]rune(s[:min(len(s), 4*longest)])[:longest]), n)
		}
	}
	return Plain(s)
}

// Plain keeps a text of any length on one line and away from the terminal's
// control codes.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case r < ' ' || r == 0x7f || (r >= 0x80 && r < 0xa0):
			return '�'
		}
		return r
	}, s)
}
