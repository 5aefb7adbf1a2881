package textbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"platebook/workbook/xlsx"
)

func (b *Book) edit(lines []string, before int) error {
	for i, line := range lines {
		t := strings.TrimSpace(line)
		if t == "" || t == "#" || strings.HasPrefix(t, "# ") {
			continue
		}
		if err := b.oneEdit(t); err != nil {
			return fmt.Errorf("line %d, %q: %w", before+i+1, t, err)
		}
	}
	return nil
}

func (b *Book) oneEdit(t string) error {
	if rest, ok := strings.CutPrefix(t, "!"); ok {
		return b.setting(nil, rest)
	}
	for _, verb := range []struct {
		name string
		do   func(*Book, string) error
	}{
		{"delete row ", (*Book).deleteRow},
		{"delete column ", (*Book).deleteColumn},
		{"delete sheet ", (*Book).deleteSheet},
		{"insert row ", (*Book).insertRow},
		{"append ", (*Book).appendRow},
		{"copy row ", (*Book).copyRow},
		{"rename sheet ", (*Book).renameSheet},
		{"rename column ", (*Book).renameColumn},
		{"swap ", (*Book).swap},
		{"hide row ", (*Book).hideRow},
		{"hide sheet ", (*Book).hideSheet},
		{"merge ", (*Book).merge},
	} {
		if rest, ok := strings.CutPrefix(t, verb.name); ok {
			return verb.do(b, strings.TrimSpace(rest))
		}
	}
	return b.set(t)
}

// place divides Sheet!F12.
func (b *Book) place(t string) (*sheet, string, error) {
	i := strings.LastIndexByte(t, '!')
	if i < 0 {
		return nil, "", fmt.Errorf("%q is no place such as Plates!C7", t)
	}
	s, err := b.find(strings.Trim(t[:i], "' "))
	return s, strings.TrimSpace(t[i+1:]), err
}

// set writes one cell or a range, or multiplies its numbers.
func (b *Book) set(t string) error {
	left, right, ok := strings.Cut(t, "=")
	if !ok {
		return fmt.Errorf("no edit")
	}
	left, right = strings.TrimSpace(left), strings.TrimSpace(right)
	left, times := strings.CutSuffix(left, "*")
	s, a, err := b.target(strings.TrimSpace(left))
	if err != nil {
		return err
	}
	for r := a.Row1; r <= a.Row2; r++ {
		for c := a.Col1; c <= a.Col2; c++ {
			v := right
			if times {
				if v, err = multiplied(s.at(c, r), right); err != nil {
					return err
				}
			}
			s.put(c, r, v)
		}
	}
	return nil
}

func multiplied(cell, factor string) (string, error) {
	if cell == "" {
		return "", nil
	}
	v, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return "", fmt.Errorf("%q is no number to multiply", cell)
	}
	f, err := strconv.ParseFloat(factor, 64)
	return strconv.FormatFloat(v*f, 'g', 12, 64), err
}

// target finds the cells of Sheet!F12, Sheet!F4:F99 or Sheet(row).Header.
func (b *Book) target(t string) (*sheet, xlsx.Area, error) {
	i, j := strings.IndexByte(t, '('), strings.LastIndex(t, ").")
	if i < 0 || j < i {
		s, rest, err := b.place(t)
		if err != nil {
			return nil, xlsx.Area{}, err
		}
		a, err := area(rest)
		return s, a, err
	}
	s, err := b.find(t[:i])
	if err != nil {
		return nil, xlsx.Area{}, err
	}
	key, header := t[i+1:j], t[j+2:]
	for r, row := range s.rows {
		if len(row) == 0 || plain(row[0]) != key {
			continue
		}
		for h := r - 1; h >= 0; h-- {
			for c, cell := range s.rows[h] {
				if name, _, _ := strings.Cut(plain(cell), " ("); name == header {
					return s, xlsx.Area{Col1: c + 1, Row1: r + 1, Col2: c + 1, Row2: r + 1}, nil
				}
			}
		}
		return nil, xlsx.Area{}, fmt.Errorf("no column %q above %q", header, key)
	}
	return nil, xlsx.Area{}, fmt.Errorf("no row %q", key)
}

// plain is a cell's text without quotes and expectations.
func plain(t string) string {
	t, _ = expectations(t)
	return strings.Trim(t, `"`)
}

func (s *sheet) at(col, row int) string {
	if row > len(s.rows) || col > len(s.rows[row-1]) {
		return ""
	}
	return s.rows[row-1][col-1]
}

func (s *sheet) put(col, row int, t string) {
	for len(s.rows) < row {
		s.rows = append(s.rows, nil)
	}
	r := slices.Clone(s.rows[row-1])
	for len(r) < col {
		r = append(r, "")
	}
	r[col-1] = t
	s.rows[row-1] = r
}

func (b *Book) row(t string) (*sheet, int, error) {
	s, rest, err := b.place(t)
	if err != nil {
		return nil, 0, err
	}
	n, err := strconv.Atoi(rest)
	if err != nil || n < 1 || n > len(s.rows) {
		return nil, 0, fmt.Errorf("no row %q", rest)
	}
	return s, n, nil
}

func (b *Book) deleteRow(t string) error {
	s, n, err := b.row(t)
	if err == nil {
		s.rows = slices.Delete(s.rows, n-1, n)
	}
	return err
}

func (b *Book) deleteColumn(t string) error {
	s, rest, err := b.place(t)
	if err != nil {
		return err
	}
	col, err := column(rest)
	for i, row := range s.rows {
		if err == nil && col <= len(row) {
			s.rows[i] = slices.Delete(slices.Clone(row), col-1, col)
		}
	}
	return err
}

func (b *Book) deleteSheet(t string) error {
	s, err := b.find(t)
	b.sheets = slices.DeleteFunc(b.sheets, func(x *sheet) bool { return x == s })
	return err
}

func (b *Book) insertRow(t string) error {
	cells := split(t)
	s, n, err := b.row(cells[0])
	if err == nil {
		s.rows = slices.Insert(s.rows, n-1, cells[1:])
	}
	return err
}

func (b *Book) appendRow(t string) error {
	cells := split(t)
	s, err := b.find(cells[0])
	if err == nil {
		s.rows = append(s.rows, cells[1:])
	}
	return err
}

func (b *Book) copyRow(t string) error {
	from, to, _ := strings.Cut(t, "=")
	s, n, err := b.row(strings.TrimSpace(from))
	if err != nil {
		return err
	}
	s2, m, err := b.row(strings.TrimSpace(to))
	if err == nil {
		s2.rows[m-1] = slices.Clone(s.rows[n-1])
	}
	return err
}

func (b *Book) renameSheet(t string) error {
	from, to, _ := strings.Cut(t, "=")
	s, err := b.find(strings.TrimSpace(from))
	if err == nil {
		s.name = strings.TrimSpace(to)
	}
	return err
}

// renameColumn changes the header of a column: its first filled cell.
func (b *Book) renameColumn(t string) error {
	from, to, _ := strings.Cut(t, "=")
	s, rest, err := b.place(strings.TrimSpace(from))
	if err != nil {
		return err
	}
	col, err := column(rest)
	if err != nil {
		return err
	}
	for r := range s.rows {
		if s.at(col, r+1) != "" {
			s.put(col, r+1, strings.TrimSpace(to))
			return nil
		}
	}
	return fmt.Errorf("column %s is empty", rest)
}

func (b *Book) swap(t string) error {
	from, to, _ := strings.Cut(t, "=")
	s, rest, err := b.place(strings.TrimSpace(from))
	if err != nil {
		return err
	}
	c1, err := column(rest)
	if err != nil {
		return err
	}
	c2, err := column(strings.TrimSpace(to))
	if err != nil {
		return err
	}
	for r := range s.rows {
		x, y := s.at(c1, r+1), s.at(c2, r+1)
		if x != y {
			s.put(c1, r+1, y)
			s.put(c2, r+1, x)
		}
	}
	return nil
}

func (b *Book) hideRow(t string) error {
	s, n, err := b.row(t)
	if err == nil {
		s.hiddenRows[n] = true
	}
	return err
}

func (b *Book) hideSheet(t string) error {
	s, err := b.find(t)
	if err == nil {
		s.state = "hidden"
	}
	return err
}

func (b *Book) merge(t string) error {
	s, rest, err := b.place(t)
	if err != nil {
		return err
	}
	a, err := area(rest)
	s.merges = append(s.merges, a)
	return err
}
