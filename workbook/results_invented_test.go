package workbook

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/assess"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/demo"
	"platebook/workbook/invented"
	"platebook/workbook/xlsx"
)

// inventedResults is the results workbook of an invented tank.
func inventedResults(t *testing.T, seed uint64) string {
	t.Helper()
	data, err := invented.New(seed).Bytes(unit.System(seed % 2)) // every other in US units
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), fmt.Sprintf("tank-%d.xlsx", seed))
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return resultsOf(t, path)
}

// seeds are ten tanks that between them have rings, barriers, linings, pairs,
// both rate bases, repairs, settlement and an extreme value that counts.
var seeds = []uint64{4, 7, 15, 16, 20, 23, 31, 34, 37, 39}

// trial is one number of a person's that a test changes.
type trial struct {
	what string
	ref  finding.Ref
	to   string
	want unit.Maybe[unit.Years] // the program's interval with it, page one
	page assess.State
}

// edits are changes whose outcome on the interval must be the same in a
// spreadsheet program as in this one.
func edits(t *testing.T, path string) []trial {
	t.Helper()
	b, a := judged(t, path)
	in := b.Inspection
	var list []trial
	number := func(what string, ref finding.Ref, plain bool, v float64) {
		if plain && ref.IsCell() {
			list = append(list, trial{what: what, ref: ref, to: strconv.FormatFloat(v, 'g', 12, 64)})
		}
	}
	length := func(what string, f inspection.Length, by float64) {
		if f.OK() {
			number(what, f.Ref, f.Plain, float64(f.Value)*by/f.Scale)
		}
	}
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if l.Label == a.Result.AsFound.SoilMinAt && l.ProveUp >= 0 && l.Counts {
			length("remaining of the place that governs", in.ProveUps[l.ProveUp].Remaining, 0.97)
			break
		}
	}
	length("nominal thickness", in.Tank.NominalThickness, 1.004)
	if d := in.Tank.FloorInstalled; d.OK() {
		number("floor installed", d.Ref, d.Plain, float64(d.Value-40))
	}
	if d := in.Tank.InspectionEnd; d.OK() {
		number("inspection end", d.Ref, d.Plain, float64(d.Value+1))
	}
	if m := in.Criteria.Get("Minimum thickness"); m.Given && m.Plain {
		number("Minimum thickness", m.Ref, true, m.Number*1.02/m.Scale)
	}
	if m := in.Criteria.Get("MFL threshold"); m.Given && m.Plain && m.Number > 0 {
		number("MFL threshold", m.Ref, true, (m.Number+0.5)/m.Scale)
	}
	return list
}

// A spreadsheet program calculates the whole results workbook of ten invented
// tanks to the stored values, as it does the examples'; and a changed reading,
// criterion or date changes its interval as it changes the program's. Every
// change is tried on four of the twelve workbooks; with PLATEBOOK_CHANGES=all in
// the environment, on all.
func inventedTrials(t *testing.T) ([]string, func(*testing.T, anew)) {
	all := os.Getenv("PLATEBOOK_CHANGES") == "all"
	var books, plain, paths []string
	for _, system := range []unit.System{unit.SI, unit.US} {
		books = append(books, resultsOf(t, rename(t, example(t, system), strings.ToLower(system.String())+"-example.xlsx")))
	}
	for _, seed := range seeds {
		plain = append(plain, inventedResults(t, seed))
	}
	books = append(books, plain...)
	paths = append(paths, plain...)
	changes := map[string]trial{}
	for i, path := range books {
		_, was := judged(t, path)
		for n, e := range edits(t, path) {
			if !all && (n+i)%3 != 0 {
				continue
			}
			to := edited(t, path, fmt.Sprintf("%d-%s", n, filepath.Base(path)), e)
			_, now := judged(t, to)
			e.page = now.Result.PageOne
			if e.want = now.Result.State(e.page).Interval; !e.want.Known || sameBranch(was.Result.State(e.page), now.Result.State(e.page)) != nil {
				continue // another formula: the workbook has to be run again
			}
			changes[to] = e
			paths = append(paths, to)
		}
	}
	return paths, func(t *testing.T, fresh anew) {
		live := 0
		for _, path := range plain {
			t.Run(filepath.Base(path), func(t *testing.T) { live += sameCells(t, path, fresh[path]) })
		}
		moved := map[string]int{}
		for _, path := range slices.Sorted(maps.Keys(changes)) {
			e := changes[path]
			got, ok := liveValue(t, fresh[path], "interval.adopted."+e.page.String())
			if !ok || math.Abs(got-float64(e.want.V)) > 1e-9*max(1, math.Abs(float64(e.want.V))) {
				t.Errorf("%s, %s to %s: live interval %v, the program gives %v", filepath.Base(path), e.what, e.to, got, e.want.V)
				continue
			}
			moved[e.what]++
		}
		if least := map[bool]int{false: 2, true: 4}[all]; len(moved) < 6 || slices.Min(slices.Collect(maps.Values(moved))) < least {
			t.Errorf("too few changes were tried: %v", moved)
		}
		t.Logf("%d live cells of %d workbooks, %v changed", live, len(plain), moved)
	}
}

// sameBranch says why two states cannot have the same formulas: another rule
// governs them, or rates came or went.
func sameBranch(a, b *assess.StateResult) error {
	switch {
	case a == nil || b == nil:
		return fmt.Errorf("no such state")
	case a.RateUnknown != b.RateUnknown:
		return fmt.Errorf("rates: %s, %s", a.RateUnknown, b.RateUnknown)
	}
	return nil
}

// edited is a copy of a workbook with one number changed.
func edited(t *testing.T, path, name string, e trial) string {
	t.Helper()
	b, err := xlsx.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	for n, s := range b.Sheets {
		if s.Name == e.ref.Sheet {
			return changed(t, path, name, "xl/worksheets/sheet"+strconv.Itoa(n+1)+".xml", e.ref.Cell(), e.to)
		}
	}
	t.Fatalf("no sheet %s", e.ref.Sheet)
	return ""
}

// sameCells holds every formula of the result sheets against a spreadsheet
// program's value and gives their number.
func sameCells(t *testing.T, path string, fresh *xlsx.Book) int {
	t.Helper()
	stored, err := xlsx.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	live := 0
	for _, name := range strings.Split(stored.Property(ResultsProperty), "/") {
		a, err1 := stored.Sheet(name).Read()
		b, err2 := fresh.Sheet(name).Read()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		live += sameGrid(t, name, a, b)
	}
	return live
}

// sameGrid holds every formula of a result sheet against another file's value
// of the same cell and gives their number.
func sameGrid(t *testing.T, name string, a, b *xlsx.Grid) (live int) {
	t.Helper()
	for _, row := range a.Rows {
		for _, x := range row.Cells {
			if x.Formula == "" {
				continue
			}
			live++
			y := b.At(x.Col, row.Number)
			same := x.Type == y.Type && x.Text == y.Text
			if x.Type == cell.Number && y.Type == cell.Number {
				same = math.Abs(x.Number-y.Number) <= 1e-9*max(1, math.Abs(x.Number))
			}
			if !same || x.Type == cell.Error {
				t.Errorf("%s %s%d: =%s the program gives %q, the spreadsheet %q", name, finding.ColumnName(x.Col), row.Number, x.Formula, x.Text, y.Text)
			}
		}
	}
	return live
}

// sheetCells are the cells of a workbook by sheet and address.
type sheetCells map[string]*xlsx.Grid

var cellReference = regexp.MustCompile(`(?:('(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_]*)!)?\$?([A-Z]{1,3})\$?([0-9]+)(?::\$?([A-Z]{1,3})\$?([0-9]+))?`)

// precedents are the cells that a formula names.
func precedents(formula, sheet string) []finding.Ref {
	var out []finding.Ref
	text := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(formula, "")
	for _, m := range cellReference.FindAllStringSubmatch(text, -1) {
		at := sheet
		if m[1] != "" {
			at = strings.ReplaceAll(strings.Trim(m[1], "'"), "''", "'")
		}
		first, row := columnAt(m[2]), atoi(m[3])
		last, end := first, row
		if m[4] != "" {
			last, end = columnAt(m[4]), atoi(m[5])
		}
		for r := row; r <= end; r++ {
			for c := first; c <= last; c++ {
				out = append(out, finding.Ref{Sheet: at, Col: c, Row: r})
			}
		}
	}
	return out
}

func atoi(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		panic(err)
	}
	return n
}

func columnAt(s string) int {
	n := 0
	for _, r := range s {
		n = 26*n + int(r-'A') + 1
	}
	return n
}

// reached are the cells at the end of all references from a cell: those of the
// person's sheets, and numbers of result sheets that are not calculated there.
func (g sheetCells) reached(from finding.Ref, results map[string]bool) (inputs, numbers map[finding.Ref]bool) {
	inputs, numbers = map[finding.Ref]bool{}, map[finding.Ref]bool{}
	seen := map[finding.Ref]bool{}
	var walk func(finding.Ref)
	walk = func(r finding.Ref) {
		if seen[r] {
			return
		}
		seen[r] = true
		if !results[r.Sheet] {
			inputs[r] = true
			return
		}
		c := g[r.Sheet].At(r.Col, r.Row)
		if c.Formula == "" {
			if c.Type == cell.Number {
				numbers[r] = true
			}
			return
		}
		for _, p := range precedents(c.Formula, r.Sheet) {
			walk(p)
		}
	}
	walk(from)
	return inputs, numbers
}

// From every calculated number of Summary a reviewer comes by references alone
// to cells of the person's sheets; what ends in a number instead is a constant
// that says where it comes from, an area measured in the plan, or the outcome
// of the method that has no closed form.
func TestSummaryLeadsToTheFieldReadings(t *testing.T) {
	if testing.Short() {
		t.Skip("slow")
	}
	var mistakes demo.Book
	mistakes, _, err := demo.Mistakes()
	if err != nil {
		t.Fatal(err)
	}
	paths := []string{resultsOf(t, example(t, unit.SI)), resultsOf(t, example(t, unit.US)), resultsOf(t, saved(t, "mistakes.xlsx", mistakes))}
	for _, seed := range seeds {
		paths = append(paths, inventedResults(t, seed))
	}
	checked := 0
	for _, path := range paths {
		b, err := xlsx.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		_, a := judged(t, path)
		grids, results := sheetCells{}, map[string]bool{}
		for _, name := range strings.Split(b.Property(ResultsProperty), "/") {
			results[name] = true
			if grids[name], err = b.Sheet(name).Read(); err != nil {
				t.Fatal(err)
			}
		}
		for _, row := range grids["Summary"].Rows {
			title := row.Cell(1).Text
			for _, c := range row.Cells {
				if c.Col == 1 || c.Type != cell.Number || countsOnly(title, a.Sensitivity()) {
					continue
				}
				checked++
				at := finding.Ref{Sheet: "Summary", Col: c.Col, Row: row.Number}
				if c.Formula == "" {
					t.Errorf("%s %s %q: a bare number", filepath.Base(path), at, title)
					continue
				}
				inputs, numbers := grids.reached(at, results)
				if len(inputs) == 0 && !strings.HasPrefix(title, "Required thickness") && !steel[strings.TrimSuffix(title, bracketed.FindString(title))] { // which may rest on defaults alone
					t.Errorf("%s %s %q: leads to no cell of the person's", filepath.Base(path), at, title)
				}
				for n := range numbers {
					if why := allowed(grids, n); why == "" {
						t.Errorf("%s %s %q: ends in %s = %v", filepath.Base(path), at, title, n, grids[n.Sheet].At(n.Col, n.Row).Number)
					}
				}
			}
		}
	}
	if checked < 20*len(paths) {
		t.Errorf("only %d numbers followed", checked)
	}
	t.Logf("%d numbers of Summary followed", checked)
}

// steel names the lines of Summary on repairs, which rest on the program's
// proposal where nothing is planned.
var (
	steel = map[string]bool{
		"Repairs, the program's proposal": true, "Repairs planned or completed": true,
		"Area of repairs, each place once": true, "Weld": true, "Mass of blanks": true, "Stock sheets": true,
	}
	bracketed = regexp.MustCompile(` \([^)]*\)$`)
)

// countsOnly says whether a line of Summary counts results, or is a run of its
// own with an input changed.
func countsOnly(title string, changes []assess.Change) bool {
	if strings.HasPrefix(title, "Places with") || title == "As it is" {
		return true
	}
	for _, c := range changes {
		if strings.EqualFold(title, c.Input) {
			return true
		}
	}
	return false
}

// constants are what a number of the Calculation sheet may come from when it
// is no cell of the person's: said in its From column.
var constants = regexp.MustCompile(`^(default|not given|converted exactly|0\.10 in|Table .*|table of shell steels.*|29,000,000 psi|by shell steel|maximum likelihood|Plates, sumps|floor installed during this inspection.*|Unproved indications: .*|regression of .*|union of .*|given in place of the report date|rate of .*)$`)

// allowed says why a number may stand for itself, "" when it may not.
func allowed(g sheetCells, r finding.Ref) string {
	row := g[r.Sheet].Row(r.Row)
	switch r.Sheet {
	case "Calculation":
		if from := row.Cell(colFrom).Text; r.Col == colValue && constants.MatchString(from) {
			return from
		}
		if row.Cell(colFrom).Text == "Cutting list" {
			return "the outcome of the layout"
		}
	case "Repairs":
		if r.Col == repairLength || r.Col == repairWidth || r.Col == repairThickness {
			return "the program's proposal"
		}
	case "Statistics":
		return "a pit over another, taken by itself" // the largest loss of a plate in the extreme-value fit
	case "Plate results":
		switch {
		case r.Col == plateNet || r.Col == plateArea:
			return "measured in the plan"
		case r.Col >= plateMFL && r.Col <= plateNot && row.Cell(r.Col).Number == 0:
			return "no column for it"
		}
	}
	return ""
}
