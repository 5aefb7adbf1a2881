package repair

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// sheetEffort bounds the search for sheets at each of many levels.
const sheetEffort = 400_000

// mostLevels keeps an absurd step from filling the table.
const mostLevels = 400

// thresholds is the table of repair thresholds: multiples of the step from the
// first not below the required thickness to the last not above the floor's
// nominal, each with the repairs proposed at it and the interval they give.
//
//	at least: (min(T, threshold, least of sound metal and old patches) − t_req)/(StPr + UPr)
//
// T repair threshold, threshold what the scan may have missed, t_req required
// thickness, mm; StPr, UPr rates as found, mm/year. Rates not known: no closed
// form.
//
// Source: derived, method section 7. Check: TestPrintedThresholds, 15 levels
// 2.75 … 6.25.
func (s *shop) thresholds(res *assess.Result) []Level {
	step0 := s.set.Number(criteria.ThresholdStep)
	nominal := s.in.Tank.NominalThickness
	if step0 <= 0 || !nominal.OK() || !res.Required.Known {
		return nil
	}
	required := float64(res.Required.V)
	first := math.Ceil(required/step0 - 1e-9)
	last := math.Floor(float64(nominal.Value)/step0 + 1e-9)
	if last-first+1 > mostLevels {
		return nil
	}
	base := s.unpatched(res)
	var levels []float64
	var needs [][]int // those that differ from the level before
	var costOf []int  // of each level: index in needs
	for n := first; n <= last; n++ {
		need := below(res.Locations, n*step0)
		if len(needs) == 0 || !slices.Equal(need, needs[len(needs)-1]) {
			needs = append(needs, need)
		}
		levels, costOf = append(levels, n*step0), append(costOf, len(needs)-1)
	}
	costs := s.costs(res, needs)
	var out []Level
	for i, t := range levels {
		l := costs[costOf[i]]
		l.Below = unit.Length(t)
		l.AtLeast = closedForm(res, t, base)
		out = append(out, l)
	}
	return out
}

// costs is the cost of each set of needs. They do not depend on each other, so
// they are worked out side by side, the largest first, each worker in a shop of
// its own.
func (s *shop) costs(res *assess.Result, needs [][]int) []Level {
	out := make([]Level, len(needs))
	if len(needs) == 0 {
		return out
	}
	next := make(chan int, len(needs))
	for i := range slices.Backward(needs) {
		next <- i
	}
	close(next)
	all := needs[len(needs)-1] // thinner than the highest level: the others are among them
	seeds, at := s.seedsOf(res.Locations, all), s.placesOf(res.Locations)
	var wait sync.WaitGroup
	var bug atomic.Value
	for range min(runtime.GOMAXPROCS(0), len(needs)) {
		wait.Go(func() {
			defer func() {
				if p := recover(); p != nil {
					bug.Store(fmt.Sprint(p))
				}
			}()
			own := s.another()
			for i := range next {
				out[i] = own.cost(res, seeds, at, needs[i])
			}
		})
	}
	wait.Wait()
	if p := bug.Load(); p != nil {
		panic(p) // where the caller can catch it
	}
	return out
}

// below lists the locations thinner than a level, with what lies on the other
// side of them.
func below(ls []assess.Location, t float64) []int {
	var out []int
	for i := range ls {
		l := &ls[i]
		if !repairable(l) || !l.Counts || !l.Remaining.Known {
			continue
		}
		thin := !step.AtLeast(unit.Thickness, float64(l.Remaining.V), t)
		if o := l.Over; o >= 0 && ls[o].Remaining.Known {
			thin = thin || !step.AtLeast(unit.Thickness, float64(ls[o].Remaining.V), t)
		}
		if thin {
			out = append(out, i)
		}
	}
	return out
}

// cost is a proposal over locations and the interval it gives.
func (s *shop) cost(res *assess.Result, g *seeds, at *places, need []int) Level {
	needed := make([]bool, len(res.Locations))
	for _, i := range need {
		needed[i] = true
	}
	items := s.items(s.extended(res, needed, func(all []bool) *seeds { return s.with(g, all) }, at), at)
	p := s.proposal(items, res.Locations)
	state := res.If(func(i int) bool { return p.Repair[i] != "" }, p.Metal)
	l := Level{Repairs: len(items), Interval: state.Interval, Uncapped: state.IntervalUncapped, Area: s.area(items), Plates: plates(items)}
	for i := range items {
		if it := &items[i]; it.Kind == Patch && it.Thickness.Known {
			l.Mass += BlankMass(it.Length, it.Width, it.Thickness.V)
		}
	}
	c := s.cut(items, sheetEffort)
	_, l.Sheets, _, _, _, _ = c.totals()
	return l
}

// unpatched is the least of what no patch takes out: what the scan may have
// missed, sound metal, old patches.
func (s *shop) unpatched(res *assess.Result) float64 {
	least := math.Inf(1)
	for i := range res.Locations {
		l := &res.Locations[i]
		if l.Counts && l.Remaining.Known && (l.Kind == assess.SoundMetal || l.Kind == assess.PatchAt || l.Kind == assess.ThresholdAt) {
			least = math.Min(least, float64(l.Remaining.V))
		}
	}
	return least
}

func closedForm(res *assess.Result, t, least float64) unit.Maybe[unit.Years] {
	f := &res.AsFound
	if !f.SoilRate.Known || !f.ProductRate.Known || !res.Required.Known {
		return unit.Maybe[unit.Years]{}
	}
	rate := float64(f.SoilRate.V + f.ProductRate.V)
	if rate <= 0 {
		return unit.Maybe[unit.Years]{}
	}
	return unit.Some(unit.Years(math.Max(0, (math.Min(t, least)-float64(res.Required.V))/rate)))
}
