package nest

import (
	"fmt"
	"math"
	"sort"
)

// Verify holds a layout against what was asked: every piece once, to its size,
// inside the trimmed sheet, the kerf kept to its neighbours, and reachable by
// cuts from edge to edge.
//
// Source: derived. Check: TestVerifyRefuses.
func Verify(pieces, stock []Size, rules Rules, l *Layout) error {
	seen := make([]int, len(pieces))
	for _, i := range l.TooLarge {
		seen[i]++
	}
	const slack = 2.0 / ticksPerMM
	for n, s := range l.Sheets {
		if s.Stock < 0 || s.Stock >= len(stock) || s.Size != stock[s.Stock] {
			return fmt.Errorf("sheet %d is no stock size", n+1)
		}
		boxes := make([]span, 0, len(s.Pieces))
		for _, p := range s.Pieces {
			if p.Piece < 0 || p.Piece >= len(pieces) {
				return fmt.Errorf("sheet %d holds a piece that was not asked for", n+1)
			}
			seen[p.Piece]++
			want := pieces[p.Piece]
			if p.Turned {
				want.Length, want.Width = want.Width, want.Length
			}
			if p.Length != want.Length || p.Width != want.Width || (p.Turned && !rules.Turn) {
				return fmt.Errorf("piece %d is not to size", p.Piece+1)
			}
			if p.X < rules.Trim-slack || p.Y < rules.Trim-slack ||
				p.X+p.Length > s.Size.Length-rules.Trim+slack || p.Y+p.Width > s.Size.Width-rules.Trim+slack {
				return fmt.Errorf("piece %d reaches outside sheet %d", p.Piece+1, n+1)
			}
			boxes = append(boxes, span{p.X, p.Y, p.X + p.Length, p.Y + p.Width})
		}
		if !separable(boxes, rules.Kerf-slack) {
			return fmt.Errorf("sheet %d cannot be cut from edge to edge with the kerf kept", n+1)
		}
	}
	for i, c := range seen {
		if c != 1 {
			return fmt.Errorf("piece %d is placed %d times", i+1, c)
		}
	}
	return nil
}

type span struct{ x1, y1, x2, y2 float64 }

// separable says whether cuts of the given width from edge to edge part all
// boxes. Any clear cut may be taken first: what can be parted as a whole can be
// parted in each of its halves.
func separable(b []span, kerf float64) bool {
	if len(b) < 2 {
		return true
	}
	for _, along := range []bool{true, false} {
		lo := func(s span) float64 {
			if along {
				return s.x1
			}
			return s.y1
		}
		hi := func(s span) float64 {
			if along {
				return s.x2
			}
			return s.y2
		}
		sort.SliceStable(b, func(i, k int) bool { return lo(b[i]) < lo(b[k]) })
		reach := math.Inf(-1)
		from, parted := 0, false
		var groups [][]span
		for i := range b {
			if i > from && lo(b[i])-reach >= kerf {
				groups, from, parted = append(groups, b[from:i]), i, true
			}
			reach = math.Max(reach, hi(b[i]))
		}
		if parted {
			groups = append(groups, b[from:])
			for _, g := range groups {
				if !separable(append([]span(nil), g...), kerf) {
					return false
				}
			}
			return true
		}
	}
	return false
}
