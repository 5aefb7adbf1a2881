package floor

import (
	"math"
	"testing"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

func given[T any](v T) inspection.Field[T] {
	return inspection.Field[T]{Value: v, State: inspection.Given}
}

func wrong[T any](text string) inspection.Field[T] {
	return inspection.Field[T]{State: inspection.Wrong, Text: text}
}

func mm(v float64) inspection.Length { return given(unit.Length(v)) }

func deg(v float64) inspection.Angle { return given(unit.Angle(v)) }

func pct(v float64) inspection.Percent { return given(unit.Percent(v)) }

// tank is an empty inspection of a tank of the given diameter and lap, mm.
func tank(diameter, lap float64) *inspection.Inspection {
	in := &inspection.Inspection{}
	in.Tank.Diameter = mm(diameter)
	in.Tank.Lap = mm(lap)
	return in
}

// rectangle adds a plate by row and position.
func rectangle(in *inspection.Inspection, label, row, position string, length, width float64) *inspection.Plate {
	in.Plates = append(in.Plates, inspection.Plate{
		Label: given(label), Type: given("rectangular"), RowNo: given(row), Position: given(position),
		Length: mm(length), Width: mm(width),
	})
	return &in.Plates[len(in.Plates)-1]
}

// placed adds a plate by its own coordinates.
func placed(in *inspection.Inspection, label string, left, bottom, length, width float64) *inspection.Plate {
	in.Plates = append(in.Plates, inspection.Plate{
		Label: given(label), Type: given("rectangular"), Left: mm(left), Bottom: mm(bottom),
		Length: mm(length), Width: mm(width),
	})
	return &in.Plates[len(in.Plates)-1]
}

// segment adds an annular plate.
func segment(in *inspection.Inspection, label string, start, end, width float64) *inspection.Plate {
	in.Plates = append(in.Plates, inspection.Plate{
		Label: given(label), Type: given("annular"), StartBearing: deg(start), EndBearing: deg(end),
		Length: mm(1), Width: mm(width),
	})
	return &in.Plates[len(in.Plates)-1]
}

// sixMetre is the example of method section 2: D 6 m, lap 50, four rows of
// width 1800 with lengths 5000; 3050, 3050; 1550, 3000, 1550; 5000.
func sixMetre() *inspection.Inspection {
	in := tank(6000, 50)
	rectangle(in, "1-1", "1", "1", 5000, 1800)
	rectangle(in, "2-1", "2", "1", 3050, 1800)
	rectangle(in, "2-2", "2", "2", 3050, 1800)
	rectangle(in, "3-1", "3", "1", 1550, 1800)
	rectangle(in, "3-2", "3", "2", 3000, 1800)
	rectangle(in, "3-3", "3", "3", 1550, 1800)
	rectangle(in, "4-1", "4", "1", 5000, 1800)
	return in
}

func closeTo(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

func TestSixMetreTank(t *testing.T) {
	p := Place(sixMetre())
	// derived, method section 2: bottoms −3525, −1775, −25, 1725
	for plate, bottom := range map[int]float64{0: -3525, 1: -1775, 2: -1775, 3: -25, 5: -25, 6: 1725} {
		closeTo(t, "bottom", p.Plates[plate].Origin.Y, bottom, 1e-9)
	}
	// derived, method section 2: cut 1-1 4.389786, 2-1 5.115521
	closeTo(t, "cut 1-1", float64(p.Plates[0].CutArea), 4.389786, 5e-7)
	closeTo(t, "cut 2-1", float64(p.Plates[1].CutArea), 5.115521, 5e-7)
	// derived, method section 2: net 1-1 4.267505, 2-1 4.934831, 3-1 2.353581, 3-2 5.162500
	for plate, net := range map[int]float64{0: 4.267505, 1: 4.934831, 2: 4.934831, 3: 2.353581, 4: 5.162500, 5: 2.353581, 6: 4.267505} {
		closeTo(t, "net", float64(p.Plates[plate].NetArea), net, 5e-7)
	}
	// derived, method section 2: sum 28.274334 m² = 9π
	closeTo(t, "sum of net areas", float64(p.PlateArea), 9*math.Pi, 1e-6)
	closeTo(t, "sum as printed", float64(p.PlateArea), 28.274334, 5e-7)
	closeTo(t, "balance", float64(p.Balance.V), 0, 1e-6)
	for i := range p.Plates {
		pl := &p.Plates[i]
		closeTo(t, "outline of the net shape", shapeArea(pl.Net)/1e6, float64(pl.NetArea), chords(3))
		closeTo(t, "outline of the cut shape", shapeArea(pl.Cut)/1e6, float64(pl.CutArea), chords(3))
		if len(pl.Net) != 1 {
			t.Errorf("plate %d: net shape of %d rings", i, len(pl.Net))
		}
	}
}

// chords is what an outline of one-degree chords may miss of a circle of the
// given radius, m: n·r²/2·(δ − sin δ), m².
func chords(radius float64) float64 {
	d := math.Pi / 180
	return 360*radius*radius/2*(d-math.Sin(d)) + 1e-9
}

func shapeArea(s Shape) float64 {
	sum := 0.0
	for _, r := range s {
		sum += area(r)
	}
	return sum
}

func TestPlatePositionToPlan(t *testing.T) {
	in := sixMetre()
	in.Tank.PlanUpBearing = deg(30)
	in.Plates[2].DatumCorner = given(TopRight)
	p := Place(in)
	// derived, method section 2: plate 2-2, top right, X 400, Y 300 → u 2650,
	// v 1500, x 2625, y −275, ρ 2639.37; B0 30 → β 125.981°
	local, ok := p.ToLocal(2, 400, 300)
	if !ok || local != (Point{2650, 1500}) {
		t.Fatalf("local %v %v", local, ok)
	}
	at, ok := p.ToPlan(2, 400, 300)
	if !ok {
		t.Fatal("no place")
	}
	closeTo(t, "x", at.X, 2625, 1e-9)
	closeTo(t, "y", at.Y, -275, 1e-9)
	closeTo(t, "ρ", p.FromCentre(at), 2639.37, 0.005)
	closeTo(t, "β", p.Bearing(at), 125.981, 0.0005)
}

func TestAnnularPositionToPlan(t *testing.T) {
	in := tank(30000, 0)
	in.Tank.AnnularRing = given("yes")
	in.Tank.AnnularWidth = mm(700)
	segment(in, "A1", 40, 70, 700)
	p := Place(in)
	// derived, method section 2: R 15 000, start 40°, X 2500, Y 60 → β 49.5493°,
	// x 11 368.81, y 9692.98, critical
	at, ok := p.ToPlan(0, 2500, 60)
	if !ok {
		t.Fatal("no place")
	}
	closeTo(t, "β", p.Bearing(at), 49.5493, 0.00005)
	closeTo(t, "x", at.X, 11368.81, 0.005)
	closeTo(t, "y", at.Y, 9692.98, 0.005)
	b, _ := p.Box(0, 2500, 60, 25, 25)
	if z := p.ZoneOf(0, b, 76.2); z != Critical {
		t.Errorf("zone %s", z)
	}
}
