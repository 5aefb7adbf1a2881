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
	chart := func(i int) report.Block {
		return report.Figure{Scene: sampleScene("chart", 170, 95, 3), Caption: fmt.Sprintf("Chart %d", i)}
	}
	for before := 0; before < 40; before += 3 {
		r := &report.Report{Title: "Charts", Strip: true}
		one := report.Section{Number: 1, Name: "One", Blocks: paragraphs(before)}
		one.Blocks = append(one.Blocks, chart(1), chart(2), chart(3))
		one.Blocks = append(one.Blocks, paragraphs(60)...)
		two := report.Section{Number: 2, Name: "Two", Blocks: append(paragraphs(3), chart(4))}
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

// A chart that waits for room stays above the next heading, of any level.
func TestAChartStaysInItsSubsection(t *testing.T) {
	for level := 2; level <= 3; level++ {
		for before := range 45 {
			r := &report.Report{Title: "Charts", Strip: true}
			sec := report.Section{Number: 1, Name: "One", Blocks: paragraphs(before)}
			chart := report.Figure{Scene: sampleScene("chart", 170, 95, 3), Caption: "Chart"}
			sec.Blocks = append(sec.Blocks, chart, report.Paragraph{Text: "After it."}, report.Heading{Level: level, Text: "Next"}, report.Paragraph{Text: "Text."})
			r.Sections = []report.Section{sec}
			d, _ := layOutForTest(t, r)
			if got := inOrder(d, "Figure 1. Chart", "Next"); !slices.Equal(got, []string{"Figure 1. Chart", "Next"}) {
				t.Errorf("level %d, %d lines before: %v", level, before, got)
			}
		}
	}
}

// A section begins behind the drawing sheets of the one before, unless these
// stand behind a page with little on it; a table is not parted by sheets that
// come before it.
func TestSheetsStayInTheirSection(t *testing.T) {
	for before := range 60 {
		r := &report.Report{Title: "Sheets", Strip: true}
		one := report.Section{Number: 1, Name: "One", Blocks: paragraphs(before)}
		one.Blocks = append(one.Blocks, report.Figure{Scene: sampleScene("plan", 200, 100, 3), Caption: "Plan", Sheet: true})
		r.Sections = []report.Section{one, {Number: 2, Name: "Two", Blocks: []report.Block{report.Paragraph{Text: "Text."}}}}
		d, _ := layOutForTest(t, r)
		page := map[string]int{}
		lines := map[int]int{}
		for i, s := range d.sheets {
			for _, run := range s.runs {
				page[run.text] = i
				if strings.HasPrefix(run.text, "Line ") {
					lines[i]++
				}
			}
		}
		const few = 5 // lines, with the cover's strip above them
		if ahead := page["Two"] < page["Figure 1. Plan"]; ahead && lines[page["Two"]] > few {
			t.Errorf("%d lines before: section two begins on page %d, below %d lines, the sheet is page %d", before, page["Two"]+1, lines[page["Two"]], page["Figure 1. Plan"]+1)
		}
	}
}

// A section begins where its page has room for more than its heading.
func TestASectionBeginsWithRoom(t *testing.T) {
	for before := range 60 {
		r := &report.Report{Title: "Sections", Strip: true}
		one := report.Section{Number: 1, Name: "One", Blocks: paragraphs(before)}
		two := report.Section{Number: 2, Name: "Two", Blocks: []report.Block{report.Paragraph{Text: "What follows."}, sampleTable(60, false)}}
		r.Sections = []report.Section{one, two}
		d, _ := layOutForTest(t, r)
		for i, s := range d.sheets {
			below, begins := map[float64]bool{}, false
			for _, run := range s.runs {
				begins = begins || run.text == "Two"
				if begins && run.y < d.paper.h-d.paper.bottom {
					below[run.y] = true
				}
			}
			const few = 6 // lines: heading, text, table head and three rows
			if begins && len(below) < few {
				t.Errorf("%d lines before: section two begins on page %d with %d lines", before, i+1, len(below))
			}
		}
	}
}

// paragraphs are so many lines of text, each of its own.
func paragraphs(n int) (out []report.Block) {
	for i := range n {
		out = append(out, report.Paragraph{Text: fmt.Sprintf("Line %d.", i)})
	}
	return out
}

// inOrder is those of the texts that are printed, in the order of the pages.
func inOrder(d document, texts ...string) []string {
	var out []string
	for _, s := range d.sheets {
		for _, run := range s.runs {
			if slices.Contains(texts, run.text) {
				out = append(out, run.text)
			}
		}
	}
	return out
}
