package xlsx

import (
	"strconv"
	"strings"

	"platebook/rules/finding"
)

// sharedFormula is a formula that other cells repeat with their references
// moved along.
type sharedFormula struct {
	text     string
	col, row int
}

// formula is the text of the cell's formula. A cell that shares another's
// gets that text with its references moved.
func (r *sheetReader) formula(col int, si, ref string) string {
	text := r.arena.keep(r.fText)
	if si == "" {
		if text == "" {
			return "…"
		}
		return text
	}
	if text != "" {
		if r.shared == nil {
			r.shared = map[string]sharedFormula{}
		}
		if _, known := r.shared[si]; !known || ref != "" {
			r.shared[si] = sharedFormula{text, col, r.row.Number}
		}
		return text
	}
	f, ok := r.shared[si]
	if !ok {
		return "…"
	}
	return shift(f.text, col-f.col, r.row.Number-f.row)
}

// shift moves the relative references of a formula.
func shift(f string, dcol, drow int) string {
	var b strings.Builder
	for i := 0; i < len(f); {
		c := f[i]
		switch {
		case c == '"' || c == '\'':
			j := i + 1
			for j < len(f) && f[j] != c {
				j++
			}
			j = min(j+1, len(f))
			b.WriteString(f[i:j])
			i = j
		case c == '$' || isLetter(c):
			j := i
			for j < len(f) && (f[j] == '$' || f[j] == '_' || f[j] == '.' || f[j] >= 0x80 || isLetter(f[j]) || f[j] >= '0' && f[j] <= '9') {
				j++
			}
			word := f[i:j]
			if j < len(f) && (f[j] == '(' || f[j] == '!') {
				b.WriteString(word)
			} else {
				b.WriteString(shiftRef(word, dcol, drow))
			}
			i = j
		case c >= '0' && c <= '9' || c == '.' || c == '_' || c >= 0x80:
			j := i
			for j < len(f) && (f[j] == '.' || f[j] == '_' || f[j] >= 0x80 || isLetter(f[j]) || f[j] >= '0' && f[j] <= '9') {
				j++
			}
			b.WriteString(f[i:j])
			i = j
		default:
			b.WriteByte(c)
			i++
		}
	}
	return b.String()
}

func isLetter(c byte) bool { c |= 0x20; return c >= 'a' && c <= 'z' }

func shiftRef(word string, dcol, drow int) string {
	rest := word
	fixedCol := strings.HasPrefix(rest, "$")
	rest = strings.TrimPrefix(rest, "$")
	n := 0
	for n < len(rest) && isLetter(rest[n]) {
		n++
	}
	letters, digits := rest[:n], rest[n:]
	fixedRow := strings.HasPrefix(digits, "$")
	digits = strings.TrimPrefix(digits, "$")
	col, row, ok := parseRef([]byte(letters + digits))
	if !ok || col > 16384 {
		return word
	}
	if !fixedCol {
		col += dcol
	}
	if !fixedRow {
		row += drow
	}
	if col < 1 || row < 1 {
		return "#REF!"
	}
	out := finding.ColumnName(col)
	if fixedCol {
		out = "$" + out
	}
	if fixedRow {
		return out + "$" + strconv.Itoa(row)
	}
	return out + strconv.Itoa(row)
}
