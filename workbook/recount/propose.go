package recount

import (
	"math"
	"slices"

	"platebook/workbook/invented"
)

// Patch is a proposed patch in plan, on a floor whose plates lie along the
// plan's axes and away from the shell.
type Patch struct {
	Plate string
	Box   invented.Rect
	of    []int // indications, in the order of the sheet
	raw   invented.Rect
}

// Proposal is what the method's section 10 proposes over some indications:
// steps 1, 2, 3 and 5. It is no use near the shell or on a ring. settled is
// false when a patch did not come to rest within ten rounds.
type Proposal struct {
	Patches  []Patch
	Replaced []string
	Area     float64 // m², each place once
	Settled  bool
}

// Steel is how many plates have repairs, and the mass of the blanks of the
// patches, all of one thickness, kg. A patch over places of several plates is a
// repair of one of them: of which, the method does not say.
func (p *Proposal) Steel(t *invented.Tank, thickness float64) (least, most int, mass float64) {
	sure, any := map[string]bool{}, map[string]bool{}
	for _, q := range p.Patches {
		own := map[string]bool{}
		for _, i := range q.of {
			own[t.Indications[i].Word("Plate")] = true
		}
		for label := range own {
			any[label] = true
			sure[label] = sure[label] || len(own) == 1
		}
		mass += 7.85 * (q.Box.X2 - q.Box.X1) * (q.Box.Y2 - q.Box.Y1) * thickness / 1e6
	}
	for _, label := range p.Replaced {
		sure[label], any[label] = true, true
	}
	for _, yes := range sure {
		if yes {
			least++
		}
	}
	return least, len(any), mass
}

// weld is a seam strip, crossed along x where it is upright, or an old patch.
type weld struct {
	invented.Rect
	upright, patch bool
}

type proposer struct {
	*count
	welds []weld
	nets  map[string]float64
	rest  bool
}

// Propose shapes the repairs over the indications of these rows.
func Propose(t *invented.Tank, need []int) Proposal {
	c := &count{t: t, plan: invented.Lay(t)}
	p := &proposer{count: c, nets: netAreas(c.plan), rest: true}
	for i, a := range c.plan.Order {
		for _, b := range c.plan.Order[i+1:] {
			p.seam(c.plan.Plates[a].Rect, c.plan.Plates[b].Rect)
		}
	}
	for _, q := range t.Patches {
		p.welds = append(p.welds, weld{Rect: p.boxAt(q), patch: true})
	}
	gone := map[string]bool{}
	for {
		list := p.merged(need, gone)
		if !p.pastPatching(list, gone) {
			out := Proposal{Patches: list, Settled: p.rest}
			for _, label := range c.plan.Order {
				if gone[label] {
					out.Replaced = append(out.Replaced, label)
					out.Area += p.nets[label]
				}
			}
			out.Area += union(list) - p.over(list, out.Replaced)
			return out
		}
	}
}

func (p *proposer) size(name string, standard float64) float64 {
	if v, ok := p.t.Criteria[name].(float64); ok {
		return v
	}
	return standard
}

func (p *proposer) boxAt(r invented.Row) invented.Rect {
	at := p.plan.Plates[r.Word("Plate")].Rect
	x, y, l, w := at.X1+r.Number("X"), at.Y1+r.Number("Y"), r.Or("Length", 25)/2, r.Or("Width", 25)/2
	return invented.Rect{X1: x - l, Y1: y - w, X2: x + l, Y2: y + w}
}

// seam notes the lap or butt of two plates; what diagonal neighbours share is
// part of other seams.
func (p *proposer) seam(a, b invented.Rect) {
	s := invented.Rect{X1: max(a.X1, b.X1), Y1: max(a.Y1, b.Y1), X2: min(a.X2, b.X2), Y2: min(a.Y2, b.Y2)}
	dx, dy := s.X2-s.X1, s.Y2-s.Y1
	if dx > -1e-6 && dy > -1e-6 && max(dx, dy) > max(p.plan.Lap, 25)+1e-6 {
		p.welds = append(p.welds, weld{Rect: s, upright: dy > dx})
	}
}

func between(a, b invented.Rect) float64 {
	return math.Hypot(max(0, a.X1-b.X2, b.X1-a.X2), max(0, a.Y1-b.Y2, b.Y1-a.Y2))
}

func atLeast(b invented.Rect, length, width float64) invented.Rect {
	x, y := (b.X1+b.X2)/2, (b.Y1+b.Y2)/2
	l, w := max(length, b.X2-b.X1)/2, max(width, b.Y2-b.Y1)/2
	return invented.Rect{X1: x - l, Y1: y - w, X2: x + l, Y2: y + w}
}

// shape is steps 1 and 2.
func (p *proposer) shape(raw invented.Rect) invented.Rect {
	overlap, least, clear := p.size("Patch overlap", 50), p.size("Patch minimum", 150), p.size("Patch weld clearance", 50)
	up := func(v float64) float64 {
		if step := p.size("Patch size step", 10); step > 0 {
			return math.Ceil(v/step-1e-9) * step
		}
		return v
	}
	b := atLeast(raw, up(max(raw.X2-raw.X1+2*overlap, least)), up(max(raw.Y2-raw.Y1+2*overlap, least)))
	first := b
	carry := func(lo, hi *float64, from, to float64) {
		l, h := *lo, *hi
		if h > from-clear+1e-6 && h < to+clear-1e-6 {
			*hi = to + clear
		}
		if l < to+clear-1e-6 && l > from-clear+1e-6 {
			*lo = from - clear
		}
	}
	for range 10 { // each round is over what stood near as it began
		was, near := b, false
		for _, w := range p.welds {
			if d := between(was, w.Rect); d >= clear-1e-6 && (clear > 0 || d > 0) {
				continue
			}
			near = true
			switch {
			case w.patch:
				b = invented.Rect{X1: min(b.X1, w.X1-clear), Y1: min(b.Y1, w.Y1-clear), X2: max(b.X2, w.X2+clear), Y2: max(b.Y2, w.Y2+clear)}
			case w.upright:
				carry(&b.X1, &b.X2, w.X1, w.X2)
			default:
				carry(&b.Y1, &b.Y2, w.Y1, w.Y2)
			}
		}
		if near {
			over := p.size("Patch minimum over weld", 300)
			b = atLeast(b, over, over)
		}
		if max(math.Abs(b.X1-was.X1), math.Abs(b.X2-was.X2), math.Abs(b.Y1-was.Y1), math.Abs(b.Y2-was.Y2)) < 1e-6 {
			return b
		}
	}
	p.rest = false
	return first
}

// merged is step 3, by looking at every pair every time.
func (p *proposer) merged(need []int, gone map[string]bool) []Patch {
	var list []Patch
	for _, i := range need {
		r := p.t.Indications[i]
		if label := r.Word("Plate"); !gone[label] {
			list = append(list, Patch{Plate: label, of: []int{i}, raw: p.boxAt(r), Box: p.shape(p.boxAt(r))})
		}
	}
	gap := p.size("Patch gap", 50)
	for {
		a, b, best := -1, -1, math.Inf(1)
		for i := range list { // in the order of their first indications
			for k := i + 1; k < len(list); k++ {
				d := between(list[i].Box, list[k].Box)
				if d < 1e-6 {
					d = 0
				}
				if (d < gap-1e-6 || d == 0) && d < best {
					a, b, best = i, k, d
				}
			}
		}
		if a < 0 {
			return list
		}
		one, two := list[a], list[b]
		one.of = append(slices.Clone(one.of), two.of...)
		one.raw = invented.Rect{X1: min(one.raw.X1, two.raw.X1), Y1: min(one.raw.Y1, two.raw.Y1), X2: max(one.raw.X2, two.raw.X2), Y2: max(one.raw.Y2, two.raw.Y2)}
		one.Box = p.shape(one.raw)
		list[a] = one
		list = slices.Delete(list, b, b+1)
	}
}

// pastPatching is step 5: it marks plates, and says whether there are new ones.
func (p *proposer) pastPatching(list []Patch, gone map[string]bool) bool {
	found := false
	for _, label := range p.plan.Order {
		n := 0
		for _, q := range list {
			if q.Plate == label {
				n++
			}
		}
		if gone[label] || n == 0 {
			continue
		}
		if n >= 6 || 100*p.over(list, []string{label})/p.nets[label] > 30+1e-9 {
			gone[label], found = true, true
		}
	}
	return found
}

// over is the area of patches, which stand apart, on the net shapes of plates, m².
func (p *proposer) over(list []Patch, plates []string) float64 {
	at := 0.0
	for _, label := range plates {
		gone := goneOf(p.plan, label)
		for _, q := range list {
			if c, ok := p.plan.Plates[label].Rect.Overlap(q.Box); ok {
				at += kept(c, gone, p.plan.Rim) / 1e6
			}
		}
	}
	return at
}

// union is the area of boxes, m², each place once, by all their lines.
func union(list []Patch) float64 {
	var xs, ys []float64
	for _, q := range list {
		xs, ys = append(xs, q.Box.X1, q.Box.X2), append(ys, q.Box.Y1, q.Box.Y2)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	s := 0.0
	for i := 1; i < len(xs); i++ {
		for k := 1; k < len(ys); k++ {
			x, y := (xs[i-1]+xs[i])/2, (ys[k-1]+ys[k])/2
			for _, q := range list {
				if x > q.Box.X1 && x < q.Box.X2 && y > q.Box.Y1 && y < q.Box.Y2 {
					s += (xs[i] - xs[i-1]) * (ys[k] - ys[k-1])
					break
				}
			}
		}
	}
	return s / 1e6
}
