package nest

import "sort"

type box struct{ x, y, w, h int64 }

func (b box) area() float64 { return float64(b.w) * float64(b.h) }

// offcuts are the leftovers of a sheet when it is cut so that at each step the
// largest single leftover comes off whole.
func offcuts(sheet box, pieces []box) []box {
	if sheet.w <= 0 || sheet.h <= 0 {
		return nil
	}
	if len(pieces) == 0 {
		return []box{sheet}
	}
	x1, y1, x2, y2 := pieces[0].x, pieces[0].y, pieces[0].x+pieces[0].w, pieces[0].y+pieces[0].h
	for _, p := range pieces[1:] {
		x1, y1, x2, y2 = min(x1, p.x), min(y1, p.y), max(x2, p.x+p.w), max(y2, p.y+p.h)
	}
	sides := []struct{ off, rest box }{
		{box{x2, sheet.y, sheet.x + sheet.w - x2, sheet.h}, box{sheet.x, sheet.y, x2 - sheet.x, sheet.h}},
		{box{sheet.x, y2, sheet.w, sheet.y + sheet.h - y2}, box{sheet.x, sheet.y, sheet.w, y2 - sheet.y}},
		{box{sheet.x, sheet.y, x1 - sheet.x, sheet.h}, box{x1, sheet.y, sheet.x + sheet.w - x1, sheet.h}},
		{box{sheet.x, sheet.y, sheet.w, y1 - sheet.y}, box{sheet.x, y1, sheet.w, sheet.y + sheet.h - y1}},
	}
	best := -1
	for i, s := range sides {
		if s.off.w > 0 && s.off.h > 0 && (best < 0 || s.off.area() > sides[best].off.area()) {
			best = i
		}
	}
	if best >= 0 {
		return append(offcuts(sides[best].rest, pieces), sides[best].off)
	}
	if len(pieces) == 1 {
		return nil
	}
	a, b, pa, pb, ok := part(sheet, pieces)
	if !ok {
		return nil
	}
	return append(offcuts(a, pa), offcuts(b, pb)...)
}

// part finds a cut from edge to edge with pieces on both sides, the one that
// leaves the two halves most unlike last.
func part(sheet box, pieces []box) (a, b box, pa, pb []box, ok bool) {
	for _, along := range []bool{true, false} {
		sorted := append([]box(nil), pieces...)
		lo := func(p box) int64 {
			if along {
				return p.x
			}
			return p.y
		}
		hi := func(p box) int64 {
			if along {
				return p.x + p.w
			}
			return p.y + p.h
		}
		sort.SliceStable(sorted, func(i, k int) bool { return lo(sorted[i]) < lo(sorted[k]) })
		reach := hi(sorted[0])
		for i := 1; i < len(sorted); i++ {
			if at := lo(sorted[i]); at >= reach {
				a, b = sheet, sheet
				if along {
					a.w, b.x, b.w = reach-sheet.x, reach, sheet.x+sheet.w-reach
				} else {
					a.h, b.y, b.h = reach-sheet.y, reach, sheet.y+sheet.h-reach
				}
				return a, b, sorted[:i], sorted[i:], true
			}
			reach = max(reach, hi(sorted[i]))
		}
	}
	return a, b, nil, nil, false
}

// parted is a part of a sheet with the pieces on it.
type parted struct {
	sheet  box
	pieces []box
}

// leaving looks for the cuts from edge to edge that leave the largest single
// leftover worth keeping.
type leaving struct {
	kerf, least int64
	nodes       int
	area        float64 // of the best so far, kerf left out
	off         box
	aside       []parted // what else the cuts that leave it part
}

// most parts tried for one sheet.
const mostParts = 20_000

// leftovers are the offcuts of a sheet when it is cut so that the largest single
// one worth keeping stays whole, and then as offcuts does; where only the number
// of sheets matters, as offcuts does at once.
func (j *job) leftovers(sheet box, pieces []box) []box {
	if j.rules.Count {
		return offcuts(sheet, pieces)
	}
	l := leaving{kerf: up(j.rules.Kerf), least: down(j.rules.Offcut)}
	l.cut(parted{sheet, pieces}, make([]parted, 0, len(pieces)+4))
	if l.area == 0 {
		return offcuts(sheet, pieces)
	}
	out := []box{l.off}
	for _, p := range l.aside {
		out = append(out, offcuts(p.sheet, p.pieces)...)
	}
	return out
}

// cut tries every way to cut a part; aside is what the cuts before parted, in
// room that all ways share.
func (l *leaving) cut(p parted, aside []parted) {
	l.nodes++
	w, h := p.sheet.w-l.kerf, p.sheet.h-l.kerf
	if l.nodes > mostParts || w <= 0 || h <= 0 || min(w, h) < l.least || float64(w)*float64(h) <= l.area {
		return
	}
	if len(p.pieces) == 0 {
		l.area, l.off = float64(w)*float64(h), p.sheet
		l.aside = append([]parted(nil), aside...)
		return
	}
	for _, along := range []bool{true, false} {
		p.each(along, func(before, after parted, cutBefore, cutAfter box) {
			if n := len(after.pieces); n < len(p.pieces) {
				l.cut(after, append(aside, parted{cutBefore, before.pieces}))
			}
			if n := len(before.pieces); n < len(p.pieces) {
				l.cut(before, append(aside, parted{cutAfter, after.pieces}))
			}
		})
	}
}

// each visits the cuts from edge to edge between pieces, and beside them all:
// the parts before and after it, each as large as it can be, and what is then
// left of the other one.
func (p parted) each(along bool, visit func(before, after parted, cutBefore, cutAfter box)) {
	from, to := p.sheet.y, p.sheet.y+p.sheet.h
	ends := func(b box) (lo, hi int64) { return b.y, b.y + b.h }
	part := func(lo, hi int64) box { return box{p.sheet.x, lo, p.sheet.w, hi - lo} }
	if along {
		from, to = p.sheet.x, p.sheet.x+p.sheet.w
		ends = func(b box) (lo, hi int64) { return b.x, b.x + b.w }
		part = func(lo, hi int64) box { return box{lo, p.sheet.y, hi - lo, p.sheet.h} }
	}
	sorted := append([]box(nil), p.pieces...)
	sort.SliceStable(sorted, func(i, k int) bool {
		a, _ := ends(sorted[i])
		b, _ := ends(sorted[k])
		return a < b
	})
	reach := from
	for i := 0; i <= len(sorted); i++ {
		lo := to
		if i < len(sorted) {
			lo, _ = ends(sorted[i])
		}
		if lo >= reach {
			visit(parted{part(from, lo), sorted[:i]}, parted{part(reach, to), sorted[i:]}, part(from, reach), part(lo, to))
		}
		if i < len(sorted) {
			_, hi := ends(sorted[i])
			reach = max(reach, hi)
		}
	}
}

// largestOffcut is the area of the largest leftover with sides of at least
// least, kerf included in both, 0 without one.
func largestOffcut(sheet box, pieces []box, kerf, least int64) float64 {
	best := 0.0
	for _, o := range offcuts(sheet, pieces) {
		if w, h := o.w-kerf, o.h-kerf; w > 0 && h > 0 && min(w, h) >= least {
			best = max(best, float64(w)*float64(h))
		}
	}
	return best
}
