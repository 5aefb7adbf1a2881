package pdf

import (
	"strconv"

	"platebook/render/report"
)

// running is the head and foot of every page, wrapped once: a long name makes
// the head higher, it is never cut.
type running struct {
	left, right []string
	status      []string
	loud        bool
	foot        [2]string
	height      float64 // of the head
}

const (
	headSize   = 7.5
	headLead   = 3.3
	statusSize = 8.5
	statusLead = 4.0
)

func newRunning(f *faces, r report.Running, p paper) running {
	half := p.width()/2 - 3
	out := running{loud: r.Loud}
	out.left = f.bold.wrap(f.clean(r.Tank), headSize, half)
	right := ""
	if r.Report != "" {
		right = "Report " + r.Report
	}
	if r.Revision != "" {
		if right != "" {
			right += " · "
		}
		right += "Revision " + r.Revision
	}
	out.right = f.regular.wrap(f.clean(right), headSize, half)
	n := float64(max(len(out.left), len(out.right)))
	out.height = n*headLead + 2.2
	if r.Status != "" {
		out.status = f.bold.wrap(f.clean(r.Status), statusSize, p.width()-6)
		out.height += float64(len(out.status))*statusLead + 2.4
	}
	out.height += 5
	out.foot[0] = f.clean(r.Hash)
	if out.foot[0] != "" {
		out.foot[0] = "Input " + out.foot[0]
	}
	if r.Date != "" {
		if out.foot[0] != "" {
			out.foot[0] += " · "
		}
		out.foot[0] += f.clean(r.Date)
	}
	return out
}

// draw sets head and foot on a page, which may be turned.
func (r running) draw(s *sheet, p paper, page, pages int) {
	x1, x2 := p.left, s.w-p.right
	y := 9.0
	for i, l := range r.left {
		s.text(x1, y+headLead*float64(i+1)-0.8, headSize, true, deep, l)
	}
	for i, l := range r.right {
		s.textRight(x2, y+headLead*float64(i+1)-0.8, headSize, false, grey, l)
	}
	y += float64(max(len(r.left), len(r.right)))*headLead + 0.8
	s.rule(x1, y, x2, y, 0.35, deep)
	y += 1.4
	if len(r.status) > 0 {
		h := float64(len(r.status))*statusLead + 1.4
		c := deep
		if r.loud {
			s.fill(x1, y, x2-x1, h, alarm)
			c = white
		} else {
			s.fill(x1, y, x2-x1, h, pale)
		}
		for i, l := range r.status {
			s.textMiddle((x1+x2)/2, y+statusLead*float64(i+1)-0.5, statusSize, true, c, l)
		}
	}
	y = s.h - 12.5
	s.rule(x1, y, x2, y, 0.2, hair)
	s.text(x1, y+3.8, headSize, false, grey, r.foot[0])
	s.textRight(x2, y+3.8, headSize, false, grey, "Page "+strconv.Itoa(page)+" of "+strconv.Itoa(pages))
}
