package check

import (
	"fmt"
	"strings"
)

// familyNames is the families of rules in the order of All.
var familyNames = []struct{ letter, name, about string }{
	{"F", "File", "the file as a whole"},
	{"S", "Structure", "sheets, columns and rows as they stand"},
	{"C", "Cells", "single values"},
	{"R", "Rows", "rows, and rows and sheets against each other"},
	{"T", "Whole floor", "the floor, the series of values, and two inspections"},
	{"K", "Calculation and review", "what the calculation leaves open, and what a review finds"},
	{"Q", "Quality record", "people, instruments, dates, criteria, signatures, answers"},
}

// Manual is the page of all rules, in Markdown.
func Manual() string {
	var b strings.Builder
	b.WriteString(`# Rules

Every rule that judges a workbook. This page is made from the program's own registry; ` + "`platebook explain CODE`" + ` prints the same text.

A finding has a severity. An *error* withholds a final report, never a preliminary one. A *warning* needs an answer with a
reason, a name and a date before a report is final. A *note* is information. Some rules are an error in a final report and
a note before; some make a file unusable.

One cause gives one finding: a value with an error is unknown from then on, and rules that need it are silent. Equal findings
in successive rows are one entry. A value exactly at a limit passes.
`)
	for _, f := range familyNames {
		fmt.Fprintf(&b, "\n## %s · %s\n\nAbout %s.\n", f.letter, f.name, f.about)
		for _, r := range All() {
			if !strings.HasPrefix(r.Code, f.letter) {
				continue
			}
			fmt.Fprintf(&b, "\n### %s %s\n\n", r.Code, r.Title)
			fmt.Fprintf(&b, "*%s, per %s.*\n\n", upper(r.Class.String()), r.Per)
			fmt.Fprintf(&b, "- **Wrong when** %s.\n", r.What)
			fmt.Fprintf(&b, "- **Why:** %s.\n", r.Why)
			fmt.Fprintf(&b, "- **Before:** %s.\n", r.Before)
			fmt.Fprintf(&b, "- **After:** %s.\n", r.After)
			if r.Do != "" {
				fmt.Fprintf(&b, "- **Do:** %s\n", r.Do)
			}
			fmt.Fprintf(&b, "- **Source:** %s. Since rule set %s.\n", r.Source, r.Since)
		}
	}
	return b.String()
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
