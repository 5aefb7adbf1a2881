package repair

import (
	"math"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// example is the example tank of the method, section 1, unrepaired: soil pits
// 3.60 and 4.40, product pit 1.30 deep in 6.30 sound, soil MFL 35 % unproved.
func example() *builder {
	b := seven()
	b.pit("1", "2-2", 500, 500, 0, 0, 3.60).pit("2", "2-2", 1200, 800, 0, 0, 4.40)
	p := inspection.Indication{ID: label(b, "3"), Plate: label(b, "3-2"), X: b.mm(600), Y: b.mm(700), Side: given(b, "product"), Method: given(b, "visual"), Depth: b.mm(1.30)}
	m := inspection.Indication{ID: label(b, "4"), Plate: label(b, "2-1"), X: b.mm(1500), Y: b.mm(900), Side: given(b, "soil"), Method: given(b, "MFL"), Loss: given(b, unit.Percent(35))}
	b.in.Indications = append(b.in.Indications, p, m)
	return b
}

// Source: method section 7, check line, uncapped.
func TestPrintedThresholds(t *testing.T) {
	b := example().desired(10)
	res, r := b.assess()
	near1(t, "needed for 10 y", float64(r.Needed.V), 4.22305, 5e-6)
	if s := res.Steps.Find("threshold.needed"); s == nil || !s.Known || math.Abs(s.Value-4.22305) > 5e-6 {
		t.Errorf("step threshold.needed %+v", s)
	}
	if len(r.Thresholds()) != 15 {
		t.Fatalf("%d levels, want 15", len(r.Thresholds()))
	}
	want := map[float64]float64{2.75: 5.65938, 3.50: 6.29810, 3.75: 11.0514, 4.25: 11.0514, 4.50: 14.6164, 5.25: 15.0917}
	for i, l := range r.Thresholds() {
		near1(t, "level", float64(l.Below), 2.75+0.25*float64(i), 1e-9)
		if years, printed := want[float64(l.Below)]; printed {
			near1(t, "interval at "+unit.Round(float64(l.Below), 2), float64(l.Uncapped.V), years, 5e-5)
			delete(want, float64(l.Below))
		}
		if math.Abs(float64(l.Below)-4.25) < 1e-9 {
			near1(t, "closed form at 4.25", float64(l.AtLeast.V), 10.1601, 5e-5)
		}
		if i > 0 && l.Interval.Known && r.Thresholds()[i-1].Interval.V > l.Interval.V+1e-9 {
			t.Errorf("%v gives a shorter interval than the level before", l.Below)
		}
	}
	if len(want) > 0 {
		t.Errorf("levels not in the table: %v", want)
	}
	if l := r.Thresholds()[0]; l.Repairs != 0 || l.Area != 0 || l.Plates != 0 {
		t.Errorf("nothing lies below 2.75: %+v", l)
	}
}

func TestThresholdsWithoutGround(t *testing.T) {
	b := example()
	b.in.Tank.NominalThickness = inspection.Length{}
	_, r := b.assess()
	if r.Thresholds() != nil {
		t.Error("without a nominal there are no levels")
	}
	_, r = example().set(criteria.ThresholdStep, "0").assess()
	if r.Thresholds() != nil {
		t.Error("without a step there are no levels")
	}
}

// Property: repairing more never shortens the interval, at rates as found.
func TestMoreRepairsNeverShorten(t *testing.T) {
	seed := uint64(7)
	next := func(n int) int {
		seed = seed*6364136223846793005 + 1442695040888963407
		return int(seed>>33) % n
	}
	for round := range 12 {
		b := wide()
		for i := range 25 {
			plate := []string{"1-1", "1-2", "2-1", "2-2", "3-1", "3-2", "4-1", "4-2"}[next(8)]
			b.pit(string(rune('a'+i)), plate, 300+float64(next(9400)), 200+float64(next(4600)), float64(next(300)), float64(next(300)), 2+4*float64(next(100))/100)
		}
		_, r := b.assess()
		last := -1.0
		for _, l := range r.Thresholds() {
			if l.Interval.Known {
				if float64(l.Interval.V) < last-1e-9 {
					t.Errorf("floor %d: %v mm gives %v years after %v", round, l.Below, l.Interval.V, last)
				}
				last = float64(l.Interval.V)
			}
		}
		for i := range r.Items {
			for k := range i {
				a, c := &r.Items[i], &r.Items[k]
				if a.Kind != Patch || c.Kind != Patch {
					continue
				}
				if d, ok := r.shop.plan.ToBox(a.frame, a.own, c.frame, c.own); ok && d < 50-1e-6 {
					t.Errorf("floor %d: %s and %s are %v mm apart", round, a.Label, c.Label, d)
				}
			}
		}
	}
}

func TestThousandPatches(t *testing.T) {
	b := wide().desired(10).set(criteria.ReplacePlateAtPatches, "1000").set(criteria.ReplacePlateAtPatchShare, "100")
	n := 0
	for _, plate := range []string{"2-1", "2-2", "3-1", "3-2"} {
		from := 2000.0
		if plate[2] == '2' {
			from = 500
		}
		for u := range 25 {
			for v := range 10 {
				b.pit(string(rune('a'+u))+string(rune('a'+v)), plate, from+300*float64(u), 500+400*float64(v), 20, 20, 2.9)
				n++
			}
		}
	}
	_, r := b.assess()
	if len(r.Items) != n || r.Pieces != n {
		t.Errorf("%d repairs, %d pieces, want %d", len(r.Items), r.Pieces, n)
	}
	if r.Sheets < r.BoundDual || r.Sheets > r.BoundDual+1 {
		t.Errorf("%d sheets, bound %d", r.Sheets, r.BoundDual)
	}
	union := 0.0
	for i := range r.Items {
		union += float64(r.Items[i].Length) * float64(r.Items[i].Width) / 1e6
	}
	near1(t, "area of patches that stand apart", float64(r.Area), union, 1e-6)
}

func TestOddStock(t *testing.T) {
	for _, stock := range []string{"", "100x100", "30000x30000"} {
		b := wide().desired(10).pit("1", "2-1", 5000, 2500, 40, 60, 2.9)
		b.set(criteria.StockSheets, stock)
		_, r := b.assess()
		if len(r.Items) != 1 {
			t.Fatalf("%q: the repair stands whatever the steel", stock)
		}
		g := r.Cutting.Groups[0]
		switch stock {
		case "":
			if g.Layout != nil || g.Why == "" {
				t.Errorf("no stock: %+v", g)
			}
		case "100x100":
			if len(r.Cutting.Separate) != 1 || r.Sheets != 0 {
				t.Errorf("a sheet smaller than the piece: %+v", r.Cutting)
			}
		default:
			if r.Sheets != 1 {
				t.Errorf("%+v", r.Cutting)
			}
		}
	}
}

func TestCleanFloor(t *testing.T) {
	b := wide().desired(10)
	res, r := b.assess()
	if len(r.Items) != 0 || !r.Proposed || r.Pieces != 0 || r.Area != 0 {
		t.Errorf("%+v", r)
	}
	if res.Steps.Find("repair.area") != nil {
		t.Error("nothing to add up, no step")
	}
	_ = floor.General
}
