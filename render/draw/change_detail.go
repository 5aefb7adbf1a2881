package draw

import (
	"math"

	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/unit"
)

// earlier is what the inspection before this one found on a plate.
type earlier struct {
	places []compare.Former
	pairOf map[*assess.Location]*compare.Pair // of the places now

	extents []rect // drawn
}

var thenPath = Path{Stroke: ink, Width: fine, Dash: []float64{0.5, 0.5}, Class: "then"}

// before draws the extents of last time as dashed outlines, each with a stroke
// to its partner now, beneath the marks of this inspection.
func (d *detail) before() *earlier {
	c := d.a.Comparison
	if c == nil || len(c.Refused) > 0 || d.a.Result == nil {
		return nil
	}
	b := &earlier{pairOf: map[*assess.Location]*compare.Pair{}}
	for i := range c.Pairs {
		if p := &c.Pairs[i]; p.New >= 0 && p.Plate == d.plate {
			b.pairOf[&d.a.Result.Locations[p.New]] = p
		}
	}
	b.places = c.FormerOn(d.a.Plan, d.plate)
	for i := range b.places {
		f := &b.places[i]
		if f.Box.Length() <= 0 || f.Box.Width() <= 0 {
			continue
		}
		at := d.point(f.Box.Centre())
		half := point{math.Max(f.Box.Length()*d.view.k, leastMark) / 2, math.Max(f.Box.Width()*d.view.k, leastMark) / 2}
		// Outside the mark now, so that both are seen where they are equal.
		half = point{half.x + 0.45, half.y + 0.45}
		p := thenPath
		p.ID = f.ID
		r := rect{at.x - half.x, at.y - half.y, at.x + half.x, at.y + half.y}
		d.box(p, r)
		b.extents = append(b.extents, r)
		if pair := &c.Pairs[f.Pair]; pair.New >= 0 {
			d.line(Path{Stroke: ink, Width: hair, Class: "moved"}, at, d.point(d.a.Result.Locations[pair.New].Box.Centre()))
		}
	}
	return b
}

// surround takes the extents of last time into the marks they lie round, so that
// words stand beside both.
func (b *earlier) surround(d *detail, spots []spot) {
	if b == nil {
		return
	}
	for _, r := range b.extents {
		d.marks.add(r)
		for i := range spots {
			if m := &spots[i]; m.box.within(r) {
				m.box = r
			}
		}
	}
}

// explain is the entry for last time's extents in the key.
func (b *earlier) explain(d *detail) {
	if b == nil || len(b.extents) == 0 {
		return
	}
	d.legend.entry("extent on "+d.a.Comparison.Old().In.Tank.InspectionEnd.Value.String(), func(s *board, at point) {
		s.box(thenPath, rect{at.x - 1.6, at.y - 1.1, at.x + 1.6, at.y + 1.1})
	})
}

// since is what became of a place, as its row in the legend ends.
func (b *earlier) since(d *detail, l *assess.Location) string {
	if b == nil {
		return ""
	}
	p := b.pairOf[l]
	if p == nil {
		return ""
	}
	text := "; "
	if p.OldR.Known {
		text += unit.Thickness.Text(d.sys, float64(p.OldR.V), 0) + " then, "
	}
	text += p.Class.Words()
	if p.Growth.Known && (p.Class == compare.Grown || p.Class == compare.New) {
		text += " " + unit.RateKind.TextUnit(d.sys, float64(p.Growth.V), 0)
	}
	return text
}

// gone lists what was found then and has no partner now.
func (b *earlier) gone(d *detail) {
	if b == nil {
		return
	}
	c := d.a.Comparison
	first := true
	for i := range b.places {
		f := &b.places[i]
		p := &c.Pairs[f.Pair]
		if p.New >= 0 {
			continue
		}
		if first {
			d.legend.heading("Found then, without a match now")
			first = false
		}
		text := f.ID
		if x, y, ok := d.a.Plan.FromLocal(d.plate, f.Box.Centre()); ok && f.Placed {
			text += ": X " + unit.Size.Text(d.sys, x, 0) + ", Y " + unit.Size.Text(d.sys, y, 0)
		}
		if f.Loss.Known {
			text += ", " + unit.Share.TextUnit(d.sys, float64(f.Loss.V), 0)
		}
		if f.Remaining.Known {
			text += ", " + sentence(unit.Thickness.Text(d.sys, float64(f.Remaining.V), 0), string(f.Basis))
		}
		d.legend.row(text + ", " + f.Side.String() + "; " + p.Class.Words())
	}
}
