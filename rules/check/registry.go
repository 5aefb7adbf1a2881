// Package check holds one registry of every rule that judges a workbook, and
// the checks that need nothing but the inspection: its values, its rows and
// sheets against each other, the floor as a whole, the calculation and the
// quality record.
package check

import (
	"fmt"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// Class is how much a rule stops.
type Class uint8

// The classes.
const (
	Note    Class = iota // N
	Warning              // W
	Error                // E
	Fatal                // E!: the file cannot be used at all
	Signed               // E°: an error in a final report, a note before
)

func (c Class) String() string {
	return [...]string{"note", "warning", "error", "error: the file cannot be used", "error in a final report, else a note"}[c]
}

// Severity is the severity in a report of the given status.
func (c Class) Severity(final bool) finding.Severity {
	switch c {
	case Warning:
		return finding.Warning
	case Error:
		return finding.Error
	case Fatal:
		return finding.Fatal
	case Signed:
		if final {
			return finding.Error
		}
	}
	return finding.Note
}

// Per says what one finding of a rule stands for; it shapes the key.
type Per uint8

// What a finding stands for.
const (
	PerCell Per = iota
	PerRow
	PerPair
	PerValue
	PerColumn
	PerSheet
	PerFile
)

func (p Per) String() string {
	return [...]string{"cell", "row", "pair of rows", "value", "column", "sheet", "file"}[p]
}

// Rule is one rule, as explain and the manual print it.
type Rule struct {
	Code   string
	Title  string
	Class  Class
	Per    Per
	What   string // when it is wrong
	Why    string
	Before string // a workbook that breaks it
	After  string // the same, put right
	Do     string
	Source string
	Since  string // version of the rule set that brought it
}

const (
	practice = "common practice, no source"
	derived  = "derived"
	first    = "1"
)

// All is every rule, by family and number.
func All() []Rule { return registry }

var registry = func() []Rule {
	var all []Rule
	for _, family := range [][]Rule{
		fileRules, structureRules, cellRules,
		labelRules, placeRules, thicknessRules, coverageRules,
		floorRules, calculationRules, recordRules,
	} {
		all = append(all, family...)
	}
	for i := range all {
		if all[i].Since == "" {
			all[i].Since = first
		}
		if all[i].Source == "" {
			all[i].Source = practice
		}
	}
	return all
}()

var byCode = func() map[string]*Rule {
	m := make(map[string]*Rule, len(registry))
	for i := range registry {
		if m[registry[i].Code] != nil {
			panic("check: rule " + registry[i].Code + " stands twice")
		}
		m[registry[i].Code] = &registry[i]
	}
	return m
}()

// Find is the rule of a code, in any case; false without one.
func Find(code string) (Rule, bool) {
	r, ok := byCode[strings.ToUpper(strings.TrimSpace(code))]
	if !ok {
		return Rule{}, false
	}
	return *r, true
}

// Explain is the text of one rule for a person, "" for an unknown code.
func Explain(code string) string {
	r, ok := Find(code)
	if !ok {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s  %s\n\n", r.Code, r.Title)
	fmt.Fprintf(&b, "Severity: %s\n", r.Class)
	fmt.Fprintf(&b, "One finding per %s.\n\n", r.Per)
	for _, part := range []struct{ head, text string }{
		{"Wrong when", r.What},
		{"Why", r.Why},
		{"Before", r.Before},
		{"After", r.After},
		{"Do", r.Do},
		{"Source", r.Source},
		{"Since", "rule set " + r.Since},
	} {
		if part.text != "" {
			fmt.Fprintf(&b, "%s: %s\n", part.head, part.text)
		}
	}
	return b.String()
}

// Final says whether the report is to be final, so that what a final report
// needs becomes an error.
func Final(in *inspection.Inspection) bool {
	return inspection.Is(in.Tank.ReportStatus, "final")
}
