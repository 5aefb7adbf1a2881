package api653_5

import (
	"errors"
	"math"
	"testing"

	"platebook/rules/unit"
)

func psi(v float64) unit.Stress { return unit.Stress(v) * unit.PSI }

func TestAnnularStress(t *testing.T) {
	for _, c := range []struct{ d, h, t1, want float64 }{{120, 48, 0.75, 17596.8}, {200, 60, 1.10, 25101.8}} { // derived, method section 6
		s, err := AnnularStress(unit.Length(c.d)*unit.Foot, unit.Length(c.h)*unit.Foot, inches(c.t1))
		if err != nil {
			t.Error(err)
		}
		near(t, "σ psi", float64(s/unit.PSI), c.want, 0.05)
	}
	s, _ := AnnularStress(30000, 13900, 12)
	near(t, "σ MPa", float64(s), 149.922, 5e-4) // derived, method section 6
	for _, bad := range [][3]unit.Length{{0, 1, 1}, {1, 0, 1}, {1, 1, 0}} {
		if _, err := AnnularStress(bad[0], bad[1], bad[2]); !errors.Is(err, ErrInput) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

func TestAnnularTable(t *testing.T) {
	sum := 0.0
	for i, row := range AnnularThickness {
		for j, v := range row.T {
			sum += float64(v / unit.Inch)
			if j > 0 && v < row.T[j-1] {
				t.Errorf("row %d falls with stress at column %d", i, j)
			}
			if i > 0 && v < AnnularThickness[i-1].T[j] {
				t.Errorf("column %d falls with thickness at row %d", j, i)
			}
		}
		if i > 0 && row.UpTo <= AnnularThickness[i-1].UpTo {
			t.Errorf("row %d is out of order", i)
		}
	}
	near(t, "checksum", sum, 6.77, 1e-9)
	if !math.IsInf(float64(AnnularThickness[4].UpTo), 1) {
		t.Error("the last row has an end")
	}
}

func TestAnnularRequired(t *testing.T) {
	for _, c := range []struct {
		what       string
		stress, t1 float64
		read       Reading
		want       float64
	}{
		{"derived: D120 H48 t1 .75", 17596.8, 0.75, NextColumn, 0.17},
		{"derived: D200 H60 1.10", 25101.8, 1.10, NextColumn, 0.26},
		{"derived: linear, 25,650", 25650, 0.75, Linear, 0.185},
		{"derived: linear, ≤ 1.00, 28,000", 28000, 1.00, Linear, 0.25333},
		{"derived: linear below the first limit", 10000, 1.25, Linear, 0.17},
		{"24,300 exactly: second column", 24300, 0.75, NextColumn, 0.20},
		{"just below 24,300", 24299.9, 0.75, NextColumn, 0.17},
		{"linear at 24,300", 24300, 0.75, Linear, 0.17},
		{"linear at 32,399.9", 32399.9, 0.75, Linear, 0.30},
		{"forum, annular (eng-tips 515104): G < 1, σ < 27,000, t1 ≤ 0.75", 26999, 0.75, NextColumn, 0.20},
		{"1.00 in exactly", 28000, 1.00, NextColumn, 0.31},
		{"just over 1.00 in", 28000, 1.001, NextColumn, 0.38},
		{"thick", 31000, 2.0, NextColumn, 0.68},
	} {
		got, err := AnnularRequired(psi(c.stress), inches(c.t1), 0.9, 0, c.read)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
		near(t, c.what, float64(got/unit.Inch), c.want, 5e-6)
	}
	if v, _ := AnnularRequired(psi(10000), inches(0.5), 0.9, 1.5, NextColumn); math.Abs(float64(v)-(0.17*25.4+1.5)) > 1e-9 {
		t.Errorf("with an allowance: %v", v)
	}
	if _, err := AnnularRequired(psi(32400), inches(0.5), 0.9, 0, NextColumn); !errors.Is(err, ErrStress) {
		t.Errorf("32,400 psi: %v", err)
	}
	if _, err := AnnularRequired(psi(20000), inches(0.5), 1.0, 0, NextColumn); !errors.Is(err, ErrGravity) {
		t.Errorf("G 1: %v", err)
	}
	if _, err := AnnularRequired(psi(20000), inches(0.5), 0.999, 0, NextColumn); err != nil {
		t.Errorf("G 0.999: %v", err)
	}
	for _, bad := range []struct{ s, t1, g float64 }{{0, 1, 0.9}, {1, 0, 0.9}, {1, 1, 0}} {
		if _, err := AnnularRequired(unit.Stress(bad.s), unit.Length(bad.t1), unit.Ratio(bad.g), 0, NextColumn); !errors.Is(err, ErrInput) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// Derived: more stress or a thicker course never needs a thinner ring, in
// either reading; linear never asks for more than the next column.
func TestAnnularMonotonic(t *testing.T) {
	for _, t1 := range []float64{0.5, 0.9, 1.2, 1.4, 1.7} {
		last := [2]unit.Length{}
		for s := 20000.0; s < 32400; s += 50 {
			next, _ := AnnularRequired(psi(s), inches(t1), 0.9, 0, NextColumn)
			linear, _ := AnnularRequired(psi(s), inches(t1), 0.9, 0, Linear)
			if next < last[0] || linear < last[1]-1e-12 || linear > next+1e-12 {
				t.Fatalf("t1 %v, %v psi: %v, %v after %v", t1, s, next, linear, last)
			}
			last = [2]unit.Length{next, linear}
		}
	}
}

func TestClauses(t *testing.T) {
	for _, s := range []Subject{RemainingThickness, MinimumTable, CriticalZone, Projection, AnnularRing, AnnularTable, ShellThickness, IntervalLimit, BottomRepair, Settlement} {
		if Clause(s) == "" {
			t.Errorf("%s has no clause", s)
		}
	}
	// 3rd edition labels (public extract): Table 4.4 was 6-1, Table 4.5 was 4-4
	third := Editions[len(Editions)-1]
	if third.Labels[MinimumTable] != "Table 6-1" || third.Labels[AnnularTable] != "Table 4-4" {
		t.Errorf("3rd edition: %v", third.Labels)
	}
	near(t, "projection 3/8 in", float64(LeastProjection), 9.525, 1e-12)
}
