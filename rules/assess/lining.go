package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// lining is what a lining, cathodic protection and a barrier are credited
// with.
type lining struct {
	credited   bool        // a lining with date and life, still alive: L > 0
	left       unit.Years  // L
	step       step.Step   // lining.left
	thin       bool        // thin film
	reinforced bool        // reinforced
	thick      bool        // reinforced and over 1.27 mm: has a required thickness of its own
	cathodic   bool        // recorded effective, with evidence
	barrier    bool        // detects and contains a leak
	plain      unit.Length // t_req without lining
	lined      unit.Length // t_req under the lining, else plain
}

// readLining judges the credits. A lining without a date or a life, a
// reinforced one under another name and protection without evidence have
// none.
func (w *work) readLining() {
	t := &w.in.Tank
	l := &w.lining
	l.barrier = inspection.Yes(t.ReleasePreventionBarrier)
	l.cathodic = inspection.Is(t.CathodicProtection, "recorded effective") && t.CathodicProtectionEvidence.OK()
	l.plain = w.set.Length(criteria.MinimumThickness)
	if l.barrier {
		l.plain = w.set.Length(criteria.MinimumThicknessBarrier)
	}
	l.lined = l.plain
	thin, reinforced := inspection.Is(t.Lining, "thin film"), inspection.Is(t.Lining, "reinforced")
	if !(thin || reinforced) || !t.LiningInstalled.OK() || !t.LiningExpectedLife.OK() || !t.InspectionEnd.OK() {
		return
	}
	l.step = step.New(step.Step{
		ID: "lining.left", Title: "life left in the lining", Symbol: "L", Kind: unit.Time,
		Formula: step.Parse("L_e - (E - L_i)/365.25"),
		Inputs: []step.Input{
			cell("L_e", "lining expected life", t.LiningExpectedLife, unit.Time),
			dateCell("E", "inspection end", t.InspectionEnd),
			dateCell("L_i", "lining installed", t.LiningInstalled),
		},
		Clause: api653_5.Clause(api653_5.RemainingThickness), Source: api653_5.Document, Verify: []string{api653_5.VerifyLiningLife},
	})
	l.left = unit.Years(l.step.Value)
	if !(l.left > 1e-9) {
		return
	}
	l.credited, l.thin, l.reinforced = true, thin, reinforced
	if l.thick = reinforced && inspection.Yes(t.ReinforcedLining); l.thick {
		l.lined = w.set.Length(criteria.MinimumThicknessReinforcedLining)
		if l.barrier {
			l.lined = min(l.lined, l.plain)
		}
	}
}

// covers says whether the lining lives through an interval.
func (l *lining) covers(or unit.Maybe[unit.Years]) bool {
	return l.credited && or.Known && step.AtLeast(unit.Time, float64(l.left), float64(or.V))
}

// required is t_req over an interval.
func (l *lining) required(or unit.Maybe[unit.Years]) unit.Length {
	if l.covers(or) {
		return l.lined
	}
	return l.plain
}
