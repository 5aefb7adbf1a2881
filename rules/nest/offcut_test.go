package nest

import (
	"math"
	"testing"
)

// The offcut that stays whole is the largest one worth keeping. Derived: a piece
// of 950 × 180 on 1600 × 400 with a kerf of 5 leaves 645 × 400 when it is cut off
// across; along it would leave 1600 × 215, a side of which is under 300.
func TestLargestOffcutWorthKeeping(t *testing.T) {
	for _, c := range []struct {
		pieces []Size
		stock  Size
		rules  Rules
		want   float64
	}{
		{[]Size{{950, 180}}, Size{1600, 400}, Rules{Kerf: 5, Offcut: 300, Turn: true}, 645 * 400},
		{[]Size{{950, 180}}, Size{1600, 400}, Rules{Kerf: 5, Offcut: 200, Turn: true}, 1600 * 215},
		{[]Size{{530, 370}, {530, 370}}, Size{1100, 750}, Rules{Trim: 25, Offcut: 300, Turn: true}, 680 * 330}, // 370 × 530 at one end, 530 × 370 beside it
	} {
		l, err := Cut(c.pieces, []Size{c.stock}, c.rules)
		if err != nil {
			t.Fatal(err)
		}
		best := 0.0
		for _, s := range l.Sheets {
			for _, o := range s.Offcuts {
				best = math.Max(best, o.Area())
			}
		}
		if math.Abs(best-c.want) > 1 {
			t.Errorf("%v on %v: largest offcut %v, want %v", c.pieces, c.stock, best, c.want)
		}
	}
}

// What is bought are whole sheets, trim and all. Derived: less a trim of 25 both
// sizes leave 0.7 m², but one sheet is 0.7875 and the other 0.81 m².
func TestLeastAreaIsOfWholeSheets(t *testing.T) {
	for _, stock := range [][]Size{{{1050, 750}, {1800, 450}}, {{1800, 450}, {1050, 750}}} {
		l, err := Cut([]Size{{740, 180}, {970, 320}}, stock, Rules{Trim: 25, Turn: true})
		if err != nil || len(l.Sheets) != 1 || l.Sheets[0].Size != (Size{1050, 750}) {
			t.Errorf("%v of %v: %+v", err, stock, l)
		}
	}
}
