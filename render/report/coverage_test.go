package report_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"platebook/render/report"
)

// The printed shares and areas by method make up the printed whole, whatever
// they are.
func TestCoverageAddsUp(t *testing.T) {
	for i := range 12 {
		mfl := 61.07 + 1.37*float64(i)
		hand := (99.3 - mfl) / float64(2+i%3)
		edits := fmt.Sprintf("delete sheet Photos\nPlates(3-1).MFL scanned %% = %.2f\nPlates(3-1).Hand scanned %% = %.2f\nPlates(5-2).UT gridded %% = 7.77\nPlates(5-2).MFL scanned %% = %.2f\n", mfl, hand, mfl)
		blocks := section(report.Build(judged(t, "a.xlsx", edits), report.Options{}), "Coverage and areas not examined")
		rows := blocks[0].(report.Table).Rows
		if len(rows) != 5 || rows[4].Cells[0] != "Together" {
			t.Fatalf("%v", rows)
		}
		for c := 1; c <= 2; c++ {
			sum := 0.0
			for _, r := range rows[:4] {
				sum += printedNumber(t, r.Cells[c])
			}
			if whole := printedNumber(t, rows[4].Cells[c]); math.Abs(sum-whole) > 1e-6 {
				t.Errorf("%s: column %d makes %.2f of %.2f: %v", edits, c, sum, whole, rows)
			}
		}
	}
}

func printedNumber(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
