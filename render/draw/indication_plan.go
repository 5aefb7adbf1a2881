package draw

import (
	"slices"
	"strings"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/unit"
)

// IndicationPlan is every indication at its place and to its size, shaded by
// loss; the worst carry their number and loss.
func IndicationPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "indication plan", "Indication plan")
	bands := lossScale(a)
	spots, unplaced := f.spots(bands, nil)
	byWorst(spots)
	f.scene.Items = slices.Grow(f.scene.Items, 2*len(spots)+1000)
	f.marks = newOccupied(f.taken.area)
	for i := range spots {
		f.marks.add(spots[i].box)
	}

	f.drawPlates(plateStyle{edge: mist})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	f.datumMarks()
	f.drawPatches()
	f.number(f.numbers(steel), false, 2.6, func(r rect) int { return f.marks.overlap(r, 60) })
	paints := make([]Paint, len(bands.names))
	for i := range paints {
		paints[i] = bands.paint(i)
	}
	for i := range spots {
		fill := paper
		if spots[i].band >= 0 {
			fill = paints[spots[i].band]
		}
		mark(&f.board, &spots[i], fill)
	}
	unnamed := f.nameFixtures()
	labelled := f.labelSpots(spots)

	f.spotLegend(bands, spots)
	if len(spots) > 0 {
		f.legend.text(labelNote(labelled, len(spots)))
	} else if len(unplaced) == 0 {
		f.legend.text("No indication is recorded")
	}
	f.legend.names("Without a place on the plan", unplaced)
	f.leftOut()
	f.legend.heading("Plan")
	f.datumNotes()
	f.patchEntry()
	f.fixtureLegend()
	f.floorNotes(unnamed)
	return f.finish()
}

func labelNote(labelled, all int) string {
	if labelled == all {
		return "Labels: number and loss, all " + count(all)
	}
	return "Labels, number and loss, worst first: " + count(labelled) + " of " + count(all) + "; the rest in the table"
}

// labelSpots writes number and loss beside the spots where they fit without
// touching another label or mark, worst first, and counts them.
func (f *frame) labelSpots(spots []spot) int {
	done := f.labelSought(spots)
	for _, gap := range [...]float64{0.35, 2.6} {
		for i := len(spots) - 1; i >= max(0, len(spots)-mostLabels); i-- {
			m := &spots[i]
			if m.labelled || m.id == "" || !f.clip.holds(m.at) {
				continue
			}
			// Distant labels with leaders are for the worst: many of them
			// would hide the plan.
			if gap > 1 && len(spots)-i > mostLeaders {
				break
			}
			short, l := spotLabels(m, spotSize)
			if m.labelled = f.beside(l, m.box, gap) || f.beside(short, m.box, gap); m.labelled {
				done++
			}
		}
	}
	return done
}

// labelSought labels what is looked for, and the worst at any rate, before all
// else: with the loss, at the end of a leader where it has to be.
func (f *frame) labelSought(spots []spot) (done int) {
	const worst, reach = 12, 12.0
	l := f.leads(nil)
	for i := len(spots) - 1; i >= 0 && done < mostLeaders; i-- {
		m := &spots[i]
		if !m.sought && i < len(spots)-worst || m.id == "" || m.faint || !f.clip.holds(m.at) {
			continue
		}
		_, full := spotLabels(m, spotSize)
		if m.labelled = l.beside(full, m.box, 0.35) || l.beside(full, m.box, 2.6) || l.led(full, m.box, reach); m.labelled {
			done++
		}
	}
	return done
}

// spotLabels is a place's number, and its number with its loss.
func spotLabels(m *spot, size float64) (short, full Label) {
	short = Label{Text: brief(m.id, size-0.2, false), Size: size, Paint: ink, Halo: true, Class: "indication-label"}
	full = short
	if m.known {
		full.Text += " " + unit.Round(m.loss, 0) + "%"
	}
	return short, full
}

const (
	spotSize    = leastSize
	mostLeaders = 80
	mostLabels  = 300
)

func (f *frame) spotLegend(bands scale, spots []spot) {
	counts := make([]int, len(bands.names))
	var unknown, proved, faint int
	sides := map[assess.Side]int{}
	for i := range spots {
		m := &spots[i]
		if m.faint {
			faint++
			continue
		}
		sides[m.side]++
		if m.band >= 0 {
			counts[m.band]++
		} else {
			unknown++
		}
		if m.proved {
			proved++
		}
	}
	f.legend.heading("Loss, share of nominal thickness")
	f.bandEntries(bands, counts, "indication", "indications")
	if unknown > 0 {
		f.legend.entry("loss unknown: "+count(unknown), func(b *board, c point) {
			b.box(Path{Fill: paper, Stroke: ink, Width: fine}, rect{c.x - 3.2, c.y - 1.5, c.x + 3.2, c.y + 1.5})
			b.label(Label{Text: "?", X: c.x, Y: c.y, Size: 2.2, Anchor: Centre, Middle: true, Bold: true, Paint: ink, Class: "band"})
		})
	}
	f.legend.heading("Side")
	middle := bands.paint(len(bands.names) / 2)
	for _, side := range [...]assess.Side{assess.Soil, assess.Product, assess.Unknown} {
		words := map[assess.Side]string{
			assess.Soil:    "soil side, box with solid outline",
			assess.Product: "product side, oval with dashed outline",
			assess.Unknown: "side unknown, lozenge with dotted outline",
		}[side]
		f.legend.entry(words+": "+count(sides[side]), func(b *board, c point) {
			mark(b, &spot{side: side, at: point{c.x - 1, c.y}, a: 2.2, b: 1.4}, middle)
			mark(b, &spot{side: side, at: point{c.x + 2.7, c.y}, a: leastMark / 2, b: leastMark / 2}, middle)
		})
	}
	f.legend.entry("proved up by UT or pit gauge: "+count(proved), func(b *board, c point) {
		mark(b, &spot{side: assess.Soil, proved: true, at: c, a: 1.4, b: 1.1}, bands.paint(1))
	})
	if faint > 0 {
		f.legend.entry("not relevant or excluded: "+count(faint), func(b *board, c point) {
			mark(b, &spot{side: assess.Soil, faint: true, at: c, a: 1.4, b: 1.1}, paper)
		})
	}
	if f.known {
		f.legend.text("Marks are to size, but no smaller than " + f.floorLength(leastMark/f.view.k) + " of floor")
	}
}

// floorLength is a floor length in the workbook's unit.
func (f *frame) floorLength(mm float64) string {
	return unit.Size.TextUnit(f.sys, mm, 0)
}

// leftOut says that rows taken out by an error are not on the plan.
func (f *frame) leftOut() {
	by := map[string]int{}
	var sheets []string
	for _, r := range f.a.LeftOut {
		if by[r.Sheet] == 0 {
			sheets = append(sheets, r.Sheet)
		}
		by[r.Sheet]++
	}
	var parts []string
	for _, s := range sheets {
		parts = append(parts, s+" "+count(by[s]))
	}
	if len(parts) > 0 {
		f.legend.text("Rows left out by an error, not drawn: " + strings.Join(parts, ", "))
	}
}

// fixtureLegend explains the fixtures that are drawn.
func (f *frame) fixtureLegend() {
	if f.a.Plan != nil && f.known {
		f.fixtureEntries()
	}
}
