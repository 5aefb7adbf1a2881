package check

import (
	"fmt"
	"math"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Results judges what only the evaluation shows: prove-ups missing, scan and
// UT apart, metal left without a repair, and what the calculation leaves open.
func Results(in *inspection.Inspection, plan *floor.Plan, res *assess.Result) []finding.Hit {
	j := newJudge(in, plan)
	r := &resultJudge{judge: j, res: res, byIndication: make(map[int]*assess.Location)}
	for i := range res.Locations {
		if l := &res.Locations[i]; l.Kind == assess.IndicationAt && l.Indication >= 0 {
			r.byIndication[l.Indication] = l
		}
	}
	r.excuses = r.excused()
	r.unproved()
	rescan := r.rescan()
	r.apart(rescan)
	r.tiedByPlace()
	r.unrepaired()
	r.calculation()
	return j.hits
}

type resultJudge struct {
	*judge
	res          *assess.Result
	byIndication map[int]*assess.Location
	excuses      map[int]bool // indications whose missing prove-up follows from another fault
}

// nearBroken is how near a prove-up whose link is broken may lie to an
// indication to be the one that is missing.
const nearBroken = 100.0

// excused is the indications whose missing prove-up follows from another
// fault: a broken link, a prove-up in error, a copied block.
func (r *resultJudge) excused() map[int]bool {
	j := newJudge(r.in, r.plan)
	copied := j.blocks()
	broken := j.indicationsCited()
	j.linksTooFar()
	broken = append(broken, j.off...)
	out := make(map[int]bool)
	onPlate := make(map[int][]int)
	for i := range r.in.Indications {
		o := &r.in.Indications[i]
		if copied[rowRef(&o.Row)] {
			out[i] = true
		}
		if p := r.plate(o.Plate); p >= 0 {
			onPlate[p] = append(onPlate[p], i)
		}
	}
	assumed := r.in.Criteria.Number(criteria.AssumedIndicationSize)
	proveUps := make(map[finding.Ref]*inspection.ProveUp, len(r.in.ProveUps))
	nearTo := func(u *inspection.ProveUp) {
		p := r.plate(u.Plate)
		if p < 0 || !u.X.OK() || !u.Y.OK() {
			return
		}
		for _, i := range onPlate[p] {
			o := &r.in.Indications[i]
			if o.X.OK() && o.Y.OK() && atMost(away(o, float64(u.X.Value), float64(u.Y.Value), assumed), nearBroken) {
				out[i] = true
			}
		}
	}
	for k := range r.in.ProveUps {
		u := &r.in.ProveUps[k]
		proveUps[rowRef(&u.Row)] = u
		if !u.Out && (u.Remaining.State != inspection.Wrong) {
			continue
		}
		// the row is there; its fault is reported
		if u.Indication.OK() {
			if p := r.plate(u.Plate); p >= 0 {
				if i := r.indicationOn(p, u.Indication.Value); i >= 0 {
					out[i] = true
				}
			} else {
				for _, i := range r.ids[inspection.Fold(u.Indication.Value)] {
					out[i] = true
				}
			}
		}
		nearTo(u)
	}
	for _, b := range broken {
		if b.kind != "Prove-ups" {
			continue
		}
		if b.named >= 0 {
			out[b.named] = true
		}
		if u := proveUps[rowRef(b.row)]; u != nil {
			nearTo(u)
		}
	}
	return out
}

// unproved looks for scan estimates that should have been proved up (R307,
// R308).
func (r *resultJudge) unproved() {
	threshold := r.in.Criteria.Get(criteria.ProveUpThreshold)
	width := r.in.Criteria.Get(criteria.CriticalZoneWidth)
	hasSheet := r.in.Sheet("Indications") != nil
	gauged := r.gauged()
	for i := range r.in.Indications {
		o := &r.in.Indications[i]
		l := r.byIndication[i]
		scanned := inspection.Is(o.Method, "MFL") || inspection.Is(o.Method, "hand scan")
		if !hasSheet || l == nil || !scanned || !o.Loss.OK() || inspection.Is(o.Kind, "not relevant") || r.excuses[i] || r.byUT(l) || gauged[i] {
			continue
		}
		switch loss := float64(o.Loss.Value); {
		case loss >= threshold.Number-1e-9:
			h := onRow("R307", "Indications", &o.Row, o.Loss.Ref, o.ID.Ref, o.Loss.Text, "%s loss, threshold %s, no UT prove-up", percent(loss), percent(threshold.Number))
			h.Worth = loss
			h.Related = see("threshold", threshold.Ref)
			r.put(h)
		case l.Zone == floor.Critical:
			h := onRow("R308", "Indications", &o.Row, o.Loss.Ref, o.ID.Ref, o.Loss.Text, "%s loss within %s of the shell, no UT prove-up", percent(loss), r.size(width.Number))
			h.Worth = loss
			h.Related = see("zone", width.Ref)
			r.put(h)
		}
	}
}

// gauged is the scan's indications beside which another row of Indications
// holds an ultrasonic value: MFL, hand scan and UT in one place are one pit.
func (r *resultJudge) gauged() map[int]bool {
	tol := r.in.Criteria.Number(criteria.PositionTolerance)
	assumed := r.in.Criteria.Number(criteria.AssumedIndicationSize)
	byPlate := make(map[int][]*inspection.Indication)
	for i := range r.in.Indications {
		if o := &r.in.Indications[i]; inspection.Is(o.Method, "UT") && o.Remaining.OK() && o.X.OK() && o.Y.OK() && !o.Out {
			p := r.plate(o.Plate)
			byPlate[p] = append(byPlate[p], o)
		}
	}
	out := make(map[int]bool)
	if len(byPlate) == 0 {
		return out
	}
	for i := range r.in.Indications {
		o := &r.in.Indications[i]
		if !o.X.OK() || !o.Y.OK() {
			continue
		}
		for _, u := range byPlate[r.plate(o.Plate)] {
			sides := o.Side.Value == u.Side.Value || o.Side.Value == "unknown" || u.Side.Value == "unknown"
			if u != o && sides && atMost(away(o, float64(u.X.Value), float64(u.Y.Value), assumed), tol) {
				out[i] = true
				break
			}
		}
	}
	return out
}

// byUT says whether an ultrasonic prove-up is tied to a location.
func (r *resultJudge) byUT(l *assess.Location) bool {
	for _, k := range l.Tied {
		if r.in.ProveUps[k].Remaining.OK() {
			return true
		}
	}
	return false
}

// rescan judges the scan by its pairs, plate by plate and person by person
// (T204, T205), and gives the plates to be scanned again.
func (r *resultJudge) rescan() map[int]bool {
	difference := r.in.Criteria.Get(criteria.RescanDifference)
	least := int(r.in.Criteria.Number(criteria.RescanCount))
	apart := make(map[int][]sizing.Pair)
	for _, p := range r.res.Sizing.Pairs {
		if math.Abs(p.MFL-p.UT) > difference.Number+1e-9 && !r.fewAt(p) {
			apart[p.Plate] = append(apart[p.Plate], p)
		}
	}
	plates := make(map[int]bool)
	for i := range r.in.Plates {
		pairs := apart[i]
		if len(pairs) < least || len(pairs) == 0 {
			continue
		}
		plates[i] = true
		p := &r.in.Plates[i]
		h := r.onPlate("T204", i, p.Label.Text, "%s: MFL and UT of %s over %s points apart", p.Label.Text, spelling.Count(len(pairs), "pair", "pairs"), short(difference.Number, 1))
		for _, pair := range pairs {
			h.Related = append(h.Related, see("", r.in.Indications[pair.Indication].ID.Ref)...)
		}
		h.Related = append(h.Related, see("limit", difference.Ref)...)
		r.put(h)
	}
	for _, g := range r.res.Sizing.ByPerson {
		f := g.Fit
		if g.Name == "" || f.Pairs < 8 || !f.Bias.Known {
			continue
		}
		within := f.Within10.Known && float64(f.Within10.V) < 50-1e-9
		if math.Abs(float64(f.Bias.V)) <= 10+1e-9 && !within {
			continue
		}
		h := finding.Hit{Rule: "T205", Subject: g.Name, Row: g.Name}
		h.Message = fmt.Sprintf("%s: MFL against UT, bias %s points, %d pairs", g.Name, signed(float64(f.Bias.V), 1), f.Pairs)
		if within {
			h.Message += fmt.Sprintf(", %s within 10 points", percent(float64(f.Within10.V)))
		}
		for _, p := range r.res.Sizing.Pairs {
			if p.By == g.Name {
				h.Related = append(h.Related, see("", r.in.Indications[p.Indication].ID.Ref)...)
			}
		}
		r.put(h)
	}
	return plates
}

// fewAt says whether a pair's UT value is in doubt itself (C106).
func (r *resultJudge) fewAt(p sizing.Pair) bool {
	return p.ProveUp >= 0 && few(r.in.ProveUps[p.ProveUp].Remaining.Value, p.Nominal)
}

// apart looks for pairs of scan and UT that are far from each other (R309).
func (r *resultJudge) apart(rescan map[int]bool) {
	const far = 30.0
	for _, p := range r.res.Sizing.Pairs {
		if rescan[p.Plate] || r.fewAt(p) || p.ProveUp < 0 || math.Abs(p.MFL-p.UT) <= far+1e-9 {
			continue
		}
		u, o := &r.in.ProveUps[p.ProveUp], &r.in.Indications[p.Indication]
		h := onRow("R309", "Prove-ups", &u.Row, u.Remaining.Ref, u.ID.Ref, u.Remaining.Text, "%s: MFL %s, UT %s", o.Key, percent(p.MFL), percent(p.UT))
		h.Worth = math.Abs(p.MFL - p.UT)
		h.Related = see("", o.Loss.Ref)
		r.put(h)
	}
}

// tiedByPlace says which prove-ups counted for an indication by their place
// (R312).
func (r *resultJudge) tiedByPlace() {
	for i := range r.res.Locations {
		l := &r.res.Locations[i]
		if !l.TiedByPlace || l.Indication < 0 {
			continue
		}
		for _, k := range l.Tied {
			u := &r.in.ProveUps[k]
			if !none(u.Indication.State) {
				continue
			}
			h := onRow("R312", "Prove-ups", &u.Row, u.Indication.Ref, u.ID.Ref, "", "%s counted for %s", u.ID.Text, l.Label)
			h.Related = see("", r.in.Indications[l.Indication].ID.Ref)
			r.put(h)
		}
	}
}

// unrepaired looks for metal below the requirement that no planned repair
// takes in (R504).
func (r *resultJudge) unrepaired() {
	if len(r.in.Repairs) == 0 {
		return
	}
	claimed := r.claimed()
	desired := r.in.Tank.DesiredInterval.OK()
	for i := range r.res.Locations {
		l := &r.res.Locations[i]
		if l.Repair != "" || !(l.Verdict == assess.RepairFirst || desired && l.Verdict == assess.Repair) || !l.Remaining.Known || !l.Required.Known {
			continue
		}
		end := ""
		if l.Verdict == assess.Repair {
			end = " now, less at the end of the interval"
		}
		message := fmt.Sprintf("%s left, required %s%s, no repair planned", r.thick(l.Remaining.V), r.thick(l.Required.V), end)
		var h finding.Hit
		switch {
		case l.Kind == assess.IndicationAt && l.Indication >= 0:
			if claimed[l.Indication] || r.excuses[l.Indication] && !r.byUT(l) {
				continue // a repair in error claims it, or its prove-up is in error
			}
			o := &r.in.Indications[l.Indication]
			h = onRow("R504", "Indications", &o.Row, o.ID.Ref, o.ID.Ref, o.ID.Text, "%s: %s", o.ID.Text, message)
		case l.Kind == assess.ProveUpAt && l.ProveUp >= 0:
			u := &r.in.ProveUps[l.ProveUp]
			h = onRow("R504", "Prove-ups", &u.Row, u.ID.Ref, u.ID.Ref, u.ID.Text, "%s: %s", u.ID.Text, message)
		default:
			continue
		}
		h.Worth = float64(l.Required.V - l.Remaining.V)
		r.put(h)
	}
}

// claimed is the indications that a repair lists without covering them (R502),
// or that a repair row left out lists or covers.
func (r *resultJudge) claimed() map[int]bool {
	out := make(map[int]bool)
	for i := range r.in.Repairs {
		rep := &r.in.Repairs[i]
		p := r.plate(rep.Plate)
		if p < 0 {
			continue
		}
		for _, id := range rep.Indications.Or(nil) {
			if k := r.indicationOn(p, id); k >= 0 {
				out[k] = true
			}
		}
		if !rep.Out {
			continue
		}
		for k := range r.in.Indications {
			o := &r.in.Indications[k]
			if r.plate(o.Plate) != p {
				continue
			}
			if ok, _ := r.covers(rep, p, o); ok {
				out[k] = true
			}
		}
	}
	return out
}

// RepairFails is the finding that a check of a planned repair fails (R505): id
// names the check, message says value and limit.
func RepairFails(in *inspection.Inspection, repair int, id, message string) finding.Hit {
	r := &in.Repairs[repair]
	h := onRow("R505", "Planned repairs", &r.Row, r.Label.Ref, r.Label.Ref, r.Label.Text, "%s %s %s", r.Label.Text, id, message)
	h.Subject = r.Key + ":" + id
	return h
}

// ToNote is a result a reader should not miss (K103), by the id of its step.
func ToNote(id, message string, from ...finding.Ref) finding.Hit {
	return finding.Hit{Rule: "K103", Subject: id, Row: id, Message: message, Related: see("", from...)}
}

// NotJudged is a result without a verdict (K104), by the id of its step.
func NotJudged(id, message string, from ...finding.Ref) finding.Hit {
	return finding.Hit{Rule: "K104", Subject: id, Row: id, Message: message, Related: see("", from...)}
}

// largestDiameter is the limit of the one-foot method for the shell.
//
// Source: API Std 653 3rd ed. 4.3.3.1.
const largestDiameter = 200 * unit.Foot
