package check

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// people holds names and certificates against Crew (Q101 to Q103).
func (j *judge) people(works []work) {
	if len(j.in.Crew) == 0 {
		return
	}
	crew := make(map[string][]*inspection.Person)
	var names []string
	for i := range j.in.Crew {
		p := &j.in.Crew[i]
		if !p.Name.OK() {
			continue
		}
		f := inspection.Fold(p.Name.Value)
		if crew[f] == nil {
			names = append(names, p.Name.Value)
		}
		crew[f] = append(crew[f], p)
	}
	t := &j.in.Tank
	date := t.InspectorDate
	all := append([]work{{
		kind: "Tank", row: &inspection.Row{Sheet: t.ResponsibleInspector.Ref.Sheet, Number: t.ResponsibleInspector.Ref.Row, Key: "Responsible inspector"},
		key: t.ResponsibleInspector.Ref, column: "Responsible inspector", by: &t.ResponsibleInspector,
		methods: []string{"inspector"}, shown: "inspector", date: &date,
	}}, works...)

	type group struct{ kind, name, method string }
	hits := make(map[group]*finding.Hit)
	rows := make(map[group]int)
	var order []group
	put := func(rule string, w work, name, method, message string, refs ...finding.Ref) {
		g := group{w.kind, rule + inspection.Fold(name), method}
		rows[g]++
		if h, ok := hits[g]; ok {
			h.Related = append(h.Related, see("", w.by.Ref)...)
			return
		}
		h := onRow(rule, w.kind, w.row, w.by.Ref, w.key, w.by.Text, "%s", message)
		h.Subject, h.Column = name, w.column
		h.Related = see("certificate", refs...)
		hits[g] = &h
		order = append(order, g)
	}
	for _, w := range all {
		if !w.by.OK() {
			continue
		}
		for _, name := range persons(w.by.Value, crew) {
			rowsOf := crew[inspection.Fold(name)]
			if rowsOf == nil {
				question := ""
				if near := closestName(name, names); near != "" {
					question = "; " + near + "?"
				}
				put("Q101", w, name, "", fmt.Sprintf("“%s” is not on Crew%s", name, question))
				continue
			}
			if len(w.methods) == 0 {
				continue
			}
			certificate, state, until := held(rowsOf, w.methods, j.day(w.date))
			switch state {
			case noCertificate:
				put("Q102", w, name, w.shown, fmt.Sprintf("%s has no certificate for %s", name, w.shown), certificate.Name.Ref)
			case expired:
				put("Q103", w, name, w.shown, fmt.Sprintf("%s: certificate for %s valid until %s, work %s", name, w.shown, until, j.day(w.date)), certificate.ValidUntil.Ref)
			}
		}
	}
	for _, g := range order {
		h := hits[g]
		if h.Rule == "Q102" && rows[g] > 1 {
			h.Message += fmt.Sprintf(" (%d rows)", rows[g])
		}
		j.put(*h)
	}
}

type holding uint8

const (
	valid holding = iota
	noCertificate
	expired
)

// held says whether a person had a certificate of one of the methods on a day.
// One whose date is in error or unknown is not held against the person.
func held(rows []*inspection.Person, methods []string, day unit.Date) (*inspection.Person, holding, unit.Date) {
	var last *inspection.Person
	for _, p := range rows {
		if p.Method.State == inspection.Wrong {
			return p, valid, 0
		}
		if !slices.Contains(methods, p.Method.Value) {
			continue
		}
		if day == 0 || !p.ValidUntil.OK() || day <= p.ValidUntil.Value {
			return p, valid, 0
		}
		if last == nil || p.ValidUntil.Value > last.ValidUntil.Value {
			last = p
		}
	}
	if last == nil {
		return rows[0], noCertificate, 0
	}
	return last, expired, last.ValidUntil.Value
}

// persons is the people a cell names: one, or several divided when the whole
// is no one's name.
func persons(text string, crew map[string][]*inspection.Person) []string {
	text = strings.TrimSpace(text)
	if crew[inspection.Fold(text)] != nil {
		return []string{text}
	}
	parts := strings.FieldsFunc(strings.ReplaceAll(text, " and ", ";"), func(r rune) bool { return strings.ContainsRune(";/&+,", r) })
	var names []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			names = append(names, p)
		}
	}
	if len(names) > 1 && slices.ContainsFunc(names, func(n string) bool { return crew[inspection.Fold(n)] != nil }) {
		return names
	}
	return []string{text}
}

// closestName is the one person within two edits.
func closestName(name string, known []string) string {
	found := ""
	for _, k := range known {
		if spelling.Edits(name, k, 2) <= 2 {
			if found != "" {
				return ""
			}
			found = k
		}
	}
	return found
}

// notRecorded says which parts of the record are empty (Q104).
func (j *judge) notRecorded() {
	for _, s := range []struct {
		kind string
		rows int
	}{{"Crew", len(j.in.Crew)}, {"Instruments", len(j.in.Instruments)}, {"Checks", len(j.in.Checks)}} {
		if s.rows > 0 {
			continue
		}
		h := finding.Hit{Rule: "Q104", Kind: s.kind, Message: strings.ToLower(s.kind) + " not recorded"}
		if sheet := j.in.Sheet(s.kind); sheet != nil {
			h.Ref = finding.Ref{Sheet: sheet.Name}
		}
		j.put(h)
	}
}
