// Package settle evaluates settlement of the shell around its foot, of the
// floor's edge, and of bulges and depressions in the floor.
package settle

import (
	"errors"
	"math"

	"platebook/rules/unit"
)

// Ring is the optimum cosine curve through the elevations of a shell's foot.
type Ring struct {
	N         int
	A0        float64   // mean term, mm
	A1, B1    float64   // cosine and sine terms, mm
	Tilt      float64   // out of level across the diameter, mm
	R2        float64   // 1 − ΣU²/Σ(z − z̄)²; 1 when the elevations do not differ
	Residuals []float64 // U, mm: elevation less the curve
	OutOf     []float64 // S, mm: out-of-plane settlement of each point between its neighbours
	MaxOut    float64   // largest |S|, mm
	MaxAt     int
}

// ErrFewPoints says that a curve cannot be drawn through so few points.
var ErrFewPoints = errors.New("fewer than four points around the shell")

var errTwice = errors.New("two points stand at one bearing")

// FitRing fits the curve to elevations z at bearings in degrees, in order
// around the shell.
//
//	z = a0 + a1·cosβ + b1·sinβ by least squares
//	out of level = 2·√(a1² + b1²),  U = z − fit
//	S_i = U_i − (U_{i−1} + U_{i+1})/2,  R² = 1 − ΣU²/Σ(z − z̄)²
//
// At least four points, else ErrFewPoints; points at one bearing leave the
// curve undetermined and give the same error.
//
// Source: API Std 653, Annex B (optimum cosine curve), public extracts.
// Check: eight points every 45°, R² 0.983570 and max|S| 2.267767: TestMethodRing.
func FitRing(bearings []unit.Angle, z []unit.Length) (Ring, error) {
	n := len(z)
	r := Ring{N: n}
	if n < 4 || len(bearings) != n {
		return r, ErrFewPoints
	}
	var m [3][4]float64
	var mean float64
	for i := range z {
		c, s := cosSin(bearings[i])
		row := [3]float64{1, c, s}
		for j := range row {
			for k := range row {
				m[j][k] += row[j] * row[k]
			}
			m[j][3] += row[j] * float64(z[i])
		}
		mean += float64(z[i]) / float64(n)
	}
	a, ok := solve(m)
	if !ok {
		return r, ErrFewPoints
	}
	r.A0, r.A1, r.B1 = a[0], a[1], a[2]
	r.Tilt = 2 * math.Hypot(r.A1, r.B1)
	var sse, sst float64
	for i := range z {
		c, s := cosSin(bearings[i])
		u := float64(z[i]) - r.A0 - r.A1*c - r.B1*s
		r.Residuals = append(r.Residuals, u)
		sse += u * u
		sst += (float64(z[i]) - mean) * (float64(z[i]) - mean)
	}
	r.R2 = 1
	if sst > 0 {
		r.R2 = 1 - sse/sst
	}
	for i := range z {
		s := r.Residuals[i] - (r.Residuals[(i+n-1)%n]+r.Residuals[(i+1)%n])/2
		r.OutOf = append(r.OutOf, s)
		if math.Abs(s) > r.MaxOut {
			r.MaxOut, r.MaxAt = math.Abs(s), i
		}
	}
	return r, nil
}

func cosSin(b unit.Angle) (c, s float64) {
	s, c = math.Sincos(float64(b) * math.Pi / 180)
	return c, s
}

// solve is Gaussian elimination with pivoting on three equations.
func solve(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range 3 {
		p := i
		for j := i + 1; j < 3; j++ {
			if math.Abs(m[j][i]) > math.Abs(m[p][i]) {
				p = j
			}
		}
		if math.Abs(m[p][i]) < 1e-9 {
			return x, false
		}
		m[i], m[p] = m[p], m[i]
		for j := i + 1; j < 3; j++ {
			f := m[j][i] / m[i][i]
			for k := i; k < 4; k++ {
				m[j][k] -= f * m[i][k]
			}
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for j := i + 1; j < 3; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return x, true
}

// PointsNeeded is the least number of points around the shell.
//
//	n ≥ max(8, D/10), D in feet, rounded up and made even
//
// diameter > 0, else 8.
//
// Source: API 653 Annex B, points at most 32 ft apart (public sources).
// Check: D 80, 100, 154, 200 ft → 8, 10, 16, 20: TestPointsNeeded.
func PointsNeeded(diameter unit.Length) int {
	n := int(math.Ceil(float64(diameter/unit.Foot)/10 - 1e-9))
	return max(8, n+n%2)
}

// LargestArc is the greatest arc a survey may leave between two points, 32 ft.
//
// Source: API 653 Annex B (public sources).
const LargestArc = 32 * unit.Foot

// AllowableDeflection is the permitted out-of-plane settlement between points.
//
//	S = 11·L²·Y/(2·E·H)
//
// L arc between the points, H shell height, Y yield strength, E = 29e6 psi;
// all > 0, else unknown.
//
// Source: API 653 Annex B before 2008 (public sources); the later table is
// not built in.
// Check: L 31.416 ft, Y 36,000 psi, H 48 ft: 1.68465 in: TestAllowable.
func AllowableDeflection(arc, height unit.Length, yield unit.Stress) unit.Maybe[unit.Length] {
	if !(arc > 0 && height > 0 && yield > 0) {
		return unit.Maybe[unit.Length]{}
	}
	const elastic = 29e6
	y := float64(yield / unit.PSI)
	return unit.Some(unit.Length(11 * float64(arc) * float64(arc) * y / (2 * elastic * float64(height))))
}

// EdgeLimit is the permitted edge settlement where the nearest lap weld stands
// at an angle to the radius.
//
//	Be − (Be − Bew)·sin α
//
// be, bew limits for welds parallel and square to the shell, read from the
// standard's figures; α in degrees, 0 to 90, outside unknown.
//
// Source: API 653 Annex B (public sources).
// Check: 4.7, 3.8 in at 0, 30, 90° → 4.700, 4.250, 3.800 in: TestEdgeLimit.
func EdgeLimit(be, bew unit.Length, weld unit.Angle) unit.Maybe[unit.Length] {
	if !(weld >= 0 && weld <= 90 && be > 0 && bew > 0) {
		return unit.Maybe[unit.Length]{}
	}
	_, s := cosSin(weld)
	return unit.Some(be - (be-bew)*unit.Length(s))
}

// BulgeLimit is the permitted height of a bulge or depth of a depression.
//
//	factor·R, factor in mm/m (0.37 in/ft), R the radius of its inscribed circle
//
// radius > 0, else unknown.
//
// Source: API 653 Annex B, 0.37 in of bulge a foot of radius (public sources).
// Check: R 1.25 ft: 0.4625 in (exam quiz): TestBulgeLimit.
func BulgeLimit(factor unit.Gradient, radius unit.Length) unit.Maybe[unit.Length] {
	if !(radius > 0 && factor > 0) {
		return unit.Maybe[unit.Length]{}
	}
	return unit.Some(unit.Length(float64(factor) * float64(radius) / 1000))
}
