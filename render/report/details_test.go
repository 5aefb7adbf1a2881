package report_test

import (
	"strings"
	"testing"

	"platebook/render/report"
)

const repairing = "Repairs and recommendations"

// A plate is drawn by itself for a repair, and for a place that does not reach
// its requirement to the end of the interval though nobody planned a repair.
func TestThinPlatesAreDrawn(t *testing.T) {
	text := words(section(report.Build(judged(t, "a.xlsx", noPhotos), report.Options{}), repairing))
	for _, want := range []string{
		"figure Plate 3-1: R1, and 1 thin place without a repair\n",
		"figure Plate 5-2: 2 thin places without a repair\n",
		" fall short of the requirement within 10.0 years, and no repair takes them out.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("not in the section: %q\n%s", want, text)
		}
	}
	if strings.Contains(text, "figure Plate 6-2") {
		t.Errorf("a plate that holds is drawn: %s", text)
	}
	// Proposals take out what they can: nothing is said to be left.
	text = words(section(report.Build(judged(t, "b.xlsx", noPhotos+"delete sheet Planned repairs\n"), report.Options{}), repairing))
	if strings.Contains(text, "no repair takes") || strings.Contains(text, "without a repair") || !strings.Contains(text, "figure Plate 5-2: R") {
		t.Errorf("with proposals: %s", text)
	}
}

// Where nothing is known, nothing is said to be fine.
func TestUnknownIsNotFine(t *testing.T) {
	for name, c := range map[string]struct{ edits, section, want, never string }{
		"no plates": {
			"delete sheet Plates\ndelete sheet Tracks\ndelete sheet Indications\ndelete sheet Prove-ups\ndelete sheet Readings\ndelete sheet Existing patches\ndelete sheet Planned repairs\n",
			repairing, "No remaining thickness is known: whether the floor needs repairs cannot be told.", "falls below",
		},
		"no plates, coverage": {"delete sheet Plates\n", "Coverage and areas not examined", "what was examined is not known", "Every plate"},
		"no rates": {
			"Tank(Floor installed).Value = \nTank(Commissioned).Value = \ndelete sheet Planned repairs\n",
			repairing, "No location is below its requirement now, and no repair is planned. The corrosion rates are not known: what falls below it later cannot be told.", "within the interval",
		},
	} {
		t.Run(name, func(t *testing.T) {
			text := words(section(report.Build(judged(t, "a.xlsx", noPhotos+c.edits), report.Options{}), c.section))
			if !strings.Contains(text, c.want) || strings.Contains(text, c.never) {
				t.Errorf("want %q, never %q:\n%s", c.want, c.never, text)
			}
		})
	}
}
