package workbook

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// readCriteria reads what differs from the defaults, row by row.
func readCriteria(t *table, set *criteria.Set) {
	t.judgeMerges()
	names := make(map[string]criteria.Definition, len(criteria.Table))
	for _, d := range criteria.Table {
		names[foldHeader(string(d.Name))] = d
	}
	clear(t.keys) // a row is named by its criterion, not as it is typed
	seen := map[criteria.Name]finding.Ref{}
	cells := make([]*xlsx.Cell, len(t.columns))
	columns := t.fields(1, func(int) string { return "Value" })
	for n := range t.rows {
		row := &t.rows[n]
		t.spread(row, cells)
		at := func(header string) cell.Raw {
			for i := range t.columns {
				if t.columns[i].def.Header == header && cells[i] != nil {
					return cells[i].Raw
				}
			}
			return cell.Raw{}
		}
		c := criterionRow{
			table: t, row: row, set: set, value: at("Value"),
			unit: oneLine(at("Unit").Text), note: oneLine(typedText(at("Note"), t.date1904)),
			ref: finding.Ref{Sheet: t.name, Col: t.named("Value").col, Row: row.Number},
		}
		name := oneLine(typedText(at("Criterion"), t.date1904))
		d, ok := names[foldHeader(name)]
		switch {
		case !ok && c.value.IsBlank(): // a heading
		case !ok:
			c.unknown(name)
		case t.named("Value").lost() || t.named("Criterion").lost():
		default:
			row.key, row.label = t.unique(string(d.Name)), string(d.Name)
			if first, twice := seen[d.Name]; twice && !c.value.IsBlank() {
				t.hit(finding.Hit{
					Rule: "S202", Ref: c.ref, Column: string(d.Name), Value: typedText(c.value, t.date1904),
					Related: []finding.Related{{Ref: first, Text: "the other row"}},
					Message: fmt.Sprintf("%s stands twice: %s, %s", d.Name, first.Cell(), c.ref.Cell()),
				})
				continue
			}
			if x := cells[columns[0]]; x != nil {
				t.noticeCell(&t.columns[columns[0]], x, c.ref)
			}
			c.read(d)
			if !c.value.IsBlank() {
				seen[d.Name] = c.ref
			}
		}
	}
	t.finish()
}

// criterionRow is one row of the Criteria sheet.
type criterionRow struct {
	*table
	row   *dataRow
	set   *criteria.Set
	value cell.Raw
	unit  string
	note  string
	ref   finding.Ref
}

func (c *criterionRow) report(rule, message string) {
	c.rowHit(c.row, finding.Hit{
		Rule: rule, Ref: c.ref, Value: typedText(c.value, c.date1904), Message: message, Column: "Value",
	})
}

func (c *criterionRow) unknown(name string) {
	if name == "" {
		c.rowHit(c.row, finding.Hit{
			Rule: "C301", Ref: finding.Ref{Sheet: c.name, Col: c.named("Criterion").col, Row: c.row.Number},
			Column: "Criterion", Message: "Criterion is empty",
		})
		return
	}
	message, near := fmt.Sprintf("“%s” is no criterion", name), ""
	for _, d := range criteria.Table {
		if nearName(name, string(d.Name)) {
			if near != "" {
				near = ""
				break
			}
			near = string(d.Name)
		}
	}
	if near != "" {
		message = fmt.Sprintf("“%s”; %s?", name, near)
	}
	c.rowHit(c.row, finding.Hit{
		Rule: "Q401", Ref: finding.Ref{Sheet: c.name, Col: c.named("Criterion").col, Row: c.row.Number},
		Value: name, Message: message,
	})
}

// read puts a criterion in force. What cannot be read leaves the default, and
// an error that says so.
func (c *criterionRow) read(d criteria.Definition) {
	inForce := c.set.Get(d.Name)
	inForce.Ref, inForce.Note = c.ref, c.note
	defer func() { c.set.Put(d.Name, inForce) }()
	if c.value.IsBlank() {
		return
	}
	v, problem, err := c.parse(d)
	switch {
	case problem != nil && problem.Rule == "C303":
		c.report("Q403", fmt.Sprintf("%s %s", d.Name, problem.Message))
	case problem != nil:
		c.report(problem.Rule, fmt.Sprintf("%s %s", d.Name, problem.Message))
	case err != nil:
		c.report("Q403", fmt.Sprintf("%s %s", d.Name, err))
	case v.Set:
		v.Changed = !sameValue(v, inForce)
		v.Given, v.Ref, v.Note = true, c.ref, c.note
		inForce = v
	}
}

func (c *criterionRow) parse(d criteria.Definition) (criteria.Value, *cell.Problem, error) {
	switch d.Shape {
	case criteria.Choice:
		said, p := cell.ParseWord(c.value, d.Words, nil)
		return criteria.Value{Text: said.Value, Set: said.State == cell.Given}, p, nil
	case criteria.List:
		said, p := cell.ParseText(c.value, c.date1904)
		if p != nil {
			return criteria.Value{}, p, nil
		}
		v, err := d.Parse(c.units, strings.ReplaceAll(said.Value, "×", "x"))
		return v, nil, err
	}
	scale, state := d.Kind.Factor(c.units), unitWritten
	if c.unit != "" && d.Kind.Unit(c.units) != "" {
		scale, state = columnScale(d.Kind, c.unit, c.units, c.unitsKnown)
	}
	if state == unitRefused {
		c.hit(finding.Hit{
			Rule: "S205", Ref: finding.Ref{Sheet: c.name, Col: c.named("Unit").col, Row: c.row.Number},
			Column: string(d.Name), Value: c.unit,
			Message: refusedUnit(string(d.Name), c.unit, d.Kind), Do: writeUnit(d.Kind),
		})
		return criteria.Value{}, nil, nil
	}
	q, p := cell.ParseNumber(c.value, cell.Want{Kind: d.Kind, Scale: scale})
	if p != nil || q.State != cell.Given {
		return criteria.Value{}, p, nil
	}
	n := d.Kind.In(c.units, q.Value)
	if q.Own == "" && scale == d.Kind.Factor(c.units) && q.Value == q.Cell*scale {
		n = q.Cell
	}
	v, err := d.Number(c.units, n)
	if err != nil && (q.Value < d.Low || q.Value > d.High) {
		err = fmt.Errorf("%s, range %s–%s", quantityText(d.Kind, c.units, q.Value),
			plainText(d.Kind.In(c.units, d.Low)), quantityText(d.Kind, c.units, d.High))
	}
	if n != q.Cell {
		v.Text = plainText(n)
	}
	if q.Plain && c.value.Type == cell.Number {
		v.Plain, v.Scale = true, q.Scale
	}
	return v, nil, err
}

func sameValue(a, b criteria.Value) bool {
	if a.Set != b.Set || len(a.Numbers) != len(b.Numbers) {
		return false
	}
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*max(1, math.Abs(x), math.Abs(y)) }
	if len(a.Numbers) > 0 {
		return slices.EqualFunc(a.Numbers, b.Numbers, near)
	}
	if a.Number != 0 || b.Number != 0 {
		return near(a.Number, b.Number)
	}
	return a.Text == b.Text || isNumber(a.Text) && isNumber(b.Text)
}

// isNumber tells "0.0" and "0", both zero, from two different words.
func isNumber(s string) bool { return strings.Trim(s, "0123456789.,-") == "" && s != "" }
