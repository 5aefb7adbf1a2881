package workbook

import (
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/save"
	"platebook/workbook/xlsx"
)

// Import is rows of a list on their way into a sheet.
type Import struct {
	Sheet   string // as the workbook spells it
	Rows    int    // rows taken
	Refused []RefusedRow
	Header  []string // of the list, as typed
	Left    []string // columns of the list that are not taken, and why
	Notes   []string
	InDoubt []int // lines of rows refused for a number that can be two

	book  *Book
	added xlsx.Appended
}

// RefusedRow is a row that is not taken, as it stood in the list.
type RefusedRow struct {
	Line    int
	Fields  []string
	Reasons []string
}

// NewImport reads a list for a sheet of a workbook. mapped gives the sheet's
// headers for headers of the list. The cells are read by the rules that read a
// workbook; a row with a cell that is in error, or with a key that the sheet
// holds already, is refused.
func NewImport(b *Book, sheet string, l *List, mapped map[string]string) (*Import, error) {
	def := sheetNamed(sheet)
	if !hasRows(def) {
		return nil, &finding.Unusable{Message: "no sheet with rows is called " + sheet, Do: "Name one of: " + strings.Join(RowSheets(), ", ") + "."}
	}
	if b.File.Macros {
		return nil, &finding.Unusable{Message: b.File.Name + " carries macros, which no copy of it takes over", Do: "Save it as .xlsx first."}
	}
	place, ok := placeOf(b.Inspection, def.Name)
	if !ok {
		return nil, &finding.Unusable{Message: b.Inspection.File.Name + " has no sheet " + def.Name + " with its headers", Do: "Copy the sheet from a blank workbook: `platebook new`."}
	}
	m := &Import{Sheet: place.Name, book: b, Header: l.Header}
	t, err := m.table(def, l, mapped)
	if err != nil {
		return nil, err
	}
	own := b.File.Sheet(place.Name)
	g, err := own.Read()
	if err != nil {
		return nil, err
	}
	there := m.keys(def, place, g)
	last, sample := place.Header, 0
	for i := range g.Rows {
		last = max(last, g.Rows[i].Number)
	}
	if place.LastRow > 0 {
		sample = place.LastRow
	}
	formats, err := b.File.StyleFormats(place.Name, sample)
	if err != nil {
		return nil, err
	}
	m.added = xlsx.Appended{Sheet: place.Name, Sample: sample, From: last + 1}
	m.columns(t, l, place)
	m.take(t, l, place, there, formats)
	m.unknownPlates(t, l)
	return m, nil
}

func sheetNamed(name string) *layout.Sheet {
	for i := range layout.Sheets {
		if foldHeader(layout.Sheets[i].Name) == foldHeader(name) {
			return &layout.Sheets[i]
		}
	}
	return nil
}

// TakesRows says whether rows can be added to a sheet of that name.
func TakesRows(name string) bool {
	return hasRows(sheetNamed(name))
}

func hasRows(s *layout.Sheet) bool { return s != nil && !s.Items && len(s.Columns) > 0 }

// RowSheets are the sheets that rows can be added to.
func RowSheets() []string {
	var list []string
	for i := range layout.Sheets {
		if s := &layout.Sheets[i]; hasRows(s) {
			list = append(list, s.Name)
		}
	}
	return list
}

func placeOf(in *inspection.Inspection, kind string) (inspection.Sheet, bool) {
	for _, s := range in.Sheets {
		if s.Kind == kind && len(s.Columns) > 0 {
			return s, true
		}
	}
	return inspection.Sheet{}, false
}

// table reads the list as if it were a sheet of texts.
func (m *Import) table(def *layout.Sheet, l *List, mapped map[string]string) (*table, error) {
	g := &xlsx.Grid{}
	words := newVocabulary(def)
	for n, fields := range append([][]string{l.Header}, l.Rows...) {
		row := xlsx.Row{Number: n + 1}
		for i, f := range fields {
			if n == 0 {
				f = renamedHeader(f, mapped, words)
			}
			if strings.TrimSpace(f) != "" {
				row.Cells = append(row.Cells, xlsx.Cell{Col: i + 1, Raw: cell.Raw{Type: cell.String, Text: f}})
			}
		}
		g.Rows = append(g.Rows, row)
	}
	h := words.header(g.Rows[:1])
	for _, head := range h.headings {
		if head.def != nil && head.def.Type == layout.Number {
			l.undoubted(g.Rows[1:], head.col)
		}
	}
	if h.known < 1 {
		return nil, &finding.Unusable{
			Message: fmt.Sprintf("%s has no header of the sheet %s; found: %s", l.Name, def.Name, strings.Join(l.Header, ", ")),
			Do:      "Write the sheet's headers in the first line, or give a list of headers: --map FILE.csv.",
		}
	}
	in := m.book.Inspection
	t := &table{
		def: def, name: l.Name, grid: g, header: h, units: in.Units, unitsKnown: true,
		byCol: map[int]int{}, headless: map[int]bool{}, keys: map[string]int{},
	}
	t.prepare()
	var wrong, missing []string
	for _, h := range t.hits {
		if rule, ok := check.Find(h.Rule); !ok || rule.Class != check.Error || h.Ref.Row > 1 {
			continue
		}
		if h.Rule == "S201" {
			missing = append(missing, h.Column)
		} else {
			wrong = append(wrong, h.Message)
		}
	}
	if len(missing) > 0 {
		wrong = append(wrong, fmt.Sprintf("no column %s; found: %s", strings.Join(missing, ", "), strings.Join(l.Header, ", ")))
	}
	if len(wrong) > 0 {
		return nil, &finding.Unusable{
			Message: l.Name + ": " + strings.Join(wrong, "; "),
			Do:      "Correct the headers in the list, or give a list of headers: --map FILE.csv.",
		}
	}
	return t, nil
}

// renamedHeader is a header as the map has it, with its own unit when the map
// gives none.
func renamedHeader(text string, mapped map[string]string, words vocabulary) string {
	to := mapped[foldHeader(text)]
	if to == "" {
		return text
	}
	if words.read(0, to).unit != "" {
		return to
	}
	if _, u := cutUnit(text); u != "" {
		if _, ok := findUnit(u); ok {
			return to + " (" + u + ")"
		}
	}
	return to
}

// keys are the keys of the rows that the sheet holds, and where.
func (m *Import) keys(def *layout.Sheet, place inspection.Sheet, g *xlsx.Grid) map[string]int {
	t := &table{
		def: def, name: place.Name, grid: g, header: newLanguage().header(def, g), units: m.book.Inspection.Units, unitsKnown: true,
		date1904: m.book.File.Date1904, byCol: map[int]int{}, headless: map[int]bool{}, keys: map[string]int{},
	}
	t.prepare()
	t.nameRows(homes{})
	there := map[string]int{}
	for i := range t.rows {
		if label := t.rows[i].label; label != "" {
			there[inspection.Fold(label)] = t.rows[i].Number
		}
	}
	return there
}

// columns settles the unit of each column and tells those that are not taken.
func (m *Import) columns(t *table, l *List, place inspection.Sheet) {
	for i := range t.columns {
		c := &t.columns[i]
		if c.col == 0 {
			continue
		}
		to, ok := place.Columns[c.def.Header]
		if !ok {
			m.Left = append(m.Left, fmt.Sprintf("%s: %s has no such column", c.head.text, place.Name))
			continue
		}
		if c.def.Type == layout.Number && c.bare {
			c.want.Scale, c.bare = to.Scale, false
			m.Notes = append(m.Notes, fmt.Sprintf("%s carries no unit: read in that of %s", c.head.text, to.Header))
		}
	}
	for _, h := range t.hits {
		if h.Rule == "S203" {
			m.Left = append(m.Left, h.Message)
		}
	}
	for _, head := range t.extra {
		m.Left = append(m.Left, head.text+": not a column of "+t.def.Name)
	}
	for i, head := range l.Header {
		n := 0
		for _, row := range l.Rows {
			if strings.TrimSpace(head) == "" && i < len(row) && strings.TrimSpace(row[i]) != "" {
				n++
			}
		}
		if n > 0 {
			m.Left = append(m.Left, fmt.Sprintf("column %s has no header: %s", finding.ColumnName(i+1), count(n, "value")))
		}
	}
}

// take sorts the rows into those that go into the sheet and those that do not.
func (m *Import) take(t *table, l *List, place inspection.Sheet, there map[string]int, formats map[int]cell.Format) {
	t.nameRows(homes{})
	reasons := map[int][]string{}
	refuse := func(row int, why string) {
		if !slices.Contains(reasons[row], why) {
			reasons[row] = append(reasons[row], why)
		}
	}
	for _, h := range t.hits {
		if h.Ref.Row > 1 { // a total, a note, a line far below
			refuse(h.Ref.Row, h.Message)
		}
	}
	told := len(t.hits)
	doubtful := func(row int, h finding.Hit) {
		if h.Rule == "C103" && (len(m.InDoubt) == 0 || m.InDoubt[len(m.InDoubt)-1] != l.Lines[row-2]) {
			m.InDoubt = append(m.InDoubt, l.Lines[row-2])
		}
	}
	read := map[int]bool{}
	cells := make([]*xlsx.Cell, len(t.columns))
	for n := range t.rows {
		row := &t.rows[n]
		read[row.Number] = true
		t.spread(row, cells)
		var values []xlsx.NewValue
		for i := range t.columns {
			c := &t.columns[i]
			if c.col == 0 {
				continue
			}
			text := ""
			if cells[i] != nil {
				text = cells[i].Text
			}
			if why := cannotHold(text); why != "" {
				refuse(row.Number, c.head.text+" "+why)
				continue
			}
			v := t.value(n, row, c, cells[i], finding.Ref{Sheet: t.name, Col: c.col, Row: row.Number}, text)
			for _, h := range t.hits[told:] {
				if rule, ok := check.Find(h.Rule); v.state == inspection.Wrong || ok && rule.Class == check.Error {
					refuse(row.Number, h.Message)
					doubtful(row.Number, h)
				}
			}
			told = len(t.hits)
			if to, ok := place.Columns[c.def.Header]; ok && cells[i] != nil {
				if value, filled := newValue(c, v, text, to, formats[to.Col], m.book.File.Date1904); filled {
					values = append(values, value)
				}
			}
		}
		if label := inspection.Fold(row.label); row.label != "" {
			line := l.Lines[row.Number-2]
			if at := there[label]; at > 0 {
				refuse(row.Number, fmt.Sprintf("%s stands in row %d of the sheet already", row.label, at))
			} else if at < 0 {
				refuse(row.Number, fmt.Sprintf("%s stands in line %d of the list already", row.label, -at))
			} else if len(reasons[row.Number]) == 0 {
				there[label] = -line
			}
		}
		if more := l.Rows[row.Number-2][min(len(l.Header), len(l.Rows[row.Number-2])):]; strings.TrimSpace(strings.Join(more, "")) != "" {
			refuse(row.Number, fmt.Sprintf("%s more than the list has headers; a separator in a text without quotes?", count(len(more), "field")))
		}
		if len(reasons[row.Number]) == 0 {
			slices.SortFunc(values, func(a, b xlsx.NewValue) int { return a.Col - b.Col })
			m.added.Rows = append(m.added.Rows, values)
		}
	}
	m.Rows = len(m.added.Rows)
	for i, fields := range l.Rows {
		why := reasons[i+2]
		if len(why) == 0 && !read[i+2] {
			if strings.TrimSpace(strings.Join(fields, "")) == "" {
				continue
			}
			why = []string{"no column of it is known"}
		}
		if len(why) > 0 {
			m.Refused = append(m.Refused, RefusedRow{l.Lines[i], fields, why})
		}
	}
	m.Refused = append(m.Refused, l.Broken...)
	slices.SortStableFunc(m.Refused, func(a, b RefusedRow) int { return a.Line - b.Line })
}

// mostUnknown is how many unknown plates a note names.
const mostUnknown = 10

// unknownPlates tells the plates that rows name and the workbook does not
// hold. The rows are taken: they were measured, and Plates may be filled later;
// a check finds each of them then (R105).
func (m *Import) unknownPlates(t *table, l *List) {
	known := map[string]bool{}
	for i := range m.book.Inspection.Plates {
		known[inspection.Fold(m.book.Inspection.Plates[i].Label.Value)] = true
	}
	refused := map[int]bool{}
	for _, r := range m.Refused {
		refused[r.Line] = true
	}
	var names []string
	rows := 0
	for i := range t.columns {
		c := &t.columns[i]
		if c.col == 0 || c.def.Header != "Plate" || t.def.Name == "Plates" {
			continue
		}
		for n := range t.rows {
			row := t.rows[n].Number
			fields := l.Rows[row-2]
			if c.col > len(fields) || refused[l.Lines[row-2]] {
				continue
			}
			label := strings.TrimSpace(fields[c.col-1])
			if label == "" || known[inspection.Fold(label)] {
				continue
			}
			rows++
			if !slices.Contains(names, label) && len(names) <= mostUnknown {
				names = append(names, label)
			}
		}
	}
	if rows == 0 {
		return
	}
	list := strings.Join(names[:min(len(names), mostUnknown)], ", ")
	if len(names) > mostUnknown {
		list += " and more"
	}
	m.Notes = append(m.Notes, fmt.Sprintf("%s of a plate that is not on Plates, taken all the same: %s", count(rows, "row"), list))
}

// cannotHold says why a text cannot go into a cell as it stands: "" when it
// can.
func cannotHold(text string) string {
	if n := utf8.RuneCountInString(text); n > xlsx.MaxLetters {
		return fmt.Sprintf("holds %d letters; a cell holds %d", n, xlsx.MaxLetters)
	}
	for _, r := range text {
		if unicode.IsControl(r) && !strings.ContainsRune("\n\r\t", r) {
			return fmt.Sprintf("holds a control character (U+%04X)", r)
		}
	}
	return ""
}

// newValue is a cell as the sheet holds it: a number in the column's unit, a
// real date where the column's looks are those of a date, else the text as it
// stood in the list.
func newValue(c *column, v found, text string, to inspection.Column, format cell.Format, date1904 bool) (xlsx.NewValue, bool) {
	if v.state == inspection.Blank {
		return xlsx.NewValue{}, false
	}
	if v.state == inspection.Given {
		switch {
		case c.def.Type == layout.Number && (format == cell.General || format == cell.Decimal || format == cell.Fraction) && to.Scale > 0:
			n, err := strconv.ParseFloat(strconv.FormatFloat(v.number/to.Scale, 'g', 12, 64), 64)
			if err == nil && !math.IsInf(n, 0) {
				return xlsx.NewValue{Col: to.Col, Number: n, Kind: cell.Number}, true
			}
		case c.def.Type == layout.Date && format == cell.Date && !date1904:
			return xlsx.NewValue{Col: to.Col, Number: v.number, Kind: cell.Number}, true
		}
	}
	return xlsx.NewValue{Col: to.Col, Text: text, Kind: cell.String}, true
}

// Write writes the copy with the rows that were taken. The workbook itself is
// never touched; in the copy its own cells are unchanged, which is verified.
func (m *Import) Write(ctx context.Context, out string, inputs []string) (string, error) {
	return save.Save(ctx, out, inputs,
		func(w io.Writer) error { return m.book.File.WriteAppended(w, m.added) },
		func(path string) error { return m.book.File.VerifyAppended(path, m.added) })
}
