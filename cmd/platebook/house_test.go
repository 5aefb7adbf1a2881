package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

type listed struct {
	ImportPath string
	Imports    []string
	Deps       []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-deps=false", "-json=ImportPath,Imports,Deps", "platebook/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		t.Fatalf("only %d packages listed", len(all))
	}
	return all
}

func under(path, root string) bool { return path == root || strings.HasPrefix(path, root+"/") }

// The arrows of the house: cmd → workbook, render → rules, never back, and
// the leaves know only each other.
func TestImportsRunOneWay(t *testing.T) {
	leaves := []string{"platebook/rules/finding", "platebook/rules/unit", "platebook/rules/step", "platebook/rules/inspection", "platebook/rules/criteria", "platebook/rules/spelling", "platebook/rules/filename"}
	for _, p := range packages(t) {
		for _, d := range p.Deps {
			if !under(d, "platebook") {
				continue
			}
			bad := false
			switch {
			case slices.Contains(leaves, p.ImportPath):
				bad = !slices.Contains(leaves, d)
			case under(p.ImportPath, "platebook/rules"):
				bad = !under(d, "platebook/rules")
			case under(p.ImportPath, "platebook/workbook"):
				bad = !under(d, "platebook/rules") && !under(d, "platebook/workbook") && !under(d, "platebook/templates")
			case under(p.ImportPath, "platebook/render"):
				bad = !under(d, "platebook/rules") && !under(d, "platebook/render") && !under(d, "platebook/templates")
			case under(p.ImportPath, "platebook/templates"):
				bad = true
			}
			if bad {
				t.Errorf("%s depends on %s", p.ImportPath, d)
			}
		}
		if under(p.ImportPath, "platebook/workbook/cell") {
			for _, d := range p.Imports {
				if under(d, "platebook") && d != "platebook/rules/unit" && d != "platebook/rules/finding" && d != "platebook/rules/spelling" {
					t.Errorf("%s imports %s: it sees no file and no layout", p.ImportPath, d)
				}
			}
		}
	}
}

// Each foreign format has one door.
func TestOnlyImporters(t *testing.T) {
	doors := map[string]string{
		"github.com/xuri/excelize/v2":      "platebook/workbook/xlsx",
		"github.com/johnfercher/maroto/v2": "platebook/render/pdf",
		"github.com/phpdave11/gofpdf":      "platebook/render/pdf",
		"codeberg.org/go-pdf/fpdf":         "platebook/render/pdf",
		"github.com/urfave/cli/v2":         "platebook/cmd/platebook",
	}
	for _, p := range packages(t) {
		for _, d := range p.Imports {
			for foreign, door := range doors {
				if under(d, foreign) && p.ImportPath != door {
					t.Errorf("%s imports %s, which only %s may", p.ImportPath, d, door)
				}
			}
			for _, paper := range []string{"encoding/csv", "archive/zip", "image", "os", "net", "time"} {
				if under(p.ImportPath, "platebook/rules") && d == paper && !(paper == "time" && p.ImportPath == "platebook/rules/unit") {
					t.Errorf("%s imports %s: the rules know neither files nor clock", p.ImportPath, d)
				}
			}
		}
	}
}
