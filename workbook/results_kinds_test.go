package workbook

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// regrafted is a copy of a workbook with one more sheet of a person's.
func regrafted(t *testing.T, path, name string, sheet func(*xlsx.NewSheet)) string {
	t.Helper()
	x, err := xlsx.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	d := xlsx.NewDraft("")
	sheet(d.Sheet(name))
	var out bytes.Buffer
	if err := x.WriteWith(t.Context(), &out, d, nil); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "more.xlsx")
	if err := os.WriteFile(to, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return to
}

// A person's own sheet named Summary stays; the program's takes another name.
func TestOwnSheetOfTheSameNameStays(t *testing.T) {
	in := regrafted(t, example(t, unit.SI), "Summary", func(s *xlsx.NewSheet) { s.Row(xlsx.Text("my own", xlsx.Normal)) })
	out := resultsOf(t, resultsOf(t, in))
	x, err := xlsx.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	own := x.Sheet("Summary")
	if own == nil || x.Sheet("Summary (2)") == nil || x.Sheet("Summary (3)") != nil {
		t.Fatalf("sheets: own %v", own)
	}
	g, err := own.Read()
	if err != nil || g.At(1, 1).Text != "my own" {
		t.Errorf("own sheet: %q %v", g.At(1, 1).Text, err)
	}
}

// The result sheets are protected, and a text of a person's is never run.
func TestPersonsTextIsNeverRun(t *testing.T) {
	in := example(t, unit.SI)
	b, a := judged(t, in)
	for i := range a.Findings {
		a.Findings[i].Value, a.Findings[i].Message = "=HYPERLINK(1)", "+1"
	}
	out, err := WriteResults(context.Background(), b, in+".results.xlsx", a, Record{Rules: rules.Version})
	if err != nil {
		t.Fatal(err)
	}
	x, err := xlsx.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	g, err := x.Sheet("Findings").Read()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, row := range g.Rows {
		for _, c := range row.Cells {
			if c.Formula != "" {
				t.Errorf("row %d column %d: runs =%s", row.Number, c.Col, c.Formula)
			}
			if c.Text == "=HYPERLINK(1)" {
				seen++
			}
		}
	}
	if seen != len(a.Findings) || seen == 0 {
		t.Errorf("%d of %d texts", seen, len(a.Findings))
	}
}

// A cancelled run leaves nothing, and the results never replace their input.
func TestResultsNeverReplaceTheInput(t *testing.T) {
	in := example(t, unit.SI)
	b, a := judged(t, in)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	dir := t.TempDir()
	if _, err := WriteResults(ctx, b, filepath.Join(dir, "x.xlsx"), a, Record{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if list, err := os.ReadDir(dir); err != nil || len(list) != 0 {
		t.Errorf("left behind: %v %v", list, err)
	}
	before, err := os.ReadFile(in)
	if err != nil {
		t.Fatal(err)
	}
	out, err := WriteResults(context.Background(), b, in, a, Record{})
	if err != nil || !strings.HasSuffix(out, " (2).xlsx") {
		t.Errorf("written to %q, %v", filepath.Base(out), err)
	}
	if after, err := os.ReadFile(in); err != nil || !bytes.Equal(before, after) {
		t.Error("the input was replaced")
	}
}
