package floor

import (
	"cmp"
	"strings"

	"platebook/rules/inspection"
)

// NaturalOrder compares two labels as a person lists them: groups of digits by
// their number, the rest letter by letter, without case, spaces and leading
// zeros. "3-9" comes before "3-10", "14" before "14a".
func NaturalOrder(a, b string) int {
	return naturally(inspection.Fold(a), inspection.Fold(b))
}

// naturally compares folded labels.
func naturally(a, b string) int {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		switch {
		case da > 0 && db > 0:
			if c := cmp.Compare(da, db); c != 0 {
				return c
			}
			if c := strings.Compare(a[:da], b[:db]); c != 0 {
				return c
			}
			a, b = a[da:], b[db:]
		default:
			if a[0] != b[0] {
				return cmp.Compare(a[0], b[0])
			}
			a, b = a[1:], b[1:]
		}
	}
	return cmp.Compare(len(a), len(b))
}

// digits is the length of the digits a label begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
