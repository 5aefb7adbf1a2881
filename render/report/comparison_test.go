package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"platebook/render/report"
	"platebook/rules"
	"platebook/rules/compare"
	"platebook/workbook"
	"platebook/workbook/textbook"
)

// judged reads a workbook told as text, with edits, and judges it.
func judged(t *testing.T, name, edits string, past ...compare.Survey) *rules.Assessment {
	t.Helper()
	book := open(t, name, edits)
	return rules.AssessSince(book.Inspection, book.Hits, nil, rules.Past{Earlier: past})
}

// earlier does so for one that another is compared with.
func earlier(t *testing.T, name, edits string) compare.Survey {
	t.Helper()
	book := open(t, name, edits)
	return rules.Earlier(book.Inspection, book.Hits)
}

func open(t *testing.T, name, edits string) *workbook.Book {
	t.Helper()
	clean, err := os.ReadFile(filepath.Join("..", "..", "testdata", "clean-si.txt"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := textbook.Build(string(clean) + "\n---\n" + edits)
	if err != nil {
		t.Fatal(err)
	}
	book, err := workbook.OpenBytes(context.Background(), name, b, workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return book
}

const atThatTime = `Tank(Inspection start).Value = 2014-06-10
Tank(Inspection end).Value = 2014-06-12
Prove-ups!F2:F11 *= 1.02
Prove-ups(U4).Remaining = 5.10
Prove-ups!H2:H11 *= 1.003
Readings!D2:D29 *= 1.003
Indications(17).X = 2300
delete row Indications!3
delete sheet Planned repairs
delete sheet Existing patches
`

func section(r *report.Report, name string) []report.Block {
	for _, s := range r.Sections {
		if s.Name == name {
			return s.Blocks
		}
	}
	return nil
}

func words(blocks []report.Block) string {
	var b strings.Builder
	for _, x := range blocks {
		switch x := x.(type) {
		case report.Paragraph:
			b.WriteString(x.Text + "\n")
		case report.List:
			b.WriteString(strings.Join(x.Items, "\n") + "\n")
		case report.Caution:
			b.WriteString(x.Title + ": " + x.Text + "\n")
		case report.Table:
			b.WriteString(x.Caption + "\n")
			for _, row := range x.Rows {
				b.WriteString(strings.Join(row.Cells, " | ") + "\n")
			}
		case report.Figure:
			b.WriteString("figure " + x.Caption + "\n")
		}
	}
	return b.String()
}

func TestComparisonSection(t *testing.T) {
	const name = "Comparison with the previous inspection"
	now := "delete sheet Photos\n"
	if s := section(report.Build(judged(t, "new.xlsx", now), report.Options{}), name); s != nil {
		t.Errorf("a section without an earlier inspection: %s", words(s))
	}
	old := earlier(t, "old.xlsx", now+atThatTime)
	text := words(section(report.Build(judged(t, "new.xlsx", now, old), report.Options{}), name))
	for _, want := range []string{
		"ended on 2014-06-12 (old.xlsx), 11.9 years before this one",
		"On the soil side the growth governs: growth at 3-1/5 is greater than the long-term rate.",
		"old.xlsx | 2014-06-12 | 19 |",
		"soil | 0.168 | plate 3-1, indication 5 (grown) | 0.130 | 0.168 | growth",
		"3-1 | 5 | 5 | grown | 5.10 | 3.10 | 0.168 | – | UT on both dates",
		"1-2 | 17 | not found again | 26.0 | 4.70 | –",
		"figure Change plan",
		"figure Growth by place",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("not in the section: %q\n%s", want, text)
		}
	}
	same := words(section(report.Build(judged(t, "new.xlsx", now, earlier(t, "copy.xlsx", now)), report.Options{}), name))
	if !strings.Contains(same, "Not compared") || !strings.Contains(same, "same inspection") {
		t.Errorf("the same inspection twice: %s", same)
	}
}
