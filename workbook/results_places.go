package workbook

import (
	"strconv"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the Indication results sheet.
const (
	placeID = iota + 1
	placePlate
	placeKind
	placeSide
	placeX
	placeY
	placeBearing
	placeRadius
	placeZone
	placeNominal
	placeRemaining
	placeBasis
	placeFrom
	placeAllowance
	placeRequired
	placeMargin
	placeVerdict
	placeRepair
	placeR // remaining, mm: what the calculation refers to
	placeT0
	placeAge
	placeStates // first of the columns of the states
)

const firstPlace = 5

// placeRow is one row: a location, or new metal of a repair.
type placeRow struct {
	location int // index in Result.Locations, -1 for new metal
	label    string
	plate    int
	counted  []*assess.Counted // by state, nil where it does not count
}

// placeState is one state of the floor with its four columns.
type placeState struct {
	state assess.State
	col   int // soil, product, soil rate, product rate
}

// stateColumns are the four columns of a state by their names in a step.
var stateColumns = []string{"location.soil.", "location.product.", "location.soil_rate.", "location.product_rate."}

// layPlaces settles rows and columns: locations in their order, then new metal
// of repairs.
func (rs *results) layPlaces() {
	res := rs.a.Result
	var found []*assess.StateResult
	for _, s := range assess.States {
		if r := res.State(s); r != nil {
			rs.states = append(rs.states, placeState{s, placeStates + 4*len(rs.states)})
			found = append(found, r)
		}
	}
	n := len(found)
	rs.placeRow = make([]placeRow, len(res.Locations))
	slots := make([]*assess.Counted, n*len(res.Locations))
	for i := range rs.placeRow {
		l := &res.Locations[i]
		rs.placeRow[i] = placeRow{i, l.Label, l.Plate, slots[n*i : n*(i+1) : n*(i+1)]}
	}
	for k, r := range found {
		used := len(res.Locations)
		for i := range r.Counted {
			c := &r.Counted[i]
			if c.Location >= 0 && rs.placeRow[c.Location].counted[k] == nil {
				rs.placeRow[c.Location].counted[k] = c
				continue
			}
			for used < len(rs.placeRow) && (rs.placeRow[used].label != c.Label || rs.placeRow[used].plate != c.Plate) {
				used++
			}
			if used == len(rs.placeRow) {
				rs.placeRow = append(rs.placeRow, placeRow{-1, c.Label, c.Plate, make([]*assess.Counted, n)})
			}
			rs.placeRow[used].counted[k] = c
			used++
		}
	}
	last := firstPlace + max(1, len(rs.placeRow)) - 1
	for _, s := range rs.states {
		for i, name := range stateColumns {
			col := finding.ColumnName(s.col + i)
			rs.columns[name+s.state.String()] = finding.QuoteSheet(rs.places.Name) + "!$" + col + "$" + strconv.Itoa(firstPlace) + ":$" + col + "$" + strconv.Itoa(last)
		}
	}
	rs.layPlateColumns()
	rs.layNewMetal()
	for i := range res.Locations {
		if id := res.Locations[i].Step.ID; id != "" {
			if _, known := rs.cells[id]; !known {
				rs.cells[id] = at(rs.places.Name, placeR, firstPlace+i)
			}
		}
	}
}

func (rs *results) writePlaces() {
	s := rs.places
	len1, len2 := unit.Thickness.Unit(rs.sys), unit.Position.Unit(rs.sys)
	intro(s, "Indication results", "Every place whose thickness counts: indications, prove-ups, sound metal, what the scan may have missed, existing patches, and new metal of repairs. The columns at the right, in mm and mm/year, are those the Calculation sheet refers to.", 18)
	head := []string{
		"ID", "Plate", "Kind", "Side", "Plan x (" + len2 + ")", "Plan y (" + len2 + ")", "Bearing (°)", "Radius (" + len2 + ")", "Zone",
		"Nominal (" + len1 + ")", "Remaining (" + len1 + ")", "Basis", "From", "Allowance (points)", "Required (" + len1 + ")", "Margin (" + len1 + ")", "Verdict", "Repair",
		"r (mm)", "t0 (mm)", "N (years)",
	}
	for _, st := range rs.states {
		w := st.state.Words()
		head = append(head, "r soil, "+w, "r product, "+w, "rate soil, "+w, "rate product, "+w)
	}
	cells := make([]xlsx.Entry, len(head))
	for i, h := range head {
		cells[i] = xlsx.Text(h, xlsx.Header)
		if i+1 >= placeR {
			cells[i].Style = xlsx.HeaderOpt
		}
	}
	s.Width(1, 2, 12)
	s.Width(placeKind, placeZone, 11)
	s.Width(placeNominal, placeMargin, 12)
	s.Width(placeBasis, placeBasis, 28)
	s.Width(placeFrom, placeFrom, 18)
	s.Width(placeVerdict, placeRepair, 13)
	s.Width(placeR, len(head), 11)
	s.FitRow(cells...)
	s.FreezeRow, s.FreezeCol = firstPlace-1, 2
	s.Print.TitleRows = strconv.Itoa(firstPlace - 1)
	if n := len(rs.placeRow); n > 0 {
		s.Filter(xlsx.Area{Col1: 1, Row1: firstPlace - 1, Col2: len(head), Row2: firstPlace + n - 1})
	}
	for i := range rs.a.Result.Locations {
		if from := placeOrigin(&rs.a.Result.Locations[i]); from != "" {
			s.LinkTo(placeFrom, firstPlace+i, from)
		}
	}
	s.Rows(len(rs.placeRow), len(head), func(i int, cells []xlsx.Entry) {
		rs.writePlace(&rs.placeRow[i], firstPlace+i, cells)
	})
}

var placeKinds = map[assess.Kind]string{
	assess.IndicationAt: "indication", assess.ProveUpAt: "prove-up", assess.SoundMetal: "sound metal",
	assess.ThresholdAt: "scan threshold", assess.PatchAt: "existing patch", assess.ExtremeAt: "extreme value",
}

func (rs *results) writePlace(p *placeRow, row int, cells []xlsx.Entry) {
	set := func(col int, e xlsx.Entry) { cells[col-1] = e }
	set(placeID, xlsx.Text(p.label, xlsx.Normal))
	if p.plate >= 0 {
		set(placePlate, xlsx.Text(rs.a.Inspection.Plates[p.plate].Label.Text, xlsx.Normal))
	}
	if p.location < 0 {
		set(placeKind, xlsx.Text("new metal", xlsx.Normal))
	} else {
		rs.writeLocation(&rs.a.Result.Locations[p.location], row, set)
	}
	for k, st := range rs.states {
		if c := p.counted[k]; c != nil {
			rs.writeCounted(p, c, st, row, set)
		}
	}
}

func (rs *results) writeLocation(l *assess.Location, row int, set func(int, xlsx.Entry)) {
	in := rs.a.Inspection
	if l.Indication >= 0 {
		set(placeID, xlsx.Text(in.Indications[l.Indication].ID.Text, xlsx.Normal))
	} else if l.ProveUp >= 0 && l.Kind == assess.ProveUpAt {
		set(placeID, xlsx.Text(in.ProveUps[l.ProveUp].ID.Text, xlsx.Normal))
	}
	set(placeKind, xlsx.Text(placeKinds[l.Kind], xlsx.Normal))
	set(placeSide, xlsx.Text(l.Side.String(), xlsx.Normal))
	set(placeZone, xlsx.Text(string(l.Zone), xlsx.Normal))
	if l.Placed {
		set(placeX, xlsx.Number(unit.Position.In(rs.sys, l.At.X), fixed(unit.Position, rs.sys, 0)))
		set(placeY, xlsx.Number(unit.Position.In(rs.sys, l.At.Y), fixed(unit.Position, rs.sys, 0)))
		set(placeBearing, xlsx.Number(l.Bearing, xlsx.Fixed1))
		set(placeRadius, xlsx.Number(unit.Position.In(rs.sys, l.Radius), fixed(unit.Position, rs.sys, 0)))
	}
	thick := fixed(unit.Thickness, rs.sys, 0)
	factor := unit.Thickness.Factor(rs.sys)
	if l.Nominal.Known {
		set(placeNominal, xlsx.Number(float64(l.Nominal.V)/factor, thick))
	}
	if l.Allowance.Known {
		set(placeAllowance, xlsx.Number(float64(l.Allowance.V), xlsx.Fixed1))
	}
	if l.Required.Known {
		set(placeRequired, rs.requirement(l))
	}
	set(placeBasis, xlsx.Text(string(l.Basis), xlsx.Normal))
	if l.Verdict != "" {
		look := xlsx.Normal
		if l.Verdict == assess.RepairFirst || l.Verdict == assess.Repair || l.Verdict == assess.Engineering {
			look = xlsx.Bad
		}
		set(placeVerdict, xlsx.Text(string(l.Verdict), look))
	}
	set(placeRepair, xlsx.Text(l.Repair, xlsx.Normal))
	if from := placeOrigin(l); from != "" {
		set(placeFrom, xlsx.Text(from, xlsx.Link))
	}
	if !l.Remaining.Known {
		return
	}
	r := float64(l.Remaining.V)
	if f, ok := rs.soundMetal(l); ok {
		set(placeR, xlsx.Live(f, r, xlsx.Fixed3))
	} else if f, ok := rs.live(&l.Step, rs.expression); ok && close9(l.Step.Value, r) {
		set(placeR, xlsx.Live(f, r, xlsx.Fixed3))
	} else {
		set(placeR, xlsx.Number(r, xlsx.Fixed3))
	}
	n := strconv.Itoa(row)
	mm := finding.ColumnName(placeR) + n
	if factor != 1 {
		mm += "/" + literal(factor)
	}
	set(placeRemaining, xlsx.Live(mm, r/factor, thick))
	if l.Required.Known && l.Margin.Known {
		shown, required := finding.ColumnName(placeRemaining)+n, finding.ColumnName(placeRequired)+n
		set(placeMargin, xlsx.Live(shown+"-"+required, float64(l.Margin.V)/factor, thick))
	}
	if l.T0.Known {
		set(placeT0, rs.originalThickness(l))
		if f, ok := rs.original(l); ok {
			set(placeT0, xlsx.Live(f, float64(l.T0.V), xlsx.Fixed3))
		}
	}
	if l.Age.Known {
		set(placeAge, rs.ageOf(float64(l.Age.V), l.Plate))
		if f, ok := rs.ageFormula(float64(l.Age.V), rs.installed(l)); ok {
			set(placeAge, xlsx.Live(f, float64(l.Age.V), xlsx.Fixed3))
		}
	}
}

// placeOrigin is the first cell a location's thickness comes from, "" without
// one.
func placeOrigin(l *assess.Location) string {
	var best *step.Source
	for _, in := range l.Step.All() {
		if in.From.Ref.IsCell() && (best == nil || best.Ref.Sheet == "Tank" || best.Ref.Sheet == "Criteria") {
			best = &in.From
		}
	}
	if best == nil {
		return ""
	}
	return best.Ref.String()
}

// writeCounted writes what a place counts for in a state: live from its
// remaining thickness where it is that, else as a number.
func (rs *results) writeCounted(p *placeRow, c *assess.Counted, st placeState, row int, set func(int, xlsx.Entry)) {
	var l *assess.Location
	if p.location >= 0 {
		l = &rs.a.Result.Locations[p.location]
	}
	n := strconv.Itoa(row)
	remaining := xlsx.Number(float64(c.Remaining), xlsx.Fixed3)
	if l != nil && l.Remaining.Known && l.Remaining.V == c.Remaining {
		remaining = xlsx.Live(finding.ColumnName(placeR)+n, float64(c.Remaining), xlsx.Fixed3)
	} else if l == nil {
		remaining = rs.newMetal(p, float64(c.Remaining))
		if f, ok := rs.metalOf(p, c.Remaining); ok {
			remaining = xlsx.Live(f, float64(c.Remaining), xlsx.Fixed3)
		}
	}
	if c.OnSoil {
		set(st.col, remaining)
	}
	if c.OnProduct {
		set(st.col+1, remaining)
	}
	rate := func(col int, r unit.Maybe[unit.Rate], pair string) {
		if !r.Known {
			return
		}
		v := float64(r.V)
		set(col, xlsx.Number(v, xlsx.Precise))
		if pair != "" && l.Remaining.V == c.Remaining {
			set(col, xlsx.Live(pair, v, xlsx.Precise))
			return
		}
		if l == nil || !l.T0.Known || !l.Age.Known || l.Remaining.V != c.Remaining {
			return
		}
		linear := "(" + here(placeT0, row) + "-" + here(placeR, row) + ")/" + here(placeAge, row)
		grown := float64(l.T0.V-l.Remaining.V) / float64(l.Age.V)
		term, tol := rs.criterionTerm(criteria.MillTolerance)
		thin := float64(l.Nominal.V-l.Remaining.V) > tol+1e-6
		switch {
		case l.Kind == assess.SoundMetal && l.Plate >= 0 && (!thin && v == 0 || thin && close9(v, grown)):
			below := rs.plateCell(plateNominal, l.Plate) + "-" + here(placeR, row)
			set(col, xlsx.Live("IF("+below+"<="+term+"+1E-06,0,"+linear+")", v, xlsx.Precise))
		case close9(v, grown):
			set(col, xlsx.Live(linear, v, xlsx.Precise))
		}
	}
	soil, product := rs.pairRates(l, c, row)
	rate(st.col+2, c.SoilRate, soil)
	rate(st.col+3, c.ProductRate, product)
}

func (rs *results) criteria() *criteria.Set {
	if set := rs.a.Inspection.Criteria; set != nil {
		return set
	}
	return criteria.Defaults(rs.sys)
}

// plainLength is the formula of a length's cell when it is a plain number.
func (rs *results) plainLength(f inspection.Length, want float64) (string, bool) {
	if f.OK() && f.Plain && f.Ref.IsCell() && float64(f.Value) == want {
		return rs.cellExpression(f.Ref, f.Scale, unit.Thickness), true
	}
	return "", false
}
