package pdf

import (
	"platebook/render/report"
)

// cover sets the first page: firm, what the report is, its particulars, and
// lines to sign on. Long texts are set closer; what does not fit then goes on
// on the next page.
func (t *setter) cover(c report.Cover) {
	const airy, close = 1, 0.25
	t.coverPage(c, airy)
	if len(t.sheets) > 1 {
		t.sheets, t.page = nil, nil
		t.coverPage(c, close)
	}
}

// coverPage sets the cover with its gaps at a share of what they may be.
func (t *setter) coverPage(c report.Cover, gaps float64) {
	w := t.paper.width()
	t.letterhead(c)
	t.add(piece{height: 20 * gaps})
	st := style{23, 10, true, deep}
	for _, l := range t.wrap(c.Heading, st, w) {
		t.add(piece{height: st.lead, keep: true, draw: func(s *sheet, y float64) {
			s.text(t.paper.left, y+st.lead*0.78, st.size, true, deep, l)
		}})
	}
	t.add(piece{height: 4, keep: true, draw: func(s *sheet, y float64) {
		s.fill(t.paper.left, y+1.6, 32, 1.1, deep)
	}})
	t.status(c.Status)
	t.add(piece{height: 7 * gaps})
	t.particulars(c.Lines, 10.5, 5.6+0.8*gaps)
	if len(c.Signatures) > 0 {
		t.add(piece{height: 9 * gaps})
		t.signatures(c.Signatures)
	}
	if c.Note != "" {
		t.lines(t.wrap(c.Note, smallStyle, w), t.paper.left, smallStyle, 7*gaps, false)
	}
	t.endPage()
}

// strip is the cover of a short list: the same words above the first section.
func (t *setter) strip(c report.Cover) {
	t.letterhead(c)
	st := style{16, 7.4, true, deep}
	for i, l := range t.wrap(c.Heading, st, t.paper.width()) {
		p := piece{height: st.lead, keep: true, draw: func(s *sheet, y float64) {
			s.text(t.paper.left, y+st.lead*0.78, st.size, true, deep, l)
		}}
		if i == 0 {
			p.space = 4
		}
		t.add(p)
	}
	if c.Status != t.report.Running.Status {
		t.status(c.Status)
	}
	t.pairs(c.Lines)
	if len(c.Signatures) > 0 {
		t.signatures(c.Signatures)
	}
	if c.Note != "" {
		t.lines(t.wrap(c.Note, smallStyle, t.paper.width()), t.paper.left, smallStyle, 3, false)
	}
	t.flush()
}

func (t *setter) letterhead(c report.Cover) {
	w := t.paper.width()
	logo, lw, lh := c.Logo, 0.0, 0.0
	if logo != nil && (check(logo) != "" || logo.Width <= 0 || logo.Height <= 0) {
		logo = nil
	}
	if logo != nil {
		const pixel = 25.4 / 72 // mm: larger ones would show
		k := min(45/float64(logo.Width), 20/float64(logo.Height), pixel)
		lw, lh = float64(logo.Width)*k, float64(logo.Height)*k
	}
	firm, small := style{12.5, 5.8, true, black}, style{8.5, 4.1, false, grey}
	inner := w
	if logo != nil {
		inner -= lw + 8
	}
	names := t.wrap(c.Firm, firm, inner)
	var under []string
	for _, l := range []string{c.FirmAddress, c.FirmNumber} {
		if l != "" {
			under = append(under, t.wrap(l, small, inner)...)
		}
	}
	if c.Firm == "" && len(under) == 0 && logo == nil {
		return
	}
	h := max(lh, float64(len(names))*firm.lead+float64(len(under))*small.lead)
	t.add(piece{height: h + 2, draw: func(s *sheet, y float64) {
		for i, l := range names {
			s.text(t.paper.left, y+firm.lead*(float64(i)+0.76), firm.size, true, black, l)
		}
		base := y + float64(len(names))*firm.lead
		for i, l := range under {
			s.text(t.paper.left, base+small.lead*(float64(i)+0.76), small.size, false, grey, l)
		}
		if logo != nil {
			s.picture(logo, t.paper.left+w-lw, y, lw, lh)
		}
	}})
}

// status is the report's standing in a frame: dark when it is a caution.
func (t *setter) status(text string) {
	if text == "" {
		return
	}
	const size, lead = 12.0, 5.6
	w := t.paper.width()
	lines := t.faces.bold.wrap(t.faces.clean(text), size, w-12)
	h := float64(len(lines))*lead + 5
	t.add(piece{height: h, space: 5, draw: func(s *sheet, y float64) {
		k := deep
		if t.report.Running.Loud {
			k = white
			s.fill(t.paper.left, y, w, h, alarm)
		} else {
			s.frame(t.paper.left, y, w, h, 0.5, deep)
		}
		for i, l := range lines {
			s.text(t.paper.left+6, y+2.5+lead*(float64(i)+0.74), size, true, k, l)
		}
	}})
}

func (t *setter) particulars(rows [][2]string, size, lead float64) {
	w := t.paper.width()
	label := 0.0
	for _, r := range rows {
		label = max(label, t.faces.regular.width(t.faces.clean(r[0]), size))
	}
	label = min(label+8, w*0.4)
	for _, r := range rows {
		names := t.faces.regular.wrap(t.faces.clean(r[0]), size, label-4)
		values := t.faces.regular.wrap(t.faces.clean(r[1]), size, w-label)
		n := max(len(names), len(values))
		for j := range n {
			step := lead * 0.75
			if j == n-1 {
				step = lead
			}
			t.add(piece{height: step, keep: j < n-1 && n < 12, draw: func(s *sheet, y float64) {
				if j < len(names) {
					s.text(t.paper.left, y+size*pt*0.98, size, false, grey, names[j])
				}
				if j < len(values) {
					s.text(t.paper.left+label, y+size*pt*0.98, size, false, black, values[j])
				}
				if j == n-1 {
					s.rule(t.paper.left, y+lead-1.1, t.paper.left+w, y+lead-1.1, 0.12, hair)
				}
			}})
		}
	}
}
