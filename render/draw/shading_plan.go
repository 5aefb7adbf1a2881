package draw

import (
	"strings"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// none is the fill of a plate without a value.
var none = paper

// PlateShadingPlan shades each plate by its worst loss; a plate that was
// scanned in strips, each strip by its largest.
func PlateShadingPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "plate shading plan", "Worst loss plan")
	bands := lossScale(a)
	value := func(i int) (float64, bool) {
		if r := f.plateResult(i); r != nil {
			v, ok := r.WorstLoss.Float()
			return v, ok
		}
		return 0, false
	}
	text := func(i int, v float64) string { return bands.text(v, 1, 0) + " % " + bands.letter(bands.band(v)) }
	counts, blank := f.shadePlates(bands, value, text, func() { f.drawTracks(bands) })

	f.legend.heading("Worst loss, share of nominal thickness")
	f.bandEntries(bands, counts, "plate", "plates")
	f.blankEntry("no loss recorded", blank)
	if f.tracksDrawn > 0 {
		f.legend.text("Scan strips are shaded by their own largest loss: " + count(f.tracksDrawn))
	}
	f.legend.names("Strips without a place on the plan", f.tracksLost)
	f.legend.text("Below or after the plate's number: worst loss and band")
	f.leftOut()
	f.closePlan()
	return f.finish()
}

// MarginPlan shades each plate by its thinnest place's margin over the
// required thickness.
func MarginPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "margin plan", "Margin plan")
	bands := marginScale(f.sys)
	value := func(i int) (float64, bool) {
		if r := f.plateResult(i); r != nil {
			v, ok := r.Margin.Float()
			return v, ok
		}
		return 0, false
	}
	text := func(i int, v float64) string {
		t := strings.Replace(bands.text(v, unit.Thickness.Factor(f.sys), unit.Thickness.Decimals(f.sys)), "-", "−", 1)
		if v >= 0 {
			t = "+" + t
		}
		return t + " " + bands.letter(bands.band(v))
	}
	counts, blank := f.shadePlates(bands, value, text, nil)

	f.legend.heading("Margin over required thickness, " + unit.Thickness.Unit(f.sys))
	f.bandEntries(bands, counts, "plate", "plates")
	f.blankEntry("margin unknown", blank)
	f.legend.text("Worst remaining thickness less the required thickness, as found")
	f.legend.text("Below or after the plate's number: margin and band")
	f.leftOut()
	f.closePlan()
	return f.finish()
}

func (f *frame) plateResult(i int) *assess.PlateResult {
	if f.a.Result == nil || i < 0 || i >= len(f.a.Result.Plates) {
		return nil
	}
	return &f.a.Result.Plates[i]
}

// shadePlates paints plates by a value and writes it below their numbers. It
// counts the plates of each band and those without a value, with or without a
// place.
func (f *frame) shadePlates(s scale, value func(int) (float64, bool), text func(int, float64) string, above func()) (counts []int, blank int) {
	counts = make([]int, len(s.names))
	f.unseen = map[int]bool{}
	plan := f.a.Plan
	if plan == nil {
		return counts, 0
	}
	fills := make([]Paint, len(plan.Plates))
	for i := range plan.Plates {
		v, ok := value(i)
		if !ok {
			fills[i] = none
			if f.notExamined(i) {
				f.unseen[i] = true
			} else {
				blank++
			}
			continue
		}
		b := s.band(v)
		counts[b]++
		fills[i] = s.paint(b)
	}
	f.drawPlates(plateStyle{edge: ink, cast: true, fill: func(i int) Paint { return fills[i] }})
	for i := range plan.Plates {
		if f.unseen[i] {
			f.hatch(hatchPath, f.view.shape(visible(&plan.Plates[i])))
		}
	}
	if above != nil {
		above()
		f.drawEdges(plateStyle{edge: ink, cast: true})
	}
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	var tags []tag
	for _, t := range f.numbers(ink) {
		if v, ok := value(t.plate); ok {
			t.value = text(t.plate, v)
		} else {
			t.value = "–"
			if f.unseen[t.plate] {
				t.value, t.halo = "not examined", true
			}
		}
		t.paint = over(fills[t.plate])
		if f.striped[t.plate] {
			t.paint, t.halo = ink, true
		}
		tags = append(tags, t)
	}
	f.number(tags, true, 2.6, nil)
	f.shaded = true
	f.unnamed = f.nameFixtures()
	return counts, blank
}

// notExamined says whether nothing of a plate was looked at.
func (f *frame) notExamined(i int) bool {
	if r := f.plateResult(i); r != nil && r.Examined.Known {
		return r.Examined.V <= 0
	}
	v, ok := f.typedCoverage(i)
	return ok && v <= 0
}

// hatchPath is the look of what nobody examined.
var hatchPath = Path{Stroke: steel, Width: fine, Class: "not-examined"}

func (f *frame) blankEntry(text string, n int) {
	if len(f.unseen) > 0 {
		f.legend.entry("not examined: "+spelling.Count(len(f.unseen), "plate", "plates"), func(b *board, c point) {
			r := rect{c.x - 3.2, c.y - 1.5, c.x + 3.2, c.y + 1.5}
			b.box(Path{Fill: none, Stroke: ink, Width: fine, Class: "band"}, r)
			b.hatch(hatchPath, [][]point{{{r.x1, r.y1}, {r.x2, r.y1}, {r.x2, r.y2}, {r.x1, r.y2}}})
		})
	}
	if n == 0 {
		return
	}
	f.legend.entry(text+": "+spelling.Count(n, "plate", "plates"), func(b *board, c point) {
		b.box(Path{Fill: none, Stroke: ink, Width: fine, Class: "band"}, rect{c.x - 3.2, c.y - 1.5, c.x + 3.2, c.y + 1.5})
		b.label(Label{Text: "–", X: c.x, Y: c.y, Size: 2.2, Anchor: Centre, Middle: true, Bold: true, Paint: ink, Class: "band"})
	})
}

// closePlan ends the legend of a plan without positions.
func (f *frame) closePlan() {
	f.legend.heading("Plan")
	f.fixtureLegend()
	f.floorNotes(f.unnamed)
}

// drawTracks shades scan strips within their plates.
func (f *frame) drawTracks(s scale) {
	if f.a.Inspection == nil || f.a.Plan == nil {
		return
	}
	f.striped = map[int]bool{}
	for i := range f.a.Inspection.Tracks {
		t := &f.a.Inspection.Tracks[i]
		plate, rings := f.strip(t)
		if plate < 0 {
			f.tracksLost = append(f.tracksLost, rowKey(t.Row))
			continue
		}
		f.tracksDrawn++
		f.striped[plate] = true
		fill := s.paint(s.band(float64(t.LargestLoss.Value)))
		for _, ring := range rings {
			f.shape(Path{Fill: fill, Stroke: paper, Width: hair, Class: "track", ID: rowKey(t.Row)}, ring)
		}
	}
}

// strip is a scan strip cut to its plate; the plate is -1 when it has no place
// or no loss.
func (f *frame) strip(t *inspection.Track) (plate int, rings [][]point) {
	plan := f.a.Plan
	plate = f.plateIndex(t.Plate.Value)
	if plate < 0 || t.Out || !t.Offset.OK() || !t.Width.OK() || !t.LargestLoss.OK() ||
		!plan.Plates[plate].Placed || len(plan.Plates[plate].Cut) == 0 {
		return -1, nil
	}
	p := &plan.Plates[plate]
	from, to := float64(t.Start.Or(0)), float64(t.End.Or(unit.Length(p.Length)))
	low, high := float64(t.Offset.Value), float64(t.Offset.Value+t.Width.Value)
	b, ok := plan.Box(plate, (from+to)/2, (low+high)/2, to-from, high-low)
	strip, ok2 := plan.Outline(plate, b)
	if !ok || !ok2 {
		return -1, nil
	}
	for _, ring := range visible(p) {
		cut := f.view.ring(strip)
		if !p.Sector {
			cut = clipConvex(f.view.ring(ring), cut)
		}
		if len(cut) >= 3 {
			rings = append(rings, cut)
		}
	}
	return plate, rings
}

// clipConvex cuts an outline to a convex one.
func clipConvex(ring, by []point) []point {
	area := 0.0
	for i, p := range by {
		q := by[(i+1)%len(by)]
		area += p.x*q.y - q.x*p.y
	}
	for i, p := range by {
		q := by[(i+1)%len(by)]
		if area < 0 {
			p, q = q, p
		}
		ring = clipHalf(ring, func(r point) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) })
	}
	return ring
}
