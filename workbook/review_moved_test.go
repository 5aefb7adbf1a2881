package workbook

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// A row taken out of a sheet of results is told once: what stands below it and
// what refers there is where it was.
func TestReviewOfResultsWithoutARow(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	const gone = 40
	if err := f.RemoveRow("Indication results", gone); err != nil {
		t.Fatal(err)
	}
	without := filepath.Join(t.TempDir(), "without.results.xlsx")
	if err := f.SaveAs(without); err != nil {
		t.Fatal(err)
	}
	r := reviewOf(t, without)
	rows := 0
	for _, d := range r.Differences {
		if d.What == "a row" {
			rows++
		}
	}
	if rows != 1 || len(r.Differences) > 60 {
		t.Errorf("%d rows of %d differences", rows, len(r.Differences))
		for _, d := range r.Differences[:min(30, len(r.Differences))] {
			t.Log(d.Ref, d.What, "|", d.Stored, "|", d.Recomputed)
		}
	}
}

func TestFormulasAsStored(t *testing.T) {
	v := &reviewer{moved: map[string]*rowMap{
		"Plate results": {stored: map[int]int{5: 5, 6: 0, 7: 6, 8: 7}, rows: []int{5, 6, 7, 8}},
		"Summary":       nil,
	}}
	for formula, want := range map[string]string{
		"SUM('Plate results'!$B$5:$B$8)":       "SUM('Plate results'!B5:B7)",
		"SUM('Plate results'!B6:B8)":           "SUM('Plate results'!B6:B7)",
		"'Plate results'!B6*2":                 "#REF!*2",
		"'Plate results'!B7+Summary!B7":        "'Plate results'!B6+Summary!B7",
		`IF('Plate results'!C8="A8",ATAN2(1))`: `IF('Plate results'!C7="A8",ATAN2(1))`,
	} {
		if got := strings.ReplaceAll(v.asStored("Summary", formula), "'Plate results'!#REF!", "#REF!"); got != want {
			t.Errorf("%s: %s, want %s", formula, got, want)
		}
	}
	if got := v.asStored("Plate results", "B7/7.85E-06"); got != "B6/7.85E-06" {
		t.Error(got)
	}
}
