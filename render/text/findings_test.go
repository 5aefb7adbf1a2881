package text

import (
	"strings"
	"testing"

	"platebook/rules/finding"
)

func cellRef(col, row int) finding.Ref { return finding.Ref{Sheet: "Prove-ups", Col: col, Row: row} }

func TestFindingsInWords(t *testing.T) {
	list := []finding.Finding{
		{Rule: "S105", Severity: finding.Note, Message: "not read: Weather"},
		{
			Rule: "C104", Severity: finding.Error, Ref: cellRef(6, 12), LastRow: 48, Message: "Remaining 0.13 is 2 % of nominal\n6.35 mm",
			Do: "Correct header or values.", Members: make([]string, 37),
			Related: []finding.Related{
				{Ref: cellRef(6, 3), Text: "unit"},
				{Ref: cellRef(1, 5)},
				{Ref: cellRef(1, 6)},
				{Ref: cellRef(1, 7)},
				{Ref: cellRef(2, 9)},
			},
			More: 4,
		},
		{Rule: "R305", Severity: finding.Warning, Ref: cellRef(1, 50), Message: "x", Answer: &finding.Answer{Text: "checked again", By: "P. Stone", Date: "2026-04-29"}},
	}
	var b strings.Builder
	if err := Findings(&b, "east-7.xlsx", list, 0, false); err != nil {
		t.Fatal(err)
	}
	want := `east-7.xlsx: note S105: not read: Weather
east-7.xlsx: Prove-ups!F12:F48: error C104: Remaining 0.13 is 2 % of nominal 6.35 mm (37 cells)
    do: Correct header or values.
    see: Prove-ups!F3 (unit), Prove-ups!A5:A7, Prove-ups!B9, and 4 more
east-7.xlsx: Prove-ups!A50: warning R305: x
    answered: checked again (P. Stone, 2026-04-29)
`
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

// A cut list takes errors first and says how many there are.
func TestFindingsCut(t *testing.T) {
	list := []finding.Finding{
		{Rule: "S105", Severity: finding.Note}, {Rule: "R305", Severity: finding.Warning}, {Rule: "C101", Severity: finding.Error},
	}
	var b strings.Builder
	if err := Findings(&b, "f", list, 2, false); err != nil {
		t.Fatal(err)
	}
	want := "f: error C101: \nf: warning R305: \nf: first 2 of 3 findings\n"
	if b.String() != want {
		t.Errorf("got %q, want %q", b.String(), want)
	}
}

// A person's text cannot steer the terminal.
func TestControlCodesAreHarmless(t *testing.T) {
	if got := Line("a\x1b[31mb\u009bc\nd"); strings.ContainsAny(got, "\x1b\u009b\n") {
		t.Errorf("%q", got)
	}
}

func TestLongTextsAreCut(t *testing.T) {
	if got := Line(strings.Repeat("é", 400)); got != strings.Repeat("é", 400) {
		t.Errorf("%q", got)
	}
	if got := Line(strings.Repeat("é", 32767)); got != strings.Repeat("é", 400)+"… (32767 letters)" {
		t.Errorf("%q", got)
	}
}
