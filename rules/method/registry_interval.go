package method

import "platebook/rules/criteria"

var intervalFormulas = []Formula{
	{
		ID: "required.general", Section: 5,
		Means:   "the least thickness the floor may have at the end of the interval",
		Why:     "below it the standard wants the floor repaired before it goes back into service",
		Outside: "a barrier lowers it only when it both detects and contains a leak; a reinforced lining only over 1.27 mm (0.05 in) and while it lives through the interval; a thin film never",
		Mark:    criteria.Standard,
		Example: Example{Scene: "example", With: "a release-prevention barrier", Change: func(t *tank) { t.barrier() }},
	},
	{
		ID: "required.unlined", Section: 5,
		Means:   "the least thickness the floor may have without the credit of its lining",
		Why:     "the interval without that credit is held against it",
		Outside: "as required.general",
		Mark:    criteria.Standard,
		Example: Example{Scene: "thick lining", With: "a release-prevention barrier", Change: func(t *tank) { t.barrier() }},
	},
	{
		ID: "mrt", Section: 5,
		Means:   "the thickness left at the worst place of the floor at the end of the interval, were the worst rates of both sides to meet there",
		Why:     "it is the number the standard holds a floor by: at or above the required thickness until the next inspection",
		Outside: "rates not known or no thickness known: no value, and the cap for unknown rates governs the interval; below t_req the verdict is fail, never a shorter requirement",
		Mark:    criteria.Standard, See: []string{"api653_5/minimum_remaining"},
		Example: Example{Scene: "example", Step: "mrt.as_found", With: "a desired interval of 5 years in place of 10", Change: func(t *tank) { t.in.Tank.DesiredInterval.Value = 5 }},
	},
	{
		ID: "interval.corrosion", Section: 5,
		Means:   "years until the least thickness of the floor reaches the required one",
		Why:     "minimum remaining thickness solved for the interval",
		Outside: "at or below the requirement now: 0, repair before return to service. Rates of 0: no number, a cap governs and never an infinite life. Rates not known: no number",
		Mark:    criteria.Derived, Source: "MRT of 4.4.5.1 solved for Or", See: []string{"api653_5/interval"},
		Example: Example{Scene: "example", Step: "interval.corrosion.as_found", With: "3.00 mm left at the first pit in place of 3.60", Change: deeper},
	},
	{
		ID: "interval.critical", Section: 5,
		Means:   "years until the place with the shortest life in the critical zone reaches what is required there",
		Why:     "the strip beside the shell carries more than the rest of the floor",
		Outside: "only locations and readings in the zone; nothing measured there: no number and a finding. Else as interval.corrosion",
		Mark:    criteria.Derived, Source: "4.4.5.4 with the rates of 4.4.5.1",
		Example: Example{Scene: "ring", Step: "interval.critical.as_found", With: "6.00 mm left at the pit near the shell in place of 7.60", Change: nearShell},
	},
	{
		ID: "interval.annular", Section: 5,
		Means:   "years until the place with the shortest life on the annular ring reaches what is required there",
		Why:     "the ring carries the shell",
		Outside: "the requirement not known (stress over the table, specific gravity of 1 or more, an input missing): no number and a finding. Else as interval.corrosion",
		Mark:    criteria.Derived, Source: "4.4.6 with the rates of 4.4.5.1",
		Example: Example{Scene: "ring", Step: "interval.annular.as_found", With: "6.00 mm left at the pit near the shell in place of 7.60", Change: nearShell},
	},
	{
		ID: "interval.lining", Section: 5,
		Means:   "the interval on the credit of a lining: no product-side rate and the lining's required thickness, at most the life left in it",
		Why:     "a lining helps for as long as it lives, and not a day longer",
		Outside: "no credit without date and life; what is below the requirement now gives 0",
		Mark:    criteria.Memory,
		Example: Example{Scene: "lined", Step: "interval.lining.as_planned", With: "an expected life of 20 years in place of 14", Change: func(t *tank) { t.in.Tank.LiningExpectedLife.Value = 20 }},
	},
	{
		ID: "interval.cap", Section: 5,
		Means:   "the longest interval allowed whatever the metal says: initial, subsequent, or with rates not known",
		Why:     "a calculated life is no better than what is known of the floor",
		Outside: "the initial interval runs from first service, so the years served are taken off it, never below 0; credits need their evidence; stainless steel is not built in",
		Mark:    criteria.Public, Source: "training slides on inspection intervals, 5th edition era; the cap with unknown rates from the 3rd edition, 6.4", See: []string{"api653_5/initial_interval"},
		Example: Example{Scene: "young", With: "a floor without barrier", Change: func(t *tank) { t.in.Tank.ReleasePreventionBarrier.Value = "no" }},
	},
	{
		ID: "interval.adopted", Section: 5,
		Means:   "the interval of the floor: the least of what metal, lining, rule, jurisdiction and owner allow",
		Why:     "the first limit reached is the one that counts, and the report names it",
		Outside: "no thickness known: none. Printed rounded down to a tenth of a year, so that what is printed is never longer than what was calculated",
		Mark:    criteria.Standard,
		Example: Example{Scene: "limits", Step: "interval.adopted.as_planned", With: "an owner limit of 8 years in place of 12", Change: func(t *tank) { t.set(criteria.OwnerLimit, "8") }},
	},
	{
		ID: "interval.next_date", Section: 5,
		Means:   "the day the interval ends, counted from the base date by whole days of 365.25 a year",
		Why:     "people plan by dates; the day is rounded down",
		Outside: "no base date or no interval: none; an interval of 0 gives no date but repair before return to service",
		Mark:    criteria.Public,
		Example: Example{Scene: "example", Step: "interval.next_date.as_found", With: "3.00 mm left at the first pit in place of 3.60", Change: deeper},
	},
	{
		ID: "threshold.needed", Section: 7,
		Means:   "the thickness below which everything must be repaired to reach the target interval, at rates as found",
		Why:     "it turns a wished interval into a repair list",
		Outside: "critical zone and ring apart; rates not known: none",
		Mark:    criteria.Derived, See: []string{"repair/thresholds"},
		Example: Example{Scene: "example", With: "a desired interval of 5 years in place of 10", Change: func(t *tank) { t.in.Tank.DesiredInterval.Value = 5 }},
	},
}

func nearShell(t *tank) { t.in.Indications[4].Remaining.Value = 6 }
