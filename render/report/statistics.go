package report

import (
	"fmt"
	"slices"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/extreme"
	"platebook/rules/statistics"
	"platebook/rules/unit"
)

// mostPlates is how many plates the body's table carries; all stand on the
// Statistics sheet.
const mostPlates = 20

// statistics is section 17: the indications by loss, side, zone, method and
// plate, and the extreme-value estimate with its cautions.
func (w *writer) statistics() []Block {
	t := w.a.Statistics()
	if t.Count+t.Unknown == 0 {
		none := "No relevant indication was recorded, so there is nothing to count."
		if w.a.Counts.Errors > 0 || len(w.a.LeftOut) > 0 {
			none = "No relevant indication could be read from the workbook, which has errors, so there is nothing to count."
		}
		return []Block{Paragraph{Text: none}}
	}
	blocks := []Block{Paragraph{Text: w.lossesInWords()}}
	if t.Count > 0 {
		blocks = append(blocks, w.chart("Indications by loss", draw.Histogram)...)
		blocks = append(blocks, w.tallyTable(), w.quantiles())
		blocks = append(blocks, w.plateTally()...)
	}
	return append(blocks, w.extremeValue()...)
}

func (w *writer) lossesInWords() string {
	t := w.a.Statistics()
	s := fmt.Sprintf("%s with a known loss", capital(count(t.Count, "indication")))
	if t.Unknown > 0 {
		s += fmt.Sprintf(", and %d without one", t.Unknown)
	}
	if n := w.tally().notRelevant; n > 0 {
		s += fmt.Sprintf(" (%d marked not relevant %s not counted)", n, are(n))
	}
	if t.Count == 0 {
		return s + "."
	}
	s += fmt.Sprintf(": mean %s %%", bare(w, unit.Share, t.Mean))
	if t.SD.Known {
		s += fmt.Sprintf(", standard deviation %s points", bare(w, unit.Points, t.SD))
	}
	if t.All.Area.Known {
		s += fmt.Sprintf(", together %s of floor, overlaps counted once", areaText(w, t.All.Area))
	}
	return s + ". Loss is of the nominal thickness, as measured where proved up, else as the scan estimated, without allowance."
}

// areaText prints a small area with digits enough to tell it from nothing.
func areaText(w *writer, a unit.Maybe[unit.Area]) string {
	if !a.Known {
		return "not known"
	}
	return unit.AreaKind.TextUnit(w.sys, float64(a.V), 1)
}

func (w *writer) tallyTable() Table {
	t := w.a.Statistics()
	out := Table{Caption: "Indications by loss of nominal thickness", Columns: []Column{
		{Head: "Group", Share: 2},
		{Head: "Indications", Align: Right, Share: 1.2},
		{Head: w.head("Area", unit.AreaKind), Align: Right, Share: 1},
	}, Note: "A band holds its lower edge, the first all below it too. Area: the union of the indications' boxes on their plates."}
	for k, b := range t.All.Bands {
		head := fmt.Sprintf("%g to\nunder %g %%", float64(b.From), float64(b.To))
		if k == len(t.All.Bands)-1 {
			head = fmt.Sprintf("%g %%\nand more", float64(b.From))
		}
		out.Columns = append(out.Columns, Column{Head: head, Align: Right, Share: 1.1})
	}
	out.Rows = append(out.Rows, w.tallyRow("All", &t.All))
	out.Rows[0].Bold = true
	for _, family := range []struct {
		head string
		list []statistics.Group
	}{{"By side", t.BySide}, {"By zone", t.ByZone}, {"By method", t.ByMethod}} {
		out.Rows = append(out.Rows, Row{Cells: []string{family.head}, Group: true})
		for i := range family.list {
			out.Rows = append(out.Rows, w.tallyRow(family.list[i].Name, &family.list[i]))
		}
	}
	return out
}

func (w *writer) tallyRow(name string, g *statistics.Group) Row {
	area := none
	if g.Area.Known {
		area = unit.AreaKind.Text(w.sys, float64(g.Area.V), 1)
	}
	r := Row{Cells: []string{name, fmt.Sprint(g.Count), area}}
	for _, b := range g.Bands {
		r.Cells = append(r.Cells, fmt.Sprint(b.Count))
	}
	return r
}

func (w *writer) quantiles() Table {
	t := Table{Caption: "Quantiles of the losses", Columns: []Column{{Head: "Share of the indications", Share: 2}}, Note: "A loss that this share of the indications does not exceed, linear between neighbours (type 7)."}
	row := Row{Cells: []string{"Loss, %"}}
	for _, q := range w.a.Statistics().Quantiles {
		t.Columns = append(t.Columns, Column{Head: fmt.Sprintf("%d %%", q.Percent), Align: Right, Share: 1})
		row.Cells = append(row.Cells, bare(w, unit.Share, q.Loss))
	}
	t.Rows = []Row{row}
	return t
}

// plateTally is the plates with the most indications.
func (w *writer) plateTally() []Block {
	plates := w.a.Statistics().ByPlate
	order := make([]int, len(plates))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return plates[b].Count - plates[a].Count })
	rest := len(order) - mostPlates
	if rest > 0 {
		order = order[:mostPlates]
	}
	t := w.tallyTable()
	t.Caption, t.Rows, t.Columns[0].Head = "", nil, "Plate"
	t.Note = ""
	for _, i := range order {
		t.Rows = append(t.Rows, w.tallyRow(plates[i].Name, &plates[i]))
	}
	title := "Plates by their number of indications"
	if rest > 0 {
		t.Note = fmt.Sprintf("%s with no more indications %s on the sheet Statistics of the results workbook.", count(rest, "further plate"), stand(rest))
	}
	return []Block{Heading{2, title}, t}
}

// extremeValue is the estimate for the area not examined.
func (w *writer) extremeValue() []Block {
	e := &w.res.Extreme
	blocks := []Block{Heading{2, "Extreme value: the area not examined"}}
	if !e.Made {
		return append(blocks, Paragraph{Text: fmt.Sprintf("No estimate was made of the deepest corrosion on the %s side where nothing was examined (%s).", e.Side, e.Why)})
	}
	thick := func(v unit.Length) string { return unit.Thickness.TextUnit(w.sys, float64(v), 0) }
	standing := "information only"
	switch {
	case e.Used:
		standing = "it enters the interval"
	case e.Doubtful:
		standing = "doubtful; information only"
	}
	text := fmt.Sprintf("A Gumbel distribution is fitted to the largest %s-side loss on each of %s of nominal %s. Of that nominal %s were not examined; they count as %s areas of a plate's size (at least 2). One such area in %s is expected to exceed a loss of %s (standard error %s); with a probability of 95 %% the deepest of all of them stays below %s. The points correlate with the line by %s. Standing of the estimate: %s.",
		e.Side, count(len(e.Blocks), "plate"), thick(e.Nominal), areaText(w, unit.Some(e.Unexamined)), unit.Round(e.Period, 1), unit.Round(e.Period, 1),
		thick(e.Level), thick(e.SE), thick(e.Whole), unit.Round(e.Fit.Correlation, 4), standing)
	blocks = append(blocks, Paragraph{Text: text})
	blocks = append(blocks, w.chart("Largest loss of each plate, probability plot", func(a *rules.Assessment, s draw.Sheet) *draw.Scene { return draw.ExtremeChart(a, s, plotted(e)) })...)
	blocks = append(blocks, List{e.Cautions()})
	return append(blocks, Heading{3, "Extreme value, step by step"}, Steps{w.steps("extreme.")})
}

func plotted(e *extreme.Estimate) draw.Extreme {
	p := draw.Extreme{Location: e.Fit.Location, Scale: e.Fit.Scale, Period: e.Period, Level: float64(e.Level), SE: float64(e.SE), Doubtful: e.Doubtful}
	for _, b := range e.Blocks {
		p.Losses = append(p.Losses, float64(b.Largest))
	}
	return p
}
