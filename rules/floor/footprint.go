package floor

import (
	"math"
	"slices"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Footprint is where a repair or a patch found lies on the floor: a box along
// its plate, a circle in it, or of a tombstone a box along the shell.
type Footprint struct {
	Plan  *Plan // in whose frames it is told: the floor's, or for a tombstone with those along the shell
	Plate int   // that it is listed under
	Frame int   // of Box: the plate's, or one along the shell
	Box   Box
	Round bool
	// Off is how far from the shell, inward, X and Y put a tombstone that is
	// taken to stand at it; mm.
	Off float64
}

// typedTo is how far from the shell, mm, the outer side of a tombstone on an
// annular plate may come to lie by the last digit that is printed of a place,
// 0.1 in, and of a size.
//
// Source: derived, half of 0.1 in and a little.
const typedTo = 1.5

// RepairAt is the footprint of a planned repair; false when it lacks a place or
// a size.
func (p *Plan) RepairAt(plate int, r *inspection.Repair, set *criteria.Set) (Footprint, bool) {
	return p.footprint(plate, [4]inspection.Length{r.X, r.Y, r.Length, r.Width}, r.Shape, set)
}

// PatchAt is the footprint of a patch found on the floor, which is typed as a
// planned one is; false when it lacks a place or a size.
func (p *Plan) PatchAt(plate int, r *inspection.Patch, set *criteria.Set) (Footprint, bool) {
	return p.footprint(plate, [4]inspection.Length{r.X, r.Y, r.Length, r.Width}, r.Shape, set)
}

// footprint reads X, Y, length and width as they are typed. X and Y are the
// centre from the datum corner of the plate, length and width run along it. A
// tombstone on an annular plate, and one that stands nearer to the shell than
// Tombstone distance, has its length along the shell, measured at it as X on an
// annular plate is, and its width inward. Its outer side is taken to be at the
// shell when X and Y put it there within what they can tell: on an annular plate,
// whose Y begins at the shell, the digits that are printed, on others Position
// tolerance. Any other stands where it is typed, and off the shell along its
// plate as any patch does.
//
// Source: derived from the method, section 10, step 4; the page does not say how
// a tombstone is typed.
func (p *Plan) footprint(plate int, typed [4]inspection.Length, shape inspection.Word, set *criteria.Set) (Footprint, bool) {
	for _, f := range typed {
		if !f.OK() {
			return Footprint{}, false
		}
	}
	x, y, length, width := float64(typed[0].Value), float64(typed[1].Value), math.Max(0, float64(typed[2].Value)), math.Max(0, float64(typed[3].Value))
	f := Footprint{Plan: p, Plate: plate, Frame: plate, Round: inspection.Is(shape, "circle")}
	if p == nil {
		f.Box = BoxAt(Point{x, y}, length, width)
		return f, plate >= 0
	}
	var ok bool
	if f.Box, ok = p.Box(plate, x, y, length, width); !ok || !inspection.Is(shape, "tombstone") {
		return f, ok
	}
	if p.Plates[plate].Sector {
		f.toShell(typedTo)
		return f, true
	}
	centre, placed := p.LocalToPlan(plate, f.Box.Centre())
	if !placed || p.Radius <= 0 {
		return f, true
	}
	if set == nil {
		set = criteria.Defaults(unit.SI)
	}
	wide := p.AlongShell()
	frame := wide.ShellFrame(centre)
	at, _ := wide.PlanToLocal(frame, centre)
	if b := BoxAt(at, length, width); b.V1 < set.Number(criteria.TombstoneDistance)-slack {
		f.Plan, f.Frame, f.Box = wide, frame, b
		f.toShell(math.Max(typedTo, set.Number(criteria.PositionTolerance)))
	}
	return f, true
}

// toShell puts a box along the shell at it when it is off by no more than so
// much.
func (f *Footprint) toShell(within float64) {
	if off := f.Box.V1; math.Abs(off) <= within+slack {
		f.Off, f.Box = off, Box{f.Box.U1, 0, f.Box.U2, f.Box.V2 - off}
	}
}

// Along says whether its sides run along the shell and square to it, in a frame
// that is no plate's.
func (f *Footprint) Along() bool { return f.Frame != f.Plate }

// Holds says whether it takes a box on a plate out: the box grown by the overlap
// lies in it, to 1 mm, what is beyond the shell apart.
func (f *Footprint) Holds(plate int, b Box, overlap float64) bool {
	b, ok := f.carry(plate, b)
	return ok && f.Plan.Holds(f.Frame, f.Box, f.Round, b.Grow(overlap))
}

// SticksOut is how far a box on a plate, grown by the overlap, reaches out of
// it, mm; NaN when that cannot be told.
func (f *Footprint) SticksOut(plate int, b Box, overlap float64) float64 {
	b, ok := f.carry(plate, b)
	if !ok {
		return math.NaN()
	}
	return f.Box.SticksOut(f.Round, b.Grow(overlap))
}

// Has says whether a place on a plate lies in its box, edges included, or no
// farther outside than so much.
func (f *Footprint) Has(plate int, at Point, within float64) bool {
	b, ok := f.carry(plate, Box{at.X, at.Y, at.X, at.Y})
	return ok && f.Box.Grow(within).Has(b.Centre())
}

// Centre is its middle in plan; false without a place.
func (f *Footprint) Centre() (Point, bool) {
	if f.Plan == nil {
		return Point{}, false
	}
	return f.Plan.LocalToPlan(f.Frame, f.Box.Centre())
}

func (f *Footprint) carry(plate int, b Box) (Box, bool) {
	if plate == f.Frame {
		return b, true
	}
	if f.Plan == nil {
		return Box{}, false
	}
	return f.Plan.Carry(plate, b, f.Frame)
}

// OnPlate is the box around it along its own plate.
func (f *Footprint) OnPlate() Box {
	if !f.Along() {
		return f.Box
	}
	b, _ := f.Plan.Carry(f.Frame, f.Box, f.Plate)
	return b
}

// Under are the plates that may lie under it, its own among them, in the order
// of the sheet.
func (f *Footprint) Under() []int {
	if f.Plan == nil {
		return []int{f.Plate}
	}
	out := f.Plan.Under(f.Frame, f.Box)
	if !f.Along() {
		return out
	}
	out = slices.DeleteFunc(out, func(k int) bool { return k == f.Frame })
	if at, has := slices.BinarySearch(out, f.Plate); !has {
		out = slices.Insert(out, at, f.Plate)
	}
	return out
}

// Zone is where it stands: as ZoneOf, along the shell off the critical zone
// general.
func (f *Footprint) Zone(criticalWidth float64) Zone {
	if f.Plan == nil {
		return ""
	}
	z := f.Plan.ZoneOf(f.Frame, f.Box, criticalWidth)
	if z == Annular && f.Along() {
		return General
	}
	return z
}

// Outline is it in plan, before corners are rounded; false without a place.
func (f *Footprint) Outline() (Ring, bool) {
	if f.Plan == nil {
		return nil, false
	}
	return f.Plan.Outline(f.Frame, f.Box)
}

// shellFrames is how many frames there are along the shell: one for each eighth
// of it, so that an arc never reaches round to its own beginning.
const shellFrames = 8

// AlongShell is the plan with frames along the shell after its plates, each as
// an annular plate's: u clockwise along the shell, v inward. Without a shell it
// has none. The caller must not change it.
func (p *Plan) AlongShell() *Plan {
	if p.shell != nil {
		return p.shell
	}
	wide := *p
	wide.Plates = slices.Clone(p.Plates)
	if p.Radius > 0 {
		if math.IsNaN(wide.UpBearing) {
			wide.UpBearing = 0
		}
		for i := range shellFrames {
			at := float64(i) * 360 / shellFrames
			wide.Plates = append(wide.Plates, Plate{Placed: true, Sector: true, Start: at, End: at + 360.0/shellFrames})
		}
	}
	return &wide
}

// Unplace takes a plate's place away and says why.
func (p *Plan) Unplace(plate int, why string) {
	p.Plates[plate].Placed, p.Plates[plate].Why = false, why
	if p.shell != nil {
		p.shell.Plates[plate].Placed, p.shell.Plates[plate].Why = false, why
	}
}

// ShellFrame is the frame along the shell nearest to a place in plan, of a plan
// that has them.
func (p *Plan) ShellFrame(at Point) int {
	b := p.Bearing(at) * shellFrames / 360
	return len(p.Plates) - shellFrames + int(math.Floor(b))%shellFrames
}
