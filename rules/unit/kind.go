package unit

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Kind says what a number measures, and so in which unit and with how many
// decimals it is printed.
type Kind uint8

// The kinds. Thickness, Position, Settlement, Size and Height are all lengths
// in mm that print differently.
const (
	None       Kind = iota // a pure number
	Thickness              // mm, in
	Position               // mm, in
	Size                   // mm, in: plate and patch dimensions
	Height                 // m, ft: diameter, heights (stored in mm)
	Coating                // µm, mil (stored in mm)
	Settlement             // mm, in
	RateKind               // mm/year, mils/year
	AreaKind               // m², ft²
	StressKind             // MPa, psi
	MassKind               // kg, lb
	Time                   // years
	Share                  // %
	Points                 // percentage points
	Bearing                // degrees
	Number                 // a count
	Statistic              // a ratio printed with four digits
	Slope                  // mm/m, in/ft (stored in mm/m)
	DateKind               // a spreadsheet date serial
)

type form struct {
	unit     [2]string  // SI, US
	factor   [2]float64 // stored value per printed unit
	decimals [2]int
	digits   int // significant digits instead of decimals, when not 0
}

var forms = [...]form{
	None:       {decimals: [2]int{3, 3}, factor: [2]float64{1, 1}},
	Thickness:  {unit: [2]string{"mm", "in"}, factor: [2]float64{1, 25.4}, decimals: [2]int{2, 3}},
	Position:   {unit: [2]string{"mm", "in"}, factor: [2]float64{1, 25.4}, decimals: [2]int{0, 1}},
	Size:       {unit: [2]string{"mm", "in"}, factor: [2]float64{1, 25.4}, decimals: [2]int{0, 1}},
	Height:     {unit: [2]string{"m", "ft"}, factor: [2]float64{1000, 304.8}, decimals: [2]int{2, 2}},
	Coating:    {unit: [2]string{"µm", "mil"}, factor: [2]float64{0.001, 0.0254}, decimals: [2]int{0, 0}},
	Settlement: {unit: [2]string{"mm", "in"}, factor: [2]float64{1, 25.4}, decimals: [2]int{1, 2}},
	RateKind:   {unit: [2]string{"mm/year", "mils/year"}, factor: [2]float64{1, 0.0254}, decimals: [2]int{3, 1}},
	AreaKind:   {unit: [2]string{"m²", "ft²"}, factor: [2]float64{1, 0.09290304}, decimals: [2]int{2, 1}},
	StressKind: {unit: [2]string{"MPa", "psi"}, factor: [2]float64{1, 0.006894757293168361}, decimals: [2]int{1, 0}},
	MassKind:   {unit: [2]string{"kg", "lb"}, factor: [2]float64{1, 0.45359237}, decimals: [2]int{1, 0}},
	Time:       {unit: [2]string{"years", "years"}, factor: [2]float64{1, 1}, decimals: [2]int{1, 1}},
	Share:      {unit: [2]string{"%", "%"}, factor: [2]float64{1, 1}, decimals: [2]int{1, 1}},
	Points:     {unit: [2]string{"points", "points"}, factor: [2]float64{1, 1}, decimals: [2]int{1, 1}},
	Bearing:    {unit: [2]string{"°", "°"}, factor: [2]float64{1, 1}, decimals: [2]int{1, 1}},
	Number:     {factor: [2]float64{1, 1}},
	Statistic:  {factor: [2]float64{1, 1}, digits: 4},
	Slope:      {unit: [2]string{"mm/m", "in/ft"}, factor: [2]float64{1, 25.4 / 0.3048}, decimals: [2]int{2, 3}},
	DateKind:   {factor: [2]float64{1, 1}},
}

// Unit is the printed unit, "" for a pure number.
func (k Kind) Unit(s System) string { return forms[k].unit[s] }

// Factor is the stored value of one printed unit: 25.4 for a Thickness in US.
func (k Kind) Factor(s System) float64 { return forms[k].factor[s] }

// Decimals is the number of printed decimals.
func (k Kind) Decimals(s System) int { return forms[k].decimals[s] }

// In is the stored value v expressed in the printed unit.
func (k Kind) In(s System, v float64) float64 {
	if f := forms[k].factor[s]; f != 1 {
		return v / f
	}
	return v
}

// Text prints v, half away from zero, without its unit. extra asks for more
// decimals than usual (a calculation step prints one more).
func (k Kind) Text(s System, v float64, extra int) string {
	v = k.In(s, v)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	if k == DateKind {
		return DateOf(v).String()
	}
	if n := forms[k].digits; n > 0 && math.Abs(v) >= math.Pow10(n+extra) {
		return Round(v, 0) // never a power of ten
	} else if n > 0 {
		return strconv.FormatFloat(v, 'g', n+extra, 64)
	}
	if forms[k].factor[s] != 1 {
		v = Noiseless(v) // 0.375 in, stored as 9.524999999999999 mm, is a tie still
	}
	return Round(v, forms[k].decimals[s]+extra)
}

// Parts prints the parts of a whole so that they make up the whole as it is
// printed: each is rounded down, and the units of the last digit still missing
// go to the largest remainders, the first among equals.
// Source: largest remainder method (Hamilton's), common practice.
// Check: 47, 16, 15.8, 12, 6.1, 3.1 hundredths in tenths → 5, 2, 1, 1, 1, 0, TestParts.
func (k Kind) Parts(s System, parts []float64) []string {
	const noise = 1e-9 // of the last digit: what adding up leaves
	last := math.Pow10(-forms[k].decimals[s])
	units, rests := make([]float64, len(parts)), make([]float64, len(parts))
	order := make([]int, len(parts))
	whole, given := 0.0, 0.0
	for i, v := range parts {
		v = k.In(s, v)
		units[i] = math.Floor(v/last + noise)
		rests[i], order[i] = v/last-units[i], i
		whole, given = whole+v, given+units[i]
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if math.Abs(rests[a]-rests[b]) < noise {
			return 0
		}
		return cmp.Compare(rests[b], rests[a])
	})
	for _, i := range order {
		if given >= math.Floor(whole/last+0.5+noise) {
			break
		}
		units[i]++
		given++
	}
	out := make([]string, len(parts))
	for i := range out {
		out[i] = Round(units[i]*last, forms[k].decimals[s])
	}
	return out
}

// TextUnit prints v with its unit: "6.35 mm", "45.0 %", "12.0°".
func (k Kind) TextUnit(s System, v float64, extra int) string {
	t, u := k.Text(s, v, extra), k.Unit(s)
	switch u {
	case "", "°":
		return t + u
	}
	return t + " " + u
}

// Round prints v with the given decimals, half away from zero. The tie is
// judged on the shortest decimal text of v, so 2.675 rounds to 2.68.
func Round(v float64, decimals int) string {
	short := strconv.FormatFloat(math.Abs(v), 'f', -1, 64)
	whole, frac, _ := strings.Cut(short, ".")
	if len(frac) > decimals {
		up := frac[decimals] >= '5'
		digits := []byte(whole + frac[:decimals])
		for i := len(digits) - 1; up && i >= 0; i-- {
			if digits[i] == '9' {
				digits[i] = '0'
				continue
			}
			digits[i]++
			up = false
		}
		if up {
			digits = append([]byte{'1'}, digits...)
		}
		n := len(digits) - decimals
		whole, frac = string(digits[:n]), string(digits[n:])
	}
	frac += strings.Repeat("0", decimals-len(frac))
	out := whole
	if decimals > 0 {
		out += "." + frac
	}
	if v < 0 && strings.Trim(out, "0.") != "" {
		return "-" + out
	}
	return out
}

// IntervalText prints an interval rounded down to a tenth of a year, so that
// a printed interval is never longer than the calculated one.
// The guard of 1e-9 keeps 12.0 from printing as 11.9.
func IntervalText(v Years) string { return Round(PrintedInterval(v), 1) }

// PrintedInterval is an interval as it is printed, in years.
func PrintedInterval(v Years) float64 { return math.Floor(10*(float64(v)+1e-9)) / 10 }

// Restoring prints a number with the digits that restore what was typed, and
// without the noise of a conversion.
func Restoring(v float64) string { return strconv.FormatFloat(Noiseless(v), 'f', -1, 64) }

// Noiseless is a number to 12 digits, without the noise behind them.
func Noiseless(v float64) float64 {
	n, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return n
}
