package workbook

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// dialect is how a spreadsheet program somewhere saves a sheet as a list.
type dialect struct {
	name         string
	comma        rune
	decimalComma bool
	encode       func(string) []byte
}

var dialects = []dialect{
	{"comma", ',', false, nil},
	{"comma, decimal comma in quotes", ',', true, nil},
	{"semicolon, decimal comma, mark", ';', true, func(s string) []byte { return []byte("\ufeff" + s) }},
	{"tab, UTF-16", '\t', true, func(s string) []byte { return sixteen(s, false, true) }},
	{"semicolon, UTF-16 high byte first", ';', false, func(s string) []byte { return sixteen(s, true, true) }},
	{"bar, UTF-16 without a mark", '|', false, func(s string) []byte { return sixteen(s, false, false) }},
	{"semicolon, Windows-1252, line ends of Windows", ';', true, windows1252},
}

func sixteen(s string, highFirst, mark bool) []byte {
	if mark {
		s = "\ufeff" + s
	}
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		low, high := byte(u), byte(u>>8)
		if highFirst {
			low, high = high, low
		}
		out = append(out, low, high)
	}
	return out
}

func windows1252(s string) []byte {
	s = strings.NewReplacer("\r\n", "\n", "“", "\x93", "”", "\x94", "é", "\xe9", "µ", "\xb5", "ø", "\xf8").Replace(s)
	return []byte(strings.ReplaceAll(s, "\n", "\r\n"))
}

// oddText is free text with all that divides, quotes and ends in lists.
const oddText = "He said “no”, then \"yes\"; left | right\tø\nsecond line é"

// listOf is a sheet as a list: what its cells hold, and numbers with all
// their digits.
func listOf(t *testing.T, b *Book, sheet string, d dialect) []byte {
	t.Helper()
	place, ok := placeOf(b.Inspection, sheet)
	if !ok {
		t.Fatalf("no sheet %s", sheet)
	}
	g, err := b.File.Sheet(place.Name).Read()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Comma = d.comma
	last := 0
	for i := range g.Rows {
		last = max(last, lastCol(&g.Rows[i]))
	}
	for i := range g.Rows {
		if g.Rows[i].Number < place.Header {
			continue
		}
		row := make([]string, last)
		for col := 1; col <= last; col++ {
			c := g.Rows[i].Cell(col)
			row[col-1] = typedText(c.Raw, false)
			if c.Type == cell.Number && c.Format != cell.Date {
				row[col-1] = strconv.FormatFloat(c.Number, 'f', -1, 64)
				if d.decimalComma {
					row[col-1] = strings.ReplaceAll(row[col-1], ".", ",")
				}
			}
		}
		if err := w.Write(row); err != nil {
			t.Fatal(err)
		}
	}
	if w.Flush(); w.Error() != nil {
		t.Fatal(w.Error())
	}
	if d.encode == nil {
		return out.Bytes()
	}
	return d.encode(out.String())
}

// allFilled is a blank workbook with some rows on every sheet that has rows: each
// column filled with its typical entry, free text with what is odd in lists.
func allFilled(t *testing.T, system unit.System) string {
	t.Helper()
	path := blankBook(t, system)
	b, err := Open(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, name := range RowSheets() {
		def := sheetNamed(name)
		place, ok := placeOf(b.Inspection, name)
		if !ok {
			t.Fatalf("the blank workbook has no sheet %s", name)
		}
		first := place.Header + 1
		if len(dataRows(t, b, name)) > 0 { // Criteria and Report
			continue
		}
		for n := range 3 {
			for i := range def.Columns {
				c := &def.Columns[i]
				at, ok := place.Columns[c.Header]
				if !ok {
					t.Fatalf("%s has no column %s", name, c.Header)
				}
				if err := f.SetCellValue(place.Name, finding.Ref{Col: at.Col, Row: first + n}.Cell(), typicalEntry(t, c, n, system)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	to := filepath.Join(t.TempDir(), "filled.xlsx")
	if err := f.SaveAs(to); err != nil {
		t.Fatal(err)
	}
	return to
}

func typicalEntry(t *testing.T, c *layout.Column, n int, system unit.System) any {
	t.Helper()
	switch c.Type {
	case layout.Number:
		v, err := strconv.ParseFloat(strings.TrimSuffix(c.Example, " %"), 64)
		if err != nil {
			v = 12.5
		}
		return c.Kind.In(system, 1)/c.Kind.In(unit.SI, 1)*v + float64(n)/4
	case layout.Date:
		return 46134 + n
	case layout.Word:
		return c.Words[n%len(c.Words)]
	case layout.Label, layout.Labels:
		if c.Example == "" {
			return fmt.Sprintf("L-%d", n)
		}
		return fmt.Sprintf("%s%c", c.Example, 'a'+n)
	}
	return fmt.Sprintf("%s %d", oddText, n)
}

func blankBook(t *testing.T, system unit.System) string {
	t.Helper()
	var out bytes.Buffer
	if err := Blank(&out, BlankOptions{Units: system}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "blank.xlsx")
	if err := os.WriteFile(path, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// bare is a blank workbook without the rows that it comes with, as those of
// Criteria and Report.
func bare(t *testing.T, system unit.System) *Book {
	t.Helper()
	path := blankBook(t, system)
	b, err := Open(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, name := range RowSheets() {
		for _, row := range dataRows(t, b, name) {
			for _, c := range row.Cells {
				if err := f.SetCellValue(name, finding.Ref{Col: c.Col, Row: row.Number}.Cell(), nil); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	to := filepath.Join(t.TempDir(), "bare.xlsx")
	if err := f.SaveAs(to); err != nil {
		t.Fatal(err)
	}
	if b, err = Open(context.Background(), to, Options{}); err != nil {
		t.Fatal(err)
	}
	return b
}

// Every sheet that takes rows, saved as a list by programs of many kinds and
// imported into a blank workbook, holds the same cells again.
func TestEverySheetComesBackFromItsList(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		for source, path := range map[string]string{"example": example(t, system), "filled": allFilled(t, system)} {
			from, err := Open(context.Background(), path, Options{})
			if err != nil {
				t.Fatal(err)
			}
			blank := bare(t, system)
			for _, sheet := range RowSheets() {
				name := fmt.Sprintf("%s, %s, %s", source, system, sheet)
				first := imported(t, name, from, blank, sheet, dialects[0])
				if first == nil || first.Rows == 0 {
					continue
				}
				comesBack(t, name, from, first, sheet)
				for _, d := range dialects[1:] {
					m := imported(t, name+", "+d.name, from, blank, sheet, d)
					if m != nil && sheet != "Criteria" && !reflect.DeepEqual(m.added, first.added) { // its values stay as they stood in the list
						t.Errorf("%s, %s: other rows than from the list with commas", name, d.name)
					}
				}
			}
		}
	}
}

// imported is a sheet of one workbook on its way into another, by a list; nil
// when that failed.
func imported(t *testing.T, name string, from, blank *Book, sheet string, d dialect) *Import {
	t.Helper()
	l, err := ReadList(sheet+".csv", listOf(t, from, sheet, d), 0)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return nil
	}
	if d.decimalComma {
		l.Point = ','
	}
	m, err := NewImport(blank, sheet, l, nil)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return nil
	}
	for _, r := range m.Refused {
		t.Errorf("%s: line %d %q refused: %s", name, r.Line, r.Fields, r.Reasons)
	}
	for _, left := range m.Left {
		t.Errorf("%s: not taken: %s", name, left)
	}
	return m
}

func comesBack(t *testing.T, name string, from *Book, m *Import, sheet string) {
	t.Helper()
	out, err := m.Write(context.Background(), filepath.Join(t.TempDir(), "copy.xlsx"), nil)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	file, err := xlsx.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, wrong := range othersThan(t, from, file, sheet) {
		t.Errorf("%s: %s", name, wrong)
	}
}

// othersThan are the cells of a sheet that another workbook does not hold in
// the same way, row by row.
func othersThan(t *testing.T, from *Book, file *xlsx.Book, sheet string) (wrong []string) {
	t.Helper()
	to, err := read(context.Background(), file, Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := dataRows(t, from, sheet), dataRows(t, to, sheet)
	if len(a) != len(b) {
		return []string{fmt.Sprintf("%d rows, %d before", len(b), len(a))}
	}
	def := sheetNamed(sheet)
	pa, _ := placeOf(from.Inspection, sheet)
	pb, _ := placeOf(to.Inspection, sheet)
	for i := range a {
		for k := range def.Columns {
			c := &def.Columns[k]
			x, y := a[i].Cell(pa.Columns[c.Header].Col), b[i].Cell(pb.Columns[c.Header].Col)
			if same := typedText(x.Raw, false) == typedText(y.Raw, false); !same && !(x.Type == cell.Number && y.Type == cell.Number && close9(x.Number, y.Number)) {
				wrong = append(wrong, fmt.Sprintf("row %d, %s: %q became %q", a[i].Number, c.Header, typedText(x.Raw, false), typedText(y.Raw, false)))
			} else if counted := c.Type == layout.Number || c.Type == layout.Date; counted && x.Type != y.Type {
				wrong = append(wrong, fmt.Sprintf("row %d, %s: %q is a %s, was a %s", a[i].Number, c.Header, typedText(y.Raw, false), kindOf(y), kindOf(x)))
			}
		}
	}
	return wrong
}

func dataRows(t *testing.T, b *Book, sheet string) (rows []xlsx.Row) {
	t.Helper()
	place, ok := placeOf(b.Inspection, sheet)
	if !ok {
		t.Fatalf("no sheet %s", sheet)
	}
	g, err := b.File.Sheet(place.Name).Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range g.Rows {
		if r.Number > place.Header {
			rows = append(rows, r)
		}
	}
	return rows
}
