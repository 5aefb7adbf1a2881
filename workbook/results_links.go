package workbook

import (
	"cmp"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// mostParts keeps a list of ranges within what a spreadsheet function takes.
const mostParts = 200

// cellsOf are some rows of a column as a formula writes them: neighbours as one
// range, the ranges divided by commas. "" when they are none or too many.
func cellsOf(sheet string, col int, rows []int) string {
	var parts []string
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[j+1] == rows[j]+1 {
			j++
		}
		part := at(sheet, col, rows[i])
		if j > i {
			part += ":" + here(col, rows[j])
		}
		parts, i = append(parts, part), j+1
	}
	if len(parts) > mostParts {
		return ""
	}
	return strings.Join(parts, ",")
}

// layPlateColumns settles, under rate basis plate, where the places of each
// plate stand, and with them its least thicknesses and its rates.
func (rs *results) layPlateColumns() {
	if !rs.criteria().Is(criteria.RateBasis, "plate") {
		return
	}
	in := rs.a.Inspection
	rows := make([][]int, len(in.Plates)+1) // the last: on no plate
	group := func(plate int) int {
		if plate < 0 {
			return len(in.Plates)
		}
		return plate
	}
	for i := range rs.placeRow {
		k := group(rs.placeRow[i].plate)
		rows[k] = append(rows[k], firstPlace+i)
	}
	for _, st := range rs.states {
		min, max := rs.plateValues(st.state, len(rows), group)
		for k := range rows {
			name := assess.ExtremeLabel
			if k < len(in.Plates) {
				name = assess.PlateName(in.Plates[k].Label.Value)
			}
			for i, column := range stateColumns {
				list := cellsOf(rs.places.Name, st.col+i, rows[k])
				if list == "" {
					continue
				}
				rs.columns[assess.PlateColumn(column+st.state.String(), name)] = list
				rs.plateNumber(st.state, name, i, list, min[k], max[k])
			}
		}
	}
}

// plateNumber names what a plate's column gives: its least thickness of a side
// or its rate.
func (rs *results) plateNumber(s assess.State, name string, column int, list string, least, most [4]unit.Maybe[unit.Length]) {
	switch column {
	case 0, 1:
		title := []string{assess.LeastSoil, assess.LeastProduct}[column]
		rs.name(assess.LeastText(s, name), title, "MIN("+list+")", float64(least[column].V))
	default:
		title := []string{assess.SoilRate, assess.ProductRate}[column-2]
		lowest := []criteria.Name{criteria.MinimumSoilSideRate, criteria.MinimumProductSideRate}[column-2]
		removed := []criteria.Name{criteria.SoilSideCauseRemoved, criteria.ProductSideCauseRemoved}[column-2]
		v := max(0, float64(most[column].V), rs.criteria().Number(lowest))
		states := []assess.State{s}
		if s == assess.AsFound && !rs.criteria().Is(criteria.RateAfterRepair, "recomputed") && !rs.criteria().Is(removed, "yes") {
			states = assess.States // the rates stay as found
		} else if s != assess.AsFound {
			if _, taken := rs.named[assess.PlateRateText(s, name)+"\n"+title]; taken {
				return
			}
		}
		for _, state := range states {
			rs.name(assess.PlateRateText(state, name), title, "MAX("+list+",0,"+rs.criterionNumber(lowest)+")", v)
		}
	}
}

// plateValues are the least and the greatest of each column by plate.
func (rs *results) plateValues(s assess.State, n int, group func(int) int) (least, most [][4]unit.Maybe[unit.Length]) {
	least, most = make([][4]unit.Maybe[unit.Length], n), make([][4]unit.Maybe[unit.Length], n)
	for i := range rs.a.Result.State(s).Counted {
		c := &rs.a.Result.State(s).Counted[i]
		k := group(c.Plate)
		for column, v := range [4]unit.Maybe[unit.Length]{
			{V: c.Remaining, Known: c.OnSoil},
			{V: c.Remaining, Known: c.OnProduct},
			{V: unit.Length(c.SoilRate.V), Known: c.SoilRate.Known},
			{V: unit.Length(c.ProductRate.V), Known: c.ProductRate.Known},
		} {
			least[k][column], most[k][column] = least[k][column].Min(v), most[k][column].Max(v)
		}
	}
	return least, most
}

// criterionNumber is a criterion in SI as a formula writes it: its cell, or the
// number itself where the default stands.
func (rs *results) criterionNumber(n criteria.Name) string {
	v := rs.criteria().Get(n)
	d, _ := criteria.Find(n)
	if v.Given && v.Plain && v.Ref.IsCell() {
		return rs.cellExpression(v.Ref, v.Scale, d.Kind)
	}
	return literal(d.Kind.In(unit.SI, v.Number))
}

// layWords makes the questions that a cell answers with a word live: 1 where it
// holds the word. A word under another name is left as it was read.
func (rs *results) layWords() {
	t := &rs.a.Inspection.Tank
	ask := func(f inspection.Word, word, also string) {
		if !f.Ref.IsCell() || also == "" && !f.OK() {
			return
		}
		if f.OK() && !strings.EqualFold(strings.TrimSpace(f.Text), strings.TrimSpace(f.Value)) {
			return
		}
		q := "LOWER(TRIM(" + f.Ref.String() + "))=\"" + word + "\""
		if also != "" {
			q = "AND(" + q + "," + also + ")"
		}
		rs.words[f.Ref] = "IF(" + q + ",1,0)"
	}
	ask(t.ReleasePreventionBarrier, "yes", "")
	if e := t.CathodicProtectionEvidence; e.Ref.IsCell() {
		ask(t.CathodicProtection, "recorded effective", "LEN(TRIM("+e.Ref.String()+"))>0")
	}
	if v := rs.criteria().Get(criteria.HydrotestPlanned); v.Given && v.Ref.IsCell() {
		rs.words[v.Ref] = "IF(LOWER(TRIM(" + v.Ref.String() + "))=\"yes\",1,0)"
	}
}

// ageFormula is the years a metal was in service, from its own date or the
// floor's.
func (rs *results) ageFormula(years float64, installed inspection.Date) (string, bool) {
	end := rs.a.Inspection.Tank.InspectionEnd
	if s := rs.a.Result.Steps.Find("rate.age"); s != nil && s.Known && s.Value == years {
		return rs.cells["rate.age"], true
	}
	if installed.OK() && installed.Plain && end.OK() && end.Plain && close9(float64(end.Value.YearsSince(installed.Value)), years) {
		return "(" + end.Ref.String() + "-" + installed.Ref.String() + ")/365.25", true
	}
	return "", false
}

// installed is the date a location's metal was put in, where it has one of its
// own: of the patch it lies on, else of its plate.
func (rs *results) installed(l *assess.Location) inspection.Date {
	in := rs.a.Inspection
	if l.Patch >= 0 && in.Patches[l.Patch].Installed.OK() {
		return in.Patches[l.Patch].Installed
	}
	if l.Plate >= 0 {
		return in.Plates[l.Plate].Installed
	}
	return inspection.Date{}
}

// originalOf is t0 = max(t_nom, t_s) of a location by itself, as a formula in
// mm: of the patch it lies on or of its plate, with the sound metal beside it.
func (rs *results) originalOf(l *assess.Location) (string, bool) {
	in := rs.a.Inspection
	if l.Kind == assess.ExtremeAt {
		return rs.classCell()
	}
	if !l.Sound.Known || l.Plate < 0 {
		return "", false
	}
	nominal, ok := "0", false
	switch {
	case !l.Nominal.Known:
		ok = true // the sound metal alone
	case l.Patch >= 0 && in.Patches[l.Patch].Thickness.OK():
		nominal, ok = rs.plainLength(in.Patches[l.Patch].Thickness, float64(l.Nominal.V))
	case rs.a.Result.Plates[l.Plate].Nominal == l.Nominal:
		nominal, ok = rs.plateCell(plateNominal, l.Plate), true
	}
	if !ok || l.Sound == l.Nominal {
		return nominal, ok
	}
	for _, u := range append([]int{l.ProveUp}, l.Tied...) {
		if u >= 0 {
			if f, plain := rs.plainLength(in.ProveUps[u].Sound, float64(l.Sound.V)); plain {
				return "MAX(" + nominal + "," + f + ")", true
			}
		}
	}
	if m := &rs.metal[l.Plate]; len(m.readings) > 0 && close9(m.median, float64(l.Sound.V)) {
		return "MAX(" + nominal + "," + rs.plateCell(plateMedian, l.Plate) + ")", true
	}
	return nominal, l.Nominal.Known && l.Sound.V <= l.Nominal.V
}

// pairRates are the rates of a product pit over a soil pit, as formulas over
// the pit's own row: the product pit's by itself, and for the soil pit what is
// left of the whole. "" where they are not that.
func (rs *results) pairRates(l *assess.Location, c *assess.Counted, row int) (soil, product string) {
	if l == nil || l.Over < 0 || l.Alone == nil {
		return "", ""
	}
	above, below := l, &rs.a.Result.Locations[l.Over]
	if l.Side == assess.Soil {
		above, below = below, above
	}
	if above.NoRate || below.NoRate || above.Alone == nil || !above.Age.Known || !below.Age.Known {
		return "", ""
	}
	t0, ok1 := rs.originalOf(above)
	alone, ok2 := rs.live(above.Alone, rs.expression)
	n, ok3 := rs.ageFormula(float64(above.Age.V), rs.installed(above))
	m, ok4 := rs.ageFormula(float64(below.Age.V), rs.installed(below))
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return "", ""
	}
	p := float64(above.AloneT0.V-unit.Length(above.Alone.Value)) / float64(above.Age.V)
	s := max(0, float64(l.T0.V-l.Remaining.V)/float64(below.Age.V)-p)
	if !close9(p, float64(c.ProductRate.V)) || !close9(s, float64(c.SoilRate.V)) {
		return "", ""
	}
	product = "(" + t0 + "-" + alone + ")/(" + n + ")"
	return "MAX(0,(" + here(placeT0, row) + "-" + here(placeR, row) + ")/(" + m + ")-" + product + ")", product
}

// original is t0 of a location, of a pair the greater of both pits', as a
// formula in mm.
func (rs *results) original(l *assess.Location) (string, bool) {
	f, ok := rs.originalOf(l)
	most := l.Nominal.Max(l.Sound)
	if l.Over >= 0 {
		o := &rs.a.Result.Locations[l.Over]
		g, found := rs.originalOf(o)
		if ok, most = ok && found, most.Max(o.Nominal).Max(o.Sound); f != g {
			f = "MAX(" + f + "," + g + ")"
		}
	}
	return f, ok && most == l.T0
}

// metalOf is the thickness of a repair that gives none of its own, as a formula
// in mm: the criterion's or its plate's.
func (rs *results) metalOf(p *placeRow, v unit.Length) (string, bool) {
	in := rs.a.Inspection
	for i := range in.Repairs {
		if r := &in.Repairs[i]; r.Label.Text == p.label && r.Thickness.State != inspection.Blank && r.Thickness.State != inspection.Left {
			return "", false
		}
	}
	if t := rs.criteria().Get(criteria.PatchThickness); t.Set && t.Number == float64(v) && t.Given && t.Plain {
		return rs.criterionNumber(criteria.PatchThickness), true
	}
	if p.plate < 0 {
		return "", false
	}
	nominal := rs.a.Result.Plates[p.plate].Nominal
	most := rs.criteria().Number(criteria.CriticalPatchThickness)
	switch {
	case nominal == unit.Some(v):
		return rs.plateCell(plateNominal, p.plate), true
	case nominal.Known && float64(nominal.V) > most && float64(v) == most: // at the shell
		return "MIN(" + rs.plateCell(plateNominal, p.plate) + "," + rs.criterionNumber(criteria.CriticalPatchThickness) + ")", true
	}
	return "", false
}

// layNewMetal names the metal of repairs by its place in the list: it has one
// thickness in every state.
func (rs *results) layNewMetal() {
	for i := range rs.placeRow {
		p := &rs.placeRow[i]
		for k, c := range p.counted {
			if c != nil && p.location < 0 {
				rs.name(p.label, "remaining at "+p.label, at(rs.places.Name, rs.states[k].col, firstPlace+i), float64(c.Remaining))
				break
			}
		}
	}
}

// firstCell is the first cell of a column of results, for a link to it.
func firstCell(column string) string {
	return cmp.Or(strings.Split(column, ",")[0], column)
}
