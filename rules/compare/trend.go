package compare

import (
	"math"
	"slices"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/sizing"
	"platebook/rules/spelling"
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
	t := sizing.StudentT(0.975, n-2)
	l.SE, l.Half = unit.Some(unit.Rate(se)), unit.Some(unit.Rate(t*se))
	return l
}

// chain is all inspections and who is whose partner in any two of them.
type chain struct {
	all     []Survey
	renamed []Renamed
	last    *Result
	found   map[[2]int]map[int]int // surveys k and m: location in m → in k
	on      map[[2]int]map[int]bool
}

// between pairs the places of two of the inspections.
func (c *chain) between(k, m int) map[int]int {
	at := [2]int{k, m}
	if p, ok := c.found[at]; ok {
		return p
	}
	n := len(c.all) - 1
	r := c.last
	if k != n-1 || m != n {
		r = &Result{Count: map[Class]int{}}
		renamed := c.renamed
		if m != n {
			renamed = nil
		}
		newWork(r, c.all[k], c.all[m], renamed).pair()
	}
	back, on := map[int]int{}, map[int]bool{}
	for i := range r.Pairs {
		if p := &r.Pairs[i]; p.Old >= 0 && p.New >= 0 {
			back[p.New], on[p.Old] = p.Old, true
		}
	}
	c.found[at], c.on[at] = back, on
	return back
}

// before is the partner in survey k of a place in survey m. Where an inspection
// between them missed it, the partner must have none in that one.
func (c *chain) before(k, m, at int) (int, bool) {
	o, ok := c.between(k, m)[at]
	for j := k + 1; ok && j < m; j++ {
		c.between(k, j)
		ok = !c.on[[2]int{k, j}][o]
	}
	return o, ok
}

// trends follows each place back through the earlier inspections. A place that
// one of them missed is followed on: it is then not new since.
func (w *work) trends(earlier []Survey, renamed []Renamed) {
	n := len(earlier)
	c := &chain{
		all: append(append([]Survey(nil), earlier...), w.now), renamed: renamed, last: w.res,
		found: map[[2]int]map[int]int{}, on: map[[2]int]map[int]bool{},
	}
	for i := range w.res.Pairs {
		p := &w.res.Pairs[i]
		if p.New < 0 || w.fresh[p.New] != "" {
			continue
		}
		t := Trend{Plate: p.Plate, New: p.New, UT: true}
		missed := p.Old < 0
		take := func(k, at int) {
			l := &c.all[k].Found.Locations[at]
			if o := ownOf(c.all[k].In, l); o.r.Known {
				t.Labels = append(t.Labels, l.Label)
				t.Dates = append(t.Dates, c.all[k].In.Tank.InspectionEnd.Value)
				t.Remaining = append(t.Remaining, o.r.V)
				t.UT = t.UT && o.basis == assess.ByUT
			}
		}
		take(n, p.New)
		m, at := n, p.New
		for k := n - 1; k >= 0; k-- {
			if o, ok := c.before(k, m, at); ok {
				m, at = k, o
				take(k, o)
				if missed {
					p.Why = join(p.Why, "was there on "+c.all[k].In.Tank.InspectionEnd.Value.String()+" as "+c.all[k].Found.Locations[o].Label+", missed since")
					missed = false
					w.res.Missed++
				}
			}
		}
		if len(t.Dates) < 3 && (p.Old >= 0 || len(t.Dates) < 2) {
			continue
		}
		slices.Reverse(t.Labels)
		slices.Reverse(t.Dates)
		slices.Reverse(t.Remaining)
		if t.UT && p.Plate >= 0 && !w.res.Plates[p.Plate].Question {
			t.Fit = FitLine(t.Dates, t.Remaining, w.set.Length(criteria.UTTolerance))
		}
		w.res.Trends = append(w.res.Trends, t)
	}
	if k := w.res.Missed; k > 0 {
		w.res.Notes = append(w.res.Notes, spelling.Count(k, "place was", "places were")+" there before the last inspection, which missed "+them(k)+": the growth of a place missed is not that of a new one; see the trends.")
	}
}

func them(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}
