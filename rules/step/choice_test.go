package step

import (
	"math"
	"slices"
	"testing"

	"platebook/rules/unit"
)

// A choice prints as a word, wherever its number would say nothing.
func TestChoicesPrintAsWords(t *testing.T) {
	s := New(Step{
		ID: "t", Symbol: "t", Formula: Parse("if(B = 1, b, m)*if(W = 1, max(G, 1), G) + n*if(n = 1, 1, 0)"), Kind: unit.Statistic,
		Inputs: []Input{
			{Symbol: "B", Value: 0, Known: true},
			{Symbol: "W", Value: 1, Known: true},
			{Symbol: "b", Value: 1, Known: true, Kind: unit.Statistic},
			{Symbol: "m", Value: 2, Known: true, Kind: unit.Statistic},
			{Symbol: "G", Value: 0.5, Known: true, Kind: unit.Statistic},
			{Symbol: "n", Value: 3, Known: true},
		},
	})
	if got, want := s.Formula.Choices(), []string{"B", "W"}; !slices.Equal(got, want) {
		t.Errorf("choices %v, want %v: n is a number too", got, want)
	}
	if got, want := s.Symbols(unit.SI), "if(B = yes, b, m)·if(W = yes, max(G, 1), G) + n·if(n = 1, 1, 0)"; got != want {
		t.Errorf("symbols\n got %s\nwant %s", got, want)
	}
	if got, want := s.Numbers(unit.SI), "2·max(0.5, 1) + 3·0"; got != want {
		t.Errorf("numbers\n got %s\nwant %s", got, want)
	}
	if got, want := s.Since(unit.SI), "B = no and W = yes and 3 ≠ 1"; got != want {
		t.Errorf("since\n got %s\nwant %s", got, want)
	}
	if got, want := s.Formula.Spreadsheet(func(x string) string { return x }), "IF(B=1,b,m)*IF(W=1,MAX(G,1),G)+n*IF(n=1,1,0)"; got != want {
		t.Errorf("live formula\n got %s\nwant %s", got, want)
	}
}

// A sum of an expression goes through lists one by one, and a spreadsheet does
// the same with the range.
func TestSumOfAnExpression(t *testing.T) {
	s := New(Step{
		ID: "t", Symbol: "t", Formula: Parse("sum(x*exp(-x/a)) + sum(x) + sum(y*2)"), Kind: unit.Statistic,
		Inputs: []Input{
			{Symbol: "x", Values: []float64{1, 2, 3}, Known: true},
			{Symbol: "y", Values: []float64{}, Known: true},
			{Symbol: "a", Value: 2, Known: true},
		},
	})
	want := math.Exp(-0.5) + 2*math.Exp(-1) + 3*math.Exp(-1.5) + 6
	if !s.Known || math.Abs(s.Value-want) > 1e-15 {
		t.Errorf("%v, want %v (%s)", s.Value, want, s.Why)
	}
	if got, want := s.Formula.Spreadsheet(func(x string) string { return x }), "SUMPRODUCT(x*EXP(-x/a))+SUM(x)+SUMPRODUCT(y*2)"; got != want {
		t.Errorf("live formula\n got %s\nwant %s", got, want)
	}
	if got, want := s.Symbols(unit.SI), "sum(x·exp(−x/a)) + sum(x) + sum(y·2)"; got != want {
		t.Errorf("symbols\n got %s\nwant %s", got, want)
	}
}
