package cell

// Said is a text, label or word read from a cell.
type Said struct {
	State State
	Value string // a word as the list spells it; a label or text as typed, blanks around it removed
}

// ParseWord reads one of a list of words. aliases maps accepted spellings, in
// lower case, to words of the list.
func ParseWord(r Raw, words []string, aliases map[string]string) (Said, *Problem) {
	return parseWord(r, words, aliases)
}

// ParseLabel reads a name such as a plate's. A number becomes the text a
// person sees (12, not 12.0); a date is a problem, C201, with both readings.
func ParseLabel(r Raw, since1904 bool) (Said, *Problem) { return parseLabel(r, since1904) }

// ParseLabels reads several labels divided by ; or , or line breaks.
func ParseLabels(r Raw, since1904 bool) ([]string, State, *Problem) {
	return parseLabels(r, since1904)
}

// ParseText reads free text. Whatever is in the cell is text; only an error
// value, a formula without a stored value and a word left open (TBC, xxx) are
// problems.
func ParseText(r Raw, since1904 bool) (Said, *Problem) { return parseText(r, since1904) }

// Edits counts the insertions, deletions, changes and exchanges of neighbours
// that turn one text into another, without regard to case; limit+1 when there
// are more than limit.
func Edits(a, b string, limit int) int { return edits(a, b, limit) }
