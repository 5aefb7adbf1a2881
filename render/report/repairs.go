package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/method"
	"platebook/rules/repair"
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
			text = fmt.Sprintf("%s a repair and %s no place on a plate to put one; an engineer has to settle them.", capital(number(n, "location needs", "locations need")), have(n))
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

func have(n int) string { return choose(n, "has", "have") }

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
		s += fmt.Sprintf(" %s without a usable thickness %s not judged.", capital(count(unjudged, "indication")), choose(unjudged, "is", "are"))
	}
	return s
}

func (w *writer) repairSentence() string {
	r := w.a.Repairs
	s := fmt.Sprintf("%s on %s, %s.", capital(number(len(r.Items), "repair", "repairs")), number(r.Plates, "plate", "plates"), w.repairState())
	if r.Proposed {
		s = fmt.Sprintf("The workbook plans no repairs. The program proposes %s on %s, for the owner and the licensed people to decide on.", number(len(r.Items), "repair", "repairs"), number(r.Plates, "plate", "plates"))
	}
	s += w.toAgree()
	if n := len(r.Unplaced); n > 0 {
		s += fmt.Sprintf(" %s a repair and %s no place to put one.", capital(number(n, "further location needs", "further locations need")), have(n))
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

func number(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n) + " " + many
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
	return t
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

// blanks is the patches' steel: what is to be cut, what fits no sheet, and the
// mass of all.
func (w *writer) blanks() string {
	r := w.a.Repairs
	s := number(r.Pieces, "piece", "pieces")
	apart, done := 0, 0
	for _, o := range r.Cutting.Separate {
		if r.Items[o.Item].Kind == repair.Patch {
			apart++
		}
	}
	if apart == 0 {
		s += " to cut"
	} else {
		s += fmt.Sprintf(", %d of them ordered separately", apart)
	}
	for i := range r.Items {
		if it := &r.Items[i]; it.Kind == repair.Patch && it.Completed {
			done++
		}
	}
	if done == 0 {
		return s + ", " + full(w, unit.MassKind, r.Mass)
	}
	return fmt.Sprintf("%s, %d completed; %s in all", s, done, full(w, unit.MassKind, r.Mass))
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

// cutting is the cutting list: pieces by thickness with their marks, and each
// sheet.
func (w *writer) cutting() []Block {
	r := w.a.Repairs
	if len(r.Cutting.Groups)+len(r.Cutting.Separate)+len(r.Cutting.Unknown) == 0 {
		return nil
	}
	blocks := []Block{Heading{2, "Cutting list"}}
	size := func(v float64) string { return unit.Size.Text(w.sys, v, 0) }
	sheets := 0
	for gi, g := range r.Cutting.Groups {
		t := Table{Caption: "Pieces of " + unit.Thickness.TextUnit(w.sys, float64(g.Thickness), 0), Columns: []Column{
			{Head: "Mark", Share: 1.6},
			{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Width", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Radius", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Mass", unit.MassKind), Align: Right, Share: 1},
			{Head: "Sheet", Align: Right, Share: 0.8},
			{Head: w.head("X", unit.Size), Align: Right, Share: 0.9},
			{Head: w.head("Y", unit.Size), Align: Right, Share: 0.9},
		}, Note: "Paint the mark, repair and plate, on each piece. X and Y: from the sheet's corner to the piece's near corner. Each mass is rounded by itself; their total is of the unrounded ones."}
		at := g.Places()
		remarks := slices.ContainsFunc(at, func(q repair.Place) bool { return q.Sheet < 0 || q.Turned })
		if remarks {
			t.Columns = append(t.Columns, Column{Head: "Remark", Share: 1})
		}
		for i, p := range g.Pieces {
			row := []string{
				p.Mark, size(float64(p.Length)), size(float64(p.Width)), size(float64(p.Radius)),
				unit.MassKind.Text(w.sys, float64(repair.BlankMass(p.Length, p.Width, g.Thickness)), 0),
			}
			remark := ""
			switch q := at[i]; {
			case q.Sheet < 0:
				row = append(row, none, none, none)
				remark = "no sheet"
			default:
				row = append(row, fmt.Sprint(sheets+q.Sheet+1), size(q.X), size(q.Y))
				if q.Turned {
					remark = "turned"
				}
			}
			if remarks {
				row = append(row, remark)
			}
			t.Rows = append(t.Rows, Row{Cells: row})
		}
		blocks = append(blocks, t)
		if g.Layout == nil {
			blocks = append(blocks, Caution{Title: "No layout", Text: g.Why})
			continue
		}
		for si := range g.Layout.Sheets {
			sheets++
			if s := draw.StockSheet(w.a, draw.Sheet{Width: 170, Height: 110}, gi, si); s != nil {
				blocks = append(blocks, Figure{Scene: s, Caption: fmt.Sprintf("Stock sheet %d", sheets)})
			}
		}
	}
	var apart []string
	for _, s := range r.Cutting.Separate {
		it := &r.Items[s.Item]
		apart = append(apart, fmt.Sprintf("%s, plate %s: %s × %s × %s, %s", it.Label, w.in.Plates[it.Plate].Label.Text,
			size(float64(it.Length)), size(float64(it.Width)), full(w, unit.Thickness, it.Thickness), s.Why))
	}
	for _, n := range r.Cutting.Unknown {
		apart = append(apart, r.Items[n].Label+": thickness or size not known, not in the list")
	}
	if len(apart) > 0 {
		blocks = append(blocks, Heading{3, "Ordered separately"}, List{apart})
	}
	return blocks
}

// BuildPreliminary composes the repair list of the same day: plan, repairs by
// plate, cutting list, and what is missing. The cover is a strip.
func BuildPreliminary(a *rules.Assessment, opt Options) *Report {
	w := &writer{a: a, in: a.Inspection, res: a.Result, sys: a.Inspection.Units, opt: opt}
	r := w.frame()
	r.Strip = true
	r.Title = "Preliminary repair list: " + r.Title
	r.Cover.Heading = "Preliminary repair list, tank " + w.in.Tank.Tank.Or("not named")
	r.Cover.Signatures = nil
	r.Cover.Note = w.coverNote("the workbook " + w.in.File.Name) // there is no appendix to name it
	if w.status() != "preliminary" && !r.Running.Loud {
		r.Running.Status, r.Running.Loud = "PRELIMINARY LIST", true
		r.Cover.Status = r.Running.Status
	}
	add := func(name string, blocks []Block) {
		if len(blocks) > 0 {
			r.Sections = append(r.Sections, Section{Number: len(r.Sections) + 1, Name: name, Blocks: blocks})
		}
	}
	if a.Repairs == nil || len(a.Repairs.Items) == 0 {
		add("Repairs by plate", w.repairs())
	} else {
		add("Repair plan", append([]Block{Paragraph{Text: w.repairSentence()}, w.totals()}, w.plans("Repair plan", draw.RepairPlan)...))
		list := w.repairList()
		blocks := append([]Block{list}, w.failures()...)
		pieces := dropHeading(w.cutting())
		if len(list.Rows) > longList {
			blocks, pieces = dense(blocks), dense(pieces)
		}
		add("Repairs by plate", blocks)
		add("Cutting list", pieces)
	}
	add("What is missing", w.missing())
	return r
}

// longList is the number of rows above which a preliminary list is set small:
// it goes with people into the tank.
const longList = 60

func dense(blocks []Block) []Block {
	for i, b := range blocks {
		if t, ok := b.(Table); ok {
			t.Dense = true
			blocks[i] = t
		}
	}
	return blocks
}

func dropHeading(blocks []Block) []Block {
	if len(blocks) > 0 {
		if _, is := blocks[0].(Heading); is {
			return blocks[1:]
		}
	}
	return blocks
}

// missing is what a preliminary list leaves open: rows left out, errors and
// open warnings, limitations.
func (w *writer) missing() []Block {
	var items []string
	if n := len(w.a.LeftOut); n > 0 {
		var keys []string
		for _, r := range w.a.LeftOut {
			keys = append(keys, r.Sheet+" "+r.Key)
		}
		items = append(items, fmt.Sprintf("%s left out for errors: %s", capital(number(n, "row", "rows")), cut(keys, 12)))
	}
	var short, asked []string
	for _, l := range w.unrepaired() {
		if w.short(l) {
			short = append(short, l.Label)
		} else {
			asked = append(asked, l.Label)
		}
	}
	if w.a.Repairs != nil {
		for _, i := range w.a.Repairs.Unplaced {
			short = append(short, w.res.Locations[i].Label)
		}
	}
	if n := len(short); n > 0 {
		items = append(items, fmt.Sprintf("a repair for %s: %s", number(n, "place", "places"), cut(short, 60)))
	}
	if n := len(asked); n > 0 {
		items = append(items, fmt.Sprintf("an engineer's judgement of %s: %s", number(n, "place", "places"), cut(asked, 60)))
	}
	const most = 30
	shown, rest := 0, 0
	for _, f := range w.open() {
		if shown == most {
			rest++
			continue
		}
		shown++
		items = append(items, fmt.Sprintf("%s (%s %s): %s", w.placed(f), f.Severity, f.Rule, f.Message))
	}
	if rest > 0 {
		items = append(items, fmt.Sprintf("and %d more findings; the sheet Findings holds them all", rest))
	}
	items = append(items, w.res.Limitations...)
	if len(items) == 0 {
		return []Block{Paragraph{Text: "Nothing: no error, no open warning, no limitation."}}
	}
	return []Block{List{items}}
}
