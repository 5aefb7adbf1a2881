package method

import "platebook/rules/criteria"

const (
	annexB = "API 653 Annex B as described in public sources"
	rigid  = "at least 4 points at different bearings, else no plane and the reason"
)

var settlementFormulas = []Formula{
	{
		ID: "settlement.points", Section: 12,
		Means:   "how many points around the shell were surveyed",
		Why:     "too few points miss a local dip",
		Outside: "fewer than max(8, D/10 ft), made even, or farther apart than 32 ft: a finding",
		Mark:    criteria.Public, Source: annexB, See: []string{"settle/points_needed"},
		Example: Example{Scene: "survey", With: "the last point left out", Change: func(t *tank) { t.in.Settlement[7].Out = true }},
	},
	{
		ID: "settlement.mean", Section: 12,
		Means: "the constant term of the plane fitted to the elevations", Why: "uniform settlement; it takes no part in the verdict",
		Outside: rigid, Mark: criteria.Public, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.cos", Section: 12,
		Means: "the cosine term of the fitted plane: tilt towards bearing 0°", Why: "tilt is taken out before local settlement is judged",
		Outside: rigid, Mark: criteria.Public, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.sin", Section: 12,
		Means: "the sine term of the fitted plane: tilt towards bearing 90°", Why: "tilt is taken out before local settlement is judged",
		Outside: rigid, Mark: criteria.Public, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.tilt", Section: 12,
		Means: "the difference in height of the fitted plane across the diameter", Why: "a tank that leans as a whole",
		Outside: rigid, Mark: criteria.Public, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.r2", Section: 12,
		Means: "the share of the elevations' scatter that the plane explains", Why: "a low share says that the shell did not settle as a plane, and the fit means little",
		Outside: "below Settlement cosine R2 a finding; elevations all alike: none", Mark: criteria.Memory, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.deflection", Section: 12,
		Means: "how far the worst point lies from the straight line between its neighbours, tilt taken out", Why: "the shell bends there",
		Outside: rigid, Mark: criteria.Public, Source: annexB, See: []string{"settle/fit_ring"}, Example: risen,
	},
	{
		ID: "settlement.arc", Section: 12,
		Means: "the least arc between two neighbouring points", Why: "the limit of deflection grows with its square; the least is the safe side",
		Outside: "no diameter: none", Mark: criteria.Public, Source: annexB,
		Example: Example{Scene: "survey", With: "a diameter of 30 m in place of 15 m", Change: func(t *tank) { t.in.Tank.Diameter.Value = 30000 }},
	},
	{
		ID: "settlement.allowable", Section: 12,
		Means: "the out-of-plane settlement allowed", Why: "above it the shell would be overstressed",
		Outside: "every input above 0, else none; the formula of Annex B before 2008, the later table is not built in", Mark: criteria.Public, Source: annexB, See: []string{"settle/allowable_deflection"},
		Example: Example{Scene: "survey", With: "a shell of 15 m in place of 12 m", Change: func(t *tank) { t.in.Tank.ShellHeight.Value = 15000 }},
	},
	{
		ID: "settlement.edge_limit", Section: 12,
		Means: "the edge settlement allowed, between the limits read from the standard's figures by the angle of the weld", Why: "a weld along the dip stands less than one across it",
		Outside: "limits not read, a smaller radius than they were read at, or an angle outside 0 to 90°: no verdict and a finding", Mark: criteria.Public, Source: annexB, See: []string{"settle/edge_limit"},
		Example: Example{Scene: "survey", Step: "settlement.edge_limit.E1", With: "a weld at 60° in place of 30°", Change: func(t *tank) { t.in.Settlement[8].WeldAngle.Value = 60 }},
	},
	{
		ID: "settlement.edge", Section: 12,
		Means: "the edge settlement measured", Why: "held against its limit; over 75 % of it and over 2 in the welds are examined",
		Outside: "not measured: no verdict", Mark: criteria.Public, Source: annexB,
		Example: Example{Scene: "survey", Step: "settlement.edge.E1", With: "120 mm measured in place of 80 mm", Change: func(t *tank) { t.in.Settlement[8].Measured.Value = 120 }},
	},
	{
		ID: "settlement.bulge_limit", Section: 12,
		Means: "the height of a bulge or depth of a depression allowed on its inscribed circle", Why: "a bulge strains plates and welds",
		Outside: "no radius above 0: no verdict and a finding", Mark: criteria.Public, Source: annexB, See: []string{"settle/bulge_limit"},
		Example: Example{Scene: "survey", Step: "settlement.bulge_limit.B1", With: "a circle of 2 m in place of 1.5 m", Change: func(t *tank) { t.in.Settlement[9].Radius.Value = 2000 }},
	},
	{
		ID: "settlement.bulge", Section: 12,
		Means: "the bulge or depression measured", Why: "held against its limit",
		Outside: "not measured: no verdict", Mark: criteria.Public, Source: annexB,
		Example: Example{Scene: "survey", Step: "settlement.bulge.B1", With: "50 mm measured in place of 40 mm", Change: func(t *tank) { t.in.Settlement[9].Measured.Value = 50 }},
	},
}

// risen is the survey with one point higher.
var risen = Example{Scene: "survey", With: "the point at 225° at −31 mm in place of −11 mm", Change: func(t *tank) { t.in.Settlement[5].Elevation.Value = -31 }}
