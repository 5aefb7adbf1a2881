package draw

import (
	"math"
	"strconv"

	"platebook/rules/floor"
	"platebook/rules/unit"
)

// drawCompass draws the north arrow and the scale bar between the legend and
// the title block.
func (f *frame) drawCompass() {
	r := f.compass
	f.line(Path{Stroke: ink, Width: fine, Class: "frame"}, point{r.x1, r.y1}, point{r.x2, r.y1})
	if f.a.Plan == nil {
		return
	}
	// A plate drawn along its own length has its own up.
	up := math.Mod(f.a.Plan.UpBearing-f.turned+720, 360)
	c := point{r.x1 + gutter + 8, r.y1 + r.height()/2}
	north := "Plan up is bearing " + unit.Round(up, 1) + "°"
	switch {
	case f.unrolled:
		north = "Unrolled along the shell, shell on top"
	case math.IsNaN(up):
		north = "North unknown"
	default:
		f.north(c, 6.4, up)
	}
	x := c.x + 11
	if f.unrolled {
		x = r.x1 + gutter + 2
	}
	if f.known {
		room := r.x2 - gutter - x - 3
		if f.sheet.tile != nil {
			room -= r.height()
		}
		f.scaleBar(point{x, r.y1 + 7.4}, room)
		f.keyPlan()
	}
	f.label(Label{Text: "Seen from above", X: x, Y: r.y1 + 13.6, Size: wordSize, Paint: ink, Class: "note"})
	f.label(Label{Text: north, X: x, Y: r.y1 + 17, Size: wordSize, Paint: ink, Class: "note"})
}

// north draws an arrow towards bearing 0; plan up is the given bearing.
func (f *frame) north(c point, r, up float64) {
	sin, cos := math.Sincos(-up * math.Pi / 180)
	at := func(along, across float64) point {
		return point{c.x + r*(along*sin+across*cos), c.y - r*(along*cos-across*sin)}
	}
	f.circle(Path{Stroke: steel, Width: fine, Class: "north"}, c, r)
	f.shape(Path{Fill: ink, Stroke: ink, Width: fine, Class: "north"}, []point{at(0.98, 0), at(-0.62, 0.3), at(-0.38, 0)})
	f.shape(Path{Fill: paper, Stroke: ink, Width: fine, Class: "north"}, []point{at(0.98, 0), at(-0.62, -0.3), at(-0.38, 0)})
	n := at(1.28, 0)
	f.label(Label{Text: "N", X: n.x, Y: n.y, Size: 2.8, Bold: true, Anchor: Centre, Middle: true, Paint: ink, Class: "north"})
}

// scaleBar draws a bar of a round length, in metres or feet, no longer than
// width.
func (f *frame) scaleBar(at point, width float64) {
	one, name := 1000.0, "m"
	if f.sys == unit.US {
		one, name = float64(unit.Foot), "ft"
	}
	length := niceLength(width / f.view.k / one)
	if !(length > 0) {
		return
	}
	parts := 4
	if d := length / math.Pow(10, math.Floor(math.Log10(length)+1e-9)); math.Abs(d-5) < 1e-6 || math.Abs(d-1) < 1e-6 {
		parts = 5
	}
	w := length * one * f.view.k
	const thick = 1.3
	for i := range parts {
		p := Path{Fill: ink, Stroke: ink, Width: fine, Class: "scale"}
		if i%2 == 1 {
			p.Fill = paper
		}
		x := at.x + w*float64(i)/float64(parts)
		f.box(p, rect{x, at.y, x + w/float64(parts), at.y + thick})
	}
	text := func(v, x float64, anchor Anchor, tail string) {
		f.label(Label{Text: strconv.FormatFloat(v, 'f', -1, 64) + tail, X: x, Y: at.y - 0.8, Size: wordSize, Anchor: anchor, Paint: ink, Class: "scale"})
	}
	text(0, at.x, Centre, "")
	if end := trimmed(length) + " " + name; Width(end, wordSize, false) < w*0.8 {
		text(length, at.x+w, Centre, " "+name)
	} else {
		text(length, at.x+w+1, Start, " "+name)
	}
}

func trimmed(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// niceLength is the longest 1, 2 or 5 times a power of ten not over v.
func niceLength(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 1) {
		return 0
	}
	exp := int(math.Floor(math.Log10(v) + 1e-9))
	// A power made from its text is exact where math.Pow(10, -1) times 2 is not.
	decade, err := strconv.ParseFloat("1e"+strconv.Itoa(exp), 64)
	if err != nil {
		return 0
	}
	for _, s := range [...]float64{5, 2, 1} {
		if s*decade <= v*(1+1e-9) {
			return s * decade
		}
	}
	return decade
}

// bearings draws the ring of bearings round the shell: a tick every 10°, the
// degrees every 30°.
func (f *frame) bearings() {
	plan := f.a.Plan
	if plan == nil || plan.Radius <= 0 || math.IsNaN(plan.UpBearing) {
		return
	}
	k, r := f.view.k, plan.Radius
	ring := r + bearingGap/k
	f.circle(Path{Stroke: mist, Width: hair, Class: "bearing"}, f.view.pt(floor.Point{}), ring*k)
	at := func(b int, radius float64) point {
		p, _ := plan.AtBearing(radius, float64(b))
		return f.view.pt(p)
	}
	for b := 0; b < 360; b += 10 {
		long := 1.0
		if b%30 == 0 {
			long = 1.9
		}
		f.line(Path{Stroke: steel, Width: fine, Class: "bearing"},
			at(b, ring), at(b, ring+long/k))
		if b%30 != 0 {
			continue
		}
		p := at(b, ring+4.3/k)
		l := Label{Text: count(b) + "°", X: p.x, Y: p.y, Size: leastSize, Anchor: Centre, Middle: true, Paint: steel, Class: "bearing"}
		if b == 0 {
			l.Text, l.Bold, l.Paint = "N 0°", true, ink
		}
		if f.label(l) {
			f.taken.add(l.box())
		}
	}
}

// bearingGap keeps room between shell and bearing ring for the numbers of
// plates too small to hold them, mm of paper.
const bearingGap = 4.0
