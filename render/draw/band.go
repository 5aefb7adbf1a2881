package draw

import (
	"slices"
	"strconv"

	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// scale is bands of a quantity with a letter and a shade each, the mildest
// first.
type scale struct {
	edges []float64 // between the bands, ascending; a lower edge belongs to its band
	names []string
	rises bool // greater is worse
}

// lossScale is the loss bands in force. Without any, the default ones.
func lossScale(a *rules.Assessment) scale {
	var edges []float64
	if a.Inspection != nil && a.Inspection.Criteria != nil {
		edges = slices.Clone(a.Inspection.Criteria.Get(criteria.LossBands).Numbers)
	}
	if len(edges) == 0 {
		edges = slices.Clone(criteria.Defaults(unit.SI).Get(criteria.LossBands).Numbers)
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	if len(edges) > 0 && edges[0] <= 0 {
		edges = edges[1:]
	}
	s := scale{edges: edges, rises: true}
	if len(edges) == 0 {
		s.names = []string{"all losses"}
		return s
	}
	pct := func(v float64) string { return trimmed(v) }
	s.names = append(s.names, "under "+pct(edges[0])+" %")
	for i := 1; i < len(edges); i++ {
		s.names = append(s.names, pct(edges[i-1])+" to under "+pct(edges[i])+" %")
	}
	s.names = append(s.names, pct(edges[len(edges)-1])+" % and over")
	return s
}

// marginScale is bands of the margin over the required thickness. Its steps
// are the project's own choice, round in each unit system.
func marginScale(sys unit.System) scale {
	s := scale{edges: []float64{0, 0.5, 1, 2}}
	name := "mm"
	show := []string{"0.5", "1", "2"}
	if sys == unit.US {
		s.edges = []float64{0, 0.02 * 25.4, 0.04 * 25.4, 0.08 * 25.4}
		show = []string{"0.02", "0.04", "0.08"}
		name = "in"
	}
	s.names = []string{
		"below the required thickness",
		"0 to under " + show[0] + " " + name + " over it",
		show[0] + " to under " + show[1] + " " + name,
		show[1] + " to under " + show[2] + " " + name,
		show[2] + " " + name + " and over",
	}
	return s
}

// band is the number of v's band, 0 the one of the least values. Values that
// differ from an edge by less than the method's limit tolerance stand on it.
func (s scale) band(v float64) int {
	n := 0
	for n < len(s.edges) && v >= s.edges[n]-1e-9 {
		n++
	}
	return n
}

// text prints a value with the fewest decimals, from the given ones up, that
// leave it in its own band: 1.996 must not stand as 2.00 under "1 to under 2".
// factor is the stored value of one printed unit.
func (s scale) text(v, factor float64, decimals int) string {
	for extra := range 4 {
		t := unit.Round(v/factor, decimals+extra)
		back, err := strconv.ParseFloat(t, 64)
		if err == nil && s.band(back*factor) == s.band(v) {
			return t
		}
	}
	return unit.Round(v/factor, decimals+4)
}

// paint is a band's shade: the worst is the darkest.
func (s scale) paint(band int) Paint {
	n := len(s.names)
	if !s.rises {
		band = n - 1 - band
	}
	return shade(band, n)
}

// letter is a band's sign in print, A the mildest.
func (s scale) letter(band int) string {
	if !s.rises {
		band = len(s.names) - 1 - band
	}
	if band > 25 {
		return "Z" + count(band-25)
	}
	return string(rune('A' + band))
}

// entries explains the bands in the legend, worst first, with the count of
// each.
func (f *frame) bandEntries(s scale, counts []int, one, many string) {
	worst := len(s.names) - 1
	for i := range s.names {
		b := i
		if s.rises {
			b = worst - i
		}
		text := s.names[b]
		if counts != nil {
			text += ": " + spelling.Count(counts[b], one, many)
		}
		fill, letter := s.paint(b), s.letter(b)
		f.legend.entry(text, func(bd *board, c point) {
			bd.box(Path{Fill: fill, Stroke: ink, Width: fine, Class: "band"}, rect{c.x - 3.2, c.y - 1.5, c.x + 3.2, c.y + 1.5})
			bd.label(Label{Text: letter, X: c.x, Y: c.y, Size: 2.2, Anchor: Centre, Middle: true, Bold: true, Paint: over(fill), Class: "band"})
		})
	}
}
