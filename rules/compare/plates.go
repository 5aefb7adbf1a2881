package compare

import (
	"math"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// PlatePair is one plate then and now.
type PlatePair struct {
	Old, New   int    // index in Inspection.Plates, −1 without
	Renamed    bool   // paired under another label
	Replaced   string // "installed 2018-05-02" when its metal is newer than the old inspection
	Question   bool   // nominal changed without new metal
	OldNominal unit.Maybe[unit.Length]
	NewNominal unit.Maybe[unit.Length]
	OldWorst   unit.Maybe[unit.Length]
	NewWorst   unit.Maybe[unit.Length]
	Count      map[Class]int
	Growth     unit.Maybe[unit.Rate] // greatest of grown and new

	quarters int // its frame is turned by so many quarters against the earlier drawing
}

// Change says in words what became of the plate as such: replaced, there at one
// date only, another nominal, another label; "" for a plate that stayed.
func (p *PlatePair) Change() string {
	switch {
	case p.Replaced != "":
		return p.Replaced
	case p.Old < 0:
		return "not there then"
	case p.New < 0:
		return "not there now"
	case p.Question:
		return "nominal changed"
	case p.Renamed:
		return "renumbered"
	}
	return ""
}

// pairPlates pairs plates by the list of labels, else by Previous plate, else
// by label. An old plate serves once.
func (w *work) pairPlates(renamed []Renamed) {
	old, now := w.old.In, w.now.In
	byLabel := make(map[string]int, len(old.Plates))
	for i := range old.Plates {
		if p := &old.Plates[i]; p.Label.OK() && !p.Out {
			if f := inspection.Fold(p.Label.Value); !has(byLabel, f) {
				byLabel[f] = i
			}
		}
	}
	listed := make(map[string]string, len(renamed))
	for _, r := range renamed {
		listed[inspection.Fold(r.New)] = inspection.Fold(r.Old)
	}
	partner := make([]int, len(now.Plates))
	taken := make(map[int]bool, len(old.Plates))
	take := func(i int, label string) bool {
		o, ok := byLabel[label]
		if !ok || taken[o] {
			return false
		}
		partner[i], taken[o] = o, true
		return true
	}
	// what was said counts before equal labels
	said, used := make([]bool, len(now.Plates)), map[string]bool{}
	for i := range now.Plates {
		partner[i] = -1
		p := &now.Plates[i]
		if !p.Label.OK() || p.Out {
			continue
		}
		own := inspection.Fold(p.Label.Value)
		if before, ok := listed[own]; ok {
			said[i] = true
			used[own] = true
			if before != "" && !take(i, before) {
				w.res.Notes = append(w.res.Notes, "Plate "+p.Label.Value+": the list of labels names an earlier plate that is not there or was named twice.")
			}
		} else if p.PreviousPlate.OK() {
			said[i] = true
			if !take(i, inspection.Fold(p.PreviousPlate.Value)) {
				w.res.Notes = append(w.res.Notes, "Plate "+p.Label.Value+": its Previous plate “"+p.PreviousPlate.Value+"” is not in the earlier inspection, or was named twice.")
			}
		}
	}
	for _, r := range renamed {
		if !used[inspection.Fold(r.New)] {
			w.res.Notes = append(w.res.Notes, "The list of labels names a plate “"+r.New+"” that is not in this workbook: its line was not used.")
		}
	}
	for i := range now.Plates {
		if p := &now.Plates[i]; !said[i] && p.Label.OK() && !p.Out {
			take(i, inspection.Fold(p.Label.Value))
		}
	}
	w.oldByLabel, w.newByLabel = make(map[string]int, len(old.Plates)), make(map[string]int, len(now.Plates))
	back := make([]int, len(old.Plates))
	for i := range back {
		back[i] = -1
	}
	for i, o := range partner {
		if o >= 0 {
			back[o] = i
		}
		w.keepPlate(w.platePair(o, i))
	}
	for o, i := range back {
		if i < 0 {
			w.keepPlate(w.platePair(o, -1))
		}
	}
}

func (w *work) keepPlate(p PlatePair) {
	k := len(w.res.Plates)
	w.res.Plates = append(w.res.Plates, p)
	note := func(m map[string]int, in *inspection.Inspection, plate int) {
		if plate < 0 || !in.Plates[plate].Label.OK() {
			return
		}
		if f := inspection.Fold(in.Plates[plate].Label.Value); !has(m, f) {
			m[f] = k
		}
	}
	note(w.oldByLabel, w.old.In, p.Old)
	note(w.newByLabel, w.now.In, p.New)
}

func has(m map[string]int, k string) bool { _, ok := m[k]; return ok }

func (w *work) platePair(o, n int) PlatePair {
	p := PlatePair{Old: o, New: n, Count: map[Class]int{}}
	if o >= 0 {
		r := &w.old.Found.Plates[o]
		p.OldNominal, p.OldWorst = r.Nominal, r.Worst
	}
	if n < 0 {
		return p
	}
	r := &w.now.Found.Plates[n]
	p.NewNominal, p.NewWorst = r.Nominal, r.Worst
	row := &w.now.In.Plates[n]
	installed := installedOn(w.now.In, n)
	if installed.OK() && installed.Value > w.end {
		p.Replaced = "installed " + installed.Value.String()
	}
	if o < 0 {
		return p
	}
	if start, was := w.old.In.Tank.InspectionStart, installedOn(w.old.In, o); p.Replaced == "" && installed.OK() && start.OK() && installed.Value > start.Value && was.OK() && was.Value <= start.Value {
		p.Replaced = "installed " + installed.Value.String() + " during the earlier inspection"
	}
	for i := range w.old.In.Repairs {
		if x := &w.old.In.Repairs[i]; p.Replaced == "" && !x.Out && inspection.Is(x.Kind, "replace plate") && inspection.Is(x.Status, "completed") &&
			x.Plate.OK() && inspection.Fold(x.Plate.Value) == inspection.Fold(w.old.In.Plates[o].Label.Value) {
			p.Replaced = "renewed by repair " + x.Label.Text + " at the earlier inspection"
		}
	}
	a, b := w.old.In.Plates[o].Label, row.Label
	p.Renamed = inspection.Fold(a.Value) != inspection.Fold(b.Value)
	if p.Replaced == "" && p.OldNominal.Known && p.NewNominal.Known &&
		math.Abs(float64(p.OldNominal.V-p.NewNominal.V)) > w.set.Number(criteria.MillTolerance)+hair {
		p.Question = true
		w.res.Questions = append(w.res.Questions, Question{Plate: n, Old: p.OldNominal.V, New: p.NewNominal.V})
	}
	return p
}

// installedOn is when a plate's metal was installed: its own date, else the
// floor's.
func installedOn(in *inspection.Inspection, plate int) inspection.Date {
	if d := in.Plates[plate].Installed; d.State == inspection.Given || d.State == inspection.Wrong {
		return d
	}
	return in.Tank.FloorInstalled
}

// plateNow is the pair an old plate belongs to, −1.
func (w *work) plateNow(old int) int {
	for k := range w.res.Plates {
		if w.res.Plates[k].Old == old {
			return k
		}
	}
	return -1
}

// examined says whether any part of a plate was examined. Where no share was
// written at all, what was found there by scan or grid shows that it was, and
// how much is not known.
func (w *work) examined(s Survey, plate int) (yes, recorded bool) {
	if plate < 0 || plate >= len(s.Found.Plates) || plate >= len(s.In.Plates) {
		return false, false
	}
	if e := s.Found.Plates[plate].Examined; e.Known && e.V > 0 {
		return true, true
	}
	p := &s.In.Plates[plate]
	for _, f := range []inspection.Percent{p.MFLScanned, p.HandScanned, p.UTGridded, p.NotExamined} {
		if f.OK() {
			return false, true
		}
	}
	return w.touched(s.In)[inspection.Fold(p.Label.Value)], false
}

// touched are the plates with an indication by scan or grid.
func (w *work) touched(in *inspection.Inspection) map[string]bool {
	if m, ok := w.seen[in]; ok {
		return m
	}
	m := map[string]bool{}
	for i := range in.Indications {
		if r := &in.Indications[i]; !r.Out && r.Plate.OK() && !inspection.Is(r.Method, "visual") {
			m[inspection.Fold(r.Plate.Value)] = true
		}
	}
	if w.seen == nil {
		w.seen = map[*inspection.Inspection]map[string]bool{}
	}
	w.seen[in] = m
	return m
}

// across brings a place in an old plate's frame into that of the new one.
func (w *work) across(p *PlatePair, at floor.Point) floor.Point {
	return crossed(w.now.Plan, p.New, p.quarters, at)
}

// back brings a place in the new plate's frame into that of the old one.
func (w *work) back(p *PlatePair, at floor.Point) floor.Point {
	if p.quarters == 0 || p.New < 0 || p.New >= len(w.now.Plan.Plates) {
		return at
	}
	b := &w.now.Plan.Plates[p.New]
	switch p.quarters {
	case 1:
		return floor.Point{X: b.Width - at.Y, Y: at.X}
	case 2:
		return floor.Point{X: b.Length - at.X, Y: b.Width - at.Y}
	}
	return floor.Point{X: at.Y, Y: b.Length - at.X}
}

// turnPlates finds by how many quarter turns, anticlockwise, the frame of each
// plate is turned against that of the earlier drawing. Turned is measured in
// the plan, so the turn of the whole drawing comes off: it is the one that puts
// most plates where they are now.
func (w *work) turnPlates() {
	type middle struct{ then, now floor.Point }
	var at []middle
	var reach []float64
	for k := range w.res.Plates {
		if p := &w.res.Plates[k]; w.framed(p) {
			a, b := &w.old.Plan.Plates[p.Old], &w.now.Plan.Plates[p.New]
			if !a.Placed || !b.Placed {
				continue
			}
			then, _ := w.old.Plan.LocalToPlan(p.Old, floor.Point{X: a.Length / 2, Y: a.Width / 2})
			now, _ := w.now.Plan.LocalToPlan(p.New, floor.Point{X: b.Length / 2, Y: b.Width / 2})
			at, reach = append(at, middle{then, now}), append(reach, min(b.Length, b.Width)/2)
		}
	}
	drawing, most := 0, -1
	for k := range 4 {
		n := 0
		for i := range at {
			p := quarter(at[i].then, k)
			if math.Hypot(p.X-at[i].now.X, p.Y-at[i].now.Y) < reach[i] {
				n++
			}
		}
		if n > most {
			drawing, most = k, n
		}
	}
	for k := range w.res.Plates {
		if p := &w.res.Plates[k]; w.framed(p) {
			p.quarters = quarters(&w.old.Plan.Plates[p.Old], &w.now.Plan.Plates[p.New], drawing)
		}
	}
}

// framed says whether a plate is a rectangle of known size on both dates.
func (w *work) framed(p *PlatePair) bool {
	if p.Old < 0 || p.New < 0 || p.Old >= len(w.old.Plan.Plates) || p.New >= len(w.now.Plan.Plates) {
		return false
	}
	a, b := &w.old.Plan.Plates[p.Old], &w.now.Plan.Plates[p.New]
	return !a.Sector && !b.Sector && a.Sized && b.Sized
}

func quarters(a, b *floor.Plate, drawing int) int {
	by := b.Turned - a.Turned - 90*float64(drawing)
	k := math.Round(by / 90)
	if math.Abs(by-90*k) >= 1 {
		return 0
	}
	q := int(math.Mod(math.Mod(k, 4)+4, 4))
	if like := func(x, y float64) bool { return math.Abs(x-y) <= 0.1*y }; q%2 == 1 && !(like(a.Length, b.Width) && like(a.Width, b.Length)) {
		return 0
	}
	return q
}

// quarter turns a place about the tank's centre, anticlockwise.
func quarter(p floor.Point, times int) floor.Point {
	for range times {
		p = floor.Point{X: -p.Y, Y: p.X}
	}
	return p
}

// crossed turns a place by quarters within the new plate.
func crossed(now *floor.Plan, n, quarters int, at floor.Point) floor.Point {
	if quarters == 0 || n < 0 || n >= len(now.Plates) {
		return at
	}
	b := &now.Plates[n]
	switch quarters {
	case 1:
		return floor.Point{X: at.Y, Y: b.Width - at.X}
	case 2:
		return floor.Point{X: b.Length - at.X, Y: b.Width - at.Y}
	}
	return floor.Point{X: b.Length - at.Y, Y: at.X}
}

// label is a plate's label as typed.
func label(in *inspection.Inspection, plate int) string {
	if plate < 0 || plate >= len(in.Plates) {
		return ""
	}
	return in.Plates[plate].Label.Text
}

// OldLabel and NewLabel are a plate's labels then and now, "" without.
func (r *Result) OldLabel(p *PlatePair) string { return label(r.old.In, p.Old) }

// rowOf is the position a location's row was written with.
func rowOf(in *inspection.Inspection, l *assess.Location) (x, y inspection.Length) {
	if l.Kind == assess.ProveUpAt {
		u := &in.ProveUps[l.ProveUp]
		return u.X, u.Y
	}
	i := &in.Indications[l.Indication]
	return i.X, i.Y
}

// ID is a location's own label, without its plate.
func ID(in *inspection.Inspection, l *assess.Location) string {
	switch {
	case l.Kind == assess.ProveUpAt && l.ProveUp >= 0:
		return in.ProveUps[l.ProveUp].ID.Text
	case l.Indication >= 0:
		return in.Indications[l.Indication].ID.Text
	}
	return l.Label
}
