package check

import "platebook/rules/spelling"

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
		if k == "" || (spelling.Edits(wrong, k, limit) > limit && !prefixed(wrong, k) && !prefixed(k, wrong)) || (allowed != nil && !allowed(i)) {
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
