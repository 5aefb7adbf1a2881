package workbook

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/assess"
	"platebook/rules/finding"
	"platebook/rules/sizing"
	"platebook/rules/unit"
	"platebook/workbook/demo"
	"platebook/workbook/xlsx"
)

// anew is what a spreadsheet program has made of workbooks, by their paths.
type anew map[string]*xlsx.Book

// forAnotherProgram are the trials of workbooks in a spreadsheet program: what
// each wants calculated anew, and what it then holds against it.
var forAnotherProgram = []struct {
	name    string
	prepare func(*testing.T) (paths []string, hold func(*testing.T, anew))
}{
	{"examples", exampleTrials},
	{"invented tanks", inventedTrials},
	{"shares of coverage", sharesTrials},
	{"saved by another program", savedTrials},
}

// A spreadsheet program opens, calculates and saves the workbooks of all trials
// in one run, since it is slow to start.
func TestInASpreadsheetProgram(t *testing.T) {
	if testing.Short() {
		t.Skip("slow")
	}
	var all []string
	holds := make([]func(*testing.T, anew), len(forAnotherProgram))
	for i, f := range forAnotherProgram {
		paths, hold := f.prepare(t)
		all, holds[i] = append(all, paths...), hold
	}
	fresh := recalculated(t, all...)
	for i, f := range forAnotherProgram {
		t.Run(f.name, func(t *testing.T) { holds[i](t, fresh) })
	}
}

// spreadsheetProgram is where one is. Without one the test is skipped.
func spreadsheetProgram(t *testing.T) string {
	t.Helper()
	office, err := exec.LookPath("soffice")
	if err != nil && os.Getenv("CI") != "" {
		t.Fatal("soffice is missing")
	} else if err != nil {
		t.Skip("soffice is missing: no spreadsheet program to calculate with")
	}
	return office
}

// recalculated lets a spreadsheet program open files, calculate every formula
// anew and save them.
func recalculated(t *testing.T, paths ...string) anew {
	t.Helper()
	office := spreadsheetProgram(t)
	home := t.TempDir()
	const always = `<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"><item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item></oor:items>`
	if err := os.MkdirAll(filepath.Join(home, "user"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "user", "registrymodifications.xcu"), []byte(always), 0o600); err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	args := append([]string{
		"--headless", "-env:UserInstallation=file://" + filepath.ToSlash(home),
		"--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", out,
	}, paths...)
	if text, err := exec.CommandContext(t.Context(), office, args...).CombinedOutput(); err != nil {
		t.Fatalf("recalculating: %v\n%s", err, text)
	}
	books, names := anew{}, map[string]bool{}
	for _, p := range paths {
		name := strings.TrimSuffix(filepath.Base(p), filepath.Ext(p)) + ".xlsx"
		if names[name] {
			t.Fatalf("two workbooks are called %s", name)
		}
		names[name] = true
		var err error
		if books[p], err = xlsx.Open(filepath.Join(out, name)); err != nil {
			t.Fatal(err)
		}
	}
	return books
}

// changed is a copy of a file with the stored number of one cell replaced.
func changed(t *testing.T, path, name, sheet, ref, value string) string {
	t.Helper()
	return retypedAs(t, path, name, sheet, `(<c r="`+ref+`"[^>]*><v>)[^<]*(</v>)`, "${1}"+value+"${2}")
}

// Every stored value is what a spreadsheet program calculates, to 1e-9, and
// changing the remaining thickness that governs changes the live interval as
// it changes the program's.
func exampleTrials(t *testing.T) ([]string, func(*testing.T, anew)) {
	mistakes, _, err := demo.Mistakes()
	if err != nil {
		t.Fatal(err)
	}
	si, us := example(t, unit.SI), example(t, unit.US)
	plain := []string{
		resultsOf(t, rename(t, si, "si.xlsx")), resultsOf(t, rename(t, us, "us.xlsx")), resultsOf(t, saved(t, "mistakes.xlsx", mistakes)),
	}
	moved := map[string]unit.Maybe[unit.Years]{}
	paths := append([]string(nil), plain...)
	for i, value := range []string{"3", "0.118"} { // mm, in
		path := withGoverning(t, plain[i], value)
		_, was := judged(t, plain[i])
		_, now := judged(t, path)
		if moved[path] = now.Result.AsFound.Interval; !moved[path].Known || moved[path] == was.Result.AsFound.Interval {
			t.Fatalf("the program's interval does not change: %v", moved[path])
		}
		paths = append(paths, path)
	}
	surveyed := withOtherReadings(t, plain[0])
	paths = append(paths, surveyed)
	as := resultsOf(t, surveyed)
	return paths, func(t *testing.T, fresh anew) {
		t.Run("other readings", func(t *testing.T) {
			for _, sheet := range []string{"Sizing", "Statistics", "Settlement results"} {
				sameSheet(t, as, sheet, fresh[surveyed])
			}
		})
		for _, path := range plain {
			t.Run(filepath.Base(path), func(t *testing.T) { sameNumbers(t, path, fresh[path]) })
		}
		for path, want := range moved {
			got, ok := liveValue(t, fresh[path], "interval.adopted.as_found")
			if !ok || math.Abs(got-float64(want.V)) > 1e-9*float64(want.V) {
				t.Errorf("%s: live interval %v, the program gives %v", filepath.Base(path), got, want.V)
			}
		}
	}
}

func rename(t *testing.T, path, name string) string {
	t.Helper()
	to := filepath.Join(filepath.Dir(path), name)
	if err := os.Rename(path, to); err != nil {
		t.Fatal(err)
	}
	return to
}

// withGoverning changes the prove-up that the least soil-side thickness comes
// from.
func withGoverning(t *testing.T, path, value string) string {
	t.Helper()
	b, a := judged(t, path)
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if l.Label != a.Result.AsFound.SoilMinAt || l.Kind != assess.IndicationAt || l.ProveUp < 0 {
			continue
		}
		f := b.Inspection.ProveUps[l.ProveUp].Remaining
		for n, s := range b.File.Sheets {
			if s.Name == f.Ref.Sheet {
				return changed(t, path, "changed-"+filepath.Base(path), "xl/worksheets/sheet"+strconv.Itoa(n+1)+".xml", f.Ref.Cell(), value)
			}
		}
	}
	t.Fatalf("%s is no proved indication", a.Result.AsFound.SoilMinAt)
	return ""
}

// withOtherReadings changes the worst elevation of the shell, the loss that the scan
// gave at a pair, and a prove-up: of places on the other side than
// the extreme value's, since the extreme value has no closed form to be live.
func withOtherReadings(t *testing.T, path string) string {
	t.Helper()
	b, a := judged(t, path)
	var pairs []sizing.Pair
	for _, p := range a.Result.Sizing.Pairs {
		if side := b.Inspection.Indications[p.Indication].Side.Value; side != a.Result.Extreme.Side {
			pairs = append(pairs, p)
		}
	}
	worst := &b.Inspection.Settlement[a.Settlement.Shell[a.Settlement.Ring.MaxAt].Row]
	for n, to := range []struct {
		ref   finding.Ref
		value string
	}{
		{worst.Elevation.Ref, strconv.FormatFloat(float64(worst.Elevation.Value)+math.Copysign(2, float64(a.Settlement.Shell[a.Settlement.Ring.MaxAt].S)), 'g', -1, 64)},
		{b.Inspection.Indications[pairs[0].Indication].Loss.Ref, "37"},
		{b.Inspection.ProveUps[pairs[1].ProveUp].Remaining.Ref, "4.05"},
	} {
		path = edited(t, path, "other-"+strconv.Itoa(n)+".xlsx", trial{ref: to.ref, to: to.value})
	}
	return path
}

// sameSheet holds the live values of one sheet, as the program writes them,
// against a recalculated file.
func sameSheet(t *testing.T, path, name string, fresh *xlsx.Book) {
	t.Helper()
	stored, err := xlsx.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	a, err1 := stored.Sheet(name).Read()
	b, err2 := fresh.Sheet(name).Read()
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	live := sameGrid(t, name, a, b)
	if live < 100 {
		t.Errorf("%s: only %d live formulas", name, live)
	}
}

// sameNumbers holds the stored values of the result sheets against the
// recalculated ones.
func sameNumbers(t *testing.T, path string, fresh *xlsx.Book) {
	t.Helper()
	if live := sameCells(t, path, fresh); live < 1000 {
		t.Errorf("only %d live formulas", live)
	}
}

func liveValue(t *testing.T, b *xlsx.Book, id string) (float64, bool) {
	t.Helper()
	g, err := b.Sheet("Calculation").Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range g.Rows {
		if row.Cell(colStep).Text == id {
			return row.Cell(colValue).Number, true
		}
	}
	return 0, false
}
