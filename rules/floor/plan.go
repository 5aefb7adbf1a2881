// Package floor is the geometry of a tank floor: plates placed from rows and
// positions, cut at the rim, plate ↔ plan coordinates, zones, seams and areas.
//
// Plan coordinates are millimetres, origin at the tank centre, x right, y up,
// seen from above.
package floor

import "platebook/rules/unit"

// Point is a place in plan, or in a plate's local frame; mm.
type Point struct{ X, Y float64 }

// Ring is a closed outline, anticlockwise, without repeating the first point.
// Arcs are drawn as short chords; areas are computed from the exact arcs.
type Ring []Point

// Shape is outlines with holes told apart by their turning sense (holes are
// clockwise). An empty Shape has no area.
type Shape []Ring

// Zone is where a location stands, as the requirement sees it.
type Zone string

// The zones. A location whose zone is unknown has the empty Zone.
const (
	General  Zone = "general"
	Critical Zone = "critical"
	Annular  Zone = "annular"
)

// Plate is one plate in plan. Plates are in the order of Inspection.Plates.
type Plate struct {
	Placed    bool // has a place in plan
	Automatic bool // placed from row and position
	Sector    bool // an annular segment
	Length    float64
	Width     float64
	Origin    Point   // plan position of the local origin
	Turned    float64 // degrees anticlockwise
	Start     float64 // annular: bearings, degrees, clockwise from Start to End
	End       float64
	Corner    string // datum corner
	Cut       Shape  // rectangle or sector within the rim, less sump openings
	Net       Shape  // Cut less its half of each lap
	CutArea   unit.Area
	NetArea   unit.Area // not counted into the floor for sump plates
	Label     Point     // a point well inside Cut, for the plate's number
	Sump      bool      // a sump plate: in no area sum, and may lack a place
	Sized     bool      // Length and Width are known
	Measured  bool      // CutArea and NetArea are known
	Why       string    // why it has no place, "" when it has one

	net []convex // Net in convex parts; where no ring lies around it, not cut at the rim
}

// Coverage is shares of the plates' net area.
type Coverage struct {
	MFL, Hand, UT, NotExamined unit.Maybe[unit.Percent] // all known or none
}

// Shares is MFL, hand, UT and not examined, in this order: the parts of what
// is printed side by side.
func (c Coverage) Shares() []float64 {
	return []float64{float64(c.MFL.V), float64(c.Hand.V), float64(c.UT.V), float64(c.NotExamined.V)}
}

// Plan is the whole floor.
type Plan struct {
	Radius    float64 // inside radius of the shell, 0 when Diameter is unknown
	Rim       float64 // radius the floor plates are cut at
	UpBearing float64
	Lap       float64
	Plates    []Plate
	Openings  []Opening
	FloorArea unit.Maybe[unit.Area]    // πR²
	PlateArea unit.Area                // sum of net areas
	Balance   unit.Maybe[unit.Percent] // 100·(ΣNet/floor − 1)
	Coverage  Coverage

	// OpeningArea is what sump openings cut out of the plates. It belongs to no
	// net area and counts as floor in the Balance.
	OpeningArea unit.Area
	// Seams are the welds between plates as strips.
	Seams []Seam
	// RimKnown is false without a Diameter, or with a ring of unknown width:
	// the plates then have no areas.
	RimKnown bool
	// NorthKnown is false when Plan up bearing is typed but unusable.
	NorthKnown bool

	rows       []row
	neighbours [][]int  // of each plate, filled when the seams are known
	seams      *Squares // where the seams run
	shell      *Plan    // with frames along the shell, once all is placed
}

// Opening is a sump opening or another fixture as drawn.
type Opening struct {
	Name   string
	Kind   string // sump, column, manway, nozzle, support, other
	At     Point
	Length float64 // along the plan axes
	Width  float64
	Round  bool
	Row    int  // index in Inspection.Fixtures
	Cuts   bool // a sump opening: cut out of the plates
}

// Box is an axis-parallel extent in a plate's local frame (u along the length,
// v across it), centred on a location.
type Box struct{ U1, V1, U2, V2 float64 }
