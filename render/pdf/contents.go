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
	bold   bool
}

// contents is the list of sections; sub-headings join it while it stays on
// one page.
func (t *setter) contents(entries []entry) []contentsLine {
	build := func(depth int, tight float64) (out []contentsLine, height float64) {
		for _, e := range entries {
			if e.level > depth || e.text == "" {
				continue
			}
			l := contentsLine{entry: e, indent: 10, size: contentsSize, lead: contentsLead, bold: true}
			if e.level > 1 {
				l.indent, l.size, l.lead, l.bold = 10, 9, contentsSub, false
			}
			l.size, l.lead = l.size*tight, l.lead*tight
			l.lines = t.faces.of(l.bold).wrap(e.text, l.size, t.paper.width()-l.indent-16)
			height += float64(len(l.lines)) * l.lead
			if e.level == 1 {
				height += 1
			}
			out = append(out, l)
		}
		return out, height
	}
	room := t.paper.body() - 16
	out, height := build(2, 1)
	if height > room {
		out, height = build(2, 0.84)
	}
	if height > room {
		out, _ = build(1, 1)
	}
	return out
}

// listOfFigures is the drawings and charts in the order of their numbers.
func (t *setter) listOfFigures() []contentsLine {
	var out []contentsLine
	for _, d := range t.figures {
		if d.at.sheet == nil {
			continue
		}
		l := contentsLine{entry: entry{2, strconv.Itoa(d.number), d.caption, d.at, d}, indent: 10, size: 9, lead: contentsSub}
		l.lines = t.faces.regular.wrap(d.caption, l.size, t.paper.width()-l.indent-16)
		out = append(out, l)
	}
	return out
}

// setContents lays a list of what stands where out on pages of its own, which
// are put in after the first; number tells a sheet's page.
func (t *setter) setContents(title string, lines []contentsLine, number func(*sheet) int) {
	st := style{15, 7, true, deep}
	t.add(piece{height: st.lead + 3.4, space: 9, keep: true, draw: func(s *sheet, y float64) {
		s.text(t.paper.left, y+5.4, st.size, true, deep, title)
		s.rule(t.paper.left, y+st.lead+0.9, t.paper.w-t.paper.right, y+st.lead+0.9, 0.5, deep)
	}})
	right := t.paper.w - t.paper.right
	for _, c := range lines {
		for i, text := range c.lines {
			last := i == len(c.lines)-1
			p := piece{height: c.lead, keep: !last, draw: func(s *sheet, y float64) {
				base := y + c.lead*0.74
				if i == 0 && c.number != "" {
					s.text(t.paper.left, base, c.size, c.bold, deep, c.number)
				}
				x := t.paper.left + c.indent
				s.text(x, base, c.size, c.bold, black, text)
				if !last {
					return
				}
				page := strconv.Itoa(number(c.at.sheet))
				s.textRight(right, base, c.size, c.bold, black, page)
				from := x + t.faces.of(c.bold).width(text, c.size) + 2
				to := right - t.faces.of(c.bold).width(page, c.size) - 2
				if to > from+4 {
					s.leader(from, to, base)
				}
				s.links = append(s.links, link{t.paper.left, y, right - t.paper.left, c.lead, c.at})
			}}
			if i == 0 && c.level == 1 {
				p.space = 1
			}
			t.add(p)
		}
	}
	t.flush()
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
