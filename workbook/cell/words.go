package cell

import "strings"

// Words that a firm leaves in a cell in place of a value.
//
// Source: common practice, no source.
var (
	noneWords = map[string]bool{"-": true, "--": true, "n/a": true, "na": true, "n.a.": true, "nil": true, "none": true}
	openWords = map[string]bool{"tbc": true, "tbd": true, "tba": true, "t.b.c.": true, "t.b.d.": true, "t.b.a.": true}
)

var dashes = strings.NewReplacer("–", "-", "—", "-", "−", "-")

// leftOpen says whether a text stands for "still to come": TBC, xxx, ???.
func leftOpen(text string) bool {
	t := strings.ToLower(trim(text))
	return openWords[t] || len(t) >= 3 && (strings.Trim(t, "x") == "" || strings.Trim(t, "?") == "")
}

// meansNone says whether a text is a word for "there is none".
func meansNone(text string) bool {
	return noneWords[dashes.Replace(strings.ToLower(trim(text)))]
}

// trim takes blanks of any kind off both ends.
func trim(s string) string {
	return strings.Trim(s, " \t\r\n\u00a0\u202f\u2007\u2009\u200b\ufeff\u3000")
}

// quoted is a text as a message shows it.
func quoted(text string) string { return "“" + text + "”" }

// spoiled is the problem every kind of cell can have: an error value, a
// formula without a stored value, a word left open.
func spoiled(r Raw) *Problem {
	switch {
	case r.NoStored:
		return &Problem{Rule: "C401", Message: "=" + r.Formula + " has no stored value"}
	case r.Type == Error:
		return &Problem{Rule: "C402", Message: "is " + r.Text}
	case r.Type == String && leftOpen(r.Text):
		return &Problem{Rule: "Q601", Message: "is " + quoted(trim(r.Text))}
	}
	return nil
}
