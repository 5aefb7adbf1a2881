package draw

import (
	"cmp"
	"math"
	"slices"

	"platebook/rules/floor"
)

// tag is the words inside a plate: its number, and below it a value if the
// plan has one.
type tag struct {
	plate  int
	number string
	value  string
	paint  Paint
	halo   bool
}

const (
	mostNumber = 3.0
	tagLine    = 1.12 // of the size, from line to line
)

// number writes every plate's tag. Full plates share one size; a plate too
// small for it gets smaller letters, then turned ones, then a place outside
// with a leader. weight counts what a box would hide; nil: nothing.
func (f *frame) number(tags []tag, bold bool, limit float64, weight func(rect) int) {
	plan := f.a.Plan
	if plan == nil || len(tags) == 0 {
		return
	}
	holds := make([]hold, len(tags))
	sizes := make([]float64, 0, len(tags))
	for i, t := range tags {
		holds[i] = f.hold(&plan.Plates[t.plate], t, bold)
		if h := &holds[i]; h.ok && !plan.Plates[t.plate].Sector {
			b := h.box
			w := max(Width(t.number, 1, bold), Width(t.value, 1, false)*valueShare)
			sizes = append(sizes, min(0.7*b.width()/max(w, 0.1), 0.55*b.height()/h.lines))
		}
	}
	common := limit
	if len(sizes) > 0 {
		slices.Sort(sizes)
		common = min(max(sizes[len(sizes)/4], leastSize), limit)
	}
	var outside []int
	// A whole floor that is split into parts leaves small plates to them.
	whole := f.sheet.tile == nil && f.sheet.pages > 1
	for i := range holds {
		h := &holds[i]
		if h.ok && f.numberInside(h, common, weight) {
			continue
		}
		if whole {
			h.value, h.lines = "", 1
			if h.ok && !f.numberInside(h, common, weight) {
				f.toParts++
			}
			continue
		}
		outside = append(outside, i)
	}
	f.keepOffShell()
	for _, i := range outside {
		f.numberOutside(&holds[i], min(common, 1.9))
	}
}

// valueShare is the size of a value below a plate's number, as long as it
// stays readable.
const valueShare = 0.82

func valueSizeFor(size float64) float64 { return max(size*valueShare, leastSize) }

// hold is a plate's outline on paper with the words it has to hold.
type hold struct {
	tag
	bold  bool
	ok    bool
	lines float64
	rings [][]point
	box   rect
	at    point
	turn  float64 // preferred angle

	places []seat
	arc    []seat // on an annular plate, along the shell
}

// seat is a place for letters and their angle.
type seat struct {
	at   point
	turn float64
}

func (f *frame) hold(p *floor.Plate, t tag, bold bool) hold {
	h := hold{tag: t, bold: bold, lines: 1}
	if t.value != "" {
		h.lines = 1 + tagLine*valueShare
	}
	if !p.Placed || len(p.Cut) == 0 {
		return h
	}
	h.rings = f.view.shape(visible(p))
	h.box = bounds(h.rings[0])
	for _, r := range h.rings[1:] {
		h.box = h.box.join(bounds(r))
	}
	h.at = f.view.pt(p.Label)
	if p.Sector {
		h.turn = f.tangent(p, 0.5)
		for _, t := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			if at, ok := f.a.Plan.AtBearing(f.a.Plan.Radius-p.Width/2, p.Start+t*sectorSpan(p)); ok {
				h.arc = append(h.arc, seat{f.view.pt(at), f.tangent(p, t)})
			}
		}
	} else if d := math.Mod(p.Turned, 180); d != 0 && math.Abs(d) != 90 {
		h.turn = readable(d)
	}
	h.ok = true
	return h
}

// tangent is the angle of letters along the shell, at a share of a sector.
func (f *frame) tangent(p *floor.Plate, share float64) float64 {
	return readable(-(p.Start + share*sectorSpan(p) - f.a.Plan.UpBearing))
}

// sectorSpan is the degrees from a sector's first seam to its last.
func sectorSpan(p *floor.Plate) float64 {
	span := math.Mod(p.End-p.Start, 360)
	if span < 0 {
		span += 360
	}
	return span
}

// readable turns an angle by half a turn where letters would stand on their
// head.
func readable(a float64) float64 {
	a = math.Mod(a, 360)
	if a < 0 {
		a += 360
	}
	if a > 90.5 && a <= 270.5 {
		a -= 180
	}
	if a > 180 {
		a -= 360
	}
	return a
}

// numberInside looks for a place within the plate's edges.
func (f *frame) numberInside(h *hold, common float64, weight func(rect) int) bool {
	least := leastSize
	angles := []float64{h.turn}
	if h.turn == 0 {
		angles = append(angles, 90)
	}
	for size := common; size > least-1e-9; size = nextSize(size, least) {
		for _, a := range angles {
			if f.numberAt(h, size, a, weight) {
				return true
			}
		}
		if size == least {
			break
		}
	}
	return false
}

func nextSize(size, least float64) float64 {
	if size > least && size*0.85 < least {
		return least
	}
	return size * 0.85
}

// numberAt tries the plate's inner point, then a grid over the plate, nearest
// first. Among equal sizes the place that hides least wins.
func (f *frame) numberAt(h *hold, size, angle float64, weight func(rect) int) bool {
	w := max(Width(h.number, size, h.bold), Width(h.value, valueSizeFor(size), false))
	high := size * (capHeight + (h.lines-1)*1.0)
	half := point{w/2 + 0.3, high/2 + 0.3}
	if angle == 0 && (2*half.x > h.box.width() || 2*half.y > h.box.height()) ||
		angle == 90 && (2*half.y > h.box.width() || 2*half.x > h.box.height()) {
		return false
	}
	best, found, cost := seat{}, false, math.MaxInt
	try := func(s seat) bool {
		if f.clip != nil && !f.clip.holds(s.at) || !boxInside(h.rings, s.at, half, s.turn) {
			return false
		}
		r := turnedBox(s.at, half, s.turn)
		if f.clip != nil && !r.within(*f.clip) || f.taken.overlap(r, 1) > 0 {
			return false
		}
		n := 0
		if weight != nil {
			n = weight(r)
		}
		if n < cost {
			best, found, cost = s, true, n
		}
		return cost == 0
	}
	seats := h.arc
	if len(seats) == 0 && !try(seat{h.at, angle}) {
		seats = h.grid(angle)
	}
	for _, s := range seats {
		if try(s) {
			break
		}
	}
	if !found {
		return false
	}
	f.writeTag(h, best.at, size, best.turn)
	f.taken.add(turnedBox(best.at, half, best.turn))
	return true
}

// grid is places over the plate's box, nearest to its inner point first.
func (h *hold) grid(angle float64) []seat {
	if h.places == nil {
		const n = 9
		h.places = make([]seat, 0, n*n)
		for i := range n {
			for j := range n {
				h.places = append(h.places, seat{at: point{
					h.box.x1 + h.box.width()*(float64(i)+0.5)/n,
					h.box.y1 + h.box.height()*(float64(j)+0.5)/n,
				}})
			}
		}
		far := func(s seat) float64 {
			return (s.at.x-h.at.x)*(s.at.x-h.at.x) + (s.at.y-h.at.y)*(s.at.y-h.at.y)
		}
		slices.SortStableFunc(h.places, func(a, b seat) int { return cmp.Compare(far(a), far(b)) })
	}
	for i := range h.places {
		h.places[i].turn = angle
	}
	return h.places
}

func (f *frame) writeTag(h *hold, c point, size, angle float64) {
	l := Label{Text: h.number, X: c.x, Y: c.y, Size: size, Anchor: Centre, Middle: true, Angle: angle, Bold: h.bold, Paint: h.paint, Halo: h.halo, Class: "plate-number"}
	if h.value == "" {
		f.label(l)
		return
	}
	// Two lines, both moved along the letters' own up.
	sin, cos := math.Sincos(angle * math.Pi / 180)
	up := size * 0.5
	l.X, l.Y = c.x-up*sin, c.y-up*cos
	f.label(l)
	down := size * 0.5
	f.label(Label{Text: h.value, X: c.x + down*sin, Y: c.y + down*cos, Size: valueSizeFor(size), Anchor: Centre, Middle: true, Angle: angle, Paint: h.paint, Halo: h.halo, Class: "plate-value"})
}

// numberOutside writes a tag with a leader: outside the shell where the plate
// is nearest to it, else wherever there is room nearby.
func (f *frame) numberOutside(h *hold, size float64) {
	if !h.ok || f.clip != nil && !f.clip.holds(h.at) {
		return
	}
	text := h.number
	if h.value != "" {
		text += " " + h.value
	}
	l := Label{Text: text, Size: size, Anchor: Centre, Middle: true, Bold: h.bold, Paint: ink, Halo: true, Class: "plate-number"}
	for size := size; ; size = nextSize(size, leastSize) {
		l.Size = size
		if f.outsideAt(h, l) {
			return
		}
		if size <= leastSize+1e-9 {
			break
		}
	}
	// No room at all: the number stands on the plate, over its edges. A plate
	// without a number would be worse.
	l.X, l.Y = h.at.x, h.at.y
	l.Class = "plate-number crowded"
	f.label(l)
}

func (f *frame) outsideAt(h *hold, l Label) bool {
	plan := f.a.Plan
	try := func(c point) bool {
		l.X, l.Y = c.x, c.y
		box := l.box().grow(0.1)
		if !f.taken.free(box) {
			return false
		}
		from := h.at
		end := point{min(max(from.x, box.x1), box.x2), min(max(from.y, box.y1), box.y2)}
		f.line(Path{Stroke: steel, Width: hair, Class: "leader"}, from, end)
		f.circle(Path{Fill: steel, Class: "leader"}, from, 0.22)
		f.taken.add(box)
		return f.label(l)
	}
	if plan.Radius > 0 {
		centre := f.view.pt(floor.Point{})
		dx, dy := h.at.x-centre.x, h.at.y-centre.y
		d := math.Hypot(dx, dy)
		shell := plan.Radius * f.view.k
		if d > 0.72*shell {
			bearing := math.Atan2(dx, -dy)
			for _, gap := range [...]float64{2.2, 1.7, 10, 12} {
				for _, turn := range [...]float64{0, 1, -1, 2, -2, 3, -3} {
					b := bearing + turn*(l.Width()*0.55+0.4)/shell
					sin, cos := math.Sincos(b)
					if try(point{centre.x + (shell+gap)*sin, centre.y - (shell+gap)*cos}) {
						return true
					}
				}
			}
		}
	}
	for _, r := range [...]float64{3, 4.5, 6, 8, 11, 15} {
		for i := range 16 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 8)
			if try(point{h.at.x + r*cos, h.at.y + r*sin}) {
				return true
			}
		}
	}
	return false
}

func turnedBox(c, half point, angle float64) rect {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	w := math.Abs(half.x*cos) + math.Abs(half.y*sin)
	h := math.Abs(half.x*sin) + math.Abs(half.y*cos)
	return rect{c.x - w, c.y - h, c.x + w, c.y + h}
}

// boxInside says whether a turned box lies wholly within an outline: its
// centre is inside and no edge reaches into it.
func boxInside(rings [][]point, c, half point, angle float64) bool {
	if !inside(rings, c) {
		return false
	}
	r := rect{-half.x, -half.y, half.x, half.y}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	reach := half.x + half.y
	local := func(p point) point {
		dx, dy := p.x-c.x, p.y-c.y
		return point{dx*cos - dy*sin, dx*sin + dy*cos}
	}
	for _, ring := range rings {
		if len(ring) == 0 {
			continue
		}
		last := ring[len(ring)-1]
		for _, p := range ring {
			near := min(last.x, p.x) < c.x+reach && max(last.x, p.x) > c.x-reach &&
				min(last.y, p.y) < c.y+reach && max(last.y, p.y) > c.y-reach
			if near {
				if _, _, hit := clipSegment(local(last), local(p), r); hit {
					return false
				}
			}
			last = p
		}
	}
	return true
}

// inside is the even-odd rule.
func inside(rings [][]point, c point) bool {
	in := false
	for _, ring := range rings {
		if len(ring) == 0 {
			continue
		}
		a := ring[len(ring)-1]
		for _, b := range ring {
			if (a.y > c.y) != (b.y > c.y) && c.x < a.x+(c.y-a.y)/(b.y-a.y)*(b.x-a.x) {
				in = !in
			}
			a = b
		}
	}
	return in
}
