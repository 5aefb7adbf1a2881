package sizing

import (
	"cmp"
	"slices"
	"strings"

	"platebook/rules/unit"
)

// Judge compares all pairs, and those of each nominal thickness, technician
// and side by themselves. Groups are in order of thickness or name.
func Judge(pairs []Pair, sys unit.System) Result {
	r := Result{Pairs: pairs, All: Compare(pairs)}
	byNominal := slices.SortedStableFunc(slices.Values(pairs), func(a, b Pair) int { return cmp.Compare(a.Nominal, b.Nominal) })
	for len(byNominal) > 0 {
		n := 1
		for n < len(byNominal) && Same(byNominal[n].Nominal, byNominal[0].Nominal) {
			n++
		}
		name := unit.Thickness.TextUnit(sys, float64(byNominal[0].Nominal), 0)
		r.ByNominal = append(r.ByNominal, Group{Name: name, Nominal: byNominal[0].Nominal, Fit: Compare(byNominal[:n])})
		byNominal = byNominal[n:]
	}
	r.ByPerson = groups(pairs, func(p Pair) string { return strings.TrimSpace(p.By) })
	r.BySide = groups(pairs, func(p Pair) string { return p.Side })
	return r
}

// Same says whether two nominals are one thickness: apart by rounding only.
func Same(a, b unit.Length) bool { return a-b <= 1e-6 && b-a <= 1e-6 }

func groups(pairs []Pair, name func(Pair) string) []Group {
	members := map[string][]Pair{}
	var names []string
	for _, p := range pairs {
		n := name(p)
		if _, ok := members[n]; !ok {
			names = append(names, n)
		}
		members[n] = append(members[n], p)
	}
	slices.Sort(names)
	out := make([]Group, 0, len(names))
	for _, n := range names {
		out = append(out, Group{Name: n, Fit: Compare(members[n])})
	}
	return out
}

// Suspect says whether a technician's pairs ask for a rescan: at least 8 of
// them, with the mean more than 10 points off or fewer than half within 10
// points.
//
//	n ≥ 8 and (|bias| > 10 or share < 50 %)
//
// n pairs; bias, % points; share of pairs within 10 points, %. Fewer than 8
// pairs are never suspect.
//
// Source: common practice, no source.
// Check: bias −10 passes, −10.5 does not, TestSuspect.
func (f Fit) Suspect() bool {
	return f.Pairs >= 8 && (f.Bias.V > 10+1e-9 || f.Bias.V < -10-1e-9 || f.Within10.V < 50-1e-9)
}
