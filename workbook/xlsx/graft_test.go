package xlsx

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func results(value float64) *Draft {
	d := NewDraft("")
	d.Properties = []Property{{"platebook.results", "Summary/Calc"}}
	s := d.Sheet("Summary")
	s.Row(Text("Summary", Title))
	s.Row(Text("=cmd", Normal), Number(value, Fixed2), Live("'Tank & co'!B2*25.4", 161.29, Fixed3))
	s.LinkTo(2, 2, "'Tank & co'!B2")
	s.Protected, s.FreezeRow = true, 1
	s.Filter(Area{1, 1, 3, 2})
	c := d.Sheet("Calc")
	c.Row(Text("x", Header))
	c.Print.TitleRows = "1:1"
	c.Note(Note{Col: 1, Row: 1, Text: "remark"})
	return d
}

func open(t *testing.T, data []byte) *Book {
	t.Helper()
	b, err := OpenBytes("x.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func grafted(t *testing.T, b *Book, d *Draft, replace []string) []byte {
	t.Helper()
	var out, again bytes.Buffer
	if err := b.WriteWith(t.Context(), &out, d, replace); err != nil {
		t.Fatal(err)
	}
	if err := b.WriteWith(t.Context(), &again, d, replace); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("written again, the bytes differ (%v)", err)
	}
	path := filepath.Join(t.TempDir(), "out.xlsx")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := b.VerifyCopy(t.Context(), path, d, replace); err != nil {
		t.Errorf("verify: %v", err)
	}
	return out.Bytes()
}

func TestGraftKeepsThePersonsSheets(t *testing.T) {
	var in bytes.Buffer
	src := sample()
	src.Macros, src.Links = true, []string{"last-year.xlsx"}
	if err := src.Write(&in); err != nil {
		t.Fatal(err)
	}
	b := open(t, in.Bytes())
	before, err := b.ValuesHash([]string{"Tank & co", "Other"})
	if err != nil || !b.Macros {
		t.Fatal(err, b.Macros)
	}
	first := grafted(t, b, results(1), nil)
	c := open(t, first)
	if c.Macros || len(c.Sheets) != 4 || c.Property("platebook.results") != "Summary/Calc" || c.Property("platebook.template") != "1" || len(c.Links) != 1 {
		t.Errorf("macros %v, sheets %d, properties %v, links %v", c.Macros, len(c.Sheets), c.Properties, c.Links)
	}
	after, err := c.ValuesHash([]string{"Tank & co", "Other"})
	if err != nil || after != before {
		t.Errorf("the values changed (%v)", err)
	}
	g, err := c.Sheet("Summary").Read()
	if err != nil {
		t.Fatal(err)
	}
	if v := g.At(3, 2); v.Number != 161.29 || v.Formula != "'Tank & co'!B2*25.4" || v.Format != 1 {
		t.Errorf("live cell %+v", v)
	}
	if v := g.At(1, 2); v.Text != "=cmd" || v.Formula != "" || v.Format != 5 {
		t.Errorf("text cell %+v: want text format", v)
	}
	var titles int
	for _, n := range c.Names {
		if n.Name == "_xlnm.Print_Titles" && (n.Sheet == "Calc" || n.Sheet == "Tank & co") {
			titles++
		}
	}
	if titles != 2 {
		t.Errorf("names %+v", c.Names)
	}

	// A second run replaces the results; nothing of the first is left behind.
	second := grafted(t, c, results(2), []string{"Summary", "Calc"})
	d := open(t, second)
	if g, err := d.Sheet("Summary").Read(); err != nil || g.At(2, 2).Number != 2 || len(d.Sheets) != 4 {
		t.Errorf("second run: %v, sheets %d", err, len(d.Sheets))
	}
	third := grafted(t, d, results(2), []string{"Summary", "Calc"})
	fourth := grafted(t, open(t, third), results(2), []string{"Summary", "Calc"})
	z, err := zip.NewReader(bytes.NewReader(fourth), int64(len(fourth)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		if strings.Contains(strings.ToLower(f.Name), "vba") || strings.Contains(f.Name, "platebook2") {
			t.Errorf("left behind: %s", f.Name)
		}
	}
}

func TestFreeName(t *testing.T) {
	var in bytes.Buffer
	if err := results(1).Write(&in); err != nil {
		t.Fatal(err)
	}
	b := open(t, in.Bytes())
	if got := b.FreeName("summary", nil); got != "summary (2)" {
		t.Errorf("got %q", got)
	}
	if got := b.FreeName("Summary", []string{"Summary"}); got != "Summary" {
		t.Errorf("got %q", got)
	}
	var out bytes.Buffer
	if err := b.WriteWith(t.Context(), &out, results(1), nil); err == nil {
		t.Error("two sheets of one name were written")
	}
}
