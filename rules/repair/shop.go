package repair

import (
	"math"
	"sync"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// shop is the floor as repairs see it: seams, existing patches and the shell,
// each in the frame of the plate at hand.
type shop struct {
	in     *inspection.Inspection
	floor  *floor.Plan // as it was placed
	set    *criteria.Set
	z      sizes
	plan   *floor.Plan // the floor's, and frames along the shell after its plates
	own    int         // plates of the floor
	old    []existing
	shapes *sync.Map      // corroded → shaped, for all shops of one floor
	labels map[string]int // plates by folded label

	plates *floor.Squares // of the floor, by their rectangles
	found  []int          // room for what is looked up
}

// existing is a patch found on the floor.
type existing struct {
	label  string
	at     floor.Footprint
	extent floor.Bounds
	placed bool
}

// core and rounding are the patch as a box rounded by a radius, as Item's are.
func (e *existing) core() floor.Box { return core(e.at.Box, e.at.Round) }

func (e *existing) rounding() float64 { return rounding(e.at.Box, e.at.Round) }

func core(b floor.Box, round bool) floor.Box {
	if round {
		return floor.BoxAt(b.Centre(), 0, 0)
	}
	return b
}

func rounding(b floor.Box, round bool) float64 {
	if round {
		return math.Min(b.Length(), b.Width()) / 2
	}
	return 0
}

// plateSquare is the side of the squares in which plates are looked up, mm.
const plateSquare = 2000

// another is the same floor for one who works beside this shop; what shapes
// patches become is told both.
func (s *shop) another() *shop {
	o := *s
	o.found = nil
	return &o
}

func newShop(in *inspection.Inspection, plan *floor.Plan) *shop {
	set := in.Criteria
	if set == nil {
		set = criteria.Defaults(in.Units)
	}
	s := &shop{in: in, floor: plan, set: set, z: sizesOf(set), plan: plan.AlongShell(), own: len(plan.Plates), shapes: new(sync.Map)}
	extents := make([]floor.Bounds, s.own)
	for k := range s.own {
		pl := &plan.Plates[k]
		e, ok := plan.Extent(k, floor.Box{U2: pl.Length, V2: pl.Width})
		if !ok {
			e = nowhere
		}
		extents[k] = e
	}
	s.plates = floor.NewSquares(extents, plateSquare)
	byLabel := map[string]int{}
	s.labels = byLabel
	for i := range in.Plates {
		if l := inspection.Fold(in.Plates[i].Label.Value); l != "" {
			if _, twice := byLabel[l]; !twice {
				byLabel[l] = i
			}
		}
	}
	for i := range in.Patches {
		row := &in.Patches[i]
		k, ok := byLabel[inspection.Fold(row.Plate.Value)]
		if row.Out || !ok {
			continue
		}
		at, ok := plan.PatchAt(k, row, set)
		if !ok {
			continue
		}
		e := existing{label: row.Label.Value, at: at}
		e.extent, e.placed = at.Plan.Extent(at.Frame, at.Box)
		s.old = append(s.old, e)
	}
	return s
}

func (s *shop) plateOf(label inspection.Label) int {
	if !label.OK() {
		return -1
	}
	if i, ok := s.labels[inspection.Fold(label.Value)]; ok {
		return i
	}
	return -1
}

// frame is the frame along the shell nearest to a place in plan.
func (s *shop) frame(at floor.Point) int { return s.plan.ShellFrame(at) }

func (s *shop) sector(frame int) bool { return s.plan.Plates[frame].Sector }

// carried is a box of one frame as the smallest box around it in another; false
// when a plate has no place.
func (s *shop) carried(from int, b floor.Box, to int) (floor.Box, bool) {
	return s.plan.Carry(from, b, to)
}

// near are the welds nearer than the clearance to a box: seam strips and
// existing patches.
func (s *shop) near(frame int, b floor.Box, clear float64) []strip {
	return s.nearAlong(frame, b, clear, nil)
}

// nearAlong is near, with the way that each seam is taken to run kept in ways
// while the box grows: a seam near 45° would else be crossed now along one axis,
// now along the other.
func (s *shop) nearAlong(frame int, b floor.Box, clear float64, ways map[int]bool) []strip {
	var out []strip
	for _, n := range s.plan.SeamsNear(frame, b, clear) {
		if n.Distance >= clear-fine && clear > 0 {
			continue
		}
		seam := &s.plan.Seams[n.Seam]
		along, known := ways[n.Seam]
		if !known {
			along = s.runs(frame, b, n)
			if ways != nil {
				ways[n.Seam] = along
			}
		}
		st := strip{distance: n.Distance, seam: n.Seam, alongV: along}
		var ok bool
		if st.box, ok = s.crossed(frame, b, clear, n, along); !ok {
			continue
		}
		if more := clear * (s.stretch(frame, seam, b, along) - 1); more > fine && along {
			st.box.U1, st.box.U2 = st.box.U1-more, st.box.U2+more
		} else if more > fine {
			st.box.V1, st.box.V2 = st.box.V1-more, st.box.V2+more
		}
		if s.sector(frame) || !s.square(frame, seam) {
			st.room = 0.5
		}
		out = append(out, st)
	}
	return append(out, s.patchesNear(frame, b, clear)...)
}

// runs says whether a seam near a box is taken to run across the length of the
// frame: one that meets the shell beside a box at it always, since only the sides
// of that box can be carried.
func (s *shop) runs(frame int, b floor.Box, n floor.NearSeam) bool {
	seam := &s.plan.Seams[n.Seam]
	if s.along(frame, seam, b) {
		return true
	}
	if !s.sector(frame) || seam.Kind == floor.RingSeam || b.V1 > fine {
		return false
	}
	e, ok := s.plan.SeamWithin(frame, n.Seam, n.Beside)
	return ok && e.V1 <= fine
}

// crossed is what of a seam near a box has to be stood beyond: along a plate's
// axes the whole strip, at a skew its part beside the box, along the shell as
// much of it as the patch can come to cross.
func (s *shop) crossed(frame int, b floor.Box, clear float64, n floor.NearSeam, along bool) (floor.Box, bool) {
	seam := &s.plan.Seams[n.Seam]
	switch {
	case seam.Kind == floor.RingSeam:
	case s.sector(frame):
		wide := b.Grow(clear)
		if along {
			wide.U1, wide.U2 = wide.U1-s.z.longest, wide.U2+s.z.longest
		} else {
			wide.V1, wide.V2 = math.Max(0, wide.V1-s.z.longest), wide.V2+s.z.longest
		}
		if e, ok := s.plan.SeamWithin(frame, n.Seam, wide); ok {
			return e, true
		}
	case s.square(frame, seam):
		out := floor.Box{U1: math.Inf(1), V1: math.Inf(1), U2: math.Inf(-1), V2: math.Inf(-1)}
		for _, q := range seam.Strip {
			at, _ := s.plan.PlanToLocal(frame, q)
			out = out.Join(floor.Box{U1: at.X, V1: at.Y, U2: at.X, V2: at.Y})
		}
		return out, true
	}
	return s.plan.SeamWithin(frame, n.Seam, n.Beside)
}

// stretch is how much farther than square to a weld a side is carried along
// its frame's axis to stand as far beyond it: at a skew by the angle, along the
// shell since arcs further in are shorter than at it.
func (s *shop) stretch(frame int, seam *floor.Seam, b floor.Box, along bool) float64 {
	arc := 1.0
	if s.sector(frame) {
		if seam.Kind == floor.RingSeam {
			return 1
		}
		if along {
			arc = s.plan.Radius / math.Max(s.plan.Radius/2, s.plan.Radius-b.V2)
		}
	}
	mid := b.Centre()
	c, _ := s.plan.LocalToPlan(frame, mid)
	if along {
		mid.X++
	} else {
		mid.Y++
	}
	o, _ := s.plan.LocalToPlan(frame, mid)
	axis := floor.Point{X: o.X - c.X, Y: o.Y - c.Y}
	across := c // square to the ring: the radius
	if seam.Kind != floor.RingSeam {
		across = floor.Point{}
		for i, q := range seam.Strip {
			next := seam.Strip[(i+1)%len(seam.Strip)]
			if d := (floor.Point{X: q.Y - next.Y, Y: next.X - q.X}); math.Hypot(d.X, d.Y) > math.Hypot(across.X, across.Y) {
				across = d
			}
		}
	}
	cos := math.Abs(axis.X*across.X+axis.Y*across.Y) / math.Max(fine, math.Hypot(axis.X, axis.Y)*math.Hypot(across.X, across.Y))
	return arc / math.Max(0.25, cos)
}

// square says whether a seam's strip runs along an axis of the frame.
func (s *shop) square(frame int, seam *floor.Seam) bool {
	if len(seam.Strip) < 2 {
		return false
	}
	a, _ := s.plan.PlanToLocal(frame, seam.Strip[0])
	b, _ := s.plan.PlanToLocal(frame, seam.Strip[1])
	return math.Min(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y)) < 1e-3
}

// along says whether a seam runs across the length of the frame, that is along
// its v.
func (s *shop) along(frame int, seam *floor.Seam, b floor.Box) bool {
	if seam.Kind == floor.RingSeam {
		if s.sector(frame) {
			return false
		}
		c, _ := s.plan.LocalToPlan(frame, b.Centre())
		r := math.Hypot(c.X, c.Y)
		if r == 0 {
			return false
		}
		// the radius in the frame: the ring runs square to it
		far, _ := s.plan.PlanToLocal(frame, floor.Point{X: c.X * (1 + 1/r), Y: c.Y * (1 + 1/r)})
		return math.Abs(far.X-b.Centre().X) > math.Abs(far.Y-b.Centre().Y)
	}
	var lo, hi floor.Point
	for i, q := range seam.Strip {
		at, _ := s.plan.PlanToLocal(frame, q)
		if i == 0 {
			lo, hi = at, at
		}
		lo = floor.Point{X: math.Min(lo.X, at.X), Y: math.Min(lo.Y, at.Y)}
		hi = floor.Point{X: math.Max(hi.X, at.X), Y: math.Max(hi.Y, at.Y)}
	}
	return hi.Y-lo.Y > hi.X-lo.X
}

func (s *shop) patchesNear(frame int, b floor.Box, clear float64) []strip {
	var out []strip
	if len(s.old) == 0 {
		return nil
	}
	at, placed := s.plan.Extent(frame, b)
	for i := range s.old {
		e := &s.old[i]
		if placed && e.placed && at.Apart(e.extent) > clear+fine {
			continue
		}
		d, ok := s.plan.ToBox(frame, b, e.at.Frame, e.core())
		d = math.Max(0, d-e.rounding())
		if !ok || (d >= clear-fine && clear > 0) || (clear == 0 && d > 0) {
			continue
		}
		box, ok := s.carried(e.at.Frame, e.at.Box, frame)
		if !ok {
			continue
		}
		out = append(out, strip{box: box, patch: true, round: e.at.Round, label: e.label, distance: d})
	}
	return out
}

// shellDistance is the clear distance of a box from the shell.
func (s *shop) shellDistance(frame int, b floor.Box) (float64, bool) { return s.plan.ToShell(frame, b) }

// special says whether a box stands in the critical zone or on the ring.
func (s *shop) zone(frame int, b floor.Box) floor.Zone {
	z := s.plan.ZoneOf(frame, b, s.z.critical)
	if frame >= s.own && z == floor.Annular {
		return floor.General // a frame along the shell is no annular plate
	}
	return z
}

func (s *shop) nominal(plate int) unit.Maybe[unit.Length] {
	if plate < 0 {
		return unit.Maybe[unit.Length]{}
	}
	row := &s.in.Plates[plate]
	switch {
	case row.Nominal.OK():
		return unit.Some(row.Nominal.Value)
	case row.Nominal.State == inspection.Wrong:
		return unit.Maybe[unit.Length]{}
	case inspection.Is(row.Type, "annular"):
		if n := s.in.Tank.AnnularNominal; n.OK() {
			return unit.Some(n.Value)
		}
		return unit.Maybe[unit.Length]{}
	}
	if n := s.in.Tank.NominalThickness; n.OK() {
		return unit.Some(n.Value)
	}
	return unit.Maybe[unit.Length]{}
}

// thickness of a new patch: the criterion, blank the plate's nominal; at the
// shell no more than is allowed there.
func (s *shop) thickness(plate int, tombstone bool) unit.Maybe[unit.Length] {
	t := s.nominal(plate)
	if v := s.set.Get(criteria.PatchThickness); v.Set {
		t = unit.Some(unit.Length(v.Number))
	}
	if tombstone && t.Known {
		t.V = min(t.V, unit.Length(s.z.thickest))
	}
	return t
}

// repairable says whether a location can be under a repair at all.
func repairable(l *assess.Location) bool {
	return (l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt) && l.Plate >= 0 && l.Box != (floor.Box{})
}
