// Package nest cuts rectangles from stock sheets by guillotine cuts: each cut
// goes from edge to edge of the piece being cut, as a shear or a straight torch
// track does.
package nest

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Size is a rectangle, mm.
type Size struct{ Length, Width float64 }

// Rules say how sheets may be cut.
type Rules struct {
	Kerf   float64 // width of a cut, mm, lost between neighbours
	Trim   float64 // strip lost along each edge of a sheet, mm
	Offcut float64 // least side of a leftover worth keeping, mm
	Turn   bool    // quarter turns of pieces are allowed
	Effort int     // candidate places tried beyond the first layouts; 0 takes DefaultEffort
	Count  bool    // only the number of sheets matters: area and offcuts are not improved
}

// DefaultEffort bounds the search by work done, never by a clock, so that the
// same pieces give the same layout on every machine.
const DefaultEffort = 30_000_000

// Placed is a piece on a sheet. X and Y are the distances of its near corner
// from the sheet's corner, along the sheet's length and width, mm.
type Placed struct {
	Piece         int // index of the piece
	X, Y          float64
	Length, Width float64 // along the sheet's length and width
	Turned        bool
}

// Rectangle is a part of a sheet, mm.
type Rectangle struct{ X, Y, Length, Width float64 }

// Area of the rectangle, mm².
func (r Rectangle) Area() float64 { return r.Length * r.Width }

// Sheet is one stock sheet as cut.
type Sheet struct {
	Stock   int // index of the stock size
	Size    Size
	Pieces  []Placed    // from the sheet's corner outward
	Offcuts []Rectangle // leftovers with sides of at least Rules.Offcut, largest first
}

// Layout is a cutting list laid out on sheets.
type Layout struct {
	Sheets    []Sheet
	TooLarge  []int // pieces that fit no sheet, in order
	BoundArea int   // sheets needed at least, by area
	BoundDual int   // sheets needed at least, by dual-feasible functions
}

// Yield is the share of the sheets' area that becomes pieces, %; 0 without
// sheets.
//
//	yield = 100·Σ pieces/Σ sheets
//
// areas of the pieces and of the sheets they are cut from, m².
//
// Source: common practice, no source. Check: 8 of 700 × 700 on 1500 × 3000 →
// 87.111 % (TestPrintedCheck).
func (l *Layout) Yield() float64 {
	var used, all float64
	for _, s := range l.Sheets {
		all += s.Size.Length * s.Size.Width
		for _, p := range s.Pieces {
			used += p.Length * p.Width
		}
	}
	if all == 0 {
		return 0
	}
	return 100 * used / all
}

// Errors of a cutting list that cannot be laid out.
var (
	ErrStock = errors.New("no usable stock sheet")
	ErrRules = errors.New("kerf, trim or offcut is no length")
	ErrPiece = errors.New("a piece has no size")
)

// largest is the longest side taken in; beyond it the input is no steel plate.
const largest = 100_000.0

// Cut lays the pieces out: fewest sheets, then least sheet area, then the
// largest single offcut with sides of at least Rules.Offcut, then the first
// layout found in a fixed order. The layout is verified before it is returned;
// pieces that fit no sheet are listed, not placed.
//
// Source: derived, method section 11. Check: small_exact_guillotine.json and
// bins_oriented_guillotine.json.
func Cut(pieces []Size, stock []Size, rules Rules) (*Layout, error) {
	if !usable(rules.Kerf) || !usable(rules.Trim) || !usable(rules.Offcut) {
		return nil, ErrRules
	}
	for i, p := range pieces {
		if !(p.Length > 0 && p.Width > 0) || math.IsInf(p.Length, 0) || math.IsInf(p.Width, 0) {
			return nil, fmt.Errorf("piece %d of %v × %v mm: %w", i+1, p.Length, p.Width, ErrPiece)
		}
	}
	j := newJob(pieces, stock, rules)
	if len(pieces) > 0 && len(j.sheets) == 0 {
		return nil, ErrStock
	}
	l := &Layout{}
	j.sift(l)
	l.BoundArea, l.BoundDual = j.boundArea(), j.boundDual()
	if len(j.items) > 0 {
		j.bound = max(l.BoundArea, l.BoundDual, 1)
		l.Sheets = j.written(j.solve())
	}
	if err := Verify(pieces, stock, rules, l); err != nil {
		panic("nest: " + err.Error())
	}
	return l, nil
}

func usable(v float64) bool { return v >= 0 && v <= largest }

// job is a cutting list in whole ticks, with the kerf added to pieces and
// sheets: a layout of the grown pieces that touch keeps the kerf by itself.
//
//	w' = w + kerf,  W' = W − 2·trim + kerf
type job struct {
	rules  Rules
	pieces []Size
	stock  []Size
	items  []item
	sheets []bin // the usable stock sizes, largest first
	bound  int
	work   int // candidate places tried so far
	effort int
	rand   sequence
}

type item struct {
	piece int
	w, h  int64
	turn  bool // may also be placed as h × w
	area  float64
}

type bin struct {
	stock int
	w, h  int64
	whole float64 // area of the stock sheet, trim and all: what is bought, mm²
}

func (b bin) area() float64 { return b.whole }

// ticksPerMM makes 1/64 in a whole number to a third of a micrometre; pieces
// are rounded up and sheets down.
const ticksPerMM = 10_000

func up(mm float64) int64   { return int64(math.Ceil(mm*ticksPerMM - 1e-3)) }
func down(mm float64) int64 { return int64(math.Floor(mm*ticksPerMM + 1e-3)) }

func newJob(pieces, stock []Size, rules Rules) *job {
	j := &job{rules: rules, pieces: pieces, stock: stock, effort: rules.Effort}
	if j.effort <= 0 {
		j.effort = DefaultEffort
	}
	k := up(rules.Kerf)
	seen := map[bin]bool{}
	for i, s := range stock {
		if !(s.Length > 0 && s.Width > 0 && s.Length <= largest && s.Width <= largest) {
			continue
		}
		b := bin{stock: i, w: down(s.Length-2*rules.Trim) + k, h: down(s.Width-2*rules.Trim) + k, whole: s.Length * s.Width}
		key := bin{w: b.w, h: b.h}
		if b.w <= k || b.h <= k || seen[key] {
			continue
		}
		seen[key] = true
		j.sheets = append(j.sheets, b)
	}
	sort.SliceStable(j.sheets, func(a, b int) bool { return j.sheets[a].area() > j.sheets[b].area() })
	return j
}

// sift keeps the pieces that fit some sheet.
func (j *job) sift(l *Layout) {
	k := up(j.rules.Kerf)
	for i, p := range j.pieces {
		if p.Length > largest || p.Width > largest {
			l.TooLarge = append(l.TooLarge, i)
			continue
		}
		it := item{piece: i, w: up(p.Length) + k, h: up(p.Width) + k}
		straight, turned := false, false
		for _, b := range j.sheets {
			straight = straight || (it.w <= b.w && it.h <= b.h)
			turned = turned || (j.rules.Turn && it.h <= b.w && it.w <= b.h)
		}
		switch {
		case !straight && !turned:
			l.TooLarge = append(l.TooLarge, i)
			continue
		case !straight:
			it.w, it.h = it.h, it.w
		case turned:
			it.turn = it.w != it.h
		}
		it.area = float64(it.w) * float64(it.h)
		j.items = append(j.items, it)
	}
}

// written turns a packing into sheets, in millimetres from the sheet's corner.
func (j *job) written(p packing) []Sheet {
	var out []Sheet
	k := up(j.rules.Kerf)
	for n, b := range p.bins {
		s := Sheet{Stock: b.stock, Size: j.stock[b.stock]}
		var boxes []box
		for _, at := range p.at {
			if at.bin != n {
				continue
			}
			it := j.items[at.item]
			size := j.pieces[it.piece]
			turned := at.w-k != up(size.Length) || at.h-k != up(size.Width)
			if turned {
				size.Length, size.Width = size.Width, size.Length
			}
			s.Pieces = append(s.Pieces, Placed{
				Piece: it.piece, X: mm(at.x) + j.rules.Trim, Y: mm(at.y) + j.rules.Trim,
				Length: size.Length, Width: size.Width, Turned: turned,
			})
			boxes = append(boxes, box{at.x, at.y, at.w, at.h})
		}
		if len(s.Pieces) == 0 {
			continue
		}
		sort.SliceStable(s.Pieces, func(a, b int) bool {
			p, q := s.Pieces[a], s.Pieces[b]
			if p.X != q.X {
				return p.X < q.X
			}
			return p.Y < q.Y
		})
		for _, o := range j.leftovers(box{0, 0, b.w, b.h}, boxes) {
			w, h := mm(o.w-k), mm(o.h-k)
			if w > 0 && h > 0 && math.Min(w, h) >= j.rules.Offcut-1e-6 {
				s.Offcuts = append(s.Offcuts, Rectangle{mm(o.x) + j.rules.Trim, mm(o.y) + j.rules.Trim, w, h})
			}
		}
		sort.SliceStable(s.Offcuts, func(a, b int) bool { return s.Offcuts[a].Area() > s.Offcuts[b].Area() })
		out = append(out, s)
	}
	return out
}

func mm(t int64) float64 { return float64(t) / ticksPerMM }

// sequence is a fixed series of numbers that looks shuffled (SplitMix64): the
// search walks the same way every time.
type sequence uint64

func (s *sequence) next(n int) int {
	*s += 0x9E3779B97F4A7C15
	z := uint64(*s)
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	return int((z ^ (z >> 31)) % uint64(n))
}
