package compare

import (
	"fmt"
	"math"

	"platebook/rules/floor"
)

// Position is how the old points fit the new ones best.
type Position struct {
	Turn     int  // degrees anticlockwise, after mirroring
	Mirrored bool // left to right
	Within   bool // each plate by itself, as with another datum corner, not the plan as a whole
	Pairs    int
	Identity int // pairs as drawn
}

const (
	fewestPairs = 5   // below that a better fit is chance
	clearlyMore = 1.5 // times the pairs as drawn
)

// Better says whether another position fits clearly better than as drawn: 5
// pairs or more, and 1.5 times those as drawn.
//
// Source: method section 13, derived.
func (p *Position) Better() bool {
	return (p.Turn != 0 || p.Mirrored) && p.Pairs >= fewestPairs && float64(p.Pairs) >= clearlyMore*float64(p.Identity) && p.Pairs > p.Identity
}

// Words is the position as a sentence needs it.
func (p *Position) Words() string {
	how := "as drawn"
	switch {
	case p.Mirrored && p.Turn != 0:
		how = fmt.Sprintf("mirrored and turned %d°", p.Turn)
	case p.Mirrored:
		how = "mirrored"
	case p.Turn != 0:
		how = fmt.Sprintf("turned %d°", p.Turn)
	}
	if p.Within {
		how += " within each plate"
	}
	return how
}

// positions tries the old points in the eight positions of a plan, four turns
// with and without mirroring, and in the three other positions within their
// plates, which another datum corner would give. Nothing is turned.
func (w *work) positions() {
	gate := float64(w.res.Gate)
	whole := w.fit(gate)
	inside := w.fitWithin(gate)
	w.res.Position = whole
	if inside.Better() && (!whole.Better() || inside.Pairs > whole.Pairs) {
		w.res.Position = inside
	}
	if !w.res.Position.Better() {
		w.res.Position = Position{Pairs: whole.Identity, Identity: whole.Identity}
	}
}

// fit tries the plan as a whole, plates apart.
func (w *work) fit(gate float64) Position {
	north := w.old.Plan.NorthKnown && w.now.Plan.NorthKnown && w.old.Plan.UpBearing != w.now.Plan.UpBearing
	read := func(s Survey, list []spotAt) []spot {
		var out []spot
		for i := range list {
			l := &s.Found.Locations[list[i].location]
			x, y := rowOf(s.In, l)
			if !x.OK() || !y.OK() {
				continue
			}
			at, ok := s.Plan.ToPlan(l.Plate, float64(x.Value), float64(y.Value))
			if !ok {
				continue
			}
			if north { // drawings with different directions up are compared by the compass
				sin, cos := math.Sincos(s.Plan.UpBearing * math.Pi / 180)
				at = floor.Point{X: at.X*cos + at.Y*sin, Y: at.Y*cos - at.X*sin}
			}
			out = append(out, spot{at: at, side: l.Side})
		}
		return out
	}
	old, now := read(w.old, w.olds), read(w.now, w.news)
	best := Position{}
	here := squaresOf(now, gate)
	tried := make([]spot, len(old))
	for _, mirrored := range []bool{false, true} {
		for turn := 0; turn < 360; turn += 90 {
			for i, s := range old {
				if mirrored {
					s.at.X = -s.at.X
				}
				s.at = quarter(s.at, turn/90)
				tried[i] = s
			}
			n := most(here.edgesFrom(tried, true), len(now))
			if turn == 0 && !mirrored {
				best = Position{Pairs: n, Identity: n}
			} else if n > best.Pairs {
				best.Turn, best.Mirrored, best.Pairs = turn, mirrored, n
			}
		}
	}
	return best
}

// fitWithin tries each plate by itself.
func (w *work) fitWithin(gate float64) Position {
	type sized struct {
		spot
		length, width float64
	}
	var old []sized
	for i := range w.olds {
		o := &w.olds[i]
		if !o.placed || w.res.Plates[o.pair].New < 0 {
			continue
		}
		n := w.res.Plates[o.pair].New
		if n >= len(w.now.Plan.Plates) || !w.now.Plan.Plates[n].Sized || w.now.Plan.Plates[n].Sector {
			continue
		}
		pl := &w.now.Plan.Plates[n]
		old = append(old, sized{spot{o.at, o.pair, w.old.Found.Locations[o.location].Side}, pl.Length, pl.Width})
	}
	now := w.spotsNow(func(int) bool { return true })
	best := Position{Within: true}
	here := squaresOf(now, gate)
	tried := make([]spot, len(old))
	for k, p := range []Position{{}, {Mirrored: true}, {Turn: 180}, {Turn: 180, Mirrored: true}} {
		for i, s := range old {
			if p.Mirrored != (p.Turn == 180) {
				s.at.X = s.length - s.at.X
			}
			if p.Turn == 180 {
				s.at.Y = s.width - s.at.Y
			}
			tried[i] = s.spot
		}
		n := most(here.edgesFrom(tried, true), len(now))
		if k == 0 {
			best.Pairs, best.Identity = n, n
		} else if n > best.Pairs {
			best.Turn, best.Mirrored, best.Pairs = p.Turn, p.Mirrored, n
		}
	}
	return best
}

func (w *work) spotsNow(keep func(i int) bool) []spot {
	out := make([]spot, 0, len(w.news))
	for i := range w.news {
		if n := &w.news[i]; n.placed && keep(i) {
			out = append(out, spot{n.at, n.pair, w.now.Found.Locations[n.location].Side})
		}
	}
	return out
}
