package workbook

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"platebook/rules/review"
	"platebook/rules/unit"
	"platebook/workbook/invented"
)

func inventedBook(t *testing.T, tank *invented.Tank, system unit.System, name string) string {
	t.Helper()
	data, err := tank.Bytes(system)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name+".xlsx")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return resultsOf(t, path)
}

func revisionsOf(t *testing.T, now, was string) *review.Revisions {
	t.Helper()
	v, err := Revisions(context.Background(), again(t, now), again(t, was), testRecord)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A revision in the other system of units holds the same where only units and
// digits differ; a value that became another is one change, with its units, and
// the results are set beside each other in one system.
func TestRevisionsInOtherUnits(t *testing.T) {
	tank := invented.New(7)
	si, us := inventedBook(t, tank, unit.SI, "si"), inventedBook(t, tank, unit.US, "us")
	same := revisionsOf(t, us, si)
	for _, c := range same.Changes {
		if !strings.HasPrefix(c.What, "Units, ") && !strings.HasPrefix(c.Ref.Sheet, "Criteria") {
			t.Errorf("%s: %s: %s → %s", c.Place(), c.What, c.Old, c.New)
		}
	}
	if same.Alike < 200 {
		t.Errorf("%d cells the same in another unit", same.Alike)
	}
	for _, g := range same.Groups {
		if g.Old != "" {
			t.Errorf("%s: %s → %s", g.Result, g.Old, g.New)
		}
	}
	other := savedElsewhere(t, us, func(f *excelize.File) error {
		rows, err := f.GetRows("Prove-ups")
		for i, r := range rows {
			for col, cell := range r {
				if i > 0 && strings.HasPrefix(rows[0][col], "Remaining") && cell != "" {
					return f.SetCellValue("Prove-ups", fmt.Sprintf("%c%d", 'A'+col, i+1), 0.111)
				}
			}
		}
		return err
	})
	changed := revisionsOf(t, other, si)
	if len(changed.Changes) != len(same.Changes)+1 {
		t.Fatalf("%d changes, %d without the changed value", len(changed.Changes), len(same.Changes))
	}
	for _, c := range changed.Changes {
		if strings.HasSuffix(c.What, ", Remaining") && (!strings.HasSuffix(c.Old, " mm") || c.New != "0.111 in") {
			t.Errorf("%s: %s → %s", c.What, c.Old, c.New)
		}
	}
}

// The unit of a header that changed while the numbers did not: each number is
// another.
func TestRevisionsOfANewUnit(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	filled := 0
	other := savedElsewhere(t, path, func(f *excelize.File) error {
		rows, err := f.GetRows("Readings")
		for i, r := range rows {
			for col, cell := range r {
				at := fmt.Sprintf("%c%d", 'A'+col, i+1)
				switch {
				case cell == "Thickness (mm)":
					err = f.SetCellValue("Readings", at, "Thickness (in)")
				case i > 2 && strings.HasPrefix(rows[2][col], "Thickness") && cell != "":
					filled++
				}
			}
		}
		return err
	})
	v := revisionsOf(t, other, path)
	if len(v.Changes) != filled || filled < 100 || !strings.HasSuffix(v.Changes[0].Old, " mm") || !strings.HasSuffix(v.Changes[0].New, " in") {
		t.Errorf("%d changes, %d values: %+v", len(v.Changes), filled, v.Changes[:min(2, len(v.Changes))])
	}
}

// A column that came in between, and columns in another order, make no cell of
// the others differ.
func TestRevisionsOfMovedColumns(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	other := savedElsewhere(t, path, func(f *excelize.File) error {
		if err := f.InsertCols("Welds", "C", 1); err != nil {
			return err
		}
		return f.SetCellValue("Welds", "C3", "Welder")
	})
	v := revisionsOf(t, other, path)
	if len(v.Changes) != 1 || v.Changes[0].New != "Welder" || v.Changes[0].Old != "" {
		t.Errorf("%d changes: %+v", len(v.Changes), v.Changes[:min(3, len(v.Changes))])
	}
}

// What a reader has to know of the other revision is told: another program, its
// inputs changed since, an answer that does not count.
func TestRevisionsTellOfTheOther(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	if v := revisionsOf(t, path, path); !v.Made || v.Edited || len(v.Versions)+len(v.Answers)+len(otherLines(v)) > 0 {
		t.Errorf("%+v", v)
	}
	if v := revisionsOf(t, path, example(t, 0)); v.Made || len(otherLines(v)) != 1 {
		t.Errorf("%+v", otherLines(v))
	}
	other := savedElsewhere(t, path, func(f *excelize.File) error {
		rows, err := f.GetRows("Record")
		for i, r := range rows {
			if len(r) > 1 && r[0] == recordProgram && err == nil {
				err = f.SetCellValue("Record", fmt.Sprintf("B%d", i+1), "platebook 0.3")
			}
		}
		if err != nil {
			return err
		}
		return f.SetSheetRow("Answers", "A9", &[]any{"R308:Nowhere", "seen", "A. Day", "2026-05-01"})
	})
	v := revisionsOf(t, path, other)
	var told []string
	for _, l := range otherLines(v) {
		told = append(told, l[1])
	}
	want := []string{
		"results by another program: platebook 0.3 then, platebook test now; run again for this comparison",
		"inputs changed since its results; compared as they stand now",
		"1 answer that does not count",
	}
	if strings.Join(told, "\n") != strings.Join(want, "\n") {
		t.Errorf("%q", told)
	}
}
