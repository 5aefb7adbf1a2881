package cell

import (
	"math"

	"platebook/rules/unit"
)

// Want says what number a column asks for.
type Want struct {
	Kind   unit.Kind
	Scale  float64 // stored units per number in the column: 25.4 for a length under (in), 1000 for (m)
	Commas bool    // other texts of the column use a decimal comma, so that 1.250 is in doubt
}

// PercentScale says how a percent was written, to find columns that mix scales.
type PercentScale uint8

// The scales.
const (
	NoPercent PercentScale = iota // the column is none
	Plain                         // 45 or 0.45, bare
	Signed                        // 45 % as text
	Formatted                     // 0.45 shown as 45 %
)

// Quantity is a number read from a cell.
type Quantity struct {
	State  State
	Value  float64      // in stored units: mm, MPa, years, percent
	Cell   float64      // the number in the unit it was written in
	Own    string       // the unit the cell carries itself (C108), "" for the column's
	AsText bool         // a number stored as text (C102)
	Plain  bool         // the cell is a number that a live formula can refer to
	Scale  float64      // Value per number in the cell, when Plain
	Scaled PercentScale // how a percent was written
}

// ParseNumber reads a number.
func ParseNumber(r Raw, w Want) (Quantity, *Problem) {
	if w.Scale == 0 {
		w.Scale = 1
	}
	if p := spoiled(r); p != nil {
		return Quantity{State: Wrong}, p
	}
	switch r.Type {
	case Blank:
		return Quantity{}, nil
	case Bool:
		return wrong(&Problem{Rule: "C101", Message: quoted(r.Text) + " is not one number"})
	case Number:
		return storedNumber(r, w)
	}
	text := trim(r.Text)
	switch {
	case text == "":
		return Quantity{}, nil
	case meansNone(text):
		return Quantity{State: Left}, nil
	}
	m, p := parseMeasure(text, w)
	if p != nil {
		return wrong(p)
	}
	q := Quantity{State: Given, Cell: m.number, Own: m.unit, AsText: true, Scale: m.scale, Value: m.number * m.scale}
	if isPercent(w.Kind) {
		q.Scaled = Plain
		if m.unit == "%" {
			q.Scaled, q.Own = Signed, ""
		}
	}
	return finite(q, text)
}

func wrong(p *Problem) (Quantity, *Problem) { return Quantity{State: Wrong}, p }

// largest is more than anything that is measured on a tank, in stored units:
// 1000 km, a thousand million years. A larger number is a slip of the keys or
// of a program, and would fill a line of every message.
const largest = 1e9

func finite(q Quantity, text string) (Quantity, *Problem) {
	switch {
	case math.IsNaN(q.Value) || math.IsInf(q.Value, 0):
		return wrong(&Problem{Rule: "C101", Message: quoted(short(text)) + " is not one number"})
	case math.Abs(q.Value) > largest || math.Abs(q.Cell) > largest:
		return wrong(&Problem{Rule: "C101", Message: quoted(short(text)) + " is larger than any measure here"})
	}
	return q, nil
}

// short is a text cut to what a message can hold.
func short(text string) string {
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return text
}

// storedNumber reads a cell that stores a number.
func storedNumber(r Raw, w Want) (Quantity, *Problem) {
	q := Quantity{State: Given, Cell: r.Number, Scale: w.Scale, Plain: true}
	switch r.Format {
	case Date:
		return wrong(&Problem{Rule: "C109", Message: dateWords(r) + " can be " + orList(dateReadings(r, "/")), Readings: dateReadings(r, "/")})
	case Time:
		return wrong(&Problem{Rule: "C109", Message: clock(r.Number) + " is a time, no number", Readings: []string{clock(r.Number)}})
	case Percent:
		switch {
		case isPercent(w.Kind):
			q.Scale, q.Scaled = 100, Formatted
		case w.Kind != unit.None && w.Kind != unit.Statistic:
			return wrong(&Problem{Rule: "C101", Message: quoted(number(r.Number*100)+" %") + " is a percentage"})
		}
	default:
		if isPercent(w.Kind) {
			q.Scaled = Plain
		}
	}
	q.Value = r.Number * q.Scale
	return finite(q, r.Text)
}

func isPercent(k unit.Kind) bool { return k == unit.Share || k == unit.Points }

// UsesDecimalComma says whether a text is a number with a decimal comma beyond
// doubt, such as 6,35; the reader asks it of a whole column before parsing.
func UsesDecimalComma(text string) bool {
	body, _ := splitUnit(tidy(trim(text)))
	n, p := numeral(body, false)
	return p == nil && n.comma
}
