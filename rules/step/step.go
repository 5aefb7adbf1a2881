// Package step holds a calculation step as an object: symbol, formula, inputs
// with their sources, value, unit, clause, branch taken, limit and verdict.
// The result sheet, the report, JSON and explain all print the same step; none
// derives it again.
package step

import (
	"iter"
	"math"

	"platebook/rules/finding"
	"platebook/rules/unit"
)

// Step is one calculated value.
type Step struct {
	ID      string // stable: mrt.as_planned
	Title   string // minimum remaining thickness
	Symbol  string // MRT
	Formula Formula
	US      Formula // the same formula in inches, feet and psi where its constants differ; else empty
	Inputs  []Input
	Shared  []Input // inputs after these that many steps have in common; nobody writes to them
	Kind    unit.Kind
	Value   float64 // stored units
	Known   bool
	Why     string   // why the value is unknown
	Branch  string   // which branch of a rule was taken, and why
	Clause  string   // "4.4.5.1"
	Source  string   // document the clause belongs to
	Verify  []string // constants or rules that come from memory
	Limit   *Limit
}

// All lists the inputs by their number: the step's own, then those it shares.
func (s *Step) All() iter.Seq2[int, *Input] {
	return func(yield func(int, *Input) bool) {
		for i := range len(s.Inputs) + len(s.Shared) {
			if !yield(i, s.Input(i)) {
				return
			}
		}
	}
}

// Input is the input of a number.
func (s *Step) Input(i int) *Input {
	if own := len(s.Inputs); i >= own {
		return &s.Shared[i-own]
	}
	return &s.Inputs[i]
}

// Input is one number that enters a step.
type Input struct {
	Symbol string
	Title  string
	Value  float64   // stored units
	Values []float64 // a column of values instead, for min, max, sum and count
	Known  bool
	Kind   unit.Kind
	From   Source
}

// Source is where an input comes from: exactly one of a cell, another step, a
// column of results, or a text for a constant.
type Source struct {
	Ref    finding.Ref
	Plain  bool    // the cell holds a plain number, so a live formula can refer to it
	Scale  float64 // stored value per number in the cell
	Step   string  // id of another step
	Column string  // a column of the result sheets: "location.soil.as_found"
	Text   string  // "default", "Table 4.4", "last reading 3-4!H12"
}

// Limit is what a step's value is held against.
type Limit struct {
	Symbol string
	Value  float64
	Known  bool
	Op     string // "≥" or "≤"
	Tol    float64
	From   Source
}

// Tolerance is the slack of a kind, in stored units, within which a value at
// its limit passes.
//
// Source: derived (rounding of a double never decides a verdict).
func Tolerance(k unit.Kind) float64 {
	switch k {
	case unit.Share, unit.Points, unit.Time, unit.None, unit.Statistic:
		return 1e-9
	}
	return 1e-6
}

// AtLeast is value ≥ limit with the kind's tolerance.
func AtLeast(k unit.Kind, value, limit float64) bool { return value-limit >= -Tolerance(k) }

// AtMost is value ≤ limit with the kind's tolerance.
func AtMost(k unit.Kind, value, limit float64) bool { return limit-value >= -Tolerance(k) }

// New evaluates a formula over its inputs, in the units an SI workbook prints
// (metres for a Height, millimetres for a Thickness), which are the units its
// constants are written in. An unknown input leaves the step unknown and names
// the input. New panics on a symbol the formula uses and no input has: that is
// a mistake of the program.
func New(s Step) Step {
	vars := make(map[string]*Input, len(s.Inputs)+len(s.Shared))
	for _, in := range s.All() {
		vars[in.Symbol] = in
	}
	for _, name := range s.Formula.Symbols() {
		in, ok := vars[name]
		if !ok {
			panic("step: " + s.ID + " has no input " + name)
		}
		if !in.Known && s.Why == "" {
			s.Why = name + " is not known"
		}
	}
	if s.Why != "" {
		s.Value, s.Known = 0, false
		return s
	}
	v := s.Formula.Eval(func(name string) []float64 {
		in := vars[name]
		if in.Values == nil {
			return []float64{in.Kind.In(unit.SI, in.Value)}
		}
		if in.Kind.Factor(unit.SI) == 1 {
			return in.Values
		}
		out := make([]float64, len(in.Values))
		for i, v := range in.Values {
			out[i] = in.Kind.In(unit.SI, v)
		}
		return out
	}) * s.Kind.Factor(unit.SI)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		s.Why = "the formula gives no number"
		return s
	}
	s.Value, s.Known = v, true
	return s
}

// Unknown is the step without a value and the reason.
func Unknown(s Step, why string) Step {
	s.Value, s.Known, s.Why = 0, false, why
	return s
}

// OK says whether the value keeps its limit; known is false when there is no
// limit or a part is unknown.
func (s Step) OK() (ok, known bool) {
	if s.Limit == nil || !s.Known || !s.Limit.Known {
		return false, false
	}
	if s.Limit.Op == "≤" {
		return AtMost(s.Kind, s.Value, s.Limit.Value), true
	}
	return AtLeast(s.Kind, s.Value, s.Limit.Value), true
}

// Maybe is the value as an optional number.
func (s Step) Maybe() unit.Maybe[unit.Ratio] {
	return unit.Maybe[unit.Ratio]{V: unit.Ratio(s.Value), Known: s.Known}
}

// List is steps in the order they were calculated.
type List []Step

// Find is the step of an id, nil without one.
func (l List) Find(id string) *Step {
	for i := range l {
		if l[i].ID == id {
			return &l[i]
		}
	}
	return nil
}

// From makes an input of another step's value.
func From(s Step) Input {
	return Input{Symbol: s.Symbol, Title: s.Title, Value: s.Value, Known: s.Known, Kind: s.Kind, From: Source{Step: s.ID}}
}

// Constant is an input that stands in a standard or follows from units.
func Constant(symbol string, value float64, k unit.Kind, source string) Input {
	return Input{Symbol: symbol, Value: value, Known: true, Kind: k, From: Source{Text: source}}
}
