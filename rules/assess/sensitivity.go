package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
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
func Sensitivity(in *inspection.Inspection, plan *floor.Plan, base *Result) []Change {
	var out []Change
	add := func(input, change string, s *StateResult) {
		c := Change{Input: input, Change: change}
		if s != nil {
			c.Interval = s.Interval
		}
		out = append(out, c)
	}
	up, down := base.scaled(1.1), base.scaled(0.9)
	add("rates", "+10 %", up)
	add("rates", "−10 %", down)
	set := in.Criteria
	if set == nil {
		set = criteria.Defaults(in.Units)
	}
	for _, name := range []criteria.Name{criteria.MFLThreshold, criteria.SizingAllowance} {
		for _, step := range []struct {
			by   float64
			text string
		}{{5, "+5 points"}, {-5, "−5 points"}} {
			v := set.Get(name)
			v.Number = max(0, v.Number+step.by)
			changed := *in
			changed.Criteria = set.With(name, v)
			add(string(name), step.text, pageOne(assess(&changed, plan, nil, 0, base.work.growth), base.PageOne))
		}
	}
	add("floor age", "+1 year", pageOne(assess(in, plan, nil, 1, base.work.growth), base.PageOne))
	add("floor age", "−1 year", pageOne(assess(in, plan, nil, -1, base.work.growth), base.PageOne))
	return out
}

func pageOne(r *Result, s State) *StateResult { return r.State(s) }

// scaled is page one's state at other rates.
func (r *Result) scaled(factor unit.Rate) *StateResult {
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
		return &w.evaluate(s.is, s.counted, s.zoned, rates).out
	}
	return nil
}

func (b bases) times(factor unit.Rate) bases {
	b.soil.V *= factor
	b.product.V *= factor
	b.lined.V *= factor
	return b
}
