package rules

import (
	"fmt"

	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

// repairFindings are what the repairs themselves give rise to: planned ones
// that fail a check, and proposals that need a look before steel is ordered.
func repairFindings(in *Inspection, plan *floor.Plan, r *repair.Result) []finding.Hit {
	var hits []finding.Hit
	for i := range r.Items {
		it := &r.Items[i]
		for _, c := range it.Checks {
			if it.Row >= 0 && c.Known && !c.OK {
				hits = append(hits, check.RepairFails(in, it.Row, c.ID, c.Text(in.Units)))
			}
		}
	}
	for _, s := range r.Cutting.Separate {
		if it := &r.Items[s.Item]; it.Kind == repair.Patch {
			var at []finding.Ref
			if it.Row >= 0 {
				row := &in.Repairs[it.Row]
				at = []finding.Ref{row.Length.Ref, row.Width.Ref}
			}
			hits = append(hits, check.ToNote("cutting.sheets:"+it.Label, it.Label+" "+s.Why, at...))
		}
	}
	for _, g := range r.Cutting.Groups {
		if g.Layout == nil {
			hits = append(hits, check.ToNote("cutting.sheets", g.Why, in.Criteria.Get("Stock sheets").Ref))
			break
		}
	}
	if !r.Proposed {
		return hits
	}
	if f := plan.FloorArea; f.Known && f.V > 0 && float64(r.Area) >= 0.1*float64(f.V) {
		hits = append(hits, check.ToNote("repair.area", fmt.Sprintf("proposed repairs of %s on %s of floor",
			unit.AreaKind.TextUnit(in.Units, float64(r.Area), 0), unit.AreaKind.TextUnit(in.Units, float64(f.V), 0))))
	}
	if n := len(r.Unplaced); n > 0 {
		who := "1 location that needs a repair has"
		if n > 1 {
			who = fmt.Sprintf("%d locations that need a repair have", n)
		}
		hits = append(hits, check.NotJudged("repair.place", who+" no place to put one"))
	}
	for i := range r.Items {
		if it := &r.Items[i]; it.Unsettled() {
			hits = append(hits, check.NotJudged("repair."+it.Label, it.Label+": no patch keeps clear of the welds around it"))
		}
	}
	return hits
}
