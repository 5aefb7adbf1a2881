package draw

import (
	"platebook/rules"
	"platebook/rules/spelling"
)

// finishAll finishes the drawing, and as many sheets after it as it takes until
// all that a fitter needs of its list has been set.
func (d *detail) finishAll(rest string) []*Scene {
	frames := []*frame{d.frame}
	for f := d.frame; f.legend.needed(); {
		next := listSheet(d.a, d.sheet, d.scene.Name+" "+count(len(frames)+1), d.scene.Title+", continued")
		next.legend.resume(&f.legend)
		if len(next.legend.over) >= len(f.legend.over) {
			break // higher than a sheet: it stays among those that are counted
		}
		frames = append(frames, next)
		f = next
	}
	var out []*Scene
	for i, f := range frames {
		f.sheet.pages, f.nth = len(frames), i+1
		switch n := f.legend.unset(); {
		case i+1 < len(frames):
			f.legend.end("… goes on on sheet " + count(i+2) + " of " + d.scene.Title)
		case n > 0 && f.legend.needed():
			f.legend.close()
		case n > 0:
			f.legend.end("… " + spelling.Count(n, "more indication", "more indications") + " without a repair or judgement of " + spelling.Choose(n, "its", "their") + " own: see " + rest)
		}
		out = append(out, f.finish())
	}
	return out
}

// needed says whether anything that has to stand found no room.
func (f *flow) needed() bool {
	for _, o := range f.over {
		if !o.minor {
			return true
		}
	}
	return false
}

// resume sets what another flow found no room for, under the heading that it
// stood under.
func (f *flow) resume(from *flow) {
	if from.head != "" && len(from.over) > 0 && !from.over[0].begins {
		f.heading(from.head + ", continued")
		f.head = from.head
		if from.lead != "" {
			f.explain(from.lead)
		}
	}
	for _, o := range from.over {
		f.minor = o.minor
		o.set(f)
	}
}

// listSheet is a sheet without a drawing, its columns full of what goes on
// there.
func listSheet(a *rules.Assessment, s Sheet, name, title string) *frame {
	s.below = false
	f := newFrame(a, s, name, title)
	f.scene.Items = f.scene.Items[:0]
	f.box(Path{Fill: paper, Class: "sheet"}, rect{0, 0, s.Width, s.Height}.grow(-0.3))
	f.known = false
	f.compass = rect{}
	n := max(1, int(f.room.width()/(f.block.width()-2*gutter)))
	w := f.room.width() / float64(n)
	var columns []rect
	for i := range n {
		x := f.room.x1 + w*float64(i)
		columns = append(columns, rect{x + gutter, f.room.y1 + gutter, x + w - gutter, f.room.y2 - gutter})
	}
	if s.Width >= s.Height {
		columns = append(columns, rect{f.block.x1 + gutter, gutter, f.block.x2 - gutter, f.block.y1 - 1})
	}
	f.legend = flow{board: f.legend.board, columns: columns, goesOn: true}
	return f
}
