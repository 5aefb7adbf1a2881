package assess

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

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
			inputs: w.inputs(cell("UT", "remaining as measured", ind.Remaining, unit.Thickness)),
		})
	}
	if ind.Depth.OK() && at.sound.Known {
		out = append(out, candidate{
			rank: rank, r: float64(at.sound.V - ind.Depth.Value), basis: basis, expr: exprDepth, proveUp: -1, sound: at.sound, depth: "d",
			inputs: w.inputs(at.soundFrom, cell("d", "depth", ind.Depth, unit.Thickness)),
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
		inputs: w.inputs(at.from, cell("Loss", "loss", ind.Loss, unit.Share)),
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
