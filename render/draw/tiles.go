package draw

import (
	"math"

	"platebook/rules"
)

// mostPlates is how many plates one A4 sheet can show with readable numbers,
// mostMarks how many indications; a larger sheet shows as many to its area.
const (
	mostPlates = 150
	mostMarks  = 600
	mostTiles  = 6 // to a side
)

// Sheets is a plan drawing, and for a floor too large for one sheet also its
// parts: overlapping sheets at a larger scale, each with a key plan. The first
// is always the whole floor. Each is drawn when it is called for, since all
// together are large: 70 MB of 50,000 indications.
func Sheets(a *rules.Assessment, s Sheet, plan func(*rules.Assessment, Sheet) *Scene) []func() *Scene {
	whole := plan(a, s)
	if whole == nil {
		return nil
	}
	tiles := s.tiles(a, whole)
	if len(tiles) == 0 {
		return []func() *Scene{func() *Scene { return whole }}
	}
	s.pages, s.parts = len(tiles)+1, tiles
	out := []func() *Scene{func() *Scene { return plan(a, s) }}
	for i := range tiles {
		part := s
		part.tile = &tiles[i]
		out = append(out, func() *Scene { return plan(a, part) })
	}
	return out
}

// tiles divides the floor, nil when one sheet does.
func (s Sheet) tiles(a *rules.Assessment, whole *Scene) []tile {
	if a.Plan == nil || s.Width <= 0 || s.Height <= 0 {
		return nil
	}
	plates, marks := 0, 0
	for i := range a.Plan.Plates {
		if p := &a.Plan.Plates[i]; p.Placed && len(p.Cut) > 0 {
			plates++
		}
	}
	for _, it := range whole.Items {
		if p, ok := it.(Path); ok && p.ID != "" && p.Class == "indication" {
			marks++
		}
	}
	a4 := A4.Landscape()
	room := s.Width * s.Height / (a4.Width * a4.Height)
	share := max(float64(plates)/(mostPlates*room), float64(marks)/(mostMarks*room))
	n := min(int(math.Ceil(math.Sqrt(share))), mostTiles)
	if n < 2 {
		return nil
	}
	var out []tile
	for row := range n {
		for col := range n {
			t := tile{col: col, row: row, n: n}
			if shows(a, s, &t) {
				out = append(out, t)
			}
		}
	}
	for i := range out {
		out[i].number = i + 2
	}
	return out
}

// shows says whether any plate reaches into the tile.
func shows(a *rules.Assessment, s Sheet, t *tile) bool {
	s.tile = t
	f := newFrame(a, s, "", "")
	for i := range a.Plan.Plates {
		for _, ring := range a.Plan.Plates[i].Cut {
			if bounds(f.view.ring(ring)).meets(*f.clip) {
				return true
			}
		}
	}
	return false
}

// keyPlan shows in a corner of the compass room which part of the floor the
// sheet shows.
func (f *frame) keyPlan() {
	if f.sheet.tile == nil {
		return
	}
	e := extentOf(f.a.Plan)
	size := f.compass.height() - 2
	if e.empty() || f.compass.width() < 58 {
		return
	}
	room := rect{f.compass.x2 - size - 1, f.compass.y1 + 1, f.compass.x2 - 1, f.compass.y2 - 1}
	sheet := f.view
	back := func(p point) (x, y float64) {
		return sheet.of.X + (p.x-sheet.at.x)/sheet.k, sheet.of.Y - (p.y-sheet.at.y)/sheet.k
	}
	x1, y1 := back(point{f.room.x1, f.room.y2})
	x2, y2 := back(point{f.room.x2, f.room.y1})
	v := thumbView(e, room)
	at := func(x, y float64) point {
		return point{v.at.x + (x-v.of.X)*v.k, v.at.y - (y-v.of.Y)*v.k}
	}
	a, b := at(x1, y2), at(x2, y1)
	part := rect{max(a.x, room.x1), max(a.y, room.y1), min(b.x, room.x2), min(b.y, room.y2)}
	c, r := at(0, 0), f.a.Plan.Radius*v.k
	f.box(Path{Fill: ramp[1], Stroke: ink, Width: fine, Class: "key"}, part)
	if r > 0 {
		f.circle(Path{Stroke: ink, Width: plain, Class: "key"}, c, r)
	} else {
		f.box(Path{Stroke: ink, Width: plain, Class: "key"}, rect{at(e.x1, e.y2).x, at(e.x1, e.y2).y, at(e.x2, e.y1).x, at(e.x2, e.y1).y})
	}
}
