package pdf

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"platebook/render/draw"
	"platebook/render/report"
	"platebook/rules/unit"
)

func layOutForTest(t *testing.T, r *report.Report) (document, *faces) {
	t.Helper()
	f := newFaces()
	return layOut(r, f), f
}

func writeForTest(t testing.TB, r *report.Report) ([]byte, Info) {
	t.Helper()
	var b bytes.Buffer
	info, err := Write(&b, r)
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), info
}

// textOf is the words of every block, in no order: what must be found in the
// print. Labels of drawings are operators beneath the text, read back only
// from the file.
func textOf(r *report.Report, labels bool) []string {
	var out []string
	add := func(all ...string) { out = append(out, all...) }
	c := r.Cover
	add(c.Firm, c.FirmAddress, c.FirmNumber, c.Heading, c.Status, c.Note)
	for _, l := range c.Lines {
		add(l[0], l[1])
	}
	signatures := func(all []report.Signature) {
		for _, s := range all {
			add(s.Role, s.Name, s.Number, s.Date)
		}
	}
	scene := func(s *draw.Scene) {
		if s == nil || !labels {
			return
		}
		for _, it := range s.Items {
			if l, ok := it.(draw.Label); ok {
				add(l.Text)
			}
		}
	}
	signatures(c.Signatures)
	for _, s := range r.Sections {
		add(s.Name)
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case report.Heading:
				add(b.Text)
			case report.Paragraph:
				add(b.Text)
			case report.List:
				add(b.Items...)
			case report.Pairs:
				for _, p := range b.Rows {
					add(p[0], p[1])
				}
			case report.Caution:
				add(b.Title, b.Text)
			case report.Table:
				add(b.Caption, b.Note)
				for _, c := range b.Columns {
					add(strings.Split(c.Head, "\n")...)
				}
				for _, row := range b.Rows {
					add(row.Cells...)
				}
			case report.Steps:
				for _, s := range b.Steps {
					add(capital(s.Title), s.ID, s.Symbol, report.Minus(s.Result(r.Units)), report.Minus(s.Verdict(r.Units)), s.Clause, s.Source, s.Branch)
					if !s.Formula.Passes() || !s.Known {
						add(s.Symbols(r.Units), report.Minus(s.Numbers(r.Units)), report.Minus(s.Since(r.Units)))
					}
					add(s.Verify...)
					for _, in := range s.All() {
						add(in.Symbol, in.Title, report.Source(in.From))
						if in.Known && in.Values == nil {
							add(report.Minus(s.Given(*in, r.Units)))
						}
					}
				}
			case report.Figure:
				add(b.Caption)
				scene(b.Drawing())
			case report.Photos:
				for _, p := range b.Photos {
					add("Photo "+strconv.Itoa(p.Number), p.Caption, p.Place, p.File, p.Missing)
					scene(p.Map)
				}
			case report.Signatures:
				signatures(b.Lines)
			default:
				panic(fmt.Sprintf("%T", b))
			}
		}
	}
	return out
}

// squeeze takes out all space, which a line break may change.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}

// shapes are the reports that try a layout.
func shapes() map[string]*report.Report {
	letter := sampleReport()
	letter.Letter = true
	letter.Units = unit.US
	strip := sampleReport()
	strip.Strip = true
	long := sampleReport()
	long.Running.Tank = strings.Repeat("A tank with a very long name ", 12)
	long.Running.Status = strings.Repeat("FINAL WITHHELD: 2 errors, 1 open warning; ", 8)
	long.Cover.Heading = strings.Repeat("Heading of a report that does not end ", 8)
	long.Cover.Firm = strings.Repeat("Firm-with-a-very-long-name", 9)
	for i := range 60 {
		long.Cover.Lines = append(long.Cover.Lines, [2]string{fmt.Sprintf("Particular %d with a long label that must wrap", i), strings.Repeat("value ", 40)})
		long.Cover.Signatures = append(long.Cover.Signatures, report.Signature{Role: strings.Repeat("Role ", 30), Name: strings.Repeat("Name", 40)})
	}
	long.Sections[0].Name = strings.Repeat("A section's name that is long ", 6)
	long.Sections[0].Blocks = append(long.Sections[0].Blocks,
		report.Heading{Level: 2, Text: strings.Repeat("Heading ", 60)},
		report.Caution{Title: strings.Repeat("Caution ", 40), Text: strings.Repeat("Text that warns. ", 600)},
		report.Pairs{Rows: [][2]string{{strings.Repeat("label", 30), strings.Repeat("value", 400)}, {"", ""}}},
		report.List{Items: []string{strings.Repeat("item", 500), ""}},
		report.Paragraph{}, report.List{}, report.Pairs{}, report.Photos{}, report.Signatures{}, report.Steps{}, report.Table{}, report.Caution{},
		report.Heading{Level: 2, Text: "A last heading with nothing after it"},
	)
	long.Sections[len(long.Sections)-2].Blocks = append(long.Sections[len(long.Sections)-2].Blocks, report.Photos{Photos: []report.Photo{
		{Number: 7, Caption: strings.Repeat("A caption without an end. ", 250), Missing: strings.Repeat("A reason that is long. ", 120)},
		{Number: 8, Caption: "Broken", Picture: &report.Picture{JPEG: []byte("no picture"), Width: 1, Height: 1}},
	}})
	wide := &report.Report{Title: "Wide", Sections: []report.Section{{Number: 1, Name: "Wide table"}}}
	table := report.Table{Caption: "Twenty columns"}
	for c := range 20 {
		table.Columns = append(table.Columns, report.Column{Head: fmt.Sprintf("Column%d\nmm/year", c), Align: report.Align(c % 3), Share: float64(c % 4)})
	}
	for i := range 30 {
		row := report.Row{Mark: []string{"", "fail", "warn"}[i%3], Bold: i%5 == 0}
		for c := range 21 {
			row.Cells = append(row.Cells, fmt.Sprintf("%d.%03d", i*c*37, c*7))
		}
		table.Rows = append(table.Rows, row)
	}
	wide.Sections[0].Blocks = []report.Block{table, report.Table{Columns: table.Columns[:3], Rows: []report.Row{{Cells: []string{"one"}}, {}, {Group: true}, {Group: true, Cells: []string{"last group"}}}}}
	return map[string]*report.Report{
		"sample": sampleReport(), "letter": letter, "strip": strip, "long": long, "wide": wide, "empty": {Title: "Empty"},
	}
}

var lookAt = flag.String("look", "", "a folder to write the reports of the tests into, to be looked at")

func TestLook(t *testing.T) {
	if *lookAt == "" {
		t.Skip("no folder given")
	}
	for name, r := range shapes() {
		file, _ := writeForTest(t, r)
		if err := os.WriteFile(filepath.Join(*lookAt, name+".pdf"), file, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
