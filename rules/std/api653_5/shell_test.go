package api653_5

import (
	"errors"
	"testing"

	"platebook/rules/unit"
)

func TestMinimumShell(t *testing.T) {
	ft := func(v float64) unit.Length { return unit.Length(v) * unit.Foot }
	psi := func(v float64) unit.Stress { return unit.Stress(v) * unit.PSI }
	type course struct{ d, h, g, s, e, want, tol float64 }
	for what, list := range map[string][]course{
		// San Joaquin County record, in-service report 2013
		"CR T-6105": {
			{52, 40, 1, 23600, 0.7, 0.319, 6e-4},
			{52, 32.08, 1, 23600, 0.7, 0.254, 6e-4},
			{52, 24.17, 1, 26000, 0.7, 0.172, 6e-4},
			{52, 16.25, 1, 26000, 0.7, 0.113, 6e-4},
			{52, 8.33, 1, 26000, 0.7, 0.100, 6e-4},
		},
		"CR T-6103": {{30, 36, 1, 23600, 0.7, 0.165, 6e-4}, {30, 32, 1, 23600, 0.7, 0.146, 6e-4}, {30, 28, 1, 26000, 0.7, 0.116, 6e-4}},
		"CR T-7702": {{12.5, 13, 1, 27000, 0.85, 0.100, 1e-9}, {12.5, 8, 1, 27000, 0.85, 0.100, 1e-9}, {12.5, 3, 1, 27000, 0.85, 0.100, 1e-9}},
		// eng-tips.com thread 305468
		"forum, shell": {{60, 32, 1.5, 23200, 1, 0.31267, 1e-5}, {60, 24, 1.5, 23200, 1, 0.23198, 1e-5}, {60, 24, 1.5, 24900, 1, 0.216, 5e-4}},
		// public API 653 practice quiz, scribd.com/document/391472585
		"exam quiz": {{94, 22, 1, 23600, 1, 0.2175, 0.003}},
	} {
		for _, c := range list {
			got, err := MinimumShell(ft(c.d), ft(c.h), unit.Ratio(c.g), psi(c.s), unit.Ratio(c.e))
			if err != nil {
				t.Errorf("%s: %v", what, err)
			}
			near(t, what, float64(got/unit.Inch), c.want, c.tol)
		}
	}
	// API 650, metric: D 36 m, H 18, E 1; G 0.75, S 173, + 2.54; G 1, S 195 (scribd.com/document/750142418)
	a, _ := MinimumShell(36000, 18000, 0.75, 173, 1)
	near(t, "API 650 metric, design", float64(a)+2.54, 16.08, 0.01)
	b, _ := MinimumShell(36000, 18000, 1, 195, 1)
	near(t, "API 650 metric, hydrotest", float64(b), 16.01, 0.01)
	// derived: method section 6
	c, _ := MinimumShell(30000, 13900, 0.85, psi(23600), 1)
	near(t, "D 30 m", float64(c), 10.44217, 5e-6)
}

func TestMinimumShellRefuses(t *testing.T) {
	good := func() (d, h unit.Length, g unit.Ratio, s unit.Stress, e unit.Ratio) {
		return 30000, 13900, 0.85, 160, 1
	}
	for _, zero := range []int{0, 1, 2, 3, 4} {
		d, h, g, s, e := good()
		switch zero {
		case 0:
			d = 0
		case 1:
			h = -1
		case 2:
			g = 0
		case 3:
			s = 0
		case 4:
			e = 0
		}
		if _, err := MinimumShell(d, h, g, s, e); !errors.Is(err, ErrInput) {
			t.Errorf("input %d at 0: %v", zero, err)
		}
	}
	_, h, g, s, e := good()
	if _, err := MinimumShell(LargestDiameter, h, g, s, e); err != nil {
		t.Errorf("200 ft exactly: %v", err)
	}
	if _, err := MinimumShell(LargestDiameter+1, h, g, s, e); !errors.Is(err, ErrDiameter) {
		t.Errorf("over 200 ft: %v", err)
	}
	if v, err := MinimumShell(10000, 200, g, s, e); err != nil || v != ShellLeast {
		t.Errorf("fill below one foot: %v, %v, want the least thickness", v, err)
	}
}

// The exact constants behind the metric forms print as the method has them.
func TestExactConstants(t *testing.T) {
	near(t, "2.6", ShellFactor, 4.9011289, 5e-8)
	near(t, "2.34", StressFactor, 4.4110160, 5e-8)
}

func TestSteels(t *testing.T) {
	var yield, allow float64
	for i, s := range Steels {
		yield, allow = yield+float64(s.Yield/unit.PSI), allow+float64(s.Allow/unit.PSI)
		if s.Allow > unit.Stress(0.80*float64(s.Yield))+50*unit.PSI {
			t.Errorf("%s: allowable over 0.80 Y", s.Name)
		}
		for _, o := range Steels[i+1:] {
			if o.Name == s.Name {
				t.Errorf("%s twice", s.Name)
			}
		}
	}
	// checksum of the transcription
	near(t, "sum of yields", yield, 371000, 1e-6)
	near(t, "sum of allowables", allow, 267100, 1e-6)
	last := Steels[len(Steels)-1]
	for _, s := range Steels {
		if s.Allow < last.Allow || s.Yield < last.Yield {
			t.Errorf("%s is weaker than an unknown steel", s.Name)
		}
	}
	for name, want := range map[string]float64{"A36": 24900, "a516-70": 30000, "unknown": 23600, "": 23600, "S235": 23600} {
		near(t, name, float64(FindSteel(name).Allow/unit.PSI), want, 1e-9)
	}
	// A36: Y 36,000, T 58,000 psi (ASTM A36); the table rounds to 100 psi
	near(t, "A36 by rule", float64(AllowableStress(36000*unit.PSI, 58000*unit.PSI)/unit.PSI), 24882, 1e-6)
	// A516-70: Y 38,000, T 70,000 psi (ASTM A516)
	near(t, "A516-70 by rule", float64(AllowableStress(38000*unit.PSI, 70000*unit.PSI)/unit.PSI), 30030, 1e-6)
}
