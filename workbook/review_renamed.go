package workbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// findRenamed looks for the sheets of results that the file lacks: a sheet
// that is none of the person's own, and begins with the same title, is one
// that got another name. known are the person's sheets when the results were
// written; a Record that names none leaves renaming unknown.
func (v *reviewer) findRenamed(known map[string]string) error {
	v.renamed = map[string]string{}
	for _, name := range v.draft.Sheets() {
		if v.book.File.Sheet(name) != nil && slices.Contains(v.book.Results, name) {
			continue
		}
		var first xlsx.Written // of the new sheet
		number := 0
		for row := range v.draft.NewSheet(name).EachWritten() {
			first, number = row.Cells[0], row.Number
			break
		}
		for _, s := range v.book.File.Sheets {
			if len(known) == 0 || known[s.Name] != "" || slices.Contains(v.book.Results, s.Name) || number == 0 || v.renamed[name] != "" {
				continue
			}
			g, err := s.Read()
			if err != nil {
				return err
			}
			if text := first.Plain(); text != "" && g.At(first.Col, number).Text == text {
				v.renamed[name] = s.Name
			}
		}
		if v.renamed[name] == "" {
			v.missing = append(v.missing, name)
		}
	}
	return nil
}

// stored is a sheet of results in the reviewed file, nil when it is gone.
func (v *reviewer) stored(name string) *xlsx.Sheet {
	if to := v.renamed[name]; to != "" {
		return v.book.File.Sheet(to)
	}
	if !slices.Contains(v.draft.Sheets(), name) || !slices.Contains(v.book.Results, name) {
		return nil
	}
	return v.book.File.Sheet(name)
}

// tellSheets tells each sheet that is gone or was renamed, once.
func (v *reviewer) tellSheets() {
	for _, name := range v.draft.Sheets() {
		if to := v.renamed[name]; to != "" {
			v.differ(finding.Ref{Sheet: to}, finding.Ref{}, "sheet "+name, "the sheet, called "+to, "the sheet, called "+name)
		}
	}
	for i, name := range v.missing {
		now := "the sheet"
		if i == 0 && v.resting > 0 {
			now += fmt.Sprintf("; %s that read a sheet that is gone not compared", count(v.resting, "result"))
		}
		v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "sheet "+name, "", now)
	}
}

// calledAs is a stored formula with the sheets called as the results call them.
func (v *reviewer) calledAs(formula string) string {
	if len(v.renamed) == 0 || formula == "" {
		return formula
	}
	var out strings.Builder
	done := 0
	for _, n := range namedIn(formula) {
		for name, to := range v.renamed {
			if n.sheet == to && n.sheet != "" {
				out.WriteString(formula[done:n.from] + finding.QuoteSheet(name) + "!")
				done = n.from + len(n.prefix)
			}
		}
	}
	return out.String() + formula[done:]
}

// restsOnMissing says that a stored result lost what it read with a sheet that
// is gone: a program writes #REF! in its place, in its formula or as its value.
func (v *reviewer) restsOnMissing(s xlsx.Cell, sheet, formula string) bool {
	if len(v.missing) == 0 {
		return false
	}
	if strings.Contains(s.Formula, "#REF!") || s.Type == cell.Error {
		return true
	}
	return slices.ContainsFunc(namedIn(formula), func(n named) bool { return slices.Contains(v.missing, n.sheet) })
}

// reorder pairs rows that stand elsewhere, in place: what came and what went
// with the same first two cells is one row. It gives the new rows that moved.
func reorder(pairs []pair, stored, now []rowMark) map[int]bool {
	gone := map[string][]int{} // places in pairs
	for i, p := range pairs {
		if p.b < 0 {
			key := stored[p.a].first
			gone[key] = append(gone[key], i)
		}
	}
	moved := map[int]bool{}
	if len(gone) == 0 {
		return moved
	}
	for i, p := range pairs {
		if p.a >= 0 || p.b < 0 {
			continue
		}
		key := now[p.b].first
		if list := gone[key]; len(list) > 0 && key != "\x00" {
			pairs[i].a, gone[key] = pairs[list[0]].a, list[1:]
			pairs[list[0]] = pair{-1, -1}
			moved[p.b] = true
		}
	}
	return moved
}

// shifted is a formula of one row as a spreadsheet program writes it when it
// sorts the row to another place: references to its own row go along.
func shifted(formula, home string, from, to int) string {
	var out strings.Builder
	done := 0
	for _, n := range namedIn(formula) {
		if n.lastCol != "" || n.row != from || n.sheet != "" && n.sheet != home {
			continue
		}
		out.WriteString(formula[done:n.from] + n.prefix + n.col + strconv.Itoa(to))
		done = n.to
	}
	return out.String() + formula[done:]
}
