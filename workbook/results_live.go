package workbook

import (
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// mostTerms is how many cells one formula names: spreadsheet programs take 255
// arguments and 8,192 signs.
const mostTerms = 200

// plateMetal is what was read of a plate's metal, with the cells it stands in.
type plateMetal struct {
	readings, all []string // formulas in mm: of readings; of readings and sound thicknesses
	median, least float64
	whole         bool // every one of them stands in a plain cell
	places        []int
}

// layPlates gathers the readings of each plate and settles where its median
// stands.
func (rs *results) layPlates() {
	in := rs.a.Inspection
	rs.metal = make([]plateMetal, len(in.Plates))
	index := map[string]int{}
	for i := range in.Plates {
		rs.metal[i].whole = true
		if p := &in.Plates[i]; p.Label.OK() {
			key := inspection.Fold(p.Label.Value)
			if first, taken := index[key]; !taken || in.Plates[first].Out && !p.Out {
				index[key] = i
			}
		}
	}
	values, sounds := make([][]float64, len(in.Plates)), make([][]float64, len(in.Plates))
	take := func(plate inspection.Label, t inspection.Length, reading bool) {
		k, known := index[inspection.Fold(plate.Value)]
		if !plate.OK() || !known || !t.OK() {
			return
		}
		m := &rs.metal[k]
		f, ok := rs.plainLength(t, float64(t.Value))
		m.whole = m.whole && ok
		m.all, sounds[k] = append(m.all, f), append(sounds[k], float64(t.Value))
		if reading {
			m.readings, values[k] = append(m.readings, f), append(values[k], float64(t.Value))
		}
	}
	for i := range in.Readings {
		if r := &in.Readings[i]; !r.Out {
			take(r.Plate, r.Thickness, true)
		}
	}
	for i := range in.ProveUps {
		if u := &in.ProveUps[i]; !u.Out {
			take(u.Plate, u.Sound, false)
		}
	}
	for k := range rs.metal {
		m := &rs.metal[k]
		m.whole = m.whole && len(m.all) > 0 && len(m.all) <= mostTerms
		if len(m.all) > 0 {
			m.least = slices.Min(sounds[k])
		}
		if n := len(values[k]); n > 0 {
			slices.Sort(values[k])
			m.median = (values[k][(n-1)/2] + values[k][n/2]) / 2
			rs.name(assess.MedianText(n, in.Plates[k].Label.Text), assess.SoundTitle, rs.plateCell(plateMedian, k), m.median)
		}
	}
	for i := range rs.a.Result.Locations {
		if k := rs.a.Result.Locations[i].Plate; k >= 0 {
			rs.metal[k].places = append(rs.metal[k].places, i)
		}
	}
}

// writeMetal writes a plate's median reading and least sound metal in mm.
func (rs *results) writeMetal(k int, set func(int, xlsx.Entry)) {
	m := &rs.metal[k]
	entry := func(col int, name string, cells []string, v float64) {
		switch {
		case len(cells) == 0:
		case m.whole:
			set(col, xlsx.Live(name+"("+strings.Join(cells, ",")+")", v, xlsx.Fixed3))
		default:
			set(col, xlsx.Number(v, xlsx.Fixed3))
		}
	}
	entry(plateMedian, "MEDIAN", m.readings, m.median)
	entry(plateLeast, "MIN", m.all, m.least)
}

// overPlaces is the least of a column over places of a plate, live.
func (rs *results) overPlaces(name string, col int, places []int, v float64, st xlsx.Style) xlsx.Entry {
	if len(places) == 0 || len(places) > mostTerms {
		return xlsx.Number(v, st)
	}
	cells := make([]string, len(places))
	for i, p := range places {
		cells[i] = at(rs.places.Name, col, firstPlace+p)
	}
	return xlsx.Live(name+"("+strings.Join(cells, ",")+")", v, st)
}

// writeWorst writes a plate's least thicknesses, its required thickness and
// margin, live over its places.
func (rs *results) writeWorst(k int, set func(int, xlsx.Entry)) {
	p := &rs.a.Result.Plates[k]
	thick := fixed(unit.Thickness, rs.sys, 0)
	var worst, soil, product, margin []int
	var lossy []string
	losses, required := true, -1
	for _, i := range rs.metal[k].places {
		l := &rs.a.Result.Locations[i]
		if !l.Counts {
			continue
		}
		if l.Kind == assess.ThresholdAt {
			if p.Threshold == l.Remaining {
				set(plateThreshold, rs.fromPlace(placeRemaining, i, float64(l.Remaining.V), thick))
			}
			continue
		}
		worst = append(worst, i)
		if l.Side.OnSoil() || l.Over >= 0 {
			soil = append(soil, i)
		}
		if l.Side.OnProduct() || l.Over >= 0 {
			product = append(product, i)
		}
		if l.Loss.Known {
			f, ok := rs.lossTerm(i)
			losses = losses && ok
			lossy = append(lossy, f)
		}
		if l.Margin.Known {
			margin = append(margin, i)
			if required < 0 && l.Margin == p.Margin && l.Required == p.Required {
				required = i
			}
		}
	}
	factor := unit.Thickness.Factor(rs.sys)
	least := func(col, from int, places []int, v unit.Maybe[unit.Length]) {
		if v.Known {
			set(col, rs.overPlaces("MIN", from, places, float64(v.V)/factor, thick))
		}
	}
	least(plateWorst, placeRemaining, worst, p.Worst)
	least(plateWorstSoil, placeRemaining, soil, p.WorstSoil)
	least(plateWorstProduct, placeRemaining, product, p.WorstProduct)
	least(plateMargin, placeMargin, margin, p.Margin)
	if p.Required.Known {
		set(plateRequired, xlsx.Number(float64(p.Required.V)/factor, thick))
		if required >= 0 {
			set(plateRequired, rs.fromPlace(placeRequired, required, float64(p.Required.V), thick))
		}
	}
	if p.WorstLoss.Known {
		set(plateWorstLoss, xlsx.Number(float64(p.WorstLoss.V), xlsx.Percent1))
		if losses && len(lossy) > 0 && len(lossy) <= mostTerms/2 {
			set(plateWorstLoss, xlsx.Live("MAX("+strings.Join(lossy, ",")+")", float64(p.WorstLoss.V), xlsx.Percent1))
		}
	}
}

// fromPlace is a length of a place in the workbook's units, live.
func (rs *results) fromPlace(col, place int, mm float64, st xlsx.Style) xlsx.Entry {
	return xlsx.Live(at(rs.places.Name, col, firstPlace+place), mm/unit.Thickness.Factor(rs.sys), st)
}

// lossTerm is a place's loss in percent, as a term of a formula on any sheet.
func (rs *results) lossTerm(i int) (string, bool) {
	l := &rs.a.Result.Locations[i]
	if row, listed := rs.statisticsAt.at[i]; listed {
		return at(rs.statistics.Name, countedLoss, row), true
	}
	if l.Remaining.Known && l.Nominal.Known && close9(100*(1-float64(l.Remaining.V/l.Nominal.V)), float64(l.Loss.V)) {
		return "100*(1-" + at(rs.places.Name, placeR, firstPlace+i) + "/" + rs.nominalOf(l) + ")", true
	}
	return "", false
}

// soundMetal is a plate's own place: the least of its nominal thickness and of
// all its readings, so that a reading that becomes the least counts.
func (rs *results) soundMetal(l *assess.Location) (string, bool) {
	if l.Kind != assess.SoundMetal || l.Plate < 0 || !l.Nominal.Known {
		return "", false
	}
	m := &rs.metal[l.Plate]
	if !m.whole || rs.a.Result.Plates[l.Plate].Nominal != l.Nominal || !close9(min(float64(l.Nominal.V), m.least), float64(l.Remaining.V)) {
		return "", false
	}
	return "MIN(" + rs.plateCell(plateNominal, l.Plate) + "," + rs.plateCell(plateLeast, l.Plate) + ")", true
}

// originalThickness is t0 = max(t_nom, t_s), live over the plate's nominal and
// the sound metal beside the place: a prove-up's, else the plate's median.
func (rs *results) originalThickness(l *assess.Location) xlsx.Entry {
	v := float64(l.T0.V)
	in := rs.a.Inspection
	if l.Plate < 0 || !l.Nominal.Known || rs.a.Result.Plates[l.Plate].Nominal != l.Nominal {
		return xlsx.Number(v, xlsx.Fixed3)
	}
	nominal := rs.plateCell(plateNominal, l.Plate)
	over := func(f string, sound float64) (xlsx.Entry, bool) {
		if f == "" || math.Max(float64(l.Nominal.V), sound) != v {
			return xlsx.Entry{}, false
		}
		return xlsx.Live("MAX("+nominal+","+f+")", v, xlsx.Fixed3), true
	}
	if l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt {
		if l.ProveUp >= 0 && in.ProveUps[l.ProveUp].Sound.OK() {
			s := in.ProveUps[l.ProveUp].Sound
			f, _ := rs.plainLength(s, float64(s.Value))
			if e, ok := over(f, float64(s.Value)); ok {
				return e
			}
		} else if m := &rs.metal[l.Plate]; len(m.readings) > 0 {
			if e, ok := over(rs.plateCell(plateMedian, l.Plate), m.median); ok {
				return e
			}
		}
	}
	if float64(l.Nominal.V) == v {
		return xlsx.Live(nominal, v, xlsx.Fixed3)
	}
	return xlsx.Number(v, xlsx.Fixed3)
}

// ageOf is the age of a place's metal: the floor's, or its plate's.
func (rs *results) ageOf(years float64, plate int) xlsx.Entry {
	if s := rs.a.Result.Steps.Find("rate.age"); s != nil && s.Known && s.Value == years {
		return xlsx.Live(rs.cells["rate.age"], years, xlsx.Fixed3)
	}
	if plate >= 0 && rs.a.Result.Plates[plate].Age == unit.Some(unit.Years(years)) {
		return xlsx.Live(rs.plateCell(plateAge, plate), years, xlsx.Fixed3)
	}
	return xlsx.Number(years, xlsx.Fixed3)
}

// plateAgeOf is a plate's age, live from the day it was installed.
func (rs *results) plateAgeOf(k int) xlsx.Entry {
	years := float64(rs.a.Result.Plates[k].Age.V)
	if s := rs.a.Result.Steps.Find("rate.age"); s != nil && s.Known && s.Value == years {
		return rs.ageOf(years, -1)
	}
	installed, end := rs.a.Inspection.Plates[k].Installed, rs.a.Inspection.Tank.InspectionEnd
	if installed.OK() && installed.Plain && end.OK() && end.Plain && installed.Ref.IsCell() && end.Ref.IsCell() && close9(float64(end.Value.YearsSince(installed.Value)), years) {
		return xlsx.Live("("+end.Ref.String()+"-"+installed.Ref.String()+")/365.25", years, xlsx.Fixed3)
	}
	return xlsx.Number(years, xlsx.Fixed3)
}

// requirement is what a place's thickness is held against now, in the
// workbook's units: the largest of the general requirement and those of its
// zone.
func (rs *results) requirement(l *assess.Location) xlsx.Entry {
	v, factor, style := float64(l.Required.V), unit.Thickness.Factor(rs.sys), fixed(unit.Thickness, rs.sys, 0)
	plain := xlsx.Number(v/factor, style)
	term := func(id string) (string, float64, bool) {
		s := rs.a.Result.Steps.Find(id)
		if s == nil || !s.Known || rs.cells[id] == "" {
			return "", 0, false
		}
		return rs.cells[id], s.Value, true
	}
	general, g, ok := term("required.general")
	if !ok {
		return plain
	}
	critical, c, hasCritical := rs.criticalTerm(l)
	ring, r, hasRing := term("annular.required")
	hasCritical = hasCritical && l.Zone == floor.Critical
	hasRing = hasRing && l.Plate >= 0 && inspection.Is(rs.a.Inspection.Plates[l.Plate].Type, "annular")
	terms, most := []string{general}, g
	if hasCritical {
		terms, most = append(terms, critical), math.Max(most, c)
	}
	if hasRing {
		terms, most = append(terms, ring), math.Max(most, r)
	}
	switch {
	case close9(most, v):
	case close9(g, v): // let off the zone's requirement as an isolated pit
		terms = terms[:1]
	default:
		return plain
	}
	f := terms[0]
	if len(terms) > 1 {
		f = "MAX(" + strings.Join(terms, ",") + ")"
	}
	if factor != 1 {
		f += "/" + literal(factor)
	}
	return xlsx.Live(f, v/factor, style)
}

// criticalTerm is t_cz of a location's plate.
func (rs *results) criticalTerm(l *assess.Location) (string, float64, bool) {
	if l.Plate < 0 || !l.Nominal.Known || rs.a.Result.Plates[l.Plate].Nominal != l.Nominal {
		return "", 0, false
	}
	allowance, ca := rs.criterionTerm(criteria.BottomCorrosionAllowance)
	least := float64(api653_5.CriticalZoneFloor)
	half := (float64(l.Nominal.V) - ca) / 2
	f := "(" + rs.plateCell(plateNominal, l.Plate) + "-" + allowance + ")/2"
	if s := rs.a.Result.Steps.Find("shell.tmin"); s != nil && s.Known {
		half = math.Min(half, s.Value/2)
		f = "MIN(" + f + "," + rs.cells["shell.tmin"] + "/2)"
	}
	return "MAX(" + literal(least) + "," + f + ")", math.Max(least, half), true
}

// criterionTerm is a criterion's length in mm: its cell, or the number.
func (rs *results) criterionTerm(n criteria.Name) (string, float64) {
	v := rs.criteria().Get(n)
	if v.Given && v.Plain && v.Ref.IsCell() {
		return rs.cellExpression(v.Ref, v.Scale, unit.Thickness), v.Number
	}
	return literal(v.Number), v.Number
}

// newMetal is the thickness of a repair's metal where a place counts with it.
func (rs *results) newMetal(p *placeRow, mm float64) xlsx.Entry {
	in := rs.a.Inspection
	for i := range in.Repairs {
		r := &in.Repairs[i]
		if r.Label.Text != p.label || r.Out {
			continue
		}
		if f, ok := rs.plainLength(r.Thickness, mm); ok {
			return xlsx.Live(f, mm, xlsx.Fixed3)
		}
	}
	if p.plate >= 0 && rs.a.Result.Proposed && !rs.criteria().Get(criteria.PatchThickness).Set && rs.a.Result.Plates[p.plate].Nominal == unit.Some(unit.Length(mm)) {
		return xlsx.Live(rs.plateCell(plateNominal, p.plate), mm, xlsx.Fixed3)
	}
	return xlsx.Number(mm, xlsx.Fixed3)
}
