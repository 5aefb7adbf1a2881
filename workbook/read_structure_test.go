package workbook

import (
	"errors"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// said is one expectation: an edit of the clean workbook and everything that
// is told of it.
type said struct {
	name string
	edit []string
	want string // one hit a line, sorted; "" for nothing
}

func (s said) run(t *testing.T) {
	t.Run(s.name, func(t *testing.T) {
		r, err := readSketch(t, edit(t, cleanSketch, s.edit...))
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, line := range strings.Split(s.want, "\n") {
			if line = strings.TrimSpace(line); line != "" {
				want = append(want, line)
			}
		}
		if got := strings.Join(told(r.hits), "\n"); got != strings.Join(want, "\n") {
			t.Errorf("told:\n%s\nwant:\n%s", got, strings.Join(want, "\n"))
		}
	})
}

func TestSheetsAreFoundByNameElseByHeaders(t *testing.T) {
	for _, s := range []said{
		{"case, spaces and hyphens do not count", []string{"= Prove-ups", "= PROVE UPS"}, ""},
		{"a required sheet is missing", []string{"= Plates", "= Plattes 2", "Plate | Type | Row", "Plt | Typ | Row"}, `
			S101 Plates: no sheet Plates; found: Tank, Plattes 2, Indications, Prove-ups, Readings
			S105: not read: Plattes 2`},
		{
			"found by headers",
			[]string{"= Prove-ups", "= UT (2)", "Remaining (mm) | Side\nU44 | 17", "Remaining (mm) | Side | Depth (mm) | By | Date\nU44 | 17"},
			`S102 Prove-ups UT (2): “UT (2)” read as Prove-ups`,
		},
		{
			"the item list by its items",
			[]string{"= Tank", "= General", "Prepared by |", `Revision note | first
			Type of inspection | internal
			Reason for inspection | due
			Product | diesel
			Previous product | diesel
			Service change date |
			Previous internal inspection |
			Previous report number |
			Construction standard |
			Floor slope | flat
			Foundation | ring wall
			Annular ring | no
			Release-prevention barrier | no
			Leak detection | no
			Lining | none
			Cathodic protection | none
			Plan up bearing | 0
			Plan view | from above
			Desired interval | 10
			Page size | A4
			Prepared by |`},
			`S102 Tank General: “General” read as Tank`,
		},
		{"two by headers", []string{"= Readings", "= Sheet1", cleanReadings, cleanReadings + "= Sheet4\n" + cleanReadings}, `
			S103 Readings Sheet1: Sheet1 and Sheet4 both look like Readings`},
		{"two of one name", []string{"= Readings", "= Prove ups\n= Readings"}, `
			S103 Prove-ups Prove-ups: Prove-ups and Prove ups are both called Prove-ups`},
		{"a look-alike of a sheet that is there", []string{cleanReadings, cleanReadings + "= Readings (2)\n" + cleanReadings}, `
			S104 Readings Readings (2): “Readings (2)” looks like Readings: 3 rows not read`},
		{
			"other sheets are listed, empty ones are not",
			[]string{"= Readings", "= Crew notes\nwho | when\n= Sheet2\n= Guide\nhow to\n= Readings"},
			`S105: not read: Crew notes`,
		},
		{
			"no header row",
			[]string{"Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date\n", ""},
			`S106 Readings Readings: no headers in rows 1–30`,
		},
		{"an optional sheet may be empty", []string{"= Readings", "= Crew\n= Readings"}, ""},
	} {
		s.run(t)
	}
}

// cleanReadings is the Readings sheet of the clean workbook.
var cleanReadings = cleanSketch[strings.Index(cleanSketch, "Plate | X (mm) | Y (mm) | Thickness"):]

func TestFileWithoutInspection(t *testing.T) {
	_, err := readSketch(t, "= Budget\nMonth | Sum\nMay | 4\n= Sheet1\n")
	var u *finding.Unusable
	if !errors.As(err, &u) || u.Rule != "F108" || !strings.Contains(u.Message, "Budget, Sheet1") {
		t.Errorf("error %v", err)
	}
}

func TestHeaders(t *testing.T) {
	const head = "Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date\n"
	for _, s := range []said{
		{"titles, logos and banners above", []string{head, "Readings of tank 7\n\n | Position | | Result\nmerge B3:C3\n" + head}, ""},
		{"as far down as row 30", []string{head, "@30\n" + head}, ""},
		{"not below row 30", []string{head, "@31\n" + head}, "S106 Readings Readings: no headers in rows 1–30"},
		{"unit in a second row", []string{head, "Plate | X | Y | Thickness | By | Date\n | mm | mm | (mm) |\n"}, ""},
		{"banner over some columns, names beside it", []string{head, "Plate | Position | | Thickness (mm) | By | Date\n | X (mm) | Y (mm)\nmerge A1:A2\nmerge B1:C1\nmerge D1:D2\n"}, ""},
		{"a plate called A is no unit", []string{"\n3-4 | rectangular", "\nA\n3-4 | rectangular"}, `
			C301 Plates B2: Type is empty
			C301 Plates E2: Length is empty
			C301 Plates F2: Width is empty`},
		{"name over two rows", []string{
			"Plate | Type | Row | Position | Length (mm) | Width (mm) | MFL scanned % | Not examined % | Reason not examined\n",
			"Plate | Type | Row | Position | Length | Width | MFL | Not | Reason not\n | | | | (mm) | (mm) | scanned % | examined % | examined\n",
		}, ""},
		{"case, spaces, line breaks, stars", []string{head, "PLATE* | x(MM) | Y [mm] | thick ness, mm | by: | DATE\n"}, ""},
		{"any order, other accepted headers", []string{
			"ID | Indication | Plate | X (mm) | Y (mm) | Remaining (mm) | Side\nU44 | 17 | 3-4 | 2455 | 615 | 3.5 | soil",
			"Side | Remaining thickness (mm) | Plate no. | Y (mm) | X (mm) | Indication ID | ID\nsoil | 3.5 | 3-4 | 615 | 2455 | 17 | U44",
		}, ""},
		{
			"extra columns are listed",
			[]string{head + "3-4 | 300 | 900 | 6.28 | A. Day | date(46136)", "Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date | Weather\n3-4 | 300 | 900 | 6.28 | A. Day | date(46136) | rain"},
			"S105: not read: Weather",
		},
		{
			"a year heads a column",
			[]string{head + "3-4 | 300 | 900 | 6.28 | A. Day | date(46136)", "Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date | 2014\n3-4 | 300 | 900 | 6.28 | A. Day | date(46136) | 6.3"},
			"S105: not read: 2014",
		},
		{"required column missing", []string{head, "Pl. | X (mm) | Y (mm) | Thickness (mm) | By | Date\n"}, `
			S105: not read: Pl.
			S201 Readings A1: no column Plate; found: Pl., X (mm), Y (mm), Thickness (mm), By, Date`},
		{"required column near a known name", []string{head, "Plate | X (mm) | Y (mm) | Thicknes (mm) | By | Weather\n"}, `
			S105: not read: Thicknes (mm), Weather
			S201 Readings D1: no column Thickness; found: Plate, X (mm), Y (mm), Thicknes (mm), By, Weather; is it “Thicknes (mm)”?`},
		{
			"one meaning twice",
			[]string{"Loss % | Remaining (mm)\n17", "Loss % | Remaining (mm) | % loss\n17"},
			"S202 Indications K1: “Loss %” (I1), “% loss” (K1) mean the same",
		},
		{
			"near a known name",
			[]string{"Length (mm) | Width (mm) | Side", "Length (mm) | Witdh (mm) | Side"},
			"S203 Indications F1: “Witdh (mm)” not read; Width?",
		},
		{
			"no header over data",
			[]string{"| A. Day | date(46136)", "| A. Day | date(46136) | dry"},
			"S204 Readings G2: 1 value under an empty header",
		},
		{
			"unit of another kind",
			[]string{"Length (mm) | Width (mm) | MFL", "Length (kg) | Width (mm) | MFL"},
			"S205 Plates E1: “Length (kg)”: kg is no length",
		},
		{
			"unknown unit",
			[]string{"Thickness (mm)", "Thickness (tenths)"},
			"S205 Readings D1: “Thickness (tenths)”: “tenths” is no known unit",
		},
		{
			"no unit",
			[]string{"Length (mm) | Width (mm) | MFL", "Length (mm) | Width | MFL"},
			"S206 Plates F1: Width read as mm (Units: SI)",
		},
	} {
		s.run(t)
	}
}

func TestColumnWithoutUnitNeedsUnits(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "Units | SI", "Units | ", "Length (mm) | Width (mm) | MFL", "Length (mm) | Width | MFL"))
	if err != nil {
		t.Fatal(err)
	}
	if p := r.ins.Plates[0]; p.Width.OK() || !p.Length.OK() {
		t.Errorf("width %+v, length %+v", p.Width, p.Length)
	}
	if got := strings.Join(told(r.hits), "\n"); got != "C301 Tank B12: Units is empty" {
		t.Errorf("told %s", got)
	}
}

func TestUnitsOfHeaders(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "Thickness (mm)", "Thickness (in)", "6.28", "0.25", "6.31", "0.25", "6.30", "0.25"))
	if err != nil {
		t.Fatal(err)
	}
	f := r.ins.Readings[0].Thickness
	if float64(f.Value) != 6.35 || !f.Plain || f.Scale != 25.4 || f.Text != "0.25" || f.Ref.String() != "Readings!D2" {
		t.Errorf("%+v", f)
	}
}

func TestRows(t *testing.T) {
	const last = "3-5 | 600 | 900 | 6.30 | A. Day | date(46136)\n"
	for _, s := range []said{
		{"blank rows are no end", []string{last, "\n\n\n" + last}, ""},
		{"complete rows after fifty blank ones", []string{last, "@60\n" + last}, ""},
		{"formatted rows hold nothing", []string{last, last + "blanks | blanks\n"}, ""},
		{
			"a total",
			[]string{last, last + "Total 214 | | | | \n"},
			"S304 Readings A5: “Total 214” not read as data",
		},
		{
			"a mean beside a number",
			[]string{last, last + "Average | | | f(AVERAGE(D2:D4)) 6.3\n"},
			"S304 Readings A5: “Average” not read as data",
		},
		{"a total is no label", []string{last, last + "Max-3 | 1 | 1 | 6.1\n"}, ""},
		{
			"a note beside the key",
			[]string{last, last + " | | | | see page 2\n"},
			"S304 Readings E5: “see page 2” not read as data",
		},
		{
			"a note over several columns",
			[]string{last, last + "East side\nmerge A5:D5\n"},
			"S304 Readings A5: “East side” not read as data",
		},
		{
			"a sentence",
			[]string{last, last + "All readings through clean metal only\n"},
			"S304 Readings A5: “All readings through clean metal only” not read as data",
		},
		{
			"headers again",
			[]string{last, "Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date\n" + last},
			"S304 Readings A4: “Plate” repeats the headers, not read as data",
		},
		{
			"a picture named note",
			[]string{"= Readings", "= Photos\nFile | Plate\nnote.jpg | 3-4\nTotal: 2\n= Readings"},
			"S304 Photos A3: “Total: 2” not read as data",
		},
		{
			"a stray cell",
			[]string{last, last + "@90\n | | err(#REF!)\n"},
			"S305 Readings C90: #REF! far below the table",
		},
		{"a lone value near is a row", []string{last, last + "\n | | 12\n"}, `
			C301 Readings A6: Plate is empty
			C301 Readings D6: Thickness is empty`},
		{
			"struck through",
			[]string{"| 6.28 |", "| strike(6.28) |", "| 6.31 |", "| strike(6.31) |"},
			"S306 Readings D2: 2 struck-through values were read",
		},
		{
			"hidden rows and columns",
			[]string{last, "hidden " + last + "hide columns 2-3\n"},
			"S303 Readings Readings: 1 hidden row and 2 hidden columns were read",
		},
		{"folded columns without values", []string{"Reason not examined\n", "Reason not examined | Left (mm)\nhide columns 10-10\n"}, ""},
		{
			"filtered rows",
			[]string{last, "hidden " + last + "filtered\n"},
			"S303 Readings Readings: 1 filtered-out row was read",
		},
		{
			"hidden sheet",
			[]string{"= Readings", "= Readings hidden"},
			"S303 Readings Readings: the hidden sheet was read",
		},
	} {
		s.run(t)
	}
}

func TestMerges(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "3-5 | 600 | 900", " | 600 | 900", "= Readings", "= Readings\nmerge A3:A4"))
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(told(r.hits), "\n"); got != "S302 Readings A1: Plate filled down in 1 merge" {
		t.Errorf("told %s", got)
	}
	if v := r.ins.Readings[2].Plate.Value; v != "3-5" {
		t.Errorf("plate %q", v)
	}
	for _, s := range []said{
		{
			"numbers",
			[]string{"3-5 | 600 | 900 | 6.30", "3-5 | 600 | 900 | ", "= Readings", "= Readings\nmerge D3:D4"},
			"S301 Readings D3: D3:D4 is one cell",
		},
		{
			"two columns",
			[]string{"3-4 | 300 | 900 | 6.28", "3-4 | 300 | | 6.28", "= Readings", "= Readings\nmerge B2:C2"},
			"S301 Readings B2: B2:C2 is one cell",
		},
		{"outside the table", []string{"= Readings", "= Readings\nmerge H2:J9"}, ""},
	} {
		s.run(t)
	}
}

func TestItems(t *testing.T) {
	for _, s := range []said{
		{"any order and case", []string{"Client | Harbour Tanks\nSite | East", "SITE | East\nclient | Harbour Tanks"}, ""},
		{"unknown item", []string{"Site | East", "Site | East\nWeather | rain"}, "S105: not read: Weather"},
		{
			"near a known one",
			[]string{"Lap | 50 | mm", "Lpa | 50 | mm\nProdct | diesel"},
			"S203 Tank A20: “Lpa” not read; Lap?\nS203 Tank A21: “Prodct” not read; Product?",
		},
		{"a required item is missing", []string{"Site | East\n", ""}, "S201 Tank Tank: no item Site"},
		{
			"a required item misspelt",
			[]string{"Site | East\nTank | T-7", "Site | East\nTank | T-7\nDiamter | 30 | m", "Diameter | 30 | m\n", ""},
			"S105: not read: Diamter\nS201 Tank A9: no item Diameter; is it “Diamter”?",
		},
		{
			"twice with values",
			[]string{"Site | East", "Site | East\nSite | West"},
			"S202 Tank B8: “Site” (B7), “Site” (B8) mean the same",
		},
		{"twice, one blank", []string{"Site | East", "Site |\nSite | West"}, ""},
		{
			"unit beside, in the name, or none",
			[]string{"Diameter | 30 | m", "Diameter (m) | 30", "Shell height | 14.6 | m", "Shell height | 14.6"},
			"S206 Tank A17: Shell height read as m (Units: SI)",
		},
		{"two columns of values", []string{"Item | Value | Unit | Note", "Item | Value | Unit | Value"}, "S202 Tank D1: Value (B1), Value (D1) mean the same"},
		{"a column more", []string{"Item | Value | Unit | Note", "Item | Value | Unit | Note | Checked by"}, "S105: not read: Checked by"},
		{
			"unit of another kind",
			[]string{"Diameter | 30 | m", "Diameter | 30 | kg"},
			"S205 Tank A16: “Diameter”: kg is no length",
		},
		{
			"two units",
			[]string{"Diameter | 30 | m", "Diameter (ft) | 30 | m"},
			"S205 Tank C16: “Diameter (ft)” stands beside m",
		},
		{"required value empty", []string{"Site | East", "Site | n/a"}, "C301 Tank B7: Site is “n/a”"},
		{"out of range", []string{"Specific gravity | 0.85", "Specific gravity | 850"}, "C107 Tank B13: Specific gravity 850, range 0.3–2.2"},
		{"seen from below", []string{"Lap | 50 | mm", "Lap | 50 | mm\nPlan view | from below"}, "C303 Tank B21: Plan view “from below” is not in the list"},
		{"left open", []string{"Client | Harbour Tanks", "Client | TBC"}, "Q601 Tank B6: Client is “TBC”"},
	} {
		s.run(t)
	}
}

func TestFileNotes(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "| 6.28 |", "| f([1]Sheet1!D2) 6.28 |", "| 6.31 |", "| f('[1]Old sheet'!D2+1) 6.31 |", "| 6.30 |", "| f(Table1[Thickness]) 6.30 |"),
		func(b *xlsx.Book) {
			b.Macros, b.Date1904 = true, true
			b.Links = []string{"file:///C:/jobs/last-year.xlsx"}
			b.Properties = []xlsx.Property{{Name: "platebook template", Value: "3"}}
		})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"F201: macros not run, not carried over",
		"F202 D2: 2 values come from last-year.xlsx",
		"F203: made from template 3, this program knows templates up to 1",
		"F205: dates count from 1904",
	}
	var got []string
	for _, h := range told(r.hits) {
		if h[0] == 'F' {
			got = append(got, h)
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("told:\n%s", strings.Join(got, "\n"))
	}
}
