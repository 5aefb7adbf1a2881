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
	loss  float64
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
	var all []one
	var losses []float64
	by := [4]map[string][]one{}
	for i := range by {
		by[i] = map[string][]one{}
	}
	for i := range res.Locations {
		l := &res.Locations[i]
		if !Counts(l) {
			continue
		}
		if !l.Loss.Known {
			t.Unknown++
			continue
		}
		o := one{loss: float64(l.Loss.V), plate: l.Plate, box: l.Box, boxed: l.Box != (floor.Box{})}
		all, losses = append(all, o), append(losses, o.loss)
		for k, name := range Names(in, l) {
			by[k][name] = append(by[k][name], o)
		}
	}
	t.Count = len(all)
	t.All = group("all", all, edges, plan)
	for k, to := range []*[]Group{&t.BySide, &t.ByZone, &t.ByMethod, &t.ByPlate} {
		for _, name := range order(k, by[k], in) {
			*to = append(*to, group(name, by[k][name], edges, plan))
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
func order(k int, groups map[string][]one, in *inspection.Inspection) []string {
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

func group(name string, list []one, edges []float64, plan *floor.Plan) Group {
	g := Group{Name: name, Count: len(list), Area: area(list, plan)}
	parts := make([][]one, len(edges))
	for _, o := range list {
		k := 0
		for j, e := range edges {
			if o.loss >= e-1e-9 {
				k = j
			}
		}
		parts[k] = append(parts[k], o)
	}
	for k, part := range parts {
		b := Band{From: unit.Percent(edges[k]), To: 100, Count: len(part), Area: area(part, plan)}
		if k+1 < len(edges) {
			b.To = unit.Percent(edges[k+1])
		}
		g.Bands = append(g.Bands, b)
	}
	return g
}

// area is the union of the boxes on their plates; unknown when one of them
// has no size.
func area(list []one, plan *floor.Plan) unit.Maybe[unit.Area] {
	sum := unit.Some(unit.Area(0))
	boxes := map[int][]floor.Box{}
	var plates []int
	for _, o := range list {
		if plan == nil || !o.boxed || o.plate < 0 {
			return unit.Maybe[unit.Area]{}
		}
		if _, seen := boxes[o.plate]; !seen {
			plates = append(plates, o.plate)
		}
		boxes[o.plate] = append(boxes[o.plate], o.box)
	}
	slices.Sort(plates) // a sum of floats depends on its order
	for _, k := range plates {
		a := plan.UnionArea(k, boxes[k])
		if !a.Known {
			return unit.Maybe[unit.Area]{}
		}
		sum.V += a.V
	}
	return sum
}
