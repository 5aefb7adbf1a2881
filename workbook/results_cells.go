package workbook

import (
	"math"
	"strconv"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// namedCell is a cell of the results that holds a number which a step gives as
// a constant with a text for its source.
type namedCell struct {
	cell  string
	value float64 // as the cell holds it
}

// name makes the constants of a text and title lead to a cell.
func (rs *results) name(text, title, cell string, value float64) {
	rs.named[text+"\n"+title] = namedCell{cell, value}
}

// here is a cell of the same sheet, as a formula writes it.
func here(col, row int) string { return finding.ColumnName(col) + strconv.Itoa(row) }

// span is a column of a sheet from row to row, as a formula writes it.
func span(sheet string, col, first, last int) string {
	c := finding.ColumnName(col)
	return finding.QuoteSheet(sheet) + "!$" + c + "$" + strconv.Itoa(first) + ":$" + c + "$" + strconv.Itoa(last)
}

func abs(v float64) float64 { return math.Abs(v) }

func piTimes(v float64) float64 { return math.Pi * v }

func cosSin(deg float64) (c, s float64) {
	s, c = math.Sincos(deg * math.Pi / 180)
	return c, s
}

// lengthCell is a person's length in the workbook's units, live from its cell.
func (rs *results) lengthCell(f inspection.Length, k unit.Kind) xlsx.Entry {
	own, style := k.In(rs.sys, float64(f.Value)), fixed(k, rs.sys, 0)
	if !f.Plain || !f.Ref.IsCell() {
		return xlsx.Number(own, style)
	}
	formula := f.Ref.String()
	if factor := f.Scale / k.Factor(rs.sys); f.Scale != 0 && factor != 1 {
		formula += "*" + literal(factor)
	}
	return xlsx.Live(formula, own, style)
}

// criterion is a criterion's number as the workbook has it, live from its cell
// where one was given.
func (rs *results) criterion(n criteria.Name, style xlsx.Style) xlsx.Entry {
	v := rs.criteria().Get(n)
	d, _ := criteria.Find(n)
	own := d.Kind.In(rs.sys, v.Number)
	if v.Given && v.Plain && v.Ref.IsCell() {
		formula := v.Ref.String()
		if factor := v.Scale / d.Kind.Factor(rs.sys); v.Scale != 0 && factor != 1 {
			formula += "*" + literal(factor)
		}
		return xlsx.Live(formula, own, style)
	}
	return xlsx.Number(own, style)
}
