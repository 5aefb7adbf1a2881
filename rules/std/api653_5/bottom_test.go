package api653_5

import (
	"math"
	"math/rand/v2"
	"testing"

	"platebook/rules/unit"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

func inches(v float64) unit.Length { return unit.Length(v) * unit.Inch }

func inYear(v float64) unit.Rate { return unit.Rate(v * 25.4) }

func TestRate(t *testing.T) {
	// derived: method section 4, 35 % and 10 points on 6.35 mm in 9131 days
	near(t, "MFL 35 %", float64(Rate(6.35, 3.4925, 9131/365.25).V), 0.114303, 5e-7)
	// derived: 0.250 in, unrepaired 0.150, threshold 0.125, 25 y: 0.005 in/y
	near(t, "threshold", float64(Rate(inches(0.250), min(inches(0.125), inches(0.150)), 25).V)/25.4, 0.005, 1e-12)
	// contractor case, floor: 0.375 → 0.225 in in 25 years, 0.006 in/y
	near(t, "contractor case", float64(Rate(inches(0.375), inches(0.225), 25).V)/25.4, 0.006, 1e-12)
	// CR TNKO-0480 (county record, 2009): mean of 15 readings from 5.8 in 4 y, ±1e-6
	readings := []float64{5.5, 5.4, 5.4, 5.5, 5.6, 5.7, 5.7, 5.5, 5.4, 5.4, 5.3, 5.6, 5.4, 5.5, 5.5}
	var mean float64
	for _, r := range readings {
		mean += r / float64(len(readings))
	}
	near(t, "mean of TNKO-0480", mean, 5.493333, 1e-6)
	near(t, "rate of TNKO-0480", float64(Rate(5.8, unit.Length(mean), 4).V), 0.0766667, 1e-6)
	for _, n := range []unit.Years{0, -1, unit.Years(math.NaN())} {
		if Rate(6, 5, n).Known {
			t.Errorf("a rate over %v years", n)
		}
	}
	if r := Rate(6.35, 6.50, 10); !r.Known || r.V >= 0 {
		t.Errorf("thicker than it was: %v, want a negative rate", r)
	}
}

func TestMinimumRemaining(t *testing.T) {
	// derived: 0.190/0.210 in, 0.002 + 0.005 in/y, 10 y
	near(t, "MRT(10)", float64(MinimumRemaining(inches(0.190), inches(0.210), 10, inYear(0.002), inYear(0.005))/unit.Inch), 0.120, 1e-12)
	// forum, worksheet (eng-tips 299063): RT 3 mm both, Or 5, 0.005 in/y: 0.0931 in ± 0.0001, fails 0.10
	mrt := float64(MinimumRemaining(3, 3, 5, inYear(0.005), 0) / unit.Inch)
	near(t, "forum worksheet", mrt, 0.0931, 0.0001)
	if mrt >= 0.10 {
		t.Error("0.0931 in passes 0.10 in")
	}
}

func TestInterval(t *testing.T) {
	in := func(v float64) unit.Length { return inches(v) }
	for _, c := range []struct {
		what      string
		rt, t     unit.Length
		stpr, upr unit.Rate
		want, tol float64
	}{
		{"derived: 0.190 in over 0.10 in at 0.007 in/y", in(0.190), in(0.10), inYear(0.002), inYear(0.005), 12.857, 5e-4},
		{"derived: the same with a barrier, 0.05 in", in(0.190), in(0.05), inYear(0.002), inYear(0.005), 20.0, 1e-9},
		{"derived: 0.250 → 0.180 in in 20 y", in(0.180), in(0.10), inYear(0.07 / 20), 0, 22.857, 5e-4},
		{"derived: the same with a barrier", in(0.180), in(0.05), inYear(0.07 / 20), 0, 37.143, 5e-4},
		{"contractor case, floor: 0.225 over 0.10 in at 0.006 in/y", in(0.225), in(0.10), inYear(0.006), 0, 20.83, 5e-3},
		{"forum, MRT (eng-tips 498951): 0.250 in, pit 0.05 in 10 y, leak detection", in(0.200), in(0.05), inYear(0.005), 0, 30, 1e-9},
		{"CR silo S-2 (county record, 2007): 0.109 in over 4 × 0.0023 in/y", in(0.109), 0, inYear(4 * 0.0023), 0, 11.85, 0.01},
		{"CR silo S-2: 0.109 in over 2 × 0.0023 in/y", in(0.109), 0, inYear(2 * 0.0023), 0, 23.70, 0.01},
	} {
		got := Interval(c.rt, c.t, c.stpr, c.upr)
		near(t, c.what, float64(got.V), c.want, c.tol)
	}
	if i := Interval(2.54, 2.54, 0.1, 0.1); !i.Known || i.V != 0 {
		t.Errorf("at the requirement: %v, want 0 years", i)
	}
	if i := Interval(2.00, 2.54, 0, 0); !i.Known || i.V != 0 {
		t.Errorf("below the requirement without rates: %v, want 0 years", i)
	}
	if i := Interval(6, 2.54, 0, 0); i.Known {
		t.Errorf("without rates: %v, want no number", i)
	}
	// the last digits of a converted value are no life
	if i := Interval(0.1*25.4, 2.54, 1e-6, 0); i.V != 0 {
		t.Errorf("0.1 in over 2.54 mm: %v", i)
	}
}

// Dates of CR silo S-2 (county record, 2007): 2007-02-20 + 5 and + 15 years.
func TestNextDates(t *testing.T) {
	base, err := unit.ParseDate("2007-02-20")
	if err != nil {
		t.Fatal(err)
	}
	for years, want := range map[unit.Years]string{5: "2012-02-20", 15: "2022-02-19"} {
		if got := base.AddYears(years).String(); got != want {
			t.Errorf("+ %v years: %s, want %s", years, got, want)
		}
	}
}

func TestCriticalZoneRequired(t *testing.T) {
	for shell, want := range map[float64]float64{0.218: 0.109, 0.36: 0.125, 0.15: 0.100} { // derived, method section 6
		got := CriticalZoneRequired(inches(0.25), 0, unit.Some(inches(shell)))
		near(t, "t_cz", float64(got/unit.Inch), want, 1e-12)
	}
	near(t, "shell unknown", float64(CriticalZoneRequired(inches(0.25), 0, unit.Maybe[unit.Length]{})/unit.Inch), 0.125, 1e-12)
	near(t, "with an allowance", float64(CriticalZoneRequired(6.35, 0.85, unit.Maybe[unit.Length]{})), 2.75, 1e-12)
	near(t, "never below 0.10 in", float64(CriticalZoneRequired(4, 1, unit.Some(inches(0.5)))), 2.54, 1e-12)
}

func TestInitialInterval(t *testing.T) {
	// interval slides (5th edition era): 10 + thin film 2 + barrier 10
	near(t, "slides", float64(InitialInterval(10, 12, 0)), 22, 0)
	// derived: 10 + reinforced 5 + CP 5, allowance 0.200 in
	near(t, "allowance 0.200 in", float64(InitialInterval(10, 10, inches(0.200))), 23+1.0/3, 1e-9)
	near(t, "allowance at 150 mils", float64(InitialInterval(10, 0, inches(0.150))), 10, 1e-9)
	near(t, "allowance below 150 mils", float64(InitialInterval(10, 0, inches(0.1))), 10, 0)
}

// Derived: thicker never shortens, a larger rate never lengthens, SI and US
// twins agree.
func TestIntervalProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 10000 {
		rt, req := unit.Length(8*rng.Float64()), unit.Length(3*rng.Float64())
		a, b := unit.Rate(0.3*rng.Float64()), unit.Rate(0.3*rng.Float64())
		i := Interval(rt, req, a, b)
		if j := Interval(rt+0.1, req, a, b); j.V < i.V {
			t.Fatalf("thicker shortens: %v %v", i, j)
		}
		if j := Interval(rt, req, a+0.01, b); j.V > i.V {
			t.Fatalf("faster lengthens: %v %v", i, j)
		}
		if i.V > 0 && i.Known {
			near(t, "thickness at the end", float64(MinimumRemaining(rt, rt, i.V, a, b)), float64(req), 1e-9)
		}
	}
}
