// Package assess is the evaluation of a tank floor: remaining thickness by
// place and side, corrosion rates, minimum remaining thickness, interval and
// its limits, critical zone and annular ring.
package assess

import (
	"math"
	"slices"

	"platebook/rules/extreme"
	"platebook/rules/floor"
	"platebook/rules/sizing"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Side of the floor a location stands on. Unknown counts as both.
type Side uint8

// The sides.
const (
	Product Side = iota
	Soil
	Unknown // typed as unknown, wrong or blank: counts as both
	Both    // sound metal, patches: the metal itself
)

func (s Side) String() string { return [...]string{"product", "soil", "unknown", "both"}[s] }

// OnSoil says whether the location counts on the soil side.
func (s Side) OnSoil() bool { return s != Product }

// OnProduct says whether the location counts on the product side.
func (s Side) OnProduct() bool { return s != Soil }

// Kind says what a location is.
type Kind uint8

// The kinds, (a) to (f) of the method.
const (
	IndicationAt Kind = iota // (a)
	ProveUpAt                // (b) a prove-up tied to no indication
	SoundMetal               // (c) a plate's sound metal
	ThresholdAt              // (d) what the scan may have missed on a plate
	PatchAt                  // (e) an existing patch
	ExtremeAt                // (f) extreme-value estimate
)

// Basis says which value of a location counts.
type Basis string

// The bases, as JSON spells them.
const (
	ByUT        Basis = "UT"
	ByPitGauge  Basis = "pit gauge"
	ByMFL       Basis = "MFL estimate"
	ByAllowance Basis = "MFL estimate minus allowance"
	ByReading   Basis = "reading"
	ByNominal   Basis = "nominal"
	ByThreshold Basis = "threshold"
	ByPatch     Basis = "patch"
	ByExtreme   Basis = "extreme value"
)

// Verdict on a location.
type Verdict string

// The verdicts, as JSON spells them.
const (
	Leave       Verdict = "leave"
	Repair      Verdict = "repair"       // fails at the end of the interval
	RepairFirst Verdict = "repair first" // below the requirement now
	Engineering Verdict = "engineering"
	Repaired    Verdict = "repaired"
	Excluded    Verdict = "excluded"
	NotRelevant Verdict = "not relevant"
)

// Location is one place whose thickness counts.
type Location struct {
	Kind        Kind
	Label       string // row key, "3-4/17"; the plate for sound metal and threshold
	Plate       int    // index in Inspection.Plates, -1 without one
	Indication  int    // index in Inspection.Indications, -1
	ProveUp     int    // index of the prove-up that decides, -1
	Tied        []int  // all prove-ups tied to it
	TiedByPlace bool   // a tie came from the position, not from the Indication column
	Patch       int    // index in Inspection.Patches, -1
	Side        Side
	Zone        floor.Zone
	Box         floor.Box // in the plate's frame
	At          floor.Point
	Placed      bool // At, Bearing, Radius are known
	Bearing     float64
	Radius      float64
	Nominal     unit.Maybe[unit.Length]
	Sound       unit.Maybe[unit.Length] // t_s
	T0          unit.Maybe[unit.Length] // original thickness for the rate
	Age         unit.Maybe[unit.Years]
	Loss        unit.Maybe[unit.Percent] // as estimated or measured, without allowance
	Remaining   unit.Maybe[unit.Length]
	Basis       Basis
	Allowance   unit.Maybe[unit.Percent] // points taken off an unproved estimate
	Step        step.Step                // how Remaining came about, down to the cells
	Over        int                      // location on the opposite side under the same box, -1
	Alone       *step.Step               // how it would stand without that one, nil unless joined
	AloneT0     unit.Maybe[unit.Length]  // and its original thickness
	Isolated    bool                     // Kind pit
	NoRate      bool                     // mechanical damage, patches: counts in minima, not in rates
	Hole        bool                     // goes through by its own value, not by the allowance alone
	Counts      bool                     // false: excluded or not relevant, or no value
	SoilRate    unit.Maybe[unit.Rate]
	ProductRate unit.Maybe[unit.Rate]
	Required    unit.Maybe[unit.Length] // largest of the general and its zone's requirement
	Margin      unit.Maybe[unit.Length] // Remaining − Required, now
	Verdict     Verdict
	Repair      string // repair that takes it out as planned, ""
	Completed   bool   // that repair is completed
}

// State is the floor before or after repair.
type State uint8

// The states.
const (
	AsFound State = iota
	AsPlanned
	AsCompleted
)

// States lists all, in order; the string is the JSON member and step suffix.
var States = []State{AsFound, AsPlanned, AsCompleted}

func (s State) String() string { return [...]string{"as_found", "as_planned", "as_completed"}[s] }

// Words is the state as a report prints it.
func (s State) Words() string { return [...]string{"as found", "as planned", "as completed"}[s] }

// At is the location with a label and a value, nil without one: a plate's sound
// metal and what the scan may have missed on it have one label.
func (r *Result) At(label string, v unit.Maybe[unit.Length]) *Location {
	const same = 1e-9 // mm
	var missed *Location
	for i := range r.Locations {
		l := &r.Locations[i]
		if l.Label != label || !l.Remaining.Known || !v.Known || math.Abs(float64(l.Remaining.V-v.V)) > same {
			continue
		}
		if l.Kind != ThresholdAt {
			return l
		}
		missed = l
	}
	return missed
}

// Estimated says whether the thickness is what a scan estimates: nobody
// measured it.
func (l *Location) Estimated() bool { return l.Basis == ByMFL || l.Basis == ByAllowance }

// Proposes says whether the program proposes a repair: the workbook plans none,
// and something needs one.
func (r *Result) Proposes() bool {
	return r.Proposed && slices.ContainsFunc(r.Locations, func(l Location) bool { return l.Repair != "" })
}

// StateWords names a state for a reader: what is planned is the program's
// proposal where the workbook plans nothing.
func (r *Result) StateWords(s State) string {
	switch {
	case s != AsPlanned || !r.Proposed:
		return s.Words()
	case !r.Proposes():
		return "with no repair proposed"
	}
	return "if the proposal is carried out"
}

// Governor says what limits the interval.
type Governor string

// The governors, in the order that decides ties.
const (
	GovRepairFirst  Governor = "repair_first"
	GovCritical     Governor = "critical_zone"
	GovAnnular      Governor = "annular"
	GovCorrosion    Governor = "corrosion"
	GovLining       Governor = "lining"
	GovCapInitial   Governor = "cap_initial"
	GovCapRate      Governor = "cap_rate"
	GovCapUnknown   Governor = "cap_unknown_rate"
	GovJurisdiction Governor = "jurisdiction"
	GovOwner        Governor = "owner"
)

// governors in words, for “governed by …”.
var governors = map[Governor]string{
	GovRepairFirst:  "repair before return to service",
	GovCritical:     "corrosion in the critical zone",
	GovAnnular:      "corrosion of the annular ring",
	GovCorrosion:    "corrosion of the floor",
	GovLining:       "the remaining life of the lining",
	GovCapInitial:   "the limit on an initial interval",
	GovCapRate:      "the limit on a subsequent interval",
	GovCapUnknown:   "the limit where the corrosion rate is not known",
	GovJurisdiction: "the jurisdiction's limit",
	GovOwner:        "the owner's limit",
}

// Words is the governor as everything that people read prints it, for
// “governed by …”; JSON has its code. Nothing without a governor.
func (g Governor) Words() string { return governors[g] }

// StateResult is the evaluation of one state.
type StateResult struct {
	State            State
	SoilMin          unit.Maybe[unit.Length]
	SoilMinAt        string
	ProductMin       unit.Maybe[unit.Length]
	ProductMinAt     string
	SoilRate         unit.Maybe[unit.Rate] // UPr
	ProductRate      unit.Maybe[unit.Rate] // StPr
	MRT              unit.Maybe[unit.Length]
	MRTYears         unit.Maybe[unit.Years]
	Required         unit.Maybe[unit.Length] // t_req used at MRTYears
	Interval         unit.Maybe[unit.Years]  // adopted
	IntervalUncapped unit.Maybe[unit.Years]  // null: unlimited by corrosion or unknown
	GovernedBy       Governor                // "" when there is no interval
	NextDate         unit.Date               // 0: none
	RateUnknown      string                  // why there is no rate, ""
	ReadAlone        unit.Maybe[unit.Years]  // what was read would give, where rates are not known and that is less
	Counted          []Counted               // what the state rests on, in the order of its minima
}

// Counted is one place that counts in a state: a location that is left, or new
// metal of a repair. The columns a step's minima and maxima run over, such as
// location.soil.as_planned, are those Counted of the side with a value.
type Counted struct {
	Location    int // index in Result.Locations, -1 for new metal
	Label       string
	Plate       int // index in Inspection.Plates, -1
	OnSoil      bool
	OnProduct   bool
	Remaining   unit.Length
	SoilRate    unit.Maybe[unit.Rate]
	ProductRate unit.Maybe[unit.Rate]
	critical    unit.Maybe[unit.Length] // requirement of the critical zone, when held against it
	ring        unit.Maybe[unit.Length] // the same of the annular ring
	ageless     bool                    // wants a rate, but the metal's age is not known
	from        *step.Source            // the cell of a reading or of a new thickness
}

// ZoneResult is the critical zone or the annular ring, as found.
type ZoneResult struct {
	Required unit.Maybe[unit.Length]
	Min      unit.Maybe[unit.Length]
	MinAt    string
	Stress   unit.Maybe[unit.Stress] // annular ring only
	OK       bool
	OKKnown  bool
}

// PlateResult is one plate, in the order of Inspection.Plates.
type PlateResult struct {
	Nominal                        unit.Maybe[unit.Length]
	Sound                          unit.Maybe[unit.Length]
	SoundFrom                      Basis // reading or nominal
	Age                            unit.Maybe[unit.Years]
	Worst                          unit.Maybe[unit.Length] // of (a), (b), (c), (e)
	WorstAt                        string
	WorstSoil, WorstProduct        unit.Maybe[unit.Length]
	WorstLoss                      unit.Maybe[unit.Percent]
	Required                       unit.Maybe[unit.Length]
	Margin                         unit.Maybe[unit.Length]
	Interval                       unit.Maybe[unit.Years]  // as found, capped
	Threshold                      unit.Maybe[unit.Length] // (d)
	Indications, ProvedUp, Repairs int
	Examined                       unit.Maybe[unit.Percent]
}

// Result is the whole evaluation.
type Result struct {
	Locations    []Location
	Required     unit.Maybe[unit.Length] // JSON thickness.required_mm
	AsFound      StateResult
	AsPlanned    StateResult
	AsCompleted  *StateResult // nil when nothing is completed
	PageOne      State        // whose figures stand on page one
	Proposed     bool         // AsPlanned is the program's proposal, "if carried out"
	CriticalZone ZoneResult
	Annular      ZoneResult
	Plates       []PlateResult
	Sizing       sizing.Result
	Extreme      extreme.Estimate
	Steps        step.List
	Limitations  []string // sentences for the report: what the numbers leave out
	work         *work
}

// State is the result of a state, nil when it does not exist.
func (r *Result) State(s State) *StateResult {
	switch s {
	case AsFound:
		return &r.AsFound
	case AsPlanned:
		return &r.AsPlanned
	}
	return r.AsCompleted
}

// Forget drops the steps and all that further questions would be answered from,
// which take most of the memory: what is left are the places, the plates and the
// states with their values, all that a later inspection is compared with.
func (r *Result) Forget() {
	r.Steps, r.work = nil, nil
	for i := range r.Locations {
		r.Locations[i].Step, r.Locations[i].Alone = step.Step{}, nil
	}
	r.AsFound.Counted, r.AsPlanned.Counted = nil, nil
	if r.AsCompleted != nil {
		r.AsCompleted.Counted = nil
	}
}
