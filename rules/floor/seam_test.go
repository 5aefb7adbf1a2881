package floor

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

func TestSeamsOfTheSixMetreTank(t *testing.T) {
	p := Place(sixMetre())
	// derived: laps 1-1/2-1, 1-1/2-2, 2-1/2-2, 2-1/3-1, 2-1/3-2, 2-2/3-2,
	// 2-2/3-3, 3-1/3-2, 3-2/3-3, 3-1/4-1, 3-2/4-1, 3-3/4-1
	var got [][2]int
	for _, s := range p.Seams {
		if s.Kind != LapSeam {
			t.Errorf("a %s", s.Kind)
		}
		got = append(got, [2]int{s.A, s.B})
		for _, q := range s.Strip {
			if math.Hypot(q.X, q.Y) > 3000+1e-6 {
				t.Errorf("seam of %d and %d leaves the tank", s.A, s.B)
			}
		}
	}
	want := [][2]int{{0, 1}, {0, 2}, {1, 2}, {1, 3}, {1, 4}, {2, 4}, {2, 5}, {3, 4}, {3, 6}, {4, 5}, {4, 6}, {5, 6}}
	if !slices.Equal(got, want) {
		t.Errorf("seams %v", got)
	}
	if n := p.Neighbours(4); !slices.Equal(n, []int{1, 2, 3, 5, 6}) {
		t.Errorf("neighbours of 3-2: %v", n)
	}
}

func TestDistanceToSeams(t *testing.T) {
	p := Place(sixMetre())
	// plate 3-2: x −1500 to 1500, y −25 to 1775; strips along its lower edge up to
	// y 25, its left edge up to x −1450
	b := boxAround(p, 4, Point{-1300, 200}, 100)
	d, k := p.ToSeam(4, b)
	closeTo(t, "to the left lap", d, 100, 1e-9)
	if s := p.Seams[k]; s.A != 3 || s.B != 4 {
		t.Errorf("seam %+v", s)
	}
	found := p.SeamsNear(4, b, 125.5)
	if len(found) != 2 {
		t.Fatalf("near: %+v", found)
	}
	for _, f := range found {
		s := p.Seams[f.Seam]
		switch {
		case s.A == 1 && s.B == 4: // along the bottom, in 3-2's frame v 0 to 50
			closeTo(t, "bottom", f.Distance, 125, 1e-9)
			closeTo(t, "bottom from", beside(p, 4, f).V1, 0, 1e-3)
			closeTo(t, "bottom to", beside(p, 4, f).V2, 50, 1e-3)
		case s.A == 3 && s.B == 4:
			closeTo(t, "left", f.Distance, 100, 1e-9)
			closeTo(t, "left from", beside(p, 4, f).U1, 0, 1e-3)
			closeTo(t, "left to", beside(p, 4, f).U2, 50, 1e-3)
		default:
			t.Errorf("seam %+v", s)
		}
	}
	over := boxAround(p, 4, Point{0, 0}, 100)
	if d, _ := p.ToSeam(4, over); d != 0 {
		t.Errorf("over a lap: %v", d)
	}
}

// beside is the extent of a near seam's part beside the box.
func beside(p *Plan, plate int, n NearSeam) Box {
	b, _ := p.SeamWithin(plate, n.Seam, n.Beside)
	return b
}

func TestSeamWithoutLap(t *testing.T) {
	in := tank(20000, 0)
	placed(in, "1", -3000, -1000, 3000, 2000)
	placed(in, "2", 0, -1000, 3000, 2000)    // edge to edge
	placed(in, "3", -3000, 1012, 6000, 2000) // 12 mm clear
	placed(in, "4", 5000, 5000, 1000, 1000)  // alone
	p := Place(in)
	if len(p.Seams) != 3 {
		t.Fatalf("%d seams", len(p.Seams))
	}
	d, _ := p.ToSeam(0, boxAround(p, 0, Point{-150, 0}, 100))
	closeTo(t, "to the butted edges", d, 100, 1e-9)
	d, _ = p.ToSeam(0, boxAround(p, 0, Point{-1500, 900}, 100))
	closeTo(t, "to the narrow gap", d, 50, 1e-9)
	f := p.SeamsNear(0, boxAround(p, 0, Point{-40, 0}, 100), 50)
	if len(f) != 1 || f[0].Distance != 0 || math.Abs(beside(p, 0, f[0]).U1-3000) > 1e-3 {
		t.Errorf("%+v", f)
	}
	if n := p.Neighbours(3); len(n) != 0 {
		t.Errorf("neighbours of a plate alone: %v", n)
	}
}

func TestRingSeams(t *testing.T) {
	p := Place(bricks(30000, 50, 6000, 1800, 700))
	butts, rings := 0, 0
	for _, s := range p.Seams {
		switch s.Kind {
		case ButtSeam:
			butts++
			if s.A < 0 || s.B < 0 {
				t.Errorf("a closed ring's butt joins two plates: %+v", s)
			}
		case RingSeam:
			rings++
			closeTo(t, "inner", s.Inner, 14275, 1e-9)
			closeTo(t, "outer", s.Outer, 14325, 1e-9)
		}
	}
	if butts != 12 || rings != 1 {
		t.Errorf("%d butts, %d rings", butts, rings)
	}
	i := len(p.Plates) - 12
	// Y 700 is the inner edge: strip 675 to 725
	d, _ := p.ToSeam(i, Box{1000, 300, 1100, 575})
	closeTo(t, "to the inner edge", d, 100, 0.1) // the box's inner side is a chord
	d, _ = p.ToSeam(i, Box{80, 100, 200, 300})
	closeTo(t, "to the butt", d, 80*(15000-300)/15000.0, 0.2)
	f := p.SeamsNear(i, Box{1000, 500, 1100, 600}, 100)
	if len(f) != 1 || math.Abs(beside(p, i, f[0]).V1-675) > 1e-6 || math.Abs(beside(p, i, f[0]).V2-725) > 1e-6 {
		t.Errorf("%+v", f)
	}
	f = p.SeamsNear(i, Box{80, 100, 200, 300}, 100)
	if len(f) != 1 || math.Abs(beside(p, i, f[0]).U1) > 1e-6 || math.Abs(beside(p, i, f[0]).U2) > 1e-6 {
		t.Errorf("%+v", f)
	}
	if n := p.Neighbours(i); !slices.Equal(n, []int{i + 1, i + 11}) {
		t.Errorf("neighbours in the ring: %v", n)
	}
	// a floor plate's patch sees the ring from inside
	plate := p.PlateAt(Point{1500, 14000})
	b := boxAround(p, plate, Point{1500, 14050}, 100)
	found := false
	for _, n := range p.SeamsNear(plate, b, 200) {
		if p.Seams[n.Seam].Kind != RingSeam {
			continue
		}
		found = true
		closeTo(t, "from inside", n.Distance, 14275-math.Hypot(1550, 14100), 1e-6)
		low, _ := p.LocalToPlan(plate, Point{beside(p, plate, n).U1, beside(p, plate, n).V1})
		// the lowest place of the strip beside the box is at the right of the box
		// grown by 200 mm and the strip's width
		closeTo(t, "extent", low.Y, math.Sqrt(14275*14275-1800*1800), 0.5)
	}
	if !found {
		t.Error("the ring is not near")
	}
}

func TestDistancesAgreeWithSampling(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	for range 200 {
		quad := func() convex {
			sin, cos := turn(rng.Float64() * 360)
			w, h := 10+rng.Float64()*100, 10+rng.Float64()*100
			at := Point{rng.Float64() * 300, rng.Float64() * 300}
			out := rect(0, 0, w, h)
			for i, q := range out {
				out[i] = Point{at.X + q.X*cos - q.Y*sin, at.Y + q.X*sin + q.Y*cos}
			}
			return out
		}
		a, b := quad(), quad()
		if rng.Intn(3) == 0 {
			b = b[:2]
		}
		least := math.Inf(1)
		const n = 60
		for i := range a {
			for k := range n {
				f := float64(k) / n
				q := Point{a[i].X + f*(a[(i+1)%4].X-a[i].X), a[i].Y + f*(a[(i+1)%4].Y-a[i].Y)}
				for j := range b {
					least = math.Min(least, toSegment(q, b[j], b[(j+1)%len(b)]))
				}
			}
		}
		inside := a.has(b[0], 0) || (len(b) > 2 && b.has(a[0], 0))
		got := apart(a, b)
		if inside || len(clipLine(b, a)) > 1 {
			if got != 0 {
				t.Errorf("meeting outlines are %v apart", got)
			}
			continue
		}
		if got > least+1e-9 || least-got > 3 {
			t.Errorf("apart %v, sampled %v", got, least)
		}
	}
}

func TestBoxesAcrossPlates(t *testing.T) {
	p := Place(sixMetre())
	a := boxAround(p, 1, Point{-500, -200}, 200) // 2-1
	b := boxAround(p, 4, Point{-500, 120}, 200)  // 3-2, above it across the seam
	d, ok := p.ToBox(1, a, 4, b)
	if !ok {
		t.Fatal("no distance")
	}
	closeTo(t, "clear", d, 120, 1e-9)
	over := boxAround(p, 4, Point{-500, -50}, 200)
	closeTo(t, "union", float64(p.PlanUnion([]Covered{{1, a, false}, {4, over, false}, {1, a, false}})), 0.04+0.03, 1e-9)
}

func TestPairsAndIndexAgree(t *testing.T) {
	p := Place(bricks(30000, 50, 6000, 1800, 0))
	rng := rand.New(rand.NewSource(9))
	boxes := make([]Box, 400)
	extents := make([]Bounds, len(boxes))
	for i := range boxes {
		boxes[i] = BoxAt(Point{rng.Float64() * 6000, rng.Float64() * 1800}, rng.Float64()*200, rng.Float64()*200)
		extents[i], _ = p.Extent(20, boxes[i])
	}
	var want, got [][2]int
	for i := range boxes {
		for j := i + 1; j < len(boxes); j++ {
			if boxes[i].Apart(boxes[j]) <= 30 {
				want = append(want, [2]int{i, j})
			}
		}
	}
	Pairs(boxes, 30, func(i, j int) { got = append(got, [2]int{i, j}) })
	if !slices.Equal(got, want) || len(want) == 0 {
		t.Errorf("%d pairs, want %d", len(got), len(want))
	}
	x := NewIndex(extents)
	got = nil
	for i := range boxes {
		for _, j := range x.Near(extents[i], 30, nil) {
			if d, _ := p.ToBox(20, boxes[i], 20, boxes[j]); j > i && d <= 30 {
				got = append(got, [2]int{i, j})
			}
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("index: %d pairs, want %d", len(got), len(want))
	}
}

// Derived: a strip of 50 along y between x = 975 and 1025, patches of 400 × 300
// about x; at 45° the corners stand (400 + 300)/(2·√2) = 247.487 off the middle
// line, less half the strip.
func TestBeyondASeam(t *testing.T) {
	s := Seam{Kind: LapSeam, Strip: Ring{{975, -2000}, {1025, -2000}, {1025, 2000}, {975, 2000}}}
	ring := Seam{Kind: RingSeam, Inner: 9000, Outer: 9050}
	p := &Plan{Radius: 10000, Seams: []Seam{s, ring}, Plates: []Plate{
		{Placed: true, Length: 4000, Width: 4000},
		{Placed: true, Length: 4000, Width: 4000, Origin: Point{1000, 0}, Turned: 45},
		{Placed: true, Sector: true, Start: 0, End: 90},
	}}
	for _, c := range []struct {
		name  string
		plate int
		box   Box
		seam  int
		want  float64
	}{
		{"over the seam", 0, BoxAt(Point{1000, 0}, 400, 300), 0, 175},
		{"nearer to one end", 0, BoxAt(Point{1100, 0}, 400, 300), 0, 75},
		{"ends on the strip", 0, BoxAt(Point{1190, 0}, 400, 300), 0, 0},
		{"at a skew", 1, BoxAt(Point{0, 0}, 400, 300), 0, 247.48737341529163 - 25},
		{"over the ring's edge", 0, BoxAt(Point{9025, 0}, 400, 300), 1, 175},
		{"along the shell", 2, Box{U1: 1000, V1: 800, U2: 1400, V2: 1100}, 1, 100},
	} {
		closeTo(t, c.name, p.Beyond(c.plate, c.box, c.seam), c.want, 1e-9)
	}
}

// A place typed in inches comes back to the millimetre off by a rounding of
// doubles: 40 mm from a box of 80 is its edge either way.
func TestEdgesInInches(t *testing.T) {
	b := BoxAt(Point{1234.5, 678.9}, 80, 60)
	inches := func(mm float64) float64 { return mm / 25.4 * 25.4 * (1 + 2e-16) }
	for _, x := range []float64{1194.5, 1274.5, inches(1194.5), inches(1274.5), 1274.5 + 1e-10} {
		if !b.Has(Point{x, 678.9}) {
			t.Errorf("%v is off the edge", x)
		}
	}
	for _, x := range []float64{1314.5, inches(1314.5), 1314.5 - 1e-10} {
		if o := BoxAt(Point{x, 678.9}, 80, 60); b.Overlaps(o) || !b.Grow(80).Covers(o) {
			t.Errorf("%v: boxes that touch overlap", x)
		}
	}
	if b.Has(Point{1274.5 + 1e-3, 678.9}) || !b.Overlaps(BoxAt(Point{1314.5 - 1e-3, 678.9}, 80, 60)) {
		t.Error("a micrometre counts")
	}
}
