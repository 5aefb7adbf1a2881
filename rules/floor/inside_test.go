package floor

import (
	"math"
	"testing"
)

func TestInsideTellsTheEdge(t *testing.T) {
	in := tank(30000, 50)
	rectangle(in, "3-4", "1", "1", 6020, 1800)
	p := Place(in)
	for _, c := range []struct {
		name string
		x, y float64
		want Standing
	}{
		{"centre", 3000, 900, Standing{OK: true, Opening: -1}},
		{"on the edge", 6020, 1800, Standing{OK: true, Opening: -1}},
		{"exactly at the tolerance", 6045, 900, Standing{OK: true, Opening: -1}},
		// the catalogue's message: X 6420 is 400 mm beyond 3-4 (6020)
		{"beyond X", 6420, 900, Standing{Fault: OffPlate, By: 400, Axis: "X", Value: 6420, Limit: 6020, Opening: -1}},
		{"below 0", -60, 900, Standing{Fault: OffPlate, By: 60, Axis: "X", Value: -60, Limit: 0, Opening: -1}},
		{"beyond Y", 6030, 1900, Standing{Fault: OffPlate, By: 100, Axis: "Y", Value: 1900, Limit: 1800, Opening: -1}},
		// 20 mm past both edges is 28 mm from the corner
		{"off the corner", 6040, 1820, Standing{Fault: OffPlate, By: 20, Axis: "X", Value: 6040, Limit: 6020, Opening: -1}},
	} {
		if got := p.Inside(0, c.x, c.y, 25); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

func TestInsideTellsTheRim(t *testing.T) {
	p := Place(sixMetre())
	// plate 1-1 spans x ±2500 and y −3525 to −1725; straight below the centre the
	// rim is at y −3000
	for over, ok := range map[float64]bool{-100: true, 0: true, 25: true, 26: false, 180: false} {
		x, y, _ := p.FromPlan(0, Point{0, -3000 - over})
		s := p.Inside(0, x, y, 25)
		if s.OK != ok || (!ok && (s.Fault != OutsideRim || math.Abs(s.By-over) > 1e-9)) {
			t.Errorf("%v over the rim: %+v", over, s)
		}
	}
	// the far corner of the rectangle is off the tank
	if s := p.Inside(0, 0, 0, 25); s.Fault != OutsideRim || math.Abs(s.By-(math.Hypot(2500, 3525)-3000)) > 1e-6 {
		t.Errorf("corner: %+v", s)
	}
}

// TestOffRimIsADistance compares with a search along the cut shape's outline.
func TestOffRimIsADistance(t *testing.T) {
	p := Place(sixMetre())
	pl := &p.Plates[3] // 3-1, at the left, cut by the rim
	for _, at := range []Point{{-3200, 1800}, {-2900, 1775}, {-3325, -20}, {-3100, 900}, {-2500, 1775}, {-3300, 1700}} {
		least := math.Inf(1)
		for _, r := range pl.Cut {
			for i := range r {
				least = math.Min(least, toSegment(at, r[i], r[(i+1)%len(r)]))
			}
		}
		if pl.Cut[0].has(at) {
			least = 0
		}
		closeTo(t, "distance", p.offRim(pl, at), least, 0.15) // chords stand up to 0.12 mm inside the rim
	}
}

func TestInsideAnnular(t *testing.T) {
	p := Place(bricks(30000, 50, 6000, 1800, 700))
	i := len(p.Plates) - 12
	arc := math.Pi / 6 * 15000
	for _, c := range []struct {
		x, y float64
		ok   bool
		axis string
		by   float64
	}{
		{100, 100, true, "", 0},
		{0, 0, true, "", 0},
		{arc + 20, 700, true, "", 0},
		{arc + 40, 350, false, "X", 40},
		{100, -40, false, "Y", 40},
		{100, 760, false, "Y", 60},
		// 26 mm along the shell at R are 24.8 mm at Y 700
		{-26, 700, true, "", 0},
	} {
		s := p.Inside(i, c.x, c.y, 25)
		if s.OK != c.ok || s.Axis != c.axis || math.Abs(s.By-c.by) > 1e-6 {
			t.Errorf("X %v Y %v: %+v", c.x, c.y, s)
		}
	}
}

func TestZones(t *testing.T) {
	p := Place(sixMetre())
	box := func(plate int, at Point, size float64) Box { return boxAround(p, plate, at, size) }
	// critical within 76.2 mm of the shell, inclusive (API Std 653, 4.4.5.4)
	for _, c := range []struct {
		at   Point
		want Zone
	}{
		{Point{0, -3000 + 76.2}, Critical},
		{Point{0, -3000 + 76.2 + 2e-6}, General},
		{Point{0, -3000 + 76.2 - 1}, Critical},
		{Point{0, -2000}, General},
		{Point{0, -3050}, Critical}, // beyond the shell: never less than critical
	} {
		if z := p.ZoneOf(0, box(0, c.at, 0), 76.2); z != c.want {
			t.Errorf("%v: %s, want %s", c.at, z, c.want)
		}
	}
	// any part of the box counts: centre at 100 mm, half its size 25
	if z := p.ZoneOf(0, box(0, Point{0, -2900}, 50), 76.2); z != Critical {
		t.Errorf("box reaching into the zone: %s", z)
	}
	d, ok := p.ToShell(0, box(0, Point{0, -2900}, 0))
	if !ok {
		t.Fatal("no distance")
	}
	closeTo(t, "to the shell", d, 100, 1e-9)

	ring := Place(bricks(30000, 50, 6000, 1800, 700))
	i := len(ring.Plates) - 1
	for v, want := range map[float64]Zone{76.2: Critical, 76.21: Annular, 300: Annular, -10: Critical} {
		if z := ring.ZoneOf(i, BoxAt(Point{100, v}, 0, 0), 76.2); z != want {
			t.Errorf("annular, Y %v: %s, want %s", v, z, want)
		}
	}
	if z := ring.ZoneOf(40, Box{0, 0, 10, 10}, 76.2); z != General {
		t.Errorf("inner plate: %s", z)
	}
}

func TestNoAllocations(t *testing.T) {
	p := Place(sixMetre())
	b := Box{100, 100, 200, 200}
	for name, f := range map[string]func(){
		"ToPlan":   func() { p.ToPlan(2, 400, 300) },
		"FromPlan": func() { p.FromPlan(2, Point{100, 100}) },
		"Box":      func() { p.Box(2, 400, 300, 20, 30) },
		"ZoneOf":   func() { p.ZoneOf(2, b, 76.2) },
		"Inside":   func() { p.Inside(2, 400, 300, 25) },
		"Bearing":  func() { p.Bearing(Point{1, 2}) },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}
