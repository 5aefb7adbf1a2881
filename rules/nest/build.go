package nest

import "sort"

// spot is an item placed in a bin, kerf included.
type spot struct {
	item, bin  int
	x, y, w, h int64
}

// packing is bins with their items; left are the items that found no place.
type packing struct {
	bins []bin
	at   []spot
	left []int
}

func (p *packing) area() float64 {
	var a float64
	for _, b := range p.bins {
		a += b.area()
	}
	return a
}

// supply is how many of each stock size may be opened, in the order in which
// they are tried. Indices are those of job.sheets.
type supply struct {
	order []int
	count []int // by stock, not by place in order
}

// room is the area between the trims of a supply, in square ticks.
func (j *job) room(s supply) float64 {
	var a float64
	for i, c := range s.count {
		a += float64(c) * float64(j.sheets[i].w) * float64(j.sheets[i].h)
	}
	return a
}

// supplyArea is the area of the sheets of a supply as they are bought.
func (j *job) supplyArea(s supply) float64 {
	var a float64
	for i, c := range s.count {
		a += float64(c) * j.sheets[i].area()
	}
	return a
}

// Ways to choose among free places, and to cut what is left of one.
const (
	leastArea = iota
	shortSide
	longSide
	firstBin
	scores
)

const (
	cutShorter = iota
	cutLonger
	cutForLargest
	cutEven
	cutAlong
	cutAcross
	splits
)

// builder keeps its buffers between builds.
type builder struct {
	free  []freeBox
	count []int
}

type freeBox struct {
	box
	bin int
}

// build places items in the given order, each into the free place that suits it
// best, opening a bin only when no open one has room. Only what was free and is
// cut in two stays free, so every packing is a guillotine packing. ways limits
// the turning of single items: 0 free, 1 as given, 2 turned.
func (j *job) build(b *builder, s supply, order []int, score, split int, ways []uint8, into *packing) {
	into.bins, into.at, into.left = into.bins[:0], into.at[:0], into.left[:0]
	b.free = b.free[:0]
	b.count = append(b.count[:0], s.count...)
	for _, i := range order {
		it := &j.items[i]
		way := uint8(0)
		if ways != nil && it.turn {
			way = ways[i]
		}
		n, turned := j.choose(b, it, score, way)
		if n < 0 {
			k := j.opening(b, s, it)
			if k < 0 {
				into.left = append(into.left, i)
				continue
			}
			b.count[k]--
			b.free = append(b.free, freeBox{box{0, 0, j.sheets[k].w, j.sheets[k].h}, len(into.bins)})
			into.bins = append(into.bins, j.sheets[k])
			if n, turned = j.choose(b, it, score, way); n < 0 {
				n, turned = j.choose(b, it, score, 0)
			}
		}
		f := b.free[n]
		w, h := it.w, it.h
		if turned {
			w, h = h, w
		}
		into.at = append(into.at, spot{i, f.bin, f.x, f.y, w, h})
		right, above := halves(f.box, w, h, split)
		b.free[n] = b.free[len(b.free)-1]
		b.free = b.free[:len(b.free)-1]
		if right.w > 0 && right.h > 0 {
			b.free = append(b.free, freeBox{right, f.bin})
		}
		if above.w > 0 && above.h > 0 {
			b.free = append(b.free, freeBox{above, f.bin})
		}
	}
}

// opening is the stock size to open for an item, -1 when none is left.
func (j *job) opening(b *builder, s supply, it *item) int {
	for _, k := range s.order {
		if b.count[k] == 0 {
			continue
		}
		if f := j.sheets[k]; (it.w <= f.w && it.h <= f.h) || (it.turn && it.h <= f.w && it.w <= f.h) {
			return k
		}
	}
	return -1
}

func (j *job) choose(b *builder, it *item, score int, way uint8) (best int, turned bool) {
	best = -1
	var key, tie int64
	j.work += len(b.free)
	for n := range b.free {
		f := &b.free[n]
		for t := range 2 {
			w, h := it.w, it.h
			if t == 1 {
				if !it.turn {
					break
				}
				w, h = h, w
			}
			if (t == 0 && way == 2) || (t == 1 && way == 1) || w > f.w || h > f.h {
				continue
			}
			dw, dh := f.w-w, f.h-h
			var a, c int64
			switch score {
			case leastArea:
				a, c = f.w*f.h-w*h, min(dw, dh)
			case shortSide:
				a, c = min(dw, dh), max(dw, dh)
			case longSide:
				a, c = max(dw, dh), min(dw, dh)
			case firstBin:
				a, c = int64(f.bin), min(dw, dh)
			}
			if best < 0 || a < key || (a == key && (c < tie || (c == tie && before(f, &b.free[best])))) {
				best, turned, key, tie = n, t == 1, a, c
			}
		}
	}
	return best, turned
}

func before(a, b *freeBox) bool {
	if a.bin != b.bin {
		return a.bin < b.bin
	}
	if a.y != b.y {
		return a.y < b.y
	}
	return a.x < b.x
}

// halves cuts what a piece in the lower left corner leaves of a place.
func halves(f box, w, h int64, split int) (right, above box) {
	dw, dh := f.w-w, f.h-h
	var tall bool // the right part keeps the full height
	switch split {
	case cutShorter:
		tall = dw >= dh
	case cutLonger:
		tall = dw < dh
	case cutForLargest:
		tall = max(float64(dw)*float64(f.h), float64(w)*float64(dh)) >= max(float64(dw)*float64(h), float64(f.w)*float64(dh))
	case cutEven:
		tall = max(float64(dw)*float64(f.h), float64(w)*float64(dh)) < max(float64(dw)*float64(h), float64(f.w)*float64(dh))
	case cutAlong:
		tall = false
	case cutAcross:
		tall = true
	}
	if tall {
		return box{f.x + w, f.y, dw, f.h}, box{f.x, f.y + h, w, dh}
	}
	return box{f.x + w, f.y, dw, h}, box{f.x, f.y + h, f.w, dh}
}

// orders are the sequences in which items are tried first: largest first by
// several measures.
func (j *job) orders() [][]int {
	by := []func(a, b *item) bool{
		func(a, b *item) bool { return a.area > b.area },
		func(a, b *item) bool { return max(a.w, a.h) > max(b.w, b.h) },
		func(a, b *item) bool { return min(a.w, a.h) > min(b.w, b.h) },
		func(a, b *item) bool { return a.w > b.w },
		func(a, b *item) bool { return a.h > b.h },
		func(a, b *item) bool { return a.w+a.h > b.w+b.h },
	}
	var out [][]int
	for _, less := range by {
		o := make([]int, len(j.items))
		for i := range o {
			o[i] = i
		}
		sort.SliceStable(o, func(x, y int) bool {
			a, b := &j.items[o[x]], &j.items[o[y]]
			if less(a, b) != less(b, a) {
				return less(a, b)
			}
			return a.area > b.area
		})
		out = append(out, o)
	}
	return out
}
