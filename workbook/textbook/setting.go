package textbook

import (
	"fmt"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// setting reads a line with an exclamation mark.
func (b *Book) setting(s *sheet, t string) error {
	word, rest, _ := strings.Cut(t, " ")
	rest = strings.TrimSpace(rest)
	switch word {
	case "title":
		b.title = rest
		return nil
	case "property":
		name, value, ok := strings.Cut(rest, "=")
		if !ok {
			return fmt.Errorf("property %q has no =", rest)
		}
		b.properties = append(b.properties, xlsx.Property{Name: strings.TrimSpace(name), Value: strings.TrimSpace(value)})
		return nil
	case "1904":
		b.since1904 = true
		return nil
	case "macros":
		b.macros = true
		return nil
	case "link":
		b.links = append(b.links, rest)
		return nil
	case "expect":
		rules := strings.Fields(rest)
		if s != nil {
			s.expected = append(s.expected, rules...)
			return nil
		}
		for _, r := range rules {
			b.expected = append(b.expected, Expected{r, finding.Ref{}})
		}
		return nil
	}
	if s == nil {
		return fmt.Errorf("!%s stands before the first sheet", word)
	}
	return s.setting(word, rest)
}

func (s *sheet) setting(word, rest string) error {
	switch word {
	case "hidden", "veryhidden":
		s.state = word
	case "header":
		s.header = rest
	case "footer":
		s.footer = rest
	case "tab":
		s.tab = rest
	case "formatted":
		n, err := strconv.Atoi(rest)
		s.formatted = n
		return err
	case "merge", "filter":
		a, err := area(rest)
		if err != nil {
			return err
		}
		if word == "filter" {
			s.filter = a
		} else {
			s.merges = append(s.merges, a)
		}
	case "hide":
		what, which, _ := strings.Cut(rest, " ")
		return s.hide(what, which)
	default:
		return fmt.Errorf("no setting !%s", word)
	}
	return nil
}

func (s *sheet) hide(what, which string) error {
	switch what {
	case "row":
		n, err := strconv.Atoi(which)
		s.hiddenRows[n] = true
		return err
	case "column":
		col, err := column(which)
		s.hiddenCols[col] = true
		return err
	}
	return fmt.Errorf("hide %q: row or column", what)
}

// column reads the letters of a column.
func column(letters string) (int, error) {
	col := 0
	for _, c := range letters {
		if c < 'A' || c > 'Z' || col > 1000 {
			return 0, fmt.Errorf("column %q", letters)
		}
		col = col*26 + int(c-'A') + 1
	}
	if col == 0 {
		return 0, fmt.Errorf("column %q", letters)
	}
	return col, nil
}

// area reads A1:C4 or A1.
func area(t string) (xlsx.Area, error) {
	a, b, ok := strings.Cut(t, ":")
	if !ok {
		b = a
	}
	c1, r1, err := address(a)
	if err != nil {
		return xlsx.Area{}, err
	}
	c2, r2, err := address(b)
	return xlsx.Area{Col1: c1, Row1: r1, Col2: c2, Row2: r2}, err
}

func address(t string) (col, row int, err error) {
	n := strings.IndexAny(t, "0123456789")
	if n < 1 {
		return 0, 0, fmt.Errorf("%q is no cell", t)
	}
	if col, err = column(t[:n]); err != nil {
		return 0, 0, err
	}
	row, err = strconv.Atoi(t[n:])
	if err != nil || row < 1 || row > 1_000_000 {
		return 0, 0, fmt.Errorf("%q is no cell", t)
	}
	return col, row, nil
}
