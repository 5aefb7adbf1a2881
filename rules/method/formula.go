// Package method is the registry of the formulas of the evaluation: what each
// means, why it is there, where it stops, where it comes from, and an example
// calculated by the program itself.
//
// No formula is typed here. A formula is the one that the step carries which
// the evaluation of an invented tank produced; those of functions come from
// the comments they stand under.
package method

import (
	"slices"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/step"
)

// Formula is what is told of one step of the calculation beyond the step
// itself.
type Formula struct {
	ID      string // of the step, without state and name: mrt, settlement.edge
	Symbol  string // only where steps of one id differ by it
	Section int    // of the method
	Means   string
	Why     string
	Outside string // the range, and what happens outside it
	Mark    criteria.Mark
	Source  string   // beyond the clause of the step
	See     []string // functions that hold the formula when the step takes their value
	Example Example
}

// Example is a step before and after one change.
type Example struct {
	Scene  string
	Step   string // the id as calculated, where it has a state or a name
	With   string // the change in words
	Change func(*tank)
}

// Name is what the formula is called: its step, and the symbol where steps
// share one.
func (f *Formula) Name() string {
	if f.Symbol != "" {
		return f.ID + "." + f.Symbol
	}
	return f.ID
}

// Sections of the method, by number.
var Sections = []struct {
	Number int
	Title  string
}{
	{1, "Units, dates and rounding"},
	{2, "Geometry and coverage"},
	{3, "Remaining thickness of a location"},
	{4, "Corrosion rates"},
	{5, "Minimum remaining thickness and interval"},
	{6, "Critical zone, annular ring, shell"},
	{7, "Repair threshold against interval"},
	{8, "Sizing: MFL against UT"},
	{9, "Extreme value for area not examined"},
	{10, "Repairs"},
	{11, "Cutting list"},
	{12, "Settlement"},
	{13, "Comparison of two inspections"},
	{14, "Statistics"},
}

// All is every formula, by section.
func All() []Formula {
	all := slices.Concat(floorFormulas, thicknessFormulas, rateFormulas, intervalFormulas, zoneFormulas, estimateFormulas, repairFormulas, settlementFormulas)
	slices.SortStableFunc(all, func(a, b Formula) int { return a.Section - b.Section })
	return all
}

// Find is the formula of a name or of a step's full id, nil without one.
func Find(name string) *Formula {
	id := idOf(name)
	for _, f := range All() {
		if strings.EqualFold(f.Name(), name) || strings.EqualFold(f.Name(), id) {
			return &f
		}
	}
	return nil
}

// Of is the formula of a step as the evaluation made it, nil when the registry
// has none.
func Of(s *step.Step) *Formula {
	id := idOf(s.ID)
	for _, f := range All() {
		if f.ID == id && (f.Symbol == "" || f.Symbol == s.Symbol) {
			return &f
		}
	}
	return nil
}

// named are the steps whose id ends in the name of a plate, a point or a
// location.
var named = []string{
	"location.sound", "location.threshold", "location.patch",
	"settlement.edge_limit", "settlement.bulge_limit", "settlement.edge", "settlement.bulge",
}

// idOf is a step's id without what only tells one of a kind from the next.
func idOf(id string) string {
	for _, state := range []string{".as_found", ".as_planned", ".as_completed"} {
		id = strings.TrimSuffix(id, state)
	}
	for _, n := range named {
		if strings.HasPrefix(id, n+".") {
			return n
		}
	}
	if strings.HasPrefix(id, "location.") && id != "location.extreme" {
		return "location"
	}
	return id
}
