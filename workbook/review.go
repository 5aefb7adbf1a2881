package workbook

import (
	"context"
	"errors"
	"slices"
	"sort"
	"strings"

	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// Tells says whether the stored findings of a results workbook name a rule.
func (b *Book) Tells(rule string) bool {
	s := ownSheet(b.File, b.Results, "Findings")
	if s == nil {
		return false
	}
	g, err := s.Read()
	return err == nil && slices.ContainsFunc(g.Rows, func(r xlsx.Row) bool { return r.Number > headFindings && r.Cell(findRule).Text == rule })
}

// ownSheet is the result sheet of a name, which may be numbered when a person
// has a sheet of that name.
func ownSheet(file *xlsx.Book, results []string, name string) *xlsx.Sheet {
	for _, n := range results {
		if n == name || strings.HasPrefix(n, name+" (") {
			return file.Sheet(n)
		}
	}
	return nil
}

// Review holds the stored results of a workbook that was opened again against
// those of a, which was made from its own inputs. sample is how many results are drawn to be checked
// by hand. unseen is how many photos the workbook names when none is at hand:
// a was made without them, and what the stored results say of them is left.
func Review(ctx context.Context, b *Book, a *rules.Assessment, rec Record, sample, unseen int) (*review.Review, error) {
	was := b.Recorded
	if was == nil {
		return nil, &finding.Unusable{
			Message: b.File.Name + " holds no results to review",
			Do:      "Give the results workbook, NAME.results.xlsx, or make it: `platebook run`.",
		}
	}
	draft, err := resultDraft(ctx, b, a, rec)
	if err != nil {
		return nil, err
	}
	r := &review.Review{Unseen: unseen, Answers: review.Stale(a.Findings)}
	v := &reviewer{r: r, book: b, draft: draft, on: newDependence(draft, b.File), moved: map[string]*rowMap{}, outlines: map[string]*outline{}, drawnAt: map[drawnRow][]int{}}
	if err := v.findRenamed(was.Sheets); err != nil {
		return nil, err
	}
	r.Versions = was.versions(rec)
	if d := a.Inspection.Tank.ReportDate; was.TimeBase != 0 && d.OK() && d.Value != was.TimeBase {
		r.TimeBase = was.TimeBase.String() + ", not the Report date, " + d.Value.String()
	}
	r.Inputs = review.Inputs{Recorded: was.Values, Now: a.Inspection.File.ValuesSHA256, Known: len(was.Sheets) > 0}
	if r.Inputs.Changed() && r.Inputs.Known {
		if err = changedInputs(&r.Inputs, b, was); err != nil {
			return nil, err
		}
	}
	if err := v.draw(sample); err != nil {
		return nil, err
	}
	if err := v.sheets(ctx); err != nil {
		return nil, err
	}
	v.since()
	v.tellSample()
	return r, nil
}

// sheetHashes are the hashes of the person's sheets, one by one.
func sheetHashes(b *Book) (names []string, hash map[string]string, err error) {
	hash = map[string]string{}
	for _, s := range b.File.Sheets {
		if slices.Contains(b.Results, s.Name) {
			continue
		}
		if hash[s.Name], err = s.ValuesHash(); err != nil {
			return nil, nil, err
		}
		names = append(names, s.Name)
	}
	return names, hash, nil
}

// reviewer holds sheet against sheet.
type reviewer struct {
	r     *review.Review
	book  *Book
	draft *xlsx.Draft
	on    *dependence
	moved map[string]*rowMap // of the sheets whose rows have moved

	outlines map[string]*outline
	drawn    []drawn
	drawnAt  map[drawnRow][]int

	renamed map[string]string // sheets of results → what the person called them since
	missing []string          // sheets of results that are gone
	resting int               // results whose formula read a sheet that is gone
}

func (v *reviewer) sheets(ctx context.Context) error {
	for _, name := range v.draft.Sheets() {
		if err := ctx.Err(); err != nil {
			return err
		}
		s := v.stored(name)
		if s == nil {
			continue // told at the end
		}
		if !strings.HasPrefix(name, "Findings") {
			if err := v.sheet(name, s); err != nil {
				return err
			}
			continue
		}
		g, err := s.Read()
		if err != nil {
			return err
		}
		v.findings(name, g)
	}
	v.tellSheets()
	for _, name := range v.book.Results {
		if !slices.Contains(v.draft.Sheets(), name) {
			v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "sheet "+name, "the sheet", "")
		}
	}
	return nil
}

// differ notes a result that differs; of is where it stands in the new
// results, for what it depends on.
func (v *reviewer) differ(ref, of finding.Ref, what, stored, now string) {
	d := review.Difference{Ref: ref, What: what, Stored: stored, Recomputed: now}
	if of.IsCell() {
		d.Inputs, d.More = v.on.inWords(of)
	}
	v.r.Differences = append(v.r.Differences, d)
}

// rowName is what tells a row from others: its first text, and the id of a
// step.
func rowName(text func(col int) string, steps bool) string {
	if steps {
		return text(colTitle) + "\x00" + text(colSymbol) + "\x00" + text(colStep)
	}
	return text(1)
}

func (v *reviewer) sheet(name string, s *xlsx.Sheet) error {
	o, err := v.outline(name, s)
	if err != nil {
		return err
	}
	draft := v.draft.NewSheet(name)
	if len(o.moved) > 0 {
		v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "the rows of sheet "+name, count(len(o.moved), "row")+" in another place", "the order of the input")
	}
	pairOf := make([]int, len(o.stored)) // of each stored row, which pair it is in
	for i, p := range o.pairs {
		if p.a >= 0 {
			pairOf[p.a] = i
		}
	}
	heads := o.headers(draft, name)
	before, resting, told := *v.r, v.resting, len(v.r.Differences)
	var of []int // of each difference from there on, which pair it is of
	i := 0
	err = s.Each(func() {
		i, of = 0, of[:0]
		v.r.Compared, v.r.Unstored, v.r.Differences, v.resting = before.Compared, before.Unstored, before.Differences, resting
	}, func(row *xlsx.Row) error {
		if i == len(o.stored) || o.stored[i].number != row.Number {
			return errors.New(name + " reads otherwise than before")
		}
		v.store(name, row)
		n := pairOf[i]
		i++
		switch p := o.pairs[n]; {
		case p.b < 0 && ofRecord(name, row.Cell(1).Text):
		case p.b < 0:
			if !allBlank(*row) {
				first := firstFilled(row)
				v.differ(finding.Ref{Sheet: name, Col: first.Col, Row: row.Number}, finding.Ref{}, "a row", shownText(first.Raw), "")
			}
		case strings.HasPrefix(name, "Record") && slices.Contains(recordRows, o.now[p.b].name) || ofRecord(name, o.now[p.b].name):
		default:
			v.row(name, heads.at(n), *row, draft.WrittenRow(o.now[p.b].number))
		}
		for told+len(of) < len(v.r.Differences) {
			of = append(of, n)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if i < len(o.stored) {
		return errors.New(name + " reads otherwise than before")
	}
	for n, p := range o.pairs {
		if p.a >= 0 || ofRecord(name, o.now[p.b].name) {
			continue
		}
		first := draft.WrittenRow(o.now[p.b].number).Cells[0]
		at := finding.Ref{Sheet: name, Col: first.Col, Row: o.now[p.b].number}
		v.differ(at, at, "a row", "", writtenText(first))
		of = append(of, n)
	}
	sort.Stable(byPair{of, v.r.Differences[told:]})
	return nil
}

// byPair puts differences in the order of the rows they are of.
type byPair struct {
	of   []int
	list []review.Difference
}

func (b byPair) Len() int           { return len(b.of) }
func (b byPair) Less(i, j int) bool { return b.of[i] < b.of[j] }
func (b byPair) Swap(i, j int) {
	b.of[i], b.of[j] = b.of[j], b.of[i]
	b.list[i], b.list[j] = b.list[j], b.list[i]
}

func allBlank(r xlsx.Row) bool {
	return !slices.ContainsFunc(r.Cells, func(c xlsx.Cell) bool { return !c.IsBlank() })
}

func find(row xlsx.WrittenRow, col int) xlsx.Written {
	for _, c := range row.Cells {
		if c.Col == col {
			return c
		}
	}
	return xlsx.Written{Col: col}
}

func (v *reviewer) row(sheet string, heads map[int]string, was xlsx.Row, now xlsx.WrittenRow) {
	last := 0
	if n := len(was.Cells); n > 0 {
		last = was.Cells[n-1].Col
	}
	if n := len(now.Cells); n > 0 {
		last = max(last, now.Cells[n-1].Col)
	}
	for col := 1; col <= last; col++ {
		s, w := was.Cell(col), find(now, col)
		if s.IsBlank() && w.Type == cell.Blank && w.Formula == "" {
			continue
		}
		switch {
		case w.Formula == "":
		case v.restsOnMissing(s, sheet, w.Formula):
			v.resting++
			continue
		case sameFormula(v.calledAs(s.Formula), w.Formula), was.Number != now.Number && sameFormula(v.calledAs(s.Formula), shifted(w.Formula, sheet, now.Number, was.Number)):
			s.Formula = w.Formula // compared once, however a program spells it
		default:
			w.Formula = v.asStored(sheet, w.Formula)
		}
		if s.NoStored && w.Formula != "" && sameFormula(s.Formula, w.Formula) {
			v.r.Unstored++
			continue
		}
		v.r.Compared++
		stored, recomputed, same := v.alike(s.Raw, w)
		if same {
			continue
		}
		v.differ(finding.Ref{Sheet: sheet, Col: col, Row: was.Number}, finding.Ref{Sheet: sheet, Col: col, Row: now.Number},
			where(now, heads, col), stored, recomputed)
	}
}

// where is a result in words: its row and column.
func where(row xlsx.WrittenRow, heads map[int]string, col int) string {
	what := oneLine(writtenText(row.Cells[0]))
	if h := heads[col]; h != "" && col != row.Cells[0].Col {
		what += ", " + h
	}
	return what
}

// since lists the answers that the stored results do not know yet: the stored
// Findings calls their finding open.
func (v *reviewer) since() {
	s := ownSheet(v.book.File, v.book.Results, "Findings")
	if s == nil {
		return
	}
	g, err := s.Read()
	if err != nil {
		return
	}
	for i := range g.Rows {
		row := &g.Rows[i]
		if row.Number > headFindings && row.Cell(findRule).Text != "" && !row.Cell(findAnswer).IsBlank() &&
			!strings.HasSuffix(row.Cell(findSeverity).Text, ", answered") {
			v.r.Since = append(v.r.Since, row.Cell(findKey).Text)
		}
	}
}

// OpenAgain opens a results workbook to run it again as it was run: with the
// time base that its Record names.
func OpenAgain(ctx context.Context, path string) (*Book, error) {
	file, err := xlsx.Open(path)
	if err != nil {
		return nil, err
	}
	was, err := recordOf(file)
	if err != nil {
		return nil, err
	}
	var opt Options
	if was != nil {
		opt.AsOf = was.TimeBase
	}
	b, err := read(ctx, file, opt)
	if err != nil {
		return nil, err
	}
	b.Recorded = was
	return b, nil
}
