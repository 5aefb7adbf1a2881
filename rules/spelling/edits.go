// Package spelling measures how far two spellings are apart, and puts words into
// the number of what they tell.
package spelling

import "strings"

// Edits is the number of insertions, deletions, changes and exchanges of
// neighbours that turn one text into the other, without regard to case, or
// limit+1 when it is more.
//
// Source: optimal string alignment distance, Damerau, CACM 7 (1964) 171.
func Edits(a, b string, limit int) int {
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	if len(x)-len(y) > limit || len(y)-len(x) > limit {
		return limit + 1
	}
	before, last, now := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for k := range last {
		last[k] = k
	}
	for i := 1; i <= len(x); i++ {
		now[0] = i
		least := i
		for k := 1; k <= len(y); k++ {
			cost := 1
			if x[i-1] == y[k-1] {
				cost = 0
			}
			now[k] = min(last[k]+1, now[k-1]+1, last[k-1]+cost)
			if i > 1 && k > 1 && x[i-1] == y[k-2] && x[i-2] == y[k-1] {
				now[k] = min(now[k], before[k-2]+1)
			}
			least = min(least, now[k])
		}
		if least > limit {
			return limit + 1
		}
		before, last, now = last, now, before
	}
	return min(last[len(y)], limit+1)
}
