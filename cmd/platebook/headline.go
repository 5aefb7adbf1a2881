package main

import (
	"fmt"

	"platebook/rules"
	"platebook/rules/unit"
)

// headline prints the few figures a person looks for first.
func (t *talk) headline(a *rules.Assessment) {
	if t.quiet || a.Result == nil {
		return
	}
	sys := a.Inspection.Units
	text := func(m unit.Maybe[unit.Length]) string {
		if !m.Known {
			return "not known"
		}
		return unit.Thickness.TextUnit(sys, float64(m.V), 0)
	}
	s := a.Result.State(a.Result.PageOne)
	if s == nil {
		return
	}
	standing, _ := a.Standing()
	fmt.Fprintf(t.out, "%s\n", standing)
	fmt.Fprintf(t.out, "  smallest remaining, %s: soil side %s at %s, product side %s at %s\n",
		a.Result.PageOne.Words(), text(s.SoilMin), orNone(s.SoilMinAt), text(s.ProductMin), orNone(s.ProductMinAt))
	fmt.Fprintf(t.out, "  required %s; minimum remaining thickness %s after %s\n", text(s.Required), text(s.MRT), years(s.MRTYears))
	if !s.Interval.Known {
		fmt.Fprintf(t.out, "  no interval could be calculated\n")
		return
	}
	date := "none: repair before return to service"
	if s.NextDate != 0 {
		date = s.NextDate.String()
	}
	fmt.Fprintf(t.out, "  calculated interval %s years, governed by %s; calculated next date %s\n", unit.IntervalText(s.Interval.V), s.GovernedBy, date)
}

func orNone(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

func years(m unit.Maybe[unit.Years]) string {
	if !m.Known {
		return "an unknown time"
	}
	return unit.Time.TextUnit(unit.SI, float64(m.V), 0)
}
