package workbook

import (
	"context"
	"slices"
	"strings"

	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// Revision is one of two workbooks that are set beside each other.
type Revision struct {
	Book       *Book
	Assessment *rules.Assessment
}

// Revisions lists the input cells in which two workbooks differ, grouped by
// the results that came out otherwise.
func Revisions(ctx context.Context, now, was Revision, rec Record) (*review.Revisions, error) {
	r := &review.Revisions{Other: was.Book.File.Name}
	names := inputSheets(was.Book, inputSheets(now.Book, nil))
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		changes, err := sheetChanges(name, now.Book, was.Book)
		if err != nil {
			return nil, err
		}
		r.Changes = append(r.Changes, changes...)
	}
	return r, group(ctx, r, now, was, rec)
}

// inputSheets adds the names of a workbook's own sheets to a list.
func inputSheets(b *Book, names []string) []string {
	for _, s := range b.File.Sheets {
		if !slices.Contains(b.Results, s.Name) && !slices.ContainsFunc(names, func(n string) bool { return foldHeader(n) == foldHeader(s.Name) }) {
			names = append(names, s.Name)
		}
	}
	return names
}

// side is one workbook's sheet: its cells, headers and the names of its rows.
type side struct {
	sheet string
	grid  *xlsx.Grid
	heads map[int]string
	names []string
}

func newSide(b *Book, name string) (side, error) {
	s := side{grid: &xlsx.Grid{}, heads: map[int]string{}}
	for _, sheet := range b.File.Sheets {
		if foldHeader(sheet.Name) != foldHeader(name) || slices.Contains(b.Results, sheet.Name) {
			continue
		}
		g, err := sheet.Read()
		if err != nil {
			return s, err
		}
		s.sheet, s.grid = sheet.Name, g
	}
	var def *layout.Sheet
	for i := range layout.Sheets {
		if foldHeader(layout.Sheets[i].Name) == foldHeader(name) && len(layout.Sheets[i].Columns) > 0 {
			def = &layout.Sheets[i]
		}
	}
	keys := []int{1}
	last := 0
	if def != nil {
		h := newLanguage().header(def, s.grid)
		want := def.Key
		if def.Items {
			want = []string{"Item"}
		}
		keys = keys[:0]
		for _, head := range h.headings {
			s.heads[head.col] = head.name
			if head.def != nil && slices.Contains(want, head.def.Header) {
				keys = append(keys, head.col)
			}
		}
		last = h.last
	}
	for i := range s.grid.Rows {
		row := &s.grid.Rows[i]
		var parts []string
		for _, c := range keys {
			if t := typedText(row.Cell(c).Raw, b.File.Date1904); t != "" {
				parts = append(parts, oneLine(t))
			}
		}
		name := strings.Join(parts, "/")
		if name == "" || row.Number <= last {
			name = "\x00" + typedText(firstFilled(row).Raw, b.File.Date1904)
		}
		s.names = append(s.names, name)
	}
	return s, nil
}

func sheetChanges(name string, now, was *Book) ([]review.Change, error) {
	a, err := newSide(was, name)
	if err != nil {
		return nil, err
	}
	b, err := newSide(now, name)
	if err != nil {
		return nil, err
	}
	if a.sheet == "" || b.sheet == "" {
		c := review.Change{What: "sheet " + name}
		if a.sheet == "" {
			c.Ref, c.New = finding.Ref{Sheet: b.sheet}, "the sheet"
		} else {
			c.Was, c.Old = finding.Ref{Sheet: a.sheet}, "the sheet"
		}
		if len(a.grid.Rows)+len(b.grid.Rows) == 0 {
			return nil, nil
		}
		return []review.Change{c}, nil
	}
	var list []review.Change
	for _, p := range renamedRows(align(a.names, b.names), a.grid, b.grid) {
		var old, new xlsx.Row
		if p.a >= 0 {
			old = a.grid.Rows[p.a]
		}
		if p.b >= 0 {
			new = b.grid.Rows[p.b]
		}
		last := 0
		for _, r := range []xlsx.Row{old, new} {
			if n := len(r.Cells); n > 0 {
				last = max(last, r.Cells[n-1].Col)
			}
		}
		for col := 1; col <= last; col++ {
			x, y := old.Cell(col), new.Cell(col)
			c := review.Change{
				Old: typedText(x.Raw, was.File.Date1904), New: typedText(y.Raw, now.File.Date1904),
			}
			if c.Old == c.New && x.Type == y.Type {
				continue
			}
			if c.Old == c.New { // a number that became a text
				c.Old, c.New = c.Old+" ("+kindOf(x)+")", c.New+" ("+kindOf(y)+")"
			}
			if p.a >= 0 {
				c.Was = changeRef(a.sheet, col, old.Number)
			}
			label, head := "", b.heads[col]
			if p.b >= 0 {
				c.Ref, label = changeRef(b.sheet, col, new.Number), b.names[p.b]
			} else {
				label, head = a.names[p.a], a.heads[col]
			}
			c.What = strings.TrimPrefix(label, "\x00")
			if head != "" {
				c.What += ", " + head
			}
			list = append(list, c)
		}
	}
	return list, nil
}

// mostRenamed bounds how many rows are held against each other for new names.
const mostRenamed = 300

// renamedRows makes one pair of a row that went and a row that came between
// the same neighbours when more than half of their cells are alike: its name
// changed.
func renamedRows(pairs []pair, was, now *xlsx.Grid) []pair {
	var out []pair
	for len(pairs) > 0 {
		n := 0
		for n < len(pairs) && (pairs[n].a < 0 || pairs[n].b < 0) {
			n++
		}
		gap := pairs[:n]
		if n <= mostRenamed {
			for i, p := range gap {
				if p.a < 0 {
					continue
				}
				for j, q := range gap {
					if q.b >= 0 && q.a < 0 && p.b < 0 && mostAlikeCells(&was.Rows[p.a], &now.Rows[q.b]) {
						gap[j].a, gap[i] = p.a, pair{-1, -1}
						break
					}
				}
			}
		}
		for _, p := range gap {
			if p.a >= 0 || p.b >= 0 {
				out = append(out, p)
			}
		}
		if pairs = pairs[n:]; len(pairs) > 0 {
			out, pairs = append(out, pairs[0]), pairs[1:]
		}
	}
	return out
}

func mostAlikeCells(a, b *xlsx.Row) bool {
	same, filled := 0, 0
	for col := 1; col <= max(lastCol(a), lastCol(b)); col++ {
		x, y := a.Cell(col), b.Cell(col)
		if x.IsBlank() && y.IsBlank() {
			continue
		}
		filled++
		if x.Type == y.Type && x.Text == y.Text && x.Number == y.Number {
			same++
		}
	}
	return 2*same > filled
}

func lastCol(r *xlsx.Row) int {
	if len(r.Cells) == 0 {
		return 0
	}
	return r.Cells[len(r.Cells)-1].Col
}

func kindOf(c xlsx.Cell) string {
	return [...]string{"blank", "number", "text", "truth value", "error"}[c.Type]
}

// group finds the results that came out otherwise and what they rest on:
// those of the Summary one by one, those of the other sheets sheet by sheet.
func group(ctx context.Context, r *review.Revisions, now, was Revision, rec Record) error {
	if len(r.Changes) == 0 {
		return nil
	}
	newDraft, err := resultDraft(ctx, now.Book, now.Assessment, rec)
	if err != nil {
		return err
	}
	oldDraft, err := resultDraft(ctx, was.Book, was.Assessment, rec)
	if err != nil {
		return err
	}
	on, before := newDependence(newDraft, now.Book.File), newDependence(oldDraft, was.Book.File)
	here, there := map[finding.Ref]int{}, map[finding.Ref]int{}
	for i, c := range r.Changes {
		if c.Ref.IsCell() {
			here[c.Ref] = i
		}
		if c.Was.IsCell() {
			there[c.Was] = i
		}
	}
	used := make([]bool, len(r.Changes))
	take := func(g *review.Group, a, b finding.Ref) {
		add := func(refs []finding.Ref, at map[finding.Ref]int) {
			for _, ref := range refs {
				if i, ok := at[ref]; ok && !slices.Contains(g.Changes, i) {
					g.Changes = append(g.Changes, i)
					used[i] = true
				}
			}
		}
		if a.IsCell() {
			add(on.of(a), here)
		}
		if b.IsCell() {
			add(before.of(b), there)
		}
		slices.Sort(g.Changes)
	}
	for _, name := range newDraft.Sheets() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if strings.HasPrefix(name, "Record") || strings.HasPrefix(name, "Findings") {
			continue
		}
		differ := draftChanges(newDraft, oldDraft, name)
		if name == "Summary" {
			for _, d := range differ {
				if d.formula {
					g := review.Group{Result: d.what, Old: d.old, New: d.new}
					take(&g, d.here, d.there)
					r.Groups = append(r.Groups, g)
				}
			}
			continue
		}
		g := review.Group{Result: name}
		for _, d := range differ[:min(len(differ), 2000)] {
			if d.formula {
				take(&g, d.here, d.there)
			}
		}
		if len(g.Changes) > 0 {
			g.New = count(len(differ), "cell") + " differ"
			r.Groups = append(r.Groups, g)
		}
	}
	rest := review.Group{Result: "nothing that formulas lead to"}
	for i := range r.Changes {
		if !used[i] {
			rest.Changes = append(rest.Changes, i)
		}
	}
	if len(rest.Changes) > 0 {
		r.Groups = append(r.Groups, rest)
	}
	return nil
}

// resultChange is a result cell of two drafts that differs.
type resultChange struct {
	here, there    finding.Ref
	what, old, new string
	formula        bool
}

func draftChanges(now, was *xlsx.Draft, name string) []resultChange {
	a, b := was.NewSheet(name), now.NewSheet(name)
	if a == nil || b == nil {
		return nil
	}
	steps := strings.HasPrefix(name, "Calculation")
	rows := func(s *xlsx.NewSheet) ([]xlsx.WrittenRow, []string) {
		list := s.Written()
		names := make([]string, len(list))
		for i := range list {
			names[i] = rowName(func(col int) string { return writtenText(find(list[i], col)) }, steps)
		}
		return list, names
	}
	old, oldNames := rows(a)
	new, newNames := rows(b)
	heads := map[int]string{}
	var list []resultChange
	for _, p := range align(oldNames, newNames) {
		if p.b >= 0 {
			takeHeads(heads, new[p.b])
		}
		if p.a < 0 || p.b < 0 {
			continue
		}
		x, y := old[p.a], new[p.b]
		for _, c := range y.Cells {
			o := find(x, c.Col)
			from, to := shownWritten(o), shownWritten(c)
			if from == to {
				continue
			}
			list = append(list, resultChange{
				here:  finding.Ref{Sheet: name, Col: c.Col, Row: y.Number},
				there: finding.Ref{Sheet: name, Col: o.Col, Row: x.Number},
				what:  where(y, heads, c.Col), old: from, new: to, formula: c.Formula != "" || o.Formula != "",
			})
		}
	}
	return list
}
