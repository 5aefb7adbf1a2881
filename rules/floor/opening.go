package floor

import (
	"math"

	"platebook/rules/inspection"
)

// open places the fixtures. Those without a place are not in the plan; those
// without a size are, as a point. A sump of known size is an opening: a box
// along the plan axes, or round when only its Diameter is given.
func (p *Plan) open(fixtures []inspection.Fixture) {
	for i := range fixtures {
		f := &fixtures[i]
		radius := float64(f.Radius.Value)
		if !known(f.Radius) {
			continue
		}
		at := Point{}
		if radius != 0 {
			var ok bool
			if !knownAngle(f.Bearing) {
				continue
			}
			if at, ok = p.AtBearing(radius, float64(f.Bearing.Value)); !ok {
				continue
			}
		}
		o := Opening{Name: f.Name.Value, Kind: f.Kind.Value, At: at, Row: i}
		switch {
		case known(f.Length) && known(f.Width):
			o.Length, o.Width = float64(f.Length.Value), float64(f.Width.Value)
		case known(f.Diameter):
			o.Length, o.Width, o.Round = float64(f.Diameter.Value), float64(f.Diameter.Value), true
		}
		o.Cuts = inspection.Is(f.Kind, "sump") && o.Length > 0 && o.Width > 0
		p.Openings = append(p.Openings, o)
	}
}

// Bounds of the opening in plan.
func (o Opening) Bounds() Bounds {
	return Bounds{
		Point{o.At.X - o.Length/2, o.At.Y - o.Width/2},
		Point{o.At.X + o.Length/2, o.At.Y + o.Width/2},
	}
}

// outline of the opening, a circle as chords.
func (o Opening) outline() convex {
	if o.Round {
		return disc{o.At, o.Length / 2}.polygon()
	}
	return o.Bounds().outline()
}

// depth of a place in the opening: its distance from the opening's edge, mm,
// negative outside.
func (o Opening) depth(at Point) float64 {
	dx, dy := math.Abs(at.X-o.At.X), math.Abs(at.Y-o.At.Y)
	if o.Round {
		return o.Length/2 - math.Hypot(dx, dy)
	}
	if dx > o.Length/2 || dy > o.Width/2 {
		return -math.Hypot(math.Max(0, dx-o.Length/2), math.Max(0, dy-o.Width/2))
	}
	return math.Min(o.Length/2-dx, o.Width/2-dy)
}

// openedBy are the sump openings that may reach into an extent.
func (p *Plan) openedBy(b Bounds) []Opening {
	var out []Opening
	for _, o := range p.Openings {
		if o.Cuts && o.Bounds().meets(b, 0) {
			out = append(out, o)
		}
	}
	return out
}

// less takes sump openings off a region, exactly; only a round one that meets
// another round one is taken as a polygon of equal area.
func (g region) less(opened []Opening) region {
	for i, o := range opened {
		switch {
		case !o.Round:
			g.parts = lessAll(g.parts, o.outline())
		case alone(opened, i):
			g.round = append(g.round, disc{o.At, o.Length / 2})
		default:
			g.parts = lessAll(g.parts, disc{o.At, o.Length / 2}.equalArea())
		}
	}
	return g
}

func alone(opened []Opening, i int) bool {
	for k, o := range opened {
		if k != i && o.Round && math.Hypot(o.At.X-opened[i].At.X, o.At.Y-opened[i].At.Y) < (o.Length+opened[i].Length)/2 {
			return false
		}
	}
	return true
}

// equalArea is a polygon of 360 sides with the area of the circle.
//
//	r' = r·√(2π/(n·sin(2π/n)))
func (o disc) equalArea() convex {
	const n = 360
	r := o.r * math.Sqrt(2*math.Pi/(n*math.Sin(2*math.Pi/n)))
	out := make(convex, n)
	for i := range out {
		sin, cos := turn(float64(i))
		out[i] = Point{o.at.X + r*cos, o.at.Y + r*sin}
	}
	return out
}
