package layout

// Word lists that several sheets share. An alias is another spelling of the
// same word in the trade; a single letter is never a side, because T and B,
// I and O stand for different things in different firms.

var yesNo = []string{"yes", "no"}

var yesNoAliases = map[string]string{"y": "yes", "n": "no"}

var sides = []string{"product", "soil", "unknown"}

var sideAliases = map[string]string{
	"product side": "product", "product-side": "product", "productside": "product",
	"top": "product", "top side": "product", "top-side": "product", "topside": "product",
	"soil side": "soil", "soil-side": "soil", "soilside": "soil",
	"bottom": "soil", "bottom side": "soil", "bottom-side": "soil", "bottomside": "soil",
	"underside": "soil", "under side": "soil",
	"not known": "unknown", "undetermined": "unknown",
}

var patchShapes = []string{"rounded rectangle", "circle", "tombstone"}

var patchShapeAliases = map[string]string{
	"rectangle": "rounded rectangle", "rounded": "rounded rectangle", "rectangular": "rounded rectangle",
	"round": "circle", "circular": "circle", "tomb stone": "tombstone",
}

// Steels of the shell that have an allowable stress of their own; any other
// is "unknown" or gives Allowable stress.
var steels = []string{
	"A283-C", "A285-C", "A36", "A516-55", "A516-60", "A516-65", "A516-70", "A537-1", "A537-2", "unknown",
}

var steelAliases = map[string]string{
	"a283 c": "A283-C", "a283c": "A283-C", "a283 grade c": "A283-C", "a283 gr c": "A283-C", "a283 gr. c": "A283-C",
	"a285 c": "A285-C", "a285c": "A285-C", "a285 grade c": "A285-C", "a285 gr c": "A285-C", "a285 gr. c": "A285-C",
	"a 36": "A36", "a-36": "A36",
	"a516 55": "A516-55", "a516 grade 55": "A516-55", "a516 gr 55": "A516-55", "a516 gr. 55": "A516-55",
	"a516 60": "A516-60", "a516 grade 60": "A516-60", "a516 gr 60": "A516-60", "a516 gr. 60": "A516-60",
	"a516 65": "A516-65", "a516 grade 65": "A516-65", "a516 gr 65": "A516-65", "a516 gr. 65": "A516-65",
	"a516 70": "A516-70", "a516 grade 70": "A516-70", "a516 gr 70": "A516-70", "a516 gr. 70": "A516-70",
	"a537 1": "A537-1", "a537 class 1": "A537-1", "a537 cl 1": "A537-1", "a537 cl. 1": "A537-1",
	"a537 2": "A537-2", "a537 class 2": "A537-2", "a537 cl 2": "A537-2", "a537 cl. 2": "A537-2",
	"not known": "unknown",
}

var methods = []string{"MFL", "hand scan", "UT", "visual"}

var methodAliases = map[string]string{
	"mfl scan": "MFL", "mfl scanner": "MFL", "magnetic flux leakage": "MFL",
	"hand-scan": "hand scan", "handscan": "hand scan", "hand scanner": "hand scan", "hand mfl": "hand scan", "manual scan": "hand scan",
	"ultrasonic": "UT", "ultrasonics": "UT", "ut grid": "UT", "manual ut": "UT",
	"vt": "visual", "eye": "visual", "by eye": "visual",
}

// Sections are the sections of the report, in its order.
var Sections = []string{
	"Cover",
	"Summary",
	"Revision history and open questions",
	"Tank and history",
	"Scope, standards, criteria",
	"People and instruments",
	"Coverage and areas not examined",
	"Floor",
	"MFL against UT",
	"Welds, coating, fixtures, dents",
	"Settlement",
	"Corrosion rates",
	"Minimum thickness and interval",
	"Repair threshold and interval",
	"Repairs and recommendations",
	"Comparison with the previous inspection",
	"Statistics",
	"Limitations and cautions",
	"Photos",
	"Appendix: all readings",
	"Appendix: findings and answers",
	"Appendix: record",
}
