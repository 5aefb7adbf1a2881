package sizing

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"platebook/rules/unit"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

func pairs(x, y []float64) []Pair {
	out := make([]Pair, len(x))
	for i := range x {
		out[i] = Pair{MFL: x[i], UT: y[i], Nominal: 6.35, By: "J. Roe", Side: "soil"}
	}
	return out
}

// Derived: method section 8.
var (
	mfl = []float64{20, 25, 30, 35, 40, 45, 50, 55, 60, 70}
	ut  = []float64{18, 30, 27, 41, 38, 52, 49, 50, 66, 73}
)

func TestCompare(t *testing.T) {
	f := Compare(pairs(mfl, ut))
	near(t, "bias", float64(f.Bias.V), -1.4, 1e-12)
	near(t, "sd", float64(f.SD.V), 4.45222, 5e-6)
	near(t, "within 10", float64(f.Within10.V), 100, 0)
	near(t, "worst", float64(f.WorstUnder.V), 7, 0)
	near(t, "b1", float64(f.Slope.V), 1.035931, 5e-7)
	near(t, "b0", float64(f.Intercept.V), -0.145022, 5e-7)
	near(t, "s", float64(f.ResidualSD.V), 4.682651, 5e-7)
}

func TestUpper(t *testing.T) {
	f := Compare(pairs(mfl, ut))
	near(t, "t", f.T(0.95), 1.859548, 5e-7)
	near(t, "P95(35)", float64(f.Upper(35, 0.95).V), 45.35947, 5e-6)
	near(t, "6.35 at 35 %", 6.35*(1-float64(f.Upper(35, 0.95).V)/100), 3.46967, 5e-6)
	// Student's t, 0.975, 8 degrees of freedom: 2.306 in any table
	near(t, "t 0.975", f.T(0.975), 2.306004, 5e-7)
	if !f.Covers(20) || !f.Covers(70) || f.Covers(19.9) || f.Covers(70.1) {
		t.Error("range 20 to 70 is not told")
	}
}

func TestTooFewPairs(t *testing.T) {
	none := Compare(nil)
	if none.Bias.Known || none.SD.Known || none.Within10.Known || none.WorstUnder.Known || none.Line() {
		t.Errorf("nothing gives %+v", none)
	}
	one := Compare(pairs([]float64{30}, []float64{40}))
	if one.SD.Known || one.Line() || one.Bias.V != -10 || one.WorstUnder.V != 10 || one.Within10.V != 100 {
		t.Errorf("one pair gives %+v", one)
	}
	if two := Compare(pairs(mfl[:2], ut[:2])); two.Line() || !two.SD.Known || two.Upper(20, 0.95).Known || two.Lower(20, 0.95).Known {
		t.Errorf("two pairs give %+v", two)
	}
	if !math.IsNaN(Compare(pairs(mfl[:2], ut[:2])).T(0.95)) {
		t.Error("two pairs have a quantile")
	}
	if same := Compare(pairs([]float64{30, 30, 30}, []float64{20, 30, 40})); same.Line() {
		t.Errorf("one loss only gives a line: %+v", same)
	}
	if shallow := Compare(pairs([]float64{30, 35}, []float64{20, 25})); shallow.WorstUnder.V != 0 || shallow.Within10.V != 100 {
		t.Errorf("MFL deeper, exactly 10 points: %+v", shallow)
	}
}

// Straight-line sets with certified values; the source stands in each file.
func TestRegressionSets(t *testing.T) {
	files, err := filepath.Glob("../../testdata/regression/*.json")
	if err != nil || len(files) < 3 {
		t.Fatalf("%v, %d sets", err, len(files))
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var set struct {
			Source string
			Data   struct{ X, Y []float64 }
			Expect struct {
				Coef       []float64
				ResidualSD float64 `json:"residual_sd"`
				At         float64 `json:"interval_at_x"`
				Fit        float64
				Prediction []float64 `json:"prediction95"`
			} `json:"expected"`
			Tolerance struct{ Relative float64 }
		}
		if err := json.Unmarshal(raw, &set); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		f := Compare(pairs(set.Data.X, set.Data.Y))
		rel := func(what string, got, want float64) {
			t.Helper()
			near(t, filepath.Base(file)+" "+what, got, want, math.Abs(want)*set.Tolerance.Relative)
		}
		rel("b0", float64(f.Intercept.V), set.Expect.Coef[0])
		rel("b1", float64(f.Slope.V), set.Expect.Coef[1])
		rel("s", float64(f.ResidualSD.V), set.Expect.ResidualSD)
		if set.Expect.Prediction != nil {
			rel("lower", float64(f.Lower(set.Expect.At, 0.975).V), set.Expect.Prediction[0])
			rel("upper", float64(f.Upper(set.Expect.At, 0.975).V), set.Expect.Prediction[1])
		}
	}
}

func TestSuspect(t *testing.T) {
	shifted := func(by float64, n int) Fit {
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i] = 30+float64(i), 30+float64(i)+by
		}
		return Compare(pairs(x, y))
	}
	for _, c := range []struct {
		by   float64
		n    int
		want bool
	}{{10, 8, false}, {10.5, 8, true}, {-10.5, 8, true}, {30, 7, false}, {0, 8, false}} {
		if got := shifted(c.by, c.n).Suspect(); got != c.want {
			t.Errorf("%d pairs shifted by %v: %v", c.n, c.by, got)
		}
	}
	half := Compare(pairs([]float64{40, 40, 40, 40, 40, 40, 40, 40}, []float64{40, 40, 40, 40, 55, 25, 55, 25}))
	if half.Suspect() {
		t.Error("half within 10 points is not under half")
	}
	less := Compare(pairs([]float64{40, 40, 40, 40, 40, 40, 40, 40}, []float64{40, 40, 40, 25, 55, 25, 55, 40.0 + 11}))
	if !less.Suspect() {
		t.Error("under half within 10 points passes")
	}
}

func TestJudgeGroups(t *testing.T) {
	ps := pairs(mfl, ut)
	for i := range ps {
		if i%2 == 1 {
			ps[i].Nominal, ps[i].By, ps[i].Side = 8, "A. Day", "product"
		}
	}
	ps[3].Nominal = 8 + 5e-7 // 8 mm that went through inches
	r := Judge(ps, unit.SI)
	if len(r.ByNominal) != 2 || r.ByNominal[0].Name != "6.35 mm" || r.ByNominal[1].Name != "8.00 mm" || r.ByNominal[1].Fit.Pairs != 5 {
		t.Errorf("by nominal: %+v", r.ByNominal)
	}
	if len(r.ByPerson) != 2 || r.ByPerson[0].Name != "A. Day" || len(r.BySide) != 2 || r.BySide[0].Name != "product" {
		t.Errorf("groups: %+v %+v", r.ByPerson, r.BySide)
	}
	if r.All.Pairs != 10 {
		t.Errorf("all: %d", r.All.Pairs)
	}
}
