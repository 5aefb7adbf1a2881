package assess

import (
	"slices"
	"strconv"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// readPlates gathers what is known of each plate: nominal, age, readings.
func (w *work) readPlates() {
	in := w.in
	if w.floorAge = w.age(in.Tank.FloorInstalled); w.floorAge.Known {
		w.floorAge.V = max(0, w.floorAge.V+w.older)
	}
	w.plates = make([]plate, len(in.Plates))
	w.byLabel = make(map[string]int, 2*len(in.Plates))
	for i := range in.Plates {
		p := &in.Plates[i]
		w.plates[i] = w.readPlate(p)
		if !p.Label.OK() {
			continue
		}
		key := foldedKey(p.Label.Value)
		if first, taken := w.byLabel[key]; !taken || (w.plates[first].out && !p.Out) {
			w.byLabel[key] = i
		}
	}
	w.readPatches()
	w.readReadings()
}

func (w *work) readPlate(p *inspection.Plate) plate {
	t := &w.in.Tank
	out := plate{out: p.Out, annular: inspection.Is(p.Type, "annular")}
	switch {
	case p.Nominal.OK():
		out.from = cell("t_nom", "nominal thickness", p.Nominal, unit.Thickness)
	case p.Nominal.State == inspection.Wrong:
		out.from = step.Input{Symbol: "t_nom", Kind: unit.Thickness}
	case out.annular:
		out.from = cell("t_nom", "nominal thickness", t.AnnularNominal, unit.Thickness)
	default:
		out.from = cell("t_nom", "nominal thickness", t.NominalThickness, unit.Thickness)
	}
	if out.from.Known && out.from.Value > 0 {
		out.nominal = unit.Some(unit.Length(out.from.Value))
	}
	switch {
	case p.Installed.OK():
		out.age = w.age(p.Installed)
	case p.Installed.State != inspection.Wrong:
		out.age = w.floorAge
	}
	var done float64
	for _, c := range []inspection.Percent{p.MFLScanned, p.HandScanned, p.UTGridded} {
		done += max(0, float64(c.Or(0)))
	}
	out.scanned = p.MFLScanned.Or(0) > 0 || p.HandScanned.Or(0) > 0
	out.examined = unit.Some(unit.Percent(min(100, done)))
	return out
}

// age is the time a metal was in service at the end of the inspection.
//
//	N = (Inspection end − installed)/365.25
func (w *work) age(installed inspection.Date) unit.Maybe[unit.Years] {
	end := w.in.Tank.InspectionEnd
	if !installed.OK() || !end.OK() || installed.Value > end.Value {
		return unit.Maybe[unit.Years]{}
	}
	return unit.Some(end.Value.YearsSince(installed.Value))
}

// readReadings finds each plate's median reading and its least reading or
// sound thickness.
func (w *work) readReadings() {
	in := w.in
	for i := range in.Readings {
		r := &in.Readings[i]
		if k := w.plateOf(r.Plate); k >= 0 && !r.Out && r.Thickness.OK() {
			w.plates[k].readings = append(w.plates[k].readings, i)
			w.plates[k].take(cell("t", "least reading", r.Thickness, unit.Thickness))
		}
	}
	for i := range in.ProveUps {
		u := &in.ProveUps[i]
		if k := w.plateOf(u.Plate); k >= 0 && !u.Out && u.Sound.OK() {
			w.plates[k].take(cell("t", "least sound thickness", u.Sound, unit.Thickness))
		}
	}
	for k := range w.plates {
		p := &w.plates[k]
		if n := len(p.readings); n > 0 {
			ts := make([]float64, n)
			for i, r := range p.readings {
				ts[i] = float64(in.Readings[r].Thickness.Value)
			}
			p.median = unit.Some(unit.Length(median(ts)))
			p.medianText = MedianText(n, in.Plates[k].Label.Text)
		}
		if p.values > 1 {
			p.leastFrom.Title += " of " + strconv.Itoa(p.values) + " values"
		}
	}
}

func (p *plate) take(in step.Input) {
	p.values++
	if v := unit.Length(in.Value); !p.least.Known || v < p.least.V {
		p.least, p.leastFrom = unit.Some(v), in
	}
}

// median is the middle value, of an even number the mean of the middle two.
// It sorts its argument.
func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	if n%2 == 1 {
		return v[n/2]
	}
	return (v[n/2-1] + v[n/2]) / 2
}

// SoundTitle names the sound metal beside a place in a step.
const SoundTitle = "sound metal"

// MedianText says where a plate's sound metal comes from.
func MedianText(readings int, plate string) string {
	return "median of " + strconv.Itoa(readings) + " readings of plate " + plate
}

// soundOf is t_s of a plate where no prove-up gives it: the median reading,
// else the nominal.
func (p *plate) soundOf() (unit.Maybe[unit.Length], step.Input) {
	if p.median.Known {
		return p.median, constant("t_s", SoundTitle, float64(p.median.V), unit.Thickness, p.medianText)
	}
	return p.nominal, as("t_s", p.from)
}

// thresholdAge is the age for what the scan may have missed: a young plate
// takes the floor's where that is greater.
func (w *work) thresholdAge(p *plate) unit.Maybe[unit.Years] {
	if p.age.Known && p.age.V < w.set.Years(criteria.AgeForAReliableRate) {
		return p.age.Max(w.floorAge)
	}
	return p.age
}
