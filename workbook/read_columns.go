package workbook

import (
	"fmt"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/spelling"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/layout"
)

// column is one contract column of a table, and where the person keeps it.
type column struct {
	def    *layout.Column
	col    int // 0: the sheet has none
	twin   int // a second column of the same meaning, 0 for none
	head   heading
	folded string // head, for comparing
	want   cell.Want
	broken bool // its values are unknown: missing though required, twice there, or of a wrong unit
	noUnit bool // neither the header nor Units says in what it is written
	bare   bool // no unit in the header: Units decides
	tally  tally
	seen   map[string]found // what its texts gave
}

// lost says that nothing can be known of the column's values.
func (c *column) lost() bool { return c.broken && c.col == 0 || c.twin > 0 }

func (t *table) headRef(h heading) finding.Ref {
	return finding.Ref{Sheet: t.name, Col: h.col, Row: h.row}
}

// mapColumns ties the headings of the sheet to the contract's columns.
func (t *table) mapColumns() {
	t.columns = make([]column, len(t.def.Columns))
	for i := range t.columns {
		t.columns[i].def = &t.def.Columns[i]
	}
	var unknown []heading
	for _, head := range t.header.headings {
		c := t.columnOf(head.def)
		switch {
		case c == nil:
			unknown = append(unknown, head)
		case c.col == 0:
			c.col, c.head, c.folded = head.col, head, foldHeader(head.text)
		default:
			t.twins(c, head)
		}
	}
	for i := range t.columns {
		c := &t.columns[i]
		if c.col == 0 {
			if c.def.Required {
				c.broken = true
				ref, question := t.perhaps(c, unknown)
				t.hit(finding.Hit{
					Rule: "S201", Ref: ref, Column: c.def.Header,
					Message: fmt.Sprintf("no column %s; found: %s%s", c.def.Header, headingTexts(t.header.headings), question),
					Do:      fmt.Sprintf("Name it %s.", c.def.Header),
				})
			}
			continue
		}
		t.byCol[c.col] = i + 1
		if c.twin > 0 {
			t.byCol[c.twin] = i + 1
		}
		t.measure(c)
	}
	for _, head := range unknown {
		t.headless[head.col] = false
		if c := t.near(head); c != nil {
			t.hit(finding.Hit{
				Rule: "S203", Ref: t.headRef(head), Column: head.name, Value: head.text,
				Message: fmt.Sprintf("“%s” not read; %s?", head.text, c.def.Header),
			})
			continue
		}
		t.extra = append(t.extra, head)
	}
}

// perhaps is where a missing column may stand: at the one unknown heading that
// comes close to its name, which is asked about, or at the only unknown one;
// else the place is the sheet.
func (t *table) perhaps(c *column, unknown []heading) (finding.Ref, string) {
	var alike []heading
	for _, head := range unknown {
		if nearName(head.name, c.def.Header) {
			alike = append(alike, head)
		}
	}
	switch {
	case len(alike) == 1:
		return t.headRef(alike[0]), fmt.Sprintf("; is it “%s”?", alike[0].text)
	case len(unknown) == 1:
		return t.headRef(unknown[0]), ""
	}
	return finding.Ref{Sheet: t.name}, ""
}

func (t *table) columnOf(def *layout.Column) *column {
	for i := range t.columns {
		if def != nil && t.columns[i].def == def {
			return &t.columns[i]
		}
	}
	return nil
}

func (t *table) twins(c *column, second heading) {
	c.broken, c.twin = true, second.col
	t.hit(finding.Hit{
		Rule: "S202", Ref: t.headRef(second), Column: c.def.Header, Value: second.text,
		Related: []finding.Related{{Ref: t.headRef(c.head), Text: "the other column"}},
		Message: fmt.Sprintf("“%s” (%s), “%s” (%s) mean the same",
			c.head.text, t.headRef(c.head).Cell(), second.text, t.headRef(second).Cell()),
	})
}

// measure settles in what unit a column of numbers is written.
func (t *table) measure(c *column) {
	if c.def.Type != layout.Number {
		return
	}
	scale, state := columnScale(c.def.Kind, c.head.unit, t.units, t.unitsKnown)
	c.want = cell.Want{Kind: c.def.Kind, Scale: scale}
	switch state {
	case unitOfSystem:
		c.bare = true
	case unitUnknown:
		c.bare, c.noUnit = true, true
	case unitRefused:
		c.broken = true
		t.hit(finding.Hit{
			Rule: "S205", Ref: t.headRef(c.head), Column: c.def.Header, Value: c.head.text,
			Message: refusedUnit(c.head.text, c.head.unit, c.def.Kind),
			Do:      writeUnit(c.def.Kind),
		})
	}
}

type unitState uint8

const (
	unitWritten  unitState = iota // by the header, or none is needed
	unitOfSystem                  // Units decides
	unitUnknown                   // Units is unknown itself
	unitRefused                   // unknown, or of another kind
)

// columnScale is the stored value of one number under a header's unit.
func columnScale(k unit.Kind, typed string, s unit.System, known bool) (float64, unitState) {
	if typed == "" {
		switch {
		case !needsUnit(k):
			return k.Factor(s), unitWritten
		case !known:
			return k.Factor(s), unitUnknown
		}
		return k.Factor(s), unitOfSystem
	}
	if u, ok := findUnit(typed); ok && u.of == measureOf(k) {
		return u.scale, unitWritten
	}
	return k.Factor(s), unitRefused
}

func refusedUnit(header, typed string, k unit.Kind) string {
	u, ok := findUnit(typed)
	switch {
	case !ok:
		return fmt.Sprintf("“%s”: “%s” is no known unit", header, typed)
	case measureOf(k) == ofNothing:
		return fmt.Sprintf("“%s”: a number without a unit is asked for, not %s", header, typed)
	case measureOf(k) == u.of:
		return fmt.Sprintf("“%s”: two units that differ", header)
	}
	return fmt.Sprintf("“%s”: %s is no %s", header, typed, measureName[measureOf(k)])
}

func writeUnit(k unit.Kind) string {
	if u := usualUnits(k); u != "" {
		return "Write " + u + "."
	}
	return "Write it without a unit."
}

var measureName = map[measure]string{
	ofLength: "length", ofStress: "stress", ofTime: "time", ofShare: "percentage", ofPoints: "difference of percentages",
	ofAngle: "angle", ofRate: "rate", ofSlope: "slope", ofMass: "mass", ofArea: "area",
}

// near is the one absent column whose name an unknown heading comes close to.
func (t *table) near(head heading) *column {
	var found *column
	for i := range t.columns {
		c := &t.columns[i]
		if c.col == 0 && !c.def.Required && nearName(head.name, c.def.Header) {
			if found != nil {
				return nil
			}
			found = c
		}
	}
	return found
}

// nearName says whether a text is within two edits of a name, or one when the
// name has under six letters.
func nearName(text, name string) bool {
	a, b := foldHeader(text), foldHeader(name)
	limit := 2
	if len([]rune(b)) < 6 {
		limit = 1
	}
	if len([]rune(b)) < 3 || a == "" {
		return false // X is within one edit of everything short
	}
	return spelling.Edits(a, b, limit) <= limit
}

func headingTexts(heads []heading) string {
	var texts []string
	for _, h := range heads {
		texts = append(texts, h.text)
	}
	return strings.Join(texts, ", ")
}
