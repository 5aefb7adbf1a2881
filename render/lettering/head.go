package lettering

import "unicode/utf8"

// Head is a beginning of a text that is wider than twice a limit for sure, or
// the whole text: what does not fit into a line need not be measured to its
// end, so that one word as long as a cell may hold takes no longer than many
// words. size in mm, limit in the unit of Width.
func Head(text string, size float64, bold bool, limit float64) string {
	for n := 64; n < len(text); n *= 2 {
		for n < len(text) && !utf8.RuneStart(text[n]) {
			n++
		}
		if Width(text[:n], size, bold) > 2*limit {
			return text[:n]
		}
	}
	return text
}
