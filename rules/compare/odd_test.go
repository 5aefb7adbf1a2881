package compare_test

import (
	"math"
	"strings"
	"testing"

	"platebook/rules/compare"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

func one(t *testing.T, old, in *inspection.Inspection, was, is string, want compare.Class, why string) *compare.Pair {
	t.Helper()
	p := pairOf(t, judged(in, old), was, is)
	if p.Class != want || !strings.Contains(p.Why, why) {
		t.Errorf("%q (%s), want %q (%s)", p.Class, p.Why, want, why)
	}
	return p
}

// Old records often give no share of what was examined: what was found there
// shows that it was.
func TestCoverageNotRecorded(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, loss: 30}})
	for i := range old.Plates {
		old.Plates[i].MFLScanned = inspection.Percent{}
	}
	in := floorAt(now, []pit{{id: "2", plate: "2-2", x: 2000, y: 500, ut: 4.4}, {id: "3", plate: "2-1", x: 2000, y: 500, ut: 4.4}})
	if p := one(t, old, in, "", "2-2/2", compare.New, "is not recorded"); !p.Growth.Known {
		t.Error("no growth of a new pit")
	}
	one(t, old, in, "", "2-1/3", compare.Covered, "not examined then") // nothing says that it was
	old.Plates[4].NotExamined = given(unit.Percent(100))
	one(t, old, in, "", "2-2/2", compare.Covered, "not examined then")
}

// Metal renewed while the earlier inspection ran was not what it measured.
func TestRenewedDuringTheEarlierInspection(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 4}, {id: "2", plate: "2-1", x: 500, y: 500, ut: 4}})
	old.Tank.InspectionStart = given(then - 20)
	in := floorAt(now, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 4}, {id: "2", plate: "2-1", x: 500, y: 500, ut: 4}})
	in.Plates[4].Installed = given(then - 3)
	one(t, old, in, "2-2/1", "", compare.Repaired, "installed 2014-04-28 during the earlier inspection")
	one(t, old, in, "", "2-2/1", compare.Covered, "during the earlier inspection")
	one(t, old, in, "2-1/2", "2-1/2", compare.Unchanged, "")
	old.Plates[4].Installed = given(then - 3) // it was renewed before it was measured
	one(t, old, in, "2-2/1", "2-2/1", compare.Unchanged, "")

	old.Repairs = []inspection.Repair{{Row: inspection.Row{Key: "R1"}, Label: given("R1"), Kind: given("replace plate"), Plate: given("2-1"), Status: given("completed")}}
	one(t, old, in, "2-1/2", "", compare.Repaired, "R1")
	one(t, old, in, "", "2-1/2", compare.Covered, "renewed by repair R1")
}

// A patch that was completed at the earlier inspection and not listed since is
// metal that was not measured then.
func TestOnAPatchCompletedThen(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 3}})
	old.Repairs = []inspection.Repair{{
		Row: inspection.Row{Key: "R1"}, Label: given("R1"), Kind: given("patch"), Plate: given("2-2"), Status: given("completed"),
		X: given(unit.Length(500)), Y: given(unit.Length(500)), Length: given(unit.Length(300)), Width: given(unit.Length(300)), Thickness: given(unit.Length(6.35)),
	}}
	in := floorAt(now, []pit{{id: "5", plate: "2-2", x: 520, y: 500, ut: 4.5}, {id: "6", plate: "2-2", x: 700, y: 500, ut: 4.5}})
	one(t, old, in, "2-2/1", "", compare.Repaired, "R1")
	one(t, old, in, "", "2-2/5", compare.Covered, "on repair R1")
	one(t, old, in, "", "2-2/6", compare.New, "")
}

// A tombstone lies along the shell, also where two inspections are compared.
// Derived: 300 along it by 200 inward at 45° to the axes of 3-3, 9 m across: it
// reaches over the place 145 mm round the shell and 190 inward, and leaves out the
// one 181 mm round, where the plate's axes have it the other way about.
func TestTombstonesOfTwoInspections(t *testing.T) {
	pits := []pit{{id: "1", plate: "3-3", x: 1644, y: 1447.9, ut: 4}, {id: "2", plate: "3-3", x: 1462, y: 1710, ut: 4}}
	size := [4]inspection.Length{given(unit.Length(1611.3)), given(unit.Length(1611.3)), given(unit.Length(300)), given(unit.Length(200))}
	old, in := floorAt(then, pits), floorAt(now, nil)
	in.Patches = []inspection.Patch{{
		Row: inspection.Row{Key: "3-3/T1"}, Label: given("T1"), Plate: given("3-3"), Shape: given("tombstone"),
		X: size[0], Y: size[1], Length: size[2], Width: size[3], Thickness: given(unit.Length(6.35)), Installed: given(then + 900),
	}}
	one(t, old, in, "3-3/1", "", compare.Repaired, "under patch T1")
	one(t, old, in, "3-3/2", "", compare.Gone, "")
	in.Patches[0].Installed = inspection.Date{} // not listed then
	one(t, old, in, "3-3/1", "", compare.Repaired, "under patch T1")
	old.Patches = in.Patches
	one(t, old, in, "3-3/1", "", compare.Gone, "")

	old, in = floorAt(then, nil), floorAt(now, pits)
	old.Repairs = []inspection.Repair{{
		Row: inspection.Row{Key: "R1"}, Label: given("R1"), Kind: given("patch"), Plate: given("3-3"), Status: given("completed"), Shape: given("tombstone"),
		X: size[0], Y: size[1], Length: size[2], Width: size[3], Thickness: given(unit.Length(6.35)),
	}}
	one(t, old, in, "", "3-3/1", compare.Covered, "on repair R1")
	one(t, old, in, "", "3-3/2", compare.New, "")
}

// What one of the inspections judged not relevant is named where the other has
// it.
func TestJudgedNotRelevant(t *testing.T) {
	pits := []pit{{id: "1", plate: "2-2", x: 500, y: 500, loss: 50}}
	other := []pit{{id: "7", plate: "2-2", x: 520, y: 500, loss: 50}}
	old, in := floorAt(then, pits), floorAt(now, other)
	in.Indications[0].Kind = given("not relevant")
	one(t, old, in, "2-2/1", "", compare.Gone, "7 stands near it now, not relevant")
	old, in = floorAt(then, pits), floorAt(now, other)
	old.Indications[0].Kind = given("not relevant")
	one(t, old, in, "", "2-2/7", compare.New, "1 stood near it then, not relevant")
}

// A place that the last inspection missed is followed back to the one before.
func TestMissedInBetween(t *testing.T) {
	first := floorAt(unit.NewDate(2008, 5, 1), []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 5.0}, {id: "2", plate: "2-1", x: 500, y: 500, ut: 5.0}})
	second := floorAt(then, []pit{{id: "2", plate: "2-1", x: 500, y: 500, ut: 4.9}})
	third := floorAt(now, []pit{{id: "9", plate: "2-2", x: 520, y: 500, ut: 4.1}, {id: "8", plate: "2-1", x: 500, y: 500, ut: 4.8}, {id: "7", plate: "2-1", x: 580, y: 500, ut: 4.8}})
	a := judged(third, first, second)
	if p := pairOf(t, a, "", "2-2/9"); p.Class != compare.New || !strings.Contains(p.Why, "was there on 2008-05-01 as 2-2/1, missed since") {
		t.Errorf("%+v", p)
	}
	// the first inspection's 2 goes on as the second's 2, so it is not also 7
	if p := pairOf(t, a, "", "2-1/7"); strings.Contains(p.Why, "was there") {
		t.Errorf("%+v", p)
	}
	if a.Comparison.Missed != 1 || len(a.Comparison.Trends) != 2 {
		t.Fatalf("missed %d, trends %+v", a.Comparison.Missed, a.Comparison.Trends)
	}
	for _, tr := range a.Comparison.Trends {
		if tr.Labels[0] != "2-2/1" {
			continue
		}
		near(t, "rate of the place missed", tr.Fit.Rate, 0.9/float64(unit.NewDate(2026, 5, 1).YearsSince(unit.NewDate(2008, 5, 1))))
		if tr.Fit.SE.Known || len(tr.Dates) != 2 {
			t.Errorf("%+v", tr)
		}
	}
}

// A nominal in question gives no growth, but two UT values show their change.
func TestChangeOnAPlateInQuestion(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 5.0}})
	in := floorAt(now, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 3.6}})
	in.Plates[4].Nominal = given(unit.Length(8))
	p := one(t, old, in, "2-2/1", "2-2/1", compare.NotJudged, "a question")
	if p.Growth.Known || !p.Delta.Known || math.Abs(float64(p.Delta.V)-1.4) > 1e-12 {
		t.Errorf("%+v", p)
	}
}
