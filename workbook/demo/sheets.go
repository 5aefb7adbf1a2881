package demo

import (
	"math"
	"strconv"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

// scenario is the example being written in one unit system.
type scenario struct {
	rule
	plates []*plate
	pits   []*pit
	seq    sequence
	moved  string // row key of the prove-up that found its pit on the other side
}

// coverage is what was examined of a plate.
type coverage struct {
	hand, ut, not float64
	reason        string
}

func (s *scenario) coverage(p *plate) coverage {
	near := func(x, y float64) bool {
		return p.Row > 0 && x > p.left && x < p.left+p.Length && y > p.bottom && y < p.bottom+p.Width
	}
	switch {
	case p.Type == "sump":
		return coverage{ut: 100}
	case p.Type == "annular" && p.number%4 == 1:
		return coverage{hand: 20, not: 4, reason: "Scaffold feet at the shell"}
	case p.Type == "annular":
		return coverage{hand: 19}
	case near(0, 0):
		return coverage{hand: 9, not: 6, reason: "Under the pad of the column"}
	case near(0, -sumpRadius):
		return coverage{hand: 12, not: 3, reason: "Beside the collar of the sump"}
	case p.Type == "sketch":
		return coverage{hand: 8 + float64(p.number%4)}
	}
	return coverage{hand: 4 + float64(p.number%3), ut: 0.2}
}

func (s *scenario) plateRows() []form.Record {
	var rows []form.Record
	for _, p := range s.plates {
		c := s.coverage(p)
		by, date := scanner(p)
		r := form.Record{
			"Plate": p.Label, "Type": p.Type, "Length": s.size(p.Length), "Width": s.size(p.Width),
			"MFL scanned %": math.Round(10*(100-c.hand-c.ut-c.not)) / 10, "Hand scanned %": c.hand, "UT gridded %": c.ut, "Not examined %": c.not,
			"Coating": 0.0, "Scanned by": by, "Scan date": date, "Instrument": "MFL-1",
		}
		if c.reason != "" {
			r["Reason not examined"] = c.reason
		}
		switch p.Type {
		case "annular":
			r["Start bearing"], r["End bearing"], r["Instrument"] = p.Start, p.End, "MFL-2"
		case "sump":
			r["Nominal"], r["Remarks"] = s.to(ringNominal, 0.001, 0.001), "Bottom of sump S1, gridded with UT-1"
			delete(r, "Scanned by")
			delete(r, "Scan date")
			delete(r, "Instrument")
		default:
			r["Row"], r["Position"] = strconv.Itoa(p.Row), strconv.Itoa(p.Position)
		}
		rows = append(rows, r)
	}
	return rows
}

func (s *scenario) indicationRows() []form.Record {
	var rows []form.Record
	for _, q := range s.pits {
		r := form.Record{
			"ID": q.id, "Plate": q.plate.Label, "X": s.position(q.x), "Y": s.position(q.y),
			"Length": s.position(q.length), "Width": s.position(q.width), "Side": q.side, "Method": q.method,
			"Kind": q.kind, "By": q.by, "Date": q.date,
		}
		switch q.method {
		case "visual":
			r["Depth"] = s.thickness(q.depth)
		case "UT":
			r["Remaining"] = s.thickness(q.remaining())
		default:
			r["Loss %"] = float64(q.loss)
		}
		if q.photo != "" {
			r["Photo"] = q.photo
		}
		if q.remarks != "" {
			r["Remarks"] = q.remarks
		}
		rows = append(rows, r)
	}
	return rows
}

// proveUpRows are the checks, tied to their indications, each set down a few
// millimetres off the centre where the deepest point was found.
func (s *scenario) proveUpRows() []form.Record {
	var rows []form.Record
	half := 0
	for _, q := range s.pits {
		if q.prove != "" {
			half++
		}
	}
	half /= 2
	for _, q := range s.pits {
		if q.prove == "" {
			continue
		}
		n := len(rows)
		r := form.Record{
			"ID": "U" + strconv.Itoa(n+1), "Indication": q.id, "Plate": q.plate.Label,
			"X": s.position(q.x + s.seq.between(-6, 6)), "Y": s.position(q.y + s.seq.between(-4, 4)),
			"Sound thickness": s.thickness(q.plate.sound + s.seq.between(-0.04, 0.04)),
			"Side":            q.side,
		}
		r["By"], r["Instrument"], r["Date"] = "A. Day", "UT-1", day(23)
		if n >= half/2 {
			r["Date"] = day(24)
		}
		if n >= half {
			r["By"], r["Instrument"], r["Date"] = "K. Lund", "UT-2", day(27)
		}
		if s.moved == "" && q.prove == "UT" && q.side == "soil" && q.kind == "pit" && q.plate.Row > 3 && q.loss < 33 {
			s.moved = q.plate.Label + "/U" + strconv.Itoa(n+1)
			r["Side"], r["Remarks"] = "product", "Under scale, on the product side"
		}
		if q.prove == "gauge" {
			r["Depth"], r["Instrument"] = s.thickness(q.depth+s.seq.between(-0.05, 0.05)), "PG-1"
		} else {
			r["Remaining"] = s.thickness(q.remaining() + s.seq.between(-0.06, 0.06))
		}
		rows = append(rows, r)
	}
	return rows
}

// readingRows are the sound metal: two a plate, three on long ones, and two
// within the critical zone on every ring plate.
func (s *scenario) readingRows() []form.Record {
	var rows []form.Record
	add := func(p *plate, x, y float64) {
		r := form.Record{"Plate": p.Label, "X": s.position(x), "Y": s.position(y), "Thickness": s.thickness(p.sound + 0.05*s.seq.scatter())}
		r["By"], r["Instrument"], r["Date"] = "A. Day", "UT-1", day(24)
		if p.Row > 9 || p.Type == "annular" {
			r["By"], r["Instrument"], r["Date"] = "K. Lund", "UT-2", day(28)
		}
		if p.Type == "annular" && y < 76.2 {
			r["Remarks"] = "Critical zone"
		}
		rows = append(rows, r)
	}
	for _, p := range s.plates {
		switch {
		case p.Type == "annular":
			add(p, p.Length/4, 50)
			add(p, 3*p.Length/4, 50)
			add(p, p.Length/2, 380)
		case p.Type == "sump":
			add(p, p.Length/4, p.Width/2)
			add(p, 3*p.Length/4, p.Width/2)
		case p.number%11 == 7: // a plate without: its metal is taken as nominal
		default:
			for k := range 2 + p.number%2 {
				x, y := p.Length*float64(k+1)/4, p.Width*(0.3+0.2*float64(k))
				if math.Hypot(p.left+x, p.bottom+y) < rim-60 && !overSump(p.left+x, p.bottom+y) {
					add(p, x, y)
				}
			}
		}
	}
	return rows
}

// trackRows are the strips of three whole plates.
func (s *scenario) trackRows() []form.Record {
	var rows []form.Record
	picked := 0
	for _, p := range s.plates {
		if p.Type != "rectangular" || p.Row != 11 || picked == 3 {
			continue
		}
		picked++
		by, date := scanner(p)
		const strips = 5
		for k := range strips {
			low, high := float64(k)*plateWidth/strips, float64(k+1)*plateWidth/strips
			largest := 0
			for _, q := range p.pits {
				if q.method == "MFL" && q.kind != "not relevant" && q.y >= low-60 && q.y <= high+60 {
					largest = max(largest, q.loss)
				}
			}
			rows = append(rows, form.Record{
				"Plate": p.Label, "Track": strconv.Itoa(k + 1), "Offset": s.to(low, 0.1, 0.1), "Strip width": s.to(high-low, 0.1, 0.1),
				"Start": s.size(4 * 25.4), "End": s.size(p.Length - 4*25.4), "Largest loss %": float64(largest), "By": by, "Date": date,
			})
		}
	}
	return rows
}

func (s *scenario) fixtureRows() []form.Record {
	return []form.Record{
		{"Name": "S1", "Kind": "sump", "Bearing": 180.0, "Radius": s.size(sumpRadius), "Length": s.size(sumpSize), "Width": s.size(sumpSize), "Pad": "yes"},
		{"Name": "C1", "Kind": "column", "Bearing": 0.0, "Radius": 0.0, "Diameter": s.size(columnAcross), "Pad": "yes", "Remarks": "Roof column"},
		{"Name": "M1", "Kind": "manway", "Bearing": 45.0, "Radius": s.size(radius), "Diameter": s.size(24 * 25.4)},
		{"Name": "M2", "Kind": "manway", "Bearing": 225.0, "Radius": s.size(radius), "Diameter": s.size(24 * 25.4)},
		{"Name": "N1", "Kind": "nozzle", "Bearing": 120.0, "Radius": s.size(radius), "Diameter": s.size(12 * 25.4), "Remarks": "Filling line"},
		{"Name": "N2", "Kind": "nozzle", "Bearing": 150.0, "Radius": s.size(radius), "Diameter": s.size(16 * 25.4), "Remarks": "Suction line"},
	}
}

// settlementRows are ten levels around the shell, one edge settlement, and a
// bulge and a depression in the floor, each with the inspector's disposition.
func (s *scenario) settlementRows() []form.Record {
	var rows []form.Record
	for i := range 10 {
		bearing := float64(36 * i)
		level := 4 + 9*math.Cos((bearing-40)*math.Pi/180) + s.seq.between(-1.2, 1.2)
		rows = append(rows, form.Record{"Kind": "shell", "Point": strconv.Itoa(i + 1), "Bearing": bearing, "Elevation": s.settlement(level)})
	}
	local := func(kind, point string, bearing, radius, measured float64, disposition string) form.Record {
		return form.Record{"Kind": kind, "Point": point, "Bearing": bearing, "Radius": s.size(radius), "Measured": s.settlement(measured), "Remarks": disposition}
	}
	edge := local("edge", "E1", 216, 38*25.4, 38, "Even, without a crease; lap weld beside it accepted by VT and MT. Measure again at the next inspection")
	edge["Weld angle"] = 25.0
	return append(rows, edge,
		local("bulge", "B1", 325, 24*25.4, 14, "Soft spot, observation V6; no crack by VT. Leave"),
		local("depression", "D1", 95, 30*25.4, 26, "Seams within it accepted by VT and vacuum box. No action, measure again at the next inspection"))
}

func (s *scenario) crewRows() []form.Record {
	person := func(name, method, level, certificate string, until unit.Date) form.Record {
		return form.Record{"Name": name, "Method": method, "Level": level, "Certificate": certificate, "Valid until": until}
	}
	return []form.Record{
		person("J. Roe", "MFL", "2", "M-2231", unit.NewDate(2027, 3, 31)),
		person("M. Ito", "MFL", "2", "M-2307", unit.NewDate(2028, 1, 31)),
		person("A. Day", "UT", "2", "U-0418", unit.NewDate(2027, 9, 30)),
		person("A. Day", "VT", "2", "V-0977", unit.NewDate(2027, 9, 30)),
		person("K. Lund", "UT", "2", "U-0561", unit.NewDate(2026, 12, 31)),
		person("K. Lund", "vacuum box", "2", "B-0112", unit.NewDate(2026, 12, 31)),
		person("K. Lund", "MT", "2", "T-0340", unit.NewDate(2026, 12, 31)),
		person("P. Stone", "VT", "3", "V-0031", unit.NewDate(2028, 5, 31)),
		person("P. Stone", "inspector", "", "TI-1093", unit.NewDate(2028, 5, 31)),
	}
}

func (s *scenario) instrumentRows() []form.Record {
	thin, thick := s.thickness(nominal), s.thickness(ringNominal)
	instrument := func(name, kind, serial string, due unit.Date) form.Record {
		return form.Record{"Instrument": name, "Kind": kind, "Serial": serial, "Calibration due": due}
	}
	rows := []form.Record{
		instrument("MFL-1", "MFL scanner", "10-2214", unit.NewDate(2026, 10, 31)),
		instrument("MFL-2", "MFL scanner", "10-2307", unit.NewDate(2026, 11, 30)),
		instrument("HS-1", "hand scanner", "20-0093", unit.NewDate(2026, 11, 30)),
		instrument("UT-1", "UT gauge", "30-4410", unit.NewDate(2026, 8, 31)),
		instrument("UT-2", "UT gauge", "30-4418", unit.NewDate(2026, 9, 30)),
		instrument("PG-1", "pit gauge", "40-0007", unit.NewDate(2026, 12, 31)),
		instrument("VB-1", "vacuum box", "50-0002", unit.NewDate(2026, 12, 31)),
	}
	for i, t := range []float64{thin, thick, thick, thin, thin} {
		rows[i]["Reference plate thickness"] = t
	}
	return rows
}

// checkRows are the function checks at the start and the end of each day an
// instrument was used.
func (s *scenario) checkRows() []form.Record {
	var rows []form.Record
	for _, use := range []struct {
		instrument, by string
		thickness      float64
		days           []int
	}{
		{"MFL-1", "J. Roe", nominal, []int{20, 21, 22}},
		{"MFL-2", "M. Ito", ringNominal, []int{22, 23}},
		{"HS-1", "M. Ito", ringNominal, []int{22, 23}},
		{"UT-1", "A. Day", ringNominal, []int{23, 24}},
		{"UT-2", "K. Lund", nominal, []int{27, 28}},
		{"PG-1", "A. Day", 0, []int{23, 24}},
		{"PG-1", "K. Lund", 0, []int{27}},
	} {
		for _, d := range use.days {
			for _, shift := range []string{"start", "end"} {
				r := form.Record{"Instrument": use.instrument, "Date": day(d), "Shift": shift, "Result": "pass", "By": use.by}
				if use.thickness > 0 {
					r["Reference plate thickness"] = s.thickness(use.thickness)
				}
				rows = append(rows, r)
			}
		}
	}
	return rows
}
