package extreme

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"platebook/rules/unit"
)

// blocks are examined plates of 5 m² with the twelve largest losses of the
// method, section 9.
func blocks() []Plate {
	var out []Plate
	for i, x := range []float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0, 1.0, 1.4, 1.2, 1.7, 0.9} {
		out = append(out, Plate{Label: fmt.Sprint(i + 1), Area: 5, Examined: 100, Largest: unit.Length(x), Found: true})
	}
	return out
}

// unexamined adds plates of 5 m² that nobody looked at.
func unexamined(n int) []Plate {
	out := blocks()
	for i := range n {
		out = append(out, Plate{Label: fmt.Sprintf("n%d", i+1), Area: 5})
	}
	return out
}

// Derived, method section 9: 25 plates not examined of the size of the blocks
// make T 25.
func TestJudge(t *testing.T) {
	e := Judge("soil", 6.35, unexamined(25), 10)
	if !e.Made || e.Doubtful || len(e.Blocks) != 12 || e.Without != 0 {
		t.Fatalf("%+v", e)
	}
	near(t, "T", e.Period, 25, 1e-12)
	near(t, "level", float64(e.Level), 1.965362, 5e-7)
	near(t, "SE", float64(e.SE), 0.241876, 5e-7)
	near(t, "95 % level", float64(e.Whole), 2.777395, 5e-7)
	near(t, "depth: the greater of level + 1.645 SE and the 95 % level", float64(e.Depth), 2.777395, 5e-7)
	// a quarter of a plate left: T is at least 2
	little := blocks()
	little = append(little, Plate{Label: "13", Area: 5, Examined: 75})
	near(t, "least T", Judge("soil", 6.35, little, 10).Period, 2, 0)
}

// Each reason for no estimate, and what is no block.
func TestJudgeRefuses(t *testing.T) {
	alike := unexamined(5)
	for i := range alike {
		alike[i].Largest = 1
	}
	hollow := unexamined(5)
	for i := range 7 {
		hollow[i].Found = false
	}
	for _, c := range []struct {
		what   string
		plates []Plate
		least  int
		why    string
	}{
		{"no plates", nil, 10, "no plate"},
		{"too few", unexamined(5)[4:], 10, "8 plates to fit, 10 needed"},
		{"most without an indication", hollow, 5, "not suitable: 7 of 12"},
		{"nothing left", blocks(), 10, "no area"},
		{"all alike", alike, 10, ErrNoSpread.Error()},
	} {
		e := Judge("soil", 6.35, c.plates, c.least)
		if e.Made || !strings.Contains(e.Why, c.why) {
			t.Errorf("%s: made %v, %q, want %q", c.what, e.Made, e.Why, c.why)
		}
	}
	mixed := unexamined(5)
	mixed[0].Examined = 89.9 // not examined enough: its share counts as not examined
	mixed[1].Area = 2        // smaller than half the median
	e := Judge("soil", 6.35, mixed, 5)
	if len(e.Blocks) != 10 || math.Abs(float64(e.Unexamined)-(25+5*0.101)) > 1e-9 {
		t.Errorf("%d blocks, %v m² not examined", len(e.Blocks), e.Unexamined)
	}
	mixed[0].Examined = 90
	if n := len(Judge("soil", 6.35, mixed, 5).Blocks); n != 11 {
		t.Errorf("exactly 90 %% examined is a block: %d", n)
	}
}
