package workbook

import (
	"archive/zip"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// What another spreadsheet program saves says the same as what it was given.
func savedTrials(t *testing.T) ([]string, func(*testing.T, anew)) {
	office, dir := spreadsheetProgram(t), t.TempDir()
	text := edit(t, cleanSketch, "| 6.28 |", "| '6.28 |", "| 6.31 |", "| f(6.3+0.01) 6.31 |", "3-5 | 600 | 900", " | 600 | 900", "= Readings", "= Readings\nmerge A3:A4")
	in := filepath.Join(dir, "east-7.xlsx")
	if err := os.WriteFile(in, fileOf(t, sketch(t, text)), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), office, "--headless", "-env:UserInstallation=file://"+filepath.ToSlash(filepath.Join(dir, "profile")), "--convert-to", "ods", "--outdir", dir, in)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	ods := filepath.Join(dir, "east-7.ods")
	if _, err := OpenBytes(t.Context(), "east-7.xlsx", mustRead(t, ods), Options{}); err == nil {
		t.Error("an .ods file was read as a workbook")
	}
	return []string{ods}, func(t *testing.T, fresh anew) {
		b := openBytes(t, mustRead(t, fresh[ods].Path))
		want := "C102 Readings D2: 1 number stored as text read\nS302 Readings A1: Plate filled down in 1 merge"
		if got := strings.Join(told(b.Hits), "\n"); got != want {
			t.Errorf("told:\n%s", got)
		}
		if r := b.Inspection.Readings; len(r) != 3 || r[1].Thickness.Value != 6.31 || r[2].Plate.Value != "3-5" || r[2].Date.Value.String() != "2026-04-24" {
			t.Errorf("%+v", r)
		}
	}
}

func mustRead(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// rewrite changes the parts of a file, as programs that write other forms do.
func rewrite(t *testing.T, data []byte, change func(name, part string) string) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		var part bytes.Buffer
		if _, err := part.ReadFrom(r); err != nil {
			t.Fatal(err)
		}
		o, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := o.Write([]byte(change(f.Name, part.String()))); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestDatesFrom1904(t *testing.T) {
	data := rewrite(t, fileOf(t, sketch(t, cleanSketch)), func(name, part string) string {
		if name != "xl/workbook.xml" {
			return part
		}
		if strings.Contains(part, "<workbookPr") {
			return strings.Replace(part, "<workbookPr", `<workbookPr date1904="1"`, 1)
		}
		return strings.Replace(part, "<sheets>", `<workbookPr date1904="1"/><sheets>`, 1)
	})
	b := openBytes(t, data)
	// Source: the two systems lie 1462 days apart (ECMA-376 1st ed. Part 4, 3.17.4.1).
	f := b.Inspection.Readings[0].Date
	if f.Value.String() != "2030-04-25" || f.Plain || f.Text != "2030-04-25" {
		t.Errorf("%+v", f)
	}
	if got := told(b.Hits); len(got) != 1 || got[0] != "F205: dates count from 1904" {
		t.Errorf("told %v", got)
	}
}
