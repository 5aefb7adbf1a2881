package report

import (
	"fmt"
	"slices"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/compare"
	"platebook/rules/unit"
)

// mostChanges is how many places the body's tables carry; all stand on the
// Comparison sheet.
const mostChanges = 30

// comparison is section 16: what changed since the previous inspection.
func (w *writer) comparison() []Block {
	c := w.a.Comparison
	if c == nil {
		return nil
	}
	if len(c.Refused) > 0 {
		var items []string
		for _, f := range c.Refused {
			items = append(items, capital(f.Message)+".")
		}
		return []Block{Caution{Title: "Not compared", Text: "The earlier inspection given could not be compared with this one."}, List{items}}
	}
	blocks := []Block{Paragraph{Text: w.comparedInWords()}}
	if len(c.Notes) > 0 {
		blocks = append(blocks, List{slices.Clone(c.Notes)})
	}
	blocks = append(blocks, w.surveys()...)
	blocks = append(blocks, w.growthBySide(), w.classes())
	blocks = append(blocks, w.grownPlaces()...)
	blocks = append(blocks, w.lostPlaces()...)
	changes := w.changes()
	blocks = append(blocks, w.plans("Change plan", func(a *rules.Assessment, s draw.Sheet) *draw.Scene { return draw.ChangePlan(a, s, changes) })...)
	blocks = append(blocks, w.chart("Remaining thickness then and now; both values of a pair, an estimate without allowance", func(a *rules.Assessment, s draw.Sheet) *draw.Scene {
		return draw.GrowthChart(a, s, changes, float64(c.Spread))
	})...)
	if measured, adopted := w.growths(); len(measured)+len(adopted) > 0 {
		blocks = append(blocks, w.chart("Growth by place", func(a *rules.Assessment, s draw.Sheet) *draw.Scene {
			return draw.GrowthHistogram(a, s, measured, adopted)
		})...)
	}
	blocks = append(blocks, w.changedPlates()...)
	blocks = append(blocks, w.nearPlaces()...)
	blocks = append(blocks, w.trends()...)
	return append(blocks, Heading{2, "How growth enters the rates"}, Steps{w.steps("compare.")})
}

func (w *writer) comparedInWords() string {
	c := w.a.Comparison
	old := c.Old().In
	s := fmt.Sprintf("Compared with the inspection that ended on %s (%s), %s before this one. ", old.Tank.InspectionEnd.Value, old.File.Name, full(w, unit.Time, c.Years))
	s += fmt.Sprintf("Places on one plate and side are taken as one within %s; thicknesses that differ by no more than %s are taken as unchanged, which is the spread of two ultrasonic values. ",
		unit.Position.TextUnit(w.sys, float64(c.Gate), 0), unit.Thickness.TextUnit(w.sys, float64(c.Spread), 0))
	s += "Growth is a rate only where both values are ultrasonic; two scans give a trend and no rate. "
	governs := func(side string, g *compare.SideGrowth) string {
		if g.Governs == "" {
			return fmt.Sprintf("On the %s side no rate is known: %s.", side, g.Why)
		}
		return fmt.Sprintf("On the %s side the %s governs: %s.", side, g.Governs, g.Why)
	}
	return s + governs("soil", &c.Soil) + " " + governs("product", &c.Product)
}

func (w *writer) surveys() []Block {
	t := Table{Caption: "The inspections", Columns: []Column{
		{Head: "Inspection", Share: 3},
		{Head: "Ended", Share: 1.6},
		{Head: "Indications", Align: Right, Share: 1.2},
		{Head: w.head("Examined", unit.Share), Align: Right, Share: 1.2},
		{Head: "Least, soil side\n" + w.unit(unit.Thickness), Align: Right, Share: 1.4},
		{Head: "Least, product side\n" + w.unit(unit.Thickness), Align: Right, Share: 1.4},
		{Head: "Rows left out", Align: Right, Share: 1},
	}}
	for _, d := range w.a.Comparison.Dates {
		t.Rows = append(t.Rows, Row{Cells: []string{
			d.File, d.End.String(), fmt.Sprint(d.Indications), bare(w, unit.Share, d.Examined), bare(w, unit.Thickness, d.SoilMin), bare(w, unit.Thickness, d.ProductMin), fmt.Sprint(d.LeftOut),
		}})
	}
	var hashes [][2]string
	for _, d := range w.a.Comparison.Dates {
		hashes = append(hashes, [2]string{"SHA-256 of " + d.File, d.SHA256})
	}
	return []Block{t, Pairs{Rows: hashes}}
}

func (w *writer) growthBySide() Block {
	c := w.a.Comparison
	t := Table{Caption: "Growth beside the long-term rate, as found", Columns: []Column{
		{Head: "Side", Share: 1},
		{Head: w.head("Growth", unit.RateKind), Align: Right, Share: 1.2},
		{Head: "At", Share: 2},
		{Head: w.head("Long-term rate", unit.RateKind), Align: Right, Share: 1.4},
		{Head: w.head("Used", unit.RateKind), Align: Right, Share: 1.2},
		{Head: "Governs", Share: 1.6},
	}, Note: "The greater of both is used. Growth is that of pits grown by ultrasonics on both dates and of new pits, counted " + w.in.Criteria.Get("New pit growth").Text + "."}
	for _, s := range []struct {
		name string
		g    *compare.SideGrowth
	}{{"soil", &c.Soil}, {"product", &c.Product}} {
		at := none
		if s.g.At != "" {
			at = w.where(s.g.At) + " (" + s.g.Class.Words() + ")"
		}
		governs := s.g.Governs
		if governs == "" {
			governs = "not known"
		}
		t.Rows = append(t.Rows, Row{Cells: []string{s.name, bare(w, unit.RateKind, s.g.Growth), at, bare(w, unit.RateKind, s.g.LongTerm), bare(w, unit.RateKind, s.g.Used), governs}})
	}
	return t
}

func (w *writer) classes() Block {
	c := w.a.Comparison
	t := Table{Caption: "Places by what became of them", Columns: []Column{{Head: "Class", Share: 3}, {Head: "Places", Align: Right, Share: 1}}}
	total := 0
	for _, k := range compare.Classes {
		if n := c.Count[k]; n > 0 {
			t.Rows = append(t.Rows, Row{Cells: []string{k.Words(), fmt.Sprint(n)}})
			total += n
		}
	}
	t.Rows = append(t.Rows, Row{Bold: true, Cells: []string{"All", fmt.Sprint(total)}})
	return t
}

// names are a pair's plate and labels then and now.
func (w *writer) names(p *compare.Pair) (plate, old, now string) {
	c := w.a.Comparison
	plate, old, now = none, none, none
	if p.Plate >= 0 {
		plate = w.in.Plates[p.Plate].Label.Text
	} else if p.OldPlate >= 0 {
		plate = c.Old().In.Plates[p.OldPlate].Label.Text
	}
	if p.Old >= 0 {
		old = compare.ID(c.Old().In, &c.Old().Found.Locations[p.Old])
	}
	if p.New >= 0 {
		now = compare.ID(w.in, &w.res.Locations[p.New])
	}
	return plate, old, now
}

// dash stands where a table's cell has no text.
func dash(s string) string {
	if s == "" {
		return none
	}
	return s
}

// rest is the note of a table that shows the first of many.
func rest(shown, all int) string {
	if all <= shown {
		return ""
	}
	return fmt.Sprintf("The first %d of %d; all stand on the sheet Comparison of the results workbook.", shown, all)
}

func (w *writer) grownPlaces() []Block {
	c := w.a.Comparison
	var list []*compare.Pair
	for i := range c.Pairs {
		if p := &c.Pairs[i]; p.Class == compare.Grown || p.Class == compare.New {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		return []Block{Paragraph{Text: "No place grew beyond the spread of two readings, and none is new."}}
	}
	slices.SortStableFunc(list, func(a, b *compare.Pair) int {
		switch x, y := a.Growth.Or(-1), b.Growth.Or(-1); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	t := Table{Caption: "Grown and new, fastest first", Columns: []Column{
		{Head: "Plate", Share: 1},
		{Head: "Then", Share: 1},
		{Head: "Now", Share: 1},
		{Head: "Class", Share: 1},
		{Head: w.head("Remaining then", unit.Thickness), Align: Right, Share: 1.2},
		{Head: w.head("Remaining now", unit.Thickness), Align: Right, Share: 1.2},
		{Head: w.head("Growth", unit.RateKind), Align: Right, Share: 1.1},
		{Head: "From – to\n" + w.unit(unit.RateKind), Align: Right, Share: 1.3},
		{Head: "Why", Share: 2.6},
	}, Note: rest(mostChanges, len(list))}
	for _, p := range list[:min(len(list), mostChanges)] {
		plate, old, now := w.names(p)
		span := none
		if p.Least.Known && p.Most.Known {
			span = bare(w, unit.RateKind, p.Least) + " – " + bare(w, unit.RateKind, p.Most)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{plate, old, now, p.Class.Words(), bare(w, unit.Thickness, p.OldR), bare(w, unit.Thickness, p.NewR), bare(w, unit.RateKind, p.Growth), span, p.Why}})
	}
	return []Block{t}
}

// lostPlaces are places of last time without a match, deepest first.
func (w *writer) lostPlaces() []Block {
	c := w.a.Comparison
	var list []*compare.Pair
	for i := range c.Pairs {
		if p := &c.Pairs[i]; p.Class == compare.Gone || p.Class == compare.Unseen || p.Class == compare.Repaired {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		return nil
	}
	order := map[compare.Class]int{compare.Gone: 0, compare.Unseen: 1, compare.Repaired: 2}
	slices.SortStableFunc(list, func(a, b *compare.Pair) int {
		if d := order[a.Class] - order[b.Class]; d != 0 {
			return d
		}
		switch x, y := a.OldLoss.Or(0), b.OldLoss.Or(0); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	t := Table{Caption: "Of last time, without a match now", Columns: []Column{
		{Head: "Plate", Share: 1}, {Head: "Then", Share: 1}, {Head: "Class", Share: 1.6}, {Head: w.head("Loss then", unit.Share), Align: Right, Share: 1}, {Head: w.head("Remaining then", unit.Thickness), Align: Right, Share: 1.2}, {Head: "Why", Share: 4},
	}, Note: rest(mostChanges, len(list))}
	for _, p := range list[:min(len(list), mostChanges)] {
		plate, old, _ := w.names(p)
		t.Rows = append(t.Rows, Row{Cells: []string{plate, old, p.Class.Words(), bare(w, unit.Share, p.OldLoss), bare(w, unit.Thickness, p.OldR), dash(p.Why)}})
	}
	return []Block{t}
}

func (w *writer) changedPlates() []Block {
	c := w.a.Comparison
	t := Table{Caption: "Plates that changed", Columns: []Column{
		{Head: "Plate", Share: 1},
		{Head: "Then", Share: 1},
		{Head: "Change", Share: 2},
		{Head: w.head("Worst then", unit.Thickness), Align: Right, Share: 1.2},
		{Head: w.head("Worst now", unit.Thickness), Align: Right, Share: 1.2},
		{Head: w.head("Growth", unit.RateKind), Align: Right, Share: 1.2},
		{Head: "Grown", Align: Right, Share: 0.9},
		{Head: "New", Align: Right, Share: 0.9},
		{Head: "Not found", Align: Right, Share: 0.9},
		{Head: "Repaired", Align: Right, Share: 0.9},
	}, Note: "Worst: the smallest remaining thickness of the plate, of an estimate that was not proved up with its allowance."}
	for i := range c.Plates {
		p := &c.Plates[i]
		change := p.Change()
		if change == "" && p.Count[compare.Grown]+p.Count[compare.New]+p.Count[compare.Gone]+p.Count[compare.Repaired] == 0 {
			continue
		}
		now, old := none, none
		if p.New >= 0 {
			now = w.in.Plates[p.New].Label.Text
		}
		if p.Old >= 0 {
			old = c.OldLabel(p)
		}
		t.Rows = append(t.Rows, Row{Cells: []string{
			now, old, dash(change), bare(w, unit.Thickness, p.OldWorst), bare(w, unit.Thickness, p.NewWorst), bare(w, unit.RateKind, p.Growth),
			fmt.Sprint(p.Count[compare.Grown]), fmt.Sprint(p.Count[compare.New]), fmt.Sprint(p.Count[compare.Gone]), fmt.Sprint(p.Count[compare.Repaired]),
		}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []Block{t}
}

func (w *writer) nearPlaces() []Block {
	c := w.a.Comparison
	if len(c.Near) == 0 {
		return nil
	}
	t := Table{Caption: "Not paired, but near: may be one place", Columns: []Column{
		{Head: "Then", Share: 2}, {Head: "Now", Share: 2}, {Head: w.head("Distance", unit.Position), Align: Right, Share: 1}, {Head: "Why not", Share: 3},
	}, Note: rest(mostChanges, len(c.Near))}
	for _, n := range c.Near[:min(len(c.Near), mostChanges)] {
		t.Rows = append(t.Rows, Row{Cells: []string{
			c.Old().Found.Locations[n.Old].Label, w.res.Locations[n.New].Label, unit.Position.Text(w.sys, float64(n.Distance), 0), n.Why,
		}})
	}
	return []Block{t}
}

// trends is the rate of places found at three or more inspections.
func (w *writer) trends() []Block {
	c := w.a.Comparison
	if len(c.Trends) == 0 {
		return nil
	}
	t := Table{Caption: "Places over several inspections", Columns: []Column{{Head: "Place now", Share: 1.6}}}
	for _, d := range c.Dates {
		t.Columns = append(t.Columns, Column{Head: d.End.String() + "\n" + w.unit(unit.Thickness), Align: Right, Share: 1.3})
	}
	t.Columns = append(t.Columns, Column{Head: w.head("Rate", unit.RateKind), Align: Right, Share: 1.2}, Column{Head: "95 % range, ±\n" + w.unit(unit.RateKind), Align: Right, Share: 1.2}, Column{Head: "By UT tolerance, ±\n" + w.unit(unit.RateKind), Align: Right, Share: 1.3})
	t.Note = "Least-squares rate where all values are ultrasonic; the range is that of the scatter about the line, wide for three readings. Information only: the growth since the last inspection enters the rates. " + rest(mostChanges, len(c.Trends))
	for i := range c.Trends[:min(len(c.Trends), mostChanges)] {
		tr := &c.Trends[i]
		cells := []string{w.res.Locations[tr.New].Label}
		for _, d := range c.Dates {
			value := none
			for k, day := range tr.Dates {
				if day == d.End {
					value = unit.Thickness.Text(w.sys, float64(tr.Remaining[k]), 0)
				}
			}
			cells = append(cells, value)
		}
		t.Rows = append(t.Rows, Row{Cells: append(cells, bare(w, unit.RateKind, tr.Fit.Rate), bare(w, unit.RateKind, tr.Fit.Half), bare(w, unit.RateKind, tr.Fit.Reading))})
	}
	return []Block{t}
}

// changes is what the change plan and the growth chart show.
func (w *writer) changes() []draw.Change {
	c := w.a.Comparison
	out := make([]draw.Change, 0, len(c.Pairs))
	for i := range c.Pairs {
		p := &c.Pairs[i]
		_, old, now := w.names(p)
		ch := draw.Change{Label: now, Class: p.Class.Words(), Plate: p.Plate, Old: p.OldR, New: p.NewR}
		if p.New < 0 {
			ch.Label = old + " then"
		}
		if p.Placed && p.Plate >= 0 && w.a.Plan != nil {
			if x, y, ok := w.a.Plan.FromLocal(p.Plate, p.At); ok {
				ch.X, ch.Y = unit.Some(unit.Length(x)), unit.Some(unit.Length(y))
			}
		}
		out = append(out, ch)
	}
	return out
}

// growths are the growths measured by UT and those adopted for new pits.
func (w *writer) growths() (measured, adopted []unit.Rate) {
	for i := range w.a.Comparison.Pairs {
		switch p := &w.a.Comparison.Pairs[i]; {
		case p.UT && p.Growth.Known:
			measured = append(measured, p.Growth.V)
		case p.Class == compare.New && p.Growth.Known:
			adopted = append(adopted, p.Growth.V)
		}
	}
	return measured, adopted
}
