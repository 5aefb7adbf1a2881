package report

import (
	"fmt"
	"strings"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/method"
	"platebook/rules/repair"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

func years(v unit.Maybe[unit.Years]) string {
	if !v.Known {
		return none
	}
	return unit.IntervalText(v.V)
}

// repairs is section 15: the repairs with their checks, the plan, the plates,
// the cutting list.
func (w *writer) repairs() []Block {
	r := w.a.Repairs
	if r == nil {
		return nil
	}
	if len(r.Items) == 0 {
		text := w.noRepair()
		if n := len(r.Unplaced); n > 0 {
			text = fmt.Sprintf("%s a repair and %s no place on a plate to put one; an engineer has to settle them.", capital(spelling.Count(n, "location needs", "locations need")), have(n))
		}
		blocks := []Block{Paragraph{Text: text + w.openSentence()}}
		return append(blocks, w.details()...)
	}
	blocks := []Block{Paragraph{Text: w.repairSentence()}, w.repairList(), w.totals()}
	blocks = append(blocks, w.failures()...)
	blocks = append(blocks, w.cutting()...)
	if s := w.steps("repair.", "cutting."); len(s) > 0 {
		blocks = append(blocks, Heading{2, "Totals, step by step"}, Steps{s})
	}
	blocks = append(blocks, w.plans("Repair plan", draw.RepairPlan)...)
	return append(blocks, w.details()...)
}

func have(n int) string { return spelling.Choose(n, "has", "have") }

// noRepair says why there is no repair, and no more than is known.
func (w *writer) noRepair() string {
	known, unjudged := 0, 0
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		switch {
		case l.Counts && l.Remaining.Known:
			known++
		case (l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt) && l.Verdict != assess.NotRelevant:
			unjudged++
		}
	}
	if known == 0 {
		return "No remaining thickness is known: whether the floor needs repairs cannot be told. No repair is planned."
	}
	s := fmt.Sprintf("No location falls below its requirement %s, and no repair is planned.", w.horizon())
	if !w.res.AsFound.SoilRate.Known || !w.res.AsFound.ProductRate.Known {
		s = "No location is below its requirement now, and no repair is planned. The corrosion rates are not known: what falls below it later cannot be told."
	}
	if unjudged > 0 {
		s += fmt.Sprintf(" %s without a usable thickness %s not judged.", capital(count(unjudged, "indication")), spelling.Choose(unjudged, "is", "are"))
	}
	return s
}

func (w *writer) repairSentence() string {
	r := w.a.Repairs
	s := fmt.Sprintf("%s on %s, %s.", capital(spelling.Count(len(r.Items), "repair", "repairs")), spelling.Count(r.Plates, "plate", "plates"), w.repairState())
	if r.Proposed {
		s = fmt.Sprintf("The workbook plans no repairs. The program proposes %s on %s, for the owner and the licensed people to decide on.", spelling.Count(len(r.Items), "repair", "repairs"), spelling.Count(r.Plates, "plate", "plates"))
	}
	s += w.toAgree()
	if n := len(r.Unplaced); n > 0 {
		s += fmt.Sprintf(" %s a repair and %s no place to put one.", capital(spelling.Count(n, "further location needs", "further locations need")), have(n))
	}
	return s + w.openSentence()
}

// toAgree names the repairs that an engineer has to agree to, with the reason.
func (w *writer) toAgree() string {
	const most = 12 // named; the list marks all
	var zone, ring, other []string
	for i := range w.a.Repairs.Items {
		switch it := &w.a.Repairs.Items[i]; {
		case !it.Engineer:
		case it.Zone == floor.Critical:
			zone = append(zone, it.Label)
		case it.Zone == floor.Annular || inspection.Is(w.in.Plates[it.Plate].Type, "annular"):
			ring = append(ring, it.Label)
		default:
			other = append(other, it.Label)
		}
	}
	var parts []string
	for _, p := range []struct {
		labels []string
		why    string
	}{{zone, "in the critical zone"}, {ring, "on the annular ring"}, {other, "no shape found that keeps every rule"}} {
		if n := len(p.labels); n > most {
			parts = append(parts, fmt.Sprintf("%s and %d more (%s)", strings.Join(p.labels[:most], ", "), n-most, p.why))
		} else if n > 0 {
			parts = append(parts, and(p.labels)+" ("+p.why+")")
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return " An engineer has to agree to " + strings.Join(parts, "; to ") + "."
}

// repairList is the repairs in crew order, by plate.
func (w *writer) repairList() Table {
	r := w.a.Repairs
	t := Table{Caption: "Repairs by plate", Columns: []Column{
		{Head: "Repair", Share: 1},
		{Head: "Kind", Share: 1.5},
		{Head: w.head("X", unit.Position), Align: Right, Share: 0.9},
		{Head: w.head("Y", unit.Position), Align: Right, Share: 0.9},
		{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
		{Head: w.head("Width", unit.Size), Align: Right, Share: 1},
		{Head: w.head("Thickness", unit.Thickness), Align: Right, Share: 1.2},
		{Head: "Covers", Share: 1.4},
		{Head: "Why", Share: 3.4},
		{Head: "Checks", Share: 1.6},
	}, Note: "X, Y: centre from the plate's datum corner. Length along the plate, width across it; of a tombstone along the shell and inward from it."}
	plate := -1
	for i := range r.Items {
		it := &r.Items[i]
		if it.Plate != plate {
			plate = it.Plate
			t.Rows = append(t.Rows, Row{Cells: []string{"Plate " + w.in.Plates[plate].Label.Text}, Group: true})
		}
		length := func(k unit.Kind, v unit.Length, known bool) string {
			if !known {
				return none
			}
			return k.Text(w.sys, float64(v), 0)
		}
		kind := string(it.Kind)
		if it.Shape == repair.Tombstone || it.Shape == repair.Circle {
			kind = it.Shape
		}
		if it.Completed {
			kind += ", completed"
		}
		passed, failed, open := 0, 0, 0
		for _, c := range it.Checks {
			switch {
			case !c.Known:
				open++
			case c.OK:
				passed++
			default:
				failed++
			}
		}
		var checks []string
		if failed > 0 {
			checks = append(checks, fmt.Sprintf("%d fail", failed))
		}
		if passed > 0 {
			checks = append(checks, fmt.Sprintf("%d pass", passed))
		}
		if open > 0 {
			checks = append(checks, fmt.Sprintf("%d open", open))
		}
		if it.Engineer {
			checks = append(checks, "engineer")
		}
		row := Row{Cells: []string{
			it.Label, kind, length(unit.Position, it.X, it.Boxed), length(unit.Position, it.Y, it.Boxed), length(unit.Size, it.Length, it.Length > 0),
			length(unit.Size, it.Width, it.Width > 0), bare(w, unit.Thickness, it.Thickness), cut(it.IDs, 6), cut(it.Reasons, 3), strings.Join(checks, ", "),
		}}
		if failed > 0 {
			row.Mark = "fail"
		}
		t.Rows = append(t.Rows, row)
	}
	return filled(t)
}

// cut joins the first few items of a list and counts the rest.
func cut(list []string, most int) string {
	if len(list) <= most {
		return strings.Join(list, "; ")
	}
	return strings.Join(list[:most], "; ") + fmt.Sprintf("; and %d more", len(list)-most)
}

func (w *writer) totals() Block {
	r := w.a.Repairs
	rows := [][2]string{
		{"Area, each place once", unit.AreaKind.TextUnit(w.sys, float64(r.Area), 0)},
		{"Patch weld", unit.Height.TextUnit(w.sys, float64(r.Weld), 0)},
		{"Vacuum box", unit.Height.TextUnit(w.sys, float64(r.Vacuum), 0)},
	}
	if r.ShellWeld > 0 {
		rows = append(rows, [2]string{"Weld at the shell, MT or PT", unit.Height.TextUnit(w.sys, float64(r.ShellWeld), 0)})
	}
	rows = append(rows, [2]string{"Blanks", w.blanks()})
	if r.PlateMass.V > 0 {
		rows = append(rows, [2]string{"Replacement plates", full(w, unit.MassKind, r.PlateMass)})
	}
	if r.Sheets > 0 {
		rows = append(rows, [2]string{"Stock sheets", fmt.Sprintf("%d (at least %d by area, %d by pieces that exclude each other)", r.Sheets, r.BoundArea, r.BoundDual)},
			[2]string{"Yield", full(w, unit.Share, r.Yield)})
	}
	return Pairs{rows}
}

// checkName is a rule for repairs in words, with the id that its findings and
// the sheet Repairs use.
func checkName(id string) string { return capital(method.CheckTitle(id)) + " (" + id + ")" }

// failures lists the checks that fail, and those that could not be made.
func (w *writer) failures() []Block {
	t := Table{Caption: "Checks that fail or could not be made", Columns: []Column{
		{Head: "Repair", Share: 1.8}, {Head: "Check", Share: 2.6}, {Head: "Verdict", Share: 1.2}, {Head: "Found", Share: 2.4}, {Head: "Clause", Share: 1.2}, {Head: "Source", Share: 2.6},
	}}
	open := map[string][]string{}
	var order []string
	for i := range w.a.Repairs.Items {
		it := &w.a.Repairs.Items[i]
		for _, c := range it.Checks {
			switch {
			case !c.Known:
				k := c.ID + "\x00" + c.Note + "\x00" + c.Clause + "\x00" + c.Source
				if open[k] == nil {
					order = append(order, k)
				}
				open[k] = append(open[k], it.Label)
			case !c.OK:
				t.Rows = append(t.Rows, Row{Cells: []string{it.Label, checkName(c.ID), "fail", c.Text(w.sys), c.Clause, c.Source}, Mark: "fail"})
			}
		}
	}
	for _, k := range order {
		p := strings.Split(k, "\x00")
		t.Rows = append(t.Rows, Row{Cells: []string{cut(open[k], 60), checkName(p[0]), "not checked", p[1], p[2], p[3]}})
	}
	if len(t.Rows) == 0 {
		return []Block{Paragraph{Text: "Every check of every repair passes; the sheet Repairs of the results workbook lists each with value, limit and clause."}}
	}
	return []Block{t}
}
