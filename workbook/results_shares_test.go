package workbook

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/textbook"
	"platebook/workbook/xlsx"
)

// The shares of coverage in Summary are those that the report prints, and make
// up the whole: also as a spreadsheet program calculates them.
func sharesTrials(t *testing.T) ([]string, func(*testing.T, anew)) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	lines := []string{"Scanned by MFL (%)", "Scanned by hand (%)", "Gridded by UT (%)", "Not examined (%)"}
	var paths []string
	plainly := false // a share rounded by itself would be another
	for i := range 8 {
		mfl := 61.07 + 1.37*float64(i)
		hand := (99.3 - mfl) / float64(2+i%3)
		file, err := textbook.Build(string(clean) + fmt.Sprintf("\n---\ndelete sheet Photos\nPlates(3-1).MFL scanned %% = %.2f\nPlates(3-1).Hand scanned %% = %.2f\nPlates(5-2).UT gridded %% = 7.77\nPlates(5-2).MFL scanned %% = %.2f\n", mfl, hand, mfl))
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "shares-"+strconv.Itoa(i)+".xlsx")
		if err := os.WriteFile(path, file, 0o600); err != nil {
			t.Fatal(err)
		}
		b, a := judged(t, path)
		rows := sheetRows(t, b, a, "Summary")
		exact := a.Plan.Coverage.Shares()
		sum := 0.0
		for k, text := range unit.Share.Parts(unit.SI, exact) {
			want, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			wantNumber(t, lines[k], rowOf(rows, lines[k]), 2, want, true)
			sum += want
			plainly = plainly || unit.Round(exact[k], 1) != text
		}
		if math.Abs(sum-100) > 1e-9 {
			t.Errorf("%s: the shares make %v", path, sum)
		}
		if i < 3 {
			paths = append(paths, resultsOf(t, path))
		}
	}
	if !plainly {
		t.Error("no share of the trial is other than rounded by itself")
	}
	return paths, func(t *testing.T, fresh anew) {
		for _, path := range paths {
			sameShares(t, path, fresh[path], lines)
		}
	}
}

func sameShares(t *testing.T, path string, fresh *xlsx.Book, lines []string) {
	t.Helper()
	g, err := fresh.Sheet("Summary").Read()
	if err != nil {
		t.Fatal(err)
	}
	b, a := judged(t, path)
	parts, found := unit.Share.Parts(unit.SI, a.Plan.Coverage.Shares()), 0
	for _, row := range g.Rows {
		for k, line := range lines {
			if row.Cell(1).Text != line {
				continue
			}
			found++
			if got := unit.Round(row.Cell(2).Number, 1); got != parts[k] || math.Abs(row.Cell(2).Number*10-math.Round(row.Cell(2).Number*10)) > 1e-9 {
				t.Errorf("%s: %s is %v by the spreadsheet, %s by the report", b.File.Name, line, row.Cell(2).Number, parts[k])
			}
		}
	}
	if found != len(lines) {
		t.Errorf("%s: %d shares found", path, found)
	}
}
