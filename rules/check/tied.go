package check

import (
	"fmt"
	"math"
	"strconv"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

func parse(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// extent is an indication's size with the assumed one in place of a blank.
func extent(f inspection.Length, assumed float64) float64 {
	if f.OK() {
		return float64(f.Value)
	}
	return assumed
}

// away is how far a place lies outside an indication's box, mm. Both are
// measured from one datum corner, so no plan is needed.
func away(o *inspection.Indication, x, y, assumed float64) float64 {
	dx := math.Abs(x-float64(o.X.Value)) - extent(o.Length, assumed)/2
	dy := math.Abs(y-float64(o.Y.Value)) - extent(o.Width, assumed)/2
	return math.Hypot(math.Max(0, dx), math.Max(0, dy))
}

// Sorted by halves: half of ten or more links too far.
const leastLinks = 10

// linksTooFar judges how far prove-ups lie from the indications they cite
// (R310, R311). A place in error says nothing.
func (j *judge) linksTooFar() {
	tol := j.in.Criteria.Number("Position tolerance")
	assumed := j.in.Criteria.Number("Assumed indication size")
	astray := make(map[finding.Ref]bool)
	for _, h := range j.hits {
		switch h.Rule {
		case "R201", "R202", "R203":
			astray[finding.Ref{Sheet: h.Ref.Sheet, Row: h.Ref.Row}] = true
		}
	}
	byPlate := make(map[int][]int)
	for i := range j.in.Indications {
		if o := &j.in.Indications[i]; o.X.OK() && o.Y.OK() {
			if p := j.plate(o.Plate); p >= 0 {
				byPlate[p] = append(byPlate[p], i)
			}
		}
	}
	linked := 0
	var far []finding.Hit
	for i := range j.in.ProveUps {
		r := &j.in.ProveUps[i]
		p := j.plate(r.Plate)
		if p < 0 || !r.Indication.OK() || !r.X.OK() || !r.Y.OK() {
			continue
		}
		k := j.indicationOn(p, r.Indication.Value)
		if k < 0 {
			continue
		}
		o := &j.in.Indications[k]
		if !o.X.OK() || !o.Y.OK() || astray[rowRef(&o.Row)] {
			continue
		}
		linked++
		x, y := float64(r.X.Value), float64(r.Y.Value)
		d := away(o, x, y, assumed)
		if atMost(d, 2*tol) {
			continue
		}
		near := -1
		only := true
		for _, c := range byPlate[p] {
			if c != k && atMost(away(&j.in.Indications[c], x, y, assumed), 2*tol) {
				only = only && near < 0
				near = c
			}
		}
		question := ""
		if near >= 0 && only {
			n := &j.in.Indications[near]
			question = "; " + n.ID.Text + " at " + j.place(away(n, x, y, assumed)) + "?"
		}
		h := onRow("R310", "Prove-ups", &r.Row, r.Indication.Ref, r.ID.Ref, r.Indication.Text, "%s is %s from indication %s%s",
			r.ID.Text, j.place(d), o.ID.Text, question)
		h.Worth = d
		h.Related = see("", o.ID.Ref)
		far = append(far, h)
		if near >= 0 && only {
			j.off = append(j.off, broken{link{"Prove-ups", &r.Row, r.ID.Ref, &r.Plate, r.Indication.Value, r.Indication.Ref}, near})
		} else {
			j.off = append(j.off, broken{link{"Prove-ups", &r.Row, r.ID.Ref, &r.Plate, r.Indication.Value, r.Indication.Ref}, -1})
		}
	}
	j.hits = append(j.hits, far...)
	if linked >= leastLinks && 2*len(far) >= linked {
		j.put(finding.Hit{
			Rule: "R311", Kind: "Prove-ups", Ref: finding.Ref{Sheet: j.sheetName("Prove-ups")},
			Message: fmt.Sprintf("%d of %d prove-ups lie off their indication", len(far), linked),
			Related: see("", far[0].Ref),
		})
	}
}
