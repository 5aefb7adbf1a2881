package rules

import (
	"slices"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/step"
)

// Verify lists what the results rest on that comes from memory and wants a look
// into a licensed copy of the standard, each once: from the steps, from the
// checks of repairs, and from criteria whose default was used.
func (a *Assessment) Verify() []string {
	var list []string
	add := func(text string) {
		if text != "" && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	if a.Result != nil {
		for i := range a.Result.Steps {
			for _, v := range a.Result.Steps[i].Verify {
				add(v)
			}
		}
		for i := range a.Result.Locations {
			if l := &a.Result.Locations[i]; l.Counts && l.Kind != assess.ThresholdAt {
				for _, v := range l.Step.Verify {
					add(v)
				}
			}
		}
	}
	if a.Repairs != nil {
		for i := range a.Repairs.Items {
			for _, c := range a.Repairs.Items[i].Checks {
				if c.Verify && c.Known {
					add(c.Clause + ": repair check " + c.ID)
				}
			}
		}
	}
	for _, name := range a.remembered() {
		add("default of " + string(name))
	}
	return list
}

// remembered are the criteria from memory whose default the results use.
func (a *Assessment) remembered() []criteria.Name {
	if a.Inspection == nil || a.Inspection.Criteria == nil || a.Result == nil {
		return nil
	}
	uses := map[criteria.Name]bool{
		criteria.SettlementCosineR2: a.Settlement != nil && a.Settlement.Fitted,
		criteria.UTTolerance:        a.Comparison != nil,
		criteria.IsolatedPitsCriticalZoneAndRing: slices.ContainsFunc(a.Result.Steps, func(s step.Step) bool {
			return s.ID == "critical.projected.as_found" || s.ID == "annular.projected.as_found"
		}),
	}
	var out []criteria.Name
	for _, d := range criteria.Table {
		if d.Mark == criteria.Memory && uses[d.Name] && !a.Inspection.Criteria.Get(d.Name).Changed {
			out = append(out, d.Name)
		}
	}
	return out
}
