package demo

import (
	"fmt"
	"math"
	"slices"
	"time"

	"platebook/rules/unit"
	"platebook/workbook/form"
	"platebook/workbook/xlsx"
)

// Fault is one deliberate mistake of the second example.
type Fault struct {
	Sheet string
	Row   string // its key: plate and ID, item or name
	Place string // column
	What  string // what was done to it
	Code  string // the finding that should report it
}

// Mistakes is the SI example with deliberate mistakes in it and a sheet that
// lists them, which is also given back.
func Mistakes() (Book, []Fault, error) {
	b, err := Example(unit.SI)
	if err != nil {
		return Book{}, nil, err
	}
	rows := b.Rows
	tank := rows["Tank"][0]
	tank["Specific gravity"] = 850.0
	tank["Previous internal inspection"] = xlsx.Text("03/04/2014", xlsx.InputText)
	faults := []Fault{
		{"Tank", "Specific gravity", "Value", "850 in place of 0.85", "C107"},
		{"Tank", "Previous internal inspection", "Value", "03/04/2014 as text: 3 April or 4 March", "C202"},
	}
	faults = append(faults, spoilPlates(&b)...)
	faults = append(faults, spoilIndications(rows)...)
	faults = append(faults, spoilProveUps(rows)...)
	for _, r := range rows["Readings"] {
		r["Thickness"] = math.Round(value(r, "Thickness")/25.4*1000) / 1000
	}
	rows["Photos"] = append(rows["Photos"], form.Record{"File": "photo-77.jpg", "Caption": "Detail that was never copied from the camera"})
	keyed(rows["Crew"], "Name")["J. Roe"]["Valid until"] = day(21)
	keyed(rows["Instruments"], "Instrument")["UT-2"]["Calibration due"] = unit.NewDate(2026, 3, 31)
	rows["Criteria"] = append(rows["Criteria"], form.Record{"Criterion": "Minimum thickness", "Value": "2.0"})
	faults = append(faults, []Fault{
		{"Readings", "", "Thickness", "the whole column in inches under a heading in mm", "C104"},
		{"Photos", "photo-77.jpg", "File", "a picture that is not there", "R109"},
		{"Crew", "J. Roe/MFL", "Valid until", "the certificate ran out during the scan", "Q103"},
		{"Instruments", "UT-2", "Calibration due", "the calibration ran out before the prove-ups", "Q202"},
		{"Criteria", "Minimum thickness", "Value", "changed to 2.0 without a Note", "Q402"},
	}...)

	b.Title = "Invented example with mistakes: tank T-7"
	rows["Guide"] = []form.Record{{"Subtitle": fmt.Sprintf("An invented example with %d deliberate mistakes. Its last sheet lists them: find them first.", len(faults))}}
	list := [][]string{{"Sheet", "Row", "Column", "What is wrong", "Finding"}}
	for _, f := range faults {
		list = append(list, []string{f.Sheet, f.Row, f.Place, f.What, f.Code})
	}
	b.Pages = []form.Page{{Name: "Mistakes", Title: "What is wrong in this workbook", Widths: []float64{16, 28, 20, 60, 12}, Rows: list}}
	return b, faults, nil
}

func spoilPlates(b *Book) []Fault {
	plates := keyed(b.Rows["Plates"], "Plate")
	share := func(label, column string) float64 { return value(plates[label], column) }
	plates["5-3"]["Nominal"] = xlsx.Date(unit.NewDate(2026, 1, 4), xlsx.InputDate)
	plates["6-3"]["Not examined %"] = 8.0
	plates["6-3"]["MFL scanned %"] = 92 - share("6-3", "Hand scanned %") - share("6-3", "UT gridded %")
	delete(plates["6-3"], "Reason not examined")
	plates["8-2"]["MFL scanned %"] = 100 - share("8-2", "UT gridded %")
	plates["8-2"]["Hand scanned %"] = 4 - share("8-2", "Not examined %")
	b.Added = map[string][]string{"Plates": {"Date scanned"}}
	for _, p := range b.Rows["Plates"][:12] {
		p["Date scanned"] = p["Scan date"]
	}
	return []Fault{
		{"Plates", "", "Date scanned", "a second column with the meaning of Scan date", "S202"},
		{"Plates", "5-3", "Nominal", "1/4 turned into a date", "C109"},
		{"Plates", "6-3", "Not examined %", "8 % not examined without a reason", "R401"},
		{"Plates", "8-2", "MFL scanned %", "the shares add up to 104 %", "R402"},
	}
}

// spoilIndications works on soil-side indications of the floor plates that
// have no prove-up, so that no mistake hides behind another.
func spoilIndications(rows form.Entries) []Fault {
	proved := map[any]bool{}
	for _, r := range rows["Prove-ups"] {
		proved[r["Indication"]] = true
	}
	var free []form.Record
	for _, r := range rows["Indications"] {
		if r["Method"] == "MFL" && r["Kind"] == "pit" && r["Side"] == "soil" && !proved[r["ID"]] && text(r, "Plate")[0] != 'A' {
			free = append(free, r)
		}
	}
	key := func(r form.Record) string { return text(r, "Plate") + "/" + text(r, "ID") }
	var faults []Fault
	fault := func(r form.Record, place, what, code string) {
		faults = append(faults, Fault{"Indications", key(r), place, what, code})
	}

	free[0]["Plate"] = "99-9"
	fault(free[0], "Plate", "plate 99-9 does not exist", "R105")
	free[2]["X"] = 9450.0
	fault(free[2], "X", "beyond the end of the plate", "R201")
	free[4]["Side"] = "T"
	fault(free[4], "Side", "T in place of a side", "C303")
	free[6]["Loss %"] = 52.0
	fault(free[6], "Loss %", "52 % without a prove-up", "R307")

	again := form.Record{}
	for column, v := range free[8] {
		again[column] = v
	}
	again["Loss %"] = value(free[8], "Loss %") + 9
	i := slices.IndexFunc(rows["Indications"], func(r form.Record) bool { return key(r) == key(free[8]) })
	rows["Indications"] = slices.Insert(rows["Indications"], i+1, again)
	fault(again, "ID", "twice on this plate, with another loss", "R101")
	return faults
}

func spoilProveUps(rows form.Entries) []Fault {
	var soil []form.Record
	for _, r := range rows["Prove-ups"] {
		if month, d, ok := plateAsDay(text(r, "Plate")); ok && month <= 12 && d <= 28 && r["Side"] == "soil" && r["By"] == "A. Day" {
			soil = append(soil, r)
		}
	}
	var faults []Fault
	fault := func(r form.Record, place, what, code string) {
		faults = append(faults, Fault{"Prove-ups", text(r, "Plate") + "/" + text(r, "ID"), place, what, code})
	}
	month, d, _ := plateAsDay(text(soil[1], "Plate"))
	fault(soil[1], "Plate", "the plate's name turned into a date", "C201")
	soil[1]["Plate"] = xlsx.Date(unit.NewDate(2026, time.Month(month), d), xlsx.InputDate)
	soil[3]["Remaining"] = "5.2/5.4"
	fault(soil[3], "Remaining", "two numbers in one cell", "C101")
	delete(soil[5], "Remaining")
	soil[5]["Depth"] = 1.4
	fault(soil[5], "Depth", "a pit gauge on the soil side", "R313")
	return faults
}

// plateAsDay reads a plate's name such as 3-4 as a spreadsheet program does:
// month and day.
func plateAsDay(label string) (month, day int, ok bool) {
	_, err := fmt.Sscanf(label, "%d-%d", &month, &day)
	return month, day, err == nil
}

func keyed(rows []form.Record, column string) map[string]form.Record {
	m := map[string]form.Record{}
	for _, r := range rows {
		if k := text(r, column); m[k] == nil {
			m[k] = r
		}
	}
	return m
}

func value(r form.Record, column string) float64 {
	v, _ := r[column].(float64)
	return v
}

func text(r form.Record, column string) string {
	v, _ := r[column].(string)
	return v
}
