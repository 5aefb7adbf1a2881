package assess

import (
	"math/rand/v2"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/unit"
)

// Derived: method section 7, repair threshold against interval on the example
// tank, and the thickness needed for 10 years.
func TestIfRepairedBelow(t *testing.T) {
	r := example().assess()
	near(t, "needed for 10 y", known(t, "T", r.Needed(10)), 4.22305, 5e-6)
	for _, c := range []struct{ T, years float64 }{
		{2.75, 5.65938}, {3.50, 6.29810}, {3.75, 11.0514}, {4.25, 11.0514}, {4.50, 14.6164}, {5.25, 15.0917},
	} {
		out := func(i int) bool {
			l := &r.Locations[i]
			return (l.Kind == IndicationAt || l.Kind == ProveUpAt) && float64(l.Remaining.V) < c.T
		}
		got := r.If(out, []Metal{{Label: "R1", Plate: 2, Thickness: unit.Some[unit.Length](6.35)}})
		near(t, unit.Round(c.T, 2), known(t, "I", got.IntervalUncapped), c.years, 5e-5)
	}
	// nothing out is the floor as found
	if got := r.If(func(int) bool { return false }, nil); got.Interval != r.AsFound.Interval || got.GovernedBy != r.AsFound.GovernedBy {
		t.Errorf("nothing out: %v", got.Interval)
	}
}

// A proposal takes the place of a patch on every location.
func TestProposalInPlaceOfPatches(t *testing.T) {
	b := example().desired(10)
	propose := func(found *Result, needs []bool) Proposal {
		p := Proposal{Repair: make([]string, len(needs))}
		for i := range needs {
			if found.Locations[i].Plate == 2 {
				p.Repair[i] = "R1"
			}
		}
		p.Metal = []Metal{{Label: "R1", Plate: 2, Thickness: unit.Some[unit.Length](5.2)}}
		return p
	}
	r := AssessWith(b.in, b.assess().work.plan, propose)
	checkSteps(t, b, r)
	if !r.Proposed || find(t, r, "2-2/1").Repair != "R1" || find(t, r, "2-1/4").Repair != "" {
		t.Errorf("proposal %v %q", r.Proposed, find(t, r, "2-2/1").Repair)
	}
	near(t, "as planned", float64(r.AsPlanned.SoilMin.V), 3.4925, 1e-9)
}

// Derived: what the inputs of the example tank are worth, from the formulas of
// method sections 3 to 5 by hand: as found RT 3.4925, rates 2.8575 and 1.35 mm
// over N.
func TestSensitivity(t *testing.T) {
	b := example()
	N := 9131 / 365.25
	want := map[string]float64{
		"rates +10 %":                0.9525 / ((2.8575 + 1.35) * 1.1 / N),
		"rates −10 %":                0.9525 / ((2.8575 + 1.35) * 0.9 / N),
		"MFL threshold +5 points":    0.9525 / ((2.8575 + 1.35) / N),
		"MFL threshold −5 points":    0.9525 / ((2.8575 + 1.35) / N),
		"Sizing allowance +5 points": (0.9525 - 0.3175) / ((2.8575 + 0.3175 + 1.35) / N),
		// 40 % of 6.35 leaves 3.81; the pit of 3.60 then governs
		"Sizing allowance −5 points": (3.60 - 2.54) / ((2.75 + 1.35) / N),
		"floor age +1 year":          0.9525 / ((2.8575 + 1.35) / (N + 1)),
		"floor age −1 year":          0.9525 / ((2.8575 + 1.35) / (N - 1)),
	}
	got := b.assess().Sensitivity()
	if len(got) != len(want) {
		t.Fatalf("%d changes", len(got))
	}
	for _, c := range got {
		near(t, c.Input+" "+c.Change, known(t, c.Input, c.Interval), want[c.Input+" "+c.Change], 1e-9)
	}
}

// Derived: what varies takes places, ties and lines from the evaluation it
// varies and writes no steps, and comes to what a whole new evaluation does.
func TestVaryIsANewEvaluation(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	known, planned := 0, 0
	for n := range 200 {
		b := anyTank(rng)
		if n%2 == 0 {
			b.set(criteria.SizingMinimumPairs, "3")
		}
		w, again := b.assess().work, room{}
		for _, older := range []unit.Years{0, 1, -1} {
			for _, points := range []float64{0, 5, -5} {
				set := w.set
				for _, name := range []criteria.Name{criteria.MFLThreshold, criteria.SizingAllowance} {
					v := set.Get(name)
					v.Number = max(0, v.Number+points)
					set = set.With(name, v)
				}
				in := *b.in
				in.Criteria = set
				v := newWork(&in, w.plan, nil)
				v.older = older
				found := v.read()
				v.findNeeds()
				for _, s := range append([]*state{found}, v.afterRepair(nil)...) {
					got, want := w.vary(set, older, s.is, &again), s.out.Interval
					if got != want {
						t.Fatalf("floor %d, %v, %+g years, %+g points: %v, a whole evaluation %v", n, s.is, older, points, got, want)
					}
					if got.Known {
						known++
					}
					if s.is != AsFound && len(in.Repairs) > 0 {
						planned++
					}
				}
			}
		}
	}
	if known < 1000 || planned < 100 {
		t.Errorf("only %d intervals known, %d after planned repairs", known, planned)
	}
}
