package recount

import (
	"math"
	"slices"

	"platebook/workbook/invented"
)

// Verdict is what the method gives for one rule on one repair. Known says
// whether it could be decided: a value within the counting's own error of its
// limit, or one that the method lets mean two things, is not.
type Verdict struct {
	OK, Known bool
	None      bool    // the rule does not apply, or there is nothing to hold it against
	Lo, Hi    float64 // the value lies between, in mm; NaN is no value
	Limit     float64
}

// Mended is what the method gives for one planned repair.
type Mended struct {
	Label     string
	Checks    map[string]Verdict
	Covers    []string // plate/ID of what it takes out
	Weld      float64  // mm
	ShellWeld float64
	Mass      float64 // kg, NaN unknown
	Zone      string
}

// MendingSums is what a tank's rows of Planned repairs add up to.
type MendingSums struct {
	Area, Weld, Mass float64 // m², m, kg
	Pieces           int
	Exact            bool // Area is: no patch stands on a plate that is replaced
}

// Sums adds up the rows: areas each place once, the steel still to be cut.
func Sums(t *invented.Tank) MendingSums {
	c := evaluate(t, change{rates: 1})
	y := newYard(c)
	out := MendingSums{Exact: true}
	var list []outline
	gone := map[*plate]bool{}
	for _, m := range y.mends {
		switch {
		case m.line == nil && !gone[m.plate]:
			gone[m.plate] = true
			out.Area += m.plate.net
		case m.line != nil && m.row.Word("Kind") != "line":
			list = append(list, m.line)
		}
		if m.patch {
			weld, _ := y.weld(m)
			out.Weld += weld / 1000
			out.Mass += blank(m)
			if !m.completed {
				out.Pieces++
			}
		}
	}
	for p := range gone {
		for _, o := range list {
			out.Exact = out.Exact && gapOfBoxes(o, y.plates[p]) > 0
		}
	}
	out.Area += covered(list)
	return out
}

// weld is the length of a patch's weld to the floor and to the shell, mm.
func (y *yard) weld(m *mend) (floor, shell float64) {
	radius := min(y.size("Patch corner radius", 50), m.long/2, m.wide/2)
	floor = 2*(m.long+m.wide) - (8-2*math.Pi)*radius
	switch {
	case m.round:
		return math.Pi * m.long, 0
	case m.atShell:
		return floor - m.long, m.long
	}
	return floor, 0
}

// blank is the mass of a patch's rectangular blank, kg.
func blank(m *mend) float64 { return 7.85 * m.long * m.wide * m.thick / 1e6 }

// Mending is what the method gives for the rows of Planned repairs, each held
// against the rules for it.
func Mending(t *invented.Tank) []Mended {
	c := evaluate(t, change{rates: 1})
	y := newYard(c)
	var out []Mended
	for _, m := range y.mends {
		w := Mended{Label: m.label, Checks: map[string]Verdict{}, Mass: math.NaN()}
		for _, l := range c.places {
			if y.takes(m, l) && (!m.patch || l.over == nil || slices.ContainsFunc(y.mends, func(o *mend) bool { return o.patch && y.takes(o, l.over) || o.plate == l.plate && o.line == nil })) {
				w.Covers = append(w.Covers, l.label)
			}
		}
		slices.Sort(w.Covers)
		switch m.row.Word("Kind") {
		case "patch":
			y.judge(m, w.Checks)
			w.Weld, w.ShellWeld = y.weld(m)
			w.Mass = blank(m)
		case "weld build-up":
			y.judgeFill(m, w.Checks)
		}
		out = append(out, w)
	}
	return out
}
