package workbook

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/statistics"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the list of indications at the foot of the Statistics sheet.
const (
	countedPlate = iota + 1
	countedID
	countedSide
	countedZone
	countedMethod
	countedLoss
)

const firstLoss = 5 // row of the first figure of all losses

// binWidth is the width of a bar of the histogram, percent of nominal.
const binWidth = 5

// statisticsRows are where the parts of the Statistics sheet stand.
type statisticsRows struct {
	groups  []tallied
	group   int         // row of the first group
	bins    int         // row of the first bar
	extreme int         // row of the head of the extreme value
	list    int         // row of the first indication
	order   []int       // locations in the order of the list
	at      map[int]int // location to its row
}

// tallied is one row of the groups.
type tallied struct {
	by    string
	g     *statistics.Group
	where string // what COUNTIFS asks beside the loss, "" for all
	first int    // of a plate: its rows in the list
	last  int
}

func (rs *results) counted(col int) string {
	l := &rs.statisticsAt
	return span(rs.statistics.Name, col, l.list, l.list+len(l.order)-1)
}

// layStatistics settles where groups, blocks and indications stand.
func (rs *results) layStatistics() {
	t, l := rs.a.Statistics(), &rs.statisticsAt
	*l = statisticsRows{at: map[int]int{}}
	l.group = firstLoss + len(rs.lossFigures()) + 2
	plates := map[string][]int{}
	var unplaced []string
	for i := range rs.a.Result.Locations {
		if loc := &rs.a.Result.Locations[i]; statistics.Counts(loc) {
			p := statistics.Names(rs.a.Inspection, loc)[3]
			plates[p] = append(plates[p], i)
			if len(plates[p]) == 1 && !slices.ContainsFunc(t.ByPlate, func(g statistics.Group) bool { return g.Name == p }) {
				unplaced = append(unplaced, p) // a plate whose losses are all unknown
			}
		}
	}
	l.groups = append(l.groups, tallied{by: "All", g: &t.All})
	for _, family := range []struct {
		by   string
		list []statistics.Group
	}{{"Side", t.BySide}, {"Zone", t.ByZone}, {"Method", t.ByMethod}, {"Plate", t.ByPlate}} {
		for i := range family.list {
			l.groups = append(l.groups, tallied{by: family.by, g: &family.list[i]})
		}
	}
	l.bins = l.group + len(l.groups) + 2
	l.extreme = l.bins + 100/binWidth + 1
	l.list = l.extreme + rs.extremeRows() + 3
	for i := range l.groups {
		g := &l.groups[i]
		if g.by != "Plate" {
			continue
		}
		g.first = l.list + len(l.order)
		l.order = append(l.order, plates[g.g.Name]...)
		g.last = l.list + len(l.order) - 1
	}
	for _, p := range unplaced {
		l.order = append(l.order, plates[p]...)
	}
	for n, i := range l.order {
		l.at[i] = l.list + n
	}
	for i := range l.groups {
		g := &l.groups[i]
		if col := map[string]int{"Side": countedSide, "Zone": countedZone, "Method": countedMethod}[g.by]; col > 0 {
			g.where = rs.counted(col) + ",\"" + strings.ReplaceAll(g.g.Name, "\"", "\"\"") + "\","
		}
	}
	rs.layExtreme()
}

// lossFigure is one figure of all losses.
type lossFigure struct {
	title   string
	formula string // over the losses; "" a plain number
	v       unit.Maybe[unit.Percent]
	style   xlsx.Style
}

func (rs *results) lossFigures() []lossFigure {
	t := rs.a.Statistics()
	known := func(v float64) unit.Maybe[unit.Percent] { return unit.Some(unit.Percent(v)) }
	out := []lossFigure{
		{"Indications with a known loss", "COUNT(%s)", known(float64(t.Count)), xlsx.Whole},
		{"Indications without one", "", known(float64(t.Unknown)), xlsx.Whole},
		{"Mean loss (%)", "AVERAGE(%s)", t.Mean, xlsx.Fixed2},
		{"Standard deviation, n − 1 (points)", "STDEV(%s)", t.SD, xlsx.Fixed2},
	}
	for _, q := range t.Quantiles {
		out = append(out, lossFigure{fmt.Sprintf("%d %% of the losses are at most (%%)", q.Percent), "PERCENTILE(%s," + literal(float64(q.Percent)/100) + ")", q.Loss, xlsx.Fixed2})
	}
	return out
}

func (rs *results) writeStatistics() {
	s, t := rs.statistics, rs.a.Statistics()
	bands := t.All.Bands
	s.Width(1, 1, 38)
	s.Width(2, 2, 14)
	s.Width(3, 5+2*len(bands), 12)
	intro(s, "Statistics", "Indications by their loss of nominal thickness, as measured where proved up, else as the scan estimated, without allowance. A band holds its lower edge. Areas are unions: what overlaps counts once. What is not relevant is no corrosion and counts nowhere.", 10)
	rs.headed(s, "Losses", "Value")
	for _, f := range rs.lossFigures() {
		e := notKnown()
		switch {
		case !f.v.Known:
		case f.formula == "" || t.Count == 0:
			e = xlsx.Number(float64(f.v.V), f.style)
		default:
			e = xlsx.Live(fmt.Sprintf(f.formula, rs.counted(countedLoss)), float64(f.v.V), f.style)
		}
		s.Row(xlsx.Text(f.title, xlsx.Normal), e)
	}
	s.Skip(1)
	rs.writeTally()
	s.Skip(1)
	rs.writeBins()
	s.Skip(1)
	rs.writeExtreme()
	s.Skip(rs.statisticsAt.list - 1 - s.Next())
	rs.writeCountedList()
}

// countBetween is how many of a range lie from low up to, not including, high;
// NaN for no limit.
func countBetween(losses, where string, low, high float64) string {
	f := "COUNTIFS(" + where
	if !math.IsNaN(low) {
		f += losses + ",\">=\"&" + strconv.FormatFloat(low-1e-9, 'f', -1, 64)
	}
	if !math.IsNaN(high) {
		if !math.IsNaN(low) {
			f += ","
		}
		f += losses + ",\"<\"&" + strconv.FormatFloat(high-1e-9, 'f', -1, 64)
	}
	if math.IsNaN(low) && math.IsNaN(high) {
		f += losses + ",\">-1000\""
	}
	return f + ")"
}

func (rs *results) writeTally() {
	s, t := rs.statistics, rs.a.Statistics()
	bands := t.All.Bands
	heads := []string{"By", "Group", "Indications", "Area" + rs.in(unit.AreaKind)}
	for _, b := range bands {
		heads = append(heads, bandWords(b, b.To >= 100))
	}
	for _, b := range bands {
		heads = append(heads, "Area"+rs.in(unit.AreaKind)+", "+bandWords(b, b.To >= 100))
	}
	row := make([]xlsx.Entry, len(heads))
	for i, h := range heads {
		row[i] = xlsx.Text(h, xlsx.Header)
	}
	s.FitRow(row...)
	area := func(a unit.Maybe[unit.Area]) xlsx.Entry {
		if !a.Known {
			return notKnown()
		}
		return xlsx.Number(unit.AreaKind.In(rs.sys, float64(a.V)), fixed(unit.AreaKind, rs.sys, 2))
	}
	for i := range rs.statisticsAt.groups {
		g := &rs.statisticsAt.groups[i]
		losses := rs.counted(countedLoss)
		if g.by == "Plate" {
			losses = span(rs.statistics.Name, countedLoss, g.first, g.last)
		}
		row := s.Next()
		look := xlsx.Normal
		name := g.g.Name
		if g.by == "All" {
			look, name = xlsx.Bold, ""
		}
		cells := []xlsx.Entry{xlsx.Text(g.by, look), xlsx.Text(name, look), xlsx.Number(float64(g.g.Count), xlsx.Whole), area(g.g.Area)}
		if g.g.Count > 0 && len(bands) > 0 {
			cells[2] = xlsx.Live("SUM("+here(5, row)+":"+here(4+len(bands), row)+")", float64(g.g.Count), xlsx.Whole)
		}
		for k, b := range g.g.Bands {
			if g.g.Count == 0 {
				cells = append(cells, xlsx.Number(float64(b.Count), xlsx.Whole))
				continue
			}
			low, high := float64(b.From), float64(b.To)
			if k == 0 {
				low = math.NaN()
			}
			if k == len(g.g.Bands)-1 {
				high = math.NaN()
			}
			cells = append(cells, xlsx.Live(countBetween(losses, g.where, low, high), float64(b.Count), xlsx.Whole))
		}
		for _, b := range g.g.Bands {
			cells = append(cells, area(b.Area))
		}
		s.Row(cells...)
	}
}

func bandWords(b statistics.Band, last bool) string {
	if last {
		return fmt.Sprintf("%g %% and more", float64(b.From))
	}
	return fmt.Sprintf("%g to under %g %%", float64(b.From), float64(b.To))
}

// bins are the counts of the histogram by side: soil, product, unknown.
func (rs *results) bins() (out [100 / binWidth][3]int) {
	for _, i := range rs.statisticsAt.order {
		l := &rs.a.Result.Locations[i]
		if !l.Loss.Known {
			continue
		}
		k := min(max(int(math.Floor(float64(l.Loss.V)/binWidth+1e-9/binWidth)), 0), len(out)-1)
		switch l.Side {
		case assess.Soil:
			out[k][0]++
		case assess.Product:
			out[k][1]++
		default:
			out[k][2]++
		}
	}
	return out
}

const barLength = 40 // signs of the longest bar

func (rs *results) writeBins() {
	s := rs.statistics
	rs.headed(s, "Histogram: loss from (%)", "to under (%)", "Soil side", "Product side", "Side unknown", "All", "")
	if rs.a.Statistics().Count == 0 {
		s.Row(xlsx.Text("No indication with a known loss.", xlsx.Normal))
		s.Skip(100/binWidth - 1)
		return
	}
	bins := rs.bins()
	most := 0
	for _, b := range bins {
		most = max(most, b[0]+b[1]+b[2])
	}
	first := s.Next()
	totals := here(6, first) + ":" + here(6, first+len(bins)-1)
	for k, b := range bins {
		row := s.Next()
		low, high := float64(k*binWidth), float64((k+1)*binWidth)
		if k == 0 {
			low = math.NaN()
		}
		if k == len(bins)-1 {
			high = math.NaN()
		}
		losses := rs.counted(countedLoss)
		side := func(name string) string { return rs.counted(countedSide) + ",\"" + name + "\"," }
		all := b[0] + b[1] + b[2]
		bar := strings.Repeat("█", int(math.Floor(barLength*float64(all)/float64(most)+0.5)))
		s.Row(xlsx.Number(float64(k*binWidth), xlsx.Whole), xlsx.Number(float64((k+1)*binWidth), xlsx.Whole),
			xlsx.Live(countBetween(losses, side("soil"), low, high), float64(b[0]), xlsx.Whole),
			xlsx.Live(countBetween(losses, side("product"), low, high), float64(b[1]), xlsx.Whole),
			xlsx.Live(here(6, row)+"-"+here(3, row)+"-"+here(4, row), float64(b[2]), xlsx.Whole),
			xlsx.Live(countBetween(losses, "", low, high), float64(all), xlsx.Whole),
			xlsx.LiveText("REPT(\"█\",ROUND("+strconv.Itoa(barLength)+"*"+here(6, row)+"/MAX("+totals+"),0))", bar, xlsx.Quiet))
	}
}

func (rs *results) writeCountedList() {
	s, l := rs.statistics, &rs.statisticsAt
	rs.headed(s, "Counted: plate", "Indication", "Side", "Zone", "Method", "Loss (%)", "Basis")
	if len(l.order) == 0 {
		s.Row(xlsx.Text("No indication was recorded that is relevant.", xlsx.Normal))
		return
	}
	for n, i := range l.order {
		s.LinkTo(countedID, s.Next()+n, at(rs.places.Name, placeID, firstPlace+i))
	}
	s.Rows(len(l.order), 7, func(n int, cells []xlsx.Entry) {
		i := l.order[n]
		loc := &rs.a.Result.Locations[i]
		names := statistics.Names(rs.a.Inspection, loc)
		ind := &rs.a.Inspection.Indications[loc.Indication]
		copy(cells, []xlsx.Entry{
			xlsx.Text(names[3], xlsx.Bold), xlsx.Text(ind.ID.Text, xlsx.Link), xlsx.Text(names[0], xlsx.Normal), xlsx.Text(names[1], xlsx.Normal), xlsx.Text(names[2], xlsx.Normal),
			rs.lossOf(i), xlsx.Text(string(loc.Basis), xlsx.Quiet),
		})
	})
}

// lossOf is a location's loss without allowance, live from its remaining
// thickness where that is measured, else from the loss the scan gave.
func (rs *results) lossOf(i int) xlsx.Entry {
	l := &rs.a.Result.Locations[i]
	if !l.Loss.Known {
		return notKnown()
	}
	v := float64(l.Loss.V)
	if l.Remaining.Known && l.Nominal.Known && l.Basis != assess.ByAllowance && close9(100*(1-float64(l.Remaining.V/l.Nominal.V)), v) {
		return xlsx.Live("100*(1-"+at(rs.places.Name, placeR, firstPlace+i)+"/"+rs.nominalOf(l)+")", v, xlsx.Fixed2)
	}
	if loss := rs.a.Inspection.Indications[l.Indication].Loss; loss.OK() && loss.Plain && loss.Ref.IsCell() && float64(loss.Value) == v {
		return xlsx.Live(rs.cellExpression(loss.Ref, loss.Scale, unit.Share), v, xlsx.Fixed2)
	}
	return xlsx.Number(v, xlsx.Fixed2)
}

// nominalOf is the nominal thickness of a location in mm: the cell of its
// plate, or the number where it lies on another metal.
func (rs *results) nominalOf(l *assess.Location) string {
	if l.Plate >= 0 && rs.a.Result.Plates[l.Plate].Nominal == l.Nominal {
		return rs.plateCell(plateNominal, l.Plate)
	}
	return literal(float64(l.Nominal.V))
}
