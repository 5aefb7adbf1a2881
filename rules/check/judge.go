package check

import (
	"fmt"
	"math"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// judge gathers hits over one inspection.
type judge struct {
	in         *inspection.Inspection
	plan       *floor.Plan
	plates     map[string][]int // by folded label, in sheet order
	named      map[string]int   // the same by the label as typed, as far as asked for
	hits       []finding.Hit
	told       map[string]bool      // pairs already reported as entered twice
	ids        map[string][]int     // indications by folded ID, in sheet order
	off        []broken             // links that do not hold
	unsure     bool                 // a plate's size or place is in error
	shifted    map[int]bool         // plates of rows in which one is missing: not where they seem
	sizesWrong bool                 // the plates' sizes are in doubt as a whole
	undated    map[finding.Ref]bool // dates in error, which say nothing of their day
	column     []measured           // room for one column at a time
}

func newJudge(in *inspection.Inspection, plan *floor.Plan) *judge {
	j := &judge{in: in, plan: plan, plates: make(map[string][]int, len(in.Plates)), told: make(map[string]bool), undated: make(map[finding.Ref]bool), named: make(map[string]int), shifted: make(map[int]bool)}
	for i := range in.Plates {
		if p := &in.Plates[i]; p.Label.OK() {
			f := inspection.Fold(p.Label.Value)
			j.plates[f] = append(j.plates[f], i)
		}
	}
	j.ids = make(map[string][]int, len(in.Indications))
	for i := range in.Indications {
		if id := &in.Indications[i].ID; id.OK() {
			f := inspection.Fold(id.Value)
			j.ids[f] = append(j.ids[f], i)
		}
	}
	return j
}

func (j *judge) put(h finding.Hit) { j.hits = append(j.hits, h) }

// onRow is a hit about a row, its place the deciding cell or else the key cell.
func onRow(rule, kind string, r *inspection.Row, at, key finding.Ref, value, format string, args ...any) finding.Hit {
	if !at.IsCell() {
		at = key
	}
	if !at.IsCell() {
		at = finding.Ref{Sheet: r.Sheet, Col: 1, Row: r.Number}
	}
	return finding.Hit{
		Rule: rule, Kind: kind, Ref: at, Subject: r.Key, Row: r.Key, Value: value,
		Message: fmt.Sprintf(format, args...),
	}
}

// onCell is a hit about one cell of a row.
func onCell(rule, kind string, r *inspection.Row, column string, at finding.Ref, value, format string, args ...any) finding.Hit {
	h := onRow(rule, kind, r, at, at, value, format, args...)
	h.Column = column
	return h
}

// onItem is a hit about a Tank item.
func (j *judge) onItem(rule, item string, at finding.Ref, value, format string, args ...any) finding.Hit {
	if !at.IsCell() {
		at = finding.Ref{Sheet: j.sheetName("Tank")}
	}
	return finding.Hit{
		Rule: rule, Kind: "Tank", Ref: at, Subject: item, Column: item, Row: item, Value: value,
		Message: fmt.Sprintf(format, args...),
	}
}

// itemOr is the cell of a Tank item that is missing something, or of the item
// that asks for it where the sheet has no such row.
func itemOr(item, asks finding.Ref) finding.Ref {
	if item.IsCell() {
		return item
	}
	return asks
}

// onPlate is a hit about a plate, on its row of Plates.
func (j *judge) onPlate(rule string, plate int, value, format string, args ...any) finding.Hit {
	p := &j.in.Plates[plate]
	h := onRow(rule, "Plates", &p.Row, p.Label.Ref, p.Label.Ref, value, format, args...)
	h.Subject, h.Row = p.Label.Value, p.Label.Value
	return h
}

func (j *judge) sheetName(kind string) string {
	if s := j.in.Sheet(kind); s != nil {
		return s.Name
	}
	return kind
}

// plate is the index of the plate a label names: -1 when it names none, or
// when two plates bear the label.
func (j *judge) plate(label inspection.Label) int {
	if !label.OK() {
		return -1
	}
	if i, ok := j.named[label.Value]; ok {
		return i
	}
	i := -1
	if at := j.plates[inspection.Fold(label.Value)]; len(at) == 1 {
		i = at[0]
	}
	j.named[label.Value] = i
	return i
}

// nominal is a plate's thickness as delivered: its own, the ring's for an
// annular plate, else the floor's; 0 when unknown.
func (j *judge) nominal(plate int) unit.Length {
	if plate < 0 {
		return 0
	}
	p := &j.in.Plates[plate]
	switch {
	case p.Nominal.OK():
		return p.Nominal.Value
	case p.Nominal.State == inspection.Wrong:
		return 0
	case inspection.Is(p.Type, "annular"):
		return j.in.Tank.AnnularNominal.Or(0)
	}
	return j.in.Tank.NominalThickness.Or(0)
}

// nominalRef is the cell the nominal thickness of a plate came from.
func (j *judge) nominalRef(plate int) finding.Ref {
	p := &j.in.Plates[plate]
	switch {
	case p.Nominal.OK():
		return p.Nominal.Ref
	case inspection.Is(p.Type, "annular"):
		return j.in.Tank.AnnularNominal.Ref
	}
	return j.in.Tank.NominalThickness.Ref
}

// see makes related places of cells; places that are no cell are left out.
func see(text string, refs ...finding.Ref) []finding.Related {
	var out []finding.Related
	for _, r := range refs {
		if r.IsCell() {
			out = append(out, finding.Related{Ref: r, Text: text})
		}
	}
	return out
}

// The printing of numbers: in the workbook's system, no more decimals than
// usual for the kind, no trailing zeros.

func (j *judge) bare(k unit.Kind, v float64) string {
	t := k.Text(j.in.Units, v, 0)
	if strings.Contains(t, ".") && k != unit.Thickness {
		t = strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
	}
	return t
}

func (j *judge) text(k unit.Kind, v float64) string {
	t, u := j.bare(k, v), k.Unit(j.in.Units)
	if u == "" || u == "°" {
		return t + u
	}
	return t + " " + u
}

func (j *judge) thick(v unit.Length) string { return j.text(unit.Thickness, float64(v)) }
func (j *judge) place(v float64) string     { return j.text(unit.Position, v) }
func (j *judge) size(v float64) string      { return j.text(unit.Size, v) }

// percent prints a share without needless zeros: 52 %, 12.5 %.
func percent(v float64) string { return short(v, 1) + " %" }

func short(v float64, decimals int) string {
	t := unit.Round(v, decimals)
	if strings.Contains(t, ".") {
		t = strings.TrimSuffix(strings.TrimRight(t, "0"), ".")
	}
	return t
}

func signed(v float64, decimals int) string {
	t := short(math.Abs(v), decimals)
	switch {
	case t == "0":
		return t
	case v < 0:
		return "−" + t
	}
	return "+" + t
}

// atMost passes a value at its limit: measured lengths are compared with a
// millionth of a millimetre to spare, so that a limit met exactly is met.
func atMost(v, limit float64) bool { return v <= limit+1e-6 }
