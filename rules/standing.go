package rules

import (
	"fmt"
	"strings"
)

// Standing is what every page says of the report, and whether it is a
// caution. A final report is withheld by an error or an unanswered warning; a
// preliminary or draft one counts what is missing.
func (a *Assessment) Standing() (text string, caution bool) {
	var parts []string
	add := func(n int, one, many string) {
		switch {
		case n == 1:
			parts = append(parts, "1 "+one)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", n, many))
		}
	}
	add(a.Counts.Errors, "error", "errors")
	add(a.Counts.Warnings, "unanswered warning", "unanswered warnings")
	status := a.Inspection.Tank.ReportStatus.Or("")
	if status == "final" {
		if len(parts) == 0 {
			return "FINAL", false
		}
		return "FINAL WITHHELD: " + strings.Join(parts, ", "), true
	}
	add(len(a.LeftOut), "row left out", "rows left out")
	word := strings.ToUpper(status)
	if status == "" {
		word = "STATUS NOT GIVEN"
	}
	if len(parts) == 0 {
		parts = []string{"nothing open"}
	}
	return word + ": " + strings.Join(parts, ", "), true
}
