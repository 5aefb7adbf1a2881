package workbook

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// A sketch is a workbook as text, cells divided by bars:
//
//	= Plates                  a sheet; "= Plates hidden" hides it
//	Plate | Type | Length (mm)
//	@60                       go to row 60
//	hidden 3-4 | sketch       a hidden row
//	merge A3:A5               a merged range
//	hide columns 3-4
//	filtered
//
// A cell is a number when it looks like one. Other contents:
//
//	'12                       text
//	date(46027)  pct(0.45)    a number with such a format
//	err(#REF!)
//	f(B4*2)                   a formula without a stored value
//	f(B4*2) 163               a formula with one
//	strike(12)
//	blanks
func sketch(t testing.TB, text string) (tabs []tab) {
	t.Helper()
	var grid *xlsx.Grid
	row := 0
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if name, ok := strings.CutPrefix(line, "= "); ok {
			s := &xlsx.Sheet{}
			s.Name, ok = strings.CutSuffix(name, " hidden")
			if ok {
				s.Visibility = xlsx.Hidden
			}
			grid, row = &xlsx.Grid{}, 0
			tabs = append(tabs, tab{sheet: s, grid: grid})
			continue
		}
		if grid == nil {
			continue
		}
		var a, b int
		var c, d string
		if n, _ := fmt.Sscanf(line, "@%d", &a); n == 1 {
			row = max(row, min(a-1, 1<<20-1)) // a file's rows never go back
			continue
		}
		if n, _ := fmt.Sscanf(line, "hide columns %d-%d", &a, &b); n == 2 {
			grid.HiddenCols = append(grid.HiddenCols, xlsx.Span{First: a, Last: b})
			continue
		}
		if n, _ := fmt.Sscanf(strings.Replace(line, ":", " ", 1), "merge %s %s", &c, &d); n == 2 {
			col1, row1 := place(c)
			col2, row2 := place(d)
			if col1 < 1 || row1 < 1 || col2 < col1 || row2 < row1 {
				continue
			}
			grid.Merged = append(grid.Merged, xlsx.Area{Col1: col1, Row1: row1, Col2: col2, Row2: row2})
			continue
		}
		if line == "filtered" {
			grid.Filtered = true
			continue
		}
		row++
		r := xlsx.Row{Number: row}
		line, r.Hidden = strings.CutPrefix(line, "hidden ")
		for i, text := range strings.Split(line, "|") {
			if raw, strike := sketchCell(strings.TrimSpace(text)); raw.Type != cell.Blank || raw.NoStored {
				r.Cells = append(r.Cells, xlsx.Cell{Col: i + 1, Raw: raw, Strike: strike})
			}
		}
		if len(r.Cells) > 0 {
			grid.Rows = append(grid.Rows, r)
		}
	}
	return tabs
}

func place(ref string) (col, row int) {
	at := strings.IndexAny(ref, "0123456789")
	if at < 1 || at > 3 {
		return 0, 0
	}
	for _, c := range ref[:at] {
		col = 26*col + int(c-'A') + 1
	}
	row, _ = strconv.Atoi(ref[at:])
	return col, row
}

func sketchCell(text string) (raw cell.Raw, strike bool) {
	inside := func(name string) (string, string, bool) {
		rest, ok := strings.CutPrefix(text, name+"(")
		at := strings.LastIndex(rest, ")")
		if !ok || at < 0 {
			return "", "", false
		}
		return rest[:at], strings.TrimSpace(rest[at+1:]), true
	}
	number := func(s string, f cell.Format) cell.Raw {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return cell.Raw{Type: cell.String, Text: s} // a fuzzed sketch
		}
		return cell.Raw{Type: cell.Number, Format: f, Number: v, Text: s}
	}
	if in, _, ok := inside("strike"); ok {
		raw, _ = sketchCell(in)
		return raw, true
	}
	if in, _, ok := inside("date"); ok {
		return number(in, cell.Date), false
	}
	if in, _, ok := inside("pct"); ok {
		return number(in, cell.Percent), false
	}
	if in, _, ok := inside("err"); ok {
		return cell.Raw{Type: cell.Error, Text: in}, false
	}
	if in, stored, ok := inside("f"); ok {
		raw, _ = sketchCell(stored)
		raw.Formula, raw.NoStored = in, stored == ""
		return raw, false
	}
	if s, ok := strings.CutPrefix(text, "'"); ok {
		return cell.Raw{Type: cell.String, Text: s}, false
	}
	if text == "blanks" {
		return cell.Raw{Type: cell.String, Text: "  "}, false
	}
	if text == "" {
		return cell.Raw{}, false
	}
	return number(text, cell.General), false
}

// readSketch reads a sketch.
func readSketch(t testing.TB, text string, file ...func(*xlsx.Book)) (*reader, error) {
	t.Helper()
	book := &xlsx.Book{Name: "sketch.xlsx"}
	for _, f := range file {
		f(book)
	}
	r := newReader(book)
	err := r.readTabs(context.Background(), sketch(t, text), nil, Options{})
	return r, err
}

// told is the hits as "C101 Readings D3" with the message behind a colon,
// notes about the file as a whole without a place.
func told(hits []finding.Hit) []string {
	var list []string
	for _, h := range hits {
		place := h.Ref.Cell()
		if place == "" {
			place = h.Ref.Sheet
		}
		list = append(list, strings.Join(strings.Fields(h.Rule+" "+h.Kind+" "+place), " ")+": "+h.Message)
	}
	slices.Sort(list)
	return list
}

// cleanSketch is a workbook without anything to say about it.
const cleanSketch = `
= Tank
Item | Value | Unit | Note
Job
Report number | R-1
Revision | '0
Report status | preliminary
Client | Harbour Tanks
Site | East
Tank | T-7
Inspection start | date(46132)
Inspection end | date(46140)
Report date | date(46144)
Units | SI
Specific gravity | 0.85
Maximum fill height | 13.9 | m
Commissioned | date(31929)
Diameter | 30 | m
Shell height | 14.6 | m
Nominal thickness | 6.35 | mm
Floor installed | date(37012)
Lap | 50 | mm
Firm name | Plate & Pit
Prepared by | A. Day
Responsible inspector | B. Low
= Plates
Plate | Type | Row | Position | Length (mm) | Width (mm) | MFL scanned % | Not examined % | Reason not examined
3-4 | rectangular | 3 | 4 | 6000 | 1800 | 98 | 2 | coil
3-5 | sketch | 3 | 5 | 6000 | 1800 | 100 | 0
= Indications
ID | Plate | X (mm) | Y (mm) | Length (mm) | Width (mm) | Side | Method | Loss % | Remaining (mm)
17 | 3-4 | 2450 | 610 | 40 | 30 | soil | MFL | 45
18 | 3-4 | 300 | 200 | | | product | visual | | 5.1
= Prove-ups
ID | Indication | Plate | X (mm) | Y (mm) | Remaining (mm) | Side
U44 | 17 | 3-4 | 2455 | 615 | 3.5 | soil
= Readings
Plate | X (mm) | Y (mm) | Thickness (mm) | By | Date
3-4 | 300 | 900 | 6.28 | A. Day | date(46136)
3-5 | 300 | 900 | 6.31 | A. Day | date(46136)
3-5 | 600 | 900 | 6.30 | A. Day | date(46136)
`

// edit is a sketch with parts replaced; each must occur.
func edit(t testing.TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("the sketch has no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}
