package compare

import (
	"fmt"
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/step"
	"platebook/rules/unit"
)

const noPlace = "no usable place"

// pair pairs the places of both dates and says what became of each.
func (w *work) pair() {
	var olds, news []int
	var from, to []spot
	for i := range w.olds {
		o := &w.olds[i]
		if _, gone := w.repaired[o.location]; o.placed && !gone && w.res.Plates[o.pair].New >= 0 {
			olds = append(olds, i)
			from = append(from, spot{o.at, o.pair, w.old.Found.Locations[o.location].Side})
		}
	}
	for i := range w.news {
		n := &w.news[i]
		if _, fresh := w.fresh[n.location]; n.placed && !fresh && w.res.Plates[n.pair].Old >= 0 {
			news = append(news, i)
			to = append(to, spot{n.at, n.pair, w.now.Found.Locations[n.location].Side})
		}
	}
	partner := pairs(from, to, float64(w.res.Gate))
	oldTaken, newTaken := make([]bool, len(w.olds)), make([]bool, len(w.news))
	for k, j := range partner {
		if j < 0 {
			continue
		}
		o, n := olds[k], news[j]
		oldTaken[o], newTaken[n] = true, true
		d := math.Hypot(from[k].at.X-to[j].at.X, from[k].at.Y-to[j].at.Y)
		w.res.Pairs = append(w.res.Pairs, w.both(&w.olds[o], &w.news[n], unit.Length(d)))
	}
	for i := range w.news {
		if !newTaken[i] {
			w.res.Pairs = append(w.res.Pairs, w.onlyNew(&w.news[i]))
		}
	}
	for i := range w.olds {
		if !oldTaken[i] {
			w.res.Pairs = append(w.res.Pairs, w.onlyOld(&w.olds[i]))
		}
	}
	w.near(oldTaken, newTaken)
	w.sort()
	w.tally()
}

// sort puts pairs in the order of the new plates, then of their labels.
func (w *work) sort() {
	name := func(p *Pair) string {
		if p.New >= 0 {
			return w.now.Found.Locations[p.New].Label
		}
		return w.old.Found.Locations[p.Old].Label
	}
	rank := func(p *Pair) int {
		switch {
		case p.Plate >= 0:
			return p.Plate
		case p.OldPlate >= 0:
			return len(w.now.In.Plates) + p.OldPlate
		}
		return math.MaxInt32
	}
	slices.SortStableFunc(w.res.Pairs, func(a, b Pair) int {
		if d := rank(&a) - rank(&b); d != 0 {
			return d
		}
		return floor.NaturalOrder(name(&a), name(&b))
	})
}

func (w *work) tally() {
	r := w.res
	byOld := map[int]int{}
	for k := range r.Plates {
		if r.Plates[k].New < 0 {
			byOld[r.Plates[k].Old] = k
		}
	}
	threshold := w.past.Number(criteria.ProveUpThreshold)
	for i := range r.Pairs {
		p := &r.Pairs[i]
		r.Count[p.Class]++
		k, ok := p.Plate, p.Plate >= 0
		if !ok {
			k, ok = byOld[p.OldPlate]
		}
		if ok {
			q := &r.Plates[k]
			q.Count[p.Class]++
			if p.Class == Grown || p.Class == New {
				q.Growth = q.Growth.Max(p.Growth)
			}
		}
		if p.Class == Gone && p.OldLoss.Known && step.AtLeast(unit.Share, float64(p.OldLoss.V), threshold) {
			r.Vanished = append(r.Vanished, i)
		}
	}
}

// place starts a pair with what stands on each date.
func (w *work) place(o, n *spotAt) (p Pair, a, b own) {
	p = Pair{Plate: -1, OldPlate: -1, Old: -1, New: -1}
	if o != nil {
		lo := &w.old.Found.Locations[o.location]
		a = ownOf(w.old.In, lo)
		p.Old, p.OldPlate, p.OldR, p.OldLoss = o.location, lo.Plate, a.r, lo.Loss
		if o.pair >= 0 {
			p.Plate, p.At, p.Placed = w.res.Plates[o.pair].New, o.at, o.placed
		}
	}
	if n != nil {
		ln := &w.now.Found.Locations[n.location]
		b = ownOf(w.now.In, ln)
		p.New, p.Plate, p.NewR, p.NewLoss, p.joint = n.location, ln.Plate, b.r, ln.Loss, b.joint
		if n.pair >= 0 {
			p.OldPlate, p.At, p.Placed = w.res.Plates[n.pair].Old, n.at, n.placed
		}
	}
	return p, a, b
}

// both judges a place found on both dates.
//
//	Δ = r_old − r_new
//	growth = Δ/years
//
// grown with Δ over q, apparently less under −q, else unchanged. r in mm, an
// estimate without its allowance; growth in mm/year from two UT values only;
// two scans give a trend in points of loss a year.
//
// Source: method section 13; derived.
// Check: 5.0 → 3.6 in 12 years: 0.116667 mm/year, grown (TestMethodExample).
func (w *work) both(o, n *spotAt, d unit.Length) Pair {
	p, was, is := w.place(o, n)
	p.Distance = unit.Some(d)
	years := float64(w.res.Years.V)
	p.UT = was.basis == assess.ByUT && is.basis == assess.ByUT
	if w.res.Plates[n.pair].Question {
		p.Why = "the plate's nominal changed: a question, not growth"
		if p.UT && p.OldR.Known && p.NewR.Known {
			p.Delta = unit.Some(p.OldR.V - p.NewR.V)
		}
		return p
	}
	if !p.OldR.Known || !p.NewR.Known {
		p.Why = "no thickness on one of the dates"
		return p
	}
	delta := float64(p.OldR.V - p.NewR.V)
	p.Delta = unit.Some(unit.Length(delta))
	switch q := float64(w.res.Spread); {
	case delta > q+hair:
		p.Class = Grown
	case delta < -q-hair:
		p.Class = Less
	default:
		p.Class = Unchanged
	}
	switch {
	case p.UT:
		p.Growth = unit.Some(unit.Rate(delta / years))
		p.From, p.To = p.OldR, p.NewR
		p.Why = "UT on both dates"
	case was.basis == assess.ByMFL && is.basis == assess.ByMFL:
		if was.loss.Known && is.loss.Known {
			p.Points = unit.Some(unit.Percent(float64(is.loss.V-was.loss.V) / years))
		}
		p.Why = "scan estimates: a trend only"
	case was.basis == is.basis:
		p.Why = string(was.basis) + " on both dates: a rate is taken from UT only"
	default:
		p.Why = fmt.Sprintf("%s then, %s now: no rate from unlike methods", was.basis, is.basis)
	}
	return p
}

// onlyNew judges a place without a partner last time. A pit on a plate that was
// examined then has grown since from the threshold at most to nothing at least:
//
//	(threshold_old − r)/years … (t0 − r)/years
//
// threshold_old the least loss the earlier scan found, as remaining thickness;
// r remaining now, t0 the metal's original thickness, all mm; the criterion New
// pit growth picks. A pit shallower than the threshold may have been there.
//
// Source: method section 13; derived.
// Check: new 4.40, threshold 5.08, t0 6.35 in 12 years: 0.0566667 to 0.1625
// mm/year (TestMethodExample).
func (w *work) onlyNew(n *spotAt) Pair {
	p, _, is := w.place(nil, n)
	if why, ok := w.fresh[n.location]; ok {
		p.Class, p.Why = Covered, why
		return p
	}
	switch {
	case n.pair < 0 || !n.placed:
		p.Why = noPlace
		return p
	case w.res.Plates[n.pair].Old < 0:
		p.Class, p.Why = Covered, "plate without a counterpart in the earlier inspection"
		return p
	case w.res.Plates[n.pair].Question:
		p.Why = "the plate's nominal changed: a question, not growth"
		return p
	}
	pl := &w.res.Plates[n.pair]
	seen, recorded := w.examined(w.old, pl.Old)
	if !seen {
		p.Class, p.Why = Covered, "plate not examined then"
		return p
	}
	nominal := pl.OldNominal
	if !nominal.Known {
		nominal = pl.NewNominal
	}
	if !p.NewR.Known || !nominal.Known {
		p.Why = "no thickness now, or no nominal then"
		return p
	}
	threshold := float64(nominal.V) * (1 - w.past.Number(criteria.MFLThreshold)/100)
	if float64(p.NewR.V) > threshold+hair {
		p.Class, p.Why = Below, "shallower than the earlier scan's threshold: it may have been there"
		return p
	}
	p.Class = New
	ln := &w.now.Found.Locations[n.location]
	r, years := float64(is.low.V), float64(w.res.Years.V)
	p.Least = unit.Some(unit.Rate((threshold - r) / years))
	p.Why = "from the earlier threshold"
	if ln.T0.Known {
		p.Most = unit.Some(unit.Rate((float64(ln.T0.V) - r) / years))
	}
	p.Growth, p.From, p.To = p.Least, unit.Some(unit.Length(threshold)), is.low
	if w.set.Is(criteria.NewPitGrowth, "from zero") {
		p.Growth, p.From, p.Why = p.Most, ln.T0, "from sound metal"
	}
	if is.basis == assess.ByMFL && ln.Allowance.Known {
		p.Why += ", with the allowance of its estimate"
	}
	if id := w.judgedIrrelevant(w.old, n.pair, n.at, true); id != "" {
		p.Why += "; " + id + " stood near it then, not relevant"
	}
	if !recorded {
		p.Why += "; how much of the plate was examined then is not recorded"
	} else if e := w.old.Found.Plates[pl.Old].Examined; e.Known && e.V < 95 {
		p.Why += fmt.Sprintf("; %s of the plate was examined then", unit.Share.TextUnit(unit.SI, float64(e.V), 0))
	}
	return p
}

// onlyOld judges a place without a partner now.
func (w *work) onlyOld(o *spotAt) Pair {
	p, _, _ := w.place(o, nil)
	lo := &w.old.Found.Locations[o.location]
	if why, ok := w.repaired[o.location]; ok {
		p.Class, p.Why = Repaired, why
		return p
	}
	switch {
	case o.pair < 0 || !o.placed:
		p.Why = noPlace
	case w.res.Plates[o.pair].New < 0:
		p.Class, p.Why = Unseen, "its plate has no counterpart now"
	default:
		if seen, _ := w.examined(w.now, w.res.Plates[o.pair].New); !seen {
			p.Class, p.Why = Unseen, "plate not examined now"
			return p
		}
		p.Class = Gone
		if t := w.set.Number(criteria.MFLThreshold); lo.Loss.Known && float64(lo.Loss.V) < t-1e-9 {
			p.Why = fmt.Sprintf("below the present scan's threshold of %s", unit.Share.TextUnit(unit.SI, t, 0))
		} else if lo.Repair != "" && len(w.old.In.Repairs) > 0 {
			p.Why = "repair " + lo.Repair + " was planned then; no patch is listed there now"
		} else if id := w.judgedIrrelevant(w.now, o.pair, o.at, false); id != "" {
			p.Why = id + " stands near it now, not relevant"
		}
	}
	return p
}

// near lists old and new places that stayed alone and lie close: just beyond
// the gate, or within it on the other side.
func (w *work) near(oldTaken, newTaken []bool) {
	var olds, news []int
	var from, to []spot
	for i := range w.olds {
		o := &w.olds[i]
		if _, gone := w.repaired[o.location]; o.placed && !oldTaken[i] && !gone {
			olds = append(olds, o.location)
			from = append(from, spot{o.at, o.pair, w.old.Found.Locations[o.location].Side})
		}
	}
	for i := range w.news {
		n := &w.news[i]
		if _, fresh := w.fresh[n.location]; n.placed && !newTaken[i] && !fresh {
			news = append(news, n.location)
			to = append(to, spot{n.at, n.pair, w.now.Found.Locations[n.location].Side})
		}
	}
	for i, edges := range within(from, to, 2*float64(w.res.Gate), false) {
		for _, e := range edges {
			why := "beyond the gate"
			if e.cost <= float64(w.res.Gate)+hair {
				why = "on the other side"
				if fits(from[i].side, to[e.to].side) {
					why = "its other neighbours were nearer"
				}
			}
			w.res.Near = append(w.res.Near, Near{olds[i], news[e.to], unit.Length(e.cost), why})
		}
	}
}
