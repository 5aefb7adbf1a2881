package report

import (
	"fmt"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/unit"
)

// threshold is section 14: what each repair threshold costs and gives.
func (w *writer) threshold() []Block {
	r := w.a.Repairs
	if r == nil || len(r.Thresholds()) == 0 {
		return nil
	}
	if !w.res.AsFound.SoilRate.Known && !w.res.AsFound.ProductRate.Known {
		return []Block{Paragraph{Text: "Not worked out: no corrosion rate is known, so that no threshold can be held against an interval. The section on corrosion rates says why."}}
	}
	target := "planning interval"
	wanted := unit.Maybe[unit.Years]{}
	if d := w.in.Tank.DesiredInterval; d.OK() {
		target, wanted = "desired interval", unit.Some(d.Value)
	}
	s := "Each row repairs everything thinner than its threshold, with the repairs the program would propose, and gives the interval that remains."
	if r.Needed.Known {
		s += fmt.Sprintf(" The %s of %s needs a threshold of %s, critical zone and annular ring apart.", target,
			unit.Time.TextUnit(w.sys, float64(r.Target), 0), full(w, unit.Thickness, r.Needed))
	}
	chosen := unit.Maybe[unit.Length]{}
	if v := w.in.Criteria.Get(criteria.RepairThreshold); v.Set {
		chosen = unit.Some(unit.Length(v.Number))
		s += " The owner's choice, " + full(w, unit.Thickness, chosen) + ", is marked."
	}
	t := Table{Columns: []Column{
		{Head: w.head("Repair below", unit.Thickness), Align: Right, Share: 1.3},
		{Head: "Repairs", Align: Right, Share: 1},
		{Head: "Plates", Align: Right, Share: 1},
		{Head: w.head("Area", unit.AreaKind), Align: Right, Share: 1},
		{Head: w.head("Blanks", unit.MassKind), Align: Right, Share: 1},
		{Head: "Stock sheets", Align: Right, Share: 1},
		{Head: "Interval\nyears", Align: Right, Share: 1.1},
		{Head: "At least\nyears", Align: Right, Share: 1.3},
	}, Note: "Interval: of the floor so repaired, critical zone and annular ring with it, capped as the adopted one. At least: what the threshold itself gives, critical zone and annular ring apart and not capped: (threshold − required) over both rates, but no more than sound metal, old patches and what the scan may have missed allow. Blanks and stock sheets are those of the patches; replacement plates are ordered apart."}
	if chosen.Known {
		t.Columns = append(t.Columns, Column{Head: "Marked", Share: 1.4})
	}
	var levels []draw.Threshold
	marked := false
	for _, l := range r.Thresholds() {
		levels = append(levels, draw.Threshold{RepairBelow: l.Below, Interval: l.Interval, Repairs: l.Repairs})
		row := Row{Cells: []string{
			unit.Thickness.Text(w.sys, float64(l.Below), 0), fmt.Sprint(l.Repairs), fmt.Sprint(l.Plates), unit.AreaKind.Text(w.sys, float64(l.Area), 0),
			unit.MassKind.Text(w.sys, float64(l.Mass), 0), fmt.Sprint(l.Sheets), years(l.Interval), years(l.AtLeast),
		}}
		if chosen.Known && !marked && l.Below >= chosen.V-1e-6 {
			row.Bold, marked = true, true
			row.Cells = append(row.Cells, "owner's choice")
		}
		t.Rows = append(t.Rows, row)
	}
	blocks := []Block{Paragraph{Text: s}, Steps{w.steps("threshold.")}, t}
	return append(blocks, w.chart("Interval against repair threshold", func(a *rules.Assessment, s draw.Sheet) *draw.Scene {
		return draw.ThresholdChart(a, s, levels, wanted, chosen)
	})...)
}
