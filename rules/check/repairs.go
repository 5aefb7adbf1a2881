package check

import (
	"fmt"
	"math"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// covers says whether a repair takes in an indication of its plate: its box,
// grown by the overlap, lies in the repair within 1 mm, what is beyond the shell
// apart. by is how far it sticks out.
//
// Source: API 653 9.10.1.1 for the overlap, through a public site procedure.
func (j *judge) covers(r *inspection.Repair, plate int, o *inspection.Indication) (ok bool, by float64) {
	if inspection.Is(r.Kind, "replace plate") {
		return true, 0
	}
	if !r.X.OK() || !r.Y.OK() || !r.Length.OK() || !r.Width.OK() || !o.X.OK() || !o.Y.OK() {
		return false, math.NaN()
	}
	assumed := j.in.Criteria.Number("Assumed indication size")
	overlap := j.in.Criteria.Number("Patch overlap")
	length, width := extent(o.Length, assumed), extent(o.Width, assumed)
	at, ok := j.plan.RepairAt(plate, r, j.in.Criteria)
	var b floor.Box
	if ok && j.plan != nil {
		b, ok = j.plan.Box(plate, float64(o.X.Value), float64(o.Y.Value), length, width)
	}
	if !ok || j.plan == nil { // as they are typed, whatever the datum corner
		at, _ = (*floor.Plan)(nil).RepairAt(plate, r, j.in.Criteria)
		b = floor.BoxAt(floor.Point{X: float64(o.X.Value), Y: float64(o.Y.Value)}, length, width)
	}
	return at.Holds(plate, b, overlap), at.SticksOut(plate, b, overlap)
}

// repairs judges the planned repairs by themselves (R501 to R503).
func (j *judge) repairs() {
	onPlate := make(map[int][]int)
	for i := range j.in.Indications {
		if p := j.plate(j.in.Indications[i].Plate); p >= 0 {
			onPlate[p] = append(onPlate[p], i)
		}
	}
	for i := range j.in.Repairs {
		r := &j.in.Repairs[i]
		if inspection.Is(r.Status, "completed") && none(r.Retest.State) {
			j.put(onRow("R501", "Planned repairs", &r.Row, r.Retest.Ref, r.Label.Ref, "", "%s has no retest", r.Label.Text))
		}
		p := j.plate(r.Plate)
		if p < 0 {
			continue
		}
		covered := 0
		for _, k := range onPlate[p] {
			if ok, _ := j.covers(r, p, &j.in.Indications[k]); ok {
				covered++
			}
		}
		if covered == 0 {
			covered = j.coversBeside(r, p, onPlate)
		}
		listed := r.Indications.OK() && len(r.Indications.Value) > 0
		if listed && !inspection.Is(r.Kind, "line") {
			j.listed(r, p)
		}
		if covered == 0 && none(r.Indications.State) && none(r.Remarks.State) && (r.X.OK() || inspection.Is(r.Kind, "replace plate") || inspection.Is(r.Kind, "line")) {
			if inspection.Is(r.Kind, "replace plate") && len(onPlate[p]) > 0 {
				continue
			}
			j.put(onRow("R503", "Planned repairs", &r.Row, r.Remarks.Ref, r.Label.Ref, "", "%s covers no indication", r.Label.Text))
		}
	}
}

// coversBeside counts the indications of other plates that a repair over a seam
// takes in.
func (j *judge) coversBeside(r *inspection.Repair, plate int, onPlate map[int][]int) int {
	at, ok := j.plan.RepairAt(plate, r, j.in.Criteria)
	if j.plan == nil || !ok || !(inspection.Is(r.Kind, "patch") || inspection.Is(r.Kind, "weld build-up")) {
		return 0
	}
	assumed := j.in.Criteria.Number("Assumed indication size")
	overlap := j.in.Criteria.Number("Patch overlap")
	n := 0
	for _, k := range at.Under() {
		if k == plate {
			continue
		}
		for _, i := range onPlate[k] {
			o := &j.in.Indications[i]
			if !o.X.OK() || !o.Y.OK() {
				continue
			}
			b, ok := j.plan.Box(k, float64(o.X.Value), float64(o.Y.Value), extent(o.Length, assumed), extent(o.Width, assumed))
			if !ok {
				continue
			}
			if at.Holds(k, b, overlap) {
				n++
			}
		}
	}
	return n
}

// listed says which of the indications a repair lists it does not cover (R502).
func (j *judge) listed(r *inspection.Repair, plate int) {
	var out []string
	var refs []finding.Ref
	worst := 0.0
	for _, id := range r.Indications.Value {
		k := j.indicationOn(plate, id)
		if k < 0 {
			continue
		}
		o := &j.in.Indications[k]
		ok, by := j.covers(r, plate, o)
		if ok {
			continue
		}
		if math.IsNaN(by) {
			continue // a size or place is missing, and said so
		}
		out = append(out, fmt.Sprintf("indication %s, %s outside it", o.ID.Text, j.place(by)))
		refs = append(refs, o.ID.Ref)
		worst = math.Max(worst, by)
	}
	if len(out) == 0 {
		return
	}
	h := onRow("R502", "Planned repairs", &r.Row, r.Indications.Ref, r.Label.Ref, r.Indications.Text, "%s lists %s", r.Label.Text, strings.Join(out, "; "))
	h.Worth = worst
	h.Related = append(see("", refs...), see("overlap", j.in.Criteria.Get("Patch overlap").Ref)...)
	j.put(h)
}

// shellPointsNeeded is how many shell points a survey needs.
//
//	n = max(8, D/10 ft), made even
//
// D diameter, ft.
//
// Source: API Std 653 Annex B, as described in public articles and ballot items.
// Check: D 80, 100, 154, 200 ft → 8, 10, 16, 20.
func shellPointsNeeded(d unit.Length) int {
	n := int(math.Ceil(math.Max(8, float64(d/unit.Foot)/10) - 1e-9))
	return n + n%2
}

// longestArc is the longest distance along the shell between two points of a
// settlement survey, ft.
const longestArc = 32.0

// survey judges the settlement survey of the shell (R601).
func (j *judge) survey() {
	d := j.in.Tank.Diameter
	var bearings []float64
	var at finding.Ref
	for i := range j.in.Settlement {
		s := &j.in.Settlement[i]
		if !inspection.Is(s.Kind, "shell") {
			continue
		}
		if !s.Bearing.OK() || !s.Elevation.OK() {
			return // a point is in error, and said so
		}
		if !at.IsCell() {
			at = s.Point.Ref
		}
		bearings = append(bearings, math.Mod(float64(s.Bearing.Value)+360, 360))
	}
	if len(bearings) == 0 || !d.OK() || d.Value <= 0 {
		return
	}
	need := shellPointsNeeded(d.Value)
	arc := widestGap(bearings) / 360 * math.Pi * float64(d.Value/unit.Foot)
	message := ""
	switch {
	case len(bearings) < need:
		message = fmt.Sprintf("%s, %d needed for %s", spelling.Count(len(bearings), "point", "points"), need, j.text(unit.Height, float64(d.Value)))
	case arc > longestArc+1e-9:
		message = fmt.Sprintf("%s between two points along the shell, limit %s", j.text(unit.Height, arc*float64(unit.Foot)), j.text(unit.Height, longestArc*float64(unit.Foot)))
	default:
		return
	}
	j.put(finding.Hit{
		Rule: "R601", Kind: "Settlement", Ref: finding.Ref{Sheet: j.sheetName("Settlement")}, Message: message,
		Related: append(see("first point", at), see("diameter", d.Ref)...),
	})
}

// widestGap is the widest angle between neighbouring bearings, degrees.
func widestGap(bearings []float64) float64 {
	b := append([]float64(nil), bearings...)
	sortFloats(b)
	widest := b[0] + 360 - b[len(b)-1]
	for i := 1; i < len(b); i++ {
		widest = math.Max(widest, b[i]-b[i-1])
	}
	return widest
}

// openWelds looks for rejected welds without a later accepted retest (R602).
func (j *judge) openWelds() {
	seam := func(w *inspection.Weld) string {
		parts := strings.Split(inspection.Fold(w.Seam.Value), "/")
		if len(parts) == 2 && parts[1] < parts[0] {
			parts[0], parts[1] = parts[1], parts[0]
		}
		return strings.Join(parts, "/")
	}
	for i := range j.in.Welds {
		w := &j.in.Welds[i]
		if !inspection.Is(w.Result, "rejected") || !w.Seam.OK() {
			continue
		}
		closed := false
		for k := range j.in.Welds {
			o := &j.in.Welds[k]
			if !inspection.Is(o.Result, "retested accepted") || seam(o) != seam(w) {
				continue
			}
			later := k > i
			if o.Date.OK() && w.Date.OK() && o.Date.Value != w.Date.Value {
				later = o.Date.Value > w.Date.Value
			}
			closed = closed || later
		}
		if !closed {
			j.put(onRow("R602", "Welds", &w.Row, w.Result.Ref, w.ID.Ref, w.Result.Text, "%s rejected, no retest", w.Seam.Text))
		}
	}
}

// tank judges items of Tank against each other (R701, R702).
func (j *judge) tank() {
	t := &j.in.Tank
	if t.MaximumFillHeight.OK() && t.ShellHeight.OK() && !atMost(float64(t.MaximumFillHeight.Value), 1.01*float64(t.ShellHeight.Value)) {
		h := j.onItem("R701", "Maximum fill height", t.MaximumFillHeight.Ref, t.MaximumFillHeight.Text, "fill %s, shell %s",
			j.text(unit.Height, float64(t.MaximumFillHeight.Value)), j.text(unit.Height, float64(t.ShellHeight.Value)))
		h.Related = see("", t.ShellHeight.Ref)
		j.put(h)
	}
	if inspection.Is(t.CathodicProtection, "recorded effective") && none(t.CathodicProtectionEvidence.State) {
		j.put(j.onItem("R702", "Cathodic protection evidence", itemOr(t.CathodicProtectionEvidence.Ref, t.CathodicProtection.Ref), "", "CP recorded effective, no evidence: no credit"))
	}
	if inspection.Yes(t.ReinforcedLining) && t.Lining.State != inspection.Wrong && !inspection.Is(t.Lining, "reinforced") {
		lining := t.Lining.Value
		if lining == "" {
			lining = "empty"
		}
		h := j.onItem("R702", "Reinforced lining", t.ReinforcedLining.Ref, t.ReinforcedLining.Text, "Reinforced lining yes, Lining %s", lining)
		h.Related = see("", t.Lining.Ref)
		j.put(h)
	}
	if t.Lining.OK() && t.Lining.Value != "none" {
		if none(t.LiningInstalled.State) {
			j.put(j.onItem("R702", "Lining installed", itemOr(t.LiningInstalled.Ref, t.Lining.Ref), "", "%s lining without a date: no credit", t.Lining.Value))
		}
		if none(t.LiningExpectedLife.State) {
			j.put(j.onItem("R702", "Lining expected life", itemOr(t.LiningExpectedLife.Ref, t.Lining.Ref), "", "%s lining without an expected life: no credit", t.Lining.Value))
		}
	}
}
