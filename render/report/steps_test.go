package report

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/workbook"
	"platebook/workbook/demo"
)

// Every step of the calculation stands in the report: in full or as a row, and
// in the appendix where its own section is left out.
func TestEveryStepIsShown(t *testing.T) {
	dir := t.TempDir()
	if _, err := demo.Write(context.Background(), dir); err != nil {
		t.Fatal(err)
	}
	for _, without := range []string{"", "MFL against UT", "Repair threshold and interval", "Statistics"} {
		in, hits, err := workbook.Read(context.Background(), dir+"/example-si.xlsx", workbook.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if without != "" {
			in.Sections = append(in.Sections, inspection.Section{
				Name:    inspection.Text{State: inspection.Given, Value: without, Text: without},
				Include: inspection.Word{State: inspection.Given, Value: "no", Text: "no"},
			})
		}
		a := rules.Assess(in, hits, nil)
		r := Build(a, Options{})
		var b strings.Builder
		full := map[string]int{}
		named := false
		for _, sec := range r.Sections {
			if sec.Name == without {
				t.Errorf("section “%s” was left out and stands in the report", without)
			}
			for _, block := range sec.Blocks {
				switch block := block.(type) {
				case Steps:
					for _, s := range block.Steps {
						full[s.ID+"|"+s.Symbol]++
					}
				case Table:
					for _, row := range block.Rows {
						fmt.Fprintln(&b, strings.Join(row.Cells, "|"))
					}
				case Paragraph:
					named = named || sec.Name == "Scope, standards, criteria" && without != "" && strings.Contains(block.Text, "“"+without+"”")
				}
			}
		}
		if without != "" && !named {
			t.Errorf("the scope does not say that “%s” is left out", without)
		}
		rows := b.String()
		for _, s := range a.Result.Steps {
			as := capital(s.Title) + "|" + s.Symbol + "|"
			if full[s.ID+"|"+s.Symbol] == 0 && !strings.Contains(rows, as) && !strings.HasPrefix(s.ID, "coverage.") {
				t.Errorf("without “%s”: step %s is not shown", without, s.ID)
			}
			if n := full[s.ID+"|"+s.Symbol]; n > 1 {
				t.Errorf("without “%s”: step %s is shown %d times", without, s.ID, n)
			}
		}
	}
}
