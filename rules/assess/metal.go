package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// soundMetal is a plate's own metal: its least reading or sound thickness, at
// most nominal, else the nominal. A plate not examined at all and without a
// reading has no value, never its nominal.
func (w *work) soundMetal(k int) {
	p := &w.plates[k]
	l := Location{
		Kind: SoundMetal, Label: w.in.Plates[k].Key, Plate: k, Indication: -1, ProveUp: -1, Patch: -1, Over: -1, Side: Both,
		Nominal: p.nominal, Age: p.age,
	}
	if l.Label == "" {
		l.Label = w.in.Plates[k].Label.Value
	}
	if p.annular {
		l.Zone = floor.Annular
	}
	l.Sound, _ = p.soundOf()
	l.T0 = p.nominal.Max(l.Sound)
	s := step.Step{ID: "location.sound." + l.Label, Title: "sound metal", Symbol: "r", Kind: unit.Thickness}
	switch {
	case p.least.Known && p.nominal.Known:
		s.Formula, s.Inputs = w.formula("min(t_nom, t)"), []step.Input{p.from, p.leastFrom}
		l.Remaining, l.Basis = p.nominal.Min(p.least), ByReading
	case p.least.Known:
		s.Formula, s.Inputs = w.formula("t"), []step.Input{p.leastFrom}
		l.Remaining, l.Basis = p.least, ByReading
	case p.examined.V <= 0:
		s.Why = "not examined, no reading"
	case p.nominal.Known:
		s.Formula, s.Inputs = w.formula("t_nom"), []step.Input{p.from}
		l.Remaining, l.Basis = p.nominal, ByNominal
		s.Branch = "no reading: nominal thickness"
	default:
		s.Why = "no nominal thickness, no reading"
	}
	if l.Remaining.Known {
		l.Remaining.V = max(0, l.Remaining.V)
		s.Value, s.Known, l.Counts = float64(l.Remaining.V), true, true
		l.Hole = l.Remaining.V <= 0
		if p.nominal.Known {
			l.Loss = unit.Some(unit.Percent(100 * (1 - float64(l.Remaining.V)/float64(p.nominal.V))))
		}
	}
	l.Step = s
	w.rates(&l)
	w.res.Locations = append(w.res.Locations, l)
	w.values = append(w.values, value{})
}

// threshold is the metal a scan may have left unseen on a plate.
//
//	r = t_nom·(1 − MFL threshold/100)
func (w *work) threshold(k int) {
	p := &w.plates[k]
	t := w.number(criteria.MFLThreshold)
	if !p.scanned || t <= 0 || !p.nominal.Known {
		return
	}
	r := float64(p.nominal.V) * (1 - t/100)
	l := Location{
		Kind: ThresholdAt, Label: w.in.Plates[k].Key, Plate: k, Indication: -1, ProveUp: -1, Patch: -1, Over: -1, Side: Soil,
		Zone: floor.General, Nominal: p.nominal, Basis: ByThreshold, Counts: true, Age: w.thresholdAge(p),
		Remaining: unit.Some(unit.Length(r)), Loss: unit.Some(unit.Percent(t)),
	}
	if p.annular {
		l.Zone = floor.Annular
	}
	if l.Label == "" {
		l.Label = w.in.Plates[k].Label.Value
	}
	l.Sound, _ = p.soundOf()
	l.T0 = p.nominal.Max(l.Sound)
	l.Step = step.Step{
		ID: "location.threshold." + l.Label, Title: "what the scan may have missed", Symbol: "r", Kind: unit.Thickness,
		Formula: w.formula("t_nom*(1 - T/100)"), Inputs: []step.Input{p.from, w.criterion("T", criteria.MFLThreshold)},
		Value: r, Known: true, Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyThresholdRule},
	}
	w.rates(&l)
	w.res.Locations = append(w.res.Locations, l)
	w.values = append(w.values, value{})
}

func (w *work) existingPatch(i int) {
	row := &w.in.Patches[i]
	k := w.plateOf(row.Plate)
	t, from := w.patchMetal(i, k)
	at := w.patchAt[i]
	l := Location{
		Kind: PatchAt, Label: row.Key, Plate: k, Indication: -1, ProveUp: -1, Patch: i, Over: -1, Side: Both, Box: at.OnPlate(),
		Nominal: t, Sound: t, T0: t, Remaining: t, Basis: ByPatch, NoRate: true, Counts: t.Known,
	}
	w.put(&l, at)
	l.Step = step.Step{
		ID: "location.patch." + l.Label, Title: "existing patch", Symbol: "r", Kind: unit.Thickness,
		Formula: w.formula("t_p"), Inputs: []step.Input{from}, Value: float64(t.V), Known: t.Known,
	}
	if !t.Known {
		l.Step.Why = "no patch thickness"
	}
	w.res.Locations = append(w.res.Locations, l)
	w.values = append(w.values, value{})
}
