package report

import (
	"platebook/rules"
)

// Condition is page one in short, for other outputs that say the same: the
// sentences on the floor's condition, and what their figures leave out.
func Condition(a *rules.Assessment) (sentences, limits []string) {
	w := newWriter(a)
	return []string{w.conditionSentence(), w.thicknessSentence(), w.intervalSentence()}, w.limits()
}

// Cautions is the section “Limitations and cautions”, with the firm's own text
// if it has any.
func Cautions(a *rules.Assessment) []Block {
	w := newWriter(a)
	blocks := w.cautions()
	own, _ := w.choice("Limitations and cautions", true)
	return append(paragraphs(own), blocks...)
}

// Where names a location as a reader looks for it: plate, and what it is on
// the plate.
func Where(a *rules.Assessment, label string) string { return newWriter(a).where(label) }

func newWriter(a *rules.Assessment) *writer {
	return &writer{a: a, in: a.Inspection, res: a.Result, sys: a.Inspection.Units}
}
