package workbook

import (
	"strings"

	"platebook/rules/unit"
)

// measure is what a unit measures; a header's unit has to fit its column.
type measure uint8

const (
	ofNothing measure = iota
	ofLength
	ofStress
	ofTime
	ofShare
	ofPoints
	ofAngle
	ofRate
	ofSlope
	ofMass
	ofArea
)

// written is a unit as people write it: what it measures and the stored value
// of one of it.
type written struct {
	of    measure
	scale float64
}

var writtenUnits = map[string]written{
	"mm": {ofLength, 1}, "millimetre": {ofLength, 1}, "millimetres": {ofLength, 1}, "millimeter": {ofLength, 1}, "millimeters": {ofLength, 1},
	"cm": {ofLength, 10}, "centimetre": {ofLength, 10}, "centimetres": {ofLength, 10}, "centimeter": {ofLength, 10}, "centimeters": {ofLength, 10},
	"m": {ofLength, 1000}, "metre": {ofLength, 1000}, "metres": {ofLength, 1000}, "meter": {ofLength, 1000}, "meters": {ofLength, 1000},
	"µm": {ofLength, 0.001}, "um": {ofLength, 0.001}, "micron": {ofLength, 0.001}, "microns": {ofLength, 0.001}, "micrometre": {ofLength, 0.001}, "micrometres": {ofLength, 0.001},
	"in": {ofLength, 25.4}, "inch": {ofLength, 25.4}, "inches": {ofLength, 25.4}, "ins": {ofLength, 25.4}, `"`: {ofLength, 25.4}, "″": {ofLength, 25.4}, "”": {ofLength, 25.4},
	"ft": {ofLength, 304.8}, "foot": {ofLength, 304.8}, "feet": {ofLength, 304.8}, "'": {ofLength, 304.8}, "′": {ofLength, 304.8},
	"mil": {ofLength, 0.0254}, "mils": {ofLength, 0.0254}, "thou": {ofLength, 0.0254},

	"mpa": {ofStress, 1}, "n/mm²": {ofStress, 1}, "n/mm2": {ofStress, 1}, "kpa": {ofStress, 0.001},
	"psi": {ofStress, float64(unit.PSI)}, "ksi": {ofStress, 1000 * float64(unit.PSI)},

	"years": {ofTime, 1}, "year": {ofTime, 1}, "yr": {ofTime, 1}, "yrs": {ofTime, 1}, "y": {ofTime, 1}, "a": {ofTime, 1},
	"%": {ofShare, 1}, "percent": {ofShare, 1}, "pct": {ofShare, 1},
	"points": {ofPoints, 1}, "point": {ofPoints, 1}, "pts": {ofPoints, 1}, "percentage points": {ofPoints, 1}, "% points": {ofPoints, 1},
	"°": {ofAngle, 1}, "deg": {ofAngle, 1}, "degree": {ofAngle, 1}, "degrees": {ofAngle, 1},

	"mm/year": {ofRate, 1}, "mm/yr": {ofRate, 1}, "mm/y": {ofRate, 1}, "mm/a": {ofRate, 1},
	"mils/year": {ofRate, 0.0254}, "mil/year": {ofRate, 0.0254}, "mils/yr": {ofRate, 0.0254}, "mpy": {ofRate, 0.0254},
	"in/year": {ofRate, 25.4}, "in/yr": {ofRate, 25.4},
	"mm/m": {ofSlope, 1}, "in/ft": {ofSlope, 25.4 / 0.3048},
	"kg": {ofMass, 1}, "lb": {ofMass, 0.45359237}, "lbs": {ofMass, 0.45359237}, "t": {ofMass, 1000},
	"m²": {ofArea, 1}, "m2": {ofArea, 1}, "ft²": {ofArea, 0.09290304}, "ft2": {ofArea, 0.09290304}, "mm²": {ofArea, 1e-6}, "mm2": {ofArea, 1e-6},
}

// findUnit reads a unit as people write it: no case, a full stop behind an
// abbreviation, either of the two Greek letters for micro.
func findUnit(text string) (written, bool) {
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	t = strings.ReplaceAll(t, "μ", "µ")
	if u, ok := writtenUnits[t]; ok {
		return u, true
	}
	u, ok := writtenUnits[strings.TrimSuffix(t, ".")]
	return u, ok
}

// measureOf is what a column of this kind measures.
func measureOf(k unit.Kind) measure {
	switch k {
	case unit.Thickness, unit.Position, unit.Size, unit.Height, unit.Coating, unit.Settlement:
		return ofLength
	case unit.StressKind:
		return ofStress
	case unit.Time:
		return ofTime
	case unit.Share:
		return ofShare
	case unit.Points:
		return ofPoints
	case unit.Bearing:
		return ofAngle
	case unit.RateKind:
		return ofRate
	case unit.Slope:
		return ofSlope
	case unit.MassKind:
		return ofMass
	case unit.AreaKind:
		return ofArea
	}
	return ofNothing
}

// needsUnit says whether a number of this kind means nothing without a unit:
// millimetres or inches, but not degrees or percent.
func needsUnit(k unit.Kind) bool { return k.Unit(unit.SI) != k.Unit(unit.US) }

// usualUnits names the units to write in a header, "mm or in".
func usualUnits(k unit.Kind) string {
	si, us := k.Unit(unit.SI), k.Unit(unit.US)
	if si == us {
		return si
	}
	return si + " or " + us
}
