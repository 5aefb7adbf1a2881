package check

import (
	"slices"

	"platebook/rules/inspection"
)

// rowsOf is every row of every table sheet, by contract name, as it stands.
func rowsOf(in *inspection.Inspection) []struct {
	Kind string
	Row  *inspection.Row
} {
	var all []struct {
		Kind string
		Row  *inspection.Row
	}
	put := func(kind string, r *inspection.Row) {
		all = append(all, struct {
			Kind string
			Row  *inspection.Row
		}{kind, r})
	}
	for i := range in.Plates {
		put("Plates", &in.Plates[i].Row)
	}
	for i := range in.Indications {
		put("Indications", &in.Indications[i].Row)
	}
	for i := range in.ProveUps {
		put("Prove-ups", &in.ProveUps[i].Row)
	}
	for i := range in.Readings {
		put("Readings", &in.Readings[i].Row)
	}
	for i := range in.Tracks {
		put("Tracks", &in.Tracks[i].Row)
	}
	for i := range in.Photos {
		put("Photos", &in.Photos[i].Row)
	}
	for i := range in.Visual {
		put("Visual", &in.Visual[i].Row)
	}
	for i := range in.Welds {
		put("Welds", &in.Welds[i].Row)
	}
	for i := range in.Fixtures {
		put("Fixtures", &in.Fixtures[i].Row)
	}
	for i := range in.Patches {
		put("Existing patches", &in.Patches[i].Row)
	}
	for i := range in.Repairs {
		put("Planned repairs", &in.Repairs[i].Row)
	}
	for i := range in.Settlement {
		put("Settlement", &in.Settlement[i].Row)
	}
	for i := range in.Crew {
		put("Crew", &in.Crew[i].Row)
	}
	for i := range in.Instruments {
		put("Instruments", &in.Instruments[i].Row)
	}
	for i := range in.Checks {
		put("Checks", &in.Checks[i].Row)
	}
	for i := range in.Sections {
		put("Report", &in.Sections[i].Row)
	}
	for i := range in.Answers {
		if !in.Answers[i].InSheet {
			put("Answers", &in.Answers[i].Row)
		}
	}
	return all
}

// dataRows is the numbers of the rows that hold data, rising, by sheet.
func dataRows(in *inspection.Inspection) map[string][]int {
	rows := make(map[string][]int)
	for _, r := range rowsOf(in) {
		rows[r.Kind] = append(rows[r.Kind], r.Row.Number)
	}
	for kind := range rows {
		slices.Sort(rows[kind])
	}
	return rows
}
