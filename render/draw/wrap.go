package draw

import (
	"strings"
	"unicode/utf8"

	"platebook/render/lettering"
)

// wrap breaks text into lines no wider than width, at spaces, and inside a
// word only when the word alone is too wide.
func wrap(text string, size float64, heavy bool, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if Width(joined, size, heavy) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for Width(lettering.Head(word, size, heavy, width), size, heavy) > width {
			n := breakAt(word, size, heavy, width)
			lines = append(lines, word[:n])
			word = word[n:]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// breakAt is how many bytes of word fit, at least one letter.
func breakAt(word string, size float64, heavy bool, width float64) int {
	_, end := utf8.DecodeRuneInString(word)
	for end < len(word) {
		_, n := utf8.DecodeRuneInString(word[end:])
		if Width(word[:end+n], size, heavy) > width {
			break
		}
		end += n
	}
	return end
}

// some lists names with commas, at most limit of them, and counts the rest.
func some(names []string, limit int) string {
	if len(names) <= limit {
		return strings.Join(names, ", ")
	}
	return strings.Join(names[:limit], ", ") + " and " + count(len(names)-limit) + " more"
}
