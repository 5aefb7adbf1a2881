// Package extreme estimates the deepest corrosion of an area that was not
// examined from the deepest of each examined plate.
package extreme

import (
	"errors"
	"math"
	"slices"
)

// Euler is the mean of a standard Gumbel variable.
const euler = 0.57721566490153286

// Gumbel is a fitted distribution of largest values,
// F(x) = exp(−exp(−(x − u)/α)), with the covariance of its parameters.
type Gumbel struct {
	N             int
	Location      float64 // u, in the unit of the data
	Scale         float64 // α, same unit, > 0
	MomentsU      float64 // estimates by moments, the start of the fit
	MomentsA      float64
	VarU, VarA    float64 // variances of u and α
	CovUA         float64
	LogLikelihood float64
	Correlation   float64 // of the probability plot
}

// ErrNoSpread says that the data cannot be fitted: fewer than two different
// values.
var ErrNoSpread = errors.New("the largest values do not differ")

// Fit fits a Gumbel distribution to the largest values of equal blocks by
// maximum likelihood.
//
//	x̄ − α − Σx·e^(−x/α)/Σe^(−x/α) = 0,  u = −α·ln(mean e^(−x/α))
//
// x in any unit, n ≥ 2 with at least two different values, else ErrNoSpread.
// The covariance is the inverse of the observed information.
//
// Source: Coles, An Introduction to Statistical Modeling of Extreme Values
// (2001), 3.3; moments by Shibata, J. Res. NIST 99 (1994).
// Check: annual maximum sea level at Port Pirie, u 3.87, α 0.195, standard
// errors 0.03 and 0.019 (Coles, 3.4.1): TestPublishedFits.
func Fit(x []float64) (Gumbel, error) {
	g := Gumbel{N: len(x)}
	if len(x) < 2 || slices.Min(x) == slices.Max(x) {
		return g, ErrNoSpread
	}
	mean, sd := meanSD(x)
	g.MomentsA = sd * math.Sqrt(6) / math.Pi
	g.MomentsU = mean - euler*g.MomentsA
	g.Scale = scale(x, mean, g.MomentsA)
	g.Location = location(x, mean, g.Scale)
	g.information(x)
	g.Correlation = correlation(x)
	return g, nil
}

func meanSD(x []float64) (mean, sd float64) {
	for _, v := range x {
		mean += v
	}
	mean /= float64(len(x))
	var ss float64
	for _, v := range x {
		ss += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(ss / float64(len(x)-1))
}

// scale solves the likelihood equation. Its left side falls strictly with α,
// so a bracket around the moments estimate and bisection always find the one
// root. Values are taken from their mean, which keeps the exponentials small.
func scale(x []float64, mean, start float64) float64 {
	f := func(a float64) float64 {
		low := slices.Min(x)
		var s, sx float64
		for _, v := range x {
			e := Exp(-(v - low) / a)
			s += e
			sx += (v - mean) * e
		}
		return -a - sx/s
	}
	lo, hi := start, start
	for f(lo) < 0 {
		lo /= 2
	}
	for f(hi) > 0 {
		hi *= 2
	}
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			break
		}
		if f(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo + (hi-lo)/2
}

func location(x []float64, mean, a float64) float64 {
	var s float64
	for _, v := range x {
		s += Exp(-(v - mean) / a)
	}
	return mean - a*math.Log(s/float64(len(x)))
}

// information inverts the observed information of (u, α): with
// z = (x − u)/α and w = e^(−z),
// I_uu = Σw/α², I_uα = Σ(1 − w + zw)/α², I_αα = Σ(2z(1 − w) − 1 + z²w)/α².
func (g *Gumbel) information(x []float64) {
	var uu, ua, aa, ll float64
	for _, v := range x {
		z := (v - g.Location) / g.Scale
		w := Exp(-z)
		uu += w
		ua += 1 - w + z*w
		aa += 2*z*(1-w) - 1 + z*z*w
		ll += -z - w
	}
	s2 := g.Scale * g.Scale
	uu, ua, aa = uu/s2, ua/s2, aa/s2
	det := uu*aa - ua*ua
	g.VarU, g.VarA, g.CovUA = aa/det, uu/det, -ua/det
	g.LogLikelihood = ll - float64(len(x))*math.Log(g.Scale)
}

// correlation of the ordered values with −ln(−ln(i/(n + 1))).
func correlation(x []float64) float64 {
	s := slices.Clone(x)
	slices.Sort(s)
	n := float64(len(s))
	y := make([]float64, len(s))
	var mx, my float64
	for i := range s {
		y[i] = -math.Log(-math.Log(float64(i+1) / (n + 1)))
		mx += s[i] / n
		my += y[i] / n
	}
	var sxy, sxx, syy float64
	for i := range s {
		sxy += (s[i] - mx) * (y[i] - my)
		sxx += (s[i] - mx) * (s[i] - mx)
		syy += (y[i] - my) * (y[i] - my)
	}
	return sxy / math.Sqrt(sxx*syy)
}

// Reduced is the reduced variate of a return period, −ln(−ln(1 − 1/T)).
// period > 1, else NaN.
//
// Source: Coles (2001), 3.1.3.
func Reduced(period float64) float64 {
	if !(period > 1) {
		return math.NaN()
	}
	return -math.Log(-math.Log1p(-1 / period))
}

// Level is the value exceeded by one block in T on average, with its standard
// error by the delta method.
//
//	x_T = u + α·k,  SE = √(V_uu + 2k·V_uα + k²·V_αα),  k = Reduced(T)
//
// period T > 1, else NaN.
//
// Source: Coles (2001), 3.3.3.
// Check: TestMethodExample.
func (g Gumbel) Level(period float64) (level, se float64) {
	k := Reduced(period)
	return g.Location + g.Scale*k, math.Sqrt(g.VarU + 2*k*g.CovUA + k*k*g.VarA)
}

// Whole is the 95 % level of the largest of T blocks together.
//
//	u + α·(ln T − ln(−ln 0.95))
//
// u, α of the fit; T the number of blocks, above 0, else NaN.
//
// Source: the largest of T independent Gumbel values is Gumbel with location
// u + α·ln T (Shibata, J. Res. NIST 99 (1994)).
// Check: TestMethodExample.
func (g Gumbel) Whole(period float64) float64 {
	return g.Location + g.Scale*(math.Log(period)-math.Log(-math.Log(0.95)))
}
