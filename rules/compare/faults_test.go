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

	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/compare"
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

// read reads the clean workbook with edits, nil when it cannot be used.
func read(t *testing.T, name, edits string) *workbook.Book {
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
	return book
}

// everyCase thins the cases out: each takes three evaluations.
const everyCase = 16

// A fault in either inspection never stops the comparison, and no place is lost
// or stands twice.
func TestFaultsOnEitherSide(t *testing.T) {
	const before = "Tank(Inspection start).Value = 2014-06-10\nTank(Inspection end).Value = 2014-06-12\n"
	old, clean := read(t, "old.xlsx", before), read(t, "new.xlsx", "")
	if old == nil || clean == nil {
		t.Fatal("the clean workbook cannot be read")
	}
	since := func(now, then *workbook.Book) *rules.Assessment {
		return rules.AssessSince(now.Inspection, now.Hits, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(then.Inspection, then.Hits)}})
	}
	compared := 0
	all := cases(t)
	names := slices.Sorted(maps.Keys(all))
	for i := 0; i < len(names); i += everyCase {
		name, edits := names[i], all[names[i]]
		if faulty := read(t, "new.xlsx", edits); faulty != nil {
			if a := since(faulty, old); len(a.Comparison.Refused) == 0 {
				everyPlaceOnce(t, a)
				compared++
			}
		}
		if faulty := read(t, "old.xlsx", edits+before); faulty != nil {
			if a := since(clean, faulty); len(a.Comparison.Refused) == 0 {
				everyPlaceOnce(t, a)
				compared++
			}
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

// An inspection judged only to be compared with is the same to the comparison as
// one judged in full.
func TestEarlierAsInFull(t *testing.T) {
	const before = "Tank(Inspection start).Value = 2014-06-10\nTank(Inspection end).Value = 2014-06-12\n"
	for name, edits := range map[string]string{
		"planned":  "",
		"proposed": "delete sheet Planned repairs\n",
		"faulty":   "Indications(17).X = ten\nIndications(3).Plate = 99-9\n",
	} {
		now, old := read(t, "new.xlsx", ""), read(t, "old.xlsx", before+edits)
		if now == nil || old == nil {
			t.Fatalf("%s cannot be read", name)
		}
		full := rules.Assess(old.Inspection, old.Hits, nil)
		want := rules.AssessSince(now.Inspection, now.Hits, nil, rules.Past{Earlier: []compare.Survey{{
			In: full.Inspection, Plan: full.Plan, Found: full.Result, Errors: full.Counts.Errors,
		}}})
		now, old = read(t, "new.xlsx", ""), read(t, "old.xlsx", before+edits)
		got := rules.AssessSince(now.Inspection, now.Hits, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(old.Inspection, old.Hits)}})
		if name == "faulty" && got.Comparison.Dates[0].Errors == 0 {
			t.Error("no error of the faulty one is told")
		}
		var g, w bytes.Buffer
		for to, a := range map[*bytes.Buffer]*rules.Assessment{&g: got, &w: want} {
			if err := text.JSON(to, a, text.Program{}, text.Made(), false, true); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(g.Bytes(), w.Bytes()) {
			t.Errorf("%s: the document differs", name)
		}
	}
}
