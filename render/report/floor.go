package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// floor is section 8: the indications that matter, the critical zone and
// annular ring apart, the plates, and the drawings.
func (w *writer) floor() []Block {
	blocks := []Block{Paragraph{Text: w.floorSentence()}}
	blocks = append(blocks, Heading{2, "Indications that matter"})
	rows, rest := w.mattering()
	if len(rows) == 0 {
		blocks = append(blocks, Paragraph{Text: w.noneShown()})
	} else {
		t := w.indicationTable(rows, false)
		t.Note = strings.TrimLeft(t.Note+" Least margin first. "+w.verdictWords(), " ")
		if rest > 0 {
			t.Note = strings.TrimLeft(t.Note+fmt.Sprintf(" %s with no less margin %s in the appendix.", capital(spelling.Count(rest, "further place", "further places")), stand(rest)), " ")
		}
		blocks = append(blocks, t)
	}
	blocks = append(blocks, w.zones()...)
	blocks = append(blocks, Heading{2, "Plates"}, w.plateTable())
	// Sheets stand last: each takes a page of its own, and text before them
	// would leave its page half empty.
	if !draw.HasPlan(w.a) {
		return append(blocks, Paragraph{Text: "No plan is drawn: the diameter is not known and no plate has a place."})
	}
	blocks = append(blocks, w.plans("Plate plan", draw.PlatePlan)...)
	blocks = append(blocks, w.plans("Indication plan", draw.IndicationPlan)...)
	blocks = append(blocks, w.plans("Worst loss of each plate", draw.PlateShadingPlan)...)
	blocks = append(blocks, w.plans("Margin over the requirement", draw.MarginPlan)...)
	if len(w.in.Readings) > 0 {
		blocks = append(blocks, w.plans("Reading plan", draw.ReadingPlan)...)
	}
	return blocks
}

func (w *writer) floorSentence() string {
	annular, sketch, rect, sump := 0, 0, 0, 0
	for i := range w.in.Plates {
		switch w.in.Plates[i].Type.Value {
		case "annular":
			annular++
		case "sketch":
			sketch++
		case "sump":
			sump++
		default:
			rect++
		}
	}
	var parts []string
	for _, p := range []struct {
		n    int
		what string
	}{{rect, "rectangular plate"}, {sketch, "sketch plate"}, {annular, "annular plate"}, {sump, "sump plate"}} {
		if p.n > 0 {
			parts = append(parts, count(p.n, p.what))
		}
	}
	crit := w.zoneCount(func(l *assess.Location) bool { return l.Zone == floor.Critical })
	ring := w.zoneCount(func(l *assess.Location) bool { return l.Zone == floor.Annular })
	gen := w.zoneCount(func(l *assess.Location) bool { return l.Zone == floor.General })
	if len(parts) == 0 {
		return "No plate is recorded."
	}
	s := fmt.Sprintf("The floor is made of %s. Indications by zone: %d general, %d in the critical zone next to the shell", and(parts), gen, crit)
	if annular > 0 || ring > 0 || inspection.Yes(w.in.Tank.AnnularRing) {
		s += fmt.Sprintf(", %d on the annular ring outside that zone", ring)
	}
	if n := w.zoneless(); n > 0 {
		s += fmt.Sprintf(", %d without a place in plan, zone not known", n)
	}
	if n := w.tally().notRelevant; n > 0 {
		s += fmt.Sprintf("; %d marked not relevant %s in none of these numbers", n, are(n))
	}
	return s + "."
}

// zoneless counts the indications that no zone can be told for.
func (w *writer) zoneless() int {
	return w.zoneCount(func(l *assess.Location) bool {
		return l.Zone != floor.Critical && l.Zone != floor.Annular && l.Zone != floor.General
	})
}

func (w *writer) plateTable() Block {
	t := Table{Columns: []Column{
		{Head: "Plate", Share: 1.2},
		{Head: "Type", Share: 1.7},
		{Head: w.head("Nominal", unit.Thickness), Align: Right, Share: 1.2},
		{Head: w.head("Sound", unit.Thickness), Align: Right, Share: 1.2},
		{Head: "Found", Align: Right, Share: 1},
		{Head: "Proved up", Align: Right, Share: 1},
		{Head: "Worst loss\n%", Align: Right, Share: 1.2},
		{Head: w.head("Smallest", unit.Thickness), Align: Right, Share: 1.3},
		{Head: "At", Share: 2},
		{Head: w.head("Required", unit.Thickness), Align: Right, Share: 1.3},
		{Head: w.head("Margin", unit.Thickness), Align: Right, Share: 1.2},
		{Head: "Interval\nyears", Align: Right, Share: 1.2},
	}, Note: "Found: indications other than those marked not relevant, of which proved up beside it. Sound: median of the plate's sound-metal readings; nominal where there is none. Smallest: over both sides, as found. Interval: the plate's own, as found, within the limits."}
	for i, p := range w.res.Plates {
		in := &w.in.Plates[i]
		r := Row{Cells: []string{
			in.Label.Text, text(in.Type), bare(w, unit.Thickness, p.Nominal), bare(w, unit.Thickness, p.Sound),
			fmt.Sprint(p.Indications), fmt.Sprint(p.ProvedUp), bare(w, unit.Share, p.WorstLoss),
			bare(w, unit.Thickness, p.Worst), within(p.WorstAt, in.Label.Text), bare(w, unit.Thickness, p.Required),
			bare(w, unit.Thickness, p.Margin), intervalText(p.Interval),
		}}
		if p.Margin.Known && p.Margin.V < 0 {
			r.Mark, r.Bold = "fail", true
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// within shortens a row key on its own plate's row: "3-4/17" is "17" there.
func within(label, plate string) string {
	if len(label) > len(plate) && label[:len(plate)] == plate && label[len(plate)] == '/' {
		return label[len(plate)+1:]
	}
	if label == plate {
		return "sound metal"
	}
	return label
}

// mattering is the indications a reader must see: every one with a verdict
// other than leave, and the worst of the rest, up to forty; rest counts those
// not shown.
func (w *writer) mattering() (rows []*assess.Location, rest int) {
	var all []*assess.Location
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if (l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt) && l.Verdict != assess.NotRelevant {
			all = append(all, l)
		}
	}
	total := len(all)
	slices.SortStableFunc(all, func(a, b *assess.Location) int { return compareWorst(a, b) })
	const most = 40
	if len(all) > most {
		all = all[:most]
	}
	return all, total - len(all)
}

// verdictWords says what the verdicts of the places mean.
func (w *writer) verdictWords() string {
	threshold := ""
	if w.in.Criteria.Get(criteria.RepairThreshold).Set {
		threshold = " or thinner than the Repair threshold"
	}
	return fmt.Sprintf("Verdict: repair, short of its requirement %s%s; repair first, below it now; engineering, an engineer has to decide; leave, none of these.", w.horizon(), threshold)
}

// compareWorst orders by margin, unknown first: an unknown may be the worst.
func compareWorst(a, b *assess.Location) int {
	switch {
	case a.Margin.Known != b.Margin.Known:
		if a.Margin.Known {
			return 1
		}
		return -1
	case a.Margin.V < b.Margin.V:
		return -1
	case a.Margin.V > b.Margin.V:
		return 1
	}
	return 0
}

func (w *writer) indicationTable(rows []*assess.Location, dense bool) Table {
	t := Table{Dense: dense, Columns: []Column{
		{Head: "Plate", Share: 1.1},
		{Head: "ID", Share: 1.1},
		{Head: w.head("X", unit.Position), Align: Right, Share: 1.1},
		{Head: w.head("Y", unit.Position), Align: Right, Share: 1.1},
		{Head: "Side", Share: 1.3},
		{Head: "Zone", Share: 1.3},
		{Head: "Loss\n%", Align: Right, Share: 0.9},
		{Head: w.head("Remaining", unit.Thickness), Align: Right, Share: 1.4},
		{Head: "Taken from", Share: 2.2},
		{Head: w.head("Required", unit.Thickness), Align: Right, Share: 1.3},
		{Head: w.head("Margin", unit.Thickness), Align: Right, Share: 1.1},
		{Head: "Verdict", Share: 1.6},
	}}
	allowed := false
	for _, l := range rows {
		t.Rows = append(t.Rows, w.indicationRow(l))
		allowed = allowed || l.Basis == assess.ByAllowance && l.Allowance.Known
	}
	if allowed {
		t.Note = "Scan + number: not proved up; remaining from the loss the scan estimated, with this allowance, in points, for its scatter added."
	}
	return t
}

func (w *writer) indicationRow(l *assess.Location) Row {
	var id, plate string
	var x, y inspection.Length
	if l.Indication >= 0 {
		in := &w.in.Indications[l.Indication]
		id, plate, x, y = in.ID.Text, in.Plate.Text, in.X, in.Y
	} else if l.ProveUp >= 0 {
		in := &w.in.ProveUps[l.ProveUp]
		id, plate, x, y = in.ID.Text, in.Plate.Text, in.X, in.Y
	}
	r := Row{Cells: []string{
		plate, id, fieldBare(w, unit.Position, x), fieldBare(w, unit.Position, y), l.Side.String(), string(l.Zone),
		bare(w, unit.Share, l.Loss), bare(w, unit.Thickness, l.Remaining), basisText(w, l),
		bare(w, unit.Thickness, l.Required), bare(w, unit.Thickness, l.Margin), string(l.Verdict),
	}}
	switch l.Verdict {
	case assess.RepairFirst, assess.Engineering:
		r.Mark, r.Bold = "fail", true
	case assess.Repair:
		r.Mark = "warn"
	}
	return r
}

func basisText(w *writer, l *assess.Location) string {
	if l.Basis == assess.ByAllowance && l.Allowance.Known {
		return "scan + " + bare(w, unit.Points, l.Allowance)
	}
	if l.Basis == "" {
		return none
	}
	return string(l.Basis)
}

// zones reports the critical zone and the annular ring apart from the rest.
func (w *writer) zones() []Block {
	blocks := []Block{Heading{2, "Critical zone and annular ring"}}
	p := Pairs{Rows: [][2]string{{"Critical zone", w.zoneWords(w.res.CriticalZone, "critical", "nothing was measured within it: not judged")}}}
	if inspection.Yes(w.in.Tank.AnnularRing) {
		ring := w.zoneWords(w.res.Annular, "annular", "not judged; see the calculation")
		if s := w.res.Annular.Stress; s.Known {
			ring += fmt.Sprintf("; product stress in the first shell course %s", full(w, unit.StressKind, s))
		}
		if _, over := w.res.RingOverNominal(&w.in.Tank); over {
			ring += fmt.Sprintf("; the ring requires more than its nominal thickness of %s: even sound metal falls short", unit.Thickness.TextUnit(w.sys, float64(w.in.Tank.AnnularNominal.Value), 0))
		}
		p.Rows = append(p.Rows, [2]string{"Annular ring", ring})
	}
	blocks = append(blocks, p)
	var rows []*assess.Location
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if (l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt) && l.Zone != floor.General && l.Zone != "" && l.Verdict != assess.NotRelevant {
			rows = append(rows, l)
		}
	}
	if len(rows) == 0 {
		s := "No indications lie in the critical zone or on the annular ring."
		if n := w.zoneless(); n > 0 {
			s = fmt.Sprintf("Of %s the zone is not known: whether %s in the critical zone or on the annular ring cannot be told.", spelling.Count(n, "indication", "indications"), spelling.Choose(n, "it lies", "they lie"))
		}
		return append(blocks, Paragraph{Text: s})
	}
	slices.SortStableFunc(rows, compareWorst)
	const most = 20
	rest := len(rows) - most
	if rest > 0 {
		rows = rows[:most]
	}
	t := w.indicationTable(rows, false)
	if rest > 0 {
		t.Note = strings.TrimLeft(t.Note+fmt.Sprintf(" %s of these zones, with no less margin, %s in the appendix.", capital(spelling.Count(rest, "further place", "further places")), stand(rest)), " ")
	}
	return append(blocks, t)
}
