package workbook

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// Recorded is what a results workbook says of how it was made.
type Recorded struct {
	Program, Rules, Standard string
	Values                   string // hash of the values of the input sheets
	Sheets                   map[string]string
	TimeBase                 unit.Date
	Prints                   map[string][]xlsx.Printed // fingerprints of the cells, sheet by sheet
}

const (
	recordProgram  = "Program"
	recordRules    = "Rule set"
	recordStandard = "Standard"
	recordInput    = "Input"
	recordFile     = "SHA-256 of the file"
	recordValues   = "SHA-256 of the values of its sheets"
	recordSheet    = "SHA-256 of the values of "
	recordTime     = "Time base"
)

// recordOf reads the Record sheet of a results workbook: nil when the workbook
// is none.
func recordOf(file *xlsx.Book) (*Recorded, error) {
	s := ownSheet(file, resultSheets(file), "Record")
	if s == nil {
		return nil, nil
	}
	g, err := s.Read()
	if err != nil {
		return nil, err
	}
	r := &Recorded{Sheets: map[string]string{}, Prints: recordedPrints(g)}
	for i := range g.Rows {
		name, value := g.Rows[i].Cell(1).Text, g.Rows[i].Cell(2).Text
		switch name {
		case recordProgram:
			r.Program = value
		case recordRules:
			r.Rules = value
		case recordStandard:
			r.Standard = value
		case recordValues:
			r.Values = value
		case recordTime:
			if d, err := unit.ParseDate(value); err == nil {
				r.TimeBase = d
			}
		default:
			if sheet, found := strings.CutPrefix(name, recordSheet); found && value != "" {
				r.Sheets[sheet] = value
			}
		}
	}
	return r, nil
}

// versions are those that differ from this program's.
func (r *Recorded) versions(now Record) (list []review.Version) {
	for _, v := range []review.Version{
		{What: "program", Stored: r.Program, Now: "platebook " + now.Version},
		{What: "rule set", Stored: r.Rules, Now: now.Rules},
	} {
		if v.Stored != v.Now {
			list = append(list, v)
		}
	}
	return list
}

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
	v := &reviewer{r: r, book: b, draft: draft, on: newDependence(draft, b.File), moved: map[string]*rowMap{}}
	if err := v.findRenamed(was.Sheets); err != nil {
		return nil, err
	}
	r.Versions = was.versions(rec)
	r.Inputs = review.Inputs{Recorded: was.Values, Now: a.Inspection.File.ValuesSHA256, Known: len(was.Sheets) > 0}
	if r.Inputs.Changed() && r.Inputs.Known {
		if err = changedInputs(&r.Inputs, b, was); err != nil {
			return nil, err
		}
	}
	if err := v.sheets(ctx); err != nil {
		return nil, err
	}
	v.since()
	v.draw(sample)
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
		g, err := s.Read()
		if err != nil {
			return err
		}
		if strings.HasPrefix(name, "Findings") {
			v.findings(name, g)
			continue
		}
		v.sheet(name, g)
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

// recordRows of the Record sheet are no results.
var recordRows = []string{recordProgram, recordRules, recordInput, recordFile, recordValues}

// aligned are the new rows of a sheet of results, what tells each from others,
// and which stored row each one is.
func (v *reviewer) aligned(name string, g *xlsx.Grid) (rows []xlsx.WrittenRow, now []string, pairs []pair, moved map[int]bool) {
	steps := strings.HasPrefix(name, "Calculation")
	rows = v.draft.NewSheet(name).Written()
	stored := make([]string, len(g.Rows))
	for i := range g.Rows {
		stored[i] = rowName(func(col int) string { return shownText(g.Rows[i].Cell(col).Raw) }, steps)
	}
	now = make([]string, len(rows))
	for i := range rows {
		now[i] = rowName(func(col int) string { return writtenText(find(rows[i], col)) }, steps)
	}
	pairs = align(stored, now)
	moved = v.reorder(pairs, g, rows)
	pairs = slices.DeleteFunc(pairs, func(p pair) bool { return p.a < 0 && p.b < 0 })
	return rows, now, zipped(pairs), moved
}

func (v *reviewer) sheet(name string, g *xlsx.Grid) {
	rows, now, pairs, moved := v.aligned(name, g)
	if len(moved) > 0 {
		v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "the rows of sheet "+name, count(len(moved), "row")+" in another place", "the order of the input")
	}
	heads := map[int]string{}
	for _, p := range pairs {
		switch {
		case p.a < 0 && ofRecord(name, now[p.b]), p.b < 0 && ofRecord(name, rowName(func(col int) string { return g.Rows[p.a].Cell(col).Text }, false)):
		case p.a < 0:
			row := rows[p.b]
			takeHeads(heads, row)
			first := row.Cells[0]
			v.differ(finding.Ref{Sheet: name, Col: first.Col, Row: row.Number}, finding.Ref{Sheet: name, Col: first.Col, Row: row.Number},
				"a row", "", writtenText(first))
		case p.b < 0:
			row := g.Rows[p.a]
			if !allBlank(row) {
				first := firstFilled(&row)
				v.differ(finding.Ref{Sheet: name, Col: first.Col, Row: row.Number}, finding.Ref{}, "a row", shownText(first.Raw), "")
			}
		default:
			takeHeads(heads, rows[p.b])
			if strings.HasPrefix(name, "Record") && slices.Contains(recordRows, now[p.b]) || ofRecord(name, now[p.b]) {
				continue
			}
			v.row(name, heads, g.Rows[p.a], rows[p.b])
		}
	}
}

func allBlank(r xlsx.Row) bool {
	return !slices.ContainsFunc(r.Cells, func(c xlsx.Cell) bool { return !c.IsBlank() })
}

func takeHeads(heads map[int]string, row xlsx.WrittenRow) {
	if !slices.ContainsFunc(row.Cells, func(c xlsx.Written) bool { return c.Style.Heads() }) {
		return
	}
	clear(heads)
	for _, c := range row.Cells {
		heads[c.Col] = oneLine(c.Text)
	}
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

// alike says whether a stored cell is the recomputed one, to the digits that
// it shows, and a formula still the same formula.
func (v *reviewer) alike(s cell.Raw, w xlsx.Written) (stored, now string, same bool) {
	stored, now = shownText(s), writtenText(w)
	switch {
	case s.Type == cell.Number && w.Type == cell.Number:
		was := s.Number
		if w.Style.Dated() {
			if math.Floor(was) == math.Floor(w.Number) {
				break
			}
			stored = typedText(s, v.book.File.Date1904)
			if s.Format != cell.Date {
				stored = digits15(was)
			}
			return stored, unit.DateOf(w.Number + v.since1904()).String(), false
		}
		places, fixed := w.Style.Decimals()
		if !fixed {
			if close9(was, w.Number) {
				break
			}
			return digits15(was), digits15(w.Number), false
		}
		a, b := strconv.FormatFloat(was, 'f', places, 64), strconv.FormatFloat(w.Number, 'f', places, 64)
		if a == b || close9(was, w.Number) {
			break
		}
		return a, b, false
	case s.Type != w.Type && !(s.IsBlank() && w.Type == cell.Blank):
		return stored, now, false
	case stored != now:
		return stored, now, false
	}
	switch {
	case w.Formula != "" && s.Formula == "":
		return stored + " without its formula", now + " by =" + w.Formula, false
	case w.Formula == "" && s.Formula != "":
		return stored + " by =" + s.Formula, now + " without a formula", false
	case !sameFormula(s.Formula, w.Formula):
		return stored + " by =" + s.Formula, now + " by =" + w.Formula, false
	}
	return stored, now, true
}

func (v *reviewer) since1904() float64 {
	if v.book.File.Date1904 {
		return 1462
	}
	return 0
}

// sameFormula compares formulas as programs save them: blanks, signs of fixed
// references, quotes around names and the spelling of numbers do not count.
func sameFormula(a, b string) bool { return a == b || plainFormula(a) == plainFormula(b) }

func plainFormula(f string) string {
	var out strings.Builder
	for i := 0; i < len(f); {
		c := f[i]
		switch {
		case c == '"':
			end := strings.IndexByte(f[i+1:], '"')
			if end < 0 {
				end = len(f) - i - 2
			}
			out.WriteString(f[i : i+end+2])
			i += end + 2
		case c == ' ' || c == '$' || c == '\'' || c == '\n' || c == '\r' || c == '\t':
			i++
		case c >= '0' && c <= '9' || c == '.':
			j := i
			for j < len(f) && (f[j] >= '0' && f[j] <= '9' || f[j] == '.' || (f[j] == 'E' || f[j] == 'e') && j > i ||
				(f[j] == '-' || f[j] == '+') && j > i && (f[j-1] == 'E' || f[j-1] == 'e')) {
				j++
			}
			if n, err := strconv.ParseFloat(f[i:j], 64); err == nil {
				out.WriteString(strconv.FormatFloat(n, 'g', 14, 64))
			} else {
				out.WriteString(f[i:j])
			}
			i = j
		default:
			out.WriteByte(c)
			i++
		}
	}
	return strings.ToUpper(out.String())
}

func shownText(c cell.Raw) string {
	if c.Type == cell.Number {
		return digits15(c.Number)
	}
	return c.Text
}

func writtenText(w xlsx.Written) string {
	if w.Type == cell.Number {
		return digits15(w.Number)
	}
	return w.Text
}

// shownWritten is a cell with the digits that it shows.
func shownWritten(w xlsx.Written) string {
	if w.Type == cell.Number {
		if w.Style.Dated() {
			return unit.DateOf(w.Number).String()
		}
		if places, ok := w.Style.Decimals(); ok {
			return strconv.FormatFloat(w.Number, 'f', places, 64)
		}
	}
	return writtenText(w)
}

// findings compares the findings by their keys: one that the reading of a
// results workbook itself adds is none.
func (v *reviewer) findings(name string, g *xlsx.Grid) {
	type entry struct{ severity, message string }
	now := map[string]entry{}
	var keys []string
	for _, row := range v.draft.NewSheet(name).Written() {
		if row.Number <= headFindings || find(row, findRule).Text == "" || find(row, findRule).Text == "F204" {
			continue
		}
		if len(v.renamed) > 0 && find(row, findRule).Text == "S105" {
			continue // a renamed sheet of results is told as one
		}
		key := find(row, findKey).Text
		now[key] = entry{bareSeverity(find(row, findSeverity).Text), find(row, findMessage).Text}
		keys = append(keys, key)
	}
	seen := map[string]bool{}
	for i := range g.Rows {
		row := &g.Rows[i]
		key := row.Cell(findKey).Text
		if row.Number <= headFindings || row.Cell(findRule).Text == "" || row.Cell(findRule).Text == "F204" {
			continue
		}
		if v.r.Unseen > 0 && slices.Contains(check.OfPictures, row.Cell(findRule).Text) {
			continue
		}
		v.r.Compared++
		seen[key] = true
		ref := finding.Ref{Sheet: name, Col: findKey, Row: row.Number}
		was, is := entry{bareSeverity(row.Cell(findSeverity).Text), row.Cell(findMessage).Text}, now[key]
		switch {
		case is == (entry{}):
			v.differ(ref, finding.Ref{}, "finding "+key, was.severity+": "+was.message, "")
		case was != is:
			ref.Col = findMessage
			v.differ(ref, finding.Ref{}, "finding "+key, was.severity+": "+was.message, is.severity+": "+is.message)
		}
	}
	for _, key := range keys {
		if !seen[key] {
			v.differ(finding.Ref{Sheet: name}, finding.Ref{}, "finding "+key, "", now[key].severity+": "+now[key].message)
		}
	}
}

func bareSeverity(text string) string { return strings.TrimSuffix(text, ", answered") }

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

// draw picks results to be checked by hand. The seed is the beginning of the
// file's hash: another reviewer of the same file draws the same.
func (v *reviewer) draw(n int) {
	hash := v.book.Inspection.File.SHA256
	v.r.Seed = hash[:min(16, len(hash))]
	seed, _ := strconv.ParseUint(v.r.Seed, 16, 64)
	type candidate struct {
		sheet string
		row   xlsx.WrittenRow
		c     xlsx.Written
		heads string
	}
	var all []candidate
	for _, name := range v.draft.Sheets() {
		if strings.HasPrefix(name, "Record") || strings.HasPrefix(name, "Findings") {
			continue
		}
		heads := map[int]string{}
		for _, row := range v.draft.NewSheet(name).Written() {
			takeHeads(heads, row)
			for _, c := range row.Cells {
				if c.Formula != "" && c.Type == cell.Number {
					all = append(all, candidate{name, row, c, where(row, heads, c.Col)})
				}
			}
		}
	}
	picked := rand.New(rand.NewPCG(seed, 0)).Perm(len(all))
	picked = picked[:min(n, len(all))]
	slices.Sort(picked)
	for _, i := range picked {
		c := all[i]
		ref := finding.Ref{Sheet: c.sheet, Col: c.c.Col, Row: c.row.Number}
		s := review.Sampled{Ref: ref, What: c.heads, Formula: c.c.Formula, Stored: "nothing"}
		if sheet := v.stored(c.sheet); sheet != nil {
			if g, err := sheet.Read(); err == nil {
				s.Stored = v.printed(g.At(ref.Col, ref.Row).Raw, c.c)
			}
		}
		s.Inputs, s.More = v.on.inWords(ref)
		v.r.Sample = append(v.r.Sample, s)
	}
}

// printed is a stored number with the digits that its cell shows.
func (v *reviewer) printed(s cell.Raw, w xlsx.Written) string {
	if s.Type != cell.Number {
		return shownText(s)
	}
	if w.Style.Dated() {
		return unit.DateOf(s.Number + v.since1904()).String()
	}
	if places, ok := w.Style.Decimals(); ok {
		return strconv.FormatFloat(s.Number, 'f', places, 64)
	}
	return digits15(s.Number)
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
