package floor

import (
	"math"
	"slices"
)

// Squares finds extents near a place among many, as Index does, where they are
// looked up far more often than entered: the floor is cut into squares, each
// with a list of the extents that touch it. Looking up costs what stands in the
// squares touched, whatever else is on the floor.
type Squares struct {
	from    Point
	side    float64
	nx, ny  int
	cells   [][]int32
	extents []Bounds
	below   int // numbers of the layers below
}

// How many squares there are at most, and how many of them an extent takes on
// average, whatever was typed.
const (
	mostSquares = 1 << 14
	mostEntries = 16
)

// NewSquares holds extents by their number in squares of about the given side,
// mm. An empty extent, Min over Max, is held nowhere.
func NewSquares(extents []Bounds, side float64) *Squares {
	all, held := nowhere, 0
	for _, e := range extents {
		if e.empty() {
			continue
		}
		held++
		all = all.join(e)
	}
	s := &Squares{from: all.Min, side: side, nx: 1, ny: 1, extents: extents}
	if held == 0 {
		s.from, s.cells = Point{}, make([][]int32, 1)
		return s
	}
	w, h := all.Max.X-all.Min.X, all.Max.Y-all.Min.Y
	for {
		x, y := math.Floor(w/s.side)+1, math.Floor(h/s.side)+1
		if x*y <= mostSquares && s.fits(x, y, held) {
			break
		}
		s.side *= 2
		if math.IsInf(s.side, 1) || math.IsNaN(x*y) {
			s.nx, s.ny = 1, 1
			break
		}
	}
	count := make([]int32, s.nx*s.ny+1)
	for _, e := range extents {
		s.touched(e, 0, func(c int) { count[c+1]++ })
	}
	for c := range s.nx * s.ny {
		count[c+1] += count[c]
	}
	ids := make([]int32, count[s.nx*s.ny])
	s.cells = make([][]int32, s.nx*s.ny)
	for c := range s.cells {
		s.cells[c] = ids[count[c]:count[c]:count[c+1]]
	}
	for i, e := range extents {
		s.touched(e, 0, func(c int) { s.cells[c] = append(s.cells[c], int32(i)) })
	}
	return s
}

// fits takes a number of squares that does not make too many entries.
func (s *Squares) fits(x, y float64, held int) bool {
	s.nx, s.ny = int(x), int(y)
	if s.nx*s.ny == 1 {
		return true
	}
	entries := 0
	for _, e := range s.extents {
		if !e.empty() {
			x1, y1, x2, y2 := s.span(e, 0)
			entries += (x2 - x1 + 1) * (y2 - y1 + 1)
		}
	}
	return entries <= mostEntries*held+s.nx*s.ny
}

// Clone is the same, to let go of extents in.
func (s *Squares) Clone() *Squares {
	c := *s
	c.cells = make([][]int32, len(s.cells))
	for i, ids := range s.cells {
		c.cells[i] = slices.Clone(ids)
	}
	return &c
}

// Layer is the same squares with nothing in them yet, where numbers go on.
func (s *Squares) Layer() *Squares {
	return &Squares{from: s.from, side: s.side, nx: s.nx, ny: s.ny, cells: make([][]int32, len(s.cells)), below: s.below + len(s.extents)}
}

// Add holds one more extent and returns its number.
func (s *Squares) Add(e Bounds) int {
	i := s.below + len(s.extents)
	s.extents = append(s.extents, e)
	s.touched(e, 0, func(c int) { s.cells[c] = append(s.cells[c], int32(i)) })
	return i
}

// Extent is the extent of a number, false for one that is held nowhere.
func (s *Squares) Extent(i int) (Bounds, bool) {
	e := s.extents[i-s.below]
	return e, !e.empty()
}

// Drop lets go of an extent.
func (s *Squares) Drop(i int) {
	s.touched(s.extents[i-s.below], 0, func(c int) {
		if at := slices.Index(s.cells[c], int32(i)); at >= 0 {
			s.cells[c] = slices.Delete(s.cells[c], at, at+1)
		}
	})
}

// Near appends to found, in rising order, the numbers of the extents at most gap
// from b along both axes.
func (s *Squares) Near(b Bounds, gap float64, found []int) []int {
	start := len(found)
	x1, y1, x2, y2 := s.span(b, gap)
	for y := y1; y <= y2; y++ {
		for x := x1; x <= x2; x++ {
			for _, i := range s.cells[y*s.nx+x] {
				if s.extents[int(i)-s.below].meets(b, gap) {
					found = append(found, int(i))
				}
			}
		}
	}
	if x1 == x2 && y1 == y2 {
		return found // entered in rising order
	}
	slices.Sort(found[start:])
	return found[:start+len(slices.Compact(found[start:]))]
}

// Each calls a function with what Near gives, one by one, until it has enough:
// in a crowd only the first few count.
func (s *Squares) Each(b Bounds, gap float64, call func(i int) (more bool)) {
	x1, y1, x2, y2 := s.span(b, gap)
	var lists [mostLists][]int32 // of the squares, less what was called with
	if (x2-x1+1)*(y2-y1+1) > mostLists {
		for _, i := range s.Near(b, gap, nil) {
			if !call(i) {
				return
			}
		}
		return
	}
	n := 0
	for y := y1; y <= y2; y++ {
		for x := x1; x <= x2; x++ {
			lists[n] = s.cells[y*s.nx+x]
			n++
		}
	}
	for {
		least := int32(math.MaxInt32)
		for _, l := range lists[:n] {
			if len(l) > 0 {
				least = min(least, l[0])
			}
		}
		if least == math.MaxInt32 {
			return
		}
		for k, l := range lists[:n] {
			if len(l) > 0 && l[0] == least {
				lists[k] = l[1:]
			}
		}
		if i := int(least); s.extents[i-s.below].meets(b, gap) && !call(i) {
			return
		}
	}
}

// mostLists is how many squares Each merges.
const mostLists = 9

func (s *Squares) touched(e Bounds, gap float64, call func(cell int)) {
	if e.empty() {
		return
	}
	x1, y1, x2, y2 := s.span(e, gap)
	for y := y1; y <= y2; y++ {
		for x := x1; x <= x2; x++ {
			call(y*s.nx + x)
		}
	}
}

// span is the squares an extent touches. What lies beyond the outer squares
// counts into them.
func (s *Squares) span(e Bounds, gap float64) (x1, y1, x2, y2 int) {
	at := func(v float64, n int) int {
		v = math.Floor(v / s.side)
		switch {
		case !(v > 0):
			return 0
		case v >= float64(n):
			return n - 1
		}
		return int(v)
	}
	return at(e.Min.X-gap-s.from.X, s.nx), at(e.Min.Y-gap-s.from.Y, s.ny),
		at(e.Max.X+gap-s.from.X, s.nx), at(e.Max.Y+gap-s.from.Y, s.ny)
}

// nowhere is an extent that holds nothing.
var nowhere = Bounds{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}

func (b Bounds) join(o Bounds) Bounds {
	return Bounds{
		Point{math.Min(b.Min.X, o.Min.X), math.Min(b.Min.Y, o.Min.Y)},
		Point{math.Max(b.Max.X, o.Max.X), math.Max(b.Max.Y, o.Max.Y)},
	}
}

func (b Bounds) empty() bool { return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y) }

// Apart is the clear distance (Euclid) of two extents, 0 when they meet.
func (b Bounds) Apart(o Bounds) float64 {
	return math.Hypot(gap(b.Min.X, b.Max.X, o.Min.X, o.Max.X), gap(b.Min.Y, b.Max.Y, o.Min.Y, o.Max.Y))
}
