package recount

import (
	"math"
	"math/bits"
	"slices"
)

// Sheet is a rectangle of steel, a piece or a stock sheet, mm.
type Sheet struct{ Length, Width float64 }

// Cut is the best way to cut a few pieces from stock sheets: the fewest, then
// the least area of them, then the largest offcut of one of them; by trying
// every way that runs from edge to edge. Fits marks the pieces that fit a sheet
// at all; the others are left out of the counts.
type Cut struct {
	Sheets int
	Area   float64 // m² of sheets
	Offcut float64 // m² of the largest offcut, 0 without one
	Fits   []bool
}

// shears is how the pieces are cut.
type shears struct {
	pieces             []Sheet
	kerf, trim, offcut float64
	blocks             [][]Sheet // by set of pieces: the least blocks that hold it
}

const little = 1e-6 // mm

// Cutting tries every way; more than eight pieces take long.
func Cutting(pieces, stock []Sheet, kerf, trim, offcut float64) Cut {
	s := &shears{pieces: pieces, kerf: kerf, trim: trim, offcut: offcut, blocks: make([][]Sheet, 1<<len(pieces))}
	out := Cut{Fits: make([]bool, len(pieces))}
	all := 0
	for set := 1; set < 1<<len(pieces); set++ {
		s.blocks[set] = s.least(set)
	}
	var cut []Sheet
	for _, b := range stock {
		cut = append(cut, Sheet{b.Length - 2*trim, b.Width - 2*trim})
	}
	for i := range pieces {
		for _, b := range cut {
			if s.holds(1<<i, b) {
				out.Fits[i] = true
			}
		}
		if out.Fits[i] {
			all |= 1 << i
		}
	}
	type way struct {
		sheets int
		area   float64
		offcut float64
	}
	worse := func(a, b way) bool {
		switch {
		case a.sheets != b.sheets:
			return a.sheets > b.sheets
		case math.Abs(a.area-b.area) > 1e-9:
			return a.area > b.area
		}
		return a.offcut < b.offcut-1e-9
	}
	best := make([]way, all+1)
	for set := 1; set <= all; set++ {
		best[set] = way{sheets: math.MaxInt32}
		if set&^all != 0 {
			continue
		}
		first := set & -set
		for sub := set; sub > 0; sub = (sub - 1) & set {
			if sub&first == 0 || best[set&^sub].sheets == math.MaxInt32 {
				continue
			}
			rest := best[set&^sub]
			for i, b := range cut {
				if !s.holds(sub, b) {
					continue
				}
				w := way{rest.sheets + 1, rest.area + stock[i].Length*stock[i].Width/1e6, rest.offcut}
				if w.sheets > best[set].sheets {
					continue
				}
				w.offcut = max(w.offcut, s.left(sub, b)/1e6)
				if worse(best[set], w) {
					best[set] = w
				}
			}
		}
	}
	if all > 0 {
		out.Sheets, out.Area, out.Offcut = best[all].sheets, best[all].area, best[all].offcut
	}
	return out
}

// least are the blocks that hold a set of pieces, none of which holds another.
func (s *shears) least(set int) []Sheet {
	var out []Sheet
	add := func(b Sheet) {
		for _, o := range out {
			if o.Length <= b.Length+little && o.Width <= b.Width+little {
				return
			}
		}
		out = slices.DeleteFunc(out, func(o Sheet) bool { return b.Length <= o.Length+little && b.Width <= o.Width+little })
		out = append(out, b)
	}
	if bits.OnesCount(uint(set)) == 1 {
		p := s.pieces[bits.TrailingZeros(uint(set))]
		add(p)
		add(Sheet{p.Width, p.Length})
		return out
	}
	for a := (set - 1) & set; a > 0; a = (a - 1) & set {
		if a&(set&-set) == 0 {
			continue
		}
		for _, x := range s.blocks[a] {
			for _, y := range s.blocks[set&^a] {
				add(Sheet{x.Length + s.kerf + y.Length, max(x.Width, y.Width)})
				add(Sheet{max(x.Length, y.Length), x.Width + s.kerf + y.Width})
			}
		}
	}
	return out
}

func (s *shears) holds(set int, in Sheet) bool {
	return slices.ContainsFunc(s.blocks[set], func(b Sheet) bool { return b.Length <= in.Length+little && b.Width <= in.Width+little })
}

// left is the largest piece that can stay whole when a set is cut from a
// rectangle, mm²; with a side below the smallest offcut it is none.
func (s *shears) left(set int, from Sheet) float64 {
	if from.Length < s.offcut-little || from.Width < s.offcut-little {
		return 0
	}
	if set == 0 {
		return from.Length * from.Width
	}
	best := 0.0
	for a := set; a > 0; a = (a - 1) & set {
		for _, b := range s.blocks[a] {
			if b.Width <= from.Width+little {
				best = max(best, s.left(set&^a, Sheet{from.Length - b.Length - s.kerf, from.Width}))
			}
			if b.Length <= from.Length+little {
				best = max(best, s.left(set&^a, Sheet{from.Length, from.Width - b.Width - s.kerf}))
			}
		}
	}
	return best
}
