package draw

import (
	"math"
	"sort"

	"platebook/rules/floor"
)

// datumMarks draws a small corner at the place X and Y are measured from, on
// every plate whose datum corner lies on the floor.
func (f *frame) datumMarks() {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || p.Sector || len(p.Cut) == 0 || p.Length <= 0 || p.Width <= 0 {
			continue
		}
		inset := max(plan.Lap/2, 0.25/f.view.k)
		size := min(1.3/f.view.k, p.Length/6, p.Width/6)
		c, ok := plan.ToPlan(i, inset, inset)
		if !ok || plan.Rim > 0 && math.Hypot(c.X, c.Y)+size > plan.Rim {
			continue
		}
		x, _ := plan.ToPlan(i, inset+size, inset)
		y, _ := plan.ToPlan(i, inset, inset+size)
		corner := []point{f.view.pt(c), f.view.pt(x), f.view.pt(y)}
		f.shape(Path{Fill: steel, Class: "datum", ID: f.plateName(i)}, corner)
		if f.taken != nil {
			f.taken.add(bounds(corner))
		}
	}
}

// datumNotes says where positions are measured from.
func (f *frame) datumNotes() {
	plan := f.a.Plan
	if plan == nil || f.a.Inspection == nil {
		return
	}
	by := map[string][]string{}
	ring := false
	var unknown []string
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if p.Sector {
			ring = true
			continue
		}
		c := p.Corner
		switch c {
		case "":
			c = floor.BottomLeft
		case floor.UnknownCorner:
			unknown = append(unknown, f.plateName(i))
			continue
		}
		by[c] = append(by[c], f.plateName(i))
	}
	kinds := make([]string, 0, len(by))
	for c := range by {
		kinds = append(kinds, c)
	}
	sort.Slice(kinds, func(i, j int) bool {
		if len(by[kinds[i]]) != len(by[kinds[j]]) {
			return len(by[kinds[i]]) > len(by[kinds[j]])
		}
		return kinds[i] < kinds[j]
	})
	if len(kinds) > 0 {
		f.legend.entry("X, Y are measured from the plate's "+kinds[0]+" corner before cutting, along its length and width", func(b *board, c point) {
			b.line(Path{Stroke: mist, Width: plain}, point{c.x - 1.4, c.y - 1.2}, point{c.x - 1.4, c.y + 1.2}, point{c.x + 2.4, c.y + 1.2})
			b.shape(Path{Fill: steel, Class: "datum"}, []point{{c.x - 1.2, c.y + 1}, {c.x + 0.2, c.y + 1}, {c.x - 1.2, c.y - 0.4}})
		})
		for _, c := range kinds[1:] {
			f.legend.names("From the "+c+" corner on", by[c])
		}
	}
	f.legend.names("Datum corner unusable on", unknown)
	if ring {
		f.legend.text("Annular plates: X clockwise along the shell from the first radial seam, Y inward from the shell")
	}
	if t := words(f.a.Inspection.Tank.Datum); t != "" {
		f.legend.text("Datum: " + Fit(t, wordSize, false, 4*f.legend.width()))
	}
}
