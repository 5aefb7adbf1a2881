package pdf

import (
	"math"
	"strconv"
	"strings"

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
// is wider than high. The page leaves it the room that render/draw counts on,
// so that the scale printed in it holds; where it does not, because the
// drawing is larger or a long name needs the room, the sheet says so. A
// drawing made for A3 gets an A3 page. The text goes on where it was, on the
// page before the sheet, unless its heading went to the sheet.
func (t *setter) drawingSheet(sc *draw.Scene, caption string) {
	w, h := t.pageFor(sc)
	s := t.sheet(w, h)
	s.drawing = true
	x1, x2 := draw.MarginSide, w-draw.MarginSide
	top := t.running.low(nil, x1, x2, sheetTop)

	// Headings that wait for what follows stand in the head.
	at := &place{s, 0}
	var titles []string
	for _, p := range t.pending {
		if p.title != "" {
			titles = append(titles, p.title)
		}
		if p.place != nil {
			*p.place = *at
		}
	}
	t.pending = nil
	if len(titles) > 0 {
		t.open = false
	}
	t.entries = append(t.entries, entry{3, "", t.faces.clean(caption), at})
	if len(titles) > 0 {
		const size, lead = 10.5, 4.6
		for i, l := range t.faces.bold.wrap(strings.Join(titles, " · "), size, x2-x1) {
			s.text(x1, top+lead*(float64(i)+0.86), size, true, deep, l)
		}
		top += lead * float64(len(t.faces.bold.wrap(strings.Join(titles, " · "), size, x2-x1)))
	}
	top = max(top+0.4, draw.MarginTop)

	bottom := h - draw.MarginBottom
	lines := t.wrap(caption, captionStyle, x2-x1)
	bottom -= float64(len(lines)-1) * captionStyle.lead
	scale := fit(sc, x2-x1, bottom-top)
	if scale < 0.9999 {
		lines = t.wrap(caption+" (printed at "+strconv.FormatFloat(math.Floor(scale*1000)/10, 'f', 1, 64)+" % of its size: measure by the scale bar)", captionStyle, x2-x1)
		bottom = h - draw.MarginBottom - float64(len(lines)-1)*captionStyle.lead
		scale = fit(sc, x2-x1, bottom-top)
	}
	dw, dh := sc.Width*scale, sc.Height*scale
	s.scene(sc, (x1+x2-dw)/2, top+(bottom-top-dh)/2, scale)
	for i, l := range lines {
		s.text(x1, bottom+captionStyle.lead*(float64(i)+0.8), captionStyle.size, true, black, l)
	}
}

// pageFor is the page a drawing is printed on: the report's paper, or A3 when
// only that is large enough.
func (t *setter) pageFor(sc *draw.Scene) (w, h float64) {
	w, h = t.paper.w, t.paper.h
	if large := draw.A3.Landscape(); !fits(sc, w, h) {
		if lw, lh := large.Width+2*draw.MarginSide, large.Height+draw.MarginTop+draw.MarginBottom; fits(sc, lw, lh) || fits(sc, lh, lw) {
			w, h = lh, lw
		}
	}
	if sc.Width > sc.Height {
		w, h = h, w
	}
	return w, h
}

// fits says whether a drawing fits a page, standing or lying as it is itself.
func fits(sc *draw.Scene, w, h float64) bool {
	if (sc.Width > sc.Height) != (w > h) {
		w, h = h, w
	}
	const hair = 0.01
	return sc.Width <= w-2*draw.MarginSide+hair && sc.Height <= h-draw.MarginTop-draw.MarginBottom+hair
}
