package assess

import (
	"math"
	"strconv"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// locate lists every place whose thickness counts, (a) to (e) of the method,
// in the order of the sheets.
func (w *work) locate() {
	in := w.in
	n := len(in.Indications) + len(w.loose) + 2*len(in.Plates) + len(in.Patches)
	r := w.room
	if r == nil {
		r = &room{}
	}
	if cap(r.locations) < n {
		r.places, r.locations, r.values = make([]place, len(in.Indications)), make([]Location, 0, n), make([]value, 0, n)
	}
	at := r.places
	clear(at)
	w.res.Locations, w.values = r.locations[:0], r.values[:0]
	for i := range in.Indications {
		if ind := &in.Indications[i]; !ind.Out {
			at[i] = w.at(ind.Plate, ind.X, ind.Y, ind.Length, ind.Width)
			at[i].side = w.side(ind, i)
			w.noteScanned(ind, at[i].plate)
		}
	}
	w.pairs(at)
	for i := range in.Indications {
		if !in.Indications[i].Out {
			w.indication(i, &at[i])
		}
	}
	for _, u := range w.loose {
		w.proveUp(u)
	}
	for k := range in.Plates {
		if w.plates[k].out {
			continue
		}
		w.soundMetal(k)
		w.threshold(k)
	}
	for i := range in.Patches {
		if !in.Patches[i].Out {
			w.existingPatch(i)
		}
	}
}

// add places a location, gives it its thickness and keeps it.
func (w *work) add(start Location, at *place, v value) {
	w.res.Locations = append(w.res.Locations, start)
	w.values = append(w.values, v)
	l := &w.res.Locations[len(w.res.Locations)-1]
	l.Plate, l.Box, l.Patch = at.plate, at.box, at.patch
	l.Nominal, l.Age, l.Over = at.nominal, at.age, -1
	if w.like != nil { // the same rows in the same order
		o := &w.like.res.Locations[len(w.res.Locations)-1]
		l.Zone, l.At, l.Placed, l.Bearing, l.Radius = o.Zone, o.At, o.Placed, o.Bearing, o.Radius
	} else {
		w.put(l, w.lies(at))
	}
	if v.known() {
		w.judgeValue(l, at, v)
	} else if l.Verdict != NotRelevant {
		l.Counts = false
		l.Step = step.Step{
			ID: "location." + l.Label, Title: "remaining thickness", Symbol: "r", Kind: unit.Thickness,
			Why: "no value, or no nominal thickness to take it from",
		}
	}
	w.rates(l)
}

// judgeValue takes the value that counts and writes down how.
func (w *work) judgeValue(l *Location, at *place, v value) {
	c := v.top[0]
	l.ProveUp, l.Basis, l.Sound, l.Hole = c.proveUp, c.basis, c.sound, c.hole()
	l.T0 = at.nominal.Max(c.sound)
	r := math.Max(0, c.r)
	l.Remaining = unit.Some(unit.Length(r))
	l.Counts = l.Remaining.Known && l.Verdict != NotRelevant
	switch {
	case c.estimate():
		l.Loss = unit.Some(unit.Percent(c.loss))
		l.Allowance = unit.Some(unit.Percent(c.allowance))
		if w.policy() == leftOut && l.Verdict != NotRelevant {
			l.Counts, l.Verdict = false, Excluded
		}
	case at.nominal.Known:
		l.Loss = unit.Some(unit.Percent(100 * (1 - r/float64(at.nominal.V))))
	}
	if w.like != nil {
		return
	}
	expr, inputs, shared := v.expression("")
	s := step.Step{
		ID: "location." + l.Label, Title: "remaining thickness", Symbol: "r", Kind: unit.Thickness,
		Formula: w.formula("max(0, " + expr + ")"), Inputs: inputs, Shared: shared, Value: r, Known: true,
	}
	switch {
	case l.Hole:
		s.Branch = "goes through: taken as 0, its rate is a lower bound"
	case c.basis == ByAllowance && w.fitOf(at.nominal.V) != nil:
		s.Branch = "not proved up: 95 % prediction limit of MFL against UT on this nominal"
	case c.basis == ByAllowance:
		s.Branch = "not proved up: estimate minus allowance"
	case len(v.top) > 1:
		s.Branch = "least of " + strconv.Itoa(len(v.top)) + " values of one rank"
	case len(l.Tied) > 0 && c.proveUp >= 0:
		s.Branch = "proved up: " + string(c.basis) + " counts before estimates"
	}
	l.Step = s
}

func (w *work) indication(i int, at *place) {
	ind := &w.in.Indications[i]
	l := Location{
		Kind: IndicationAt, Label: ind.Key, Indication: i, ProveUp: -1, Tied: w.tied[i], TiedByPlace: w.byPlace[i],
		Side: at.side, Isolated: inspection.Is(ind.Kind, "pit"), NoRate: inspection.Is(ind.Kind, "mechanical"),
	}
	if !relevant(ind) {
		l.Verdict = NotRelevant
	}
	w.add(l, at, weigh(w.candidates(i, at), at.side))
}

// rates are a location's corrosion rates by side, loss positive.
//
//	rate = (t0 − r)/N
//
// Metal younger than Shortest age for a rate gives none. Sound metal within
// the mill tolerance of nominal has none to measure: 0.
func (w *work) rates(l *Location) {
	l.SoilRate, l.ProductRate = unit.Maybe[unit.Rate]{}, unit.Maybe[unit.Rate]{}
	if !l.Counts || l.NoRate || !w.old(l.Age) || !l.T0.Known || !l.Remaining.Known {
		return
	}
	rate := api653_5.Rate(l.T0.V, l.Remaining.V, l.Age.V)
	if l.Kind == SoundMetal && l.Nominal.Known &&
		step.AtLeast(unit.Thickness, float64(l.Remaining.V), float64(l.Nominal.V)-w.number(criteria.MillTolerance)) {
		rate = unit.Some(unit.Rate(0))
	}
	if l.Side.OnSoil() {
		l.SoilRate = rate
	}
	if l.Side.OnProduct() {
		l.ProductRate = rate
	}
}

// old says whether a metal's age gives a rate.
func (w *work) old(n unit.Maybe[unit.Years]) bool {
	return n.Known && n.V > 0 && step.AtLeast(unit.Time, float64(n.V), w.number(criteria.ShortestAgeForARate))
}
