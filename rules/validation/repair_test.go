package validation

import (
	"fmt"

	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/nest"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

// wide is a floor with room: two rows of plates of 10 by 5 m.
func wide(sys unit.System) *inspection.Inspection {
	in := tank(40000)
	in.Criteria = criteria.Defaults(sys)
	t := &in.Tank
	t.Lap, t.NominalThickness, t.DesiredInterval = mm(50), mm(6.35), given(unit.Years(10))
	t.FloorInstalled, t.InspectionEnd = given(day("2001-05-01")), given(day("2026-05-01"))
	t.MaximumFillHeight, t.SpecificGravity = mm(13900), given(unit.Ratio(0.85))
	for row := range 2 {
		for pos := range 2 {
			label := fmt.Sprintf("%d-%d", row+1, pos+1)
			p := plate(in, label, 0, 0, 10025, 5000)
			p.Left, p.Bottom = inspection.Length{}, inspection.Length{}
			p.RowNo, p.Position, p.MFLScanned = given(fmt.Sprint(row+1)), given(fmt.Sprint(pos+1)), given(unit.Percent(100))
		}
	}
	return in
}

// pitAt adds a pit measured by UT.
func pitAt(in *inspection.Inspection, id, plate, side string, x, y, length, width, left float64) {
	i := inspection.Indication{
		Row: inspection.Row{Sheet: "Indications", Number: len(in.Indications) + 2, Key: plate + "/" + id},
		ID:  given(id), Plate: given(plate), X: mm(x), Y: mm(y), Side: given(side), Method: given("UT"), Remaining: mm(left), Kind: given("pit"),
	}
	if length > 0 {
		i.Length, i.Width = mm(length), mm(width)
	}
	in.Indications = append(in.Indications, i)
}

func repairs(r *record) {
	r.subject = "Patches: sizes, welds, mass"
	seam := func(us bool, x, length, width, wantL, wantW float64, inputs string) {
		in := wide(unit.SI)
		if us {
			in.Criteria = criteria.Defaults(unit.US)
			d, _ := criteria.Find(criteria.PatchSizeStep)
			v, err := d.Parse(unit.US, "0")
			if err != nil {
				r.t.Fatal(err)
			}
			in.Criteria.Put(criteria.PatchSizeStep, v)
		}
		pitAt(in, "1", "1-1", "soil", x, 2500, length, width, 2.9)
		items := rules.Assess(in, nil, nil).Repairs.Items
		if len(items) != 1 {
			r.t.Errorf("%s: %d repairs", inputs, len(items))
			return
		}
		r.number("length of the patch", inputs, wantL, float64(items[0].Length), 1e-6, "mm")
		r.number("width of the patch", inputs, wantW, float64(items[0].Width), 1e-6, "mm")
	}
	r.from("Procedure of Tank Repair (site procedure restating API 653, 9.10.1), scribd.com/document/625941001; US set, step 0", published)
	seam(true, 5000, 40, 60, 152.4, 161.6, "box 40 × 60: at least 6 in, 2 in overlap")
	seam(true, 10000, 40, 60, 304.8, 304.8, "box 40 × 60 over a seam: at least 12 in")
	r.from(methodP+"10", derived)
	seam(false, 5000, 40, 60, 150, 160, "box 40 × 60")
	seam(false, 10000, 40, 60, 300, 300, "box 40 × 60 over a seam")
	seam(false, 5000, 250, 180, 350, 280, "box 250 × 180")
	seam(false, 10000, 250, 180, 350, 300, "box 250 × 180 over a seam")
	seam(true, 5000, 250, 180, 351.6, 281.6, "box 250 × 180, US set, step 0")
	seam(true, 10000, 250, 180, 351.6, 304.8, "box 250 × 180 over a seam, US set, step 0")
	r.number("weld", "150 × 160, corner radius 50", 534.159, float64(repair.WeldLength(150, 160, 50)), 5e-4, "mm")
	r.number("weld of a tombstone", "150 along the shell × 160, corner radius 50", 384.159, float64(repair.TombstoneWeld(150, 160, 50)), 5e-4, "mm")
	r.number("weld of a round patch", "300 across", 942.478, float64(repair.CircleWeld(300)), 5e-4, "mm")
	r.number("mass", "150 × 160 × 6.35 mm", 1.19634, float64(repair.BlankMass(150, 160, 6.35)), 5e-6, "kg")
	scope(r)

	var set struct {
		US []struct {
			Thickness string  `json:"thickness_in"`
			MM        float64 `json:"mm"`
			PerM2     float64 `json:"kg_per_m2_from_7850"`
			Printed   float64 `json:"published_lb_per_ft2"`
		} `json:"us_thickness"`
		EN []struct {
			MM    float64 `json:"thickness_mm"`
			PerM2 float64 `json:"kg_per_m2"`
		} `json:"en_thickness"`
		Sheets []struct {
			Size [2]float64 `json:"size_mm"`
			MM   float64    `json:"thickness_mm"`
			Mass float64    `json:"mass_kg"`
		} `json:"en_stock_sheets"`
	}
	r.read("plates/plate_weights.json", &set)
	r.from("plate weights on 7,850 kg/m³: ASTM A6/A6M, trade tables", published)
	var us, en, sheets worst
	for _, c := range set.US {
		us.hold(c.Thickness+" in", c.PerM2, float64(repair.BlankMass(1000, 1000, unit.Length(c.MM))), 1e-6*c.PerM2)
	}
	for _, c := range set.EN {
		en.hold(fmt.Sprintf("%v mm", c.MM), c.PerM2, float64(repair.BlankMass(1000, 1000, unit.Length(c.MM))), 1e-6*c.PerM2)
	}
	for _, c := range set.Sheets {
		sheets.hold(fmt.Sprintf("%v × %v × %v mm", c.Size[0], c.Size[1], c.MM), c.Mass, float64(repair.BlankMass(unit.Length(c.Size[0]), unit.Length(c.Size[1]), unit.Length(c.MM))), 1e-6*c.Mass)
	}
	r.set("mass of plate", "thicknesses in inches", us, "kg/m²")
	r.set("mass of plate", "thicknesses in mm", en, "kg/m²")
	r.set("mass of stock sheets", "European sizes", sheets, "kg")
	for _, c := range set.US {
		if c.Thickness == "1/4" {
			got := float64(repair.BlankMass(unit.Foot, unit.Foot, unit.Length(c.MM))) / unit.MassKind.Factor(unit.US)
			r.number("printed weight of 1/4 in plate", "1 ft², basis 7,850 kg/m³", c.Printed, got, 0.005, "lb")
		}
	}
}

// scope is what a county's repair scope and the trade say of patches in the
// critical zone, put to the checks of planned repairs.
func scope(r *record) {
	r.from(county+"451253, p. 36: bottom repair scope, 2010", published)
	planned := func(x, y, length, width, thickness float64, shape string) *repair.Item {
		in := tank(40000)
		t := &in.Tank
		t.NominalThickness, t.DesiredInterval = mm(6.35), given(unit.Years(10))
		t.FloorInstalled, t.InspectionEnd = given(day("2001-05-01")), given(day("2026-05-01"))
		t.MaximumFillHeight, t.SpecificGravity = mm(5000), given(unit.Ratio(0.85))
		p := plate(in, "1-1", 14000, -3000, 6000, 6000)
		p.MFLScanned = given(unit.Percent(100))
		pitAt(in, "1", "1-1", "soil", x, y, 40, 40, 2.667)
		q := inspection.Repair{
			Row: inspection.Row{Sheet: "Planned repairs", Number: 2, Key: "R1"}, Label: given("R1"), Kind: given("patch"), Plate: given("1-1"),
			X: mm(x), Y: mm(y), Length: mm(length), Width: mm(width), Thickness: mm(thickness), Status: given("planned"), Shape: given(shape),
		}
		in.Repairs = append(in.Repairs, q)
		return rules.Assess(in, nil, nil).Repairs.Item("R1")
	}
	verdict := func(it *repair.Item, id string) string {
		if it == nil {
			return "no repair"
		}
		for _, c := range it.Checks {
			if c.ID == id && c.Known {
				return passFail(c.OK)
			}
		}
		return "not checked"
	}
	// near the shell of D 40 m: the rim is at x 20 m, 6 m from the plate's left
	// edge
	good := planned(5850, 3000, 500, 300, 6.35, "tombstone")
	r.text("patch of 1/4 in in the critical zone", "left 0.105 in, tombstone 500 mm along the shell", "pass", verdict(good, "critical.thickness"))
	r.text("patch up to 24 in along the shell", "500 mm", "pass", verdict(good, "critical.length"))
	thick := planned(5850, 3000, 500, 300, 9.525, "tombstone")
	r.text("patch over 1/4 in in the critical zone", "3/8 in", "fail", verdict(thick, "critical.thickness"))
	r.from("public engineering forum, eng-tips.com, threads on API 653 critical-zone repairs, 515104 and beside it", published)
	long := planned(5850, 3000, 700, 300, 6.35, "tombstone")
	r.text("patch over 24 in along the shell", "700 mm", "fail", verdict(long, "critical.length"))
	square := planned(5700, 3000, 300, 500, 6.35, "rounded rectangle")
	r.text("nearer than 6 in to the shell, no tombstone", "side 150 mm or less from the shell", "fail", verdict(square, "critical.tombstone"))
}

func cutting(r *record) {
	r.subject = "Cutting list"
	r.from(methodP+"11", derived)
	sheets := func(pieces []nest.Size, stock nest.Size, rules nest.Rules) *nest.Layout {
		l, err := nest.Cut(pieces, []nest.Size{stock}, rules)
		if err != nil {
			r.t.Fatal(err)
		}
		if err := nest.Verify(pieces, []nest.Size{stock}, rules, l); err != nil {
			r.t.Errorf("layout: %v", err)
		}
		return l
	}
	many := func(n int, side float64) []nest.Size {
		out := make([]nest.Size, n)
		for i := range out {
			out[i] = nest.Size{Length: side, Width: side}
		}
		return out
	}
	sheet, shop := nest.Size{Length: 3000, Width: 1500}, nest.Rules{Kerf: 3, Trim: 10, Turn: true}
	r.number("sheets", "eight of 700 × 700 on 1500 × 3000, trim 10, kerf 3", 1, float64(len(sheets(many(8, 700), sheet, shop).Sheets)), 0, "")
	r.number("sheets", "nine of 700 × 700 on 1500 × 3000, trim 10, kerf 3", 2, float64(len(sheets(many(9, 700), sheet, shop).Sheets)), 0, "")
	l := sheets(many(5, 510), nest.Size{Length: 1000, Width: 1000}, nest.Rules{Turn: true})
	r.number("bound by area", "five of 510 × 510 on 1000 × 1000", 2, float64(l.BoundArea), 0, "")
	r.number("bound by dual-feasible functions", "five of 510 × 510 on 1000 × 1000", 5, float64(l.BoundDual), 0, "")
	r.number("yield", "eight of 700 × 700 on 1500 × 3000", 87.111, sheets(many(8, 700), sheet, shop).Yield(), 5e-4, "%")

	type instance struct {
		ID, Name   string
		Plate      []float64
		StripWidth float64 `json:"strip_width"`
		Rotation   bool
		Kerf       float64
		Items      [][]float64
		Expected   struct {
			MinPlates *int    `json:"min_plates"`
			Upper     int     `json:"guillotine_upper_bound"`
			Height    int64   `json:"optimal_height"`
			MaxArea   float64 `json:"unconstrained_guillotine_max_area"`
		}
	}
	load := func(name string) []instance {
		var s struct{ Cases, Instances []instance }
		r.read("packing/"+name, &s)
		return append(s.Cases, s.Instances...)
	}
	sizes := func(i instance) []nest.Size {
		var out []nest.Size
		for _, it := range i.Items {
			out = append(out, nest.Size{Length: it[0], Width: it[1]})
		}
		return out
	}
	r.from("exhaustive dynamic programming over subsets", reference)
	var exact worst
	for _, i := range load("small_exact_guillotine.json") {
		if i.Expected.MinPlates == nil {
			continue
		}
		l := sheets(sizes(i), nest.Size{Length: i.Plate[0], Width: i.Plate[1]}, nest.Rules{Kerf: i.Kerf, Turn: i.Rotation, Count: true})
		exact.hold(i.ID, float64(*i.Expected.MinPlates), float64(len(l.Sheets)), 0.5)
	}
	r.set("sheets against the exact optimum", "small sets", exact, "")
	r.from("Berkey and Wang (1987), Martello and Vigo (1998), Bengtsson (1982), Beasley (1985), Christofides and Whitlock (1977): best known guillotine layouts", published)
	for _, i := range load("bins_oriented_guillotine.json") {
		l := sheets(sizes(i), nest.Size{Length: i.Plate[0], Width: i.Plate[1]}, nest.Rules{Count: true})
		r.number("sheets, at most one over the best known", fmt.Sprintf("%s, %d pieces", i.Name, len(i.Items)), float64(i.Expected.Upper), float64(len(l.Sheets)), 1, "")
	}
	r.from("Hopper and Turton (2001), one sheet of the published height", published)
	for _, name := range []string{"strip_hopper_turton.json", "square_hopper_tn.json"} {
		var w worst
		for _, i := range load(name) {
			l := sheets(sizes(i), nest.Size{Length: i.StripWidth, Width: float64(i.Expected.Height)}, nest.Rules{Effort: 2_000_000, Count: true})
			w.hold(i.Name, 1, float64(len(l.Sheets)), 1)
		}
		r.set("sheets, at most one over the published", map[string]string{"strip_hopper_turton.json": "strips C1 to C6", "square_hopper_tn.json": "squares T and N"}[name], w, "")
	}
	r.from("Beasley (1985): greatest area of one sheet that guillotine cuts can cover", published)
	over := 0
	for _, i := range load("plate_gcut_guillotine.json") {
		var pieces []nest.Size
		for range 3 {
			pieces = append(pieces, sizes(i)...)
		}
		for _, s := range sheets(pieces, nest.Size{Length: i.Plate[0], Width: i.Plate[1]}, nest.Rules{Effort: 200_000}).Sheets {
			var used float64
			for _, p := range s.Pieces {
				used += p.Length * p.Width
			}
			if used > i.Expected.MaxArea {
				over++
			}
		}
	}
	r.number("sheets that cover more than can be covered", "gcut, each piece three times", 0, float64(over), 0, "")
}
