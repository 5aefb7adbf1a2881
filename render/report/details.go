package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/render/draw"
	"platebook/rules/assess"
	"platebook/rules/spelling"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// mostDetails keeps the report to what a crew can carry; the rest stand in the
// floor page and the list.
const mostDetails = 60

// fails says whether a location does not reach its requirement to the end of
// the interval considered: below the limit plus the loss still to come.
func fails(l *assess.Location) bool {
	return l.Verdict == assess.Repair || l.Verdict == assess.RepairFirst || l.Verdict == assess.Engineering
}

// detailed is a plate that is drawn to scale by itself.
type detailed struct {
	plate int
	works []string         // labels of the repairs on it
	open  int              // places that fall short and have no repair
	asked int              // places that cannot be judged here and have no repair
	worst *assess.Location // the place with the least margin among those that fail, nil without one
}

// toDetail are the plates with a repair or with a place that does not reach
// its requirement to the end of the interval, in the order of the Plates
// sheet.
func (w *writer) toDetail() []detailed {
	on := map[int]*detailed{}
	at := func(plate int) *detailed {
		if on[plate] == nil {
			on[plate] = &detailed{plate: plate}
		}
		return on[plate]
	}
	if w.a.Repairs != nil {
		for i := range w.a.Repairs.Items {
			it := &w.a.Repairs.Items[i]
			at(it.Plate).works = append(at(it.Plate).works, it.Label)
		}
	}
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if !fails(l) || l.Plate < 0 || l.Plate >= len(w.in.Plates) {
			continue
		}
		d := at(l.Plate)
		switch {
		case l.Repair != "":
		case w.short(l):
			d.open++
		default:
			d.asked++
		}
		if d.worst == nil || compareWorst(l, d.worst) < 0 {
			d.worst = l
		}
	}
	var out []detailed
	for _, d := range on {
		out = append(out, *d)
	}
	slices.SortFunc(out, func(a, b detailed) int { return a.plate - b.plate })
	return out
}

// details are those plates as drawings: of more than a crew can carry, the
// ones with the least margin.
func (w *writer) details() []Block {
	works := draw.PlannedWork(w.a)
	const appendix = "Appendix: all readings"
	listed := "“" + appendix + "”"
	if _, include := w.choice(appendix, false); !include {
		listed = "the sheet Indication results of the results workbook"
	}
	all := w.toDetail()
	rest := 0
	if len(all) > mostDetails {
		slices.SortStableFunc(all, func(a, b detailed) int {
			switch {
			case a.worst == nil && b.worst == nil:
				return 0
			case a.worst == nil:
				return 1
			case b.worst == nil:
				return -1
			}
			return compareWorst(a.worst, b.worst)
		})
		rest = len(all) - mostDetails
		all = all[:mostDetails]
		slices.SortFunc(all, func(a, b detailed) int { return a.plate - b.plate })
	}
	var out []Block
	if rest > 0 {
		out = append(out, Paragraph{Text: fmt.Sprintf("The %d plates with the least margin are drawn one by one; %s with repairs or thin places %s not. The list holds every size and place, %s every indication.",
			mostDetails, spelling.Count(rest, "further plate", "further plates"), are(rest), listed)})
	}
	for _, d := range all {
		label := w.in.Plates[d.plate].Label.Text
		sheets := draw.PlateDetail(w.a, w.sheet(), d.plate, works, listed)
		for i, s := range sheets {
			caption := d.caption(label)
			if i > 0 {
				caption = "Plate " + label + ", continued"
			}
			if n := len(sheets); n > 1 {
				caption += fmt.Sprintf(" (sheet %d of %d)", i+1, n)
			}
			out = append(out, Figure{Scene: s, Caption: caption, Sheet: true})
		}
	}
	return out
}

// caption names the plate and why it is drawn.
func (d detailed) caption(label string) string {
	var parts []string
	if len(d.works) > 0 {
		parts = append(parts, strings.ReplaceAll(cut(d.works, 6), "; ", ", "))
	}
	if d.open > 0 {
		parts = append(parts, spelling.Count(d.open, "thin place", "thin places")+" without a repair")
	}
	if d.asked > 0 {
		parts = append(parts, spelling.Count(d.asked, "place", "places")+" for an engineer to judge")
	}
	if len(parts) == 0 {
		return "Plate " + label
	}
	return "Plate " + label + ": " + strings.Join(parts, ", and ")
}

// short says whether a location falls short of its requirement within the time
// considered, and is not merely one that an engineer has to judge.
func (w *writer) short(l *assess.Location) bool {
	if l.Verdict != assess.Engineering {
		return fails(l)
	}
	soil, product := w.res.AsFound.SoilRate, w.res.AsFound.ProductRate
	if !soil.Known || !product.Known || w.a.Repairs == nil {
		return false
	}
	end := float64(l.Required.V) + float64(w.a.Repairs.Target)*float64(soil.V+product.V)
	return !step.AtLeast(unit.Thickness, float64(l.Remaining.V), end)
}

// unrepaired is the places that fail and that no repair takes out.
func (w *writer) unrepaired() (places []*assess.Location) {
	if w.a.Repairs == nil {
		return nil
	}
	for i := range w.res.Locations {
		if l := &w.res.Locations[i]; fails(l) && l.Repair == "" && !slices.Contains(w.a.Repairs.Unplaced, i) {
			places = append(places, l)
		}
	}
	return places
}

// openSentence tells of the places that no repair takes out: those that fall
// short, where people plan the repairs themselves, and those that cannot be
// judged here.
func (w *writer) openSentence() string {
	var n [2]int
	plates := [2]map[int]bool{{}, {}}
	for _, l := range w.unrepaired() {
		kind := 1
		if w.short(l) {
			kind = 0
		}
		n[kind]++
		plates[kind][l.Plate] = true
	}
	s := ""
	if n[0] > 0 && !w.a.Repairs.Proposed {
		s = fmt.Sprintf(" %s on %s %s short of the requirement %s, and no repair takes %s out.",
			spelling.Count(n[0], "place", "places"), spelling.Count(len(plates[0]), "plate", "plates"), spelling.Choose(n[0], "falls", "fall"), w.horizon(), spelling.Choose(n[0], "it", "them"))
	}
	if n[1] > 0 {
		s += fmt.Sprintf(" %s on %s cannot be judged here: an engineer has to.", spelling.Count(n[1], "place", "places"), spelling.Count(len(plates[1]), "plate", "plates"))
	}
	return s
}

// horizon is how far ahead the places are judged.
func (w *writer) horizon() string {
	if !w.res.AsFound.SoilRate.Known || !w.res.AsFound.ProductRate.Known || w.a.Repairs == nil {
		return "now"
	}
	return "within " + unit.Time.TextUnit(w.sys, float64(w.a.Repairs.Target), 0)
}

func are(n int) string { return spelling.Choose(n, "is", "are") }
