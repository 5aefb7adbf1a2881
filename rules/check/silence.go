package check

import (
	"slices"
	"strings"

	"platebook/rules/finding"
)

// One cause, one finding: what only follows from a fault already reported is
// left out. Most follow-on rules are silent because a value with an error is
// unknown to them; the table below holds what is told by the findings alone.
type shadow struct {
	cause []string // codes
	hides []string // codes, or the first letters of codes
	where where
}

// where says how a cause and what it hides belong together.
type where uint8

const (
	sameSheet where = iota
	sameRow
	sameColumn
	sameItem  // the same Tank row
	sameCells // the cells a cause lists
	sameValue
	wholeFile
)

var shadows = []shadow{
	{[]string{"S101", "S103", "S106"}, []string{"S2", "S3", "C", "R", "T", "K", "Q"}, sameSheet},
	{[]string{"S201", "S202"}, []string{"C301"}, sameColumn},
	{[]string{"C301", "C101", "C202", "C203", "C401", "C402"}, []string{"Q304"}, sameItem},
	{[]string{"C104", "C110"}, []string{"C106", "C107"}, sameColumn},
	{[]string{"C104", "C110"}, []string{"C105"}, sameColumn},
	{[]string{"C105"}, []string{"C106", "C107"}, sameCells},
	{[]string{"S305"}, []string{"C402", "C301", "C302"}, sameRow},
	{[]string{"R201", "R202", "R203"}, []string{"R310"}, sameRow},
	{[]string{"R301", "R303", "R306"}, []string{"R302", "R305", "R309", "R315"}, sameRow},
	{[]string{"R302"}, []string{"R315"}, sameCells},
	{[]string{"R311"}, []string{"R201", "R202", "R203", "R309", "R310"}, sameSheet},
	{[]string{"T301"}, []string{"T303"}, wholeFile},
	{[]string{"Q201"}, []string{"Q202", "Q203", "Q204", "Q205"}, sameValue},
}

// needs lists what a rule about something left empty reads: without the
// column, or with two of them, emptiness says nothing.
var needs = []struct {
	rule, kind string
	columns    []string
}{
	{"C302", "Indications", []string{"Loss %", "Remaining", "Depth"}},
	{"C302", "Prove-ups", []string{"Remaining", "Depth", "X", "Y"}},
	{"C302", "Plates", []string{"Row", "Position", "Left", "Bottom", "Start bearing", "End bearing"}},
	{"C302", "Fixtures", []string{"Length", "Width", "Diameter", "Radius"}},
	{"C302", "Planned repairs", []string{"X", "Y", "Length", "Width", "Completed"}},
	{"C302", "Settlement", []string{"Bearing", "Elevation", "Radius", "Measured"}},
	{"R307", "Indications", []string{"Loss %", "Method", "Kind"}},
	{"R308", "Indications", []string{"Loss %", "Method", "Kind"}},
	{"R316", "Indications", []string{"Length", "Width", "Kind"}},
	{"R401", "Plates", []string{"MFL scanned %", "Hand scanned %", "UT gridded %", "Not examined %", "Reason not examined"}},
	{"R403", "Plates", []string{"MFL scanned %", "Hand scanned %", "UT gridded %", "Not examined %"}},
	{"R406", "Plates", []string{"MFL scanned %", "Hand scanned %"}},
	{"R501", "Planned repairs", []string{"Retest"}},
	{"R503", "Planned repairs", []string{"Remarks", "Indications"}},
	{"Q402", "Criteria", []string{"Note"}},
}

// references lists, for a sheet, the rules about what cites it.
var references = map[string][]string{
	"Tank":        {"K101", "T101", "R205", "R206", "R209", "R210"},
	"Plates":      {"R105", "R107", "R108", "R111", "T101", "R209", "R210", "R401", "R406", "K"},
	"Indications": {"R106", "R107", "R310", "R311", "R502", "R503", "K"},
	"Prove-ups":   {"R307", "R308", "K"},
	"Crew":        {"Q101", "Q102", "Q103"},
	"Instruments": {"Q201", "Q202"},
	"Checks":      {"Q203", "Q205"},
}

func silence(hits []finding.Hit) []finding.Hit {
	if len(hits) == 0 {
		return nil
	}
	present := make(map[string]bool)
	for _, h := range hits {
		present[h.Rule] = true
	}
	hidden := make([]bool, len(hits))
	for _, s := range shadows {
		if !slices.ContainsFunc(s.cause, func(c string) bool { return present[c] }) {
			continue
		}
		causes := make(map[any]bool)
		for _, h := range hits {
			if slices.Contains(s.cause, h.Rule) {
				for _, p := range s.where.of(h, true) {
					causes[p] = true
				}
			}
		}
		for i, h := range hits {
			if !matches(s.hides, h.Rule) || slices.Contains(s.cause, h.Rule) {
				continue
			}
			for _, p := range s.where.of(h, false) {
				hidden[i] = hidden[i] || causes[p]
			}
		}
	}
	for _, cause := range hits {
		switch cause.Rule {
		case "S101", "S103", "S106":
			for i, h := range hits {
				hidden[i] = hidden[i] || matches(references[cause.Kind], h.Rule)
			}
		case "S201", "S202":
			for i, h := range hits {
				hidden[i] = hidden[i] || needed(h, cause.Kind, cause.Column)
			}
		}
	}
	kept := make([]finding.Hit, 0, len(hits))
	for i, h := range hits {
		if !hidden[i] {
			kept = append(kept, h)
		}
	}
	return kept
}

func matches(codes []string, code string) bool {
	return slices.ContainsFunc(codes, func(c string) bool { return strings.HasPrefix(code, c) })
}

func needed(h finding.Hit, kind, column string) bool {
	rule := h.Rule
	if rule == "C302" && h.Kind != kind {
		return false
	}
	for _, n := range needs {
		if n.rule == rule && n.kind == kind && slices.Contains(n.columns, column) {
			return true
		}
	}
	return kind == "Plates" && column == "Plate" && rule == "R105" ||
		kind == "Indications" && column == "ID" && (rule == "R106" || rule == "R107")
}

type columnOf struct{ kind, column string }

type itemOf struct{ kind, item string }

type rowOf struct {
	sheet string
	row   int
}

// of is what a hit is compared by; a cause may stand for several cells.
func (w where) of(h finding.Hit, cause bool) []any {
	switch w {
	case sameSheet:
		if h.Kind == "" {
			return nil
		}
		return []any{h.Kind}
	case sameRow:
		if h.Ref.Row == 0 {
			return nil
		}
		return []any{rowOf{h.Ref.Sheet, h.Ref.Row}}
	case sameColumn:
		return []any{columnOf{h.Kind, h.Column}}
	case sameItem:
		if h.Kind != "Tank" {
			return nil
		}
		places := []any{itemOf{h.Kind, h.Subject}}
		if h.Ref.IsCell() {
			places = append(places, h.Ref)
		}
		return places
	case sameValue:
		return []any{h.Subject}
	case wholeFile:
		return []any{nil}
	}
	places := []any{h.Ref}
	if cause {
		for _, r := range h.Related {
			places = append(places, r.Ref)
		}
	}
	return places
}
