package extreme

import (
	"math"
	"testing"
)

func TestExp(t *testing.T) {
	// Source: OEIS A001113 (e), A072334 (e²), A068985 (1/e), A019774 (√e).
	for x, want := range map[float64]float64{
		0: 1, 1: 2.71828182845904523536, 2: 7.38905609893065022723, -1: 0.36787944117144232160, 0.5: 1.64872127070012814685,
	} {
		if got := Exp(x); math.Abs(got/want-1) > 3e-16 {
			t.Errorf("Exp(%v) = %v, want %v", x, got, want)
		}
	}
	// Source: the math package.
	for x := -700.0; x < 700; x += 0.0137 {
		if got, want := Exp(x), math.Exp(x); math.Abs(got/want-1) > 5e-16 {
			t.Fatalf("Exp(%v) = %v, want %v", x, got, want)
		}
	}
	for x, want := range map[float64]float64{math.Inf(1): math.Inf(1), math.Inf(-1): 0, 800: math.Inf(1), -800: 0, 709.9: math.Inf(1), -745: 5e-324} {
		if got := Exp(x); got != want {
			t.Errorf("Exp(%v) = %v, want %v", x, got, want)
		}
	}
	if !math.IsNaN(Exp(math.NaN())) {
		t.Error("Exp(NaN) is a number")
	}
}

// The same bits on every processor: what this test gives on one, it gives on
// all.
func TestExpToTheLastBit(t *testing.T) {
	sum := uint64(14695981039346656037)
	for x := -20.0; x < 3; x += 1.0 / 1024 {
		sum = (sum ^ math.Float64bits(Exp(x))) * 1099511628211
	}
	if sum != 4141507613431448414 {
		t.Errorf("the bits of 23 552 values sum up to %d", sum)
	}
}
