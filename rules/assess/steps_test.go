package assess

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// checkSteps re-evaluates every known step in SI and in US printed units,
// follows every reference, and holds the results against the steps.
func checkSteps(t *testing.T, b *builder, r *Result) {
	t.Helper()
	all := map[string]*step.Step{}
	for i := range r.Locations {
		all[r.Locations[i].Step.ID] = &r.Locations[i].Step
	}
	seen := map[string]bool{}
	for i := range r.Steps {
		s := &r.Steps[i]
		if key := s.ID + " " + s.Symbol; seen[key] {
			t.Errorf("step %s twice", key)
		} else {
			seen[key] = true
		}
		all[s.ID] = s
	}
	for i := range r.Locations {
		checkStep(t, &r.Locations[i].Step, all)
		if l := &r.Locations[i]; l.Remaining.Known {
			near(t, l.Step.ID, l.Step.Value, float64(l.Remaining.V), 1e-9)
		}
	}
	for i := range r.Steps {
		checkStep(t, &r.Steps[i], all)
	}
	for _, st := range []*StateResult{&r.AsFound, &r.AsPlanned, r.AsCompleted} {
		if st != nil {
			checkState(t, r, st)
		}
	}
	_ = b
}

func checkStep(t *testing.T, s *step.Step, all map[string]*step.Step) {
	t.Helper()
	for _, in := range s.All() {
		from := in.From
		n := 0
		for _, set := range []bool{from.Ref.IsCell(), from.Step != "", from.Column != "", from.Text != ""} {
			if set {
				n++
			}
		}
		if in.Known && n != 1 {
			t.Errorf("%s: input %s has %d sources: %+v", s.ID, in.Symbol, n, from)
		}
		if from.Step != "" {
			o := all[from.Step]
			if o == nil {
				t.Errorf("%s: input %s comes from step %s, which is not there", s.ID, in.Symbol, from.Step)
			} else if in.Known && (!o.Known || math.Abs(o.Value-in.Value) > 1e-9) {
				t.Errorf("%s: input %s = %v, step %s has %v (%v)", s.ID, in.Symbol, in.Value, o.ID, o.Value, o.Known)
			}
		}
	}
	if !s.Known {
		if s.Why == "" {
			t.Errorf("%s is unknown without a reason", s.ID)
		}
		return
	}
	for _, sys := range []unit.System{unit.SI, unit.US} {
		f := s.Formula
		if sys == unit.US && !s.US.IsZero() {
			f = s.US
		}
		in := map[string]step.Input{}
		for _, i := range s.All() {
			in[i.Symbol] = *i
		}
		got := f.Eval(func(symbol string) []float64 {
			i, ok := in[symbol]
			if !ok {
				t.Fatalf("%s: no input %s in %s", s.ID, symbol, f.Text(nil))
			}
			if i.Values == nil {
				return []float64{printed(i.Kind, sys, i.Value)}
			}
			out := make([]float64, len(i.Values))
			for n, v := range i.Values {
				out[n] = printed(i.Kind, sys, v)
			}
			return out
		})
		want := printed(s.Kind, sys, s.Value)
		if !(math.Abs(got-want) <= 1e-8*math.Max(1, math.Abs(want))) {
			t.Errorf("%s in %v: formula %s gives %v, value %v", s.ID, sys, f.Text(nil), got, want)
		}
	}
}

// printed is a value in the unit a formula speaks: a US rate in inches.
func printed(k unit.Kind, sys unit.System, v float64) float64 {
	if k == unit.RateKind && sys == unit.US {
		return v / 25.4
	}
	return k.In(sys, v)
}

func checkState(t *testing.T, r *Result, st *StateResult) {
	t.Helper()
	for _, c := range []struct {
		id    string
		v     float64
		known bool
	}{
		{"thickness.soil", float64(st.SoilMin.V), st.SoilMin.Known},
		{"thickness.product", float64(st.ProductMin.V), st.ProductMin.Known},
		{"rate.soil", float64(st.SoilRate.V), st.SoilRate.Known},
		{"rate.product", float64(st.ProductRate.V), st.ProductRate.Known},
		{"mrt", float64(st.MRT.V), st.MRT.Known},
		{"interval.adopted", float64(st.Interval.V), st.Interval.Known},
		{"interval.next_date", float64(st.NextDate), st.NextDate != 0},
	} {
		s := r.Steps.Find(c.id + "." + st.State.String())
		if s == nil {
			t.Errorf("no step %s.%v", c.id, st.State)
			continue
		}
		if s.Known != c.known || (c.known && math.Abs(s.Value-c.v) > 1e-9) {
			t.Errorf("%s: step %v (%v), result %v (%v)", s.ID, s.Value, s.Known, c.v, c.known)
		}
	}
}

// anyTank is a shape test: an invented floor with a bit of everything.
func anyTank(rng *rand.Rand) *builder {
	b := tank()
	sides := []string{"soil", "soil", "product", "unknown"}
	methods := []string{"MFL", "MFL", "hand scan", "UT", "visual"}
	kinds := []string{"pit", "cluster", "general", "mechanical", "not relevant", "pit"}
	plates := []string{"1-1", "2-1", "2-2", "3-1", "3-2", "3-3", "4-1"}
	if rng.IntN(3) == 0 {
		b.barrier()
	}
	if rng.IntN(3) == 0 {
		b.protected()
	}
	if rng.IntN(3) == 0 {
		b.lining([]string{"thin film", "reinforced"}[rng.IntN(2)], "2020-05-01", float64(rng.IntN(30)))
		b.in.Tank.ReinforcedLining = word(b, "Tank", []string{"yes", "no"}[rng.IntN(2)])
	}
	if rng.IntN(2) == 0 {
		b.desired(float64(5 + rng.IntN(15)))
	}
	if rng.IntN(3) == 0 {
		b.set(criteria.RateBasis, "plate")
	}
	if rng.IntN(3) == 0 {
		b.set(criteria.RateAfterRepair, "recomputed")
	}
	if rng.IntN(4) == 0 {
		b.set(criteria.IntervalRule, "initial")
	}
	if rng.IntN(5) == 0 {
		b.in.Tank.FloorInstalled = inspection.Date{}
	}
	if rng.IntN(4) == 0 {
		b.in.Tank.JurisdictionLimit = given(b, "Tank", unit.Years(12))
	}
	if rng.IntN(3) == 0 {
		b.change("3-2", func(p *inspection.Plate) { p.Installed = day(b, "Plates", "2023-01-01") })
	}
	if rng.IntN(6) == 0 {
		b.set(criteria.UnprovedIndications, "exclude")
	}
	for i := range 5 + rng.IntN(25) {
		id, plate := strconv.Itoa(i+1), plates[rng.IntN(len(plates))]
		x, y := 600+float64(rng.IntN(600)), 600+float64(rng.IntN(600))
		m := methods[rng.IntN(len(methods))]
		loss := float64(10 + rng.IntN(50))
		value := b.loss(loss)
		if m == "UT" || rng.IntN(6) == 0 {
			value = b.rest(6.35 * (1 - loss/100))
		}
		if m == "visual" {
			value = b.deep(loss / 100 * 6.35)
		}
		b.indication(id, plate, x, y, sides[rng.IntN(len(sides))], m, value, b.kind(kinds[rng.IntN(len(kinds))]), b.sized(float64(20+rng.IntN(200)), 40))
		switch rng.IntN(4) {
		case 0:
			b.proveUp("U"+id, id, plate, x, y, b.ut(6.35*(1-loss/100)+rng.Float64()-0.3), b.sound(6.2))
		case 1:
			b.proveUp("U"+id, "", plate, x+5, y, b.ut(6.35*(1-loss/110)), b.gauge(loss/110*6.3))
		case 2:
			b.proveUp("U"+id, "", plate, x+300, y, b.ut(5.2), b.on("soil"))
		}
	}
	if rng.IntN(2) == 0 {
		b.patch("P1", "2-1", 900, 900, 300, 300, 6, "2015-01-01")
	}
	for i := range rng.IntN(4) {
		b.repair("R"+strconv.Itoa(i+1), []string{"patch", "weld build-up", "replace plate", "line"}[rng.IntN(4)],
			plates[rng.IntN(len(plates))], 900, 900, 900, 900, 6.35, []string{"planned", "completed"}[rng.IntN(2)])
	}
	return b
}

// Derived: whatever the branch, a step's formula gives its value in both unit
// systems, and results are the steps' values.
func TestEveryStepGivesItsValue(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	governed := map[Governor]int{}
	for range 400 {
		b := anyTank(rng)
		r := b.assess()
		checkSteps(t, b, r)
		governed[r.AsFound.GovernedBy]++
		governed[r.AsPlanned.GovernedBy]++
		if t.Failed() {
			for _, s := range r.Steps {
				t.Log(s.ID, s.Symbols(unit.SI), s.Numbers(unit.SI), s.Result(unit.SI), s.Branch)
			}
			return
		}
	}
	for _, g := range []Governor{GovRepairFirst, GovCorrosion, GovCapRate, GovCapUnknown, GovCapInitial, GovJurisdiction, GovLining} {
		if governed[g] == 0 {
			t.Errorf("the invented floors never reach %s: %v", g, governed)
		}
	}
}

// The example tank's steps as a reader sees them.
func TestStepTexts(t *testing.T) {
	b := example().desired(10)
	r := b.assess()
	checkSteps(t, b, r)
	for id, want := range map[string]string{
		"rate.age":                    "(E − F)/365.25 | (2026-05-01 − 2001-05-01)/365.25 | 24.999 years | ",
		"mrt.as_found":                "min(RTbc, RTip) − Or·(StPr + UPr) | min(3.493, 5.000) − 10.000·(0.0540 + 0.1143) | 1.809 mm | 1.809 mm < 2.540 mm: fail",
		"interval.next_date.as_found": "base + floor(365.25·I + 0.000001) | 2026-05-01 + floor(365.25·5.659 + 0.000001) | 2031-12-28 | ",
		"shell.tmin":                  "max(2.54, K·D·(H − 0.3048)·if(W = yes, max(G, 1), G)/(S·E)) | max(2.54, 4.9011·6.000·(5.000 − 0.3048)·0.8500/(162.72·0.7000)) | 2.540 mm | ",
	} {
		s := r.Steps.Find(id)
		if s == nil {
			t.Errorf("no step %s", id)
			continue
		}
		got := strings.Join([]string{s.Symbols(unit.SI), s.Numbers(unit.SI), s.Result(unit.SI), s.Verdict(unit.SI)}, " | ")
		if got != want {
			t.Errorf("%s:\n got %s\nwant %s", id, got, want)
		}
	}
}
