package nest

import (
	"math"
	"sort"
)

// envelope is the smallest sheet that holds every stock size: a bound for it is
// a bound for any mix of them.
func (j *job) envelope() (w, h int64) {
	for _, b := range j.sheets {
		w, h = max(w, b.w), max(h, b.h)
	}
	return w, h
}

// boundArea is the least number of sheets by area.
//
//	⌈Σw'h'/(W'H')⌉
//
// w', h' sizes of a piece grown by the kerf; W', H' of the sheet less the trim,
// grown by the kerf; of several stock sizes the envelope.
//
// Source: derived, method section 11. Check: five 510 × 510 on 1000 × 1000 → 2
// (TestPrintedCheck).
func (j *job) boundArea() int {
	w, h := j.envelope()
	var sum float64
	for _, it := range j.items {
		sum += it.area
	}
	return sheetsFor(sum, float64(w)*float64(h))
}

// sheetsFor rounds up, with room for the rounding of a sum of doubles.
func sheetsFor(sum, sheet float64) int {
	if sum <= 0 {
		return 0
	}
	return int(math.Ceil(sum/sheet - 1e-9))
}

// boundDual is the least number of sheets by dual-feasible functions: pieces
// over half a sheet exclude each other even where their area would fit.
//
//	f_ε(w) = W' if w' > W' − ε, 0 if w' < ε, else w'
//	⌈max over ε, δ of Σ f_ε(w)·f_δ(h)/(W'H')⌉
//
// ε, δ nothing, half the sheet, or piece sizes up to it; a piece that may turn
// counts with the lesser of its two values.
//
// Source: Fekete and Schepers, dual-feasible functions for packing bounds, as
// restated in the method, section 11. Check: five 510 × 510 on 1000 × 1000 → 5.
func (j *job) boundDual() int {
	w, h := j.envelope()
	if len(j.items) == 0 {
		return 0
	}
	es, ds := j.cuts(w, true), j.cuts(h, false)
	fw := func(v, e, whole int64) float64 {
		switch {
		case v > whole-e:
			return float64(whole)
		case v < e:
			return 0
		}
		return float64(v)
	}
	kinds := j.kinds()
	best := 0.0
	for _, e := range es {
		for _, d := range ds {
			sum := 0.0
			for _, k := range kinds {
				it := j.items[k.first]
				v := fw(it.w, e, w) * fw(it.h, d, h)
				if it.turn {
					v = math.Min(v, fw(it.h, e, w)*fw(it.w, d, h))
				}
				sum += v * float64(len(k.items))
			}
			best = math.Max(best, sum)
		}
	}
	return sheetsFor(best, float64(w)*float64(h))
}

// mostCuts keeps the bound of a list of all different pieces cheap; dropping
// candidates only weakens it.
const mostCuts = 80

func (j *job) cuts(whole int64, wide bool) []int64 {
	seen := map[int64]bool{0: true, whole / 2: true}
	for _, it := range j.items {
		for _, v := range []int64{it.w, it.h} {
			if own := v == it.w; own != wide && !it.turn {
				continue
			}
			if v <= whole/2 {
				seen[v] = true
			}
		}
	}
	out := make([]int64, 0, len(seen))
	for v := range seen {
		out = append(out, v)
	}
	sort.Slice(out, func(a, b int) bool { return out[a] > out[b] })
	if len(out) > mostCuts {
		thin := make([]int64, 0, mostCuts)
		for i := range mostCuts {
			thin = append(thin, out[i*len(out)/mostCuts])
		}
		out = thin
	}
	return out
}

// kind is pieces of one size.
type kind struct {
	first int
	items []int
}

// kinds groups equal pieces, in the order they come.
func (j *job) kinds() []kind {
	type key struct {
		w, h int64
		turn bool
	}
	at := map[key]int{}
	var out []kind
	for i, it := range j.items {
		k := key{it.w, it.h, it.turn}
		if it.turn && it.w < it.h {
			k.w, k.h = it.h, it.w
		}
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k] = n
			out = append(out, kind{first: i})
		}
		out[n].items = append(out[n].items, i)
	}
	return out
}
