package invented

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// Plan is where the plates of an invented floor lie, by the method's section 2
// and apart from the program's geometry. Rect and Reach hold for quarter turns
// only.
type Plan struct {
	Radius, Rim, Up float64
	Lap             float64
	Plates          map[string]*Laid
	Order           []string // plates with a place, as in the sheet
	Openings        []Rect   // of sumps
}

// Laid is a plate with its place.
type Laid struct {
	Row     Row
	Annular bool
	Rect    Rect    // in the plan; not of an annular plate
	Left    float64 // of the local origin
	Bottom  float64
	Turn    float64 // degrees anticlockwise
}

// Rect is a rectangle along the plan's axes.
type Rect struct{ X1, Y1, X2, Y2 float64 }

// Overlap is the rectangle two have in common.
func (r Rect) Overlap(o Rect) (Rect, bool) {
	c := Rect{max(r.X1, o.X1), max(r.Y1, o.Y1), min(r.X2, o.X2), min(r.Y2, o.Y2)}
	return c, c.X2 > c.X1 && c.Y2 > c.Y1
}

// Lay places a tank's plates.
func Lay(t *Tank) *Plan {
	p := &Plan{
		Radius: t.Items.Number("Diameter") / 2, Up: t.Items.Number("Plan up bearing"), Lap: t.Items.Number("Lap"), Plates: map[string]*Laid{},
	}
	p.Rim = p.Radius - t.Items.Number("Annular width inside the shell")
	rows := map[int][]Row{}
	var numbers []int
	for _, r := range t.Plates {
		label := r.Word("Plate")
		switch {
		case r.Word("Type") == "annular":
			p.Plates[label] = &Laid{Row: r, Annular: true}
		case r.Word("Type") == "sump":
			continue
		case r.Has("Row"):
			n, _ := strconv.Atoi(r.Word("Row"))
			if rows[n] == nil {
				numbers = append(numbers, n)
			}
			rows[n] = append(rows[n], r)
		default:
			p.put(r, r.Number("Left"), r.Number("Bottom"))
		}
		p.Order = append(p.Order, label)
	}
	slices.Sort(numbers)
	high := func(n int) float64 {
		h := 0.0
		for _, r := range rows[n] {
			h = max(h, r.Number("Width"))
		}
		return h
	}
	stack := -p.Lap * float64(len(numbers)-1)
	for _, n := range numbers {
		stack += high(n)
	}
	bottom := -stack / 2
	for _, n := range numbers {
		row := rows[n]
		slices.SortStableFunc(row, func(a, b Row) int {
			i, _ := strconv.Atoi(a.Word("Position"))
			j, _ := strconv.Atoi(b.Word("Position"))
			return cmp.Compare(i, j)
		})
		total := -p.Lap * float64(len(row)-1)
		for _, r := range row {
			total += r.Number("Length")
		}
		left := -total / 2
		for _, r := range row {
			x, y := r.Or("Left", left), r.Or("Bottom", bottom)
			if r.Number("Turned") == 180 && !r.Has("Left") { // the box stays, its origin is at the upper right
				x, y = x+r.Number("Length"), y+r.Number("Width")
			}
			p.put(r, x, y)
			left += r.Number("Length") - p.Lap
		}
		bottom += high(n) - p.Lap
	}
	for _, f := range t.Fixtures {
		if f.Word("Kind") == "sump" {
			x, y := p.Polar(f.Number("Radius"), f.Number("Bearing"))
			l, w := f.Number("Length")/2, f.Number("Width")/2
			p.Openings = append(p.Openings, Rect{x - l, y - w, x + l, y + w})
		}
	}
	return p
}

func (p *Plan) put(r Row, left, bottom float64) {
	l := &Laid{Row: r, Left: left, Bottom: bottom, Turn: r.Number("Turned")}
	p.Plates[r.Word("Plate")] = l
	x1, y1 := l.plan(0, 0)
	x2, y2 := l.plan(r.Number("Length"), r.Number("Width"))
	l.Rect = Rect{min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)}
}

// Polar is the plan position of a radius and a bearing, clockwise from north.
func (p *Plan) Polar(radius, bearing float64) (x, y float64) {
	a := (bearing - p.Up) * math.Pi / 180
	return radius * math.Sin(a), radius * math.Cos(a)
}

// plan turns local u, v about the origin; by quarter turns without dust.
func (l *Laid) plan(u, v float64) (x, y float64) {
	switch math.Mod(l.Turn+360, 360) {
	case 90:
		return l.Left - v, l.Bottom + u
	case 180:
		return l.Left - u, l.Bottom - v
	case 270:
		return l.Left + v, l.Bottom - u
	case 0:
		return l.Left + u, l.Bottom + v
	}
	s, c := math.Sincos(l.Turn * math.Pi / 180)
	return l.Left + u*c - v*s, l.Bottom + u*s + v*c
}

// At is the plan position of X, Y on a plate.
func (p *Plan) At(label string, x, y float64) (px, py float64, ok bool) {
	l := p.Plates[label]
	if l == nil {
		return 0, 0, false
	}
	if l.Annular {
		px, py = p.Polar(p.Radius-y, l.Row.Number("Start bearing")+180/math.Pi*x/p.Radius)
		return px, py, true
	}
	length, width := l.Row.Number("Length"), l.Row.Number("Width")
	switch l.Row.Word("Datum corner") {
	case "bottom right":
		x = length - x
	case "top left":
		y = width - y
	case "top right":
		x, y = length-x, width-y
	}
	px, py = l.plan(x, y)
	return px, py, true
}

// From is X, Y on a plate of the floor of a place in plan.
func (p *Plan) From(label string, px, py float64) (x, y float64, ok bool) {
	l := p.Plates[label]
	if l == nil || l.Annular {
		return 0, 0, false
	}
	s, c := math.Sincos(l.Turn * math.Pi / 180)
	px, py = px-l.Left, py-l.Bottom
	x, y = px*c+py*s, py*c-px*s
	length, width := l.Row.Number("Length"), l.Row.Number("Width")
	switch l.Row.Word("Datum corner") {
	case "bottom right":
		x = length - x
	case "top left":
		y = width - y
	case "top right":
		x, y = length-x, width-y
	}
	return x, y, true
}

// open says whether a point lies in the opening of a sump, or beside it.
func (p *Plan) open(x, y float64) bool {
	const beside = 60
	for _, o := range p.Openings {
		if x > o.X1-beside && x < o.X2+beside && y > o.Y1-beside && y < o.Y2+beside {
			return true
		}
	}
	return false
}

// Reach is how far from the centre the farthest part of a box centred on X, Y
// lies.
func (p *Plan) Reach(label string, x, y, length, width float64) float64 {
	l := p.Plates[label]
	if l == nil {
		return 0
	}
	if l.Annular {
		return p.Radius - (y - width/2)
	}
	far := 0.0
	for _, i := range []float64{-0.5, 0.5} {
		for _, j := range []float64{-0.5, 0.5} {
			px, py, _ := p.At(label, x+i*length, y+j*width)
			far = max(far, math.Hypot(px, py))
		}
	}
	return far
}
