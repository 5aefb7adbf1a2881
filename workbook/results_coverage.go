package workbook

import (
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// layShares settles the columns that coverage is summed over.
func (rs *results) layShares() {
	last := firstPlate + max(1, len(rs.a.Inspection.Plates)) - 1
	for column, col := range map[string]int{
		assess.NetAreaColumn: plateNet, assess.MFLColumn: plateMFL, assess.HandColumn: plateHand, assess.UTColumn: plateUT, assess.NotColumn: plateNot,
	} {
		rs.columns[column] = span(rs.plates.Name, col, firstPlate, last)
	}
}

// writeShares writes a plate's net area and the shares of it that were
// examined.
func (rs *results) writeShares(i, row int, set func(int, xlsx.Entry)) {
	p := &rs.a.Inspection.Plates[i]
	set(plateNet, xlsx.Number(float64(assess.NetArea(rs.a.Plan, i)), xlsx.Precise))
	set(plateMFL, rs.share(p.MFLScanned))
	set(plateHand, rs.share(p.HandScanned))
	set(plateUT, rs.share(p.UTGridded))
	set(plateNot, rs.notExamined(p, row))
}

// share is a percent of a plate, live from its cell; nothing where it cannot be
// read.
func (rs *results) share(f inspection.Percent) xlsx.Entry {
	v := max(0, float64(f.Or(0)))
	if f.OK() && f.Plain && f.Ref.IsCell() && f.Value >= 0 {
		return xlsx.Live(rs.cellExpression(f.Ref, f.Scale, unit.Share), v, xlsx.Fixed2)
	}
	if f.State == inspection.Blank && f.Ref.IsCell() { // an empty cell counts as 0 there too
		return xlsx.Live(f.Ref.String(), 0, xlsx.Fixed2)
	}
	return xlsx.Number(v, xlsx.Fixed2)
}

// notExamined is what was said to be left out, and what the shares miss to 100.
func (rs *results) notExamined(p *inspection.Plate, row int) xlsx.Entry {
	said, v, f := "0", assess.NotExamined(p), p.NotExamined
	switch {
	case f.OK() && f.Plain && f.Ref.IsCell() && f.Value >= 0:
		said = rs.cellExpression(f.Ref, f.Scale, unit.Share)
	case f.State == inspection.Blank && f.Ref.IsCell():
		said = f.Ref.String()
	case f.Or(0) > 0:
		return xlsx.Number(v, xlsx.Fixed2)
	}
	others := here(plateMFL, row) + "+" + here(plateHand, row) + "+" + here(plateUT, row)
	return xlsx.Live(said+"+MAX(0,100-("+others+"+"+said+"))", v, xlsx.Fixed2)
}
