package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/render/report"
)

// The drawings of a usual report stand on the page of its contents, and every
// page they are said to stand on is theirs, in one column, in two and over
// pages.
func TestDrawingsAreListed(t *testing.T) {
	for _, n := range []int{0, 1, 16, 17, 26, 75, 300} {
		t.Run(strconv.Itoa(n), func(t *testing.T) {
			r := &report.Report{Title: "Drawings"}
			for i := range 18 {
				s := report.Section{Number: i + 1, Name: "Section", Blocks: []report.Block{report.Heading{Level: 2, Text: "Heading"}, report.Paragraph{Text: "Text."}}}
				for k := i; k < n; k += 18 {
					s.Blocks = append(s.Blocks, report.Figure{Scene: sampleScene("plan", 170, 60, 3), Caption: fmt.Sprintf("Drawing named %d", k)})
				}
				r.Sections = append(r.Sections, s)
			}
			d, _ := layOutForTest(t, r)
			var lists []*sheet
			captions := map[string]int{} // number and caption: page
			for i, s := range d.sheets {
				text := ""
				for _, run := range s.runs {
					text += run.text + "\n"
					if rest, ok := strings.CutPrefix(run.text, "Figure "); ok && strings.Contains(rest, ". Drawing named") {
						captions[rest] = i + 1
					}
				}
				if i > 0 && len(captions) == 0 && (strings.Contains(text, "Contents\n") || strings.Contains(text, "Drawings and charts\n") || strings.Contains(text, "Drawing named")) {
					lists = append(lists, s)
				}
			}
			if want := map[int]int{75: 2, 300: 4}; len(lists) != max(want[n], 1) {
				t.Errorf("%d pages of contents", len(lists))
			}
			if len(captions) != n {
				t.Fatalf("%d drawings of %d are printed", len(captions), n)
			}
			told := 0
			for _, s := range lists {
				for i, run := range s.runs {
					if !strings.HasPrefix(run.text, "Drawing named") {
						continue
					}
					told++
					number, page := s.runs[i-1].text, s.runs[i+1].text
					if want := strconv.Itoa(captions[number+". "+run.text]); page != want {
						t.Errorf("%s %s is told on page %s, stands on %s", number, run.text, page, want)
					}
				}
			}
			if told != n {
				t.Errorf("%d drawings of %d are listed", told, n)
			}
			if n > 16 && n < 30 && !slices.ContainsFunc(lists[0].runs, func(r run) bool { return r.text == "Drawing named 0" }) {
				t.Error("no list beside the contents")
			}
		})
	}
}
