package check

var calculationRules = []Rule{
	{
		Code: "K101", Title: "rate unknown", Class: Warning, Per: PerFile,
		What:   "the floor's age, the ultrasonic values or the area examined do not allow a corrosion rate",
		Why:    "without a rate only the cap for unknown rates is left",
		Before: "no floor age: 10-year cap", After: "Floor installed 2001-05-01",
		Do:     "Enter Floor installed.",
		Source: "API 653 3rd ed. 6.4 (unknown rates); the conditions: common practice, no source",
	},
	{
		Code: "K102", Title: "no measurable loss", Class: Note, Per: PerValue,
		What:   "the rate of a side is 0 because no loss was measured there",
		Why:    "no loss so far is not no loss to come",
		Before: "soil side: rate 0", After: "a least rate set in Criteria, if one is wanted",
	},
	{
		Code: "K103", Title: "result to note", Class: Note, Per: PerValue,
		What:   "a calculation step misses its limit; patching cannot reach the desired interval; repairs on 25 % of the plates or 10 % of the area; a settlement survey uneven by 10 %; Service change date after Floor installed; an MFL threshold of 20 % or less on metal over 10 mm; an existing patch without Installed",
		Why:    "the decision is the owner's and the inspector's; the number should not be missed",
		Before: "5.6 years, 10 desired", After: "the same, decided upon",
	},
	{
		Code: "K104", Title: "not judged", Class: Warning, Per: PerValue,
		What:   "a step has no verdict: nothing measured in the critical zone; a plate not examined at all; an unproved estimate or an unknown side governs; growth although cathodic protection is recorded effective; diameter over 200 ft; a ring with stress of 32,400 psi or more, specific gravity of 1 or more, or no First-course thickness as built; edge settlement without limits; a poor settlement fit; an extreme-value estimate asked for and unsuitable or doubtful",
		Why:    "what the program does not judge, a person must",
		Before: "no reading within 76.2 mm of the shell", After: "a reading there",
		Do: "Measure, or name who judges.",
	},
	{
		Code: "K105", Title: "left out of minima", Class: Warning, Per: PerFile,
		What:   "Unproved indications is exclude, and some are unproved",
		Why:    "metal that may be thin does not count in the result",
		Before: "118 unproved left out", After: "the same, accepted by name",
		Do: "Name who accepts.",
	},
	{
		Code: "K106", Title: "blocked by unproved indications", Class: Error, Per: PerFile,
		What:   "Unproved indications is block, and some are unproved",
		Why:    "the firm's own policy withholds the final report",
		Before: "118 unproved", After: "all proved up, or another policy with a Note",
		Do: "Prove up or change it.",
	},
	{
		Code: "K107", Title: "step failed", Class: Error, Per: PerValue,
		What:   "a step gives no number and no other cause was found",
		Why:    "it is a fault of the program, not of the workbook",
		Before: "rate.soil gives no number", After: "a corrected program",
		Do: "Send the workbook.",
	},
	{
		Code: "K201", Title: "result differs", Class: Error, Per: PerCell,
		What:   "in a review a stored result differs from the recomputed one beyond the printed digits",
		Why:    "the result was edited, or its inputs were",
		Before: "11.8 stored, 11.5 recomputed", After: "the workbook run again",
		Do: "Run again.",
	},
	{
		Code: "K202", Title: "inputs changed", Class: Error, Per: PerFile,
		What:   "in a review the input cells are not those the results were made from",
		Why:    "the results belong to other data",
		Before: "3 input cells differ", After: "the workbook run again",
		Do: "Run again.",
	},
	{
		Code: "K203", Title: "clause unknown", Class: Warning, Per: PerCell,
		What:   "a clause number within 20 letters after “API 653” in Report Text or Remarks has a section number that the standard does not have, or is what another edition calls a subject that this one has elsewhere; whether any other clause exists within its section is not judged",
		Why:    "a wrong clause misleads who looks it up",
		Before: "API 653, 19.10.1", After: "API 653, 9.10.1",
		Do:     "Correct it.",
		Source: "from memory, verify: 13 numbered sections; bottom repairs 9.10, in later addenda 9.11",
	},
}
