package method

import (
	"platebook/rules/criteria"
	"platebook/rules/unit"
)

var floorFormulas = []Formula{
	{
		ID: "floor.area", Section: 2,
		Means:   "the area inside the shell, from the tank's inside diameter",
		Why:     "shares of the floor and the balance of the plates are taken of it",
		Outside: "diameter above 0; without a usable diameter there is no area and nothing that needs it",
		Mark:    criteria.Derived,
		Example: Example{Scene: "example", With: "a diameter of 30 m in place of 6 m", Change: func(t *tank) { t.in.Tank.Diameter.Value = 30000 }},
	},
	{
		ID: "floor.balance", Section: 2,
		Means:   "how far the net areas of the plates and the openings of sumps are from the area of the floor",
		Why:     "a missing, doubled or wrongly sized plate shows here before any thickness is believed",
		Outside: "over Area balance it is a finding; the rest is calculated all the same",
		Mark:    criteria.Practice, See: []string{"floor/balance"},
		Example: Example{Scene: "example", With: "a diameter of 6.2 m in place of 6 m", Change: func(t *tank) { t.in.Tank.Diameter.Value = 6200 }},
	},
	coverage("mfl", "scanned by MFL", func(t *tank) { t.in.Plates[0].MFLScanned.Value = 50 }),
	coverage("hand", "scanned by hand", func(t *tank) { t.in.Plates[0].HandScanned = given(t, "Plates", unit.Percent(20)) }),
	coverage("ut", "gridded by UT", func(t *tank) { t.in.Plates[0].UTGridded = given(t, "Plates", unit.Percent(20)) }),
	coverage("not_examined", "not examined", func(t *tank) { t.in.Plates[0].MFLScanned.Value = 50 }),
}

func coverage(id, what string, change func(*tank)) Formula {
	return Formula{
		ID: "coverage." + id, Section: 2,
		Means:   "the share of the plates' net area " + what + ": the mean of the plates' percentages, weighted by net area",
		Why:     "counting plates would let a large unexamined plate hide behind small ones; what was not examined is unknown metal",
		Outside: "each plate 0 to 100 %; a plate over 100.5 % in all is an error, and what is missing to 100 % counts as not examined",
		Mark:    criteria.Derived, See: []string{"floor/cover"},
		Example: Example{Scene: "example", With: "plate 1-1 otherwise covered than before", Change: change},
	}
}
