package repair

import (
	"testing"

	"platebook/rules/floor"
	"platebook/rules/unit"
)

func TestPlannedRows(t *testing.T) {
	b := wide().desired(10).
		pit("1", "2-1", 5000, 2500, 40, 60, 2.9).
		pit("2", "2-1", 7000, 2500, 40, 60, 3.0).
		spot("3", "3-1", 5000, 2500, 40, 60, 3.1, "product").
		repair("P1", "patch", "2-1", 5000, 2500, 200, 200, 0, "").
		repair("P2", "patch", "2-1", 7100, 2500, 200, 200, 0, "", "2").
		repair("P3", "weld build-up", "3-1", 5000, 2500, 200, 200, 0, "").
		repair("P4", "replace plate", "4-1", 0, 0, 0, 0, 8, "").
		repair("P5", "line", "1-1", 5000, 2500, 1000, 1000, 0, "")
	res, r := b.assess()
	if r.Proposed || len(r.Items) != 5 || r.Items[0].Label != "P5" {
		t.Fatalf("rows stand in crew order, by plate: %+v", r.Items)
	}
	p1 := r.Item("P1")
	if len(p1.IDs) != 1 || p1.IDs[0] != "1" || p1.Thickness.V != 6.35 || p1.Failed() {
		t.Errorf("P1: %v %v %v", p1.IDs, p1.Thickness, p1.Failures(unit.SI))
	}
	p2 := r.Item("P2")
	if len(p2.Locations) != 0 {
		t.Errorf("P2 lists 2 and does not cover it: %v", p2.IDs)
	}
	for _, c := range p2.Checks {
		if c.ID == "patch.overlap" {
			t.Error("what a row lists without covering it is another finding")
		}
	}
	passes(t, r.Item("P3"), map[string]bool{"buildup.remaining": true})
	if r.Pieces != 2 || len(r.Cutting.Separate) != 1 {
		t.Errorf("two patches to cut, a plate apart: %d, %+v", r.Pieces, r.Cutting.Separate)
	}
	for _, l := range res.Locations {
		if l.Label == "2-1/2" && l.Repair != "" {
			t.Error("the pit that is not covered stays")
		}
	}
}

func TestBuildUpLimits(t *testing.T) {
	item := func(rest float64, side string) *Item {
		_, r := wide().desired(10).spot("3", "3-1", 5000, 2500, 40, 60, rest, side).repair("P3", "weld build-up", "3-1", 5000, 2500, 200, 200, 0, "").assess()
		return r.Item("P3")
	}
	passes(t, item(2.54, "product"), map[string]bool{"buildup.remaining": true})
	passes(t, item(2.53, "product"), map[string]bool{"buildup.remaining": false})
	passes(t, item(3.5, "soil"), map[string]bool{"buildup.remaining": false})
}

func TestCriticalPatchRules(t *testing.T) {
	plan := floor.Place(wide().in)
	place := func(fromShell, y float64) (float64, float64) {
		at, _ := plan.PlanToLocal(2, floor.Point{X: -10000 + fromShell, Y: y})
		u, v, _ := plan.FromLocal(2, at)
		return u, v
	}
	x, y := place(150, -2000)
	b := wide().desired(10).pit("1", "2-1", x, y, 40, 60, 2.9).old("E1", "2-1", x+50, y, 200, 200).
		repair("P1", "patch", "2-1", x, y, 300, 300, 6.35, "tombstone")
	_, r := b.assess()
	passes(t, r.Item("P1"), map[string]bool{"critical.patch_on_patch": false, "critical.spacing": false})

	// clear metal of half the lesser dimension: 150 mm between two of 300
	b = wide().desired(10).repair("P1", "patch", "2-1", x, y, 300, 300, 6.35, "").repair("P2", "patch", "2-1", x+150, y+450, 300, 300, 6.35, "")
	_, r = b.assess()
	passes(t, r.Item("P1"), map[string]bool{"critical.spacing": true})
	b.in.Repairs[1].Y.Value -= 1
	_, r = b.assess()
	passes(t, r.Item("P1"), map[string]bool{"critical.spacing": false})
}

func TestOutsideAndRowsWithoutPlace(t *testing.T) {
	_, r := wide().desired(10).
		repair("P1", "patch", "1-1", 100, 100, 300, 300, 6.35, "").
		repair("P2", "patch", "2-1", 0, 0, 0, 0, 6.35, "").
		repair("P3", "patch", "9-9", 100, 100, 300, 300, 6.35, "").assess()
	if len(r.Items) != 2 {
		t.Fatalf("a row on no plate is another finding: %+v", r.Items)
	}
	passes(t, r.Item("P1"), map[string]bool{"patch.inside": false})
	for _, c := range r.Item("P2").Checks {
		if c.Known {
			t.Errorf("without place and size nothing is judged: %+v", c)
		}
	}
	if len(r.Cutting.Unknown) != 1 {
		t.Errorf("%+v", r.Cutting)
	}
}

// A mirrored floor gets mirrored repairs: datum corner and X change together.
func TestMirroredFloorMirrorsRepairs(t *testing.T) {
	at := [][2]float64{{2000, 1000}, {2160, 1100}, {9980, 2500}, {5000, 4990}, {7000, 300}}
	build := func(mirror bool) *Result {
		b := wide().desired(10)
		for i, p := range at {
			plate, x := "2-1", p[0]
			if mirror {
				plate = "2-2"
			}
			b.pit(string(rune('1'+i)), plate, x, p[1], 40, 60, 2.9)
		}
		if mirror {
			b.in.Plates[3].DatumCorner = given(b, floor.BottomRight)
		}
		_, r := b.assess()
		return r
	}
	a, c := build(false), build(true)
	if len(a.Items) != len(c.Items) {
		t.Fatalf("%d and %d repairs", len(a.Items), len(c.Items))
	}
	for i := range a.Items {
		p, q := &a.Items[i], &c.Items[i]
		near1(t, p.Label+" x", float64(q.X), float64(p.X), 1e-6)
		near1(t, p.Label+" y", float64(q.Y), float64(p.Y), 1e-6)
		near1(t, p.Label+" length", float64(q.Length), float64(p.Length), 1e-6)
		near1(t, p.Label+" width", float64(q.Width), float64(p.Width), 1e-6)
	}
}
