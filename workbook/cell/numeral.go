package cell

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// parsed is a numeral's value and how its decimals were written.
type parsed struct {
	value float64
	comma bool // a decimal comma
}

var notOne = &Problem{Rule: "C101"}

// numeral reads one number in digits. A comma or point is a decimal sign or
// divides thousands only where no other reading exists; else the problem is
// C103 with both.
func numeral(text string, commas bool) (parsed, *Problem) {
	sign, t := "", text
	if strings.HasPrefix(t, "-") || strings.HasPrefix(t, "+") {
		sign, t = strings.TrimPrefix(t[:1], "+"), trim(t[1:])
	}
	if t == "" || t[0] != '.' && t[0] != ',' && (t[0] < '0' || t[0] > '9') {
		return parsed{}, notOne
	}
	exponent := ""
	if i := strings.IndexAny(t, "eE"); i > 0 {
		t, exponent = t[:i], t[i:]
		if strings.Contains(t, ",") {
			return parsed{}, notOne
		}
	}
	if strings.Contains(t, "\u00a0") {
		head, tail := t, ""
		if i := strings.IndexAny(t, ".,"); i >= 0 {
			head, tail = t[:i], t[i:]
		}
		if !groups(head, "\u00a0") {
			return parsed{}, notOne
		}
		t = strings.ReplaceAll(head, "\u00a0", "") + tail
		if strings.Count(tail, ",")+strings.Count(tail, ".") > 1 {
			return parsed{}, notOne
		}
		return number64(sign+strings.Replace(t, ",", ".", 1), strings.Contains(tail, ","))
	}
	points, kommas := strings.Count(t, "."), strings.Count(t, ",")
	switch {
	case points == 0 && kommas == 0:
	case points == 0 && kommas == 1:
		if thousandsLike(t, ",") {
			return parsed{}, inDoubt(sign, t, ",")
		}
		return number64(sign+strings.Replace(t, ",", ".", 1), true)
	case points == 1 && kommas == 0:
		if commas && exponent == "" && thousandsLike(t, ".") {
			return parsed{}, inDoubt(sign, t, ".")
		}
	case kommas == 0:
		if !groups(t, ".") {
			return parsed{}, notOne
		}
		t = strings.ReplaceAll(t, ".", "")
	case points == 0:
		if !groups(t, ",") {
			return parsed{}, notOne
		}
		t = strings.ReplaceAll(t, ",", "")
	default:
		return bothSigns(sign, t)
	}
	return number64(sign+t+exponent, false)
}

// bothSigns reads 1,250.5 and 1.250,5: the last sign is the decimal one, the
// other must divide groups of three.
func bothSigns(sign, t string) (parsed, *Problem) {
	point, comma := strings.LastIndexByte(t, '.'), strings.LastIndexByte(t, ',')
	decimal, group := ".", ","
	if comma > point {
		decimal, group = ",", "."
	}
	whole, frac, _ := strings.Cut(t, decimal)
	if !groups(whole, group) || strings.ContainsAny(frac, ".,") || frac == "" {
		return parsed{}, notOne
	}
	return number64(sign+strings.ReplaceAll(whole, group, "")+"."+frac, decimal == ",")
}

// thousandsLike says whether one sign stands where it could divide thousands:
// 1,250 but neither 0,250 nor 1250,125.
func thousandsLike(t, sep string) bool {
	return groups(t, sep) && t[0] != '0'
}

// groups says whether a text is digits in groups of three behind the first.
func groups(t, sep string) bool {
	for i, g := range strings.Split(t, sep) {
		if !digits(g) || i == 0 && len(g) > 3 || i > 0 && len(g) != 3 {
			return false
		}
	}
	return true
}

func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

func inDoubt(sign, t, sep string) *Problem {
	whole, frac, _ := strings.Cut(t, sep)
	small := sign + whole + "." + strings.TrimRight(frac, "0")
	return &Problem{Rule: "C103", Readings: []string{strings.TrimSuffix(small, "."), sign + whole + frac}}
}

func number64(s string, comma bool) (parsed, *Problem) {
	if strings.Trim(s, "0123456789.+-eE") != "" {
		return parsed{}, notOne
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return parsed{}, notOne
	}
	return parsed{v, comma}, nil
}

// vulgar are the fractions that are one letter.
var vulgar = map[rune]float64{
	'¼': 1. / 4, '½': 1. / 2, '¾': 3. / 4, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8,
	'⅓': 1. / 3, '⅔': 2. / 3, '⅕': 1. / 5, '⅖': 2. / 5, '⅗': 3. / 5, '⅘': 4. / 5, '⅙': 1. / 6, '⅚': 5. / 6,
}

// vulgarAt is the length of a one-letter fraction at the end of a text.
func vulgarAt(t string) int {
	r, n := utf8.DecodeLastRuneInString(t)
	if _, ok := vulgar[r]; ok {
		return n
	}
	return 0
}

// fraction reads ¼, 1¼, 1/4, 1 1/4 and 1-1/4. A bare 5/8 may be two readings
// of a thickness in mm, so it counts only where bare is true: in inches, and
// with a denominator of a rule.
func fraction(t string, bare bool) (float64, bool) {
	sign := 1.0
	if rest, ok := strings.CutPrefix(t, "-"); ok {
		sign, t = -1, trim(rest)
	}
	whole, part := "", 0.0
	if n := vulgarAt(t); n > 0 {
		r, _ := utf8.DecodeLastRuneInString(t)
		part, whole = vulgar[r], trim(t[:len(t)-n])
		whole = trim(strings.TrimSuffix(whole, "-"))
	} else {
		above, below, ok := strings.Cut(t, "/")
		if !ok {
			return 0, false
		}
		above, below = trim(above), trim(below)
		if i := strings.LastIndexAny(above, " -\u00a0"); i >= 0 {
			whole, above = trim(strings.TrimRight(above[:i], " -\u00a0")), trim(strings.TrimLeft(above[i:], " -\u00a0"))
			if whole == "" {
				return 0, false
			}
		}
		if !digits(above) || !digits(below) || len(above) > 2 || whole == "" && !bare {
			return 0, false
		}
		switch below {
		case "2", "4", "8", "16", "32", "64":
		default:
			return 0, false
		}
		a, _ := strconv.Atoi(above)
		b, _ := strconv.Atoi(below)
		if a >= b || a == 0 {
			return 0, false
		}
		part = float64(a) / float64(b)
	}
	if whole == "" {
		return sign * part, true
	}
	if !digits(whole) || len(whole) > 9 {
		return 0, false
	}
	n, _ := strconv.Atoi(whole)
	return sign * (float64(n) + part), true
}
