package xlsx

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/cell"
)

// NewValue is a cell of a row that is added to a person's sheet. Without a
// format of its own it takes the looks of the cell above.
type NewValue struct {
	Col    int
	Number float64
	Text   string
	Kind   cell.Type // Number or String; a text is never run
}

// Appended is rows added to one sheet of a copy, from row From on.
type Appended struct {
	Sheet  string
	Sample int // row whose looks the new ones take, 0: those of the columns
	From   int
	Rows   [][]NewValue
}

// StyleFormats are the classes of format that new cells of a sheet would have,
// by column.
func (b *Book) StyleFormats(sheet string, sample int) (map[int]cell.Format, error) {
	l, err := b.layOf(Appended{Sheet: sheet, Sample: sample})
	if err != nil {
		return nil, err
	}
	out := map[int]cell.Format{}
	for col, st := range l.styles {
		if st >= 0 && st < len(b.pkg.styles) {
			out[col] = b.pkg.styles[st].format
		}
	}
	return out, nil
}

// lay is where in a sheet's part the new rows go.
type lay struct {
	part   []byte
	styles map[int]int // by column
	edits  []edit
	from   int // of sheetData's end
	empty  [2]int
	prefix string
}

func (b *Book) layOf(a Appended) (*lay, error) {
	s := b.Sheet(a.Sheet)
	if s == nil {
		return nil, fmt.Errorf("no sheet %q", a.Sheet)
	}
	part, err := b.pkg.bytesOf(s.part)
	if err != nil {
		return nil, err
	}
	l := &lay{part: part, styles: map[int]int{}, from: -1}
	row, last, rowAt, col := 0, 0, 0, 0
	err = scanBytes(part, func(t *scanner) error {
		name := string(t.name)
		switch {
		case t.kind == startTag && name == "col" && t.depth() == 3:
			first, _ := strconv.Atoi(string(t.attr("min")))
			end, _ := strconv.Atoi(string(t.attr("max")))
			style, _ := strconv.Atoi(string(t.attr("style")))
			for c := first; style > 0 && c <= end && c <= 200; c++ {
				l.styles[c] = style
			}
		case t.kind == startTag && name == "sheetData":
			l.prefix = prefixOf(part, t.at)
			if part[t.after()-2] == '/' {
				l.empty = [2]int{t.at, t.after()}
			}
		case t.kind == endTag && name == "sheetData" && l.empty[1] == 0 && l.from < 0:
			l.from = t.at
		case t.kind == startTag && name == "row" && t.depth() == 3:
			row, rowAt, col = last+1, t.at, 0
			if n, err := strconv.Atoi(string(t.attr("r"))); err == nil {
				row = n
			}
			last = row
		case t.kind == startTag && name == "c" && t.depth() == 4:
			col++
			if c, _, ok := parseRef(t.attr("r")); ok {
				col = c
			}
			if row == a.Sample {
				l.styles[col], _ = strconv.Atoi(string(t.attr("s")))
			}
		case t.kind == endTag && name == "row" && t.depth() == 2:
			if n := len(a.Rows); n > 0 && row >= a.From && row < a.From+n {
				l.edits = append(l.edits, edit{from: rowAt, to: max(t.after(), rowAt)})
			} else if n > 0 && row >= a.From+n && l.from < 0 {
				l.from = rowAt // behind it stand rows with looks alone
			}
		}
		return nil
	})
	if err != nil {
		return nil, b.pkg.partError(a.Sheet, err)
	}
	if l.from < 0 && l.empty[1] == 0 {
		return nil, errors.New("a sheet without rows")
	}
	return l, nil
}

// WriteAppended writes a copy of the workbook in which a sheet has more rows.
// Every other part is copied as it is packed; in that sheet only rows without
// any value make way.
func (b *Book) WriteAppended(w io.Writer, a Appended) error {
	l, err := b.layOf(a)
	if err != nil {
		return err
	}
	rows := l.rowsXML(a)
	if l.empty[1] > 0 {
		l.edits = append(l.edits, edit{l.empty[0], l.empty[1], "<" + l.prefix + "sheetData>" + rows + "</" + l.prefix + "sheetData>"})
	} else {
		l.edits = append(l.edits, edit{l.from, l.from, rows})
	}
	changed := applied(l.part, l.edits)
	target := fold(b.Sheet(a.Sheet).part)
	z := newZip(w)
	for _, f := range b.pkg.zip.File {
		name := fold(f.Name)
		switch {
		case strings.HasSuffix(name, "/"):
		case name == target:
			if err := z.put(f.Name, changed); err != nil {
				return err
			}
		default:
			if err := z.Copy(f); err != nil {
				return fmt.Errorf("copying %s: %w", f.Name, err)
			}
		}
	}
	return z.Close()
}

func (l *lay) rowsXML(a Appended) string {
	var out bytes.Buffer
	p := l.prefix
	for i, row := range a.Rows {
		n := strconv.Itoa(a.From + i)
		fmt.Fprintf(&out, `<%srow r="%s">`, p, n)
		for _, v := range row {
			style := ""
			if st := l.styles[v.Col]; st > 0 {
				style = fmt.Sprintf(` s="%d"`, st)
			}
			at := finding.ColumnName(v.Col) + n
			if v.Kind == cell.Number {
				fmt.Fprintf(&out, `<%sc r="%s"%s><%sv>%s</%sv></%sc>`, p, at, style, p, strconv.FormatFloat(v.Number, 'g', -1, 64), p, p)
				continue
			}
			fmt.Fprintf(&out, `<%sc r="%s"%s t="inlineStr"><%sis><%st xml:space="preserve">%s</%st></%sis></%sc>`, p, at, style, p, p, escape(nil, clip(v.Text)), p, p, p)
		}
		fmt.Fprintf(&out, `</%srow>`, p)
	}
	return out.String()
}

// VerifyAppended opens a file written by WriteAppended and holds it against
// the original: every cell of the person's must be there as it was, and the
// new rows must be.
func (b *Book) VerifyAppended(path string, a Appended) error {
	c, err := Open(path)
	if err != nil {
		return err
	}
	if len(c.Sheets) != len(b.Sheets) {
		return fmt.Errorf("the copy has %d sheets, not %d", len(c.Sheets), len(b.Sheets))
	}
	for i, s := range b.Sheets {
		if c.Sheets[i].Name != s.Name {
			return fmt.Errorf("sheet %s is not in its place", s.Name)
		}
		if s.Name != a.Sheet {
			if err := samePart(b.pkg, s.part, c.pkg, c.Sheets[i].part); err != nil {
				return fmt.Errorf("sheet %s: %w", s.Name, err)
			}
			continue
		}
		was, err := s.Read()
		if err != nil {
			return err
		}
		now, err := c.Sheets[i].Read()
		if err != nil {
			return err
		}
		n := len(was.Rows)
		if len(now.Rows) != n+len(a.Rows) || n > 0 && !reflect.DeepEqual(now.Rows[:n], was.Rows) {
			return fmt.Errorf("sheet %s: its own rows changed", s.Name)
		}
		for k, row := range a.Rows {
			for _, v := range row {
				got := now.At(v.Col, a.From+k)
				if v.Kind == cell.Number && (got.Type != cell.Number || got.Number != v.Number) || v.Kind == cell.String && (got.Type != cell.String || got.Text != v.Text) {
					return fmt.Errorf("sheet %s: cell %s was not written", s.Name, ref(v.Col, a.From+k))
				}
			}
		}
	}
	return nil
}
