package workbook

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// piece is one piece of a formula that the program writes: a sheet, a cell, a
// function, a number, a verdict, a sign. Whatever else stands in a formula
// came from somewhere else.
var piece = regexp.MustCompile(`^(?:('(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!|\$?[A-Z]{1,3}\$?[0-9]{1,7}|(?:ABS|AND|AVERAGE|CEILING|CORREL|COS|COUNT|COUNTA|COUNTIF|COUNTIFS|DEVSQ|EXACT|EXP|FLOOR|FREQUENCY|IF|INT|INTERCEPT|LARGE|LN|MAX|MEDIAN|MIN|NOT|OR|PERCENTILE|PI|QUARTILE|REPT|ROUND|ROUNDDOWN|ROUNDUP|RSQ|SIN|SLOPE|SMALL|SQRT|STDEV|SUM|SUMIF|SUMIFS|SUMPRODUCT|SUMSQ|TINV|VAR)\(|[0-9]+\.?[0-9]*(?:E[-+]?[0-9]+)?|"(?:[^"]|"")*"|<>|[-+*/^<>=,:(){}&])`)

// foreign is the part of a formula that the program does not write, "" when
// there is none.
func foreign(formula string, sheets []string) string {
	for formula != "" {
		m := piece.FindStringSubmatch(formula)
		if m == nil {
			return formula
		}
		if s := m[1]; s != "" {
			if !slices.ContainsFunc(sheets, func(name string) bool { return finding.QuoteSheet(name) == s }) {
				return s
			}
		}
		formula = formula[len(m[0]):]
	}
	return ""
}

// ownFormulas fails when a formula in a result sheet is none of the program's.
func ownFormulas(t *testing.T, b *xlsx.Book) {
	t.Helper()
	var names []string
	for _, s := range b.Sheets {
		names = append(names, s.Name)
	}
	results := resultSheets(b)
	if len(results) == 0 {
		t.Fatal("no result sheets")
	}
	for _, name := range results {
		g, err := b.Sheet(name).Read()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range g.Rows {
			for _, c := range row.Cells {
				if c.NoStored {
					t.Fatalf("%s!%s%d: the formula %q without a value", name, finding.ColumnName(c.Col), row.Number, c.Formula)
				}
				if bad := foreign(c.Formula, names); bad != "" {
					t.Fatalf("%s!%s%d: the formula %q holds %q", name, finding.ColumnName(c.Col), row.Number, c.Formula, bad)
				}
			}
		}
	}
}

// tryFile writes a sketch as a file, unless no file can hold it.
func tryFile(tabs []tab) (data []byte, err error) {
	seen := map[string]bool{}
	for _, tb := range tabs {
		if seen[strings.ToLower(tb.sheet.Name)] {
			return nil, fmt.Errorf("two sheets %s", tb.sheet.Name)
		}
		seen[strings.ToLower(tb.sheet.Name)] = true
	}
	if len(tabs) == 0 {
		return nil, fmt.Errorf("no sheet")
	}
	d := draftOf(tabs)
	var b bytes.Buffer
	err = d.Write(&b)
	return b.Bytes(), err
}
