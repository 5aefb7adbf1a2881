package assess

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
)

func (b body) least() float64 { return min(b.critical, b.ring, b.corrosion) }

// limit is the cap of the interval rule.
type limit struct {
	years float64
	gov   Governor
	text  string
}

// limitOf is the cap by the interval rule.
func (w *work) limitOf(rates bases) limit {
	most := w.number(criteria.IntervalCap)
	if w.lining.barrier {
		most = w.number(criteria.IntervalCapWithBarrier)
	}
	if w.initialRule() {
		years := api653_5.InitialInterval(w.set.Years(criteria.InitialInterval), w.credits(), w.set.Length(criteria.BottomCorrosionAllowance))
		l := limit{years: max(0, min(float64(years), most)-float64(w.served())), gov: GovCapInitial, text: "initial interval from first service"}
		if unknown := w.number(criteria.IntervalCapRateUnknown); !w.floorAge.Known && l.years > unknown {
			l = limit{years: unknown, gov: GovCapUnknown, text: "initial interval, but the floor's first service is not known"}
		}
		return l
	}
	if unknown := w.number(criteria.IntervalCapRateUnknown); !rates.known() && unknown <= most+1e-9 {
		return limit{years: min(unknown, most), gov: GovCapUnknown, text: "rates not known: " + rates.unknown}
	}
	return limit{years: most, gov: GovCapRate, text: "longest interval"}
}

// credits are the years added to the initial interval.
func (w *work) credits() unit.Years {
	var c unit.Years
	switch {
	case w.lining.credited && w.lining.thin:
		c += w.set.Years(criteria.CreditThinFilmLining)
	case w.lining.credited && w.lining.reinforced:
		c += w.set.Years(criteria.CreditReinforcedLining)
	}
	if w.lining.cathodic {
		c += w.set.Years(criteria.CreditCathodicProtection)
	}
	if w.lining.barrier {
		c += w.set.Years(criteria.CreditBarrier)
	}
	return c
}

// choice is one of the years the adopted interval is the least of.
type choice struct {
	gov   Governor
	years float64
}

// choices are the candidates in the order that decides ties.
func (w *work) choices(g *group, l limit) []choice {
	b := g.w
	if g.lined {
		b = g.v
	}
	var out []choice
	// of the body only what the interval rests on
	for _, c := range []choice{{GovCritical, b.critical}, {GovAnnular, b.ring}, {GovCorrosion, b.corrosion}} {
		if c.years <= g.years+1e-9 {
			out = append(out, choice{c.gov, min(c.years, g.years)})
		}
	}
	if g.lined && float64(w.lining.left) <= g.years+1e-9 {
		out = append(out, choice{GovLining, g.years})
	}
	out = append(out, choice{l.gov, l.years})
	if j := w.in.Tank.JurisdictionLimit; j.OK() {
		out = append(out, choice{GovJurisdiction, float64(j.Value)})
	}
	if o := w.set.Get(criteria.OwnerLimit); o.Set {
		out = append(out, choice{GovOwner, o.Number})
	}
	return out
}

// least is the adopted interval and what governs it.
func least(cs []choice) choice {
	years := math.Inf(1)
	for _, c := range cs {
		years = min(years, c.years)
	}
	for _, c := range cs {
		if c.years <= years+1e-9 {
			return choice{c.gov, years}
		}
	}
	return choice{years: years}
}
