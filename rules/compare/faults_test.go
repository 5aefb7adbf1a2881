package compare_test

import (
	"bytes"
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/workbook"
	"platebook/workbook/textbook"
)

// cases are the edits of every case of the rules: each a fault, or what is odd
// but fine.
func cases(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "rules", "*.txt"))
	if err != nil || len(files) < 50 {
		t.Fatalf("%d files of cases, %v", len(files), err)
	}
	out := map[string]string{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name, edits := "", ""
		keep := func() {
			if name != "" {
				out[filepath.Base(f)+" "+name] = edits
			}
		}
		for _, line := range strings.Split(string(b), "\n") {
			switch word, _, _ := strings.Cut(line, " "); word {
			case "good:", "bad:":
				keep()
				name, edits = line+" "+string(rune('a'+len(out)%26)), ""
			case "want", "also", "do", "photo", "folder", "old":
			default:
				edits += line + "\n"
			}
		}
		keep()
	}
	return out
}

// read judges the clean workbook with edits, nil when it cannot be used.
func read(t *testing.T, name, edits string, past ...*rules.Assessment) *rules.Assessment {
	t.Helper()
	clean, err := os.ReadFile(filepath.Join("..", "..", "testdata", "clean-si.txt"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := textbook.Build(string(clean) + "\n---\n" + edits)
	if err != nil {
		return nil
	}
	book, err := workbook.OpenBytes(context.Background(), name, bytes.Clone(b), workbook.Options{})
	if err != nil {
		return nil
	}
	return rules.AssessSince(book.Inspection, book.Hits, nil, rules.Past{Earlier: past})
}

// everyCase thins the cases out: each takes three evaluations.
const everyCase = 16

// A fault in either inspection never stops the comparison, and no place is lost
// or stands twice.
func TestFaultsOnEitherSide(t *testing.T) {
	const before = "Tank(Inspection start).Value = 2014-06-10\nTank(Inspection end).Value = 2014-06-12\n"
	old := read(t, "old.xlsx", before)
	clean := read(t, "new.xlsx", "")
	if old == nil || clean == nil {
		t.Fatal("the clean workbook cannot be read")
	}
	compared := 0
	all := cases(t)
	names := slices.Sorted(maps.Keys(all))
	for i := 0; i < len(names); i += everyCase {
		name, edits := names[i], all[names[i]]
		if a := read(t, "new.xlsx", edits, old); a != nil && len(a.Comparison.Refused) == 0 {
			everyPlaceOnce(t, a)
			compared++
		}
		faulty := read(t, "old.xlsx", edits+before)
		if faulty == nil {
			continue
		}
		if a := rules.AssessSince(clean.Inspection, nil, nil, rules.Past{Earlier: []*rules.Assessment{faulty}}); len(a.Comparison.Refused) == 0 {
			everyPlaceOnce(t, a)
			compared++
		}
		if t.Failed() {
			t.Fatalf("in case %s", name)
		}
	}
	if compared < 500/everyCase {
		t.Errorf("only %d compared", compared)
	}
	t.Logf("%d comparisons", compared)
}
