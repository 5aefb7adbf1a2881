package statistics

import (
	"cmp"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Band is the indications whose loss lies from From up to, not including, To;
// the first takes those below it too, the last has no upper end but 100 %.
type Band struct {
	From, To unit.Percent
	Count    int
	Area     unit.Maybe[unit.Area] // union of the boxes on their plates
}

// Group is the indications of one side, zone, method or plate.
type Group struct {
	Name  string
	Count int // with a known loss
	Area  unit.Maybe[unit.Area]
	Bands []Band
}

// Level is a quantile of the losses.
type Level struct {
	Percent int
	Loss    unit.Maybe[unit.Percent]
}

// Tally is the corrosion found, by loss of nominal thickness without allowance.
type Tally struct {
	Count                             int // indications with a known loss
	Unknown                           int // indications without one
	All                               Group
	BySide, ByZone, ByMethod, ByPlate []Group
	Mean, SD                          unit.Maybe[unit.Percent]
	Quantiles                         []Level
}

// NotGiven names the group of a blank side, zone, method or plate.
const NotGiven = "not given"

// levels are the quantiles a report shows, percent.
var levels = []int{10, 25, 50, 75, 90, 95}

// one is an indication on its way into the groups.
type one struct {
	names [4]string // side, zone, method, plate
	band  int
	plate int
	box   floor.Box
	boxed bool
}

// Count sorts the indications into the loss bands, by side, zone, method and
// plate. What is not relevant is no corrosion and counts nowhere.
//
//	loss = 100·(1 − r/t_nom)
//
// loss in %, r remaining and t_nom nominal thickness in mm, r without the
// sizing allowance. A band holds its lower edge. Areas are unions on each
// plate, cut at its shape; unknown where a box or its plate has no size.
//
// Source: common practice, no source.
// Check: six losses in five bands counted by hand: TestTally.
func Count(in *inspection.Inspection, plan *floor.Plan, res *assess.Result) Tally {
	set := in.Criteria
	if set == nil {
		set = criteria.Defaults(in.Units)
	}
	edges := edgesOf(set.Get(criteria.LossBands).Numbers)
	var t Tally
	all := make([]one, 0, len(res.Locations))
	losses := make([]float64, 0, len(res.Locations))
	for i := range res.Locations {
		l := &res.Locations[i]
		if !Counts(l) {
			continue
		}
		if !l.Loss.Known {
			t.Unknown++
			continue
		}
		loss := float64(l.Loss.V)
		all = append(all, one{names: Names(in, l), band: bandOf(loss, edges), plate: l.Plate, box: l.Box, boxed: l.Box != (floor.Box{})})
		losses = append(losses, loss)
	}
	t.Count = len(all)
	// plate by plate: a union is of one plate, and a sum of floats depends on its order
	slices.SortStableFunc(all, func(a, b one) int { return cmp.Compare(a.plate, b.plate) })
	whole := make([]*one, len(all))
	for i := range all {
		whole[i] = &all[i]
	}
	c := counter{edges: edges, plan: plan, rows: make(map[onPlate]int), areas: make(map[onPlate]unit.Maybe[unit.Area])}
	for i := range all {
		c.rows[onPlate{all[i].plate, anyBand}]++
		c.rows[onPlate{all[i].plate, all[i].band}]++
	}
	t.All = c.group("all", whole)
	for k, to := range []*[]Group{&t.BySide, &t.ByZone, &t.ByMethod, &t.ByPlate} {
		by := make(map[string][]*one)
		for _, o := range whole {
			by[o.names[k]] = append(by[o.names[k]], o)
		}
		for _, name := range order(k, by, in) {
			*to = append(*to, c.group(name, by[name]))
		}
	}
	t.Mean, t.SD = percent(Mean(losses)), percent(SD(losses))
	for _, p := range levels {
		t.Quantiles = append(t.Quantiles, Level{p, percent(Quantile(losses, float64(p)/100))})
	}
	return t
}

// Counts says whether a location is corrosion that is counted: an indication
// that is relevant.
func Counts(l *assess.Location) bool {
	return l.Kind == assess.IndicationAt && l.Verdict != assess.NotRelevant
}

// Names are the side, zone, method and plate that an indication is counted
// under.
func Names(in *inspection.Inspection, l *assess.Location) [4]string {
	row := &in.Indications[l.Indication]
	plate := row.Plate.Text
	if l.Plate >= 0 {
		plate = in.Plates[l.Plate].Label.Text
	}
	names := [4]string{l.Side.String(), string(l.Zone), row.Method.Or(""), plate}
	for k := range names {
		names[k] = cmp.Or(names[k], NotGiven)
	}
	return names
}

func percent(m unit.Maybe[unit.Ratio]) unit.Maybe[unit.Percent] {
	return unit.Maybe[unit.Percent]{V: unit.Percent(m.V), Known: m.Known}
}

// edgesOf is the lower edges of the bands, the first 0.
func edgesOf(given []float64) []float64 {
	edges := []float64{0}
	for _, e := range given {
		if e > edges[len(edges)-1] {
			edges = append(edges, e)
		}
	}
	return edges
}

// order is the names as a report lists them: words as the workbook's lists
// have them, plates as their sheet.
func order(k int, groups map[string][]*one, in *inspection.Inspection) []string {
	var rank []string
	switch k {
	case 0:
		rank = []string{"soil", "product", "both", "unknown"}
	case 1:
		rank = []string{string(floor.General), string(floor.Critical), string(floor.Annular)}
	case 2:
		rank = []string{"MFL", "hand scan", "UT", "visual"}
	default:
		for i := range in.Plates {
			rank = append(rank, in.Plates[i].Label.Text)
		}
	}
	place := make(map[string]int, len(rank))
	for i, name := range rank {
		if _, twice := place[name]; !twice {
			place[name] = i
		}
	}
	names := make([]string, 0, len(groups))
	for name := range groups {
		if _, ranked := place[name]; !ranked {
			place[name] = len(rank)
		}
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(place[a], place[b]), cmp.Compare(a, b))
	})
	return names
}

// bandOf is the band a loss lies in.
func bandOf(loss float64, edges []float64) int {
	k := 0
	for j, e := range edges {
		if loss >= e-1e-9 {
			k = j
		}
	}
	return k
}

// onPlate is a plate's indications, of one band or of any.
type onPlate struct{ plate, band int }

const anyBand = -1

// counter makes groups; of lists in the order of the plates.
type counter struct {
	edges []float64
	plan  *floor.Plan
	rows  map[onPlate]int
	areas map[onPlate]unit.Maybe[unit.Area] // of all rows that there are
	boxes []floor.Box
}

func (c *counter) group(name string, list []*one) Group {
	g := Group{Name: name, Count: len(list), Area: c.area(list, anyBand), Bands: make([]Band, len(c.edges))}
	var part []*one
	for k := range g.Bands {
		part = part[:0]
		for _, o := range list {
			if o.band == k {
				part = append(part, o)
			}
		}
		b := Band{From: unit.Percent(c.edges[k]), To: 100, Count: len(part), Area: c.area(part, k)}
		if k+1 < len(c.edges) {
			b.To = unit.Percent(c.edges[k+1])
		}
		g.Bands[k] = b
	}
	return g
}

// area is the union of the boxes on their plates; unknown when one of them
// has no size. The list is of one band or of any.
func (c *counter) area(list []*one, band int) unit.Maybe[unit.Area] {
	for _, o := range list {
		if c.plan == nil || !o.boxed || o.plate < 0 {
			return unit.Maybe[unit.Area]{}
		}
	}
	sum := unit.Some(unit.Area(0))
	for i := 0; i < len(list); {
		at := onPlate{list[i].plate, band}
		c.boxes = c.boxes[:0]
		for ; i < len(list) && list[i].plate == at.plate; i++ {
			c.boxes = append(c.boxes, list[i].box)
		}
		whole := len(c.boxes) == c.rows[at]
		a, done := c.areas[at]
		if !whole || !done {
			a = c.plan.UnionArea(at.plate, c.boxes)
		}
		if whole {
			c.areas[at] = a
		}
		if !a.Known {
			return unit.Maybe[unit.Area]{}
		}
		sum.V += a.V
	}
	return sum
}
