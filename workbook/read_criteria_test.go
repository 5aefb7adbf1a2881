package workbook

import (
	"math"
	"strings"
	"testing"

	"platebook/rules/criteria"
)

func TestCriteria(t *testing.T) {
	const head = "= Readings"
	sheet := func(rows string) []string {
		return []string{head, "= Criteria\nCriterion | Value | Unit | Default | Source | Note\n" + rows + "\n" + head}
	}
	for _, s := range []said{
		{"a changed value", sheet("Area balance | 3 | % | 2 | practice | owner's standard"), ""},
		{"a heading", sheet("Thickness\nArea balance | | % | 2"), ""},
		{"case and spaces", sheet("area  balance | 3 %"), ""},
		{"unknown", sheet("Prove up limit | 30"), "Q401 Criteria A2: “Prove up limit” is no criterion"},
		{"near a known one", sheet("Area balanse | 30"), "Q401 Criteria A2: “Area balanse”; Area balance?"},
		{"out of range", sheet("Prove-up threshold | 400 | %"), "Q403 Criteria B2: Prove-up threshold 400 %, range 0–100 %"},
		{"a word of the list", sheet("Rate basis | Plate"), ""},
		{"a word not in the list", sheet("Rate basis | tank"), "Q403 Criteria B2: Rate basis “tank” is not in the list"},
		{"no number", sheet("Area balance | a lot"), "C101 Criteria B2: Area balance “a lot” is not one number"},
		{"no whole number", sheet("Rescan count | 2.5"), "Q403 Criteria B2: Rescan count 2.5 is not a whole number"},
		{"twice", sheet("Area balance | 3\nArea balance | 4"), "S202 Criteria B3: Area balance stands twice: B2, B3"},
		{"bands that fall", sheet("Loss bands | 40; 20"), "Q403 Criteria B2: Loss bands “40; 20”: numbers between 0 and 100 that rise, divided by semicolons"},
		{"of another kind", sheet("Minimum thickness | 2 | kg"), "S205 Criteria C2: “Minimum thickness”: kg is no length"},
	} {
		if s.name == "bands that fall" {
			s.want = strings.Replace(s.want, "“40; 20”", `"40; 20"`, 1)
		}
		s.run(t)
	}
	bad, err := readSketch(t, edit(t, cleanSketch, sheet("prove-up  threshold | 400 | %")...))
	if err != nil || len(bad.hits) != 1 || bad.hits[0].Subject != "Prove-up threshold" {
		t.Errorf("%v %+v", err, bad.hits)
	}
	r, err := readSketch(t, edit(t, cleanSketch, sheet("Minimum thickness | 0.12 | in | | | owner\nArea balance | 2 | %\nStock sheets | 1000×2000\nPatch minimum | 152.4\nRate basis | | | | | asked")...))
	if err != nil {
		t.Fatal(err)
	}
	if v := r.ins.Criteria.Get(criteria.MinimumThickness); math.Abs(v.Number-3.048) > 1e-12 || v.Text != "3.048" || !v.Changed || !v.Given || v.Note != "owner" || v.Ref.String() != "Criteria!B2" {
		t.Errorf("%+v", v)
	}
	if v := r.ins.Criteria.Get(criteria.AreaBalance); v.Changed || !v.Given {
		t.Errorf("%+v", v)
	}
	if v := r.ins.Criteria.Get(criteria.StockSheets); !v.Changed || len(v.Numbers) != 2 || v.Numbers[1] != 2000 {
		t.Errorf("%+v", v)
	}
	if v := r.ins.Criteria.Get(criteria.RateBasis); v.Given || v.Text != "floor" || v.Note != "asked" {
		t.Errorf("%+v", v)
	}
}

func TestAnswers(t *testing.T) {
	r, err := readSketch(t, edit(t, cleanSketch, "= Readings",
		"= Answers\nFinding | Answer | By | Date | Until\nR201:Readings:3-4/300,900; R315:Readings:3-4/1,2 | Measured twice | A. Day | date(46141) |\n= Readings"))
	if err != nil {
		t.Fatal(err)
	}
	a := r.ins.Answers
	if len(a) != 1 || len(a[0].Findings.Value) != 2 || a[0].Findings.Value[0] != "R201:Readings:3-4/300,900" || a[0].Until.OK() || a[0].InSheet {
		t.Errorf("%+v", a)
	}
	tabs := sketch(t, "= Findings\n3 errors, 1 warning\nKey | Rule | Value as typed | Answer | Answered by | Date | Members\n"+
		"R201:Readings:3-4/1,2 | R201 | 400 | Measured twice | A. Day | date(46141) | R201:Readings:3-4/1,2;R201:Readings:3-4/1,3\nR202:x | R202 | 4 | | |")
	got := answersInFindings("Findings", tabs[0].grid, false)
	if len(got) != 1 || len(got[0].Findings.Value) != 2 || got[0].Value != "400" || !got[0].InSheet || !got[0].Date.OK() || got[0].Answer.Ref.String() != "Findings!D3" {
		t.Errorf("%+v", got)
	}
}
