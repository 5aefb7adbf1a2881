package compare

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"platebook/rules/assess"
	"platebook/rules/floor"
)

// Source: derived, scipy 1.10.1 linear_sum_assignment
// (testdata/assignment/point_matching_gated.json); tolerance of the total
// distance 1e-6 as stated there.
func TestGatedPairs(t *testing.T) {
	var set struct {
		Cases []struct {
			ID       string
			Gate     float64
			A, B     [][2]float64
			Expected struct {
				Matched  int
				Distance float64 `json:"total_distance"`
				Pairs    [][2]int
				Unique   bool
			}
		}
	}
	load(t, "point_matching_gated.json", &set)
	if len(set.Cases) == 0 {
		t.Fatal("no case")
	}
	for k, c := range set.Cases {
		spots := func(list [][2]float64) (out []spot) {
			for _, p := range list {
				out = append(out, spot{at: floor.Point{X: 1000 * p[0], Y: 1000 * p[1]}, side: assess.Soil})
			}
			return out
		}
		a, b := spots(c.A), spots(c.B)
		got := pairs(a, b, 1000*c.Gate)
		n, sum := 0, 0.0
		for i, j := range got {
			if j >= 0 {
				n++
				sum += math.Hypot(a[i].at.X-b[j].at.X, a[i].at.Y-b[j].at.Y) / 1000
			}
		}
		if n != c.Expected.Matched || math.Abs(sum-c.Expected.Distance) > 1e-6 {
			t.Errorf("case %d: %d pairs, %.9f; want %d, %.9f", k, n, sum, c.Expected.Matched, c.Expected.Distance)
		}
		if c.Expected.Unique {
			for _, p := range c.Expected.Pairs {
				if got[p[0]] != p[1] {
					t.Errorf("case %d: %d with %d, want %d", k, p[0], got[p[0]], p[1])
				}
			}
		}
		if m := most(within(a, b, 1000*c.Gate, true), len(b)); m != n {
			t.Errorf("case %d: at most %d pairs, found %d", k, m, n)
		}
	}
}

func field(rnd *rand.Rand, n int, side float64) []spot {
	out := make([]spot, n)
	for i := range out {
		out[i] = spot{at: floor.Point{X: rnd.Float64() * side, Y: rnd.Float64() * side}, side: assess.Soil}
	}
	return out
}

func moved(rnd *rand.Rand, in []spot, by float64) []spot {
	out := append([]spot(nil), in...)
	for i := range out {
		out[i].at.X += rnd.NormFloat64() * by
		out[i].at.Y += rnd.NormFloat64() * by
	}
	return out
}

// Pairing both ways gives the same pairs: as many, at the same total distance.
func TestPairingBothWays(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for n := 0; n < 50; n++ {
		a := field(rnd, 60, 1500)
		b := append(moved(rnd, a[:45], 40), field(rnd, 15, 1500)...)
		there, back := pairs(a, b, 125), pairs(b, a, 125)
		for i, j := range there {
			if j >= 0 && back[j] != i {
				t.Fatalf("%d: old %d with new %d, the other way with %d", n, i, j, back[j])
			}
		}
	}
}

// Distances are shorter than half the way to the next neighbour: a shift of all
// points that stays under the gate keeps every pair.
func TestShiftKeepsPairs(t *testing.T) {
	var a []spot
	for i := 0; i < 400; i++ {
		a = append(a, spot{at: floor.Point{X: float64(i%20) * 300, Y: float64(i/20) * 300}, side: assess.Soil})
	}
	for _, by := range []float64{0, 30, 85} { // 85·√2 = 120, under 125
		b := append([]spot(nil), a...)
		for i := range b {
			b[i].at.X += by
			b[i].at.Y += by
		}
		for i, j := range pairs(a, b, 125) {
			if i != j {
				t.Fatalf("shift %v: %d with %d", by, i, j)
			}
		}
	}
}

func TestGateAndSides(t *testing.T) {
	at := func(x float64, s assess.Side, plate int) []spot {
		return []spot{{at: floor.Point{X: x}, side: s, plate: plate}}
	}
	for _, c := range []struct {
		x     float64
		a, b  assess.Side
		plate int
		want  int
	}{
		{125, assess.Soil, assess.Soil, 0, 0},      // at the gate
		{125.001, assess.Soil, assess.Soil, 0, -1}, // beyond it
		{0, assess.Soil, assess.Product, 0, -1},
		{0, assess.Soil, assess.Unknown, 0, 0},
		{0, assess.Unknown, assess.Product, 0, 0},
		{0, assess.Soil, assess.Soil, 1, -1},
	} {
		if got := pairs(at(0, c.a, 0), at(c.x, c.b, c.plate), 125)[0]; got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

func BenchmarkPairs(b *testing.B) {
	for _, c := range []struct {
		n    int
		side float64
	}{{5000, 30e3}, {5000, 8e3}, {5000, 3e3}, {50000, 90e3}} {
		rnd := rand.New(rand.NewSource(1))
		old := field(rnd, c.n, c.side)
		now := append(moved(rnd, old[:c.n*8/10], 30), field(rnd, c.n/5, c.side)...)
		b.Run(fmt.Sprintf("%d on %.0f m", c.n, c.side/1e3), func(b *testing.B) {
			for i := 0; i < b.N; i++ {
				pairs(old, now, 125)
			}
		})
	}
}
