package workbook

import (
	"fmt"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// repairRow is one repair of the Repairs sheet: what was planned leads to the
// cells of Planned repairs, and weld and mass are live over the sizes.
func (rs *results) repairRow(i int) []xlsx.Entry {
	it := &rs.a.Repairs.Items[i]
	var typed inspection.Repair
	if it.Row >= 0 {
		typed = rs.a.Inspection.Repairs[it.Row]
	}
	length := func(k unit.Kind, v unit.Length, known bool, from inspection.Length) xlsx.Entry {
		switch {
		case !known:
			return xlsx.Blank(xlsx.Normal)
		case from.OK() && from.Value == v:
			return rs.lengthCell(from, k)
		}
		return xlsx.Number(k.In(rs.sys, float64(v)), fixed(k, rs.sys, 0))
	}
	thickness := notKnown()
	if it.Thickness.Known {
		thickness = length(unit.Thickness, it.Thickness.V, true, typed.Thickness)
	}
	return append([]xlsx.Entry{
		xlsx.Text(it.Label, xlsx.Bold), xlsx.Text(string(it.Kind), xlsx.Normal), xlsx.Text(rs.a.Inspection.Plates[it.Plate].Label.Text, xlsx.Normal),
		length(unit.Position, it.X, it.Boxed, typed.X), length(unit.Position, it.Y, it.Boxed, typed.Y),
		length(unit.Size, it.Length, it.Length > 0, typed.Length), length(unit.Size, it.Width, it.Width > 0, typed.Width),
		thickness, xlsx.Text(it.Shape, xlsx.Normal), xlsx.Text(string(it.Zone), xlsx.Normal),
		xlsx.Text(strings.Join(it.IDs, ", "), xlsx.Wrapped), xlsx.Text(it.Status(), xlsx.Normal),
		xlsx.Text(strings.Join(it.Failures(rs.sys), "; "), xlsx.Wrapped), xlsx.Text(strings.Join(it.Reasons, "; "), xlsx.Wrapped),
	}, rs.steelCells(it, firstRepair+i)...)
}

// steelCells are corner radius, weld and mass of the blank of a patch, live
// over its sizes in the row; in a workbook in US units weld and mass follow
// once more in SI units.
func (rs *results) steelCells(it *repair.Item, row int) []xlsx.Entry {
	cell := func(col int) string { return fmt.Sprintf("%s%d", finding.ColumnName(col), row) }
	l, w := cell(repairLength), cell(repairWidth)
	size, foot := unit.Size.Factor(rs.sys), unit.Height.Factor(rs.sys)
	radius, weld, mass, weldSI, massSI := xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal)
	if it.Weld > 0 {
		outline := "PI()*MIN(" + l + "," + w + ")"
		if it.Shape != repair.Circle {
			outline = "2*(" + l + "+" + w + ")-(8-2*PI())*" + cell(repairRadius)
			if it.ShellWeld > 0 {
				outline += "-" + l
			}
			c, mm := rs.criterionTerm(criteria.PatchCornerRadius)
			if size != 1 {
				c += "/" + literal(size)
			}
			radius = xlsx.Live("MIN("+c+","+l+"/2,"+w+"/2)", min(mm, float64(min(it.Length, it.Width))/2)/size, fixed(unit.Size, rs.sys, 0))
		}
		weld = xlsx.Live("("+outline+")*"+literal(size/foot), unit.Height.In(rs.sys, float64(it.Weld)), xlsx.Fixed3)
		weldSI = xlsx.Live(cell(repairWeld)+"*"+literal(foot/unit.Height.Factor(unit.SI)), rs.si(unit.Height, float64(it.Weld)), xlsx.Fixed3)
	}
	if it.Kind == repair.Patch && it.Mass.Known {
		product := l + "*" + w
		if it.Shape == repair.Circle {
			product = "MIN(" + l + "," + w + ")^2"
		}
		kg := repair.BlankMass(unit.Length(size), unit.Length(size), unit.Length(unit.Thickness.Factor(rs.sys)))
		mass = xlsx.Live(product+"*"+cell(repairThickness)+"*"+literal(float64(kg)/unit.MassKind.Factor(rs.sys)), unit.MassKind.In(rs.sys, float64(it.Mass.V)), xlsx.Fixed2)
		massSI = xlsx.Live(cell(repairMass)+"*"+literal(unit.MassKind.Factor(rs.sys)), float64(it.Mass.V), xlsx.Fixed2)
	}
	if rs.sys == unit.SI {
		return []xlsx.Entry{radius, weld, mass}
	}
	return []xlsx.Entry{radius, weld, mass, weldSI, massSI}
}
