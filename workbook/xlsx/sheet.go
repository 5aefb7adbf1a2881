package xlsx

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/cell"
)

// sheetReader walks over one sheet's part.
type sheetReader struct {
	sheet  *Sheet
	pkg    *pack
	texts  *texts
	grid   *Grid
	arena  arena
	shared map[string]sharedFormula

	each   func(*Row) error // takes each row in place of the grid; nil to keep them
	kept   int              // rows given to it
	counts amount           // of what is kept

	row    Row
	cells  []Cell // of the row in hand
	store  []Cell // block that finished rows are cut from
	last   int    // number of the last row
	col    int    // column of the last cell
	text   int    // bytes of texts and formulas not yet counted
	mixed  bool   // rows do not come in order
	rich   richText
	value  []byte
	fText  []byte
	inHead bool

	data   bool   // the rows were read
	prefix string // before the names of rows
}

func (s *Sheet) read() (*Grid, error) {
	p := s.book.pkg
	t, err := p.texts()
	if err != nil {
		return nil, err
	}
	r := &sheetReader{sheet: s, pkg: p, texts: t, grid: &Grid{}}
	if err := p.scan(s.part, s.Name, r.token); err != nil {
		return nil, r.where(err)
	}
	if r.mixed {
		if err := r.order(); err != nil {
			return nil, err
		}
	}
	return r.grid, r.merged()
}

// merged refuses ranges that lie over each other in such numbers that they
// can only be meant to keep a reader busy.
func (r *sheetReader) merged() error {
	rows, covered := r.grid.Rows, 0
	for _, m := range r.grid.Merged {
		from := sort.Search(len(rows), func(i int) bool { return rows[i].Number >= m.Row1 })
		to := sort.Search(len(rows), func(i int) bool { return rows[i].Number > m.Row2 })
		covered += max(0, to-from)
	}
	if covered > MaxMerged {
		return &finding.Unusable{Rule: "F107", Message: fmt.Sprintf("%s holds %d merged ranges over the same rows", r.sheet.Name, len(r.grid.Merged)), Do: "Unmerge the cells of the sheet."}
	}
	return nil
}

// where adds the last row that was read whole to a part that breaks off.
func (r *sheetReader) where(err error) error {
	var u *finding.Unusable
	if errors.As(err, &u) && u.Rule == "F106" && r.last > 0 {
		u.Message += fmt.Sprintf(" after row %d", r.last)
	}
	return err
}

func (r *sheetReader) token(s *scanner) error {
	switch {
	case r.inHead && s.kind == textNode:
		t, err := s.appendText(nil)
		r.grid.HeaderFooter = append(r.grid.HeaderFooter, string(t))
		return err
	case s.kind == endTag && string(s.name) == "headerFooter":
		r.inHead = false
		return nil
	case s.kind != startTag || s.depth() < 2:
		return nil
	}
	switch string(s.name) {
	case "sheetData":
		if r.data || s.depth() != 2 {
			return errors.New("rows in two places") // one of which every program leaves out
		}
		r.data, r.prefix = true, string(s.prefix())
		return r.rows(s)
	case "col":
		if isTrue(s.attr("hidden")) {
			first, err1 := strconv.Atoi(string(s.attr("min")))
			last, err2 := strconv.Atoi(string(s.attr("max")))
			if err1 == nil && err2 == nil {
				r.grid.HiddenCols = append(r.grid.HiddenCols, Span{first, last})
			}
		}
	case "mergeCell":
		a, ok := parseArea(s.attr("ref"))
		if !ok {
			return fmt.Errorf("the merged range %.40q", s.attr("ref"))
		}
		r.grid.Merged = append(r.grid.Merged, a)
	case "autoFilter":
		if s.depth() == 2 {
			r.grid.Filter, _ = parseArea(s.attr("ref"))
		}
	case "filterColumn":
		r.grid.Filtered = true
	case "headerFooter":
		r.inHead = true
	case "extLst":
		return s.skip()
	}
	return nil
}

// rows reads the sheet's data up to its end.
func (r *sheetReader) rows(s *scanner) error {
	depth := s.depth()
	for {
		if err := s.next(); err != nil {
			return asBroken(err)
		}
		switch {
		case s.kind == endTag && s.depth() < depth:
			return nil
		case s.kind == startTag:
			if string(s.name) != "row" {
				if err := s.skip(); err != nil {
					return err
				}
				continue
			}
			if string(s.prefix()) != r.prefix {
				return fmt.Errorf("rows of two kinds, <%.40srow> and <%.40srow>", r.prefix, s.prefix())
			}
			if err := r.oneRow(s); err != nil {
				return err
			}
		}
	}
}

func (r *sheetReader) oneRow(s *scanner) error {
	number, hidden := r.last+1, false
	for rest := s.attrs; ; {
		n, v, after, ok := s.nextAttr(rest)
		if !ok {
			break
		}
		switch string(n) {
		case "r":
			k, err := strconv.Atoi(string(v))
			if err != nil || k < 1 || k > 1<<20 {
				return fmt.Errorf("row number %q", v)
			}
			number = k
		case "hidden":
			hidden = isTrue(v)
		}
		rest = after
	}
	r.row = Row{Number: number, Hidden: hidden}
	r.cells, r.col = r.cells[:0], 0
	depth := s.depth()
	for {
		if err := s.next(); err != nil {
			return asBroken(err)
		}
		if s.kind == startTag {
			var err error
			if string(s.name) == "c" {
				err = r.oneCell(s)
			} else {
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
		if s.kind == endTag && s.depth() < depth {
			break
		}
	}
	return r.keepRow()
}

func (r *sheetReader) keepRow() error {
	if r.row.Number <= r.last {
		r.mixed = true
	}
	r.last = r.row.Number
	if len(r.cells) == 0 {
		r.grid.Formatted++
		return nil
	}
	if len(r.grid.Rows)+r.kept >= MaxRows {
		return &finding.Unusable{
			Rule: "F107", Message: fmt.Sprintf("%s holds more than %d rows with a value", r.sheet.Name, MaxRows),
			Do: oneFloor,
		}
	}
	for i := 1; i < len(r.cells); i++ {
		if r.cells[i].Col <= r.cells[i-1].Col {
			slices.SortStableFunc(r.cells, func(a, b Cell) int { return a.Col - b.Col })
			break
		}
	}
	if err := r.unique(r.row.Number, r.cells); err != nil {
		return err
	}
	if err := r.budget(len(r.cells)); err != nil {
		return err
	}
	if r.each != nil {
		return r.give()
	}
	if cap(r.store)-len(r.store) < len(r.cells) {
		r.store = make([]Cell, 0, max(2048, len(r.cells)))
	}
	n := len(r.store)
	r.store = append(r.store, r.cells...)
	r.row.Cells = r.store[n:len(r.store):len(r.store)]
	r.grid.Rows = append(r.grid.Rows, r.row)
	return nil
}

func (r *sheetReader) unique(row int, cells []Cell) error {
	for i := 1; i < len(cells); i++ {
		if cells[i].Col == cells[i-1].Col {
			return fmt.Errorf("cell %s%d stands in it twice", finding.ColumnName(cells[i].Col), row)
		}
	}
	return nil
}

// order sorts rows that were written out of order, and puts the parts of a
// row together.
func (r *sheetReader) order() error {
	rows := r.grid.Rows
	slices.SortStableFunc(rows, func(a, b Row) int { return a.Number - b.Number })
	out := rows[:0]
	for _, row := range rows {
		if n := len(out); n > 0 && out[n-1].Number == row.Number {
			cells := slices.Concat(out[n-1].Cells, row.Cells)
			slices.SortStableFunc(cells, func(a, b Cell) int { return a.Col - b.Col })
			if err := r.unique(row.Number, cells); err != nil {
				return r.pkg.partError(r.sheet.Name, err)
			}
			out[n-1].Cells = cells
			out[n-1].Hidden = out[n-1].Hidden || row.Hidden
			continue
		}
		out = append(out, row)
	}
	r.grid.Rows = out
	return nil
}

// oneCell reads a cell and keeps it when it holds something.
func (r *sheetReader) oneCell(s *scanner) error {
	col := r.col + 1
	var kind byte // first letter of the type, with D for str
	style := 0
	for rest := s.attrs; ; {
		n, v, after, ok := s.nextAttr(rest)
		if !ok {
			break
		}
		switch string(n) {
		case "r":
			c, row, ok := parseRef(v)
			if !ok || row != r.row.Number {
				return fmt.Errorf("cell %q in row %d", v, r.row.Number)
			}
			col = c
		case "s":
			style, _ = strconv.Atoi(string(v))
		case "t":
			if kind = typeLetter(v); kind == 0 {
				return fmt.Errorf("cell %s%d has the unknown type %.40q", finding.ColumnName(col), r.row.Number, v)
			}
		}
		rest = after
	}
	if col > 16384 {
		return fmt.Errorf("more than 16384 columns in row %d", r.row.Number)
	}
	r.col = col
	c := Cell{Col: col}
	c.Since1904 = r.sheet.book.Date1904
	hasValue, hasFormula := false, false
	r.value, r.fText = r.value[:0], r.fText[:0]
	r.rich.reset()
	var si, master string
	depth, in := s.depth(), byte(0)
	for {
		if err := s.next(); err != nil {
			return asBroken(err)
		}
		switch s.kind {
		case startTag:
			switch {
			case s.depth() > depth+1:
				switch in {
				case 'v', 'f':
					return fmt.Errorf("cell %s%d holds <%.40s> within its value", finding.ColumnName(col), r.row.Number, s.name)
				case 'i':
					if err := r.rich.token(s); err != nil {
						return err
					}
				default:
					if err := s.skip(); err != nil {
						return err
					}
				}
			case string(s.name) == "v":
				if hasValue {
					return r.twoValues(col)
				}
				in, hasValue = 'v', true
			case string(s.name) == "f":
				if hasFormula {
					return fmt.Errorf("cell %s%d holds two formulas", finding.ColumnName(col), r.row.Number)
				}
				in, hasFormula = 'f', true
				if string(s.attr("t")) == "shared" {
					si, master = string(s.attr("si")), string(s.attr("ref"))
				}
			case string(s.name) == "is":
				if hasValue {
					return r.twoValues(col)
				}
				if kind != 'i' {
					return fmt.Errorf("cell %s%d holds a text although its type is another", finding.ColumnName(col), r.row.Number)
				}
				in, hasValue = 'i', true
			default:
				if err := s.skip(); err != nil {
					return err
				}
			}
		case textNode:
			var err error
			switch in {
			case 'v':
				r.value, err = s.appendText(r.value)
			case 'f':
				r.fText, err = s.appendText(r.fText)
			case 'i':
				err = r.rich.token(s)
			}
			if err != nil {
				return err
			}
		case endTag:
			switch {
			case s.depth() < depth:
				if !hasValue && !hasFormula {
					return nil
				}
				if hasFormula {
					c.Formula = r.formula(col, si, master)
				}
				return r.keepCell(c, kind, style, hasValue)
			case s.depth() == depth:
				in = 0
			case in == 'i':
				if err := r.rich.token(s); err != nil {
					return err
				}
			}
		}
	}
}

// twoValues refuses a cell of which nobody knows what it holds: one value would
// be dropped, or both read as one number.
func (r *sheetReader) twoValues(col int) error {
	return fmt.Errorf("cell %s%d holds two values", finding.ColumnName(col), r.row.Number)
}

// typeLetter shortens a cell's type: n number, s shared text, S text of a
// formula, i text in the cell, b truth, e error, d ISO date; 0 none of them.
func typeLetter(v []byte) byte {
	switch string(v) {
	case "str":
		return 'S'
	case "":
		return 'n'
	case "n", "s", "b", "e", "d", "inlineStr":
		return v[0]
	}
	return 0
}

func (r *sheetReader) keepCell(c Cell, kind byte, style int, hasValue bool) error {
	if style >= 0 && style < len(r.pkg.styles) {
		c.Format, c.Strike = r.pkg.styles[style].format, r.pkg.styles[style].strike
	}
	switch kind {
	case 's':
		n, err := strconv.Atoi(string(r.value))
		if err != nil || n < 0 || n >= len(r.texts.all) {
			if len(r.value) == 0 {
				break
			}
			return fmt.Errorf("cell %s%d names shared text %q of %d", finding.ColumnName(c.Col), r.row.Number, r.value, len(r.texts.all))
		}
		c.Type, c.Text = cell.String, r.texts.all[n]
		c.Strike = c.Strike || r.texts.struck[n]
	case 'i':
		c.Type = cell.String
		if len(r.rich.text) == 0 {
			r.rich.text = append(r.rich.text, r.value...)
		}
		c.Text = r.arena.keep(unxml(r.rich.text))
		c.Strike = c.Strike || r.rich.struck()
	case 'S':
		if hasValue {
			c.Type, c.Text = cell.String, r.arena.keep(unxml(r.value))
		}
	case 'b':
		if hasValue && len(r.value) > 0 {
			c.Type, c.Text = cell.Bool, "FALSE"
			if isTrue(r.value) {
				c.Number, c.Text = 1, "TRUE"
			}
		}
	case 'e':
		if hasValue && len(r.value) > 0 {
			c.Type, c.Text = cell.Error, r.arena.keep(r.value)
		}
	case 'd':
		r.isoDate(&c)
	default:
		r.number(&c)
	}
	if c.Type == cell.Blank {
		if c.Formula == "" {
			return nil
		}
		c.NoStored = true
	}
	r.cells = append(r.cells, c)
	r.text += len(c.Formula) + len(c.Text) // a shared text too: what is written tells it again for each cell
	if r.text < 1<<20 {
		return nil
	}
	return r.budget(0)
}

// budget counts cells, and the text since it was last asked.
func (r *sheetReader) budget(cells int) error {
	text := r.text
	r.text = 0
	r.counts.cells += int64(cells)
	r.counts.text += int64(text)
	return r.pkg.budget(cells, text)
}

// amount is how much is kept of some cells.
type amount struct{ cells, text int64 }

func (r *sheetReader) number(c *Cell) {
	text := r.value
	for len(text) > 0 && blank(text[0]) {
		text = text[1:]
	}
	for len(text) > 0 && blank(text[len(text)-1]) {
		text = text[:len(text)-1]
	}
	if len(text) == 0 {
		return
	}
	c.Text = r.arena.keep(text)
	for _, b := range text {
		if (b < '0' || b > '9') && b != '.' && b != '-' && b != '+' && b != 'e' && b != 'E' {
			c.Type = cell.String
			return
		}
	}
	v, err := strconv.ParseFloat(c.Text, 64)
	if err != nil || math.IsInf(v, 0) {
		c.Type = cell.String
		return
	}
	c.Type, c.Number = cell.Number, v
}

// isoDate reads a cell that stores its date as ISO text.
func (r *sheetReader) isoDate(c *Cell) {
	if len(r.value) == 0 {
		return
	}
	text := string(r.value)
	c.Type, c.Text = cell.String, text
	for _, form := range []string{"2006-01-02", "2006-01-02T15:04:05", "2006-01-02T15:04:05Z", "2006-01-02T15:04:05.999"} {
		t, err := time.Parse(form, text)
		if err != nil {
			continue
		}
		days := float64(unit.NewDate(t.Year(), t.Month(), t.Day())) + float64(t.Hour()*3600+t.Minute()*60+t.Second())/86400
		if r.sheet.book.Date1904 {
			days -= 1462
		}
		c.Type, c.Number, c.Format = cell.Number, days, cell.Date
		return
	}
}

// parseRef reads "F12".
func parseRef(v []byte) (col, row int, ok bool) {
	i := 0
	for ; i < len(v) && i < 4; i++ {
		c := v[i] &^ 0x20
		if c < 'A' || c > 'Z' {
			break
		}
		col = col*26 + int(c-'A'+1)
	}
	if i == 0 || i > 3 || i == len(v) || len(v)-i > 7 {
		return 0, 0, false
	}
	for ; i < len(v); i++ {
		if v[i] < '0' || v[i] > '9' {
			return 0, 0, false
		}
		row = row*10 + int(v[i]-'0')
	}
	return col, row, row > 0
}

// parseArea reads "A1:C4" or "A1".
func parseArea(v []byte) (Area, bool) {
	s := strings.ReplaceAll(string(v), "$", "")
	a, b := s, s
	for i := range s {
		if s[i] == ':' {
			a, b = s[:i], s[i+1:]
			break
		}
	}
	c1, r1, ok1 := parseRef([]byte(a))
	c2, r2, ok2 := parseRef([]byte(b))
	return Area{min(c1, c2), min(r1, r2), max(c1, c2), max(r1, r2)}, ok1 && ok2
}
