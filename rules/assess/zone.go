package assess

import (
	"math"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// zoneRules are the requirements of the critical zone and of the ring.
type zoneRules struct {
	shell   step.Step // t_min; may be unknown
	stress  step.Step
	ring    step.Step
	hasRing bool
	lenient bool // isolated pits meet the general requirement only
}

// exactly is the source of a constant that follows from a US one.
const exactly = "converted exactly"

// prepareZones finds the required thickness of shell and ring.
func (w *work) prepareZones() {
	z := &w.zone
	z.lenient = w.set.Is(criteria.IsolatedPitsCriticalZoneAndRing, "general requirement")
	z.hasRing = inspection.Yes(w.in.Tank.AnnularRing)
	for _, p := range w.plates {
		z.hasRing = z.hasRing || p.annular
	}
	z.shell = w.shellStep()
	if z.hasRing {
		z.stress = w.stressStep()
		z.ring = w.ringStep(z.stress)
	}
}

var (
	shellSI = step.Parse("max(2.54, K*D*(H - 0.3048)*if(W = 1, max(G, 1), G)/(S*E))")
	shellUS = step.Parse("max(0.1, 2.6*D*(H - 1)*if(W = 1, max(G, 1), G)/(S*E))")
)

func (w *work) shellStep() step.Step {
	t := &w.in.Tank
	s := step.Step{
		ID: "shell.tmin", Title: "required thickness of the first shell course", Symbol: "t_min", Kind: unit.Thickness,
		Clause: api653_5.Clause(api653_5.ShellThickness), Source: api653_5.Document,
	}
	if t.FirstCourseRequired.OK() {
		s.Formula = step.Parse("t_1r")
		s.Inputs = []step.Input{cell("t_1r", "first-course required thickness", t.FirstCourseRequired, unit.Thickness)}
		s.Branch = "as already calculated elsewhere"
		s = step.New(s)
		s.Limit = nil
		return w.shellVerdict(s)
	}
	stress := cell("S", "allowable stress", t.AllowableStress, unit.StressKind)
	if !t.AllowableStress.OK() {
		steel := api653_5.FindSteel(t.ShellSteel.Value)
		stress = constant("S", "allowable stress", float64(steel.Allow), unit.StressKind, "table of shell steels, "+steel.Name)
		if t.AllowableStress.State == inspection.Wrong || t.ShellSteel.State == inspection.Wrong {
			stress.Known = false
		}
	}
	joint := cell("E", "joint efficiency", t.JointEfficiency, unit.None)
	if !t.JointEfficiency.OK() && t.JointEfficiency.State != inspection.Wrong {
		joint = w.criterion("E", criteria.JointEfficiencyIfUnknown)
	}
	hydro := w.criterion("W", criteria.HydrotestPlanned)
	hydro.Known, hydro.From.Plain, hydro.Kind = true, false, unit.Number
	if w.set.Is(criteria.HydrotestPlanned, "yes") {
		hydro.Value = 1
		s.Branch = "hydrotest planned: specific gravity at least 1"
	}
	s.Formula, s.US = shellSI, shellUS
	s.Inputs = []step.Input{
		constant("K", "2.6 of ft, psi", api653_5.ShellFactor, unit.None, exactly),
		cell("D", "diameter", t.Diameter, unit.Height),
		cell("H", "maximum fill height", t.MaximumFillHeight, unit.Height),
		cell("G", "specific gravity", t.SpecificGravity, unit.None),
		hydro, stress, joint,
	}
	for _, in := range s.Inputs {
		if !in.Known {
			return step.Unknown(s, in.Title+" is not known")
		}
	}
	g := t.SpecificGravity.Value
	if hydro.Value == 1 {
		g = max(g, 1)
	}
	if _, err := api653_5.MinimumShell(t.Diameter.Value, t.MaximumFillHeight.Value, g, unit.Stress(stress.Value), unit.Ratio(joint.Value)); err != nil {
		return step.Unknown(s, err.Error())
	}
	return w.shellVerdict(step.New(s))
}

// shellVerdict turns the required thickness into a limit for the course: the
// step's own value is the limit, so the verdict stands as first course ≥ t_min
// written the other way round, t_min ≤ first course.
func (w *work) shellVerdict(s step.Step) step.Step {
	t := &w.in.Tank
	now := t.FirstCourseNow
	if now.State == inspection.Blank || now.State == inspection.Left {
		now = t.FirstCourseAsBuilt
	}
	if now.OK() && s.Known {
		s.Limit = &step.Limit{
			Symbol: "t_1", Value: float64(now.Value), Known: true, Op: "≤", Tol: 1e-6,
			From: step.Source{Ref: now.Ref, Plain: now.Plain, Scale: now.Scale},
		}
	}
	return s
}

var (
	stressSI = step.Parse("K*D*(H - 0.3048)/t_1")
	stressUS = step.Parse("2.34*D*(H - 1)/t_1")
)

func (w *work) stressStep() step.Step {
	t := &w.in.Tank
	s := step.Step{
		ID: "annular.stress", Title: "product stress in the first course", Symbol: "σ", Kind: unit.StressKind,
		Formula: stressSI, US: stressUS, Clause: api653_5.Clause(api653_5.AnnularRing), Source: api653_5.Document,
		Verify: []string{api653_5.VerifyAnnularStress},
		Inputs: []step.Input{
			constant("K", "2.34 of ft, in, psi", api653_5.StressFactor, unit.None, exactly),
			cell("D", "diameter", t.Diameter, unit.Height),
			cell("H", "maximum fill height", t.MaximumFillHeight, unit.Height),
			cell("t_1", "first-course thickness as built", t.FirstCourseAsBuilt, unit.Thickness),
		},
	}
	for _, in := range s.Inputs {
		if !in.Known {
			return step.Unknown(s, in.Title+" is not known")
		}
	}
	if _, err := api653_5.AnnularStress(t.Diameter.Value, t.MaximumFillHeight.Value, t.FirstCourseAsBuilt.Value); err != nil {
		return step.Unknown(s, err.Error())
	}
	return step.New(s)
}

var (
	ringColumns = step.Parse("if(σ < σ1, T1, if(σ < σ2, T2, if(σ < σ3, T3, T4))) + CA")
	ringLinear  = step.Parse("if(σ < σ1, T1, if(σ < σ2, T1 + (T2 - T1)*(σ - σ1)/(σ2 - σ1), if(σ < σ3, T2 + (T3 - T2)*(σ - σ2)/(σ3 - σ2), T3 + (T4 - T3)*(σ - σ3)/(σ4 - σ3)))) + CA")
)

func (w *work) ringStep(stress step.Step) step.Step {
	t := &w.in.Tank
	s := step.Step{
		ID: "annular.required", Title: "required thickness of the annular ring", Symbol: "t_ann", Kind: unit.Thickness,
		Clause: api653_5.Clause(api653_5.AnnularRing), Source: api653_5.Document, Formula: ringColumns,
	}
	read := api653_5.NextColumn
	if w.set.Is(criteria.AnnularInterpolation, "linear") {
		read, s.Formula = api653_5.Linear, ringLinear
	}
	s.Inputs = []step.Input{as("σ", step.From(stress))}
	if !t.SpecificGravity.OK() {
		return step.Unknown(s, "specific gravity is not known")
	}
	if t.SpecificGravity.Value >= 1-1e-9 {
		return step.Unknown(s, api653_5.ErrGravity.Error())
	}
	if !stress.Known {
		return step.Unknown(s, stress.Why)
	}
	t1 := t.FirstCourseAsBuilt.Value
	allowance := w.set.Length(criteria.AnnularCorrosionAllowance)
	value, err := api653_5.AnnularRequired(unit.Stress(stress.Value), t1, t.SpecificGravity.Value, allowance, read)
	if err != nil {
		return step.Unknown(s, err.Error())
	}
	row := api653_5.RowFor(t1)
	place := "over 1.50 in"
	if !math.IsInf(float64(row.UpTo), 1) {
		place = "up to " + unit.Round(float64(row.UpTo/unit.Inch), 2) + " in"
	}
	table := api653_5.Clause(api653_5.AnnularTable) + ", first course " + place
	for i := range row.T {
		n := string(rune('1' + i))
		s.Inputs = append(s.Inputs,
			constant("σ"+n, "column limit", float64(api653_5.AnnularColumns[i]), unit.StressKind, table),
			constant("T"+n, "column value", float64(row.T[i]), unit.Thickness, table))
	}
	s.Inputs = append(s.Inputs, w.criterion("CA", criteria.AnnularCorrosionAllowance))
	s.Branch = table
	s = step.New(s)
	// at a column limit the last digit of a double may not decide
	s.Value = float64(value)
	return s
}

// criticalRequired is t_cz on a plate.
func (w *work) criticalRequired(k int) unit.Maybe[unit.Length] {
	n := unit.Maybe[unit.Length]{}
	if k >= 0 {
		n = w.plates[k].nominal
	}
	if !n.Known {
		return unit.Maybe[unit.Length]{}
	}
	return unit.Some(w.criticalOf(n.V))
}

func (w *work) criticalOf(nominal unit.Length) unit.Length {
	return api653_5.CriticalZoneRequired(nominal, w.set.Length(criteria.BottomCorrosionAllowance), w.shell())
}

func (w *work) shell() unit.Maybe[unit.Length] {
	if !w.zone.shell.Known {
		return unit.Maybe[unit.Length]{}
	}
	return unit.Some(unit.Length(w.zone.shell.Value))
}

func (w *work) ringRequired() unit.Maybe[unit.Length] {
	if !w.zone.hasRing || !w.zone.ring.Known {
		return unit.Maybe[unit.Length]{}
	}
	return unit.Some(unit.Length(w.zone.ring.Value))
}

// zonesOf are the requirements a place meets beside the general one.
func (w *work) zonesOf(k int, z floor.Zone) (critical, ring unit.Maybe[unit.Length]) {
	if z == floor.Critical {
		critical = w.criticalRequired(k)
	}
	if k >= 0 && w.plates[k].annular {
		ring = w.ringRequired()
	}
	return critical, ring
}

// CriticalNeed is what metal in the critical zone of a plate has to keep, on the
// ring what that asks for too; whole is false where a part of it is not known.
func (r *Result) CriticalNeed(plate int) (need unit.Maybe[unit.Length], whole bool) {
	critical, ring := r.work.zonesOf(plate, floor.Critical)
	if critical.Known && ring.Known {
		critical.V = max(critical.V, ring.V)
	}
	return critical, critical.Known && (ring.Known || !r.work.plates[plate].annular)
}

// locationZones are the requirements a location is held against. What a scan
// may have missed stands for isolated pits and is held against neither; sound
// metal has no place, so it meets the ring's only, and only as measured.
func (w *work) locationZones(l *Location) (critical, ring unit.Maybe[unit.Length]) {
	switch {
	case l.Kind == ThresholdAt || l.Kind == ExtremeAt:
		return critical, ring
	case l.Kind == SoundMetal && l.Basis != ByReading:
		return critical, ring
	case w.zone.lenient && l.Isolated:
		return critical, ring
	}
	critical, ring = w.zonesOf(l.Plate, l.Zone)
	if l.Kind == SoundMetal {
		critical = unit.Maybe[unit.Length]{}
	}
	return critical, ring
}

// zoneReadings are the readings that stand in the critical zone or on the
// ring. They count there only: elsewhere a plate's least reading does.
func (w *work) zoneReadings() {
	for k := range w.plates {
		for _, i := range w.plates[k].readings {
			row := &w.in.Readings[i]
			zone := floor.Zone("")
			if w.plates[k].annular {
				zone = floor.Annular
			}
			if b, ok := w.box(k, row.X, row.Y, inspection.Length{}, inspection.Length{}); ok && w.plan != nil {
				if z := w.plan.ZoneOf(k, b, w.number(criteria.CriticalZoneWidth)); z != "" {
					zone = z
				}
			}
			critical, ring := w.zonesOf(k, zone)
			if !critical.Known && !ring.Known {
				continue
			}
			w.zoned = append(w.zoned, Counted{
				Location: -1, Label: row.Key, Plate: k, Remaining: max(0, row.Thickness.Value), critical: critical, ring: ring,
				from: source(row.Thickness),
			})
		}
	}
}

// RingOverNominal is what the annular ring requires, and whether that is more
// than its nominal thickness, so that even sound metal falls short.
func (r *Result) RingOverNominal(t *inspection.Tank) (required unit.Length, over bool) {
	s := r.Steps.Find("annular.required")
	if s == nil || !s.Known || !t.AnnularNominal.OK() {
		return 0, false
	}
	return unit.Length(s.Value), !step.AtLeast(unit.Thickness, float64(t.AnnularNominal.Value), s.Value)
}
