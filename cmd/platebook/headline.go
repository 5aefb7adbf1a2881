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
	fmt.Fprintf(t.out, "  smallest remaining, %s: soil side %s%s, product side %s%s\n",
		a.Result.PageOne.Words(), text(s.SoilMin), after(" at ", s.SoilMinAt), text(s.ProductMin), after(" at ", s.ProductMinAt))
	left := ""
	if s.MRT.Known && s.MRTYears.Known {
		left = unit.IntervalText(s.MRTYears.V) + " years"
	}
	fmt.Fprintf(t.out, "  required %s; minimum remaining thickness %s%s\n", text(s.Required), text(s.MRT), after(" after ", left))
	if !s.Interval.Known {
		fmt.Fprintf(t.out, "  no interval could be calculated\n")
		return
	}
	date := "none: repair before return to service"
	if s.NextDate != 0 {
		date = s.NextDate.String()
	}
	fmt.Fprintf(t.out, "  calculated interval %s years, governed by %s; calculated next date %s\n", unit.IntervalText(s.Interval.V), s.GovernedBy.Words(), date)
}

// after is a word and what follows it, nothing where nothing follows.
func after(word, what string) string {
	if what == "" {
		return ""
	}
	return word + what
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
