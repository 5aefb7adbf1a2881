package assess

import (
	"platebook/rules/step"
	"platebook/rules/unit"
)

// verdicts judges each location as found, now and at the end of the interval.
func (w *work) verdicts(found *state) {
	general := w.res.AsFound.Required
	if !general.Known {
		general = unit.Some(w.lining.plain)
	}
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		critical, ring := w.locationZones(l)
		l.Required = general.Max(critical).Max(ring)
		if !l.Remaining.Known {
			continue
		}
		l.Margin = unit.Some(l.Remaining.V - l.Required.V)
		if l.Counts {
			l.Verdict = w.verdict(i, l)
		}
	}
}

// verdict orders by what is worse: metal below the requirement now is repaired
// first wherever it is; what fails later in the critical zone or on the ring,
// or is held against a requirement that could not be found, goes to an
// engineer.
func (w *work) verdict(i int, l *Location) Verdict {
	special := l.Zone == "critical" || (l.Plate >= 0 && w.plates[l.Plate].annular)
	switch {
	case l.Kind == ThresholdAt || l.Kind == ExtremeAt:
		return Leave
	case l.Completed:
		return Repaired
	case !step.AtLeast(unit.Thickness, float64(l.Remaining.V), float64(l.Required.V)):
		return RepairFirst
	case w.needs[i] && special, w.unjudged(l):
		return Engineering
	case w.needs[i]:
		return Repair
	}
	return Leave
}

// unjudged says whether a location stands where a requirement applies that is
// not known, or is let off one as an isolated pit.
func (w *work) unjudged(l *Location) bool {
	if l.Kind != IndicationAt && l.Kind != ProveUpAt {
		return false
	}
	critical, ring := w.zonesOf(l.Plate, l.Zone)
	if w.zone.lenient && l.Isolated {
		r := float64(l.Remaining.V)
		return (critical.Known && !step.AtLeast(unit.Thickness, r, float64(critical.V))) ||
			(ring.Known && !step.AtLeast(unit.Thickness, r, float64(ring.V)))
	}
	return l.Plate >= 0 && w.plates[l.Plate].annular && !ring.Known
}

// plateResults gathers each plate as found.
func (w *work) plateResults(found *state) {
	w.res.Plates = make([]PlateResult, len(w.plates))
	cs, zs := byPlate(found.counted, len(w.plates)), byPlate(found.zoned, len(w.plates))
	for k := range w.plates {
		p, r := &w.plates[k], &w.res.Plates[k]
		r.Nominal, r.Age, r.Examined = p.nominal, p.age, p.examined
		r.Sound, _ = p.soundOf()
		if r.SoundFrom = ByNominal; p.median.Known {
			r.SoundFrom = ByReading
		}
		if w.res.AsFound.Interval.Known {
			r.Interval = w.plateInterval(found, k, cs[k], zs[k])
		}
	}
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Plate >= 0 {
			w.res.Plates[l.Plate].take(l)
			if w.res.Proposed && w.needs[i] {
				w.res.Plates[l.Plate].Repairs++
			}
		}
	}
	for n := range w.repairs {
		w.res.Plates[w.repairs[n].plate].Repairs++
	}
}

func (r *PlateResult) take(l *Location) {
	if l.Kind == IndicationAt && l.Verdict != NotRelevant {
		r.Indications++
		if len(l.Tied) > 0 {
			r.ProvedUp++
		}
	}
	if !l.Counts {
		return
	}
	if l.Kind == ThresholdAt {
		r.Threshold = l.Remaining
		return
	}
	if !r.Worst.Known || thinner(l.Remaining.V, r.Worst.V) {
		r.Worst, r.WorstAt = l.Remaining, l.Label
	}
	if l.Side.OnSoil() || l.Over >= 0 {
		r.WorstSoil = r.WorstSoil.Min(l.Remaining)
	}
	if l.Side.OnProduct() || l.Over >= 0 {
		r.WorstProduct = r.WorstProduct.Min(l.Remaining)
	}
	r.WorstLoss = r.WorstLoss.Max(l.Loss)
	if !r.Margin.Known || l.Margin.V < r.Margin.V {
		r.Margin, r.Required = l.Margin, l.Required
	}
}

// zoneResults are the critical zone and the ring as found: kept now and after
// the interval.
func (w *work) zoneResults(found *state) {
	r := w.res
	all := w.group(-1, found.rates, found.counted, found.zoned)
	r.CriticalZone = w.zoneResult(found, func(c *Counted) unit.Maybe[unit.Length] { return c.critical })
	if all.critical.known {
		r.CriticalZone.Required = unit.Some(all.critical.required)
	} else {
		r.CriticalZone.Required = w.criticalWithout()
	}
	if !w.zone.hasRing {
		return
	}
	r.Annular = w.zoneResult(found, func(c *Counted) unit.Maybe[unit.Length] { return c.ring })
	r.Annular.Required = w.ringRequired()
	if w.zone.stress.Known {
		r.Annular.Stress = unit.Some(unit.Stress(w.zone.stress.Value))
	}
}

func (w *work) zoneResult(s *state, required func(*Counted) unit.Maybe[unit.Length]) ZoneResult {
	var z ZoneResult
	now, later, any := true, true, false
	for _, list := range [][]Counted{s.counted, s.zoned} {
		for i := range list {
			c := &list[i]
			need := required(c)
			if !need.Known {
				continue
			}
			any = true
			if !z.Min.Known || thinner(c.Remaining, z.Min.V) {
				z.Min, z.MinAt = unit.Some(c.Remaining), c.Label
			}
			now = now && step.AtLeast(unit.Thickness, float64(c.Remaining), float64(need.V))
			later = later && step.AtLeast(unit.Thickness, float64(w.projected(s, c)), float64(need.V))
		}
	}
	// Without rates the end of the interval cannot be judged, so neither is the
	// zone as a whole; that it fails now shows in Min beside Required.
	if any && s.rates.known() && s.out.MRTYears.Known {
		z.OK, z.OKKnown = now && later, true
	}
	return z
}

// projected is a place's thickness at the end of the interval.
//
//	r − Or·(StPr + UPr)
func (w *work) projected(s *state, c *Counted) unit.Length {
	b := w.basesOf(c.Plate, s.rates)
	or := s.out.MRTYears
	return c.Remaining - unit.Length(float64(or.V)*float64(b.soil.V+w.productOver(b, or)))
}

// criticalWithout is the requirement where nothing stands in the zone: of the
// ring's nominal, without a ring of the floor's.
func (w *work) criticalWithout() unit.Maybe[unit.Length] {
	n := w.in.Tank.NominalThickness
	if w.zone.hasRing {
		n = w.in.Tank.AnnularNominal
	}
	if !n.OK() {
		return unit.Maybe[unit.Length]{}
	}
	return unit.Some(w.criticalOf(n.Value))
}
