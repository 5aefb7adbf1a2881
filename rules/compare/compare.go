// Package compare sets two or more inspections of one floor side by side: which
// place is which, what grew, what is new, what was repaired, and how fast.
package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Survey is one inspection, read and evaluated by itself.
type Survey struct {
	In     *inspection.Inspection
	Plan   *floor.Plan
	Found  *assess.Result
	Errors int // findings that are errors, where the inspection was judged by itself
}

// Renamed is a plate's label then and now, where they differ.
type Renamed struct{ Old, New string }

// Class is what became of a place.
type Class string

// The classes, as JSON spells them. A pair without a class cannot be judged;
// its Why says so.
const (
	Grown     Class = "grown"
	Unchanged Class = "unchanged" // within the spread of two UT values
	Less      Class = "apparently less"
	New       Class = "new"
	Below     Class = "below previous threshold" // too shallow to have been reported last time
	Covered   Class = "newly covered"            // on metal that was not examined, or not there
	Gone      Class = "not found again"
	Unseen    Class = "not examined now"
	Repaired  Class = "repaired"
	NotJudged Class = ""
)

// Classes lists all that a place can have, in the order tables use.
var Classes = []Class{Grown, New, Unchanged, Less, Below, Covered, Gone, Unseen, Repaired, NotJudged}

// Words is the class as a table prints it.
func (c Class) Words() string {
	if c == NotJudged {
		return "not judged"
	}
	return string(c)
}

// Pair is one place in both inspections, or in one of them.
type Pair struct {
	Plate    int // index in the new Inspection.Plates, −1
	OldPlate int // index in the old one, −1
	Old      int // index in the old Result.Locations, −1
	New      int // index in the new one, −1
	Class    Class
	Why      string      // what decided, or why it cannot be judged
	At       floor.Point // in the new plate's frame, where it stands now or else stood
	Placed   bool
	Distance unit.Maybe[unit.Length]
	OldR     unit.Maybe[unit.Length] // thickness as compared: an estimate counts without allowance
	NewR     unit.Maybe[unit.Length]
	OldLoss  unit.Maybe[unit.Percent]
	NewLoss  unit.Maybe[unit.Percent]
	Delta    unit.Maybe[unit.Length] // OldR − NewR
	UT       bool                    // both measured by UT
	Growth   unit.Maybe[unit.Rate]   // of a pair by UT, or as adopted for a new pit
	From     unit.Maybe[unit.Length] // Growth = (From − To)/years
	To       unit.Maybe[unit.Length]
	Least    unit.Maybe[unit.Rate] // bounds of a new pit
	Most     unit.Maybe[unit.Rate]
	Points   unit.Maybe[unit.Percent] // trend of two scans, points a year
	joint    bool                     // now one value with the pit on the other side
}

// Near is an old and a new place that were not paired but may be one.
type Near struct {
	Old, New int
	Distance unit.Length
	Why      string
}

// Dated is one of the inspections.
type Dated struct {
	File            string
	SHA256          string
	End             unit.Date
	Units           unit.System
	Errors, LeftOut int
	Indications     int
	Examined        unit.Maybe[unit.Percent]
	SoilMin         unit.Maybe[unit.Length]
	ProductMin      unit.Maybe[unit.Length]
}

// SideGrowth is what was measured on one side, and whether it governs the rate.
type SideGrowth struct {
	Growth   unit.Maybe[unit.Rate] // greatest of grown and new
	Same     unit.Maybe[unit.Rate] // greatest of grown
	At       string                // row key of the greatest
	Class    Class                 // of the greatest
	LongTerm unit.Maybe[unit.Rate] // as found, without growth
	Used     unit.Maybe[unit.Rate] // as found, with growth
	Governs  string                // "growth", "long-term rate", "" when a rate is not known
	Why      string
}

// The rates that can govern, as JSON spells them.
const (
	ByGrowth   = "growth"
	ByLongTerm = "long-term rate"
)

// Refusal is why inspections cannot be compared.
type Refusal struct {
	Rule    string // T305; K104 where it is no fault of the new workbook
	Message string
	Do      string
	Related []finding.Related
}

// Question is a plate whose nominal thickness changed without new metal.
type Question struct {
	Plate    int
	Old, New unit.Length
}

// Copied is a column whose values equal the last inspection's at equal places.
type Copied struct {
	Sheet, Column string
	Equal, All    int
	Cells         []finding.Ref
}

// Result is the comparison of the last inspection with those before it.
type Result struct {
	Refused   []Refusal // not empty: nothing was compared
	Dates     []Dated   // in time order, the last is the new one
	Years     unit.Maybe[unit.Years]
	Spread    unit.Length // q, within which two UT values are the same
	Gate      unit.Length
	Position  Position
	Plates    []PlatePair
	Pairs     []Pair
	Near      []Near
	Count     map[Class]int
	Soil      SideGrowth
	Product   SideGrowth
	Growth    *assess.Growth
	Steps     step.List
	Trends    []Trend
	Missed    int // places not found at the last inspection, but before it
	Questions []Question
	Vanished  []int // pairs not found again that were deep
	Copied    []Copied
	Notes     []string // what a reader of the comparison has to know

	old Survey
}

// Old is the inspection the new one was compared with.
func (r *Result) Old() Survey { return r.old }

// work carries one comparison.
type work struct {
	res        *Result
	old, now   Survey
	end        unit.Date // of the old inspection
	set        *criteria.Set
	past       *criteria.Set
	olds       []spotAt
	news       []spotAt
	oldByLabel map[string]int // folded label → index in Result.Plates
	newByLabel map[string]int
	repaired   map[int]string // old location → why
	fresh      map[int]string // new location on metal that was not there → why
	aside      map[bool]*set  // by old: rows judged not relevant
	seen       map[*inspection.Inspection]map[string]bool
}

// Compare sets the last inspection against those before it. Growth is measured
// against the latest of them; the others give trends.
func Compare(earlier []Survey, now Survey, renamed []Renamed) *Result {
	r := &Result{Count: map[Class]int{}}
	sorted := slices.Clone(earlier)
	slices.SortStableFunc(sorted, func(a, b Survey) int {
		return int(a.In.Tank.InspectionEnd.Or(0)) - int(b.In.Tank.InspectionEnd.Or(0))
	})
	r.Soil.LongTerm, r.Product.LongTerm = now.Found.AsFound.SoilRate, now.Found.AsFound.ProductRate
	for _, s := range append(slices.Clone(sorted), now) {
		r.Dates = append(r.Dates, dated(s))
	}
	if r.refuse(sorted, now); len(r.Refused) > 0 || len(sorted) == 0 {
		return r
	}
	w := newWork(r, sorted[len(sorted)-1], now, renamed)
	w.pair()
	w.positions()
	w.copied()
	w.growth()
	w.notes(sorted)
	if len(sorted) > 1 {
		w.trends(sorted, renamed)
	}
	return r
}

func newWork(r *Result, old, now Survey, renamed []Renamed) *work {
	w := &work{res: r, old: old, now: now, end: old.In.Tank.InspectionEnd.Value, set: setOf(now.In), past: setOf(old.In)}
	r.old = old
	r.Years = unit.Some(now.In.Tank.InspectionEnd.Value.YearsSince(w.end))
	r.Gate = w.set.Length(criteria.MatchingGate)
	r.Spread = Spread(w.set.Length(criteria.UTTolerance))
	w.pairPlates(renamed)
	w.turnPlates()
	w.readSpots()
	return w
}

// Spread is how far two UT values of one place may differ without a change.
//
//	q = √2·UT tolerance
//
// UT tolerance, q in mm; any tolerance of 0 or more.
//
// Source: method section 13, from memory, verify; spread of a difference of two
// independent readings.
// Check: tolerance 0.5 → q 0.707107 (TestMethodExample).
func Spread(tolerance unit.Length) unit.Length { return unit.Length(math.Sqrt2) * tolerance }

func setOf(in *inspection.Inspection) *criteria.Set {
	if in.Criteria != nil {
		return in.Criteria
	}
	return criteria.Defaults(in.Units)
}

func dated(s Survey) Dated {
	d := Dated{
		File: s.In.File.Name, SHA256: s.In.File.SHA256, End: s.In.Tank.InspectionEnd.Or(0), Units: s.In.Units, Errors: s.Errors, LeftOut: leftOut(s.In),
		SoilMin: s.Found.AsFound.SoilMin, ProductMin: s.Found.AsFound.ProductMin,
	}
	for i := range s.Found.Locations {
		if l := &s.Found.Locations[i]; l.Kind == assess.IndicationAt && l.Verdict != assess.NotRelevant {
			d.Indications++
		}
	}
	if c := s.Plan.Coverage.NotExamined; c.Known {
		d.Examined = unit.Some(100 - c.V)
	}
	return d
}

// leftOut counts the rows with a thickness that an error took out.
func leftOut(in *inspection.Inspection) int {
	n := 0
	take := func(r *inspection.Row) {
		if r.Out {
			n++
		}
	}
	for i := range in.Indications {
		take(&in.Indications[i].Row)
	}
	for i := range in.ProveUps {
		take(&in.ProveUps[i].Row)
	}
	for i := range in.Readings {
		take(&in.Readings[i].Row)
	}
	for i := range in.Repairs {
		take(&in.Repairs[i].Row)
	}
	return n
}

// refuse finds what makes a comparison impossible: no dates, dates the wrong
// way round, the same inspection twice, another tank.
func (r *Result) refuse(earlier []Survey, now Survey) {
	end := now.In.Tank.InspectionEnd
	add := func(rule, do string, related []finding.Ref, format string, args ...any) {
		f := Refusal{Rule: rule, Do: do, Message: fmt.Sprintf(format, args...)}
		for _, ref := range related {
			if ref.IsCell() {
				f.Related = append(f.Related, finding.Related{Ref: ref})
			}
		}
		r.Refused = append(r.Refused, f)
	}
	if !end.OK() {
		add("K104", "", []finding.Ref{end.Ref}, "not compared: no Inspection end here")
		return
	}
	seen := map[string]bool{now.In.File.ValuesSHA256: now.In.File.ValuesSHA256 != ""}
	var last Survey
	for i, s := range earlier {
		name, then := s.In.File.Name, s.In.Tank.InspectionEnd
		values := s.In.File.ValuesSHA256
		switch {
		case values != "" && seen[values]:
			add("T305", "Give two different inspections.", nil, "%s is the same inspection as another one given", name)
		case !then.OK():
			add("K104", "Fill in Inspection end there, or measure again.", nil, "not compared: %s has no Inspection end", name)
		case then.Value >= end.Value:
			add("T305", "", []finding.Ref{end.Ref}, "NEW %s (%s) is not after OLD %s (%s)", now.In.File.Name, end.Value, name, then.Value)
		case i > 0 && last.In.Tank.InspectionEnd.Or(0) == then.Value:
			add("T305", "Give one inspection for each date.", nil, "%s and %s both end on %s", last.In.File.Name, name, then.Value)
		}
		seen[values], last = true, s
		d, o := now.In.Tank.Diameter, s.In.Tank.Diameter
		if d.OK() && o.OK() && math.Abs(float64(d.Value-o.Value)) > 0.01*float64(d.Value)+hair {
			add("T305", "Give inspections of one tank, or correct the Diameter.", []finding.Ref{d.Ref}, "diameter %s here, %s in %s: another tank",
				unit.Height.TextUnit(now.In.Units, float64(d.Value), 0), unit.Height.TextUnit(now.In.Units, float64(o.Value), 0), name)
		}
	}
}

// notes gathers what a reader of the comparison has to know of its inputs.
func (w *work) notes(earlier []Survey) {
	r := w.res
	add := func(format string, args ...any) { r.Notes = append(r.Notes, fmt.Sprintf(format, args...)) }
	now := w.now.In
	for _, s := range earlier {
		name := s.In.File.Name
		if a, b := tankName(s.In.Tank.Tank.Or("")), tankName(now.Tank.Tank.Or("")); a != "" && b != "" && a != b {
			add("%s names tank “%s”, this workbook “%s”: make sure that both are one tank.", name, s.In.Tank.Tank.Value, now.Tank.Tank.Value)
		}
		if a, b := s.In.Tank.Site.Or(""), now.Tank.Site.Or(""); a != "" && b != "" && inspection.Fold(a) != inspection.Fold(b) {
			add("%s names site “%s”, this workbook “%s”: make sure that both are one tank.", name, a, b)
		}
		if s.In.Units != now.Units {
			add("%s is in %s units; its values were converted exactly.", name, s.In.Units)
		}
		if n := leftOut(s.In); n > 0 {
			add("%s has %s; %s left out there and cannot be compared.", name, spelling.Count(s.Errors, "error", "errors"), spelling.Count(n, "row is", "rows are"))
		} else if s.Errors > 0 {
			add("%s has %s; no row is left out there.", name, spelling.Count(s.Errors, "error", "errors"))
		}
	}
	if t := now.Tank.FloorInstalled; t.OK() && t.Value > w.end {
		add("The floor was installed on %s, after the inspection of %s: plates without a date of their own are new metal.", t.Value, w.end)
	}
	replaced, renamed, fresh, lost := 0, 0, 0, 0
	for i := range r.Plates {
		switch p := &r.Plates[i]; {
		case p.Old < 0 && p.New >= 0:
			fresh++
		case p.New < 0:
			lost++
		case p.Replaced != "":
			replaced++
		case p.Renamed:
			renamed++
		}
	}
	if replaced > 0 {
		add("%s replaced since %s: what stood there counts as repaired, what stands there now as newly covered.", spelling.Count(replaced, "plate was", "plates were"), w.end)
	}
	if renamed > 0 {
		add("%s another label in the earlier inspection.", spelling.Count(renamed, "plate has", "plates have"))
	}
	if fresh > 0 {
		add("%s no counterpart in the earlier inspection; fill in Previous plate, or give a list of labels with --map.", spelling.Count(fresh, "plate has", "plates have"))
	}
	if lost > 0 {
		add("In the earlier inspection %s no counterpart now: what was found there was not looked for.", spelling.Count(lost, "plate has", "plates have"))
	}
	if n := r.unplaced(); n > 0 {
		add("%s no usable place and cannot be paired.", spelling.Count(n, "row has", "rows have"))
	}
	if q := len(r.Questions); q > 0 {
		add("On %s the nominal thickness changed without new metal: no growth is taken there.", spelling.Count(q, "plate", "plates"))
	}
	if p := &r.Position; p.Better() {
		add("The earlier plan fits better %s: %d pairs against %d as drawn. Nothing was turned; check view, north and datum before relying on the pairs.", p.Words(), p.Pairs, p.Identity)
	}
}

func (r *Result) unplaced() int {
	n := 0
	for i := range r.Pairs {
		if r.Pairs[i].Why == noPlace {
			n++
		}
	}
	return n
}

// tankName reduces a tank's name to what tells it from others: "Tank T-07" and
// "t7" are one.
func tankName(s string) string {
	s = inspection.Fold(strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r > 127 {
			return r
		}
		return ' '
	}, s))
	s = strings.TrimPrefix(s, "tank")
	for _, word := range []string{"tk", "t"} {
		if rest, ok := strings.CutPrefix(s, word); ok && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
			return inspection.Fold(rest)
		}
	}
	return s
}
