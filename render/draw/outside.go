package draw

import (
	"math"

	"platebook/rules/floor"
)

// numberOutside writes a tag with a leader: outside the shell where the plate
// is nearest to it, else wherever there is room nearby.
func (f *frame) numberOutside(h *hold, size float64) {
	if !h.ok || f.clip != nil && !f.clip.holds(h.at) {
		return
	}
	text := brief(h.number, size, h.bold)
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
		// Names in a row read apart.
		if !f.taken.free(rect{box.x1 - 0.7, box.y1, box.x2 + 0.7, box.y2}) {
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
