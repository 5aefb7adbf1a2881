package floor

import (
	"math"

	"platebook/rules/unit"
)

// cut gives each placed plate its cut and net shapes and their areas, and
// collects the seams.
func (p *Plan) cut() {
	boxes := make([]convex, len(p.Plates))
	for i := range p.Plates {
		if pl := &p.Plates[i]; pl.Placed && !pl.Sector {
			boxes[i] = p.rectangle(pl)
		}
	}
	lost := p.laps(boxes)
	for i := range p.Plates {
		pl := &p.Plates[i]
		switch {
		case !pl.Placed:
		case pl.Sector:
			p.cutSector(pl)
		default:
			p.cutRectangle(pl, boxes[i], lost[i])
		}
	}
	p.ringSeams()
	p.meetNeighbours()
}

// rectangle is the plate's outline in plan before cutting.
func (p *Plan) rectangle(pl *Plate) convex {
	out := make(convex, 4)
	for i, c := range (Box{0, 0, pl.Length, pl.Width}).corners() {
		out[i] = p.toPlan(pl, c)
	}
	return out
}

func (p *Plan) cutRectangle(pl *Plate, box convex, lost []convex) {
	drawn := box
	if p.Rim > 0 {
		drawn = box.inRim(p.Rim)
	}
	uncut := region{parts: []convex{box}, outer: p.Rim}
	parts := []convex{drawn}
	if drawn == nil {
		uncut.parts, parts = nil, nil
	}
	exact := uncut
	opened := false
	if !pl.Sump && drawn != nil {
		over := p.openedBy(drawn.bounds())
		if opened = len(over) > 0; opened {
			exact = uncut.less(over)
			for _, o := range over {
				parts = lessAll(parts, o.outline())
			}
		}
	}
	// a plate wholly inside the rim, without openings, is drawn as it is
	same := !opened && len(drawn) > 0 && &drawn[0] == &box[0]
	pl.Cut = outlines(parts)
	pl.Label = labelPoint(parts)
	pl.Measured = p.RimKnown
	if pl.Measured {
		pl.CutArea = unit.Area(exact.area() / perSquareMetre)
	}
	for _, q := range lost {
		exact.parts = lessAll(exact.parts, q)
		if opened {
			uncut.parts = lessAll(uncut.parts, q)
		}
		if !same {
			parts = lessAll(parts, q)
		}
	}
	if same {
		parts = exact.parts
	}
	pl.Net = outlines(parts)
	pl.net = parts
	if p.Rim >= p.Radius {
		pl.net = exact.parts
	}
	if pl.Measured {
		pl.NetArea = unit.Area(exact.area() / perSquareMetre)
		if opened {
			p.OpeningArea += unit.Area(uncut.area()/perSquareMetre) - pl.NetArea
		}
	}
}

// cutSector measures an annular plate. Radial butts have no lap, so its net
// shape is its cut shape.
//
//	A = φ/2·(R² − (R − W)²)
//
// φ angle between the bearings, radians; R inside radius, W width, mm.
func (p *Plan) cutSector(pl *Plate) {
	inner := p.Radius - pl.Width
	full := radians(pl.End-pl.Start) / 2 * (p.Radius*p.Radius - inner*inner)
	drawn := p.sectorOutline(pl, Box{0, 0, pl.Length, pl.Width})
	opened := p.openedBy(boundsOf(drawn))
	pl.Measured = true
	pl.Label = p.toPlan(pl, Point{pl.Length / 2, pl.Width / 2})
	if len(opened) == 0 {
		pl.Cut, pl.Net, pl.net = Shape{drawn}, Shape{drawn}, p.sectorParts(pl)
		pl.CutArea = unit.Area(full / perSquareMetre)
		pl.NetArea = pl.CutArea
		return
	}
	exact := p.wedge(pl, Box{0, 0, pl.Length, pl.Width}).less(opened)
	pl.CutArea = unit.Area(exact.area() / perSquareMetre)
	pl.NetArea = pl.CutArea
	p.OpeningArea += unit.Area(full/perSquareMetre) - pl.NetArea
	parts := p.sectorParts(pl)
	for _, o := range opened {
		parts = lessAll(parts, o.outline())
	}
	pl.Cut = outlines(parts)
	pl.Net, pl.net = pl.Cut, parts
}

// wedge is a box on an annular plate as straight-edged parts between circles.
func (p *Plan) wedge(pl *Plate, b Box) region {
	g := region{inner: math.Max(0, p.Radius-b.V2), outer: p.Radius - b.V1}
	span := degrees(b.Length() / p.Radius)
	n := max(1, int(math.Ceil(span/60)))
	// a chord over 60° stays beyond the outer circle at 1.2 times its radius
	far := 1.2 * g.outer
	at := func(i int) Point {
		return p.polar(far, pl.Start+degrees(b.U1/p.Radius)+span*float64(i)/float64(n))
	}
	for i := range n {
		g.parts = append(g.parts, convex{Point{}, at(i + 1), at(i)})
	}
	return g
}

// sectorParts is an annular plate as convex quadrilaterals, for drawing.
func (p *Plan) sectorParts(pl *Plate) []convex {
	n := max(1, int(math.Ceil(pl.End-pl.Start)))
	at := func(i int, v float64) Point {
		return p.toPlan(pl, Point{pl.Length * float64(i) / float64(n), v})
	}
	parts := make([]convex, n)
	for i := range parts {
		parts[i] = convex{at(i, pl.Width), at(i+1, pl.Width), at(i+1, 0), at(i, 0)}
		if area(parts[i]) < 0 {
			c := parts[i]
			c[0], c[1], c[2], c[3] = c[3], c[2], c[1], c[0]
		}
	}
	return parts
}

// labelPoint is the centre of gravity of the largest part.
func labelPoint(parts []convex) Point {
	best, most := Point{}, 0.0
	for _, c := range parts {
		if a := area(c); a > most {
			best, most = centroid(c, a), a
		}
	}
	return best
}

func centroid(c convex, a float64) Point {
	var s Point
	for i := 1; i+1 < len(c); i++ {
		p, q := minus(c[i], c[0]), minus(c[i+1], c[0])
		w := cross(p, q)
		s.X += w * (p.X + q.X)
		s.Y += w * (p.Y + q.Y)
	}
	return Point{c[0].X + s.X/(6*a), c[0].Y + s.Y/(6*a)}
}
