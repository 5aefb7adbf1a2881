package pdf

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"platebook/render/report"
)

// Text goes on before a chart that has no room left on its page; charts keep
// their order, stay in their section, and none is lost.
func TestTextGoesOnBeforeAChart(t *testing.T) {
	text := func(n int) (out []report.Block) {
		for i := range n {
			out = append(out, report.Paragraph{Text: fmt.Sprintf("Line %d.", i)})
		}
		return out
	}
	chart := func(i int) report.Block {
		return report.Figure{Scene: sampleScene("chart", 170, 95, 3), Caption: fmt.Sprintf("Chart %d", i)}
	}
	for before := 0; before < 40; before += 3 {
		r := &report.Report{Title: "Charts", Strip: true}
		one := report.Section{Number: 1, Name: "One", Blocks: text(before)}
		one.Blocks = append(one.Blocks, chart(1), chart(2), chart(3))
		one.Blocks = append(one.Blocks, text(60)...)
		two := report.Section{Number: 2, Name: "Two", Blocks: append(text(3), chart(4))}
		r.Sections = []report.Section{one, two}
		d, _ := layOutForTest(t, r)
		var order []string
		for i, s := range d.sheets {
			low := 0.0
			for _, run := range s.runs {
				if strings.HasPrefix(run.text, "Figure ") || run.text == "Two" {
					order = append(order, run.text)
				}
				if run.y < d.paper.h-d.paper.bottom {
					low = max(low, run.y)
				}
			}
			// Up to the next chart, less than a fifth of a page stays empty
			// but at the end of a section.
			if room := d.paper.h - d.paper.bottom - low; i+2 < len(d.sheets) && room > 0.2*d.paper.body() && !strings.Contains(fmt.Sprint(order), "Two") {
				t.Errorf("%d lines before: %.0f mm of page %d are empty", before, room, i+1)
			}
		}
		want := []string{"Figure 1. Chart 1", "Figure 2. Chart 2", "Figure 3. Chart 3", "Two", "Figure 4. Chart 4"}
		if !slices.Equal(order, want) {
			t.Errorf("%d lines before: %v", before, order)
		}
	}
}
