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

// layout judges the plates against each other and the tank (R205 to R212,
// T101) and says whether the places in plan hold against the rim.
func (j *judge) layout() (rimHolds bool) {
	j.samePosition()
	for _, o := range j.plan.Overlaps() {
		a, b := &j.in.Plates[o.A], &j.in.Plates[o.B]
		if j.twin(o.A) || j.twin(o.B) {
			continue
		}
		h := pairOf("R208", "Plates", &a.Row, &b.Row, a.Label.Ref, b.Label.Ref, "%s, %s overlap %s, lap %s",
			a.Label.Text, b.Label.Text, j.size(o.By), j.size(j.plan.Lap))
		h.Related = append(h.Related, see("lap", j.in.Tank.Lap.Ref)...)
		h.Subject = Pair(a.Label.Value, b.Label.Value)
		j.put(h)
	}
	j.ring()
	outside := j.outside()
	unsure := j.has("R207", "R208", "R210") || j.sizesInError() || j.twins() ||
		len(outside) > 0 && 10*len(outside) < 3*len(j.in.Plates)
	balanced := unsure || !j.unbalanced()
	if balanced {
		for _, i := range outside {
			j.put(j.onPlate("R205", i, "", "%s lies outside the rim", j.in.Plates[i].Label.Text))
		}
		if !unsure {
			j.gaps()
		}
	}
	j.unsure = unsure
	j.noLap()
	j.doubtPlaces(outside)
	// without the lap, or with a ring that is not there, the rim is not where
	// the plates are cut
	return balanced && !j.has("R212", "R210:Tank")
}

// has says whether a hit of one of the rules stands; "C104:Plates" of a sheet.
func (j *judge) has(codes ...string) bool {
	for _, h := range j.hits {
		for _, c := range codes {
			if h.Rule == c || h.Rule+":"+h.Kind == c {
				return true
			}
		}
	}
	return false
}

// sizesInError says whether a plate's size or place holds no usable value.
func (j *judge) sizesInError() bool {
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		for _, s := range []inspection.State{
			p.Type.State, p.Length.State, p.Width.State, p.Left.State, p.Bottom.State, p.Turned.State,
			p.StartBearing.State, p.EndBearing.State, p.RowNo.State, p.Position.State,
		} {
			if s == inspection.Wrong {
				return true
			}
		}
		if !p.Length.OK() || !p.Width.OK() || j.plan.Plates[i].Why != "" && !j.plan.Plates[i].Sump {
			return true
		}
	}
	return false
}

// twin says whether another row of Plates bears this plate's label: which of
// them is meant is unknown, and so is the plate's place.
func (j *judge) twin(plate int) bool {
	label := j.in.Plates[plate].Label
	return label.OK() && len(j.plates[inspection.Fold(label.Value)]) > 1
}

// twins says whether any plate has a twin.
func (j *judge) twins() bool {
	for i := range j.in.Plates {
		if j.twin(i) {
			return true
		}
	}
	return false
}

func (j *judge) samePosition() {
	at := make(map[string]int)
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		if !p.RowNo.OK() || !p.Position.OK() || inspection.Is(p.Type, "annular") || inspection.Is(p.Type, "sump") {
			continue
		}
		key := inspection.Fold(p.RowNo.Value) + "/" + inspection.Fold(p.Position.Value)
		k, ok := at[key]
		if !ok {
			at[key] = i
			continue
		}
		o := &j.in.Plates[k]
		if j.twin(i) || j.twin(k) {
			continue // one label twice: told as that
		}
		h := pairOf("R207", "Plates", &o.Row, &p.Row, o.Position.Ref, p.Position.Ref, "%s and %s both stand in row %s, position %s",
			o.Label.Text, p.Label.Text, p.RowNo.Text, p.Position.Text)
		h.Subject = Pair(o.Label.Value, p.Label.Value)
		j.put(h)
	}
}

// tooLarge looks for plates larger than the tank (R206). Their size becomes
// unknown: a row with one of them cannot be laid out.
func (j *judge) tooLarge() {
	d := j.in.Tank.Diameter
	if !d.OK() || d.Value <= 0 {
		return
	}
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		limit, of := float64(d.Value)+float64(j.in.Tank.Lap.Or(0)), "diameter "+j.text(unit.Height, float64(d.Value))
		sizes := []struct {
			name string
			f    *inspection.Length
		}{{"Length", &p.Length}, {"Width", &p.Width}}
		if inspection.Is(p.Type, "annular") {
			sizes = sizes[:1]
			limit, of = math.Pi*float64(d.Value), "circumference "+j.text(unit.Height, math.Pi*float64(d.Value))
		}
		for _, s := range sizes {
			if !s.f.OK() || atMost(float64(s.f.Value), limit) {
				continue
			}
			h := onRow("R206", "Plates", &p.Row, s.f.Ref, p.Label.Ref, s.f.Text, "%s %s, %s", s.name, j.size(float64(s.f.Value)), of)
			h.Related = see("diameter", d.Ref)
			s.f.State = inspection.Wrong
			j.put(h)
			break
		}
	}
}

// ring judges the annular ring (R210).
func (j *judge) ring() {
	t := &j.in.Tank
	var annular []int
	known := true
	for i := range j.in.Plates {
		if p := &j.in.Plates[i]; inspection.Is(p.Type, "annular") {
			annular = append(annular, i)
			known = known && p.StartBearing.OK() && p.EndBearing.OK()
		}
	}
	yes := inspection.Yes(t.AnnularRing)
	switch {
	case t.AnnularRing.State == inspection.Wrong:
	case len(annular) > 0 && !yes:
		h := j.onItem("R210", "Annular ring", t.AnnularRing.Ref, t.AnnularRing.Text, "%s in Plates, Annular ring is not yes",
			spelling.Count(len(annular), "annular plate", "annular plates"))
		h.Related = see("", j.in.Plates[annular[0]].Label.Ref)
		j.put(h)
	case len(annular) == 0 && yes:
		for i := range j.in.Plates {
			if j.in.Plates[i].Type.State == inspection.Wrong {
				return
			}
		}
		j.put(j.onItem("R210", "Annular ring", t.AnnularRing.Ref, t.AnnularRing.Text, "Annular ring yes, no annular plate in Plates"))
	}
	if !known {
		return
	}
	for _, g := range j.plan.RingGaps() {
		if math.Abs(g.Open) <= 1+1e-9 {
			continue
		}
		a, b := &j.in.Plates[g.A], &j.in.Plates[g.B]
		what := "%s open between %s and %s"
		if g.Open < 0 {
			what = "%s overlap of %s and %s"
		}
		h := onRow("R210", "Plates", &b.Row, b.StartBearing.Ref, b.Label.Ref, b.StartBearing.Text, what,
			j.bareAngle(math.Abs(g.Open)), a.Label.Text, b.Label.Text)
		h.Subject = a.Label.Value + " ~ " + b.Label.Value
		h.Related = see("", a.EndBearing.Ref)
		j.put(h)
	}
}

// outside is the plates of which nothing lies within the rim.
func (j *judge) outside() []int {
	var out []int
	for i := range j.plan.Plates {
		p := &j.plan.Plates[i]
		if p.Placed && !j.twin(i) && !p.Sector && !p.Sump && j.plan.RimKnown && p.Sized && p.Measured && p.CutArea <= 0 {
			out = append(out, i)
		}
	}
	return out
}

// unbalanced judges the plates' area against the floor's (T101).
func (j *judge) unbalanced() bool {
	b, limit := j.plan.Balance, j.in.Criteria.Number("Area balance")
	if len(j.in.Plates) == 0 && j.plan.FloorArea.Known {
		b = unit.Some(unit.Percent(-100)) // a floor without plates is no floor with a gap
	}
	if !b.Known || math.Abs(float64(b.V)) <= limit+1e-9 {
		return false
	}
	h := finding.Hit{Rule: "T101", Kind: "", Worth: math.Abs(float64(b.V))}
	h.Message = fmt.Sprintf("plates %s, floor %s: %s %%, limit %s%s",
		j.bare(unit.AreaKind, float64(j.plan.PlateArea+j.plan.OpeningArea)), j.text(unit.AreaKind, float64(j.plan.FloorArea.V)),
		signed(float64(b.V), 1), short(limit, 1), j.balancing(limit))
	h.Related = see("diameter", j.in.Tank.Diameter.Ref)
	for _, r := range j.plan.ShortRows() {
		if len(r.Plates) > 0 {
			h.Related = append(h.Related, see("row "+r.Row, j.in.Plates[r.Plates[0]].Label.Ref)...)
		}
	}
	h.Related = append(h.Related, see("limit", j.in.Criteria.Get("Area balance").Ref)...)
	j.put(h)
	return true
}

// balancing is the one unit of the diameter, or of all plate sizes, with which
// the areas would balance, as a question; "" when there is none or several.
func (j *judge) balancing(limit float64) string {
	found, n := "", 0
	balances := func(in inspection.Inspection) bool {
		plan := floor.Place(&in)
		if !plan.Balance.Known || math.Abs(float64(plan.Balance.V)) > limit {
			return false
		}
		// a smaller tank is covered by anything: its plates must lie in it too
		for i := range plan.Plates {
			if p := &plan.Plates[i]; p.Placed && p.Measured && !p.Sump && p.CutArea <= 0 {
				return false
			}
		}
		return true
	}
	if len(j.in.Plates) == 0 {
		return ""
	}
	doubted := j.sizesDoubted()
	for _, f := range []float64{0.3048, 1 / 0.3048, 25.4, 1 / 25.4, 1000, 1. / 1000, 12, 1. / 12} {
		in := *j.in
		in.Tank.Diameter.Value = unit.Length(float64(in.Tank.Diameter.Value) * f)
		if !doubted && in.Tank.Diameter.Value >= 2000 && in.Tank.Diameter.Value <= 150000 && balances(in) {
			found, n = "; diameter "+j.text(unit.Height, float64(in.Tank.Diameter.Value))+"?", n+1
		}
		for _, by := range [][2]float64{{f, f}, {f, 1}, {1, f}} {
			if by[0] != by[1] && !doubted {
				continue
			}
			in = *j.in
			in.Plates = append([]inspection.Plate(nil), j.in.Plates...)
			for i := range in.Plates {
				in.Plates[i].Length.Value = unit.Length(float64(in.Plates[i].Length.Value) * by[0])
				in.Plates[i].Width.Value = unit.Length(float64(in.Plates[i].Width.Value) * by[1])
			}
			p := &in.Plates[0]
			if p.Length.Value >= 50 && p.Length.Value <= 20000 && p.Width.Value >= 50 && p.Width.Value <= 6000 && balances(in) {
				found, n = "; plate sizes in another unit, "+p.Label.Text+" "+j.bare(unit.Size, float64(p.Length.Value))+" × "+j.size(float64(p.Width.Value))+"?", n+1
			}
		}
	}
	if n != 1 {
		return ""
	}
	return found
}

// gaps looks for missing plates (R209).
func (j *judge) gaps() {
	for _, r := range j.plan.ShortRows() {
		for _, i := range r.Plates {
			if j.plan.Plates[i].Automatic {
				j.shifted[i] = true
			}
		}
		p := &j.in.Plates[r.Plates[0]]
		missing := ""
		if len(r.Missing) > 0 {
			missing = ", position " + strings.Join(r.Missing, ", ") + " missing"
		}
		h := onRow("R209", "Plates", &p.Row, p.RowNo.Ref, p.Label.Ref, p.RowNo.Text, "row %s: plates reach over %s of %s%s",
			p.RowNo.Text, j.bare(unit.Height, r.Length), j.text(unit.Height, r.Chord), missing)
		h.Subject = p.RowNo.Value
		h.Worth = r.Chord - r.Length
		j.put(h)
	}
	for _, hole := range j.plan.Holes() {
		if hole.AtRim && j.anyAutomatic(hole.Plates) {
			continue // the row's length tells
		}
		at := "x " + j.place(hole.At.X) + ", y " + j.place(hole.At.Y)
		h := finding.Hit{Rule: "R209", Kind: "Plates", Subject: at, Row: at, Ref: finding.Ref{Sheet: j.sheetName("Plates")}}
		var names []string
		for _, i := range hole.Plates {
			p := &j.in.Plates[i]
			names = append(names, p.Label.Text)
			if !h.Ref.IsCell() {
				h.Ref = p.Label.Ref
			} else {
				h.Related = append(h.Related, see("beside the gap", p.Label.Ref)...)
			}
		}
		h.Message = fmt.Sprintf("%s without a plate at %s", j.text(unit.AreaKind, hole.Area/1e6), at)
		if len(names) > 0 && len(names) <= 6 {
			h.Message += ", between " + strings.Join(names, ", ")
		}
		j.put(h)
	}
}

func (j *judge) anyAutomatic(plates []int) bool {
	for _, i := range plates {
		if j.plan.Plates[i].Automatic {
			return true
		}
	}
	return false
}

// annularSizes holds an annular plate's sizes against its bearings and the
// ring's width (R211).
func (j *judge) annularSizes() {
	if j.plan.Radius <= 0 || j.unsure {
		return
	}
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		if !inspection.Is(p.Type, "annular") {
			continue
		}
		if p.StartBearing.OK() && p.EndBearing.OK() && p.Length.OK() {
			span := math.Mod(float64(p.EndBearing.Value-p.StartBearing.Value)+720, 360)
			if span == 0 {
				span = 360
			}
			arc, l := span*math.Pi/180*j.plan.Radius, float64(p.Length.Value)
			if off := math.Abs(l - arc); off > 0.02*arc+1e-6 && off > 50+1e-6 {
				h := onRow("R211", "Plates", &p.Row, p.Length.Ref, p.Label.Ref, p.Length.Text, "%s: Length %s; bearings give %s", p.Label.Text, j.size(l), j.size(arc))
				h.Worth = off
				h.Related = see("", p.StartBearing.Ref, p.EndBearing.Ref)
				j.put(h)
				continue
			}
		}
		if w := j.in.Tank.AnnularWidth; w.OK() && p.Width.OK() && !near(p.Width.Value, w.Value, 25) {
			h := onRow("R211", "Plates", &p.Row, p.Width.Ref, p.Label.Ref, p.Width.Text, "%s: Width %s; Annular width inside the shell %s",
				p.Label.Text, j.size(float64(p.Width.Value)), j.size(float64(w.Value)))
			h.Related = see("", w.Ref)
			j.put(h)
		}
	}
}

func (j *judge) noLap() {
	if !none(j.in.Tank.Lap.State) {
		return
	}
	for i := range j.plan.Plates {
		if j.plan.Plates[i].Automatic {
			j.put(j.onItem("R212", "Lap", j.in.Tank.Lap.Ref, "", "Lap is empty: plates are laid edge to edge"))
			return
		}
	}
}

// doubtPlaces takes the place from plates whose size or place is in error, so
// that nothing on them gets a zone: their indications stay in without one.
func (j *judge) doubtPlaces(outside []int) {
	doubt := func(label string, why string) {
		for _, i := range j.plates[inspection.Fold(label)] {
			j.plan.Unplace(i, why)
		}
	}
	for _, h := range j.hits {
		if h.Rule == "R207" || h.Rule == "R208" {
			a, b, _ := strings.Cut(h.Subject, " ~ ")
			doubt(a, "its place is in error")
			doubt(b, "its place is in error")
		}
	}
	for _, i := range outside {
		j.plan.Unplace(i, "it lies outside the rim")
	}
}
