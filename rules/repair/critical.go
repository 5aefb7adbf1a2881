package repair

import (
	"math"

	"platebook/rules/floor"
	"platebook/rules/unit"
)

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
