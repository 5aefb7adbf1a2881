package floor

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

func reference(t *testing.T, name string, into any) {
	t.Helper()
	b, err := os.ReadFile("../../testdata/geometry/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}

// circleCase is one case of circle_areas.json (closed forms at 40 digits).
type circleCase struct {
	ID, Kind      string
	Circle        [3]float64
	Rect          [4]float64
	Centre, Size  [2]float64
	Rotation      float64 `json:"rotation_deg_ccw"`
	Radius        float64
	ChordDistance float64 `json:"chord_distance"`
	Outer, Inner  float64
	Angle         float64 `json:"angle_deg"`
	X             [2]float64
	Radius1       float64
	Radius2       float64
	Distance      float64
	Area          float64 `json:"expected_area"`
}

func rect(x1, y1, x2, y2 float64) convex { return convex{{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}} }

func moved(c convex, by Point) convex {
	out := make(convex, len(c))
	for i, q := range c {
		out[i] = minus(q, by)
	}
	return out
}

func TestAreasWithinCircles(t *testing.T) {
	var set struct {
		Cases     []circleCase
		Tolerance struct{ Relative, Absolute float64 }
	}
	reference(t, "circle_areas.json", &set)
	seen := map[string]int{}
	for _, c := range set.Cases {
		centre := Point{c.Circle[0], c.Circle[1]}
		var got float64
		switch c.Kind {
		case "rect_in_circle":
			q := rect(c.Rect[0], c.Rect[1], c.Rect[2], c.Rect[3])
			got = inCircle(moved(q, centre), c.Circle[2])
			other := inDiscs(q, []disc{{centre, c.Circle[2]}, {r: 1e3}})
			if math.Abs(got-other) > math.Max(1e-9, 1e-9*c.Area) {
				t.Errorf("%s: %.15g by one way, %.15g by the other", c.ID, got, other)
			}
		case "rotated_rect_in_circle":
			sin, cos := turn(c.Rotation)
			q := rect(-c.Size[0]/2, -c.Size[1]/2, c.Size[0]/2, c.Size[1]/2)
			for i, v := range q {
				q[i] = Point{c.Centre[0] + v.X*cos - v.Y*sin, c.Centre[1] + v.X*sin + v.Y*cos}
			}
			got = inCircle(moved(q, centre), c.Circle[2])
		case "circle_segment":
			got = inCircle(rect(c.ChordDistance, -2*c.Radius, 2*c.Radius, 2*c.Radius), c.Radius)
		case "strip_in_annulus":
			g := region{parts: []convex{rect(c.X[0], -2*c.Outer, c.X[1], 2*c.Outer)}, inner: c.Inner, outer: c.Outer}
			got = g.area()
		case "annulus_sector":
			p := &Plan{Radius: c.Outer}
			pl := &Plate{Sector: true, End: c.Angle}
			got = p.wedge(pl, Box{0, 0, radians(c.Angle) * c.Outer, c.Outer - c.Inner}).area()
		case "two_circle_lens":
			r := c.Radius1 + c.Radius2
			lens := []disc{{r: c.Radius1}, {Point{c.Distance, 0}, c.Radius2}}
			got = inDiscs(rect(-r, -r, c.Distance+r, r), lens)
		default:
			t.Fatalf("%s: kind %q is not tested", c.ID, c.Kind)
		}
		seen[c.Kind]++
		if math.Abs(got-c.Area) > math.Max(set.Tolerance.Absolute, set.Tolerance.Relative*c.Area) {
			t.Errorf("%s %s: got %.15g, want %.15g", c.ID, c.Kind, got, c.Area)
		}
	}
	for _, k := range []string{"rect_in_circle", "rotated_rect_in_circle", "circle_segment", "strip_in_annulus", "annulus_sector", "two_circle_lens"} {
		if seen[k] == 0 {
			t.Errorf("no case of %s", k)
		}
	}
}

func TestUnionsOfBoxes(t *testing.T) {
	var set struct {
		Cases []struct {
			ID       string
			Rects    [][4]float64
			Circle   [3]float64
			Expected struct {
				Area   float64
				Sum    float64 `json:"sum_of_areas"`
				Inside float64 `json:"area_inside_circle"`
			}
		}
		Tolerance struct {
			Inside float64 `json:"area_inside_circle_relative"`
		}
	}
	reference(t, "rect_union.json", &set)
	if len(set.Cases) == 0 {
		t.Fatal("no cases")
	}
	for _, c := range set.Cases {
		boxes := make([]Box, len(c.Rects))
		sum := 0.0
		for i, r := range c.Rects {
			boxes[i] = Box{r[0], r[1], r[2], r[3]}
			sum += boxes[i].Length() * boxes[i].Width()
		}
		if sum != c.Expected.Sum {
			t.Errorf("%s: sum %v, want %v", c.ID, sum, c.Expected.Sum)
		}
		// exact integers by sweep (rect_union.json)
		if got := Union(boxes); got != c.Expected.Area {
			t.Errorf("%s: union %v, want %v", c.ID, got, c.Expected.Area)
		}
		parts := Disjoint(boxes)
		inside := 0.0
		for i, b := range parts {
			inside += inCircle(rect(b.U1-c.Circle[0], b.V1-c.Circle[1], b.U2-c.Circle[0], b.V2-c.Circle[1]), c.Circle[2])
			for _, o := range parts[:i] {
				if b.Overlaps(o) {
					t.Fatalf("%s: parts overlap", c.ID)
				}
			}
		}
		if math.Abs(inside-c.Expected.Inside) > math.Max(1e-9, set.Tolerance.Inside*c.Expected.Inside) {
			t.Errorf("%s: inside %.15g, want %.15g", c.ID, inside, c.Expected.Inside)
		}
	}
}

// A plate whose corner lies on the rim is cut to its part of the floor however
// the floor is turned, the whole disc never. Derived: half the segment beyond 0.6 R
// is (R²·acos 0.6 − 0.6·0.8·R²)/2.
func TestPlateThatTouchesTheRim(t *testing.T) {
	const r = 4500.0
	want := r * r * (math.Acos(0.6) - 0.48) / 2
	for angle := 0.0; angle < 360; angle += 1.25 {
		c := convex{{-6000, -r}, {0, -r}, {0, -0.6 * r}, {-6000, -0.6 * r}}.turned(angle)
		if got := area(c.inRim(r)); math.Abs(got-want) > 1e-3*want {
			t.Errorf("turned by %v: %v mm², want %v", angle, got, want)
		}
	}
}
