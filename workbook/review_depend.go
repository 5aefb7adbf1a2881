package workbook

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/xlsx"
)

// dependence follows the formulas of the result sheets down to the person's
// cells. What a row's formulas name is found out when it is first asked for.
type dependence struct {
	sheets []*traced // by number; nil for one of the person's
	names  []string
	number map[string]int
	order  map[string]int // sheets of the workbook as they stand
	seen   spotSet
	queue  []spot

	hubs  map[string]*behind // of some hubs together
	kept  int                // places in them
	words map[[review.MostInputs]spot][]string

	looked int // cells looked at: the work
}

// traced is a sheet of results.
type traced struct {
	sheet *xlsx.NewSheet
	links func(row int) []string
	rows  [][]spot // by number
}

// spot is a cell in few bits: the number of its sheet, its row, its column.
type spot uint64

const (
	colBits = 15
	rowBits = 24

	toLast spot = 1 << 63 // a corner that begins a range, before the one that ends it
)

func (p spot) col() int   { return int(p & (1<<colBits - 1)) }
func (p spot) row() int   { return int(p >> colBits & (1<<rowBits - 1)) }
func (p spot) sheet() int { return int(p &^ toLast >> (colBits + rowBits)) }

func newDependence(d *xlsx.Draft, file *xlsx.Book) *dependence {
	p := &dependence{number: map[string]int{}, order: map[string]int{}, hubs: map[string]*behind{}, words: map[[review.MostInputs]spot][]string{}}
	for i, s := range file.Sheets {
		p.order[s.Name] = i + 1
	}
	for _, name := range d.Sheets() {
		s := d.NewSheet(name)
		n := p.sheetNumber(name)
		p.sheets[n] = &traced{sheet: s, links: s.RowLinks(), rows: make([][]spot, s.Next())}
	}
	return p
}

// sheetNumber numbers sheets as they are named.
func (p *dependence) sheetNumber(name string) int {
	n, ok := p.number[name]
	if !ok {
		n = len(p.names)
		p.number[name] = n
		p.names, p.sheets = append(p.names, name), append(p.sheets, nil)
	}
	return n
}

func (p *dependence) spotOf(sheet string, col, row int) spot {
	return spot(p.sheetNumber(sheet))<<(colBits+rowBits) | spot(row)<<colBits | spot(col)
}

func (p *dependence) ref(at spot) finding.Ref {
	return finding.Ref{Sheet: p.names[at.sheet()], Col: at.col(), Row: at.row()}
}

// namedBy appends the cells and ranges that a formula names.
func (p *dependence) namedBy(list []spot, formula, home string) []spot {
	for _, n := range namedIn(formula) {
		sheet := n.sheet
		if sheet == "" {
			sheet = home
		}
		from := p.spotOf(sheet, columnNumber(n.col), n.row)
		if n.lastCol == "" {
			list = append(list, from)
			continue
		}
		list = append(list, from|toLast, p.spotOf(sheet, columnNumber(n.lastCol), n.lastRow))
	}
	return list
}

// row gives what the cells of a row of results name: for each with a formula
// its column and how many places follow, for all others as column 0 what the
// row leads to.
func (p *dependence) row(t *traced, number int) []spot {
	if number >= len(t.rows) {
		return nil
	}
	if t.rows[number] != nil {
		return t.rows[number]
	}
	list := []spot{0}
	for _, target := range t.links(number) {
		for _, to := range p.namedBy(nil, target, t.sheet.Name) {
			if p.sheets[to.sheet()] == nil {
				list = append(list, to)
			}
		}
	}
	list[0] = spot(len(list)-1) << colBits
	for _, c := range t.sheet.WrittenRow(number).Cells {
		if c.Formula == "" {
			continue
		}
		at := len(list)
		list = p.namedBy(append(list, 0), c.Formula, t.sheet.Name)
		list[at] = spot(c.Col) | spot(len(list)-1-at)<<colBits
	}
	t.rows[number] = slices.Clip(list)
	return list
}

// names are the cells and ranges that a cell of results rests on directly.
func (p *dependence) namesOf(at spot) []spot {
	list := p.row(p.sheets[at.sheet()], at.row())
	if len(list) == 0 {
		return nil
	}
	linked := list[1 : 1+list[0].row()]
	for list = list[len(linked)+1:]; len(list) > 0; {
		n := list[0].row()
		if list[0].col() == at.col() {
			return list[1 : 1+n]
		}
		list = list[1+n:]
	}
	return linked
}

// mostFollowed bounds how many cells are looked at behind one result.
const mostFollowed = 200_000

// behind is what a result rests on: the person's cells, as they stand in the
// workbook, and how many cells lie between and under it.
type behind struct {
	inputs []spot
	cells  int
}

// A hub is a cell that reads a long range: many results rest on the same few,
// and what lies behind one is found once.
const (
	hubRange = 64        // cells of its range
	mostKept = 4_000_000 // places kept of all hubs
)

// long says whether there is a long range among what a cell names.
func long(names []spot) bool {
	for i, n := range names {
		if n&toLast != 0 && names[i+1].row()-n.row() >= hubRange {
			return true
		}
	}
	return false
}

// follow finds what some results together rest on. With hubs it goes no
// further than to those, and gives them.
func (p *dependence) follow(from []spot, hubs bool) (b behind, met []spot) {
	p.seen.clear()
	p.queue = append(p.queue[:0], from...)
	for _, at := range from {
		p.seen.add(at)
	}
	look := func(r spot) {
		if p.seen.n < mostFollowed && p.seen.add(r) {
			p.queue = append(p.queue, r)
		}
	}
	for i := 0; i < len(p.queue); i++ {
		at := p.queue[i]
		if p.sheets[at.sheet()] == nil {
			b.inputs = append(b.inputs, at)
			continue
		}
		names := p.namesOf(at)
		if hubs && i >= len(from) && long(names) {
			met = append(met, at)
			continue
		}
		for k := 0; k < len(names); k++ {
			n := names[k]
			if n&toLast == 0 {
				look(n)
				continue
			}
			first := n &^ toLast
			k++
			last := names[k]
			for row := first.row(); row <= last.row(); row++ {
				for col := first.col(); col <= last.col(); col++ {
					look(spot(first.sheet())<<(colBits+rowBits) | spot(row)<<colBits | spot(col))
				}
			}
		}
	}
	p.looked += len(p.queue)
	b.cells = p.seen.n
	slices.SortFunc(b.inputs, p.compare)
	return b, met
}

// compare puts cells in the order in which they stand in the workbook.
func (p *dependence) compare(a, b spot) int {
	x, y := a.sheet(), b.sheet()
	if x == y {
		return cmp.Compare(a, b)
	}
	return cmp.Or(p.order[p.names[x]]-p.order[p.names[y]], strings.Compare(p.names[x], p.names[y]))
}

// inputs gives the person's cells that a result rests on, as they stand in the
// workbook, in two lists that may share some. A result without a formula rests
// on what its row leads to.
func (p *dependence) inputs(from spot) (own, shared []spot) {
	b, met := p.follow([]spot{from}, true)
	if len(met) == 0 {
		return b.inputs, nil
	}
	all := p.hub(met)
	if all == nil || b.cells+all.cells >= mostFollowed { // the bound may have been met
		b, _ = p.follow([]spot{from}, false)
		return b.inputs, nil
	}
	return b.inputs, all.inputs
}

// hub is what lies behind some hubs together, nil when too much is kept
// already.
func (p *dependence) hub(met []spot) *behind {
	slices.Sort(met)
	key := fmt.Sprint(met)
	if all := p.hubs[key]; all != nil {
		return all
	}
	if p.kept > mostKept {
		return nil
	}
	all, _ := p.follow(met, false)
	if all.cells >= mostFollowed {
		all.inputs = nil
	}
	p.hubs[key] = &all
	p.kept += len(all.inputs)
	return &all
}

// union merges two lists in order.
func (p *dependence) union(a, b []spot) []spot {
	out := make([]spot, 0, len(a)+len(b))
	for len(a) > 0 || len(b) > 0 {
		var next spot
		next, a, b = p.first(a, b)
		out = append(out, next)
	}
	return out
}

// first takes the first of two lists in order, out of both.
func (p *dependence) first(a, b []spot) (next spot, restA, restB []spot) {
	switch {
	case len(b) == 0:
		return a[0], a[1:], b
	case len(a) == 0:
		return b[0], a, b[1:]
	}
	switch d := p.compare(a[0], b[0]); {
	case d < 0:
		return a[0], a[1:], b
	case d > 0:
		return b[0], a, b[1:]
	}
	return a[0], a[1:], b[1:]
}

// of gives the person's cells that a result rests on.
func (p *dependence) of(ref finding.Ref) []finding.Ref {
	var list []finding.Ref
	for _, at := range p.union(p.inputs(p.spotOf(ref.Sheet, ref.Col, ref.Row))) {
		list = append(list, p.ref(at))
	}
	return list
}

// inWords is the first of the inputs in words, and how many more there are.
// Results that rest on the same first ones share their list.
func (p *dependence) inWords(ref finding.Ref) (list []string, more int) {
	own, shared := p.inputs(p.spotOf(ref.Sheet, ref.Col, ref.Row))
	more = len(own) + len(shared)
	for _, at := range own {
		if _, twice := slices.BinarySearchFunc(shared, at, p.compare); twice {
			more--
		}
	}
	var key [review.MostInputs]spot
	n := 0
	for ; n < len(key) && len(own)+len(shared) > 0; n++ {
		key[n], own, shared = p.first(own, shared)
	}
	more -= n
	if list, ok := p.words[key]; ok {
		return list, more
	}
	for _, at := range key[:n] {
		list = append(list, p.ref(at).String())
	}
	if len(p.words) < mostWords {
		p.words[key] = list
	}
	return list, more
}

const mostWords = 10_000 // lists of inputs kept in words

// spotSet is a set of spots that is emptied in no time.
type spotSet struct {
	keys []spot
	when []uint32
	now  uint32
	n    int
}

const spotSlots = 1 << 19 // more than twice mostFollowed

func (s *spotSet) clear() {
	if s.keys == nil {
		s.keys, s.when = make([]spot, spotSlots), make([]uint32, spotSlots)
	}
	s.n = 0
	if s.now++; s.now == 0 {
		clear(s.when)
		s.now = 1
	}
}

// add says whether a spot is new to it.
func (s *spotSet) add(p spot) bool {
	at := uint64(p) * 0x9e3779b97f4a7c15 >> (64 - 19)
	for ; s.when[at] == s.now; at = (at + 1) % spotSlots {
		if s.keys[at] == p {
			return false
		}
	}
	s.keys[at], s.when[at] = p, s.now
	s.n++
	return true
}

// reference is a text in quotes, or a cell or a range, with its sheet.
var reference = regexp.MustCompile(`"(?:[^"]|"")*"|(?:('(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!)?\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?`)

// named is a cell or a range in a formula, with its place in the text.
type named struct {
	from, to     int
	prefix       string // the sheet as written, with its exclamation mark
	sheet        string // "" for the formula's own
	col, lastCol string // lastCol "" for a cell
	row, lastRow int
}

// namedIn lists the cells and ranges of a formula.
func namedIn(formula string) []named {
	var out []named
	for _, m := range reference.FindAllStringSubmatchIndex(formula, -1) {
		if m[4] < 0 || m[0] > 0 && isWord(formula[m[0]-1]) || m[1] < len(formula) && (isWord(formula[m[1]]) || formula[m[1]] == '(') {
			continue // a text, a part of a name or of a number, or a function
		}
		part := func(i int) string {
			if m[2*i] < 0 {
				return ""
			}
			return formula[m[2*i]:m[2*i+1]]
		}
		n := named{from: m[0], to: m[1], col: part(2), row: number(part(3)), lastCol: part(4), lastRow: number(part(5))}
		if s := part(1); s != "" {
			n.prefix = s + "!"
			n.sheet = strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(s, "'"), "'"), "''", "'")
		}
		out = append(out, n)
	}
	return out
}

func isWord(c byte) bool {
	return c == '_' || c == '.' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

func columnNumber(letters string) int {
	n := 0
	for i := range len(letters) {
		n = 26*n + int(letters[i]-'A') + 1
	}
	return n
}

func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
