package check

// edits is the number of insertions, deletions, changes and exchanges of
// neighbours that turn one text into the other, or limit+1 when it is more.
func edits(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
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

// closest is the one known name near a wrong one, "" when there is none or
// more than one: within one edit, over five letters two, or but for a prefix
// such as "P-".
func closest(wrong string, known []string, allowed func(i int) bool) string {
	limit := 1
	if len([]rune(wrong)) > 5 {
		limit = 2
	}
	found := ""
	for i, k := range known {
		if k == "" || (edits(wrong, k, limit) > limit && !prefixed(wrong, k) && !prefixed(k, wrong)) || (allowed != nil && !allowed(i)) {
			continue
		}
		if found != "" && found != k {
			return ""
		}
		found = k
	}
	return found
}

// prefixed says whether long is short behind letters and a dash: P-3-4, 3-4.
func prefixed(long, short string) bool {
	n := len(long) - len(short)
	if n < 2 || long[n:] != short || long[n-1] != '-' {
		return false
	}
	for _, r := range long[:n-1] {
		if r >= '0' && r <= '9' || r == '-' {
			return false
		}
	}
	return true
}
