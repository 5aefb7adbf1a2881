package method

import "platebook/rules/criteria"

var repairFormulas = []Formula{
	{
		ID: "repair.area", Section: 10,
		Means:   "the area of all repairs on the plan, places covered twice counted once",
		Why:     "steel, blasting and coating follow it",
		Outside: "replacement plates count with their net area",
		Mark:    criteria.Derived, See: []string{"floor/union_area"},
		Example: Example{Scene: "planned", With: "the first patch 300 × 300 in place of 150 × 150", Change: larger},
	},
	{
		ID: "repair.weld", Section: 10,
		Means:   "the length of the welds around the patches, corners rounded, a tombstone without its side at the shell",
		Why:     "welding time and examination follow it",
		Outside: "patches only",
		Mark:    criteria.Derived, See: []string{"repair/weld_length", "repair/tombstone_weld", "repair/circle_weld"},
		Example: Example{Scene: "planned", With: "the first patch 300 × 300 in place of 150 × 150", Change: larger},
	},
	{
		ID: "repair.vacuum_box", Section: 10,
		Means:   "the length of those welds that a vacuum box tests",
		Why:     "the joint at the shell is tested by magnetic particles or penetrant instead",
		Outside: "patches only",
		Mark:    criteria.Derived, See: []string{"repair/weld_length"},
		Example: Example{Scene: "planned", With: "the first patch 300 × 300 in place of 150 × 150", Change: larger},
	},
	{
		ID: "repair.mass", Section: 10,
		Means:   "the mass of the rectangular blanks of the patches at 7.85 kg/(m²·mm)",
		Why:     "what is carried in through the manway",
		Outside: "a patch without size or thickness: not known",
		Mark:    criteria.Public, Source: "ASTM A6: 0.2836 lb/in³", See: []string{"repair/blank_mass"},
		Example: Example{Scene: "planned", With: "the first patch 300 × 300 in place of 150 × 150", Change: larger},
	},
	{
		ID: "cutting.bound_area", Section: 11,
		Means:   "the stock sheets that the area of the pieces alone needs",
		Why:     "no layout can need fewer: it shows how good the one found is",
		Outside: "no stock sheet that can be used: none",
		Mark:    criteria.Derived, See: []string{"nest/bound_area"},
		Example: Example{Scene: "planned", With: "both patches 1400 × 1400 and one stock size of 1500 × 1500", Change: large},
	},
	{
		ID: "cutting.bound_dual", Section: 11,
		Means:   "the stock sheets needed at least, because some pieces exclude each other from one sheet",
		Why:     "sharper than the area: five pieces a little over half a sheet need five sheets",
		Outside: "no stock sheet that can be used: none",
		Mark:    criteria.Public, Source: "dual-feasible functions; Martello and Vigo (1998)", See: []string{"nest/bound_dual"},
		Example: Example{Scene: "planned", With: "both patches 1400 × 1400 and one stock size of 1500 × 1500", Change: large},
	},
	{
		ID: "cutting.sheets", Section: 11,
		Means:   "the stock sheets of the cutting list",
		Why:     "what is ordered",
		Outside: "pieces that fit no sheet and replacement plates are listed and ordered apart",
		Mark:    criteria.Derived, See: []string{"nest/verify"},
		Example: Example{Scene: "planned", With: "both patches 1400 × 1400 and one stock size of 1500 × 1500", Change: large},
	},
	{
		ID: "cutting.yield", Section: 11,
		Means:   "the share of the stock sheets that becomes pieces",
		Why:     "what is left is offcut or scrap",
		Outside: "no sheet used: none",
		Mark:    criteria.Derived, See: []string{"nest/yield"},
		Example: Example{Scene: "planned", With: "the first patch 300 × 300 in place of 150 × 150", Change: larger},
	},
}

func larger(t *tank) { t.in.Repairs[0].Length.Value, t.in.Repairs[0].Width.Value = 300, 300 }

func large(t *tank) {
	for i := range t.in.Repairs {
		r := &t.in.Repairs[i]
		r.X.Value, r.Y.Value, r.Length.Value, r.Width.Value = 1500, 900, 1400, 1400
	}
	t.set(criteria.StockSheets, "1500x1500")
}
