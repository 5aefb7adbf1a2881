package api653_5

import (
	"math"

	"platebook/rules/unit"
)

// StressFactor is the 2.34 of the ring's stress in metres, millimetres and
// megapascals, from exact conversions.
const StressFactor = 2.34 * 25.4 * 0.006894757293168361 / (0.3048 * 0.3048)

// AnnularStress is the product stress in the first shell course by which the
// thickness of the annular ring is chosen.
//
//	σ = 2.34·D·(H − 1)/t1, ft, in, psi
//	σ = 4.4110160·D·(H − 0.3048)/t1, m, mm, MPa
//
// D inside diameter; H fill height; t1 first-course thickness as built; all
// above 0, else there is an error. The constant is converted exactly.
//
// Source: API Std 653, 4.4.6; the constant and t1 from memory, verify.
// Check: D 120, H 48 ft, t1 0.75 in give 17,596.8 psi, TestAnnularStress.
func AnnularStress(d, h, t1 unit.Length) (unit.Stress, error) {
	if !(d > 0 && h > 0 && t1 > 0) {
		return 0, ErrInput
	}
	return unit.Stress(StressFactor * float64(d/unit.Metre) * (float64(h/unit.Metre) - 0.3048) / float64(t1)), nil
}

// AnnularRow is one line of the table of annular thickness: up to a
// first-course thickness, one required thickness for each stress column.
type AnnularRow struct {
	UpTo unit.Length // first-course thickness, inclusive; +Inf in the last row
	T    [4]unit.Length
}

// AnnularColumns are the stresses below which the columns of the table apply.
var AnnularColumns = [4]unit.Stress{24300 * unit.PSI, 27000 * unit.PSI, 29700 * unit.PSI, 32400 * unit.PSI}

// AnnularThickness is the required thickness of the annular ring for a specific
// gravity below 1, uniform support and no seismic ring.
//
// Source: API Std 653, Table 4.5 (3rd edition Table 4-4), public extract.
// Check: checksum and monotonicity, TestAnnularTable.
var AnnularThickness = [5]AnnularRow{
	{0.75 * unit.Inch, [4]unit.Length{0.17 * unit.Inch, 0.20 * unit.Inch, 0.23 * unit.Inch, 0.30 * unit.Inch}},
	{1.00 * unit.Inch, [4]unit.Length{0.17 * unit.Inch, 0.22 * unit.Inch, 0.31 * unit.Inch, 0.38 * unit.Inch}},
	{1.25 * unit.Inch, [4]unit.Length{0.17 * unit.Inch, 0.26 * unit.Inch, 0.38 * unit.Inch, 0.48 * unit.Inch}},
	{1.50 * unit.Inch, [4]unit.Length{0.22 * unit.Inch, 0.34 * unit.Inch, 0.47 * unit.Inch, 0.59 * unit.Inch}},
	{unit.Length(math.Inf(1)), [4]unit.Length{0.27 * unit.Inch, 0.40 * unit.Inch, 0.53 * unit.Inch, 0.68 * unit.Inch}},
}

// Reading is how the table is read between its columns.
type Reading uint8

// The readings.
const (
	NextColumn Reading = iota // the column whose limit the stress is below
	Linear                    // between values anchored at the column limits
)

// RowFor is the table's row for a first-course thickness.
func RowFor(t1 unit.Length) AnnularRow {
	for _, r := range AnnularThickness {
		if t1 <= r.UpTo+1e-6 {
			return r
		}
	}
	return AnnularThickness[len(AnnularThickness)-1]
}

// AnnularRequired is the required thickness of the annular ring.
//
//	t_ann = table(σ, t1) + CA
//
// σ stress of AnnularStress, below 32,400 psi, else an error; t1 first-course
// thickness as built, mm; G specific gravity, below 1, else an error; CA
// corrosion allowance of the ring, mm. A stress at a column limit belongs to
// the next column.
//
// Source: API Std 653, 4.4.6 and Table 4.5; linear reading derived.
// Check: D 200, H 60 ft, t1 1.10 in give 0.26 in; 25,650 psi linear 0.185 in,
// TestAnnularRequired.
func AnnularRequired(stress unit.Stress, t1 unit.Length, g unit.Ratio, allowance unit.Length, read Reading) (unit.Length, error) {
	switch {
	case !(stress > 0 && t1 > 0 && g > 0):
		return 0, ErrInput
	case g >= 1-1e-9:
		return 0, ErrGravity
	}
	row := RowFor(t1)
	for i, limit := range AnnularColumns {
		if stress >= limit-1e-6 {
			continue
		}
		t := row.T[i]
		if read == Linear && i > 0 {
			low := AnnularColumns[i-1]
			t = row.T[i-1] + (row.T[i]-row.T[i-1])*unit.Length((stress-low)/(limit-low))
		}
		return t + allowance, nil
	}
	return 0, ErrStress
}

// LeastProjection is how far the bottom reaches beyond the shell at least.
//
// Source: API Std 653, 4.4.5.7.
const LeastProjection = 0.375 * unit.Inch
