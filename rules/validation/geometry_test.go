package validation

import (
	"fmt"
	"math"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/method"
	"platebook/rules/unit"
)

func given[T any](v T) inspection.Field[T] {
	return inspection.Field[T]{Value: v, State: inspection.Given, Text: fmt.Sprint(v)}
}

func mm(v float64) inspection.Length { return given(unit.Length(v)) }

// tank is a floor without plates of a diameter in mm.
func tank(diameter float64) *inspection.Inspection {
	in := &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}
	in.Tank.Diameter, in.Tank.Lap = mm(diameter), mm(0)
	return in
}

// plate adds a plate by the place of its lower left corner, mm.
func plate(in *inspection.Inspection, label string, left, bottom, length, width float64) *inspection.Plate {
	in.Plates = append(in.Plates, inspection.Plate{
		Row: inspection.Row{Sheet: "Plates", Number: len(in.Plates) + 2, Key: label}, Label: given(label), Type: given("rectangular"),
		Left: mm(left), Bottom: mm(bottom), Length: mm(length), Width: mm(width),
	})
	return &in.Plates[len(in.Plates)-1]
}

// cut is the area within the shell of a plate, m², all lengths in m.
func cut(radius, left, bottom, length, width, turned float64) float64 {
	in := tank(2000 * radius)
	p := plate(in, "1", 1000*left, 1000*bottom, 1000*length, 1000*width)
	if turned != 0 {
		p.Turned = given(unit.Angle(turned))
	}
	return float64(floor.Place(in).Plates[0].CutArea)
}

func geometry(r *record) {
	r.subject = "Geometry"
	r.from(methodP+"2", derived)
	plan := method.Scene("example").Plan
	index := func(label string) int {
		for i := range plan.Plates {
			if method.Scene("example").Inspection.Plates[i].Label.Value == label {
				return i
			}
		}
		return -1
	}
	for _, c := range []struct {
		label    string
		cut, net float64
	}{{"1-1", 4.389786, 4.267505}, {"2-1", 5.115521, 4.934831}, {"3-1", 0, 2.353581}, {"3-2", 0, 5.162500}} {
		p := &plan.Plates[index(c.label)]
		if c.cut > 0 {
			r.number("cut area", "D 6 m, plate "+c.label, c.cut, float64(p.CutArea), 5e-7, "m²")
		}
		r.number("net area", "D 6 m, plate "+c.label, c.net, float64(p.NetArea), 5e-7, "m²")
	}
	r.number("sum of the net areas, 9π", "D 6 m, seven plates", 9*math.Pi, float64(plan.PlateArea), 1e-9, "m²")
	for row, want := range map[string]float64{"1-1": -3525} {
		r.number("bottom of the first row", "D 6 m, plate "+row, want, plan.Plates[index(row)].Origin.Y, 1e-9, "mm")
	}
	for _, c := range []struct {
		label string
		want  float64
	}{{"2-1", -1775}, {"3-2", -25}, {"4-1", 1725}} {
		r.number("bottom of a row", "D 6 m, plate "+c.label, c.want, plan.Plates[index(c.label)].Origin.Y, 1e-9, "mm")
	}
	in := method.Scene("example").Inspection
	k := index("2-2")
	in.Plates[k].DatumCorner = given("top right")
	in.Tank.PlanUpBearing = given(unit.Angle(30))
	turned := floor.Place(in)
	local, _ := turned.ToLocal(k, 400, 300)
	at, _ := turned.ToPlan(k, 400, 300)
	place := "plate 2-2, datum top right, X 400, Y 300"
	r.number("u of a place", place, 2650, local.X, 1e-9, "mm")
	r.number("v of a place", place, 1500, local.Y, 1e-9, "mm")
	r.number("x of a place", place, 2625, at.X, 1e-9, "mm")
	r.number("y of a place", place, -275, at.Y, 1e-9, "mm")
	r.number("distance from the centre", place, 2639.37, turned.FromCentre(at), 0.005, "mm")
	r.number("bearing", place+", plan up 30°", 125.981, turned.Bearing(at), 5e-4, "°")
	x, y, _ := turned.FromPlan(k, at)
	r.number("back to X, Y", place, 0, math.Hypot(x-400, y-300), 1e-9, "mm")
	ring := tank(30000)
	ring.Tank.AnnularRing, ring.Tank.AnnularWidth = given("yes"), mm(700)
	ring.Plates = append(ring.Plates, inspection.Plate{Label: given("A1"), Type: given("annular"), StartBearing: given(unit.Angle(40)), EndBearing: given(unit.Angle(60)), Width: mm(700)})
	plan = floor.Place(ring)
	at, _ = plan.ToPlan(0, 2500, 60)
	place = "ring, R 15 m, start 40°, X 2500, Y 60"
	r.number("bearing", place, 49.5493, plan.Bearing(at), 5e-5, "°")
	r.number("x of a place", place, 11368.81, at.X, 0.005, "mm")
	r.number("y of a place", place, 9692.98, at.Y, 0.005, "mm")
	b, _ := plan.Box(0, 2500, 60, 10, 10)
	r.text("zone", place, "critical", zone(plan.ZoneOf(0, b, 76.2)))
	areas(r)
	unions(r)
}

func zone(z floor.Zone) string {
	return map[floor.Zone]string{floor.Critical: "critical", floor.Annular: "annular", floor.General: "general"}[z]
}

func areas(r *record) {
	var set struct {
		Cases []struct {
			ID, Kind     string
			Circle       [3]float64
			Rect         [4]float64
			Centre, Size [2]float64
			Rotation     float64 `json:"rotation_deg_ccw"`
			Radius       float64
			Chord        float64 `json:"chord_distance"`
			Outer, Inner float64
			Angle        float64 `json:"angle_deg"`
			X            [2]float64
			Radius1      float64
			Radius2      float64
			Distance     float64
			Area         float64 `json:"expected_area"`
		}
		Tolerance struct{ Relative, Absolute float64 }
	}
	r.read("geometry/circle_areas.json", &set)
	r.from("closed forms at 40 digits; a polygon library agrees", reference)
	kinds := []struct{ kind, what string }{
		{"rect_in_circle", "rectangle within a circle"},
		{"rotated_rect_in_circle", "turned rectangle within a circle"},
		{"circle_segment", "segment of a circle"},
		{"strip_in_annulus", "strip across a ring"},
		{"annulus_sector", "sector of a ring"},
		{"two_circle_lens", "round sump across the rim"},
	}
	for _, k := range kinds {
		var w worst
		for _, c := range set.Cases {
			if c.Kind != k.kind {
				continue
			}
			got := math.NaN()
			switch c.Kind {
			case "rect_in_circle":
				got = cut(c.Circle[2], c.Rect[0]-c.Circle[0], c.Rect[1]-c.Circle[1], c.Rect[2]-c.Rect[0], c.Rect[3]-c.Rect[1], 0)
			case "rotated_rect_in_circle":
				sin, cos := math.Sincos(c.Rotation * math.Pi / 180)
				dx, dy := c.Size[0]/2, c.Size[1]/2
				got = cut(c.Circle[2], c.Centre[0]-c.Circle[0]-dx*cos+dy*sin, c.Centre[1]-c.Circle[1]-dx*sin-dy*cos, c.Size[0], c.Size[1], c.Rotation)
			case "circle_segment":
				got = cut(c.Radius, c.Chord, -2*c.Radius, 4*c.Radius, 4*c.Radius, 0)
			case "strip_in_annulus":
				strip := func(radius float64) float64 { return cut(radius, c.X[0], -2*c.Outer, c.X[1]-c.X[0], 4*c.Outer, 0) }
				got = strip(c.Outer) - strip(c.Inner)
			case "annulus_sector":
				in := tank(2000 * c.Outer)
				in.Tank.AnnularRing, in.Tank.AnnularWidth = given("yes"), mm(1000*(c.Outer-c.Inner))
				in.Plates = append(in.Plates, inspection.Plate{
					Label: given("A1"), Type: given("annular"), StartBearing: given(unit.Angle(0)), EndBearing: given(unit.Angle(c.Angle)), Width: mm(1000 * (c.Outer - c.Inner)),
				})
				got = float64(floor.Place(in).Plates[0].CutArea)
			case "two_circle_lens":
				big, small := max(c.Radius1, c.Radius2), min(c.Radius1, c.Radius2)
				in := tank(2000 * big)
				plate(in, "1", -2000*big, -2000*big, 4000*big, 4000*big)
				in.Fixtures = append(in.Fixtures, inspection.Fixture{
					Row: inspection.Row{Sheet: "Fixtures", Number: 2, Key: "S1"}, Name: given("S1"), Kind: given("sump"),
					Bearing: given(unit.Angle(0)), Radius: mm(1000 * c.Distance), Diameter: mm(2000 * small),
				})
				got = float64(floor.Place(in).OpeningArea)
			}
			w.hold(c.ID, c.Area, got, math.Max(set.Tolerance.Absolute, set.Tolerance.Relative*c.Area))
		}
		r.set("area of a "+k.what, k.kind, w, "m²")
	}
}

func unions(r *record) {
	var set struct {
		Cases []struct {
			ID       string
			Rects    [][4]float64
			Circle   [3]float64
			Expected struct {
				Area   float64
				Inside float64 `json:"area_inside_circle"`
			}
		}
	}
	r.read("geometry/rect_union.json", &set)
	r.from("exact integers by sweep; a polygon library agrees", reference)
	var whole, inside worst
	for _, c := range set.Cases {
		var boxes, scaled []floor.Box
		right, upper := 0.0, 0.0
		f := 11000 / c.Circle[2] // the circle as a tank of 22 m, whatever its size in the set
		for _, q := range c.Rects {
			boxes = append(boxes, floor.Box{U1: q[0], V1: q[1], U2: q[2], V2: q[3]})
			scaled = append(scaled, floor.Box{U1: q[0] * f, V1: q[1] * f, U2: q[2] * f, V2: q[3] * f})
			right, upper = max(right, q[2]*f), max(upper, q[3]*f)
		}
		whole.hold(c.ID, c.Expected.Area, floor.Union(boxes), 1e-9*math.Max(1, c.Expected.Area))
		in := tank(22000)
		plate(in, "1", -f*c.Circle[0], -f*c.Circle[1], right, upper)
		inside.hold(c.ID, c.Expected.Inside, float64(floor.Place(in).UnionArea(0, scaled).V)*1e6/f/f, 1e-9*math.Max(1, c.Expected.Inside))
	}
	r.set("area of a union of boxes", "twenty sets of boxes", whole, "")
	r.set("the same within a circle", "twenty sets of boxes", inside, "")
}
