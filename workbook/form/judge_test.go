package form_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"platebook/rules/floor"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/form"
)

// A generated layout, written, read back and placed by the program's own
// geometry, covers the floor: the areas balance, every plate has a place
// within the rim and is called a sketch plate exactly when it is cut.
func TestGeneratedLayoutIsPlacedAsMeant(t *testing.T) {
	for _, o := range []form.Options{
		{Diameter: 30_000, PlateLength: 6000, PlateWidth: 1800, Lap: 50, AnnularWidth: 700},
		{Diameter: 30_000, PlateLength: 6000, PlateWidth: 1800},
		{Units: unit.US, Diameter: 100 * unit.Foot, PlateLength: 20 * unit.Foot, PlateWidth: 6 * unit.Foot, Lap: 2 * unit.Inch},
		{Units: unit.US, Diameter: 150 * unit.Foot, PlateLength: 30 * unit.Foot, PlateWidth: 8 * unit.Foot, Lap: 1.5 * unit.Inch, AnnularWidth: 28 * unit.Inch},
		{Diameter: 6000, PlateLength: 5000, PlateWidth: 1800, Lap: 50},
		{Diameter: 3600, PlateLength: 3000, PlateWidth: 1500, Lap: 30, AnnularWidth: 300},
		{Diameter: 90_000, PlateLength: 9000, PlateWidth: 2400, Lap: 50, AnnularWidth: 1200},
	} {
		name := fmt.Sprintf("%s %.0f %.0fx%.0f lap %.0f ring %.0f", o.Units, o.Diameter, o.PlateWidth, o.PlateLength, o.Lap, o.AnnularWidth)
		var out bytes.Buffer
		if err := form.Write(&out, o); err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		book, err := workbook.OpenBytes(context.Background(), "new.xlsx", out.Bytes(), workbook.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, h := range book.Hits {
			if h.Rule != "C301" || h.Kind != "Tank" {
				t.Errorf("%s: %s %s", name, h.Rule, h.Message)
			}
		}
		in := book.Inspection
		plan := floor.Place(in)
		if !plan.Balance.Known || math.Abs(float64(plan.Balance.V)) > 1 {
			t.Errorf("%s: balance %+v %%", name, plan.Balance)
		}
		for i, p := range plan.Plates {
			row := &in.Plates[i]
			if !p.Placed || p.CutArea <= 0 {
				t.Errorf("%s: plate %s has no place", name, row.Label.Value)
				continue
			}
			if p.Sector {
				continue
			}
			whole := float64(p.CutArea) > p.Length*p.Width/1e6-1e-6
			if whole != strings.EqualFold(row.Type.Value, "rectangular") {
				t.Errorf("%s: plate %s is %s, cut %.3f of %.3f m²", name, row.Label.Value, row.Type.Value, p.CutArea, p.Length*p.Width/1e6)
			}
		}
	}
}
