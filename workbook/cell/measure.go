package cell

import (
	"strings"

	"platebook/rules/unit"
)

// measure is a number with the unit its cell carries.
type measure struct {
	number float64
	unit   string  // canonical, "" for the column's
	scale  float64 // stored units per number
}

// ownUnit is a unit that a cell may carry.
type ownUnit struct {
	name  string
	scale float64
	of    dimension
}

type dimension uint8

const (
	aLength dimension = iota + 1
	aStress
	aShare
	anAngle
	aTime
	aRate
)

// ownUnits are the spellings of units in cells. The scale is in stored units.
var ownUnits = map[string]ownUnit{
	"mm": {"mm", 1, aLength}, "millimetre": {"mm", 1, aLength}, "millimetres": {"mm", 1, aLength}, "millimeter": {"mm", 1, aLength}, "millimeters": {"mm", 1, aLength},
	"cm": {"cm", 10, aLength},
	"m":  {"m", 1000, aLength}, "metre": {"m", 1000, aLength}, "metres": {"m", 1000, aLength}, "meter": {"m", 1000, aLength}, "meters": {"m", 1000, aLength},
	`"`: {"in", 25.4, aLength}, "in": {"in", 25.4, aLength}, "in.": {"in", 25.4, aLength}, "inch": {"in", 25.4, aLength}, "inches": {"in", 25.4, aLength},
	"'": {"ft", 304.8, aLength}, "ft": {"ft", 304.8, aLength}, "ft.": {"ft", 304.8, aLength}, "foot": {"ft", 304.8, aLength}, "feet": {"ft", 304.8, aLength},
	"mil": {"mil", 0.0254, aLength}, "mils": {"mil", 0.0254, aLength}, "thou": {"mil", 0.0254, aLength},
	"µm": {"µm", 0.001, aLength}, "um": {"µm", 0.001, aLength}, "micron": {"µm", 0.001, aLength}, "microns": {"µm", 0.001, aLength},
	"mpa": {"MPa", 1, aStress}, "n/mm²": {"MPa", 1, aStress}, "n/mm2": {"MPa", 1, aStress},
	"psi": {"psi", float64(unit.PSI), aStress}, "ksi": {"ksi", 1000 * float64(unit.PSI), aStress},
	"%": {"%", 1, aShare}, "percent": {"%", 1, aShare}, "pct": {"%", 1, aShare},
	"°": {"°", 1, anAngle}, "deg": {"°", 1, anAngle}, "deg.": {"°", 1, anAngle}, "degree": {"°", 1, anAngle}, "degrees": {"°", 1, anAngle},
	"y": {"years", 1, aTime}, "yr": {"years", 1, aTime}, "yrs": {"years", 1, aTime}, "year": {"years", 1, aTime}, "years": {"years", 1, aTime},
	"mm/y": {"mm/year", 1, aRate}, "mm/yr": {"mm/year", 1, aRate}, "mm/year": {"mm/year", 1, aRate},
	"mpy": {"mils/year", 0.0254, aRate}, "mils/y": {"mils/year", 0.0254, aRate}, "mils/yr": {"mils/year", 0.0254, aRate}, "mils/year": {"mils/year", 0.0254, aRate},
}

func dimensionOf(k unit.Kind) dimension {
	switch k {
	case unit.Thickness, unit.Position, unit.Size, unit.Height, unit.Coating, unit.Settlement:
		return aLength
	case unit.StressKind:
		return aStress
	case unit.Share, unit.Points:
		return aShare
	case unit.Bearing:
		return anAngle
	case unit.Time:
		return aTime
	case unit.RateKind:
		return aRate
	}
	return 0
}

var letters = strings.NewReplacer(
	"−", "-", "–", "-", "′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`, "''", `"`,
	"μ", "µ", "⁄", "/", "\u00a0", "\u00a0", "\u202f", "\u00a0", "\u2009", "\u00a0", "\t", " ",
)

// tidy makes the many letters for minus, prime, quote and blank one each.
func tidy(text string) string { return letters.Replace(text) }

// splitUnit divides a text into its number and what stands behind it.
func splitUnit(text string) (body, unitText string) {
	i := len(text)
	for i > 0 {
		c := text[i-1]
		if c >= '0' && c <= '9' || c == '.' && i > 1 && text[i-2] >= '0' && text[i-2] <= '9' && i == len(text) {
			break
		}
		if n := vulgarAt(text[:i]); n > 0 {
			break
		}
		i--
	}
	return trim(text[:i]), trim(text[i:])
}

// parseMeasure reads one number with or without a unit of its own.
func parseMeasure(text string, w Want) (measure, *Problem) {
	no := &Problem{Rule: "C101", Message: quoted(text) + " is not one number"}
	t := tidy(text)
	dim := dimensionOf(w.Kind)
	body, own := splitUnit(t)
	twoLines := strings.ContainsAny(body, "\r\n") // a number on each: which of them?
	if dim == aLength && !twoLines {
		if m, ok := feetAndInches(t); ok {
			return m, nil
		}
	}
	if body == "" || twoLines {
		return measure{}, no
	}
	m := measure{scale: w.Scale}
	if own != "" {
		u, known := ownUnits[strings.ToLower(own)]
		ratio := u.of == aShare && (w.Kind == unit.None || w.Kind == unit.Statistic)
		switch {
		case !known:
			return measure{}, no
		case ratio:
			u.scale = 0.01
		case u.of != dim:
			return measure{}, &Problem{Rule: "C101", Message: quoted(text) + " is in " + u.name + ", which does not fit here"}
		}
		m.unit, m.scale = u.name, u.scale
	}
	inches := m.scale == 25.4 || m.scale == 304.8
	if v, ok := fraction(body, inches || dim != aLength); ok {
		m.number = v
		return m, nil
	}
	n, p := numeral(body, w.Commas)
	if p != nil {
		if p.Rule == "C103" {
			p.Message = quoted(text) + " can be " + orList(p.Readings)
			return measure{}, p
		}
		return measure{}, no
	}
	m.number = n.value
	return m, nil
}

var marks = strings.NewReplacer("feet", "'", "foot", "'", "ft.", "'", "ft", "'", "inches", `"`, "inch", `"`, "in.", `"`, "in", `"`)

// feetAndInches reads 3'-6", 3' 6 1/2", 3 ft 6 in.
func feetAndInches(t string) (measure, bool) {
	t = strings.ToLower(t)
	t = marks.Replace(t)
	feet, rest, ok := strings.Cut(t, "'")
	if !ok {
		return measure{}, false
	}
	rest = trim(rest)
	rest = trim(strings.TrimPrefix(rest, "-"))
	inches, hasMark := strings.CutSuffix(rest, `"`)
	if !hasMark || strings.ContainsAny(inches, `"'`) {
		return measure{}, false
	}
	negative := strings.HasPrefix(trim(feet), "-")
	f, p := numeral(strings.TrimPrefix(trim(feet), "-"), false)
	if p != nil || f.value != float64(int64(f.value)) || f.comma {
		return measure{}, false
	}
	inches = trim(inches)
	in, ok := fraction(inches, true)
	if !ok {
		n, p := numeral(inches, false)
		if p != nil || strings.HasPrefix(inches, "-") || strings.HasPrefix(inches, "+") {
			return measure{}, false
		}
		in = n.value
	}
	if in < 0 || in >= 12 {
		return measure{}, false
	}
	v := f.value*12 + in
	if negative {
		v = -v
	}
	return measure{number: v, unit: "in", scale: 25.4}, true
}
