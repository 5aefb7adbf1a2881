package assess

import (
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// work carries one evaluation from the cells to the interval.
type work struct {
	in       *inspection.Inspection
	plan     *floor.Plan
	set      *criteria.Set
	res      *Result
	plates   []plate
	byLabel  map[string]int // raw plate label to index, -1 for none
	patches  [][]int        // existing patches by the plates they may lie on
	patchAt  []floor.Footprint
	tied     [][]int // prove-ups by indication
	byPlace  []bool  // the indication has a tie by place
	loose    []int   // prove-ups tied to no counting indication
	values   []value // how each location's thickness came about, before pairs
	fits     []nominalFit
	lines    map[*sizing.Fit][]step.Input // a fit's constants, within its range
	formulas map[string]step.Formula
	floorAge unit.Maybe[unit.Years]
	older    unit.Years // what the floor's age is moved by, to see what it matters
	like     *work      // what this one varies: no steps are written, places and ties are those of the other
	room     *room      // memory of the variation before, nil for a first one
	states   []*state
	growth   *Growth        // against an earlier inspection, nil without one
	grownAt  map[int]*Grown // by location
	probesOf [][]probe      // UT prove-ups with a place, by plate
	alone    map[int]alone  // by location: what it was before it was joined
	zone     zoneRules
	lining   lining
	zoned    []Counted // readings in the critical zone or on the ring
	needs    []bool    // by location: needs repair at as-found rates
	repairs  []repair
	unknown  string // why no rate can be known on this floor, ""
	base     bases  // as-found rates

	extremeSteps step.List
}

// room is memory that one variation leaves to the next.
type room struct {
	places    []place
	locations []Location
	values    []value
	counted   []Counted
}

// plate is what is known of one plate before its locations are judged.
type plate struct {
	out      bool
	nominal  unit.Maybe[unit.Length]
	from     step.Input // the nominal with its cell
	age      unit.Maybe[unit.Years]
	median   unit.Maybe[unit.Length] // of its readings
	readings []int

	medianText string
	least      unit.Maybe[unit.Length] // least reading or sound thickness
	leastFrom  step.Input
	values     int // how many the least was taken from
	scanned    bool
	examined   unit.Maybe[unit.Percent]
	annular    bool
}

// nominalFit is the sizing line of one nominal thickness with pairs enough.
type nominalFit struct {
	nominal unit.Length
	fit     sizing.Fit
}

func (w *work) formula(src string) step.Formula {
	f, ok := w.formulas[src]
	if !ok {
		f = step.Parse(src)
		w.formulas[src] = f
	}
	return f
}

// plateOf finds a plate by its label as typed, -1 without one.
func (w *work) plateOf(label inspection.Label) int {
	if !label.OK() {
		return -1
	}
	if i, ok := w.byLabel[label.Value]; ok {
		return i
	}
	i, ok := w.byLabel[foldedKey(label.Value)]
	if !ok {
		i = -1
	}
	w.byLabel[label.Value] = i
	return i
}

// foldedKey cannot be typed into a cell, so folded and raw labels share a map.
func foldedKey(label string) string { return "\x00" + inspection.Fold(label) }

func (w *work) number(n criteria.Name) float64 { return w.set.Number(n) }

// Inputs of steps.

func cell[T ~float64](symbol, title string, f inspection.Field[T], k unit.Kind) step.Input {
	return step.Input{
		Symbol: symbol, Title: title, Value: float64(f.Value), Known: f.OK(), Kind: k,
		From: step.Source{Ref: f.Ref, Plain: f.Plain, Scale: f.Scale},
	}
}

// source is a length's cell.
func source(f inspection.Length) *step.Source {
	return &step.Source{Ref: f.Ref, Plain: f.Plain, Scale: f.Scale}
}

func dateCell(symbol, title string, f inspection.Date) step.Input {
	return step.Input{
		Symbol: symbol, Title: title, Value: float64(f.Value), Known: f.OK(), Kind: unit.DateKind,
		From: step.Source{Ref: f.Ref, Plain: f.Plain, Scale: f.Scale},
	}
}

// wordCell is 1 when a yes/no or word cell stands on the word, else 0.
func wordCell(symbol, title string, f inspection.Word, is bool) step.Input {
	in := step.Input{Symbol: symbol, Title: title, Known: true, Kind: unit.Number, From: step.Source{Ref: f.Ref}}
	if is {
		in.Value = 1
	}
	if !f.Ref.IsCell() {
		in.From = step.Source{Text: "not given"}
	}
	return in
}

func (w *work) criterion(symbol string, n criteria.Name) step.Input {
	d, _ := criteria.Find(n)
	v := w.set.Get(n)
	in := step.Input{Symbol: symbol, Title: string(n), Value: v.Number, Known: v.Set, Kind: d.Kind}
	if v.Given && v.Ref.IsCell() {
		in.From = step.Source{Ref: v.Ref, Plain: v.Plain, Scale: v.Scale}
	} else {
		in.From = step.Source{Text: "default"}
	}
	return in
}

func constant(symbol, title string, v float64, k unit.Kind, text string) step.Input {
	return step.Input{Symbol: symbol, Title: title, Value: v, Known: true, Kind: k, From: step.Source{Text: text}}
}

// as renames an input for a formula that needs another symbol.
func as(symbol string, in step.Input) step.Input {
	in.Symbol = symbol
	return in
}
