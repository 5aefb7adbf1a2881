package compare

import (
	"math"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/unit"
)

// Former is a place of the earlier inspection, laid on the present plan, for
// drawings. What became of it stands in its pair.
type Former struct {
	Pair      int         // index in Result.Pairs: class, partner, change, growth
	ID        string      // its own label then, without the plate
	OldPlate  string      // its plate's label then
	Plate     int         // index in the new Inspection.Plates, −1 without a counterpart
	At        floor.Point // in the present plan, mm
	Placed    bool        // At is known
	Elsewhere bool        // placed by the earlier plan alone, since its plate has no counterpart now
	Box       floor.Box   // its extent, in the frame of the new plate or, if Elsewhere, in plan
	Bearing   float64     // degrees, NaN without a north
	Radius    float64     // from the centre, mm
	Side      assess.Side
	Basis     assess.Basis            // where Remaining came from then
	Remaining unit.Maybe[unit.Length] // then; an estimate without its allowance
	Loss      unit.Maybe[unit.Percent]
}

// Former lists every place of the earlier inspection in the order of the pairs.
// plan is that of the new inspection. Empty when nothing was compared.
func (r *Result) Former(plan *floor.Plan) []Former {
	return r.former(plan, func(*Pair) bool { return true })
}

// FormerOn is Former for one plate of the new inspection.
func (r *Result) FormerOn(plan *floor.Plan, plate int) []Former {
	return r.former(plan, func(p *Pair) bool { return p.Plate == plate })
}

func (r *Result) former(plan *floor.Plan, wanted func(*Pair) bool) []Former {
	if len(r.Refused) > 0 || r.old.In == nil || plan == nil {
		return nil
	}
	var out []Former
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.Old < 0 || !wanted(p) {
			continue
		}
		l := &r.old.Found.Locations[p.Old]
		f := Former{
			Pair: i, ID: ID(r.old.In, l), OldPlate: label(r.old.In, p.OldPlate), Plate: p.Plate, Bearing: math.NaN(),
			Side: l.Side, Basis: l.Basis, Remaining: p.OldR, Loss: l.Loss,
		}
		r.lay(&f, p, l, plan)
		out = append(out, f)
	}
	return out
}

// lay finds where a former place lies in the present plan: by its plate, or,
// where that is gone, by the compass in the tank.
func (r *Result) lay(f *Former, p *Pair, l *assess.Location, plan *floor.Plan) {
	size := func(at floor.Point, across bool) floor.Box {
		u, v := l.Box.Length()/2, l.Box.Width()/2
		if across {
			u, v = v, u
		}
		return floor.Box{U1: at.X - u, V1: at.Y - v, U2: at.X + u, V2: at.Y + v}
	}
	if p.Plate >= 0 {
		at, ok := r.stood(p, plan)
		if !ok {
			return
		}
		f.Box = size(at, r.turnedBy(p.Plate)%2 == 1)
		f.At, f.Placed = plan.LocalToPlan(p.Plate, at)
	} else if l.Placed {
		f.At, f.Placed, f.Elsewhere = l.At, true, true
		if old := r.old.Plan; old.NorthKnown && plan.NorthKnown && old.UpBearing != plan.UpBearing {
			f.At, f.Placed = plan.AtBearing(old.FromCentre(l.At), old.Bearing(l.At))
		}
		f.Box = size(f.At, false)
	}
	if f.Placed {
		f.Bearing, f.Radius = plan.Bearing(f.At), plan.FromCentre(f.At)
	}
}

// stood is where the old place of a pair lay, in the new plate's frame.
func (r *Result) stood(p *Pair, plan *floor.Plan) (floor.Point, bool) {
	l := &r.old.Found.Locations[p.Old]
	x, y := rowOf(r.old.In, l)
	if !x.OK() || !y.OK() {
		return floor.Point{}, false
	}
	at, ok := r.old.Plan.ToLocal(p.OldPlate, float64(x.Value), float64(y.Value))
	if !ok {
		return at, false
	}
	return crossed(plan, p.Plate, r.turnedBy(p.Plate), at), true
}

// turnedBy is by how many quarters a new plate's frame is turned against then.
// Result.Plates begins with the new plates in their order.
func (r *Result) turnedBy(plate int) int { return r.Plates[plate].quarters }
