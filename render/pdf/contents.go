package pdf

import "strconv"

const (
	contentsLead = 5.4
	contentsSub  = 4.5
	contentsSize = 10.0
)

// line of the contents, with what it leads to.
type contentsLine struct {
	entry
	lines  []string
	indent float64
	size   float64
	lead   float64
	space  float64 // before it
	bold   bool
	x      float64 // of its column, from the left of the text
	width  float64 // of its column, 0: the whole
}

// contents is the list of sections; sub-headings join it while it stays on
// one page, with the list of drawings where that can be had.
func (t *setter) contents(entries []entry, figures list) list {
	build := func(depth int, tight float64) list {
		var out list
		for _, e := range entries {
			if e.level > depth || e.text == "" {
				continue
			}
			l := contentsLine{entry: e, indent: 10, size: contentsSize, lead: contentsLead, bold: true}
			if e.level > 1 {
				l.indent, l.size, l.lead, l.bold = 10, 9, contentsSub, false
			}
			l.size, l.lead = l.size*tight, l.lead*tight
			l.lines = t.faces.of(l.bold).wrap(e.text, l.size, t.paper.width()-l.indent-pageRoom)
			if e.level == 1 {
				l.space = 1
			}
			out = append(out, []contentsLine{l})
		}
		return out
	}
	choices := []list{build(2, 1), build(2, 0.84), build(1, 1), build(1, 0.84)}
	for _, c := range choices {
		if c.height()+figures.height() < t.paper.body()-2*listHead {
			return c
		}
	}
	// The drawings have pages of their own.
	for _, c := range choices[:3] {
		if c.height() < t.paper.body()-listHead {
			return c
		}
	}
	return choices[2]
}

const (
	pageRoom = 16.0 // right of a title, for its page
	listHead = 19.5 // the heading of a list and the room before it
	midway   = 8.0  // between two columns
)

// list is rows of one line, or of two abreast.
type list [][]contentsLine

func (l list) height() float64 {
	h := 0.0
	for _, row := range l {
		h += rowHeight(row)
	}
	return h
}

func rowHeight(row []contentsLine) float64 {
	h := 0.0
	for _, c := range row {
		h = max(h, float64(len(c.lines))*c.lead+c.space)
	}
	return h
}

// listOfFigures is the drawings and charts in the order of their numbers, a
// long list in two columns; each is read down before the next one.
func (t *setter) listOfFigures() []list {
	set := func(size, lead, width float64) (out []contentsLine) {
		for _, d := range t.figures {
			if d.at.sheet == nil {
				continue
			}
			l := contentsLine{entry: entry{2, strconv.Itoa(d.number), d.caption, d.at, d}, indent: 9, size: size, lead: lead, width: width}
			l.lines = t.faces.regular.wrap(d.caption, size, width-l.indent-9)
			out = append(out, l)
		}
		return out
	}
	const short = 16
	all := set(9, contentsSub, t.paper.width())
	if len(all) <= short {
		var one list
		for _, l := range all {
			one = append(one, []contentsLine{l})
		}
		return []list{one}
	}
	half := (t.paper.width() - midway) / 2
	pages := t.pagesOf(set(8.5, contentsSub, half))
	// A little closer where a page is saved: else it carries a few lines.
	if closer := t.pagesOf(set(8, contentsSub*0.86, half)); len(closer) < len(pages) {
		return closer
	}
	return pages
}

// pagesOf puts as many lines to a page as it holds, in two columns of one
// length.
func (t *setter) pagesOf(all []contentsLine) []list {
	var pages []list
	for len(all) > 0 {
		var page list
		for n := 1; n <= len(all); n++ {
			next := abreast(all[:n])
			if n > 1 && next.height() > t.paper.body()-listHead {
				break
			}
			page = next
		}
		pages = append(pages, page)
		for _, row := range page {
			all = all[len(row):]
		}
	}
	return pages
}

// abreast sets lines in two columns.
func abreast(lines []contentsLine) list {
	rows := (len(lines) + 1) / 2
	out := make(list, rows)
	for i, l := range lines {
		if i >= rows {
			l.x = l.width + midway
		}
		out[i%rows] = append(out[i%rows], l)
	}
	return out
}

// setContents lays a list of what stands where out on pages of its own, which
// are put in after the first; number tells a sheet's page. A list that whole
// is to stay together begins a page where it must.
func (t *setter) setContents(title string, rows list, together bool, number func(*sheet) int) {
	if title != "" {
		st := style{15, 7, true, deep}
		t.add(piece{height: st.lead + 3.4, space: 9, keep: true, draw: func(s *sheet, y float64) {
			s.text(t.paper.left, y+5.4, st.size, true, deep, title)
			s.rule(t.paper.left, y+st.lead+0.9, t.paper.w-t.paper.right, y+st.lead+0.9, 0.5, deep)
		}})
	}
	for k, row := range rows {
		p := piece{height: rowHeight(row), keep: together && k+1 < len(rows), draw: func(s *sheet, y float64) {
			for _, c := range row {
				t.contentsLine(s, c, y, number)
			}
		}}
		p.space, p.height = row[0].space, p.height-row[0].space
		t.add(p)
	}
	t.flush()
}

// contentsLine sets one line of a list, with dots to its page.
func (t *setter) contentsLine(s *sheet, c contentsLine, y float64, number func(*sheet) int) {
	left, width := t.paper.left+c.x, c.width
	if width == 0 {
		width = t.paper.width()
	}
	right, x := left+width, left+c.indent
	for i, text := range c.lines {
		base := y + c.lead*(float64(i)+0.74)
		if i == 0 && c.number != "" {
			s.text(left, base, c.size, c.bold, deep, c.number)
		}
		s.text(x, base, c.size, c.bold, black, text)
		if i < len(c.lines)-1 {
			continue
		}
		page := strconv.Itoa(number(c.at.sheet))
		s.textRight(right, base, c.size, c.bold, black, page)
		from := x + t.faces.of(c.bold).width(text, c.size) + 2
		to := right - t.faces.of(c.bold).width(page, c.size) - 2
		if to > from+4 {
			s.leader(from, to, base)
		}
	}
	s.links = append(s.links, link{left, y, width, c.lead * float64(len(c.lines)), c.at})
}

// leader is the dots between a title and its page.
func (s *sheet) leader(from, to, y float64) {
	s.op("q")
	s.colour(hair, "RG")
	s.under.WriteString("1 J [0 4] 0 d ")
	s.op("w", 0.9)
	s.op("m", from*mm, (s.h-y+0.3)*mm)
	s.op("l", to*mm, (s.h-y+0.3)*mm)
	s.op("S")
	s.op("Q")
}
