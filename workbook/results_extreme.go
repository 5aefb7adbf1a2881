package workbook

import (
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/extreme"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the plates fitted, on the Statistics sheet.
const (
	blockPlate = iota + 1
	blockExamined
	blockArea
	blockShown
	blockX // mm from here: what the calculation refers to
	blockOrdered
	blockVariate
	blockZ
	blockW
)

// The figures of the estimate, in the order of their rows below the head.
const (
	extSide = iota
	extNominal
	extPlates
	extWithout
	extUnexamined
	extBlock
	extPeriod
	extMomentsA
	extMomentsU
	extScale
	extLocation
	extSU
	extSA
	extRho
	extCorrelation
	extLevel
	extSE
	extWhole
	extDepth
	extCount
)

// extremeRows is how many rows the estimate takes below its head.
func (rs *results) extremeRows() int {
	e := &rs.a.Result.Extreme
	if !e.Made {
		return 3 + len(sheetCautions(e))
	}
	return extCount + len(sheetCautions(e)) + 2 + len(e.Blocks)
}

func (rs *results) extremeCell(figure int) string {
	return at(rs.statistics.Name, 2, rs.statisticsAt.extreme+1+figure)
}

func (rs *results) blocks(col int) string {
	first := rs.firstBlock()
	return span(rs.statistics.Name, col, first, first+len(rs.a.Result.Extreme.Blocks)-1)
}

func (rs *results) firstBlock() int {
	return rs.statisticsAt.extreme + 1 + extCount + len(sheetCautions(&rs.a.Result.Extreme)) + 2
}

// layExtreme settles what steps of the estimate refer to.
func (rs *results) layExtreme() {
	e := &rs.a.Result.Extreme
	if !e.Made {
		return
	}
	rs.columns[assess.ExtremeColumn] = rs.blocks(blockX)
	su, sa := math.Sqrt(e.Fit.VarU), math.Sqrt(e.Fit.VarA)
	const information = "inverse observed information"
	rs.name(information, "standard error of the location", rs.extremeCell(extSU), su)
	rs.name(information, "standard error of the scale", rs.extremeCell(extSA), sa)
	rs.name(information, "their correlation", rs.extremeCell(extRho), e.Fit.CovUA/(su*sa))
	rs.name("plates fitted", "plates", rs.extremeCell(extPlates), float64(e.Fit.N))
	rs.name("Plates: Σ net area·(100 − examined %)/100", "area of the class not examined", rs.extremeCell(extUnexamined), float64(e.Unexamined))
	rs.name("Plates: mean net area of the plates fitted", "mean area of a block", rs.extremeCell(extBlock), float64(e.Block))
	rs.name("Plates", "nominal thickness of the class", rs.extremeCell(extNominal), float64(e.Nominal))
}

func (rs *results) writeExtreme() {
	s, e := rs.statistics, &rs.a.Result.Extreme
	rs.headed(s, "Area not examined: extreme value", "Value", "Unit", "Remark")
	line := func(title string, value xlsx.Entry, unit, remark string) {
		s.Row(xlsx.Text(title, xlsx.Normal), value, xlsx.Text(unit, xlsx.Muted), xlsx.Text(remark, xlsx.Quiet))
	}
	if !e.Made {
		line("No estimate", xlsx.Text("–", xlsx.Normal), "", e.Why)
		line("Side", xlsx.Text(e.Side, xlsx.Normal), "", "")
		line("Plates that could be fitted", xlsx.Number(float64(len(e.Blocks)), xlsx.Whole), "", "examined to 90 % and large enough, with an indication on that side")
		rs.writeCautions(e)
		return
	}
	g := &e.Fit
	su, sa := math.Sqrt(g.VarU), math.Sqrt(g.VarA)
	x, w, z := rs.blocks(blockX), rs.blocks(blockW), rs.blocks(blockZ)
	c := func(figure int) string { return here(2, rs.statisticsAt.extreme+1+figure) }
	alpha := rs.cells["extreme.scale"]
	square := alpha + "^2"
	uu, ua, aa := "SUM("+w+")/"+square, "SUMPRODUCT(1-"+w+"+"+z+"*"+w+")/"+square, "SUMPRODUCT(2*"+z+"*(1-"+w+")-1+"+z+"^2*"+w+")/"+square
	det := "((" + uu + ")*(" + aa + ")-(" + ua + ")^2)"
	mm := unit.Thickness.Unit(unit.SI)
	line("Side", xlsx.Text(e.Side, xlsx.Normal), "", "by the criterion Extreme value side; unknown sides count as both")
	line("Nominal thickness of the class", rs.classNominal(), mm, "the nominal that most of the floor has; ring, critical zone and sump apart")
	line("Plates fitted, n", xlsx.Live("COUNT("+x+")", float64(g.N), xlsx.Whole), "", "examined to 90 % or more and at least half the median area")
	line("Such plates without an indication", xlsx.Number(float64(e.Without), xlsx.Whole), "", "left out of the fit")
	line("Area of the class not examined", rs.unexaminedArea(), "m²", "")
	areaFactor := unit.AreaKind.Factor(rs.sys) / unit.AreaKind.Factor(unit.SI)
	mean := "AVERAGE(" + rs.blocks(blockArea) + ")"
	if areaFactor != 1 {
		mean += "*" + literal(areaFactor)
	}
	line("Mean area of a plate fitted", xlsx.Live(mean, float64(e.Block), xlsx.Fixed3), "m²", "")
	shown := func(id string, v float64) xlsx.Entry {
		if cell := rs.cells[id]; cell != "" {
			return xlsx.Live(cell, v, xlsx.Fixed4)
		}
		return xlsx.Number(v, xlsx.Fixed4)
	}
	line("Such areas not examined, T", shown("extreme.period", e.Period), "", "not less than 2")
	line("Scale by moments", xlsx.Live("STDEV("+x+")*SQRT(6)/PI()", g.MomentsA, xlsx.Fixed4), mm, "the start of the fit")
	line("Location by moments", xlsx.Live("AVERAGE("+x+")-0.57721566490153286*"+c(extMomentsA), g.MomentsU, xlsx.Fixed4), mm, "")
	line("Scale α", shown("extreme.scale", g.Scale), mm, "maximum likelihood; no closed form: the Calculation sheet puts the solution into its equation")
	line("Location u", shown("extreme.location", g.Location), mm, "")
	line("Standard error of the location", xlsx.Live("SQRT(("+aa+")/"+det+")", su, xlsx.Precise), mm, "inverse observed information")
	line("Standard error of the scale", xlsx.Live("SQRT(("+uu+")/"+det+")", sa, xlsx.Precise), mm, "")
	line("Their correlation", xlsx.Live("-("+ua+")/"+det+"/("+c(extSU)+"*"+c(extSA)+")", g.CovUA/(su*sa), xlsx.Precise), "", "")
	straight := "the points follow the line"
	if e.Doubtful {
		straight = "below 0.95: doubtful"
	}
	line("Correlation of the probability plot", xlsx.Live("CORREL("+rs.blocks(blockOrdered)+","+rs.blocks(blockVariate)+")", g.Correlation, xlsx.Fixed4), "", straight)
	line("Loss that one such area in T exceeds, x_T", shown("extreme.level", float64(e.Level)), mm, "")
	line("Its standard error", shown("extreme.se", float64(e.SE)), mm, "")
	line("95 % level of the deepest of all", shown("extreme.whole", float64(e.Whole)), mm, "")
	depth := xlsx.Live("MAX("+c(extLevel)+"+1.645*"+c(extSE)+","+c(extWhole)+")", float64(e.Depth), xlsx.Fixed4)
	line("Depth to reckon with", depth, mm, "the greater of x_T + 1.645 SE and the 95 % level")
	rs.writeCautions(e)
	s.Skip(1)
	rs.writeBlocks(e)
}

func (rs *results) writeCautions(e *extreme.Estimate) {
	for _, c := range sheetCautions(e) {
		rs.statistics.Row(xlsx.Text(c, xlsx.Quiet))
	}
}

// sheetCautions are those of the estimate, and what its cells cannot do.
func sheetCautions(e *extreme.Estimate) []string {
	out := e.Cautions()
	if e.Made {
		out = append(out, "The scale solves an equation that has no closed form: after a change of a reading the cells go one step towards the new solution only. Run the workbook again.")
	}
	return out
}

// classNominal is the nominal of the class, live from the first plate fitted.
func (rs *results) classNominal() xlsx.Entry {
	nominal := float64(rs.a.Result.Extreme.Nominal)
	if c, ok := rs.classCell(); ok {
		return xlsx.Live(c, nominal, xlsx.Fixed3)
	}
	return xlsx.Number(nominal, xlsx.Fixed3)
}

// classCell is the nominal of the first plate fitted, where it is the class's.
func (rs *results) classCell() (string, bool) {
	e := &rs.a.Result.Extreme
	k := rs.plateNamed(e.Blocks[0].Label)
	if k < 0 || rs.a.Result.Plates[k].Nominal != unit.Some(e.Nominal) {
		return "", false
	}
	return rs.plateCell(plateNominal, k), true
}

// plateNamed is the plate of a label as typed, -1 where there is none or
// several.
func (rs *results) plateNamed(label string) int {
	found := -1
	for k := range rs.a.Inspection.Plates {
		if p := &rs.a.Inspection.Plates[k]; p.Label.Text == label && !p.Out {
			if found >= 0 {
				return -1
			}
			found = k
		}
	}
	return found
}

// unexaminedArea is the class's area not examined, live over the Plate results
// where these hold every plate of the class.
func (rs *results) unexaminedArea() xlsx.Entry {
	e, plan := &rs.a.Result.Extreme, rs.a.Plan
	var sum float64
	if plan != nil {
		for k, p := range rs.a.Result.Plates {
			t := rs.a.Inspection.Plates[k].Type
			if k < len(plan.Plates) && plan.Plates[k].Placed && p.Nominal.Known && abs(float64(p.Nominal.V-e.Nominal)) <= 1e-6 && !inspection.Is(t, "annular") && !inspection.Is(t, "sump") && p.Examined.Known {
				sum += float64(plan.Plates[k].NetArea) * (1 - float64(p.Examined.V)/100)
			}
		}
	}
	if !close9(sum, float64(e.Unexamined)) {
		return xlsx.Number(float64(e.Unexamined), xlsx.Fixed3)
	}
	col := func(c int) string {
		return span(rs.plates.Name, c, firstPlate, firstPlate+len(rs.a.Result.Plates)-1)
	}
	// A blank area counts as nothing, and so does a blank nominal.
	f := "SUMPRODUCT((ABS(" + col(plateNominal) + "-" + here(2, rs.statisticsAt.extreme+1+extNominal) + ")<=1E-06)*(" + col(plateType) + "<>\"annular\")*(" + col(plateType) + "<>\"sump\")*" + col(plateArea) + "*(1-" + col(plateExamined) + "/100))"
	if factor := unit.AreaKind.Factor(rs.sys) / unit.AreaKind.Factor(unit.SI); factor != 1 {
		f += "*" + literal(factor)
	}
	return xlsx.Live(f, float64(e.Unexamined), xlsx.Fixed3)
}

func (rs *results) writeBlocks(e *extreme.Estimate) {
	s := rs.statistics
	heads := []string{"Plates fitted", "Examined (%)", "Net area" + rs.in(unit.AreaKind), "Largest loss" + rs.in(unit.Thickness), "x (mm)", "x in order (mm)", "reduced variate", "z = (x − u)/α", "w = exp(−z)"}
	row := make([]xlsx.Entry, len(heads))
	for i, h := range heads {
		row[i] = xlsx.Text(h, xlsx.Header)
		if i+1 >= blockX {
			row[i].Style = xlsx.HeaderOpt
		}
	}
	s.FitRow(row...)
	var ordered []float64
	for _, b := range e.Blocks {
		ordered = append(ordered, float64(b.Largest))
	}
	slices.Sort(ordered)
	n := len(e.Blocks)
	factor := unit.Thickness.Factor(rs.sys)
	count := literal(float64(n))
	for i, b := range e.Blocks {
		row := s.Next()
		k := rs.plateNamed(b.Label)
		examined, area := xlsx.Number(float64(b.Examined), xlsx.Percent1), xlsx.Number(unit.AreaKind.In(rs.sys, float64(b.Area)), xlsx.Fixed2)
		if k >= 0 {
			if p := &rs.a.Result.Plates[k]; p.Examined.Known && p.Examined.V == b.Examined {
				examined = xlsx.Live(rs.plateCell(plateExamined, k), float64(b.Examined), xlsx.Percent1)
			}
			if pl := rs.a.Plan.Plates; k < len(pl) && pl[k].Placed && pl[k].NetArea == b.Area {
				area = xlsx.Live(rs.plateCell(plateArea, k), unit.AreaKind.In(rs.sys, float64(b.Area)), xlsx.Fixed2)
			}
		}
		shown := here(blockX, row)
		if factor != 1 {
			shown += "/" + literal(factor)
		}
		x := float64(b.Largest)
		z := (x - e.Fit.Location) / e.Fit.Scale
		f := float64(i+1) / float64(n+1)
		position := literal(float64(i+1)) + "/(" + count + "+1)"
		s.Row(xlsx.Text(b.Label, xlsx.Bold), examined, area, xlsx.Live(shown, x/factor, fixed(unit.Thickness, rs.sys, 0)), rs.largestOn(k, x),
			xlsx.Live("SMALL("+rs.blocks(blockX)+","+literal(float64(i+1))+")", ordered[i], xlsx.Fixed3),
			xlsx.Live("-LN(-LN("+position+"))", -math.Log(-math.Log(f)), xlsx.Fixed4),
			xlsx.Live("("+here(blockX, row)+"-"+rs.cells["extreme.location"]+")/"+rs.cells["extreme.scale"], z, xlsx.Fixed4),
			xlsx.Live("EXP(-"+here(blockZ, row)+")", extreme.Exp(-z), xlsx.Precise))
	}
}

const mostOnPlate = 60 // indications of a plate that one formula names

// largestOn is the largest loss of a plate's places on the side fitted, live
// over their losses where that gives it: a pit over another counts in the fit
// by itself, and its remaining thickness is that of both.
func (rs *results) largestOn(k int, x float64) xlsx.Entry {
	plain := xlsx.Number(x, xlsx.Fixed3)
	e := &rs.a.Result.Extreme
	var parts []string
	most := 0.0
	for i := range rs.a.Result.Locations {
		l := &rs.a.Result.Locations[i]
		if k < 0 || l.Plate != k || l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt || l.Verdict == assess.NotRelevant || l.Patch >= 0 || l.NoRate || !l.Loss.Known || l.Zone != floor.General {
			continue
		}
		if e.Side == assess.Soil.String() && !l.Side.OnSoil() || e.Side == assess.Product.String() && !l.Side.OnProduct() {
			continue
		}
		most = max(most, float64(l.Loss.V))
		term, ok := rs.lossTerm(i)
		if !ok {
			return plain
		}
		parts = append(parts, term)
	}
	if len(parts) == 0 || len(parts) > mostOnPlate || !close9(most/100*float64(e.Nominal), x) {
		return plain
	}
	return xlsx.Live("MAX("+strings.Join(parts, ",")+")/100*"+here(2, rs.statisticsAt.extreme+1+extNominal), x, xlsx.Fixed3)
}
