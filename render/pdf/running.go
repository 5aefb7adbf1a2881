package pdf

import (
	"strconv"
	"strings"

	"platebook/render/draw"
	"platebook/render/report"
)

// running is the head and foot of every page. They are wrapped: a long name
// makes the head higher. One of more than mostHead letters ends with an
// ellipsis, or no page would have room for anything else; the cover has it
// whole.
type running struct {
	faces                      *faces
	tank, report, status, foot string
	loud                       bool
}

const (
	mostHead   = 400
	headSize   = 7.5
	headLead   = 3.3
	statusSize = 8.5
	statusLead = 4.0
)

func newRunning(f *faces, r report.Running) *running {
	join := func(a, b string) string {
		if a != "" && b != "" {
			a += " · "
		}
		return a + b
	}
	out := &running{faces: f, loud: r.Loud, tank: headed(f, r.Tank), status: f.clean(r.Status)}
	if r.Report != "" {
		out.report = "Report " + headed(f, r.Report)
	}
	if r.Revision != "" {
		out.report = join(out.report, "Revision "+headed(f, r.Revision))
	}
	if r.Hash != "" {
		out.foot = "Input " + f.clean(r.Hash)
	}
	out.foot = join(out.foot, f.clean(r.Date))
	return out
}

// headed is a name as the head has it: on one line, of mostHead letters.
func headed(f *faces, name string) string {
	letters := []rune(strings.Join(strings.Fields(f.clean(name)), " "))
	if len(letters) > mostHead {
		return string(letters[:mostHead-1]) + "…"
	}
	return string(letters)
}

// head sets the head from y downwards between x1 and x2 and gives the y below
// it; without a sheet it only measures.
func (r *running) head(s *sheet, x1, x2, y float64) float64 {
	half := (x2-x1)/2 - 3
	left := r.faces.bold.wrap(r.tank, headSize, half)
	right := r.faces.regular.wrap(r.report, headSize, half)
	n := max(len(left), len(right))
	var status []string
	if r.status != "" {
		status = r.faces.bold.wrap(r.status, statusSize, x2-x1-6)
	}
	if s != nil {
		for i, l := range left {
			s.text(x1, y+headLead*float64(i+1)-0.8, headSize, true, deep, l)
		}
		for i, l := range right {
			s.textRight(x2, y+headLead*float64(i+1)-0.8, headSize, false, grey, l)
		}
	}
	y += float64(n)*headLead + 0.8
	if s != nil {
		s.rule(x1, y, x2, y, 0.35, deep)
	}
	y += 1.4
	if len(status) == 0 {
		return y
	}
	h := float64(len(status))*statusLead + 1.4
	if s != nil {
		k := r.band(s, x1, y, x2-x1, h)
		for i, l := range status {
			s.textMiddle((x1+x2)/2, y+statusLead*float64(i+1)-0.5, statusSize, true, k, l)
		}
	}
	return y + h
}

// band is the ground of the status, dark when it is a caution; it gives the
// colour for letters on it.
func (r *running) band(s *sheet, x, y, w, h float64) ink {
	if r.loud {
		s.fill(x, y, w, h, alarm)
		return white
	}
	s.fill(x, y, w, h, pale)
	return deep
}

// low is the head of a drawing sheet: one line where it fits, to leave the
// drawing the room that its scale asks for.
func (r *running) low(s *sheet, x1, x2, y float64) float64 {
	const gap = 5
	tank := r.faces.bold.width(r.tank, headSize)
	rep := r.faces.regular.width(r.report, headSize)
	status := r.faces.bold.width(r.status, statusSize) + 8
	if r.status == "" {
		status = 0
	}
	side := max(tank, rep) + gap
	if 2*side+status > x2-x1 {
		return r.head(s, x1, x2, y)
	}
	if s != nil {
		s.text(x1, y+3.6, headSize, true, deep, r.tank)
		s.textRight(x2, y+3.6, headSize, false, grey, r.report)
		if r.status != "" {
			mid := (x1 + x2) / 2
			k := r.band(s, mid-status/2, y, status, 5)
			s.textMiddle(mid, y+3.6, statusSize, true, k, r.status)
		}
		s.rule(x1, y+5.3, x2, y+5.3, 0.35, deep)
	}
	return y + 5.5
}

const (
	headTop  = 9.0 // of the head on a running page, from the page's edge
	sheetTop = 4.6 // on a drawing sheet
)

// draw sets head and foot on a page.
func (r *running) draw(s *sheet, p paper, page, pages int) {
	x1, x2, foot := p.left, s.w-p.right, s.h-12.5
	if s.drawing {
		x1, x2, foot = draw.MarginSide, s.w-draw.MarginSide, s.h-9.4
		r.low(s, x1, x2, sheetTop)
	} else {
		r.head(s, x1, x2, headTop)
	}
	s.rule(x1, foot, x2, foot, 0.2, hair)
	s.text(x1, foot+3.6, headSize, false, grey, r.foot)
	s.textRight(x2, foot+3.6, headSize, false, grey, "Page "+strconv.Itoa(page)+" of "+strconv.Itoa(pages))
}
