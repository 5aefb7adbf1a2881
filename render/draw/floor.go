package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/floor"
)

// Floor is what the plans show, in plan millimetres with y down: for a drawing
// that is zoomed, so nothing is clipped, split, enlarged or labelled.
type Floor struct {
	X1, Y1, X2, Y2 float64 // extent; all 0 when nothing has a place
	Plates         []Path  // one for each of Inspection.Plates, without segments where it has no place
	Patches        []Path  // found on the floor; ID is the row key
	Works          []Path  // repairs with an outline, in the order of the works given; Class as on the repair plan
	Spots          []Spot
	Notes          []Note
	Tracks         []Strip // scan strips with a place and a loss, in sheet order
	Loss           []Band  // mildest first
	Margin         []Band  // least margin first
	Examined       []Band  // least share first
}

// Spot is an indication, or a prove-up tied to none, on the floor.
type Spot struct {
	Location int // index in Result.Locations
	Side     assess.Side
	Loss     float64
	Known    bool // the loss
	Band     int  // -1 when it is unknown
	Proved   bool
	Faint    bool // counts for nothing: not relevant, excluded
	Placed   bool // what follows is known
	X, Y     float64
	A, B     float64 // half extents along the plate's axes
	Turned   float64 // degrees anticlockwise
	Long     Path    // outline where the axes bend along the shell, else without segments
}

// Note is a visual observation or a weld examination on the floor.
type Note struct {
	Weld   bool
	Row    int    // index in Inspection.Visual or Inspection.Welds
	Kind   string // weight of an observation, or result of an examination
	Placed bool
	X, Y   float64
}

// Strip is a scan strip on the floor, cut to its plate.
type Strip struct {
	Row   int // index in Inspection.Tracks
	Plate int
	Loss  float64
	Band  int
	Path  Path
}

// Band is one band of a quantity.
type Band struct {
	From, To float64 // From belongs to the band; infinite where open
	Name     string
	Letter   string // A the mildest
	Fill     Paint
	Over     Paint // letters on it
}

func (s scale) bands() []Band {
	out := make([]Band, len(s.names))
	for i := range out {
		out[i] = Band{From: math.Inf(-1), To: math.Inf(1), Name: s.names[i], Letter: s.letter(i), Fill: s.paint(i), Over: over(s.paint(i))}
		if i > 0 {
			out[i].From = s.edges[i-1]
		}
		if i < len(s.edges) {
			out[i].To = s.edges[i]
		}
	}
	return out
}

// wholeSize is far beyond any tank, so that nothing on it is clipped.
const wholeSize = 1e7

// FloorOf lays out the floor with the given repairs.
func FloorOf(a *rules.Assessment, works []Work) *Floor {
	room := rect{-wholeSize, -wholeSize, wholeSize, wholeSize}
	f := &frame{a: a, view: view{k: 1}, sys: a.Inspection.Units}
	f.clip = &room
	loss := lossScale(a)
	out := &Floor{
		Plates: make([]Path, len(a.Plan.Plates)), Works: make([]Path, len(works)),
		Loss: loss.bands(), Margin: marginScale(f.sys).bands(), Examined: examinedScale.bands(),
	}
	e := extentOf(a.Plan)
	if f.known = !e.empty(); f.known {
		out.X1, out.Y1, out.X2, out.Y2 = e.x1, -e.y2, e.x2, -e.y1
	}
	for i := range a.Plan.Plates {
		if p := &a.Plan.Plates[i]; p.Placed && len(p.Cut) > 0 {
			out.Plates[i] = f.whole(Path{Class: "plate", ID: f.plateName(i), EvenOdd: true}, f.view.shape(visible(p))...)
		}
	}
	for i := range works {
		if ring, ok := f.workRing(&works[i]); ok {
			p := workPath(works[i])
			p.ID = works[i].Label
			out.Works[i] = f.whole(p, ring)
		}
	}
	f.scene = &Scene{}
	f.drawPatches()
	f.scene.Paint(pathsOf{&out.Patches})
	if a.Result != nil {
		for i := range a.Result.Locations {
			if l := &a.Result.Locations[i]; l.Kind == assess.IndicationAt || l.Kind == assess.ProveUpAt {
				out.Spots = append(out.Spots, f.spotAt(i, loss))
			}
		}
	}
	out.Notes = f.placedNotes()
	if f.known {
		out.Tracks = f.strips(loss)
	}
	return out
}

func (f *frame) strips(bands scale) []Strip {
	var out []Strip
	for i := range f.a.Inspection.Tracks {
		t := &f.a.Inspection.Tracks[i]
		plate, rings := f.strip(t)
		if plate < 0 || len(rings) == 0 {
			continue
		}
		loss := float64(t.LargestLoss.Value)
		out = append(out, Strip{Row: i, Plate: plate, Loss: loss, Band: bands.band(loss), Path: f.whole(Path{Class: "track", ID: rowKey(t.Row)}, rings...)})
	}
	return out
}

// pathsOf keeps the paths of a scene.
type pathsOf struct{ list *[]Path }

func (c pathsOf) Path(p Path) { *c.list = append(*c.list, p) }
func (c pathsOf) Label(Label) {}

func (f *frame) whole(p Path, rings ...[]point) Path {
	b := board{scene: &Scene{}}
	b.shape(p, rings...)
	if len(b.scene.Items) == 0 {
		return p
	}
	return b.scene.Items[0].(Path)
}

// spotAt is a location as every plan draws it.
func (f *frame) spotAt(i int, bands scale) Spot {
	l := &f.a.Result.Locations[i]
	s := Spot{
		Location: i, Side: l.Side, Band: -1,
		Proved: l.ProveUp >= 0 || len(l.Tied) > 0,
		Faint:  l.Verdict == assess.NotRelevant || l.Verdict == assess.Excluded,
	}
	if s.Side == assess.Both {
		s.Side = assess.Unknown
	}
	if s.Loss, s.Known = LossOf(l); s.Known {
		s.Band = bands.band(s.Loss)
	}
	if !l.Placed || l.Plate < 0 || l.Plate >= len(f.a.Plan.Plates) || !f.known {
		return s
	}
	m := spot{at: f.view.pt(l.At)}
	f.size(&m, f.a.Plan, l)
	s.Placed, s.X, s.Y, s.A, s.B, s.Turned = true, m.at.x, m.at.y, m.a, m.b, m.turned
	if m.long != nil {
		s.Long = f.whole(Path{Class: "indication"}, m.long)
	}
	return s
}

// placedNotes is the observations and examinations of rows that are not left
// out.
func (f *frame) placedNotes() []Note {
	in := f.a.Inspection
	var out []Note
	put := func(n Note, at floor.Point, ok bool) {
		if n.Placed = ok && f.known && !math.IsNaN(at.X); n.Placed {
			p := f.view.pt(at)
			n.X, n.Y = p.x, p.y
		}
		out = append(out, n)
	}
	for i := range in.Visual {
		v := &in.Visual[i]
		if v.Out {
			continue
		}
		at, ok := f.a.Plan.ToPlan(f.plateIndex(v.Plate.Value), float64(v.X.Value), float64(v.Y.Value))
		put(Note{Row: i, Kind: v.Weight.Or("note")}, at, ok && v.X.OK() && v.Y.OK())
	}
	for i := range in.Welds {
		w := &in.Welds[i]
		if w.Out {
			continue
		}
		at, ok := f.weldPlace(w)
		put(Note{Weld: true, Row: i, Kind: w.Result.Or("no result")}, at, ok)
	}
	return out
}

// Data is the path's segments as the d attribute of an SVG path, with at most
// the given decimals.
func (p Path) Data(decimals int) string {
	var b []byte
	to := func(op byte, x, y float64) {
		b = append(b, op)
		b = appendFixed(b, x, decimals)
		b = append(b, ' ')
		b = appendFixed(b, y, decimals)
	}
	for _, s := range p.Segments {
		switch s.Op {
		case Move:
			to('M', s.X, s.Y)
		case Line:
			to('L', s.X, s.Y)
		case Curve:
			to('C', s.X1, s.Y1)
			to(' ', s.X2, s.Y2)
			to(' ', s.X, s.Y)
		case Close:
			b = append(b, 'Z')
		}
	}
	return string(b)
}
