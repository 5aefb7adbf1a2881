package repair

import (
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

var (
	total       = step.Parse("sum(x)")
	yieldOf     = step.Parse("100*sum(a)/sum(A)")
	taken       = step.Parse("x")
	neededOf    = step.Parse("t_req + Or*(StPr + UPr)")
	boundsTotal = "over all thicknesses"
)

// Columns of the repairs that steps run over.
const (
	WeldColumn = "repair.weld"
	MassColumn = "repair.mass"
)

// steps writes the numbers of repairs, cutting list and threshold down.
func (r *Result) steps(res *assess.Result) {
	keep := func(s step.Step) { res.Steps = append(res.Steps, step.New(s)) }
	keep(r.neededStep(res))
	if len(r.Items) == 0 {
		return
	}
	list := func(title, column string, k unit.Kind, of func(*Item) (float64, bool)) step.Input {
		in := step.Input{Symbol: "x", Title: title, Kind: k, Known: true, Values: []float64{}, From: step.Source{Column: column}}
		for i := range r.Items {
			if v, ok := of(&r.Items[i]); ok {
				in.Values = append(in.Values, v)
			}
		}
		return in
	}
	keep(step.Step{
		ID: "repair.area", Title: "area of repairs, each place once", Symbol: "A", Kind: unit.AreaKind, Formula: taken,
		Inputs: []step.Input{step.Constant("x", float64(r.Area), unit.AreaKind, "union of the repairs on the plan")},
	})
	weld := list("weld of each repair", WeldColumn, unit.Height, func(i *Item) (float64, bool) { return float64(i.Weld), i.Weld > 0 })
	keep(step.Step{ID: "repair.weld", Title: "length of patch welds", Symbol: "l_w", Kind: unit.Height, Formula: total, Inputs: []step.Input{weld}, Branch: "the side at the shell of a tombstone apart"})
	keep(step.Step{ID: "repair.vacuum_box", Title: "length to be tested by vacuum box", Symbol: "l_v", Kind: unit.Height, Formula: total, Inputs: []step.Input{weld}, Branch: "off the shell joint, which is tested by magnetic particles or penetrant"})
	mass := step.Step{
		ID: "repair.mass", Title: "mass of the patches' blanks", Symbol: "m", Kind: unit.MassKind, Formula: total,
		Inputs: []step.Input{list("mass of each blank", MassColumn, unit.MassKind, func(i *Item) (float64, bool) { return float64(i.Mass.V), i.Kind == Patch && i.Mass.Known })},
	}
	if !r.Mass.Known {
		mass.Why = "the thickness or size of a patch is not known"
	}
	keep(mass)
	if len(r.Cutting.Groups) == 0 {
		return
	}
	var area, dual, sheets, used, stock []float64
	for _, g := range r.Cutting.Groups {
		if g.Layout == nil {
			continue
		}
		area, dual, sheets = append(area, float64(g.Layout.BoundArea)), append(dual, float64(g.Layout.BoundDual)), append(sheets, float64(len(g.Layout.Sheets)))
		for _, s := range g.Layout.Sheets {
			stock = append(stock, s.Size.Length*s.Size.Width/1e6)
			a := 0.0
			for _, p := range s.Pieces {
				a += p.Length * p.Width / 1e6
			}
			used = append(used, a)
		}
	}
	count := func(id, title, symbol string, values []float64, limit string) {
		s := step.Step{
			ID: id, Title: title, Symbol: symbol, Kind: unit.Number, Formula: total, Branch: boundsTotal,
			Inputs: []step.Input{{Symbol: "x", Title: "sheets of each thickness", Values: values, Known: true, Kind: unit.Number, From: step.Source{Text: "Cutting list"}}},
		}
		if len(values) == 0 {
			s.Why = "no stock sheet can be used"
		}
		s = step.New(s)
		if limit != "" && s.Known {
			if b := res.Steps.Find(limit); b != nil && b.Known {
				s.Limit = &step.Limit{Symbol: b.Symbol, Value: b.Value, Known: true, Op: "≥", From: step.Source{Step: limit}}
			}
		}
		res.Steps = append(res.Steps, s)
	}
	count("cutting.bound_area", "sheets needed at least, by area", "n_A", area, "")
	count("cutting.bound_dual", "sheets needed at least, by pieces that exclude each other", "n_D", dual, "")
	count("cutting.sheets", "stock sheets", "n", sheets, "cutting.bound_dual")
	if len(stock) > 0 {
		keep(step.Step{
			ID: "cutting.yield", Title: "share of the sheets that becomes pieces", Symbol: "η", Kind: unit.Share, Formula: yieldOf,
			Inputs: []step.Input{
				{Symbol: "a", Title: "area of the pieces on each sheet", Values: used, Known: true, Kind: unit.AreaKind, From: step.Source{Text: "Cutting list"}},
				{Symbol: "A", Title: "area of each sheet", Values: stock, Known: true, Kind: unit.AreaKind, From: step.Source{Text: "Cutting list"}},
			},
		})
	}
}

// neededStep is the repair threshold that the target interval needs.
//
//	T = t_req + Or·(StPr + UPr)
func (r *Result) neededStep(res *assess.Result) step.Step {
	s := step.Step{
		ID: "threshold.needed", Title: "repair threshold that the target interval needs", Symbol: "T", Kind: unit.Thickness, Formula: neededOf,
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document, Branch: "at rates as found, critical zone and annular ring apart",
	}
	or := step.Input{Symbol: "Or", Title: "desired interval", Value: float64(r.Target), Known: true, Kind: unit.Time}
	if d := r.shop.in.Tank.DesiredInterval; d.OK() {
		or.From = step.Source{Ref: d.Ref, Plain: d.Plain, Scale: d.Scale}
	} else {
		v := r.shop.set.Get(criteria.PlanningInterval)
		or.Title = string(criteria.PlanningInterval)
		or.From = step.Source{Text: "default"}
		if v.Given && v.Ref.IsCell() {
			or.From = step.Source{Ref: v.Ref, Plain: true, Scale: 1}
		}
	}
	input := func(id, symbol, title string, k unit.Kind, v unit.Maybe[unit.Ratio]) step.Input {
		in := step.Input{Symbol: symbol, Title: title, Value: float64(v.V), Known: v.Known, Kind: k, From: step.Source{Text: title}}
		if p := res.Steps.Find(id); p != nil && p.Known && v.Known && p.Value == in.Value {
			in.From = step.Source{Step: id}
		}
		return in
	}
	req, upr, stpr := res.Over(r.Target)
	required := unit.Maybe[unit.Ratio]{V: unit.Ratio(req), Known: true}
	soil := unit.Maybe[unit.Ratio]{V: unit.Ratio(upr.V), Known: upr.Known}
	product := unit.Maybe[unit.Ratio]{V: unit.Ratio(stpr.V), Known: stpr.Known}
	s.Inputs = []step.Input{
		input("required.general", "t_req", "required thickness", unit.Thickness, required), or,
		input("rate.product.as_found", "StPr", "product-side rate over the target", unit.RateKind, product),
		input("rate.soil.as_found", "UPr", "soil-side rate as found", unit.RateKind, soil),
	}
	return s
}
