package check

import (
	"testing"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// An answer given for a run counts for each member whose value is still the
// one it was given for, and for no other.
func TestAnAnswerHoldsEachValueOfARun(t *testing.T) {
	said := func(s string) inspection.Text { return inspection.Text{Value: s, Text: s, State: inspection.Given} }
	in := &inspection.Inspection{Answers: []inspection.Answer{{
		Row: inspection.Row{Key: "C106:Prove-ups:U1:Remaining"}, Value: "0.2", Values: []string{"0.2", "0.3", "0.25"}, InSheet: true,
		Findings: inspection.Labels{State: inspection.Given, Value: []string{"C106:Prove-ups:U1:Remaining", "C106:Prove-ups:U2:Remaining", "C106:Prove-ups:U3:Remaining"}},
		Answer:   said("Measured again, it is so"), By: said("A. Day"), Date: inspection.Date{State: inspection.Given, Value: 46141},
	}}}
	list := func(values ...string) []entry {
		var out []entry
		for i, v := range values {
			out = append(out, entry{kind: "Prove-ups", Finding: finding.Finding{
				Key: "C106:Prove-ups:U" + string(rune('1'+i)) + ":Remaining", Rule: "C106", Severity: finding.Warning,
				Ref: finding.Ref{Sheet: "Prove-ups", Col: 6, Row: 2 + i}, Value: v,
			}})
		}
		return out
	}
	for _, c := range []struct {
		now  []string
		want []bool
	}{
		{[]string{"0.2", "0.3", "0.25"}, []bool{true, true, true}},
		{[]string{"0.2", "0.1", "0.25"}, []bool{true, false, true}}, // worse now: nobody has answered for that
		{[]string{"0.2", "0.3", " 0.25 "}, []bool{true, true, true}},
		{[]string{"0.4", "0.3", "0.25"}, []bool{false, false, false}}, // the entry it was given for is another one
	} {
		l := list(c.now...)
		answer(in, l)
		for i := range l {
			if (l[i].Answer != nil) != c.want[i] {
				t.Errorf("%q: number %d answered: %v", c.now, i+1, l[i].Answer != nil)
			}
		}
	}
	in.Answers[0].Values = nil // of an earlier version: the first value alone is known
	l := list("0.2", "0.1", "0.25")
	if answer(in, l); l[1].Answer == nil {
		t.Error("an answer without the values of its run is lost")
	}
}
