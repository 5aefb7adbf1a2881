package recount_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/invented"
	"platebook/workbook/recount"
)

// sheared is a floor with a few patches to cut, of up to two thicknesses, and
// stock so small that several sheets are needed.
func sheared(seed uint64) (t *invented.Tank, stock []recount.Sheet) {
	d := rand.New(rand.NewPCG(seed, 11))
	var repairs []invented.Row
	n := 1 + d.IntN(6)
	kinds := 1 + d.IntN(2)
	for i := range n {
		l, w := float64(150+10*d.IntN(90)), float64(150+10*d.IntN(60))
		if i > 0 && d.IntN(4) == 0 {
			l, w = repairs[i-1].Number("Length"), repairs[i-1].Number("Width")
		}
		r := patch(fmt.Sprintf("R%d", i+1), []string{"5-1", "5-2", "6-2", "7-2"}[i%4], 3000, 900, l, w)
		r["Thickness"] = []float64{6.35, 8}[d.IntN(kinds)]
		switch d.IntN(6) {
		case 0:
			r["Shape"], r["Width"] = "circle", l
		case 1:
			r["Status"], r["Completed"], r["Retest"] = "completed", unit.NewDate(2026, 4, 25), "vacuum box, accepted"
		}
		repairs = append(repairs, r)
	}
	t = planned(nil, repairs)
	var texts []string
	for range 1 + d.IntN(3) {
		s := recount.Sheet{Length: float64(500 + 50*d.IntN(30)), Width: float64(400 + 50*d.IntN(20))}
		if s.Length < s.Width {
			s.Length, s.Width = s.Width, s.Length
		}
		stock = append(stock, s)
		texts = append(texts, fmt.Sprintf("%gx%g", s.Width, s.Length))
	}
	t.Criteria["Stock sheets"] = strings.Join(texts, "; ")
	t.Criteria["Kerf"], t.Criteria["Edge trim"] = one(d, 0.0, 3, 5, 20), one(d, 0.0, 10, 25)
	t.Criteria["Smallest offcut"] = one(d, 0.0, 100, 300)
	return t, stock
}

// The cutting list of a few pieces is the best there is, tried in every way; and
// its layouts can be cut as they are drawn.
func TestCuttingListIsTheBest(t *testing.T) {
	from, to := tanks(t)
	for seed := from; seed < from+max(1, (to-from)/2); seed++ {
		tank, stock := sheared(seed)
		a := judged(t, tank, unit.SI)
		for _, s := range cuts(tank, stock, a.Repairs) {
			t.Errorf("floor %d: %s", seed, s)
		}
	}
}

func cuts(tank *invented.Tank, stock []recount.Sheet, got *repair.Result) (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	kerf, trim, least := tank.Criteria.Number("Kerf"), tank.Criteria.Number("Edge trim"), tank.Criteria.Number("Smallest offcut")
	by := map[float64][]recount.Sheet{}
	sheets, apart, pieces, area, used := 0, 0, 0, 0.0, 0.0
	for _, r := range tank.Repairs {
		if r.Word("Status") != "completed" {
			by[r.Number("Thickness")] = append(by[r.Number("Thickness")], recount.Sheet{Length: r.Number("Length"), Width: r.Number("Width")})
			pieces++
		}
	}
	for _, g := range got.Cutting.Groups {
		want := recount.Cutting(by[float64(g.Thickness)], stock, kerf, trim, least)
		sheets += want.Sheets
		for i, ok := range want.Fits {
			if !ok {
				apart++
			} else {
				p := by[float64(g.Thickness)][i]
				used += p.Length * p.Width / 1e6
			}
		}
		if g.Layout == nil {
			if want.Sheets > 0 {
				say("no layout: %s, want %d sheets", g.Why, want.Sheets)
			}
			continue
		}
		own, offcut := 0.0, 0.0
		for _, s := range g.Layout.Sheets {
			own += s.Size.Length * s.Size.Width / 1e6
			for _, o := range s.Offcuts {
				if min(o.Length, o.Width) >= least-1e-6 {
					offcut = max(offcut, o.Length*o.Width/1e6)
				}
			}
			var at []rectangle
			for _, p := range s.Pieces {
				at = append(at, rectangle{p.X, p.Y, p.X + p.Length, p.Y + p.Width})
			}
			if why := cuttable(at, rectangle{trim, trim, s.Size.Length - trim, s.Size.Width - trim}, kerf); why != "" {
				say("%v on %v: %s", at, s.Size, why)
			}
		}
		area += own
		if len(g.Layout.Sheets) != want.Sheets || math.Abs(own-want.Area) > 1e-9 {
			say("%g mm: %d sheets of %g m², want %d of %g", g.Thickness, len(g.Layout.Sheets), own, want.Sheets, want.Area)
		} else if offcut < want.Offcut-1e-9 {
			say("%g mm: offcut %g m², one of %g can be", g.Thickness, offcut, want.Offcut)
		} else if offcut > want.Offcut+1e-9 {
			say("%g mm: offcut %g m², no more than %g can be", g.Thickness, offcut, want.Offcut)
		}
	}
	if got.Sheets != sheets || got.Pieces != pieces || len(got.Cutting.Separate) != apart || len(by) != len(got.Cutting.Groups) {
		say("%d sheets, %d pieces, %d apart, %d thicknesses, want %d, %d, %d, %d", got.Sheets, got.Pieces, len(got.Cutting.Separate), len(got.Cutting.Groups), sheets, pieces, apart, len(by))
	}
	if sheets > 0 && math.Abs(float64(got.Yield.V)-100*used/area) > 1e-6 {
		say("yield %v, want %v", got.Yield, 100*used/area)
	}
	if got.BoundArea > sheets || got.BoundDual > sheets {
		say("bounds %d and %d over %d sheets", got.BoundArea, got.BoundDual, sheets)
	}
	return wrong
}

type rectangle struct{ x1, y1, x2, y2 float64 }

// cuttable says why pieces cannot be cut from a sheet as they lie: by cuts from
// edge to edge, each as wide as the kerf, of what a cut before has left.
func cuttable(list []rectangle, sheet rectangle, kerf float64) string {
	const fine = 1e-6
	for _, p := range list {
		if p.x1 < sheet.x1-fine || p.y1 < sheet.y1-fine || p.x2 > sheet.x2+fine || p.y2 > sheet.y2+fine {
			return fmt.Sprintf("%v reaches out of %v", p, sheet)
		}
	}
	if len(list) <= 1 {
		return ""
	}
	for _, flip := range []bool{false, true} {
		own := slices.Clone(list)
		s := sheet
		if flip {
			for i, p := range own {
				own[i] = rectangle{p.y1, p.x1, p.y2, p.x2}
			}
			s = rectangle{s.y1, s.x1, s.y2, s.x2}
		}
		slices.SortFunc(own, func(a, b rectangle) int { return cmp.Compare(a.x1, b.x1) })
		end := own[0].x2
		for i := 1; i < len(own); i++ {
			if own[i].x1 >= end+kerf-fine {
				if why := cuttable(own[:i], rectangle{s.x1, s.y1, own[i].x1 - kerf, s.y2}, kerf); why != "" {
					return why
				}
				return cuttable(own[i:], rectangle{own[i].x1, s.y1, s.x2, s.y2}, kerf)
			}
			end = max(end, own[i].x2)
		}
	}
	return fmt.Sprintf("no cut from edge to edge parts %v", list)
}
