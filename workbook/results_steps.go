package workbook

import (
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/step"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the Calculation sheet.
const (
	colTitle = iota + 1
	colSymbol
	colFormula
	colFrom
	colValue // in SI: every formula refers to this column
	colUnit
	colOwn // the value in the workbook's units, when they are US
	colOwnUnit
	colLimit
	colVerdict
	colClause
	colNote
	colStep
	colList // numbers of a list without a column of results, to the right
)

const firstStep = 5 // row of the first step

// laySteps settles the rows: a step with its inputs below it, then a blank.
func (rs *results) laySteps() {
	row := firstStep
	for i := range rs.a.Result.Steps {
		s := &rs.a.Result.Steps[i]
		cell := finding.QuoteSheet(rs.steps.Name) + "!" + finding.ColumnName(colValue) + strconv.Itoa(row)
		if _, known := rs.cells[s.ID]; !known {
			rs.cells[s.ID] = cell
		}
		rs.symbols[s.ID+" "+s.Symbol] = cell
		row += len(s.Inputs) + len(s.Shared) + 2
	}
}

func (rs *results) writeSteps() {
	s := rs.steps
	s.Width(colTitle, colTitle, 38)
	s.Width(colSymbol, colSymbol, 10)
	s.Width(colFormula, colFormula, 34)
	s.Width(colFrom, colFrom, 26)
	s.Width(colValue, colValue, 14)
	s.Width(colUnit, colUnit, 9)
	s.Width(colOwn, colOwnUnit, 11)
	s.Width(colLimit, colVerdict, 11)
	s.Width(colClause, colClause, 20)
	s.Width(colNote, colNote, 60)
	s.Width(colStep, colStep, 24)
	if rs.sys != unit.US {
		s.HideColumns(colOwn, colOwnUnit)
	}
	intro(s, "Calculation", "Each value is a live formula over the rows below it, and these lead to the cells of the workbook. Numbers are in SI units; lengths in mm, heights in m.", 11)
	head := []string{"Step", "Symbol", "Formula", "From", "Value", "Unit", "Value (US)", "Unit (US)", "Limit", "Verdict", "Clause", "Note", "Step id"}
	var cells []xlsx.Entry
	for _, h := range head {
		cells = append(cells, xlsx.Text(h, xlsx.Header))
	}
	s.Row(cells...)
	s.FreezeRow, s.FreezeCol = firstStep-1, colSymbol
	s.Print.TitleRows = strconv.Itoa(firstStep - 1)
	for i := range rs.a.Result.Steps {
		rs.writeStep(&rs.a.Result.Steps[i])
	}
}

func (rs *results) writeStep(st *step.Step) {
	s := rs.steps
	row := s.Next()
	inputRow := make(map[string]int, len(st.Inputs)+len(st.Shared))
	for i, in := range st.All() {
		inputRow[in.Symbol] = row + 1 + i
	}
	formula, isLive := rs.live(st, func(in step.Input) (string, bool) {
		r := inputRow[in.Symbol]
		switch {
		case !in.Known:
			return "", false
		case in.Values == nil:
			return finding.ColumnName(colValue) + strconv.Itoa(r), true
		case rs.columns[in.From.Column] != "":
			return rs.columns[in.From.Column], true
		case len(in.Values) > 10_000:
			return "", false
		}
		return finding.ColumnName(colList) + strconv.Itoa(r) + ":" + finding.ColumnName(colList+len(in.Values)-1) + strconv.Itoa(r), true
	})
	value := xlsx.Text("not known: "+st.Why, xlsx.Warn)
	switch v := rs.si(st.Kind, st.Value); {
	case !st.Known:
	case isLive:
		value = xlsx.Live(formula, v, fixed(st.Kind, unit.SI, 1))
	default:
		value = xlsx.Number(v, fixed(st.Kind, unit.SI, 1))
	}
	limit, verdict := rs.verdict(st, row)
	note := st.Branch
	if len(st.Verify) > 0 {
		note = strings.TrimPrefix(note+"; verify: "+strings.Join(st.Verify, "; "), "; ")
	}
	if st.Known && !isLive {
		note = strings.TrimPrefix(note+"; the value stands as a number, not as a formula", "; ")
	}
	s.FitRow(
		xlsx.Text(sentence(st.Title), xlsx.Bold), xlsx.Text(st.Symbol, xlsx.Bold), xlsx.Text(st.Symbols(unit.SI), xlsx.Wrapped), xlsx.Blank(xlsx.Normal),
		value, xlsx.Text(st.Kind.Unit(unit.SI), xlsx.Normal), rs.own(st.Kind, st.Value, st.Known, row), rs.ownUnit(st.Kind),
		limit, verdict, xlsx.Text(strings.TrimSpace(st.Source+" "+st.Clause), xlsx.Wrapped), xlsx.Text(note, xlsx.Wrapped), xlsx.Text(st.ID, xlsx.Muted),
	)
	for _, in := range st.All() {
		rs.writeInput(in)
	}
	s.Skip(1)
}

// own is the value in US units, live from the SI value.
func (rs *results) own(k unit.Kind, v float64, known bool, row int) xlsx.Entry {
	if rs.sys != unit.US || !known {
		return xlsx.Blank(xlsx.Normal)
	}
	cell := finding.ColumnName(colValue) + strconv.Itoa(row)
	f := rs.ownFactor(k)
	if f == 1 {
		return xlsx.Live(cell, rs.si(k, v), fixed(k, unit.US, 1))
	}
	return xlsx.Live(cell+"/"+literal(f), rs.si(k, v)/f, fixed(k, unit.US, 1))
}

// ownFactor is how much of the SI unit one US unit is: a rate shows in inches
// a year, as in the steps of the report.
func (rs *results) ownFactor(k unit.Kind) float64 {
	if k == unit.RateKind {
		return 25.4
	}
	return k.Factor(unit.US) / k.Factor(unit.SI)
}

func (rs *results) ownUnit(k unit.Kind) xlsx.Entry {
	if rs.sys != unit.US {
		return xlsx.Blank(xlsx.Normal)
	}
	return xlsx.Text(step.UnitOf(k, unit.US), xlsx.Normal)
}

// verdict is the limit and the live judgement against it.
func (rs *results) verdict(st *step.Step, row int) (limit, verdict xlsx.Entry) {
	blank := xlsx.Blank(xlsx.Normal)
	if st.Limit == nil || !st.Limit.Known {
		return blank, blank
	}
	l := st.Limit
	style := fixed(st.Kind, unit.SI, 1)
	e, ok := rs.expression(step.Input{Symbol: l.Symbol, Value: l.Value, Known: true, Kind: st.Kind, From: l.From})
	limit = xlsx.Number(rs.si(st.Kind, l.Value), style)
	if ok && (l.From.Step != "" || l.From.Ref.IsCell() && l.From.Plain) {
		limit = xlsx.Live(e, rs.si(st.Kind, l.Value), style)
	}
	pass, known := st.OK()
	if !known {
		return limit, blank
	}
	r := strconv.Itoa(row)
	v, lim := finding.ColumnName(colValue)+r, finding.ColumnName(colLimit)+r
	diff := v + "-" + lim
	if l.Op == "≤" {
		diff = lim + "-" + v
	}
	word, look := "pass", xlsx.Good
	if !pass {
		word, look = "fail", xlsx.Bad
	}
	tol := step.Tolerance(st.Kind) / st.Kind.Factor(unit.SI)
	return limit, xlsx.LiveText("IF("+diff+">=-"+literal(tol)+",\"pass\",\"fail\")", word, look)
}

func (rs *results) writeInput(in *step.Input) {
	s := rs.steps
	row := s.Next()
	style := fixed(in.Kind, unit.SI, 1)
	var value xlsx.Entry
	var list []xlsx.Entry
	switch e, ok := rs.expression(*in); {
	case !in.Known:
		value = xlsx.Text("not known", xlsx.Warn)
	case in.Values != nil:
		value = xlsx.Text(strconv.Itoa(len(in.Values))+" values", xlsx.Muted)
		if rs.columns[in.From.Column] == "" && len(in.Values) <= 10_000 {
			for _, v := range in.Values {
				list = append(list, xlsx.Number(rs.si(in.Kind, v), style))
			}
		}
	case ok && e != literal(rs.si(in.Kind, in.Value)):
		value = xlsx.Live(e, rs.si(in.Kind, in.Value), style)
	default:
		value = xlsx.Number(rs.si(in.Kind, in.Value), style)
	}
	from, target := rs.origin(in.From)
	look := xlsx.Quiet
	if target != "" {
		s.LinkTo(colFrom, row, target)
		look = xlsx.Link
	}
	own := xlsx.Blank(xlsx.Normal)
	if in.Values == nil {
		own = rs.own(in.Kind, in.Value, in.Known, row)
	}
	cells := []xlsx.Entry{
		xlsx.Text("   "+in.Title, xlsx.Normal), xlsx.Text(in.Symbol, xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Text(from, look),
		value, xlsx.Text(in.Kind.Unit(unit.SI), xlsx.Muted), own, rs.ownUnit(in.Kind),
	}
	if list != nil {
		for len(cells) < colList-1 {
			cells = append(cells, xlsx.Blank(xlsx.Normal))
		}
		cells = append(cells, list...)
	}
	s.Row(cells...)
}

// origin is where a number comes from, in words and as a place to go to.
func (rs *results) origin(from step.Source) (text, target string) {
	switch {
	case from.Ref.IsCell():
		return from.Ref.String(), from.Ref.String()
	case from.Step != "":
		if c := rs.cells[from.Step]; c != "" {
			return "step " + from.Step, c
		}
		return "step " + from.Step, ""
	case from.Column != "":
		if c := rs.columns[from.Column]; c != "" {
			first, _, more := strings.Cut(c, ",")
			if text = strings.ReplaceAll(first, "$", ""); more {
				text += ", …"
			}
			return text, firstCell(c)
		}
		return from.Column, ""
	}
	return from.Text, ""
}

// sentence begins a text with a capital letter.
func sentence(t string) string {
	if t == "" {
		return ""
	}
	return strings.ToUpper(t[:1]) + t[1:]
}
