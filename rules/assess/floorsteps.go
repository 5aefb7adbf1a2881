package assess

import (
	"slices"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// floorSteps are areas and coverage, as the plan found them.
func (w *work) floorSteps() {
	if w.plan == nil {
		return
	}
	area := step.New(step.Step{
		ID: "floor.area", Title: "area of the floor", Symbol: "A", Kind: unit.AreaKind,
		Formula: step.Parse("3.141592653589793*(D/2)^2"),
		Inputs:  []step.Input{cell("D", "diameter", w.in.Tank.Diameter, unit.Height)},
	})
	w.keep(area)
	net := w.perPlate("a", "net area of each plate", unit.AreaKind, NetAreaColumn, func(i int) float64 { return float64(NetArea(w.plan, i)) })
	balance := step.New(step.Step{
		ID: "floor.balance", Title: "plates against floor", Symbol: "B", Kind: unit.Share, Formula: step.Parse("100*abs((sum(a) + O)/A - 1)"),
		Inputs: []step.Input{net, constant("O", "openings of the sumps", float64(w.plan.OpeningArea), unit.AreaKind, "Plates, sumps"), step.From(area)},
	})
	balance.Limit = w.criterionLimit("B_max", criteria.AreaBalance, "≤")
	w.keep(balance)
	c := w.plan.Coverage
	for _, share := range []struct {
		id, title, column string
		v                 unit.Maybe[unit.Percent]
		of                func(*inspection.Plate) float64
	}{
		{"coverage.mfl", "scanned by MFL", MFLColumn, c.MFL, func(p *inspection.Plate) float64 { return shareOf(p.MFLScanned) }},
		{"coverage.hand", "scanned by hand", HandColumn, c.Hand, func(p *inspection.Plate) float64 { return shareOf(p.HandScanned) }},
		{"coverage.ut", "gridded by UT", UTColumn, c.UT, func(p *inspection.Plate) float64 { return shareOf(p.UTGridded) }},
		{"coverage.not_examined", "not examined", NotColumn, c.NotExamined, NotExamined},
	} {
		shares := w.perPlate("p", "share of each plate", unit.Share, share.column, func(i int) float64 { return share.of(&w.in.Plates[i]) })
		s := step.Step{
			ID: share.id, Title: share.title, Symbol: "C", Kind: unit.Share, Formula: coverageFormula, Inputs: []step.Input{net, shares},
			Branch: "by the plates' net areas: cut at the rim, less half of each lap",
		}
		if !share.v.Known {
			w.keep(step.Unknown(s, "the plates' net areas are not known"))
			continue
		}
		w.keep(step.New(s))
	}
}

var coverageFormula = step.Parse("sum(a*p)/sum(a)")

// Columns of the results that list a number for each plate, in the order of
// the sheet. The net area of a plate that is in no sum is 0.
const (
	NetAreaColumn = "plate.net_area"
	MFLColumn     = "plate.mfl"
	HandColumn    = "plate.hand"
	UTColumn      = "plate.ut"
	NotColumn     = "plate.not_examined"
)

// perPlate is a column of the results as an input, one number a plate.
func (w *work) perPlate(symbol, title string, k unit.Kind, column string, of func(plate int) float64) step.Input {
	in := step.Input{Symbol: symbol, Title: title, Known: len(w.in.Plates) > 0, Kind: k, From: step.Source{Column: column}, Values: []float64{}}
	for i := range w.in.Plates {
		in.Values = append(in.Values, of(i))
	}
	return in
}

// NetArea is a plate's net area as the sums over the floor count it: 0 for a
// sump's and for one without a known area.
func NetArea(plan *floor.Plan, i int) unit.Area {
	if plan == nil || i >= len(plan.Plates) || plan.Plates[i].Sump || !plan.Plates[i].Measured {
		return 0
	}
	return plan.Plates[i].NetArea
}

// shareOf is a share that counts: nothing where it cannot be read.
func shareOf(p inspection.Percent) float64 { return max(0, float64(p.Or(0))) }

// NotExamined is the share of a plate that nobody examined: what was said, and
// what the shares miss to 100.
func NotExamined(p *inspection.Plate) float64 {
	not := shareOf(p.NotExamined)
	return not + max(0, 100-(shareOf(p.MFLScanned)+shareOf(p.HandScanned)+shareOf(p.UTGridded)+not))
}

func (w *work) keep(s step.Step) { w.res.Steps = append(w.res.Steps, s) }

func (w *work) criterionLimit(symbol string, n criteria.Name, op string) *step.Limit {
	in := w.criterion(symbol, n)
	return &step.Limit{Symbol: symbol, Value: in.Value, Known: in.Known, Op: op, From: in.From}
}

// thicknessSteps are what the scan may have missed and what sizing takes off.
func (w *work) thicknessSteps() {
	s := step.Step{
		ID: "thickness.threshold", Title: "what the scan may have missed", Symbol: "t_T", Kind: unit.Thickness,
		Formula: step.Parse("t_nom*(1 - T/100)"), Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyThresholdRule},
	}
	least := -1
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if l.Kind == ThresholdAt && (least < 0 || l.Remaining.V < w.res.Locations[least].Remaining.V) {
			least = i
		}
	}
	switch {
	case least >= 0:
		l := &w.res.Locations[least]
		s.Inputs = l.Step.Inputs
		s.Branch = "least of the plates scanned: " + l.Label
		w.keep(step.New(s))
	case w.number(criteria.MFLThreshold) <= 0:
		w.keep(step.Unknown(s, "switched off by MFL threshold 0 %"))
	default:
		w.keep(step.Unknown(s, "no plate was scanned"))
	}
	w.sizingSteps()
}

func (w *work) sizingSteps() {
	f := w.res.Sizing.All
	text := "regression of UT on MFL over all pairs"
	line := func(symbol, title string, v float64, known bool, k unit.Kind) {
		s := step.Step{
			ID: "sizing.fit", Title: title, Symbol: symbol, Kind: k, Formula: step.Parse("x"),
			Inputs: []step.Input{{Symbol: "x", Title: title, Value: v, Known: known, Kind: k, From: step.Source{Text: text}}},
		}
		if !known {
			s.Why = "fewer than 3 pairs, or all of one loss"
		}
		w.keep(step.New(s))
	}
	line("b0", "intercept", float64(f.Intercept.V), f.Intercept.Known, unit.Share)
	line("b1", "slope", float64(f.Slope.V), f.Slope.Known, unit.Statistic)
	line("s", "residual standard deviation", float64(f.ResidualSD.V), f.ResidualSD.Known, unit.Share)

	s := step.Step{ID: "sizing.allowance", Title: "allowance for an estimate not proved up", Symbol: "a", Kind: unit.Share, Formula: step.Parse("a_o")}
	worst := -1
	for i := range w.res.Locations {
		l := &w.res.Locations[i]
		if l.Counts && l.Basis == ByAllowance && (worst < 0 || l.Remaining.V < w.res.Locations[worst].Remaining.V) {
			worst = i
		}
	}
	plain := w.criterion("a_o", criteria.SizingAllowance)
	plain.Kind = unit.Share
	s.Inputs = []step.Input{plain}
	switch {
	case w.policy() != withAllowance:
		s.Inputs = []step.Input{constant("a_o", "none", 0, unit.Share, "Unproved indications: "+w.set.Get(criteria.UnprovedIndications).Text)}
		s.Branch = "the estimate counts as it is, or not at all"
	case worst < 0:
		s.Branch = "no estimate needs it"
	default:
		l := &w.res.Locations[worst]
		s.Branch = "of the worst estimate, " + l.Label
		if fit := w.fitOf(l.Nominal.V); fit != nil {
			s.Formula = step.Parse("max(a, b0 + b1*x + q*s*sqrt(1 + 1/n + (x - x_m)^2/Sxx) - x)")
			x := constant("x", "MFL loss", float64(l.Loss.V), unit.Share, l.Label)
			for _, in := range l.Step.Inputs {
				if in.Symbol == "Loss" && in.Value == x.Value {
					x.From = in.From
				}
			}
			s.Inputs = append(slices.Clone(w.lineInputs(fit, float64(l.Loss.V))), x)
		}
	}
	w.keep(step.New(s))
}

// requirementSteps are the requirements of shell, zones and projection.
func (w *work) requirementSteps(found *state) {
	w.keep(w.zone.shell)
	w.keep(w.criticalStep(found))
	if w.zone.hasRing {
		w.keep(w.zone.stress)
		w.keep(w.zone.ring)
	}
	p := w.in.Tank.Projection
	s := step.Step{
		ID: "projection.width", Title: "projection of the floor outside the shell", Symbol: "p", Kind: unit.Size, Formula: step.Parse("p_m"),
		Inputs: []step.Input{cell("p_m", "projection outside the shell", p, unit.Size)},
		Clause: api653_5.Clause(api653_5.Projection), Source: api653_5.Document,
		Branch: "its thickness, at least 0.10 in, is not part of the workbook and is not checked",
	}
	if !p.OK() {
		s.Why = "Projection outside the shell is not given"
	}
	s = step.New(s)
	s.Limit = w.criterionLimit("p_min", criteria.ProjectionMinimum, "≥")
	w.keep(s)
}

// criticalStep is t_cz where the margin is least; without anything measured in
// the zone, of the ring's nominal, else the floor's.
func (w *work) criticalStep(found *state) step.Step {
	s := step.Step{
		ID: "critical.required", Title: "required thickness in the critical zone", Symbol: "t_cz", Kind: unit.Thickness,
		Clause: api653_5.Clause(api653_5.CriticalZone), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyCriticalNominal, api653_5.VerifyIsolatedPits},
	}
	nominal := cell("t_nom", "nominal thickness", w.in.Tank.NominalThickness, unit.Thickness)
	if w.zone.hasRing {
		nominal = cell("t_nom", "annular nominal thickness", w.in.Tank.AnnularNominal, unit.Thickness)
	}
	all := w.group(-1, found.rates, found.counted, found.zoned)
	if all.critical.known {
		nominal = w.plates[all.critical.c.Plate].from
		s.Branch = "of the plate with the least margin, at " + all.critical.c.Label
	} else {
		s.Branch = "nothing measured in the zone"
	}
	s.Inputs = []step.Input{
		constant("t_f", "least", float64(api653_5.CriticalZoneFloor), unit.Thickness, "0.10 in"),
		nominal, w.criterion("CA", criteria.BottomCorrosionAllowance),
	}
	if w.zone.shell.Known {
		s.Formula = step.Parse("max(t_f, min((t_nom - CA)/2, t_min/2))")
		s.Inputs = append(s.Inputs, step.From(w.zone.shell))
	} else {
		s.Formula = step.Parse("max(t_f, (t_nom - CA)/2)")
		s.Branch += "; the shell's required thickness is not known, so half the bottom alone decides"
	}
	if !nominal.Known {
		s.Why = "nominal thickness is not known"
	}
	return step.New(s)
}

// requiredStep is t_req: without lining, and with it as used on page one.
func (w *work) requiredStep(id, symbol string, or *step.Input) step.Step {
	t := &w.in.Tank
	s := step.Step{
		ID: id, Title: "required thickness of the floor", Symbol: symbol, Kind: unit.Thickness,
		Clause: api653_5.Clause(api653_5.MinimumTable), Source: api653_5.Document,
		Formula: step.Parse("if(B = 1, t_b, t_m)"),
		Inputs: []step.Input{
			wordCell("B", "release-prevention barrier", t.ReleasePreventionBarrier, w.lining.barrier),
			w.criterion("t_b", criteria.MinimumThicknessBarrier),
			w.criterion("t_m", criteria.MinimumThickness),
		},
		Branch: "a leak is not detected and contained",
	}
	if w.lining.barrier {
		s.Branch = "a release-prevention barrier detects and contains a leak"
	}
	if or == nil || !w.lining.thick || !w.lining.credited {
		return step.New(s)
	}
	s.Formula = step.Parse("if(L >= Or, if(B = 1, min(t_b, t_l), t_l), if(B = 1, t_b, t_m))")
	s.Inputs = append(s.Inputs, w.criterion("t_l", criteria.MinimumThicknessReinforcedLining), step.From(w.lining.step), *or)
	s.Branch = "reinforced lining that does not live through the interval: no credit"
	if w.lining.covers(unit.Some(unit.Years(or.Value))) {
		s.Branch = "reinforced lining that lives through the interval"
	}
	return step.New(s)
}
