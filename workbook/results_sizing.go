package workbook

import (
	"fmt"
	"math"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/sizing"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the groups on the Sizing sheet.
const (
	sizeBy = iota + 1
	sizeName
	sizePairs
	sizeBias
	sizeSD
	sizeWithin
	sizeWorst
	sizeSlope
	sizeIntercept
	sizeResidual
	sizeRemark
	sizeMeanX
	sizeMeanY
	sizeSxx
	sizeT
	sizeLeast
	sizeMost
)

// Columns of the pairs below them.
const (
	pairedPlate = iota + 1
	pairedIndication
	pairedProveUp
	pairedSide
	pairedBy
	pairedNominal
	pairedX
	pairedRest
	pairedY
	pairedE
	pairedRemark
	pairedT // mm
	pairedR
)

const firstGroup = 5 // row of the first group

// sizingGroup is one row of the groups.
type sizingGroup struct {
	by   string
	name string
	fit  *sizing.Fit
	mask string // 1 for the pairs of the group, 0 for others; "" for all
	line string // text of the constants of its line, ""
}

// sizingRows are where the parts of the Sizing sheet stand.
type sizingRows struct {
	groups []sizingGroup
	limits []sizingLimit
	pairs  int // row of the first pair
}

// sizingLimit is a loss at which the limits of a line are shown.
type sizingLimit struct {
	group int
	x     float64
}

const notNamed = "not named"

func namedOr(name string) string {
	if strings.TrimSpace(name) == "" {
		return notNamed
	}
	return name
}

func (rs *results) paired(col int) string {
	return span(rs.sizing.Name, col, rs.sizingAt.pairs, rs.sizingAt.pairs+len(rs.a.Result.Sizing.Pairs)-1)
}

// laySizing settles where groups and pairs stand, and the constants of the
// lines that remaining thicknesses refer to.
func (rs *results) laySizing() {
	r := &rs.a.Result.Sizing
	if len(r.Pairs) == 0 {
		return
	}
	l := &rs.sizingAt
	*l = sizingRows{groups: []sizingGroup{{by: "All", fit: &r.All, line: "regression of UT on MFL over all pairs"}}}
	add := func(by string, list []sizing.Group) {
		for i := range list {
			l.groups = append(l.groups, sizingGroup{by: by, name: namedOr(list[i].Name), fit: &list[i].Fit})
		}
	}
	add("Nominal thickness", r.ByNominal)
	add("Technician", r.ByPerson)
	add("Side", r.BySide)
	least := int(rs.criteria().Number(criteria.SizingMinimumPairs))
	for i := range r.ByNominal {
		g := &r.ByNominal[i]
		l.groups[1+i].line = assess.LineText(&g.Fit, g.Nominal, rs.sys)
	}
	for i := range 1 + len(r.ByNominal) {
		if f := l.groups[i].fit; f.Line() && (i == 0 || f.Pairs >= least) {
			for _, x := range limitsAt(f) {
				l.limits = append(l.limits, sizingLimit{i, x})
			}
		}
	}
	l.pairs = firstGroup + len(l.groups) + 2
	if len(l.limits) > 0 {
		l.pairs += len(l.limits) + 2
	}
	for i := range l.groups {
		g := &l.groups[i]
		row := firstGroup + i
		switch g.by {
		case "Nominal thickness":
			first := 0
			for n, p := range r.Pairs {
				if p.Nominal == r.ByNominal[i-1].Nominal {
					first = n
					break
				}
			}
			g.mask = "(ABS(" + rs.paired(pairedT) + "-" + here(pairedT, l.pairs+first) + ")<=1E-06)"
		case "Technician":
			g.mask = "EXACT(" + rs.paired(pairedBy) + "," + here(sizeName, row) + ")"
		case "Side":
			g.mask = "EXACT(" + rs.paired(pairedSide) + "," + here(sizeName, row) + ")"
		}
		if g.line == "" || !g.fit.Line() {
			continue
		}
		cell := func(col int) string { return at(rs.sizing.Name, col, row) }
		rs.name(g.line, "intercept", cell(sizeIntercept), float64(g.fit.Intercept.V))
		rs.name(g.line, "slope", cell(sizeSlope), float64(g.fit.Slope.V))
		rs.name(g.line, "residual standard deviation", cell(sizeResidual), float64(g.fit.ResidualSD.V))
		rs.name(g.line, "pairs", cell(sizePairs), float64(g.fit.Pairs))
		rs.name(g.line, "mean MFL loss", cell(sizeMeanX), g.fit.MeanX)
		rs.name(g.line, "spread of the MFL losses", cell(sizeSxx), g.fit.Sxx)
		rs.name(g.line, "Student's t(0.95, n − 2)", cell(sizeT), g.fit.T(0.95))
	}
}

// limitsAt are the losses at which the limits of a line are shown: the ends of
// what its pairs span and every ten points between.
func limitsAt(f *sizing.Fit) []float64 {
	out := []float64{f.MinX}
	for x := 10 * math.Ceil((f.MinX+1e-9)/10); x < f.MaxX-1e-9; x += 10 {
		if x > f.MinX+1e-9 {
			out = append(out, x)
		}
	}
	return append(out, f.MaxX)
}

func (rs *results) writeSizing() {
	s, r := rs.sizing, &rs.a.Result.Sizing
	s.Width(sizeBy, sizeBy, 19)
	s.Width(sizeName, sizeName, 16)
	s.Width(sizePairs, sizeResidual, 12)
	s.Width(sizeRemark, sizeRemark, 38)
	s.Width(sizeMeanX, sizeMost, 11)
	intro(s, "Sizing", "What MFL and hand scanning called against what ultrasonics measured at the same places, in percent of nominal. Bias is the mean of MFL less UT: positive where the scan calls deeper. The line is UT on MFL by least squares; remaining thicknesses of places not proved up refer to the line of their nominal thickness.", sizeRemark)
	if len(r.Pairs) == 0 {
		s.Row(xlsx.Text("No indication has both an MFL or hand-scan loss and a tied ultrasonic reading, so the scan's sizing was not checked on this floor.", xlsx.Normal))
		return
	}
	heads := []string{
		"By", "Group", "Pairs", "Bias (points)", "SD (points)", "Within 10 points (%)", "Worst under-estimate (points)", "Slope b1", "Intercept b0 (%)", "Residual SD s (points)", "Remark",
		"Mean MFL (%)", "Mean UT (%)", "Sxx", "t(0.95, n − 2)", "Least MFL (%)", "Greatest MFL (%)",
	}
	row := make([]xlsx.Entry, len(heads))
	for i, h := range heads {
		row[i] = xlsx.Text(h, xlsx.Header)
		if i+1 > sizeRemark {
			row[i].Style = xlsx.HeaderOpt
		}
	}
	s.FitRow(row...)
	for i := range rs.sizingAt.groups {
		rs.writeGroup(&rs.sizingAt.groups[i], len(heads))
	}
	s.Skip(1)
	if len(rs.sizingAt.limits) > 0 {
		rs.writeLimits()
		s.Skip(1)
	}
	rs.writePairs()
}

func (rs *results) writeGroup(g *sizingGroup, width int) {
	s, f := rs.sizing, g.fit
	row := s.Next()
	cells := make([]xlsx.Entry, width)
	set := func(col int, e xlsx.Entry) { cells[col-1] = e }
	live := func(col int, known bool, formula string, v float64, st xlsx.Style) {
		if known {
			set(col, xlsx.Live(formula, v, st))
		} else {
			set(col, notKnown())
		}
	}
	c := func(col int) string { return here(col, row) }
	x, y, e := rs.paired(pairedX), rs.paired(pairedY), rs.paired(pairedE)
	m := g.mask + "*"
	sum := func(expr string) string { return "SUMPRODUCT(" + m + expr + ")" }
	all := g.mask == ""
	if all {
		m = "1*"
	}
	// either is the plain function over all pairs, or a sum over those of the group
	either := func(plain, group string) string {
		if all {
			return plain
		}
		return group
	}
	look := xlsx.Normal
	if all {
		look = xlsx.Bold
	}
	set(sizeBy, xlsx.Text(g.by, look))
	set(sizeName, xlsx.Text(g.name, look))
	live(sizePairs, true, either("COUNT("+e+")", sum("1")), float64(f.Pairs), xlsx.Whole)
	live(sizeBias, f.Bias.Known, either("AVERAGE("+e+")", sum(e)+"/"+c(sizePairs)), float64(f.Bias.V), xlsx.Fixed2)
	live(sizeSD, f.SD.Known, either("STDEV("+e+")", "SQRT("+sum("("+e+"-"+c(sizeBias)+")^2")+"/("+c(sizePairs)+"-1))"), float64(f.SD.V), xlsx.Fixed2)
	live(sizeWithin, f.Within10.Known, "100*"+sum("(ABS("+e+")<=10+1E-09)")+"/"+c(sizePairs), float64(f.Within10.V), xlsx.Percent1)
	live(sizeWorst, f.WorstUnder.Known, either("MAX(0,-MIN("+e+"))", "MAX(0,SUMPRODUCT(MAX("+m+"(-"+e+"))))"), float64(f.WorstUnder.V), xlsx.Fixed2)
	line := f.Line()
	live(sizeSlope, line, either("SLOPE("+y+","+x+")", sum("("+x+"-"+c(sizeMeanX)+")*("+y+"-"+c(sizeMeanY)+")")+"/"+c(sizeSxx)), float64(f.Slope.V), xlsx.Fixed4)
	live(sizeIntercept, line, either("INTERCEPT("+y+","+x+")", c(sizeMeanY)+"-"+c(sizeSlope)+"*"+c(sizeMeanX)), float64(f.Intercept.V), xlsx.Fixed4)
	live(sizeResidual, line, "SQRT("+sum("("+y+"-"+c(sizeMeanY)+"-"+c(sizeSlope)+"*("+x+"-"+c(sizeMeanX)+"))^2")+"/("+c(sizePairs)+"-2))", float64(f.ResidualSD.V), xlsx.Fixed4)
	remark := xlsx.Blank(xlsx.Normal)
	least := int(rs.criteria().Number(criteria.SizingMinimumPairs))
	switch {
	case g.by == "Technician":
		word, look := "", xlsx.Normal
		if f.Suspect() {
			word, look = "scan again: bias over 10 points, or under half within 10", xlsx.Warn
		}
		remark = xlsx.LiveText("IF(AND("+c(sizePairs)+">=8,OR(ABS("+c(sizeBias)+")>10+1E-09,"+c(sizeWithin)+"<50-1E-09)),\"scan again: bias over 10 points, or under half within 10\",\"\")", word, look)
	case !line:
		remark = xlsx.Text("no line: fewer than 3 pairs, or all of one loss", xlsx.Quiet)
	case f.Pairs < least:
		remark = xlsx.Text(fmt.Sprintf("fewer than %d pairs (Sizing minimum pairs): its line is not used", least), xlsx.Quiet)
	}
	set(sizeRemark, remark)
	var meanY float64
	if f.Bias.Known {
		meanY = f.MeanX - float64(f.Bias.V)
	}
	live(sizeMeanX, true, either("AVERAGE("+x+")", sum(x)+"/"+c(sizePairs)), f.MeanX, xlsx.Fixed4)
	live(sizeMeanY, true, either("AVERAGE("+y+")", sum(y)+"/"+c(sizePairs)), meanY, xlsx.Fixed4)
	live(sizeSxx, true, either("DEVSQ("+x+")", sum("("+x+"-"+c(sizeMeanX)+")^2")), f.Sxx, xlsx.Fixed4)
	if line {
		live(sizeT, true, "TINV(0.1,"+c(sizePairs)+"-2)", f.T(0.95), xlsx.Precise)
	}
	live(sizeLeast, true, either("MIN("+x+")", "1000-SUMPRODUCT(MAX("+m+"(1000-"+x+")))"), f.MinX, xlsx.Fixed1)
	live(sizeMost, true, either("MAX("+x+")", "SUMPRODUCT(MAX("+m+"(1000+"+x+")))-1000"), f.MaxX, xlsx.Fixed1)
	s.FitRow(cells...)
}

func (rs *results) writeLimits() {
	s := rs.sizing
	rs.headed(s, "Limits of the line of", "Pairs", "MFL loss (%)", "Line (%)", "P95 (%)", "Allowance (points)", "95 % band, from (%)", "to (%)")
	for _, l := range rs.sizingAt.limits {
		g := &rs.sizingAt.groups[l.group]
		f, of := g.fit, firstGroup+l.group
		c := func(col int) string { return here(col, of) }
		row := s.Next()
		x := here(3, row)
		root := c(sizeResidual) + "*SQRT(1+1/" + c(sizePairs) + "+(" + x + "-" + c(sizeMeanX) + ")^2/" + c(sizeSxx) + ")"
		band := "TINV(0.05," + c(sizePairs) + "-2)*" + root
		upper := float64(f.Upper(l.x, 0.95).V)
		loss := xlsx.Number(l.x, xlsx.Fixed1)
		switch l.x {
		case f.MinX:
			loss = xlsx.Live(c(sizeLeast), l.x, xlsx.Fixed1)
		case f.MaxX:
			loss = xlsx.Live(c(sizeMost), l.x, xlsx.Fixed1)
		}
		name := g.name
		if name == "" {
			name = "all nominals"
		}
		s.Row(xlsx.Text(name, xlsx.Normal), xlsx.Live(c(sizePairs), float64(f.Pairs), xlsx.Whole), loss,
			xlsx.Live(c(sizeIntercept)+"+"+c(sizeSlope)+"*"+x, float64(f.Intercept.V)+float64(f.Slope.V)*l.x, xlsx.Fixed2),
			xlsx.Live(here(4, row)+"+"+c(sizeT)+"*"+root, upper, xlsx.Fixed2),
			xlsx.Live("MAX(0,"+here(5, row)+"-"+x+")", max(0, upper-l.x), xlsx.Fixed2),
			xlsx.Live(here(4, row)+"-"+band, float64(f.Lower(l.x, 0.975).V), xlsx.Fixed2),
			xlsx.Live(here(4, row)+"+"+band, float64(f.Upper(l.x, 0.975).V), xlsx.Fixed2))
	}
}

func (rs *results) writePairs() {
	s := rs.sizing
	in := rs.a.Inspection
	heads := []string{
		"Plate", "Indication", "Prove-up", "Side", "By", "Nominal" + rs.in(unit.Thickness), "MFL loss x (%)", "UT remaining" + rs.in(unit.Thickness), "UT loss y (%)", "x − y (points)", "Remark", "t_nom (mm)", "r (mm)",
	}
	row := make([]xlsx.Entry, len(heads))
	for i, h := range heads {
		row[i] = xlsx.Text(h, xlsx.Header)
		if i+1 > pairedRemark {
			row[i].Style = xlsx.HeaderOpt
		}
	}
	s.FitRow(row...)
	factor, thick := unit.Thickness.Factor(rs.sys), fixed(unit.Thickness, rs.sys, 0)
	rescan := rs.criteria().Number(criteria.RescanDifference)
	own := func(col, row int) string {
		f := here(col, row)
		if factor != 1 {
			f += "/" + literal(factor)
		}
		return f
	}
	for _, p := range rs.a.Result.Sizing.Pairs {
		ind, up := &in.Indications[p.Indication], &in.ProveUps[p.ProveUp]
		row := s.Next()
		nominal := xlsx.Number(float64(p.Nominal), xlsx.Fixed3)
		if p.Plate >= 0 && rs.a.Result.Plates[p.Plate].Nominal == unit.Some(p.Nominal) {
			nominal = xlsx.Live(rs.plateCell(plateNominal, p.Plate), float64(p.Nominal), xlsx.Fixed3)
		}
		x := xlsx.Number(p.MFL, xlsx.Fixed1)
		if ind.Loss.Plain && ind.Loss.Ref.IsCell() {
			x = xlsx.Live(rs.cellExpression(ind.Loss.Ref, ind.Loss.Scale, unit.Share), p.MFL, xlsx.Fixed1)
		}
		rest := xlsx.Number(float64(up.Remaining.Value), xlsx.Fixed3)
		if f, ok := rs.plainLength(up.Remaining, float64(up.Remaining.Value)); ok {
			rest = xlsx.Live(f, float64(up.Remaining.Value), xlsx.Fixed3)
		}
		remark := xlsx.Blank(xlsx.Normal)
		if math.Abs(p.MFL-p.UT) > rescan+1e-9 {
			remark = xlsx.Text("apart by more than Rescan difference", xlsx.Warn)
		}
		s.LinkTo(pairedIndication, row, ind.Loss.Ref.String())
		s.LinkTo(pairedProveUp, row, up.Remaining.Ref.String())
		plate := ind.Plate.Text
		if p.Plate >= 0 {
			plate = in.Plates[p.Plate].Label.Text
		}
		s.Row(xlsx.Text(plate, xlsx.Bold), xlsx.Text(ind.ID.Text, xlsx.Link), xlsx.Text(up.ID.Text, xlsx.Link), xlsx.Text(namedOr(p.Side), xlsx.Normal), xlsx.Text(namedOr(p.By), xlsx.Normal),
			xlsx.Live(own(pairedT, row), float64(p.Nominal)/factor, thick), x, xlsx.Live(own(pairedR, row), float64(up.Remaining.Value)/factor, thick),
			xlsx.Live("100*("+here(pairedT, row)+"-"+here(pairedR, row)+")/"+here(pairedT, row), p.UT, xlsx.Fixed2),
			xlsx.Live(here(pairedX, row)+"-"+here(pairedY, row), p.MFL-p.UT, xlsx.Fixed2), remark, nominal, rest)
	}
}
