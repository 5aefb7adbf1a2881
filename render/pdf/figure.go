package pdf

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/render/draw"
	"platebook/render/report"
)

var captionStyle = style{8.5, 4.1, true, black}

// figure sets a drawing in the column, or a sheet on a page of its own.
// A drawing is never enlarged; it is scaled down where the page is smaller.
func (t *setter) figure(b report.Figure) {
	d := &drawn{number: len(t.figures) + 1, caption: t.faces.clean(b.Caption), at: &place{}}
	t.figures = append(t.figures, d)
	caption := d.name()
	if b.Caption != "" {
		caption += ". " + b.Caption
	}
	sc := b.Drawing()
	if sc == nil || sc.Width <= 0 || sc.Height <= 0 {
		// Its number would be that of another: a caution has none.
		t.figures = t.figures[:len(t.figures)-1]
		t.caution(report.Caution{Title: strings.TrimPrefix(caption, d.name()+". "), Text: "This drawing could not be made."})
		return
	}
	if b.Sheet {
		t.drawingSheet(sc, caption, d)
		return
	}
	lines := t.wrap(caption, captionStyle, t.paper.width())
	room := t.paper.body() - float64(len(lines))*captionStyle.lead - 14
	scale := fit(sc, t.paper.width(), room)
	// A chart that the page would just not hold is printed a little smaller,
	// to stay with its text.
	const least = 0.85
	around := tall(t.pending) + 3.5 + 1.5 + float64(len(lines))*captionStyle.lead + 2
	if h, left := sc.Height*scale, t.left()-around; t.open && len(t.held) == 0 && h > left && h*least <= left {
		scale *= left / h
	}
	w, h := sc.Width*scale, sc.Height*scale
	chain := []piece{{height: h + 1.5, space: 3.5, keep: true, place: d.at, draw: func(s *sheet, y float64) {
		s.scene(sc, t.paper.left+(t.paper.width()-w)/2, y, scale)
	}}}
	st := captionStyle
	for i, l := range lines {
		chain = append(chain, piece{height: st.lead, keep: i+1 < len(lines), draw: func(s *sheet, y float64) {
			s.text(t.paper.left, y+st.lead*0.76, st.size, st.bold, st.ink, l)
			if i == 0 {
				s.number(d)
			}
		}})
	}
	if len(t.pending) == 0 {
		t.float(append(chain, piece{height: 2}))
		return
	}
	t.add(chain...) // a heading stays with it
	t.add(piece{height: 2})
}

// drawn is a figure: its number is that of its place among all, known when the
// pages are.
type drawn struct {
	number  int
	caption string
	at      *place
}

func (d *drawn) name() string { return "Figure " + strconv.Itoa(d.number) }

// number notes that the text last set begins with a figure's number.
func (s *sheet) number(d *drawn) {
	if n := len(s.runs); n > 0 {
		s.runs[n-1].figure = d
	}
}

// numberFigures counts the figures in the order of the pages: text may go on
// before a drawing sheet, and a chart in it then comes first.
func (t *setter) numberFigures() {
	page := make(map[*sheet]int, len(t.sheets))
	for i, s := range t.sheets {
		page[s] = i
	}
	before := make(map[*drawn]string, len(t.figures))
	for _, d := range t.figures {
		before[d] = d.name()
	}
	slices.SortStableFunc(t.figures, func(a, b *drawn) int {
		return cmp.Or(cmp.Compare(page[a.at.sheet], page[b.at.sheet]), cmp.Compare(a.at.y, b.at.y))
	})
	for i, d := range t.figures {
		d.number = i + 1
	}
	again := func(text string, d *drawn) string { return d.name() + strings.TrimPrefix(text, before[d]) }
	for _, s := range t.sheets {
		for i := range s.runs {
			if r := &s.runs[i]; r.figure != nil {
				r.text = again(r.text, r.figure)
			}
		}
	}
	for i := range t.entries {
		if e := &t.entries[i]; e.figure != nil {
			e.text = again(e.text, e.figure)
		}
	}
}

func fit(sc *draw.Scene, w, h float64) float64 {
	return min(1, w/sc.Width, h/sc.Height)
}

// drawingSheet sets a drawing on a page of its own, turned when the drawing
// is wider than high. The page leaves it the room that render/draw counts on,
// so that the scale printed in it holds; where it does not, because the
// drawing is larger or a long name needs the room, the sheet says so. A
// drawing made for A3 gets an A3 page. The text goes on where it was, on the
// page before the sheet, unless that is mostly full or its heading went to the
// sheet.
func (t *setter) drawingSheet(sc *draw.Scene, caption string, d *drawn) {
	const mostly = 0.6
	if t.filled() > mostly {
		t.open = false
	}
	w, h := t.pageFor(sc)
	s := t.sheet(w, h)
	s.drawing = true
	x1, x2 := draw.MarginSide, w-draw.MarginSide
	top := t.running.low(nil, x1, x2, sheetTop)

	// Headings that wait for what follows stand in the head.
	at := d.at
	*at = place{s, 0}
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
	t.entries = append(t.entries, entry{3, "", t.faces.clean(caption), at, d})
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
	t.studio.write(func() { s.scene(sc, (x1+x2-dw)/2, top+(bottom-top-dh)/2, scale) })
	for i, l := range lines {
		s.text(x1, bottom+captionStyle.lead*(float64(i)+0.8), captionStyle.size, true, black, l)
		if i == 0 {
			s.number(d)
		}
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
