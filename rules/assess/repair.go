package assess

import (
	"slices"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// repair is one planned or completed row that changes the metal.
type repair struct {
	row       int
	label     string
	kind      string
	plate     int
	at        floor.Footprint
	boxed     bool
	completed bool
	thickness unit.Maybe[unit.Length]
}

// The kinds of repair, as the sheet spells them.
const (
	kindPatch   = "patch"
	kindBuildUp = "weld build-up"
	kindReplace = "replace plate"
)

func (w *work) readRepairs() {
	for i := range w.in.Repairs {
		row := &w.in.Repairs[i]
		k := w.plateOf(row.Plate)
		if row.Out || k < 0 || !row.Kind.OK() {
			continue
		}
		r := repair{
			row: i, label: row.Label.Value, kind: row.Kind.Value, plate: k,
			completed: inspection.Is(row.Status, "completed"),
		}
		r.at, r.boxed = w.plan.RepairAt(k, row, w.set)
		r.thickness = w.repairThickness(row, k)
		w.repairs = append(w.repairs, r)
	}
}

// repairThickness is the row's own; blank, the criterion for patches, else the
// plate's nominal.
func (w *work) repairThickness(row *inspection.Repair, k int) unit.Maybe[unit.Length] {
	switch {
	case row.Thickness.OK():
		return unit.Some(row.Thickness.Value)
	case row.Thickness.State == inspection.Wrong:
		return unit.Maybe[unit.Length]{}
	case inspection.Is(row.Kind, kindPatch):
		return w.newPatch(k)
	}
	return w.plates[k].nominal
}

// newPatch is the thickness of a patch that gives none.
func (w *work) newPatch(k int) unit.Maybe[unit.Length] {
	if v := w.set.Get(criteria.PatchThickness); v.Set {
		return unit.Some(unit.Length(v.Number))
	}
	if k < 0 {
		return unit.Maybe[unit.Length]{}
	}
	return w.plates[k].nominal
}

// holds says whether a repair takes a location out: its box grown by the patch
// overlap lies in the repair, to 1 mm, also where that reaches over a seam onto
// the location's plate. What reaches beyond the shell has no metal and need not
// be covered; under a round patch the corners must be too.
func (w *work) holds(r *repair, l *Location) bool {
	return r.boxed && l.Box != (floor.Box{}) && r.at.Holds(l.Plate, l.Box, w.number(criteria.PatchOverlap))
}

// fate is what repairs do to the locations in one state.
type fate struct {
	out      []bool // by location
	by       []int  // repair that takes it out, -1
	built    []bool // built up by weld on the product side
	replaced map[int]bool
}

// fateOf works out a state from the rows that count in it.
func (w *work) fateOf(only func(*repair) bool) fate {
	ls := w.res.Locations
	f := fate{out: make([]bool, len(ls)), by: make([]int, len(ls)), built: make([]bool, len(ls)), replaced: map[int]bool{}}
	covered := make([]bool, len(ls))
	byPlate := map[int][]int{}
	for n := range w.repairs {
		r := &w.repairs[n]
		if !only(r) {
			continue
		}
		if r.kind == kindReplace {
			f.replaced[r.plate] = true
		}
		for _, k := range w.under(r) {
			byPlate[k] = append(byPlate[k], n)
		}
	}
	for i := range ls {
		f.by[i] = -1
		l := &ls[i]
		for _, n := range byPlate[l.Plate] {
			r := &w.repairs[n]
			repairable := l.Kind == IndicationAt || l.Kind == ProveUpAt
			switch {
			case r.kind == kindReplace && r.plate == l.Plate && l.Kind != ExtremeAt:
				covered[i] = true
			case r.kind == kindPatch && repairable && w.holds(r, l):
				covered[i] = true
			case r.kind == kindBuildUp && repairable && l.Side == Product && w.holds(r, l):
				f.built[i] = true
			default:
				continue
			}
			if f.by[i] < 0 {
				f.by[i] = n
			}
		}
	}
	for i := range ls {
		f.out[i] = covered[i] && (ls[i].Over < 0 || covered[ls[i].Over])
		if covered[i] && !f.out[i] {
			f.by[i] = -1
		}
	}
	return f
}

// under are the plates on which a repair can take something out.
func (w *work) under(r *repair) []int {
	if r.boxed && w.plan != nil && (r.kind == kindPatch || r.kind == kindBuildUp) && r.plate < len(w.plan.Plates) {
		return r.at.Under()
	}
	return []int{r.plate}
}

// counted lists what a state rests on after repair.
func (w *work) counted(f *fate, only func(*repair) bool) []Counted {
	out := make([]Counted, 0, len(w.res.Locations)+len(w.repairs))
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if !l.Counts || f.out[i] {
			continue
		}
		c := w.entry(i)
		switch {
		case f.built[i]:
			if !l.Sound.Known {
				break
			}
			c.Remaining, c.OnSoil, c.ageless = l.Sound.V, false, false
			c.SoilRate, c.ProductRate = unit.Maybe[unit.Rate]{}, unit.Maybe[unit.Rate]{}
		case l.Over >= 0 && f.built[l.Over]:
			a := w.alone[i]
			c.Remaining, c.OnProduct, c.SoilRate, c.ProductRate = a.r, false, a.soil, unit.Maybe[unit.Rate]{}
		}
		out = append(out, c)
	}
	for n := range w.repairs {
		r := &w.repairs[n]
		if !only(r) || !r.thickness.Known || (r.kind != kindPatch && r.kind != kindReplace) {
			continue
		}
		c := Counted{Location: -1, Label: r.label, Plate: r.plate, OnSoil: true, OnProduct: true, Remaining: r.thickness.V}
		if f := w.in.Repairs[r.row].Thickness; f.OK() {
			c.from = source(f)
		}
		if r.kind == kindPatch && r.boxed && w.plan != nil {
			c.critical, c.ring = w.zonesOf(r.plate, r.at.Zone(w.number(criteria.CriticalZoneWidth)))
		} else {
			_, c.ring = w.zonesOf(r.plate, "")
		}
		out = append(out, c)
	}
	return out
}

// entry is a location as a state counts it.
func (w *work) entry(i int) Counted {
	l := &w.res.Locations[i]
	c := Counted{
		Location: i, Label: l.Label, Plate: l.Plate, OnSoil: l.Side.OnSoil() || l.Over >= 0, OnProduct: l.Side.OnProduct() || l.Over >= 0,
		Remaining: l.Remaining.V, SoilRate: l.SoilRate, ProductRate: l.ProductRate,
		ageless: !l.NoRate && !l.Age.Known,
	}
	c.critical, c.ring = w.locationZones(l)
	return c
}

// asFound is everything that counts.
func (w *work) asFound() []Counted {
	var out []Counted
	if w.room != nil {
		out = w.room.counted[:0]
	}
	out = slices.Grow(out, len(w.res.Locations))
	for i := range w.res.Locations {
		if w.res.Locations[i].Counts {
			out = append(out, w.entry(i))
		}
	}
	if w.room != nil {
		w.room.counted = out
	}
	return out
}

// proposed is the floor with a patch over every location that needs repair.
func (w *work) proposed() []Counted {
	out := make([]Counted, 0, len(w.res.Locations))
	patches := make([]Counted, 0, len(w.res.Locations))
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if !l.Counts {
			continue
		}
		if !w.needs[i] {
			out = append(out, w.entry(i))
			continue
		}
		if t := w.newPatch(l.Plate); t.Known {
			c := Counted{Location: -1, Label: "patch " + l.Label, Plate: l.Plate, OnSoil: true, OnProduct: true, Remaining: t.V}
			c.critical, c.ring = w.zonesOf(l.Plate, l.Zone)
			patches = append(patches, c)
		}
	}
	return append(out, patches...)
}

// findNeeds marks the locations that need repair at as-found rates: thinner
// than what is required plus what is lost until the target, or than the
// repair threshold.
//
//	r < required + Or·(StPr + UPr)
func (w *work) findNeeds() {
	w.needs = make([]bool, len(w.res.Locations))
	target := w.target()
	threshold := w.set.Get(criteria.RepairThreshold)
	required := float64(w.lining.required(unit.Some(target)))
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if !l.Counts || (l.Kind != IndicationAt && l.Kind != ProveUpAt) {
			continue
		}
		need := required
		critical, ring := w.locationZones(l)
		need = max(need, float64(critical.V), float64(ring.V))
		if b := w.basesOf(l.Plate, w.base); b.known() {
			need += float64(target) * float64(b.soil.V+w.productOver(b, unit.Some(target)))
		}
		w.needs[i] = !step.AtLeast(unit.Thickness, float64(l.Remaining.V), need) ||
			(threshold.Set && !step.AtLeast(unit.Thickness, float64(l.Remaining.V), threshold.Number))
	}
	for i := range w.res.Locations {
		if o := w.res.Locations[i].Over; o >= 0 && w.needs[o] {
			w.needs[i] = true
		}
	}
}

// target is the years repairs are chosen for.
func (w *work) target() unit.Years {
	if d := w.in.Tank.DesiredInterval; d.OK() {
		return d.Value
	}
	return w.set.Years(criteria.PlanningInterval)
}
