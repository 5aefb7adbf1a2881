package draw

import (
	"math"
	"strings"

	"platebook/rules/floor"
)

// standing is a fixture on the plate of a detail.
type standing struct {
	name    string // with its kind
	box     rect
	crossed bool // by lines through its middle
}

// fixtures draws what stands on the floor where the plate is, so that a crew
// knows what is in its way. Manways and nozzles stand in the shell.
func (d *detail) fixtures() {
	if len(d.cut) == 0 {
		return
	}
	// Not beyond the plate, where the rulers stand.
	plate, room := bounds(d.cut[0]), d.clip
	d.clip = &plate
	defer func() { d.clip = room }()
	for _, o := range d.a.Plan.Openings {
		if o.Kind == "manway" || o.Kind == "nozzle" || !(o.Length > 0 && o.Width > 0) {
			continue
		}
		outline := openingOutline(o)
		ring := d.ring(outline)
		if len(ring) < len(outline) || !bounds(ring).meets(plate) {
			continue
		}
		d.shape(fixturePath, ring)
		d.keepOffRing(ring)
		b := bounds(ring)
		c := b.centre()
		crossed := o.Kind == "column" || o.Kind == "support"
		if crossed {
			d.line(Path{Stroke: ink, Width: hair, Class: "fixture"}, point{b.x1, c.y}, point{b.x2, c.y})
			d.line(Path{Stroke: ink, Width: hair, Class: "fixture"}, point{c.x, b.y1}, point{c.x, b.y2})
		}
		name := o.Name
		if !strings.Contains(strings.ToLower(name), o.Kind) {
			name = sentence(name, o.Kind)
		}
		shown := rect{max(b.x1, plate.x1), max(b.y1, plate.y1), min(b.x2, plate.x2), min(b.y2, plate.y2)}
		d.stands = append(d.stands, standing{name, shown, crossed})
	}
}

var fixturePath = Path{Fill: paper, Stroke: ink, Width: plain, Class: "fixture"}

// openingOutline is a fixture's edge in plan.
func openingOutline(o floor.Opening) floor.Ring {
	if !o.Round {
		w, h := o.Length/2, o.Width/2
		return floor.Ring{{X: o.At.X - w, Y: o.At.Y - h}, {X: o.At.X + w, Y: o.At.Y - h}, {X: o.At.X + w, Y: o.At.Y + h}, {X: o.At.X - w, Y: o.At.Y + h}}
	}
	out := make(floor.Ring, 36)
	for i := range out {
		sin, cos := math.Sincos(float64(i) * math.Pi / 18)
		out[i] = floor.Point{X: o.At.X + o.Length/2*cos, Y: o.At.Y + o.Length/2*sin}
	}
	return out
}
