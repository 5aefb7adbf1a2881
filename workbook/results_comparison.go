package workbook

import (
	"strconv"

	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the table of pairs on the Comparison sheet.
const (
	pairPlate = iota + 1
	pairOldPlate
	pairOld
	pairNew
	pairClass
	pairSide
	pairDistance
	pairThen
	pairNow
	pairDelta
	pairGrowth
	pairFrom
	pairTo
	pairPoints
	pairWhy
	pairStart // mm: what the growth counts from
	pairR     // mm: remaining now
	pairRate  // mm/year
	pairSoil  // the rate, where it enters the soil-side rate
	pairProduct
)

// enters are the columns of what enters the rate of a side.
var enters = []struct {
	col    int
	column string
	soil   bool
}{{pairSoil, compare.SoilColumn, true}, {pairProduct, compare.ProductColumn, false}}

// compared says whether there is a Comparison sheet to write.
func (rs *results) compared() bool {
	c := rs.a.Comparison
	return c != nil && len(c.Refused) == 0
}

// comparisonHead is what stands above the table of pairs.
func (rs *results) comparisonHead(s *xlsx.NewSheet) {
	c := rs.a.Comparison
	intro(s, "Comparison", "This inspection beside "+c.Old().In.File.Name+". Places are the same where they lie on one plate and side within the gate; the most pairs, then the least total distance. The columns at the right, in mm and mm/year, are those the Calculation sheet refers to.", pairWhy)
	for _, n := range c.Notes {
		s.Row(xlsx.Text(n, xlsx.Warn))
	}
	thick, rate := unit.Thickness.Unit(rs.sys), unit.RateKind.Unit(rs.sys)
	head := func(texts ...string) {
		row := make([]xlsx.Entry, len(texts))
		for i, t := range texts {
			row[i] = xlsx.Text(t, xlsx.Header)
		}
		s.Row(row...)
	}
	head("Inspection", "Ended", "Indications", "Examined (%)", "Least, soil side ("+thick+")", "Least, product side ("+thick+")", "Rows left out", "SHA-256")
	for _, d := range c.Dates {
		s.Row(xlsx.Text(d.File, xlsx.Normal), xlsx.Date(d.End, xlsx.DateISO), xlsx.Number(float64(d.Indications), xlsx.Whole), percentCell(d.Examined),
			rs.figure(unit.Thickness, float64(d.SoilMin.V), d.SoilMin.Known), rs.figure(unit.Thickness, float64(d.ProductMin.V), d.ProductMin.Known), xlsx.Number(float64(d.LeftOut), xlsx.Whole), xlsx.Text(d.SHA256, xlsx.Quiet))
	}
	s.Skip(1)
	head("Side", "Growth ("+rate+")", "At", "Long-term rate ("+rate+")", "Used as found ("+rate+")", "Governs", "Why")
	for _, g := range []struct {
		name, growth, used string
		s                  *compare.SideGrowth
	}{{"Soil", compare.SoilColumn, "rate.soil.as_found", &c.Soil}, {"Product", compare.ProductColumn, "rate.product.as_found", &c.Product}} {
		s.Row(xlsx.Text(g.name, xlsx.Normal), rs.shown(g.growth, unit.RateKind, float64(g.s.Growth.V), g.s.Growth.Known), xlsx.Text(g.s.At, xlsx.Normal),
			rs.figure(unit.RateKind, float64(g.s.LongTerm.V), g.s.LongTerm.Known), rs.shown(g.used, unit.RateKind, float64(g.s.Used.V), g.s.Used.Known),
			xlsx.Text(g.s.Governs, xlsx.Bold), xlsx.Text(g.s.Why, xlsx.Normal))
	}
	s.Row(xlsx.Text("Years between", xlsx.Normal), rs.shown("compare.years", unit.Time, float64(c.Years.V), c.Years.Known))
	s.Row(xlsx.Text("Spread of two UT values ("+thick+")", xlsx.Normal), rs.figure(unit.Thickness, float64(c.Spread), true))
	p := c.Position
	s.Row(xlsx.Text("Plan fits best", xlsx.Normal), xlsx.Text(p.Words(), xlsx.Normal), xlsx.Number(float64(p.Pairs), xlsx.Whole), xlsx.Text("pairs; as drawn", xlsx.Muted), xlsx.Number(float64(p.Identity), xlsx.Whole))
	s.Skip(1)
	head("Class", "Places")
	for _, k := range compare.Classes {
		if n := c.Count[k]; n > 0 {
			s.Row(xlsx.Text(k.Words(), xlsx.Normal), xlsx.Number(float64(n), xlsx.Whole))
		}
	}
	s.Skip(1)
}

func percentCell(v unit.Maybe[unit.Percent]) xlsx.Entry {
	if !v.Known {
		return notKnown()
	}
	return xlsx.Number(float64(v.V), xlsx.Percent1)
}

// figure is a value in the workbook's units.
func (rs *results) figure(k unit.Kind, v float64, known bool) xlsx.Entry {
	if !known {
		return notKnown()
	}
	style := fixed(k, rs.sys, 0)
	if k == unit.RateKind {
		style = xlsx.Fixed3
	}
	return xlsx.Number(k.In(rs.sys, v), style)
}

// layComparison settles where the pairs stand, so that the steps of growth can
// refer to them.
func (rs *results) layComparison() {
	if !rs.compared() {
		return
	}
	rs.comparisonHead(rs.comparison)
	first := rs.comparison.Next() + 1 // below the header of the pairs
	last := first + max(1, len(rs.a.Comparison.Pairs)) - 1
	for _, side := range enters {
		c := finding.ColumnName(side.col)
		rs.columns[side.column] = finding.QuoteSheet(rs.comparison.Name) + "!$" + c + "$" + strconv.Itoa(first) + ":$" + c + "$" + strconv.Itoa(last)
	}
}

func (rs *results) writeComparison() {
	if !rs.compared() {
		return
	}
	s, c := rs.comparison, rs.a.Comparison
	s.Width(1, 1, 24)
	s.Width(2, pairPoints, 13)
	s.Width(pairWhy, pairWhy, 44)
	s.Width(pairStart, pairProduct, 11)
	thick, pos, rate := " ("+unit.Thickness.Unit(rs.sys)+")", " ("+unit.Position.Unit(rs.sys)+")", " ("+unit.RateKind.Unit(rs.sys)+")"
	head := []string{
		"Plate", "Plate then", "ID then", "ID now", "Class", "Side", "Distance" + pos, "Then" + thick, "Now" + thick, "Change" + thick, "Growth" + rate, "New pit, from" + rate, "New pit, to" + rate,
		"Trend (points/year)", "Why", "start (mm)", "r now (mm)", "growth (mm/year)", "in soil side", "in product side",
	}
	cells := make([]xlsx.Entry, len(head))
	for i, h := range head {
		cells[i] = xlsx.Text(h, xlsx.Header)
		if i+1 >= pairStart {
			cells[i].Style = xlsx.HeaderOpt
		}
	}
	s.Row(cells...)
	for i := range c.Pairs {
		rs.writePair(&c.Pairs[i], len(head))
	}
	rs.writeNear(s)
	rs.writeChangedPlates(s)
	rs.writeTrends(s)
}

func labelText(in *inspection.Inspection, plate int) string {
	if plate < 0 {
		return ""
	}
	return in.Plates[plate].Label.Text
}

func (rs *results) writePair(p *compare.Pair, width int) {
	s, c := rs.comparison, rs.a.Comparison
	old := c.Old()
	row := strconv.Itoa(s.Next())
	cells := make([]xlsx.Entry, width)
	set := func(col int, e xlsx.Entry) { cells[col-1] = e }
	value := func(col int, k unit.Kind, v float64, known bool) {
		if known {
			set(col, rs.figure(k, v, true))
		}
	}
	set(pairPlate, xlsx.Text(labelText(rs.a.Inspection, p.Plate), xlsx.Bold))
	set(pairOldPlate, xlsx.Text(labelText(old.In, p.OldPlate), xlsx.Normal))
	var l *assess.Location
	if p.Old >= 0 {
		l = &old.Found.Locations[p.Old]
		set(pairOld, xlsx.Text(compare.ID(old.In, l), xlsx.Normal))
	}
	if p.New >= 0 {
		l = &rs.a.Result.Locations[p.New]
		set(pairNew, xlsx.Text(compare.ID(rs.a.Inspection, l), xlsx.Normal))
	}
	look := xlsx.Normal
	if p.Class == compare.Grown || p.Class == compare.New {
		look = xlsx.Warn
	}
	set(pairClass, xlsx.Text(p.Class.Words(), look))
	set(pairSide, xlsx.Text(l.Side.String(), xlsx.Normal))
	value(pairDistance, unit.Position, float64(p.Distance.V), p.Distance.Known)
	value(pairThen, unit.Thickness, float64(p.OldR.V), p.OldR.Known)
	value(pairNow, unit.Thickness, float64(p.NewR.V), p.NewR.Known)
	value(pairDelta, unit.Thickness, float64(p.Delta.V), p.Delta.Known)
	value(pairFrom, unit.RateKind, float64(p.Least.V), p.Least.Known)
	value(pairTo, unit.RateKind, float64(p.Most.V), p.Most.Known)
	if p.Points.Known {
		set(pairPoints, xlsx.Number(float64(p.Points.V), xlsx.Fixed2))
	}
	set(pairWhy, xlsx.Text(p.Why, xlsx.Normal))
	if p.Growth.Known && p.New >= 0 && p.From.Known && p.To.Known {
		rs.liveGrowth(p, l, row, set)
	}
	s.Row(cells...)
}

// liveGrowth writes a pair's growth as a formula over the thickness it counts
// from, the thickness now and the years between.
func (rs *results) liveGrowth(p *compare.Pair, l *assess.Location, row string, set func(int, xlsx.Entry)) {
	rate, r := float64(p.Growth.V), float64(p.To.V)
	set(pairStart, xlsx.Number(float64(p.From.V), xlsx.Fixed3))
	if l.Remaining.Known && l.Remaining.V == p.To.V {
		set(pairR, xlsx.Live(at(rs.places.Name, placeR, firstPlace+p.New), r, xlsx.Fixed3))
	} else { // over another pit: its own value, not what is left between the two
		set(pairR, xlsx.Number(r, xlsx.Fixed3))
	}
	name := finding.ColumnName
	formula := "(" + name(pairStart) + row + "-" + name(pairR) + row + ")/" + rs.cells["compare.years"]
	set(pairRate, xlsx.Live(formula, rate, xlsx.Fixed4))
	own := name(pairRate) + row
	if f := unit.RateKind.Factor(rs.sys); f != 1 {
		own += "/" + literal(f)
	}
	set(pairGrowth, xlsx.Live(own, unit.RateKind.In(rs.sys, rate), xlsx.Fixed3))
	for _, side := range enters {
		if rs.a.Comparison.Enters(p, rs.a.Result, side.soil) {
			set(side.col, xlsx.Live(name(pairRate)+row, rate, xlsx.Fixed4))
		}
	}
}

func (rs *results) writeNear(s *xlsx.NewSheet) {
	c := rs.a.Comparison
	if len(c.Near) == 0 {
		return
	}
	s.Skip(1)
	s.Row(xlsx.Text("Not paired, but near: may be one place", xlsx.Heading))
	s.Row(xlsx.Text("Place then", xlsx.Header), xlsx.Text("Place now", xlsx.Header), xlsx.Text("Distance ("+unit.Position.Unit(rs.sys)+")", xlsx.Header), xlsx.Text("Why not", xlsx.Header))
	for _, n := range c.Near {
		s.Row(xlsx.Text(c.Old().Found.Locations[n.Old].Label, xlsx.Normal), xlsx.Text(rs.a.Result.Locations[n.New].Label, xlsx.Normal), rs.figure(unit.Position, float64(n.Distance), true), xlsx.Text(n.Why, xlsx.Normal))
	}
}

func (rs *results) writeChangedPlates(s *xlsx.NewSheet) {
	c := rs.a.Comparison
	thick, rate := " ("+unit.Thickness.Unit(rs.sys)+")", " ("+unit.RateKind.Unit(rs.sys)+")"
	s.Skip(1)
	s.Row(xlsx.Text("Plates", xlsx.Heading))
	row := []xlsx.Entry{}
	for _, h := range []string{"Plate", "Plate then", "Change", "Nominal then" + thick, "Nominal now" + thick, "Worst then" + thick, "Worst now" + thick, "Growth" + rate, "Grown", "New", "Not found again", "Repaired"} {
		row = append(row, xlsx.Text(h, xlsx.Header))
	}
	s.Row(row...)
	for i := range c.Plates {
		p := &c.Plates[i]
		whole := func(k compare.Class) xlsx.Entry { return xlsx.Number(float64(p.Count[k]), xlsx.Whole) }
		s.Row(xlsx.Text(labelText(rs.a.Inspection, p.New), xlsx.Bold), xlsx.Text(labelText(c.Old().In, p.Old), xlsx.Normal), xlsx.Text(p.Change(), xlsx.Normal),
			rs.figure(unit.Thickness, float64(p.OldNominal.V), p.OldNominal.Known), rs.figure(unit.Thickness, float64(p.NewNominal.V), p.NewNominal.Known),
			rs.figure(unit.Thickness, float64(p.OldWorst.V), p.OldWorst.Known), rs.figure(unit.Thickness, float64(p.NewWorst.V), p.NewWorst.Known),
			rs.figure(unit.RateKind, float64(p.Growth.V), p.Growth.Known), whole(compare.Grown), whole(compare.New), whole(compare.Gone), whole(compare.Repaired))
	}
}

// writeTrends lists places found at three or more inspections.
func (rs *results) writeTrends(s *xlsx.NewSheet) {
	c := rs.a.Comparison
	if len(c.Trends) == 0 {
		return
	}
	rate := " (" + unit.RateKind.Unit(rs.sys) + ")"
	s.Skip(1)
	s.Row(xlsx.Text("Places over several inspections: least-squares rate of UT values", xlsx.Heading))
	row := []xlsx.Entry{}
	for _, h := range []string{"Place now", "Readings", "Rate" + rate, "Standard error" + rate, "95 % range, ±" + rate, "By UT tolerance, ±" + rate} {
		row = append(row, xlsx.Text(h, xlsx.Header))
	}
	for _, d := range c.Dates {
		row = append(row, xlsx.Text(d.End.String()+" ("+unit.Thickness.Unit(rs.sys)+")", xlsx.Header))
	}
	s.Row(row...)
	for i := range c.Trends {
		t := &c.Trends[i]
		f := t.Fit
		row := []xlsx.Entry{
			xlsx.Text(rs.a.Result.Locations[t.New].Label, xlsx.Bold), xlsx.Number(float64(len(t.Dates)), xlsx.Whole),
			rs.figure(unit.RateKind, float64(f.Rate.V), f.Rate.Known), rs.figure(unit.RateKind, float64(f.SE.V), f.SE.Known), rs.figure(unit.RateKind, float64(f.Half.V), f.Half.Known), rs.figure(unit.RateKind, float64(f.Reading.V), f.Reading.Known),
		}
		for _, d := range c.Dates {
			e := notKnown()
			for k, day := range t.Dates {
				if day == d.End {
					e = rs.figure(unit.Thickness, float64(t.Remaining[k]), true)
				}
			}
			row = append(row, e)
		}
		s.Row(row...)
	}
}
