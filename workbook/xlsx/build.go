package xlsx

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	_ "image/png" // pictures are PNG

	"github.com/xuri/excelize/v2"

	"platebook/rules/finding"
)

// parts are the files of a package by name.
type parts map[string][]byte

// Write writes a workbook of the Draft's sheets alone. The same Draft always
// gives the same bytes.
func (d *Draft) Write(w io.Writer) error {
	all, err := d.build()
	if err != nil {
		return err
	}
	z := newZip(w)
	for _, name := range all.names() {
		if err := z.put(name, all[name]); err != nil {
			return err
		}
	}
	return z.Close()
}

// names are the parts' names in the order they are written: the content types
// first, as every program expects, then by name.
func (p parts) names() []string {
	names := make([]string, 0, len(p))
	for n := range p {
		names = append(names, n)
	}
	slices.SortFunc(names, func(a, b string) int {
		if (a == contentTypes) != (b == contentTypes) {
			if a == contentTypes {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	return names
}

const contentTypes = "[Content_Types].xml"

// capture stands in for a zip and keeps the parts as they are.
type capture struct {
	all  parts
	last *bytes.Buffer
	name string
}

func (c *capture) Create(name string) (io.Writer, error) {
	c.flush()
	c.name, c.last = name, &bytes.Buffer{}
	return c.last, nil
}

func (c *capture) flush() {
	if c.last != nil {
		c.all[c.name] = c.last.Bytes()
	}
}

func (c *capture) AddFS(fs.FS) error { return errors.New("no folders in a workbook") }
func (c *capture) Close() error      { c.flush(); return nil }

// build makes all parts of the Draft.
func (d *Draft) build() (parts, error) {
	all, pal, err := d.shells()
	if err == nil {
		err = d.fill(all, pal)
	}
	return all, err
}

// shells makes all parts but the rows, columns and hyperlinks of the sheets.
func (d *Draft) shells() (parts, *palette, error) {
	if len(d.sheets) == 0 {
		return nil, nil, errors.New("a workbook without sheets")
	}
	f := excelize.NewFile()
	defer f.Close()
	pal, err := newPalette(f)
	if err != nil {
		return nil, nil, err
	}
	for i, s := range d.sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", s.Name)
		} else {
			_, err = f.NewSheet(s.Name)
		}
		if err == nil {
			err = s.shell(f)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("sheet %s: %w", s.Name, err)
		}
	}
	if err := d.properties(f); err != nil {
		return nil, nil, err
	}
	c := &capture{all: parts{}}
	f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return c })
	if _, err := f.WriteToBuffer(); err != nil {
		return nil, nil, err
	}
	if d.Macros {
		c.all["xl/vbaProject.bin"] = []byte("no macros in it")
		relate(c.all, "vbaProject", "http://schemas.microsoft.com/office/2006/relationships/vbaProject", "vbaProject.bin", "application/vnd.ms-office.vbaProject")
		c.all[contentTypes] = bytes.ReplaceAll(c.all[contentTypes], []byte(typeBook), []byte(typeMacroBook))
	}
	d.linkParts(c.all)
	c.all[contentTypes] = sortedDefaults(c.all[contentTypes])
	return c.all, pal, nil
}

func sheetName(i int) string { return "xl/worksheets/sheet" + strconv.Itoa(i+1) + ".xml" }

// fill puts the rows into the shells.
func (d *Draft) fill(all parts, pal *palette) error {
	for i, s := range d.sheets {
		name := sheetName(i)
		var b bytes.Buffer
		if err := s.fill(&b, all[name], pal, 0); err != nil {
			return fmt.Errorf("sheet %s: %w", s.Name, err)
		}
		all[name] = b.Bytes()
	}
	return nil
}

const (
	typeBook      = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
	typeMacroBook = "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
	relTypes      = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
)

// relate lists a new part beside the workbook's other parts.
func relate(all parts, id, kind, target, contentType string) {
	const rels = "xl/_rels/workbook.xml.rels"
	all[rels] = before(all[rels], "</Relationships>", fmt.Sprintf(`<Relationship Id="%s" Type="%s" Target="%s"/>`, id, kind, target))
	all[contentTypes] = before(all[contentTypes], "</Types>", fmt.Sprintf(`<Override PartName="/xl/%s" ContentType="%s"/>`, target, contentType))
}

// before puts a text in front of the last place where end stands.
func before(b []byte, end, insert string) []byte {
	i := bytes.LastIndex(b, []byte(end))
	if i < 0 {
		return b
	}
	return slices.Concat(b[:i], []byte(insert), b[i:])
}

// linkParts adds the parts that name other workbooks.
func (d *Draft) linkParts(all parts) {
	if len(d.Links) == 0 {
		return
	}
	refs := "<externalReferences>"
	for i, target := range d.Links {
		name := fmt.Sprintf("externalLinks/externalLink%d.xml", i+1)
		id := fmt.Sprintf("link%d", i+1)
		all["xl/"+name] = []byte(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?><externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" r:id="rId1"><sheetNames><sheetName val="Sheet1"/></sheetNames></externalBook></externalLink>`)
		all[relsOf("xl/"+name)] = fmt.Appendf(nil, `<?xml version="1.0" encoding="UTF-8" standalone="yes"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="%sexternalLinkPath" Target="%s" TargetMode="External"/></Relationships>`, relTypes, escape(nil, target))
		relate(all, id, relTypes+"externalLink", name, "application/vnd.openxmlformats-officedocument.spreadsheetml.externalLink+xml")
		refs += fmt.Sprintf(`<externalReference xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" r:id="%s"/>`, id)
	}
	const book = "xl/workbook.xml"
	at := "<definedNames>"
	if !bytes.Contains(all[book], []byte(at)) {
		at = "<calcPr"
	}
	if !bytes.Contains(all[book], []byte(at)) {
		at = "</workbook>"
	}
	all[book] = before(all[book], at, refs+"</externalReferences>")
}

func (d *Draft) properties(f *excelize.File) error {
	if d.Since1904 {
		yes := true
		if err := f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}); err != nil {
			return err
		}
	}
	for _, p := range d.Properties {
		if err := f.SetCustomProps(excelize.CustomProperty{Name: p.Name, Value: p.Value}); err != nil {
			return err
		}
	}
	author := d.Author
	if author == "" {
		author = "platebook"
	}
	const fixed = "2000-01-01T00:00:00Z" // no clock: the same input gives the same bytes
	return f.SetDocProps(&excelize.DocProperties{Title: d.Title, Creator: author, LastModifiedBy: author, Created: fixed, Modified: fixed})
}

// fill writes the shell of a sheet with columns, rows and hyperlinks in it.
// Rows go out as they are made: a large sheet is never whole in memory.
func (s *NewSheet) fill(w io.Writer, shell []byte, pal *palette, offset int) error {
	shell = bytes.Replace(shell, []byte(` filterMode="true"`), nil, 1) // buttons, but no condition
	shell = bytes.Replace(shell, []byte(`<dimension ref="A1">`), []byte(`<dimension ref="`+s.extent()+`">`), 1)
	from, to, err := element(shell, "sheetData")
	if err != nil {
		return err
	}
	out := stream{w: w, b: make([]byte, 0, 2*streamed)}
	out.b = append(append(out.b, shell[:from]...), s.columnsXML(pal, offset)...)
	rowsXML(&out, s, pal, offset)
	rest := shell[to:]
	if len(s.links) > 0 {
		from, to, err := element(rest, "hyperlinks")
		if err != nil {
			return err
		}
		out.b = append(out.b, rest[:from]...)
		linksXML(&out, s)
		rest = rest[to:]
	}
	out.b = append(out.b, rest...)
	out.flush()
	return out.err
}

// stream collects bytes on their way to a writer; after the first error
// nothing more goes out.
type stream struct {
	w   io.Writer
	b   []byte
	err error
}

const streamed = 32 << 10 // bytes that go out together

// full sends what is there on its way when there is enough of it.
func (s *stream) full() {
	if len(s.b) >= streamed {
		s.flush()
	}
}

func (s *stream) flush() {
	if s.err == nil {
		_, s.err = s.w.Write(s.b)
	}
	s.b = s.b[:0]
}

// extent is the range that holds cells.
func (s *NewSheet) extent() string {
	wide := 1
	for _, r := range s.rows {
		wide = max(wide, len(r.cells), r.many.wide)
	}
	return Area{1, 1, wide, max(1, s.Next()-1)}.String()
}

// element finds an element of a sheet's shell.
func element(shell []byte, name string) (from, to int, err error) {
	from = bytes.Index(shell, []byte("<"+name))
	if from < 0 {
		return 0, 0, fmt.Errorf("the shell has no %s", name)
	}
	if k := bytes.IndexByte(shell[from:], '>'); k > 0 && shell[from+k-1] == '/' {
		return from, from + k + 1, nil
	}
	end := []byte("</" + name + ">")
	n := bytes.Index(shell[from:], end)
	if n < 0 {
		return 0, 0, fmt.Errorf("the shell has no end of %s", name)
	}
	return from, from + n + len(end), nil
}

// columnsXML writes widths, styles, hiding and groups of the columns.
func (s *NewSheet) columnsXML(pal *palette, offset int) []byte {
	type column struct {
		width  float64
		style  int
		hidden bool
		level  int
		folded bool
	}
	cols := map[int]column{}
	last := 0
	each := func(first, end int, f func(*column)) {
		for c := first; c <= end && c <= 16384; c++ {
			v := cols[c]
			f(&v)
			cols[c] = v
			last = max(last, c)
		}
	}
	for _, w := range s.widths {
		each(w.first, w.last, func(c *column) {
			if w.hidden {
				c.hidden = true
			} else {
				c.width = w.chars
			}
		})
	}
	for _, st := range s.columns {
		each(st.first, st.last, func(c *column) { c.style = pal.plain[st.style] + offset })
	}
	for _, o := range s.outline {
		each(o.first, o.last, func(c *column) { c.level++; c.hidden = c.hidden || o.folded })
		each(o.last+1, o.last+1, func(c *column) { c.folded = c.folded || o.folded })
	}
	if last == 0 {
		return nil
	}
	b := []byte("<cols>")
	for c := 1; c <= last; c++ {
		v, ok := cols[c]
		if !ok {
			continue
		}
		if v.width == 0 {
			v.width = 10
		}
		b = fmt.Appendf(b, `<col min="%d" max="%d" width="%s" customWidth="1"`, c, c, strconv.FormatFloat(v.width, 'f', -1, 64))
		if v.style > 0 {
			b = fmt.Appendf(b, ` style="%d"`, v.style)
		}
		if v.hidden {
			b = append(b, ` hidden="1"`...)
		}
		if v.level > 0 {
			b = fmt.Appendf(b, ` outlineLevel="%d"`, v.level)
		}
		if v.folded {
			b = append(b, ` collapsed="1"`...)
		}
		b = append(b, "/>"...)
	}
	return append(b, "</cols>"...)
}

func ref(col, row int) string { return finding.ColumnName(col) + strconv.Itoa(row) }

func (a Area) String() string {
	if a.Col1 == a.Col2 && a.Row1 == a.Row2 {
		return ref(a.Col1, a.Row1)
	}
	return ref(a.Col1, a.Row1) + ":" + ref(a.Col2, a.Row2)
}

func quote(sheet string) string { return finding.QuoteSheet(sheet) }

// absolute is the range as a defined name writes it: $A$3:$F$20.
func (a Area) absolute() string {
	corner := func(col, row int) string { return "$" + finding.ColumnName(col) + "$" + strconv.Itoa(row) }
	return corner(a.Col1, a.Row1) + ":" + corner(a.Col2, a.Row2)
}
