package check

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// relatedShown is how many related places an entry lists.
const relatedShown = 20

// Arrange turns hits into the list of findings: what follows from another
// fault is silenced, equal findings become one, answers are put beside them,
// runs in successive rows are folded, and all stand in order. It panics on a
// code that no rule has: that is a mistake of the program.
func Arrange(in *inspection.Inspection, hits []finding.Hit) []finding.Finding {
	for _, h := range hits {
		if byCode[h.Rule] == nil {
			panic("check: no rule " + h.Rule)
		}
	}
	list := merge(Final(in), silence(hits))
	answers := answer(in, list)
	list = append(list, merge(Final(in), silence(answers))...)
	o := newOrder(in)
	slices.SortStableFunc(list, o.compare)
	return o.finish(o.fold(list))
}

// entry is a finding on its way into the list.
type entry struct {
	finding.Finding
	kind  string
	worth float64
	there map[finding.Related]bool // what stands in Related, once a further hit was added
}

// merge makes findings of hits; hits with one key are one finding.
func merge(final bool, hits []finding.Hit) []entry {
	list := make([]entry, 0, len(hits))
	at := make(map[string]int, len(hits))
	for _, h := range hits {
		key := Key(h)
		if i, ok := at[key]; ok {
			list[i].add(h)
			continue
		}
		rule := byCode[h.Rule]
		e := entry{kind: h.Kind, worth: h.Worth, Finding: finding.Finding{
			Key: key, Rule: h.Rule, Severity: rule.Class.Severity(final), Ref: h.Ref, LastRow: h.LastRow,
			Row: h.Row, Value: h.Value, Message: h.Message, Do: h.Do, Related: h.Related, Count: h.Cells,
		}}
		if e.Do == "" {
			e.Do = rule.Do
		}
		at[key] = len(list)
		list = append(list, e)
	}
	return list
}

// add takes a further hit of the same key into the finding.
func (e *entry) add(h finding.Hit) {
	if h.Message != "" && !strings.Contains(e.Message, h.Message) {
		e.Message += "; " + h.Message
	}
	e.worth = max(e.worth, h.Worth)
	related := h.Related
	if h.Ref != e.Ref && h.Ref.IsCell() {
		related = append([]finding.Related{{Ref: h.Ref}}, related...)
	}
	if e.there == nil {
		e.there = make(map[finding.Related]bool)
		for _, r := range e.Related {
			e.there[r] = true
		}
		e.Related = slices.Clip(e.Related) // the hit's own stay as they are
	}
	for _, r := range related {
		if r.Ref != e.Ref && !e.there[r] {
			e.there[r] = true
			e.Related = append(e.Related, r)
		}
	}
}

// order knows how the sheets stand and which of their rows hold data.
type order struct {
	sheets map[string]int
	rows   map[string][]int // by kind, rising
}

func newOrder(in *inspection.Inspection) order {
	o := order{sheets: make(map[string]int), rows: dataRows(in)}
	for i := range in.Sheets {
		o.sheets[in.Sheets[i].Name] = i + 1
	}
	return o
}

// compare: the file first, then sheets as they stand, findings without a cell
// first, then row, column and code.
func (o order) compare(a, b entry) int {
	return cmp.Or(
		cmp.Compare(o.sheet(a.Ref.Sheet), o.sheet(b.Ref.Sheet)),
		strings.Compare(a.Ref.Sheet, b.Ref.Sheet),
		cmp.Compare(a.Ref.Row, b.Ref.Row),
		cmp.Compare(a.Ref.Col, b.Ref.Col),
		strings.Compare(a.Rule, b.Rule),
		strings.Compare(a.Key, b.Key),
	)
}

// sheet is the place of a sheet; one that is not an input sheet stands last.
func (o order) sheet(name string) int {
	if name == "" {
		return 0
	}
	if n, ok := o.sheets[name]; ok {
		return n
	}
	return len(o.sheets) + 1
}

// fold makes one entry of findings per cell or row of one code and column on
// successive data rows, all answered or none. Rows of Tank and Criteria are
// items of their own and never run together.
func (o order) fold(list []entry) []entry {
	type run struct {
		sheet, rule string
		col         int
	}
	open := make(map[run]int) // the entry that could go on
	out := make([]entry, 0, len(list))
	for _, e := range list {
		per := byCode[e.Rule].Per
		if (per != PerCell && per != PerRow) || !e.Ref.IsCell() || e.kind == "Tank" || e.kind == "Criteria" {
			out = append(out, e)
			continue
		}
		r := run{e.Ref.Sheet, e.Rule, e.Ref.Col}
		i, ok := open[r]
		if ok && e.Ref.Row > max(out[i].LastRow, out[i].Ref.Row) && // two of one row are two
			(out[i].Answer != nil) == (e.Answer != nil) && out[i].Do == e.Do &&
			o.successive(e.kind, max(out[i].LastRow, out[i].Ref.Row), e.Ref.Row) {
			out[i].take(e)
			continue
		}
		open[r] = len(out)
		out = append(out, e)
	}
	return out
}

func (e *entry) take(next entry) {
	if e.Members == nil {
		e.Members, e.Values = []string{e.Key}, []string{e.Value}
		e.Related = slices.Clip(e.Related) // the hit's own stay as they are
	}
	e.Members, e.Values = append(e.Members, next.Key), append(e.Values, next.Value)
	e.LastRow = next.Ref.Row
	e.Related = append(e.Related, next.Related...)
	if next.worth > e.worth {
		e.worth, e.Message = next.worth, next.Message
	}
}

// successive says that no row with data lies between two rows.
func (o order) successive(kind string, a, b int) bool {
	rows, ok := o.rows[kind]
	if !ok {
		return b <= a+1
	}
	i := sort.SearchInts(rows, a+1)
	return i == len(rows) || rows[i] >= b
}

// finish cuts the related places to what is shown.
func (o order) finish(list []entry) []finding.Finding {
	out := make([]finding.Finding, len(list))
	for i, e := range list {
		seen := make(map[finding.Related]bool, len(e.Related))
		kept := make([]finding.Related, 0, len(e.Related))
		for _, r := range e.Related {
			if !seen[r] && r.Ref != e.Ref {
				seen[r] = true
				kept = append(kept, r)
			}
		}
		if n := len(kept) - relatedShown; n > 0 {
			e.More = n
			kept = kept[:relatedShown]
		}
		e.Related = nil
		if len(kept) > 0 {
			e.Related = kept
		}
		out[i] = e.Finding
	}
	return out
}

// Counts are of entries; Warnings are the unanswered ones.
type Counts struct{ Errors, Warnings, Notes, Answered int }

// Count counts the entries of a list.
func Count(list []finding.Finding) Counts {
	var c Counts
	for _, f := range list {
		switch {
		case f.Severity >= finding.Error:
			c.Errors++
		case f.Severity == finding.Note:
			c.Notes++
		case f.Answer != nil:
			c.Answered++
		default:
			c.Warnings++
		}
	}
	return c
}
