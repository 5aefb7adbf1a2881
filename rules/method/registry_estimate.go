package method

import "platebook/rules/criteria"

const gumbel = "Coles, An Introduction to Statistical Modeling of Extreme Values (2001); Shibata, J. Res. NIST 99 (1994)"

var estimateFormulas = []Formula{
	{
		ID: "extreme.scale", Section: 9,
		Means:   "the scale of the Gumbel distribution of the largest loss on each plate, by maximum likelihood; the formula is the likelihood equation, which gives its solution back",
		Why:     "how much the deepest pits of equal plates differ says how deep the next one may be",
		Outside: "at least Extreme value minimum blocks plates examined to 90 %, not all alike, no more than half of them without an indication; else no estimate and the reason",
		Mark:    criteria.Public, Source: gumbel, See: []string{"extreme/fit", "extreme/judge"},
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: deepest},
	},
	{
		ID: "extreme.location", Section: 9,
		Means:   "the location of that distribution: the largest loss most often met on a plate",
		Why:     "the estimate is read off the distribution",
		Outside: "as extreme.scale",
		Mark:    criteria.Public, Source: gumbel, See: []string{"extreme/fit"},
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: deepest},
	},
	{
		ID: "extreme.period", Section: 9,
		Means:   "how many plates of mean size the area not examined would make",
		Why:     "the more metal was not looked at, the deeper the deepest pit in it",
		Outside: "at least 2; nothing left unexamined: no estimate",
		Mark:    criteria.Public, Source: gumbel,
		Example: Example{Scene: "half", With: "plate 5-1 scanned as well", Change: func(t *tank) { t.in.Plates[16].MFLScanned.Value = 100 }},
	},
	{
		ID: "extreme.level", Section: 9,
		Means:   "the loss that one plate in T exceeds on average",
		Why:     "the expected deepest of the area not examined",
		Outside: "T over 1; information only, unless Extreme value in interval = yes",
		Mark:    criteria.Public, Source: gumbel, See: []string{"extreme/level", "extreme/reduced"},
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: deepest},
	},
	{
		ID: "extreme.se", Section: 9,
		Means:   "the standard error of that loss, from the inverse observed information",
		Why:     "few plates give a wide estimate, and its width must count",
		Outside: "as extreme.level",
		Mark:    criteria.Public, Source: gumbel, See: []string{"extreme/level"},
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: deepest},
	},
	{
		ID: "extreme.whole", Section: 9,
		Means:   "the loss that the deepest pit of the whole area not examined stays below with 95 %",
		Why:     "one bad place is enough",
		Outside: "as extreme.level",
		Mark:    criteria.Public, Source: gumbel, See: []string{"extreme/whole"},
		Example: Example{Scene: "half", With: "a deepest pit of 2.6 mm in place of 2.0 mm", Change: deepest},
	},
}

func deepest(t *tank) { t.in.Indications[6].Remaining.Value = 6.35 - 2.6 }
