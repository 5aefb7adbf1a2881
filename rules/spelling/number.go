package spelling

import "strconv"

// Count is a number with its noun, in the singular for one: “1 place”, “31
// places”.
func Count(n int, one, many string) string { return strconv.Itoa(n) + " " + Choose(n, one, many) }

// Choose is the word that goes with a number: “falls” with one, “fall” with
// others.
func Choose(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
