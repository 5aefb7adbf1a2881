package layout

import "platebook/rules/unit"

var visual = Sheet{
	Name:     "Visual",
	Purpose:  "What was seen: coating, dents, bulges, supports, drains.",
	Optional: true,
	Key:      []string{"ID"},
	Columns: []Column{
		{Header: "ID", Type: Label, Required: true, Help: "Number of the observation.", Example: "V3"},
		{Header: "Plate", Type: Label, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "As in Plates; blank for the whole floor.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "2450"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "610"},
		{Header: "Item", Type: Word, Words: []string{"coating", "dent", "bulge", "weld", "support", "sump", "drain", "fixture", "other"}, Aliases: map[string]string{"lining": "coating"}, Help: "What it is about.", Example: "coating"},
		{Header: "Observation", Required: true, Help: "What was seen, with its size.", Example: "Blisters up to 20 mm over 0.5 m²"},
		{Header: "Weight", Type: Word, Words: []string{"note", "monitor", "repair"}, Help: "What should follow. Blank: note.", Example: "monitor"},
		{Header: "Photo", Type: Label, Help: "Picture file, as in Photos.", Example: "IMG_0415.jpg"},
	},
}

var welds = Sheet{
	Name:     "Welds",
	Purpose:  "Weld examinations and their results.",
	Optional: true,
	Key:      []string{"ID"},
	Columns: []Column{
		{Header: "ID", Type: Label, Required: true, Help: "Number of the examination.", Example: "W5"},
		{Header: "Seam", Type: Label, Required: true, Help: "A plate, two plates divided by /, or shell-to-floor.", Example: "3-4/3-5"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "Place on the first plate, as in Indications.", Example: "5980"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "900"},
		{Header: "Bearing", Type: Number, Kind: unit.Bearing, Low: 0, High: 360, ZeroOK: true, Help: "Place on the shell, degrees clockwise from north; instead of X and Y.", Example: "135"},
		{Header: "Method", Type: Word, Required: true, Words: []string{"visual", "vacuum box", "MT", "PT", "tracer gas"}, Aliases: map[string]string{"vt": "visual", "vacuum-box": "vacuum box", "magnetic particle": "MT", "magnetic particles": "MT", "penetrant": "PT", "dye penetrant": "PT", "liquid penetrant": "PT"}, Help: "How it was examined.", Example: "vacuum box"},
		{Header: "Tested length", Type: Number, Kind: unit.Size, ZeroOK: true, Help: "Length of weld examined.", Example: "1800"},
		{Header: "Result", Type: Word, Required: true, Words: []string{"accepted", "rejected", "retested accepted"}, Aliases: map[string]string{"accept": "accepted", "reject": "rejected", "retest accepted": "retested accepted"}, Help: "A rejected weld needs a later row with retested accepted.", Example: "accepted"},
		{Header: "Defect", Help: "What was found.", Example: "Pinhole"},
		{Header: "Defect length", Type: Number, Kind: unit.Size, ZeroOK: true, Help: "How long it is.", Example: "8"},
		{Header: "By", Help: "Who examined it, as in Crew.", Example: "K. Lund"},
		{Header: "Date", Type: Date, Help: "When.", Example: "2026-04-25"},
		{Header: "Photo", Type: Label, Help: "Picture file, as in Photos.", Example: "IMG_0418.jpg"},
		{Header: "Remarks", Help: "Anything worth knowing about it."},
	},
}

var fixtures = Sheet{
	Name:     "Fixtures",
	Purpose:  "Sumps, columns, manways, nozzles and supports. They are drawn on every plan.",
	Optional: true,
	Key:      []string{"Name"},
	Columns: []Column{
		{Header: "Name", Type: Label, Required: true, Help: "Name of the fixture.", Example: "S1"},
		{Header: "Kind", Type: Word, Required: true, Words: []string{"sump", "column", "manway", "nozzle", "support", "other"}, Aliases: map[string]string{"manhole": "manway", "man way": "manway", "roof column": "column"}, Help: "What it is. No indication may lie in a sump opening.", Example: "sump"},
		{Header: "Bearing", Type: Number, Kind: unit.Bearing, Low: 0, High: 360, ZeroOK: true, Help: "Of its centre, degrees clockwise from north.", Example: "180"},
		{Header: "Radius", Type: Number, Kind: unit.Size, ZeroOK: true, Help: "From the tank centre to its centre. Needed for a sump.", Example: "13200"},
		{Header: "Length", Type: Number, Kind: unit.Size, Help: "From left to right in the plan. A sump needs its sizes.", Example: "900"},
		{Header: "Width", Type: Number, Kind: unit.Size, Help: "Upward in the plan.", Example: "900"},
		{Header: "Diameter", Type: Number, Kind: unit.Size, Help: "Of a round one, in place of Length and Width.", Example: "600"},
		{Header: "Pad", Type: Word, Words: yesNo, Aliases: yesNoAliases, Help: "Whether it stands on a pad plate welded to the floor.", Example: "yes"},
		{Header: "Remarks", Help: "Anything worth knowing about it."},
	},
}

var settlement = Sheet{
	Name:     "Settlement",
	Purpose:  "Levels around the shell, edge settlement, bulges and depressions.",
	Optional: true,
	Key:      []string{"Kind", "Point"},
	Columns: []Column{
		{Header: "Kind", Type: Word, Required: true, Words: []string{"shell", "edge", "bulge", "depression"}, Help: "What was measured.", Example: "shell"},
		{Header: "Point", Type: Label, Required: true, Help: "Name of the point.", Example: "1"},
		{Header: "Bearing", Type: Number, Kind: unit.Bearing, Low: 0, High: 360, ZeroOK: true, Help: "Degrees clockwise from north. Needed for shell points.", Example: "45"},
		{Header: "Elevation", Type: Number, Kind: unit.Settlement, Signed: true, ZeroOK: true, Help: "Shell points: level against any fixed mark, up positive.", Example: "-12.5"},
		{Header: "Radius", Type: Number, Kind: unit.Size, Help: "Edge, bulge, depression: radius of the circle it fits in.", Example: "900"},
		{Header: "Measured", Type: Number, Kind: unit.Settlement, Signed: true, ZeroOK: true, Help: "Edge, bulge, depression: how deep or high.", Example: "35"},
		{Header: "Weld angle", Type: Number, Kind: unit.Bearing, ZeroOK: true, Help: "Edge: degrees between the nearest lap weld and the radius.", Example: "30"},
		{Header: "Remarks", Help: "The inspector's disposition; it is printed beside the result."},
	},
}

var crew = Sheet{
	Name:     "Crew",
	Purpose:  "Who worked on the floor, one row for each certificate.",
	Optional: true,
	Key:      []string{"Name", "Method"},
	Columns: []Column{
		{Header: "Name", Required: true, Help: "As it is written under By in the other sheets.", Example: "J. Roe"},
		{Header: "Employer", Help: "If it is not the firm."},
		{Header: "Method", Type: Word, Required: true, Words: []string{"MFL", "UT", "VT", "MT", "PT", "vacuum box", "inspector"}, Aliases: map[string]string{"visual": "VT", "ultrasonic": "UT", "vacuum-box": "vacuum box", "magnetic particle": "MT", "penetrant": "PT", "tank inspector": "inspector"}, Help: "What the certificate is for.", Example: "MFL"},
		{Header: "Level", Type: Label, Help: "Level of the certificate.", Example: "2"},
		{Header: "Certificate", Type: Label, Required: true, Also: []string{"Certificate no", "Certificate no.", "Certificate number"}, Help: "Its number.", Example: "M-2231"},
		{Header: "Valid until", Type: Date, Required: true, Also: []string{"Valid to", "Expires"}, Help: "Last day it is valid.", Example: "2027-03-31"},
	},
}

var instruments = Sheet{
	Name:     "Instruments",
	Purpose:  "Scanners, gauges and boxes used.",
	Optional: true,
	Key:      []string{"Instrument"},
	Columns: []Column{
		{Header: "Instrument", Type: Label, Required: true, Help: "The firm's name of it, as in the other sheets.", Example: "UT-2"},
		{Header: "Kind", Type: Word, Required: true, Words: []string{"MFL scanner", "hand scanner", "UT gauge", "pit gauge", "vacuum box", "other"}, Aliases: map[string]string{"mfl": "MFL scanner", "floor scanner": "MFL scanner", "ut": "UT gauge", "thickness gauge": "UT gauge"}, Help: "What it is.", Example: "UT gauge"},
		{Header: "Serial", Type: Label, Also: []string{"Serial no", "Serial no.", "Serial number"}, Help: "Serial number.", Example: "20417"},
		{Header: "Calibration due", Type: Date, Required: true, Help: "Last day its calibration is valid.", Example: "2026-11-30"},
		{Header: "Reference plate thickness", Type: Number, Kind: unit.Thickness, Help: "Of the plate it is checked on.", Example: "6.35"},
	},
}

var checks = Sheet{
	Name:     "Checks",
	Purpose:  "Function checks at the start and the end of each shift.",
	Optional: true,
	Key:      []string{"Instrument", "Date", "Shift"},
	Columns: []Column{
		{Header: "Instrument", Type: Label, Required: true, Help: "As in Instruments.", Example: "MFL-1"},
		{Header: "Date", Type: Date, Required: true, Help: "Day of the check.", Example: "2026-04-22"},
		{Header: "Shift", Type: Word, Words: []string{"start", "middle", "end"}, Aliases: map[string]string{"begin": "start", "beginning": "start", "mid": "middle"}, Help: "When in the shift.", Example: "start"},
		{Header: "Reference plate thickness", Type: Number, Kind: unit.Thickness, Help: "Of the plate it was checked on.", Example: "6.35"},
		{Header: "Result", Type: Word, Required: true, Words: []string{"pass", "fail"}, Aliases: map[string]string{"passed": "pass", "failed": "fail"}, Help: "After a failed check, plates since the last pass are scanned again.", Example: "pass"},
		{Header: "By", Help: "Who checked.", Example: "J. Roe"},
	},
}

var criterionRows = Sheet{
	Name:     "Criteria",
	Purpose:  "Every threshold and policy of the calculation with its default and source. A changed value needs a Note; a blank one means the default.",
	Optional: true,
	Key:      []string{"Criterion"},
	Columns: []Column{
		{Header: "Criterion", Required: true, Help: "Its name; do not change it."},
		{Header: "Value", Help: "The value in force. Blank: the default."},
		{Header: "Unit", Help: "Unit of Value."},
		{Header: "Default", Help: "What holds when Value is blank."},
		{Header: "Source", Help: "Where the default comes from."},
		{Header: "Note", Help: "Why it was changed. Printed in the report.", Example: "Owner's standard 7.3"},
	},
}

var reportSections = Sheet{
	Name:     "Report",
	Purpose:  "The firm's own words at the head of a section, and sections left out.",
	Optional: true,
	Key:      []string{"Section"},
	Columns: []Column{
		{Header: "Section", Type: Word, Required: true, Words: Sections, Help: "Name of the section; do not change it.", Example: "Summary"},
		{Header: "Include", Type: Word, Words: yesNo, Aliases: yesNoAliases, Help: "no leaves it out, where the standard allows it. Blank: yes.", Example: "yes"},
		{Header: "Text", Help: "A paragraph printed at the head of the section."},
	},
}

var answers = Sheet{
	Name:     "Answers",
	Purpose:  "Answers to warnings. Each needs a reason, a name and a date.",
	Optional: true,
	Key:      []string{"Finding"},
	Columns: []Column{
		{Header: "Finding", Type: Labels, Required: true, Also: []string{"Key"}, Help: "Key of the finding as listed in the Findings sheet; several are divided by semicolons.", Example: "R310:Prove-ups:3-4/U44"},
		{Header: "Answer", Required: true, Help: "The reason, in ten letters or more.", Example: "Probe moved to the deepest point of the cluster"},
		{Header: "By", Required: true, Also: []string{"Answered by"}, Help: "Who answers for it.", Example: "A. Day"},
		{Header: "Date", Type: Date, Required: true, Help: "Not after the report date.", Example: "2026-04-30"},
		{Header: "Until", Type: Date, Help: "Last day the answer counts.", Example: "2026-12-31"},
	},
}
