package workbook

import (
	"context"
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode"

	"platebook/rules"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// ResultList is one table of a result sheet, without formulas: a head, then
// rows of the same width.
type ResultList struct {
	Name string // for a file: "plate-results"
	Rows [][]string
}

// ResultLists gives every table of the result sheets as text, in the order of
// the sheets. The first table of a sheet has the sheet's name, another one
// that of its first column too.
func ResultLists(ctx context.Context, b *Book, a *rules.Assessment, r Record) ([]ResultList, error) {
	if a.Result == nil {
		return nil, errors.New("results: nothing was calculated")
	}
	draft, err := resultDraft(ctx, b, a, r)
	if err != nil {
		return nil, err
	}
	var lists []ResultList
	taken := map[string]int{}
	for _, name := range draft.Sheets() {
		first := len(lists)
		for _, rows := range tables(draft.NewSheet(name).Written(), b.File.Date1904) {
			list := slug(name)
			if len(lists) > first {
				list += "-" + slug(rows[0][0])
			}
			if taken[list]++; taken[list] > 1 {
				list += "-" + strconv.Itoa(taken[list])
			}
			lists = append(lists, ResultList{Name: list, Rows: rows})
		}
	}
	return lists, nil
}

// tables cuts a sheet into its tables: each begins with a row of column heads
// and ends before an empty row, a heading or the next heads; the only one of a
// sheet goes to the end of the sheet. A table of one column is a heading in the
// dress of one.
func tables(sheet []xlsx.WrittenRow, date1904 bool) [][][]string {
	var all [][][]string
	var open [][]string
	last, heads := 0, 0
	for _, row := range sheet {
		if head, _ := headed(row); head {
			heads++
		}
	}
	end := func() {
		if open != nil && len(open[0]) > 1 {
			all = append(all, open)
		}
		open = nil
	}
	for _, row := range sheet {
		head, heading := headed(row)
		switch {
		case head:
			end()
			open = [][]string{asText(row, 0, date1904)}
		case open == nil:
			continue
		case heads > 1 && (row.Number != last+1 || heading):
			end()
		default:
			open = append(open, asText(row, len(open[0]), date1904))
		}
		last = row.Number
	}
	end()
	return all
}

func headed(row xlsx.WrittenRow) (head, heading bool) {
	switch row.Cells[0].Style {
	case xlsx.Header, xlsx.HeaderKey, xlsx.HeaderOpt:
		return row.Cells[0].Col == 1, false
	case xlsx.Heading, xlsx.Title:
		return false, true
	}
	return false, false
}

// asText gives the cells of a row as text, width of them, or with width 0 as
// many as there are.
func asText(row xlsx.WrittenRow, width int, date1904 bool) []string {
	if width == 0 {
		width = row.Cells[len(row.Cells)-1].Col
	}
	out := make([]string, width)
	for _, c := range row.Cells {
		if c.Col > width {
			continue
		}
		switch {
		case c.Type == cell.Number && (c.Style == xlsx.DateISO || c.Style == xlsx.PlainDate || c.Style == xlsx.InputDate):
			day := int(math.Floor(c.Number))
			if date1904 {
				day += 1462
			}
			out[c.Col-1] = unit.Date(day).String()
		case c.Type == cell.Number:
			out[c.Col-1] = unit.Restoring(c.Number)
		default:
			out[c.Col-1] = c.Text
		}
	}
	return out
}

// slug makes a name for a file of the first words of a heading: letters, digits
// and hyphens.
func slug(s string) string {
	if i := strings.IndexAny(s, "(,:"); i > 0 {
		s = s[:i]
	}
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), "-")
}
