package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

func sortFloats(v []float64) { slices.Sort(v) }

// nominalInDoubt holds a plate's sound metal against its nominal (T201).
func (j *judge) nominalInDoubt() {
	all := j.soundReadings()
	for i := range j.in.ProveUps {
		r := &j.in.ProveUps[i]
		if p := j.plate(r.Plate); p >= 0 && r.Sound.OK() {
			all[p] = append(all[p], float64(r.Sound.Value))
		}
	}
	for i := range j.in.Plates {
		v, t := all[i], float64(j.nominal(i))
		if len(v) < 3 || t <= 0 {
			continue
		}
		m := median(v)
		if atMost(m, 1.08*t) && atMost(0.88*t, m) {
			continue
		}
		p := &j.in.Plates[i]
		h := onRow("T201", "Plates", &p.Row, p.Nominal.Ref, p.Label.Ref, p.Nominal.Text, "%s: sound metal, median %s, of nominal %s",
			p.Label.Text, j.bare(unit.Thickness, m), j.thick(unit.Length(t)))
		h.Subject, h.Row = p.Label.Value, p.Label.Value
		h.Related = see("nominal", j.nominalRef(i))
		if len(h.Related) > 0 && h.Related[0].Ref == h.Ref {
			h.Related = nil
		}
		j.put(h)
	}
}

// value is one number of a column in sheet order.
type value struct {
	v     float64 // in the unit it was typed in, as far as known
	text  string
	ref   finding.Ref
	plate int
	x, y  *inspection.Length
}

// series visits the columns of thicknesses and losses in sheet order.
func (j *judge) series(visit func(kind, column string, loss bool, all []value)) {
	factor := unit.Thickness.Factor(j.in.Units)
	j.columnsOfThickness(func(column []measured) {
		all := make([]value, 0, len(column))
		for _, m := range column {
			if m.value.OK() {
				all = append(all, value{float64(m.value.Value) / factor, m.value.Text, m.value.Ref, j.plate(*m.plate), m.x, m.y})
			}
		}
		if len(all) > 0 && !column[0].depth {
			visit(column[0].kind, column[0].column, false, all)
		}
	})
	losses := make([]value, 0, len(j.in.Indications))
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if r.Loss.OK() {
			losses = append(losses, value{float64(r.Loss.Value), r.Loss.Text, r.Loss.Ref, j.plate(r.Plate), &r.X, &r.Y})
		}
	}
	if len(losses) > 0 {
		visit("Indications", "Loss %", true, losses)
	}
}

// Series that were hardly measured.
const (
	equalRun    = 12
	stepRun     = 8
	manyValues  = 50
	roundedPart = 0.9
)

// drawnSeries looks for values that repeat (T202) or rise by even steps (T203).
func (j *judge) drawnSeries() {
	j.series(func(kind, column string, loss bool, all []value) {
		if !loss {
			j.repeats(kind, column, all)
		}
		j.steps(kind, column, loss, all)
	})
}

func (j *judge) repeats(kind, column string, all []value) {
	best, from := 1, 0
	for i := 0; i < len(all); {
		k := i + 1
		for k < len(all) && math.Abs(all[k].v-all[i].v) < 1e-9 && !samePlace(all[k-1], all[k]) {
			k++
		}
		if k-i > best {
			best, from = k-i, i
		}
		i = k
	}
	if best >= equalRun {
		h := j.seriesHit("T202", kind, column, all[from:from+best], "%s stands %d times running", all[from].text, best)
		j.put(h)
		return
	}
	if len(all) < manyValues {
		return
	}
	decimals, rounded := 0, 0
	texts := make([]string, len(all))
	for i, v := range all {
		texts[i] = short(v.v, 4)
		if _, frac, ok := strings.Cut(texts[i], "."); ok {
			decimals = max(decimals, len(frac))
		}
	}
	for _, v := range all {
		t := unit.Round(v.v, decimals)
		if last := t[len(t)-1]; last == '0' || last == '5' {
			rounded++
		}
	}
	if float64(rounded) >= roundedPart*float64(len(all)) {
		j.put(j.seriesHit("T202", kind, column, all, "%d of %d values end in 0 or 5", rounded, len(all)))
	}
}

// samePlace says whether two values were taken at one place, as far as known.
func samePlace(a, b value) bool {
	return a.plate >= 0 && a.plate == b.plate && a.x.OK() && a.y.OK() && b.x.OK() && b.y.OK() && a.x.Value == b.x.Value && a.y.Value == b.y.Value
}

func (j *judge) steps(kind, column string, loss bool, all []value) {
	best, from := 0, 0
	for i := 0; i+1 < len(all); {
		step := all[i+1].v - all[i].v
		k := i + 1
		for k+1 < len(all) && math.Abs(all[k+1].v-all[k].v-step) < 1e-6 {
			k++
		}
		drawn := math.Abs(step) > 1e-6 && !(loss && math.Abs(math.Remainder(step, 5)) < 1e-6)
		if n := k - i + 1; drawn && n > best {
			best, from = n, i
		}
		i = k
	}
	if best < stepRun {
		return
	}
	run := all[from : from+best]
	step := run[1].v - run[0].v
	word := "rise"
	if step < 0 {
		word = "fall"
	}
	j.put(j.seriesHit("T203", kind, column, run, "%s:%s %s by %s each", run[0].ref.Cell(), run[len(run)-1].ref.Cell(), word, short(math.Abs(step), 4)))
}

func (j *judge) seriesHit(rule, kind, column string, run []value, format string, args ...any) finding.Hit {
	refs := make([]finding.Ref, len(run))
	for i, v := range run {
		refs[i] = v.ref
	}
	h := j.columnHit(rule, kind, column, refs, run[0].text, format, args...)
	h.Related = nil
	return h
}

// lossOfSound looks for losses taken of the sound metal in place of nominal
// (T206).
func (j *judge) lossOfSound() {
	medians := j.medianReadings()
	var refs []finding.Ref
	rows := make(map[string]bool)
	var ofSound, ofNominal float64
	text := ""
	thickness := make(map[string]bool)
	var soundTexts []string
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		p := j.plate(r.Plate)
		if p < 0 || !r.Loss.OK() || !r.Remaining.OK() {
			continue
		}
		t := float64(j.nominal(p))
		s := float64(j.sound(inspection.Length{}, p, medians))
		if t <= 0 || s <= 0 || math.Abs(s/t-1) < 0.05-1e-9 {
			continue
		}
		loss, left := float64(r.Loss.Value), float64(r.Remaining.Value)
		ofSound += math.Abs(loss - 100*(1-left/s))
		ofNominal += math.Abs(loss - 100*(1-left/t))
		if text == "" {
			text = r.Loss.Text
		}
		if shown := j.thick(unit.Length(s)); !thickness[shown] {
			thickness[shown] = true
			soundTexts = append(soundTexts, shown)
		}
		refs, rows[r.Key] = append(refs, r.Loss.Ref), true
	}
	n := float64(len(refs))
	if n < 8 || ofSound/n >= 1 || ofNominal/n <= 3 {
		return
	}
	if len(soundTexts) > 3 {
		soundTexts = append(soundTexts[:3], "…")
	}
	// that loss and remaining disagree in these rows is the same mistake
	j.hits = slices.DeleteFunc(j.hits, func(h finding.Hit) bool {
		return h.Rule == "R305" && h.Kind == "Indications" && rows[h.Subject]
	})
	j.put(j.columnHit("T206", "Indications", "Loss %", refs, text, "%s",
		fmt.Sprintf("losses fit sound metal %s, not nominal", strings.Join(soundTexts, ", "))))
}
