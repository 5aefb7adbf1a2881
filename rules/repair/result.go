// Package repair turns metal that will not last into repairs: it proposes
// patches and plates where nothing is planned, holds planned repairs against
// the rules for patches, cuts the pieces from stock sheets, and shows what each
// repair threshold costs.
package repair

import (
	"math"

	"platebook/rules/floor"
	"platebook/rules/nest"
	"platebook/rules/unit"
)

// Kind of repair, as the sheet Planned repairs spells it.
type Kind string

// The kinds.
const (
	Patch   Kind = "patch"
	BuildUp Kind = "weld build-up"
	Replace Kind = "replace plate"
	Line    Kind = "line"
)

// The shapes, as the sheet spells them.
const (
	Rounded   = "rounded rectangle"
	Circle    = "circle"
	Tombstone = "tombstone"
)

// Item is one repair, proposed or planned.
type Item struct {
	Label     string
	Kind      Kind
	Plate     int         // index in Inspection.Plates
	Box       floor.Box   // in the plate's frame
	Boxed     bool        // Box is known
	X, Y      unit.Length // centre, from the plate's datum corner; when Boxed
	Length    unit.Length // along the plate; a tombstone's along the shell
	Width     unit.Length // across it; a tombstone's inward from the shell
	Thickness unit.Maybe[unit.Length]
	Shape     string
	Zone      floor.Zone
	Locations []int    // indices in assess.Result.Locations that it takes out
	IDs       []string // their IDs, as typed
	Reasons   []string
	Checks    []Check
	Proposed  bool
	Completed bool
	Engineer  bool        // an engineer has to agree: critical zone, annular plate, or no shape that keeps the rules
	Row       int         // index in Inspection.Repairs, −1 for a proposal
	Weld      unit.Length // to the floor
	ShellWeld unit.Length // to the shell joint
	Mass      unit.Maybe[unit.Mass]

	unsettled bool
	frame     int       // frame of own: the plate's, or one along the shell
	own       floor.Box // the repair in that frame
	off       float64   // from the shell, as X and Y put a tombstone that is taken to stand at it
	beside    []int     // the plates it may have to do with, once asked for
}

// Failed says whether a check fails.
func (i *Item) Failed() bool {
	for _, c := range i.Checks {
		if c.Known && !c.OK {
			return true
		}
	}
	return false
}

// Unsettled says whether no size kept a proposed patch clear of the welds
// around it.
func (i *Item) Unsettled() bool { return i.unsettled }

// Footprint is where a repair lies; false without a place.
func (r *Result) Footprint(i *Item) (floor.Footprint, bool) {
	if !i.Boxed || r.shop == nil {
		return floor.Footprint{}, false
	}
	return r.shop.footprint(i), true
}

// footprint is where a repair with a place lies.
func (s *shop) footprint(i *Item) floor.Footprint {
	return floor.Footprint{Plan: s.plan, Plate: i.Plate, Frame: i.frame, Box: i.own, Round: i.Shape == Circle, Off: i.off}
}

// Check is one rule a repair is held against.
type Check struct {
	ID     string
	OK     bool
	Known  bool // false: not checked, Note says why
	Value  unit.Maybe[unit.Length]
	Limit  unit.Maybe[unit.Length]
	Kind   unit.Kind
	Op     string // "≥" or "≤"
	Clause string
	Source string
	Verify bool // from memory
	Note   string
}

// Text is a check's outcome as a finding or table prints it: value and limit, or
// the reason.
func (c Check) Text(s unit.System) string {
	if !c.Known {
		return "not checked: " + c.Note
	}
	text := c.Note
	if c.Value.Known && c.Limit.Known {
		extra := 0
		apart := math.Abs(float64(c.Value.V-c.Limit.V)) > 1e-9 // else it fails for what the note says
		for !c.OK && apart && extra < 6 && c.Kind.Text(s, float64(c.Value.V), extra) == c.Kind.Text(s, float64(c.Limit.V), extra) {
			extra++ // a fail must not read as equal
		}
		text = c.Kind.Text(s, float64(c.Value.V), extra) + ", limit " + c.Kind.TextUnit(s, float64(c.Limit.V), extra)
		if c.Note != "" {
			text += ", " + c.Note
		}
	}
	if text == "" && c.OK {
		text = "kept"
	}
	if text == "" {
		text = "not kept"
	}
	return text
}

// Status is planned, completed or proposed, as a list prints it.
func (i *Item) Status() string {
	switch {
	case i.Completed:
		return "completed"
	case i.Proposed && i.Engineer:
		return "proposed, engineer to agree"
	case i.Proposed:
		return "proposed"
	}
	return "planned"
}

// Failures are the checks that fail, with value and limit.
func (i *Item) Failures(s unit.System) []string {
	var out []string
	for _, c := range i.Checks {
		if c.Known && !c.OK {
			out = append(out, c.ID+" "+c.Text(s))
		}
	}
	return out
}

// Piece is a part to cut.
type Piece struct {
	Item   int // index in Result.Items
	Mark   string
	Length unit.Length
	Width  unit.Length
	Radius unit.Length // of the corners, 0 for a circle
}

// Sheets is the pieces of one thickness on stock sheets.
type Sheets struct {
	Thickness unit.Length
	Pieces    []Piece
	Layout    *nest.Layout // nil when no stock sheet can be used
	Why       string       // why there is no layout
}

// Place is where a piece lies: its sheet among those of its thickness, −1
// without one, and its near corner on it, mm.
type Place struct {
	Sheet  int
	X, Y   float64
	Turned bool
}

// Places are where the pieces lie, in their order.
func (g *Sheets) Places() []Place {
	out := make([]Place, len(g.Pieces))
	for i := range out {
		out[i].Sheet = -1
	}
	if g.Layout == nil {
		return out
	}
	for n, s := range g.Layout.Sheets {
		for _, p := range s.Pieces {
			out[p.Piece] = Place{n, p.X, p.Y, p.Turned}
		}
	}
	return out
}

// Separate is a part that is ordered by itself: a replacement plate, or a piece
// that fits no stock sheet.
type Separate struct {
	Item int
	Why  string
}

// Cutting is the cutting list.
type Cutting struct {
	Groups   []Sheets // by thickness
	Separate []Separate
	Unknown  []int // items of unknown thickness or size
}

// Pieces, sheets, bounds and areas over all thicknesses. A piece that fits no
// sheet, or that has none to be cut from, is a piece all the same.
func (c *Cutting) totals() (pieces, sheets, area, dual int, used, stock float64) {
	for _, g := range c.Groups {
		pieces += len(g.Pieces)
		if g.Layout == nil {
			continue
		}
		sheets += len(g.Layout.Sheets)
		area += g.Layout.BoundArea
		dual += g.Layout.BoundDual
		for _, s := range g.Layout.Sheets {
			stock += s.Size.Length * s.Size.Width
			for _, p := range s.Pieces {
				used += p.Length * p.Width
			}
		}
	}
	return pieces, sheets, area, dual, used, stock
}

// Level is one repair threshold and what it costs.
type Level struct {
	Below    unit.Length
	Repairs  int
	Plates   int
	Area     unit.Area
	Mass     unit.Mass
	Sheets   int
	Interval unit.Maybe[unit.Years] // adopted
	Uncapped unit.Maybe[unit.Years]
	AtLeast  unit.Maybe[unit.Years] // closed form, section 6 apart
}

// Result is the repairs of a floor.
type Result struct {
	Items     []Item // in crew order: by plate, then along it
	Proposed  bool
	Unplaced  []int // locations that need repair and have no place to put one
	Cutting   Cutting
	Pieces    int // to cut or to order: blanks of patches not completed
	Sheets    int
	BoundArea int
	BoundDual int
	Yield     unit.Maybe[unit.Percent]
	Area      unit.Area // union
	Weld      unit.Length
	Vacuum    unit.Length             // weld to be tested by vacuum box
	ShellWeld unit.Length             // weld to the shell joint: magnetic particles or penetrant
	Mass      unit.Maybe[unit.Mass]   // of the pieces' blanks
	PlateMass unit.Maybe[unit.Mass]   // of replacement plates
	Plates    int                     // plates with a repair
	levels    func() []Level          // the table of thresholds, worked out when first asked for
	Needed    unit.Maybe[unit.Length] // threshold the target interval needs
	Target    unit.Years

	shop *shop
}

// Item is the repair of a label, nil without one.
func (r *Result) Item(label string) *Item {
	for i := range r.Items {
		if r.Items[i].Label == label {
			return &r.Items[i]
		}
	}
	return nil
}

// Thresholds is what each repair threshold costs and gives, worked out when
// first asked for: checks do not need it.
func (r *Result) Thresholds() []Level {
	if r.levels == nil {
		return nil
	}
	return r.levels()
}
