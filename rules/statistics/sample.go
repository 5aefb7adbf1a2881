// Package statistics sums up samples and counts corrosion by bands of loss,
// side, zone, plate and method.
package statistics

import (
	"math"
	"slices"

	"platebook/rules/unit"
)

// Mean is the arithmetic mean; unknown for an empty sample.
//
// Source: NIST/SEMATECH e-Handbook, 1.3.5.1.
// Check: NIST StRD univariate sets: TestDescriptive.
func Mean(x []float64) unit.Maybe[unit.Ratio] {
	if len(x) == 0 {
		return unit.Maybe[unit.Ratio]{}
	}
	first := x[0]
	var s float64
	for _, v := range x {
		s += v - first // keeps the digits of large, close values
	}
	return unit.Some(unit.Ratio(first + s/float64(len(x))))
}

// SD is the standard deviation with n − 1, in two passes; unknown below two
// values.
//
//	√(Σ(x − x̄)²/(n − 1)), less the rounding of x̄
//
// x in any unit, x̄ their mean, n how many.
//
// Source: NIST/SEMATECH e-Handbook, 1.3.5.6; correction of the two-pass sum
// by Chan, Golub and LeVeque (1983).
// Check: NIST StRD univariate sets: TestDescriptive.
func SD(x []float64) unit.Maybe[unit.Ratio] {
	if len(x) < 2 {
		return unit.Maybe[unit.Ratio]{}
	}
	m := float64(Mean(x).V)
	var ss, s float64
	for _, v := range x {
		ss += (v - m) * (v - m)
		s += v - m
	}
	n := float64(len(x))
	return unit.Some(unit.Ratio(math.Sqrt((ss - s*s/n) / (n - 1))))
}

// Quantile is the sample quantile of type 7, which spreadsheet programs call
// PERCENTILE.INC.
//
//	h = (n − 1)·p counted from 0, linear between the two values around h
//
// 0 ≤ p ≤ 1, else unknown; unknown for an empty sample.
//
// Source: Hyndman and Fan, The American Statistician 50 (1996) 361.
// Check: 4.1 4.4 4.9 5.2 5.6 6.0 → 10 % 4.25, 50 % 5.05, 90 % 5.8: TestQuantiles.
func Quantile(x []float64, p float64) unit.Maybe[unit.Ratio] {
	if len(x) == 0 || !(p >= 0 && p <= 1) {
		return unit.Maybe[unit.Ratio]{}
	}
	s := slices.Clone(x)
	slices.Sort(s)
	h := float64(len(s)-1) * p
	i := int(h)
	if i+1 >= len(s) {
		return unit.Some(unit.Ratio(s[len(s)-1]))
	}
	return unit.Some(unit.Ratio(s[i] + (h-float64(i))*(s[i+1]-s[i])))
}
