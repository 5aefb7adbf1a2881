package pdf

import (
	"slices"
	"testing"

	"platebook/render/report"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// A step says its value once when it only passes one on, and carries the id by
// which other steps and the sheet Calculation name it.
func TestAPassedValueIsSaidOnce(t *testing.T) {
	passed := step.New(step.Step{
		ID: "projection.width", Title: "projection outside the shell", Symbol: "p", Formula: step.Parse("p_m"), Kind: unit.Settlement, Branch: "as typed",
		Inputs: []step.Input{{Symbol: "p_m", Title: "as measured", Value: 51, Known: true, Kind: unit.Settlement, From: step.Source{Column: "plate.net_area"}}},
	})
	doubled := passed
	doubled.ID, doubled.Formula = "projection.doubled", step.Parse("2*p_m")
	doubled.Inputs = slices.Clone(passed.Inputs)
	doubled.Inputs[0].From = step.Source{Step: passed.ID}
	doubled = step.New(doubled)
	r := &report.Report{Title: "Steps", Strip: true, Sections: []report.Section{{Number: 1, Name: "One", Blocks: []report.Block{report.Steps{Steps: []step.Step{passed, doubled}}}}}}
	d, _ := layOutForTest(t, r)
	count := map[string]int{}
	for _, s := range d.sheets {
		for _, run := range s.runs {
			count[run.text]++
		}
	}
	for text, want := range map[string]int{
		"=": 1 + 3, "projection.width": 1, "projection.doubled": 1, "step projection.width": 1, "sheet Plate results": 1, "Case: as typed": 2,
	} {
		if count[text] != want {
			t.Errorf("%q is printed %d times, not %d: %v", text, count[text], want, count)
		}
	}
}
