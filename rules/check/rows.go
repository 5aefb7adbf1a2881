package check

import (
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// Rows judges rows, rows against each other and against the plan, and the
// quality record: all that needs no result. Values must have been judged
// before the plan was drawn. It marks the rows that an error on plate, place or
// thickness takes out, and takes the place from plates whose place is in error.
// photos may be nil when the picture files cannot be looked at; earlier are
// the hits so far, since what follows from one of them takes no row out.
func Rows(in *inspection.Inspection, plan *floor.Plan, photos Photos, earlier ...finding.Hit) []finding.Hit {
	j := newJudge(in, plan)
	// plates and places
	if in.Sheet("Plates") != nil {
		rimHolds := j.layout()
		j.labelsAgainstRows()
		j.platesCited()
		j.sizesWrong = !rimHolds && j.has("T101") && j.sizesDoubted()
		if !j.sizesWrong {
			j.annularSizes()
			j.places(rimHolds)
			j.tracks()
		}
	}
	// labels
	copied := j.blocks()
	j.oneLabel(copied)
	j.twice(copied)
	j.repeated(copied)
	j.off = append(j.off, j.indicationsCited()...)
	j.linksTooFar()
	// values
	j.neededForKind()
	j.aboveNominal()
	j.ownValues()
	j.sides()
	j.unlikeTheRest()
	j.noExtent()
	j.largerThanPlate()
	j.throughCoating()
	j.nominalInDoubt()
	j.drawnSeries()
	j.lossOfSound()
	// coverage, repairs, the rest of the floor
	j.coverage()
	j.repairs()
	j.survey()
	j.openWelds()
	j.tank()
	j.clauses()
	// the record
	works := j.works()
	j.dates(works)
	j.people(works)
	j.notRecorded()
	j.instruments(works)
	j.signed()
	j.criteriaChanged()
	j.photos(photos)
	j.takeOut(earlier)
	return j.hits
}

// places and thicknesses whose error takes a row out.
var takingOut = map[string]bool{
	"C302": true, "R107": true, "R201": true, "R202": true, "R203": true, "R301": true, "R303": true, "R306": true,
}

// takeOut marks the rows that an error on plate, place or thickness takes out
// of the calculation; they are listed. Two rows under one label, a missing
// prove-up and an impossible side leave a row in.
func (j *judge) takeOut(earlier []finding.Hit) {
	in := j.in
	rows := make(map[finding.Ref]*inspection.Row)
	judge := func(r *inspection.Row, plate inspection.Label, wrong ...bool) {
		rows[rowRef(r)] = r
		if !plate.OK() || len(j.plates[inspection.Fold(plate.Value)]) == 0 || slices.Contains(wrong, true) {
			r.Out = true
		}
	}
	for i := range in.Indications {
		r := &in.Indications[i]
		judge(&r.Row, r.Plate, wrong(r.X), wrong(r.Y), wrong(r.Loss), wrong(r.Remaining), wrong(r.Depth))
		if !r.X.OK() || !r.Y.OK() {
			r.Out = true // required
		}
	}
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		judge(&r.Row, r.Plate, wrong(r.X), wrong(r.Y), wrong(r.Remaining), wrong(r.Depth), wrong(r.Sound))
	}
	for i := range in.Readings {
		r := &in.Readings[i]
		judge(&r.Row, r.Plate, wrong(r.X), wrong(r.Y), wrong(r.Thickness))
		if !r.Thickness.OK() {
			r.Out = true
		}
	}
	placed := map[*inspection.Row]bool{} // what else such a repair lacks leaves it in
	for i := range in.Repairs {
		r := &in.Repairs[i]
		placed[&r.Row] = len(placeLacked(r).names) == 0
		judge(&r.Row, r.Plate, wrong(r.X), wrong(r.Y), wrong(r.Length), wrong(r.Width), wrong(r.Thickness))
	}
	all := append(earlier[:len(earlier):len(earlier)], j.hits...)
	for _, h := range silence(all) {
		if !takingOut[h.Rule] {
			continue
		}
		if r := rows[finding.Ref{Sheet: h.Ref.Sheet, Row: h.Ref.Row}]; r != nil {
			if h.Kind == "Planned repairs" && (h.Rule == "R107" || h.Rule == "C302" && placed[r]) {
				continue // the repair stands where it stands; its list is wrong, or its day is missing
			}
			r.Out = true
		}
	}
}

// wrong says whether a field is in error. One left open (TBC) is unknown too,
// but takes nothing out.
func wrong[T any](f inspection.Field[T]) bool {
	if f.State != inspection.Wrong {
		return false
	}
	switch strings.ToUpper(strings.TrimSpace(f.Text)) {
	case "TBC", "TBD", "TBA", "XXX", "???":
		return false
	}
	return true
}
