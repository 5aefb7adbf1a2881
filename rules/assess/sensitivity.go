package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/unit"
)

// Change is page one's interval with one input changed, the others as they
// are.
type Change struct {
	Input    string
	Change   string
	Interval unit.Maybe[unit.Years]
}

// Sensitivity says what would change page one's interval, one input at a time:
// the rates by 10 %, the MFL threshold and the Sizing allowance by 5 points
// (never below 0), the floor's age by a year.
func (r *Result) Sensitivity() []Change {
	w, again := r.work, room{}
	out := []Change{
		{Input: "rates", Change: "+10 %", Interval: r.scaled(1.1)},
		{Input: "rates", Change: "−10 %", Interval: r.scaled(0.9)},
	}
	vary := func(input, change string, set *criteria.Set, older unit.Years) {
		out = append(out, Change{Input: input, Change: change, Interval: w.vary(set, older, r.PageOne, &again)})
	}
	for _, name := range []criteria.Name{criteria.MFLThreshold, criteria.SizingAllowance} {
		for _, step := range []struct {
			by   float64
			text string
		}{{5, "+5 points"}, {-5, "−5 points"}} {
			v := w.set.Get(name)
			v.Number = max(0, v.Number+step.by)
			vary(string(name), step.text, w.set.With(name, v), 0)
		}
	}
	vary("floor age", "+1 year", w.set, 1)
	vary("floor age", "−1 year", w.set, -1)
	return out
}

// scaled is page one's interval at other rates.
func (r *Result) scaled(factor unit.Rate) unit.Maybe[unit.Years] {
	w := r.work
	for _, s := range w.states {
		if s.is != r.PageOne {
			continue
		}
		rates := s.rates.times(factor)
		rates.byPlate = nil
		for _, b := range s.rates.byPlate {
			rates.byPlate = append(rates.byPlate, b.times(factor))
		}
		return w.evaluate(s.is, s.counted, s.zoned, rates).out.Interval
	}
	return unit.Maybe[unit.Years]{}
}

func (b bases) times(factor unit.Rate) bases {
	b.soil.V *= factor
	b.product.V *= factor
	b.lined.V *= factor
	return b
}
