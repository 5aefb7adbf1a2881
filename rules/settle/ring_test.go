package settle

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"platebook/rules/unit"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// Derived, method section 12.
func TestMethodRing(t *testing.T) {
	var b []unit.Angle
	for i := range 8 {
		b = append(b, unit.Angle(45*i))
	}
	r, err := FitRing(b, []unit.Length{12, 15, 9, 2, -6, -11, -9, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a0", r.A0, 1.5, 1e-9)
	near(t, "a1", r.A1, 8.742641, 5e-7)
	near(t, "b1", r.B1, 9.449747, 5e-7)
	near(t, "tilt", r.Tilt, 25.74735, 5e-6)
	near(t, "R²", r.R2, 0.983570, 5e-7)
	near(t, "max|S|", r.MaxOut, 2.267767, 5e-7)
}

// Forty-digit normal equations on generated surveys; source and status stand
// in the file.
func TestReferenceRings(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/cosine/settlement_rings.json")
	if err != nil {
		t.Fatal(err)
	}
	var set struct {
		Cases []struct {
			ID         string        `json:"id"`
			Theta      []unit.Angle  `json:"theta_deg"`
			Settlement []unit.Length `json:"settlement_mm"`
			Expected   struct {
				Mean   float64   `json:"mean_term"`
				Cos    float64   `json:"cos_coef"`
				Sin    float64   `json:"sin_coef"`
				R2     float64   `json:"r_squared"`
				S      []float64 `json:"out_of_plane_S"`
				MaxOut float64   `json:"max_abs_S"`
			} `json:"expected"`
		} `json:"cases"`
	}
	if err := json.Unmarshal(raw, &set); err != nil {
		t.Fatal(err)
	}
	if len(set.Cases) < 5 {
		t.Fatalf("only %d cases", len(set.Cases))
	}
	for _, c := range set.Cases {
		r, err := FitRing(c.Theta, c.Settlement)
		if err != nil {
			t.Errorf("%s: %v", c.ID, err)
			continue
		}
		near(t, c.ID+" a0", r.A0, c.Expected.Mean, 1e-8)
		near(t, c.ID+" a1", r.A1, c.Expected.Cos, 1e-8)
		near(t, c.ID+" b1", r.B1, c.Expected.Sin, 1e-8)
		near(t, c.ID+" R²", r.R2, c.Expected.R2, 1e-8)
		near(t, c.ID+" max|S|", r.MaxOut, c.Expected.MaxOut, 1e-8)
		for i, s := range c.Expected.S {
			near(t, c.ID+" S", r.OutOf[i], s, 1e-8)
		}
	}
}

func TestTooFewPoints(t *testing.T) {
	if _, err := FitRing([]unit.Angle{0, 90, 180}, []unit.Length{1, 2, 3}); err == nil {
		t.Error("three points were fitted")
	}
	if _, err := FitRing([]unit.Angle{10, 10, 10, 10}, []unit.Length{1, 2, 3, 4}); err == nil {
		t.Error("points at one bearing were fitted")
	}
}

// Method section 12 (public sources): D 80, 100, 154, 200 ft.
func TestPointsNeeded(t *testing.T) {
	for ft, want := range map[unit.Length]int{30: 8, 80: 8, 100: 10, 154: 16, 200: 20} {
		if got := PointsNeeded(ft * unit.Foot); got != want {
			t.Errorf("D %v ft: %d points, want %d", ft, got, want)
		}
	}
}

func TestAllowable(t *testing.T) {
	got := AllowableDeflection(31.416*unit.Foot, 48*unit.Foot, 36000*unit.PSI)
	near(t, "allowable, in (derived)", float64(got.V/unit.Inch), 1.68465, 5e-6)
	// Derived: D 15 m, eight points, H 12 m, steel unknown (Y 30,000 psi).
	got = AllowableDeflection(unit.Length(15000*math.Pi/8), 12000, 30000*unit.PSI)
	near(t, "allowable, mm (derived)", float64(got.V), 16.45156, 5e-6)
	// San Joaquin County record, tanks T-6103, T-6105 and a 14.5 ft tank, 2013:
	// eight points each, Y 30,000 psi.
	for _, c := range []struct{ d, h, want float64 }{{30, 36, 0.26}, {52, 40, 0.71}, {14.5, 28.75, 0.08}} {
		arc := unit.Length(c.d*math.Pi/8) * unit.Foot
		got := AllowableDeflection(arc, unit.Length(c.h)*unit.Foot, 30000*unit.PSI)
		near(t, "allowable, in (county record)", float64(got.V/unit.Inch), c.want, 0.006)
	}
	if AllowableDeflection(0, 1, 1).Known {
		t.Error("a limit without an arc")
	}
}

// Forum, survey: 60 m with 20 points, 6 m with 8: arcs 9.42 and 2.36 m.
func TestArcOfSurvey(t *testing.T) {
	near(t, "arc", 60*math.Pi/20, 9.42, 0.005)
	near(t, "arc", 6*math.Pi/8, 2.36, 0.005)
	if unit.Length(9425) > LargestArc {
		t.Error("9.42 m is within 32 ft")
	}
}

// Edge settlement paper: D 120 ft, R 3 ft, limits 4.7 and 3.8 in read from
// the figures; the angles between are derived.
func TestEdgeLimit(t *testing.T) {
	for deg, want := range map[unit.Angle]float64{0: 4.7, 30: 4.25, 90: 3.8} {
		got := EdgeLimit(4.7*unit.Inch, 3.8*unit.Inch, deg)
		near(t, "edge, in", float64(got.V/unit.Inch), want, 1e-9)
	}
	if EdgeLimit(100, 80, 91).Known {
		t.Error("a limit beyond 90°")
	}
}

// Exam quiz: bulge of radius 1.25 ft, 0.4625 in ± 0.003.
func TestBulgeLimit(t *testing.T) {
	factor := unit.Gradient(0.37 * 25.4 / 0.3048)
	near(t, "bulge, in", float64(BulgeLimit(factor, 1.25*unit.Foot).V/unit.Inch), 0.4625, 1e-9)
}
