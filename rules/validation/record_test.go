package validation

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

var update = flag.Bool("update", false, "write docs/validation.md anew")

// The marks of a row: how the expected value is known.
const (
	published = "published"
	derived   = "derived"           // here, by hand or by algebra, from the sources named
	reference = "reference library" // computed by other software or at 40 digits; the source stands in the file
)

// row is one example: what was expected, and what the program gives.
type row struct {
	subject, what string
	source, mark  string
	inputs        string
	expected, got float64
	tol           float64
	unit          string
	wantText      string // in place of numbers
	gotText       string
	cases         int // of a set: how many values were held against it; the row is the worst
}

func (r *row) ok() bool {
	if r.wantText != "" {
		return r.wantText == r.gotText
	}
	return math.Abs(r.got-r.expected) <= r.tol
}

// record gathers rows; a subject's part sets what the rows share.
type record struct {
	t            *testing.T
	rows         []row
	subject      string
	source, mark string
}

func (r *record) from(source, mark string) { r.source, r.mark = source, mark }

func (r *record) number(what, inputs string, expected, got, tol float64, unit string) {
	r.rows = append(r.rows, row{subject: r.subject, what: what, source: r.source, mark: r.mark, inputs: inputs, expected: expected, got: got, tol: tol, unit: unit})
}

func (r *record) text(what, inputs, expected, got string) {
	r.rows = append(r.rows, row{subject: r.subject, what: what, source: r.source, mark: r.mark, inputs: inputs, wantText: expected, gotText: got})
}

// worst is a set of values of which the one farthest off, by its tolerance,
// makes the row.
type worst struct {
	expected, got, tol float64
	at                 string
	n                  int
}

func (w *worst) hold(at string, expected, got, tol float64) {
	w.n++
	if noise(expected, got, tol) {
		got = expected
	}
	off := math.Abs(got-expected) / tol
	if w.n == 1 || math.IsNaN(off) || off > math.Abs(w.got-w.expected)/w.tol {
		w.expected, w.got, w.tol, w.at = expected, got, tol, at
	}
}

func (r *record) set(what, inputs string, w worst, unit string) {
	if w.n == 0 {
		r.t.Errorf("%s, %s: no value was held", r.subject, what)
	}
	r.number(what, inputs, w.expected, w.got, w.tol, unit)
	last := &r.rows[len(r.rows)-1]
	last.cases = w.n
	last.inputs = strings.TrimSuffix(inputs+"; worst: "+w.at, "; worst: ")
}

func (r *record) read(name string, into any) {
	r.t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", filepath.FromSlash(name)))
	if err != nil {
		r.t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		r.t.Fatalf("%s: %v", name, err)
	}
}

// digits prints a value with so many digits that its tolerance shows.
func digits(v, tol float64) string {
	switch {
	case math.IsNaN(v):
		return "none"
	case v == math.Trunc(v) && math.Abs(v) < 1e9:
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	decimals := 6
	if tol > 0 {
		decimals = min(12, max(0, int(math.Ceil(-math.Log10(tol)))+1))
	}
	if a := math.Abs(v); a > 0 && a < math.Pow(10, float64(-decimals)) {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', decimals, 64), "0"), ".")
}

// noise says whether two values differ by no more than the rounding of doubles
// makes, which another processor may round otherwise: the page shows no
// difference then.
func noise(expected, got, tol float64) bool {
	d := math.Abs(got - expected)
	return d <= 1e-12 || d <= 1e-3*tol && tol <= 1e-6*math.Max(1, math.Abs(expected)) || d <= 1e-11*math.Abs(expected)
}

// difference prints how far apart two values are.
func (r *row) difference() string {
	d := math.Abs(r.got - r.expected)
	switch {
	case math.IsNaN(d):
		return "none"
	case noise(r.expected, r.got, r.tol):
		return "0"
	}
	return strconv.FormatFloat(d, 'g', 2, 64)
}

func (r *row) verdict() string {
	if r.ok() {
		return "pass"
	}
	return "**FAIL**"
}

// page is docs/validation.md.
func page(rows []row) string {
	var subjects []string
	marks := map[string]int{}
	passed, values := 0, 0
	for i := range rows {
		r := &rows[i]
		if !slices.Contains(subjects, r.subject) {
			subjects = append(subjects, r.subject)
		}
		marks[r.mark]++
		values += max(1, r.cases)
		if r.ok() {
			passed++
		}
	}
	var b strings.Builder
	b.WriteString(`# Validation

What the program was held against. Each row was made by calling the program when the page was made; a test makes it again and fails
when one is outside its tolerance.

**published**: the expected value is printed in the source. **derived**: worked out independently from the source's formula or data, by
hand, by algebra or in another language. **reference library**: computed by other software or at 40 digits; the file in ` + "`testdata`" + ` names it.
A row over a set shows the value farthest off, or the first where none is off by more than the rounding of doubles, 1e-11. A tolerance is half a unit of the last printed digit of the source, or what the data set states.

`)
	fmt.Fprintf(&b, "%d rows over %d values: %d pass, %d fail. ", len(rows), values, passed, len(rows)-passed)
	for i, m := range []string{published, derived, reference} {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%d %s", marks[m], m)
	}
	b.WriteString(".\n\n| subject | rows | values | fail |\n| --- | ---: | ---: | ---: |\n")
	for _, s := range subjects {
		n, v, f := 0, 0, 0
		for i := range rows {
			if rows[i].subject == s {
				n++
				v += max(1, rows[i].cases)
				if !rows[i].ok() {
					f++
				}
			}
		}
		fmt.Fprintf(&b, "| %s | %d | %d | %d |\n", s, n, v, f)
	}
	b.WriteString(twice)
	for _, s := range subjects {
		fmt.Fprintf(&b, "\n## %s\n\n| what | source | mark | inputs | expected | got | difference | tolerance | verdict |\n| --- | --- | --- | --- | ---: | ---: | ---: | ---: | --- |\n", s)
		for i := range rows {
			r := &rows[i]
			if r.subject != s {
				continue
			}
			want, got, diff, tol := r.wantText, r.gotText, "–", "exact"
			if r.wantText == "" {
				value := r.got
				if noise(r.expected, r.got, r.tol) {
					value = r.expected
				}
				want, got, diff = digits(r.expected, r.tol), digits(value, r.tol), r.difference()
				if r.unit != "" {
					want, got = want+" "+r.unit, got+" "+r.unit
				}
				if r.tol > 0 {
					tol = strconv.FormatFloat(r.tol, 'g', 2, 64)
				}
			}
			what := r.what
			if r.cases > 0 {
				what += fmt.Sprintf(" (%d values)", r.cases)
			}
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", plain(what), plain(r.source), r.mark, plain(r.inputs), plain(want), plain(got), diff, tol, r.verdict())
		}
	}
	return b.String()
}

func plain(s string) string {
	return strings.NewReplacer("|", "\\|", "*", "\\*", "_", "\\_", "<", "\\<").Replace(s)
}

// The record: every example is within its tolerance, and the page shows it.
func TestRecord(t *testing.T) {
	r := &record{t: t}
	for _, part := range []func(*record){
		intervals, caps, dates, shells, zones, evaluations, units, sizings, gumbels, samples, geometry, repairs, cutting, settlements, comparisons,
	} {
		part(r)
	}
	for i := range r.rows {
		x := &r.rows[i]
		if !x.ok() {
			t.Errorf("%s: %s (%s): got %v%s, expected %v%s ± %v", x.subject, x.what, x.inputs, x.got, x.gotText, x.expected, x.wantText, x.tol)
		}
		if x.source == "" || x.mark == "" || x.subject == "" {
			t.Errorf("%s: %s has no source or mark", x.subject, x.what)
		}
	}
	if len(r.rows) < 120 {
		t.Errorf("only %d rows", len(r.rows))
	}
	name := filepath.Join("..", "..", "docs", "validation.md")
	text := page(r.rows)
	if *update {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if !utf8.ValidString(text) {
		t.Error("docs/validation.md is no text")
	}
	if b, err := os.ReadFile(name); err != nil || string(b) != text {
		t.Errorf("docs/validation.md differs from the program (%v); run the test with -update", err)
	}
}

// A record that cannot fail would be none.
func TestARowCanFail(t *testing.T) {
	for _, r := range []row{{expected: 1, got: 1.1, tol: 0.05}, {expected: 1, got: math.NaN(), tol: 1}, {wantText: "a", gotText: "b"}} {
		if r.ok() || r.verdict() == "pass" {
			t.Errorf("%+v passes", r)
		}
	}
	var w worst
	w.hold("a", 1, 1, 0.1)
	w.hold("b", 1, math.NaN(), 0.1)
	if (&row{expected: w.expected, got: w.got, tol: w.tol}).ok() {
		t.Error("a set with a value that is no number passes")
	}
}

// twice tells of the second counts, whose cases are too many for rows.
const twice = `
## Counted a second time

Beside these rows whole invented floors are counted twice: by the program, and by short code that was written from the method alone and shares
none of the program's geometry (` + "`workbook/recount`" + `). A test holds a part of them each time; the numbers are of a run over more of them, and all agree.

| what | second count | floors | compared |
| --- | --- | ---: | --- |
| planned repairs: each rule for patches and build-ups, what each takes out, weld, mass, area, findings | outlines in plan as chains of points, distances point by point, areas by level lines 0.5 mm apart; with and without a ring, round, rounded and tombstone, along the shell on any plate, planned, completed and found, over seams, old patches, dents and readings, every third in US units | 600 | over 23,000 verdicts; 540 more lie within the count's own error of a limit, or the method lets them mean two things |
| states as planned and as completed | the same, with thickness, rates and interval counted from the method | 150 | every value of each state |
| rules at their limit, a step above and a step below | by hand, in SI and US | 63 | each |
| cutting lists of up to six pieces, two thicknesses, three stock sizes, with kerf and trim | every way to cut from edge to edge, turned or not | 2000 | sheets, their area, the largest offcut, yield, pieces too large; each layout cut again as drawn |
| proposals away from the shell, and each level of the threshold table | every pair at every step | 400 | each |

Whole floors, some with repairs, are also turned in the plan by 7 to 345°: every thickness, area, coverage, verdict and sum stays.

Not counted twice: plates at a skew to each other, and three pits that overlap one another, of which the method does not say which two are one.
`
