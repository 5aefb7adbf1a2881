package check

import (
	"cmp"
	"math"
	"slices"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Coverage of a plate, in points.
const (
	coverageOver  = 100.5
	coverageUnder = 99.5
	unexplained   = 2.0
	tracksOff     = 5.0
	trackWorst    = 5.0
)

// coverage judges each plate's percents (R401 to R403, R406, R407).
func (j *judge) coverage() {
	limit := j.in.Criteria.Get("Coating limit")
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		parts := coverageOf(p)
		sum, wrong, given := 0.0, false, false
		at := finding.Ref{}
		value := ""
		for _, f := range parts {
			wrong = wrong || f.State == inspection.Wrong
			if f.OK() {
				given = true
				sum += float64(f.Value)
				if !at.IsCell() {
					at, value = f.Ref, f.Text
				}
			}
		}
		if !at.IsCell() {
			at = p.MFLScanned.Ref
		}
		if !wrong {
			j.covered(p, sum, given, at, value)
		}
		if p.Coating.OK() && !atMost(float64(p.Coating.Value), limit.Number) {
			h := onRow("R407", "Plates", &p.Row, p.Coating.Ref, p.Label.Ref, p.Coating.Text, "coating %s, limit %s",
				j.text(unit.Coating, float64(p.Coating.Value)), j.bare(unit.Coating, limit.Number))
			h.Worth = float64(p.Coating.Value)
			h.Related = see("limit", limit.Ref)
			j.put(h)
		}
	}
	j.foundWhereNotScanned()
}

func (j *judge) covered(p *inspection.Plate, sum float64, given bool, at finding.Ref, value string) {
	missing := math.Max(0, 100-sum)
	if p.NotExamined.OK() {
		missing = math.Max(missing, float64(p.NotExamined.Value))
	}
	reason := p.ReasonNotExamined.State == inspection.Given
	switch {
	case sum > coverageOver+1e-9:
		h := onRow("R402", "Plates", &p.Row, at, p.Label.Ref, value, "coverage of %s sums to %s", p.Label.Text, percent(sum))
		h.Worth = sum
		j.put(h)
		return
	case !reason && missing > unexplained+1e-9:
		where := p.ReasonNotExamined.Ref
		if p.NotExamined.OK() && p.NotExamined.Value > 0 {
			where, value = p.NotExamined.Ref, p.NotExamined.Text
		} else if !where.IsCell() {
			where = at
		}
		message := "%s not examined, no reason"
		if !given {
			message = "no coverage given: %s not examined, no reason"
		}
		h := onRow("R401", "Plates", &p.Row, where, p.Label.Ref, value, message, percent(missing))
		h.Worth = missing
		j.put(h)
		return
	}
	if sum < coverageUnder-1e-9 {
		h := onRow("R403", "Plates", &p.Row, at, p.Label.Ref, value, "%s counted as not examined", percent(100-sum))
		h.Worth = 100 - sum
		j.put(h)
	}
}

// foundWhereNotScanned looks for indications of a scan their plate did not
// have (R406). A plate without any percent is reported by R401.
func (j *judge) foundWhereNotScanned() {
	if !j.hasColumn("Plates", "MFL scanned %") && !j.hasColumn("Plates", "Hand scanned %") {
		return
	}
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		k := j.plate(r.Plate)
		if k < 0 {
			continue
		}
		p := &j.in.Plates[k]
		f, name := &p.MFLScanned, "MFL scanned"
		switch {
		case inspection.Is(r.Method, "MFL"):
		case inspection.Is(r.Method, "hand scan"):
			f, name = &p.HandScanned, "Hand scanned"
		default:
			continue
		}
		parts := coverageOf(p)
		if none(parts[0].State, parts[1].State, parts[2].State, parts[3].State) && p.ReasonNotExamined.State != inspection.Given {
			continue
		}
		if f.State == inspection.Wrong || f.OK() && f.Value > 0 {
			continue
		}
		shown := "0 %"
		if !f.OK() {
			shown = "empty"
		}
		h := onRow("R406", "Indications", &r.Row, r.Method.Ref, r.ID.Ref, r.Method.Text, "%s indication, %s %s on %s", r.Method.Value, name, shown, p.Label.Text)
		h.Related = see("", f.Ref)
		j.put(h)
	}
}

// strip is a track on its plate, measured from the datum corner as X and Y are.
type strip struct {
	r              *inspection.Track
	x1, x2, y1, y2 float64
}

// tracks judges the scan strips (R404, R405).
func (j *judge) tracks() {
	tol := j.in.Criteria.Number("Position tolerance")
	byPlate := make(map[int][]strip)
	doubted := make(map[int]bool) // plates with a strip whose place is in error
	var order []int
	for i := range j.in.Tracks {
		r := &j.in.Tracks[i]
		p := j.plate(r.Plate)
		if p < 0 || !j.in.Plates[p].Length.OK() || !j.in.Plates[p].Width.OK() {
			continue
		}
		if r.Start.OK() && r.End.OK() && r.End.Value <= r.Start.Value {
			j.put(onRow("R404", "Tracks", &r.Row, r.End.Ref, r.Track.Ref, r.End.Text, "track %s: End %s is not after Start %s",
				r.Track.Text, j.place(float64(r.End.Value)), j.place(float64(r.Start.Value))))
			doubted[p] = true
			continue
		}
		if !r.Offset.OK() || !r.Width.OK() || r.Start.State == inspection.Wrong || r.End.State == inspection.Wrong {
			doubted[p] = true
			continue
		}
		plate := &j.in.Plates[p]
		s := strip{r, float64(r.Start.Or(0)), float64(r.End.Or(plate.Length.Value)), float64(r.Offset.Value), float64(r.Offset.Value + r.Width.Value)}
		l, w := float64(plate.Length.Value), float64(plate.Width.Value)
		over := math.Max(math.Max(-s.x1, s.x2-l), math.Max(-s.y1, s.y2-w))
		if !atMost(over, tol) {
			h := onRow("R404", "Tracks", &r.Row, r.Offset.Ref, r.Track.Ref, r.Offset.Text, "track %s lies %s off %s", r.Track.Text, j.place(over), plate.Label.Text)
			h.Worth = over
			j.put(h)
			doubted[p] = true
			continue
		}
		if byPlate[p] == nil {
			order = append(order, p)
		}
		byPlate[p] = append(byPlate[p], s)
	}
	for _, p := range order {
		all := byPlate[p]
		if doubted[p] {
			continue // what the strips leave open follows from the one in error
		}
		slices.SortStableFunc(all, func(a, b strip) int { return cmp.Or(cmp.Compare(a.y1, b.y1), cmp.Compare(a.x1, b.x1)) })
		j.trackGaps(all, tol)
		j.trackShare(p, all)
	}
	j.belowItsWorst(byPlate)
}

// trackGaps looks for strips missing between two tracks.
func (j *judge) trackGaps(all []strip, tol float64) {
	reach := math.Inf(-1)
	var last strip
	for i, s := range all {
		if i > 0 && !atMost(s.y1-reach, tol) {
			h := onRow("R404", "Tracks", &last.r.Row, last.r.Offset.Ref, last.r.Track.Ref, last.r.Offset.Text, "%s gap after track %s", j.place(s.y1-reach), last.r.Track.Text)
			h.Worth = s.y1 - reach
			h.Related = see("the next track", s.r.Offset.Ref)
			j.put(h)
		}
		if s.y2 > reach {
			reach, last = s.y2, s
		}
	}
}

// trackShare holds the tracks' area against the plate's MFL scanned %. A plate
// cut at the rim is not held to it: where its strips end is not recorded.
func (j *judge) trackShare(p int, all []strip) {
	plate, placed := &j.in.Plates[p], &j.plan.Plates[p]
	whole := float64(plate.Length.Value) * float64(plate.Width.Value)
	if !plate.MFLScanned.OK() || whole <= 0 || placed.Sector ||
		placed.Placed && placed.Measured && float64(placed.CutArea)*1e6 < 0.99*whole {
		return
	}
	got := 100 * union(all) / whole
	if off := math.Abs(got - float64(plate.MFLScanned.Value)); off > tracksOff+1e-9 {
		r := all[0].r
		h := onRow("R404", "Tracks", &r.Row, r.Track.Ref, r.Track.Ref, r.Track.Text, "tracks of %s cover %s, MFL scanned %s",
			plate.Label.Text, percent(got), percent(float64(plate.MFLScanned.Value)))
		h.Worth = off
		h.Related = see("", plate.MFLScanned.Ref)
		j.put(h)
	}
}

// union is the area that strips cover together, mm².
func union(all []strip) float64 {
	var ys []float64
	for _, s := range all {
		ys = append(ys, s.y1, s.y2)
	}
	slices.Sort(ys)
	ys = slices.Compact(ys)
	area := 0.0
	for i := 0; i+1 < len(ys); i++ {
		var spans [][2]float64
		for _, s := range all {
			if s.y1 <= ys[i] && s.y2 >= ys[i+1] {
				spans = append(spans, [2]float64{s.x1, s.x2})
			}
		}
		slices.SortFunc(spans, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
		reach := math.Inf(-1)
		for _, s := range spans {
			if s[1] > reach {
				area += (s[1] - math.Max(s[0], reach)) * (ys[i+1] - ys[i])
				reach = s[1]
			}
		}
	}
	return area
}

// belowItsWorst looks for indications deeper than their track admits (R405).
func (j *judge) belowItsWorst(byPlate map[int][]strip) {
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if !inspection.Is(r.Method, "MFL") || !r.Loss.OK() || !r.X.OK() || !r.Y.OK() || inspection.Is(r.Kind, "not relevant") {
			continue
		}
		x, y := float64(r.X.Value), float64(r.Y.Value)
		best, explained := -1, false
		all := byPlate[j.plate(r.Plate)]
		for k, s := range all {
			if x < s.x1 || x > s.x2 || y < s.y1 || y > s.y2 || !s.r.LargestLoss.OK() {
				continue
			}
			// in the overlap of two tracks either may have seen it
			if float64(r.Loss.Value-s.r.LargestLoss.Value) <= trackWorst+1e-9 {
				explained = true
			} else if best < 0 {
				best = k
			}
		}
		if best < 0 || explained {
			continue
		}
		t := all[best].r
		h := onRow("R405", "Tracks", &t.Row, t.LargestLoss.Ref, t.Track.Ref, t.LargestLoss.Text, "track %s: largest loss %s; indication %s in it: %s",
			t.Track.Text, percent(float64(t.LargestLoss.Value)), r.ID.Text, percent(float64(r.Loss.Value)))
		h.Worth = float64(r.Loss.Value)
		h.Related = see("", r.Loss.Ref)
		j.put(h)
	}
}
