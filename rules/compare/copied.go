package compare

import (
	"math"

	"platebook/rules/inspection"
)

const (
	fewestCopies = 10
	copiedShare  = 30.0 // percent of the values of a column
)

// reading is one measured thickness with its place.
type reading struct {
	plate     inspection.Label
	x, y      inspection.Length
	thickness inspection.Length
}

type column struct {
	sheet, header string
	readings      []reading
}

// columns are the columns that hold measured thicknesses.
func columns(in *inspection.Inspection) []column {
	found, proved := column{sheet: "Indications", header: "Remaining"}, column{sheet: "Prove-ups", header: "Remaining"}
	sound, spots := column{sheet: "Prove-ups", header: "Sound thickness"}, column{sheet: "Readings", header: "Thickness"}
	for i := range in.Indications {
		if r := &in.Indications[i]; !r.Out {
			found.readings = append(found.readings, reading{r.Plate, r.X, r.Y, r.Remaining})
		}
	}
	for i := range in.ProveUps {
		if r := &in.ProveUps[i]; !r.Out {
			proved.readings = append(proved.readings, reading{r.Plate, r.X, r.Y, r.Remaining})
			sound.readings = append(sound.readings, reading{r.Plate, r.X, r.Y, r.Sound})
		}
	}
	for i := range in.Readings {
		if r := &in.Readings[i]; !r.Out {
			spots.readings = append(spots.readings, reading{r.Plate, r.X, r.Y, r.Thickness})
		}
	}
	return []column{found, proved, sound, spots}
}

// key is a plate and a place in its frame to a tenth of a millimetre.
type key struct {
	pair int
	x, y int
}

// copied looks for columns whose values equal the last inspection's at equal
// places: old data carried over.
func (w *work) copied() {
	then := columns(w.old.In)
	for c, now := range columns(w.now.In) {
		values := map[key][]float64{}
		for _, r := range then[c].readings {
			if k, ok := w.keyOf(r, w.old, true); ok {
				values[k] = append(values[k], float64(r.thickness.Value))
			}
		}
		f := Copied{Sheet: now.sheet, Column: now.header}
		for _, r := range now.readings {
			k, ok := w.keyOf(r, w.now, false)
			if !ok {
				continue
			}
			f.All++
			for _, v := range values[k] {
				if math.Abs(v-float64(r.thickness.Value)) <= hair {
					f.Equal++
					f.Cells = append(f.Cells, r.thickness.Ref)
					break
				}
			}
		}
		if f.Equal >= fewestCopies && float64(f.Equal) >= copiedShare/100*float64(f.All)-1e-9 {
			w.res.Copied = append(w.res.Copied, f)
		}
	}
}

func (w *work) keyOf(r reading, s Survey, old bool) (key, bool) {
	if !r.thickness.OK() || !r.x.OK() || !r.y.OK() || !r.plate.OK() {
		return key{}, false
	}
	plates := w.newByLabel
	if old {
		plates = w.oldByLabel
	}
	k, ok := plates[inspection.Fold(r.plate.Value)]
	if !ok {
		return key{}, false
	}
	p := &w.res.Plates[k]
	if old {
		at, ok := s.Plan.ToLocal(p.Old, float64(r.x.Value), float64(r.y.Value))
		at = w.across(p, at)
		return key{k, tenth(at.X), tenth(at.Y)}, ok
	}
	at, ok := s.Plan.ToLocal(p.New, float64(r.x.Value), float64(r.y.Value))
	return key{k, tenth(at.X), tenth(at.Y)}, ok
}

func tenth(v float64) int { return int(math.Round(10 * v)) }
