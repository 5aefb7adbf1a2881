package report

import (
	"fmt"
	"math"

	"platebook/rules/assess"
	"platebook/rules/unit"
)

// sensitivity is what would change page one's interval, one input at a time.
func (w *writer) sensitivity() []Block {
	base := w.res.State(w.res.PageOne)
	changes := w.a.Sensitivity()
	if base == nil || !base.Interval.Known || len(changes) == 0 {
		return nil
	}
	t := Table{Columns: []Column{
		{Head: "Input", Share: 2.4},
		{Head: "Changed by", Share: 1.6},
		{Head: "Interval\nyears", Align: Right, Share: 1.2},
		{Head: "Difference\nyears", Align: Right, Share: 1.2},
	}, Note: "One input at a time, the others as they are; each row is a calculation of its own, within the limits on the interval. Intervals are rounded down; a difference is that of the intervals as printed."}
	t.Rows = append(t.Rows, Row{Bold: true, Cells: []string{"As it is", "", intervalText(base.Interval), ""}})
	var longest, shortest *assess.Change
	for i := range changes {
		c := &changes[i]
		difference := none
		if c.Interval.Known {
			difference = signed(gained(base, c))
			if shortest == nil || c.Interval.V < shortest.Interval.V {
				shortest = c
			}
			if longest == nil || c.Interval.V > longest.Interval.V {
				longest = c
			}
		}
		t.Rows = append(t.Rows, Row{Cells: []string{capital(c.Input), c.Change, intervalText(c.Interval), difference}})
	}
	blocks := []Block{Heading{2, "What would change the interval"}}
	if text := w.sensitive(base, shortest, longest); text != "" {
		blocks = append(blocks, Paragraph{Text: text})
	}
	return append(blocks, t)
}

// gained is by how many years a change makes the printed interval longer.
func gained(base *assess.StateResult, c *assess.Change) float64 {
	return unit.PrintedInterval(c.Interval.V) - unit.PrintedInterval(base.Interval.V)
}

const alike = 0.05 // years: differences below it print as none

// sensitive is the table in a sentence.
func (w *writer) sensitive(base *assess.StateResult, shortest, longest *assess.Change) string {
	if shortest == nil {
		return ""
	}
	governed := base.GovernedBy.Words()
	down, up := -gained(base, shortest), gained(base, longest)
	switch {
	case down < alike && up < alike:
		return fmt.Sprintf("None of these changes moves the interval %s, which is governed by %s.", w.res.PageOne.Words(), governed)
	case down < alike:
		return fmt.Sprintf("None of these changes shortens the interval %s; the most that is gained is %s years, with %s changed by %s.", w.res.PageOne.Words(), unit.Round(up, 1), changedWords(longest), longest.Change)
	}
	s := fmt.Sprintf("The interval %s, governed by %s, answers most to %s: changed by %s it is %s years shorter", w.res.PageOne.Words(), governed, changedWords(shortest), shortest.Change, unit.Round(down, 1))
	if up >= alike {
		s += fmt.Sprintf("; the most that is gained is %s years, with %s changed by %s", unit.Round(up, 1), changedWords(longest), longest.Change)
	}
	return s + "."
}

// changedWords is the input of a change in a sentence.
func changedWords(c *assess.Change) string {
	switch c.Input {
	case "rates":
		return "the rates"
	case "floor age":
		return "the floor's age"
	}
	return "the criterion " + c.Input
}

func signed(v float64) string {
	switch {
	case math.Abs(v) < alike:
		return "0.0"
	case v > 0:
		return "+" + unit.Round(v, 1)
	}
	return Minus(unit.Round(v, 1))
}
