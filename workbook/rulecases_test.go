package workbook_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/textbook"
)

// The cases of the rules stand in testdata/rules, one file per code: the clean
// workbook of testdata/clean-si.txt with edits.
//
//	good:            the rule is silent here, and so is every error and warning
//	bad:             the rule fires, with no other error or warning but those named
//	{C104}           in an edit: the finding expected at this cell
//	want C104 Prove-ups!F2:F11   expected at a range, on a sheet ("Prove-ups") or the file ("file")
//	do Q304 Enter who signs.     what such a finding asks for
//	also R305        a further error or warning that the same edits bring about
//	old EDIT         compared with the floor of twelve years ago, changed by these edits; "old" alone: unchanged
//	photo NAME missing | broken | 2019-03-02   what is found of a picture
//	folder NAME NAME                           the pictures in the photos folder
//	text                                       another workbook than the clean one follows
//
// All other lines are edits of the readable form of workbooks.
type ruleCase struct {
	rule, name string
	bad        bool
	edits      []string
	old        []string // edits of the earlier inspection, nil without one
	want       []string // "C104 Prove-ups!F2:F11"
	also       []string
	do         []string // "Q304 Enter who signs."
	photos     fakePhotos
}

// fakePhotos finds every picture unless a case says otherwise.
type fakePhotos struct {
	missing, broken map[string]bool
	taken           map[string]unit.Date
	folder          []string
}

func (f fakePhotos) Picture(name string) check.Picture {
	return check.Picture{Found: !f.missing[name], Readable: !f.broken[name], Taken: f.taken[name]}
}

func (f fakePhotos) Folder() []string { return f.folder }

func readRuleCases(t *testing.T, pattern string) []ruleCase {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatal("no cases", err)
	}
	slices.Sort(files)
	var all []ruleCase
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		rule := strings.TrimSuffix(filepath.Base(file), ".txt")
		var c *ruleCase
		if !strings.Contains(pattern, "/rules/") {
			all = append(all, ruleCase{name: rule, bad: true})
			c = &all[len(all)-1]
		}
		for n, line := range strings.Split(string(text), "\n") {
			line = strings.TrimSpace(line)
			head, rest, _ := strings.Cut(line, " ")
			switch {
			case line == "" || strings.HasPrefix(line, "#"):
				continue
			case head == "good:" || head == "bad:":
				all = append(all, ruleCase{rule: rule, bad: head == "bad:", photos: fakePhotos{
					missing: map[string]bool{}, broken: map[string]bool{}, taken: map[string]unit.Date{},
				}})
				c = &all[len(all)-1]
				c.name = fmt.Sprintf("%s/%s%d", rule, strings.TrimSuffix(head, ":"), n+1)
				continue
			case c == nil:
				t.Fatalf("%s:%d: before the first good: or bad:", file, n+1)
			case head == "want":
				c.want = append(c.want, rest)
			case head == "do":
				c.do = append(c.do, rest)
			case head == "also":
				c.also = append(c.also, strings.Fields(rest)...)
			case head == "old":
				c.old = append(c.old, rest)
			case head == "folder":
				c.photos.folder = strings.Fields(rest)
			case head == "photo":
				name, what, _ := strings.Cut(rest, " ")
				switch what {
				case "missing":
					c.photos.missing[name] = true
				case "broken":
					c.photos.broken[name] = true
				default:
					d, err := unit.ParseDate(what)
					if err != nil {
						t.Fatalf("%s:%d: %v", file, n+1, err)
					}
					c.photos.taken[name] = d
				}
			default:
				c.edits = append(c.edits, line)
			}
		}
	}
	return all
}

// openText reads the clean workbook with edits.
func openText(t *testing.T, clean string, edits []string) (*workbook.Book, []textbook.Expected) {
	t.Helper()
	book, err := textbook.Parse(clean)
	if err != nil {
		t.Fatal(err)
	}
	if err := book.Edit(strings.Join(edits, "\n")); err != nil {
		t.Fatal(err)
	}
	data, err := book.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	b, err := workbook.OpenBytes(context.Background(), "case.xlsx", data, workbook.Options{Unprinted: devanagari})
	if err != nil {
		t.Fatal(err)
	}
	return b, book.Expected()
}

// devanagari is the letters that no font of the report has, as far as the cases
// have any.
func devanagari(s string) (lost []rune) {
	for _, r := range s {
		if unicode.Is(unicode.Devanagari, r) {
			lost = append(lost, r)
		}
	}
	return lost
}

func assessText(t *testing.T, clean string, edits []string, photos check.Photos, earlier ...compare.Survey) (*rules.Assessment, []textbook.Expected) {
	t.Helper()
	b, expected := openText(t, clean, edits)
	return rules.AssessSince(b.Inspection, b.Hits, photos, rules.Past{Earlier: earlier}), expected
}

// twelveYearsAgo makes the clean workbook one of 2014: all that was measured
// was thicker then.
var twelveYearsAgo = []string{
	"Tank(Report number).Value = R-2014-031",
	"Tank(Inspection start).Value = 2014-06-10",
	"Tank(Inspection end).Value = 2014-06-12",
	"Readings!D2:D29 *= 1.01",
	"Prove-ups!F2:F11 *= 1.05",
	"Prove-ups!H2:H11 *= 1.005",
	"delete row Planned repairs!2",
	"delete row Existing patches!2",
}

func (c *ruleCase) assess(t *testing.T, clean string) (*rules.Assessment, []textbook.Expected) {
	t.Helper()
	if c.old == nil {
		return assessText(t, clean, c.edits, c.photos)
	}
	old, _ := openText(t, clean, slices.Concat(twelveYearsAgo, c.old))
	return assessText(t, clean, c.edits, c.photos, rules.Earlier(old.Inspection, old.Hits))
}

// stands says whether a finding is the one wanted at a place.
func stands(f finding.Finding, rule, place string) bool {
	if f.Rule != rule {
		return false
	}
	if place == "file" {
		return f.Ref.Sheet == ""
	}
	return f.Place() == place || f.LastRow == 0 && f.Ref.String() == place
}

func describe(a *rules.Assessment, least finding.Severity) string {
	var b bytes.Buffer
	for _, f := range a.Findings {
		if f.Severity >= least {
			fmt.Fprintf(&b, "\n\t%s: %s %s: %s [%s]", f.Place(), f.Severity, f.Rule, f.Message, f.Key)
		}
	}
	return b.String()
}

func TestCleanWorkbookHasNoFaults(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	a, _ := assessText(t, string(clean), nil, fakePhotos{})
	if a.Counts.Errors+a.Counts.Warnings > 0 || len(a.LeftOut) > 0 {
		t.Errorf("%+v, %d rows left out%s", a.Counts, len(a.LeftOut), describe(a, finding.Warning))
	}
}

// A location of unknown side that governs both sides is one question, not two.
func TestOneLocationOnBothSidesIsOneFinding(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	a, _ := assessText(t, string(clean), []string{
		"append Indications | 90 | 4-2 | 2000 | 700 | 30 | 30 | unknown | visual | | 2.6 | | pit | C. Hall | 2026-04-22",
	}, fakePhotos{})
	found := 0
	for _, f := range a.Findings {
		if f.Rule == "K104" {
			found++
		}
	}
	if found != 1 {
		t.Errorf("%d findings%s", found, describe(a, finding.Warning))
	}
}

func TestRuleCases(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range readRuleCases(t, "../testdata/rules/*.txt") {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			a, expected := c.assess(t, string(clean))
			if !c.bad {
				for _, f := range a.Findings {
					if f.Rule == c.rule && f.Answer == nil || f.Severity >= finding.Warning && f.Answer == nil {
						t.Errorf("%s %s at %s: %s", f.Severity, f.Rule, f.Place(), f.Message)
					}
				}
				return
			}
			judgeBad(t, a, c, expected)
		})
	}
}

// judgeBad holds the findings of a faulty workbook against those wanted: all
// of them, and no other error or warning.
func judgeBad(t *testing.T, a *rules.Assessment, c ruleCase, expected []textbook.Expected) {
	t.Helper()
	wanted := map[string]bool{c.rule: true}
	want := func(rule, place string) {
		wanted[rule] = true
		if !slices.ContainsFunc(a.Findings, func(f finding.Finding) bool { return stands(f, rule, place) }) {
			t.Errorf("no %s at %s; found:%s", rule, place, describe(a, finding.Note))
		}
	}
	for _, e := range expected {
		want(e.Rule, e.Ref.String())
	}
	for _, w := range c.want {
		rule, place, _ := strings.Cut(w, " ")
		want(rule, place)
	}
	for _, d := range c.do {
		rule, text, _ := strings.Cut(d, " ")
		if !slices.ContainsFunc(a.Findings, func(f finding.Finding) bool { return f.Rule == rule && f.Do == text }) {
			t.Errorf("no %s asks %q", rule, text)
		}
	}
	if len(expected)+len(c.want) == 0 {
		t.Error("the case expects nothing")
	}
	seen := make(map[string]bool)
	for _, f := range a.Findings {
		seen[f.Rule] = true
		if f.Severity >= finding.Warning && f.Answer == nil && !wanted[f.Rule] && !slices.Contains(c.also, f.Rule) {
			t.Errorf("besides: %s %s at %s: %s", f.Severity, f.Rule, f.Place(), f.Message)
		}
	}
	for _, code := range c.also {
		if !seen[code] {
			t.Errorf("%s is named as a consequence and does not occur", code)
		}
	}
}

// Several faults at once: the errors and warnings are those named, and no
// other rule joins in.
func TestCombinations(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range readRuleCases(t, "../testdata/combinations/*.txt") {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			a, expected := c.assess(t, string(clean))
			judgeBad(t, a, c, expected)
		})
	}
}

// Rules that no case of a workbook can reach, and where they are held instead.
var withoutCase = map[string]string{
	"F101": "a file that cannot be opened is none to build from text: tests of the command",
	"F102": "a lock file is known by its name: tests of the command",
	"F103": "not a workbook: tests of opening files",
	"F104": "not a workbook: tests of opening files",
	"F105": "not a workbook: tests of opening files",
	"F106": "not a workbook: tests of opening files",
	"F107": "not a workbook: tests of opening files",
	"F108": "no inspection in it: tests of the reader",
	"K107": "a fault of the program itself: test in rules/check",
	"K201": "needs a results workbook: tests of review",
	"K202": "needs a results workbook: tests of review",
}

func TestEachRuleHasAGoodAndABadCase(t *testing.T) {
	good, bad := make(map[string]bool), make(map[string]bool)
	for _, c := range readRuleCases(t, "../testdata/rules/*.txt") {
		if _, ok := check.Find(c.rule); !ok {
			t.Errorf("cases of %s, which is no rule", c.rule)
		}
		good[c.rule] = good[c.rule] || !c.bad
		bad[c.rule] = bad[c.rule] || c.bad
	}
	for _, r := range check.All() {
		_, excused := withoutCase[r.Code]
		has := good[r.Code] && bad[r.Code]
		if !has && !excused {
			t.Errorf("%s lacks a good or a bad case", r.Code)
		}
		if has && excused {
			t.Errorf("%s has its cases: take it off the list of exceptions", r.Code)
		}
	}
}

// What is odd but fine brings no error and no warning.
func TestOddButFine(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range readRuleCases(t, "../testdata/odd/*.txt") {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			a, _ := c.assess(t, string(clean))
			if a.Counts.Errors+a.Counts.Warnings > 0 || len(a.LeftOut) > 0 {
				t.Errorf("%+v, %d rows left out%s", a.Counts, len(a.LeftOut), describe(a, finding.Warning))
			}
		})
	}
}
