package workbook

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/form"
	"platebook/workbook/xlsx"
)

// fileOf writes sketched sheets as a real file.
func fileOf(t testing.TB, tabs []tab, properties ...xlsx.Property) []byte {
	t.Helper()
	d := draftOf(tabs)
	d.Properties = properties
	var b bytes.Buffer
	if err := d.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func draftOf(tabs []tab) *xlsx.Draft {
	d := xlsx.NewDraft("sketch")
	for _, tb := range tabs {
		s := d.Sheet(tb.sheet.Name)
		for _, row := range tb.grid.Rows {
			if skip := row.Number - s.Next(); skip > 0 {
				s.Skip(skip)
			}
			var cells []xlsx.Entry
			for _, c := range row.Cells {
				for len(cells) < c.Col-1 {
					cells = append(cells, xlsx.Blank(xlsx.Normal))
				}
				cells = append(cells, entryOf(c.Raw))
			}
			s.Row(cells...)
		}
		for _, m := range tb.grid.Merged {
			s.Merge(m)
		}
	}
	return d
}

func entryOf(c cell.Raw) xlsx.Entry {
	switch {
	case c.NoStored:
		return xlsx.Unstored(c.Formula, xlsx.Normal)
	case c.Type == cell.Number && c.Formula != "":
		return xlsx.Live(c.Formula, c.Number, xlsx.Normal)
	case c.Type == cell.Number && c.Format == cell.Date:
		return xlsx.Date(unit.DateOf(c.Number), xlsx.DateISO)
	case c.Type == cell.Number:
		return xlsx.Number(c.Number, xlsx.Normal)
	}
	return xlsx.Text(c.Text, xlsx.Normal)
}

func openBytes(t testing.TB, data []byte) *Book {
	t.Helper()
	b, err := OpenBytes(context.Background(), "east-7.xlsx", data, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestFileReadsLikeItsSketch(t *testing.T) {
	b := openBytes(t, fileOf(t, sketch(t, cleanSketch)))
	if got := told(b.Hits); len(got) > 0 {
		t.Errorf("told:\n%s", strings.Join(got, "\n"))
	}
	in := b.Inspection
	if len(in.Readings) != 3 || float64(in.Readings[0].Thickness.Value) != 6.28 || in.AsOf.String() != "2026-05-02" {
		t.Errorf("%d readings, time base %s", len(in.Readings), in.AsOf)
	}
	if len(in.File.SHA256) != 64 || len(in.File.ValuesSHA256) != 64 {
		t.Errorf("hashes %q %q", in.File.SHA256, in.File.ValuesSHA256)
	}
}

// A blank workbook asks for what is required and has nothing else wrong.
func TestBlankWorkbook(t *testing.T) {
	for _, s := range []unit.System{unit.SI, unit.US} {
		var b bytes.Buffer
		if err := form.Write(&b, form.Options{Units: s}); err != nil {
			t.Fatal(err)
		}
		book := openBytes(t, b.Bytes())
		for _, h := range book.Hits {
			if h.Rule != "C301" || h.Kind != "Tank" {
				t.Errorf("%s: %s %s %s", s, h.Rule, h.Ref, h.Message)
			}
		}
		if book.Inspection.Units != s {
			t.Errorf("units %s", book.Inspection.Units)
		}
		if n := len(book.Inspection.Sheets); n != 19 {
			t.Errorf("%d sheets recognised", n)
		}
	}
}

func TestResultsWorkbookAsInput(t *testing.T) {
	tabs := sketch(t, cleanSketch+`
= Summary
12.0 years
= Findings
2 findings
Key | Rule | Value as typed | Answer | Answered by | Date | Members
R315:Readings:3-4/300,900:Thickness | R315 | 6.28 | Measured twice, same value | A. Day | date(46141) |
`)
	data := fileOf(t, tabs, xlsx.Property{Name: ResultsProperty, Value: "Summary/Findings"})
	b := openBytes(t, data)
	if got := strings.Join(told(b.Hits), "\n"); got != "F204: result sheets ignored, 1 answer read" {
		t.Errorf("told:\n%s", got)
	}
	if a := b.Inspection.Answers; len(a) != 1 || !a[0].InSheet || a[0].Value != "6.28" {
		t.Errorf("%+v", a)
	}
	if strings.Join(b.Results, " ") != "Summary Findings" {
		t.Errorf("result sheets %v", b.Results)
	}
}

func TestSameFileSameHits(t *testing.T) {
	text := strings.NewReplacer("| 6.28 |", "| <3 |", "Loss %", "Loss", "3-5 | sketch", "| sketch", "soil", "top?").Replace(cleanSketch)
	data := fileOf(t, sketch(t, text))
	first := fmt.Sprint(openBytes(t, data).Hits)
	for range 5 {
		if again := fmt.Sprint(openBytes(t, data).Hits); again != first {
			t.Fatalf("%s\n%s", first, again)
		}
	}
}

func TestCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := OpenBytes(ctx, "a.xlsx", fileOf(t, sketch(t, cleanSketch)), Options{}); err == nil {
		t.Error("read on after the end")
	}
}

// largeSketch is a workbook of the size the budgets speak of.
func largeSketch(plates, indications, proveUps, readings int) string {
	var b strings.Builder
	head, _, _ := strings.Cut(cleanSketch, "= Plates")
	b.WriteString(head)
	b.WriteString("= Plates\nPlate | Type | Row | Position | Length (mm) | Width (mm) | MFL scanned % | Not examined % | Reason not examined\n")
	plate := func(i int) string { return fmt.Sprintf("%d-%d", i%plates/10+1, i%10+1) }
	for i := range plates {
		fmt.Fprintf(&b, "%s | rectangular | %d | %d | 6000 | 1800 | 98 | 2 | coil\n", plate(i), i/10+1, i%10+1)
	}
	b.WriteString("= Indications\nID | Plate | X (mm) | Y (mm) | Length (mm) | Width (mm) | Side | Method | Loss % | Remaining (mm) | By | Date\n")
	for i := range indications {
		fmt.Fprintf(&b, "%d | %s | %d | %d | 40 | 30 | soil | MFL | %d | | J. Roe | date(46136)\n", i, plate(i), i*37%6000, i*91%1800, 20+i%60)
	}
	b.WriteString("= Prove-ups\nID | Indication | Plate | X (mm) | Y (mm) | Remaining (mm) | Side | By | Date | Instrument\n")
	for i := range proveUps {
		fmt.Fprintf(&b, "U%d | %d | %s | %d | %d | 3.5 | soil | A. Day | date(46137) | UT-2\n", i, i, plate(i), i*37%6000, i*91%1800)
	}
	b.WriteString("= Readings\nPlate | X (mm) | Y (mm) | Thickness (mm) | By | Date | Instrument\n")
	for i := range readings {
		fmt.Fprintf(&b, "%s | %d | %d | 6.%d | A. Day | date(46136) | UT-2\n", plate(i), i*41%6000, i*97%1800, 20+i%15)
	}
	return b.String()
}

func BenchmarkRead(b *testing.B) {
	data := fileOf(b, sketch(b, largeSketch(150, 5000, 1000, 20000)))
	b.ReportAllocs()
	for b.Loop() {
		openBytes(b, data)
	}
}

func BenchmarkReadFiftyThousand(b *testing.B) {
	data := fileOf(b, sketch(b, largeSketch(150, 50000, 1000, 20000)))
	b.ReportAllocs()
	for b.Loop() {
		openBytes(b, data)
	}
}
