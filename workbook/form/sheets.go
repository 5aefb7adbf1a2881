package form

import (
	"fmt"
	"slices"
	"strconv"
	"unicode/utf8"

	"platebook/rules/criteria"
	"platebook/rules/unit"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// lastListRow is how far down the drop-downs and the help reach. Styles reach
// to the end of the sheet.
const lastListRow = 60_000

// ruled is how many empty lines a blank sheet is ruled with, so that it can
// be printed and filled in by hand on the floor.
var ruled = map[string]int{"Plates": 60, "Indications": 120, "Prove-ups": 60, "Readings": 60}

const ruledElsewhere = 25

// portraitWidth is how many characters a page carries upright.
const portraitWidth = 110

// table writes a sheet of columns.
func (f *filler) table(l *layout.Sheet) error {
	hint := "Dark headings are needed."
	firstSeldom := slices.IndexFunc(l.Columns, func(c layout.Column) bool { return c.Seldom })
	if firstSeldom >= 0 {
		hint += " Seldom used columns fold out at the right with [+]."
	}
	s := f.sheet(l, hint)
	header := make([]xlsx.Entry, len(l.Columns))
	across := 0.0
	for i := range l.Columns {
		c := &l.Columns[i]
		style := xlsx.Header
		switch {
		case c.Required:
			style = xlsx.HeaderKey
		case c.Seldom:
			style = xlsx.HeaderOpt
		}
		header[i] = xlsx.Text(c.Title(f.system), style)
		s.Width(i+1, i+1, columnWidth(c))
		if !c.Seldom {
			across += columnWidth(c)
		}
		s.ColumnStyle(i+1, i+1, columnStyle(c))
		f.list(s, c, i+1, layout.HeaderRow+1, lastListRow)
	}
	for i, h := range f.added[l.Name] {
		header = append(header, xlsx.Text(h, xlsx.Header))
		s.Width(len(l.Columns)+i+1, len(l.Columns)+i+1, 12)
	}
	s.TallRow(46, header...)
	s.Print.Landscape = across > portraitWidth
	if firstSeldom >= 0 {
		s.Group(firstSeldom+1, len(l.Columns), true)
	}
	s.FreezeCol = frozen(l)

	records := f.entries[l.Name]
	if l.Name == "Report" {
		var err error
		if records, err = sectionRecords(records); err != nil {
			return err
		}
	}
	for _, r := range records {
		if err := checkNames(l, r, f.added[l.Name]); err != nil {
			return err
		}
		row := make([]xlsx.Entry, len(l.Columns))
		for i := range l.Columns {
			e, err := f.entry(&l.Columns[i], r[l.Columns[i].Header])
			if err != nil {
				return err
			}
			row[i] = e
		}
		for _, h := range f.added[l.Name] {
			e, err := f.entry(&noteColumn, r[h])
			if err != nil {
				return err
			}
			row = append(row, e)
		}
		s.TallRow(rowHeight(l, r), row...)
	}
	if l.Name == "Report" {
		return nil
	}
	lines := ruledElsewhere
	if n, ok := ruled[l.Name]; ok {
		lines = n
	}
	for range max(0, lines-len(records)) {
		row := make([]xlsx.Entry, len(l.Columns))
		for i := range l.Columns {
			row[i] = xlsx.Blank(inputStyle(&l.Columns[i]))
		}
		s.Row(row...)
	}
	return nil
}

// rowHeight makes room for wrapped texts, in points; 0 is one line.
func rowHeight(l *layout.Sheet, r Record) float64 {
	height := 0.0
	for i := range l.Columns {
		c := &l.Columns[i]
		if text, ok := r[c.Header].(string); ok && c.Type == layout.Text {
			if h := lineHeight(text, columnWidth(c)); h > 15 {
				height = max(height, h)
			}
		}
	}
	return height
}

// frozen is the number of columns that stay in sight: the row key, where it
// stands at the left.
func frozen(l *layout.Sheet) int {
	n := 0
	for _, k := range l.Key {
		if i := slices.IndexFunc(l.Columns, func(c layout.Column) bool { return c.Header == k }); i < 3 {
			n = max(n, i+1)
		}
	}
	return n
}

func columnWidth(c *layout.Column) float64 {
	switch c.Header {
	case "Observation", "Answer":
		return 40
	case "Remarks":
		return 28
	case "Text":
		return 80
	case "Reason not examined":
		return 22
	case "Caption", "Section", "Finding":
		return 34
	case "Instrument":
		return 12
	case "Retest", "Photo", "File", "Criterion":
		return 20
	}
	switch c.Type {
	case layout.Date:
		return 12
	case layout.Number:
		return 10
	case layout.Word:
		widest := utf8.RuneCountInString(c.Header)
		for _, w := range c.Words {
			widest = max(widest, utf8.RuneCountInString(w))
		}
		return min(22, max(10, float64(widest)+3))
	case layout.Text:
		return 14
	}
	return 10
}

// columnStyle is for the cells below the ruled lines: without borders, but a
// label is still a text and a date a date.
func columnStyle(c *layout.Column) xlsx.Style {
	switch c.Type {
	case layout.Label, layout.Labels, layout.Word:
		return xlsx.TextOnly
	case layout.Date:
		return xlsx.DateISO
	}
	return xlsx.Normal
}

// list puts a column's drop-down and help on some of its rows.
func (f *filler) list(s *xlsx.NewSheet, c *layout.Column, col, first, last int) {
	title, help := f.help(c)
	l := xlsx.List{Area: xlsx.Area{Col1: col, Row1: first, Col2: col, Row2: last}, Words: c.Words, Title: title, Help: help}
	if c.Header == "Plate" && s.Name != "Plates" {
		l.From = fmt.Sprintf("Plates!$A$%d:$A$%d", layout.HeaderRow+1, layout.HeaderRow+1000)
	}
	if c.Header == "Section" {
		l.Words = nil
	}
	s.List(l)
}

// Widths of Item, Value, Unit and Note in characters.
var itemWidths = [...]float64{42, 38, 9, 42}

// items writes a sheet of Item, Value, Unit, Note under bold headings.
func (f *filler) items(l *layout.Sheet) error {
	s := f.sheet(l, "Bold items are needed.")
	s.Print.Landscape = false
	s.TallRow(20, xlsx.Text("Item", xlsx.HeaderKey), xlsx.Text("Value", xlsx.HeaderKey), xlsx.Text("Unit", xlsx.Header), xlsx.Text("Note", xlsx.Header))
	for i, w := range itemWidths {
		s.Width(i+1, i+1, w)
	}
	var record Record
	if rs := f.entries[l.Name]; len(rs) > 0 {
		record = rs[0]
	}
	group := ""
	seen := 0
	for i := range l.Columns {
		c := &l.Columns[i]
		if c.Group != group {
			group = c.Group
			s.TallRow(22, xlsx.Text(group, xlsx.Heading), xlsx.Blank(xlsx.Heading), xlsx.Blank(xlsx.Heading), xlsx.Blank(xlsx.Heading))
		}
		value, err := f.entry(c, record[c.Header])
		if err != nil {
			return err
		}
		note, err := f.entry(&noteColumn, record[c.Header+noteOf])
		if err != nil {
			return err
		}
		for _, name := range []string{c.Header, c.Header + noteOf} {
			if _, ok := record[name]; ok {
				seen++
			}
		}
		style := xlsx.Normal
		if c.Required {
			style = xlsx.Bold
		}
		height := 0.0
		if text, ok := record[c.Header].(string); ok {
			if h := lineHeight(text, itemWidths[1]); h > 15 {
				height = h
			}
		}
		row := s.TallRow(height, xlsx.Text(c.Header, style), value, xlsx.Text(c.ItemUnit(f.system), xlsx.Muted), note)
		f.list(s, c, 2, row, row)
	}
	if seen != len(record) {
		return fmt.Errorf("a record names an item the sheet does not have: %v", names(record))
	}
	return nil
}

// noteOf behind an item's name in the Tank record is the Note beside it.
const noteOf = ", note"

var noteColumn = layout.Column{Header: "Note", Type: layout.Text}

// criteria writes every criterion with its default and source.
func (f *filler) criteria(l *layout.Sheet) error {
	s := f.sheet(l, "")
	s.FreezeCol = 1
	for i, w := range []float64{38, 26, 11, 32, 30, 44} {
		s.Width(i+1, i+1, w)
	}
	s.TallRow(20, xlsx.Text("Criterion", xlsx.HeaderKey), xlsx.Text("Value", xlsx.Header), xlsx.Text("Unit", xlsx.Header),
		xlsx.Text("Default", xlsx.Header), xlsx.Text("Source", xlsx.Header), xlsx.Text("Note", xlsx.Header))
	given := map[string]Record{}
	for _, r := range f.entries[l.Name] {
		name, _ := r["Criterion"].(string)
		if !slices.ContainsFunc(criteria.Table, func(d criteria.Definition) bool { return string(d.Name) == name }) {
			return fmt.Errorf("no criterion %q", name)
		}
		if err := checkNames(l, r, nil); err != nil {
			return err
		}
		given[name] = r
	}
	for _, d := range criteria.Table {
		r := given[string(d.Name)]
		value := criterionEntry(d, d.Default(f.system))
		if v, ok := r["Value"]; ok {
			switch v := v.(type) {
			case string:
				value = criterionEntry(d, v)
			case xlsx.Entry:
				value = v
			default:
				return fmt.Errorf("%s: a value of type %T", d.Name, v)
			}
		}
		note, err := f.entry(&noteColumn, r["Note"])
		if err != nil {
			return err
		}
		row := s.Row(xlsx.Text(string(d.Name), xlsx.Normal), value, xlsx.Text(d.Unit(f.system), xlsx.Muted),
			xlsx.Text(defaultText(d, f.system), xlsx.Muted), xlsx.Text(source(d), xlsx.Muted), note)
		s.List(xlsx.List{Area: xlsx.Area{Col1: 2, Row1: row, Col2: 2, Row2: row}, Words: d.Words, Help: d.Help})
	}
	return nil
}

func defaultText(d criteria.Definition, s unit.System) string {
	if t := d.Default(s); t != "" {
		return t
	}
	return "blank: no such limit"
}

func criterionEntry(d criteria.Definition, typed string) xlsx.Entry {
	if d.Shape == criteria.Quantity || d.Shape == criteria.Whole {
		if v, err := strconv.ParseFloat(typed, 64); err == nil {
			return xlsx.Number(v, xlsx.Input)
		}
	}
	if typed == "" {
		return xlsx.Blank(xlsx.Input)
	}
	return xlsx.Text(typed, xlsx.InputText)
}

// sectionRecords are all sections of the report, with what the given records
// say of some.
func sectionRecords(given []Record) ([]Record, error) {
	all := make([]Record, len(layout.Sections))
	for i, name := range layout.Sections {
		all[i] = Record{"Section": name}
	}
	for _, g := range given {
		name, _ := g["Section"].(string)
		i := slices.Index(layout.Sections, name)
		if i < 0 {
			return nil, fmt.Errorf("no section %q", name)
		}
		all[i] = g
	}
	return all, nil
}

// names are a record's headers in alphabetical order, for messages.
func names(r Record) []string {
	var list []string
	for name := range r {
		list = append(list, name)
	}
	slices.Sort(list)
	return list
}

func source(d criteria.Definition) string {
	if d.Clause == "" {
		return string(d.Mark)
	}
	return string(d.Mark) + ", " + d.Clause
}
