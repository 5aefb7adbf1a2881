package report_test

import (
	"fmt"
	"strings"
	"testing"

	"platebook/render/draw"
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

// A plate with more on it than its drawing has room for has further sheets, and
// what those leave out is told with a place where it stands.
func TestFullPlatesGoOn(t *testing.T) {
	var repairs, mild strings.Builder
	for i := range 20 {
		fmt.Fprintf(&repairs, "append Planned repairs | X%d | patch | 3-1 | %d | %d | 150 | 150 | 6.4\n", i, 400+i%10*440, 300+i/10*800)
	}
	for i := range 120 {
		fmt.Fprintf(&mild, "append Indications | M%d | 3-1 | %d | %d | 20 | 20 | soil | MFL | 2\n", i, 200+i%20*200, 100+i/20*250)
	}
	for name, c := range map[string]struct {
		edits        string
		sheets       int
		want, nowise string
	}{
		"many repairs":      {repairs.String(), 2, "figure Plate 3-1: R1, X0, X1, X2, X3, X4, and 15 more, and 1 thin place without a repair (sheet 1 of 2)\nfigure Plate 3-1, continued (sheet 2 of 2)\n", "sheet Indication results"},
		"many mild":         {mild.String(), 1, "see “Appendix: all readings”", "sheet Indication results"},
		"mild, no appendix": {mild.String() + "append Report | Appendix: all readings | no\n", 1, "see the sheet Indication results of the results workbook", "see “Appendix"},
	} {
		t.Run(name, func(t *testing.T) {
			s := section(report.Build(judged(t, "a.xlsx", noPhotos+c.edits), report.Options{}), repairing)
			text, n := words(s), 0
			for _, b := range s {
				f, ok := b.(report.Figure)
				if !ok || !strings.HasPrefix(f.Caption, "Plate 3-1") {
					continue
				}
				n++
				var notes []string
				for _, it := range f.Drawing().Items {
					if l, ok := it.(draw.Label); ok {
						notes = append(notes, l.Text)
					}
				}
				text += strings.Join(notes, " ")
			}
			if n != c.sheets || !strings.Contains(text, c.want) || strings.Contains(text, c.nowise) {
				t.Errorf("%d sheets, want %d with %q, never %q:\n%s", n, c.sheets, c.want, c.nowise, text)
			}
		})
	}
}
