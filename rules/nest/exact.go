package nest

import "math"

// How far the exact solution goes: choices of pieces, and pairs of them.
const (
	mostChoices = 4096
	mostPairs   = 540_000
	fewPairs    = 20_000 // worth it even where other ways reach the bound
	mostOffcuts = 400_000
)

// choices is every choice of pieces with the smallest blocks that hold it: what
// guillotine cuts can part from a block is two blocks side by side.
type choices struct {
	kinds  []kind
	step   []int // mixed radix of the counts
	blocks [][]block
}

// block is a rectangle that holds a choice of pieces.
type block struct {
	w, h   int64
	a, b   int32 // the choices it is put together from, -1 for a single piece
	ai, bi int32 // their blocks
	beside bool  // b stands beside a, else above
	turned bool  // of a single piece
}

// exact solves a list of few pieces, or few different ones, completely. ok is
// false when it has more pairs of choices than most.
func (j *job) exact(most int) (packing, bool) {
	c := &choices{kinds: j.kinds()}
	n, pairs := 1, 1
	for _, k := range c.kinds {
		c.step = append(c.step, n)
		m := len(k.items)
		n *= m + 1
		pairs *= (m + 1) * (m + 2) / 2
		if n > mostChoices || pairs > most {
			return packing{}, false
		}
	}
	c.blocks = make([][]block, n)
	w, h := j.envelope()
	for s := 1; s < n; s++ {
		c.fill(j, s, w, h)
	}
	return j.cover(c, n-1)
}

func (c *choices) count(s, kind int) int {
	s /= c.step[kind]
	return s % (len(c.kinds[kind].items) + 1)
}

// parts visits each split of a choice into two, each once.
func (c *choices) parts(s int, visit func(t int) bool) {
	var walk func(kind, t int) bool
	walk = func(kind, t int) bool {
		if kind < 0 {
			return t == 0 || visit(t)
		}
		for k := 0; k <= c.count(s, kind); k++ {
			if !walk(kind-1, t+k*c.step[kind]) {
				return false
			}
		}
		return true
	}
	walk(len(c.kinds)-1, 0)
}

func (c *choices) fill(j *job, s int, w, h int64) {
	for k, kind := range c.kinds {
		if s != c.step[k] {
			continue
		}
		it := j.items[kind.first]
		c.add(s, block{w: it.w, h: it.h, a: -1, b: -1}, w, h)
		if it.turn {
			c.add(s, block{w: it.h, h: it.w, a: -1, b: -1, turned: true}, w, h)
		}
		return
	}
	c.parts(s, func(t int) bool {
		u := s - t
		if t < u || u == 0 {
			return true
		}
		for ai := range c.blocks[t] {
			for bi := range c.blocks[u] {
				a, b := &c.blocks[t][ai], &c.blocks[u][bi]
				put := block{a: int32(t), b: int32(u), ai: int32(ai), bi: int32(bi)}
				put.w, put.h, put.beside = a.w+b.w, max(a.h, b.h), true
				c.add(s, put, w, h)
				put.w, put.h, put.beside = max(a.w, b.w), a.h+b.h, false
				c.add(s, put, w, h)
			}
		}
		return true
	})
}

// add keeps a block that no other one is within.
func (c *choices) add(s int, b block, w, h int64) {
	if b.w > w || b.h > h {
		return
	}
	list := c.blocks[s]
	for i := range list {
		if list[i].w <= b.w && list[i].h <= b.h {
			return
		}
	}
	kept := list[:0]
	for _, o := range list {
		if o.w < b.w || o.h < b.h {
			kept = append(kept, o)
		}
	}
	c.blocks[s] = append(kept, b)
}

func (c *choices) fits(s int, b bin) int {
	for i := range c.blocks[s] {
		if c.blocks[s][i].w <= b.w && c.blocks[s][i].h <= b.h {
			return i
		}
	}
	return -1
}

// cover parts all pieces into choices that each fit a sheet: fewest sheets,
// least area, then the largest offcut on one of them.
func (j *job) cover(c *choices, all int) (packing, bool) {
	type cost struct {
		sheets int
		area   float64
		took   int
		stock  int
	}
	best := make([]cost, all+1)
	for s := 1; s <= all; s++ {
		best[s].sheets = math.MaxInt32
		c.parts(s, func(t int) bool {
			rest := best[s-t]
			if rest.sheets == math.MaxInt32 {
				return true
			}
			for k := len(j.sheets) - 1; k >= 0; k-- {
				if c.fits(t, j.sheets[k]) < 0 {
					continue
				}
				n, a := rest.sheets+1, rest.area+j.sheets[k].area()
				if n < best[s].sheets || (n == best[s].sheets && a < best[s].area*(1-1e-12)) {
					best[s] = cost{n, a, t, k}
				}
				break
			}
			return true
		})
	}
	if best[all].sheets == math.MaxInt32 {
		return packing{}, false
	}
	var first roomy
	if !j.rules.Count {
		first = j.roomiest(c, all, func(t, k int) bool {
			rest := best[all-t]
			return rest.sheets+1 == best[all].sheets && rest.area+j.sheets[k].area() <= best[all].area*(1+1e-12)
		})
	}
	var p packing
	next := make([]int, len(c.kinds))
	s := all
	if first.took > 0 {
		p.bins = append(p.bins, j.sheets[first.stock])
		for _, b := range first.blocks {
			j.lay(c, &p, b.choice, b.block, box{b.x, b.y, 0, 0}, next)
		}
		s -= first.took
	}
	for s > 0 {
		b := best[s]
		p.bins = append(p.bins, j.sheets[b.stock])
		j.lay(c, &p, b.took, c.fits(b.took, j.sheets[b.stock]), box{}, next)
		s -= b.took
	}
	return p, true
}

// lay writes the pieces of a block into the last bin.
func (j *job) lay(c *choices, p *packing, s, n int, at box, next []int) {
	b := c.blocks[s][n]
	if b.a < 0 {
		for k, kind := range c.kinds {
			if s == c.step[k] {
				p.at = append(p.at, spot{kind.items[next[k]], len(p.bins) - 1, at.x, at.y, b.w, b.h})
				next[k]++
				return
			}
		}
	}
	j.lay(c, p, int(b.a), int(b.ai), at, next)
	a := c.blocks[b.a][b.ai]
	if b.beside {
		at.x += a.w
	} else {
		at.y += a.h
	}
	j.lay(c, p, int(b.b), int(b.bi), at, next)
}

// strip is a block cut off a sheet, and where it stands.
type strip struct {
	choice, block int
	x, y          int64
}

type roomy struct {
	took, stock int
	area        float64
	blocks      []strip
}

// roomiest finds the choice of pieces that leaves the largest offcut on a sheet
// of its own while the rest still needs no more than it must: strips that hold
// all pieces are cut off until one rectangle is left.
func (j *job) roomiest(c *choices, all int, may func(t, stock int) bool) roomy {
	var best roomy
	kerf, least := up(j.rules.Kerf), down(j.rules.Offcut)
	nodes := 0
	var strips []strip
	var cut func(s int, free box, t, k int)
	cut = func(s int, free box, t, k int) {
		if nodes++; nodes > mostOffcuts {
			return
		}
		w, h := free.w-kerf, free.h-kerf
		if w <= 0 || h <= 0 || min(w, h) < least || float64(w)*float64(h) <= best.area*(1+1e-12) {
			return
		}
		if s == 0 {
			best = roomy{took: t, stock: k, area: float64(w) * float64(h), blocks: append([]strip(nil), strips...)}
			return
		}
		if free.area()-c.area(j, s) <= best.area {
			return
		}
		try := func(u int) bool {
			for n := range c.blocks[u] {
				b := c.blocks[u][n]
				if b.w > free.w || b.h > free.h {
					continue
				}
				strips = append(strips, strip{u, n, free.x, free.y})
				cut(s-u, box{free.x + b.w, free.y, free.w - b.w, free.h}, t, k)
				cut(s-u, box{free.x, free.y + b.h, free.w, free.h - b.h}, t, k)
				strips = strips[:len(strips)-1]
			}
			return nodes <= mostOffcuts
		}
		try(s)
		c.parts(s, func(u int) bool { return u == s || try(u) })
	}
	c.parts(all, func(t int) bool {
		for k := range j.sheets {
			if may(t, k) && c.fits(t, j.sheets[k]) >= 0 {
				cut(t, box{0, 0, j.sheets[k].w, j.sheets[k].h}, t, k)
			}
		}
		return true
	})
	return best
}

func (c *choices) area(j *job, s int) float64 {
	var a float64
	for k, kind := range c.kinds {
		a += float64(c.count(s, k)) * j.items[kind.first].area
	}
	return a
}
