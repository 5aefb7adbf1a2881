package statistics_test

import (
	"fmt"
	"math"
	"testing"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/statistics"
	"platebook/rules/unit"
)

func given[T any](v T) inspection.Field[T] {
	return inspection.Field[T]{Value: v, State: inspection.Given, Text: fmt.Sprint(v)}
}

// Counted by hand: six losses over bands 20, 40, 60, 80 %. A band holds its
// lower edge; boxes that overlap count their area once; what is not relevant
// counts nowhere, and a row without a value is told apart.
func TestTally(t *testing.T) {
	in := &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}
	mm := func(v float64) inspection.Length { return given(unit.Length(v)) }
	in.Tank.Diameter, in.Tank.NominalThickness, in.Tank.Lap = mm(20000), mm(10), mm(0)
	in.Plates = []inspection.Plate{{
		Row: inspection.Row{Key: "1-1"}, Label: given("1-1"), Type: given("rectangular"), Left: mm(-3000), Bottom: mm(-1000), Length: mm(6000), Width: mm(2000),
		MFLScanned: given(unit.Percent(100)),
	}}
	for i, r := range []struct {
		x, left      float64
		side, method string
		kind         string
	}{
		{500, 8.5, "soil", "UT", "pit"},             // 15 %
		{1500, 8.0, "soil", "UT", "pit"},            // 20 %: the second band
		{2500, 6.5, "soil", "UT", "pit"},            // 35 %
		{2550, 5.0, "soil", "UT", "pit"},            // 50 %, overlaps the one before by half
		{4500, 2.0, "product", "visual", "pit"},     // 80 %: the last band
		{5500, 1.0, "soil", "UT", "pit"},            // 90 %
		{3500, 3.0, "soil", "UT", "not relevant"},   // nowhere
		{3600, math.NaN(), "soil", "visual", "pit"}, // no value
	} {
		row := inspection.Indication{
			Row: inspection.Row{Key: fmt.Sprintf("1-1/%d", i+1)}, ID: given(fmt.Sprint(i + 1)), Plate: given("1-1"), X: mm(r.x), Y: mm(1000), Length: mm(100), Width: mm(50),
			Side: given(r.side), Method: given(r.method), Kind: given(r.kind),
		}
		if !math.IsNaN(r.left) {
			row.Remaining = mm(r.left)
		}
		in.Indications = append(in.Indications, row)
	}
	plan := floor.Place(in)
	got := statistics.Count(in, plan, assess.Assess(in, plan))
	if got.Count != 6 || got.Unknown != 1 {
		t.Errorf("%d counted, %d unknown, want 6 and 1", got.Count, got.Unknown)
	}
	want := []struct {
		from, to unit.Percent
		n        int
		area     float64
	}{{0, 20, 1, 0.005}, {20, 40, 2, 0.010}, {40, 60, 1, 0.005}, {60, 80, 0, 0}, {80, 100, 2, 0.010}}
	if len(got.All.Bands) != len(want) {
		t.Fatalf("%d bands, want %d", len(got.All.Bands), len(want))
	}
	for i, w := range want {
		b := got.All.Bands[i]
		if b.From != w.from || b.To != w.to || b.Count != w.n || !b.Area.Known || math.Abs(float64(b.Area.V)-w.area) > 1e-12 {
			t.Errorf("band %d: %+v, want %+v", i+1, b, w)
		}
	}
	if a := got.All.Area; !a.Known || math.Abs(float64(a.V)-0.0275) > 1e-12 {
		t.Errorf("area %v, want 0.0275 m²: half of one box lies under another", a)
	}
	sides := map[string]int{}
	for _, g := range got.BySide {
		sides[g.Name] = g.Count
	}
	if len(sides) != 2 || sides["soil"] != 5 || sides["product"] != 1 {
		t.Errorf("by side %v", sides)
	}
	if !got.Mean.Known || math.Abs(float64(got.Mean.V)-290.0/6) > 1e-9 {
		t.Errorf("mean %v, want %v", got.Mean, 290.0/6)
	}
}
