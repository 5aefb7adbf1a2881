package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Assess evaluates the floor as found, as planned and as completed. Rows that
// are out are skipped; a value that is unknown makes what needs it unknown.
func Assess(in *inspection.Inspection, plan *floor.Plan) *Result {
	return assess(in, plan, nil, nil)
}

// newWork is an evaluation without anything read yet.
func newWork(in *inspection.Inspection, plan *floor.Plan, growth *Growth) *work {
	set := in.Criteria
	if set == nil {
		set = criteria.Defaults(in.Units)
	}
	w := &work{
		in: in, plan: plan, set: set, res: &Result{}, formulas: map[string]step.Formula{}, alone: map[int]alone{}, lines: map[*sizing.Fit][]step.Input{},
		growth: growth,
	}
	w.res.work = w
	return w
}

// assess does so with a proposal and with what an earlier inspection says of
// growth; both may be nil.
func assess(in *inspection.Inspection, plan *floor.Plan, propose Propose, growth *Growth) *Result {
	w := newWork(in, plan, growth)
	found := w.read()
	states := []*state{found}
	w.findNeeds()
	w.res.AsFound = states[0].out
	w.zoneResults(states[0])
	states = append(states, w.afterRepair(propose)...)
	w.publish(states)
	w.verdicts(states[0])
	w.plateResults(states[0])
	w.writeSteps(states)
	w.limitations(states)
	return w.res
}

// vary is the interval of one state with something changed: other criteria, or
// the floor's age moved by some years. It writes no steps.
func (w *work) vary(set *criteria.Set, older unit.Years, is State, r *room) unit.Maybe[unit.Years] {
	in := *w.in
	in.Criteria = set
	v := newWork(&in, w.plan, w.growth)
	v.older, v.like, v.room = older, w, r
	states := []*state{v.read()}
	if is != AsFound {
		v.findNeeds()
		states = append(states, v.afterRepair(nil)...)
	}
	for _, s := range states {
		if s.is == is {
			return s.out.Interval
		}
	}
	return unit.Maybe[unit.Years]{}
}

// read goes from the cells to the floor as found.
func (w *work) read() *state {
	w.readPlates()
	w.readLining()
	w.prepareZones()
	w.tie()
	w.locate()
	w.extremes()
	w.joinSides()
	w.zoneReadings()
	w.readRepairs()
	w.unknown = w.groundsForRate()

	found := w.asFound()
	w.base = w.ratesOf(found)
	return w.evaluate(AsFound, found, w.zoned, w.base)
}

// afterRepair evaluates the floor as planned and, where a row is completed, as
// completed. Without rows what needs repair counts as patched.
func (w *work) afterRepair(propose Propose) []*state {
	if len(w.in.Repairs) == 0 && propose != nil {
		w.res.Proposed = true
		p := propose(w.res, w.needs)
		for i := range w.res.Locations {
			w.res.Locations[i].Repair = p.Repair[i]
		}
		cs := w.without(func(i int) bool { return p.Repair[i] != "" }, p.Metal)
		return []*state{w.evaluate(AsPlanned, cs, w.zonedWithout(replacedBy(p.Metal)), w.after(cs))}
	}
	if len(w.in.Repairs) == 0 {
		w.res.Proposed = true
		for i := range w.res.Locations {
			if w.needs[i] {
				w.res.Locations[i].Repair = kindPatch
			}
		}
		cs := w.proposed()
		return []*state{w.evaluate(AsPlanned, cs, w.zoned, w.after(cs))}
	}
	all := func(*repair) bool { return true }
	done := func(r *repair) bool { return r.completed }
	planned, completed := w.fateOf(all), w.fateOf(done)
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if n := planned.by[i]; n >= 0 {
			l.Repair = w.repairs[n].label
		}
		if n := completed.by[i]; n >= 0 {
			l.Repair, l.Completed = w.repairs[n].label, true
		}
	}
	cs := w.counted(&planned, all)
	out := []*state{w.evaluate(AsPlanned, cs, w.zonedWithout(planned.replaced), w.after(cs))}
	any := false
	for i := range w.in.Repairs {
		r := &w.in.Repairs[i]
		any = any || (!r.Out && inspection.Is(r.Status, "completed"))
	}
	if any {
		cs := w.counted(&completed, done)
		out = append(out, w.evaluate(AsCompleted, cs, w.zonedWithout(completed.replaced), w.after(cs)))
	}
	return out
}

// zonedWithout are the zone readings on plates that are not replaced.
func (w *work) zonedWithout(replaced map[int]bool) []Counted {
	if len(replaced) == 0 {
		return w.zoned
	}
	var out []Counted
	for _, c := range w.zoned {
		if !replaced[c.Plate] {
			out = append(out, c)
		}
	}
	return out
}

// publish writes the states and picks the one for page one: as completed when
// every row is completed, as planned when rows are filled, else as found.
func (w *work) publish(states []*state) {
	r := w.res
	w.states = states
	for _, s := range states {
		s.out.ReadAlone = w.readAlone(s)
		switch s.is {
		case AsFound:
			r.AsFound = s.out
		case AsPlanned:
			r.AsPlanned = s.out
		case AsCompleted:
			out := s.out
			r.AsCompleted = &out
		}
	}
	if len(w.in.Repairs) > 0 {
		r.PageOne = AsPlanned
		every := r.AsCompleted != nil
		for i := range w.in.Repairs {
			every = every && inspection.Is(w.in.Repairs[i].Status, "completed")
		}
		if every {
			r.PageOne = AsCompleted
		}
	}
	r.Required = r.State(r.PageOne).Required
	if !r.Required.Known {
		r.Required = unit.Some(w.lining.plain)
	}
}
