package assess

import (
	"fmt"
	"math"

	"platebook/rules/criteria"
	"platebook/rules/extreme"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// ExtremeLabel names the location that stands for the area not examined.
const ExtremeLabel = "area not examined"

// extremes estimates the deepest corrosion of the area not examined and, where
// the workbook asks for it and the fit is straight, lets it count as location
// (f). It runs before product and soil pits are joined: each side is fitted by
// itself.
func (w *work) extremes() {
	if w.like != nil && !w.set.Is(criteria.ExtremeValueInInterval, "yes") {
		return
	}
	nominal, plates := w.class()
	side := Soil
	if w.set.Is(criteria.ExtremeValueSide, "product") {
		side = Product
	}
	list := make([]extreme.Plate, len(plates))
	at := make(map[int]int, len(plates))
	for n, k := range plates {
		at[k] = n
		list[n] = extreme.Plate{Label: w.in.Plates[k].Label.Text, Area: w.plan.Plates[k].NetArea, Examined: w.plates[k].examined.V}
	}
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		n, ok := at[l.Plate]
		if !ok || (l.Kind != IndicationAt && l.Kind != ProveUpAt) || l.Verdict == NotRelevant || l.Patch >= 0 || l.NoRate {
			continue
		}
		if !l.Loss.Known || l.Zone != floor.General || (side == Soil && !l.Side.OnSoil()) || (side == Product && !l.Side.OnProduct()) {
			continue
		}
		x := unit.Length(float64(l.Loss.V) / 100 * float64(nominal))
		p := &list[n]
		if !p.Found || x > p.Largest {
			p.Largest, p.Found = x, true
		}
	}
	e := extreme.Judge(side.String(), nominal, list, int(w.number(criteria.ExtremeValueMinimumBlocks)))
	e.Used = e.Made && !e.Doubtful && w.set.Is(criteria.ExtremeValueInInterval, "yes")
	w.res.Extreme = e
	if !e.Made {
		return
	}
	w.extremeSteps = extremeSteps(&e, w.in.Units)
	if e.Used {
		w.unexamined(&e, side)
	}
}

// class is the nominal thickness that most of the floor's area has, and its
// plates: neither ring nor sump, with a known area. Nominals are never pooled.
func (w *work) class() (unit.Length, []int) {
	if w.plan == nil {
		return 0, nil
	}
	type class struct {
		nominal unit.Length
		area    unit.Area
		plates  []int
	}
	var classes []class
	for k := range w.plates {
		p := &w.plates[k]
		if p.out || p.annular || !p.nominal.Known || k >= len(w.plan.Plates) || inspection.Is(w.in.Plates[k].Type, "sump") {
			continue
		}
		pl := &w.plan.Plates[k]
		if !pl.Measured || pl.Sump {
			continue
		}
		n := -1
		for i := range classes {
			if d := classes[i].nominal - p.nominal.V; d < 1e-6 && d > -1e-6 {
				n = i
			}
		}
		if n < 0 {
			classes, n = append(classes, class{nominal: p.nominal.V}), len(classes)
		}
		classes[n].area += pl.NetArea
		classes[n].plates = append(classes[n].plates, k)
	}
	best := class{}
	for _, c := range classes {
		if c.area > best.area {
			best = c
		}
	}
	return best.nominal, best.plates
}

// unexamined lets the estimate count: remaining metal below its depth.
//
//	r = max(0, t_nom − depth)
func (w *work) unexamined(e *extreme.Estimate, side Side) {
	r := max(0, e.Nominal-e.Depth)
	l := Location{
		Kind: ExtremeAt, Label: ExtremeLabel, Plate: -1, Indication: -1, ProveUp: -1, Patch: -1, Over: -1, Side: side,
		Zone: floor.General, Nominal: unit.Some(e.Nominal), T0: unit.Some(e.Nominal), Basis: ByExtreme, Counts: true, Age: w.floorAge,
		Remaining: unit.Some(r), Loss: unit.Some(unit.Percent(100 * (1 - float64(r)/float64(e.Nominal)))),
	}
	l.Step = step.New(step.Step{
		ID: "location.extreme", Title: "remaining thickness of the area not examined", Symbol: "r", Kind: unit.Thickness,
		Formula: step.Parse("max(0, t_nom - max(x_T + 1.645*SE, x_95))"),
		Inputs: []step.Input{
			constant("t_nom", "nominal thickness of the class", float64(e.Nominal), unit.Thickness, "Plates"),
			step.From(*w.extremeSteps.Find("extreme.level")), step.From(*w.extremeSteps.Find("extreme.se")), step.From(*w.extremeSteps.Find("extreme.whole")),
		},
		Source: extremeSource,
	})
	w.rates(&l)
	w.res.Locations = append(w.res.Locations, l)
	w.values = append(w.values, value{})
}

const extremeSource = "Gumbel fit by maximum likelihood: Coles (2001); Shibata, J. Res. NIST 99 (1994)"

// ExtremeColumn is the column of the results that lists the largest loss of
// each plate fitted, in the order of Estimate.Blocks.
const ExtremeColumn = "extreme.loss"

// extremeSteps are the estimate, step by step. The scale has no closed form:
// its step puts the solution into the likelihood equation, which gives it back.
func extremeSteps(e *extreme.Estimate, sys unit.System) step.List {
	x := step.Input{
		Symbol: "x", Title: "largest loss on each of the plates fitted", Kind: unit.Thickness, Known: true, From: step.Source{Column: ExtremeColumn},
	}
	for i := range e.Blocks {
		x.Values = append(x.Values, float64(e.Blocks[i].Largest))
	}
	g := &e.Fit
	n := float64(g.N)
	blocks := constant("n", "plates", n, unit.Number, "plates fitted")
	alpha := step.Step{
		ID: "extreme.scale", Title: "scale of the largest losses", Symbol: "α", Kind: unit.Thickness, Source: extremeSource,
		Branch:  fmt.Sprintf("%d plates of %d examined and large enough; by moments %s", g.N, g.N+e.Without, unit.Thickness.TextUnit(sys, g.MomentsA, 2)),
		Formula: step.Parse("sum(x)/n - sum(x*exp(-x/α_0))/sum(exp(-x/α_0))"),
		Inputs:  []step.Input{constant("α_0", "solution of the likelihood equation", g.Scale, unit.Thickness, "maximum likelihood"), blocks, x},
		Value:   g.Scale, Known: true,
	}
	loc := step.Step{
		ID: "extreme.location", Title: "location of the largest losses", Symbol: "u", Kind: unit.Thickness, Source: extremeSource,
		Branch:  "by moments " + unit.Thickness.TextUnit(sys, g.MomentsU, 2),
		Formula: step.Parse("-α*ln(sum(exp(-x/α))/n)"), Inputs: []step.Input{step.From(alpha), blocks, x},
		Value: g.Location, Known: true,
	}
	period := step.New(step.Step{
		ID: "extreme.period", Title: "blocks not examined", Symbol: "T", Kind: unit.None, Formula: step.Parse("max(2, A_u/A_b)"), Source: extremeSource,
		Inputs: []step.Input{
			constant("A_u", "area of the class not examined", float64(e.Unexamined), unit.AreaKind, "Plates: Σ net area·(100 − examined %)/100"),
			constant("A_b", "mean area of a block", float64(e.Block), unit.AreaKind, "Plates: mean net area of the plates fitted"),
		},
	})
	information := func(symbol, title string, v float64, k unit.Kind) step.Input {
		return constant(symbol, title, v, k, "inverse observed information")
	}
	su, sa := math.Sqrt(g.VarU), math.Sqrt(g.VarA)
	level := step.New(step.Step{
		ID: "extreme.level", Title: "loss exceeded by one block in T", Symbol: "x_T", Kind: unit.Thickness, Formula: step.Parse("u - α*ln(-ln(1 - 1/T))"),
		Inputs: []step.Input{step.From(loc), step.From(alpha), step.From(period)}, Source: extremeSource,
	})
	se := step.New(step.Step{
		ID: "extreme.se", Title: "standard error of that loss", Symbol: "SE", Kind: unit.Thickness,
		Formula: step.Parse("sqrt(s_u^2 - 2*ln(-ln(1 - 1/T))*ρ*s_u*s_α + ln(-ln(1 - 1/T))^2*s_α^2)"),
		Inputs: []step.Input{
			information("s_u", "standard error of the location", su, unit.Thickness), information("s_α", "standard error of the scale", sa, unit.Thickness),
			information("ρ", "their correlation", g.CovUA/(su*sa), unit.Statistic), step.From(period),
		}, Source: extremeSource,
	})
	whole := step.New(step.Step{
		ID: "extreme.whole", Title: "loss that the deepest of all stays below with 95 %", Symbol: "x_95", Kind: unit.Thickness,
		Formula: step.Parse("u + α*(ln(T) - ln(-ln(0.95)))"), Inputs: []step.Input{step.From(loc), step.From(alpha), step.From(period)}, Source: extremeSource,
	})
	return step.List{alpha, loc, period, level, se, whole}
}
