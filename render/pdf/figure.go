package pdf

import (
	"strconv"

	"platebook/render/draw"
	"platebook/render/report"
)

var captionStyle = style{8.5, 4.1, true, black}

// figure sets a drawing in the column, or a sheet on a page of its own.
// A drawing is never enlarged; it is scaled down where the page is smaller.
func (t *setter) figure(b report.Figure) {
	t.figures++
	caption := "Figure " + strconv.Itoa(t.figures)
	if b.Caption != "" {
		caption += ". " + b.Caption
	}
	if b.Scene == nil || b.Scene.Width <= 0 || b.Scene.Height <= 0 {
		t.caution(report.Caution{Title: caption, Text: "This drawing could not be made."})
		return
	}
	if b.Sheet {
		t.drawingSheet(b.Scene, caption)
		return
	}
	lines := t.wrap(caption, captionStyle, t.paper.width())
	room := t.paper.body() - float64(len(lines))*captionStyle.lead - 14
	scale := fit(b.Scene, t.paper.width(), room)
	w, h := b.Scene.Width*scale, b.Scene.Height*scale
	t.add(piece{height: h + 1.5, space: 3.5, keep: true, draw: func(s *sheet, y float64) {
		s.scene(b.Scene, t.paper.left+(t.paper.width()-w)/2, y, scale)
	}})
	t.lines(lines, t.paper.left, captionStyle, 0, false)
	t.add(piece{height: 2})
}

func fit(sc *draw.Scene, w, h float64) float64 {
	return min(1, w/sc.Width, h/sc.Height)
}

// drawingSheet sets a drawing on a page of its own, turned when the drawing
// is wider than high.
func (t *setter) drawingSheet(sc *draw.Scene, caption string) {
	p := t.paper
	if sc.Width > sc.Height {
		p = p.turned()
	}
	at := &place{}
	t.entries = append(t.entries, entry{3, "", t.faces.clean(caption), at})
	lines := t.wrap(caption, captionStyle, p.width())
	t.whole(p, func(s *sheet, top float64) {
		foot := p.h - p.bottom + 3
		foot -= float64(len(lines)) * captionStyle.lead
		room := foot - top - 1.5
		scale := fit(sc, p.width(), room)
		w, h := sc.Width*scale, sc.Height*scale
		s.scene(sc, p.left+(p.width()-w)/2, top+(room-h)/2, scale)
		for i, l := range lines {
			s.text(p.left, foot+captionStyle.lead*(float64(i)+0.76), captionStyle.size, true, black, l)
		}
	}, at)
}
