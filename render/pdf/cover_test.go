package pdf

import (
	"fmt"
	"math"
	"strconv"
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

// A logo of few pixels is not blown up.
func TestASmallLogoStaysSmall(t *testing.T) {
	for _, c := range []struct {
		w, h int
		wide float64 // mm
	}{{8, 6, 2.8}, {100, 20, 35.3}, {600, 200, 45}, {200, 800, 5}} {
		r := &report.Report{Title: "Cover", Cover: report.Cover{Firm: "Firm", Heading: "Tank 7", Logo: samplePicture(c.w, c.h, 1)}}
		d, _ := layOutForTest(t, r)
		m := placed.FindStringSubmatch(d.sheets[0].under.String())
		if m == nil {
			t.Fatalf("%d × %d: no logo", c.w, c.h)
		}
		if got, err := strconv.ParseFloat(m[1], 64); err != nil || math.Abs(got/mm-c.wide) > 0.05 {
			t.Errorf("%d × %d pixels: %.1f mm wide, want %.1f", c.w, c.h, got/mm, c.wide)
		}
	}
}
