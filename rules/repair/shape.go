package repair

import (
	"math"
	"sort"

	"platebook/rules/floor"
)

// patch is a patch being shaped. raw is the corroded metal, in the frame of the
// plate it is listed under. It takes in locations of its own, or what the two
// patches take in that became one in it.
type patch struct {
	plate     int
	raw       floor.Box
	locations []int
	parts     [2]*patch // of a joint patch
	least     int       // of all it takes in
	frame     int       // of box
	box       floor.Box
	tombstone bool
	unsettled bool
	replace   string // why the plate has to be replaced instead

	figure *floor.Figure // of a tombstone, whose arcs are many parts
}

// members are the locations a patch takes in, in order.
func (p *patch) members() []int {
	var out []int
	for stack := []*patch{p}; len(stack) > 0; {
		q := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if out = append(out, q.locations...); q.parts[0] != nil {
			stack = append(stack, q.parts[0], q.parts[1])
		}
	}
	sort.Ints(out)
	return out
}

// shape sizes a patch: overlap and least size, clear of welds, and near the
// shell as a tombstone. On open ground that is done at once. Beside welds the
// shape, which follows from plate and metal alone, is remembered: the table of
// thresholds asks for the same one at level after level.
func (s *shop) shape(p *patch) {
	first := s.z.over(p.raw)
	if !s.besideShell(p.plate, first) && len(s.near(p.plate, first, s.z.clearance)) == 0 {
		p.frame, p.box, p.tombstone, p.unsettled = p.plate, first, false, false
		return
	}
	at := corroded{p.plate, p.raw}
	if known, ok := s.shapes.Load(at); ok {
		k := known.(shaped)
		p.frame, p.box, p.tombstone, p.unsettled = k.frame, k.box, k.tombstone, k.unsettled
		return
	}
	s.sized(p)
	s.shapes.Store(at, shaped{p.frame, p.box, p.tombstone, p.unsettled})
}

// shaped is what a patch became.
type shaped struct {
	frame                int
	box                  floor.Box
	tombstone, unsettled bool
}

// corroded is metal of a plate that a patch has to cover.
type corroded struct {
	plate int
	raw   floor.Box
}

func (s *shop) sized(p *patch) {
	p.frame, p.tombstone, p.unsettled = p.plate, false, false
	first := s.z.over(p.raw)
	if s.besideShell(p.frame, first) && s.atShell(p) {
		return
	}
	b, ok := s.clearOf(p.frame, first, false)
	if !ok {
		b, p.unsettled = first, true
	}
	p.box = b
	if s.besideShell(p.frame, b) {
		s.atShell(p)
	}
}

// besideShell says whether a patch stands so near to the shell that it has to be
// a tombstone.
func (s *shop) besideShell(frame int, b floor.Box) bool {
	d, known := s.shellDistance(frame, b)
	return known && d < s.z.tombstone-fine && s.plan.Radius > 0
}

// atShell shapes a tombstone: its length along the shell and its width inward
// from it, square to the shell at both sides. False, and the patch as it was, where
// none can be told.
func (s *shop) atShell(p *patch) bool {
	frame := p.plate
	if !s.sector(frame) {
		c, ok := s.plan.LocalToPlan(p.plate, p.raw.Centre())
		if !ok {
			return false
		}
		frame = s.frame(c)
	}
	raw, ok := s.carried(p.plate, p.raw, frame)
	if !ok {
		return false
	}
	// Lengths run along the shell; further in the same angle is shorter, so
	// the overlap is taken larger by as much.
	r := s.plan.Radius
	inner := r - raw.V2 - s.z.overlap
	if inner <= r/2 {
		return false
	}
	grown := raw
	extra := s.z.overlap * (r/inner - 1)
	grown.U1, grown.U2 = raw.U1-extra, raw.U2+extra
	b := s.z.over(grown)
	b.V1, b.V2 = 0, s.z.rounded(math.Max(raw.V2+s.z.overlap, s.z.minimum))
	p.frame, p.tombstone = frame, true
	first := b
	if b.Length() > mostAlong*s.z.longest {
		p.box = b // given up or replaced, whatever welds it crosses
		return true
	}
	b, ok = s.clearOf(frame, first, true)
	p.unsettled = !ok
	if !ok {
		b = first
	}
	p.box = b
	return true
}

func (s *shop) clearOf(frame int, b floor.Box, atShell bool) (floor.Box, bool) {
	ways := map[int]bool{}
	return s.z.clearOf(b, func(b floor.Box) []strip { return s.nearAlong(frame, b, s.z.clearance, ways) }, atShell)
}
