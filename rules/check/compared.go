package check

import (
	"fmt"

	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Compared judges an inspection beside an earlier one (T301 to T305, and growth
// although the floor is protected, K104). c may be nil.
func Compared(in *inspection.Inspection, plan *floor.Plan, res *assess.Result, c *compare.Result) []finding.Hit {
	if c == nil {
		return nil
	}
	j := newJudge(in, plan)
	for _, f := range c.Refused {
		h := finding.Hit{Rule: f.Rule, Message: f.Message, Do: f.Do, Related: f.Related}
		if f.Rule == "K104" {
			h.Subject, h.Row = "compare.years", "compare.years"
		}
		j.put(h)
	}
	if len(c.Refused) > 0 {
		return j.hits
	}
	if p := &c.Position; p.Better() {
		j.put(finding.Hit{Rule: "T301", Message: fmt.Sprintf("%d pairs with the earlier plan %s, %d as drawn", p.Pairs, p.Words(), p.Identity)})
	}
	j.nominals(c)
	j.vanished(c)
	j.copies(c)
	if inspection.Is(in.Tank.CathodicProtection, "recorded effective") && c.Soil.Same.Known {
		j.put(NotJudged(compare.SoilColumn, fmt.Sprintf("%s grew on the soil side since %s although cathodic protection is recorded effective: %s at most",
			spelling.Count(protected(c, res), "pit", "pits"), c.Growth.Since, j.text(unit.RateKind, float64(c.Soil.Same.V))), in.Tank.CathodicProtection.Ref))
	}
	return j.hits
}

// protected counts the pits measured to grow on the soil side.
func protected(c *compare.Result, res *assess.Result) int {
	n := 0
	for i := range c.Pairs {
		if p := &c.Pairs[i]; p.Class == compare.Grown && c.Enters(p, res, true) {
			n++
		}
	}
	return n
}

// nominals asks about plates whose nominal changed without new metal (T302).
// Those that take theirs from Tank, then and now, are one question.
func (j *judge) nominals(c *compare.Result) {
	type change struct {
		at  finding.Ref
		old unit.Length
	}
	asked := make(map[change][]compare.Question)
	var order []change
	for _, q := range c.Questions {
		of := change{j.nominalRef(q.Plate), q.Old}
		if asked[of] == nil {
			order = append(order, of)
		}
		asked[of] = append(asked[of], q)
	}
	for _, of := range order {
		plates := asked[of]
		first := plates[0].Plate
		p := &j.in.Plates[first]
		changed := fmt.Sprintf("nominal was %s, now %s", unit.Thickness.Text(j.in.Units, float64(of.old), 0), unit.Thickness.TextUnit(j.in.Units, float64(plates[0].New), 0))
		if len(plates) == 1 || !of.at.IsCell() {
			h := j.onPlate("T302", first, p.Nominal.Text, "%s: %s", p.Label.Text, changed)
			if p.Nominal.OK() {
				h.Ref = p.Nominal.Ref
			}
			j.put(h)
			continue
		}
		item, from := "Nominal thickness", j.in.Tank.NominalThickness
		if inspection.Is(p.Type, "annular") {
			item, from = "Annular nominal thickness", j.in.Tank.AnnularNominal
		}
		h := j.onItem("T302", item, of.at, from.Text, "%s, %s to %s: %s", spelling.Count(len(plates), "plate", "plates"), p.Label.Text, j.in.Plates[plates[len(plates)-1].Plate].Label.Text, changed)
		for _, q := range plates {
			h.Related = append(h.Related, see("", j.in.Plates[q.Plate].Label.Ref)...)
		}
		j.put(h)
	}
}

// vanished asks about deep places of last time that were not found again and
// not repaired (T303). The old row is not in this workbook, so its plate's is
// shown.
func (j *judge) vanished(c *compare.Result) {
	old := c.Old()
	for _, i := range c.Vanished {
		p := &c.Pairs[i]
		l := &old.Found.Locations[p.Old]
		h := j.onPlate("T303", p.Plate, "", "old %s (%s) has no match at this inspection", compare.ID(old.In, l), percent(float64(p.OldLoss.V)))
		h.Subject, h.Row, h.Worth = l.Label, l.Label, float64(p.OldLoss.V)
		j.put(h)
	}
}

// copies asks about columns that equal last time's (T304).
func (j *judge) copies(c *compare.Result) {
	old := c.Old()
	when := old.In.Tank.InspectionEnd.Value.String()
	if len(when) > 4 {
		when = when[:4]
	}
	for _, f := range c.Copied {
		h := j.columnHit("T304", f.Sheet, f.Column, f.Cells, "", "%d of %d thicknesses equal those of %s", f.Equal, f.All, when)
		h.Related = see("", f.Cells[1:]...)
		j.put(h)
	}
}
