package repair

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Assess evaluates the floor with its repairs: the rows of Planned repairs, or
// the program's proposal where there are none.
func Assess(in *inspection.Inspection, plan *floor.Plan) (*assess.Result, *Result) {
	return AssessGrown(in, plan, nil)
}

// AssessGrown is Assess for a floor that was compared with an earlier
// inspection. growth may be nil.
func AssessGrown(in *inspection.Inspection, plan *floor.Plan, growth *assess.Growth) (*assess.Result, *Result) {
	s := newShop(in, plan)
	r := &Result{shop: s, Target: s.target()}
	res := assess.AssessGrown(in, plan, func(found *assess.Result, needs []bool) assess.Proposal {
		for i, n := range needs {
			if n && !repairable(&found.Locations[i]) {
				r.Unplaced = append(r.Unplaced, i)
			}
		}
		r.Proposed = true
		seeds := func(needed []bool) *seeds {
			var need []int
			for i, n := range needed {
				if n && repairable(&found.Locations[i]) {
					need = append(need, i)
				}
			}
			return s.seedsOf(found.Locations, need)
		}
		at := s.placesOf(found.Locations)
		r.Items = s.items(s.extended(found, needs, seeds, at), at)
		return s.proposal(r.Items, found.Locations)
	}, growth)
	j := &judge{shop: s, res: res, metal: soundMetal(res)}
	if !r.Proposed {
		r.Items = j.planned()
	}
	for i := range r.Items {
		j.complete(&r.Items[i], r.Proposed)
	}
	j.renewed = map[int]bool{}
	for i := range r.Items {
		if r.Items[i].Kind == Replace {
			j.renewed[r.Items[i].Plate] = true
		}
		e, ok := s.plan.Extent(r.Items[i].frame, r.Items[i].own)
		if !ok {
			e = nowhere
		}
		j.extents = append(j.extents, e)
	}
	for i := range r.Items {
		it := &r.Items[i]
		it.Checks = j.checks(it, r.Items)
		if why := j.left(it); r.Proposed && why != "" {
			it.Engineer, it.Reasons = true, append([]string{why}, it.Reasons...)
		}
	}
	r.Cutting = s.cut(r.Items, 0)
	r.sum(s)
	r.levels = sync.OnceValue(func() []Level { return s.thresholds(res) })
	r.Needed = res.Needed(r.Target)
	r.steps(res)
	return res, r
}

// complete writes what follows from a repair's size and what it takes out.
func (j *judge) complete(it *Item, proposed bool) {
	c := unit.Length(j.z.radius)
	switch {
	case it.Kind != Patch || it.Length <= 0 || it.Width <= 0:
	case it.Shape == Circle:
		it.Weld = CircleWeld(min(it.Length, it.Width))
	case it.Shape == Tombstone && j.atShell(it):
		it.Weld, it.ShellWeld = TombstoneWeld(it.Length, it.Width, c), it.Length
	default:
		it.Weld = WeldLength(it.Length, it.Width, c)
	}
	if (it.Kind == Patch || it.Kind == Replace) && it.Thickness.Known && it.Length > 0 && it.Width > 0 {
		a, b := it.Length, it.Width
		if it.Shape == Circle {
			a, b = min(a, b), min(a, b)
		}
		it.Mass = unit.Some(BlankMass(a, b, it.Thickness.V))
	}
	for _, n := range it.Locations {
		l := &j.res.Locations[n]
		it.IDs = append(it.IDs, j.id(l, it.Plate))
		if proposed {
			if why := j.reason(l); why != "" {
				it.Reasons = append(it.Reasons, why)
			}
		}
	}
}

// atShell says whether a repair is welded to the shell, or may be: how far it
// stands from it is not known.
func (j *judge) atShell(it *Item) bool {
	d, ok := j.shellDistance(it.frame, it.own)
	return !it.Boxed || !ok || d <= 1
}

// id is a location as its plate's list names it; on another plate with it.
func (j *judge) id(l *assess.Location, plate int) string {
	id := l.Label
	switch {
	case l.Plate != plate:
		return id
	case l.Kind == assess.IndicationAt && l.Indication >= 0:
		id = j.in.Indications[l.Indication].ID.Text
	case l.Kind == assess.ProveUpAt && l.ProveUp >= 0:
		id = j.in.ProveUps[l.ProveUp].ID.Text
	}
	return id
}

// reason says why a location needs its repair.
func (j *judge) reason(l *assess.Location) string {
	if !l.Remaining.Known || !l.Required.Known {
		return ""
	}
	text := func(v unit.Length) string { return unit.Thickness.TextUnit(j.set.System, float64(v), 0) }
	id := j.id(l, l.Plate)
	switch {
	case !step.AtLeast(unit.Thickness, float64(l.Remaining.V), float64(l.Required.V)):
		return fmt.Sprintf("%s: %s, required %s", id, text(l.Remaining.V), text(l.Required.V))
	case l.Verdict == assess.Leave:
		return ""
	}
	if v := j.set.Get(criteria.RepairThreshold); v.Set && float64(l.Remaining.V) < v.Number {
		return fmt.Sprintf("%s: %s, repair threshold %s", id, text(l.Remaining.V), text(unit.Length(v.Number)))
	}
	return fmt.Sprintf("%s: %s, below %s within %s", id, text(l.Remaining.V), text(l.Required.V), unit.Time.TextUnit(unit.SI, float64(j.target()), 0))
}

func plates(items []Item) int {
	seen := map[int]bool{}
	for i := range items {
		seen[items[i].Plate] = true
	}
	return len(seen)
}

// area is the union of all repairs, each place once; a replaced plate counts
// with its net area.
func (s *shop) area(items []Item) unit.Area {
	var at unit.Area
	gone := map[int]bool{}
	var replaced []int
	for i := range items {
		if it := &items[i]; it.Kind == Replace && !gone[it.Plate] {
			gone[it.Plate] = true
			replaced = append(replaced, it.Plate)
			at += s.plan.Plates[it.Plate].NetArea
		}
	}
	var places []floor.Covered
	for i := range items {
		it := &items[i]
		if (it.Kind != Patch && it.Kind != BuildUp) || !it.Boxed || (gone[it.Plate] && !s.plan.Plates[it.Plate].Placed) {
			continue
		}
		places = append(places, floor.Covered{Plate: it.frame, Box: it.own, Round: it.Shape == Circle})
	}
	return at + s.plan.PlanUnion(places, replaced...)
}

// sum adds up the repairs.
func (r *Result) sum(s *shop) {
	r.Area, r.Plates = s.area(r.Items), plates(r.Items)
	mass, plateMass, known := unit.Mass(0), unit.Mass(0), true
	for i := range r.Items {
		it := &r.Items[i]
		r.Weld += it.Weld
		r.ShellWeld += it.ShellWeld
		switch {
		case it.Kind == Patch && it.Mass.Known:
			mass += it.Mass.V
		case it.Kind == Patch:
			known = false
		case it.Kind == Replace:
			plateMass += it.Mass.V
		}
	}
	r.Vacuum = r.Weld
	if known {
		r.Mass = unit.Some(mass)
	}
	r.PlateMass = unit.Some(plateMass)
	var used, stock float64
	r.Pieces, r.Sheets, r.BoundArea, r.BoundDual, used, stock = r.Cutting.totals()
	if stock > 0 {
		r.Yield = unit.Some(unit.Percent(100 * used / stock))
	}
	sort.SliceStable(r.Unplaced, func(a, b int) bool { return r.Unplaced[a] < r.Unplaced[b] })
}

// left says of a proposal that fails a rule what an engineer can still choose.
func (j *judge) left(it *Item) string {
	failed := func(ids ...string) bool {
		return slices.ContainsFunc(it.Checks, func(c Check) bool { return c.Known && !c.OK && slices.Contains(ids, c.ID) })
	}
	instead := " or replace the plate"
	if j.sector(it.Plate) {
		instead = " or replace the segment"
	}
	switch {
	case !it.Failed():
		return ""
	case failed("critical.patch_on_patch") || slices.ContainsFunc(it.Checks, func(c Check) bool { return !c.OK && strings.Contains(c.Note, "existing patch") }):
		return "no patch keeps the rules beside the existing one: take that one out," + instead
	case failed("critical.projected", "patch.perimeter"):
		return "the metal at the edge does not last: plan a shorter interval," + instead
	}
	return "no size keeps the rules among the welds around it: another shape by an engineer," + instead
}
