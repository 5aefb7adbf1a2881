package method

import "platebook/rules/criteria"

var zoneFormulas = []Formula{
	{
		ID: "shell.tmin", Section: 6,
		Means:   "the thickness the first shell course must have by the one-foot method",
		Why:     "half of it is one of the limits in the critical zone; the course itself is held against it",
		Outside: "diameter up to 61 m (200 ft), every input above 0; else no number, a finding that says what is missing, and half the bottom alone decides in the critical zone. First-course required thickness given in the workbook takes its place",
		Mark:    criteria.Standard, See: []string{"api653_5/minimum_shell"},
		Example: Example{Scene: "ring", With: "a fill height of 10 m in place of 13.9 m", Change: lower},
	},
	{
		ID: "critical.required", Section: 6,
		Means:   "the thickness the floor must have in the strip beside the shell",
		Why:     "shell and bottom act together there",
		Outside: "never below 0.10 in; a barrier does not lower it; without the shell's required thickness half the bottom decides, which is never less; no nominal thickness: none",
		Mark:    criteria.Standard, Source: "the corrosion allowance and the way isolated pits count from memory, verify", See: []string{"api653_5/critical_zone_required"},
		Example: Example{Scene: "example", With: "a shell that must have 5.5 mm", Change: func(t *tank) { t.in.Tank.FirstCourseRequired = t.length("Tank", 5.5) }},
	},
	{
		ID: "critical.projected", Section: 6,
		Means:   "the thickness left at the end of the interval at the place in the critical zone with the least margin",
		Why:     "the zone must hold until the next inspection, not only today",
		Outside: "nothing measured in the zone: none and a finding; rates not known: none",
		Mark:    criteria.Standard,
		Example: Example{Scene: "ring", Step: "critical.projected.as_found", With: "6.00 mm left at the pit near the shell in place of 7.60", Change: nearShell},
	},
	{
		ID: "annular.stress", Section: 6,
		Means:   "the product stress in the first shell course by which the ring's table is entered",
		Why:     "the higher the shell is stressed, the more the ring must carry",
		Outside: "every input above 0, else none; the constant and the course as built are from memory, verify",
		Mark:    criteria.Memory, See: []string{"api653_5/annular_stress"},
		Example: Example{Scene: "ring", With: "a fill height of 10 m in place of 13.9 m", Change: lower},
	},
	{
		ID: "annular.required", Section: 6,
		Means:   "the thickness the annular ring must have, by the table over stress and first course",
		Why:     "the ring carries the shell",
		Outside: "specific gravity below 1 and stress below 32,400 psi (223.4 MPa), uniform support, no seismic ring; else no number but a finding, never an extrapolated value. A stress at a column's limit belongs to the next column",
		Mark:    criteria.Standard, Source: "Table 4.5 (public extract); linear reading derived", See: []string{"api653_5/annular_required"},
		Example: Example{Scene: "ring", With: "a first course of 9 mm as built in place of 12", Change: func(t *tank) { t.in.Tank.FirstCourseAsBuilt.Value = 9 }},
	},
	{
		ID: "annular.projected", Section: 6,
		Means:   "the thickness left at the end of the interval at the place on the ring with the least margin",
		Why:     "the ring must hold until the next inspection, not only today",
		Outside: "nothing measured on the ring, rates or requirement not known: none",
		Mark:    criteria.Standard,
		Example: Example{Scene: "ring", Step: "annular.projected.as_found", With: "6.00 mm left at the pit near the shell in place of 7.60", Change: nearShell},
	},
	{
		ID: "projection.width", Section: 6,
		Means:   "how far the floor reaches beyond the outside of the shell",
		Why:     "the weld at the foot of the shell needs metal to sit on",
		Outside: "not given: no verdict; the thickness of the projection is not part of the workbook and is not checked",
		Mark:    criteria.Standard,
		Example: Example{Scene: "example", With: "a projection of 8 mm in place of 60 mm", Change: func(t *tank) { t.in.Tank.Projection.Value = 8 }},
	},
}

func lower(t *tank) { t.in.Tank.MaximumFillHeight.Value = 10000 }
