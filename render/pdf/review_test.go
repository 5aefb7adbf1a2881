package pdf_test

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"platebook/render/pdf"
	"platebook/render/report"
	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/review"
)

// However much differs, a review's report is one page, its signature on it.
func TestReviewIsOnePage(t *testing.T) {
	long := strings.Repeat("a long name of a plate ", 10)
	r := &review.Review{Compared: 20000, Seed: "45bb232a6cc7d292", Against: &review.Revisions{Other: "other.results.xlsx"}}
	for i := range 5000 {
		ref := finding.Ref{Sheet: "Indication results", Col: 16, Row: 5 + i}
		r.Differences = append(r.Differences, review.Difference{Ref: ref, What: long, Stored: long, Recomputed: long, Inputs: []string{long}, More: 9})
		r.Against.Changes = append(r.Against.Changes, review.Change{Ref: ref, Was: ref, What: long, Old: long, New: long})
	}
	for i := range 12 {
		r.Sample = append(r.Sample, review.Sampled{Ref: finding.Ref{Sheet: "Sizing", Col: 3, Row: i + 1}, What: "1, Margin (mm)", Formula: long, Stored: "4.00"})
	}
	var lines [][2]string
	for i := range 12 {
		lines = append(lines, [2]string{fmt.Sprint("Question ", i), "an answer of the usual length"})
	}
	for _, none := range []bool{false, true} {
		if none {
			r = &review.Review{Compared: 20000, Seed: r.Seed}
		}
		info, err := pdf.Write(io.Discard, report.Review(&rules.Assessment{Inspection: &inspection.Inspection{}}, r, lines, "tank.review.xlsx"))
		if err != nil || info.Pages != 1 {
			t.Errorf("nothing differs %v: %d pages, %v", none, info.Pages, err)
		}
	}
}
