package report

import (
	"fmt"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/step"
)

// ofState splits the id of a step that is calculated for each state of the
// floor: "mrt.as_planned" is "mrt" as planned.
func ofState(id string) (base string, state assess.State, ok bool) {
	for _, s := range []assess.State{assess.AsFound, assess.AsPlanned, assess.AsCompleted} {
		if base, ok := strings.CutSuffix(id, "."+s.String()); ok {
			return base, s, true
		}
	}
	return id, 0, false
}

// stateHead names a state as the heads of the results do, on one line.
func (w *writer) stateHead(s assess.State) string {
	return capital(w.res.StateWords(s))
}

// byState sets steps that are calculated for each state: those of page one's
// state in full, those of the other states as rows.
func (w *writer) byState(all []step.Step) (full []step.Step, rows Block) {
	governing := map[string]*step.Step{}
	others := map[assess.State][]*step.Step{}
	for i := range all {
		base, s, ok := ofState(all[i].ID)
		if !ok || s == w.res.PageOne {
			full = append(full, all[i])
			governing[base] = &all[i]
			continue
		}
		others[s] = append(others[s], &all[i])
	}
	t := Table{Columns: []Column{
		{Head: "Step", Share: 2.4}, {Head: "Symbol", Share: 0.8}, {Head: "With its numbers", Share: 3.6}, {Head: "Result", Share: 1.4}, {Head: "Against its limit", Share: 2.4},
	}}
	for _, s := range []assess.State{assess.AsFound, assess.AsPlanned, assess.AsCompleted} {
		if len(others[s]) == 0 {
			continue
		}
		t.Rows = append(t.Rows, Row{Group: true, Cells: []string{w.stateHead(s)}})
		for _, o := range others[s] {
			w.note(o.ID)
			base, _, _ := ofState(o.ID)
			t.Rows = append(t.Rows, w.stateRow(o, governing[base]))
		}
	}
	if len(t.Rows) == 0 {
		return full, nil
	}
	t.Note = "Formulas and clauses as above; the sheet Calculation holds these steps too, as live formulas with their sources."
	return full, t
}

// stateRow is a step of another state beside the same step of page one.
func (w *writer) stateRow(o, g *step.Step) Row {
	numbers := o.Numbers(w.sys)
	switch {
	case !o.Known:
		numbers = none
	case g != nil && g.Known && numbers == g.Numbers(w.sys) && o.Value == g.Value && columnFree(o):
		numbers = "no change from " + w.res.PageOne.Words()
	case o.Formula.Passes():
		numbers = orDash(o.Branch)
	default:
		if columns := valueCounts(o); columns != "" {
			numbers += " over " + columns
		}
		if why := o.Since(w.sys); why != "" {
			numbers += ", since " + why
		}
		if o.Branch != "" {
			numbers += "; " + o.Branch
		}
	}
	r := Row{Cells: []string{capital(o.Title), o.Symbol, Minus(numbers), Minus(o.Result(w.sys)), orDash(Minus(o.Verdict(w.sys)))}}
	if ok, known := o.OK(); known && !ok {
		r.Mark, r.Bold = "fail", true
	}
	return r
}

// columnFree says whether every input is one number: a column of values can
// differ without its printed formula doing so.
func columnFree(s *step.Step) bool {
	for _, in := range s.All() {
		if in.Values != nil {
			return false
		}
	}
	return true
}

func valueCounts(s *step.Step) string {
	var parts []string
	for _, in := range s.All() {
		if in.Values != nil {
			parts = append(parts, count(len(in.Values), "value"))
		}
	}
	return and(parts)
}

func orDash(s string) string {
	if s = strings.TrimSpace(s); s == "" {
		return none
	}
	return s
}

// elsewhere are the steps that other sections show.
var elsewhere = []string{
	"rate.", "floor.", "coverage.", "compare.", "repair.", "cutting.", "threshold.", "sizing.", "extreme.", "settlement.",
}

// interval is section 13: every step from thickness to next date. The state
// on page one stands in full, the others as rows.
func (w *writer) interval() []Block {
	var required, each []step.Step
	for _, s := range w.res.Steps {
		switch _, _, state := ofState(s.ID); {
		case hasPrefix(s.ID, elsewhere):
		case state:
			each = append(each, s)
		default:
			required = append(required, s)
		}
	}
	full, rows := w.byState(each)
	blocks := []Block{
		Paragraph{Text: "Each step shows its formula in symbols, the same with numbers, the result, the clause it follows, and the workbook cells its numbers come from. " +
			"The sheet Calculation of the results workbook holds the same steps as live formulas, under the id that stands beside each title."},
	}
	if len(required) > 0 {
		blocks = append(blocks, Heading{2, "What is required"}, Steps{required})
	}
	if len(full) > 0 {
		blocks = append(blocks, Heading{2, fmt.Sprintf("%s: remaining thickness, interval, next date", w.stateHead(w.res.PageOne))}, Steps{full})
	}
	if rows != nil {
		blocks = append(blocks, Heading{2, "The other states of the floor"}, rows)
	}
	return append(blocks, w.sensitivity()...)
}

func (w *writer) note(id string) {
	if w.shown == nil {
		w.shown = map[string]bool{}
	}
	w.shown[id] = true
}

// show notes the steps among blocks.
func (w *writer) show(blocks []Block) {
	for _, b := range blocks {
		if s, ok := b.(Steps); ok {
			for i := range s.Steps {
				w.note(s.Steps[i].ID)
			}
		}
	}
}

// furtherSteps are those that no section shows, be it that the firm left the
// section out: a number that enters a result stays traceable. The shares of
// coverage stand in their table.
func (w *writer) furtherSteps() []Block {
	var rest []step.Step
	for _, s := range w.res.Steps {
		if !w.shown[s.ID] && !strings.HasPrefix(s.ID, "coverage.") {
			rest = append(rest, s)
		}
	}
	if len(rest) == 0 {
		return nil
	}
	return []Block{Heading{2, "Further steps of the calculation"}, Steps{rest}}
}

func hasPrefix(id string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(id, p) {
			return true
		}
	}
	return false
}
