package pdf

import "platebook/render/draw"

// piece is a strip of the page that is never broken.
type piece struct {
	height float64
	space  float64 // before it, not at the top of a page
	keep   bool    // stays with the next piece
	draw   func(s *sheet, y float64)
	head   *piece // repeated above the piece when it starts a page
	place  *place // where it comes to lie, for bookmarks and contents
	title  string // of a heading, for a drawing sheet that follows it
}

// flow fills pages with pieces from the top.
type flow struct {
	faces    *faces
	pictures *pictures
	paper    paper
	sheets   []*sheet
	y        float64
	page     *sheet // the page of text last begun
	open     bool   // it is still being filled
	pending  []piece
	held     [][]piece // drawings that wait for the next page
	gaps     float64   // the share that the room between pieces has of what it may be
}

func newFlow(f *faces, pics *pictures, p paper) *flow {
	return &flow{faces: f, pictures: pics, paper: p, gaps: 1}
}

// paper is a page's size and the frame text may fill, in millimetres.
type paper struct {
	w, h                     float64
	left, right, top, bottom float64 // margins; the head and foot lie in them
}

func newPaper(letter bool, r *running) paper {
	size := draw.A4
	if letter {
		size = draw.Letter
	}
	p := paper{left: 20, right: 17, bottom: 18}
	p.w, p.h = size.Size()
	p.top = r.head(nil, p.left, p.w-p.right, headTop) + 5
	return p
}

func (p paper) width() float64 { return p.w - p.left - p.right }
func (p paper) body() float64  { return p.h - p.top - p.bottom }

func (f *flow) sheet(w, h float64) *sheet {
	s := &sheet{w: w, h: h, faces: f.faces, pictures: f.pictures}
	f.sheets = append(f.sheets, s)
	return s
}

func (f *flow) newPage() *sheet {
	f.open, f.y = true, f.paper.top
	before := f.page
	f.page = f.sheet(f.paper.w, f.paper.h)
	if before != nil {
		f.page.runs = make([]run, 0, len(before.runs)+len(before.runs)/8) // a page is much like the one before
	}
	return f.page
}

// endPage makes what follows start on a new page.
func (f *flow) endPage() {
	f.release()
	f.open = false
}

// float sets a drawing with its caption where it is. Where the page has no
// room for it but much for text, the drawing waits for the next page and text
// goes on before it, so that no page stays half empty.
func (f *flow) float(chain []piece) {
	const much = 0.15 // of a page
	for i, p := range chain {
		chain[i] = f.closer(p)
	}
	left := f.left()
	if f.open && len(f.held) == 0 && chain[0].space+tall(chain) > left && left > much*f.paper.body() {
		f.held = append(f.held, chain)
		return
	}
	if len(f.held) > 0 {
		f.held = append(f.held, chain) // in their order
		return
	}
	f.set(chain)
}

// left is the height of what the page has free.
func (f *flow) left() float64 { return f.paper.h - f.paper.bottom - f.y }

// filled is how much of the page being filled is, 0 without one.
func (f *flow) filled() float64 {
	if !f.open {
		return 0
	}
	return (f.y - f.paper.top) / f.paper.body()
}

// release sets what waits, before a section ends.
func (f *flow) release() {
	f.flush()
	waiting := f.held
	f.held = nil
	for _, chain := range waiting {
		f.set(chain)
	}
}

// add appends a piece; pieces that keep wait for the one they stay with.
func (f *flow) add(pieces ...piece) {
	for _, p := range pieces {
		f.pending = append(f.pending, f.closer(p))
		if !p.keep {
			f.flush()
		}
	}
}

// closer is a piece with its gap as close as gaps are now.
func (f *flow) closer(p piece) piece {
	p.space *= f.gaps
	if p.draw == nil {
		p.height *= f.gaps
	}
	return p
}

func (f *flow) flush() {
	chain := f.pending
	f.pending = nil
	for len(chain) > 0 {
		n := len(chain)
		// A chain taller than a page is set as much together as fits.
		for n > 1 && tall(chain[:n]) > f.paper.body() {
			n--
		}
		f.set(chain[:n])
		chain = chain[n:]
	}
}

func tall(chain []piece) float64 {
	h := 0.0
	for i, p := range chain {
		h += p.height
		if i > 0 {
			h += p.space
		}
	}
	return h
}

func (f *flow) set(chain []piece) {
	const slack = 1e-6
	bottom := f.paper.h - f.paper.bottom + slack
	if f.open && f.y > f.paper.top && f.y+chain[0].space+tall(chain) > bottom {
		f.open = false
	}
	// Room between blocks opens no page: one would stay empty when a drawing
	// sheet or a section with a page of its own comes next.
	if !f.open && blank(chain) {
		return
	}
	if !f.open {
		f.newPage()
		// Drawings that wait come first, as many as leave room for what follows.
		for len(f.held) > 0 && f.y+tall(f.held[0])+f.room(chain) <= bottom {
			for _, p := range f.held[0] {
				f.put(p, f.y > f.paper.top)
			}
			f.held = f.held[1:]
		}
		if h := chain[0].head; h != nil {
			f.put(*h, false)
			chain[0].space = 0
		}
	}
	for _, p := range chain {
		f.put(p, f.y > f.paper.top)
	}
}

// room is what a chain takes at the top of a page.
func (f *flow) room(chain []piece) float64 {
	h := chain[0].space + tall(chain)
	if chain[0].head != nil {
		h += chain[0].head.height
	}
	return h
}

func blank(chain []piece) bool {
	for _, p := range chain {
		if p.draw != nil || p.place != nil {
			return false
		}
	}
	return true
}

func (f *flow) put(p piece, spaced bool) {
	if spaced {
		f.y += p.space
	}
	s := f.page
	if p.place != nil {
		p.place.sheet, p.place.y = s, f.y
	}
	if p.draw != nil {
		p.draw(s, f.y)
	}
	f.y += p.height
}
