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
	for i := range tags {
		tags[i].number = Fit(tags[i].number, leastSize, bold, f.sheet.Width)
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
		f.numberOutside(&holds[i], leastSize)
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
		const most, step = 7, 0.05 // on either side of the middle
		for i := range 2*most + 1 {
			t := 0.5 + step*float64((i+1)/2)*float64(1-2*(i%2))
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
	if f.clip != nil && !h.box.meets(*f.clip) {
		return false // on another part of a split plan
	}
	if len(h.arc) > 0 && h.value != "" {
		// Along the shell there is more room for one line than for two.
		line := *h
		line.number, line.value, line.lines = h.number+" "+h.value, "", 1
		if f.numberInside(&line, common, weight) {
			return true
		}
	}
	least := leastSize
	angles := []float64{h.turn}
	// A plate that the sheet cuts off has its number where the next sheet shows
	// it; letters turned into what is left here would only crowd the edge.
	cutOff := f.sheet.tile != nil && !f.clip.holds(h.at)
	if h.turn == 0 && !cutOff {
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
		type away struct {
			far float64
			n   int32
		}
		var order [n * n]away
		at := func(k int32) point {
			return point{
				h.box.x1 + h.box.width()*(float64(k/n)+0.5)/n,
				h.box.y1 + h.box.height()*(float64(k%n)+0.5)/n,
			}
		}
		for k := range order {
			p := at(int32(k))
			order[k] = away{(p.x-h.at.x)*(p.x-h.at.x) + (p.y-h.at.y)*(p.y-h.at.y), int32(k)}
		}
		slices.SortFunc(order[:], func(a, b away) int {
			if c := cmp.Compare(a.far, b.far); c != 0 {
				return c
			}
			return int(a.n - b.n)
		})
		h.places = make([]seat, 0, n*n)
		for _, o := range order {
			h.places = append(h.places, seat{at: at(o.n)})
		}
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
