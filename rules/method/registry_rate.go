package method

import "platebook/rules/criteria"

var rateFormulas = []Formula{
	{
		ID: "rate.age", Section: 4,
		Means:   "years the floor has been in place at the end of the inspection, of 365.25 days",
		Why:     "a rate is a loss over this time",
		Outside: "installed and inspection end as dates; no date, or one after the other: not known, and no rate. Younger than Shortest age for a rate: no rate",
		Mark:    criteria.Standard,
		Example: Example{Scene: "example", With: "a floor installed on 2010-05-01 in place of 2001-05-01", Change: younger},
	},
	{
		ID: "rate.soil", Section: 4,
		Means:   "the greatest corrosion rate on the soil side, what the scan may have missed and growth measured between inspections included",
		Why:     "the worst rate may meet the thinnest metal before the next inspection",
		Outside: "never below 0 or Minimum soil-side rate; 0 only under cathodic protection recorded effective with its evidence named. No age, not one ultrasonic value or too little examined: not known, and a cap governs",
		Mark:    criteria.Standard, Source: "the threshold rule and the conditions for cathodic protection from memory, verify", See: []string{"api653_5/rate"},
		Example: Example{Scene: "example", Step: "rate.soil.as_found", With: "3.00 mm left at the first pit in place of 3.60", Change: deeper},
	},
	{
		ID: "rate.product", Section: 4,
		Means:   "the greatest corrosion rate on the product side, as used: 0 while a lining lives through the interval",
		Why:     "the worst rate may meet the thinnest metal before the next inspection",
		Outside: "never below 0 or Minimum product-side rate; a lining without date, life or life left has no credit; a pit that grew under it keeps its growth. No age or no ultrasonic value: not known",
		Mark:    criteria.Standard, Source: "the lining's conditions from memory, verify", See: []string{"api653_5/rate"},
		Example: Example{Scene: "example", Step: "rate.product.as_found", With: "a product-side pit of 2.00 mm in place of 1.30", Change: deeperAbove},
	},
	{
		ID: "rate.product_measured", Section: 4,
		Means:   "the product-side rate as measured, before the credit of the lining",
		Why:     "beyond the life of the lining the metal goes on corroding at it",
		Outside: "as rate.product",
		Mark:    criteria.Standard, See: []string{"api653_5/rate"},
		Example: Example{Scene: "lined", Step: "rate.product_measured.as_found", With: "a product-side pit of 2.00 mm in place of 1.30", Change: deeperAbove},
	},
	{
		ID: "lining.left", Section: 4,
		Means:   "years the lining is still expected to live after the end of the inspection",
		Why:     "its credit ends with its life",
		Outside: "without the date it was installed or its expected life there is no credit; 0 or less: no credit",
		Mark:    criteria.Memory,
		Example: Example{Scene: "lined", With: "an expected life of 20 years in place of 14", Change: func(t *tank) { t.in.Tank.LiningExpectedLife.Value = 20 }},
	},
	{
		ID: "compare.years", Section: 13,
		Means:   "years between the ends of two inspections, of 365.25 days",
		Why:     "growth is the metal lost between them over this time",
		Outside: "both dates, the earlier one first; else nothing is compared and a finding says so",
		Mark:    criteria.Derived,
		Example: Example{Scene: "compared", With: "this inspection ending on 2027-05-01 in place of 2026-05-01", Change: later},
	},
	{
		ID: "compare.growth.soil", Section: 13,
		Means:   "the greatest growth of a soil-side place found again deeper, or new since the earlier inspection",
		Why:     "a recent fast pit is worse than its average over the life of the floor tells",
		Outside: "UT against UT only, and beyond √2·UT tolerance; nothing grown or new: none",
		Mark:    criteria.Derived, Source: "UT tolerance from memory, verify", See: []string{"compare/both", "compare/only_new", "compare/spread"},
		Example: Example{Scene: "compared", With: "3.00 mm left at the first pit in place of 3.60", Change: func(t *tank) { t.in.Indications[0].Remaining.Value = 3 }},
	},
	{
		ID: "compare.growth.product", Section: 13,
		Means:   "the greatest growth of a product-side place found again deeper, or new since the earlier inspection",
		Why:     "a recent fast pit is worse than its average over the life of the floor tells",
		Outside: "UT against UT only, and beyond √2·UT tolerance; nothing grown or new: none",
		Mark:    criteria.Derived, Source: "UT tolerance from memory, verify", See: []string{"compare/both", "compare/only_new", "compare/spread"},
		Example: Example{Scene: "compared", With: "4.50 mm left at the product-side pit in place of 5.00", Change: func(t *tank) { t.in.Indications[2].Remaining.Value = 4.5 }},
	},
}

func younger(t *tank) { t.in.Tank.FloorInstalled.Value = on("2010-05-01") }

func later(t *tank) { t.in.Tank.InspectionEnd.Value = on("2027-05-01") }
