package repair

import (
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Where the rules for patches stand. The bottom-repair clause carries another
// number in other editions; the parts below it keep theirs.
var (
	patchClause    = api653_5.Clause(api653_5.BottomRepair) + ".1.1"
	criticalClause = api653_5.Clause(api653_5.BottomRepair) + ".1.2"
	weldToe        = criticalClause + ".2"
	weldFigure     = "Figure 9.13"
)

const (
	siteProcedure = "API 653, through a public site procedure"
	countyScope   = "county repair scope, 2010"
	practice      = "common practice, no source"
	memory        = "from memory, verify"
)

// leastMetal is the thickness that metal under a patch's edge, or under a weld
// build-up, keeps at least.
//
// Source: county repair scope, 2010 (0.10 in); for a build-up from memory,
// verify.
const leastMetal = 0.10 * float64(unit.Inch)

// leastOverDent is the thickness of a patch over a dent.
//
// Source: API 653 9.10.1.1, through a public site procedure (1/4 in).
const leastOverDent = 0.25 * float64(unit.Inch)

// judge holds repairs against the rules for them.
type judge struct {
	*shop
	res     *assess.Result
	extents []floor.Bounds // of the repairs in plan, nowhere without a place
	renewed map[int]bool   // plates that are replaced
	metal   []float64      // least sound metal of each plate, NaN unknown
}

// soundMetal is the least sound metal of each plate, which a median hides.
func soundMetal(res *assess.Result) []float64 {
	out := make([]float64, len(res.Plates))
	for i := range out {
		out[i] = math.NaN()
	}
	for i := range res.Locations {
		if l := &res.Locations[i]; l.Kind == assess.SoundMetal && l.Plate >= 0 && l.Remaining.Known {
			out[l.Plate] = float64(l.Remaining.V)
		}
	}
	return out
}

// held writes a check of a value against a limit.
func held(id string, value float64, op string, limit float64, clause, source string) Check {
	c := Check{
		ID: id, Known: true, Value: unit.Some(unit.Length(value)), Limit: unit.Some(unit.Length(limit)), Kind: unit.Size, Op: op,
		Clause: clause, Source: source, Verify: source == memory,
	}
	if op == "≤" {
		c.OK = step.AtMost(unit.Size, value, limit)
	} else {
		c.OK = step.AtLeast(unit.Size, value, limit)
	}
	return c
}

// against says of a check that fails what the repair stands against.
func (c Check) against(what string) Check {
	if !c.OK {
		c.Note = what
	}
	return c
}

// weld is a weld as it is told of.
func (s *shop) weld(w strip) string {
	if w.patch {
		return "existing patch " + w.label
	}
	seam := &s.plan.Seams[w.seam]
	switch {
	case seam.Kind == floor.RingSeam:
		return "the ring's inner edge"
	case seam.B < 0:
		return "the end of " + s.in.Plates[seam.A].Label.Text
	}
	return "seam " + s.in.Plates[seam.A].Label.Text + "/" + s.in.Plates[seam.B].Label.Text
}

func told(id string, ok bool, note, clause, source string) Check {
	return Check{ID: id, OK: ok, Known: true, Note: note, Clause: clause, Source: source, Verify: source == memory}
}

func unchecked(id, why, clause, source string) Check {
	return Check{ID: id, Note: why, Clause: clause, Source: source, Verify: source == memory}
}

// checks are all rules that apply to a repair.
func (j *judge) checks(it *Item, all []Item) []Check {
	switch it.Kind {
	case BuildUp:
		return j.buildUp(it)
	case Patch:
	default:
		return nil
	}
	if !it.Boxed {
		return []Check{unchecked("patch.overlap", "no place or size", patchClause, siteProcedure)}
	}
	out := j.patch(it, all)
	switch d, ok := j.fromShell(it); {
	case it.Zone == floor.Critical || (ok && d < j.z.tombstone-fine):
		out = append(out, j.critical(it, all)...)
	case ok && it.Shape == Tombstone:
		out = append(out, told("critical.tombstone", false, "stands "+unit.Size.TextUnit(j.set.System, d, 0)+" from the shell", criticalClause, "API Std 653"))
	}
	return out
}

// patch are the rules for every patch.
func (j *judge) patch(it *Item, all []Item) []Check {
	a, b := float64(it.Length), float64(it.Width)
	lesser := math.Min(a, b)
	var out []Check
	if v, ok := j.overlap(it); ok {
		out = append(out, held("patch.overlap", v, "≥", j.z.overlap, patchClause, siteProcedure))
	}
	out = append(out, held("patch.minimum", lesser, "≥", j.z.minimum, patchClause, siteProcedure))

	crossed, clear, beyond := false, math.Inf(1), math.Inf(1)
	var over, by string                    // the welds that it reaches least beyond, and that it stands nearest to
	within := math.Max(4*j.z.clearance, 1) // how far off another weld is looked for, mm
	strips := j.near(it.frame, it.core(), within+it.rounding()+fine)
	for _, s := range strips {
		s.distance = math.Max(0, s.distance-it.rounding())
		if s.distance > fine {
			if s.distance < clear {
				clear, by = s.distance, "to "+j.weld(s)
			}
			continue
		}
		crossed = true
		if past := j.past(it, s); past < beyond {
			beyond, over = past, "over "+j.weld(s)
		}
	}
	if crossed {
		out = append(out, held("patch.minimum_seam", lesser, "≥", j.z.overWeld, patchClause, siteProcedure).against(over),
			held("patch.beyond_seam", beyond, "≥", j.z.clearance, patchClause, memory).against(over))
	}
	beside, note := j.beside(it, all)
	switch {
	case beside < math.Min(clear, j.z.clearance-fine):
		out = append(out, held("patch.weld_clearance", beside, "≥", j.z.clearance, weldFigure, siteProcedure).against(note))
	case !j.plan.Plates[it.Plate].Placed:
		out = append(out, unchecked("patch.weld_clearance", "the plate has no place in plan", weldFigure, siteProcedure))
	case !math.IsInf(clear, 1):
		out = append(out, held("patch.weld_clearance", clear, "≥", j.z.clearance, weldFigure, siteProcedure).against(by))
	default:
		out = append(out, told("patch.weld_clearance", true, "no other weld within "+unit.Size.TextUnit(j.set.System, within, 0), weldFigure, siteProcedure))
	}
	if it.Shape != Circle {
		out = append(out, held("patch.corners", math.Min(j.z.radius, lesser/2), "≥", j.z.radius, patchClause, practice))
	}
	out = append(out, j.inside(it), j.perimeter(it))
	return append(out, j.dents(it, crossed)...)
}

// beside is the clear distance from a planned patch to the nearest other one,
// whose weld is a weld as any other. The program's own stand apart by Patch gap.
func (j *judge) beside(it *Item, all []Item) (least float64, note string) {
	least = math.Inf(1)
	if it.Row < 0 {
		return least, ""
	}
	at, placed := j.plan.Extent(it.frame, it.own)
	for i := range all {
		o := &all[i]
		if o.Row == it.Row || o.Kind != Patch || !o.Boxed {
			continue
		}
		if e := j.extents[i]; placed && e.Min.X <= e.Max.X && at.Apart(e) > j.z.clearance+1 {
			continue
		}
		d, ok := j.apartFrom(it, o.frame, o.core(), o.rounding())
		if ok && d < least {
			least, note = d, "to "+o.Label
		}
	}
	return least, note
}

// core and rounding are a patch as a box that is rounded by a radius: a round
// one's centre and its radius, another's outline and nothing.
func (i *Item) core() floor.Box { return core(i.own, i.Shape == Circle) }

func (i *Item) rounding() float64 { return rounding(i.own, i.Shape == Circle) }

// apartFrom is the clear distance of a patch from a box rounded by a radius.
func (j *judge) apartFrom(it *Item, frame int, b floor.Box, rounding float64) (float64, bool) {
	d, ok := j.plan.ToBox(it.frame, it.core(), frame, b)
	return math.Max(0, d-it.rounding()-rounding), ok
}

// fromShell is the clear distance of a patch from the shell.
func (j *judge) fromShell(it *Item) (float64, bool) {
	d, ok := j.shellDistance(it.frame, it.core())
	return d - it.rounding(), ok
}

// dents judges a patch over a dent; the dent's own size has no column.
func (j *judge) dents(it *Item, crossed bool) []Check {
	for i := range j.in.Visual {
		v := &j.in.Visual[i]
		if !inspection.Is(v.Item, "dent") || !v.X.OK() || !v.Y.OK() {
			continue
		}
		k := j.plateOf(v.Plate)
		if k < 0 {
			continue
		}
		at, ok := j.plan.ToLocal(k, float64(v.X.Value), float64(v.Y.Value))
		if !ok {
			continue
		}
		b, ok := j.nearby(k, floor.BoxAt(at, 0, 0), it)
		if !ok || !it.within(b.Centre(), 0) {
			continue
		}
		if !it.Thickness.Known {
			return []Check{unchecked("patch.dent", "the patch's thickness is not known", patchClause, siteProcedure)}
		}
		limit := math.Max(leastOverDent, float64(j.nominal(it.Plate).V))
		c := held("patch.dent", float64(it.Thickness.V), "≥", limit, patchClause, siteProcedure)
		c.Kind, c.Note = unit.Thickness, "over dent "+v.ID.Text+"; its size, at most 12 in, is not recorded"
		if crossed {
			c.OK, c.Note = false, c.Note+"; over a seam or patch"
		}
		return []Check{c}
	}
	return nil
}

// target is the years that repairs are chosen for.
func (s *shop) target() unit.Years {
	if d := s.in.Tank.DesiredInterval; d.OK() {
		return d.Value
	}
	return s.set.Years("Planning interval")
}

// buildUp are the rules for filling pits by weld.
func (j *judge) buildUp(it *Item) []Check {
	const id = "buildup.remaining"
	var wrong []string
	least, any := math.Inf(1), false
	for i := range j.res.Locations {
		l := &j.res.Locations[i]
		if !repairable(l) || !l.Counts || !l.Remaining.Known || l.Plate != it.Plate {
			continue
		}
		if !slices.Contains(it.Locations, i) && !(it.Boxed && l.Box.Overlaps(it.Box)) {
			continue
		}
		least, any = math.Min(least, float64(l.Remaining.V)), true
		if l.Side != assess.Product {
			wrong = append(wrong, l.Label+" is not on the product side")
		}
		if l.Zone == floor.Critical {
			wrong = append(wrong, l.Label+" is in the critical zone")
		}
	}
	if it.Zone == floor.Critical && len(wrong) == 0 {
		wrong = append(wrong, "in the critical zone")
	}
	if !any {
		if len(wrong) > 0 {
			return []Check{told(id, false, strings.Join(wrong, "; "), patchClause, memory)}
		}
		return []Check{unchecked(id, "no thickness known under it", patchClause, memory)}
	}
	c := held(id, least, "≥", leastMetal, patchClause, memory)
	c.Kind = unit.Thickness
	if len(wrong) > 0 {
		c.OK, c.Note = false, strings.Join(wrong, "; ")
	}
	return []Check{c}
}
