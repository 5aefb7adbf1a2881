package pdf

import (
	"strconv"
	"strings"

	"platebook/render/report"
)

// setter turns blocks into pieces of a column of text.
type setter struct {
	*flow
	report  *report.Report
	running *running
	studio  *studio
	figures []*drawn
	entries []entry
}

// entry is a line of the bookmarks, and down to level 2 of the contents.
type entry struct {
	level  int
	number string
	text   string
	at     *place
	figure *drawn // of a drawing: the text begins with its number
}

// style is how running text is set: size in points, line feed in millimetres.
type style struct {
	size, lead float64
	bold       bool
	ink        ink
}

var (
	bodyStyle  = style{9.5, 4.6, false, black}
	smallStyle = style{7.8, 3.8, false, grey}
)

// lines sets wrapped lines as pieces, first and last two never alone.
func (t *setter) lines(lines []string, x float64, st style, space float64, keep bool) {
	for i, l := range lines {
		p := piece{height: st.lead, draw: func(s *sheet, y float64) {
			s.text(x, y+st.lead*0.76, st.size, st.bold, st.ink, l)
		}}
		if i == 0 {
			p.space = space
		}
		p.keep = i+1 < len(lines) && (i == 0 || i == len(lines)-2) || i+1 == len(lines) && keep
		t.add(p)
	}
}

func (t *setter) wrap(text string, st style, width float64) []string {
	return t.faces.of(st.bold).wrap(t.faces.clean(text), st.size, width)
}

// section sets a section; ends says that another begins on a page of its own
// behind it, or none.
func (t *setter) section(sec report.Section, ends bool) {
	// What a page with little on it leaves free is used although the drawings
	// of the section before stand behind it; else the sections keep their order.
	const little = 0.1 // of a page
	// A heading with a line or two at the end of a page, parted from the rest,
	// tells nothing.
	const mostly = 0.75
	if n := len(t.sheets); sec.Break || n > 0 && t.sheets[n-1] != t.page && t.filled() > little || len(sec.Blocks) > 1 && t.filled() > mostly {
		t.endPage()
	}
	before, text, sheets := parted(sec.Blocks)
	set := func(blocks []report.Block) {
		for _, b := range blocks {
			t.block(b)
		}
	}
	headed := len(before) > 0 || len(text) == 0 // a sheet takes the heading, or nothing follows it
	if headed {
		t.sectionHead(sec)
		set(before)
	}
	last := func() {
		if !headed {
			t.sectionHead(sec)
		}
		set(text)
		t.release()
	}
	switch {
	case len(text) == 0:
	case ends || len(sheets) > 0:
		t.closing(!headed, last)
	default:
		last()
	}
	set(sheets)
	t.release()
}

// sectionHead sets a section's number and name.
func (t *setter) sectionHead(sec report.Section) {
	at := &place{}
	number := ""
	if sec.Number > 0 {
		number = strconv.Itoa(sec.Number)
	}
	t.entries = append(t.entries, entry{1, number, t.faces.clean(sec.Name), at, nil})
	st := style{15, 7, true, deep}
	indent := 0.0
	if number != "" {
		indent = max(9, t.faces.bold.width(number, st.size)+3)
	}
	for i, l := range t.wrap(sec.Name, st, t.paper.width()-indent) {
		p := piece{height: st.lead, keep: true, draw: func(s *sheet, y float64) {
			if i == 0 {
				s.text(t.paper.left, y+5.4, st.size, true, deep, number)
			}
			s.text(t.paper.left+indent, y+5.4, st.size, true, deep, l)
		}}
		if i == 0 {
			p.space, p.place, p.title = 10, at, strings.TrimLeft(number+"  "+t.faces.clean(sec.Name), " ")
		}
		t.add(p)
	}
	t.add(piece{height: 3.4, keep: true, draw: func(s *sheet, y float64) {
		s.rule(t.paper.left, y+0.9, t.paper.w-t.paper.right, y+0.9, 0.5, deep)
	}})
	if len(sec.Blocks) == 0 {
		t.lines([]string{"No entries."}, t.paper.left, style{9.5, 4.6, false, grey}, 0, false)
	}
}

func (t *setter) block(b report.Block) {
	switch b := b.(type) {
	case report.Heading:
		t.heading(b)
	case report.Paragraph:
		st := bodyStyle
		if b.Small {
			st = smallStyle
		}
		if b.Text != "" {
			t.lines(t.wrap(b.Text, st, t.paper.width()), t.paper.left, st, 2.2, false)
		}
	case report.List:
		t.list(b)
	case report.Pairs:
		t.pairs(b.Rows)
	case report.Caution:
		t.caution(b)
	case report.Table:
		t.table(b)
	case report.Steps:
		t.steps(b.Steps)
	case report.Figure:
		t.figure(b)
	case report.Photos:
		t.photos(b.Photos)
	case report.Signatures:
		t.signatures(b.Lines)
	default:
		panic("pdf: a block of an unknown type")
	}
}

func (t *setter) heading(b report.Heading) {
	st, space, level := style{11.5, 5.6, true, deep}, 6.0, 2
	if b.Level >= 3 {
		st, space, level = style{9.5, 4.8, true, black}, 4.0, 3
	}
	// A drawing that waits for room belongs above the heading.
	if len(t.held) > 0 {
		t.release()
	}
	at := &place{}
	t.entries = append(t.entries, entry{level, "", t.faces.clean(b.Text), at, nil})
	lines := t.wrap(b.Text, st, t.paper.width())
	for i, l := range lines {
		p := piece{height: st.lead, keep: true, draw: func(s *sheet, y float64) {
			s.text(t.paper.left, y+st.lead*0.76, st.size, true, st.ink, l)
		}}
		if i == 0 {
			p.space, p.place, p.title = space, at, t.faces.clean(b.Text)
		}
		t.add(p)
	}
}

func (t *setter) list(b report.List) {
	st := bodyStyle
	x := t.paper.left + 5
	for i, item := range b.Items {
		space := 1.0
		if i == 0 {
			space = 2
		}
		lines := t.wrap(item, st, t.paper.width()-5)
		for j, l := range lines {
			p := piece{height: st.lead, draw: func(s *sheet, y float64) {
				if j == 0 {
					s.text(t.paper.left+1.2, y+st.lead*0.76, st.size, false, deep, "•")
				}
				s.text(x, y+st.lead*0.76, st.size, false, st.ink, l)
			}}
			if j == 0 {
				p.space = space
			}
			p.keep = j+1 < len(lines) && (j == 0 || j == len(lines)-2)
			// The last item never stands alone on a page.
			if i == len(b.Items)-2 && j == len(lines)-1 {
				p.keep = true
			}
			t.add(p)
		}
	}
	t.flush()
}

// pairs sets label and value, two pairs abreast where all are short.
func (t *setter) pairs(rows [][2]string) {
	const size, lead, gap = 9.0, 4.4, 4.0
	clean := make([][2]string, len(rows))
	label, value := 0.0, 0.0
	for i, r := range rows {
		clean[i] = [2]string{t.faces.clean(r[0]), t.faces.clean(r[1])}
		label = max(label, t.faces.regular.width(clean[i][0], size))
		value = max(value, t.faces.regular.width(clean[i][1], size))
	}
	full := t.paper.width()
	half := (full - gap) / 2
	abreast := 1
	if len(rows) >= 6 && (label+value+gap <= half || label+gap <= half*0.6 && t.fewWrap(clean, size, half-label-gap)) {
		abreast = 2
	}
	width := full
	if abreast == 2 {
		width = half
	}
	label = min(label+gap, width*map[int]float64{1: 0.42, 2: 0.6}[abreast])
	perColumn := (len(rows) + abreast - 1) / abreast
	for i := range perColumn {
		type cell struct {
			x            float64
			label, value []string
		}
		var cells []cell
		n := 1
		for c := range abreast {
			k := c*perColumn + i
			if k >= len(clean) {
				continue
			}
			x := t.paper.left + float64(c)*(half+gap)
			cl := cell{
				x, t.faces.regular.wrap(clean[k][0], size, label-2),
				t.faces.regular.wrap(clean[k][1], size, width-label),
			}
			n = max(n, len(cl.label), len(cl.value))
			cells = append(cells, cl)
		}
		// A value of many lines may run over pages line by line.
		for j := range n {
			p := piece{height: lead, keep: j < n-1 && n < 12 || j == n-1 && n < 4 && perColumn <= 12 && i < perColumn-1, draw: func(s *sheet, y float64) {
				for _, cl := range cells {
					if j < len(cl.label) {
						s.text(cl.x, y+lead*0.74, size, false, grey, cl.label[j])
					}
					if j < len(cl.value) {
						s.text(cl.x+label, y+lead*0.74, size, false, black, cl.value[j])
					}
					if j == n-1 {
						s.rule(cl.x, y+lead+0.35, cl.x+width, y+lead+0.35, 0.12, hair)
					}
				}
			}}
			if j == n-1 {
				p.height += 0.7
			}
			if j == 0 && i == 0 {
				p.space = 2
			}
			t.add(p)
		}
	}
}

// fewWrap says whether at most one value in four needs a second line, and none
// a third.
func (t *setter) fewWrap(rows [][2]string, size, width float64) bool {
	wraps := 0
	for _, r := range rows {
		switch n := len(t.faces.regular.wrap(r[1], size, width)); {
		case n > 2:
			return false
		case n > 1:
			wraps++
		}
	}
	return wraps*4 <= len(rows)
}

// caution frames text that must not be overlooked; a long one goes on over
// pages, framed on each.
func (t *setter) caution(b report.Caution) {
	const inner = 4.0
	w := t.paper.width()
	type line struct {
		text string
		style
	}
	var all []line
	head := style{9.5, 4.9, true, alarm}
	if b.Title != "" {
		for _, l := range t.wrap(b.Title, head, w-2*inner-1.5) {
			all = append(all, line{l, head})
		}
	}
	if b.Text != "" {
		for _, l := range t.wrap(b.Text, bodyStyle, w-2*inner-1.5) {
			all = append(all, line{l, bodyStyle})
		}
	}
	for i, l := range all {
		above, below := 0.0, 0.0
		if i == 0 {
			above = 2
		}
		if i == len(all)-1 {
			below = 2
		}
		h := above + l.lead + below
		p := piece{height: h, keep: i < len(all)-1 && (i < 2 || i >= len(all)-3), draw: func(s *sheet, y float64) {
			x := t.paper.left
			s.fill(x, y, w, h, cream)
			s.fill(x, y, 1.5, h, alarm)
			s.rule(x+w, y, x+w, y+h, 0.2, alarm)
			if above > 0 {
				s.rule(x, y, x+w, y, 0.2, alarm)
			}
			if below > 0 {
				s.rule(x, y+h, x+w, y+h, 0.2, alarm)
			}
			s.text(x+1.5+inner, y+above+l.lead*0.76, l.size, l.bold, l.ink, l.text)
		}}
		if i == 0 {
			p.space = 3.5
		}
		t.add(p)
	}
	if len(all) > 0 {
		t.add(piece{height: 1.2})
	}
}

// signatures sets lines to sign on, two abreast, or three where there are
// three, all on one page: the program signs nothing.
func (t *setter) signatures(all []report.Signature) {
	const gap = 8.0
	abreast := 2
	if len(all) == 3 {
		abreast = 3
	}
	wide := (t.paper.width() - gap*float64(abreast-1)) / float64(abreast)
	head, small := style{8.5, 4, true, deep}, style{8.5, 4, false, black}
	for i := 0; i < len(all); i += abreast {
		type box struct{ role, who []string }
		var boxes []box
		n, m := 0, 0
		for _, g := range all[i:min(i+abreast, len(all))] {
			who := g.Name
			if g.Number != "" {
				if who != "" {
					who += ", "
				}
				who += g.Number
			}
			date := "Date:"
			if g.Date != "" {
				date += " " + g.Date
			}
			b := box{t.wrap(g.Role, head, wide), append(t.wrap(who, small, wide), t.wrap(date, small, wide)...)}
			n, m = max(n, len(b.role)), max(m, len(b.who))
			boxes = append(boxes, b)
		}
		top := float64(n)*head.lead + 13
		h := top + 1.5 + float64(m)*small.lead + 2
		t.add(piece{height: h, space: 4, keep: i+abreast < len(all), draw: func(s *sheet, y float64) {
			for k, b := range boxes {
				x := t.paper.left + float64(k)*(wide+gap)
				for j, l := range b.role {
					s.text(x, y+head.lead*(float64(j)+0.76), head.size, true, head.ink, l)
				}
				s.rule(x, y+top, x+wide, y+top, 0.3, black)
				for j, l := range b.who {
					s.text(x, y+top+1.2+small.lead*(float64(j)+0.76), small.size, false, small.ink, l)
				}
			}
		}})
	}
}
