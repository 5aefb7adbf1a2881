package xlsx

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/cell"
)

// part is an entry of a hand-made zip.
type part struct{ name, text string }

func zipped(t testing.TB, list ...part) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, p := range list {
		f, err := w.Create(p.name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(p.text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// web is a workbook as web programs export it: prefixes, texts in the cells,
// no styles, no references, absolute targets.
func web(sheet string) []part {
	return []part{
		{"[Content_Types].xml", `<ct:Types xmlns:ct="http://schemas.openxmlformats.org/package/2006/content-types"><ct:Default Extension="xml" ContentType="application/xml"/></ct:Types>`},
		{"_rels/.rels", `<r:Relationships xmlns:r="http://schemas.openxmlformats.org/package/2006/relationships"><r:Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="/xl/workbook.xml"/></r:Relationships>`},
		{"xl/workbook.xml", `<x:workbook xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><x:sheets><x:sheet name="Prove-ups" sheetId="7" r:id="R1"/></x:sheets></x:workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="R1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/worksheets/sheet.xml"/></Relationships>`},
		{"xl/worksheets/sheet.xml", sheet},
	}
}

const webSheet = `<?xml version="1.0"?><x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData><x:row><x:c t="inlineStr"><x:is><x:r><x:t>a </x:t></x:r><x:r><x:t>&lt;b&#233;</x:t></x:r></x:is></x:c><x:c><x:v>2.5</x:v></x:c></x:row><x:row/><x:row><x:c/><x:c><x:f t="shared" ref="B3:B4" si="0">B1*$B$1+"B1"</x:f><x:v>3</x:v></x:c></x:row><x:row><x:c/><x:c><x:f t="shared" si="0"/><x:v>4</x:v></x:c></x:row></x:sheetData></x:worksheet>`

func rule(err error) string {
	var u *finding.Unusable
	if errors.As(err, &u) {
		return u.Rule
	}
	return fmt.Sprint(err)
}

func readAll(data []byte) error {
	b, err := OpenBytes("east-7.xlsx", data)
	if err != nil {
		return err
	}
	for _, s := range b.Sheets {
		if _, err := s.Read(); err != nil {
			return err
		}
	}
	return nil
}

func compound(streams ...string) []byte {
	b := append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 504)...)
	for _, s := range streams {
		e := make([]byte, 128)
		for i, c := range s {
			e[2*i] = byte(c)
		}
		e[64], e[66] = byte(2*len(s)+2), 2
		b = append(b, e...)
	}
	return b
}

func TestWhatIsNoWorkbook(t *testing.T) {
	good := zipped(t, web(webSheet)...)
	if err := readAll(good); err != nil {
		t.Fatalf("the good one: %v", err)
	}
	encrypted := bytes.Clone(good)
	for i := range encrypted {
		if bytes.HasPrefix(encrypted[i:], []byte("PK\x01\x02")) {
			encrypted[i+8] |= 1
		}
	}
	flipped := bytes.Clone(good)
	at := bytes.Index(flipped, []byte("xl/worksheets/sheet.xml")) + len("xl/worksheets/sheet.xml") + 40
	flipped[at] ^= 0x55
	carried := zipped(t, append(web(webSheet), part{"xl/theme/theme1.xml", strings.Repeat("<a/>", 99)})...)
	carried[bytes.Index(carried, []byte("xl/theme/theme1.xml"))+len("xl/theme/theme1.xml")+6] ^= 0x55
	var sparse bytes.Buffer
	z := zip.NewWriter(&sparse)
	for _, p := range web("") {
		f, _ := z.Create(p.name)
		if p.name != "xl/worksheets/sheet.xml" {
			_, _ = f.Write([]byte(p.text))
			continue
		}
		_, _ = f.Write([]byte("<worksheet><sheetData>"))
		row := bytes.Repeat([]byte("<row/> \n"), 1<<17)
		for range MaxPart>>20 + 1 {
			_, _ = f.Write(row)
		}
		_, _ = f.Write([]byte("</sheetData></worksheet>"))
	}
	_ = z.Close()
	rows := "<worksheet><sheetData>" + strings.Repeat("<row><c><v>1</v></c></row>", MaxRows+1) + "</sheetData></worksheet>"
	for name, c := range map[string]struct {
		data []byte
		rule string
		says string
	}{
		"empty":         {nil, "F105", "is empty"},
		"web page":      {[]byte("<html><table><tr><td>1</td></tr></table></html>"), "F105", "is a web page named .xlsx"},
		"csv":           {[]byte("Plate,Type\n3-4,sketch\n3-5,sketch\n"), "F105", "CSV"},
		"utf-16 csv":    {[]byte("\xff\xfeP\x00;\x00X\x00\n\x001\x00;\x002\x00\n\x00"), "F105", "CSV"},
		"text":          {[]byte("Dear reader, nothing here"), "F105", "text file"},
		"pdf":           {[]byte("%PDF-1.7\n"), "F105", "PDF"},
		"picture":       {[]byte("\x89PNG\r\n\x1a\n0000"), "F105", "picture"},
		"bytes":         {[]byte("\x01\x02\x03\x04"), "F105", "unknown kind"},
		"zeros":         {make([]byte, 9000), "F106", "zeros only"},
		"xml 2003":      {[]byte(`<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>`), "F105", "XML spreadsheet"},
		"encrypted":     {compound("Root", "EncryptedPackage"), "F103", "password"},
		"xls":           {compound("Root", "Workbook"), "F104", "old .xls"},
		"old doc":       {compound("Root", "WordDocument"), "F105", "no workbook"},
		"xlsb":          {zipped(t, part{"xl/workbook.bin", "x"}), "F104", ".xlsb"},
		"ods":           {zipped(t, part{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, part{"content.xml", "<a/>"}), "F105", ".ods"},
		"docx":          {zipped(t, part{"word/document.xml", "<a/>"}), "F105", ".docx"},
		"zip":           {zipped(t, part{"a.txt", "x"}), "F105", "zip archive"},
		"zip password":  {encrypted, "F103", "password"},
		"cut":           {good[:len(good)/2], "F106", "breaks off"},
		"no sheet part": {zipped(t, web(webSheet)[:4]...), "F106", "Prove-ups is missing"},
		"flipped byte":  {flipped, "F106", "Prove-ups"},
		"cut xml":       {zipped(t, web(webSheet[:len(webSheet)-90])...), "F106", "Prove-ups breaks off after row 3"},
		"end tags":      {zipped(t, web("<worksheet><sheetData></worksheet></sheetData>")...), "F106", "closed by"},
		"doctype":       {zipped(t, web(`<!DOCTYPE a [<!ENTITY b "c">]><worksheet/>`)...), "F106", "document type"},
		"entity":        {zipped(t, web(`<worksheet><sheetData><row><c t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>`)...), "F106", "unknown entity"},
		"deep":          {zipped(t, web(strings.Repeat("<a>", 100_000))...), "F106", "inside each other"},
		"cell twice":    {zipped(t, web(`<worksheet><sheetData><row r="2"><c r="A2"><v>1</v></c><c r="A2"><v>2</v></c></row></sheetData></worksheet>`)...), "F106", "A2 stands in it twice"},
		"wrong row":     {zipped(t, web(`<worksheet><sheetData><row r="2"><c r="A3"><v>1</v></c></row></sheetData></worksheet>`)...), "F106", "row 2"},
		"shared text":   {zipped(t, web(`<worksheet><sheetData><row><c t="s"><v>7</v></c></row></sheetData></worksheet>`)...), "F106", "shared text"},
		"carried part":  {carried, "F106", "xl/theme/theme1.xml"},
		"list of parts": {zipped(t, append([]part{{"[Content_Types].xml", "<Types><Default"}}, web(webSheet)[1:]...)...), "F106", "list of its parts"},
		"bomb":          {sparse.Bytes(), "F107", "256 MB"},
		"rows":          {zipped(t, web(rows)...), "F107", "more than 200000 rows"},
	} {
		err := readAll(c.data)
		if got := rule(err); got != c.rule || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %s %v, want %s %q", name, got, err, c.rule, c.says)
		}
		var u *finding.Unusable
		if errors.As(err, &u) && u.Do == "" {
			t.Errorf("%s: nothing said about what to do", name)
		}
	}
}

func TestFilesThatCannotBeOpened(t *testing.T) {
	dir := t.TempDir()
	locked := filepath.Join(dir, "~$east-7.xlsx")
	shut := filepath.Join(dir, "shut.xlsx")
	if err := os.WriteFile(shut, []byte("x"), 0); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{filepath.Join(dir, "none.xlsx"): "F101", locked: "F102", dir: "F105"} {
		if _, err := Open(path); rule(err) != want {
			t.Errorf("%s: %v, want %s", filepath.Base(path), err, want)
		}
	}
	if _, err := os.ReadFile(shut); err != nil { // not so for a superuser
		if _, err := Open(shut); rule(err) != "F101" || !strings.Contains(err.Error(), "no right") {
			t.Errorf("%v, want F101", err)
		}
	}
}

func TestWebExport(t *testing.T) {
	g, err := open(t, zipped(t, web(webSheet)...)).Sheets[0].Read()
	if err != nil {
		t.Fatal(err)
	}
	if c := g.At(1, 1); c.Text != "a <bé" || c.Type != cell.String {
		t.Errorf("rich text %+v", c)
	}
	if c := g.At(2, 3); c.Formula != `B1*$B$1+"B1"` || c.Number != 3 {
		t.Errorf("shared formula %+v", c)
	}
	if c := g.At(2, 4); c.Formula != `B2*$B$1+"B1"` || c.Number != 4 {
		t.Errorf("formula that shares it %+v", c)
	}
}

// Files saved by other programs read alike and take the results.
func TestOtherProgramsFiles(t *testing.T) {
	for _, name := range []string{"libreoffice.xlsx", "openpyxl.xlsx"} {
		b, err := Open(filepath.Join("..", "..", "testdata", "xlsx", name))
		if err != nil {
			t.Fatal(err)
		}
		c := open(t, grafted(t, b, results(3), nil))
		want, err1 := b.ValuesHash([]string{b.Sheets[0].Name, b.Sheets[1].Name})
		got, err2 := c.ValuesHash([]string{b.Sheets[0].Name, b.Sheets[1].Name})
		if err1 != nil || err2 != nil || want != got {
			t.Errorf("%s: values differ (%v, %v)", name, err1, err2)
		}
		if g, err := c.Sheet("Summary").Read(); err != nil || g.At(2, 2).Format != cell.Decimal || g.At(1, 2).Format != cell.Text {
			t.Errorf("%s: styles of the results: %v", name, err)
		}
	}
	b, err := Open(filepath.Join("..", "..", "testdata", "xlsx", "openpyxl.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	g, err := b.Sheets[0].Read()
	if err != nil {
		t.Fatal(err)
	}
	if a := g.At(1, 1); !a.Strike || a.Text != "a" {
		t.Errorf("struck through: %+v", a)
	}
	if d := g.At(3, 1); d.Format != cell.Date || d.Number != 46143 {
		t.Errorf("date %+v", d)
	}
	if f := g.At(4, 1); !f.NoStored || f.Formula != "B1*2" {
		t.Errorf("formula without a stored value: %+v", f)
	}
	if c := g.At(3, 3); c.Format != cell.Time || b.Sheets[1].Visibility != Hidden {
		t.Errorf("time %+v, hidden %v", c, b.Sheets[1].Visibility)
	}
}

func TestFormatClasses(t *testing.T) {
	for code, want := range map[string]cell.Format{
		"General": cell.General, "0.00": cell.Decimal, "#,##0.00": cell.Decimal, "0.0%": cell.Percent, "yyyy-mm-dd": cell.Date,
		"d-mmm": cell.Date, "mmm-yy": cell.Date, "mmmm": cell.Date, "hh:mm": cell.Time, "[h]:mm:ss": cell.Time, "mm:ss.0": cell.Time,
		"m/d/yyyy h:mm": cell.Date, "# ?/?": cell.Fraction, "@": cell.Text, "0.00E+00": cell.Decimal, `0.0" mm"`: cell.Decimal,
		`0" days"`: cell.Decimal, "[$-409]d-mmm-yy": cell.Date, "[Red]0.00": cell.Decimal, "0.00;[Red]-0.00": cell.Decimal,
		"_-* #,##0.00_-": cell.Decimal, "h:mm AM/PM": cell.Time, `General" mm"`: cell.General, "[$-F800]dddd": cell.Date, "0\\d": cell.Decimal,
	} {
		if got := formatOf(code); got != want {
			t.Errorf("%q: %v, want %v", code, got, want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add(webSheet)
	f.Add(`<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>`)
	f.Add("<a><![CDATA[x]]></a>")
	f.Fuzz(func(t *testing.T, sheet string) {
		err := readAll(zipped(t, web(sheet)...))
		if err != nil && !strings.HasPrefix(rule(err), "F10") {
			t.Errorf("%v is no finding about the file", err)
		}
	})
}

// A file that is not as long as its own entry says was written meanwhile.
func TestWrittenWhileRead(t *testing.T) {
	const growing = "/proc/self/maps" // 0 bytes long to its folder, some thousand to who reads it
	f, err := os.Open(growing)
	if err != nil {
		t.Skip(err)
	}
	defer f.Close()
	_, _, err = readWhole(f, "tank.xlsx")
	var u *finding.Unusable
	if !errors.As(err, &u) || u.Rule != "F101" || u.Message != "tank.xlsx was written while it was read" {
		t.Errorf("%v", err)
	}
}
