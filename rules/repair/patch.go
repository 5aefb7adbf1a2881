package repair

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/floor"
)

// sizes are the criteria that shape a patch, mm.
type sizes struct {
	overlap, minimum, overWeld, clearance, gap, step, radius float64
	tombstone, longest, thickest, critical                   float64
}

func sizesOf(set *criteria.Set) sizes {
	n := set.Number
	return sizes{
		overlap: n(criteria.PatchOverlap), minimum: n(criteria.PatchMinimum), overWeld: n(criteria.PatchMinimumOverWeld),
		clearance: n(criteria.PatchWeldClearance), gap: n(criteria.PatchGap), step: n(criteria.PatchSizeStep),
		radius: n(criteria.PatchCornerRadius), tombstone: n(criteria.TombstoneDistance), longest: n(criteria.CriticalPatchLength),
		thickest: n(criteria.CriticalPatchThickness), critical: n(criteria.CriticalZoneWidth),
	}
}

// fine is the slack of geometry, mm: plates and seams are placed by sums.
const fine = 1e-6

// over is the patch that a corroded box wants before seams are looked at: the
// overlap on each side, at least the least size, rounded up to the step.
//
//	a = ⌈max(l + 2·overlap, minimum)/step⌉·step
//
// l side of the box, mm; step 0 rounds nothing.
//
// Source: API 653, 9.10.1.1, through a public site procedure; the step is
// common practice, no source. Check: 40 × 60 → 150 × 160; 250 × 180 →
// 350 × 280 (TestPrintedSizes).
func (z sizes) over(b floor.Box) floor.Box {
	g := b.Grow(z.overlap)
	return floor.BoxAt(b.Centre(), z.rounded(math.Max(g.Length(), z.minimum)), z.rounded(math.Max(g.Width(), z.minimum)))
}

func (z sizes) rounded(v float64) float64 {
	if z.step <= 0 {
		return v
	}
	return math.Ceil(v/z.step-1e-9) * z.step
}

// least grows a box about its centre to least sides.
func least(b floor.Box, side float64) floor.Box {
	if b.Length() >= side-fine && b.Width() >= side-fine {
		return b
	}
	return floor.BoxAt(b.Centre(), math.Max(b.Length(), side), math.Max(b.Width(), side))
}

// strip is a weld near a patch, in the patch's frame. A seam runs along one
// axis and is crossed along the other; an existing patch is taken in whole.
type strip struct {
	box      floor.Box
	alongV   bool
	patch    bool
	round    bool   // an existing patch that is round
	label    string // of an existing patch
	seam     int    // in Plan.Seams, unless a patch
	distance float64
	room     float64 // further that a side is carried, so that one at a skew comes to rest
}

// beyond carries each side that stands nearer than clear to a strip, or on it,
// as far beyond it. A side that a strip's end stands before, which the patch is
// wide enough to cross, is carried over the end.
func beyond(b floor.Box, s strip, clear float64) floor.Box {
	if s.patch {
		return b.Join(s.box.Grow(clear))
	}
	carry := func(lo, hi *float64, s1, s2 float64) {
		upper := *hi > s1-clear+fine && *hi < s2+clear-fine
		lower := *lo < s2+clear-fine && *lo > s1-clear+fine
		if upper {
			*hi = s2 + clear + s.room
		}
		if lower {
			*lo = s1 - clear - s.room
		}
	}
	overEnd := func(lo, hi *float64, s1, s2 float64) {
		switch {
		case *lo > s2-fine && *lo < s2+clear-fine:
			*lo = s2 - clear
		case *hi < s1+fine && *hi > s1-clear+fine:
			*hi = s1 + clear
		}
	}
	if was := b; s.alongV {
		if carry(&b.U1, &b.U2, s.box.U1, s.box.U2); b == was {
			overEnd(&b.V1, &b.V2, s.box.V1, s.box.V2)
		}
	} else if carry(&b.V1, &b.V2, s.box.V1, s.box.V2); b == was {
		overEnd(&b.U1, &b.U2, s.box.U1, s.box.U2)
	}
	return b
}

// rounds is how often a side may be carried on before the place is left to an
// engineer.
const rounds = 10

// far is the size, mm, at which a patch that is carried on and on is left to an
// engineer.
const far = 10_000

// clearOf carries a patch clear of seams and existing patches until it stands;
// false when it does not come to rest.
//
// Source: API 653, Figure 9.13, for the clearance; the least size over a weld
// through a public site procedure. Check: 150 × 160 over a seam → 300 × 300;
// 350 × 280 → 350 × 300 (TestPrintedSizes).
func (z sizes) clearOf(b floor.Box, strips func(floor.Box) []strip, atShell bool) (floor.Box, bool) {
	for range rounds {
		was, near := b, false
		for _, s := range strips(b) {
			near = true
			b = beyond(b, s, z.clearance)
		}
		if near {
			b = least(b, z.overWeld)
		}
		if atShell {
			b.V2, b.V1 = math.Max(b.V2, b.V1+b.Width()), 0
			if near {
				b.V2 = math.Max(b.V2, z.overWeld)
			}
		}
		if same(b, was) {
			return b, true
		}
		if b.Length() > far || b.Width() > far {
			return b, false
		}
	}
	return b, false
}

func same(a, b floor.Box) bool {
	return math.Abs(a.U1-b.U1) < fine && math.Abs(a.U2-b.U2) < fine && math.Abs(a.V1-b.V1) < fine && math.Abs(a.V2-b.V2) < fine
}
