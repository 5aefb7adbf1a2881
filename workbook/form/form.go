// Package form writes a workbook for people to fill in: every sheet of the
// layout with its headers, lists, help, styles and print set-up, either blank
// or with rows already in it.
package form

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"platebook/rules/unit"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// Options say what the blank workbook is for. With a Diameter and a plate
// size, Plates is filled with a generated layout, ready to correct.
type Options struct {
	Units        unit.System
	Diameter     unit.Length
	PlateLength  unit.Length
	PlateWidth   unit.Length
	Lap          unit.Length // 0: not given
	AnnularWidth unit.Length // 0: no annular ring
}

// Write writes the blank workbook.
func Write(w io.Writer, o Options) error {
	entries := Entries{"Tank": {start(o.Units)}}
	if o.Diameter != 0 || o.PlateLength != 0 || o.PlateWidth != 0 {
		slots, err := Layout(o)
		if err != nil {
			return err
		}
		entries["Tank"][0].add(o)
		entries["Plates"] = plateRecords(slots)
	}
	return Book{Title: "Tank floor inspection", Units: o.Units, Rows: entries}.Write(w)
}

// Record is the values of one row by contract header: a string, a float64 in
// stored units, a unit.Date, or an xlsx.Entry as it is. A Tank sheet has one
// record of all items, and Criteria and Report one for each row that differs
// from the defaults.
type Record map[string]any

// Entries are the rows of each sheet.
type Entries map[string][]Record

// start is what a blank Tank sheet already says.
func start(s unit.System) Record {
	page := "A4"
	if s == unit.US {
		page = "Letter"
	}
	return Record{"Revision": "0", "Report status": "preliminary", "Units": s.String(), "Plan view": "from above", "Page size": page}
}

func (r Record) add(o Options) {
	r["Diameter"] = float64(o.Diameter)
	r["Annular ring"] = "no"
	if o.Lap > 0 {
		r["Lap"] = float64(o.Lap)
	}
	if o.AnnularWidth > 0 {
		r["Annular ring"] = "yes"
		r["Annular width inside the shell"] = float64(o.AnnularWidth)
	}
}

func plateRecords(slots []Slot) []Record {
	records := make([]Record, len(slots))
	for i, s := range slots {
		r := Record{"Plate": s.Label, "Type": s.Type, "Length": s.Length, "Width": s.Width}
		if s.Type == "annular" {
			r["Start bearing"], r["End bearing"] = s.Start, s.End
		} else {
			r["Row"], r["Position"] = strconv.Itoa(s.Row), strconv.Itoa(s.Position)
		}
		records[i] = r
	}
	return records
}

// Book is a workbook with rows in it.
type Book struct {
	Title string
	Units unit.System
	Rows  Entries
	Added map[string][]string // further headings at the right of a sheet, as typed
	Pages []Page              // sheets of plain text behind the others
}

// Page is a sheet of plain text under a title. The first row is its head.
type Page struct {
	Name, Title string
	Widths      []float64
	Rows        [][]string
}

// Write writes the workbook.
func (b Book) Write(w io.Writer) error {
	for name := range b.Rows {
		if layout.Find(name) == nil {
			return fmt.Errorf("no sheet %s", name)
		}
	}
	d := xlsx.NewDraft(b.Title)
	d.Properties = []xlsx.Property{{Name: layout.TemplateProperty, Value: strconv.Itoa(layout.TemplateVersion)}}
	f := filler{draft: d, system: b.Units, entries: b.Rows, added: b.Added}
	for i := range layout.Sheets {
		sheet := &layout.Sheets[i]
		var err error
		switch sheet.Name {
		case "Guide":
			f.guide()
		case "Tank":
			err = f.items(sheet)
		case "Criteria":
			err = f.criteria(sheet)
		default:
			err = f.table(sheet)
		}
		if err != nil {
			return fmt.Errorf("sheet %s: %w", sheet.Name, err)
		}
	}
	for _, p := range b.Pages {
		p.write(d, b.Units)
	}
	return d.Write(w)
}

func (p Page) write(d *xlsx.Draft, system unit.System) {
	s := d.Sheet(p.Name)
	s.Tab = greyTab
	s.Print = xlsx.Print{Landscape: true, FitWidth: true, Letter: system == unit.US, Footer: "&L&A&R&P of &N"}
	for i, w := range p.Widths {
		s.Width(i+1, i+1, w)
	}
	s.TallRow(24, xlsx.Text(p.Title, xlsx.Title))
	for i, r := range p.Rows {
		style := xlsx.Wrapped
		if i == 0 {
			style = xlsx.Header
		}
		cells := make([]xlsx.Entry, len(r))
		for j, t := range r {
			cells[j] = xlsx.Text(t, style)
		}
		s.Row(cells...)
	}
}

type filler struct {
	draft   *xlsx.Draft
	system  unit.System
	entries Entries
	added   map[string][]string
}

// The tabs: dark for the sheets everybody fills in, pale for optional ones,
// and grey for the three at the end.
const (
	darkTab = "1F3864"
	paleTab = "B4C7E7"
	greyTab = "D9D9D9"
)

func tab(name string) string {
	switch name {
	case "Guide", "Tank", "Plates", "Indications", "Prove-ups", "Readings", "Photos":
		return darkTab
	case "Criteria", "Report", "Answers":
		return greyTab
	}
	return paleTab
}

// sheet begins a sheet with its title and its purpose above the header row.
func (f *filler) sheet(l *layout.Sheet, hint string) *xlsx.NewSheet {
	s := f.draft.Sheet(l.Name)
	s.Tab = tab(l.Name)
	s.Print = xlsx.Print{TitleRows: "1:" + strconv.Itoa(layout.HeaderRow), Landscape: true, FitWidth: true, Letter: f.system == unit.US, Footer: "&L&A&R&P of &N"}
	s.FreezeRow = layout.HeaderRow
	s.TallRow(24, xlsx.Text(l.Name, xlsx.Title))
	s.Row(xlsx.Text(strings.TrimSpace(l.Purpose+" "+hint), xlsx.Normal))
	return s
}

// entry is a cell of a column with a value, or an empty one to fill in.
func (f *filler) entry(c *layout.Column, v any) (xlsx.Entry, error) {
	style := inputStyle(c)
	switch v := v.(type) {
	case nil:
		return xlsx.Blank(style), nil
	case xlsx.Entry:
		return v, nil
	case string:
		if c.Type == layout.Number || c.Type == layout.Date {
			style = xlsx.InputText
		}
		return xlsx.Text(v, style), nil
	case float64:
		return xlsx.Number(f.printed(c, v), style), nil
	case unit.Date:
		return xlsx.Date(v, xlsx.InputDate), nil
	}
	return xlsx.Entry{}, fmt.Errorf("%s: a value of type %T", c.Header, v)
}

// printed is a stored value in the sheet's unit without the dust a conversion
// leaves, so that 304.8 mm is 1 ft and not 0.9999999999999999.
func (f *filler) printed(c *layout.Column, v float64) float64 {
	n, err := strconv.ParseFloat(strconv.FormatFloat(c.Kind.In(f.system, v), 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return n
}

func inputStyle(c *layout.Column) xlsx.Style {
	switch c.Type {
	case layout.Date:
		return xlsx.InputDate
	case layout.Number:
		return xlsx.Input
	case layout.Text:
		return xlsx.InputWrap
	}
	return xlsx.InputText
}

// help is what a cell shows when it is selected.
func (f *filler) help(c *layout.Column) (title, text string) {
	title = c.Title(f.system)
	if c.Required {
		title += " – needed"
	}
	if utf8.RuneCountInString(title) > 32 {
		title = string([]rune(c.Header)[:min(32, utf8.RuneCountInString(c.Header))])
	}
	text = c.Help
	if r := []rune(text); len(r) > 255 {
		text = string(r[:254]) + "…"
	}
	return title, text
}

// checkNames refuses a record with a header the sheet does not have: a value
// must never be left out in silence.
func checkNames(l *layout.Sheet, r Record, added []string) error {
	known := 0
	for _, h := range added {
		if _, ok := r[h]; ok {
			known++
		}
	}
	for i := range l.Columns {
		if _, ok := r[l.Columns[i].Header]; ok {
			known++
		}
	}
	if known != len(r) {
		return fmt.Errorf("a record names a header the sheet does not have: %v", names(r))
	}
	return nil
}
