package statistics

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tol)
	}
}

// Quantiles of type 7 by R 4.2.2; the source stands in the file.
func TestQuantiles(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/statistics/quantiles.json")
	if err != nil {
		t.Fatal(err)
	}
	var set struct {
		Cases []struct {
			Name  string
			X, P  []float64
			Type7 []float64
		}
	}
	if err := json.Unmarshal(raw, &set); err != nil {
		t.Fatal(err)
	}
	if len(set.Cases) < 3 {
		t.Fatalf("only %d cases", len(set.Cases))
	}
	for _, c := range set.Cases {
		for i, p := range c.P {
			near(t, c.Name, float64(Quantile(c.X, p).V), c.Type7[i], 1e-12*math.Max(1, math.Abs(c.Type7[i])))
		}
	}
	// Derived, method section 14.
	x := []float64{4.1, 4.4, 4.9, 5.2, 5.6, 6.0}
	for p, want := range map[float64]float64{0.1: 4.25, 0.5: 5.05, 0.9: 5.8} {
		near(t, "method example", float64(Quantile(x, p).V), want, 1e-12)
	}
}

// Certified values of the NIST Statistical Reference Datasets (SRD 140).
func TestDescriptive(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/statistics/descriptive_strd.json")
	if err != nil {
		t.Fatal(err)
	}
	var set struct {
		Cases []struct {
			Name      string
			Certified struct{ Mean, SD float64 }
			Data      []float64
		}
	}
	if err := json.Unmarshal(raw, &set); err != nil {
		t.Fatal(err)
	}
	made := map[string][3]float64{"numacc2": {1.2, 1.1, 1.3}, "numacc4": {10000000.2, 10000000.1, 10000000.3}}
	for _, c := range set.Cases {
		x := c.Data
		if g, ok := made[c.Name]; ok && x == nil { // the file tells how: a first value, then 500 pairs
			x = []float64{g[0]}
			for range 500 {
				x = append(x, g[1], g[2])
			}
		}
		if len(x) == 0 {
			t.Errorf("%s: no data", c.Name)
			continue
		}
		near(t, c.Name+" mean", float64(Mean(x).V), c.Certified.Mean, 1e-14*math.Max(1, math.Abs(c.Certified.Mean)))
		tol := 1e-12 // the file's tolerance
		if c.Name == "numacc4" {
			tol = 6e-9 // as doubles the two values stand 0.2000000011 apart
		}
		near(t, c.Name+" sd", float64(SD(x).V), c.Certified.SD, tol*c.Certified.SD)
	}
}

// County record TNKO-0480, 2009: fifteen readings, mean 5.493333 mm,
// sd 0.116291915, and 0.0766667 mm/year from 5.8 mm in 4 years.
func TestCountyReadings(t *testing.T) {
	x := []float64{5.5, 5.4, 5.4, 5.5, 5.6, 5.7, 5.7, 5.5, 5.4, 5.4, 5.3, 5.6, 5.4, 5.5, 5.5}
	near(t, "mean", float64(Mean(x).V), 5.493333, 1e-6)
	near(t, "sd", float64(SD(x).V), 0.116291915, 1e-6)
	near(t, "rate", (5.8-float64(Mean(x).V))/4, 0.0766667, 1e-6)
}

func TestEmptySamplesAreUnknown(t *testing.T) {
	if Mean(nil).Known || SD([]float64{1}).Known || Quantile(nil, 0.5).Known || Quantile([]float64{1}, 1.5).Known {
		t.Error("a value out of nothing")
	}
}
