package workbook

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// filled is a copy of a results workbook with texts typed into open cells of
// its Findings sheet.
func filled(t *testing.T, path string, cells map[string]string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(f.Name, "platebooksheet2.xml") {
			for ref, v := range cells {
				if ref == "unmark" {
					continue
				}
				open := regexp.MustCompile(`<c r="` + ref + `" s="(\d+)"(/>| t="inlineStr">.*?</c>)`)
				if !open.Match(text) {
					t.Fatalf("%s is no cell of the Findings sheet", ref)
				}
				text = open.ReplaceAll(text, []byte(`<c r="`+ref+`" s="$1" t="inlineStr"><is><t>`+v+`</t></is></c>`))
			}
		}
		// as a program does that keeps no custom properties
		text = bytes.Replace(text, []byte(`name="`+cells["unmark"]+`"`), []byte(`name="gone"`), 1)
		p, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "answered.xlsx")
	if err := os.WriteFile(to, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return to
}

// findingsRow is the row of a key in the Findings sheet, 0 without it.
func findingsRow(t *testing.T, path, key string) (int, *xlsx.Grid) {
	t.Helper()
	b, err := xlsx.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	g, err := b.Sheet("Findings").Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range g.Rows {
		if r.Cell(findKey).Text == key {
			return r.Number, g
		}
	}
	return 0, g
}

// An answer typed into Findings counts in the next run and stays where it was
// typed; one whose finding is gone is kept below.
func TestAnswersOutliveARun(t *testing.T) {
	out := resultsOf(t, example(t, unit.SI))
	_, a := judged(t, out)
	var warnings []finding.Finding
	for _, f := range a.Findings {
		if f.Severity == finding.Warning && f.Answer == nil && f.Cells() == 1 {
			warnings = append(warnings, f)
		}
	}
	if len(warnings) < 2 {
		t.Fatalf("the example has %d warnings", len(warnings))
	}
	typed := map[string]string{}
	for i, f := range warnings[:2] {
		row, _ := findingsRow(t, out, f.Key)
		n := strconv.Itoa(row)
		typed["J"+n], typed["K"+n], typed["L"+n] = "Looked at again, it is sound", "A. Day", "2026-04-29"
		if i == 1 { // as if the finding it was given for had gone since
			typed["A"+n] = "R999:Plates:gone"
		}
	}
	path := filled(t, out, typed)
	_, again := judged(t, path)
	want := a.Counts.Answered + 1
	if again.Counts.Answered != want {
		t.Errorf("%d answered, want %d", again.Counts.Answered, want)
	}
	if given, err := EarlierAnswers(path, &inspection.Tank{}); err != nil || len(given) < 2 {
		t.Errorf("%d answers found in the results workbook, %v", len(given), err)
	}
	if given, err := EarlierAnswers(filepath.Join(t.TempDir(), "none.xlsx"), &inspection.Tank{}); err != nil || given != nil {
		t.Errorf("answers of no file: %v, %v", given, err)
	}
	typed["unmark"] = ResultsProperty
	unmarked := filled(t, out, typed)
	if b, err := xlsx.Open(unmarked); err != nil || b.Property(ResultsProperty) != "" {
		t.Fatalf("the mark stands yet, %v", err)
	}
	if b, other := judged(t, unmarked); other.Counts != again.Counts || len(b.Results) == 0 {
		t.Errorf("saved by another program: %+v, want %+v, result sheets %v", other.Counts, again.Counts, b.Results)
	}
	second := resultsOf(t, path)
	row, g := findingsRow(t, second, warnings[0].Key)
	if got := g.At(findAnswer, row).Text; got != "Looked at again, it is sound" || g.At(findBy, row).Text != "A. Day" || g.At(findDate, row).Number != 46141 {
		t.Errorf("row %d: answer %q by %q on %v", row, got, g.At(findBy, row).Text, g.At(findDate, row).Number)
	}
	if row, g = findingsRow(t, second, "R999:Plates:gone"); row == 0 || g.At(findAnswer, row).Text == "" {
		t.Error("the answer without a finding was dropped")
	}
	_, third := judged(t, second)
	if third.Counts.Answered != want {
		t.Errorf("after a second run %d answered, want %d", third.Counts.Answered, want)
	}
}
