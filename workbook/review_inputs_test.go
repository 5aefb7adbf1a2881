package workbook

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// savedElsewhere is a copy of a workbook that another program changed.
func savedElsewhere(t *testing.T, path string, change func(*excelize.File) error) string {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := change(f); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "edited.results.xlsx")
	if err := f.SaveAs(to); err != nil {
		t.Fatal(err)
	}
	return to
}

func TestReviewNamesTheInputCellsThatChanged(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	for _, c := range []struct {
		name   string
		change func(*excelize.File) error
		told   string
		places []string
	}{
		{"two cells", func(f *excelize.File) error {
			if err := f.SetCellValue("Indications", "I10", 33); err != nil {
				return err
			}
			return f.SetCellValue("Tank", "B90", "an added remark")
		}, "2 input cells differ, on Tank, Indications", []string{"Tank!B90", "Indications!I10"}},
		{"a row gone", func(f *excelize.File) error { return f.RemoveRow("Welds", 7) }, "of them in rows that are gone", nil},
		{"a row between", func(f *excelize.File) error { return f.InsertRows("Welds", 7, 1) }, "rows stand in another place on Welds", nil},
		{"a new sheet", func(f *excelize.File) error {
			_, err := f.NewSheet("Notes of mine")
			if err == nil {
				err = f.SetCellValue("Tank", "B90", "an added remark")
			}
			return err
		}, "1 input cell differs, on Tank; other than then: Notes of mine", []string{"Tank!B90"}},
	} {
		in := reviewOf(t, savedElsewhere(t, path, c.change)).Inputs
		var places []string
		for _, p := range in.Places {
			places = append(places, p.String())
		}
		if !strings.Contains(in.Told(), c.told) || c.places != nil && !slices.Equal(places, c.places) {
			t.Errorf("%s: %s at %v", c.name, in.Told(), places)
		}
	}
}

// A results workbook of a version that wrote no fingerprints is reviewed as
// before: by sheets, and without a difference of its own.
func TestReviewOfARecordWithoutFingerprints(t *testing.T) {
	rows, dropped := regexp.MustCompile(`(?s)<row .*?</row>`), 0
	path := rezipped(t, resultsOf(t, example(t, 0)), "old.results.xlsx", func(part string, text []byte) []byte {
		if part != "xl/worksheets/platebooksheet12.xml" {
			return text
		}
		return rows.ReplaceAllFunc(text, func(row []byte) []byte {
			if bytes.Contains(row, []byte(recordPrints)) || bytes.Contains(row, []byte(recordPrintsWhy)) {
				dropped++
				return nil
			}
			return row
		})
	})
	if r := reviewOf(t, path); r.Differs() || dropped < 10 {
		t.Errorf("%d rows dropped: %+v", dropped, r.Differences)
	}
	r := reviewOf(t, savedElsewhere(t, path, func(f *excelize.File) error { return f.SetCellValue("Tank", "B90", "an added remark") }))
	if got := r.Inputs.Told(); got != "other than then: Tank" {
		t.Error(got)
	}
}

func TestFingerprintsAreReadBack(t *testing.T) {
	b, err := Open(context.Background(), example(t, 0), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range b.File.Sheets {
		all, err := s.Fingerprints()
		if err != nil {
			t.Fatal(err)
		}
		g, err := s.Read()
		if err != nil {
			t.Fatal(err)
		}
		cells := 0
		for i := range g.Rows {
			for _, c := range g.Rows[i].Cells {
				if !c.IsBlank() {
					cells++
				}
			}
		}
		parts, ok := cutPrints(all)
		for _, p := range parts {
			rows, err := xlsx.ParseFingerprints(p)
			if err != nil || !ok {
				t.Fatal(err)
			}
			for _, r := range rows {
				for _, c := range r.Cells {
					if c != "" {
						cells--
					}
				}
			}
		}
		if cells != 0 {
			t.Errorf("%s: %d cells more than fingerprints", s.Name, cells)
		}
	}
	for _, bad := range []string{"x", "1:ab", "1:abc z:abc"} {
		if _, err := xlsx.ParseFingerprints(bad); err == nil {
			t.Errorf("%q is read", bad)
		}
	}
}

// Sorted rows with changes among them: each changed cell once, and nothing else.
func TestSortedRowsAreNotChangedCells(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	letters := func() string {
		b := make([]byte, 3)
		for i := range b {
			b[i] = byte('a' + rng.IntN(26))
		}
		return string(b)
	}
	var was, now []xlsx.Printed
	for i := range 300 {
		r := xlsx.Printed{Row: i + 1}
		for range 8 {
			r.Cells = append(r.Cells, letters())
		}
		was = append(was, r)
	}
	for i, from := range rng.Perm(300) {
		now = append(now, xlsx.Printed{Row: i + 1, Cells: slices.Clone(was[from].Cells)})
	}
	var want []finding.Ref
	for _, row := range []int{12, 40, 41, 299} {
		now[row-1].Cells[5] = letters()
		want = append(want, finding.Ref{Row: row, Col: 6})
	}
	d := comparePrints(was, now)
	if !d.elsewhere || d.gone != 0 || !slices.Equal(d.places, want) {
		t.Errorf("%+v", d)
	}
}

// A plate that got another name is one changed cell of its row, either way.
func TestRevisionsOfARenamedPlate(t *testing.T) {
	path := resultsOf(t, example(t, 0))
	other := savedElsewhere(t, path, func(f *excelize.File) error {
		rows, err := f.GetRows("Plates")
		for i, r := range rows {
			if len(r) > 0 && r[0] == "5-2" && err == nil {
				err = f.SetCellValue("Plates", fmt.Sprintf("A%d", i+1), "5-2A")
			}
		}
		return err
	})
	for _, way := range [][2]string{{other, path}, {path, other}} {
		v, err := Revisions(context.Background(), again(t, way[0]), again(t, way[1]), testRecord)
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Changes) != 1 || !v.Changes[0].Ref.IsCell() || !v.Changes[0].Was.IsCell() || !strings.HasSuffix(v.Changes[0].What, ", Plate") {
			t.Errorf("%d changes: %+v", len(v.Changes), v.Changes[:min(3, len(v.Changes))])
		}
	}
}
