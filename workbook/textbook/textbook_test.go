package textbook

import (
	"slices"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

const sample = `
# a clean book
!title Example
!property platebook.template = 1
!link last-year.xlsx
!expect T101
[Tank]
Item | Value | Unit
Diameter | 30 | m
Floor installed | 2001-05-01
Client | "=SUM(A1) | ""x""\n2"
[Prove-ups]
!expect S303
ID | Remaining (mm) | Side
.
U1 | 6.35 | soil
U2 | =B4*25.4 -> 161.29 | ~soil
U3 | =[1]Sheet1!B4 | #REF! {C402}
U4 | 45% | TRUE
U5 | 1/4" | 12:30
@20 | U9 | "6.35"
!merge A1:B1
!hide row 4
!formatted 3
---
Prove-ups!B4 = 0.13 {C107 C101}
Prove-ups(U1).Side = product
Tank(Diameter).Value *= 2
delete row Tank!4
append Tank | Client | Foxglove Storage
`

func read(t *testing.T, text string) (*Book, *xlsx.Book) {
	t.Helper()
	b, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	data, err := b.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	x, err := xlsx.OpenBytes("sample.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	return b, x
}

func TestBuild(t *testing.T) {
	b, x := read(t, sample)
	if x.Title != "Example" || x.Property("platebook.template") != "1" || !slices.Equal(x.Links, []string{"last-year.xlsx"}) {
		t.Errorf("title %q, properties %v, links %v", x.Title, x.Properties, x.Links)
	}
	g, err := x.Sheet("Prove-ups").Read()
	if err != nil {
		t.Fatal(err)
	}
	for at, want := range map[[2]int]cell.Raw{
		{2, 3}:  {Type: cell.Number, Number: 6.35, Text: "6.35"},
		{2, 4}:  {Type: cell.Number, Number: 0.13, Text: "0.13"},
		{3, 3}:  {Type: cell.String, Text: "product"},
		{2, 5}:  {NoStored: true, Formula: "[1]Sheet1!B4"},
		{3, 5}:  {Type: cell.Error, Text: "#REF!"},
		{2, 6}:  {Type: cell.Number, Number: 0.45, Text: "0.45", Format: cell.Percent},
		{3, 6}:  {Type: cell.Bool, Number: 1, Text: "TRUE"},
		{2, 7}:  {Type: cell.String, Text: `1/4"`},
		{3, 7}:  {Type: cell.Number, Number: 0.5208333333333334, Text: "0.5208333333333334", Format: cell.Time},
		{2, 20}: {Type: cell.String, Text: "6.35"},
	} {
		if got := g.At(at[0], at[1]); got.Raw != want {
			t.Errorf("%v: %+v, want %+v", at, got.Raw, want)
		}
	}
	if !g.Row(4).Hidden || !g.At(3, 4).Strike || g.Formatted < 3 || len(g.Merged) != 1 {
		t.Errorf("hidden %v, struck %v, formatted %d, merged %v", g.Row(4).Hidden, g.At(3, 4).Strike, g.Formatted, g.Merged)
	}
	tank, _ := x.Sheet("Tank").Read()
	if tank.At(2, 2).Number != 60 || tank.At(2, 3).Number != 37012 || tank.At(2, 4).Text != "Foxglove Storage" {
		t.Errorf("tank %+v", tank.Rows)
	}
	want := []Expected{
		{"T101", finding.Ref{}},
		{"S303", finding.Ref{Sheet: "Prove-ups"}},
		{"C107", finding.Ref{Sheet: "Prove-ups", Col: 2, Row: 4}},
		{"C101", finding.Ref{Sheet: "Prove-ups", Col: 2, Row: 4}},
		{"C402", finding.Ref{Sheet: "Prove-ups", Col: 3, Row: 5}},
	}
	if got := b.Expected(); !slices.Equal(got, want) {
		t.Errorf("expected %v, want %v", got, want)
	}
}

func TestMistakesAreTold(t *testing.T) {
	for text, want := range map[string]string{
		"A | B":                              "before the first sheet",
		"[A]\n\"x":                           "has no end",
		"[A]\nx\n---\nB!C1 = 2":              `no sheet "B"`,
		"[A]\nx\n---\ndelete row A!9":        `no row "9"`,
		"[A]\n!frame":                        "no setting",
		"[A]\nk | v\n---\nA(q).v = 1":        `no row "q"`,
		"[A]\nk | v\nx | 1\n---\nA(x).w = 1": `no column "w"`,
	} {
		_, err := Build(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}
