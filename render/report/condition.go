package report

import (
	"platebook/render/lettering"
	"platebook/rules"
)

// Condition is page one in short, for other outputs that say the same: the
// sentences on the floor's condition, and what their figures leave out, each
// with the names in it apart (lettering.Names).
func Condition(a *rules.Assessment) (sentences, limits []string) {
	w := newWriter(a)
	names := lettering.NamesOf(rightToLeft(a.Inspection))
	sentences = []string{w.conditionSentence(), w.thicknessSentence(), w.intervalSentence()}
	limits = w.limits()
	for _, list := range [][]string{sentences, limits} {
		for i := range list {
			list[i] = names.Apart(list[i])
		}
	}
	return sentences, limits
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
