package floor

import (
	"math"

	"platebook/rules/inspection"
)

// Place lays out the floor: every plate with a known size and place, cut at
// the rim, with its areas; the sump openings; the seams. A plate whose fields
// are missing or unusable gets no place, or no area, and says why.
func Place(in *inspection.Inspection) *Plan {
	p := &Plan{Plates: make([]Plate, len(in.Plates)), NorthKnown: true}
	p.circles(in)
	for i := range in.Plates {
		p.size(&p.Plates[i], &in.Plates[i])
	}
	p.stack(in)
	for i := range in.Plates {
		p.seat(i, &in.Plates[i])
	}
	p.open(in.Fixtures)
	p.cut()
	p.balance()
	p.cover(in.Plates)
	p.shell = p.AlongShell()
	return p
}

// circles takes the shell, the rim and north from the Tank sheet. With a ring
// of unknown width the rim is drawn at the shell and no area is known.
func (p *Plan) circles(in *inspection.Inspection) {
	t := &in.Tank
	if known(t.Diameter) && t.Diameter.Value > 0 {
		p.Radius = float64(t.Diameter.Value) / 2
	}
	switch up := t.PlanUpBearing; {
	case knownAngle(up):
		p.UpBearing = float64(up.Value)
	case up.OK(), up.State == inspection.Wrong:
		p.UpBearing, p.NorthKnown = math.NaN(), false
	}
	if known(t.Lap) {
		p.Lap = math.Max(0, float64(t.Lap.Value))
	}
	p.Rim, p.RimKnown = p.Radius, p.Radius > 0
	ring := inspection.Yes(t.AnnularRing)
	unsure := t.AnnularRing.State == inspection.Wrong
	for i := range in.Plates {
		ring = ring || inspection.Is(in.Plates[i].Type, "annular")
	}
	if !ring && !unsure {
		return
	}
	width := float64(t.AnnularWidth.Value)
	if known(t.AnnularWidth) && ring && width > 0 && width < p.Radius {
		p.Rim -= width
		return
	}
	p.RimKnown = false
}

// farthest is a length, mm, beyond which a number describes no tank: it is an
// error of its own, and the geometry takes it as unknown.
const farthest = 1e6

func known(l inspection.Length) bool { return l.OK() && math.Abs(float64(l.Value)) < farthest }

// knownAngle is the same of an angle, which may go round a few times.
func knownAngle(a inspection.Angle) bool { return a.OK() && math.Abs(float64(a.Value)) < farthest }

// size takes what a plate is, before it has a place.
func (p *Plan) size(pl *Plate, w *inspection.Plate) {
	pl.Sector = inspection.Is(w.Type, "annular")
	pl.Sump = inspection.Is(w.Type, "sump")
	switch w.DatumCorner.State {
	case inspection.Given:
		pl.Corner = w.DatumCorner.Value
	case inspection.Wrong:
		pl.Corner = UnknownCorner
	default:
		pl.Corner = BottomLeft
	}
	if known(w.Length) {
		pl.Length = float64(w.Length.Value)
	}
	if known(w.Width) {
		pl.Width = float64(w.Width.Value)
	}
	if pl.Sector {
		p.sizeSector(pl, w)
	}
	pl.Sized = pl.Length > 0 && pl.Width > 0
}

// sizeSector takes the bearings of an annular plate. Its length is the arc at
// the shell between them; the Length typed is only checked against it.
func (p *Plan) sizeSector(pl *Plate, w *inspection.Plate) {
	if !knownAngle(w.StartBearing) || !knownAngle(w.EndBearing) {
		return
	}
	start, end := float64(w.StartBearing.Value), float64(w.EndBearing.Value)
	span := whole(end - start)
	if span == 0 && start != end {
		span = 360 // 0° to 360° is the whole ring; 40° to 40° is nothing
	}
	pl.Start = whole(start)
	pl.End = pl.Start + span
	if p.Radius > 0 {
		pl.Length = radians(span) * p.Radius
	}
}

// seat gives a plate its place: an annular plate from its bearings, another
// from the row layout, of which a given Left or Bottom replaces its own
// coordinate.
func (p *Plan) seat(i int, w *inspection.Plate) {
	pl := &p.Plates[i]
	if pl.Sector {
		p.seatSector(pl, w)
		return
	}
	auto := pl.Origin // lower left corner of the box, NaN where unknown
	why := pl.Why
	pl.Origin, pl.Why = Point{}, ""
	switch {
	case !pl.Sized && pl.Length > 0:
		pl.Why = "its Width is not known"
	case !pl.Sized:
		pl.Why = "its Length is not known"
	case w.Turned.State == inspection.Wrong || w.Turned.OK() && !knownAngle(w.Turned):
		pl.Why = "how far it is turned is not known"
	case w.Left.State == inspection.Wrong || w.Left.OK() && !known(w.Left):
		pl.Why = "its Left is not known"
	case w.Bottom.State == inspection.Wrong || w.Bottom.OK() && !known(w.Bottom):
		pl.Why = "its Bottom is not known"
	}
	if pl.Why != "" {
		return
	}
	pl.Turned = whole(float64(w.Turned.Or(0)))
	if pl.Turned == 180 {
		auto.X, auto.Y = auto.X+pl.Length, auto.Y+pl.Width
	}
	both := w.Left.OK() && w.Bottom.OK()
	at := auto
	if w.Left.OK() {
		at.X = float64(w.Left.Value)
	}
	if w.Bottom.OK() {
		at.Y = float64(w.Bottom.Value)
	}
	switch {
	case !both && pl.Turned != 0 && pl.Turned != 180:
		pl.Why = "a turned plate needs Left and Bottom"
	case math.IsNaN(at.X) || math.IsNaN(at.Y):
		if pl.Why = why; why == "" {
			pl.Why = "it has neither Row and Position nor Left and Bottom"
		}
	default:
		pl.Origin, pl.Placed, pl.Automatic = at, true, !both
	}
}

func (p *Plan) seatSector(pl *Plate, w *inspection.Plate) {
	switch {
	case !knownAngle(w.StartBearing) || !knownAngle(w.EndBearing):
		pl.Why = "its bearings are not known"
	case pl.Start == pl.End:
		pl.Why = "its bearings are equal"
	case p.Radius <= 0:
		pl.Why = "the Diameter is not known"
	case !(pl.Width > 0):
		pl.Why = "its Width is not known"
	case pl.Width >= p.Radius:
		pl.Why = "its Width is more than the tank's radius"
	case !p.NorthKnown:
		pl.Why = "the Plan up bearing is not known"
	default:
		pl.Origin, pl.Placed = p.polar(p.Radius, pl.Start), true
	}
}
