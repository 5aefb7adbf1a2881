package recount_test

import (
	"slices"
	"strings"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// The rules that rest on readings, dents and old patches, at their limit, a step
// above and a step below, in both unit systems. Source: the design's method,
// section 10; plate 5-1 is 6000 × 1800 of 6.35 mm.
func TestRulesBesideReadingsDentsAndOldPatchesAtTheirLimits(t *testing.T) {
	square := patch("R1", "5-1", 3000, 900, 300, 300)
	round := patch("R1", "5-1", 3000, 900, 300, 300, "Shape", "circle")
	thick := func(r invented.Row, mm float64) invented.Row {
		r = invented.Row{"Repair": r["Repair"], "Kind": r["Kind"], "Plate": r["Plate"], "X": r["X"], "Y": r["Y"], "Length": r["Length"], "Width": r["Width"], "Remarks": r["Remarks"], "Shape": r["Shape"]}
		r["Thickness"] = mm
		if r.Word("Shape") == "" {
			delete(r, "Shape")
		}
		return r
	}
	reading := func(x, y, mm float64) func(*invented.Tank) {
		return func(t *invented.Tank) {
			t.Readings = append(t.Readings, invented.Row{"Plate": "5-1", "X": x, "Y": y, "Thickness": mm})
		}
	}
	dent := func(x, y float64) func(*invented.Tank) {
		return func(t *invented.Tank) {
			t.Visual = rows(invented.Row{"ID": "V1", "Plate": "5-1", "X": x, "Y": y, "Item": "dent", "Observation": "dent", "Weight": "note"})
		}
	}
	old := func(x, y, l, w float64, shape string) func(*invented.Tank) {
		return func(t *invented.Tank) {
			q := invented.Row{"Patch": "E1", "Plate": "5-1", "X": x, "Y": y, "Length": l, "Width": w}
			if shape != "" {
				q["Shape"] = shape
			}
			t.Patches = rows(q)
		}
	}
	for _, c := range []struct {
		what   string
		repair invented.Row
		with   func(*invented.Tank)
		want   string
	}{
		{"reading at the edge", square, reading(3150, 900, 2.54), ""},
		{"thinner", square, reading(3150, 900, 2.53), "patch.perimeter"},
		{"thicker", square, reading(3150, 900, 2.55), ""},
		{"thinner, at the tolerance of places", square, reading(3175, 900, 2.53), "patch.perimeter"},
		{"thinner, beyond it", square, reading(3176, 900, 2.53), ""},
		{"thinner, at the tolerance within", square, reading(3126, 900, 2.53), "patch.perimeter"},
		{"thinner, well within", square, reading(3120, 900, 2.53), ""},
		{"thinner, at the round edge", round, reading(3150, 900, 2.53), "patch.perimeter"},
		{"thinner, at the corner of its box", round, reading(3150, 1050, 2.53), ""},
		{"over a dent, as thick as the floor", thick(square, 6.35), dent(3000, 900), ""},
		{"over a dent, thinner", thick(square, 6.34), dent(3000, 900), "patch.dent"},
		{"over a dent, thicker", thick(square, 6.36), dent(3000, 900), ""},
		{"dent on the edge", thick(square, 6.34), dent(3150, 900), "patch.dent"},
		{"dent off the edge", thick(square, 6.34), dent(3151, 900), ""},
		{"dent in the corner of a circle's box", thick(round, 6.34), dent(3149, 1049), ""},
		{"clear of an old patch", square, old(3300, 900, 200, 200, ""), ""},
		{"less", square, old(3299, 900, 200, 200, ""), "patch.weld_clearance"},
		{"more", square, old(3301, 900, 200, 200, ""), ""},
		{"corner to corner, 30 and 40", square, old(3280, 1190, 200, 200, ""), ""},
		{"corner to corner, 29 and 40", square, old(3279, 1190, 200, 200, ""), "patch.weld_clearance"},
		{"beyond an old patch", square, old(3000, 900, 200, 200, ""), ""},
		{"less beyond it", square, old(3001, 900, 200, 200, ""), "patch.beyond_seam"},
		{"more beyond it", square, old(3000, 900, 198, 198, ""), ""},
		{"a circle beyond a square", round, old(3000, 900, 141, 141, ""), ""}, // half its diagonal is 99.7
		{"a circle less beyond a square", round, old(3000, 900, 142, 142, ""), "patch.beyond_seam"},
		{"a circle beyond a circle", round, old(3000, 900, 200, 200, "circle"), ""},
		{"a circle less beyond a circle", round, old(3001, 900, 200, 200, "circle"), "patch.beyond_seam"},
	} {
		for _, system := range []unit.System{unit.SI, unit.US} {
			tank := planned(nil, rows(c.repair))
			c.with(tank)
			var got []string
			for _, k := range judged(t, tank, system).Repairs.Items[0].Checks {
				if k.Known && !k.OK {
					got = append(got, k.ID)
				}
			}
			slices.Sort(got)
			if text := strings.Join(got, " "); text != c.want {
				t.Errorf("%s in %v: fails %q, want %q", c.what, system, text, c.want)
			}
		}
	}
}
