package workbook

import (
	"strings"
	"testing"

	"platebook/rules/inspection"
)

func TestCells(t *testing.T) {
	for _, s := range []said{
		{"two numbers", []string{"615 | 3.5", "615 | 5.2/5.4"}, "C101 Prove-ups F2: Remaining “5.2/5.4” is not one number"},
		{"less than", []string{"615 | 3.5", "615 | <3"}, "C101 Prove-ups F2: Remaining “<3” is not one number"},
		{"a remark in place of a number", []string{"615 | 3.5", "615 | see photo"}, "C101 Prove-ups F2: Remaining “see photo” is not one number"},
		{"numbers as text", []string{"| 6.28 |", "| '6.28 |", "| 6.31 |", "| 6,31 |"}, "C102 Readings D2: 2 numbers stored as text read"},
		{"dates without a format", []string{"date(46136)", "46136"}, "C102 Readings F2: 1 whole number without a date format read as a date"},
		{"separator in doubt", []string{"| 2450 |", "| '1,250 |"}, "C103 Indications C2: X “1,250” can be 1.25 or 1250"},
		{
			"point in doubt beside decimal commas",
			[]string{"| 6.28 |", "| 6,28 |", "3-4 | 300 | 900", "3-4 | '1.250 | 900", "3-5 | 300", "3-5 | 300,5"},
			"C102 Readings B3: 1 number stored as text read\nC102 Readings D2: 1 number stored as text read\nC103 Readings B2: X “1.250” can be 1.25 or 1250",
		},
		{"below 0", []string{"300 | 900 | 6.28", "300 | 900 | -6.28"}, "C107 Readings D2: Thickness -6.28 mm is below 0"},
		{"no size", []string{"6000 | 1800 | 98", "6000 | 0 | 98"}, "C107 Plates F2: Width 0 mm, range 50–6000 mm"},
		{"coordinates may be below 0", []string{"3-4 | 300 | 900", "3-4 | -5 | 900"}, ""},
		{"remaining 0 is a hole", []string{"615 | 3.5", "615 | 0"}, ""},
		{"percent out of range", []string{"| 45", "| 145"}, "C107 Indications I2: Loss % 145 %, range 0–100 %"},
		{
			"own unit",
			[]string{"| 6.28 |", `| 1/4" |`, "| 6.31 |", "| 250 mil |"},
			"C108 Readings D2: 1 cell in inches under mm\nC108 Readings D3: 1 cell in mil under mm",
		},
		{"the column's own unit again", []string{"| 6.28 |", "| 6.28 mm |"}, "C102 Readings D2: 1 number stored as text read"},
		{"date under a number", []string{"| 6.28 |", "| date(46026) |"}, "C109 Readings D2: Thickness 04-Jan-2026 can be 1/4 or 4/1"},
		{"percents in three ways", []string{"| 45\n", "| pct(0.45)\n", "visual | | 5.1", "visual | 20 % | 5.1"}, "C102 Indications I3: 1 number stored as text read"},
		{"percents mixed", []string{"| 45\n", "| 0.45\n", "visual | | 5.1", "MFL | 40 | 5.1"}, "C110 Indications I2: Loss 0.45 beside 40"},
		{"a column of fractions", []string{"| 45\n", "| 0.45\n", "visual | | 5.1", "UT | 0.2 | 5.1"}, "C110 Indications I2: Loss 0.45: a fraction or a percentage?"},
		{"a fraction beside a percent sign", []string{"| 45\n", "| 0.45\n", "visual | | 5.1", "UT | pct(0.2) | 5.1"}, "C110 Indications I2: Loss 0.45 beside 20"},
		{"one percent by ultrasonic", []string{"visual | | 5.1", "UT | 0.8 | 5.1"}, ""},
		{"coverage as fractions", []string{"98 | 2 | coil", "0.98 | 0.02 | coil"}, `
			C110 Plates G2: MFL scanned 0.98 on a plate whose shares add up to 1
			C110 Plates H2: Not examined 0.02 on a plate whose shares add up to 1`},
		{"a little coverage", []string{"98 | 2 | coil", "99.8 | 0.2 | coil"}, ""},
		{"label became a date", []string{"\n3-4 | rectangular", "\ndate(46024) | rectangular"}, "C201 Plates A2: Plate 02-Jan-2026 can be 1-2 or 2-1"},
		{"label 12 as a number", []string{"\n17 | 3-4", "\n17.0 | 3-4"}, ""},
		{"date in doubt", []string{"date(46136)", "03/04/2026"}, "C202 Readings F2: Date “03/04/2026”: 3 April or 4 March"},
		{"ISO text is a date", []string{"date(46136)", "2026-04-24"}, ""},
		{"a year alone", []string{"Floor installed | date(37012)", "Floor installed | 1987"}, "C203 Tank B19: Floor installed “1987” is a year only"},
		{"required cell empty", []string{"17 | 3-4 | 2450 | 610", "17 | 3-4 | 2450 | blanks"}, "C301 Indications D2: Y holds only blanks"},
		{"required cell without a value", []string{"17 | 3-4 | 2450 | 610", "17 | 3-4 | 2450 | n/a"}, "C301 Indications D2: Y is “n/a”"},
		{"limits in the workbook's units", []string{"Units | SI", "Units | US", "Diameter | 30 | m", "Diameter | 700 | ft"}, "C107 Tank B16: Diameter 700 ft, range 6.562–492.1 ft"},
		{"none in an optional cell", []string{"40 | 30 | soil", "- | nil | soil"}, ""},
		{"word not in the list", []string{"30 | soil", "30 | bottm"}, "C303 Indications G2: Side “bottm”; soil?"},
		{"a letter is no side", []string{"30 | soil", "30 | T"}, "C303 Indications G2: Side “T” is not in the list"},
		{"another spelling", []string{"30 | soil", "30 | Bottom Side"}, ""},
		{"formula without a value", []string{"615 | 3.5", "615 | f(B4*25.4)"}, "C401 Prove-ups F2: Remaining =B4*25.4 has no stored value"},
		{"formula with a value", []string{"615 | 3.5", "615 | f(B4*25.4) 3.5"}, ""},
		{"error value", []string{"615 | 3.5", "615 | err(#REF!)"}, "C402 Prove-ups F2: Remaining is #REF!"},
		{"left open", []string{"| A. Day |", "| TBC |"}, "Q601 Readings E2: By is “TBC”"},
		{"left open within a text", []string{"| coil", "| coil, TBD by the client"}, "Q601 Plates I2: Reason not examined holds “TBD”"},
	} {
		s.run(t)
	}
}

func TestWrongCellStopsNothingElse(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "3-4 | 300 | 900 | 6.28", "3-4 | 300 | 900 | <3"))
	if err != nil {
		t.Fatal(err)
	}
	in := r.ins.Readings
	if len(in) != 3 || in[0].Thickness.State != inspection.Wrong || in[0].Thickness.Text != "<3" || !in[0].X.OK() || !in[1].Thickness.OK() {
		t.Errorf("%+v", in)
	}
}

func TestValueOutOfRangeIsUnknownButKept(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "Specific gravity | 0.85", "Specific gravity | 850"))
	if err != nil {
		t.Fatal(err)
	}
	if f := r.ins.Tank.SpecificGravity; f.OK() || f.Value != 850 {
		t.Errorf("%+v", f)
	}
}

func TestPlainCellsAreOnesAFormulaCanPointTo(t *testing.T) {
	for _, c := range []struct {
		cell  string
		plain bool
	}{
		{"6.28", true}, {"f(C2+1) 6.28", true}, {"'6.28", false}, {"6.28 mm", false}, {`1/4"`, false},
	} {
		r, err := readSketch(t, edit(t, cleanSketch, "| 6.28 |", "| "+c.cell+" |"))
		if err != nil {
			t.Fatal(err)
		}
		if f := r.ins.Readings[0].Thickness; !f.OK() || f.Plain != c.plain {
			t.Errorf("%s: %+v", c.cell, f)
		}
	}
}

func TestRowKeys(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch,
		"17 | 3-4 | 2450", "17 | 3-04 | 2450",
		"18 | 3-4 | 300", "17.0 | 3-4 | 300",
		"3-5 | 300 | 900", " | 300 | 900",
		"3-5 | 600 | 900", "3-5 | | ",
		"= Readings", "= Checks\nInstrument | Date | Shift | Result\nUT-1 | date(46136) | start | pass\nUT-1 | date(46136) | | pass\n= Readings"))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, x := range r.ins.Indications {
		got = append(got, x.Key)
	}
	for _, x := range r.ins.Readings {
		got = append(got, x.Key)
	}
	for _, x := range r.ins.Checks {
		got = append(got, x.Key)
	}
	list := strings.Join(got, " ")
	want := "3-4/17 3-4/17#2 3-4/300,900 @"
	if !strings.HasPrefix(list, want) || !strings.HasSuffix(list, " 3-5 UT-1/2026-04-24/start UT-1/2026-04-24") {
		t.Errorf("keys %s", list)
	}
	if len(got[3]) != 9 {
		t.Errorf("key of a row without one: %q", got[3])
	}
}
