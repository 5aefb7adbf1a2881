package workbook

import (
	"context"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/step"
	"platebook/rules/unit"
	"platebook/workbook/save"
	"platebook/workbook/xlsx"
)

// Record is what the Record sheet says of the program.
type Record struct {
	Version string   // of the program
	Rules   string   // of the rule set
	Inputs  []string // other files that were read and must not be replaced
}

// WriteResults writes a copy of the workbook with the result sheets behind
// the person's own. The person's sheets are unchanged cell for cell, which is
// verified before the copy takes its name; result sheets of an earlier run are
// replaced, macros are not carried over. path is the name the copy got: a
// numbered one beside out when out cannot be replaced.
func WriteResults(ctx context.Context, b *Book, out string, a *rules.Assessment, r Record) (path string, err error) {
	if a.Result == nil {
		return "", errors.New("results: nothing was calculated")
	}
	draft, err := resultDraft(ctx, b, a, r)
	if err != nil {
		return "", err
	}
	inputs := slices.Clone(r.Inputs)
	if b.File.Path != "" {
		inputs = append(inputs, b.File.Path)
	}
	return save.Save(ctx, out, inputs,
		func(w io.Writer) error { return b.File.WriteWith(ctx, w, draft, b.Results) },
		func(path string) error { return b.File.VerifyCopy(ctx, path, draft, b.Results) })
}

// results makes the result sheets. Sheets refer to each other's cells, so
// where a value stands is settled before the first formula is written.
type results struct {
	a            *rules.Assessment
	sys          unit.System
	since        float64 // days by which the workbook's date serials differ
	draft        *xlsx.Draft
	cells        map[string]string      // id of a step → cell of its SI value, with its sheet
	symbols      map[string]string      // id and symbol, for ids that stand for several values
	columns      map[string]string      // name of a column of results → its range
	named        map[string]namedCell   // text and title of a constant that a cell holds
	words        map[finding.Ref]string // cell of a word → formula that asks for it
	places       *xlsx.NewSheet         // Indication results
	plates       *xlsx.NewSheet
	steps        *xlsx.NewSheet
	comparison   *xlsx.NewSheet // nil without an earlier inspection
	repairs      *xlsx.NewSheet // these three: nil without repairs evaluated
	cutting      *xlsx.NewSheet
	thresholds   *xlsx.NewSheet
	sizing       *xlsx.NewSheet
	sizingAt     sizingRows
	statistics   *xlsx.NewSheet
	statisticsAt statisticsRows
	settlement   *xlsx.NewSheet // nil without a survey
	placeRow     []placeRow
	metal        []plateMetal
	states       []placeState
}

func resultDraft(ctx context.Context, b *Book, a *rules.Assessment, r Record) (*xlsx.Draft, error) {
	return resultDraftIn(ctx, b, a, r, a.Inspection.Units)
}

// resultDraftIn is resultDraft in a system of units, to be held against the
// results of a workbook in that system.
func resultDraftIn(ctx context.Context, b *Book, a *rules.Assessment, r Record, sys unit.System) (*xlsx.Draft, error) {
	a.Ahead()
	rs := &results{
		a: a, sys: sys, draft: xlsx.NewDraft(""),
		cells: map[string]string{}, symbols: map[string]string{}, columns: map[string]string{},
		named: map[string]namedCell{}, words: map[finding.Ref]string{},
	}
	if b.File.Date1904 {
		rs.since = 1462
	}
	sheet := func(name string) *xlsx.NewSheet {
		s := rs.draft.Sheet(b.File.FreeName(name, b.Results))
		s.Protected = true
		s.Print = xlsx.Print{Landscape: true, FitWidth: true, Footer: "&L&A&R&P of &N", Letter: rs.letter()}
		return s
	}
	summary, findings := sheet("Summary"), sheet("Findings")
	rs.steps, rs.plates, rs.places = sheet("Calculation"), sheet("Plate results"), sheet("Indication results")
	if a.Repairs != nil {
		rs.repairs, rs.cutting, rs.thresholds = sheet("Repairs"), sheet("Cutting list"), sheet("Thresholds")
		rs.layRepairs()
	}
	rs.sizing, rs.statistics = sheet("Sizing"), sheet("Statistics")
	if rs.surveyed() {
		rs.settlement = sheet("Settlement results")
	}
	if rs.compared() {
		rs.comparison = sheet("Comparison")
	}
	record := sheet("Record")

	rs.layWords()
	rs.layShares()
	rs.layPlaces()
	rs.layPlates()
	rs.laySteps()
	rs.laySizing()
	rs.layStatistics()
	rs.laySettlement()
	rs.layComparison()
	for _, write := range []func(){
		func() { rs.writeSummary(summary) }, func() { rs.writeFindings(findings) },
		rs.writeSteps, rs.writePlates, rs.writePlaces, rs.writeSteel,
		rs.writeSizing, rs.writeStatistics, rs.writeSettlement, rs.writeComparison,
		func() { rs.writeRecord(record, b, r) },
	} {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		write()
	}
	rs.draft.Properties = []xlsx.Property{{Name: ResultsProperty, Value: strings.Join(rs.draft.Sheets(), "/")}}
	return rs.draft, nil
}

func (rs *results) letter() bool {
	return strings.EqualFold(rs.a.Inspection.Tank.PageSize.Or(""), "Letter")
}

// at is a cell with its sheet, as a formula writes it.
func at(sheet string, col, row int) string {
	return finding.QuoteSheet(sheet) + "!" + finding.ColumnName(col) + strconv.Itoa(row)
}

// si is a stored value in the unit the calculation shows: metres for a
// height; a date in the workbook's own serials.
func (rs *results) si(k unit.Kind, v float64) float64 {
	if k == unit.DateKind {
		return v - rs.since
	}
	return k.In(unit.SI, v)
}

// literal writes a number into a formula.
func literal(v float64) string {
	s := strconv.FormatFloat(v, 'g', -1, 64)
	if v < 0 {
		return "(" + s + ")"
	}
	return strings.Replace(s, "e", "E", 1)
}

const mostLiterals = 60 // numbers of a list that are written into a formula

// expression is where the number of an input comes from, for a formula: a
// cell of the person's, another step, a column, else the number itself. plain
// says that it is a single cell or number that needs no brackets.
func (rs *results) expression(in step.Input) (text string, ok bool) {
	switch {
	case !in.Known:
		return "", false
	case in.Values != nil:
		if c := rs.columns[in.From.Column]; c != "" {
			return c, true
		}
		if len(in.Values) > mostLiterals {
			return "", false
		}
		list := make([]string, len(in.Values))
		for i, v := range in.Values {
			list[i] = strconv.FormatFloat(rs.si(in.Kind, v), 'G', -1, 64)
		}
		return "{" + strings.Join(list, ",") + "}", true
	case in.From.Ref.IsCell() && in.From.Plain:
		return rs.cellExpression(in.From.Ref, in.From.Scale, in.Kind), true
	case rs.words[in.From.Ref] != "":
		return rs.words[in.From.Ref], true
	case in.From.Step != "":
		if c := rs.symbols[in.From.Step+" "+in.Symbol]; c != "" {
			return c, true
		}
		if c := rs.cells[in.From.Step]; c != "" {
			return c, true
		}
	case in.From.Text != "":
		if c, ok := rs.named[in.From.Text+"\n"+in.Title]; ok && close9(c.value, rs.si(in.Kind, in.Value)) {
			return c.cell, true
		}
	}
	return literal(rs.si(in.Kind, in.Value)), true
}

func (rs *results) cellExpression(ref finding.Ref, scale float64, k unit.Kind) string {
	if k != unit.DateKind {
		scale /= k.Factor(unit.SI)
	}
	if scale == 1 || scale == 0 {
		return ref.String()
	}
	return "(" + ref.String() + "*" + literal(scale) + ")"
}

// live is a step's formula over the expressions of its inputs; ok is false
// when an input has none, or when the formula does not give the step's value.
func (rs *results) live(s *step.Step, express func(step.Input) (string, bool)) (formula string, ok bool) {
	if !s.Known || s.Formula.IsZero() {
		return "", false
	}
	ok = true
	formula = s.Formula.Spreadsheet(func(symbol string) string {
		i := inputOf(s, symbol)
		if i < 0 {
			ok = false
			return "0"
		}
		e, found := express(*s.Input(i))
		ok = ok && found
		return e
	})
	return formula, ok && len(formula) < 8000 && gives(s)
}

// inputOf is the input that a symbol stands for, the last of its name, -1 for
// none.
func inputOf(s *step.Step, symbol string) int {
	for i := len(s.Inputs) + len(s.Shared) - 1; i >= 0; i-- {
		if s.Input(i).Symbol == symbol {
			return i
		}
	}
	return -1
}

// gives holds the formula of a step against its value: a value that the
// program set by another way is written as a number, not as a formula that
// would recalculate to something else.
func gives(s *step.Step) bool {
	single := make([]float64, len(s.Inputs)+len(s.Shared))
	v := s.Formula.Eval(func(symbol string) []float64 {
		at := inputOf(s, symbol)
		i := s.Input(at)
		if i.Values == nil {
			single[at] = i.Kind.In(unit.SI, i.Value)
			return single[at : at+1 : at+1]
		}
		list := make([]float64, len(i.Values))
		for n, x := range i.Values {
			list[n] = i.Kind.In(unit.SI, x)
		}
		return list
	}) * s.Kind.Factor(unit.SI)
	return close9(v, s.Value)
}

// close9 says whether two numbers agree to 1e-9 of their size.
func close9(a, b float64) bool {
	d := a - b
	return d == 0 || d < 1e-9*max(1, b, -b) && -d < 1e-9*max(1, b, -b)
}

// intro is a sheet's title and a remark across its first columns.
func intro(s *xlsx.NewSheet, title, remark string, cols int) {
	s.Row(xlsx.Text(title, xlsx.Title))
	row := s.TallRow(30, xlsx.Text(remark, xlsx.Muted))
	s.Merge(xlsx.Area{Col1: 1, Row1: row, Col2: cols, Row2: row})
	s.Skip(1)
}

// fixed is the style of a number of a kind, with one digit more than a table
// shows.
func fixed(k unit.Kind, s unit.System, extra int) xlsx.Style {
	switch k {
	case unit.DateKind:
		return xlsx.DateISO
	case unit.Number:
		return xlsx.Whole
	case unit.None, unit.Statistic:
		return xlsx.Fixed4
	}
	if k == unit.RateKind && s == unit.US {
		return xlsx.Precise
	}
	return [...]xlsx.Style{xlsx.Whole, xlsx.Fixed1, xlsx.Fixed2, xlsx.Fixed3, xlsx.Fixed4}[min(4, k.Decimals(s)+extra)]
}
