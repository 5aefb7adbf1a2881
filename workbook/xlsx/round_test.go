package xlsx

import (
	"bytes"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/cell"
)

func sample() *Draft {
	d := NewDraft("sample")
	d.Properties = []Property{{"platebook.template", "1"}}
	s := d.Sheet("Tank & co")
	s.Row(Text("Item", Header), Text("Value", HeaderKey))
	s.Row(Text("=1+1", Normal), Number(6.35, Fixed2), Date(unit.NewDate(2026, 5, 1), DateISO), Live("B2*25.4", 161.29, Fixed3))
	s.Skip(3)
	s.Row(Text(" a\r\n_x0041_ <b>\x01 ", Input), LiveText(`"x"&"y"`, "xy", Normal), LiveBool("1=1", true, Normal), Unstored("B2", Normal), LiveError("1/0", "#DIV/0!", Normal), Truth(false, Normal), Number(0.45, PercentShare))
	s.Merge(Area{1, 9, 3, 10})
	s.LinkTo(1, 2, "Other!A1")
	s.List(List{Area: Area{1, 4, 1, 500}, Words: []string{"a", "b, c"[:1]}, Title: "Side", Help: "Where"})
	s.Note(Note{Col: 1, Row: 1, Text: "note"})
	s.Group(3, 5, true)
	s.Width(1, 1, 30)
	s.FreezeRow, s.Protected, s.Tab = 1, true, "1F3864"
	s.Print = Print{TitleRows: "1:1", Landscape: true, FitWidth: true, Footer: "&P of &N"}
	s.HideRow(6)
	o := d.Sheet("Other")
	o.Row(Number(1, Whole))
	return d
}

func TestDraftReadsBack(t *testing.T) {
	var out, again bytes.Buffer
	if err := sample().Write(&out); err != nil {
		t.Fatal(err)
	}
	if err := sample().Write(&again); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("the same draft gives other bytes (%v)", err)
	}
	b, err := OpenBytes("sample.xlsx", out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if b.Title != "sample" || b.Property("platebook.template") != "1" || len(b.Sheets) != 2 || b.Sheets[0].Name != "Tank & co" {
		t.Errorf("title %q, properties %v, sheets %d", b.Title, b.Properties, len(b.Sheets))
	}
	g, err := b.Sheets[0].Read()
	if err != nil {
		t.Fatal(err)
	}
	type want struct {
		col, row int
		typ      cell.Type
		format   cell.Format
		num      float64
		text     string
		formula  string
		missing  bool
	}
	for _, w := range []want{
		{1, 2, cell.String, cell.Text, 0, "=1+1", "", false},
		{2, 2, cell.Number, cell.Decimal, 6.35, "6.35", "", false},
		{3, 2, cell.Number, cell.Date, 46143, "46143", "", false},
		{4, 2, cell.Number, cell.Decimal, 161.29, "161.29", "B2*25.4", false},
		{1, 6, cell.String, cell.General, 0, " a\r\n_x0041_ <b>\x01 ", "", false},
		{2, 6, cell.String, cell.General, 0, "xy", `"x"&"y"`, false},
		{3, 6, cell.Bool, cell.General, 1, "TRUE", "1=1", false},
		{4, 6, cell.Blank, cell.General, 0, "", "B2", true},
		{5, 6, cell.Error, cell.General, 0, "#DIV/0!", "1/0", false},
		{6, 6, cell.Bool, cell.General, 0, "FALSE", "", false},
		{7, 6, cell.Number, cell.Percent, 0.45, "0.45", "", false},
	} {
		c := g.At(w.col, w.row)
		got := want{w.col, w.row, c.Type, c.Format, c.Number, c.Text, c.Formula, c.NoStored}
		if got != w {
			t.Errorf("%s: got %+v, want %+v", ref(w.col, w.row), got, w)
		}
	}
	if len(g.Merged) != 1 || g.Merged[0] != (Area{1, 9, 3, 10}) || !g.Row(6).Hidden || len(g.HeaderFooter) != 1 || len(g.HiddenCols) != 3 {
		t.Errorf("merged %v, hidden %v, footer %q, columns %v", g.Merged, g.Row(6).Hidden, g.HeaderFooter, g.HiddenCols)
	}
}
