package compare

import (
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// own is a place's thickness as a comparison takes it: as measured, or as
// estimated without allowance, since an allowance would hide or feign a change.
// Where a product pit lies over a soil pit it is the pit's own, not what is left
// between the two: else what one lost would be the other's growth.
type own struct {
	r     unit.Maybe[unit.Length]
	low   unit.Maybe[unit.Length] // r less the allowance of an estimate
	loss  unit.Maybe[unit.Percent]
	basis assess.Basis // ByMFL for any estimate
	joint bool         // over another pit, and only their common value is known
}

func ownOf(in *inspection.Inspection, l *assess.Location) own {
	o := own{r: l.Remaining, low: l.Remaining, loss: l.Loss, basis: l.Basis}
	if o.basis == assess.ByAllowance {
		o.basis = assess.ByMFL
	}
	if l.Over >= 0 {
		return ownOver(in, l, o)
	}
	if l.Basis == assess.ByAllowance && l.Loss.Known && l.Nominal.Known {
		o.r = left(l.Nominal.V, l.Loss.V)
	}
	return o
}

// left is the thickness that a loss leaves.
func left(nominal unit.Length, loss unit.Percent) unit.Maybe[unit.Length] {
	return unit.Some(unit.Length(max(0, float64(nominal)*(1-float64(loss)/100))))
}

// ownOver reads the pit's own value from its rows.
func ownOver(in *inspection.Inspection, l *assess.Location, o own) own {
	var ut, gauge unit.Maybe[unit.Length]
	for _, u := range tiedTo(l) {
		switch p := &in.ProveUps[u]; {
		case p.Out:
		case p.Remaining.OK():
			ut = ut.Min(unit.Some(p.Remaining.Value))
		case p.Depth.OK() && l.Sound.Known:
			gauge = gauge.Min(unit.Some(max(0, l.Sound.V-p.Depth.Value)))
		}
	}
	loss := unit.Maybe[unit.Percent]{}
	if l.Indication >= 0 {
		switch row := &in.Indications[l.Indication]; {
		case inspection.Is(row.Method, "UT") && row.Remaining.OK():
			ut = ut.Min(unit.Some(row.Remaining.Value))
		case row.Loss.OK():
			loss = unit.Some(row.Loss.Value)
		}
	}
	measured := func(r unit.Maybe[unit.Length], b assess.Basis) own {
		n := own{r: r, low: r, basis: b}
		if l.Nominal.Known && l.Nominal.V > 0 {
			n.loss = unit.Some(unit.Percent(100 * (1 - float64(r.V)/float64(l.Nominal.V))))
		}
		return n
	}
	switch {
	case ut.Known:
		return measured(ut, assess.ByUT)
	case o.basis == assess.ByUT:
	case gauge.Known && !scanned(l):
		return measured(gauge, assess.ByPitGauge)
	case scanned(l) && loss.Known && l.Nominal.Known:
		n := own{r: left(l.Nominal.V, loss.V), loss: loss, basis: assess.ByMFL}
		n.low = left(l.Nominal.V, loss.V+l.Allowance.V)
		return n
	}
	o.joint = true
	return o
}

// tiedTo are the prove-ups of a place.
func tiedTo(l *assess.Location) []int {
	if l.Kind == assess.ProveUpAt && l.ProveUp >= 0 && len(l.Tied) == 0 {
		return []int{l.ProveUp}
	}
	return l.Tied
}

// scanned says whether a location rests on a scan's estimate.
func scanned(l *assess.Location) bool {
	return l.Basis == assess.ByMFL || l.Basis == assess.ByAllowance
}
