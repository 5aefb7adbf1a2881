package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/review"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// retyped is a copy of a workbook with one place of one part replaced.
func retyped(t *testing.T, path, part, old, now string) string {
	t.Helper()
	return retypedAs(t, path, "retyped.results.xlsx", part, old, now)
}

// retypedAs is retyped under a name of its own.
func retypedAs(t *testing.T, path, name, part, old, now string) string {
	t.Helper()
	re, edits := regexp.MustCompile(old), 0
	to := rezipped(t, path, name, func(at string, text []byte) []byte {
		if at != part {
			return text
		}
		edits += len(re.FindAllIndex(text, -1))
		return re.ReplaceAll(text, []byte(now))
	})
	if edits != 1 {
		t.Fatalf("%d places %s in %s", edits, old, part)
	}
	return to
}

// rezipped is a copy of a workbook with its parts as change gives them.
func rezipped(t *testing.T, path, name string, change func(part string, text []byte) []byte) string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		p, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Write(change(f.Name, text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(to, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return to
}

func again(t *testing.T, path string) Revision {
	t.Helper()
	b, err := OpenAgain(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	return Revision{b, rules.Assess(b.Inspection, b.Hits, nil)}
}

var testRecord = Record{Version: "test", Rules: rules.Version}

func reviewOf(t *testing.T, path string) *review.Review {
	t.Helper()
	v := again(t, path)
	r, err := Review(context.Background(), v.Book, v.Assessment, testRecord, 12, 0)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// summaryCell is the reference of a live number of the Summary by its title.
func summaryCell(t *testing.T, path, title string) (ref string, value float64) {
	t.Helper()
	b, err := Open(context.Background(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	g, err := b.File.Sheet("Summary").Read()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range g.Rows {
		if strings.HasPrefix(row.Cell(1).Text, title) {
			return changeRef("Summary", 2, row.Number).Cell(), row.Cell(2).Number
		}
	}
	t.Fatalf("no %s", title)
	return "", 0
}

func TestReviewOfUntouchedResults(t *testing.T) {
	for _, sys := range []unit.System{unit.SI, unit.US} {
		path := resultsOf(t, example(t, sys))
		r := reviewOf(t, path)
		if r.Differs() || r.Compared < 5000 || r.Unstored != 0 || len(r.Sample) != 12 {
			t.Errorf("%s: %d differ of %d, inputs changed %v, versions %v, sample %d", sys, len(r.Differences), r.Compared, r.Inputs.Changed(), r.Versions, len(r.Sample))
		}
		if same := reviewOf(t, path); !slices.EqualFunc(r.Sample, same.Sample, func(a, b review.Sampled) bool { return a.Ref == b.Ref }) || same.Seed != r.Seed {
			t.Errorf("%s: another sample of the same file", sys)
		}
		for _, s := range r.Sample {
			if s.Stored == "nothing" || s.Formula == "" {
				t.Errorf("%s: sample %+v", sys, s)
			}
		}
	}
}

func TestReviewFindsWhatWasRetyped(t *testing.T) {
	path := resultsOf(t, example(t, unit.SI))
	const summary = "xl/worksheets/platebooksheet1.xml"
	ref, v := summaryCell(t, path, "Calculated interval")
	cell := `(<c r="` + ref + `"[^>]*>)(<f>[^<]*</f>)<v>[^<]*</v>`
	only := func(name, path, stored string) {
		t.Helper()
		r := reviewOf(t, path)
		if len(r.Differences) != 1 || r.Differences[0].Ref.String() != "Summary!"+ref || !strings.HasPrefix(r.Differences[0].Stored, stored) || r.Inputs.Changed() {
			t.Fatalf("%s: %+v", name, r.Differences)
		}
		d := r.Differences[0]
		if !slices.ContainsFunc(d.Inputs, func(s string) bool { return strings.HasPrefix(s, "Tank!") }) || d.More == 0 {
			t.Errorf("%s: the interval depends on %v", name, d.Inputs)
		}
		f := r.Findings()
		if len(f) != 1 || f[0].Rule != "K201" || f[0].Ref.Cell() != ref {
			t.Errorf("%s: findings %+v", name, f)
		}
	}
	only("value", retyped(t, path, summary, cell, `${1}${2}<v>99.5</v>`), "99.5")
	only("formula gone", retyped(t, path, summary, cell, `${1}<v>`+digits15(v)+`</v>`), digits15(v)+" without its formula")
	only("another formula", retyped(t, path, summary, `(<c r="`+ref+`"[^>]*>)<f>[^<]*</f>`, `${1}<f>4+1</f>`), digits15(v)+" by =4+1")

	if r := reviewOf(t, retyped(t, path, summary, cell, `${1}${2}<v>`+digits15(v+0.004)+`</v>`)); len(r.Differences) != 0 {
		t.Errorf("beyond the printed digits: %+v", r.Differences)
	}
	if r := reviewOf(t, retyped(t, path, summary, cell, `${1}${2}`)); len(r.Differences) != 0 || r.Unstored != 1 {
		t.Errorf("no stored value: %d, %+v", r.Unstored, r.Differences)
	}
}

func TestReviewTellsInputsChanged(t *testing.T) {
	path := resultsOf(t, example(t, unit.SI))
	b, _ := judged(t, path)
	at := slices.IndexFunc(b.File.Sheets, func(s *xlsx.Sheet) bool { return s.Name == "Tank" })
	if at < 0 {
		t.Fatal("no Tank")
	}
	f := b.Inspection.Tank.JointEfficiency.Ref
	if !f.IsCell() {
		f = b.Inspection.Tank.SpecificGravity.Ref
	}
	part := regexp.MustCompile(`\d+`).ReplaceAllString("xl/worksheets/sheet0.xml", strconv.Itoa(at+1))
	edited := retyped(t, path, part, `(<c r="`+f.Cell()+`"[^>]*>)<v>[^<]*</v>`, `${1}<v>0.777</v>`)
	r := reviewOf(t, edited)
	if !r.Inputs.Changed() || !slices.Equal(r.Inputs.Sheets, []string{"Tank"}) || r.Findings()[0].Rule != "K202" {
		t.Errorf("inputs %+v", r.Inputs)
	}
	k202 := r.Findings()[0]
	if k202.Message != "1 input cell differs, on Tank" || len(k202.Related) != 1 || k202.Related[0].Ref != f {
		t.Errorf("%s, see %v, want %v", k202.Message, k202.Related, f)
	}
	v, err := Revisions(context.Background(), again(t, edited), again(t, path), testRecord)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Changes) != 1 || v.Changes[0].Ref != f || v.Changes[0].New != "0.777" {
		t.Errorf("changes %+v", v.Changes)
	}
	if len(v.Groups) == 0 || !slices.Contains(v.Groups[0].Changes, 0) {
		t.Errorf("groups %+v", v.Groups)
	}
}

func TestReviewNeedsResults(t *testing.T) {
	v := again(t, example(t, unit.SI))
	if _, err := Review(context.Background(), v.Book, v.Assessment, testRecord, 1, 0); err == nil || !strings.Contains(err.Error(), "holds no results") {
		t.Errorf("%v", err)
	}
}

func TestRowsAlign(t *testing.T) {
	a := []string{"t", "x", "y", "y", "z"}
	b := []string{"t", "x", "new", "y", "y", "z", "end"}
	want := []pair{{0, 0}, {1, 1}, {-1, 2}, {2, 3}, {3, 4}, {4, 5}, {-1, 6}}
	if got := align(a, b); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	if got := zipped([]pair{{0, 0}, {1, -1}, {-1, 1}, {-1, 2}, {2, 3}}); !slices.Equal(got, []pair{{0, 0}, {1, 1}, {-1, 2}, {2, 3}}) {
		t.Errorf("%v", got)
	}
}

func TestFormulasAsProgramsSaveThem(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"INT(10*(Calculation!E5+1E-09))/10", "INT(10*(Calculation!$E$5 + 0.000000001))/10", true},
		{"'Plate results'!C5", "'Plate results'!$C$5", true},
		{`IF(E5-I5>=-0.001,"pass","fail")`, `IF(E5-I5>=-0.001,"fail","pass")`, false},
		{"E5+1", "E5+2", false},
		{"E5", "E6", false},
	} {
		if sameFormula(c.a, c.b) != c.same {
			t.Errorf("%s and %s", c.a, c.b)
		}
	}
}
