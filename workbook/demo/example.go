package demo

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

// Example is the example in one unit system, with its pictures. It is
// invented: no real tank, site, firm or person.
func Example(system unit.System) (Book, error) {
	seq := sequence(20260420)
	plates, err := layFloor(form.Options{Units: unit.US, Diameter: diameter, PlateLength: plateLength, PlateWidth: plateWidth, Lap: lap, AnnularWidth: ringWidth}, &seq)
	if err != nil {
		return Book{}, err
	}
	corrode(plates, &seq)
	bottom := &plate{
		Slot:    form.Slot{Label: "S1", Type: "sump", Length: sumpSize, Width: sumpSize},
		nominal: ringNominal, sound: ringNominal - 0.06, number: len(plates),
	}
	for _, at := range [][3]float64{{280, 610, 1.35}, {640, 240, 0.9}} {
		bottom.pits = append(bottom.pits, &pit{plate: bottom, x: at[0], y: at[1], length: 40, width: 30, side: "soil", method: "UT", kind: "pit", depth: at[2]})
	}
	plates = append(plates, bottom)
	all := number(plates)
	worst(all)
	record(all, &seq)
	s := &scenario{rule: rule{system}, plates: plates, pits: all, seq: seq}
	photos, photoRows := s.photos()
	proveUps := s.proveUpRows()
	title := "Invented example: tank T-7"
	return Book{
		Photos: photos,
		Book: form.Book{Title: title, Units: system, Rows: form.Entries{
			"Guide":            {{"Subtitle": invented}},
			"Tank":             {s.tank()},
			"Plates":           s.plateRows(),
			"Indications":      s.indicationRows(),
			"Prove-ups":        proveUps,
			"Readings":         s.readingRows(),
			"Photos":           photoRows,
			"Tracks":           s.trackRows(),
			"Visual":           s.visualRows(),
			"Welds":            s.weldRows(),
			"Fixtures":         s.fixtureRows(),
			"Existing patches": s.patchRows(),
			"Settlement":       s.settlementRows(),
			"Crew":             s.crewRows(),
			"Instruments":      s.instrumentRows(),
			"Checks":           s.checkRows(),
			"Criteria":         s.criteriaRows(),
			"Report":           sectionTexts,
			"Answers":          s.answerRows(),
		}},
	}, nil
}

const invented = "An invented example: no real tank, site, firm or person. It shows what a filled workbook looks like."

func (s *scenario) tank() form.Record {
	page := "A4"
	if s.system == unit.US {
		page = "Letter"
	}
	return form.Record{
		"Report number": "EX-2026-007", "Revision": "0", "Report status": "preliminary",
		"Client": "Example terminal (invented)", "Client, note": "This whole workbook is an invented example",
		"Site": "Example harbour, tank farm east", "Tank": "T-7",
		"Type of inspection": "Internal, out of service", "Reason for inspection": "Interval due",
		"Inspection start": day(20), "Inspection end": day(28), "Report date": day(30), "Units": s.system.String(),

		"Product": "Diesel fuel", "Specific gravity": 0.85, "Maximum fill height": s.height(44 * 304.8),
		"Commissioned": unit.NewDate(1978, 7, 1), "Commissioned, note": "Only the year is known",
		"Previous internal inspection": unit.NewDate(2014, 5, 20), "Previous report number": "EX-2014-031",

		"Diameter": float64(diameter), "Shell height": s.height(48 * 304.8), "Construction standard": "API 650, 6th edition",
		"First-course thickness as built": s.thickness(12.7), "First-course thickness now": s.thickness(12.2),
		"Shell steel": "A36", "Joint efficiency": 0.85,

		"Nominal thickness": s.thickness(nominal), "Floor installed": unit.NewDate(1992, 6, 15), "Lap": s.size(lap), "Floor slope": "single slope",
		"Foundation": "Concrete ring wall, oiled sand pad", "Annular ring": "yes", "Annular nominal thickness": s.to(ringNominal, 0.001, 0.001),
		"Annular width inside the shell": s.size(ringWidth), "Projection outside the shell": s.size(2 * 25.4),
		"Release-prevention barrier": "no", "Leak detection": "no", "Reinforced lining over 1.27 mm / 0.05 in": "no", "Lining": "none", "Cathodic protection": "none",

		"Plan up bearing": 0.0, "Plan view": "from above", "Datum": "Lower left corner of each plate; row 1 at the south",
		"Desired interval": 10.0, "Owner instruction": "Repairs by patch where the standard allows it",

		"Firm name": "Example inspection firm", "Firm address": "1 Sample Street, Example Town", "Firm number or accreditation": "EX-0000", "Page size": page,
		"Prepared by": "A. Day", "Reviewed by": "K. Lund", "Responsible inspector": "P. Stone", "Inspector number": "TI-1093",
	}
}

func (s *scenario) height(mm float64) float64 {
	if s.system == unit.US {
		return math.Round(mm/304.8*100) / 100 * 304.8
	}
	return math.Round(mm/10) * 10
}

func (s *scenario) criteriaRows() []form.Record {
	step, be, bew, radius := "25", "101.6", "81.28", "0.9144"
	if s.system == unit.US {
		step, be, bew, radius = "1", "4", "3.2", "3"
	}
	const read = "Invented, in place of a value read from the standard's figures for this tank"
	return []form.Record{
		{"Criterion": "Patch size step", "Value": step, "Note": "The crew cuts patches to full steps of this size"},
		{"Criterion": "Edge limit Be", "Value": be, "Note": read},
		{"Criterion": "Edge limit Bew", "Value": bew, "Note": read},
		{"Criterion": "Edge limit radius", "Value": radius, "Note": read},
	}
}

var sectionTexts = []form.Record{
	{"Section": "Scope, standards, criteria", "Text": "The order covers the floor and its welds. Shell, roof and piping are reported apart."},
	{"Section": "Limitations and cautions", "Text": "Everything in this report is invented. It shows the form of a report, not the condition of a tank."},
}

// answerRows answer the one warning of which the firm already knows the cause.
func (s *scenario) answerRows() []form.Record {
	return []form.Record{{
		"Finding": "R314:Prove-ups:" + s.moved, "Answer": "Scale removed after the scan: the pit is on the product side, the prove-up holds",
		"By": "P. Stone", "Date": day(29),
	}}
}

// find is the plate of a label.
func (s *scenario) find(label string) *plate {
	for _, p := range s.plates {
		if p.Label == label {
			return p
		}
	}
	panic("demo: no plate " + label)
}

func (s *scenario) patchRows() []form.Record {
	p := s.find("7-3")
	return []form.Record{{
		"Patch": "P1", "Plate": p.Label, "X": s.position(p.Length - 900), "Y": s.position(1050), "Length": s.size(12 * 25.4), "Width": s.size(12 * 25.4),
		"Thickness": s.thickness(nominal), "Installed": unit.NewDate(2014, 6, 2), "Shape": "rounded rectangle",
	}}
}

func (s *scenario) weldRows() []form.Record {
	row := func(id, seam, method, result string, length float64, d int) form.Record {
		return form.Record{"ID": id, "Seam": seam, "Method": method, "Result": result, "Tested length": s.size(length), "By": "K. Lund", "Date": day(d)}
	}
	rows := []form.Record{
		row("W1", "shell-to-floor", "MT", "accepted", math.Pi*diameter, 27),
		row("W2", "6-2/6-3", "vacuum box", "accepted", plateWidth, 27),
		row("W3", "8-3/8-4", "vacuum box", "accepted", plateWidth, 27),
		row("W4", "9-2/9-3", "vacuum box", "rejected", plateWidth, 27),
		row("W5", "10-2/10-3", "vacuum box", "rejected", plateWidth, 27),
		row("W6", "10-2/10-3", "vacuum box", "retested accepted", 12*25.4, 28),
		row("W7", "A4/A5", "vacuum box", "accepted", ringWidth, 28),
		row("W8", "12-2/12-3", "vacuum box", "accepted", plateWidth, 28),
	}
	for _, d := range []struct {
		row            int
		plate          string
		length, across float64
	}{{3, "9-2", 15, 640}, {4, "10-2", 8, 1120}} {
		r := rows[d.row]
		r["X"], r["Y"] = s.position(s.find(d.plate).Length-25), s.position(d.across)
		r["Defect"], r["Defect length"] = "Porosity", s.size(d.length)
	}
	rows[3]["Remarks"], rows[3]["Photo"] = "To be ground out and tested again", "photo-09.jpg"
	return rows
}

func (s *scenario) visualRows() []form.Record {
	place := func(r form.Record, label string, x, y float64) form.Record {
		r["Plate"], r["X"], r["Y"] = label, s.position(x), s.position(y)
		return r
	}
	column := s.under(0, 0)
	return []form.Record{
		place(form.Record{"ID": "V1", "Item": "dent", "Observation": "Shallow dent, 180 mm (7 in) across, no crack", "Weight": "note"}, "11-3", 1900, 500),
		place(form.Record{"ID": "V2", "Item": "weld", "Observation": "Undercut at a lap weld, 60 mm (2.4 in) long, below the limit", "Weight": "note"}, "6-3", 2100, 60),
		place(form.Record{"ID": "V3", "Item": "support", "Observation": "Pad of the column seal-welded all around, sound", "Weight": "note"}, column.Label, min(250-column.left, column.Length-100), min(250-column.bottom, column.Width-100)),
		{"ID": "V4", "Item": "sump", "Observation": "Collar of the sump sound, light scale at the bottom", "Weight": "note", "Photo": "photo-10.jpg"},
		{"ID": "V5", "Item": "coating", "Observation": "Floor bare, light even scale, blast cleaned before scanning", "Weight": "note"},
		place(form.Record{"ID": "V6", "Item": "bulge", "Observation": "Soft spot underfoot, about 0.6 m (2 ft) across", "Weight": "monitor"}, "13-2", 1500, 700),
	}
}

// under is the plate at a place in plan.
func (s *scenario) under(x, y float64) *plate {
	for _, p := range s.plates {
		if p.Row > 0 && x >= p.left && x < p.left+p.Length && y >= p.bottom && y < p.bottom+p.Width {
			return p
		}
	}
	panic(fmt.Sprintf("demo: no plate at %g, %g", x, y))
}

// photos draws the pictures and writes their rows.
func (s *scenario) photos() ([]Photo, []form.Record) {
	var photos []Photo
	var rows []form.Record
	add := func(v view, hollows []hollow, chalked string, r form.Record) {
		n := len(photos) + 1
		name := fmt.Sprintf("photo-%02d.jpg", n)
		seed := uint64(700 + n)
		photos = append(photos, Photo{Name: name, draw: func() []byte { return drawPhoto(seed, v, hollows, chalked) }})
		r["File"] = name
		rows = append(rows, r)
	}
	add(shell, nil, "", form.Record{"Direction": "west", "Caption": "General view of the annular ring from manway M1"})
	add(seam, nil, "", form.Record{"Direction": "south", "Caption": "General view along the low line to the sump"})
	for i, q := range s.pictured() {
		direction := []string{"north", "east", "south", "west"}[i%4]
		q.photo = fmt.Sprintf("photo-%02d.jpg", len(photos)+1)
		add(pitted, hollowsOf(q, i), q.plate.Label+"/"+q.id, form.Record{
			"Plate": q.plate.Label, "X": s.position(q.x), "Y": s.position(q.y), "Indication": q.id, "Direction": direction,
			"Caption": "Product-side " + q.kind + ", indication " + q.id,
		})
	}
	w := s.find("9-2")
	add(seam, []hollow{{330, 244, 9, 7, 190}, {352, 247, 6, 5, 170}}, "9-2", form.Record{
		"Plate": "9-2", "X": s.position(w.Length - 25), "Y": s.position(640), "Direction": "north", "Caption": "Porosity in the lap weld 9-2/9-3, weld W4",
	})
	add(sump, nil, "S1", form.Record{"Direction": "south", "Caption": "Opening of sump S1"})
	return photos, rows
}

// pictured are six product-side indications, the deepest first, each from
// another plate.
func (s *scenario) pictured() []*pit {
	var seen []*pit
	for _, q := range s.pits {
		if q.side == "product" && (q.kind == "pit" || q.kind == "cluster") {
			seen = append(seen, q)
		}
	}
	slices.SortStableFunc(seen, func(a, b *pit) int { return cmp.Compare(b.depth, a.depth) })
	var chosen []*pit
	for _, q := range seen {
		if len(chosen) < 6 && !slices.ContainsFunc(chosen, func(c *pit) bool { return c.plate == q.plate }) {
			chosen = append(chosen, q)
		}
	}
	return chosen
}

func hollowsOf(q *pit, seed int) []hollow {
	count := 1
	if q.kind == "cluster" {
		count = 5
	}
	seq := sequence(uint64(9000 + seed))
	hollows := []hollow{{320, 250, 30 + int(q.length/2), 26 + int(q.width/2), 150}}
	for len(hollows) < count {
		hollows = append(hollows, hollow{200 + seq.below(240), 150 + seq.below(200), 14 + seq.below(20), 12 + seq.below(18), 90 + seq.below(60)})
	}
	for range 4 {
		hollows = append(hollows, hollow{40 + seq.below(560), 110 + seq.below(300), 4 + seq.below(6), 4 + seq.below(5), 50 + seq.below(50)})
	}
	return hollows
}
