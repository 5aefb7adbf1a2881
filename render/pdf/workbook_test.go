package pdf

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"platebook/render/report"
	"platebook/rules"
	"platebook/workbook"
	"platebook/workbook/demo"
	"platebook/workbook/textbook"
)

// reportOf is the full report of a workbook, as the program writes it but for
// the photos.
func reportOf(t *testing.T, path string) *report.Report {
	t.Helper()
	in, hits, err := workbook.Read(context.Background(), path, workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return report.Build(rules.Assess(in, hits, nil), report.Options{Version: "test"})
}

var (
	readOnce  sync.Once
	workbooks map[string]*report.Report
)

// reports are the layouts' own shapes and the reports of whole workbooks: the
// examples, a clean one, one with hostile words, and one with next to nothing
// in it.
func reports(t *testing.T) map[string]*report.Report {
	t.Helper()
	readOnce.Do(func() {
		dir := t.TempDir()
		if _, err := demo.Write(context.Background(), dir); err != nil {
			t.Fatal(err)
		}
		clean, err := os.ReadFile(filepath.Join("..", "..", "testdata", "clean-si.txt"))
		if err != nil {
			t.Fatal(err)
		}
		hostile := strings.NewReplacer(
			"T-7", "خزان ٧ Ærø–Łódź–Ñandú ≥ ≤ √ Δ σ µ °",
			"Example Harbour Ltd", strings.Repeat("Hafenumschlagsgesellschaftsverwaltung", 4),
			"J. Roe", "Maximiliana-Theodora Featherstonehaugh-Cholmondeley van der Württemberg",
			"under the suction pipe", strings.Repeat("under the suction pipe behind the heating coil ", 30),
			"East quay", "سلام شركة النفط الوطنية - رصيف 12 (شرق)", "gas oil", "वायु तेल 石油 газойль", "Example Inspection Ltd", "בדיקות מיכלים בע״מ",
			"2-2 ", "מיכל-2-2 ", "IMG_0401.jpg", strings.Repeat("a-photo-with-a-long-name-", 9)+".jpg",
		).Replace(string(clean))
		bare := "[Tank]\nItem | Value | Unit | Note\nTank | T-1 |\nInspection end | 2026-04-20 |\nReport date | 2026-05-04 |\nUnits | SI |\nDiameter | 4 | m\n" +
			"\n[Plates]\nPlate | Type | Row | Position | Length (mm) | Width (mm)\n1-1 | sketch | 1 | 1 | 4000 | 4000\n"
		all := map[string]*report.Report{}
		for name, text := range map[string]string{"clean": string(clean), "hostile": hostile, "bare": bare} {
			file, err := textbook.Build(text)
			if err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, name+".xlsx")
			if err := os.WriteFile(path, file, 0o644); err != nil {
				t.Fatal(err)
			}
			all[name] = reportOf(t, path)
		}
		for _, name := range []string{"example-si", "example-us", "example-mistakes"} {
			all[name] = reportOf(t, filepath.Join(dir, name+".xlsx"))
		}
		workbooks = all
	})
	out := shapes()
	for name, r := range workbooks {
		out[name] = r
	}
	return out
}

// A table of a whole report has no row without a cell and no column without a
// head or an entry that would be an empty strip, and no heading ends a
// section.
func TestReportsAreWhole(t *testing.T) {
	own := shapes()
	for name, r := range reports(t) {
		if own[name] != nil {
			continue
		}
		for _, sec := range r.Sections {
			for i, b := range sec.Blocks {
				switch b := b.(type) {
				case report.Heading:
					if i == len(sec.Blocks)-1 {
						t.Errorf("%s: heading “%s” ends section “%s”", name, b.Text, sec.Name)
					}
				case report.Table:
					for _, row := range b.Rows {
						if !row.Group && len(row.Cells) != len(b.Columns) {
							t.Errorf("%s: section “%s”: a row of %d cells under %d heads: %q", name, sec.Name, len(row.Cells), len(b.Columns), row.Cells)
						}
					}
				case report.Paragraph:
					for _, bad := range []string{"%!", "  ", " 1 plates", "NaN", "Inf", "“”"} {
						if strings.Contains(b.Text, bad) {
							t.Errorf("%s: section “%s”: %q in %q", name, sec.Name, bad, b.Text)
						}
					}
				}
			}
		}
	}
}

// No page of text is empty, and the same workbook gives the same bytes.
func TestWorkbooksPrint(t *testing.T) {
	for _, name := range []string{"hostile", "bare"} {
		r := reports(t)[name]
		d, _ := layOutForTest(t, r)
		head := newRunning(newFaces(), r.Running)
		blank := &sheet{w: d.paper.w, h: d.paper.h, faces: newFaces()}
		head.draw(blank, d.paper, 1, len(d.sheets))
		for i, s := range d.sheets {
			if !s.drawing && len(s.runs) <= len(blank.runs) {
				t.Errorf("%s: page %d is empty", name, i+1)
			}
		}
		one, _ := writeForTest(t, r)
		two, _ := writeForTest(t, r)
		if !bytes.Equal(one, two) {
			t.Errorf("%s: other bytes the second time", name)
		}
	}
}
