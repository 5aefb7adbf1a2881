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

// overlap is the least metal between what a patch takes in and its edge: the
// indications it covers, and those that need repair and reach under it. What a
// row lists without covering it is another finding.
func (j *judge) overlap(it *Item) (float64, bool) {
	best, any := math.Inf(1), false
	for i := range j.res.Locations {
		l := &j.res.Locations[i]
		if !repairable(l) || !l.Counts {
			continue
		}
		covered := slices.Contains(it.Locations, i)
		if !covered && (j.renewed[l.Plate] || j.listed(it, l) || !wants(l) || !j.meets(it, l)) {
			continue
		}
		b, ok := j.carried(l.Plate, l.Box, it.frame)
		if !ok {
			continue
		}
		by := math.Min(math.Min(b.U1-it.own.U1, it.own.U2-b.U2), it.own.V2-b.V2)
		if !j.sector(it.frame) || it.own.V1 > fine {
			by = math.Min(by, b.V1-it.own.V1)
		}
		if it.Shape == Circle {
			c, far := it.own.Centre(), 0.0
			for _, u := range []float64{b.U1, b.U2} {
				for _, v := range []float64{b.V1, b.V2} {
					far = math.Max(far, math.Hypot(u-c.X, v-c.Y))
				}
			}
			by = math.Min(it.own.Length(), it.own.Width())/2 - far
		}
		if l.Plate != it.frame && j.sector(it.frame) && by < j.z.overlap && by >= j.z.overlap-1-fine {
			by = j.z.overlap // bends in a frame along the shell, within a millimetre
		}
		best, any = math.Min(best, by), true
	}
	return best, any
}

// meets says whether a place shares area with a patch.
func (j *judge) meets(it *Item, l *assess.Location) bool {
	if l.Plate == it.Plate && it.frame == it.Plate && it.Shape != Circle {
		return l.Box.Overlaps(it.own)
	}
	if l.Plate != it.Plate && !j.besides(l.Plate, it) {
		return false
	}
	d, ok := j.apartFrom(it, l.Plate, l.Box, 0)
	return ok && d < fine
}

func (j *judge) listed(it *Item, l *assess.Location) bool {
	if it.Row < 0 || l.Indication < 0 {
		return false
	}
	id := inspection.Fold(j.in.Indications[l.Indication].ID.Value)
	return slices.ContainsFunc(j.in.Repairs[it.Row].Indications.Or(nil), func(s string) bool { return inspection.Fold(s) == id })
}

// wants says whether a verdict asks for a repair.
func wants(l *assess.Location) bool {
	return l.Verdict == assess.Repair || l.Verdict == assess.RepairFirst || l.Verdict == assess.Engineering || l.Verdict == assess.Repaired
}

// past is how far a patch reaches beyond a weld it lies over, on the side where
// it reaches less.
func (j *judge) past(it *Item, s strip) float64 {
	b := it.own
	switch {
	case !s.patch && it.Shape == Circle:
		return j.plan.BeyondRound(it.frame, b, s.seam)
	case !s.patch:
		return j.plan.Beyond(it.frame, b, s.seam)
	case it.Shape == Circle && s.round:
		c, o := b.Centre(), s.box.Centre()
		return math.Max(0, it.rounding()-math.Hypot(c.X-o.X, c.Y-o.Y)-math.Min(s.box.Length(), s.box.Width())/2)
	case it.Shape == Circle:
		return math.Max(0, -b.SticksOut(true, s.box))
	}
	u := math.Min(s.box.U1-b.U1, b.U2-s.box.U2)
	v := math.Min(s.box.V1-b.V1, b.V2-s.box.V2)
	return math.Max(0, math.Min(u, v))
}

// inside says whether a patch stands on plates, within the shell.
func (j *judge) inside(it *Item) Check {
	const id, edge = "patch.inside", 1.0
	if !j.plan.Plates[it.Plate].Placed || !j.plan.RimKnown {
		pl := &j.plan.Plates[it.Plate]
		if !pl.Sized || pl.Sector {
			return unchecked(id, "the plate has no place in plan", patchClause, "derived")
		}
		return told(id, floor.Box{U2: pl.Length, V2: pl.Width}.Grow(edge).Covers(it.own), "", patchClause, "derived")
	}
	whole, ok := j.outline(it, it.own)
	if !ok {
		return unchecked(id, "no place in plan", patchClause, "derived")
	}
	off := 0.0
	for _, p := range whole {
		off = math.Max(off, math.Hypot(p.X, p.Y)-j.plan.Radius)
	}
	ring, _ := j.outline(it, it.own.Grow(-edge))
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		for _, f := range []float64{0, 0.25, 0.5, 0.75} {
			at := floor.Point{X: p.X + f*(q.X-p.X), Y: p.Y + f*(q.Y-p.Y)}
			if math.Hypot(at.X, at.Y) <= j.plan.Radius-edge && j.plan.PlateAt(at) < 0 {
				return told(id, false, "reaches where there is no plate", patchClause, "derived")
			}
		}
	}
	if off > edge {
		return Check{
			ID: id, Known: true, Value: unit.Some(unit.Length(off)), Limit: unit.Some(unit.Length(0)), Kind: unit.Size, Op: "≤",
			Note: "reaches beyond the shell", Clause: patchClause, Source: "derived",
		}
	}
	return told(id, true, "", patchClause, "derived")
}

// outline is a box of a patch's in plan, of a round one as a polygon.
func (j *judge) outline(it *Item, b floor.Box) (floor.Ring, bool) {
	if it.Shape != Circle {
		return j.plan.Outline(it.frame, b)
	}
	const sides = 72
	c, r := b.Centre(), math.Min(b.Length(), b.Width())/2
	ring := make(floor.Ring, sides)
	for i := range ring {
		s, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		at, ok := j.plan.LocalToPlan(it.frame, floor.Point{X: c.X + r*cos, Y: c.Y + r*s})
		if !ok {
			return nil, false
		}
		ring[i] = at
	}
	return ring, true
}

// perimeter is the least thickness known under a patch's edge.
func (j *judge) perimeter(it *Item) Check {
	least, at, any := j.toe(it)
	if !any {
		return unchecked("patch.perimeter", "no reading under the edge", patchClause, countyScope)
	}
	c := held("patch.perimeter", least, "≥", leastMetal, patchClause, countyScope).against("at " + at)
	c.Kind = unit.Thickness
	return c
}

// toe is the least thickness measured under the edge of a patch, and where:
// indications and prove-ups that it crosses, and readings beside it. A plate
// that is replaced has none of them any more.
func (j *judge) toe(it *Item) (least float64, where string, any bool) {
	least = math.Inf(1)
	tol := j.set.Number("Position tolerance")
	take := func(r float64, at string) {
		if any = true; r < least {
			least, where = r, at
		}
	}
	for i := range j.res.Locations {
		l := &j.res.Locations[i]
		if !repairable(l) || !l.Counts || !l.Remaining.Known || j.renewed[l.Plate] {
			continue
		}
		if j.besides(l.Plate, it) && j.edgeOver(it, l) {
			take(float64(l.Remaining.V), l.Label)
		}
	}
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		if r.Out || !r.Thickness.OK() || !r.X.OK() || !r.Y.OK() {
			continue
		}
		k := j.plateOf(r.Plate)
		if k < 0 || j.renewed[k] {
			continue
		}
		at, ok := j.plan.ToLocal(k, float64(r.X.Value), float64(r.Y.Value))
		if !ok {
			continue
		}
		if b, ok := j.nearby(k, floor.BoxAt(at, 0, 0), it); ok && it.within(b.Centre(), tol) && !j.inner(it, b.Centre(), tol) {
			take(float64(r.Thickness.Value), "a reading on "+r.Plate.Text)
		}
	}
	return least, where, any
}

// edgeOver says whether the edge of a patch runs over a place.
func (j *judge) edgeOver(it *Item, l *assess.Location) bool {
	if it.Shape != Circle {
		return j.crosses(it.frame, it.own, l)
	}
	b, ok := j.carried(l.Plate, l.Box, it.frame)
	return ok && it.own.SticksOut(true, b) > fine && j.meets(it, l)
}

// within says whether a point of a patch's frame lies in the patch grown by so
// much.
func (i *Item) within(at floor.Point, grown float64) bool {
	if i.Shape == Circle {
		c := i.own.Centre()
		return math.Hypot(at.X-c.X, at.Y-c.Y) <= i.rounding()+grown+fine
	}
	return i.own.Grow(grown).Has(at)
}

// inner says whether a point of a patch's frame lies in it farther from its edge
// than so much. At the shell it has none.
func (j *judge) inner(it *Item, at floor.Point, off float64) bool {
	if j.sector(it.frame) && it.own.V1 <= fine {
		at.Y = math.Max(at.Y, it.own.V1+off)
	}
	return it.within(at, -off)
}

// nearby carries a box into the frame of a repair when it may meet it.
func (j *judge) nearby(plate int, b floor.Box, it *Item) (floor.Box, bool) {
	if !j.besides(plate, it) {
		return floor.Box{}, false
	}
	return j.carried(plate, b, it.frame)
}

// besides says whether a plate is a repair's own, joined to it, or under the
// repair: the ring is joined to no plate that lies beneath its edge.
func (j *judge) besides(plate int, it *Item) bool {
	if it.beside == nil {
		it.beside = j.platesBeside(it.Plate, it.frame, it.own)
	}
	return slices.Contains(it.beside, plate)
}

// platesBeside are a plate, those joined to it, and those under a box.
func (s *shop) platesBeside(plate, frame int, b floor.Box) []int {
	out := append([]int{plate}, s.plan.Neighbours(plate)...)
	for _, k := range s.plan.Under(frame, b) {
		if k < s.own && !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
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

// critical are the rules within the tombstone distance of the shell and in the
// critical zone.
func (j *judge) critical(it *Item, all []Item) []Check {
	const std = "API Std 653"
	var out []Check
	if it.Thickness.Known {
		c := held("critical.thickness", float64(it.Thickness.V), "≤", j.z.thickest, criticalClause, std)
		c.Kind = unit.Thickness
		out = append(out, c)
	} else {
		out = append(out, unchecked("critical.thickness", "thickness not known", criticalClause, std))
	}
	along := j.alongShell(it)
	out = append(out, held("critical.length", along, "≤", j.z.longest, criticalClause, std))
	if d, ok := j.fromShell(it); ok && d < j.z.tombstone-fine {
		note := ""
		ok := it.Shape == Tombstone && d <= 1
		switch {
		case ok && math.Abs(it.off) > 1:
			note = "X and Y put its outer side " + unit.Size.TextUnit(j.set.System, math.Abs(it.off), 0) + " off the shell; taken to stand at it"
		case it.Shape != Tombstone:
			note = "within " + unit.Size.TextUnit(j.set.System, j.z.tombstone, 0) + " of the shell and no tombstone"
		case d > 1:
			note = "stops " + unit.Size.TextUnit(j.set.System, d, 0) + " short of the shell"
		}
		out = append(out, told("critical.tombstone", ok, note, criticalClause, std))
	}
	under := j.onPatch(it, all)
	out = append(out, told("critical.patch_on_patch", under == "", under, criticalClause, std))
	if c, ok := j.spacing(it, all); ok {
		out = append(out, c)
	}
	return append(out, j.projected(it))
}

// onPatch is the patch that another stands on, existing or planned.
func (j *judge) onPatch(it *Item, all []Item) (under string) {
	for _, s := range j.old {
		if d, ok := j.apartFrom(it, s.at.Frame, s.core(), s.rounding()); ok && d <= fine {
			under = "over existing patch " + s.label
		}
	}
	at, placed := j.plan.Extent(it.frame, it.own)
	for i := range all {
		o := &all[i]
		if under != "" || o.Row == it.Row || o.Kind != Patch || !o.Boxed || (placed && at.Apart(j.extents[i]) > fine) {
			continue
		}
		if d, ok := j.apartFrom(it, o.frame, o.core(), o.rounding()); ok && d <= fine {
			under = "over " + o.Label
		}
	}
	return under
}

// alongShell is a patch's length along the shell: its own, or of a patch along
// the plate's axes the side that runs nearer to the shell's direction.
func (j *judge) alongShell(it *Item) float64 {
	if j.sector(it.frame) {
		return it.own.Length()
	}
	c, ok := j.plan.LocalToPlan(it.frame, it.own.Centre())
	o, _ := j.plan.LocalToPlan(it.frame, floor.Point{X: it.own.Centre().X + 1, Y: it.own.Centre().Y})
	if !ok {
		return math.Max(it.own.Length(), it.own.Width())
	}
	r := math.Hypot(c.X, c.Y)
	radial := math.Abs((o.X-c.X)*c.X+(o.Y-c.Y)*c.Y) / math.Max(r, 1)
	if radial > math.Sqrt2/2 {
		return it.own.Width()
	}
	return it.own.Length()
}

// spacing is the clear metal to the nearest other patch, held against half the
// lesser dimension of the two.
func (j *judge) spacing(it *Item, all []Item) (Check, bool) {
	best, limit, to := math.Inf(1), 0.0, ""
	at, placed := j.plan.Extent(it.frame, it.own)
	look := func(name string, frame int, b floor.Box, rounding, lesser float64, extent floor.Bounds) {
		need := math.Min(math.Min(float64(it.Length), float64(it.Width)), lesser) / 2
		if placed && extent.Min.X <= extent.Max.X && at.Apart(extent)-need > best-limit+fine {
			return // farther off than the nearest so far, however it is measured
		}
		d, ok := j.apartFrom(it, frame, b, rounding)
		if !ok {
			return
		}
		if d-need < best-limit {
			best, limit, to = d, need, name
		}
	}
	for i := range all {
		o := &all[i]
		if o.Label == it.Label && o.Row == it.Row || o.Kind != Patch || !o.Boxed {
			continue
		}
		look(o.Label, o.frame, o.core(), o.rounding(), math.Min(float64(o.Length), float64(o.Width)), j.extents[i])
	}
	for _, s := range j.old {
		extent := s.extent
		if !s.placed {
			extent = nowhere
		}
		look("existing patch "+s.label, s.at.Frame, s.core(), s.rounding(), math.Min(s.at.Box.Length(), s.at.Box.Width()), extent)
	}
	if math.IsInf(best, 1) {
		return Check{}, false
	}
	return held("critical.spacing", best, "≥", limit, criticalClause, memory).against("to " + to), true
}

// projected is the plate at the weld toe at the end of the interval.
//
//	r − Or·(StPr + UPr) ≥ requirement of the critical zone and, on it, the ring
//
// r least thickness known at the patch's edge, else the plate's least sound
// metal.
func (j *judge) projected(it *Item) Check {
	const id = "critical.projected"
	f := &j.res.AsFound
	need, whole := j.res.CriticalNeed(it.Plate)
	switch {
	case !need.Known:
		return unchecked(id, "the requirement is not known", weldToe, "API Std 653")
	case !f.SoilRate.Known || !f.ProductRate.Known:
		return unchecked(id, "rates are not known", weldToe, "API Std 653")
	}
	r, at, any := j.toe(it)
	if !any {
		if r = j.metal[it.Plate]; math.IsNaN(r) {
			return unchecked(id, "no thickness known at the edge", weldToe, "API Std 653")
		}
		at = "sound metal of " + j.in.Plates[it.Plate].Label.Text
	}
	years := float64(j.target())
	c := held(id, r-years*float64(f.SoilRate.V+f.ProductRate.V), "≥", float64(need.V), weldToe, "API Std 653")
	c.Kind = unit.Thickness
	if c.OK && !whole {
		return unchecked(id, "what the ring requires is not known", weldToe, "API Std 653")
	}
	c.Note = "after " + unit.Time.TextUnit(unit.SI, years, 0)
	if !c.OK {
		c.Note += ", " + at
	}
	return c
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
