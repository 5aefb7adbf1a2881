package invented

import (
	"math"
	"math/rand/v2"
	"strconv"

	"platebook/rules/unit"
)

// dice are the choices of one tank, the same for the same seed.
type dice struct{ *rand.Rand }

func (d dice) chance(p float64) bool { return d.Float64() < p }

func pick[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }

func round(v float64, digits int) float64 {
	p := math.Pow(10, float64(digits))
	return math.Round(v*p) / p
}

// New is the tank of a seed.
func New(seed uint64) *Tank {
	d := dice{rand.New(rand.NewPCG(seed, 653))}
	t := &Tank{Seed: seed}
	t.items(d)
	t.policies(d)
	t.floor(d)
	t.spots(d)
	t.patches(d)
	t.readings(d)
	t.planned(d)
	t.survey(d)
	return t
}

func (t *Tank) items(d dice) {
	end := unit.NewDate(2026, 1, 1) + unit.Date(d.IntN(360))
	age := pick(d, 0.5, 3, 4.2, 8, 15, 25, 31)
	installed := end - unit.Date(age*365.25) - unit.Date(30+d.IntN(30))
	ring := d.chance(0.5)
	t.Items = Row{
		"Report number": "R-1", "Revision": "A", "Report status": "preliminary", "Client": "Client A", "Site": "Site B", "Tank": "T-1",
		"Inspection start": end - unit.Date(2+d.IntN(18)), "Inspection end": end, "Report date": end + unit.Date(d.IntN(30)), "Units": "SI",
		"Specific gravity": pick(d, 0.75, 0.85, 0.95, 1.0, 1.1), "Shell height": 15000.0, "Maximum fill height": pick(d, 10200.0, 13900, 14500),
		"Commissioned": installed - unit.Date(pick(d, 0, 100, 3000)), "Diameter": pick(d, 6000.0, 9000, 12000, 15000, 18000, 24000, 30000),
		"Nominal thickness": 6.35, "Floor installed": installed, "Lap": pick(d, 0.0, 40, 50, 60), "Annular ring": "no",
		"Firm name": "Firm", "Prepared by": "A. Day", "Responsible inspector": "B. Night",
	}
	set := func(p float64, name string, values ...any) {
		if v := pick(d, values...); d.chance(p) {
			t.Items[name] = v
		}
	}
	if ring {
		t.Items["Annular ring"], t.Items["Annular nominal thickness"], t.Items["Annular width inside the shell"] = "yes", pick(d, 8.0, 9, 12), 700.0
		set(0.85, "First-course thickness as built", 12.0, 16.0, 20.0, 26.0, 34.0, 39.0)
	} else {
		set(0.5, "First-course thickness as built", 12.0)
	}
	if t.Items.Number("Diameter") > 20000 && d.chance(0.4) { // high stress: every column of the table
		t.Items["First-course thickness as built"] = pick(d, 7.0, 7.5, 8, 9, 10, 11)
	}
	set(0.3, "First-course required thickness", 6.0, 9.5)
	set(0.3, "First-course thickness now", 6.5, 9.8, 11.5)
	set(0.5, "Shell steel", "A36", "A283-C", "A516-70", "unknown", "A537-2")
	set(0.3, "Joint efficiency", 0.85, 1.0)
	set(0.3, "Allowable stress", 160.0, 171.0)
	set(0.4, "Release-prevention barrier", "yes", "no")
	set(0.3, "Projection outside the shell", 50.0, 9.0)
	if d.chance(0.4) {
		t.Items["Lining"] = pick(d, "thin film", "reinforced")
		set(0.9, "Lining installed", end-unit.Date(100+d.IntN(3900)))
		set(0.9, "Lining expected life", 5.0, 10.0, 15.0, 20.0)
		if t.Items.Word("Lining") == "reinforced" {
			set(0.6, "Reinforced lining over 1.27 mm / 0.05 in", "yes")
		}
	}
	if d.chance(0.3) {
		t.Items["Cathodic protection"] = pick(d, "recorded effective", "recorded effective", "installed")
		set(0.7, "Cathodic protection evidence", "survey report 12")
	}
	set(0.5, "Desired interval", 5.0, 8.0, 10.0, 12.0, 15.0, 20.0)
	set(0.25, "Jurisdiction limit", 5.0, 10.0, 15.0)
	set(0.4, "Plan up bearing", 30.0, 90.0, 210.0)
}

func (t *Tank) policies(d dice) {
	t.Criteria = Row{}
	set := func(p float64, name string, values ...any) {
		if v := pick(d, values...); d.chance(p) {
			t.Criteria[name] = v
		}
	}
	set(0.25, "MFL threshold", 0.0, 10.0, 15.0, 25.0)
	set(0.3, "Unproved indications", "estimate", "exclude")
	set(0.2, "Sizing allowance", 5.0, 15.0)
	set(0.15, "Sizing minimum pairs", 4.0, 12.0)
	set(0.25, "Interval rule", "initial", "subsequent")
	set(0.2, "Owner limit", 6.0, 12.0)
	set(0.2, "Bottom corrosion allowance", 0.5, 4.5)
	set(0.2, "Annular corrosion allowance", 1.0)
	set(0.4, "Annular interpolation", "linear")
	set(0.2, "Isolated pits, critical zone and ring", "general requirement")
	set(0.15, "Minimum soil-side rate", 0.05, 0.2)
	set(0.15, "Minimum product-side rate", 0.05)
	set(0.2, "Hydrotest planned", "yes")
	set(0.2, "Interval base date", "report date")
	set(0.15, "Minimum thickness", 3.0)
	set(0.2, "Joint efficiency if unknown", 0.85)
	set(0.25, "Rate basis", "plate")
	set(0.15, "Mill tolerance", 0.1, 0.4)
	set(0.1, "Assumed indication size", 40.0)
	set(0.1, "Critical zone width", 150.0)
	set(0.1, "Age for a reliable rate", 10.0)
	set(0.1, "Shortest age for a rate", 4.0)
	set(0.1, "Least examined for a rate", 50.0)
	set(0.1, "Planning interval", 6.0)
	set(0.1, "Interval cap", 15.0)
	set(0.1, "Initial interval", 12.0)
	set(0.1, "Credit cathodic protection", 3.0)
	set(0.1, "Repair threshold", 3.5)
	set(0.15, "Threshold step", 0.5)
	set(0.4, "Extreme value in interval", "yes")
	set(0.3, "Extreme value side", "product")
	set(0.3, "Extreme value minimum blocks", 12.0)
	set(0.15, "Loss bands", "10; 25; 50", "30; 60")
	if d.chance(0.5) {
		t.Criteria["Edge limit Be"], t.Criteria["Edge limit Bew"] = pick(d, 120.0, 60), pick(d, 55.0, 40)
		set(0.9, "Edge limit radius", 0.9)
	}
	set(0.1, "Bulge factor", 25.0)
}

// floor lays rows of plates, each centred by itself, then a ring and a sump.
func (t *Tank) floor(d dice) {
	diameter, lap := t.Items.Number("Diameter"), t.Items.Number("Lap")
	rim := diameter/2 - t.Items.Number("Annular width inside the shell")
	width, length := 1800.0, 6000.0
	if diameter <= 9000 {
		width, length = 1500, 3000
	}
	examined := pick(d, 98.0, 98, 98, 96, 85, 60) // of a usual plate
	rows := max(1, int(math.Ceil((2*rim-lap)/(width-lap))))
	if rows%2 == 0 {
		rows++
	}
	explicit := d.chance(0.15) // every plate with its own place and turn
	bottom := -(float64(rows)*width - float64(rows-1)*lap) / 2
	for i := range rows {
		near := max(0, bottom, -(bottom + width))
		if near < rim {
			chord := 2 * math.Sqrt(rim*rim-near*near)
			n := max(1, int(math.Ceil((chord-lap)/(length-lap))))
			left := -(float64(n)*length - float64(n-1)*lap) / 2
			for j := range n {
				t.Plates = append(t.Plates, t.plate(d, i, j, Rect{left, bottom, left + length, bottom + width}, explicit, examined))
				left += length - lap
			}
		}
		bottom += width - lap
	}
	if t.Items.Word("Annular ring") == "yes" {
		const segments = 12
		for j := range segments {
			p := Row{
				"Plate": "A" + strconv.Itoa(j+1), "Type": "annular", "Length": round(diameter*math.Pi/segments, 3), "Width": t.Items.Number("Annular width inside the shell"),
				"Start bearing": float64(360 / segments * j), "End bearing": float64(360 / segments * (j + 1)),
			}
			scan(p, 90, 8, 2)
			t.Plates = append(t.Plates, p)
		}
	}
	if d.chance(0.25) && diameter > 9000 {
		side := pick(d, 600.0, 900)
		t.Fixtures = append(t.Fixtures, Row{
			"Name": "S1", "Kind": "sump", "Bearing": pick(d, 45.0, 130, 300), "Radius": round(rim*0.4, 0), "Length": side, "Width": side,
		})
		p := Row{"Plate": "S1", "Type": "sump", "Length": side, "Width": side, "Nominal": 9.5}
		scan(p, 0, 100, 0)
		t.Plates = append(t.Plates, p)
	}
}

func (t *Tank) plate(d dice, row, position int, at Rect, explicit bool, examined float64) Row {
	p := Row{
		"Plate": strconv.Itoa(row+1) + "-" + strconv.Itoa(position+1), "Type": pick(d, "rectangular", "sketch"),
		"Length": at.X2 - at.X1, "Width": at.Y2 - at.Y1,
	}
	switch {
	case !explicit:
		p["Row"], p["Position"] = strconv.Itoa(row+1), strconv.Itoa(position+1)
		if d.chance(0.1) {
			p["Turned"] = 180.0
		}
	default:
		switch turn := pick(d, 0.0, 90, 180, 270); turn {
		case 0:
			p["Left"], p["Bottom"] = at.X1, at.Y1
		case 90:
			p["Left"], p["Bottom"], p["Turned"], p["Length"], p["Width"] = at.X2, at.Y1, turn, p["Width"], p["Length"]
		case 180:
			p["Left"], p["Bottom"], p["Turned"] = at.X2, at.Y2, turn
		case 270:
			p["Left"], p["Bottom"], p["Turned"], p["Length"], p["Width"] = at.X1, at.Y2, turn, p["Width"], p["Length"]
		}
	}
	if d.chance(0.3) {
		p["Datum corner"] = pick(d, "bottom right", "top left", "top right")
	}
	if d.chance(0.08) {
		p["Nominal"] = 8.0
	}
	if age := t.Items.Day("Inspection end") - t.Items.Day("Floor installed"); d.chance(0.1) && age > 2600 {
		p["Installed"] = t.Items.Day("Inspection end") - unit.Date(pick(d, 700, 1500, 2500))
	}
	switch {
	case d.chance(0.08):
		scan(p, 0, 98, 2)
	case d.chance(0.03):
		scan(p, 0, 0, 100)
	case d.chance(0.05):
		scan(p, 40, 10, 30)
		p["UT gridded %"] = 20.0
	default:
		scan(p, examined-3, 3, 100-examined)
	}
	return p
}

func scan(p Row, mfl, hand, not float64) {
	p["MFL scanned %"], p["Hand scanned %"], p["Not examined %"] = mfl, hand, not
	if not > 0 {
		p["Reason not examined"] = "fittings"
	}
	p["Scanned by"] = "A. Day"
}
