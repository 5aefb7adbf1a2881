package invented

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/unit"
	"platebook/workbook/textbook"
)

// The headers of each sheet in the order they are written in; those with a
// unit are lengths or thicknesses.
var sheets = []struct {
	name    string
	headers string
	rows    func(*Tank) []Row
}{
	{"Plates", "Plate; Type; Row; Position; Length (mm); Width (mm); Nominal (mm); Installed; Left (mm); Bottom (mm); Turned; Start bearing; End bearing; Datum corner; MFL scanned %; Hand scanned %; UT gridded %; Not examined %; Reason not examined; Scanned by; Scan date", func(t *Tank) []Row { return t.Plates }},
	{"Indications", "ID; Plate; X (mm); Y (mm); Length (mm); Width (mm); Side; Method; Loss %; Remaining (mm); Depth (mm); Kind", func(t *Tank) []Row { return t.Indications }},
	{"Prove-ups", "ID; Indication; Plate; X (mm); Y (mm); Remaining (mm); Depth (mm); Sound thickness (mm); Side", func(t *Tank) []Row { return t.ProveUps }},
	{"Readings", "Plate; X (mm); Y (mm); Thickness (mm)", func(t *Tank) []Row { return t.Readings }},
	{"Visual", "ID; Plate; X (mm); Y (mm); Item; Observation; Weight", func(t *Tank) []Row { return t.Visual }},
	{"Existing patches", "Patch; Plate; X (mm); Y (mm); Length (mm); Width (mm); Thickness (mm); Installed; Shape", func(t *Tank) []Row { return t.Patches }},
	{"Planned repairs", "Repair; Kind; Plate; X (mm); Y (mm); Length (mm); Width (mm); Thickness (mm); Shape; Indications; Status; Completed; Retest; Remarks", func(t *Tank) []Row { return t.Repairs }},
	{"Fixtures", "Name; Kind; Bearing; Radius (mm); Length (mm); Width (mm)", func(t *Tank) []Row { return t.Fixtures }},
	{"Settlement", "Kind; Point; Bearing; Elevation (mm); Radius (mm); Measured (mm); Weld angle", func(t *Tank) []Row { return t.Settlement }},
}

// The items of the Tank sheet that carry a unit, and what one of it is in mm
// or MPa.
var (
	heights     = []string{"Diameter", "Shell height", "Maximum fill height"}
	thicknesses = []string{
		"First-course thickness as built", "First-course thickness now", "First-course required thickness", "Nominal thickness", "Lap",
		"Annular nominal thickness", "Annular width inside the shell", "Projection outside the shell",
	}
)

// The criteria that are lengths in mm and in, with their defaults in mm. A
// workbook in US units gives them all, converted: its own defaults are rounded
// anew.
var lengthCriteria = map[string]float64{
	"Minimum thickness": 2.54, "Minimum thickness, barrier": 1.27, "Minimum thickness, reinforced lining": 1.27,
	"Mill tolerance": 0.25, "Position tolerance": 25, "Assumed indication size": 25, "Critical zone width": 76.2,
	"Bottom corrosion allowance": 0, "Annular corrosion allowance": 0, "Projection minimum": 9.525, "Threshold step": 0.25,
	"Patch overlap": 50, "Patch weld clearance": 50, "Patch minimum": 150, "Patch minimum over weld": 300, "Patch gap": 50,
	"Patch size step": 10, "Patch corner radius": 50, "Tombstone distance": 150, "Critical patch length": 609.6,
	"Critical patch thickness": 6.35, "UT tolerance": 0.5, "Matching gate": 125, "Kerf": 3, "Edge trim": 10, "Smallest offcut": 300,
}

const (
	foot         = 304.8
	inch         = 25.4
	psi          = 0.006894757293168361 // MPa
	mil          = 0.0254               // mm
	bulgeDefault = 30.833333            // mm/m; one in/ft is 1000/12 of it
)

// Text is the tank as the readable text of a workbook.
func (t *Tank) Text(system unit.System) string {
	var b strings.Builder
	us := system == unit.US
	b.WriteString("[Tank]\nItem | Value | Unit | Note\n")
	for _, name := range names(t.Items) {
		v, u := t.Items[name], ""
		switch n, isNumber := v.(float64); {
		case name == "Units":
			v = system.String()
		case !isNumber:
		case slices.Contains(heights, name):
			v, u = n/1000, "m"
			if us {
				v, u = n/foot, "ft"
			}
		case slices.Contains(thicknesses, name):
			v, u = n, "mm"
			if us {
				v, u = n/inch, "in"
			}
		case name == "Allowable stress":
			v, u = n, "MPa"
			if us {
				v, u = n/psi, "psi"
			}
		}
		b.WriteString(name + " | " + text(v) + " | " + u + "\n")
	}
	b.WriteString("[Criteria]\nCriterion | Value | Unit | Default | Source | Note\n")
	criteria := Row{}
	if us {
		for name, v := range lengthCriteria {
			criteria[name] = v
		}
		criteria["Bulge factor"] = bulgeDefault
		criteria["Stock sheets"] = "59.05511811x236.2204724; 78.74015748x236.2204724; 98.42519685x393.7007874"
	}
	for name, v := range t.Criteria {
		criteria[name] = v
	}
	for _, name := range names(criteria) {
		v := criteria[name]
		if n, ok := v.(float64); ok && us {
			_, isLength := lengthCriteria[name]
			switch {
			case isLength, name == "Repair threshold", name == "Patch thickness", name == "Edge limit Be", name == "Edge limit Bew":
				v = n / inch
			case name == "Minimum soil-side rate", name == "Minimum product-side rate":
				v = n / mil
			case name == "Bulge factor":
				v = n * 12 / 1000
			case name == "Edge limit radius":
				v = n / 0.3048
			}
		}
		b.WriteString(name + " | " + text(v) + " | | | | invented\n")
	}
	for _, s := range sheets {
		rows := s.rows(t)
		if len(rows) == 0 && s.name != "Indications" && s.name != "Plates" {
			continue
		}
		b.WriteString("[" + s.name + "]\n")
		headers := strings.Split(s.headers, "; ")
		line := make([]string, len(headers))
		for i, h := range headers {
			line[i] = h
			if us {
				line[i] = strings.Replace(h, "(mm)", "(in)", 1)
			}
		}
		b.WriteString(strings.Join(line, " | ") + "\n")
		for _, r := range rows {
			for i, h := range headers {
				name, isLength := strings.CutSuffix(h, " (mm)")
				v := r[name]
				if n, ok := v.(float64); ok && isLength && us {
					v = n / inch
				}
				line[i] = text(v)
			}
			b.WriteString(strings.Join(line, " | ") + "\n")
		}
	}
	return b.String()
}

// Bytes is the tank as a workbook.
func (t *Tank) Bytes(system unit.System) ([]byte, error) { return textbook.Build(t.Text(system)) }

func text(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	case unit.Date:
		return v.String()
	case string:
		if strings.Trim(v, "0123456789.-") == "" && v != "" {
			return strconv.Quote(v)
		}
		return v
	}
	return ""
}

func names(r Row) []string {
	list := make([]string, 0, len(r))
	for name := range r {
		list = append(list, name)
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Compare(a, b) })
	return list
}
