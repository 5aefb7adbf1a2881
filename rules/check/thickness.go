package check

import (
	"math"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Limits of a measured thickness against nominal.
const (
	farAbove     = 1.5
	above        = 1.15
	fewLeft      = 0.05
	deeperBy     = 0.5 // mm
	soundBy      = 0.3 // mm
	exchangeNear = 0.10
	exchangeFar  = 0.30
)

// few says whether a thickness is so small that it is reported as C106 and
// held against nothing else.
func few(v, nominal unit.Length) bool { return v > 0 && float64(v) < fewLeft*float64(nominal) }

// aboveNominal judges thicknesses over nominal (R301, R302). One far above is
// unknown from then on.
func (j *judge) aboveNominal() {
	mill := j.in.Criteria.Number("Mill tolerance")
	read := make(map[int][]float64) // plausible readings, by plate
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		p := j.plate(r.Plate)
		if t := float64(j.nominal(p)); t > 0 && r.Thickness.OK() && float64(r.Thickness.Value) >= 0.5*t && float64(r.Thickness.Value) <= above*t {
			read[p] = append(read[p], float64(r.Thickness.Value))
		}
	}
	j.columnsOfThickness(func(column []measured) {
		for _, m := range column {
			if m.depth || !m.value.OK() {
				continue
			}
			plate := j.plate(*m.plate)
			t := j.nominal(plate)
			if t <= 0 {
				continue
			}
			v := m.value.Value
			q := float64(v / t)
			switch {
			case !atMost(float64(v), farAbove*float64(t)):
				h := onCell("R301", m.kind, m.row, m.column, m.value.Ref, m.value.Text, "%s is %s of nominal %s%s",
					j.thick(v), percent(100*q), j.thick(t), j.meant(float64(v), float64(t), read[plate], m.kind == "Readings"))
				h.Worth = q
				h.Related = see("nominal", j.nominalRef(plate))
				m.value.State = inspection.Wrong
				j.put(h)
			case !atMost(float64(v), above*float64(t)), m.coat && !atMost(float64(v), float64(t)+mill):
				through := ""
				if m.coat {
					through = ", read through coating"
				}
				h := onCell("R302", m.kind, m.row, m.column, m.value.Ref, m.value.Text, "%s on nominal %s%s", j.thick(v), j.thick(t), through)
				h.Worth = q
				h.Related = see("nominal", j.nominalRef(plate))
				j.put(h)
			}
		}
	})
}

// median of values, 0 without one; the middle two are averaged.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Clone(v)
	slices.Sort(s)
	n := len(s)
	if n%2 == 1 {
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}

// soundReadings is the usable Readings of each plate.
func (j *judge) soundReadings() map[int][]float64 {
	all := make(map[int][]float64)
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		if p := j.plate(r.Plate); p >= 0 && r.Thickness.OK() {
			all[p] = append(all[p], float64(r.Thickness.Value))
		}
	}
	return all
}

// sound is the sound thickness beside a spot: the prove-up's own, else the
// median Reading of the plate, else nominal.
func (j *judge) sound(own inspection.Length, plate int, medians map[int]float64) unit.Length {
	if own.OK() {
		return own.Value
	}
	if m := medians[plate]; m > 0 {
		return unit.Length(m)
	}
	return j.nominal(plate)
}

// medianReadings is the median Reading of each plate that has one.
func (j *judge) medianReadings() map[int]float64 {
	all := make(map[int]float64)
	for p, v := range j.soundReadings() {
		all[p] = median(v)
	}
	return all
}

// said is what one row says of a spot's metal.
type said struct {
	kind             string
	row              *inspection.Row
	key              finding.Ref
	plate            int
	loss             *inspection.Percent
	remaining, depth *inspection.Length
	own              inspection.Length // sound thickness of the row
	nominal, sound   unit.Length
	tied             inspection.Percent // loss of the indication a prove-up cites
}

// ownValues judges the values of one row against each other (R303 to R306).
func (j *judge) ownValues() {
	medians := j.medianReadings()
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if inspection.Is(r.Kind, "not relevant") {
			continue
		}
		p := j.plate(r.Plate)
		if p < 0 {
			continue
		}
		j.judgeRow(said{
			kind: "Indications", row: &r.Row, key: r.ID.Ref, plate: p, loss: &r.Loss, remaining: &r.Remaining, depth: &r.Depth,
			nominal: j.nominal(p), sound: j.sound(inspection.Length{}, p, medians),
		})
	}
	for i := range j.in.ProveUps {
		r := &j.in.ProveUps[i]
		p := j.plate(r.Plate)
		if p < 0 {
			continue
		}
		s := said{
			kind: "Prove-ups", row: &r.Row, key: r.ID.Ref, plate: p, loss: &inspection.Percent{}, remaining: &r.Remaining, depth: &r.Depth,
			own: r.Sound, nominal: j.nominal(p), sound: j.sound(r.Sound, p, medians),
		}
		if r.Indication.OK() {
			if k := j.indicationOn(p, r.Indication.Value); k >= 0 {
				s.tied = j.in.Indications[k].Loss
			}
		}
		j.judgeRow(s)
	}
}

func (j *judge) judgeRow(s said) {
	if s.nominal <= 0 || j.exchangedValues(s) {
		return
	}
	if s.depth.OK() && s.sound > 0 && !atMost(float64(s.depth.Value), float64(s.sound)+deeperBy) {
		h := onRow("R303", s.kind, s.row, s.depth.Ref, s.key, s.depth.Text, "Depth %s is more than the metal, %s", j.thick(s.depth.Value), j.thick(s.sound))
		h.Worth = float64(s.depth.Value - s.sound)
		h.Related = see("nominal", j.nominalRef(s.plate))
		s.depth.State = inspection.Wrong
		j.put(h)
		return
	}
	if at, value, ok := j.through(s); ok {
		j.put(onRow("R304", s.kind, s.row, at, s.key, value, "%s goes through", s.row.Key))
	}
	j.disagree(s)
}

// through says whether a row leaves no metal.
func (j *judge) through(s said) (finding.Ref, string, bool) {
	switch {
	case s.remaining.OK() && s.remaining.Value <= 0:
		return s.remaining.Ref, s.remaining.Text, true
	case s.loss.OK() && s.loss.Value >= 100-1e-9:
		return s.loss.Ref, s.loss.Text, true
	case s.depth.OK() && s.sound > 0 && s.depth.Value >= s.sound-1e-6:
		return s.depth.Ref, s.depth.Text, true
	}
	return finding.Ref{}, "", false
}

// exchangedValues looks for depth and remaining in each other's column (R306).
func (j *judge) exchangedValues(s said) bool {
	loss := *s.loss
	if !loss.OK() && s.remaining.OK() && s.depth.OK() {
		loss = s.tied
	}
	if !loss.OK() {
		return false
	}
	t := float64(s.nominal)
	depth, remaining := t*float64(loss.Value)/100, t*(1-float64(loss.Value)/100)
	swapped := func(f *inspection.Length, own, other float64) bool {
		if !f.OK() || few(f.Value, s.nominal) {
			return false
		}
		v := float64(f.Value)
		return math.Abs(v-other) <= exchangeNear*t+1e-6 && math.Abs(v-own) >= exchangeFar*t-1e-6
	}
	r, d := swapped(s.remaining, remaining, depth), swapped(s.depth, depth, remaining)
	// a prove-up apart from its scan in one value alone is another question
	if !s.loss.OK() && !(r && d) || !r && !d {
		return false
	}
	at, text := s.remaining.Ref, "Remaining "+s.remaining.Text+" at "+percent(float64(loss.Value))+" loss of "+j.thick(s.nominal)+" is the depth"
	value := s.remaining.Text
	if !r {
		at, value = s.depth.Ref, s.depth.Text
		text = "Depth " + s.depth.Text + " at " + percent(float64(loss.Value)) + " loss of " + j.thick(s.nominal) + " is what remains"
	}
	h := onRow("R306", s.kind, s.row, at, s.key, value, "%s", text)
	h.Related = see("loss", loss.Ref)
	if r {
		s.remaining.State = inspection.Wrong
	}
	if d {
		s.depth.State = inspection.Wrong
	}
	j.put(h)
	return true
}

// disagree holds a row's Loss, Remaining and Depth against each other (R305).
func (j *judge) disagree(s said) {
	if s.remaining.OK() && few(s.remaining.Value, s.nominal) {
		return
	}
	if s.own.OK() && s.remaining.OK() && !atMost(float64(s.remaining.Value), float64(s.own.Value)+soundBy) {
		h := onRow("R305", s.kind, s.row, s.remaining.Ref, s.key, s.remaining.Text, "Remaining %s, Sound thickness %s",
			j.bare(unit.Thickness, float64(s.remaining.Value)), j.thick(s.own.Value))
		h.Related = see("", s.own.Ref)
		j.put(h)
		return
	}
	type left struct {
		v    float64
		text string
		ref  finding.Ref
		in   string
	}
	var all []left
	if s.loss.OK() {
		v := float64(s.nominal) * (1 - float64(s.loss.Value)/100)
		all = append(all, left{v, percent(float64(s.loss.Value)) + " leaves " + j.thick(unit.Length(v)), s.loss.Ref, s.loss.Text})
	}
	if s.depth.OK() {
		v := float64(s.sound - s.depth.Value)
		all = append(all, left{v, "Depth " + j.bare(unit.Thickness, float64(s.depth.Value)) + " leaves " + j.thick(unit.Length(v)), s.depth.Ref, s.depth.Text})
	}
	if s.remaining.OK() {
		all = append(all, left{float64(s.remaining.Value), "Remaining " + j.thick(s.remaining.Value), s.remaining.Ref, s.remaining.Text})
	}
	if len(all) < 2 {
		return
	}
	c := j.in.Criteria.Get("Cross-check tolerance")
	limit := c.Number / 100 * float64(s.nominal)
	least, most := all[0].v, all[0].v
	var texts []string
	var refs []finding.Ref
	for _, l := range all {
		least, most = math.Min(least, l.v), math.Max(most, l.v)
		texts = append(texts, l.text)
		refs = append(refs, l.ref)
	}
	if atMost(most-least, limit) {
		return
	}
	last := all[len(all)-1]
	h := onRow("R305", s.kind, s.row, last.ref, s.key, last.in, "%s; limit %s apart", strings.Join(texts, ", "), j.thick(unit.Length(limit)))
	h.Worth = most - least
	h.Related = append(see("", refs[:len(refs)-1]...), see("limit", c.Ref)...)
	j.put(h)
}

// Digit slips among a plate's readings, and coating (R315, R317).
const (
	leastReadings = 6
	robust        = 4 * 1.4826
	slip          = 0.5 // mm
)

func (j *judge) unlikeTheRest() {
	readings := j.soundReadings()
	mid, spread := make(map[int]float64), make(map[int]float64)
	for p, v := range readings {
		if len(v) < leastReadings {
			continue
		}
		m := median(v)
		off := make([]float64, len(v))
		for i := range v {
			off[i] = math.Abs(v[i] - m)
		}
		mid[p], spread[p] = m, median(off)
	}
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		p := j.plate(r.Plate)
		m, ok := mid[p]
		if !ok || !r.Thickness.OK() || few(r.Thickness.Value, j.nominal(p)) {
			continue
		}
		off := math.Abs(float64(r.Thickness.Value) - m)
		if atMost(off, robust*spread[p]) || atMost(off, slip) {
			continue
		}
		low, high := math.Inf(1), math.Inf(-1)
		n := 0
		for _, v := range readings[p] {
			if v != float64(r.Thickness.Value) {
				low, high, n = math.Min(low, v), math.Max(high, v), n+1
			}
		}
		h := onCell("R315", "Readings", &r.Row, "Thickness", r.Thickness.Ref, r.Thickness.Text, "%s; %d others %s to %s%s",
			j.thick(r.Thickness.Value), n, j.bare(unit.Thickness, low), j.thick(unit.Length(high)),
			j.slipped(float64(r.Thickness.Value), low, high, float64(j.nominal(p)), n))
		h.Worth = off
		j.put(h)
	}
}

// slipped asks for the one value that a slip of digits would explain: ten
// times more or less, or two neighbouring digits exchanged, landing in
// 0.5–1.15 of nominal and within the others' range and 10 %.
func (j *judge) slipped(v, low, high, nominal float64, others int) string {
	if nominal <= 0 || others < 4 {
		return ""
	}
	factor := unit.Thickness.Factor(j.in.Units)
	var found []float64
	try := func(c float64) {
		if c < 0.5*nominal || c > above*nominal || c < 0.9*low || c > 1.1*high {
			return
		}
		for _, f := range found {
			if math.Abs(f-c) < 1e-6 {
				return
			}
		}
		found = append(found, c)
	}
	for _, f := range []float64{25.4, 1 / 25.4, 1000, 1. / 1000, 39.37, 1 / 39.37, 10, 1. / 10, 100, 1. / 100} {
		try(v * f)
	}
	digits := []byte(short(v/factor, 3))
	for i := range digits {
		k := i + 1
		if k < len(digits) && digits[k] == '.' {
			k++
		}
		if k >= len(digits) || digits[i] == '.' || digits[i] == digits[k] {
			continue
		}
		turned := slices.Clone(digits)
		turned[i], turned[k] = turned[k], turned[i]
		if c, ok := parse(string(turned)); ok {
			try(c * factor)
		}
	}
	if len(found) != 1 {
		return ""
	}
	return "; " + j.thick(unit.Length(found[0])) + "?"
}

// meant asks for the one value that was meant where a thickness is far above
// nominal. A reading must fit the others of its plate too; a remaining
// thickness lies where the pit does, and has only the nominal to fit.
func (j *judge) meant(v, nominal float64, read []float64, sound bool) string {
	low, high := 0.5*nominal, above*nominal
	if sound && len(read) >= 4 {
		low, high = slices.Min(read), slices.Max(read)
	}
	return j.slipped(v, low, high, nominal, max(len(read), 4))
}

func (j *judge) throughCoating() {
	var refs []finding.Ref
	text := ""
	for i := range j.in.ProveUps {
		if r := &j.in.ProveUps[i]; inspection.Yes(r.ThroughCoating) {
			if text == "" {
				text = r.ThroughCoating.Text
			}
			refs = append(refs, r.ThroughCoating.Ref)
		}
	}
	if n := len(refs); n > 0 {
		j.put(j.columnHit("R317", "Prove-ups", "Through coating", refs, text, "%s read through coating", spelling.Count(n, "value", "values")))
	}
}

// noExtent looks for areas without a size (R316).
func (j *judge) noExtent() {
	assumed := j.in.Criteria.Number("Assumed indication size")
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if !inspection.Is(r.Kind, "cluster") && !inspection.Is(r.Kind, "general") && !inspection.Is(r.Kind, "groove") || j.plate(r.Plate) < 0 {
			continue
		}
		at := r.Length.Ref
		switch {
		case none(r.Length.State):
		case none(r.Width.State):
			at = r.Width.Ref
		default:
			continue
		}
		what := r.Kind.Value
		if what == "general" {
			what = "general loss"
		}
		j.put(onRow("R316", "Indications", &r.Row, at, r.ID.Ref, "", "Length or Width empty: %s taken as %s", what, j.size(assumed)))
	}
}

// largerThanPlate looks for extents that the plate has no room for (R318). They
// count as they are: a row is per plate, and more metal is lost by them, not
// less.
func (j *judge) largerThanPlate() {
	tol := j.in.Criteria.Number("Position tolerance")
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		at := j.plate(r.Plate)
		if at < 0 {
			continue
		}
		p := &j.in.Plates[at]
		for _, e := range []struct {
			name     string
			own, all *inspection.Length
		}{{"Length", &r.Length, &p.Length}, {"Width", &r.Width, &p.Width}} {
			if !e.own.OK() || !e.all.OK() || atMost(float64(e.own.Value), float64(e.all.Value)+tol) {
				continue
			}
			h := onRow("R318", "Indications", &r.Row, e.own.Ref, r.ID.Ref, e.own.Text, "%s %s on plate %s, %s", e.name, j.size(float64(e.own.Value)), p.Label.Text, j.size(float64(e.all.Value)))
			h.Related = see(strings.ToLower(e.name), e.all.Ref)
			j.put(h)
			break
		}
	}
}

// sides judges what side a row claims (R313, R314).
func (j *judge) sides() {
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if inspection.Is(r.Side, "soil") && inspection.Is(r.Method, "visual") && j.plate(r.Plate) >= 0 {
			j.put(onRow("R313", "Indications", &r.Row, r.Side.Ref, r.ID.Ref, r.Side.Text, "the eye cannot reach the soil side"))
		}
	}
	for i := range j.in.ProveUps {
		r := &j.in.ProveUps[i]
		p := j.plate(r.Plate)
		if p < 0 {
			continue
		}
		if inspection.Is(r.Side, "soil") && r.Depth.OK() && none(r.Remaining.State) {
			j.put(onRow("R313", "Prove-ups", &r.Row, r.Side.Ref, r.ID.Ref, r.Side.Text, "a pit gauge cannot reach the soil side"))
			continue
		}
		if !r.Indication.OK() || !r.Side.OK() || inspection.Is(r.Side, "unknown") {
			continue
		}
		k := j.indicationOn(p, r.Indication.Value)
		if k < 0 {
			continue
		}
		if o := &j.in.Indications[k]; o.Side.OK() && o.Side.Value != "unknown" && o.Side.Value != r.Side.Value {
			h := onRow("R314", "Prove-ups", &r.Row, r.Side.Ref, r.ID.Ref, r.Side.Text, "indication %s is %s, prove-up %s is %s", o.ID.Text, o.Side.Value, r.ID.Text, r.Side.Value)
			h.Related = see("", o.Side.Ref)
			j.put(h)
		}
	}
}
