package draw

import (
	"slices"
	"strings"

	"platebook/rules/spelling"
)

// flow sets the legend line by line through one or more columns.
type flow struct {
	*board
	columns []rect
	at      int
	y       float64
	begun   bool

	over   []postponed // found no room, in order
	goesOn bool        // there is a further sheet: nothing stands before what found no room
	minor  bool        // what is set now need not stand on the drawing
	head   string      // of the group that is set now
	lead   string      // the words that all of it needs
}

// postponed is something of a legend that found no room.
type postponed struct {
	set    func(*flow)
	count  int
	minor  bool
	begins bool // a group
}

// closing is the room kept at the end of the last column, to be able to say
// that something did not fit.
const closing = 3.2

// kept is the room at the end of the last column: two lines where it may have
// to name another sheet.
func (f *flow) kept() float64 {
	if f.goesOn {
		return closing + wordSize*leading
	}
	return closing
}

// later notes what found no room.
func (f *flow) later(count int, set func(*flow)) {
	f.over = append(f.over, postponed{set: set, count: count, minor: f.minor})
}

// take reserves a height and says where it starts.
func (f *flow) take(h float64) (rect, bool) {
	for f.at < len(f.columns) && !(f.goesOn && len(f.over) > 0) {
		c := f.columns[f.at]
		if !f.begun {
			f.begun = true
			f.y = c.y1
		}
		bottom := c.y2
		if f.at == len(f.columns)-1 {
			bottom -= f.kept()
		}
		if f.y+h <= bottom {
			r := rect{c.x1, f.y, c.x2, f.y + h}
			f.y += h
			return r, true
		}
		if f.at == len(f.columns)-1 {
			break
		}
		f.at++
		f.begun = false
	}
	return rect{}, false
}

func (f *flow) width() float64 { return f.columns[min(f.at, len(f.columns)-1)].width() }

// together begins the next column where what follows is higher than the rest
// of this one and lower than that.
func (f *flow) together(h float64) {
	if f.at < len(f.columns)-1 && f.begun && f.y+h > f.columns[f.at].y2 && h < f.columns[f.at+1].height()-f.kept() {
		f.at++
		f.begun = false
	}
}

const (
	swatchWidth = 9.0
	leading     = 1.28
)

// heading starts a group of entries.
func (f *flow) heading(text string) {
	if f.goesOn && (len(f.over) > 0 || f.at == len(f.columns)-1 && f.begun && f.y+12 > f.columns[f.at].y2-f.kept()) {
		f.postponeHeading(text)
		return
	}
	gap := 1.4
	if !f.begun {
		gap = 0
	}
	// A heading alone at the foot of a column says nothing.
	if f.at < len(f.columns)-1 && f.y+12 > f.columns[f.at].y2 {
		f.at++
		f.begun = false
		gap = 0
	}
	if r, ok := f.take(headSize*1.5 + gap); !ok {
		f.postponeHeading(text)
	} else {
		f.head, f.lead = text, ""
		f.label(Label{Text: Fit(text, headSize, true, r.width()), X: r.x1, Y: r.y2 - 0.9, Size: headSize, Bold: true, Paint: ink, Class: "heading"})
	}
}

func (f *flow) postponeHeading(text string) {
	f.later(1, func(g *flow) { g.heading(text) })
	f.over[len(f.over)-1].begins = true
}

// entry is a swatch with its words. The swatch is drawn around its centre.
func (f *flow) entry(text string, swatch func(b *board, c point)) {
	lines := wrap(text, wordSize, false, f.width()-swatchWidth-1)
	h := max(wordSize*leading*float64(len(lines))+0.8, 4)
	r, ok := f.take(h)
	if !ok {
		f.later(1, func(g *flow) { g.entry(text, swatch) })
		return
	}
	swatch(f.board, point{r.x1 + swatchWidth/2 - 0.5, r.y1 + 1.9})
	f.lines(lines, r.x1+swatchWidth+0.5, r.y1+1.9-wordSize*capHeight/2)
}

// block is a swatch with several lines of words, the first of them in bold.
func (f *flow) block(lines []string, swatch func(b *board, c point)) {
	var head, rest []string
	width := f.width() - swatchWidth - 1
	for i, t := range lines {
		if i == 0 {
			head = wrap(t, wordSize, true, width)
		} else {
			rest = append(rest, wrap(t, wordSize, false, width)...)
		}
	}
	r, ok := f.take(wordSize*leading*float64(len(head)+len(rest)) + 1.2)
	if !ok {
		f.later(1, func(g *flow) { g.block(lines, swatch) })
		return
	}
	swatch(f.board, point{r.x1 + swatchWidth/2 - 0.5, r.y1 + 1.9})
	x, top := r.x1+swatchWidth+0.5, r.y1+1.9-wordSize*capHeight/2
	for _, t := range head {
		f.label(Label{Text: t, X: x, Y: top + wordSize*capHeight, Size: wordSize, Bold: true, Paint: ink, Class: "note"})
		top += wordSize * leading
	}
	f.lines(rest, x, top)
}

// item is a small swatch with a word or two.
type item struct {
	text   string
	swatch func(b *board, c point)
}

// items sets several short entries in a line, as many as fit.
func (f *flow) items(list []item) {
	const swatch, gap = 4.5, 3.5
	for len(list) > 0 {
		r, ok := f.take(4)
		if !ok {
			f.later(len(list), func(g *flow) { g.items(list) })
			return
		}
		x := r.x1 + 0.8
		n := 0
		for _, it := range list {
			w := swatch + Width(it.text, wordSize, false)
			if n > 0 && x+w > r.x2 {
				break
			}
			it.swatch(f.board, point{x + 1.6, r.y1 + 1.9})
			f.label(Label{Text: it.text, X: x + swatch, Y: r.y1 + 1.9 + wordSize*capHeight/2, Size: wordSize, Paint: ink, Class: "note"})
			x += w + gap
			n++
		}
		list = list[n:]
	}
}

// text is a note across the column.
func (f *flow) text(text string) {
	if !f.words(text, 0.6, 0.9) {
		f.later(1, func(g *flow) { g.text(text) })
	}
}

// words sets a text across the column where there is room, with gaps of a height
// together, one of them above it.
func (f *flow) words(text string, above, gaps float64) bool {
	lines := wrap(text, wordSize, false, f.width())
	r, ok := f.take(wordSize*leading*float64(len(lines)) + gaps)
	if ok {
		f.lines(lines, r.x1, r.y1+above)
	}
	return ok
}

// explain is a note that all of a group needs, wherever it goes on.
func (f *flow) explain(text string) {
	if f.words(text, 0.6, 0.9) {
		f.lead = text
	} else {
		f.later(1, func(g *flow) { g.explain(text) })
	}
}

// row is a line of a list, closely set.
func (f *flow) row(text string) {
	if !f.words(text, 0.3, 0.3) {
		f.later(1, func(g *flow) { g.row(text) })
	}
}

// names lists what would be lost otherwise, as many as fit in three lines.
func (f *flow) names(lead string, names []string) {
	if len(names) == 0 {
		return
	}
	for n := min(len(names), 40); n >= 0; n-- {
		text := lead + ": " + some(names, n)
		if n == 0 {
			text = lead + ": " + spelling.Count(len(names), "entry", "entries")
		}
		if n == 0 || len(wrap(text, wordSize, false, f.width())) <= 3 {
			f.text(text)
			return
		}
	}
}

func (f *flow) lines(lines []string, x, top float64) {
	y := top + wordSize*capHeight
	for _, t := range lines {
		f.label(Label{Text: t, X: x, Y: y, Size: wordSize, Paint: ink, Class: "note"})
		y += wordSize * leading
	}
}

// unset is how many notes found no room.
func (f *flow) unset() (n int) {
	for _, o := range f.over {
		n += o.count
	}
	return n
}

// close says when notes did not fit.
func (f *flow) close() {
	if n := f.unset(); n > 0 {
		f.end("… " + spelling.Count(n, "more note", "more notes") + ": see the report")
	}
}

// end writes the last words of the last column, in the room kept for them.
func (f *flow) end(text string) {
	c := f.columns[len(f.columns)-1]
	lines := wrap(text, wordSize, true, c.width())
	if most := int(f.kept() / (wordSize * leading)); len(lines) > most {
		lines = append(lines[:most-1], Fit(strings.Join(lines[most-1:], " "), wordSize, true, c.width()))
	}
	y := c.y2 - 0.8 - wordSize*leading*float64(len(lines)-1)
	for _, t := range lines {
		f.label(Label{Text: t, X: c.x1, Y: y, Size: wordSize, Bold: true, Paint: ink, Class: "note"})
		y += wordSize * leading
	}
}

// sentence joins parts that are there.
func sentence(parts ...string) string { return strings.Join(filled(parts), " ") }

// filled is the parts that are there.
func filled(parts []string) []string {
	return slices.DeleteFunc(slices.Clone(parts), func(p string) bool { return p == "" })
}
