package workbook

import (
	"strings"
	"unicode"

	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// headerRows is how far down a header row is looked for: titles, logos and
// merged banners stand above it.
const headerRows = 30

// heading is one cell of a header row.
type heading struct {
	col  int
	row  int
	text string // as typed, on one line
	name string // text without its unit
	unit string // as typed, "" without one
	def  *layout.Column
}

// header is where the headers of a sheet stand. A header may be split over
// rows: name, then unit.
type header struct {
	first, last int
	headings    []heading
	known       int // different contract headers among them
}

// vocabulary knows every accepted spelling of a sheet's headers or items.
type vocabulary map[string]*layout.Column

func newVocabulary(def *layout.Sheet) vocabulary {
	v := make(vocabulary, 2*len(def.Columns))
	add := func(text string, c *layout.Column) {
		if f := foldHeader(text); f != "" && v[f] == nil {
			v[f] = c
		}
	}
	for i := range def.Columns {
		add(def.Columns[i].Header, &def.Columns[i])
	}
	for i := range def.Columns {
		for _, also := range def.Columns[i].Also {
			add(also, &def.Columns[i])
		}
	}
	for i := range def.Columns {
		add(strings.TrimSuffix(def.Columns[i].Header, "%"), &def.Columns[i])
	}
	return v
}

// longestHeader is how many bytes a text may have that can be a header: ten
// times any that is known.
const longestHeader = 400

// read takes a header apart. The whole text is tried first, since a name may
// end like a unit.
func (v vocabulary) read(col int, text string) heading {
	text = oneLine(text)
	h := heading{col: col, text: text, name: text}
	if len(text) > longestHeader {
		return h
	}
	if def := v[foldHeader(text)]; def != nil {
		h.def = def
		if name, u := cutUnit(text); u != "" && foldHeader(name) == foldHeader(text) {
			h.name, h.unit = name, u // a degree sign, which folding drops
		}
		return h
	}
	name, u := cutUnit(text)
	if u == "" {
		return h
	}
	if def := v[foldHeader(name)]; def != nil {
		return heading{col: col, text: text, name: name, unit: u, def: def}
	}
	if short, ok := strings.CutSuffix(strings.ToLower(name), " in"); ok {
		if def := v[foldHeader(short)]; def != nil {
			return heading{col: col, text: text, name: name[:len(short)], unit: u, def: def}
		}
	}
	h.name = name
	if _, ok := findUnit(u); ok {
		h.unit = u
	}
	return h
}

// cutUnit cuts the unit off a header: in brackets, behind a comma, or as the
// last word when it is a unit.
func cutUnit(text string) (name, u string) {
	text = strings.TrimRight(text, "* ")
	for _, pair := range [...]string{"()", "[]", "{}"} {
		if rest, ok := strings.CutSuffix(text, pair[1:]); ok {
			if at := strings.LastIndex(rest, pair[:1]); at > 0 {
				return strings.TrimSpace(rest[:at]), strings.TrimSpace(rest[at+1:])
			}
		}
	}
	at := strings.LastIndexAny(text, " ,/:")
	if at <= 0 {
		return text, ""
	}
	if _, ok := findUnit(text[at+1:]); !ok {
		return text, ""
	}
	return strings.TrimRight(text[:at], " ,/:"), text[at+1:]
}

// foldHeader makes headers and sheet names comparable: letters, digits and
// the percent sign remain.
func foldHeader(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '%' || r == '#' {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// headerText is what a cell says as a header; a number or an error is none.
func headerText(c cell.Raw) string {
	if c.Type != cell.String {
		return ""
	}
	return oneLine(c.Text)
}

// findHeader looks for the row among the first thirty that matches most known
// headers; of equal ones the upper.
func findHeader(g *xlsx.Grid, v vocabulary) header {
	var best header
	for i := 0; i < len(g.Rows) && g.Rows[i].Number <= headerRows; i++ {
		single := v.header(g.Rows[i : i+1])
		if single.known > best.known {
			best = single
		}
		if i+1 < len(g.Rows) && g.Rows[i+1].Number == g.Rows[i].Number+1 {
			below := v.header(g.Rows[i+1 : i+2])
			if both := v.header(g.Rows[i : i+2]); both.known > max(single.known, below.known, best.known) {
				best = both
			}
		}
	}
	if best.known > 0 {
		v.takeUnitRow(&best, g.Row(best.last+1))
	}
	return best
}

// header reads one row, or two rows whose texts belong together column by
// column, as headers.
func (v vocabulary) header(rows []xlsx.Row) header {
	h := header{first: rows[0].Number, last: rows[len(rows)-1].Number}
	var seen [8]*layout.Column
	known := seen[:0]
	add := func(col, row int, text string) {
		if text == "" {
			return
		}
		head := v.read(col, text)
		head.row = row
		h.headings = append(h.headings, head)
		if head.def == nil {
			return
		}
		for _, k := range known {
			if k == head.def {
				return
			}
		}
		known = append(known, head.def)
	}
	if len(rows) == 1 {
		for i := range rows[0].Cells {
			c := &rows[0].Cells[i]
			if text := headerText(c.Raw); text != "" || c.IsBlank() {
				add(c.Col, h.first, text)
			} else { // 2014 heads a column too, if none that is known
				text = typedText(c.Raw, c.Since1904)
				h.headings = append(h.headings, heading{col: c.Col, row: h.first, text: text, name: text})
			}
		}
	} else {
		up, low := rows[0].Cells, rows[1].Cells
		for len(up) > 0 || len(low) > 0 {
			switch {
			case len(low) == 0 || len(up) > 0 && up[0].Col < low[0].Col:
				add(up[0].Col, h.first, headerText(up[0].Raw))
				up = up[1:]
			case len(up) == 0 || low[0].Col < up[0].Col:
				add(low[0].Col, h.last, headerText(low[0].Raw))
				low = low[1:]
			default:
				over, under := headerText(up[0].Raw), headerText(low[0].Raw)
				switch both := oneLine(over + " " + under); {
				case v.read(0, both).def == nil && v.read(0, under).def != nil:
					add(low[0].Col, h.last, under) // X under the banner Position
				default:
					add(up[0].Col, h.first, both)
				}
				up, low = up[1:], low[1:]
			}
		}
	}
	h.known = len(known)
	return h
}

// takeUnitRow reads the row below the headers as their units when it holds
// units and nothing else.
func (v vocabulary) takeUnitRow(h *header, below xlsx.Row) {
	if len(below.Cells) == 0 {
		return
	}
	units := map[int]string{}
	for i := range below.Cells {
		c := &below.Cells[i]
		if c.IsBlank() {
			continue
		}
		text := strings.Trim(headerText(c.Raw), "()[]{} ")
		if c.Type != cell.String || text == "" {
			return
		}
		if strings.Trim(text, "-–—") == "" {
			continue
		}
		if _, ok := findUnit(text); !ok || !h.takesUnit(c.Col) {
			return // a plate may be called A, and A is a unit too
		}
		units[c.Col] = text
	}
	if len(units) == 0 {
		return
	}
	h.last = below.Number
	for i := range h.headings {
		head := &h.headings[i]
		if u := units[head.col]; u != "" && head.unit == "" {
			head.unit = u
		}
	}
}

// takesUnit says whether a unit may stand below a heading: below a number's,
// or below one that is not known.
func (h *header) takesUnit(col int) bool {
	for i := range h.headings {
		if h.headings[i].col == col && h.headings[i].def != nil && h.headings[i].def.Type != layout.Number {
			return false
		}
	}
	return true
}
