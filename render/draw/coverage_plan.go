package draw

import (
	"slices"

	"platebook/rules"
	"platebook/rules/unit"
)

// examinedScale is bands of the share of a plate that was examined. Its steps
// are the project's own choice.
var examinedScale = scale{
	edges: []float64{50, 80, 95, 100},
	names: []string{"under 50 % examined", "50 to under 80 %", "80 to under 95 %", "95 to under 100 %", "100 % examined"},
}

// CoveragePlan shades each plate by the share of it that was examined.
func CoveragePlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "coverage plan", "Coverage plan")
	bands := examinedScale
	value := func(i int) (float64, bool) {
		if r := f.plateResult(i); r != nil && r.Examined.Known {
			return float64(r.Examined.V), true
		}
		return f.typedCoverage(i)
	}
	text := func(i int, v float64) string {
		return bands.text(v, 1, 0) + " % " + bands.letter(bands.band(v))
	}
	counts, blank := f.shadePlates(bands, value, text, nil)

	f.legend.heading("Examined, share of the plate")
	f.bandEntries(bands, counts, "plate", "plates")
	f.blankEntry("coverage not given", blank)
	f.legend.text("Below or after the plate's number: share examined and band")
	if p := f.a.Plan; p != nil {
		f.legend.heading("Whole floor, share of area")
		shares := unit.Share.Parts(f.sys, p.Coverage.Shares())
		for i, name := range [...]string{"MFL scanned", "Hand scanned", "UT gridded", "Not examined"} {
			v := "unknown"
			if p.Coverage.MFL.Known {
				v = shares[i] + " %"
			}
			f.legend.text(name + ": " + v)
		}
	}
	f.reasons(value)
	f.closePlan()
	return f.finish()
}

// typedCoverage is the sum of the plate's typed shares by method.
func (f *frame) typedCoverage(i int) (float64, bool) {
	if f.a.Inspection == nil || i < 0 || i >= len(f.a.Inspection.Plates) {
		return 0, false
	}
	p := &f.a.Inspection.Plates[i]
	if !p.MFLScanned.OK() && !p.HandScanned.OK() && !p.UTGridded.OK() {
		return 0, false
	}
	return min(100, float64(p.MFLScanned.Or(0)+p.HandScanned.Or(0)+p.UTGridded.Or(0))), true
}

// reasons lists why plates were not examined, in the words of the sheet.
func (f *frame) reasons(value func(int) (float64, bool)) {
	if f.a.Inspection == nil {
		return
	}
	by := map[string][]string{}
	var order []string
	for i := range f.a.Inspection.Plates {
		v, ok := value(i)
		if ok && v >= 100-1e-9 {
			continue
		}
		why := words(f.a.Inspection.Plates[i].ReasonNotExamined)
		if why == "" {
			if !ok {
				continue
			}
			why = "no reason given"
		}
		if by[why] == nil {
			order = append(order, why)
		}
		by[why] = append(by[why], f.plateName(i))
	}
	if len(order) == 0 {
		return
	}
	f.legend.heading("Why not all")
	const none = "no reason given"
	if i := slices.Index(order, none); i >= 0 {
		order = append(slices.Delete(order, i, i+1), none)
	}
	for _, why := range order {
		f.legend.names(Fit(why, wordSize, false, 1.5*f.legend.width()), by[why])
	}
}
