package report

import (
	"fmt"
	"math"
	"strings"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/unit"
)

// revision is section 3: what each revision changed and what is still asked.
func (w *writer) revision() []Block {
	blocks := []Block{Table{
		Columns: []Column{{Head: "Revision", Share: 1}, {Head: "Date", Share: 1.2}, {Head: "What changed", Share: 5}},
		Rows:    w.revisions(),
	}}
	var rows []Row
	for _, f := range w.open() {
		rows = append(rows, Row{Cells: []string{f.Severity.String(), f.Rule, placeOf(f), w.rowOf(f), f.Message, f.Do}})
	}
	blocks = append(blocks, Heading{2, "Open questions"})
	if len(rows) == 0 {
		return append(blocks, Paragraph{Text: "No error or unanswered warning is open."})
	}
	const most = 25
	t2 := Table{
		Columns: []Column{{Head: "Severity", Share: 1}, {Head: "Rule", Share: 0.8}, {Head: "Place", Share: 1.9}, {Head: "Row", Share: 1.4}, {Head: "What", Share: 4}, {Head: "What to do", Share: 2.7}},
		Rows:    rows,
	}
	if len(rows) > most {
		t2.Rows = rows[:most]
		t2.Note = fmt.Sprintf("The first %d of %d; all are listed in the appendix.", most, len(rows))
	}
	return append(blocks, t2)
}

// tank is section 4: the tank and its history.
func (w *writer) tank() []Block {
	t := w.in.Tank
	group := func(rows ...[2]string) Block { return Pairs{Rows: rows} }
	return []Block{
		Heading{2, "Tank"},
		group(
			[2]string{"Diameter", field(w, unit.Height, t.Diameter)},
			[2]string{"Shell height", field(w, unit.Height, t.ShellHeight)},
			[2]string{"Maximum fill height", field(w, unit.Height, t.MaximumFillHeight)},
			[2]string{"Construction standard", text(t.ConstructionStandard)},
			[2]string{"First course as built", field(w, unit.Thickness, t.FirstCourseAsBuilt)},
			[2]string{"First course now", field(w, unit.Thickness, t.FirstCourseNow)},
			[2]string{"Shell steel", text(t.ShellSteel)},
			[2]string{"Joint efficiency", fieldBare(w, unit.Statistic, t.JointEfficiency)},
		),
		Heading{2, "Floor"},
		group(
			[2]string{"Nominal thickness", field(w, unit.Thickness, t.NominalThickness)},
			[2]string{"Installed", date(t.FloorInstalled)},
			[2]string{"Lap", field(w, unit.Size, t.Lap)},
			[2]string{"Slope", text(t.FloorSlope)},
			[2]string{"Foundation", text(t.Foundation)},
			[2]string{"Annular ring", text(t.AnnularRing)},
			[2]string{"Annular nominal thickness", field(w, unit.Thickness, t.AnnularNominal)},
			[2]string{"Annular width inside the shell", field(w, unit.Size, t.AnnularWidth)},
			[2]string{"Projection outside the shell", field(w, unit.Size, t.Projection)},
			[2]string{"Release-prevention barrier", text(t.ReleasePreventionBarrier)},
			[2]string{"Leak detection", text(t.LeakDetection)},
			[2]string{"Lining", text(t.Lining)},
			[2]string{"Lining installed", date(t.LiningInstalled)},
			[2]string{"Lining expected life", field(w, unit.Time, t.LiningExpectedLife)},
			[2]string{"Cathodic protection", text(t.CathodicProtection)},
			[2]string{"Cathodic protection evidence", text(t.CathodicProtectionEvidence)},
		),
		Heading{2, "Service and history"},
		group(
			[2]string{"Product", text(t.Product)},
			[2]string{"Specific gravity", fieldBare(w, unit.Statistic, t.SpecificGravity)},
			[2]string{"Previous product", text(t.PreviousProduct)},
			[2]string{"Service change", date(t.ServiceChange)},
			[2]string{"Commissioned", date(t.Commissioned)},
			[2]string{"Previous internal inspection", date(t.PreviousInternalInspection)},
			[2]string{"Previous report", text(t.PreviousReportNumber)},
			[2]string{"Owner's instruction", text(t.OwnerInstruction)},
		),
	}
}

// scope is section 5: what the evaluation follows and the criteria in force,
// changed ones beside their defaults.
func (w *writer) scope() []Block {
	blocks := []Block{
		Paragraph{Text: "Scope: internal inspection of the floor for loss of metal on both sides, from the records in the workbook named in the appendix. " +
			"Remaining thickness, corrosion rates, minimum remaining thickness and interval follow API Std 653 (clauses by the 5th edition, named beside each step). " +
			"What comes from memory of the standard and not from a licensed copy is marked “verify” and listed in the appendix."},
	}
	blocks = append(blocks, w.leftOutSections()...)
	var changed, same []Row
	for _, d := range criteria.Table {
		v := w.in.Criteria.Get(d.Name)
		cells := []string{string(d.Name), criterionText(d, v, w.sys), orNone(d.Default(w.sys)), d.Unit(w.sys), source(d)}
		if v.Changed {
			note := v.Note
			if note == "" {
				note = "no reason given"
			}
			changed = append(changed, Row{Cells: append(cells[:4:4], note), Bold: true})
			continue
		}
		same = append(same, Row{Cells: []string{cells[0], cells[1], cells[3], cells[4]}})
	}
	blocks = append(blocks, Heading{2, "Changed criteria"})
	if len(changed) == 0 {
		blocks = append(blocks, Paragraph{Text: "None: every criterion is at its default."})
	} else {
		blocks = append(blocks, Table{Columns: []Column{
			{Head: "Criterion", Share: 3}, {Head: "In force", Share: 1.6}, {Head: "Default", Share: 1.6}, {Head: "Unit", Share: 1}, {Head: "Reason given", Share: 4},
		}, Rows: changed})
	}
	return append(blocks, Heading{2, "Criteria at their defaults"}, Table{Dense: true, Columns: []Column{
		{Head: "Criterion", Share: 3.4}, {Head: "Value", Share: 2.6}, {Head: "Unit", Share: 1}, {Head: "Source of the default", Share: 3},
	}, Rows: same})
}

// leftOutSections names the sections that the workbook's Report sheet leaves
// out: a reader would miss them otherwise.
func (w *writer) leftOutSections() []Block {
	var out, kept []string
	for _, s := range SectionNames {
		switch _, wanted, include := w.chosen(s.Name, s.Required); {
		case !include:
			out = append(out, "“"+s.Name+"”")
		case !wanted:
			kept = append(kept, "“"+s.Name+"”")
		}
	}
	var blocks []Block
	if n := len(out); n > 0 {
		blocks = append(blocks, Paragraph{Text: fmt.Sprintf("Left out of this report by the firm's choice: the %s %s.", plural(n, "section"), and(out))})
	}
	if n := len(kept); n > 0 {
		blocks = append(blocks, Paragraph{Text: fmt.Sprintf("The %s %s cannot be left out of a final report and %s here although the workbook asks for it.", plural(n, "section"), and(kept), stand(n))})
	}
	return blocks
}

func criterionText(d criteria.Definition, v criteria.Value, sys unit.System) string {
	if !v.Set {
		return "none"
	}
	return orNone(v.Text)
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func source(d criteria.Definition) string {
	if d.Clause == "" || strings.HasPrefix(string(d.Mark), "common") {
		return string(d.Mark)
	}
	return fmt.Sprintf("%s, %s", d.Mark, d.Clause)
}

// little is the share of a plate, in points, that may go unexamined without a
// reason (rule R401).
const little = 2

// coverage is section 7: how much of the floor was examined, by what, and
// what was not, with the reasons.
func (w *writer) coverage() []Block {
	blocks := []Block{w.coverageTable()}
	var rows []Row
	small, most := 0, 0.0
	for i := range w.in.Plates {
		pl := &w.in.Plates[i]
		missing := w.notExamined(i)
		if reason := pl.ReasonNotExamined.Or(""); missing <= little && reason == "" {
			if missing >= 0.05 {
				small++
				most = max(most, missing)
			}
			continue
		}
		rows = append(rows, Row{Cells: []string{pl.Label.Text, unit.Share.Text(w.sys, missing, 0), text(pl.ReasonNotExamined)}})
	}
	blocks = append(blocks, Heading{2, "Areas not examined"})
	if len(rows) > 0 {
		blocks = append(blocks, Table{Columns: []Column{
			{Head: "Plate", Share: 1}, {Head: "Not examined\n%", Align: Right, Share: 1}, {Head: "Reason", Share: 5},
		}, Rows: rows})
	}
	switch {
	case small > 0:
		blocks = append(blocks, Paragraph{Text: fmt.Sprintf("On %s up to %s %% each was not examined, without a reason in the record.", count(small, "plate"), unit.Round(most, 1))})
	case len(w.in.Plates) == 0:
		blocks = append(blocks, Paragraph{Text: "No plate is recorded: what was examined is not known."})
	case len(rows) == 0:
		blocks = append(blocks, Paragraph{Text: "Every plate is recorded as examined over its whole area."})
	}
	blocks = append(blocks, w.plans("Coverage plan", draw.CoveragePlan)...)
	if steps := w.steps("floor."); len(steps) > 0 {
		blocks = append(blocks, Heading{2, "Areas, step by step"}, Steps{steps})
	}
	return blocks
}

// coverageTable is the shares and areas by method, with their sums.
func (w *writer) coverageTable() Table {
	p := w.a.Plan
	t := Table{
		Columns: []Column{{Head: "Method", Share: 3}, {Head: "Share of plate area\n%", Align: Right, Share: 1.5}, {Head: w.head("Area", unit.AreaKind), Align: Right, Share: 1.5}},
		Note:    w.balance(),
	}
	names := []string{"MFL scanner", "Hand scanner", "UT grid", "Not examined"}
	if !p.Coverage.MFL.Known {
		for _, name := range names {
			t.Rows = append(t.Rows, Row{Cells: []string{name, none, none}})
		}
		return t
	}
	shares := p.Coverage.Shares()
	areas := make([]float64, len(shares))
	together, area := 0.0, 0.0
	for i, v := range shares {
		areas[i] = float64(p.PlateArea) * v / 100
		together, area = together+v, area+areas[i]
	}
	percents, sizes := unit.Share.Parts(w.sys, shares), unit.AreaKind.Parts(w.sys, areas)
	for i, name := range names {
		t.Rows = append(t.Rows, Row{Cells: []string{name, percents[i], sizes[i]}})
	}
	t.Rows = append(t.Rows, Row{Cells: []string{"Together", unit.Share.Text(w.sys, together, 0), unit.AreaKind.Text(w.sys, area, 0)}, Bold: true})
	return t
}

// notExamined is the typed share, or what is missing to 100.
func (w *writer) notExamined(i int) float64 {
	p := &w.in.Plates[i]
	examined := float64(p.MFLScanned.Or(0) + p.HandScanned.Or(0) + p.UTGridded.Or(0))
	typed := float64(p.NotExamined.Or(0))
	return max(typed, 100-examined)
}

func (w *writer) balance() string {
	p := w.a.Plan
	if !p.FloorArea.Known || !p.Balance.Known {
		return "The floor area is not known: the tank's diameter is missing."
	}
	openings := ""
	if p.OpeningArea > 0 {
		openings = " and openings of sumps " + unit.AreaKind.TextUnit(w.sys, float64(p.OpeningArea), 1)
	}
	return fmt.Sprintf("Plates %s%s, floor %s: %s %% apart, limit %s %%.",
		unit.AreaKind.TextUnit(w.sys, float64(p.PlateArea), 1), openings, unit.AreaKind.TextUnit(w.sys, float64(p.FloorArea.V), 1),
		unit.Round(math.Abs(float64(p.Balance.V)), 2), unit.Round(w.in.Criteria.Number(criteria.AreaBalance), 1))
}

// zoneCount counts the indications of a zone.
func (w *writer) zoneCount(pick func(*assess.Location) bool) int {
	n := 0
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; l.Kind == assess.IndicationAt && l.Verdict != assess.NotRelevant && pick(l) {
			n++
		}
	}
	return n
}
