package workbook

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// found is what one cell gave.
type found struct {
	state  inspection.State
	number float64 // stored units, or a date
	word   string
	labels []string
	open   string // a word in a text that stands for what is still to come
	plain  bool
	scale  float64
}

// fill reads one cell into a record's field. Whatever is wrong with it is
// reported here and stays in this field.
func (t *table) fill(n int, row *dataRow, c *column, x *xlsx.Cell, field any) {
	ref := finding.Ref{Sheet: t.name, Col: c.col, Row: row.Number}
	text := ""
	if x != nil {
		text = typedText(x.Raw, t.date1904)
	}
	v := t.value(n, row, c, x, ref, text)
	switch f := field.(type) {
	case *inspection.Text:
		*f = inspection.Text{Value: v.word, State: v.state, Text: text, Ref: ref}
	case *inspection.Labels:
		*f = inspection.Labels{Value: v.labels, State: v.state, Text: text, Ref: ref}
	case *inspection.Date:
		*f = inspection.Date{Value: unit.Date(v.number), State: v.state, Text: text, Ref: ref, Plain: v.plain, Scale: v.scale}
	case *inspection.Length:
		quantity(f, v, text, ref)
	case *inspection.Years:
		quantity(f, v, text, ref)
	case *inspection.Percent:
		quantity(f, v, text, ref)
	case *inspection.Angle:
		quantity(f, v, text, ref)
	case *inspection.Ratio:
		quantity(f, v, text, ref)
	case *inspection.Stress:
		quantity(f, v, text, ref)
	case *inspection.Count:
		quantity(f, v, text, ref)
	default:
		panic(fmt.Sprintf("workbook: no way to read a cell into %T", field))
	}
}

func quantity[T ~float64](f *inspection.Field[T], v found, text string, ref finding.Ref) {
	*f = inspection.Field[T]{Value: T(v.number), State: v.state, Text: text, Ref: ref, Plain: v.plain, Scale: v.scale}
}

func (t *table) value(n int, row *dataRow, c *column, x *xlsx.Cell, ref finding.Ref, text string) found {
	empty := x == nil || x.IsBlank()
	switch {
	case c.col == 0 && c.broken:
		return found{state: inspection.Wrong}
	case c.col == 0:
		return found{}
	case t.merges.spoils(ref.Col, ref.Row):
		return found{state: inspection.Wrong}
	case empty:
		t.missing(row, c, x, ref)
		return found{}
	case c.twin > 0:
		return found{state: inspection.Wrong}
	}
	t.noticeCell(c, x, ref)
	v, problem := t.parse(n, row, c, x, ref)
	switch {
	case problem != nil:
		t.cellHit(row, c, ref, text, problemHit(c.def, problem))
	case v.open != "":
		t.cellHit(row, c, ref, text, finding.Hit{Rule: "Q601", Message: fmt.Sprintf("%s holds “%s”", c.def.Header, v.open)})
	case v.state == inspection.Left && c.def.Required:
		v.state = inspection.Wrong
		t.cellHit(row, c, ref, text, finding.Hit{Rule: "C301", Message: fmt.Sprintf("%s is “%s”", c.def.Header, text)})
	}
	return v
}

var mayHoldOpenWord = regexp.MustCompile(`(?i)tb[acd]|xxx|\?\?\?`)

// openWord is a word in a text that stands for what is still to come.
func openWord(text string) string {
	if !mayHoldOpenWord.MatchString(text) {
		return ""
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(",;:.()[]/“”\"'", r)
	}) {
		switch strings.ToLower(word) {
		case "tbc", "tbd", "tba", "xxx", "???":
			return word
		}
	}
	return ""
}

// missing reports a required cell that is empty.
func (t *table) missing(row *dataRow, c *column, x *xlsx.Cell, ref finding.Ref) {
	if !c.def.Required || c.lost() {
		return
	}
	what := " is empty"
	if x != nil && x.Type == cell.String && x.Text != "" {
		what = " holds only blanks"
	}
	t.cellHit(row, c, ref, "", finding.Hit{Rule: "C301", Message: c.def.Header + what})
}

func (t *table) cellHit(row *dataRow, c *column, ref finding.Ref, text string, h finding.Hit) {
	h.Ref, h.Value, h.Column = ref, text, c.def.Header
	if t.def.Items {
		h.Column = "Value"
	}
	t.rowHit(row, h)
}

// problemHit says what a cell's parser found, with the column's name before.
func problemHit(def *layout.Column, p *cell.Problem) finding.Hit {
	return finding.Hit{Rule: p.Rule, Message: def.Header + " " + p.Message}
}

func (t *table) parse(n int, row *dataRow, c *column, x *xlsx.Cell, ref finding.Ref) (found, *cell.Problem) {
	switch c.def.Type {
	case layout.Number:
		return t.parseNumber(n, row, c, x, ref)
	case layout.Date:
		day, p := cell.ParseDate(x.Raw, t.date1904)
		if day.Bare && p == nil {
			c.tally.bareDates.add(ref)
		}
		plain := p == nil && x.Type == cell.Number && !t.date1904 && x.Number == math.Trunc(x.Number)
		return found{state: stateOf(day.State), number: float64(day.Value), plain: plain, scale: 1}, p
	case layout.Labels:
		if t.def.Name == "Answers" {
			return t.parseKeys(x)
		}
		labels, state, p := cell.ParseLabels(x.Raw, t.date1904)
		return found{state: stateOf(state), labels: labels}, p
	}
	return t.parseSaid(c, x)
}

// manyTexts bounds what a column remembers of its texts.
const manyTexts = 4096

// parseSaid reads a word, a label or a text. The same few names stand in
// thousands of rows, so what a text gave is remembered.
func (t *table) parseSaid(c *column, x *xlsx.Cell) (found, *cell.Problem) {
	plain := x.Type == cell.String && !x.NoStored
	if v, ok := c.seen[x.Text]; ok && plain {
		return v, nil
	}
	var said cell.Said
	var p *cell.Problem
	switch c.def.Type {
	case layout.Word:
		said, p = cell.ParseWord(x.Raw, c.def.Words, c.def.Aliases)
	case layout.Label:
		said, p = cell.ParseLabel(x.Raw, t.date1904)
	default:
		said, p = cell.ParseText(x.Raw, t.date1904)
	}
	v := found{state: stateOf(said.State), word: said.Value}
	if c.def.Type == layout.Text && v.state == inspection.Given {
		v.open = openWord(v.word)
	}
	if plain && p == nil && len(c.seen) < manyTexts {
		if c.seen == nil {
			c.seen = map[string]found{}
		}
		c.seen[x.Text] = v
	}
	return v, p
}

// parseKeys divides finding keys at semicolons alone: a key may hold a comma.
func (t *table) parseKeys(x *xlsx.Cell) (found, *cell.Problem) {
	said, p := cell.ParseText(x.Raw, t.date1904)
	return found{state: stateOf(said.State), labels: splitKeys(said.Value)}, p
}

func splitKeys(text string) []string {
	var keys []string
	for _, k := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }) {
		if k = strings.TrimSpace(k); k != "" {
			keys = append(keys, k)
		}
	}
	return keys
}

func (t *table) parseNumber(n int, row *dataRow, c *column, x *xlsx.Cell, ref finding.Ref) (found, *cell.Problem) {
	q, p := cell.ParseNumber(x.Raw, c.want)
	v := found{state: stateOf(q.State), number: q.Value, plain: q.Plain && x.Type == cell.Number, scale: q.Scale}
	if p != nil || v.state != inspection.Given {
		return v, p
	}
	switch {
	case q.Own == "" && (c.noUnit || c.broken):
		return found{state: inspection.Wrong}, nil // S205, or Units is unknown: told there
	case q.Own != "" && !sameUnit(q.Own, c):
		c.tally.ownUnit(q.Own, ref)
	case q.AsText:
		c.tally.texts.add(ref)
	}
	if q.Own == "" && c.bare {
		c.tally.bySystem.add(ref)
	}
	if !v.plain {
		v.scale = 0
	}
	if h, out := t.outOfRange(c, q.Value); out {
		v.state = inspection.Wrong
		h.Worth = worth(c.def, q.Value)
		if !t.def.Items && needsUnit(c.def.Kind) {
			h.Related = []finding.Related{{Ref: t.headRef(c.head), Text: "unit"}}
		}
		t.cellHit(row, c, ref, typedText(x.Raw, t.date1904), h)
		return v, nil
	}
	if q.Scaled != cell.NoPercent {
		c.tally.percent(n, q.Value, q.Scaled == cell.Plain)
	}
	return v, nil
}

// sameUnit says whether a cell's own unit is the column's.
func sameUnit(own string, c *column) bool {
	u, ok := findUnit(own)
	return ok && u.of == measureOf(c.def.Kind) && !c.broken && u.scale == c.want.Scale
}

func stateOf(s cell.State) inspection.State {
	switch s {
	case cell.Given:
		return inspection.Given
	case cell.Wrong:
		return inspection.Wrong
	case cell.Left:
		return inspection.Left
	}
	return inspection.Blank
}
