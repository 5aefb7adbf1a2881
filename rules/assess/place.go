package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// lies is where a row with a box lies on its plate.
func (w *work) lies(at *place) floor.Footprint {
	if !at.boxed {
		return floor.Footprint{}
	}
	return floor.Footprint{Plan: w.plan, Plate: at.plate, Frame: at.plate, Box: at.box}
}

// place is where a row stands and of what metal it is: the plate's, or that of
// an existing patch it lies on.
type place struct {
	plate     int
	box       floor.Box
	boxed     bool
	patch     int
	nominal   unit.Maybe[unit.Length]
	from      step.Input
	sound     unit.Maybe[unit.Length] // t_s without a prove-up of its own
	soundFrom step.Input
	age       unit.Maybe[unit.Years]
	side      Side
}

// at finds the metal of a row. On several patches the thinnest counts.
func (w *work) at(plateLabel inspection.Label, x, y, length, width inspection.Length) place {
	p := place{plate: w.plateOf(plateLabel), patch: -1}
	p.box, p.boxed = w.box(p.plate, x, y, length, width)
	if p.plate < 0 {
		p.from = step.Input{Symbol: "t_nom", Kind: unit.Thickness}
		return p
	}
	pl := &w.plates[p.plate]
	p.nominal, p.from, p.age = pl.nominal, pl.from, pl.age
	p.sound, p.soundFrom = pl.soundOf()
	if !p.boxed {
		return p
	}
	for _, i := range w.patches[p.plate] {
		on := &w.patchAt[i]
		if !on.Has(p.plate, p.box.Centre(), 0) {
			continue
		}
		t, from := w.patchMetal(i, on.Plate)
		if p.patch >= 0 && !(t.Known && (!p.nominal.Known || t.V < p.nominal.V)) {
			continue
		}
		p.patch, p.nominal, p.from, p.age = i, t, as("t_nom", from), w.patchAge(i, on.Plate)
		p.sound, p.soundFrom = t, as("t_s", from)
	}
	return p
}

// readPatches finds where the existing patches lie: on their own plate and, over
// a seam, on the next.
func (w *work) readPatches() {
	if w.like != nil {
		w.patches, w.patchAt = w.like.patches, w.like.patchAt
		return
	}
	w.patches, w.patchAt = make([][]int, len(w.in.Plates)), make([]floor.Footprint, len(w.in.Patches))
	for i := range w.in.Patches {
		row := &w.in.Patches[i]
		k := w.plateOf(row.Plate)
		if k < 0 || row.Out {
			continue
		}
		at, ok := w.plan.PatchAt(k, row, w.set)
		if !ok { // without a size it reaches as far as an indication without one
			at = floor.Footprint{Plan: w.plan, Plate: k, Frame: k}
			if at.Box, ok = w.box(k, row.X, row.Y, row.Length, row.Width); !ok {
				continue
			}
		}
		w.patchAt[i] = at
		for _, n := range at.Under() {
			w.patches[n] = append(w.patches[n], i)
		}
	}
}

// patchMetal is an existing patch's thickness; blank, the nominal of the plate it
// is listed under.
func (w *work) patchMetal(i, plate int) (unit.Maybe[unit.Length], step.Input) {
	f := w.in.Patches[i].Thickness
	if f.OK() {
		return unit.Some(f.Value), cell("t_p", "patch thickness", f, unit.Thickness)
	}
	if f.State == inspection.Wrong || plate < 0 {
		return unit.Maybe[unit.Length]{}, step.Input{Symbol: "t_p", Kind: unit.Thickness}
	}
	return w.plates[plate].nominal, as("t_p", w.plates[plate].from)
}

func (w *work) patchAge(i, plate int) unit.Maybe[unit.Years] {
	f := w.in.Patches[i].Installed
	switch {
	case f.OK():
		return w.age(f)
	case f.State == inspection.Wrong:
		return unit.Maybe[unit.Years]{}
	}
	return w.plates[plate].age
}

// put finds the location's place in plan and its zone from where it lies, which
// is nowhere without a box.
func (w *work) put(l *Location, at floor.Footprint) {
	if l.Plate < 0 {
		return
	}
	if w.plates[l.Plate].annular {
		l.Zone = floor.Annular
	}
	if at.Plan == nil {
		return
	}
	if z := at.Zone(w.number(criteria.CriticalZoneWidth)); z != "" {
		l.Zone = z
	}
	if l.At, l.Placed = at.Centre(); l.Placed {
		l.Bearing, l.Radius = w.plan.Bearing(l.At), w.plan.FromCentre(l.At)
	}
}
