package draw

// beside puts a label next to a box, at the first of eight places that is
// free. A distant label gets a leader.
func (f *frame) beside(l Label, b rect, gap float64) bool {
	c := b.centre()
	h := l.Size * (capHeight + descent)
	up, down := b.y1-gap-h/2, b.y2+gap+h/2
	right, left := b.x2+gap, b.x1-gap
	l.Middle, l.Text = true, brief(l.Text, l.Size, l.Bold)
	type side struct {
		x, y float64
		a    Anchor
	}
	places := [...]side{
		{right, c.y, Start},
		{left, c.y, End},
		{c.x, up, Centre},
		{c.x, down, Centre},
		{right - gap/2, up, Start},
		{right - gap/2, down, Start},
		{left + gap/2, up, End},
		{left + gap/2, down, End},
	}
	if l.Class == "fixture-name" {
		// A fixture often stands on a seam: its name goes off the seam's line.
		places = [...]side{places[4], places[5], places[6], places[7], places[0], places[1], places[2], places[3]}
	}
	for _, s := range places {
		l.X, l.Y, l.Anchor = s.x, s.y, s.a
		box := l.box().grow(0.15)
		if !f.taken.free(box) || f.marks != nil && f.marks.overlap(box, 1) > 0 {
			continue
		}
		if f.alone > 0 && f.marks != nil && f.marks.others(box.grow(f.alone), b.grow(1e-6)) {
			continue
		}
		if f.shaded {
			f.box(Path{Fill: paper, Class: "ground"}, box)
		}
		if !f.label(l) {
			continue
		}
		f.taken.add(box)
		if gap > 1.5 {
			near := point{min(max(c.x, box.x1), box.x2), min(max(c.y, box.y1), box.y2)}
			if s.a != Centre {
				near = point{s.x, s.y}
				if s.a == Start {
					near.x = min(near.x, s.x) - 0.2
				}
			}
			edge := point{min(max(near.x, b.x1), b.x2), min(max(near.y, b.y1), b.y2)}
			f.line(Path{Stroke: l.Paint, Width: hair, Class: "leader"}, edge, near)
		}
		return true
	}
	return false
}
