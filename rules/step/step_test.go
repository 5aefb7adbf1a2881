package step

import (
	"testing"

	"platebook/rules/unit"
)

func TestFormulaFacesAgree(t *testing.T) {
	f := Parse("min(RTbc, RTip) - Or*(StPr + UPr)")
	vals := map[string]float64{"RTbc": 4.826, "RTip": 5.334, "Or": 10, "StPr": 0.0508, "UPr": 0.127}
	get := func(s string) []float64 { return []float64{vals[s]} }
	if got, want := f.Eval(get), 3.048; got-want > 1e-12 || want-got > 1e-12 {
		t.Errorf("Eval = %v, want %v (worked example, 0.120 in)", got, want)
	}
	if got, want := f.Text(nil), "min(RTbc, RTip) − Or·(StPr + UPr)"; got != want {
		t.Errorf("Text = %q, want %q", got, want)
	}
	cell := map[string]string{"RTbc": "E4", "RTip": "E5", "Or": "E6", "StPr": "E7", "UPr": "E8"}
	if got, want := f.Spreadsheet(func(s string) string { return cell[s] }), "MIN(E4,E5)-E6*(E7+E8)"; got != want {
		t.Errorf("Spreadsheet = %q, want %q", got, want)
	}
	g := Parse("a - (b - c)/(d*e)^2 + if(a >= b, -a, sqrt(b))")
	if got, want := g.Spreadsheet(func(s string) string { return s }), "a-(b-c)/(d*e)^2+IF(a>=b,-a,SQRT(b))"; got != want {
		t.Errorf("Spreadsheet = %q, want %q", got, want)
	}
}

// A spreadsheet reads -a^2 as (-a)^2, and a-b as a sum within a product.
func TestSpreadsheetSigns(t *testing.T) {
	self := func(s string) string { return s }
	for src, want := range map[string]string{"-a^2": "-(a^2)", "b - -a^2": "b--(a^2)", "-(a + b)": "-(a+b)", "(-a)^2": "(-a)^2"} {
		if got := Parse(src).Spreadsheet(self); got != want {
			t.Errorf("%s: %q, want %q", src, got, want)
		}
	}
}

func TestUnknownInputLeavesStepUnknown(t *testing.T) {
	s := New(Step{ID: "x", Formula: Parse("a + b"), Inputs: []Input{Constant("a", 1, unit.None, "test"), {Symbol: "b"}}})
	if s.Known || s.Why != "b is not known" {
		t.Errorf("known %v, why %q", s.Known, s.Why)
	}
}

// Limits pass within 1e-6 mm: 2.54 − 5e-7 passes, 2.54 − 2e-6 fails (derived, method section 1).
func TestLimitTolerance(t *testing.T) {
	for _, c := range []struct {
		v  float64
		ok bool
	}{{2.54 - 5e-7, true}, {2.54, true}, {2.54 - 2e-6, false}} {
		if AtLeast(unit.Thickness, c.v, 2.54) != c.ok {
			t.Errorf("%v ≥ 2.54: want %v", c.v, c.ok)
		}
	}
	s := Step{Kind: unit.Thickness, Value: 2.54 - 2e-6, Known: true, Limit: &Limit{Value: 2.54, Known: true, Op: "≥"}}
	if got, want := s.Verdict(unit.SI), "2.539998 mm < 2.540000 mm: fail"; got != want {
		t.Errorf("Verdict = %q, want %q", got, want)
	}
}

// A formula speaks the printed SI units: a Height is stored in mm and enters in m.
func TestFormulaSpeaksPrintedUnits(t *testing.T) {
	s := New(Step{
		ID: "x", Kind: unit.AreaKind, Formula: Parse("D*D"),
		Inputs: []Input{Constant("D", 30000, unit.Height, "test")},
	})
	if s.Value != 900 {
		t.Errorf("30 m squared = %v m², want 900", s.Value)
	}
	h := New(Step{ID: "y", Kind: unit.Height, Formula: Parse("D + 1"), Inputs: []Input{Constant("D", 30000, unit.Height, "test")}})
	if h.Value != 31000 {
		t.Errorf("30 m + 1 = %v mm, want 31000", h.Value)
	}
}
