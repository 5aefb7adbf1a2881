package workbook

import (
	"strconv"

	"platebook/rules/assess"
	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the Plate results sheet.
const (
	plateLabel = iota + 1
	plateType
	plateShown // nominal in the workbook's units
	plateSound
	plateSoundFrom
	plateAge
	plateWorst
	plateWorstAt
	plateWorstSoil
	plateWorstProduct
	plateWorstLoss
	plateThreshold
	plateRequired
	plateMargin
	plateInterval
	plateIndications
	plateProved
	plateRepairs
	plateExamined
	plateArea
	plateNominal // mm from here: what the calculation refers to
	plateMedian
	plateLeast
	plateNet // m², 0 where it is in no sum over the floor
	plateMFL
	plateHand
	plateUT
	plateNot
)

const firstPlate = 5

func (rs *results) plateCell(col, plate int) string {
	return at(rs.plates.Name, col, firstPlate+plate)
}

func (rs *results) writePlates() {
	s := rs.plates
	u := " (" + unit.Thickness.Unit(rs.sys) + ")"
	intro(s, "Plate results", "As found, plate by plate. The interval of a plate is its least, by the requirement of its zones, capped like the adopted one.", 15)
	head := []string{
		"Plate", "Type", "Nominal" + u, "Sound metal" + u, "Sound metal from", "Age (years)", "Worst" + u, "Worst at", "Worst soil side" + u, "Worst product side" + u,
		"Worst loss (%)", "Scan threshold" + u, "Required" + u, "Margin" + u, "Interval (years)", "Indications", "Proved up", "Repairs", "Examined (%)",
		"Area covered (" + unit.AreaKind.Unit(rs.sys) + ")", "t_nom (mm)", "median reading (mm)", "least sound metal (mm)",
		"net area (m²)", "MFL (%)", "hand (%)", "UT grid (%)", "not examined (%)",
	}
	cells := make([]xlsx.Entry, len(head))
	for i, h := range head {
		cells[i] = xlsx.Text(h, xlsx.Header)
	}
	for i := plateNominal; i <= plateNot; i++ {
		cells[i-1].Style = xlsx.HeaderOpt
	}
	s.Width(1, len(head), 12)
	s.FitRow(cells...)
	s.FreezeRow, s.FreezeCol = firstPlate-1, 1
	s.Print.TitleRows = strconv.Itoa(firstPlate - 1)
	for i := range rs.a.Result.Plates {
		rs.writePlate(i, len(head))
	}
}

func (rs *results) writePlate(i, width int) {
	row := firstPlate + i
	p, in := &rs.a.Result.Plates[i], &rs.a.Inspection.Plates[i]
	cells := make([]xlsx.Entry, width)
	set := func(col int, e xlsx.Entry) { cells[col-1] = e }
	thick, factor := fixed(unit.Thickness, rs.sys, 0), unit.Thickness.Factor(rs.sys)
	set(plateLabel, xlsx.Text(in.Label.Text, xlsx.Bold))
	set(plateType, xlsx.Text(in.Type.Or(in.Type.Text), xlsx.Normal))
	if p.Nominal.Known {
		set(plateNominal, rs.nominal(i))
		cell := finding.ColumnName(plateNominal) + strconv.Itoa(row)
		if factor != 1 {
			cell += "/" + literal(factor)
		}
		set(plateShown, xlsx.Live(cell, float64(p.Nominal.V)/factor, thick))
	}
	if p.Sound.Known {
		set(plateSound, xlsx.Number(float64(p.Sound.V)/factor, thick))
		own := func(col int) string {
			f := finding.ColumnName(col) + strconv.Itoa(row)
			if factor != 1 {
				f += "/" + literal(factor)
			}
			return f
		}
		switch {
		case p.SoundFrom == assess.ByReading && close9(rs.metal[i].median, float64(p.Sound.V)):
			set(plateSound, xlsx.Live(own(plateMedian), float64(p.Sound.V)/factor, thick))
		case p.Sound == p.Nominal:
			set(plateSound, xlsx.Live(own(plateNominal), float64(p.Sound.V)/factor, thick))
		}
	}
	set(plateSoundFrom, xlsx.Text(string(p.SoundFrom), xlsx.Normal))
	if p.Age.Known {
		set(plateAge, rs.plateAgeOf(i))
	}
	set(plateWorstAt, xlsx.Text(p.WorstAt, xlsx.Normal))
	rs.writeWorst(i, set)
	rs.writeMetal(i, set)
	if p.Interval.Known {
		set(plateInterval, downToTenth(float64(p.Interval.V)))
	}
	set(plateIndications, xlsx.Number(float64(p.Indications), xlsx.Whole))
	set(plateProved, xlsx.Number(float64(p.ProvedUp), xlsx.Whole))
	set(plateRepairs, xlsx.Number(float64(p.Repairs), xlsx.Whole))
	if p.Examined.Known {
		shares := here(plateMFL, row) + "+" + here(plateHand, row) + "+" + here(plateUT, row)
		set(plateExamined, xlsx.Live("MIN(100,"+shares+")", float64(p.Examined.V), xlsx.Percent1))
	}
	if rs.a.Plan != nil && i < len(rs.a.Plan.Plates) && rs.a.Plan.Plates[i].Placed {
		set(plateArea, xlsx.Number(unit.AreaKind.In(rs.sys, float64(rs.a.Plan.Plates[i].NetArea)), xlsx.Fixed2))
	}
	rs.writeShares(i, row, set)
	rs.plates.Row(cells...)
}

// nominal is a plate's nominal thickness in mm, live from the cell it was
// typed in: its own, the ring's or the floor's.
func (rs *results) nominal(i int) xlsx.Entry {
	v := float64(rs.a.Result.Plates[i].Nominal.V)
	p, t := &rs.a.Inspection.Plates[i], &rs.a.Inspection.Tank
	own := p.Nominal
	switch {
	case own.OK():
	case p.Type.Or("") == "annular":
		own = t.AnnularNominal
	default:
		own = t.NominalThickness
	}
	if f, ok := rs.plainLength(own, v); ok {
		return xlsx.Live(f, v, xlsx.Fixed3)
	}
	return xlsx.Number(v, xlsx.Fixed3)
}
