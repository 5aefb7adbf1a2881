// Package finding holds one kind of value: something in a workbook that a
// person should look at, with its place, its reason and what to do about it.
package finding

import (
	"fmt"
	"strconv"
	"strings"
)

// Severity orders findings by what they stop.
type Severity uint8

// The severities.
const (
	Note    Severity = iota // information
	Warning                 // needs an answer with a name before a report is final
	Error                   // withholds a final report
	Fatal                   // the file cannot be used at all
)

func (s Severity) String() string {
	return [...]string{"note", "warning", "error", "error"}[s]
}

// Ref is a place in a workbook. Col and Row count from 1; without them a Ref
// is a whole sheet, and without a Sheet the file.
type Ref struct {
	Sheet string
	Col   int
	Row   int
}

// Cell is the place in the sheet, "F12"; "" when the Ref is no cell.
func (r Ref) Cell() string {
	if r.Col <= 0 || r.Row <= 0 {
		return ""
	}
	return ColumnName(r.Col) + strconv.Itoa(r.Row)
}

// IsCell says whether the place is one cell.
func (r Ref) IsCell() bool { return r.Sheet != "" && r.Col > 0 && r.Row > 0 }

// String is "Tank!B31", with quotes where a sheet name needs them.
func (r Ref) String() string {
	if r.Sheet == "" {
		return ""
	}
	if c := r.Cell(); c != "" {
		return QuoteSheet(r.Sheet) + "!" + c
	}
	return r.Sheet
}

// QuoteSheet puts a sheet name as a formula would write it.
func QuoteSheet(name string) string {
	for _, c := range name {
		if c != '_' && (c < '0' || c > '9') && (c < 'A' || c > 'Z') && (c < 'a' || c > 'z') {
			return "'" + strings.ReplaceAll(name, "'", "''") + "'"
		}
	}
	return name
}

// ColumnName is the letters of a column: 1 is A, 28 is AB.
func ColumnName(col int) string {
	var b [8]byte
	i := len(b)
	for ; col > 0; col = (col - 1) / 26 {
		i--
		b[i] = byte('A' + (col-1)%26)
	}
	return string(b[i:])
}

// Answer is a named person's answer to a warning.
type Answer struct {
	Text  string
	By    string
	Date  string
	Until string
	Ref   Ref // where it was given
}

// Finding is one entry of the list: one fault, or a run of equal faults in
// successive rows folded into one.
type Finding struct {
	Key      string // stable across runs: code, sheet and row key, never a row number
	Rule     string // C104
	Severity Severity
	Ref      Ref    // where to look first
	LastRow  int    // last row of a folded run, else 0
	Row      string // row label, as typed
	Value    string // value as typed
	Message  string
	Do       string
	Related  []Related
	More     int      // related places beyond those listed
	Members  []string // all keys of a folded run, the first is Key
	Values   []string // value of each member, as typed
	Count    int      // cells of a finding about a column's values, else 0
	Answer   *Answer
}

// Related is another place that belongs to a finding.
type Related struct {
	Ref  Ref
	Text string // "unit", "limit", "the other row"
}

// Cells is how many cells the entry stands for.
func (f Finding) Cells() int { return max(1, f.Count, len(f.Members)) }

// Range is "F12:F48" for a folded run, else the cell.
func (f Finding) Range() string {
	if f.LastRow <= f.Ref.Row {
		return f.Ref.Cell()
	}
	return f.Ref.Cell() + ":" + Ref{Sheet: f.Ref.Sheet, Col: f.Ref.Col, Row: f.LastRow}.Cell()
}

// Place is the finding's place as a person writes it: "Prove-ups!F12:F48".
func (f Finding) Place() string {
	if r := f.Range(); r != "" {
		return fmt.Sprintf("%s!%s", f.Ref.Sheet, r)
	}
	return f.Ref.Sheet
}
