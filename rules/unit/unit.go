// Package unit holds the typed quantities of a floor inspection, their exact
// conversion between SI and US customary units, and how each is printed.
//
// Values are SI inside: a Length is millimetres, a Rate millimetres per year.
// They are converted once on reading and once on printing.
package unit

import "math"

// The quantities, each in the unit it is stored in.
type (
	Length   float64 // mm
	Years    float64 // years of 365.25 days
	Rate     float64 // mm/year, loss positive
	Area     float64 // m²
	Stress   float64 // MPa
	Mass     float64 // kg
	Angle    float64 // degrees
	Percent  float64 // 45 means 45 %
	Ratio    float64 // no unit
	Count    float64 // whole numbers
	Gradient float64 // mm/m
)

// Exact conversion factors.
//
// Source: NIST SP 811 (2008), Appendix B: 1 in = 25.4 mm and 1 ft = 304.8 mm
// exactly; 1 psi = 6894.757293168361 Pa; 1 lb = 0.45359237 kg exactly.
const (
	Inch    Length = 25.4
	Foot    Length = 304.8
	Metre   Length = 1000
	Mil     Length = 0.0254
	Micron  Length = 0.001
	PSI     Stress = 0.006894757293168361
	Pound   Mass   = 0.45359237
	SqFoot  Area   = 0.09290304
	MilYear Rate   = 0.0254
)

// Maybe is a value that may be unknown. The zero Maybe is unknown; an unknown
// value is never a zero.
type Maybe[T ~float64] struct {
	V     T
	Known bool
}

// Some is a known value. A NaN or an infinite number is unknown.
func Some[T ~float64](v T) Maybe[T] {
	if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
		return Maybe[T]{}
	}
	return Maybe[T]{V: v, Known: true}
}

// Or is the value, or d when it is unknown.
func (m Maybe[T]) Or(d T) T {
	if m.Known {
		return m.V
	}
	return d
}

// Min is the lesser of two; an unknown one does not count.
func (m Maybe[T]) Min(o Maybe[T]) Maybe[T] {
	if !m.Known || (o.Known && o.V < m.V) {
		return o
	}
	return m
}

// Max is the greater of two; an unknown one does not count.
func (m Maybe[T]) Max(o Maybe[T]) Maybe[T] {
	if !m.Known || (o.Known && o.V > m.V) {
		return o
	}
	return m
}

// Float is the bare number and whether it is known.
func (m Maybe[T]) Float() (float64, bool) { return float64(m.V), m.Known }

// System is the unit system a workbook is written in.
type System uint8

// The two systems.
const (
	SI System = iota
	US
)

func (s System) String() string {
	if s == US {
		return "US"
	}
	return "SI"
}
