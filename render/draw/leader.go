package draw

import (
	"iter"
	"math"
)

// leads places labels that stand away from what they name, each with a leader:
// off all words, and across as little as can be.
type leads struct {
	*frame
	words *occupied // every label in the drawing's room
	lines []segment // the leaders so far
	holds [][]point // outline that labels better stay within, nil without one

	refused int  // labels in a row that found no place
	full    bool // the sheet has no room for more leaders
}

// mostRefused is how many labels in a row find no place before no more leaders
// are tried; mostLed how many a sheet has before nobody can follow them. The
// worst places come first.
const (
	mostRefused = 12
	mostLed     = 60
)

// directions are those that leaders go in, none of them along an axis.
var directions = func() (all [24]point) {
	for i := range all {
		all[i].y, all[i].x = math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(len(all)))
	}
	return all
}()

// segment is a straight line on paper.
type segment struct{ a, b point }

// leads gathers the words that stand in the room already.
func (f *frame) leads(holds [][]point) *leads {
	l := &leads{frame: f, words: newOccupied(f.taken.area), holds: holds}
	for _, it := range f.scene.Items {
		if w, ok := it.(Label); ok && w.box().meets(f.taken.area) {
			l.words.add(w.box())
		}
	}
	return l
}

// beside is frame's, kept among the words.
func (l *leads) beside(w Label, b rect, gap float64) bool {
	before := len(l.scene.Items)
	if !l.frame.beside(w, b, gap) {
		return false
	}
	for _, it := range l.scene.Items[before:] {
		if w, ok := it.(Label); ok {
			l.words.add(w.box())
		}
	}
	return true
}

// A leader's cost beyond its length, mm: what it would cross or stand outside of.
const (
	acrossMark   = 5.0
	acrossLeader = 12.0
	outsideShape = 4.0
)

// led writes a label at the best free place not farther than most from a mark's
// box, with a line to it; false without one. A leader never crosses words.
func (l *leads) led(w Label, b rect, most float64) bool {
	if l.full {
		return false
	}
	w.Middle, w.X, w.Y = true, 0, 0
	c := b.centre()
	w.Anchor = Start
	rightward := w.box().grow(0.15)
	w.Anchor = End
	leftward := w.box().grow(0.15)
	var best Label
	var line segment
	least := math.Inf(1)
	for far := 2.0; far <= most; far += 1 {
		if far >= least {
			break // any place from here on costs as much by its length alone
		}
		for _, d := range directions {
			sin, cos := d.y, d.x
			from := point{min(max(c.x+cos*1e3, b.x1), b.x2), min(max(c.y+sin*1e3, b.y1), b.y2)}
			if math.Abs(cos) < 0.5 {
				from.x = c.x
			}
			if math.Abs(sin) < 0.5 {
				from.y = c.y
			}
			to := point{from.x + far*cos, from.y + far*sin}
			at := w
			at.X, at.Y, at.Anchor = to.x+math.Copysign(0.3, cos), to.y, Start
			box := rightward
			if cos < 0 {
				at.Anchor, box = End, leftward
			}
			box = box.moved(at.X, at.Y)
			if !l.taken.free(box) || l.marks != nil && l.marks.overlap(box, 1) > 0 {
				continue
			}
			if cost := far + l.cost(segment{from, to}, box, least-far); cost < least {
				best, line, least = at, segment{from, to}, cost
			}
		}
	}
	if math.IsInf(least, 1) || !l.label(best) {
		l.refused++
		l.full = l.refused > mostRefused
		return false
	}
	l.refused = 0
	l.taken.add(best.box().grow(0.15))
	l.words.add(best.box())
	// Seen on dark ground too.
	l.line(Path{Stroke: paper, Width: strong, Class: "leader's ground"}, line.a, line.b)
	l.line(Path{Stroke: best.Paint, Width: fine, Class: "leader"}, line.a, line.b)
	l.lines = append(l.lines, line)
	l.full = len(l.lines) >= mostLed
	keepOff(l.taken, 0.1, line.a, line.b)
	return true
}

// cost is what a leader and its label lie across, infinite across words. One
// that has reached most is not counted to its end.
func (l *leads) cost(s segment, label rect, most float64) float64 {
	cost := 0.0
	if l.holds != nil && !boxInside(l.holds, label.centre(), point{label.width() / 2, label.height() / 2}, 0) {
		cost += outsideShape
	}
	for _, o := range l.lines {
		if s.crosses(o) {
			cost += acrossLeader
		}
	}
	first := true
	for r := range s.boxes(0.05) {
		if cost >= most || l.words.overlap(r, 1) > 0 {
			return math.Inf(1)
		}
		if !first && l.marks != nil {
			cost += acrossMark * float64(l.marks.overlap(r, 1)) / 2
		}
		first = false
	}
	return cost
}

// boxes covers a segment with small boxes along it, from its start on.
func (s segment) boxes(grow float64) iter.Seq[rect] {
	return func(yield func(rect) bool) {
		n := 1
		if math.Abs(s.a.x-s.b.x) > 0.2 && math.Abs(s.a.y-s.b.y) > 0.2 {
			n = int(math.Ceil(math.Hypot(s.a.x-s.b.x, s.a.y-s.b.y)))
		}
		from := s.a
		for i := range n {
			t := float64(i+1) / float64(n)
			to := point{s.a.x + t*(s.b.x-s.a.x), s.a.y + t*(s.b.y-s.a.y)}
			r := rect{x1: min(from.x, to.x), y1: min(from.y, to.y), x2: max(from.x, to.x), y2: max(from.y, to.y)}
			if !yield(r.grow(grow)) {
				return
			}
			from = to
		}
	}
}

// crosses says whether two segments meet.
func (s segment) crosses(o segment) bool {
	side := func(p, q, r point) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) }
	return side(s.a, s.b, o.a)*side(s.a, s.b, o.b) < 0 && side(o.a, o.b, s.a)*side(o.a, o.b, s.b) < 0
}
