package floor

import (
	"math"
	"slices"
	"testing"
)

func TestShortRow(t *testing.T) {
	in := bricks(30000, 50, 6000, 1800, 0)
	for i := range in.Plates {
		if in.Plates[i].Label.Value == "5-3" {
			in.Plates = slices.Delete(in.Plates, i, i+1)
			break
		}
	}
	p := Place(in)
	rows := p.ShortRows()
	if len(rows) != 1 || rows[0].Row != "5" || !slices.Equal(rows[0].Missing, []string{"3"}) {
		t.Fatalf("%+v", rows)
	}
	r := rows[0]
	n := float64(len(r.Plates))
	closeTo(t, "length", r.Length, n*6000-(n-1)*50, 1e-9)
	y := math.Min(math.Abs(r.Bottom), math.Abs(r.Top))
	closeTo(t, "chord", r.Chord, 2*math.Sqrt(15000*15000-y*y), 1e-9)
	// what it leaves bare lies at the rim, on both sides
	for _, h := range p.Holes() {
		if !h.AtRim {
			t.Errorf("a hole between plates: %+v", h)
		}
	}
	// a row with a plate of its own place is not judged by its length
	in.Plates[r.Plates[0]].Left = mm(-12000)
	if rows := Place(in).ShortRows(); len(rows) != 0 {
		t.Errorf("%+v", rows)
	}
}

func TestShortRowAtTheLimit(t *testing.T) {
	in := tank(10000, 0)
	rectangle(in, "1", "1", "1", 9700, 12000)
	if rows := Place(in).ShortRows(); len(rows) != 0 {
		t.Errorf("300 mm short is at the limit: %+v", rows)
	}
	in.Plates[0].Length = mm(9699)
	if rows := Place(in).ShortRows(); len(rows) != 1 {
		t.Error("301 mm short")
	}
}

func TestOverlaps(t *testing.T) {
	in := tank(20000, 50)
	placed(in, "3-4", 0, 0, 6000, 1800)
	placed(in, "3-5", 4800, 0, 4000, 1800)   // 1.20 m, as in the catalogue's message
	placed(in, "3-6", 8650, 0, 900, 1800)    // exactly lap + 100
	placed(in, "4-4", 500, 1649, 3000, 1800) // one more
	p := Place(in)
	got := p.Overlaps()
	if len(got) != 2 || got[0].A != 0 || got[0].B != 1 || got[1].A != 0 || got[1].B != 3 {
		t.Fatalf("%+v", got)
	}
	closeTo(t, "by", got[0].By, 1200, 1e-9)
	closeTo(t, "area", got[0].Area, 1200*1800, 1e-6)
	closeTo(t, "by", got[1].By, 151, 1e-9)
}

func TestHoleLimits(t *testing.T) {
	frame := func(gapX, gapY float64) *Plan {
		in := tank(40000, 0)
		placed(in, "left", -9000, -4000, 9000-gapX/2, 8000)
		placed(in, "right", gapX/2, -4000, 9000-gapX/2, 8000)
		placed(in, "below", -gapX/2, -4000, gapX, 4000-gapY/2)
		placed(in, "above", -gapX/2, gapY/2, gapX, 4000-gapY/2)
		return Place(in)
	}
	between := func(p *Plan) (n int, h Hole) {
		for _, h := range p.Holes() {
			if !h.AtRim {
				return 1, h
			}
		}
		return 0, Hole{}
	}
	if n, h := between(frame(1000, 1001)); n != 1 {
		t.Error("1.001 m² is a hole")
	} else {
		closeTo(t, "area", h.Area, 1001000, 1)
		closeTo(t, "width", h.Width(), 4*1001000/4002.0, 1e-3)
		if !slices.Equal(h.Plates, []int{0, 1, 2, 3}) {
			t.Errorf("around it %v", h.Plates)
		}
	}
	if n, _ := between(frame(1000, 999)); n != 0 {
		t.Error("0.999 m² is none")
	}
	if n, _ := between(frame(150, 7900)); n != 0 { // 4·A/P = 294
		t.Error("a slot is none")
	}
	if n, _ := between(frame(155, 7900)); n != 1 { // 1.22 m², 4·A/P = 304
		t.Error("a wider slot is one")
	}
}

func TestRingGaps(t *testing.T) {
	in := tank(30000, 0)
	in.Tank.AnnularRing, in.Tank.AnnularWidth = given("yes"), mm(700)
	segment(in, "A3", 200, 350, 700)
	segment(in, "A1", 350, 100, 700)
	segment(in, "A2", 95.8, 195.8, 700)
	gaps := Place(in).RingGaps()
	want := []RingGap{{A: 2, B: 0, Open: 4.2, At: 195.8}, {A: 0, B: 1, Open: 0, At: 350}, {A: 1, B: 2, Open: -4.2, At: 100}}
	if len(gaps) != len(want) {
		t.Fatalf("%+v", gaps)
	}
	for i, g := range gaps {
		if g.A != want[i].A || g.B != want[i].B || math.Abs(g.Open-want[i].Open) > 1e-9 || math.Abs(g.At-want[i].At) > 1e-9 {
			t.Errorf("%+v, want %+v", g, want[i])
		}
	}
	one := tank(30000, 0)
	segment(one, "A", 10, 350, 700)
	if g := Place(one).RingGaps(); len(g) != 1 || math.Abs(g[0].Open-20) > 1e-9 {
		t.Errorf("%+v", g)
	}
}

func TestPolarExtent(t *testing.T) {
	in := tank(20000, 0)
	in.Tank.PlanUpBearing = deg(350)
	placed(in, "1", -1000, 5000, 2000, 4000)
	p := Place(in)
	from, to, inner, outer, ok := p.PolarExtent(0, Box{0, 1000, 2000, 2000})
	if !ok {
		t.Fatal("no extent")
	}
	half := degrees(math.Atan2(1000, 6000))
	closeTo(t, "from", from, 350-half, 1e-9)
	closeTo(t, "to", to, 350+half, 1e-9)
	closeTo(t, "inner", inner, 6000, 1e-9)
	closeTo(t, "outer", outer, math.Hypot(1000, 7000), 1e-9)
}
