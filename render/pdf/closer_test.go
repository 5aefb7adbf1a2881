package pdf

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"platebook/render/report"
)

// A page of text is a third full at least, but for the cover, before a drawing
// sheet and at the end.
func TestNoPageIsMostlyEmpty(t *testing.T) {
	for name, r := range reports(t) {
		if shapes()[name] != nil {
			continue
		}
		d, _ := layOutForTest(t, r)
		for i, s := range d.sheets {
			if i == 0 || s.drawing || i+1 == len(d.sheets) || d.sheets[i+1].drawing {
				continue
			}
			if full := fullness(d, s); full < 1.0/3 {
				t.Errorf("%s: page %d is %.0f %% full", name, i+1, 100*full)
			}
		}
	}
}

// fullness is the share of a page down to its lowest text.
func fullness(d document, s *sheet) float64 {
	low := d.paper.top
	for _, run := range s.runs {
		if run.y < d.paper.h-d.paper.bottom {
			low = max(low, run.y)
		}
	}
	return (low - d.paper.top) / d.paper.body()
}

// Few lines at the end of a section are taken in by the page before; each line
// is printed once, in its order, and each heading leads to its page.
func TestFewLinesJoinThePageBefore(t *testing.T) {
	saved := 0
	for n := 25; n < 90; n++ {
		r := &report.Report{Title: "Lines", Strip: true}
		first := report.Section{Number: 1, Name: "One", Blocks: append([]report.Block{report.Heading{Level: 2, Text: "Lines"}}, paragraphs(n)...)}
		first.Blocks = append(first.Blocks, report.Figure{Scene: sampleScene("chart", 120, 40, 3), Caption: "Chart"}, report.Paragraph{Text: "Last."})
		r.Sections = []report.Section{first, {Number: 2, Name: "Two", Break: true, Blocks: []report.Block{report.Paragraph{Text: "Text."}}}}
		d, _ := layOutForTest(t, r)
		var got []string
		for i, s := range d.sheets {
			for _, run := range s.runs {
				if strings.HasPrefix(run.text, "Line ") || strings.HasPrefix(run.text, "Figure ") || run.text == "Last." {
					got = append(got, run.text)
				}
				if run.y > d.paper.h-d.paper.bottom+1 && strings.HasPrefix(run.text, "Line ") {
					t.Errorf("%d lines: one runs into the foot of page %d", n, i+1)
				}
			}
		}
		var want []string
		for i := range n {
			want = append(want, fmt.Sprintf("Line %d.", i))
		}
		if want = append(want, "Figure 1. Chart", "Last."); !slices.Equal(got, want) {
			t.Fatalf("%d lines: printed are %q", n, got)
		}
		if len(d.entries) != 3 {
			t.Fatalf("%d lines: %d headings", n, len(d.entries))
		}
		for _, e := range d.entries {
			if !slices.Contains(d.sheets, e.at.sheet) {
				t.Fatalf("%d lines: “%s” leads to a page that is not there", n, e.text)
			}
		}
		// Sections may be set closer; none is when that saves no page.
		if plain := pagesPlain(t, r); len(d.sheets) > plain {
			t.Errorf("%d lines: %d pages, %d without closer gaps", n, len(d.sheets), plain)
		} else if len(d.sheets) < plain {
			saved++
		}
	}
	if saved < 5 {
		t.Errorf("%d times a page was saved", saved)
	}
}

// pagesPlain is the number of pages a report has with its gaps as they are: a
// section without an end to it is set once.
func pagesPlain(t *testing.T, r *report.Report) int {
	t.Helper()
	f := newFaces()
	head := newRunning(f, r.Running)
	set := &setter{flow: newFlow(f, &pictures{names: map[[32]byte]string{}}, newPaper(r.Letter, head)), report: r, running: head, studio: newStudio()}
	set.strip(r.Cover)
	for _, s := range r.Sections {
		set.section(s, false)
	}
	set.endPage()
	set.studio.close()
	return len(set.sheets)
}

// A chart that its page would just not hold is printed a little smaller, never
// below 85 %.
func TestAChartShrinksALittle(t *testing.T) {
	kept, shrunk := 0, 0
	for before := range 40 {
		r := &report.Report{Title: "Chart", Strip: true}
		sec := report.Section{Number: 1, Name: "One", Blocks: paragraphs(before)}
		sec.Blocks = append(sec.Blocks, report.Figure{Scene: sampleScene("chart", 170, 95, 3), Caption: "Chart"})
		r.Sections = []report.Section{sec}
		d, _ := layOutForTest(t, r)
		for _, s := range d.sheets {
			var last, caption float64
			for _, run := range s.runs {
				switch {
				case strings.HasPrefix(run.text, "Line "):
					last = run.y
				case strings.HasPrefix(run.text, "Figure "):
					caption = run.y
				}
			}
			if caption == 0 || last == 0 {
				continue
			}
			kept++
			h := caption - last - 1.1 - 3.5 - 1.5 - captionStyle.lead*0.76 // of the drawing
			if h < 94.9 {
				shrunk++
			}
			if h < 0.85*95-0.1 {
				t.Errorf("%d lines before: the chart is printed at %.0f %%", before, 100*h/95)
			}
			if caption > d.paper.h-d.paper.bottom {
				t.Errorf("%d lines before: its caption runs into the foot", before)
			}
		}
	}
	if shrunk < 1 || kept <= shrunk {
		t.Errorf("%d charts stay with their text, %d of them smaller", kept, shrunk)
	}
}

// A short section that a page's foot would part stands whole on the next page
// where it would leave little there, unless the page it leaves were emptier
// than half.
func TestAShortSectionStaysWhole(t *testing.T) {
	moved := 0
	for n := 5; n < 60; n++ {
		var two []report.Block
		for i := range 14 {
			two = append(two, report.Paragraph{Text: fmt.Sprintf("Item %d.", i)})
		}
		r := &report.Report{Title: "Lines", Strip: true, Sections: []report.Section{
			{Number: 1, Name: "One", Blocks: paragraphs(n)},
			{Number: 2, Name: "Two", Blocks: two},
			{Number: 3, Name: "Three", Break: true, Blocks: paragraphs(1)},
		}}
		d, _ := layOutForTest(t, r)
		var on []int // pages of section 2
		for i, s := range d.sheets {
			if slices.ContainsFunc(s.runs, func(r run) bool { return strings.HasPrefix(r.text, "Item ") }) {
				on = append(on, i)
			}
		}
		switch left := on[0] - 1; {
		case len(on) == 2 && fullness(d, d.sheets[on[1]]) < 0.3:
			t.Errorf("%d lines: section 2 leaves %.0f %% of it to a page", n, 100*fullness(d, d.sheets[on[1]]))
		case len(on) == 1 && left >= 0 && fullness(d, d.sheets[left]) < 0.48:
			t.Errorf("%d lines: the page before section 2 is %.0f %% full", n, 100*fullness(d, d.sheets[left]))
		case len(on) == 1 && left >= 0 && fullness(d, d.sheets[left]) < 0.75: // above it any section moves on
			moved++
		}
	}
	if moved == 0 {
		t.Error("no section was moved")
	}
}
