package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

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
		row := &w.in.Patches[i]
		b, ok := w.box(p.plate, row.X, row.Y, row.Length, row.Width)
		if !ok || !b.Has(p.box.Centre()) {
			continue
		}
		t, from := w.patchMetal(i, p.plate)
		if p.patch >= 0 && !(t.Known && (!p.nominal.Known || t.V < p.nominal.V)) {
			continue
		}
		p.patch, p.nominal, p.from, p.age = i, t, as("t_nom", from), w.patchAge(i, p.plate)
		p.sound, p.soundFrom = t, as("t_s", from)
	}
	return p
}

// patchMetal is an existing patch's thickness; blank, the plate's nominal.
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

// put finds the location's place in plan and its zone.
func (w *work) put(l *Location, at *place) {
	if at.plate < 0 {
		return
	}
	if w.plates[at.plate].annular {
		l.Zone = floor.Annular
	}
	if !at.boxed || w.plan == nil {
		return
	}
	if z := w.plan.ZoneOf(at.plate, at.box, w.number(criteria.CriticalZoneWidth)); z != "" {
		l.Zone = z
	}
	if l.At, l.Placed = w.plan.LocalToPlan(at.plate, at.box.Centre()); l.Placed {
		l.Bearing, l.Radius = w.plan.Bearing(l.At), w.plan.FromCentre(l.At)
	}
}
