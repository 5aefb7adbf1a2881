package report_test

import (
	"fmt"
	"strings"
	"testing"

	"platebook/render/report"
	"platebook/rules/assess"
)

// The preliminary list names its workbook, since it has no appendix, and each
// place that needs a repair and has none.
func TestThePreliminaryListNamesWhatHasNoRepair(t *testing.T) {
	a := judged(t, "east quay.xlsx", "delete sheet Photos\n")
	r := report.BuildPreliminary(a, report.Options{})
	if !strings.Contains(r.Cover.Note, "the workbook east quay.xlsx.") || strings.Contains(r.Cover.Note, "appendix") {
		t.Errorf("the note is %q", r.Cover.Note)
	}
	var open []string
	for _, l := range a.Result.Locations {
		if l.Repair == "" && (l.Verdict == assess.Repair || l.Verdict == assess.RepairFirst) {
			open = append(open, l.Label)
		}
	}
	var missing string
	for _, b := range section(r, "What is missing") {
		if l, ok := b.(report.List); ok {
			missing = strings.Join(l.Items, "\n")
		}
	}
	if !strings.Contains(missing, fmt.Sprintf("a repair for %d places: %s\n", len(open), strings.Join(open, "; "))) || len(open) < 2 {
		t.Errorf("what is missing: %s", missing)
	}
}
