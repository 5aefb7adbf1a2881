package workbook

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

func TestTablesOfASheetAreCutApart(t *testing.T) {
	d := xlsx.NewDraft("")
	s := d.Sheet("Two")
	text := func(s string) xlsx.Entry { return xlsx.Text(s, xlsx.Normal) }
	head := func(s string) xlsx.Entry { return xlsx.Text(s, xlsx.Header) }
	s.Row(xlsx.Text("Two tables", xlsx.Title))
	s.Row(text("An introduction."))
	s.Skip(1)
	s.Row(head("Plate"), head("Worst (mm)"), head("Day"))
	s.Row(text("1-1"), xlsx.Number(6.279999999999999, xlsx.Fixed2), xlsx.Date(unit.Date(46143), xlsx.DateISO))
	s.Row(text("1-2"), xlsx.Entry{}, xlsx.Entry{}, text("beside the table"))
	s.Skip(1)
	s.Row(text("a remark"), text("of the sheet"))
	s.Row(head("A heading in the dress of a table"))
	s.Row(text("its text"))
	s.Row(head("By"), head("Count"))
	s.Row(text("=soil"), xlsx.Number(-2, xlsx.Whole))
	want := [][][]string{
		{{"Plate", "Worst (mm)", "Day"}, {"1-1", "6.28", "2026-05-01"}, {"1-2", "", ""}},
		{{"By", "Count"}, {"=soil", "-2"}},
	}
	if diff := cmp.Diff(want, tables(s.Written(), false)); diff != "" {
		t.Error(diff)
	}

	steps := d.Sheet("One")
	steps.Row(head("Step"), head("Value"))
	steps.Row(text("a"), xlsx.Number(1, xlsx.Whole))
	steps.Skip(1)
	steps.Row(xlsx.Text("b", xlsx.Heading), xlsx.Number(2, xlsx.Whole))
	if diff := cmp.Diff([][][]string{{{"Step", "Value"}, {"a", "1"}, {"b", "2"}}}, tables(steps.Written(), false)); diff != "" {
		t.Error(diff)
	}
}

func TestNamesOfListsAreShort(t *testing.T) {
	for from, want := range map[string]string{
		"Plate results":                            "plate-results",
		"Histogram: loss from (%)":                 "histogram",
		"What would change the interval, as found": "what-would-change-the-interval",
		"Résumé (2)":                               "résumé",
	} {
		if got := slug(from); got != want {
			t.Errorf("%q gives %q, want %q", from, got, want)
		}
	}
}
