package report

import (
	"fmt"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/settle"
	"platebook/rules/unit"
)

// settlement is section 11: the survey around the shell against the fitted
// plane, and edge settlement, bulges and depressions.
func (w *writer) settlement() []Block {
	r := w.a.Settlement
	if r == nil {
		if s := w.in.Sheet("Settlement"); s != nil && s.Rows > 0 {
			return []Block{Caution{Title: "Settlement not judged", Text: "The rows of the settlement survey could not be used; the findings say why."}}
		}
		return []Block{Paragraph{Text: "No settlement survey is recorded in the workbook. Settlement of the shell and of the floor is not judged here."}}
	}
	var blocks []Block
	if len(r.Shell) > 0 {
		blocks = append(blocks, Heading{2, "Around the shell"}, Paragraph{Text: w.surveyInWords()})
		if text := w.surveyDoubts(); text != "" {
			blocks = append(blocks, Caution{Title: "Read with care", Text: text})
		}
		blocks = append(blocks, w.chart("Settlement around the shell", w.settlementChart)...)
		blocks = append(blocks, w.levels())
	} else {
		blocks = append(blocks, Paragraph{Text: "No elevation of the shell's foot was recorded that can be used; settlement around the shell is not judged."})
	}
	blocks = append(blocks, w.localSettlement("Edge settlement", r.Edge, true)...)
	blocks = append(blocks, w.localSettlement("Bulges and depressions", r.Bulge, false)...)
	if len(r.Edge)+len(r.Bulge) == 0 {
		blocks = append(blocks, Paragraph{Text: "No edge settlement, bulge or depression was recorded."})
	}
	return append(blocks, Heading{2, "Settlement, step by step"}, Steps{w.steps("settlement.")})
}

func (w *writer) surveyInWords() string {
	r := w.a.Settlement
	s := fmt.Sprintf("The foot of the shell was surveyed at %s", count(len(r.Shell), "point"))
	if r.Needed > 0 {
		s += fmt.Sprintf(" (%d needed for this diameter)", r.Needed)
	}
	if r.Widest.Known {
		s += fmt.Sprintf(", at most %s apart along the shell (limit %s)", full(w, unit.Height, r.Widest), unit.Height.TextUnit(w.sys, float64(settle.LargestArc), 0))
	}
	s += ". "
	if !r.Fitted {
		return s + fmt.Sprintf("No plane can be fitted: %s. Out-of-plane settlement is not judged.", r.Why)
	}
	s += fmt.Sprintf("The plane fitted by least squares is %s out of level across the diameter", unit.Settlement.TextUnit(w.sys, r.Ring.Tilt, 0))
	if r.R2.Known {
		s += fmt.Sprintf("; R² is %s", unit.Round(float64(r.R2.V), 4))
	}
	s += fmt.Sprintf(". Against its two neighbours, point %s leaves that plane most, by %s; ", r.Shell[r.Ring.MaxAt].Name, unit.Settlement.TextUnit(w.sys, r.Ring.MaxOut, 0))
	switch {
	case !r.Allowable.Known:
		return s + "no allowable could be calculated, so this is not judged."
	case !r.Known:
		return s + "this is not judged."
	case r.OK:
		return s + fmt.Sprintf("%s is allowable: pass. The allowable follows the formula before 2008; the later table is not built in.", full(w, unit.Settlement, r.Allowable))
	}
	return s + fmt.Sprintf("%s is allowable: fail. The allowable follows the formula before 2008; the later table is not built in. An engineer evaluates the shell and decides.", full(w, unit.Settlement, r.Allowable))
}

// surveyDoubts is what makes the survey doubtful, "" when nothing does.
func (w *writer) surveyDoubts() string {
	r := w.a.Settlement
	var parts []string
	if n := len(r.Shell); r.Needed > n {
		parts = append(parts, fmt.Sprintf("Fewer points than needed: %d of %d.", n, r.Needed))
	}
	if r.Widest.Known && r.Widest.V > settle.LargestArc+1e-6 {
		parts = append(parts, fmt.Sprintf("The widest arc between two points, %s, is over %s: what the shell does between them is not known.",
			full(w, unit.Height, r.Widest), unit.Height.TextUnit(w.sys, float64(settle.LargestArc), 0)))
	}
	if r.Poor {
		parts = append(parts, fmt.Sprintf("R² %s is below %s: the plane does not describe the shell, and what leaves it may be understated.", unit.Round(float64(r.R2.V), 4), unit.Round(r.Limit, 2)))
	}
	text := ""
	for _, p := range parts {
		if text != "" {
			text += " "
		}
		text += p
	}
	return text
}

func (w *writer) settlementChart(a *rules.Assessment, s draw.Sheet) *draw.Scene {
	r := w.a.Settlement
	var levels []draw.Level
	for _, p := range r.Shell {
		levels = append(levels, draw.Level{Point: p.Name, Bearing: float64(p.Bearing), Elevation: float64(p.Elevation)})
	}
	return draw.SettlementChart(a, s, levels, r.Ring.A0, r.Ring.A1, r.Ring.B1, r.Fitted)
}

// levels is the table of the points around the shell.
func (w *writer) levels() Table {
	r := w.a.Settlement
	t := Table{Caption: "Points around the shell", Columns: []Column{
		{Head: "Point", Share: 0.8},
		{Head: "Bearing\n°", Align: Right, Share: 0.9},
		{Head: w.head("Elevation", unit.Settlement), Align: Right, Share: 1.1},
		{Head: w.head("Plane", unit.Settlement), Align: Right, Share: 0.9},
		{Head: w.head("Off the plane", unit.Settlement), Align: Right, Share: 1.1},
		{Head: w.head("Out of plane", unit.Settlement), Align: Right, Share: 1.1},
		{Head: w.head("Allowable", unit.Settlement), Align: Right, Share: 1.1},
		{Head: "Verdict", Share: 0.9},
		{Head: "Disposition by the inspector", Share: 2.6},
	}, Note: "Off the plane: elevation less the fitted plane. Out of plane: that, less the mean of both neighbours. The disposition is the inspector's, from the survey; the verdict never replaces it."}
	for i := range r.Shell {
		p := &r.Shell[i]
		plane, off, out, verdict := none, none, none, none
		row := Row{}
		if r.Fitted {
			print := func(v unit.Length) string { return bare(w, unit.Settlement, unit.Some(v)) }
			plane, off, out = print(p.Fit), print(p.U), print(p.S)
			if r.Allowable.Known {
				verdict = "pass"
				if max(p.S, -p.S) > r.Allowable.V+1e-6 {
					verdict = "fail"
					row.Mark, row.Bold = "fail", true
				}
			}
		}
		row.Cells = []string{
			p.Name, unit.Bearing.Text(w.sys, float64(p.Bearing), 0), bare(w, unit.Settlement, unit.Some(p.Elevation)), plane, off, out,
			bare(w, unit.Settlement, r.Allowable), verdict, w.disposition(p.Row),
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// disposition is what the inspector wrote beside a point.
func (w *writer) disposition(row int) string {
	return text(w.in.Settlement[row].Remarks)
}

// localSettlement is the table of edge settlement, or of bulges and
// depressions.
func (w *writer) localSettlement(title string, list []settle.Local, edge bool) []Block {
	if len(list) == 0 {
		return nil
	}
	t := Table{Columns: []Column{{Head: "Point", Share: 0.8}}}
	add := func(head string, align Align, share float64) {
		t.Columns = append(t.Columns, Column{Head: head, Align: align, Share: share})
	}
	if !edge {
		add("Kind", Left, 1.3)
	}
	add("Bearing\n°", Right, 0.9)
	add(w.head("Radius", unit.Size), Right, 0.9)
	if edge {
		add("Weld angle\n°", Right, 1.1)
		t.Note = "Weld angle: of the nearest lap weld to the radius. The limits stand in the criteria, read by the user from the standard's figures. "
	}
	add(w.head("Measured", unit.Settlement), Right, 1.1)
	add(w.head("Limit", unit.Settlement), Right, 0.9)
	add("Verdict", Left, 2)
	add("Disposition by the inspector", Left, 3)
	t.Note += "The disposition is the inspector's, from the survey; the verdict never replaces it."
	for i := range list {
		l := &list[i]
		s := &w.in.Settlement[l.Row]
		cells := []string{l.Name}
		if !edge {
			cells = append(cells, l.Kind)
		}
		cells = append(cells, fieldBare(w, unit.Bearing, s.Bearing), fieldBare(w, unit.Size, s.Radius))
		if edge {
			cells = append(cells, fieldBare(w, unit.Bearing, s.WeldAngle))
		}
		row := Row{}
		verdict := "pass"
		switch {
		case !l.Known && l.Why != "":
			verdict, row.Mark = "not judged: "+l.Why, "warn"
		case !l.Known:
			verdict, row.Mark = "not judged", "warn"
		case !l.OK:
			verdict, row.Mark, row.Bold = "fail", "fail", true
		}
		if l.Examine {
			verdict += fmt.Sprintf("; over 75 %% of its limit and over %s: examine the welds by VT and by MT or PT", unit.Settlement.TextUnit(w.sys, 2*float64(unit.Inch), 0))
		}
		row.Cells = append(cells, bare(w, unit.Settlement, l.Measured), bare(w, unit.Settlement, l.Limit), verdict, w.disposition(l.Row))
		t.Rows = append(t.Rows, row)
	}
	return []Block{Heading{2, title}, t}
}
