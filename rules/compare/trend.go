package compare

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/unit"
)

// Trend is one place over three or more inspections.
type Trend struct {
	Plate     int // index in the new Inspection.Plates
	New       int // index in the new Result.Locations
	Labels    []string
	Dates     []unit.Date
	Remaining []unit.Length
	UT        bool // all values by UT: only then is there a rate
	Fit       Line
}

// Line is a least-squares line through a place's remaining thickness.
type Line struct {
	Rate     unit.Maybe[unit.Rate] // loss positive
	SE       unit.Maybe[unit.Rate] // standard error of it, from the scatter about the line
	Half     unit.Maybe[unit.Rate] // half the width of its 95 % range
	Reading  unit.Maybe[unit.Rate] // what the tolerance of a reading alone allows
	Readings int
}

// FitLine is the least-squares rate of a place.
//
//	rate = −Σ(x − x̄)(r − r̄)/Σ(x − x̄)²
//	SE = √(Σe²/(n − 2))/√Σ(x − x̄)²,  95 % range ± t(0.975, n − 2)·SE
//	by the readings alone: UT tolerance/√Σ(x − x̄)²
//
// x date in years, r remaining thickness in mm, e residual, n readings. n ≥ 2
// at different dates, else unknown; SE and range want n ≥ 3.
//
// Source: ordinary least squares, NIST/SEMATECH e-Handbook 4.1.4.1; derived.
// Check: 6.0, 5.2, 4.1 at 0, 8, 20 years: 0.0947368, SE 0.00227901 mm/year
// (TestTrendLine).
func FitLine(dates []unit.Date, remaining []unit.Length, tolerance unit.Length) Line {
	n := len(dates)
	l := Line{Readings: n}
	if n < 2 || n != len(remaining) {
		return l
	}
	var mx, mr float64
	xs := make([]float64, n)
	for i, d := range dates {
		xs[i] = float64(d.YearsSince(dates[0]))
		mx += xs[i] / float64(n)
		mr += float64(remaining[i]) / float64(n)
	}
	var sxx, sxr float64
	for i := range xs {
		sxx += (xs[i] - mx) * (xs[i] - mx)
		sxr += (xs[i] - mx) * (float64(remaining[i]) - mr)
	}
	if sxx <= 0 {
		return l
	}
	slope := sxr / sxx
	l.Rate = unit.Some(unit.Rate(-slope))
	l.Reading = unit.Some(unit.Rate(float64(tolerance) / math.Sqrt(sxx)))
	if n < 3 {
		return l
	}
	var sse float64
	for i := range xs {
		e := float64(remaining[i]) - mr - slope*(xs[i]-mx)
		sse += e * e
	}
	se := math.Sqrt(sse/float64(n-2)) / math.Sqrt(sxx)
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile(0.975)
	l.SE, l.Half = unit.Some(unit.Rate(se)), unit.Some(unit.Rate(t*se))
	return l
}

// trends follows each paired place back through the earlier inspections, each
// paired with the next.
func (w *work) trends(earlier []Survey) {
	n := len(earlier)
	// back[k] is the partner in survey k of a location in survey k+1
	back := make([]map[int]int, n)
	step := func(r *Result) map[int]int {
		m := map[int]int{}
		for i := range r.Pairs {
			if p := &r.Pairs[i]; p.Old >= 0 && p.New >= 0 {
				m[p.New] = p.Old
			}
		}
		return m
	}
	back[n-1] = step(w.res)
	for k := n - 2; k >= 0; k-- {
		r := &Result{Count: map[Class]int{}}
		v := newWork(r, earlier[k], earlier[k+1], nil)
		v.pair()
		back[k] = step(r)
	}
	all := append(append([]Survey(nil), earlier...), w.now)
	for i := range w.res.Pairs {
		p := &w.res.Pairs[i]
		if p.Old < 0 || p.New < 0 {
			continue
		}
		t := Trend{Plate: p.Plate, New: p.New, UT: true}
		at := p.New
		for k := n; k >= 0; k-- {
			l := &all[k].Found.Locations[at]
			if r := thickness(l); r.Known {
				t.Labels = append(t.Labels, l.Label)
				t.Dates = append(t.Dates, all[k].In.Tank.InspectionEnd.Value)
				t.Remaining = append(t.Remaining, r.V)
				t.UT = t.UT && l.Basis == assess.ByUT
			}
			if k == 0 {
				break
			}
			o, ok := back[k-1][at]
			if !ok {
				break
			}
			at = o
		}
		if len(t.Dates) < 3 {
			continue
		}
		slices.Reverse(t.Labels)
		slices.Reverse(t.Dates)
		slices.Reverse(t.Remaining)
		if t.UT && !w.res.Plates[p.Plate].Question {
			t.Fit = FitLine(t.Dates, t.Remaining, w.set.Length(criteria.UTTolerance))
		}
		w.res.Trends = append(w.res.Trends, t)
	}
}
