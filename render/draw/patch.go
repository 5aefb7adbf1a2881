package draw

import (
	"math"

	"platebook/rules"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/repair"
)

// patchRing is a patch's outline on paper: a box with rounded corners, a
// circle, or a tombstone whose side at the shell is square.
func (f *frame) patchRing(plate int, b floor.Box, shape string) ([]point, bool) {
	ring, ok := patchOutline(f.a, f.a.Plan, plate, b, shape)
	return f.view.ring(ring), ok
}

// patchOutline is the same in plan; the plate may be a frame along the shell.
func patchOutline(a *rules.Assessment, plan *floor.Plan, plate int, b floor.Box, shape string) (floor.Ring, bool) {
	if plan == nil || plate < 0 || plate >= len(plan.Plates) || !plan.Plates[plate].Placed {
		return nil, false
	}
	if !(b.Length() > 0 && b.Width() > 0) {
		return nil, false
	}
	local := roundBox(a, plan, plate, b, shape)
	out := make(floor.Ring, 0, len(local))
	for _, q := range local {
		p, ok := plan.LocalToPlan(plate, q)
		if !ok {
			return nil, false
		}
		out = append(out, p)
	}
	return out, true
}

// RepairOutline is a repair in plan as it is cut; false without a place.
func RepairOutline(a *rules.Assessment, it *repair.Item) (floor.Ring, bool) {
	at, ok := a.Repairs.Footprint(it)
	if !ok {
		return nil, false
	}
	return patchOutline(a, at.Plan, at.Frame, at.Box, it.Shape)
}

// roundBox is the outline in the plate's frame.
func roundBox(a *rules.Assessment, plan *floor.Plan, plate int, b floor.Box, shape string) []floor.Point {
	w, h := b.Length(), b.Width()
	c := floor.Point{X: (b.U1 + b.U2) / 2, Y: (b.V1 + b.V2) / 2}
	if shape == "circle" {
		out := make([]floor.Point, 36)
		for i := range out {
			s, t := math.Sincos(float64(i) * math.Pi / 18)
			out[i] = floor.Point{X: c.X + w/2*t, Y: c.Y + h/2*s}
		}
		return out
	}
	r := cornerRadius(a, w, h)
	corners := [4]floor.Point{{X: b.U1, Y: b.V1}, {X: b.U2, Y: b.V1}, {X: b.U2, Y: b.V2}, {X: b.U1, Y: b.V2}}
	round := [4]bool{true, true, true, true}
	if shape == "tombstone" {
		far, near := shellSide(plan, corners, plate)
		round[far], round[near] = false, false
	}
	// A box is followed as long as it is along the shell, so that it bends.
	along := 1
	if plan.Plates[plate].Sector && plan.Radius > 0 {
		along = min(max(1, int(w/plan.Radius*60)), 180)
	}
	var out []floor.Point
	for i, q := range corners {
		in := floor.Point{X: r, Y: r}
		if q.X > c.X {
			in.X = -r
		}
		if q.Y > c.Y {
			in.Y = -r
		}
		if !round[i] || r == 0 {
			out = append(out, q)
		} else {
			m := floor.Point{X: q.X + in.X, Y: q.Y + in.Y}
			from := math.Pi + float64(i)*math.Pi/2
			for s := range 7 {
				sin, cos := math.Sincos(from + float64(s)*math.Pi/12)
				out = append(out, floor.Point{X: m.X + r*cos, Y: m.Y + r*sin})
			}
		}
		next := corners[(i+1)%4]
		for s := 1; s < along && i%2 == 0; s++ {
			t := float64(s) / float64(along)
			if x := q.X + t*(next.X-q.X); x > b.U1+r && x < b.U2-r {
				out = append(out, floor.Point{X: x, Y: q.Y})
			}
		}
	}
	return out
}

// cornerRadius is the radius that a patch's corners are rounded to, mm.
func cornerRadius(a *rules.Assessment, length, width float64) float64 {
	r := 50.0
	if in := a.Inspection; in != nil && in.Criteria != nil {
		r = in.Criteria.Number(criteria.PatchCornerRadius)
	}
	return max(0, min(r, length/2, width/2))
}

// shellSide is the two neighbouring corners that lie farthest out.
func shellSide(plan *floor.Plan, corners [4]floor.Point, plate int) (a, b int) {
	best := math.Inf(-1)
	for i := range corners {
		j := (i + 1) % 4
		m := floor.Point{X: (corners[i].X + corners[j].X) / 2, Y: (corners[i].Y + corners[j].Y) / 2}
		if p, ok := plan.LocalToPlan(plate, m); ok {
			if d := math.Hypot(p.X, p.Y); d > best {
				a, b, best = i, j, d
			}
		}
	}
	return a, b
}

// patchPath is the look of a patch found on the floor.
var patchPath = Path{Stroke: steel, Width: plain, Dash: []float64{1.6, 0.5, 0.3, 0.5}, Class: "patch"}

// drawPatches draws the patches found on the floor.
func (f *frame) drawPatches() {
	if f.a.Inspection == nil || f.a.Plan == nil {
		return
	}
	for i := range f.a.Inspection.Patches {
		p := &f.a.Inspection.Patches[i]
		if p.Out {
			continue
		}
		at, ok := f.a.Plan.PatchAt(f.plateIndex(p.Plate.Value), p, f.a.Inspection.Criteria)
		if !ok {
			continue
		}
		if ring, ok := patchOutline(f.a, at.Plan, at.Frame, at.Box, p.Shape.Value); ok {
			style := patchPath
			style.ID = rowKey(p.Row)
			drawn := f.view.ring(ring)
			f.shape(style, drawn)
			f.keepOffRing(drawn)
			f.shownPatches++
		}
	}
}

func (f *frame) patchEntry() {
	if f.shownPatches == 0 {
		return
	}
	f.legend.entry("Patch found on the floor: "+count(f.shownPatches), func(b *board, c point) {
		b.box(patchPath, rect{c.x - 3, c.y - 1.3, c.x + 3, c.y + 1.3})
	})
}
