package workbook

import (
	"math"
	"strconv"
	"strings"

	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// alike says whether a stored cell is the recomputed one, to the digits that
// it shows, and a formula still the same formula.
func (v *reviewer) alike(s cell.Raw, w xlsx.Written) (stored, now string, same bool) {
	stored, now = shownText(s), writtenText(w)
	switch {
	case s.Type == cell.Number && w.Type == cell.Number:
		was := s.Number
		if w.Style.Dated() {
			if math.Floor(was) == math.Floor(w.Number) {
				break
			}
			stored = typedText(s, v.book.File.Date1904)
			if s.Format != cell.Date {
				stored = digits15(was)
			}
			return stored, unit.DateOf(w.Number + v.since1904()).String(), false
		}
		places, fixed := w.Style.Decimals()
		if !fixed {
			if close9(was, w.Number) {
				break
			}
			return digits15(was), digits15(w.Number), false
		}
		a, b := strconv.FormatFloat(was, 'f', places, 64), strconv.FormatFloat(w.Number, 'f', places, 64)
		if a == b || close9(was, w.Number) {
			break
		}
		return a, b, false
	case s.Type != w.Type && !(s.IsBlank() && w.Type == cell.Blank):
		return stored, now, false
	case stored != now:
		return stored, now, false
	}
	switch {
	case w.Formula != "" && s.Formula == "":
		return stored + " without its formula", now + " by =" + w.Formula, false
	case w.Formula == "" && s.Formula != "":
		return stored + " by =" + s.Formula, now + " without a formula", false
	case !sameFormula(s.Formula, w.Formula):
		return stored + " by =" + s.Formula, now + " by =" + w.Formula, false
	}
	return stored, now, true
}

func (v *reviewer) since1904() float64 {
	if v.book.File.Date1904 {
		return 1462
	}
	return 0
}

// sameFormula compares formulas as programs save them: blanks, signs of fixed
// references, quotes around names and the spelling of numbers do not count.
func sameFormula(a, b string) bool { return a == b || plainFormula(a) == plainFormula(b) }

func plainFormula(f string) string {
	var out strings.Builder
	for i := 0; i < len(f); {
		c := f[i]
		switch {
		case c == '"':
			end := strings.IndexByte(f[i+1:], '"')
			if end < 0 {
				end = len(f) - i - 2
			}
			out.WriteString(f[i : i+end+2])
			i += end + 2
		case c == ' ' || c == '$' || c == '\'' || c == '\n' || c == '\r' || c == '\t':
			i++
		case c >= '0' && c <= '9' || c == '.':
			j := i
			for j < len(f) && (f[j] >= '0' && f[j] <= '9' || f[j] == '.' || (f[j] == 'E' || f[j] == 'e') && j > i ||
				(f[j] == '-' || f[j] == '+') && j > i && (f[j-1] == 'E' || f[j-1] == 'e')) {
				j++
			}
			if n, err := strconv.ParseFloat(f[i:j], 64); err == nil {
				out.WriteString(strconv.FormatFloat(n, 'g', 14, 64))
			} else {
				out.WriteString(f[i:j])
			}
			i = j
		default:
			out.WriteByte(c)
			i++
		}
	}
	return strings.ToUpper(out.String())
}

func shownText(c cell.Raw) string {
	if c.Type == cell.Number {
		return digits15(c.Number)
	}
	return c.Text
}

func writtenText(w xlsx.Written) string {
	if w.Type == cell.Number {
		return digits15(w.Number)
	}
	return w.Text
}

// shownWritten is a cell with the digits that it shows.
func shownWritten(w xlsx.Written) string {
	if w.Type == cell.Number {
		if w.Style.Dated() {
			return unit.DateOf(w.Number).String()
		}
		if places, ok := w.Style.Decimals(); ok {
			return strconv.FormatFloat(w.Number, 'f', places, 64)
		}
	}
	return writtenText(w)
}

// printed is a stored number with the digits that its cell shows.
func (v *reviewer) printed(s cell.Raw, w xlsx.Written) string {
	if s.Type != cell.Number {
		return shownText(s)
	}
	if w.Style.Dated() {
		return unit.DateOf(s.Number + v.since1904()).String()
	}
	if places, ok := w.Style.Decimals(); ok {
		return strconv.FormatFloat(s.Number, 'f', places, 64)
	}
	return digits15(s.Number)
}
