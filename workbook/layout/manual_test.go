package layout

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/workbook.md anew")

const manualPath = "../../docs/workbook.md"

func TestManualIsCurrent(t *testing.T) {
	want := Manual()
	if *update {
		if err := os.WriteFile(manualPath, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(manualPath)
	if err != nil {
		t.Fatal(err)
	}
	if strings.ReplaceAll(string(got), "\r\n", "\n") != want {
		t.Error("docs/workbook.md is not what the layout says; run: go test ./workbook/layout -update")
	}
}

func TestManualNamesEveryHeader(t *testing.T) {
	manual := Manual()
	for _, s := range Sheets {
		for _, c := range s.Columns {
			name := c.Header
			if c.Required {
				name = "**" + name + "**"
			}
			if !strings.Contains(manual, "\n| "+name+" | ") {
				t.Errorf("%s.%s is not in the manual", s.Name, c.Header)
			}
		}
	}
}
