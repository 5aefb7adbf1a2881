package demo

import (
	"bytes"
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook"
)

// album answers for the pictures of an invented workbook.
type album struct{ photos []Photo }

func (a album) Picture(name string) check.Picture {
	for _, p := range a.photos {
		if p.Name == name {
			return check.Picture{Found: true, Readable: true}
		}
	}
	return check.Picture{}
}

func (a album) Folder() []string {
	var names []string
	for _, p := range a.photos {
		names = append(names, p.Name)
	}
	return names
}

func judge(t *testing.T, b Book) *rules.Assessment {
	t.Helper()
	var out bytes.Buffer
	if err := b.Write(&out); err != nil {
		t.Fatal(err)
	}
	book, err := workbook.OpenBytes(context.Background(), "example.xlsx", out.Bytes(), workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Assess(book.Inspection, book.Hits, album{b.Photos})
}

// The example has no error, and its open points are a couple of warnings that
// a person would really be left with in the middle of a job.
func TestExampleHasItsOpenPoints(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		b, err := Example(system)
		if err != nil {
			t.Fatal(err)
		}
		a := judge(t, b)
		var open, answered []string
		for _, f := range a.Findings {
			switch f.Severity {
			case finding.Error, finding.Fatal:
				t.Errorf("%s: %s %s: %s", system, f.Place(), f.Rule, f.Message)
			case finding.Warning:
				if f.Answer == nil {
					open = append(open, f.Rule)
				} else {
					answered = append(answered, f.Rule)
				}
			}
			if f.Rule == "Q501" || f.Rule == "Q502" {
				t.Errorf("%s: %s: %s", system, f.Place(), f.Message)
			}
		}
		if !slices.Equal(answered, []string{"R314"}) {
			t.Errorf("%s: answered %v", system, answered)
		}
		if !slices.Equal(open, []string{"R308", "R602"}) {
			t.Errorf("%s: open points %v", system, open)
		}
	}
}

// The twins are measured in different units to different roundings, so their
// numbers differ a little, their verdicts not.
func TestTwinsAgree(t *testing.T) {
	var twin [2]*rules.Assessment
	for i, system := range []unit.System{unit.SI, unit.US} {
		b, err := Example(system)
		if err != nil {
			t.Fatal(err)
		}
		twin[i] = judge(t, b)
	}
	si, us := twin[0].Result, twin[1].Result
	for i := range si.Locations {
		if si.Locations[i].Verdict != us.Locations[i].Verdict {
			t.Errorf("%s: %s in SI, %s in US", si.Locations[i].Label, si.Locations[i].Verdict, us.Locations[i].Verdict)
		}
	}
	for _, state := range []assess.State{assess.AsFound, assess.AsPlanned} {
		a, b := si.State(state), us.State(state)
		if !a.Interval.Known || !b.Interval.Known || math.Abs(float64(a.Interval.V-b.Interval.V)) > 0.1 || a.GovernedBy != b.GovernedBy {
			t.Errorf("%s: %v by %s in SI, %v by %s in US", state, a.Interval, a.GovernedBy, b.Interval, b.GovernedBy)
		}
	}
	// The story the example tells: too short as it is, long enough when
	// repaired, and the ring has a place for the engineer.
	if v := float64(si.AsFound.Interval.V); v < 2 || v > 9 {
		t.Errorf("as found %.1f years", v)
	}
	if v := float64(si.AsPlanned.Interval.V); v < 10 || v > 15 {
		t.Errorf("as planned %.1f years", v)
	}
	if !slices.ContainsFunc(si.Locations, func(l assess.Location) bool { return l.Verdict == assess.Engineering }) {
		t.Error("no place for the engineer")
	}
}

func TestEveryMistakeIsFound(t *testing.T) {
	b, faults, err := Mistakes()
	if err != nil {
		t.Fatal(err)
	}
	if len(faults) < 15 {
		t.Errorf("%d mistakes", len(faults))
	}
	a := judge(t, b)
	// R308, R602 and R314 are the example's own; K104 asks about the 52 % that
	// nobody proved up, since it governs.
	expected := map[string]bool{"R308": true, "R602": true, "R314": true, "K104": true}
	for _, f := range faults {
		expected[f.Code] = true
		row, _, _ := strings.Cut(f.Row, "/")
		if f.Code == "C201" {
			row = "" // the label is lost with the date
		}
		if !slices.ContainsFunc(a.Findings, func(g finding.Finding) bool { return g.Rule == f.Code && strings.Contains(g.Key, row) }) {
			t.Errorf("%s %s %s: %s not found as %s", f.Sheet, f.Row, f.Place, f.What, f.Code)
		}
	}
	for _, g := range a.Findings {
		if g.Severity > finding.Note && !expected[g.Rule] {
			t.Errorf("%s %s also found: %s", g.Place(), g.Rule, g.Message)
		}
	}
}

func TestBigIsAsLargeAsAsked(t *testing.T) {
	b, err := Big(150, 5000, 500, 3)
	if err != nil {
		t.Fatal(err)
	}
	a := judge(t, b)
	in := a.Inspection
	if n := len(in.Plates); n < 150 || n > 200 {
		t.Errorf("%d plates", n)
	}
	if len(in.Indications) != 5000 || len(in.ProveUps) != 500 || len(in.Photos) != 3 || len(b.Photos) != 3 {
		t.Errorf("%d indications, %d prove-ups, %d rows of %d photos", len(in.Indications), len(in.ProveUps), len(in.Photos), len(b.Photos))
	}
	for _, f := range a.Findings {
		switch f.Rule[0] {
		case 'F', 'S', 'C':
			t.Errorf("%s %s: %s", f.Place(), f.Rule, f.Message)
		}
		if strings.HasPrefix(f.Rule, "R2") || f.Rule == "T101" {
			t.Errorf("%s %s: %s", f.Place(), f.Rule, f.Message)
		}
	}
}

func TestBigRefusesWhatCannotBe(t *testing.T) {
	if _, err := Big(3000, 1, 1, 0); err == nil {
		t.Error("3000 plates fitted in silence")
	}
	for _, plates := range []int{1, 5, 20, 400} {
		b, err := Big(plates, 10, 20, 0)
		if err != nil || len(b.Rows["Plates"]) < plates || len(b.Rows["Prove-ups"]) != 20 {
			t.Errorf("%d plates: %d, %v", plates, len(b.Rows["Plates"]), err)
		}
	}
}
