package floor

import (
	"math"
	"testing"

	"platebook/rules/inspection"
)

// sump adds a sump fixture; a size of 0 is left blank.
func sump(in *inspection.Inspection, name string, bearing, radius, length, width, diameter float64) {
	f := inspection.Fixture{Name: given(name), Kind: given("sump"), Bearing: deg(bearing), Radius: mm(radius)}
	if length > 0 {
		f.Length, f.Width = mm(length), mm(width)
	}
	if diameter > 0 {
		f.Diameter = mm(diameter)
	}
	in.Fixtures = append(in.Fixtures, f)
}

func TestSumpOpenings(t *testing.T) {
	in := sixMetre()
	in.Tank.PlanUpBearing = deg(30)
	sump(in, "S1", 120, 1200, 600, 400, 0) // east in plan: bearing 120 − 30 = 90
	p := Place(in)
	o := p.Openings[0]
	closeTo(t, "x", o.At.X, 1200, 1e-9)
	closeTo(t, "y", o.At.Y, 0, 1e-9)
	// derived: opening 0.6 × 0.4 m over the lap between rows 2 and 3, whose
	// middle line is y = 0; it counts as floor, so the balance stays
	closeTo(t, "opening", float64(p.OpeningArea), 0.24, 1e-9)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-6)
	closeTo(t, "net", float64(p.PlateArea), 9*math.Pi-0.24, 1e-6)
	closeTo(t, "net 2-2", float64(p.Plates[2].NetArea), 4.934831-0.12, 5e-7)
	// x 1200, y −100 is in the opening, 100 mm from its edge
	x, y, _ := p.FromPlan(2, Point{1200, -100})
	if s := p.Inside(2, x, y, 25); s.Fault != InSump || math.Abs(s.By-100) > 1e-6 || s.Opening != 0 {
		t.Errorf("in the opening: %+v", s)
	}
	// within tolerance of its edge
	x, y, _ = p.FromPlan(2, Point{1200, -176})
	if s := p.Inside(2, x, y, 25); !s.OK {
		t.Errorf("24 mm inside the opening's edge: %+v", s)
	}
	closeTo(t, "box over the opening", float64(p.BoxArea(2, boxAround(p, 2, Point{1200, -200}, 100)).V), 0.005, 1e-9)
}

func boxAround(p *Plan, plate int, at Point, size float64) Box {
	q, _ := p.PlanToLocal(plate, at)
	return BoxAt(q, size, size)
}

func TestRoundSump(t *testing.T) {
	in := tank(6000, 0)
	rectangle(in, "1", "1", "1", 7000, 7000)
	sump(in, "S1", 45, 1000, 0, 0, 900)
	p := Place(in)
	// elementary geometry: 9π − π·0.45²
	closeTo(t, "net", float64(p.PlateArea), math.Pi*(9-0.45*0.45), 1e-9)
	if len(p.Plates[0].Net) != 2 || area(p.Plates[0].Net[1])*area(p.Plates[0].Net[0]) > 0 {
		t.Errorf("want an outline and a hole, got %d rings", len(p.Plates[0].Net))
	}
	// the corner of the box around a round sump is metal
	at := p.Openings[0].At
	x, y, _ := p.FromPlan(0, Point{at.X + 400, at.Y + 400})
	if s := p.Inside(0, x, y, 25); !s.OK {
		t.Errorf("beside a round sump: %+v", s)
	}
}

func TestSumpInTheRing(t *testing.T) {
	in := bricks(20000, 50, 6000, 1800, 900)
	sump(in, "S1", 15, 9500, 300, 300, 0)
	sump(in, "S2", 100, 9550, 0, 0, 400)
	sump(in, "S3", 200, 9100, 400, 300, 0) // across the ring's inner edge
	sump(in, "S4", 240, 9500, 200, 500, 0) // over a radial seam
	p := Place(in)
	want := 0.3*0.3 + math.Pi*0.04 + 0.4*0.3 + 0.2*0.5
	closeTo(t, "openings", float64(p.OpeningArea), want, 1e-9)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-7)
	for i := range p.Plates {
		closeTo(t, "outline", shapeArea(p.Plates[i].Net)/1e6, float64(p.Plates[i].NetArea), 0.01)
	}
}

func TestSumpPlates(t *testing.T) {
	in := sixMetre()
	in.Plates = append(in.Plates, inspection.Plate{Label: given("S1"), Type: given("sump"), Length: mm(800), Width: mm(800)})
	p := Place(in)
	pl := &p.Plates[7]
	if pl.Placed || !pl.Sump || !pl.Sized {
		t.Fatalf("%+v", pl)
	}
	closeTo(t, "sum without the sump plate", float64(p.PlateArea), 9*math.Pi, 1e-6)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-6)
	if !p.Inside(7, 400, 400, 25).OK || p.Inside(7, 400, 900, 25).OK {
		t.Error("a sump plate is judged by its rectangle")
	}
	if z := p.ZoneOf(7, Box{0, 0, 100, 100}, 76.2); z != General {
		t.Errorf("zone %q", z)
	}
	closeTo(t, "pits in the sump", float64(p.UnionArea(7, []Box{{0, 0, 100, 100}, {50, 0, 150, 100}}).V), 0.015, 1e-12)
	in.Plates[7].Left, in.Plates[7].Bottom = mm(0), mm(0)
	p = Place(in)
	if !p.Plates[7].Placed || float64(p.PlateArea) > 9*math.Pi+1e-6 {
		t.Error("a placed sump plate is in no sum")
	}
}

// TestRoundSumpOverEdges takes a round opening off plates, ring and rim at once:
// whatever it takes from them is its own part of the floor.
func TestRoundSumpOverEdges(t *testing.T) {
	in := bricks(20000, 50, 6000, 1800, 900)
	sump(in, "S1", 40, 9100, 0, 0, 800)  // across the ring's inner edge
	sump(in, "S2", 60, 9400, 0, 0, 600)  // across a radial seam
	sump(in, "S3", 200, 3000, 0, 0, 900) // over laps
	p := Place(in)
	closeTo(t, "openings", float64(p.OpeningArea), math.Pi*(0.16+0.09+0.2025), 1e-9)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-7)
	sump(in, "S4", 300, 10000, 0, 0, 700) // across the shell
	p = Place(in)
	// lens of circles 10 m and 0.35 m, centres 10 m apart, by its closed form
	lens := 0.35*0.35*math.Acos(0.35/20) + 100*math.Acos(1-0.35*0.35/200) - 0.35*math.Sqrt(400-0.35*0.35)/2
	closeTo(t, "with a lens", float64(p.OpeningArea), math.Pi*(0.16+0.09+0.2025)+lens, 1e-9)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-7)
}
