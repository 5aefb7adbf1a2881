package step

import (
	"math"
	"slices"

	"platebook/rules/unit"
)

// Show prints a value of a step: one more digit than a table, years with
// three decimals, and in US a rate in inches so that the numbers of a formula
// fit together.
func Show(k unit.Kind, s unit.System, v float64) string {
	switch {
	case k == unit.Time:
		return unit.Round(v, 3)
	case k == unit.RateKind && s == unit.US:
		return unit.Round(v/25.4, 5)
	case (k == unit.None || k == unit.Number) && v == math.Trunc(v):
		return unit.Round(v, 0) // a count
	}
	return k.Text(s, v, 1)
}

// UnitOf is the unit that goes with Show.
func UnitOf(k unit.Kind, s unit.System) string {
	if k == unit.RateKind && s == unit.US {
		return "in/year"
	}
	return k.Unit(s)
}

// Symbols is the formula in symbols, in the workbook's unit system.
func (s Step) Symbols(sys unit.System) string { return s.formula(sys).Text(nil) }

// Given is an input's number without its unit, and yes or no where the formula
// only asks whether it is so.
func (s Step) Given(in Input, sys unit.System) string {
	if in.Values == nil && slices.Contains(s.Formula.Choices(), in.Symbol) {
		if in.Value != 0 {
			return "yes"
		}
		return "no"
	}
	return Show(in.Kind, sys, in.Value)
}

func (s Step) formula(sys unit.System) Formula {
	if sys == unit.US && !s.US.IsZero() {
		return s.US
	}
	return s.Formula
}

// Result is the value with its unit, or the reason there is none.
func (s Step) Result(sys unit.System) string {
	if !s.Known {
		return "not known: " + s.Why
	}
	t := Show(s.Kind, sys, s.Value)
	if u := UnitOf(s.Kind, sys); u != "" {
		t += " " + u
	}
	return t
}

// Verdict is "3.810 mm ≥ 2.540 mm: pass", "" without a limit. Where rounding
// would show value and limit alike beside a fail, more digits are printed.
func (s Step) Verdict(sys unit.System) string {
	ok, known := s.OK()
	if !known {
		return ""
	}
	a, b := Show(s.Kind, sys, s.Value), Show(s.Kind, sys, s.Limit.Value)
	for extra := 2; !ok && a == b && extra < 9; extra++ {
		a, b = s.Kind.Text(sys, s.Value, extra), s.Kind.Text(sys, s.Limit.Value, extra)
	}
	op, word := s.Limit.Op, "pass"
	if !ok {
		word = "fail"
		op = map[string]string{"≥": "<", "≤": ">"}[op]
	}
	u := UnitOf(s.Kind, sys)
	if u != "" {
		u = " " + u
	}
	return a + u + " " + op + " " + b + u + ": " + word
}
