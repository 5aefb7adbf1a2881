package extreme

import (
	"fmt"
	"math"
	"slices"

	"platebook/rules/unit"
)

// Plate is one plate of a class: one nominal thickness, away from the critical
// zone and the ring.
type Plate struct {
	Label    string
	Area     unit.Area    // net
	Examined unit.Percent // of its area
	Largest  unit.Length  // largest loss on the side asked for
	Found    bool         // it has an indication there
}

// Estimate is the deepest corrosion to expect on the area of a class that was
// not examined.
type Estimate struct {
	Side       string
	Nominal    unit.Length
	Blocks     []Plate // used, in the order of the sheet
	Without    int     // plates examined and large enough, left out for want of an indication
	Unexamined unit.Area
	Block      unit.Area // mean area of a block
	Fit        Gumbel
	Period     float64     // T
	Level      unit.Length // x_T, one block in T
	SE         unit.Length
	Whole      unit.Length // 95 % level of the deepest of all
	Depth      unit.Length // the greater of x_T + 1.645 SE and the 95 % level
	Made       bool        // false: Why there is none
	Why        string
	Doubtful   bool // the probability plot is not straight
	Used       bool // enters the interval
}

// LeastExamined is the share of a plate that makes it a block, %.
//
// Source: common practice, no source.
const LeastExamined = 90

// Straight is the least correlation of a probability plot that is not
// doubtful.
//
// Source: common practice, no source.
const Straight = 0.95

// Judge fits the largest losses of the plates that are examined and large
// enough, and carries them to the area of the class that is not examined.
//
//	block: examined ≥ 90 %, net area ≥ ½·median of the class
//	T = max(2, A_u/A_b), x_T = u + α·k, k = −ln(−ln(1 − 1/T))
//	depth = max(x_T + 1.645·SE, u + α·(ln T − ln(−ln 0.95)))
//
// A_u area not examined and A_b mean area of a block, m²; x, u, α, SE in mm;
// T a pure number. No estimate with fewer blocks than least, with more than
// half of them without an indication, with equal losses, or with nothing left
// unexamined: Why says so.
//
// Source: Shibata, J. Res. NIST 99 (1994); HSE RR016 (2002); blocks and their
// least number: common practice, no source.
// Check: twelve blocks of the method, T 25: TestJudge.
func Judge(side string, nominal unit.Length, plates []Plate, least int) Estimate {
	e := Estimate{Side: side, Nominal: nominal}
	var areas []float64
	for _, p := range plates {
		areas = append(areas, float64(p.Area))
		e.Unexamined += p.Area * unit.Area(1-min(100, max(0, float64(p.Examined)))/100)
	}
	if len(plates) == 0 {
		e.Why = "no plate of one nominal thickness with a known area"
		return e
	}
	half := median(areas) / 2
	var x []float64
	for _, p := range plates {
		if float64(p.Examined) < LeastExamined-1e-9 || float64(p.Area) < half-1e-12 {
			continue
		}
		if !p.Found {
			e.Without++
			continue
		}
		e.Blocks = append(e.Blocks, p)
		e.Block += p.Area
		x = append(x, float64(p.Largest))
	}
	n := len(e.Blocks)
	if n > 0 {
		e.Block /= unit.Area(n)
	}
	switch {
	case e.Without > n:
		e.Why = fmt.Sprintf("not suitable: %d of %d examined plates have no indication", e.Without, e.Without+n)
		return e
	case n < least || n < 2:
		e.Why = fmt.Sprintf("%d plates to fit, %d needed", n, max(2, least))
		return e
	case e.Unexamined <= 1e-9:
		e.Why = "no area of the class is left unexamined"
		return e
	}
	fit, err := Fit(x)
	if err != nil {
		e.Why = err.Error()
		return e
	}
	e.Made, e.Fit = true, fit
	e.Period = math.Max(2, float64(e.Unexamined/e.Block))
	level, se := fit.Level(e.Period)
	e.Level, e.SE, e.Whole = unit.Length(level), unit.Length(se), unit.Length(fit.Whole(e.Period))
	e.Depth = max(e.Level+1.645*e.SE, e.Whole)
	e.Doubtful = fit.Correlation < Straight
	return e
}

func median(v []float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}
