package cell

import (
	"strings"

	"platebook/rules/spelling"
)

// Said is a text, label or word read from a cell.
type Said struct {
	State State
	Value string // a word as the list spells it; a label or text as typed, blanks around it removed
}

// ParseWord reads one of a list of words. aliases maps accepted spellings, in
// lower case, to words of the list. The suggestion of C303, if there is just
// one, stands in Readings.
func ParseWord(r Raw, words []string, aliases map[string]string) (Said, *Problem) {
	typed, p := asText(r)
	if p != nil && p.Rule != "Q601" || typed == "" {
		return Said{State: stateOf(typed, p)}, p
	}
	if r.Type == Bool {
		typed = map[bool]string{true: "yes", false: "no"}[r.Number != 0]
	}
	key := strings.ToLower(strings.Join(strings.Fields(tidy(typed)), " "))
	for _, w := range words {
		if strings.ToLower(w) == key {
			return Said{State: Given, Value: w}, nil
		}
	}
	if w, ok := aliases[key]; ok {
		return Said{State: Given, Value: w}, nil
	}
	switch {
	case p != nil:
		return Said{State: Wrong}, p
	case meansNone(typed):
		return Said{State: Left}, nil
	}
	problem := &Problem{Rule: "C303", Message: quoted(typed) + " is not in the list"}
	if w := nearest(key, words, aliases); w != "" {
		problem.Message, problem.Readings = quoted(typed)+"; "+w+"?", []string{w}
	}
	return Said{State: Wrong}, problem
}

func stateOf(typed string, p *Problem) State {
	if p != nil {
		return Wrong
	}
	if typed == "" {
		return Empty
	}
	return Given
}

// nearest is the only word within two edits, "" when there are several or
// none. A word must be longer than the edits it takes.
func nearest(key string, words []string, aliases map[string]string) string {
	found := map[string]bool{}
	try := func(written, word string) {
		limit := 2
		if n := min(len([]rune(written)), len([]rune(key))); n < 3 {
			return
		} else if n < 6 {
			limit = 1
		}
		if spelling.Edits(key, written, limit) <= limit {
			found[word] = true
		}
	}
	for _, w := range words {
		try(strings.ToLower(w), w)
	}
	for spelling, w := range aliases {
		try(spelling, w)
	}
	if len(found) != 1 {
		return ""
	}
	for w := range found {
		return w
	}
	return ""
}

// asText is what a cell says as text.
func asText(r Raw) (string, *Problem) {
	p := spoiled(r)
	switch {
	case p != nil && p.Rule != "Q601":
		return "", p
	case r.Type == Blank:
		return "", nil
	case r.Type != Number:
		return trim(r.Text), p
	case r.Format == Date:
		if d, ok := since1900(r.Number, r.Since1904); ok {
			return d.String(), nil
		}
	case r.Format == Percent:
		return number(r.Number*100) + " %", nil
	}
	return number(r.Number), nil
}

// ParseLabel reads a name such as a plate's. A number becomes the text a
// person sees (12, not 12.0); a date is a problem, C201, with both readings.
func ParseLabel(r Raw, since1904 bool) (Said, *Problem) {
	r.Since1904 = since1904
	if r.Type == Number && (r.Format == Date || r.Format == Time) && !r.NoStored {
		readings := dateReadings(r, "-")
		shown := dateWords(r)
		if r.Format == Time {
			shown, readings = clock(r.Number), []string{clock(r.Number)}
		}
		return Said{State: Wrong}, &Problem{Rule: "C201", Message: shown + " can be " + orList(readings), Readings: readings}
	}
	return ParseText(r, since1904)
}

// ParseLabels reads several labels divided by ; or , or line breaks.
func ParseLabels(r Raw, since1904 bool) ([]string, State, *Problem) {
	said, p := ParseLabel(r, since1904)
	if said.State != Given {
		return nil, said.State, p
	}
	var list []string
	for _, l := range strings.FieldsFunc(said.Value, func(c rune) bool { return c == ';' || c == ',' || c == '\n' || c == '\r' }) {
		if l = trim(l); l != "" {
			list = append(list, l)
		}
	}
	if len(list) == 0 {
		return nil, Empty, nil
	}
	return list, Given, nil
}

// ParseText reads free text. Whatever is in the cell is text; only an error
// value, a formula without a stored value and a word left open (TBC, xxx) are
// problems.
func ParseText(r Raw, since1904 bool) (Said, *Problem) {
	r.Since1904 = since1904
	typed, p := asText(r)
	said := Said{State: stateOf(typed, p), Value: typed}
	if said.State == Given && r.Type == String && meansNone(typed) {
		said.State = Left
	}
	return said, p
}
