package step

import (
	"testing"

	"platebook/rules/unit"
)

// A formula with a choice prints in numbers as the branch that was taken, with
// what it was taken for, so that nobody has to read it as a program.
func TestTheBranchTakenIsPrinted(t *testing.T) {
	thickness := func(symbol string, v float64) Input {
		return Input{Symbol: symbol, Value: v, Known: true, Kind: unit.Thickness}
	}
	for name, c := range map[string]struct {
		formula        string
		inputs         []Input
		numbers, since string
	}{
		"a symbol alone":    {"if(B = 1, t_b, t_m)", []Input{{Symbol: "B", Known: true}, thickness("t_b", 1.27), thickness("t_m", 2.54)}, "t_m", "B = no"},
		"a number alone":    {"if(r <= q, 0, r - q)", []Input{thickness("r", 2), thickness("q", 2.54)}, "0", "2.000 ≤ 2.540"},
		"the other branch":  {"if(r <= q, 0, (r - q)/2)", []Input{thickness("r", 3), thickness("q", 2.54)}, "(3.000 − 2.540)/2", "3.000 > 2.540"},
		"at the limit":      {"if(r < q, r, q)*2", []Input{thickness("r", 2.54), thickness("q", 2.54)}, "2.540·2", "2.540 ≥ 2.540"},
		"nearly at it":      {"if(r < q, r*2, q)", []Input{thickness("r", 2.54-1e-6), thickness("q", 2.54)}, "2.540·2", "2.540 < 2.540 by less than is printed"},
		"one within one":    {"if(s < a, A, if(s < b, A + B, B)) + 1", []Input{thickness("s", 2), thickness("a", 1), thickness("b", 3), thickness("A", 4), thickness("B", 5)}, "4.000 + 5.000 + 1", "2.000 ≥ 1.000 and 2.000 < 3.000"},
		"in a product":      {"2*if(W = 1, a + b, b)", []Input{{Symbol: "W", Value: 1, Known: true}, thickness("a", 1), thickness("b", 3)}, "2·(1.000 + 3.000)", "W = yes"},
		"a column":          {"if(min(r) <= q, 0, min(r) - q)", []Input{{Symbol: "r", Values: []float64{3, 4}, Known: true, Kind: unit.Thickness}, thickness("q", 2.54)}, "min(r) − 2.540", "min(r) > 2.540"},
		"nothing to choose": {"a + b", []Input{thickness("a", 1), thickness("b", 3)}, "1.000 + 3.000", ""},
		"not known":         {"if(B = 1, a, b)", []Input{{Symbol: "B"}, thickness("a", 1), thickness("b", 3)}, "if(B = yes, 1.000, 3.000)", ""},
	} {
		s := Step{ID: "t", Symbol: "t", Formula: Parse(c.formula), Kind: unit.Thickness, Inputs: c.inputs}
		if got := s.Numbers(unit.SI); got != c.numbers {
			t.Errorf("%s: numbers %q, want %q", name, got, c.numbers)
		}
		if got := s.Since(unit.SI); got != c.since {
			t.Errorf("%s: since %q, want %q", name, got, c.since)
		}
	}
}
