package workbook

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"platebook/rules"
	"platebook/rules/unit"
	"platebook/workbook/demo"
	"platebook/workbook/xlsx"
)

// saved writes an invented workbook to a folder of the test.
func saved(t testing.TB, name string, book demo.Book) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	var out bytes.Buffer
	if err := book.Write(&out); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func judged(t testing.TB, path string) (*Book, *rules.Assessment) {
	t.Helper()
	b, err := Open(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return b, rules.Assess(b.Inspection, b.Hits, nil)
}

func resultsOf(t testing.TB, path string) string {
	t.Helper()
	b, a := judged(t, path)
	out, err := WriteResults(context.Background(), b, path[:len(path)-5]+".results.xlsx", a, Record{Version: "test", Rules: rules.Version})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func example(t testing.TB, system unit.System) string {
	t.Helper()
	book, err := demo.Example(system)
	if err != nil {
		t.Fatal(err)
	}
	return saved(t, "example.xlsx", book)
}

func TestResultsKeepTheInput(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		in := example(t, system)
		before, err := os.ReadFile(in)
		if err != nil {
			t.Fatal(err)
		}
		out := resultsOf(t, in)
		after, err := os.ReadFile(in)
		if err != nil || !bytes.Equal(before, after) {
			t.Fatalf("%v: the input changed (%v)", system, err)
		}
		first, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		again, err := os.ReadFile(resultsOf(t, in))
		if err != nil || !bytes.Equal(first, again) {
			t.Errorf("%v: a second run gives other bytes (%v)", system, err)
		}
		// The results workbook is a valid input and gives the same inspection.
		b1, a1 := judged(t, in)
		b2, a2 := judged(t, out)
		if b1.Inspection.File.ValuesSHA256 != b2.Inspection.File.ValuesSHA256 {
			t.Errorf("%v: the values of the inputs differ", system)
		}
		if len(b2.Results) != 12 || a1.Result.AsFound.Interval != a2.Result.AsFound.Interval {
			t.Errorf("%v: results %q, intervals %v and %v", system, b2.Results, a1.Result.AsFound.Interval, a2.Result.AsFound.Interval)
		}
		third := resultsOf(t, out)
		x, err := xlsx.Open(third)
		if err != nil {
			t.Fatal(err)
		}
		if len(x.Sheets) != len(b2.File.Sheets) {
			t.Errorf("%v: %d sheets after a run on the results, want %d", system, len(x.Sheets), len(b2.File.Sheets))
		}
	}
}
