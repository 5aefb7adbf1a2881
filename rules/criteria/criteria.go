// Package criteria is the table of every threshold and policy that the
// calculation obeys, with defaults and sources, and the set in force for one
// workbook.
package criteria

import (
	"maps"

	"platebook/rules/finding"
	"platebook/rules/unit"
)

// Name is a criterion as the Criteria sheet spells it.
type Name string

// Mark says where a default comes from.
type Mark string

// The marks, as the Source column prints them.
const (
	Standard Mark = "API 653"
	Public   Mark = "public source"
	Practice Mark = "common practice, no source"
	Memory   Mark = "from memory, verify"
	Derived  Mark = "derived"
)

// Shape is what kind of value a criterion takes.
type Shape uint8

// The shapes.
const (
	Quantity Shape = iota // a number with a Kind
	Whole                 // a whole number
	Choice                // one of Words
	List                  // numbers or sizes divided by semicolons
)

// Definition is one row of the table.
type Definition struct {
	Name    Name
	Shape   Shape
	Kind    unit.Kind
	Words   []string // for a Choice, the first is not special
	SI, US  string   // defaults as typed in the sheet; "" is none
	Mark    Mark
	Clause  string
	Section int     // section of the method that uses it
	Low     float64 // legal range, stored units, both inclusive; for Quantity and Whole
	High    float64
	Help    string // one sentence: what it does
}

// Unit is the unit the Criteria sheet shows for the value.
func (d Definition) Unit(s unit.System) string {
	if d.Name == StockSheets {
		return unit.Size.Unit(s)
	}
	return d.Kind.Unit(s)
}

// Default is the default as typed, in the workbook's unit system.
func (d Definition) Default(s unit.System) string {
	if s == unit.US {
		return d.US
	}
	return d.SI
}

// Value is a criterion in force.
type Value struct {
	Number  float64 // stored units
	Numbers []float64
	Text    string      // a chosen word, or the list as typed
	Set     bool        // false: blank, no such limit
	Given   bool        // the sheet has a usable value of its own
	Changed bool        // differs from the default
	Ref     finding.Ref // the value's cell, when the row exists
	Plain   bool        // that cell holds a plain number, so a live formula can refer to it
	Scale   float64     // stored value per number in that cell, when Plain
	Note    string
}

// Set is the criteria in force.
type Set struct {
	System unit.System
	values map[Name]Value
}

// Defaults is the set of a workbook whose Criteria sheet is absent.
func Defaults(s unit.System) *Set {
	set := &Set{System: s, values: make(map[Name]Value, len(Table))}
	for _, d := range Table {
		v, err := d.Parse(s, d.Default(s))
		if err != nil {
			panic("criteria: default of " + string(d.Name) + ": " + err.Error())
		}
		set.values[d.Name] = v
	}
	return set
}

// Put replaces a criterion. The reader calls it with parsed values.
func (s *Set) Put(n Name, v Value) {
	if _, ok := s.values[n]; !ok {
		panic("criteria: unknown name " + string(n))
	}
	s.values[n] = v
}

// With is a copy of the set with one criterion replaced.
func (s *Set) With(n Name, v Value) *Set {
	out := &Set{System: s.System, values: maps.Clone(s.values)}
	out.Put(n, v)
	return out
}

// Get is the criterion in force.
func (s *Set) Get(n Name) Value {
	v, ok := s.values[n]
	if !ok {
		panic("criteria: unknown name " + string(n))
	}
	return v
}

// Number is the value in stored units; for one that must exist.
func (s *Set) Number(n Name) float64 { return s.Get(n).Number }

// Length is a criterion that is a length.
func (s *Set) Length(n Name) unit.Length { return unit.Length(s.Number(n)) }

// Years is a criterion that is a time.
func (s *Set) Years(n Name) unit.Years { return unit.Years(s.Number(n)) }

// Optional is the value, unknown when blank.
func (s *Set) Optional(n Name) unit.Maybe[unit.Ratio] {
	v := s.Get(n)
	return unit.Maybe[unit.Ratio]{V: unit.Ratio(v.Number), Known: v.Set}
}

// Is says whether a choice stands on the given word.
func (s *Set) Is(n Name, word string) bool { return s.Get(n).Text == word }

// Find is the definition of a name.
func Find(n Name) (Definition, bool) {
	for _, d := range Table {
		if d.Name == n {
			return d, true
		}
	}
	return Definition{}, false
}
