package floor

import "math"

// The datum corners, as the drop-down list spells them. A plate whose corner
// is typed but unusable has Corner UnknownCorner and no place for positions.
const (
	BottomLeft    = "bottom left"
	BottomRight   = "bottom right"
	TopLeft       = "top left"
	TopRight      = "top right"
	UnknownCorner = "unknown"
)

// local turns a position measured from the datum corner into the plate's
// frame: u along the length, v across it, from the lower left corner before
// turning. An annular plate's u is the arc at the shell, clockwise from the
// first radial seam, and v goes inward; it has no other datum.
func (pl *Plate) local(x, y float64) (Point, bool) {
	if pl.Sector {
		return Point{x, y}, true
	}
	switch pl.Corner {
	case "", BottomLeft:
		return Point{x, y}, true
	case BottomRight:
		return Point{pl.Length - x, y}, pl.Sized
	case TopLeft:
		return Point{x, pl.Width - y}, pl.Sized
	case TopRight:
		return Point{pl.Length - x, pl.Width - y}, pl.Sized
	}
	return Point{}, false
}

// ToLocal is the place in the plate's frame of a position measured from its
// datum corner. Without a size only a bottom left datum can be converted.
func (p *Plan) ToLocal(plate int, x, y float64) (Point, bool) {
	if !p.has(plate) {
		return Point{}, false
	}
	return p.Plates[plate].local(x, y)
}

// FromLocal is the position from the datum corner of a place in the plate's
// frame. A datum corner is its own inverse.
func (p *Plan) FromLocal(plate int, at Point) (x, y float64, ok bool) {
	q, ok := p.ToLocal(plate, at.X, at.Y)
	return q.X, q.Y, ok
}

// LocalToPlan is the place in plan of a place in the plate's frame.
//
//	x = Left + u·cosθ − v·sinθ,  y = Bottom + u·sinθ + v·cosθ
//	annular: ρ = R − v,  β = start + (180/π)·u/R
//
// u, v in the plate's frame, mm; θ Turned; ρ distance from the centre, mm; β
// bearing, degrees; R inside radius, mm. False for a plate without a place.
//
// Source: derived, method section 2.
// Check: R 15 000, start 40°, X 2500, Y 60 → β 49.5493°, x 11 368.81, y 9692.98.
func (p *Plan) LocalToPlan(plate int, at Point) (Point, bool) {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return Point{}, false
	}
	return p.toPlan(&p.Plates[plate], at), true
}

func (p *Plan) toPlan(pl *Plate, at Point) Point {
	if pl.Sector {
		return p.polar(p.Radius-at.Y, pl.Start+degrees(at.X/p.Radius))
	}
	sin, cos := turn(pl.Turned)
	return Point{pl.Origin.X + at.X*cos - at.Y*sin, pl.Origin.Y + at.X*sin + at.Y*cos}
}

// PlanToLocal is the inverse of LocalToPlan. A place on the far side of the
// tank from an annular plate's middle may lie up to half a turn either way.
func (p *Plan) PlanToLocal(plate int, at Point) (Point, bool) {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return Point{}, false
	}
	return p.toLocal(&p.Plates[plate], at), true
}

func (p *Plan) toLocal(pl *Plate, at Point) Point {
	if pl.Sector {
		half := (pl.End - pl.Start) / 2
		away := math.Remainder(p.Bearing(at)-pl.Start-half, 360) + half
		return Point{radians(away) * p.Radius, p.Radius - math.Hypot(at.X, at.Y)}
	}
	sin, cos := turn(pl.Turned)
	dx, dy := at.X-pl.Origin.X, at.Y-pl.Origin.Y
	return Point{dx*cos + dy*sin, dy*cos - dx*sin}
}

// ToPlan is the place in plan of a position measured from the plate's datum
// corner, false when the plate has no place.
//
// Source: derived, method section 2.
// Check: plate 2-2 of the 6 m tank, top right, X 400, Y 300 → x 2625, y −275.
func (p *Plan) ToPlan(plate int, x, y float64) (Point, bool) {
	at, ok := p.ToLocal(plate, x, y)
	if !ok {
		return Point{}, false
	}
	return p.LocalToPlan(plate, at)
}

// FromPlan is the position from the plate's datum corner of a place in plan.
func (p *Plan) FromPlan(plate int, at Point) (x, y float64, ok bool) {
	q, ok := p.PlanToLocal(plate, at)
	if !ok {
		return 0, 0, false
	}
	return p.FromLocal(plate, q)
}

// Bearing of a place in plan, degrees clockwise from north, from 0 to below
// 360; NaN when Plan up bearing is unusable.
//
//	β = (B0 + atan2(x, y)) mod 360
//
// x, y in plan, mm; B0 bearing of the plan's upward direction, degrees. At the
// centre it is B0.
//
// Source: derived, method section 2.
// Check: x 2625, y −275, B0 30 → 125.981°.
func (p *Plan) Bearing(at Point) float64 {
	return whole(p.UpBearing + degrees(math.Atan2(at.X, at.Y)))
}

// FromCentre is the distance of a place from the tank centre, mm.
func (p *Plan) FromCentre(at Point) float64 { return math.Hypot(at.X, at.Y) }

// AtBearing is the place in plan at a distance from the centre, mm, in the
// direction of a bearing; false when Plan up bearing is unusable.
//
//	x = ρ·sin(β − B0),  y = ρ·cos(β − B0)
//
// ρ distance, mm; β bearing and B0 bearing of the plan's upward direction,
// degrees.
//
// Source: derived, method section 2.
// Check: inverse of Bearing, TestPositionsComeBack.
func (p *Plan) AtBearing(radius, bearing float64) (Point, bool) {
	at := p.polar(radius, bearing)
	return at, !math.IsNaN(at.X)
}

func (p *Plan) polar(radius, bearing float64) Point {
	sin, cos := turn(bearing - p.UpBearing)
	return Point{radius * sin, radius * cos}
}

func (p *Plan) has(plate int) bool { return plate >= 0 && plate < len(p.Plates) }

// turn is the sine and cosine of an angle in degrees, exact at quarter turns
// so that a turned plate's edges stay on whole millimetres.
func turn(deg float64) (sin, cos float64) {
	switch deg = whole(deg); deg {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(radians(deg))
}

// whole brings an angle into 0 to below 360 degrees.
func whole(deg float64) float64 {
	if deg >= 0 && deg < 360 {
		return deg
	}
	if deg = math.Mod(deg, 360); deg < 0 {
		deg += 360
	}
	if deg >= 360 { // a tiny negative angle rounds up to a full turn
		deg = 0
	}
	return deg
}

func degrees(rad float64) float64 { return rad * (180 / math.Pi) }
func radians(deg float64) float64 { return deg * (math.Pi / 180) }
