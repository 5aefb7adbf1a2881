package pdf

import (
	"fmt"
	"strings"
	"testing"

	"platebook/render/report"
)

// The lines to sign on stand side by side on one page, however much is told
// above them, and on the first while it has room for them.
func TestSignaturesStayTogether(t *testing.T) {
	for _, letter := range []bool{false, true} {
		for lines := range 60 {
			r := &report.Report{Title: "Cover", Letter: letter, Cover: report.Cover{
				Firm: "Firm", Heading: "Tank 7: floor inspection", Status: "FINAL", Note: "Signs nothing.",
				Lines: [][2]string{{"Client", "A"}, {"Reason for inspection", strings.Repeat("word after word of a long reason\n", lines)}},
				Signatures: []report.Signature{
					{Role: "Prepared by", Name: "A. Day", Date: "2026-04-30 (as entered in the workbook)"}, {Role: "Reviewed by", Name: "K. Lund"}, {Role: "Responsible inspector", Name: "P. Stone", Number: "TI-1093"},
				},
			}}
			d, _ := layOutForTest(t, r)
			pages := map[int]bool{}
			heights := map[string]bool{}
			for i, s := range d.sheets {
				for _, run := range s.runs {
					switch run.text {
					case "Prepared by", "Reviewed by", "Responsible inspector":
						pages[i] = true
						heights[fmt.Sprintf("%.2f", run.y)] = true
					}
				}
			}
			if len(pages) != 1 || len(heights) != 1 {
				t.Errorf("letter %v, %d lines: signatures on pages %v at %v", letter, lines, pages, heights)
			}
			if lines < 24 && !pages[0] {
				t.Errorf("letter %v, %d lines: the signatures are not on the cover", letter, lines)
			}
		}
	}
}
