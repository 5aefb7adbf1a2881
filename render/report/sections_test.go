package report_test

import (
	"fmt"
	"strings"
	"testing"

	"platebook/render/report"
	"platebook/workbook/layout"
)

// Every row of the Report sheet is obeyed: a section is left out and that is
// told, stays in a final report where the standard asks for it, and begins
// with the firm's own text.
func TestTheReportSheetIsObeyed(t *testing.T) {
	for i, name := range layout.Sections {
		s := report.SectionNames[i]
		if s.Name != name {
			t.Fatalf("section %d is “%s” in the report and “%s” in the workbook", i+1, s.Name, name)
		}
		for _, final := range []bool{false, true} {
			edits := "delete sheet Photos\n"
			if final {
				edits += "Tank(Report status).Value = final\n"
			}
			out := report.Build(judged(t, "out.xlsx", edits+fmt.Sprintf("append Report | %s | no |\n", name)), report.Options{})
			if keep := final && s.Required; hasSection(out, name) && !keep {
				t.Errorf("final %v: “%s” is to be left out and is printed", final, name)
			} else if !hasSection(out, name) && keep {
				t.Errorf("final %v: “%s” is asked for and left out", final, name)
			}
			if !strings.Contains(told(out), "“"+name+"”") {
				t.Errorf("final %v: the report does not tell that “%s” is left out or stays", final, name)
			}
		}
		own := report.Build(judged(t, "own.xlsx", fmt.Sprintf("delete sheet Photos\nappend Report | %s | yes | The firm's own words.\n", name)), report.Options{})
		said := own.Cover.Note
		if blocks := section(own, name); len(blocks) > 0 {
			said = told(&report.Report{Sections: []report.Section{{Blocks: blocks[:1]}}})
		}
		if !strings.HasPrefix(said, "The firm's own words.") {
			t.Errorf("“%s” begins with %q", name, said)
		}
	}
}

func hasSection(r *report.Report, name string) bool {
	if name == "Cover" {
		return !r.NoCover
	}
	return section(r, name) != nil
}

// told is the text of a report's paragraphs.
func told(r *report.Report) string {
	var all []string
	for _, s := range r.Sections {
		for _, b := range s.Blocks {
			if p, ok := b.(report.Paragraph); ok {
				all = append(all, p.Text)
			}
		}
	}
	return strings.Join(all, "\n")
}
