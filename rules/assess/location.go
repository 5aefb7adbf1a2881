package assess

import (
	"math"
	"strconv"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// place is where a row stands and of what metal it is: the plate's, or that of
// an existing patch it lies on.
type place struct {
	plate     int
	box       floor.Box
	boxed     bool
	patch     int
	nominal   unit.Maybe[unit.Length]
	from      step.Input
	sound     unit.Maybe[unit.Length] // t_s without a prove-up of its own
	soundFrom step.Input
	age       unit.Maybe[unit.Years]
	side      Side
}

// at finds the metal of a row. On several patches the thinnest counts.
func (w *work) at(plateLabel inspection.Label, x, y, length, width inspection.Length) place {
	p := place{plate: w.plateOf(plateLabel), patch: -1}
	p.box, p.boxed = w.box(p.plate, x, y, length, width)
	if p.plate < 0 {
		p.from = step.Input{Symbol: "t_nom", Kind: unit.Thickness}
		return p
	}
	pl := &w.plates[p.plate]
	p.nominal, p.from, p.age = pl.nominal, pl.from, pl.age
	p.sound, p.soundFrom = pl.soundOf()
	if !p.boxed {
		return p
	}
	for _, i := range w.patches[p.plate] {
		row := &w.in.Patches[i]
		b, ok := w.box(p.plate, row.X, row.Y, row.Length, row.Width)
		if !ok || !b.Has(p.box.Centre()) {
			continue
		}
		t, from := w.patchMetal(i, p.plate)
		if p.patch >= 0 && !(t.Known && (!p.nominal.Known || t.V < p.nominal.V)) {
			continue
		}
		p.patch, p.nominal, p.from, p.age = i, t, as("t_nom", from), w.patchAge(i, p.plate)
		p.sound, p.soundFrom = t, as("t_s", from)
	}
	return p
}

// patchMetal is an existing patch's thickness; blank, the plate's nominal.
func (w *work) patchMetal(i, plate int) (unit.Maybe[unit.Length], step.Input) {
	f := w.in.Patches[i].Thickness
	if f.OK() {
		return unit.Some(f.Value), cell("t_p", "patch thickness", f, unit.Thickness)
	}
	if f.State == inspection.Wrong || plate < 0 {
		return unit.Maybe[unit.Length]{}, step.Input{Symbol: "t_p", Kind: unit.Thickness}
	}
	return w.plates[plate].nominal, as("t_p", w.plates[plate].from)
}

func (w *work) patchAge(i, plate int) unit.Maybe[unit.Years] {
	f := w.in.Patches[i].Installed
	switch {
	case f.OK():
		return w.age(f)
	case f.State == inspection.Wrong:
		return unit.Maybe[unit.Years]{}
	}
	return w.plates[plate].age
}

// locate lists every place whose thickness counts, (a) to (e) of the method,
// in the order of the sheets.
func (w *work) locate() {
	in := w.in
	at := make([]place, len(in.Indications))
	for i := range in.Indications {
		if ind := &in.Indications[i]; !ind.Out {
			at[i] = w.at(ind.Plate, ind.X, ind.Y, ind.Length, ind.Width)
			at[i].side = w.side(ind, i)
			w.noteScanned(ind, at[i].plate)
		}
	}
	w.pairs(at)
	n := len(in.Indications) + len(w.loose) + 2*len(in.Plates) + len(in.Patches)
	w.res.Locations, w.values = make([]Location, 0, n), make([]value, 0, n)
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

// noteScanned takes a plate without any coverage as scanned when a scan found
// something there: what the scan may have missed then counts, which is the
// safe side.
func (w *work) noteScanned(ind *inspection.Indication, k int) {
	if k < 0 || w.plates[k].scanned || !relevant(ind) {
		return
	}
	if scanned(ind) {
		p := &w.in.Plates[k]
		w.plates[k].scanned = !p.MFLScanned.OK() && !p.HandScanned.OK()
	}
}

// side is the indication's own side; unknown, that of its prove-ups where
// they agree.
func (w *work) side(ind *inspection.Indication, i int) Side {
	s := sideOf(ind.Side)
	for _, u := range w.tied[i] {
		if s != Unknown {
			return s
		}
		s = sideOf(w.in.ProveUps[u].Side)
		for _, v := range w.tied[i] {
			if o := sideOf(w.in.ProveUps[v].Side); o != Unknown && s != Unknown && o != s {
				return Unknown
			}
		}
	}
	return s
}

// add places a location, gives it its thickness and keeps it.
func (w *work) add(start Location, at *place, v value) {
	w.res.Locations = append(w.res.Locations, start)
	w.values = append(w.values, v)
	l := &w.res.Locations[len(w.res.Locations)-1]
	l.Plate, l.Box, l.Patch = at.plate, at.box, at.patch
	l.Nominal, l.Age, l.Over = at.nominal, at.age, -1
	w.put(l, at)
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

// put finds the location's place in plan and its zone.
func (w *work) put(l *Location, at *place) {
	if at.plate < 0 {
		return
	}
	if w.plates[at.plate].annular {
		l.Zone = floor.Annular
	}
	if !at.boxed || w.plan == nil {
		return
	}
	if z := w.plan.ZoneOf(at.plate, at.box, w.number(criteria.CriticalZoneWidth)); z != "" {
		l.Zone = z
	}
	if l.At, l.Placed = w.plan.LocalToPlan(at.plate, at.box.Centre()); l.Placed {
		l.Bearing, l.Radius = w.plan.Bearing(l.At), w.plan.FromCentre(l.At)
	}
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
	expr, inputs := v.expression("")
	s := step.Step{
		ID: "location." + l.Label, Title: "remaining thickness", Symbol: "r", Kind: unit.Thickness,
		Formula: w.formula("max(0, " + expr + ")"), Inputs: inputs, Value: r, Known: true,
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

// candidates are all values of an indication: its prove-ups' and its own.
func (w *work) candidates(i int, at *place) []candidate {
	ind := &w.in.Indications[i]
	var out []candidate
	var p *plate
	if at.plate >= 0 {
		p = &w.plates[at.plate]
	}
	sound, soundFrom := at.sound, at.soundFrom
	for _, u := range w.tied[i] {
		out = append(out, w.proveUpValues(u, p, at.nominal, at.patch >= 0, at.from)...)
		if s := w.in.ProveUps[u].Sound; s.OK() && (!sound.Known || s.Value < sound.V || soundFrom.From.Ref == at.soundFrom.From.Ref) {
			sound, soundFrom = unit.Some(s.Value), cell("t_s", "sound metal", s, unit.Thickness)
		}
	}
	own := *at
	own.sound, own.soundFrom = sound, soundFrom
	if screening(ind) {
		if len(out) > 0 {
			return out // a prove-up of either kind counts before any estimate
		}
		return w.estimates(ind, &own)
	}
	return append(out, w.measured(ind, &own)...)
}

// measured are the candidates of a UT or visual row. A visual row's bare loss
// is an estimate; one beside a measured value counts only where it says less
// metal than the cross-check tolerance allows.
func (w *work) measured(ind *inspection.Indication, at *place) []candidate {
	rank, basis := rankUT, ByUT
	if !ultrasonic(ind) {
		rank, basis = rankPitGauge, ByPitGauge
	}
	var out []candidate
	if ind.Remaining.OK() {
		out = append(out, candidate{
			rank: rank, r: float64(ind.Remaining.Value), basis: basis, expr: exprUT, proveUp: -1, sound: at.sound,
			inputs: []step.Input{cell("UT", "remaining as measured", ind.Remaining, unit.Thickness)},
		})
	}
	if ind.Depth.OK() && at.sound.Known {
		out = append(out, candidate{
			rank: rank, r: float64(at.sound.V - ind.Depth.Value), basis: basis, expr: exprDepth, proveUp: -1, sound: at.sound, depth: "d",
			inputs: []step.Input{at.soundFrom, cell("d", "depth", ind.Depth, unit.Thickness)},
		})
	}
	if !ind.Loss.OK() || !at.nominal.Known {
		return out
	}
	if basis == ByPitGauge && len(out) == 0 {
		return w.estimates(ind, at)
	}
	c := candidate{
		rank: rank, r: float64(at.nominal.V) * (1 - float64(ind.Loss.Value)/100), basis: basis, expr: exprLoss, proveUp: -1, sound: at.sound,
		inputs: []step.Input{at.from, cell("Loss", "loss", ind.Loss, unit.Share)},
	}
	if basis == ByPitGauge {
		allowed := w.number(criteria.CrossCheckTolerance) / 100 * float64(at.nominal.V)
		for _, o := range out {
			if math.Abs(o.r-c.r) > allowed+1e-6 {
				return append(out, c)
			}
		}
		return out
	}
	return append(out, c)
}

func (w *work) proveUp(u int) {
	row := &w.in.ProveUps[u]
	at := w.at(row.Plate, row.X, row.Y, inspection.Length{}, inspection.Length{})
	at.side = sideOf(row.Side)
	var p *plate
	if at.plate >= 0 {
		p = &w.plates[at.plate]
	}
	l := Location{Kind: ProveUpAt, Label: row.Key, Indication: -1, ProveUp: u, Side: at.side}
	w.add(l, &at, weigh(w.proveUpValues(u, p, at.nominal, at.patch >= 0, at.from), at.side))
}

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
	at := place{plate: k, patch: i, nominal: t, from: from}
	at.box, at.boxed = w.box(k, row.X, row.Y, row.Length, row.Width)
	l := Location{
		Kind: PatchAt, Label: row.Key, Plate: k, Indication: -1, ProveUp: -1, Patch: i, Over: -1, Side: Both, Box: at.box,
		Nominal: t, Sound: t, T0: t, Remaining: t, Basis: ByPatch, NoRate: true, Counts: t.Known,
	}
	w.put(&l, &at)
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
