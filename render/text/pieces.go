package text

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

// Pieces writes the cutting list as CSV for the shop: one row for each piece,
// in the workbook's units, with its place on the stock sheets; then what is
// ordered separately.
func Pieces(w io.Writer, a *rules.Assessment) error {
	out := csv.NewWriter(w)
	sys := a.Inspection.Units
	u := " (" + unit.Size.Unit(sys) + ")"
	size := func(v float64) string { return plainNumber(unit.Size.In(sys, v)) }
	if err := out.Write([]string{
		"Mark", "Repair", "Plate", "Length" + u, "Width" + u, "Thickness" + u, "Corner radius" + u, "Mass (" + unit.MassKind.Unit(sys) + ")",
		"Sheet", "Sheet length" + u, "Sheet width" + u, "X" + u, "Y" + u, "Turned", "Remark",
	}); err != nil {
		return err
	}
	if a.Repairs == nil {
		out.Flush()
		return out.Error()
	}
	sheets := 0
	for _, g := range a.Repairs.Cutting.Groups {
		at := g.Places()
		for i, p := range g.Pieces {
			it := &a.Repairs.Items[p.Item]
			row := []string{
				safe(p.Mark), safe(it.Label), safe(a.Inspection.Plates[it.Plate].Label.Text), size(float64(p.Length)), size(float64(p.Width)), size(float64(g.Thickness)), size(float64(p.Radius)),
				unit.MassKind.Text(sys, float64(repair.BlankMass(p.Length, p.Width, g.Thickness)), 1),
			}
			if q := at[i]; q.Sheet >= 0 {
				s := g.Layout.Sheets[q.Sheet].Size
				row = append(row, strconv.Itoa(sheets+q.Sheet+1), size(s.Length), size(s.Width), size(q.X), size(q.Y), yesNo(q.Turned), "")
			} else {
				row = append(row, "", "", "", "", "", "", "fits no stock sheet")
			}
			if err := out.Write(row); err != nil {
				return err
			}
		}
		if g.Layout != nil {
			sheets += len(g.Layout.Sheets)
		}
	}
	for _, s := range a.Repairs.Cutting.Separate {
		it := &a.Repairs.Items[s.Item]
		if it.Kind == repair.Patch {
			continue // stands above, without a sheet
		}
		row := []string{
			safe(it.Label), safe(it.Label), safe(a.Inspection.Plates[it.Plate].Label.Text), size(float64(it.Length)), size(float64(it.Width)), size(float64(it.Thickness.V)), "0",
			unit.MassKind.Text(sys, float64(it.Mass.V), 1), "", "", "", "", "", "", s.Why,
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// plainNumber writes a size to a thousandth, without trailing zeros.
func plainNumber(v float64) string {
	s := unit.Round(v, 3)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// safe keeps a spreadsheet program from running a person's text.
func safe(s string) string {
	if inspection.Carried(s) {
		return "'" + s
	}
	return s
}
