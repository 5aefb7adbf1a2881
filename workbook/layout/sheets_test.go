package layout

import (
	"slices"
	"strings"
	"testing"

	"platebook/rules/unit"
)

// The contract with the inspector: every sheet with its headers, required
// ones marked *, in any order. A change here is a change of the contract.
var contract = map[string]string{
	"Guide":            ``,
	"Tank":             `Report number*, Revision*, Revision note, Report status*, Client*, Site*, Tank*, Type of inspection, Reason for inspection, Inspection start*, Inspection end*, Report date*, Units*, Product, Previous product, Specific gravity*, Maximum fill height*, Commissioned*, Service change date, Previous internal inspection, Previous report number, Previous workbook, Diameter*, Shell height*, Construction standard, First-course thickness as built, First-course thickness now, First-course required thickness, Shell steel, Allowable stress, Joint efficiency, Nominal thickness*, Floor installed*, Lap, Floor slope, Foundation, Annular ring, Annular nominal thickness, Annular width inside the shell, Projection outside the shell, Release-prevention barrier, Leak detection, Reinforced lining over 1.27 mm / 0.05 in, Lining, Lining installed, Lining expected life, Cathodic protection, Cathodic protection evidence, Plan up bearing, Plan view, Datum, Desired interval, Jurisdiction limit, Owner instruction, Firm name*, Firm address, Firm number or accreditation, Logo, Page size, Prepared by*, Reviewed by, Responsible inspector*, Inspector number, Prepared by date, Reviewed by date, Responsible inspector date`,
	"Plates":           `Plate*, Type*, Row, Position, Length*, Width*, Nominal, Installed, Left, Bottom, Turned, Start bearing, End bearing, Datum corner, Previous plate, MFL scanned %, Hand scanned %, UT gridded %, Not examined %, Reason not examined, Coating, Scanned by, Scan date, Instrument, Remarks`,
	"Indications":      `ID*, Plate*, X*, Y*, Length, Width, Side*, Method*, Loss %, Remaining, Depth, Kind, By, Date, Photo, Remarks`,
	"Prove-ups":        `ID*, Indication, Plate*, X, Y, Remaining, Depth, Sound thickness, Side, Through coating, By, Date, Instrument, Remarks`,
	"Readings":         `Plate*, X, Y, Thickness*, By, Date, Instrument, Remarks`,
	"Photos":           `File*, Plate, X, Y, Indication, Direction, Caption`,
	"Tracks":           `Plate*, Track*, Offset*, Strip width*, Start, End, Largest loss %, By, Date`,
	"Visual":           `ID*, Plate, X, Y, Item, Observation*, Weight, Photo`,
	"Welds":            `ID*, Seam*, X, Y, Bearing, Method*, Tested length, Result*, Defect, Defect length, By, Date, Photo, Remarks`,
	"Fixtures":         `Name*, Kind*, Bearing, Radius, Length, Width, Diameter, Pad, Remarks`,
	"Existing patches": `Patch*, Plate*, X*, Y*, Length*, Width*, Thickness, Installed, Shape`,
	"Planned repairs":  `Repair*, Kind*, Plate*, X, Y, Length, Width, Thickness, Shape, Indications, Status, Completed, Retest, Remarks`,
	"Settlement":       `Kind*, Point*, Bearing, Elevation, Radius, Measured, Weld angle, Remarks`,
	"Crew":             `Name*, Employer, Method*, Level, Certificate*, Valid until*`,
	"Instruments":      `Instrument*, Kind*, Serial, Calibration due*, Reference plate thickness`,
	"Checks":           `Instrument*, Date*, Shift, Reference plate thickness, Result*, By`,
	"Criteria":         `Criterion*, Value, Unit, Default, Source, Note`,
	"Report":           `Section*, Include, Text`,
	"Answers":          `Finding*, Answer*, By*, Date*, Until`,
}

func TestSheetsKeepTheContract(t *testing.T) {
	if len(Sheets) != len(contract) {
		t.Errorf("%d sheets, contract has %d", len(Sheets), len(contract))
	}
	for _, s := range Sheets {
		want, ok := contract[s.Name]
		if !ok {
			t.Errorf("sheet %s is not in the contract", s.Name)
			continue
		}
		var wanted []string
		if want != "" {
			wanted = strings.Split(want, ", ")
		}
		var got []string
		for _, c := range s.Columns {
			h := c.Header
			if c.Required {
				h += "*"
			}
			got = append(got, h)
		}
		slices.Sort(got)
		slices.Sort(wanted)
		if !slices.Equal(got, wanted) {
			t.Errorf("%s\n got %q\nwant %q", s.Name, got, wanted)
		}
	}
}

func TestEachColumnMakesSense(t *testing.T) {
	for _, s := range Sheets {
		seen := map[string]string{}
		seldom := false
		for _, c := range s.Columns {
			place := s.Name + "." + c.Header
			for _, h := range append([]string{c.Header}, c.Also...) {
				if first, ok := seen[fold(h)]; ok {
					t.Errorf("%s: %q also names %s", place, h, first)
				}
				seen[fold(h)] = c.Header
			}
			if (c.Type == Word) != (len(c.Words) > 0) {
				t.Errorf("%s: words belong to Word columns, and each has some", place)
			}
			for a, w := range c.Aliases {
				if a != strings.ToLower(a) || !slices.Contains(c.Words, w) {
					t.Errorf("%s: alias %q of %q", place, a, w)
				}
				if slices.ContainsFunc(c.Words, func(w string) bool { return strings.EqualFold(w, a) }) {
					t.Errorf("%s: alias %q is a word itself", place, a)
				}
			}
			if c.Help == "" || !strings.HasSuffix(c.Help, ".") {
				t.Errorf("%s: help %q", place, c.Help)
			}
			if c.Low > c.High || (c.Low == 0 && c.High > 0 && !c.ZeroOK) {
				t.Errorf("%s: range %g to %g", place, c.Low, c.High)
			}
			if c.Signed && c.High != 0 {
				t.Errorf("%s: signed with a range", place)
			}
			if s.Items != (c.Group != "") {
				t.Errorf("%s: items and only items stand in groups", place)
			}
			if seldom && !c.Seldom {
				t.Errorf("%s stands right of the folded columns", place)
			}
			seldom = c.Seldom
			if c.Seldom && c.Required {
				t.Errorf("%s is needed and folded away", place)
			}
		}
		for _, k := range s.Key {
			if !s.Items && s.Column(k) == nil {
				t.Errorf("%s: key column %s is absent", s.Name, k)
			}
		}
	}
}

// Below 0 only Left, Bottom, X, Y, Turned, Elevation and Measured are values.
func TestSignedColumns(t *testing.T) {
	signed := map[string]bool{"Left": true, "Bottom": true, "X": true, "Y": true, "Turned": true, "Elevation": true, "Measured": true}
	for _, s := range Sheets {
		for _, c := range s.Columns {
			if c.Signed != signed[c.Header] {
				t.Errorf("%s.%s: signed %v", s.Name, c.Header, c.Signed)
			}
		}
	}
}

func TestASingleLetterIsNeverASide(t *testing.T) {
	for _, name := range []string{"Indications", "Prove-ups"} {
		side := Find(name).Column("Side")
		for _, letter := range []string{"T", "B", "I", "O", "t", "b", "i", "o", "P", "S", "U"} {
			if w, ok := side.Word(letter); ok {
				t.Errorf("%s: %s read as %s", name, letter, w)
			}
		}
		if w, ok := side.Word(" Soil  Side "); !ok || w != "soil" {
			t.Errorf("%s: soil side read as %q, %v", name, w, ok)
		}
	}
}

func TestTitlesCarryTheUnit(t *testing.T) {
	for _, c := range []struct{ sheet, header, si, us string }{
		{"Plates", "Length", "Length (mm)", "Length (in)"},
		{"Plates", "Nominal", "Nominal (mm)", "Nominal (in)"},
		{"Plates", "Coating", "Coating (µm)", "Coating (mil)"},
		{"Plates", "MFL scanned %", "MFL scanned %", "MFL scanned %"},
		{"Plates", "Turned", "Turned", "Turned"},
		{"Plates", "Plate", "Plate", "Plate"},
		{"Fixtures", "Radius", "Radius (mm)", "Radius (in)"},
		{"Welds", "Tested length", "Tested length (mm)", "Tested length (in)"},
		{"Settlement", "Elevation", "Elevation (mm)", "Elevation (in)"},
	} {
		col := Find(c.sheet).Column(c.header)
		if got := col.Title(unit.SI); got != c.si {
			t.Errorf("%s.%s SI: %q, want %q", c.sheet, c.header, got, c.si)
		}
		if got := col.Title(unit.US); got != c.us {
			t.Errorf("%s.%s US: %q, want %q", c.sheet, c.header, got, c.us)
		}
	}
}
