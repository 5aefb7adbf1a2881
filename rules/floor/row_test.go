package floor

import (
	"math"
	"slices"
	"testing"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

func TestNaturalOrder(t *testing.T) {
	want := []string{"1", "02", "3-4", "3-9", "3-10", "14", "14a", "A1", "a2", "A10", "B"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, NaturalOrder)
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	if NaturalOrder("3-04 A", "3-4a") != 0 {
		t.Error("labels equal when folded must be level")
	}
}

func TestMissingNumbersLeaveNoGap(t *testing.T) {
	in := sixMetre()
	for i := range in.Plates { // rows 2, 5, 10, 14a; positions 3, 7, 11
		w := &in.Plates[i]
		w.RowNo = given(map[string]string{"1": "2", "2": "5", "3": "10", "4": "14a"}[w.RowNo.Value])
		w.Position = given(map[string]string{"1": "3", "2": "7", "3": "11"}[w.Position.Value])
	}
	slices.Reverse(in.Plates) // order in the sheet does not matter either
	a, b := Place(in), Place(sixMetre())
	for i := range a.Plates {
		if o := b.Plates[len(b.Plates)-1-i].Origin; a.Plates[i].Origin != o {
			t.Errorf("plate %d at %v, want %v", i, a.Plates[i].Origin, o)
		}
	}
}

func TestGivenCoordinatesReplaceTheirOwn(t *testing.T) {
	in := sixMetre()
	in.Plates[2].Left = mm(100)
	in.Plates[4].Bottom = mm(-30)
	in.Plates[6].Turned = deg(180)
	p, base := Place(in), Place(sixMetre())
	if o := p.Plates[2].Origin; o != (Point{100, -1775}) || !p.Plates[2].Automatic {
		t.Errorf("given Left: %v", o)
	}
	if o := p.Plates[4].Origin; o != (Point{-1500, -30}) {
		t.Errorf("given Bottom: %v", o)
	}
	if p.Plates[1].Origin != base.Plates[1].Origin || p.Plates[3].Origin != base.Plates[3].Origin {
		t.Error("the row's other plates stay")
	}
	// turned by 180 without coordinates: the box stays, its origin at the upper right
	if o := p.Plates[6].Origin; o != (Point{2500, 1725 + 1800}) {
		t.Errorf("turned: %v", o)
	}
	at, _ := p.ToPlan(6, 100, 200)
	if at != (Point{2400, 3325}) {
		t.Errorf("turned plate, X 100, Y 200: %v", at)
	}
	closeTo(t, "turned cut", float64(p.Plates[6].CutArea), float64(base.Plates[6].CutArea), 1e-12)
}

func TestTurnedNinety(t *testing.T) {
	in := tank(20000, 0)
	placed(in, "1", 1000, 500, 3000, 1200).Turned = deg(90)
	in.Plates[0].DatumCorner = given(TopLeft)
	p := Place(in)
	// u runs up, v runs left: top left datum is u 0, v 1200 → x −200, y 500
	at, _ := p.ToPlan(0, 0, 0)
	if at != (Point{-200, 500}) {
		t.Errorf("datum at %v", at)
	}
	at, _ = p.ToPlan(0, 3000, 1200)
	if at != (Point{1000, 3500}) {
		t.Errorf("far corner at %v", at)
	}
	if p.Plates[0].Automatic {
		t.Error("placed by its own coordinates")
	}
}

// TestUnusableFieldsAreNotGuessed leaves plates without a place, and says why.
func TestUnusableFieldsAreNotGuessed(t *testing.T) {
	for name, c := range map[string]struct {
		spoil  func(*inspection.Inspection)
		placed []bool // 1-1, 2-1, 2-2, 3-1, 3-2, 3-3, 4-1
		why    string // of the plate spoilt
		plate  int
	}{
		"length wrong": {
			func(in *inspection.Inspection) { in.Plates[4].Length = wrong[unit.Length]("3,000") },
			[]bool{true, true, true, false, false, false, true},
			"its Length is not known", 4,
		},
		"length blank": {
			func(in *inspection.Inspection) { in.Plates[4].Length = inspection.Length{} },
			[]bool{true, true, true, false, false, false, true},
			"its Length is not known", 4,
		},
		"width wrong": {
			func(in *inspection.Inspection) { in.Plates[4].Width = wrong[unit.Length]("?") },
			[]bool{true, true, true, true, false, true, true},
			"its Width is not known", 4,
		},
		"all widths of a row": {
			func(in *inspection.Inspection) { in.Plates[0].Width = inspection.Length{} },
			make([]bool, 7), "its Width is not known", 0,
		},
		"position wrong": {
			func(in *inspection.Inspection) { in.Plates[1].Position = wrong[string]("2-Jan") },
			[]bool{true, false, false, true, true, true, true},
			"the Position of 2-1 in its row is not known", 1,
		},
		"position twice": {
			func(in *inspection.Inspection) { in.Plates[1].Position = given("2") },
			[]bool{true, false, false, true, true, true, true},
			"its row has two plates in one position: 2-1, 2-2", 1,
		},
		"left wrong": {
			func(in *inspection.Inspection) { in.Plates[1].Left = wrong[unit.Length]("x") },
			[]bool{true, false, true, true, true, true, true},
			"its Left is not known", 1,
		},
		"turned wrong": {
			func(in *inspection.Inspection) { in.Plates[1].Turned = wrong[unit.Angle]("x") },
			[]bool{true, false, true, true, true, true, true},
			"how far it is turned is not known", 1,
		},
		"turned 90 in a row": {
			func(in *inspection.Inspection) { in.Plates[0].Turned = deg(45) },
			[]bool{false, true, true, true, true, true, true},
			"a turned plate needs Left and Bottom", 0,
		},
		"lap wrong": {
			func(in *inspection.Inspection) { in.Tank.Lap = wrong[unit.Length]("x") },
			make([]bool, 7), "the Lap is not known", 0,
		},
		"row blank": {
			func(in *inspection.Inspection) { in.Plates[6].RowNo = inspection.Label{} },
			[]bool{true, true, true, true, true, true, false},
			"it has neither Row and Position nor Left and Bottom", 6,
		},
	} {
		in := sixMetre()
		c.spoil(in)
		p := Place(in)
		for i, want := range c.placed {
			if p.Plates[i].Placed != want {
				t.Errorf("%s: plate %d placed %v (%s)", name, i, !want, p.Plates[i].Why)
			}
			if p.Plates[i].Placed == (p.Plates[i].Why != "") {
				t.Errorf("%s: plate %d placed %v, why %q", name, i, p.Plates[i].Placed, p.Plates[i].Why)
			}
		}
		if p.Plates[c.plate].Why != c.why {
			t.Errorf("%s: %q", name, p.Plates[c.plate].Why)
		}
		if p.Balance.Known {
			t.Errorf("%s: a balance without all plates", name)
		}
	}
}

func TestDiameterUnknown(t *testing.T) {
	in := sixMetre()
	in.Tank.Diameter = wrong[unit.Length]("30 m?")
	p := Place(in)
	if p.FloorArea.Known || p.Balance.Known || p.Coverage.MFL.Known || p.RimKnown {
		t.Error("nothing about the floor is known")
	}
	for i := range p.Plates {
		pl := &p.Plates[i]
		if !pl.Placed || pl.Measured || pl.CutArea != 0 || len(pl.Cut) != 1 {
			t.Errorf("plate %d: %+v", i, pl)
		}
		if z := p.ZoneOf(i, Box{0, 0, 10, 10}, 76.2); z != "" {
			t.Errorf("zone %q", z)
		}
	}
	if p.BoxArea(0, Box{0, 0, 10, 10}).Known {
		t.Error("the area of a box on an unmeasured plate")
	}
	if at, ok := p.ToPlan(0, 0, 0); !ok || at != (Point{-2500, -3525}) {
		t.Errorf("place %v", at)
	}
}

func TestRingOfUnknownWidth(t *testing.T) {
	in := bricks(30000, 50, 6000, 1800, 700)
	in.Tank.AnnularWidth = inspection.Length{}
	p := Place(in)
	if p.RimKnown || p.Balance.Known || p.Plates[0].Measured || p.Holes() != nil {
		t.Error("where the floor plates end is not known")
	}
	if !p.FloorArea.Known || !p.Plates[len(p.Plates)-1].Measured {
		t.Error("the shell and the ring are known")
	}
}

func TestNorthUnknown(t *testing.T) {
	in := bricks(30000, 50, 6000, 1800, 700)
	in.Tank.PlanUpBearing = wrong[unit.Angle]("NE")
	sump(in, "S", 10, 3000, 500, 500, 0)
	p := Place(in)
	if p.NorthKnown || len(p.Openings) != 0 || p.Plates[len(p.Plates)-1].Placed || !p.Plates[0].Placed {
		t.Error("bearings lead nowhere, rows stand")
	}
	if !math.IsNaN(p.Bearing(Point{1, 1})) {
		t.Error("a bearing without north")
	}
	if z := p.ZoneOf(len(p.Plates)-1, BoxAt(Point{0, 50}, 1, 1), 76.2); z != Critical {
		t.Errorf("the shell is near wherever north is: %q", z)
	}
}

func TestCoverage(t *testing.T) {
	in := tank(4000, 0)
	w := placed(in, "1", -2000, -2000, 4000, 2000) // two half discs: equal net areas
	w.MFLScanned, w.HandScanned, w.NotExamined = pct(90), pct(6), pct(2)
	w = placed(in, "2", -2000, 0, 4000, 2000)
	w.MFLScanned, w.UTGridded, w.HandScanned = pct(50), pct(40), wrong[unit.Percent]("most")
	p := Place(in)
	closeTo(t, "MFL", float64(p.Coverage.MFL.V), 70, 1e-9)
	closeTo(t, "hand", float64(p.Coverage.Hand.V), 3, 1e-9)
	closeTo(t, "UT", float64(p.Coverage.UT.V), 20, 1e-9)
	// missing to 100: 2 + 2 on plate 1, 10 on plate 2
	closeTo(t, "not examined", float64(p.Coverage.NotExamined.V), 7, 1e-9)
}

func TestSegmentsByBearing(t *testing.T) {
	in := tank(10000, 0)
	in.Tank.AnnularRing, in.Tank.AnnularWidth = given("yes"), mm(600)
	segment(in, "over north", 350, 20, 600)
	segment(in, "whole", 0, 360, 600)
	segment(in, "nothing", 40, 40, 600)
	segment(in, "no end", 0, 0, 600).EndBearing = inspection.Angle{}
	p := Place(in)
	annulus := math.Pi * (25 - 4.4*4.4)
	closeTo(t, "30°", float64(p.Plates[0].NetArea), annulus/12, 1e-9)
	closeTo(t, "arc", p.Plates[0].Length, math.Pi/6*5000, 1e-9)
	closeTo(t, "360°", float64(p.Plates[1].NetArea), annulus, 1e-9)
	if p.Plates[2].Placed || p.Plates[3].Placed {
		t.Error("placed without an arc")
	}
}

func TestEmptyAndOutside(t *testing.T) {
	p := Place(&inspection.Inspection{})
	if len(p.Plates) != 0 || p.FloorArea.Known || p.Balance.Known || p.Coverage.NotExamined.Known {
		t.Errorf("%+v", p)
	}
	in := tank(10000, 0)
	placed(in, "7-9", 6000, 0, 1000, 1000)
	placed(in, "1", -500, -500, 1000, 1000)
	p = Place(in)
	if !p.OutsideTank(0) || p.OutsideTank(1) || p.Plates[0].CutArea != 0 || !p.Plates[0].Placed {
		t.Errorf("%+v", p.Plates[0])
	}
	if s := p.Inside(0, 500, 500, 25); s.Fault != OutsideRim {
		t.Errorf("%+v", s)
	}
	for _, i := range []int{-1, 2} { // no such plate
		if _, ok := p.ToPlan(i, 0, 0); ok || p.ZoneOf(i, Box{}, 76.2) != "" || p.BoxArea(i, Box{}).Known {
			t.Error("a plate that is not there")
		}
	}
}
