package workbook

import (
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/settle"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the table of points on the Settlement results sheet.
const (
	levelPoint = iota + 1
	levelBearing
	levelElevation
	levelFit
	levelOff
	levelOut
	levelAllowable
	levelVerdict
	levelArc
	levelRemarks
	levelB // degrees and mm from here: what the calculation refers to
	levelZ
	levelCos
	levelSin
	levelW0
	levelW1
	levelW2
	levelPlane
	levelU
	levelS
	levelGap
)

const (
	firstVerdict = 5  // row of the first result
	firstLevel   = 14 // row of the first point
)

// squares are the sums of the least squares below the points, in this order.
const (
	sumN = iota
	sumC
	sumS
	sumCC
	sumSS
	sumCS
	sumDet
	sum00
	sum01
	sum02
	sum11
	sum12
	sum22
	sumSSE
	sumSST
	sumGap
)

// surveyed says whether there is a Settlement results sheet to write.
func (rs *results) surveyed() bool { return rs.a.Settlement != nil }

// laySettlement settles what steps of the survey refer to.
func (rs *results) laySettlement() {
	if !rs.surveyed() {
		return
	}
	r := rs.a.Settlement
	n := len(r.Shell)
	if n == 0 {
		return
	}
	rs.columns[settle.ElevationColumn] = rs.levels(levelZ)
	for i, symbol := range []string{"a0", "a1", "b1"} {
		rs.columns[settle.WeightColumn+symbol] = rs.levels(levelW0 + i)
	}
	if !r.Fitted {
		return
	}
	sse, sst, least := surveySums(r)
	rs.name(settle.InResults, "squares from the plane", rs.sumCell(sumSSE), sse)
	rs.name(settle.InResults, "squares from the mean", rs.sumCell(sumSST), sst)
	rs.name(settle.InResults, "least angle between two points", rs.sumCell(sumGap), least)
}

func surveySums(r *settle.Result) (sse, sst, least float64) {
	n := len(r.Shell)
	var mean float64
	for i := range r.Shell {
		mean += float64(r.Shell[i].Elevation) / float64(n)
	}
	least = 360
	for i := range r.Shell {
		p := &r.Shell[i]
		sse += float64(p.U) * float64(p.U)
		sst += (float64(p.Elevation) - mean) * (float64(p.Elevation) - mean)
		least = min(least, gapAfter(r, i))
	}
	return sse, sst, least
}

// gapAfter is the angle from a point to the next, degrees.
func gapAfter(r *settle.Result, i int) float64 {
	n := len(r.Shell)
	gap := float64(r.Shell[(i+1)%n].Bearing - r.Shell[i].Bearing)
	if i == n-1 {
		gap += 360
	}
	return gap
}

// levels is a column of the points.
func (rs *results) levels(col int) string {
	return span(rs.settlement.Name, col, firstLevel, firstLevel+len(rs.a.Settlement.Shell)-1)
}

func (rs *results) level(col, point int) string { return here(col, firstLevel+point) }

// sumCell is a sum of the least squares; they stand below the points, in the
// columns of the calculation.
func (rs *results) sumCell(sum int) string { return at(rs.settlement.Name, levelZ, rs.sumRow(sum)) }

// sumRow is below the points and what was measured on the floor.
func (rs *results) sumRow(sum int) int {
	r := rs.a.Settlement
	locals := 1
	if n := len(r.Edge) + len(r.Bulge); n > 0 {
		locals += n
	}
	return firstLevel + len(r.Shell) + locals + 3 + sum
}

func (rs *results) writeSettlement() {
	if !rs.surveyed() {
		return
	}
	s, r := rs.settlement, rs.a.Settlement
	s.Width(1, 1, 30)
	s.Width(2, levelArc, 13)
	s.Width(levelRemarks, levelRemarks, 36)
	s.Width(levelB, levelGap, 11)
	intro(s, "Settlement results", "The survey around the shell against the fitted plane, and edge settlement, bulges and depressions against their limits. The disposition is the inspector's, from Remarks of the survey; the program's verdict never replaces it. The columns at the right, in degrees and mm, are those the Calculation sheet refers to.", levelRemarks)
	rs.headed(s, "Shell", "Value", "Unit", "Limit", "Verdict", "Remark")
	rs.writeShellVerdicts()
	s.Skip(firstLevel - 1 - s.Next())
	rs.writeLevels()
	s.Skip(1)
	rs.writeLocals(append(append([]settle.Local(nil), r.Edge...), r.Bulge...))
	s.Skip(1)
	rs.writeSums()
}

// judgedText is a verdict in words and colour.
func judgedText(ok, known bool) xlsx.Entry {
	switch {
	case !known:
		return xlsx.Text("not judged", xlsx.Warn)
	case ok:
		return xlsx.Text("pass", xlsx.Good)
	}
	return xlsx.Text("fail", xlsx.Bad)
}

// judgedLive is a live verdict: least and most are cells or numbers.
func judgedLive(least, most string, tol float64, ok bool) xlsx.Entry {
	e := judgedText(ok, true)
	word := "fail"
	if ok {
		word = "pass"
	}
	return xlsx.LiveText("IF("+most+"-"+least+">=-"+literal(tol)+",\"pass\",\"fail\")", word, e.Style)
}

func (rs *results) writeShellVerdicts() {
	s, r := rs.settlement, rs.a.Settlement
	n := len(r.Shell)
	line := func(title string, value xlsx.Entry, unit string, limit, verdict xlsx.Entry, why string) {
		s.Row(xlsx.Text(title, xlsx.Normal), value, xlsx.Text(unit, xlsx.Muted), limit, verdict, xlsx.Text(why, xlsx.Quiet))
	}
	blank := xlsx.Blank(xlsx.Normal)
	if n == 0 {
		s.Row(xlsx.Text("No elevation of the shell was surveyed, or none could be read.", xlsx.Normal))
		return
	}
	self := func(col int) string { return here(col, s.Next()) }
	settlementUnit, arcUnit := unit.Settlement.Unit(rs.sys), unit.Height.Unit(rs.sys)

	needed, verdict := xlsx.Blank(xlsx.Normal), xlsx.Text("not judged", xlsx.Warn)
	if r.Needed > 0 {
		needed = xlsx.Number(float64(r.Needed), xlsx.Whole)
		if f, ok := rs.plainLength(rs.a.Inspection.Tank.Diameter, float64(rs.a.Inspection.Tank.Diameter.Value)); ok {
			needed = xlsx.Live("MAX(8,2*CEILING(("+f+"/304.8/10-1E-09)/2,1))", float64(r.Needed), xlsx.Whole)
		}
		verdict = judgedLive(self(4), self(2), 0, n >= r.Needed)
	}
	line("Points around the shell", xlsx.Live("COUNT("+rs.levels(levelZ)+")", float64(n), xlsx.Whole), "", needed, verdict, "at least 8, one for every 10 ft of diameter, an even number")

	if r.Fitted && r.Widest.Known {
		factor := unit.Height.Factor(rs.sys)
		line("Widest arc between two points", xlsx.Live("MAX("+rs.levels(levelArc)+")", unit.Height.In(rs.sys, float64(r.Widest.V)), xlsx.Fixed2), arcUnit,
			xlsx.Number(float64(settle.LargestArc)/factor, xlsx.Fixed2), judgedLive(self(2), self(4), 1e-6/factor, r.Widest.V <= settle.LargestArc+1e-6), "at most 32 ft")
		line("Least arc between two points", rs.shown("settlement.arc", unit.Height, float64(r.Arc.V), r.Arc.Known), arcUnit, blank, blank, "the allowable rests on it, which is the safe side where points are uneven")
	}
	if !r.Fitted {
		line("Fitted plane", xlsx.Text("not known", xlsx.Warn), "", blank, blank, r.Why)
		return
	}
	line("Out of level across the diameter", rs.shown("settlement.tilt", unit.Settlement, r.Ring.Tilt, true), settlementUnit, blank, blank, "uniform tilt: no limit of its own here; pipework and floating roofs may have one")
	limit := xlsx.Blank(xlsx.Normal)
	verdict = xlsx.Text("not judged", xlsx.Warn)
	if c := rs.criteria().Get(criteria.SettlementCosineR2); c.Set && r.R2.Known {
		limit = rs.criterion(criteria.SettlementCosineR2, xlsx.Fixed2)
		verdict = judgedLive(self(4), self(2), 1e-9, !r.Poor)
	}
	why := "how much of the unevenness the plane explains; below the limit the plane does not describe the shell"
	if !r.R2.Known {
		why = "the elevations do not differ"
	}
	line("Fit of the plane, R²", rs.shown("settlement.r2", unit.Statistic, float64(r.R2.V), r.R2.Known), "", limit, verdict, why)
	worst := r.Shell[r.Ring.MaxAt].Name
	allowable := rs.shown("settlement.allowable", unit.Settlement, float64(r.Allowable.V), r.Allowable.Known)
	verdict = xlsx.Text("not judged", xlsx.Warn)
	if r.Known {
		verdict = judgedLive(self(2), self(4), 1e-6/unit.Settlement.Factor(rs.sys), r.OK)
	}
	factor := unit.Settlement.Factor(rs.sys)
	formula := "MAX(MAX(" + rs.levels(levelS) + "),-MIN(" + rs.levels(levelS) + "))"
	if factor != 1 {
		formula += "/" + literal(factor)
	}
	line("Out of plane, worst point", xlsx.Live(formula, r.Ring.MaxOut/factor, fixed(unit.Settlement, rs.sys, 0)), settlementUnit, allowable, verdict, "at point "+worst)
	line("Out of plane, at point "+worst, rs.shown("settlement.deflection", unit.Settlement, r.Ring.MaxOut, true), settlementUnit, blank, blank, "by its own step in the Calculation sheet; where another point has become the worst after a change, run the workbook again")
}

func (rs *results) writeLevels() {
	s, r := rs.settlement, rs.a.Settlement
	in := rs.a.Inspection
	settled := " (" + unit.Settlement.Unit(rs.sys) + ")"
	heads := []string{
		"Point", "Bearing (°)", "Elevation" + settled, "Fitted plane" + settled, "Off the plane" + settled, "Out of plane" + settled, "Allowable" + settled, "Verdict", "Arc to the next" + rs.in(unit.Height), "Disposition by the inspector",
		"β (°)", "z (mm)", "cos β", "sin β", "weight in a0", "weight in a1", "weight in b1", "plane (mm)", "U (mm)", "S (mm)", "to the next (°)",
	}
	row := make([]xlsx.Entry, len(heads))
	for i, h := range heads {
		row[i] = xlsx.Text(h, xlsx.Header)
		if i+1 >= levelB {
			row[i].Style = xlsx.HeaderOpt
		}
	}
	s.FitRow(row...)
	live := rs.weightsLive()
	n := len(r.Shell)
	factor, style := unit.Settlement.Factor(rs.sys), fixed(unit.Settlement, rs.sys, 0)
	own := func(col int, v float64) xlsx.Entry {
		f := here(col, s.Next())
		if factor != 1 {
			f += "/" + literal(factor)
		}
		return xlsx.Live(f, v/factor, style)
	}
	for i := range r.Shell {
		p := &r.Shell[i]
		row, survey := s.Next(), &in.Settlement[p.Row]
		cells := make([]xlsx.Entry, len(heads))
		set := func(col int, e xlsx.Entry) { cells[col-1] = e }
		set(levelPoint, xlsx.Text(p.Name, xlsx.Link))
		s.LinkTo(levelPoint, row, survey.Elevation.Ref.String())
		set(levelBearing, xlsx.Live(here(levelB, row), float64(p.Bearing), xlsx.Fixed1))
		set(levelElevation, own(levelZ, float64(p.Elevation)))
		set(levelRemarks, xlsx.Text(survey.Remarks.Text, xlsx.Wrapped))
		set(levelB, rs.bearing(survey.Bearing, float64(p.Bearing)))
		z := xlsx.Number(float64(p.Elevation), xlsx.Fixed2)
		if e := survey.Elevation; e.Plain && e.Ref.IsCell() {
			z = xlsx.Live(rs.cellExpression(e.Ref, e.Scale, unit.Settlement), float64(e.Value), xlsx.Fixed2)
		}
		set(levelZ, z)
		gap := gapAfter(r, i)
		next := rs.level(levelB, (i+1)%n) + "-" + here(levelB, row)
		if i == n-1 {
			next += "+360"
		}
		set(levelGap, xlsx.Live(next, gap, xlsx.Fixed1))
		if d := in.Tank.Diameter; d.OK() && d.Value > 0 {
			f, ok := rs.plainLength(d, float64(d.Value))
			if !ok {
				f = literal(float64(d.Value))
			}
			h := unit.Height.Factor(rs.sys)
			set(levelArc, xlsx.Live("PI()*"+f+"*"+here(levelGap, row)+"/360/"+literal(h), gap/360*piTimes(float64(d.Value))/h, xlsx.Fixed2))
		}
		if r.Fitted {
			rs.writeLevel(i, live, set)
			set(levelFit, own(levelPlane, float64(p.Fit)))
			set(levelOff, own(levelU, float64(p.U)))
			set(levelOut, own(levelS, float64(p.S)))
			if r.Allowable.Known {
				set(levelAllowable, rs.shown("settlement.allowable", unit.Settlement, float64(r.Allowable.V), true))
				set(levelVerdict, judgedLive("ABS("+here(levelOut, row)+")", here(levelAllowable, row), 1e-6/factor, abs(float64(p.S)) <= float64(r.Allowable.V)+1e-6))
			}
		}
		s.FitRow(cells...)
	}
}

// bearing is a point's bearing within a turn, live from its cell.
func (rs *results) bearing(f inspection.Angle, v float64) xlsx.Entry {
	if f.Plain && f.Ref.IsCell() && (f.Scale == 1 || f.Scale == 0) {
		return xlsx.Live("MOD("+f.Ref.String()+",360)", v, xlsx.Fixed1)
	}
	return xlsx.Number(v, xlsx.Fixed1)
}

// writeLevel writes the least squares of a point.
func (rs *results) writeLevel(i int, live bool, set func(int, xlsx.Entry)) {
	r := rs.a.Settlement
	n, row := len(r.Shell), firstLevel+i
	p := &r.Shell[i]
	c, sn := cosSin(float64(p.Bearing))
	set(levelCos, xlsx.Live("COS("+here(levelB, row)+"*PI()/180)", c, xlsx.Precise))
	set(levelSin, xlsx.Live("SIN("+here(levelB, row)+"*PI()/180)", sn, xlsx.Precise))
	g := func(sum int) string { return here(levelZ, rs.sumRow(sum)) }
	for k, sums := range [3][3]int{{sum00, sum01, sum02}, {sum01, sum11, sum12}, {sum02, sum12, sum22}} {
		w := r.Weights[k][i]
		e := xlsx.Number(w, xlsx.Precise)
		if live {
			e = xlsx.Live(g(sums[0])+"+"+g(sums[1])+"*"+here(levelCos, row)+"+"+g(sums[2])+"*"+here(levelSin, row), w, xlsx.Precise)
		}
		set(levelW0+k, e)
	}
	plane := rs.cells["settlement.mean"] + "+" + rs.cells["settlement.cos"] + "*" + here(levelCos, row) + "+" + rs.cells["settlement.sin"] + "*" + here(levelSin, row)
	set(levelPlane, xlsx.Live(plane, float64(p.Fit), xlsx.Fixed3))
	set(levelU, xlsx.Live(here(levelZ, row)+"-"+here(levelPlane, row), float64(p.U), xlsx.Fixed3))
	before, after := rs.level(levelU, (i+n-1)%n), rs.level(levelU, (i+1)%n)
	set(levelS, xlsx.Live(here(levelU, row)+"-("+before+"+"+after+")/2", float64(p.S), xlsx.Fixed3))
}

// squares are the sums over the bearings that the weights follow from.
func squaresOf(r *settle.Result) [sumGap + 1]float64 {
	var q [sumGap + 1]float64
	for i := range r.Shell {
		c, s := cosSin(float64(r.Shell[i].Bearing))
		q[sumN]++
		q[sumC] += c
		q[sumS] += s
		q[sumCC] += c * c
		q[sumSS] += s * s
		q[sumCS] += c * s
	}
	n, c, s, cc, ss, cs := q[sumN], q[sumC], q[sumS], q[sumCC], q[sumSS], q[sumCS]
	det := n*(cc*ss-cs*cs) - c*(c*ss-cs*s) + s*(c*cs-cc*s)
	q[sumDet] = det
	q[sum00], q[sum01], q[sum02] = (cc*ss-cs*cs)/det, (s*cs-c*ss)/det, (c*cs-s*cc)/det
	q[sum11], q[sum12], q[sum22] = (n*ss-s*s)/det, (s*c-n*cs)/det, (n*cc-c*c)/det
	q[sumSSE], q[sumSST], q[sumGap] = surveySums(r)
	return q
}

// weightsLive says whether the closed form of the weights gives those of the
// fit: points that stand close together lose it too many digits.
func (rs *results) weightsLive() bool {
	r := rs.a.Settlement
	if !r.Fitted {
		return false
	}
	q := squaresOf(r)
	for i := range r.Shell {
		c, s := cosSin(float64(r.Shell[i].Bearing))
		for k, sums := range [3][3]int{{sum00, sum01, sum02}, {sum01, sum11, sum12}, {sum02, sum12, sum22}} {
			if d := q[sums[0]] + q[sums[1]]*c + q[sums[2]]*s - r.Weights[k][i]; abs(d) > 1e-11 {
				return false
			}
		}
	}
	return true
}

// writeSums writes the sums below the points, in the columns of the
// calculation.
func (rs *results) writeSums() {
	s, r := rs.settlement, rs.a.Settlement
	if !r.Fitted {
		return
	}
	q := squaresOf(r)
	c, sn := rs.levels(levelCos), rs.levels(levelSin)
	g := func(sum int) string { return here(levelZ, rs.sumRow(sum)) }
	over := "/" + g(sumDet)
	row := make([]xlsx.Entry, levelZ)
	row[levelB-1], row[levelZ-1] = xlsx.Text("Sums", xlsx.HeaderOpt), xlsx.Text("Value", xlsx.HeaderOpt)
	s.Row(row...)
	for sum, line := range [...][2]string{
		sumN:   {"n", "COUNT(" + rs.levels(levelZ) + ")"},
		sumC:   {"Σ cos", "SUM(" + c + ")"},
		sumS:   {"Σ sin", "SUM(" + sn + ")"},
		sumCC:  {"Σ cos²", "SUMSQ(" + c + ")"},
		sumSS:  {"Σ sin²", "SUMSQ(" + sn + ")"},
		sumCS:  {"Σ cos·sin", "SUMPRODUCT(" + c + "," + sn + ")"},
		sumDet: {"det", g(sumN) + "*(" + g(sumCC) + "*" + g(sumSS) + "-" + g(sumCS) + "^2)-" + g(sumC) + "*(" + g(sumC) + "*" + g(sumSS) + "-" + g(sumCS) + "*" + g(sumS) + ")+" + g(sumS) + "*(" + g(sumC) + "*" + g(sumCS) + "-" + g(sumCC) + "*" + g(sumS) + ")"},
		sum00:  {"inverse 00", "(" + g(sumCC) + "*" + g(sumSS) + "-" + g(sumCS) + "^2)" + over},
		sum01:  {"inverse 01", "(" + g(sumS) + "*" + g(sumCS) + "-" + g(sumC) + "*" + g(sumSS) + ")" + over},
		sum02:  {"inverse 02", "(" + g(sumC) + "*" + g(sumCS) + "-" + g(sumS) + "*" + g(sumCC) + ")" + over},
		sum11:  {"inverse 11", "(" + g(sumN) + "*" + g(sumSS) + "-" + g(sumS) + "^2)" + over},
		sum12:  {"inverse 12", "(" + g(sumS) + "*" + g(sumC) + "-" + g(sumN) + "*" + g(sumCS) + ")" + over},
		sum22:  {"inverse 22", "(" + g(sumN) + "*" + g(sumCC) + "-" + g(sumC) + "^2)" + over},
		sumSSE: {"Σ U²", "SUMSQ(" + rs.levels(levelU) + ")"},
		sumSST: {"Σ (z − mean)²", "DEVSQ(" + rs.levels(levelZ) + ")"},
		sumGap: {"least gap (°)", "MIN(" + rs.levels(levelGap) + ")"},
	} {
		row := make([]xlsx.Entry, levelZ)
		row[levelB-1], row[levelZ-1] = xlsx.Text(line[0], xlsx.Quiet), xlsx.Live(line[1], q[sum], xlsx.Precise)
		s.Row(row...)
	}
}

// writeLocals writes edge settlement, bulges and depressions.
func (rs *results) writeLocals(list []settle.Local) {
	s := rs.settlement
	if len(list) == 0 {
		s.Row(xlsx.Text("No edge settlement, bulge or depression was recorded.", xlsx.Normal))
		return
	}
	rs.headed(s, "Edge, bulge, depression", "Kind", "Bearing (°)", "Radius"+rs.in(unit.Size), "Weld angle (°)", "Measured"+rs.in(unit.Settlement), "Limit"+rs.in(unit.Settlement), "Verdict", "Of the limit (%)", "Disposition by the inspector", "Remark")
	factor := unit.Settlement.Factor(rs.sys)
	for i := range list {
		l := &list[i]
		survey := &rs.a.Inspection.Settlement[l.Row]
		row := s.Next()
		family := "bulge"
		if l.Kind == "edge" {
			family = "edge"
		}
		number := func(f inspection.Angle) xlsx.Entry {
			if !f.OK() {
				return notKnown()
			}
			if f.Plain && f.Ref.IsCell() && (f.Scale == 1 || f.Scale == 0) {
				return xlsx.Live(f.Ref.String(), float64(f.Value), xlsx.Fixed1)
			}
			return xlsx.Number(float64(f.Value), xlsx.Fixed1)
		}
		radius := notKnown()
		if survey.Radius.OK() {
			radius = rs.lengthCell(survey.Radius, unit.Size)
		}
		verdict, share := judgedText(l.OK, l.Known), xlsx.Blank(xlsx.Normal)
		if l.Known {
			verdict = judgedLive(here(6, row), here(7, row), 1e-6/factor, l.OK)
			if l.Limit.V > 0 {
				share = xlsx.Live("100*"+here(6, row)+"/"+here(7, row), 100*float64(l.Measured.V/l.Limit.V), xlsx.Percent1)
			}
		}
		remark := l.Why
		if l.Examine {
			remark = "over 75 % of its limit and over 2 in: examine the welds by VT and by MT or PT"
		}
		s.LinkTo(1, row, survey.Measured.Ref.String())
		s.FitRow(xlsx.Text(l.Name, xlsx.Link), xlsx.Text(l.Kind, xlsx.Normal), number(survey.Bearing), radius, number(survey.WeldAngle),
			rs.shown("settlement."+family+"."+l.Name, unit.Settlement, float64(l.Measured.V), l.Measured.Known),
			rs.shown("settlement."+family+"_limit."+l.Name, unit.Settlement, float64(l.Limit.V), l.Limit.Known), verdict, share,
			xlsx.Text(survey.Remarks.Text, xlsx.Wrapped), xlsx.Text(remark, xlsx.Quiet))
	}
}
