package layout

import "platebook/rules/unit"

var plates = Sheet{
	Name:     "Plates",
	Purpose:  "One row for every plate of the floor, with what was examined on it.",
	Required: true,
	Key:      []string{"Plate"},
	Columns: []Column{
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "The plate's name as chalked on the floor. It is never renumbered.", Example: "3-4"},
		{Header: "Type", Type: Word, Required: true, Words: []string{"rectangular", "sketch", "annular", "sump"}, Aliases: map[string]string{"rectangle": "rectangular", "rect": "rectangular", "annular plate": "annular", "sketch plate": "sketch"}, Also: []string{"Plate type"}, Help: "sketch: cut at the rim. annular: under the shell. sump: bottom of a sump.", Example: "rectangular"},
		{Header: "Row", Type: Label, Also: []string{"Row no", "Row no."}, Help: "Row of the plate, counted from the bottom of the plan. With Position it places the plate.", Example: "3"},
		{Header: "Position", Type: Label, Help: "Place in the row, counted from the left of the plan.", Example: "4"},
		{Header: "Length", Type: Number, Kind: unit.Size, Required: true, Low: 50, High: 20000, Help: "Full length before it was cut at the rim, laps included. Annular: the arc at the shell.", Example: "6000"},
		{Header: "Width", Type: Number, Kind: unit.Size, Required: true, Low: 50, High: 6000, Help: "Full width, laps included. Annular: from the shell inward.", Example: "1800"},
		{Header: "Nominal", Type: Number, Kind: unit.Thickness, Low: 2, High: 50, Also: []string{"Nominal thickness"}, Help: "Only if it differs from the floor's. Annular: blank takes Annular nominal thickness.", Example: "6.35"},
		{Header: "Start bearing", Type: Number, Kind: unit.Bearing, Low: 0, High: 360, ZeroOK: true, Help: "Annular plates: bearing of the first radial seam, degrees clockwise from north.", Example: "0"},
		{Header: "End bearing", Type: Number, Kind: unit.Bearing, Low: 0, High: 360, ZeroOK: true, Help: "Annular plates: bearing of the second radial seam, clockwise from the first.", Example: "30"},
		{Header: "MFL scanned %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"MFL %", "% MFL scanned"}, Help: "Share of the plate scanned with the floor scanner.", Example: "93"},
		{Header: "Hand scanned %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"% hand scanned"}, Help: "Share scanned with a hand scanner.", Example: "5"},
		{Header: "UT gridded %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"% UT gridded"}, Help: "Share covered by an ultrasonic grid.", Example: "0"},
		{Header: "Not examined %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"% not examined"}, Help: "Share nobody examined. The four shares add up to 100.", Example: "2"},
		{Header: "Reason not examined", Help: "Why. Needed from 2 % on.", Example: "Under the heating coil"},
		{Header: "Coating", Type: Number, Kind: unit.Coating, Low: 0, High: 10, ZeroOK: true, Also: []string{"Coating thickness"}, Help: "Coating thickness scanned through; 0 for bare plate.", Example: "500"},
		{Header: "Scanned by", Also: []string{"Scan by"}, Help: "Name as in Crew.", Example: "J. Roe"},
		{Header: "Scan date", Type: Date, Also: []string{"Date scanned"}, Help: "Day of the scan.", Example: "2026-04-22"},
		{Header: "Instrument", Type: Label, Help: "Name as in Instruments.", Example: "MFL-1"},
		{Header: "Remarks", Help: "Anything worth knowing about this plate."},
		{Header: "Installed", Type: Date, Seldom: true, Help: "First service of this plate, if it is not the floor's.", Example: "2014-06-01"},
		{Header: "Left", Type: Number, Kind: unit.Position, Signed: true, Seldom: true, Help: "Plan coordinate of the plate's own lower left corner, to the right of the tank centre. Blank: placed by row and position.", Example: "-3000"},
		{Header: "Bottom", Type: Number, Kind: unit.Position, Signed: true, Seldom: true, Help: "The same, upward from the tank centre.", Example: "900"},
		{Header: "Turned", Type: Number, Kind: unit.Bearing, Signed: true, ZeroOK: true, Seldom: true, Help: "Degrees anticlockwise about the plate's own lower left corner. Blank: 0.", Example: "90"},
		{Header: "Datum corner", Type: Word, Words: []string{"bottom left", "bottom right", "top left", "top right"}, Aliases: map[string]string{"lower left": "bottom left", "lower right": "bottom right", "upper left": "top left", "upper right": "top right", "bottom-left": "bottom left", "bottom-right": "bottom right", "top-left": "top left", "top-right": "top right"}, Seldom: true, Help: "Corner that X and Y on this plate are measured from. Blank: bottom left. Not used on annular plates.", Example: "bottom left"},
		{Header: "Previous plate", Type: Label, Seldom: true, Help: "Its name at the last inspection, if that changed.", Example: "C12"},
	},
}

var indications = Sheet{
	Name:     "Indications",
	Purpose:  "One row for every indication found by scan, grid or eye. A clean floor leaves it without rows.",
	Required: true,
	Key:      []string{"Plate", "ID"},
	Columns: []Column{
		{Header: "ID", Type: Label, Required: true, Also: []string{"Indication ID", "Indication no", "Indication no."}, Help: "Number of the indication; it may start anew on each plate.", Example: "17"},
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "Plate it lies on, as in Plates.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Required: true, Signed: true, ZeroOK: true, Help: "Centre, along the plate's length from its datum corner. Annular: clockwise along the shell from the first radial seam.", Example: "2450"},
		{Header: "Y", Type: Number, Kind: unit.Position, Required: true, Signed: true, ZeroOK: true, Help: "Centre, across the plate's width from its datum corner. Annular: inward from the shell.", Example: "610"},
		{Header: "Length", Type: Number, Kind: unit.Position, ZeroOK: true, Help: "Extent along X. Blank: the criterion Assumed indication size.", Example: "40"},
		{Header: "Width", Type: Number, Kind: unit.Position, ZeroOK: true, Help: "Extent along Y.", Example: "30"},
		{Header: "Side", Type: Word, Required: true, Words: sides, Aliases: sideAliases, Help: "product or soil; unknown counts as both.", Example: "soil"},
		{Header: "Method", Type: Word, Required: true, Words: methods, Aliases: methodAliases, Help: "How it was found.", Example: "MFL"},
		{Header: "Loss %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"% loss", "Loss", "Metal loss %", "% metal loss", "Wall loss %", "% wall loss"}, Help: "Loss in percent of the nominal thickness. One of Loss %, Remaining and Depth is enough; several are checked against each other.", Example: "35"},
		{Header: "Remaining", Type: Number, Kind: unit.Thickness, ZeroOK: true, Also: []string{"Remaining thickness", "Thickness remaining"}, Help: "Least thickness left; 0 is a hole.", Example: "4.10"},
		{Header: "Depth", Type: Number, Kind: unit.Thickness, ZeroOK: true, Also: []string{"Pit depth"}, Help: "Depth from the sound surface.", Example: "2.25"},
		{Header: "Kind", Type: Word, Words: []string{"pit", "cluster", "general", "groove", "mechanical", "not relevant"}, Aliases: map[string]string{"pitting": "pit", "pits": "cluster", "gouge": "mechanical", "mechanical damage": "mechanical", "false call": "not relevant", "non-relevant": "not relevant", "nonrelevant": "not relevant", "non relevant": "not relevant"}, Help: "Blank: pit. mechanical counts in the thickness, not in the rate.", Example: "pit"},
		{Header: "By", Help: "Who found it, as in Crew.", Example: "J. Roe"},
		{Header: "Date", Type: Date, Help: "When it was found.", Example: "2026-04-22"},
		{Header: "Photo", Type: Label, Help: "Picture file, as in Photos.", Example: "IMG_0412.jpg"},
		{Header: "Remarks", Help: "Anything worth knowing about it."},
	},
}

var proveUps = Sheet{
	Name:    "Prove-ups",
	Purpose: "One row for every ultrasonic or pit-gauge check.",
	Key:     []string{"Plate", "ID"},
	Columns: []Column{
		{Header: "ID", Type: Label, Required: true, Also: []string{"Prove-up ID", "Prove-up no", "Prove-up no."}, Help: "Number of the check.", Example: "U44"},
		{Header: "Indication", Type: Label, Also: []string{"Indication ID", "Indication no", "Indication no."}, Help: "ID of the indication it proves up; blank for a reading that stands alone.", Example: "17"},
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "Plate it lies on, as in Plates.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "2455"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "615"},
		{Header: "Remaining", Type: Number, Kind: unit.Thickness, ZeroOK: true, Also: []string{"Remaining thickness", "Thickness remaining", "Minimum remaining"}, Help: "Least thickness found; 0 is a hole.", Example: "4.10"},
		{Header: "Depth", Type: Number, Kind: unit.Thickness, ZeroOK: true, Also: []string{"Pit depth"}, Help: "By pit gauge, product side only.", Example: "1.30"},
		{Header: "Sound thickness", Type: Number, Kind: unit.Thickness, Help: "Good metal beside it.", Example: "6.30"},
		{Header: "Side", Type: Word, Words: sides, Aliases: sideAliases, Help: "As seen or measured. Blank: the indication's.", Example: "soil"},
		{Header: "By", Help: "Who measured, as in Crew.", Example: "A. Day"},
		{Header: "Date", Type: Date, Help: "When it was measured.", Example: "2026-04-24"},
		{Header: "Instrument", Type: Label, Help: "Name as in Instruments.", Example: "UT-2"},
		{Header: "Remarks", Help: "Anything worth knowing about it."},
		{Header: "Through coating", Type: Word, Words: yesNo, Aliases: yesNoAliases, Seldom: true, Help: "yes if the probe stood on the coating: confirm that the value is metal only.", Example: "no"},
	},
}

var readings = Sheet{
	Name:    "Readings",
	Purpose: "Thickness of sound metal, a few readings a plate.",
	Key:     []string{"Plate", "X", "Y"},
	Columns: []Column{
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "As in Plates.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications. Needed for readings in the critical zone.", Example: "300"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "900"},
		{Header: "Thickness", Type: Number, Kind: unit.Thickness, Required: true, Help: "Ultrasonic thickness of sound metal.", Example: "6.28"},
		{Header: "By", Help: "Who measured, as in Crew.", Example: "A. Day"},
		{Header: "Date", Type: Date, Help: "When it was measured.", Example: "2026-04-24"},
		{Header: "Instrument", Type: Label, Help: "Name as in Instruments.", Example: "UT-2"},
		{Header: "Remarks", Help: "Anything worth knowing about it."},
	},
}

var photos = Sheet{
	Name:    "Photos",
	Purpose: "One row for every picture the report shows.",
	Key:     []string{"File"},
	Columns: []Column{
		{Header: "File", Type: Label, Required: true, Also: []string{"Photo", "File name"}, Help: "JPEG, PNG or HEIC, beside the workbook or in a folder named photos beside it.", Example: "IMG_0412.jpg"},
		{Header: "Plate", Type: Label, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "Plate it shows; blank for a general view.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "Where it was taken, as in Indications.", Example: "2450"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "As in Indications.", Example: "610"},
		{Header: "Indication", Type: Label, Also: []string{"Indication ID", "Indication no", "Indication no."}, Help: "ID of the indication it shows.", Example: "17"},
		{Header: "Direction", Help: "Which way the camera looked.", Example: "north"},
		{Header: "Caption", Help: "What there is to see.", Example: "Pit beside the lap weld"},
	},
}

var tracks = Sheet{
	Name:     "Tracks",
	Purpose:  "Scan strips, where the scanner's record names them.",
	Optional: true,
	Key:      []string{"Plate", "Track"},
	Columns: []Column{
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "As in Plates.", Example: "3-4"},
		{Header: "Track", Type: Label, Required: true, Also: []string{"Track no", "Track no."}, Help: "Number of the strip.", Example: "4"},
		{Header: "Offset", Type: Number, Kind: unit.Position, Required: true, ZeroOK: true, Help: "Lower edge of the strip, across the plate's width.", Example: "900"},
		{Header: "Strip width", Type: Number, Kind: unit.Position, Required: true, Help: "Width of the strip.", Example: "300"},
		{Header: "Start", Type: Number, Kind: unit.Position, ZeroOK: true, Help: "Where the strip begins, along the plate's length.", Example: "100"},
		{Header: "End", Type: Number, Kind: unit.Position, ZeroOK: true, Help: "Where it ends.", Example: "5900"},
		{Header: "Largest loss %", Type: Number, Kind: unit.Share, Low: 0, High: 100, ZeroOK: true, Also: []string{"% largest loss"}, Help: "Worst loss on the strip.", Example: "30"},
		{Header: "By", Help: "Who scanned, as in Crew.", Example: "J. Roe"},
		{Header: "Date", Type: Date, Help: "Day of the scan.", Example: "2026-04-22"},
	},
}

var existingPatches = Sheet{
	Name:     "Existing patches",
	Purpose:  "Patches already on the floor.",
	Optional: true,
	Key:      []string{"Plate", "Patch"},
	Columns: []Column{
		{Header: "Patch", Type: Label, Required: true, Help: "Name of the patch.", Example: "P1"},
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "As in Plates.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Required: true, Signed: true, ZeroOK: true, Help: "Centre, as in Indications.", Example: "2450"},
		{Header: "Y", Type: Number, Kind: unit.Position, Required: true, Signed: true, ZeroOK: true, Help: "Centre, as in Indications.", Example: "610"},
		{Header: "Length", Type: Number, Kind: unit.Size, Required: true, Help: "Extent along X; of a tombstone along the shell.", Example: "300"},
		{Header: "Width", Type: Number, Kind: unit.Size, Required: true, Help: "Extent along Y; of a tombstone inward from the shell.", Example: "300"},
		{Header: "Thickness", Type: Number, Kind: unit.Thickness, Low: 2, High: 50, Help: "Blank: the plate's nominal.", Example: "6.35"},
		{Header: "Installed", Type: Date, Help: "When it was welded on.", Example: "2014-06-01"},
		{Header: "Shape", Type: Word, Words: patchShapes, Aliases: patchShapeAliases, Help: "Blank: rounded rectangle. A tombstone near the shell is read as in Planned repairs, its sides square to the shell.", Example: "rounded rectangle"},
	},
}

var plannedRepairs = Sheet{
	Name:     "Planned repairs",
	Purpose:  "Repairs somebody has decided on or carried out. Without rows the program proposes them.",
	Optional: true,
	Key:      []string{"Repair"},
	Columns: []Column{
		{Header: "Repair", Type: Label, Required: true, Help: "Name of the repair.", Example: "R1"},
		{Header: "Kind", Type: Word, Required: true, Words: []string{"patch", "weld build-up", "replace plate", "line"}, Aliases: map[string]string{"weld buildup": "weld build-up", "weld build up": "weld build-up", "replacement": "replace plate", "plate replacement": "replace plate", "lining": "line"}, Help: "weld build-up fills product-side pits; line puts a lining over the floor.", Example: "patch"},
		{Header: "Plate", Type: Label, Required: true, Also: []string{"Plate no", "Plate no.", "Plate number", "Plate ID"}, Help: "As in Plates.", Example: "3-4"},
		{Header: "X", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "Centre, as in Indications. Needed for a patch or build-up.", Example: "2450"},
		{Header: "Y", Type: Number, Kind: unit.Position, Signed: true, ZeroOK: true, Help: "Centre, as in Indications. Needed for a patch or build-up.", Example: "610"},
		{Header: "Length", Type: Number, Kind: unit.Size, Help: "Extent along X; of a tombstone along the shell. Needed for a patch or build-up.", Example: "300"},
		{Header: "Width", Type: Number, Kind: unit.Size, Help: "Extent along Y; of a tombstone inward from the shell. Needed for a patch or build-up.", Example: "300"},
		{Header: "Thickness", Type: Number, Kind: unit.Thickness, Low: 2, High: 50, Help: "Of the patch or the new plate. Blank: the plate's nominal.", Example: "6.35"},
		{Header: "Shape", Type: Word, Words: patchShapes, Aliases: patchShapeAliases, Help: "Blank: rounded rectangle. A tombstone is carried to the shell, its sides square to it: X and Y are its centre; within Position tolerance of the shell it is taken to stand at it.", Example: "rounded rectangle"},
		{Header: "Indications", Type: Labels, Help: "IDs it is for, divided by semicolons. Blank: those it covers.", Example: "17; 18"},
		{Header: "Status", Type: Word, Words: []string{"planned", "completed"}, Aliases: map[string]string{"done": "completed", "complete": "completed"}, Help: "Blank: planned.", Example: "planned"},
		{Header: "Completed", Type: Date, Help: "Day it was finished.", Example: "2026-05-06"},
		{Header: "Retest", Help: "How and when it was examined afterwards.", Example: "Vacuum box 2026-05-07, accepted"},
		{Header: "Remarks", Help: "Reason, if it covers no indication."},
	},
}
