package workbook

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/xlsx"
)

// List is a table of texts with a header, read from a CSV file.
type List struct {
	Name   string
	Comma  rune
	Header []string
	Point  rune // the decimal sign where it was told, 0: each number speaks for itself
	Rows   [][]string
	Lines  []int // where each row begins in the file

	HeaderLine int
	Broken     []RefusedRow
	Notes      []string
}

// separators that a list may have; comma 0 asks for the likeliest of them.
const separators = ",;\t|"

// maxList is the most bytes of a list.
const maxList = 64 << 20

// listBytes is the content of a list: a plain file of bounded size.
func listBytes(path string) ([]byte, error) {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, &finding.Unusable{Rule: "F101", Message: name + " was not found", Do: "Check the name and the folder.", Err: err}
	case err == nil && !info.Mode().IsRegular():
		return nil, &finding.Unusable{Rule: "F105", Message: name + " is no file", Do: "Give a CSV file."}
	case err == nil && info.Size() > maxList:
		return nil, &finding.Unusable{Rule: "F107", Message: fmt.Sprintf("%s is %d MB long, limit %d MB", name, info.Size()>>20, maxList>>20), Do: "Divide it into several lists."}
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(path)
	}
	if err != nil {
		why := err
		if p := (*fs.PathError)(nil); errors.As(err, &p) {
			why = p.Err
		}
		return nil, &finding.Unusable{Rule: "F101", Message: name + " cannot be read: " + why.Error(), Do: "Copy it to a folder of your own.", Err: err}
	}
	return data, nil
}

// ReadListFile is ReadList of a file of bounded size.
func ReadListFile(path string, comma rune) (*List, error) {
	data, err := listBytes(path)
	if err != nil {
		return nil, err
	}
	return ReadList(filepath.Base(path), data, comma)
}

// ReadList reads a CSV file of any usual kind: UTF-8 or UTF-16 with or
// without its mark, or Windows-1252; divided by commas, semicolons, tabs or
// bars; texts with or without quotes. A line that cannot be taken apart is
// kept as broken and never stops the rest.
func ReadList(name string, data []byte, comma rune) (*List, error) {
	l := &List{Name: name, Comma: comma}
	text, start := l.decode(data), 1
	if strings.ContainsRune(text, 0) {
		return nil, &finding.Unusable{Rule: "F105", Message: name + " is no text file", Do: "Save it as CSV."}
	}
	if first, rest, _ := strings.Cut(text, "\n"); len(first) > 4 && strings.EqualFold(first[:4], "sep=") {
		if strings.IndexByte(separators, first[4]) >= 0 {
			l.Comma = rune(first[4])
		} else {
			l.Notes = append(l.Notes, "“"+strings.TrimSpace(first)+"” names no separator that is known")
		}
		text, start = rest, 2
	}
	if l.Comma == 0 {
		l.Comma = likeliest(text)
	}
	l.read(text, start)
	if len(l.Rows)+len(l.Broken) > xlsx.MaxRows {
		return nil, &finding.Unusable{Rule: "F107", Message: fmt.Sprintf("%s holds more than %d rows", name, xlsx.MaxRows), Do: "Divide it into several lists."}
	}
	if l.Header == nil {
		return nil, &finding.Unusable{Rule: "F105", Message: name + " is empty", Do: "Give a CSV file with a line of headers."}
	}
	return l, nil
}

// undoubted rewrites the numbers of a column that could be read in two ways,
// as 1,250 and 1.250, where the decimal sign of the list was told.
func (l *List) undoubted(rows []xlsx.Row, col int) {
	if l.Point == 0 {
		return
	}
	group := ","
	if l.Point == ',' {
		group = "."
	}
	for i := range rows {
		for k := range rows[i].Cells {
			if c := &rows[i].Cells[k]; c.Col == col {
				c.Text = withPoint(c.Text, group, string(l.Point))
			}
		}
	}
}

// withPoint is a number without the signs that divide its thousands and with
// a decimal point. A sign that does not stand before three digits divides no
// thousands: such a text stays as it is.
func withPoint(text, group, point string) string {
	parts := strings.Split(text, group)
	for _, p := range parts[1:] {
		digits := len(p) - len(strings.TrimLeft(p, "0123456789"))
		if digits != 3 {
			return text
		}
	}
	if strings.Count(text, point) > 1 {
		return text
	}
	return strings.Replace(strings.Join(parts, ""), point, ".", 1)
}

func (l *List) decode(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return wide(data[2:], data[0] == 0xfe)
	}
	if highFirst, ok := unmarkedWide(data); ok {
		l.Notes = append(l.Notes, l.Name+" is read as UTF-16, whose mark it does not carry")
		return wide(data, highFirst)
	}
	if utf8.Valid(data) {
		return string(data)
	}
	l.Notes = append(l.Notes, l.Name+" is not UTF-8: read as Windows-1252")
	var out strings.Builder
	for _, c := range data {
		if c >= 0x80 && c < 0xa0 {
			out.WriteRune([]rune("€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ")[c-0x80])
		} else {
			out.WriteRune(rune(c))
		}
	}
	return out.String()
}

// unmarkedWide says that bytes are UTF-16 without a mark: every second byte of
// most letters is zero, of the others none.
func unmarkedWide(data []byte) (highFirst, ok bool) {
	zeros := [2]int{}
	for i, c := range data {
		if c == 0 {
			zeros[i%2]++
		}
	}
	highFirst = zeros[0] > 0
	return highFirst, len(data)%2 == 0 && min(zeros[0], zeros[1]) == 0 && 4*max(zeros[0], zeros[1]) > len(data)
}

// wide is a text of UTF-16, its high bytes first or last.
func wide(data []byte, highFirst bool) string {
	low, high := 0, 1
	if highFirst {
		low, high = 1, 0
	}
	units := make([]uint16, 0, len(data)/2)
	for i := 0; i+1 < len(data); i += 2 {
		units = append(units, uint16(data[i+low])|uint16(data[i+high])<<8)
	}
	return string(utf16.Decode(units))
}

// likeliest is the separator that stands most often outside quotes in the
// first line that holds any.
func likeliest(text string) rune {
	for _, line := range strings.SplitN(text, "\n", 31) {
		best, most := rune(','), 0
		for _, c := range separators {
			quoted, n := false, 0
			for _, r := range line {
				switch {
				case r == '"':
					quoted = !quoted
				case r == c && !quoted:
					n++
				}
			}
			if n > most {
				best, most = c, n
			}
		}
		if most > 0 {
			return best
		}
	}
	return ','
}

func (l *List) read(text string, line int) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = l.Comma
	r.FieldsPerRecord = -1
	at := int64(0)
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		raw := text[at:r.InputOffset()]
		begins := line + len(raw) - len(strings.TrimLeft(raw, "\r\n"))
		line, at = line+strings.Count(raw, "\n"), r.InputOffset()
		if err != nil && raw == "" { // no step forward: nothing more can be read
			return
		}
		if err != nil {
			if fields = l.unquoted(raw); fields == nil {
				l.Broken = append(l.Broken, RefusedRow{begins, []string{strings.Trim(raw, "\r\n")}, []string{cannotBeTakenApart(err, raw)}})
				continue
			}
		}
		for i := range fields {
			fields[i] = unmarked(fields[i])
		}
		if l.Header == nil {
			if strings.TrimSpace(strings.Join(fields, "")) != "" {
				l.Header, l.HeaderLine = fields, begins
			}
			continue
		}
		l.Rows = append(l.Rows, fields)
		l.Lines = append(l.Lines, begins)
	}
}

// unquoted takes a line apart whose quotes only stand inside fields, as in
// 5" pipe: none of them can begin a text in quotes. Nil for any other line.
func (l *List) unquoted(raw string) []string {
	fields := strings.Split(strings.Trim(raw, "\r\n"), string(l.Comma))
	for _, f := range fields {
		if strings.HasPrefix(f, `"`) || strings.ContainsAny(f, "\r\n") {
			return nil
		}
	}
	return fields
}

// cannotBeTakenApart says why a line cannot be read.
func cannotBeTakenApart(err error, raw string) string {
	why := err.Error()
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		why = "a quote in a text without quotes"
	case errors.Is(err, csv.ErrQuote):
		why = "a quote without its end, or one more in a text in quotes"
	}
	if n := strings.Count(strings.Trim(raw, "\r\n"), "\n"); n > 0 {
		why += fmt.Sprintf("; with it %s after it", count(n, "line"))
	}
	return "the line cannot be taken apart: " + why
}

// unmarked takes the apostrophe off a text that was marked as no formula.
func unmarked(s string) string {
	if len(s) > 1 && s[0] == '\'' && inspection.Carried(s[1:]) {
		return s[1:]
	}
	return s
}

// Pair is a line of a list of two columns.
type Pair struct {
	Line     int
	From, To string
}

// ReadPairs reads a list of two columns, the first line included; wanted says
// what they hold.
func ReadPairs(path, wanted string) ([]Pair, error) {
	l, err := ReadListFile(path, 0)
	if err != nil {
		return nil, err
	}
	wrong := func(line int, why string) error {
		return &finding.Unusable{Message: fmt.Sprintf("line %d: %s", line, why), Do: "Give two columns, " + wanted + ", one pair a line."}
	}
	for _, b := range l.Broken {
		return nil, wrong(b.Line, b.Reasons[0])
	}
	lines := append([]int{l.HeaderLine}, l.Lines...)
	var pairs []Pair
	for i, row := range append([][]string{l.Header}, l.Rows...) {
		if strings.TrimSpace(strings.Join(row, "")) == "" {
			continue
		}
		if len(row) < 2 || strings.TrimSpace(strings.Join(row[2:], "")) != "" {
			return nil, wrong(lines[i], "two columns are wanted, "+wanted)
		}
		pairs = append(pairs, Pair{lines[i], strings.TrimSpace(row[0]), strings.TrimSpace(row[1])})
	}
	return pairs, nil
}

// HeaderMap reads a list of two columns: the header in the list, the sheet's.
func HeaderMap(path string) (map[string]string, error) {
	const do = "Give two columns, the list's headers and the sheet's, one pair a line."
	pairs, err := ReadPairs(path, "the list's header and the sheet's")
	if err != nil {
		return nil, err
	}
	m := map[string]string{}
	for _, p := range pairs {
		f := foldHeader(p.From)
		if p.From == "" || p.To == "" {
			return nil, &finding.Unusable{Message: fmt.Sprintf("line %d: two headers are wanted, the list's and the sheet's", p.Line), Do: do}
		}
		if m[f] != "" {
			return nil, &finding.Unusable{Message: fmt.Sprintf("line %d: %s stands twice", p.Line, p.From), Do: do}
		}
		m[f] = p.To
	}
	return m, nil
}

// WriteRefused writes the refused rows as they stood, each with its line and
// the reasons.
func (m *Import) WriteRefused(w io.Writer) error {
	c := csv.NewWriter(w)
	width := len(m.Header)
	for _, r := range m.Refused {
		width = max(width, len(r.Fields))
	}
	write := func(fields []string, more ...string) {
		row := make([]string, width, width+len(more))
		for i, f := range fields {
			row[i] = harmless(f)
		}
		_ = c.Write(append(row, more...))
	}
	write(m.Header, "Line", "Refused because")
	for _, r := range m.Refused {
		write(r.Fields, fmt.Sprint(r.Line), strings.Join(r.Reasons, "; "))
	}
	c.Flush()
	return c.Error()
}
