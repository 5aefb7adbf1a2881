package sizing

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"platebook/rules/unit"
)

// Compare is the statistics of MFL against UT over a set of pairs.
//
//	e = x − y; bias = mean e; sd = √(Σ(e − bias)²/(n − 1))
//	b1 = Sxy/Sxx; b0 = ȳ − b1·x̄; s = √(SSE/(n − 2))
//
// x MFL loss and y ultrasonic loss, % of nominal (y may be negative). Without
// pairs all is unknown; the spread wants n ≥ 2; the line n ≥ 3 and Sxx > 0.
//
// Source: ordinary least squares; NIST Statistical Reference Datasets (SRD
// 140) for the arithmetic.
// Check: ten pairs of the method, section 8, and the regression sets,
// TestCompare, TestRegressionSets.
func Compare(pairs []Pair) Fit {
	f := Fit{Pairs: len(pairs)}
	if len(pairs) == 0 {
		return f
	}
	n := float64(len(pairs))
	var sumE, sumX, sumY, within, worst float64
	f.MinX, f.MaxX = pairs[0].MFL, pairs[0].MFL
	for _, p := range pairs {
		e := p.MFL - p.UT
		sumE, sumX, sumY = sumE+e, sumX+p.MFL, sumY+p.UT
		if math.Abs(e) <= 10+1e-9 {
			within++
		}
		worst = max(worst, -e)
		f.MinX, f.MaxX = min(f.MinX, p.MFL), max(f.MaxX, p.MFL)
	}
	bias, meanY := sumE/n, sumY/n
	f.MeanX = sumX / n
	f.Bias = unit.Some(unit.Percent(bias))
	f.Within10 = unit.Some(unit.Percent(100 * within / n))
	f.WorstUnder = unit.Some(unit.Percent(worst))
	var see, sxy float64
	for _, p := range pairs {
		d := p.MFL - p.UT - bias
		see += d * d
		dx := p.MFL - f.MeanX
		f.Sxx += dx * dx
		sxy += dx * (p.UT - meanY)
	}
	if len(pairs) >= 2 {
		f.SD = unit.Some(unit.Percent(math.Sqrt(see / (n - 1))))
	}
	if len(pairs) < 3 || !(f.Sxx > 0) {
		return f
	}
	slope := sxy / f.Sxx
	var sse float64
	for _, p := range pairs {
		r := (p.UT - meanY) - slope*(p.MFL-f.MeanX)
		sse += r * r
	}
	f.Slope = unit.Some(unit.Ratio(slope))
	f.Intercept = unit.Some(unit.Percent(meanY - slope*f.MeanX))
	f.ResidualSD = unit.Some(unit.Percent(math.Sqrt(sse / (n - 2))))
	f.t95 = f.T(0.95)
	return f
}

// Line says whether the pairs carry a regression line.
func (f Fit) Line() bool { return f.Slope.Known && f.ResidualSD.Known }

// Upper is the loss that one further ultrasonic value stays below with the
// given probability, when MFL says x.
//
//	P(x) = b0 + b1·x + t(p, n − 2)·s·√(1 + 1/n + (x − x̄)²/Sxx)
//
// x MFL loss, %; p probability, 0.95 for the allowance, 0.975 for the upper
// edge of the drawn band. Unknown without a line.
//
// Source: prediction limit of ordinary least squares; NIST/SEMATECH
// e-Handbook 4.5.2.1 (verify the place).
// Check: P95(35) 45.35947 of the method, section 8, TestUpper.
func (f Fit) Upper(x, p float64) unit.Maybe[unit.Percent] {
	if !f.Line() {
		return unit.Maybe[unit.Percent]{}
	}
	return unit.Some(unit.Percent(f.at(x) + f.half(x, p)))
}

// Lower is the other edge of the drawn band: Upper with the minus sign.
//
//	P(x) = b0 + b1·x − t(p, n − 2)·s·√(1 + 1/n + (x − x̄)²/Sxx)
//
// x MFL loss, %; p probability. Unknown without a line.
//
// Source: as Upper.
// Check: Anscombe's first set at 12, TestRegressionSets.
func (f Fit) Lower(x, p float64) unit.Maybe[unit.Percent] {
	if !f.Line() {
		return unit.Maybe[unit.Percent]{}
	}
	return unit.Some(unit.Percent(f.at(x) - f.half(x, p)))
}

func (f Fit) at(x float64) float64 { return float64(f.Intercept.V) + float64(f.Slope.V)*x }

func (f Fit) half(x, p float64) float64 {
	n := float64(f.Pairs)
	return f.T(p) * float64(f.ResidualSD.V) * math.Sqrt(1+1/n+(x-f.MeanX)*(x-f.MeanX)/f.Sxx)
}

// T is the quantile of Student's distribution with the line's degrees of
// freedom.
//
//	t(p, n − 2)
//
// p probability between 0 and 1; n pairs, at least 3, else NaN.
//
// Source: StudentT. Check: TestUpper.
func (f Fit) T(p float64) float64 {
	if f.Pairs < 3 {
		return math.NaN()
	}
	if p == 0.95 && f.t95 != 0 {
		return f.t95
	}
	return StudentT(p, f.Pairs-2)
}

// StudentT is the quantile of Student's distribution, to twelve digits: the
// last ones of the library differ between processors.
//
// p probability between 0 and 1; freedom degrees of freedom, at least 1.
//
// Source: gonum stat/distuv; any table of Student's t.
// Check: t(0.95, 8) 1.859548, TestUpper.
func StudentT(p float64, freedom int) float64 {
	return unit.Noiseless(distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(freedom)}.Quantile(p))
}

// Covers says whether x lies within the losses the pairs span.
func (f Fit) Covers(x float64) bool { return x >= f.MinX-1e-9 && x <= f.MaxX+1e-9 }
