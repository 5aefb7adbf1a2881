package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/render/draw"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/repair"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// tooFew stands for a line that too few pairs carry.
const tooFew = "too few"

// sizing is section 9: how well the scan sized what ultrasonics measured.
func (w *writer) sizing() []Block {
	s := w.res.Sizing
	if s.All.Pairs == 0 {
		return []Block{Paragraph{Text: "No indication has both an MFL or hand-scan loss and a tied ultrasonic reading, so the scan's sizing was not checked on this floor."}}
	}
	f := s.All
	out := []Block{Paragraph{Text: fmt.Sprintf(
		"%s of MFL and UT loss: mean difference %s points (positive: the scan calls deeper), standard deviation %s points, %s %% within 10 points, worst underestimate %s points.",
		capital(count(f.Pairs, "pair")), bare(w, unit.Points, f.Bias), bare(w, unit.Points, f.SD), bare(w, unit.Share, f.Within10), bare(w, unit.Points, f.WorstUnder))}}
	out = append(out, w.chart("MFL against UT", draw.SizingChart)...)
	t := Table{Columns: []Column{
		{Head: "Group", Share: 3},
		{Head: "Pairs", Align: Right, Share: 1},
		{Head: "Bias\npoints", Align: Right, Share: 1},
		{Head: "SD\npoints", Align: Right, Share: 1},
		{Head: "Within 10\n%", Align: Right, Share: 1},
		{Head: "Worst under\npoints", Align: Right, Share: 1.2},
		{Head: "Slope", Align: Right, Share: 1},
		{Head: "Intercept\n%", Align: Right, Share: 1},
	}}
	least := int(w.in.Criteria.Number(criteria.SizingMinimumPairs))
	few := false
	row := func(name string, f sizing.Fit) Row {
		slope, intercept := tooFew, tooFew
		switch {
		case f.Pairs < least:
			few = true
		case f.Line():
			slope, intercept = Minus(unit.Round(float64(f.Slope.V), 3)), bare(w, unit.Points, f.Intercept)
		default:
			slope, intercept = none, none
		}
		return Row{Cells: []string{
			name, fmt.Sprint(f.Pairs), bare(w, unit.Points, f.Bias), bare(w, unit.Points, f.SD), bare(w, unit.Share, f.Within10),
			bare(w, unit.Points, f.WorstUnder), slope, intercept,
		}}
	}
	t.Rows = append(t.Rows, row("All", f))
	t.Rows[0].Bold = true
	for _, g := range []struct {
		head string
		list []sizing.Group
	}{{"By nominal thickness", s.ByNominal}, {"By technician", s.ByPerson}, {"By side", s.BySide}} {
		if len(g.list) == 0 {
			continue
		}
		t.Rows = append(t.Rows, Row{Cells: []string{g.head}, Group: true})
		for _, x := range g.list {
			t.Rows = append(t.Rows, row(x.Name, x.Fit))
		}
	}
	t.Note = "Bias: mean of MFL less UT. SD: standard deviation. Worst under: the most by which the scan called a loss too small. Slope and intercept: of UT on MFL by least squares."
	if few {
		t.Note += fmt.Sprintf(" Too few: under %s (criterion Sizing minimum pairs), no line is drawn from them.", count(least, "pair"))
	}
	out = append(out, t)
	steps := w.steps("sizing.")
	if f.Pairs < least { // of the line, nothing is used
		steps = slices.DeleteFunc(steps, func(s step.Step) bool {
			if s.ID != "sizing.fit" {
				return false
			}
			w.note(s.ID)
			return true
		})
	}
	if len(steps) > 0 {
		out = append(out, Heading{2, "Fit and allowance, step by step"}, Steps{steps})
	}
	return out
}

// rates is section 12: corrosion rates before and after repair and how they
// were found.
func (w *writer) rates() []Block {
	age := w.res.Steps.Find("rate.age")
	s := "Rates are the loss of metal divided by the years the metal has been in place; past rates are assumed to go on."
	if age != nil && age.Known {
		s += fmt.Sprintf(" The floor has been in place %s years at the end of the inspection.", unit.Round(age.Value, 2))
	}
	columns := []Column{{Head: "Rate", Share: 3}}
	soil, product := []string{"Soil side (UPr)"}, []string{"Product side (StPr)"}
	for _, s := range w.states() {
		columns = append(columns, Column{Head: w.head(w.stateHead(s.State), unit.RateKind), Align: Right, Share: 1.5})
		soil = append(soil, bare(w, unit.RateKind, s.SoilRate))
		product = append(product, w.productRate(s))
	}
	t := Table{Columns: columns, Rows: []Row{{Cells: soil}, {Cells: product}}, Note: fmt.Sprintf("Rate basis: %s. Rate after repair: %s.", w.in.Criteria.Get(criteria.RateBasis).Text, w.in.Criteria.Get(criteria.RateAfterRepair).Text)}
	steps, others := w.byState(w.steps("rate."))
	blocks := []Block{Paragraph{Text: s}, t, Steps{steps}}
	if others != nil {
		blocks = append(blocks, others)
	}
	return blocks
}

// steps picks the steps whose id begins with one of the prefixes.
func (w *writer) steps(prefixes ...string) []step.Step {
	var out []step.Step
	for _, s := range w.res.Steps {
		for _, p := range prefixes {
			if strings.HasPrefix(s.ID, p) {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

// observations is section 10: what was seen, welds and existing patches.
func (w *writer) observations() []Block {
	var blocks []Block
	if len(w.in.Visual) > 0 {
		t := Table{Columns: []Column{{Head: "ID", Share: 0.8}, {Head: "Plate", Share: 1}, {Head: "Item", Share: 1.2}, {Head: "Observation", Share: 5}, {Head: "Weight", Share: 1}}}
		for _, v := range w.in.Visual {
			t.Rows = append(t.Rows, Row{Cells: []string{v.ID.Text, text(v.Plate), text(v.Item), text(v.Observation), text(v.Weight)}})
		}
		blocks = append(blocks, Heading{2, "Visual observations"}, t)
	}
	if len(w.in.Welds) > 0 {
		t := Table{Columns: []Column{
			{Head: "ID", Share: 0.8},
			{Head: "Seam", Share: 1.4},
			{Head: "Method", Share: 1.2},
			{Head: w.head("Tested", unit.Size), Align: Right, Share: 1},
			{Head: "Result", Share: 1.6},
			{Head: "Defect", Share: 2},
			{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
			{Head: "By", Share: 1.4},
			{Head: "Date", Share: 1.2},
		}}
		for _, v := range w.in.Welds {
			t.Rows = append(t.Rows, Row{Cells: []string{
				v.ID.Text, v.Seam.Text, text(v.Method), fieldBare(w, unit.Size, v.TestedLength), text(v.Result), text(v.Defect),
				fieldBare(w, unit.Size, v.DefectLength), text(v.By), date(v.Date),
			}})
		}
		blocks = append(blocks, Heading{2, "Welds"}, t)
	}
	if len(w.in.Fixtures) > 0 {
		t := Table{Columns: []Column{
			{Head: "Name", Share: 1.2},
			{Head: "Kind", Share: 1.2},
			{Head: "Bearing\n°", Align: Right, Share: 1},
			{Head: w.head("Radius", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Width", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Diameter", unit.Size), Align: Right, Share: 1},
			{Head: "Remarks", Share: 3},
		}}
		for _, v := range w.in.Fixtures {
			t.Rows = append(t.Rows, Row{Cells: []string{
				v.Name.Text, text(v.Kind), fieldBare(w, unit.Bearing, v.Bearing), fieldBare(w, unit.Position, v.Radius), fieldBare(w, unit.Size, v.Length),
				fieldBare(w, unit.Size, v.Width), fieldBare(w, unit.Size, v.Diameter), text(v.Remarks),
			}})
		}
		blocks = append(blocks, Heading{2, "Fixtures"}, t)
	}
	if len(w.in.Patches) > 0 {
		t := Table{Columns: []Column{
			{Head: "Patch", Share: 1},
			{Head: "Plate", Share: 1},
			{Head: w.head("X", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Y", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Width", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Thickness", unit.Thickness), Align: Right, Share: 1},
			{Head: "Installed", Share: 1.2},
			{Head: "Shape", Share: 1.6},
		}}
		if slices.ContainsFunc(w.in.Patches, func(p inspection.Patch) bool { return inspection.Is(p.Shape, repair.Tombstone) }) {
			t.Note = "Length along the plate, width across it; of a tombstone near the shell along it and inward from it."
		}
		for _, v := range w.in.Patches {
			t.Rows = append(t.Rows, Row{Cells: []string{
				v.Label.Text, v.Plate.Text, fieldBare(w, unit.Position, v.X), fieldBare(w, unit.Position, v.Y), fieldBare(w, unit.Size, v.Length),
				fieldBare(w, unit.Size, v.Width), fieldBare(w, unit.Thickness, v.Thickness), date(v.Installed), text(v.Shape),
			}})
		}
		blocks = append(blocks, Heading{2, "Existing patches"}, t)
	}
	if c := w.coatings(); c != "" {
		blocks = append(blocks, Heading{2, "Coating"}, Paragraph{Text: c})
	}
	if len(w.in.Visual) > 0 || len(w.in.Welds) > 0 {
		blocks = append(blocks, w.plans("Visual and weld plan", draw.VisualPlan)...)
	}
	return blocks
}

// coatings is a sentence on the coating's thickness, "" where none was
// recorded.
func (w *writer) coatings() string {
	var least, most unit.Length
	coated, bare := 0, 0
	for i := range w.in.Plates {
		c := w.in.Plates[i].Coating
		switch {
		case !c.OK():
		case c.Value == 0:
			bare++
		default:
			if coated == 0 || c.Value < least {
				least = c.Value
			}
			most = max(most, c.Value)
			coated++
		}
	}
	if coated+bare == 0 {
		return ""
	}
	var parts []string
	low, high := unit.Coating.TextUnit(w.sys, float64(least), 0), unit.Coating.TextUnit(w.sys, float64(most), 0)
	switch {
	case coated > 0 && low == high:
		parts = append(parts, fmt.Sprintf("%s %s recorded with a coating of %s", count(coated, "plate"), was(coated), low))
	case coated > 0:
		parts = append(parts, fmt.Sprintf("%s %s recorded with a coating of %s to %s", count(coated, "plate"), was(coated), low, high))
	}
	if bare > 0 {
		parts = append(parts, fmt.Sprintf("%s %s recorded as uncoated", count(bare, "plate"), was(bare)))
	}
	if rest := len(w.in.Plates) - coated - bare; rest > 0 {
		parts = append(parts, fmt.Sprintf("for %s nothing is recorded", count(rest, "plate")))
	}
	return capital(and(parts)) + "."
}
