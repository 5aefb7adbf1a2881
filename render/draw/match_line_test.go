package draw

import (
	"strings"
	"testing"
)

// No number, name or value of a split plan stands on a match line.
func TestWordsKeepOffMatchLines(t *testing.T) {
	a := large.assessment()
	lines, words := 0, 0
	for _, kind := range []string{"plate", "indication", "coverage", "repair"} {
		plan := everyPlan[kind]
		for n, drawn := range Sheets(a, A4.Landscape(), plan) {
			s := drawn()
			var match []rect
			for _, it := range s.Items {
				if p, ok := it.(Path); ok && p.Class == "match-line" {
					match = append(match, bounds([]point{{p.Segments[0].X, p.Segments[0].Y}, {p.Segments[1].X, p.Segments[1].Y}}))
				}
			}
			lines += len(match)
			for _, it := range s.Items {
				l, ok := it.(Label)
				if !ok || l.Class == "plate-number crowded" || !strings.HasPrefix(l.Class, "plate-") && !strings.HasSuffix(l.Class, "-label") && !strings.HasSuffix(l.Class, "-name") {
					continue
				}
				words++
				for _, m := range match {
					if l.box().meets(m) {
						t.Errorf("%s plan, sheet %d: %s %q stands on a match line", kind, n+1, l.Class, l.Text)
					}
				}
			}
		}
	}
	if lines == 0 || words < 1000 {
		t.Errorf("%d lines, %d words", lines, words)
	}
}
