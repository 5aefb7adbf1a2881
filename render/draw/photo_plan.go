package draw

import (
	"math"
	"strings"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// stand is how well a photo's place is known.
type stand uint8

const (
	nowhere  stand = iota
	onPlate        // somewhere on its plate
	atSpot         // at its indication
	measured       // at its own X and Y
)

// photoPlace is where a photo was taken, from its own position, else its
// indication's, else its plate.
func photoPlace(a *rules.Assessment, plateOf func(string) int, i int) (floor.Point, int, stand) {
	p := &a.Inspection.Photos[i]
	plate := plateOf(p.Plate.Value)
	if p.X.OK() && p.Y.OK() {
		if at, ok := a.Plan.ToPlan(plate, float64(p.X.Value), float64(p.Y.Value)); ok {
			return at, plate, measured
		}
	}
	if p.Indication.OK() && a.Result != nil {
		want := inspection.Fold(p.Indication.Value)
		for n := range a.Result.Locations {
			l := &a.Result.Locations[n]
			if l.Kind != assess.IndicationAt || !l.Placed || p.Plate.OK() && l.Plate != plate ||
				l.Indication < 0 || l.Indication >= len(a.Inspection.Indications) {
				continue
			}
			if inspection.Fold(a.Inspection.Indications[l.Indication].ID.Value) == want {
				return l.At, l.Plate, atSpot
			}
		}
	}
	if plate >= 0 && plate < len(a.Plan.Plates) && a.Plan.Plates[plate].Placed {
		return a.Plan.Plates[plate].Label, plate, onPlate
	}
	return floor.Point{}, -1, nowhere
}

// PhotoPlan is where the photos were taken, numbered as in the report, with
// the direction they look in.
func PhotoPlan(a *rules.Assessment, s Sheet) *Scene {
	f := newFrame(a, s, "photo plan", "Photo plan")
	f.drawPlates(plateStyle{edge: mist})
	f.drawShell()
	f.drawFixtures()
	f.bearings()
	var counts [measured + 1]int
	var lost []string
	looks := 0
	if a.Inspection != nil && a.Plan != nil && f.known {
		for i := range a.Inspection.Photos {
			at, _, how := photoPlace(a, f.plateIndex, i)
			c := f.view.pt(at)
			if how == nowhere || !f.clip.holds(c) {
				if f.sheet.tile == nil {
					lost = append(lost, count(i+1))
				}
				continue
			}
			counts[how]++
			if f.photoMark(c, i, how) {
				looks++
			}
		}
	}
	f.number(f.numbers(steel), false, 2.4, nil)
	f.unnamed = f.nameFixtures()

	f.legend.heading("Photos")
	show := func(how stand, text string) {
		if counts[how] > 0 {
			f.legend.entry(text+": "+count(counts[how]), func(b *board, c point) { photoCircle(b, c, "7", how) })
		}
	}
	counts[measured] += counts[atSpot]
	show(measured, "at its place")
	show(onPlate, "somewhere on its plate")
	if looks > 0 {
		f.legend.entry("direction the photo looks in", func(b *board, c point) { wedge(b, c, 1.6, 90) })
	}
	if a.Inspection != nil && len(a.Inspection.Photos) == 0 {
		f.legend.text("No photo is recorded")
	}
	f.legend.names("Photos without a place on the plan, by number", lost)
	f.closePlan()
	return f.finish()
}

// photoMark draws a photo's number near its place: where the circle would
// hide another, it moves aside on a leader.
func (f *frame) photoMark(c point, i int, how stand) bool {
	r := photoRadius(count(i+1)) + 0.3
	at := c
	box := rect{c.x - r, c.y - r, c.x + r, c.y + r}
	for n := 0; n < 48 && !f.taken.free(box); n++ {
		d := 4.2 + 2.1*float64(n/12)
		sin, cos := math.Sincos(float64(n%12)*math.Pi/6 + 0.26*float64(n/12%2))
		at = point{c.x + d*cos, c.y + d*sin}
		box = rect{at.x - r, at.y - r, at.x + r, at.y + r}
	}
	if at != c {
		f.line(Path{Stroke: ink, Width: fine, Class: "leader"}, c, at)
		f.circle(Path{Fill: ink, Class: "leader"}, c, 0.3)
	}
	f.taken.add(box)
	angle, looks := 0.0, false
	if f.a.Plan != nil && !math.IsNaN(f.a.Plan.UpBearing) {
		angle, looks = Compass(f.a.Inspection.Photos[i].Direction.Value)
	}
	if looks {
		wedge(&f.board, at, r-0.3, angle-f.a.Plan.UpBearing)
	}
	photoCircle(&f.board, at, count(i+1), how)
	return looks
}

// photoRadius grows with the number in the circle.
func photoRadius(text string) float64 { return max(1.6, Width(text, leastSize, true)/2+0.4) }

func photoCircle(b *board, c point, text string, how stand) {
	p := Path{Fill: paper, Stroke: ink, Width: plain, Class: "photo", ID: text}
	if how == onPlate {
		p.Dash = []float64{0.5, 0.4}
	}
	b.circle(p, c, photoRadius(text))
	b.label(Label{Text: text, X: c.x, Y: c.y, Size: leastSize, Anchor: Centre, Middle: true, Bold: true, Paint: ink, Class: "photo"})
}

// wedge is a pointer from a circle towards degrees clockwise from paper's up.
func wedge(b *board, c point, r, clockwise float64) {
	at := func(deg, r float64) point {
		sin, cos := math.Sincos((clockwise + deg) * math.Pi / 180)
		return point{c.x + r*sin, c.y - r*cos}
	}
	b.shape(Path{Fill: ink, Class: "look"}, []point{at(0, r+1.4), at(35, r-0.1), at(-35, r-0.1)})
}

// Compass reads a direction of view: a compass point in words or letters, or
// degrees clockwise from north. False when the text is neither.
func Compass(text string) (float64, bool) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, lead := range [...]string{"looking ", "towards ", "toward ", "to ", "facing "} {
		t = strings.TrimPrefix(t, lead)
	}
	t = strings.NewReplacer(" ", "", "-", "", "wards", "", "ward", "").Replace(t)
	for i, names := range compassPoints {
		for _, n := range names {
			if t == n {
				return 22.5 * float64(i), true
			}
		}
	}
	t = strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(t, "°"), "deg"), "degrees")
	v, ok := degreesOf(t)
	return v, ok
}

var compassPoints = [16][]string{
	{"n", "north"},
	{"nne", "northnortheast"},
	{"ne", "northeast"},
	{"ene", "eastnortheast"},
	{"e", "east"},
	{"ese", "eastsoutheast"},
	{"se", "southeast"},
	{"sse", "southsoutheast"},
	{"s", "south"},
	{"ssw", "southsouthwest"},
	{"sw", "southwest"},
	{"wsw", "westsouthwest"},
	{"w", "west"},
	{"wnw", "westnorthwest"},
	{"nw", "northwest"},
	{"nnw", "northnorthwest"},
}

func degreesOf(t string) (float64, bool) {
	if t == "" || len(t) > 6 {
		return 0, false
	}
	v := 0.0
	scale := 0.0
	for _, r := range t {
		switch {
		case r == '.' && scale == 0:
			scale = 1
		case r >= '0' && r <= '9':
			v = v*10 + float64(r-'0')
			scale *= 10
		default:
			return 0, false
		}
	}
	if scale > 0 {
		v /= scale
	}
	return v, v <= 360
}

// PhotoThumb is a small plan of the floor with the place of photo i (from 0)
// marked, nil when it has none.
func PhotoThumb(a *rules.Assessment, i int, size float64) *Scene {
	if a.Inspection == nil || a.Plan == nil || i < 0 || i >= len(a.Inspection.Photos) {
		return nil
	}
	e := extentOf(a.Plan)
	if e.empty() || size <= 0 {
		return nil
	}
	f := &frame{a: a}
	f.scene = &Scene{Name: "photo place " + count(i+1), Title: "Place of photo " + count(i+1), Width: size, Height: size}
	room := rect{0, 0, size, size}
	f.clip = &room
	f.view = thumbView(e, room)
	f.known = true
	at, plate, how := photoPlace(a, f.plateIndex, i)
	if how == nowhere {
		return nil
	}
	f.thumb(plate)
	c := f.view.pt(at)
	f.circle(Path{Stroke: accent, Width: 0.3, Class: "place"}, c, 1.7)
	if how != onPlate {
		f.circle(Path{Fill: accent, Class: "place"}, c, 0.6)
	}
	return f.scene
}

func thumbView(e extent, room rect) view {
	k := min((room.width()-2)/e.width(), (room.height()-2)/e.height())
	return view{at: room.centre(), of: floor.Point{X: (e.x1 + e.x2) / 2, Y: (e.y1 + e.y2) / 2}, k: k}
}

// thumb draws shell and plates as hairlines, one plate set apart.
func (f *frame) thumb(plate int) {
	for i := range f.a.Plan.Plates {
		p := &f.a.Plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		style := Path{Stroke: mist, Width: hair, Class: "plate", EvenOdd: true}
		if i == plate {
			style.Fill = ramp[1]
		}
		f.shape(style, f.view.shape(visible(p))...)
	}
	if r := f.a.Plan.Radius; r > 0 {
		f.circle(Path{Stroke: ink, Width: plain, Class: "shell"}, f.view.pt(floor.Point{}), r*f.view.k)
	}
}
