package workbook

import (
	"context"
	"slices"
	"strings"

	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/rules/unit"
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
	if made := was.Book.Recorded; made != nil {
		r.Made, r.Versions = true, made.versions(rec)
		r.Edited = made.Values != was.Assessment.Inspection.File.ValuesSHA256
	}
	r.Answers = review.Stale(was.Assessment.Findings)
	v := &revising{r: r, now: now.Book, was: was.Book, scales: scalesOf(now.Assessment.Inspection), before: scalesOf(was.Assessment.Inspection)}
	names := inputSheets(was.Book, inputSheets(now.Book, nil))
	for _, name := range names {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := v.sheet(name); err != nil {
			return nil, err
		}
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
	bare  []string    // names without what stands in a unit
	at    map[int]int // number of a row → which it is
	last  int         // row of the headers

	units    unit.System
	table    bool                    // no list of items or criteria
	written  map[int]string          // units in the headers
	scales   map[finding.Ref]float64 // stored value of one in a cell
	decimals map[int]int             // most of a column
}

func newSide(b *Book, name string, scales map[finding.Ref]float64) (*side, error) {
	s := &side{grid: &xlsx.Grid{}, heads: map[int]string{}, at: map[int]int{}, written: map[int]string{}, units: b.Inspection.Units, scales: scales}
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
	keys, inUnits := []int{1}, map[int]bool{}
	if def != nil {
		h := newLanguage().header(def, s.grid)
		want := def.Key
		if def.Items {
			want = []string{"Item"}
		}
		keys = keys[:0]
		for _, head := range h.headings {
			s.heads[head.col], s.written[head.col] = head.name, head.unit
			if head.def != nil && slices.Contains(want, head.def.Header) {
				keys = append(keys, head.col)
				inUnits[head.col] = head.def.Type == layout.Number
			}
		}
		s.last = h.last
		s.table = !def.Items && def.Name != "Criteria"
	}
	if s.table {
		s.decimals = s.finest()
	}
	for i := range s.grid.Rows {
		row := &s.grid.Rows[i]
		var parts, bare []string
		for _, c := range keys {
			if t := oneLine(typedText(row.Cell(c).Raw, b.File.Date1904)); t != "" {
				parts = append(parts, t)
				if !inUnits[c] {
					bare = append(bare, t)
				}
			}
		}
		name, short := strings.Join(parts, "/"), strings.Join(bare, "/")
		if name == "" || row.Number <= s.last {
			name = "\x00" + typedText(firstFilled(row).Raw, b.File.Date1904)
			short = name
		}
		s.at[row.Number] = i
		s.names, s.bare = append(s.names, name), append(s.bare, short)
	}
	return s, nil
}

// columnPair is where a column stands in two sheets, 0 in one that lacks it.
type columnPair struct{ a, b int }

// columns pairs the columns of two sheets by their headers; others by their
// place.
func columns(a, b *side) []columnPair {
	lastOf := func(s *side) (last int) {
		for i := range s.grid.Rows {
			last = max(last, lastCol(&s.grid.Rows[i]))
		}
		return last
	}
	lastA, lastB := lastOf(a), lastOf(b)
	named, taken := map[string]int{}, map[int]bool{}
	for col := lastA; col > 0; col-- {
		if h := foldHeader(a.heads[col]); h != "" {
			named[h] = col
		}
	}
	list := make([]columnPair, lastB)
	for i := range list {
		list[i].b = i + 1
		if from := named[foldHeader(b.heads[i+1])]; from > 0 && !taken[from] {
			list[i].a, taken[from] = from, true
		}
	}
	for i := range list {
		if p := &list[i]; p.a == 0 && p.b <= lastA && !taken[p.b] && a.heads[p.b] == "" {
			p.a, taken[p.b] = p.b, true
		}
	}
	for col := 1; col <= lastA; col++ {
		if !taken[col] {
			list = append(list, columnPair{a: col})
		}
	}
	return list
}

// revising holds the sheets of two workbooks against each other.
type revising struct {
	r              *review.Revisions
	now, was       *Book
	scales, before map[finding.Ref]float64
}

func (v *revising) sheet(name string) error {
	a, err := newSide(v.was, name, v.before)
	if err != nil {
		return err
	}
	b, err := newSide(v.now, name, v.scales)
	if err != nil {
		return err
	}
	if a.sheet == "" || b.sheet == "" {
		c := review.Change{What: "sheet " + name}
		if a.sheet == "" {
			c.Ref, c.New = finding.Ref{Sheet: b.sheet}, "the sheet"
		} else {
			c.Was, c.Old = finding.Ref{Sheet: a.sheet}, "the sheet"
		}
		if len(a.grid.Rows)+len(b.grid.Rows) > 0 {
			v.r.Changes = append(v.r.Changes, c)
		}
		return nil
	}
	cols := columns(a, b)
	was, now := a.names, b.names
	if a.units != b.units || slices.ContainsFunc(cols, func(c columnPair) bool { return a.written[c.a] != b.written[c.b] }) {
		was, now = a.bare, b.bare // 48 in is 1219 mm
	}
	for _, p := range renamedRows(align(was, now), a.grid, b.grid) {
		v.row(a, b, p, cols)
	}
	return nil
}

// row lists the cells in which a row differs.
func (v *revising) row(a, b *side, p pair, cols []columnPair) {
	var old, new xlsx.Row
	if p.a >= 0 {
		old = a.grid.Rows[p.a]
	}
	if p.b >= 0 {
		new = b.grid.Rows[p.b]
	}
	for _, col := range cols {
		x, y := old.Cell(col.a), new.Cell(col.b)
		c := review.Change{Old: typedText(x.Raw, v.was.File.Date1904), New: typedText(y.Raw, v.now.File.Date1904)}
		alike, differ := inOtherUnits(a, b, &old, &new, col.a, col.b)
		switch {
		case alike:
			v.r.Alike++
			continue
		case differ:
			c.Old, c.New = inUnit(c.Old, a.unit(&old, col.a)), inUnit(c.New, b.unit(&new, col.b))
		case c.Old == c.New && x.Type == y.Type:
			continue
		case c.Old == c.New: // a number that became a text
			c.Old, c.New = c.Old+" ("+kindOf(x)+")", c.New+" ("+kindOf(y)+")"
		}
		if p.a >= 0 && col.a > 0 {
			c.Was = a.ref(col.a, old.Number)
		}
		label, head := "", b.heads[col.b]
		if p.b >= 0 {
			label = b.names[p.b]
			if col.b > 0 {
				c.Ref = b.ref(col.b, new.Number)
			}
		} else {
			label = a.names[p.a]
		}
		if head == "" {
			head = a.heads[col.a]
		}
		c.What = strings.TrimPrefix(label, "\x00")
		if head != "" {
			c.What += ", " + head
		}
		v.r.Changes = append(v.r.Changes, c)
	}
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
	oldDraft, err := resultDraftIn(ctx, was.Book, was.Assessment, rec, now.Assessment.Inspection.Units)
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
