package floor

import (
	"math"
	"math/rand"
	"reflect"
	"strconv"
	"testing"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// bricks is a whole floor of rows of equal plates, laid so that every row
// reaches its widest chord. Invented sizes, for shape only.
func bricks(diameter, lap, length, width, ring float64) *inspection.Inspection {
	in := tank(diameter, lap)
	rim := diameter/2 - ring
	if ring > 0 {
		in.Tank.AnnularRing = given("yes")
		in.Tank.AnnularWidth = mm(ring)
	}
	rows := max(1, int(math.Ceil((2*rim-lap)/(width-lap))))
	for r := range rows {
		bottom := -(float64(rows)*(width-lap)+lap)/2 + float64(r)*(width-lap)
		y := math.Max(0, math.Max(bottom, -(bottom+width)))
		chord := 2 * math.Sqrt(math.Max(0, rim*rim-y*y))
		n := max(1, int(math.Ceil((chord-lap)/(length-lap))))
		for k := range n {
			rectangle(in, strconv.Itoa(r+1)+"-"+strconv.Itoa(k+1), strconv.Itoa(r+1), strconv.Itoa(k+1), length, width)
		}
	}
	if ring > 0 {
		for k := range 12 {
			segment(in, "A"+strconv.Itoa(k+1), float64(30*k), float64(30*k+30), ring)
		}
	}
	return in
}

func floors() map[string]*inspection.Inspection {
	one := tank(2400, 50)
	rectangle(one, "1", "1", "1", 2500, 2500)
	ringOnly := tank(10000, 0)
	ringOnly.Tank.AnnularRing = given("yes")
	ringOnly.Tank.AnnularWidth = mm(600)
	for k := range 4 {
		segment(ringOnly, "A"+strconv.Itoa(k+1), float64(90*k)+10, float64(90*k+90)+10, 600)
	}
	return map[string]*inspection.Inspection{
		"one plate":   one,
		"6 m":         sixMetre(),
		"4 m":         bricks(4000, 40, 3000, 1500, 0),
		"30 m ring":   bricks(30000, 50, 6000, 1800, 700),
		"90 m":        bricks(90000, 60, 9000, 2400, 0),
		"90 m ring":   bricks(90000, 60, 9000, 2400, 1500),
		"ring only":   ringOnly,
		"no lap":      bricks(20000, 0, 6000, 2000, 0),
		"wide laps":   bricks(20000, 300, 6000, 2000, 0),
		"tall plates": bricks(20000, 50, 1800, 6000, 0),
	}
}

func TestNetAreasFillTheFloor(t *testing.T) {
	for name, in := range floors() {
		p := Place(in)
		if name == "ring only" {
			// derived: annulus π(R² − Rc²)
			closeTo(t, name, float64(p.PlateArea), math.Pi*(25-4.4*4.4), 1e-9)
			continue
		}
		floor := math.Pi * math.Pow(float64(in.Tank.Diameter.Value)/2000, 2)
		if rel := float64(p.PlateArea)/floor - 1; !(math.Abs(rel) < 1e-9) {
			t.Errorf("%s: net areas are off the floor by %g of it", name, rel)
		}
		closeTo(t, name+" balance", float64(p.Balance.V), 0, 1e-7)
		for i := range p.Plates {
			pl := &p.Plates[i]
			drawn := chords(p.Radius / 1000)
			closeTo(t, name+" outline of "+in.Plates[i].Label.Value, shapeArea(pl.Net)/1e6, float64(pl.NetArea), drawn)
			closeTo(t, name+" cut outline of "+in.Plates[i].Label.Value, shapeArea(pl.Cut)/1e6, float64(pl.CutArea), drawn)
			if len(pl.Cut) > 0 && !inShape(pl.Cut, pl.Label) {
				t.Errorf("%s: label of %s lies outside its plate", name, in.Plates[i].Label.Value)
			}
		}
		if h := p.Holes(); len(h) != 0 {
			t.Errorf("%s: %d holes", name, len(h))
		}
		if o := p.Overlaps(); len(o) != 0 {
			t.Errorf("%s: %d overlaps", name, len(o))
		}
		if r := p.ShortRows(); len(r) != 0 {
			t.Errorf("%s: %d short rows: %+v", name, len(r), r[0])
		}
		for _, g := range p.RingGaps() {
			closeTo(t, name+" ring", g.Open, 0, 1e-9)
		}
	}
}

func inShape(s Shape, at Point) bool {
	in := false
	for _, r := range s {
		if r.has(at) {
			in = !in
		}
	}
	return in
}

func TestPositionsComeBack(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for name, in := range floors() {
		in.Tank.PlanUpBearing = deg(rng.Float64() * 360)
		for i := range in.Plates {
			in.Plates[i].DatumCorner = given([]string{BottomLeft, BottomRight, TopLeft, TopRight}[rng.Intn(4)])
			if rng.Intn(3) == 0 && !inspection.Is(in.Plates[i].Type, "annular") {
				in.Plates[i].Left, in.Plates[i].Bottom = mm(rng.Float64()*100), mm(-rng.Float64()*100)
				in.Plates[i].Turned = deg([]float64{0, 90, 180, 270, 33.7, -12}[rng.Intn(6)])
			}
		}
		p := Place(in)
		for i := range p.Plates {
			for range 20 {
				x, y := rng.Float64()*p.Plates[i].Length, rng.Float64()*p.Plates[i].Width
				at, ok := p.ToPlan(i, x, y)
				if !ok {
					t.Fatalf("%s: plate %d has no place: %s", name, i, p.Plates[i].Why)
				}
				bx, by, ok := p.FromPlan(i, at)
				if !ok || math.Hypot(bx-x, by-y) > 1e-7 {
					t.Fatalf("%s: plate %d: %v, %v came back as %v, %v", name, i, x, y, bx, by)
				}
				back, _ := p.AtBearing(p.FromCentre(at), p.Bearing(at))
				if math.Hypot(back.X-at.X, back.Y-at.Y) > 1e-7 {
					t.Fatalf("%s: bearing of %v leads to %v", name, at, back)
				}
			}
		}
	}
}

// TestTurnedPlanTurnsResults turns a floor placed by coordinates about the
// centre: areas, seams, distances and zones stay.
func TestTurnedPlanTurnsResults(t *testing.T) {
	base := Place(sixMetre())
	for _, angle := range []float64{90, 180, 270, 37.25, 301} {
		in := tank(6000, 50)
		sin, cos := turn(angle)
		for i := range base.Plates {
			pl := &base.Plates[i]
			o := pl.Origin
			w := placed(in, strconv.Itoa(i), o.X*cos-o.Y*sin, o.X*sin+o.Y*cos, pl.Length, pl.Width)
			w.Turned = deg(angle)
		}
		p := Place(in)
		closeTo(t, "cut 1-1", float64(p.Plates[0].CutArea), float64(base.Plates[0].CutArea), 1e-9)
		closeTo(t, "sum", float64(p.PlateArea), 9*math.Pi, 1e-6)
		for i := range p.Plates {
			closeTo(t, "net "+strconv.Itoa(i), float64(p.Plates[i].NetArea), float64(base.Plates[i].NetArea), 1e-9)
		}
		if len(p.Seams) != len(base.Seams) {
			t.Fatalf("turned by %v: %d seams, were %d", angle, len(p.Seams), len(base.Seams))
		}
		chords := 1e-6 // at the rim a strip ends in chords between whole degrees
		if angle != math.Trunc(angle) {
			chords = 3000 * (1 - math.Cos(radians(0.5)))
		}
		for k := range p.Seams {
			closeTo(t, "length of seam "+strconv.Itoa(k), p.Seams[k].Length, base.Seams[k].Length, chords)
		}
		rng := rand.New(rand.NewSource(2))
		for range 300 {
			i := rng.Intn(len(p.Plates))
			b := BoxAt(Point{rng.Float64() * 3000, rng.Float64() * 1800}, rng.Float64()*400, rng.Float64()*400)
			if z, w := p.ZoneOf(i, b, 76.2), base.ZoneOf(i, b, 76.2); z != w {
				t.Errorf("turned by %v: zone %s, was %s", angle, z, w)
			}
			closeTo(t, "box area", float64(p.BoxArea(i, b).V), float64(base.BoxArea(i, b).V), 1e-9)
			d1, _ := p.ToSeam(i, b)
			d2, _ := base.ToSeam(i, b)
			closeTo(t, "distance to seam", d1, d2, chords)
			c := b.Centre()
			s1, s2 := p.Inside(i, c.X, c.Y, 25), base.Inside(i, c.X, c.Y, 25)
			if s1.Fault != s2.Fault || math.Abs(s1.By-s2.By) > 1e-6 {
				t.Errorf("turned by %v: %+v, was %+v", angle, s1, s2)
			}
		}
	}
}

func TestMirroredFloorMirrorsResults(t *testing.T) {
	base := Place(sixMetre())
	in := tank(6000, 50)
	for i := range base.Plates {
		pl := &base.Plates[i]
		placed(in, strconv.Itoa(i), -pl.Origin.X-pl.Length, pl.Origin.Y, pl.Length, pl.Width).DatumCorner = given(BottomRight)
	}
	p := Place(in)
	for i := range p.Plates {
		closeTo(t, "net", float64(p.Plates[i].NetArea), float64(base.Plates[i].NetArea), 1e-12)
		a, _ := base.ToPlan(i, 300, 700)
		b, _ := p.ToPlan(i, 300, 700)
		closeTo(t, "mirrored x", b.X, -a.X, 1e-9)
		closeTo(t, "mirrored y", b.Y, a.Y, 1e-9)
	}
}

func TestInchTwin(t *testing.T) {
	si := bricks(60*304.8, 2*25.4, 240*25.4, 72*25.4, 24*25.4)
	us := bricks(60*304.8, 2*25.4, 240*25.4, 72*25.4, 24*25.4)
	us.Units = unit.US
	for i := range us.Plates { // as converted from inches read from cells
		us.Plates[i].Length.Value = unit.Length(float64(us.Plates[i].Length.Value)/25.4) * 25.4
	}
	a, b := Place(si), Place(us)
	for i := range a.Plates {
		closeTo(t, "twin", float64(a.Plates[i].NetArea), float64(b.Plates[i].NetArea), 1e-9)
	}
	closeTo(t, "twin floor", float64(a.FloorArea.V), math.Pi*900*0.09290304, 1e-9) // π·30² ft²
}

func BenchmarkPlace(b *testing.B) {
	in := bricks(60000, 50, 6000, 1800, 900)
	b.ReportAllocs()
	for b.Loop() {
		Place(in)
	}
	b.ReportMetric(float64(len(in.Plates)), "plates")
}

func BenchmarkToPlan(b *testing.B) {
	p := Place(bricks(60000, 50, 6000, 1800, 900))
	b.ReportAllocs()
	for b.Loop() {
		p.ToPlan(17, 400, 300)
	}
}

func BenchmarkHoles(b *testing.B) {
	p := Place(bricks(60000, 50, 6000, 1800, 900))
	for b.Loop() {
		p.Holes()
	}
}

func BenchmarkSeams(b *testing.B) {
	p := Place(bricks(60000, 50, 6000, 1800, 900))
	for b.Loop() {
		p.SeamsNear(117, BoxAt(Point{2000, 100}, 100, 100), 50)
	}
}

func BenchmarkUnion(b *testing.B) {
	rng := rand.New(rand.NewSource(3))
	boxes := make([]Box, 5000)
	for i := range boxes {
		boxes[i] = BoxAt(Point{rng.Float64() * 6000, rng.Float64() * 1800}, 25+rng.Float64()*100, 25)
	}
	for b.Loop() {
		Union(boxes)
	}
}

func TestSameInputSamePlan(t *testing.T) {
	for name, in := range floors() {
		if a, b := Place(in), Place(in); !reflect.DeepEqual(a, b) {
			t.Errorf("%s: two plans of one floor differ", name)
		}
	}
}

// TestAbsurdNumbersDoNoHarm types slips of the pen into every field.
func TestAbsurdNumbersDoNoHarm(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	absurd := []float64{0, -1, 1e-9, 1e9, 1e300, -1e300, math.MaxFloat64, 6000, 25.4, 999999}
	pick := func() float64 { return absurd[rng.Intn(len(absurd))] }
	for range 150 {
		in := bricks(9000, 50, 3000, 1500, 600)
		sump(in, "S", pick(), pick(), pick(), pick(), pick())
		switch rng.Intn(4) {
		case 0:
			in.Tank.Diameter = mm(pick())
		case 1:
			in.Tank.AnnularWidth = mm(pick())
		case 2:
			in.Tank.Lap = mm(pick())
		}
		for range 6 {
			w := &in.Plates[rng.Intn(len(in.Plates))]
			switch rng.Intn(6) {
			case 0:
				w.Length = mm(pick())
			case 1:
				w.Width = mm(pick())
			case 2:
				w.Left = mm(pick())
			case 3:
				w.Bottom, w.Left = mm(pick()), mm(pick())
			case 4:
				w.Turned, w.Left, w.Bottom = deg(pick()), mm(pick()), mm(pick())
			case 5:
				w.StartBearing = deg(pick())
			}
		}
		p := Place(in)
		for i := range p.Plates {
			pl := &p.Plates[i]
			if math.IsNaN(float64(pl.NetArea)) || pl.NetArea < 0 || pl.NetArea > pl.CutArea+1e-9 {
				t.Fatalf("plate %d: net %v of %v", i, pl.NetArea, pl.CutArea)
			}
			b, ok := p.Box(i, pick(), pick(), pick(), pick())
			if !ok {
				continue
			}
			p.ZoneOf(i, b, 76.2)
			p.SeamsNear(i, b, 50)
			p.ToSeam(i, b)
			p.Inside(i, pick(), pick(), 25)
			if a := p.BoxArea(i, b); a.Known && (math.IsNaN(float64(a.V)) || float64(a.V) > float64(pl.CutArea)+1e-6 && !pl.Sump) {
				t.Fatalf("plate %d: %v m² under a box %+v of %+v", i, a.V, b, *pl)
			}
		}
		p.Holes()
		p.Overlaps()
		p.ShortRows()
		p.RingGaps()
	}
}

func TestPatchesInTheRing(t *testing.T) {
	p := Place(bricks(30000, 50, 6000, 1800, 700))
	i := len(p.Plates) - 12
	a, b := Box{500, 100, 900, 300}, Box{800, 200, 1200, 400}
	got := float64(p.PlanUnion([]Covered{{i, a, false}, {i, b, false}}))
	closeTo(t, "union", got, float64(p.UnionArea(i, []Box{a, b}).V), 1e-5*got)
	// derived: φ/2·(ρ2² − ρ1²), φ = 400/15000
	closeTo(t, "one", float64(p.PlanUnion([]Covered{{i, a, false}})), 400.0/15000/2*(14900*14900-14700*14700)/1e6, 1e-12)
}
