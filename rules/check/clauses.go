package check

import (
	"fmt"
	"regexp"
	"strconv"

	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
)

// lastSection is the last numbered section of API Std 653, 5th edition.
//
// Source: from memory, verify.
const lastSection = 13

var clauseCited = regexp.MustCompile(`(?i)API\s*(?:Std\.?\s*)?653[^0-9]{0,20}?\b([0-9]{1,2})((?:\.[0-9]{1,2})+)`)

// clauses looks for clauses that cannot be in the standard (K203): their
// section number is not one of it, or their number is what another edition calls
// a subject by that the edition in force has elsewhere. Whether any other clause
// within a section exists is not judged, since the list of clauses is not at
// hand.
func (j *judge) clauses() {
	look := func(kind, column string, r *inspection.Row, f inspection.Text) {
		if !f.OK() {
			return
		}
		for _, m := range clauseCited.FindAllStringSubmatch(f.Value, -1) {
			if n, err := strconv.Atoi(m[1]); err == nil && n >= 1 && n <= lastSection && !api653_5.Elsewhere(m[1]+m[2]) {
				continue
			}
			j.put(onCell("K203", kind, r, column, f.Ref, f.Text, "%s", fmt.Sprintf("API 653 %s%s is not in this edition", m[1], m[2])))
			return
		}
	}
	in := j.in
	for i := range in.Sections {
		look("Report", "Text", &in.Sections[i].Row, in.Sections[i].Text)
	}
	for i := range in.Plates {
		look("Plates", "Remarks", &in.Plates[i].Row, in.Plates[i].Remarks)
	}
	for i := range in.Indications {
		look("Indications", "Remarks", &in.Indications[i].Row, in.Indications[i].Remarks)
	}
	for i := range in.ProveUps {
		look("Prove-ups", "Remarks", &in.ProveUps[i].Row, in.ProveUps[i].Remarks)
	}
	for i := range in.Readings {
		look("Readings", "Remarks", &in.Readings[i].Row, in.Readings[i].Remarks)
	}
	for i := range in.Welds {
		look("Welds", "Remarks", &in.Welds[i].Row, in.Welds[i].Remarks)
	}
	for i := range in.Fixtures {
		look("Fixtures", "Remarks", &in.Fixtures[i].Row, in.Fixtures[i].Remarks)
	}
	for i := range in.Repairs {
		look("Planned repairs", "Remarks", &in.Repairs[i].Row, in.Repairs[i].Remarks)
	}
	for i := range in.Settlement {
		look("Settlement", "Remarks", &in.Settlement[i].Row, in.Settlement[i].Remarks)
	}
}
