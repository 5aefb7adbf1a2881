package extreme

import "math"

// Exp is e^x, to the last bit the same on every processor: that of the math
// package is written anew for some of them, and a product that is rounded only
// after a sum is added to it on some would change the last digit of a result.
//
//	e^x = 2^k·e^r,  k = round(x/ln 2),  e^r = 1 + r(1 + r/2(1 + r/3(…)))
//
// x any number; beyond the range of a float64 +∞ or 0.
//
// Source: the exponential series (Abramowitz and Stegun, 4.2.1); ln 2 in two
// parts, as in W. J. Cody and W. Waite, Software Manual for the Elementary
// Functions (1980), 6.
// Check: TestExp.
func Exp(x float64) float64 {
	const (
		ln2High = 0x1.62e42feep-1 // 33 bits: a product with k is exact
		ln2Low  = math.Ln2 - ln2High
		terms   = 14 // |r| ≤ ln 2/2: the next one is below 2^−60
	)
	switch {
	case math.IsNaN(x) || x > 710:
		return x + math.Inf(1)
	case x < -746:
		return 0
	}
	k := math.Round(x / math.Ln2)
	r := x - float64(k*ln2High) - float64(k*ln2Low)
	s := 1.0
	for n := float64(terms); n >= 1; n-- {
		s = 1 + float64(r/n*s)
	}
	return math.Ldexp(s, int(k))
}
