package report

import (
	"fmt"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
)

// cautions is section 18, standing text in our own words.
func (w *writer) cautions() []Block {
	return []Block{
		List{[]string{
			"The results describe the floor on the days of the inspection and in the areas examined. Areas not examined are listed with their reasons; nothing is concluded about them.",
			"Magnetic flux leakage is a screening method: it estimates loss, it does not measure thickness, it can miss small deep pits and it does not always tell the side. Loss shallower than the threshold may be anywhere it was used.",
			"Ultrasonic prove-ups are a sample at the places chosen. A probe may not seat in a pit, and a reading through coating needs its own proof.",
			"Visual examination and spot readings alone can miss corrosion of the underside.",
			"Rates are averages over the years the metal has been in place and are assumed to go on. A change of product, lining, drainage or cathodic protection can make them faster or slower.",
			"A calculated next date follows from the rule named beside it. It is no statement that the floor is fit until then.",
			"Local codes, the jurisdiction and the owner's licensed people decide on fitness for service, on the interval, on repairs and their procedures, and on return to service.",
		}},
		Heading{2, "What is not judged here"},
		List{[]string{
			"Fitness for service, acceptance of an interval or of settlement, and risk-based or similar-service intervals.",
			"Stress analysis, annular rings under seismic loads or of products with a specific gravity of one or more, and brittle fracture.",
			"Whether cathodic protection is effective, and lining or weld procedures.",
			"Whether an indication is a crack.",
			"Thickness of the floor's projection outside the shell, for which the workbook has no column.",
		}},
	}
}

// photos is section 19.
func (w *writer) photos() []Block {
	if len(w.in.Photos) == 0 {
		return nil
	}
	var list []Photo
	for i, row := range w.in.Photos {
		p := Photo{Missing: "not loaded"}
		if i < len(w.opt.Photos) {
			p = w.opt.Photos[i]
		}
		p.Number, p.File, p.Caption, p.Place = i+1, row.File.Text, row.Caption.Or(""), w.photoPlace(row)
		p.Map = w.photoMap(i)
		list = append(list, p)
	}
	return append(w.plans("Photo plan", draw.PhotoPlan), Photos{list})
}

func (w *writer) photoPlace(p inspection.Photo) string {
	var parts []string
	if p.Plate.Or("") != "" {
		parts = append(parts, "plate "+p.Plate.Value)
	}
	if p.Indication.Or("") != "" {
		parts = append(parts, "indication "+p.Indication.Value)
	}
	if p.X.OK() && p.Y.OK() {
		parts = append(parts, fmt.Sprintf("X %s, Y %s", unit.Position.Text(w.sys, float64(p.X.Value), 0), unit.Position.TextUnit(w.sys, float64(p.Y.Value), 0)))
	}
	if p.Direction.Or("") != "" {
		parts = append(parts, "looking "+p.Direction.Value)
	}
	return strings.Join(parts, ", ")
}

// readings is the appendix of all that was measured, and of the rows that
// could not be used.
func (w *writer) readings() []Block {
	var rows []*assess.Location
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt {
			rows = append(rows, l)
		}
	}
	blocks := []Block{Heading{2, "All indications and stand-alone prove-ups"}}
	if len(rows) == 0 {
		blocks = append(blocks, Paragraph{Text: "None recorded."})
	} else {
		blocks = append(blocks, w.indicationTable(rows, true))
	}
	if len(w.in.ProveUps) > 0 {
		t := Table{Dense: true, Columns: []Column{
			{Head: "Prove-up", Share: 1},
			{Head: "Indication", Share: 1},
			{Head: "Plate", Share: 1},
			{Head: w.head("X", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Y", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Remaining", unit.Thickness), Align: Right, Share: 1.1},
			{Head: w.head("Depth", unit.Thickness), Align: Right, Share: 1},
			{Head: w.head("Sound", unit.Thickness), Align: Right, Share: 1},
			{Head: "Side", Share: 1},
			{Head: "By", Share: 1.6},
			{Head: "Date", Share: 1.2},
			{Head: "Instrument", Share: 1.2},
		}}
		for _, p := range w.in.ProveUps {
			t.Rows = append(t.Rows, Row{Cells: []string{
				p.ID.Text, text(p.Indication), p.Plate.Text, fieldBare(w, unit.Position, p.X), fieldBare(w, unit.Position, p.Y),
				fieldBare(w, unit.Thickness, p.Remaining), fieldBare(w, unit.Thickness, p.Depth), fieldBare(w, unit.Thickness, p.Sound),
				text(p.Side), text(p.By), date(p.Date), text(p.Instrument),
			}})
		}
		t.Note = w.outOf("Prove-ups")
		blocks = append(blocks, Heading{2, "All prove-ups"}, filled(t))
	}
	if len(w.in.Readings) > 0 {
		t := Table{Dense: true, Columns: []Column{
			{Head: "Plate", Share: 1},
			{Head: w.head("X", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Y", unit.Position), Align: Right, Share: 1},
			{Head: w.head("Thickness", unit.Thickness), Align: Right, Share: 1.2},
			{Head: "By", Share: 1.6},
			{Head: "Date", Share: 1.2},
			{Head: "Instrument", Share: 1.2},
			{Head: "Remarks", Share: 2.5},
		}}
		for _, p := range w.in.Readings {
			t.Rows = append(t.Rows, Row{Cells: []string{
				p.Plate.Text, fieldBare(w, unit.Position, p.X), fieldBare(w, unit.Position, p.Y), fieldBare(w, unit.Thickness, p.Thickness),
				text(p.By), date(p.Date), text(p.Instrument), text(p.Remarks),
			}})
		}
		t.Note = w.outOf("Readings")
		blocks = append(blocks, Heading{2, "All sound-metal readings"}, filled(t))
	}
	return append(blocks, w.leftOut()...)
}

// outOf says how many rows of a table are in no calculation.
func (w *writer) outOf(sheet string) string {
	n := w.rowsOut(sheet)
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s of these %s in no calculation because of an error in %s; all such rows are listed below. A value in quotation marks is as typed and could not be used.", spelling.Count(n, "row", "rows"), are(n), spelling.Choose(n, "it", "them"))
}

func (w *writer) leftOut() []Block {
	if len(w.a.LeftOut) == 0 {
		return nil
	}
	t := Table{Dense: true, Columns: []Column{{Head: "Sheet", Share: 2}, {Head: "Row", Align: Right, Share: 1}, {Head: "Label", Share: 3}}}
	for _, r := range w.a.LeftOut {
		t.Rows = append(t.Rows, Row{Cells: []string{r.Sheet, fmt.Sprint(r.Number), r.Key}})
	}
	return []Block{Heading{2, "Rows left out because of an error in them"}, t}
}

// findings is the appendix of what the checks found, with the answers.
func (w *writer) findings() []Block {
	if len(w.a.Findings) == 0 {
		return []Block{Paragraph{Text: "The checks found nothing to report."}}
	}
	c := w.a.Counts
	t := Table{Dense: true, Columns: []Column{
		{Head: "Severity", Share: 1}, {Head: "Rule", Share: 0.8}, {Head: "Place", Share: 2}, {Head: "Row", Share: 1.2}, {Head: "What", Share: 4.5}, {Head: "What to do, or the answer", Share: 3.5},
	}, Note: and([]string{count(c.Errors, "error"), count(c.Warnings, "unanswered warning"), count(c.Answered, "answered warning"), count(c.Notes, "note")}) + "."}
	for _, f := range w.bySeverity() {
		what := f.Message
		if n := f.Cells(); n > 1 {
			what += fmt.Sprintf(" (%d cells)", n)
		}
		do := f.Do
		if f.Answer != nil {
			do = fmt.Sprintf("Answered by %s, %s: %s", f.Answer.By, f.Answer.Date, f.Answer.Text)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{f.Severity.String(), f.Rule, placeOf(f), w.rowOf(f), what, do}})
	}
	return []Block{t}
}

// record is the appendix that tells how the results came about: the steps
// that no section shows, the input and the program.
func (w *writer) record() []Block {
	f := w.in.File
	blocks := []Block{
		Pairs{Rows: [][2]string{
			{"Input", f.Name},
			{"SHA-256 of the file", f.SHA256},
			{"SHA-256 of its values", f.ValuesSHA256},
			{"Program", "platebook " + w.opt.Version},
			{"Rule set", rules.Version},
			{"Standard", api653_5.Document + ", clauses by the " + api653_5.Editions[0].Name},
			{"Labels in other editions", otherLabels()},
			{"Time base", w.in.AsOf.String() + " (the report date; the program reads no clock)"},
			{"Units of the workbook", w.sys.String()},
		}},
	}
	verify := w.a.Verify()
	if len(verify) > 0 {
		blocks = append(blocks, Heading{2, "To verify against a licensed copy of the standard"}, List{verify})
	}
	return append(blocks, w.furtherSteps()...)
}

// otherLabels are the clause labels that other editions number otherwise.
func otherLabels() string {
	var parts []string
	for _, subject := range api653_5.Subjects {
		label := api653_5.Clause(subject)
		for _, o := range api653_5.Labels(label) {
			parts = append(parts, label+", "+o)
		}
	}
	return strings.Join(parts, "; ")
}
