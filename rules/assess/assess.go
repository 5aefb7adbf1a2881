package assess

import (
	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// Assess evaluates the floor in every state.
func Assess(in *inspection.Inspection, plan *floor.Plan) *Result {
	return &Result{AsFound: StateResult{State: AsFound}, AsPlanned: StateResult{State: AsPlanned}, Plates: make([]PlateResult, len(in.Plates))}
}
