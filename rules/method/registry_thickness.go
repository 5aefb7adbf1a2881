package method

import "platebook/rules/criteria"

var thicknessFormulas = []Formula{
	{
		ID: "location", Section: 3,
		Means:   "the metal left at an indication or a prove-up: the least value of the first rank that exists, UT before pit gauge before estimate",
		Why:     "a measured thickness is better than a sized loss; an estimate that nobody proved up loses an allowance first",
		Outside: "never below 0; a value at or below 0 that is not from the allowance alone is a hole, and its rate is a lower bound. Without a value, or without a nominal thickness to take a loss from, the location has none and is listed",
		Mark:    criteria.Practice, Source: "UT before gauge before estimate, and the allowance: common practice, no published source",
		Example: Example{Scene: "example", Step: "location.2-1/4", With: "an MFL loss of 45 % in place of 35 %", Change: func(t *tank) { t.in.Indications[3].Loss.Value = 45 }},
	},
	{
		ID: "location.sound", Section: 3,
		Means:   "a plate's own metal: its least reading or sound thickness beside a prove-up, at most the nominal thickness",
		Why:     "a floor can be thin all over without one pit",
		Outside: "a plate without a reading takes its nominal when it was examined, and has no value when it was not: never nominal by default",
		Mark:    criteria.Practice,
		Example: Example{Scene: "example", Step: "location.sound.3-2", With: "a reading of 5.90 in place of 6.30", Change: func(t *tank) { t.in.Readings[0].Thickness.Value = 5.90 }},
	},
	{
		ID: "location.threshold", Section: 3,
		Means:   "the metal left under the deepest pit that a scan would not have reported on a plate",
		Why:     "a scan reports from its threshold on; shallower pits may be anywhere",
		Outside: "MFL threshold 0 % switches it off; only on plates scanned, outside the critical zone, and never held against the critical zone or the ring",
		Mark:    criteria.Memory,
		Example: Example{Scene: "example", Step: "location.threshold.1-1", With: "an MFL threshold of 30 % in place of 20 %", Change: func(t *tank) { t.set(criteria.MFLThreshold, "30") }},
	},
	{
		ID: "location.patch", Section: 3,
		Means:   "the metal of a patch that was on the floor before",
		Why:     "a patch is floor too, and may be the thinnest metal on it",
		Outside: "without a thickness of its own it takes its plate's nominal; it has no rate of its own",
		Mark:    criteria.Derived,
		Example: Example{Scene: "values", Step: "location.patch.1-1/X1", With: "a patch of 6 mm in place of 8 mm", Change: func(t *tank) { t.in.Patches[0].Thickness.Value = 6 }},
	},
	{
		ID: "location.extreme", Section: 9,
		Means:   "the metal to expect at the deepest place of the area not examined",
		Why:     "it lets the estimate count in the interval where the workbook asks for it",
		Outside: "only with Extreme value in interval = yes and a straight probability plot; never below 0",
		Mark:    criteria.Practice,
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: func(t *tank) { t.in.Indications[6].Remaining.Value = 6.35 - 2.6 }},
	},
	{
		ID: "thickness.threshold", Section: 3,
		Means:   "the least of what the scan may have missed over the plates scanned",
		Why:     "it enters the least thickness and the soil-side rate, so that a floor with few findings is not taken for a perfect one",
		Outside: "no plate scanned or MFL threshold 0 %: none, and the step says so",
		Mark:    criteria.Memory,
		Example: Example{Scene: "example", With: "an MFL threshold of 30 % in place of 20 %", Change: func(t *tank) { t.set(criteria.MFLThreshold, "30") }},
	},
	{
		ID: "thickness.soil", Section: 3,
		Means:   "the least metal left from corrosion on the soil side, over all that the state rests on",
		Why:     "the interval starts from it",
		Outside: "an unknown side counts on both; no location with a value: not known",
		Mark:    criteria.Standard,
		Example: Example{Scene: "example", Step: "thickness.soil.as_found", With: "3.00 mm left at the first pit in place of 3.60", Change: deeper},
	},
	{
		ID: "thickness.product", Section: 3,
		Means:   "the least metal left from corrosion on the product side, over all that the state rests on",
		Why:     "the interval starts from it",
		Outside: "an unknown side counts on both; no location with a value: not known",
		Mark:    criteria.Standard,
		Example: Example{Scene: "example", Step: "thickness.product.as_found", With: "a product-side pit of 2.00 mm in place of 1.30", Change: deeperAbove},
	},
	{
		ID: "sizing.fit", Symbol: "b0", Section: 8,
		Means:   "the intercept of UT loss on MFL loss over the proved-up pairs",
		Why:     "the pairs show what this scan, on this floor, calls too deep or too shallow",
		Outside: "fewer than 3 pairs or all of one MFL loss: none",
		Mark:    criteria.Public, Source: "least squares; NIST Statistical Reference Datasets (SRD 140)", See: []string{"sizing/compare"},
		Example: Example{Scene: "pairs", With: "the last pair at 5.00 mm in place of 1.71", Change: thickerPair},
	},
	{
		ID: "sizing.fit", Symbol: "b1", Section: 8,
		Means:   "the slope of UT loss on MFL loss over the proved-up pairs",
		Why:     "far from 1, the scan does not follow the metal",
		Outside: "fewer than 3 pairs or all of one MFL loss: none",
		Mark:    criteria.Public, Source: "least squares; NIST Statistical Reference Datasets (SRD 140)", See: []string{"sizing/compare"},
		Example: Example{Scene: "pairs", With: "the last pair at 5.00 mm in place of 1.71", Change: thickerPair},
	},
	{
		ID: "sizing.fit", Symbol: "s", Section: 8,
		Means:   "the residual standard deviation of that line",
		Why:     "it sets how far below its line a single call may lie",
		Outside: "fewer than 3 pairs or all of one MFL loss: none",
		Mark:    criteria.Public, Source: "least squares; NIST Statistical Reference Datasets (SRD 140)", See: []string{"sizing/compare"},
		Example: Example{Scene: "pairs", With: "the last pair at 5.00 mm in place of 1.71", Change: thickerPair},
	},
	{
		ID: "sizing.allowance", Section: 8,
		Means:   "points of loss added to an estimate that nobody proved up: the 95 % prediction limit of UT on MFL less the call itself, or Sizing allowance",
		Why:     "a single call may be shallower than the metal is; people stand below the tank's product",
		Outside: "with fewer pairs than Sizing minimum pairs on the nominal, Sizing allowance; outside the range of the pairs never below it; never below 0",
		Mark:    criteria.Practice, See: []string{"sizing/upper"},
		Example: Example{Scene: "pairs", With: "the call not proved up at 50 % in place of 35 %", Change: func(t *tank) { t.in.Indications[len(t.in.Indications)-1].Loss.Value = 50 }},
	},
}

func deeper(t *tank)      { t.in.ProveUps[0].Remaining.Value = 3.00 }
func deeperAbove(t *tank) { t.in.Indications[2].Depth.Value, t.in.ProveUps[2].Depth.Value = 2, 2 }
func thickerPair(t *tank) { t.in.ProveUps[9].Remaining.Value = 5 }
