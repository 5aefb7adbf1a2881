package extreme

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tol)
	}
}

// Derived, method section 9: twelve largest losses in mm.
func TestMethodExample(t *testing.T) {
	g, err := Fit([]float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0, 1.0, 1.4, 1.2, 1.7, 0.9})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "α by moments", g.MomentsA, 0.283001, 5e-7)
	near(t, "u by moments", g.MomentsU, 1.094980, 5e-7)
	near(t, "α", g.Scale, 0.271534, 5e-7)
	near(t, "u", g.Location, 1.096851, 5e-7)
	near(t, "se u", math.Sqrt(g.VarU), 0.0825014, 5e-8)
	near(t, "se α", math.Sqrt(g.VarA), 0.0634943, 5e-8)
	near(t, "cov", g.CovUA, 0.00163396, 5e-9)
	level, se := g.Level(25)
	near(t, "level", level, 1.965362, 5e-7)
	near(t, "SE", se, 0.241876, 5e-7)
	near(t, "95 % level", g.Whole(25), 2.777395, 5e-7)
	near(t, "correlation", g.Correlation, 0.994540, 5e-7)
}

type gumbelSet struct {
	Data     struct{ X []float64 }
	Expected struct {
		N   int
		MLE struct {
			Location, Scale, Loglik float64
			SE                      struct{ Location, Scale, Cov float64 } `json:"se_observed"`
			Levels                  []struct{ T, Level, SE float64 }       `json:"return_levels_se_observed"`
		} `json:"mle"`
	}
}

// Published data sets with fits by R's evd package and a fit at 40 digits;
// the source stands in each file of testdata/gumbel.
func TestReferenceFits(t *testing.T) {
	files, err := filepath.Glob("../../testdata/gumbel/*.json")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d reference files, %v", len(files), err)
	}
	checked := 0
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var head struct {
			ID string `json:"id"`
		}
		if err := json.Unmarshal(b, &head); err != nil {
			t.Fatal(err)
		}
		if head.ID == "lieblein-blue" {
			continue // coefficients of another estimator
		}
		var s gumbelSet
		if err := json.Unmarshal(b, &s); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		checked++
		t.Run(head.ID, func(t *testing.T) {
			g, err := Fit(s.Data.X)
			if err != nil {
				t.Fatal(err)
			}
			want := s.Expected.MLE
			tol := func(v float64) float64 { return 1e-6 * math.Max(1e-3, math.Abs(v)) }
			near(t, "u", g.Location, want.Location, tol(want.Location))
			near(t, "α", g.Scale, want.Scale, tol(want.Scale))
			near(t, "log-likelihood", g.LogLikelihood, want.Loglik, tol(want.Loglik))
			near(t, "se u", math.Sqrt(g.VarU), want.SE.Location, tol(want.SE.Location))
			near(t, "se α", math.Sqrt(g.VarA), want.SE.Scale, tol(want.SE.Scale))
			near(t, "cov", g.CovUA, want.SE.Cov, tol(want.SE.Cov))
			if len(want.Levels) == 0 {
				t.Fatal("no return levels in the reference")
			}
			for _, l := range want.Levels {
				level, se := g.Level(l.T)
				near(t, "level", level, l.Level, tol(l.Level))
				near(t, "level's SE", se, l.SE, tol(l.SE))
			}
		})
	}
	if checked < 8 {
		t.Errorf("only %d sets checked", checked)
	}
}

// Coles (2001), 3.4.1: Gumbel fit of the Port Pirie sea levels, as printed.
func TestPublishedFits(t *testing.T) {
	b, err := os.ReadFile("../../testdata/gumbel/portpirie.json")
	if err != nil {
		t.Fatal(err)
	}
	var s gumbelSet
	if err := json.Unmarshal(b, &s); err != nil {
		t.Fatal(err)
	}
	g, err := Fit(s.Data.X)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u", g.Location, 3.87, 0.005)
	near(t, "α", g.Scale, 0.195, 0.0005)
	near(t, "se u", math.Sqrt(g.VarU), 0.03, 0.006)
	near(t, "se α", math.Sqrt(g.VarA), 0.019, 0.0005)
}

func TestFitNeedsSpread(t *testing.T) {
	for _, x := range [][]float64{nil, {1}, {2, 2, 2}} {
		if _, err := Fit(x); err == nil {
			t.Errorf("Fit(%v) gave no error", x)
		}
	}
}

// Moving or stretching the data moves or stretches the fit.
func TestFitFollowsUnits(t *testing.T) {
	x := []float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0}
	g, _ := Fit(x)
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = v/25.4 + 3
	}
	h, _ := Fit(y)
	near(t, "u", h.Location, g.Location/25.4+3, 1e-12)
	near(t, "α", h.Scale, g.Scale/25.4, 1e-12)
}

func TestReducedOutsideItsRange(t *testing.T) {
	for _, p := range []float64{1, 0, -2} {
		if !math.IsNaN(Reduced(p)) {
			t.Errorf("Reduced(%v) is a number", p)
		}
	}
}
