package settle

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/std/api653_5"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Result is the whole settlement survey.
type Result struct {
	Shell  []Point // in order around the shell
	Needed int     // least number of points, 0 without a diameter
	Fitted bool    // Ring is known
	Why    string  // why it is not
	Ring   Ring
	R2     unit.Maybe[unit.Ratio] // unknown where the elevations do not differ
	Poor   bool                   // R² below the criterion: the plane does not describe the shell
	Limit  float64                // that criterion

	Weights [3][]float64 // of the elevations in a0, a1 and b1

	Arc       unit.Maybe[unit.Length] // least arc between two points
	Widest    unit.Maybe[unit.Length] // greatest arc
	Allowable unit.Maybe[unit.Length]
	OK, Known bool // out of plane against allowable

	Edge, Bulge []Local
	Steps       step.List
}

// Point is one surveyed point of the shell.
type Point struct {
	Row       int // index in Inspection.Settlement
	Name      string
	Bearing   unit.Angle
	Elevation unit.Length
	Fit       unit.Length
	U, S      unit.Length
}

// Local is one edge settlement, bulge or depression.
type Local struct {
	Row       int
	Name      string
	Kind      string
	Measured  unit.Maybe[unit.Length]
	Limit     unit.Maybe[unit.Length]
	OK, Known bool
	Why       string // why there is no verdict
	Examine   bool   // over 75 % of the limit and over 2 in: examine the welds
}

// examineFrom is the edge settlement above which the welds are examined when
// it is also over 75 % of its limit.
//
// Source: API 653 Annex B (public sources).
const examineFrom = 2 * unit.Inch

// Judge evaluates a survey; nil without one. Rows in error are left out.
//
// Source: API 653 Annex B (public sources); the least arc between two points
// gives the limit for the whole shell, which is the safe side.
func Judge(in *inspection.Inspection) *Result {
	r := &Result{}
	set := in.Criteria
	if set == nil {
		set = criteria.Defaults(in.Units)
	}
	any := false
	for i := range in.Settlement {
		s := &in.Settlement[i]
		if s.Out {
			continue
		}
		switch {
		case inspection.Is(s.Kind, "shell") && s.Bearing.OK() && s.Elevation.OK():
			any = true
			b := unit.Angle(math.Mod(float64(s.Bearing.Value), 360))
			if b < 0 {
				b += 360
			}
			r.Shell = append(r.Shell, Point{Row: i, Name: cmp.Or(s.Point.Text, s.Key), Bearing: b, Elevation: s.Elevation.Value})
		case inspection.Is(s.Kind, "edge"), inspection.Is(s.Kind, "bulge"), inspection.Is(s.Kind, "depression"):
			any = true
		}
	}
	if !any {
		return nil
	}
	slices.SortStableFunc(r.Shell, func(a, b Point) int { return cmp.Compare(a.Bearing, b.Bearing) })
	j := judge{in, set, r}
	if len(r.Shell) > 0 {
		j.shell()
	}
	for i := range in.Settlement {
		s := &in.Settlement[i]
		switch {
		case s.Out:
		case inspection.Is(s.Kind, "edge"):
			j.edge(i, s)
		case inspection.Is(s.Kind, "bulge"), inspection.Is(s.Kind, "depression"):
			j.bulge(i, s)
		}
	}
	return r
}

type judge struct {
	in  *inspection.Inspection
	set *criteria.Set
	r   *Result
}

// shell fits the plane and holds the worst point against its limit.
func (j judge) shell() {
	r, t := j.r, &j.in.Tank
	n := len(r.Shell)
	if t.Diameter.OK() && t.Diameter.Value > 0 {
		r.Needed = PointsNeeded(t.Diameter.Value)
	}
	least, widest := math.Inf(1), 0.0
	bearings, z := make([]unit.Angle, n), make([]unit.Length, n)
	for i, p := range r.Shell {
		bearings[i], z[i] = p.Bearing, p.Elevation
		gap := float64(r.Shell[(i+1)%n].Bearing - p.Bearing)
		if i == n-1 {
			gap += 360
		}
		least, widest = math.Min(least, gap), math.Max(widest, gap)
	}
	ring, err := FitRing(bearings, z)
	if err == nil && least < 1e-9 {
		err = errTwice
	}
	j.points(n)
	if err != nil {
		r.Why = err.Error()
		return
	}
	r.Fitted, r.Ring = true, ring
	for i := range r.Shell {
		p := &r.Shell[i]
		p.U, p.S = unit.Length(ring.Residuals[i]), unit.Length(ring.OutOf[i])
		p.Fit = p.Elevation - p.U
	}
	j.plane(bearings)
	j.curve(z)
	if t.Diameter.OK() && t.Diameter.Value > 0 {
		along := func(deg float64) unit.Maybe[unit.Length] {
			return unit.Some(unit.Length(deg / 360 * math.Pi * float64(t.Diameter.Value)))
		}
		r.Arc, r.Widest = along(least), along(widest)
	}
	j.deflection(least)
}

func (j judge) keep(s step.Step) step.Step {
	j.r.Steps = append(j.r.Steps, s)
	return s
}

func (j judge) criterion(symbol string, n criteria.Name) step.Input {
	d, _ := criteria.Find(n)
	v := j.set.Get(n)
	in := step.Input{Symbol: symbol, Title: string(n), Value: v.Number, Known: v.Set, Kind: d.Kind, From: step.Source{Text: "default"}}
	if v.Given && v.Ref.IsCell() {
		in.From = step.Source{Ref: v.Ref, Plain: v.Plain, Scale: v.Scale}
	}
	return in
}

func cell[T ~float64](symbol, title string, f inspection.Field[T], k unit.Kind) step.Input {
	return step.Input{
		Symbol: symbol, Title: title, Value: float64(f.Value), Known: f.OK(), Kind: k,
		From: step.Source{Ref: f.Ref, Plain: f.Plain, Scale: f.Scale},
	}
}

func fixed(symbol, title string, v float64, k unit.Kind, text string) step.Input {
	return step.Input{Symbol: symbol, Title: title, Value: v, Known: true, Kind: k, From: step.Source{Text: text}}
}

func annex(s step.Step) step.Step {
	s.Source, s.Clause = api653_5.Document, "Annex B"
	return s
}

const radian = "0.017453292519943295" // π/180, for formulas over degrees

func (j judge) points(n int) {
	s := annex(step.Step{ID: "settlement.points", Title: "points around the shell", Symbol: "n", Kind: unit.Number, Formula: step.Parse("count(z)")})
	s.Inputs = []step.Input{j.elevations()}
	s = step.New(s)
	if j.r.Needed > 0 {
		s.Branch = fmt.Sprintf("%d needed", j.r.Needed)
	}
	j.keep(s)
}

// Columns of the results that the steps of the shell refer to, in the order of
// Result.Shell. A weight's column ends with the symbol of its term.
const (
	ElevationColumn = "settlement.elevation"
	WeightColumn    = "settlement.weight."
)

// InResults says where numbers stand that sum up the survey.
const InResults = "Settlement results"

func (j judge) elevations() step.Input {
	in := step.Input{Symbol: "z", Title: "elevations around the shell", Known: true, Kind: unit.Settlement, From: step.Source{Column: ElevationColumn}}
	for _, p := range j.r.Shell {
		in.Values = append(in.Values, float64(p.Elevation))
	}
	return in
}

// plane writes the least-squares terms as sums over the elevations: with the
// bearings given, each term is a weighted sum of them.
func (j judge) plane(bearings []unit.Angle) {
	n := len(bearings)
	weights := [3][]float64{}
	for i := range n {
		one := make([]unit.Length, n)
		one[i] = 1
		r, err := FitRing(bearings, one)
		if err != nil {
			return
		}
		weights[0], weights[1], weights[2] = append(weights[0], r.A0), append(weights[1], r.A1), append(weights[2], r.B1)
	}
	j.r.Weights = weights
	var terms [3]step.Step
	for k, t := range []struct {
		id, title, symbol string
		v                 float64
	}{
		{"settlement.mean", "mean of the fitted plane", "a0", j.r.Ring.A0},
		{"settlement.cos", "cosine term of the fitted plane", "a1", j.r.Ring.A1},
		{"settlement.sin", "sine term of the fitted plane", "b1", j.r.Ring.B1},
	} {
		s := annex(step.Step{
			ID: t.id, Title: t.title, Symbol: t.symbol, Kind: unit.Settlement, Value: t.v, Known: true, Formula: step.Parse("sum(w*z)"),
			Branch: "least squares; the weights follow from the bearings",
			Inputs: []step.Input{{
				Symbol: "w", Title: "weights of the elevations", Values: weights[k], Known: true, Kind: unit.None, From: step.Source{Column: WeightColumn + t.symbol},
			}, j.elevations()},
		})
		terms[k] = j.keep(s)
	}
	j.keep(annex(step.New(step.Step{
		ID: "settlement.tilt", Title: "out of level across the diameter", Symbol: "tilt", Kind: unit.Settlement,
		Formula: step.Parse("2*sqrt(a1^2 + b1^2)"), Inputs: []step.Input{step.From(terms[1]), step.From(terms[2])},
	})))
}

// curve is how well the plane describes the elevations.
func (j judge) curve(z []unit.Length) {
	var mean, sst, sse float64
	for _, v := range z {
		mean += float64(v) / float64(len(z))
	}
	for i, v := range z {
		sst += (float64(v) - mean) * (float64(v) - mean)
		sse += j.r.Ring.Residuals[i] * j.r.Ring.Residuals[i]
	}
	s := annex(step.Step{
		ID: "settlement.r2", Title: "fit of the plane", Symbol: "R²", Kind: unit.Statistic, Formula: step.Parse("1 - SSE/SST"),
		Inputs: []step.Input{
			fixed("SSE", "squares from the plane", sse, unit.None, InResults),
			fixed("SST", "squares from the mean", sst, unit.None, InResults),
		},
	})
	limit := j.criterion("R²_min", criteria.SettlementCosineR2)
	j.r.Limit = limit.Value
	if sst <= 1e-12 {
		j.keep(step.Unknown(s, "the elevations do not differ"))
		return
	}
	s = j.keep(step.New(s))
	j.r.R2 = unit.Some(unit.Ratio(j.r.Ring.R2))
	j.r.Poor = limit.Known && !step.AtLeast(unit.Statistic, s.Value, limit.Value)
}

// deflection holds the point farthest out of the plane against the limit of
// the least arc, which is the safe side where the points are uneven.
func (j judge) deflection(least float64) {
	r, t := j.r, &j.in.Tank
	n := len(r.Shell)
	steel := api653_5.FindSteel(t.ShellSteel.Or(""))
	arc := j.keep(annex(step.New(step.Step{
		ID: "settlement.arc", Title: "least arc between two points", Symbol: "L", Kind: unit.Height, Formula: step.Parse("3.141592653589793*D*g/360"),
		Inputs: []step.Input{cell("D", "diameter", t.Diameter, unit.Height), fixed("g", "least angle between two points", least, unit.Bearing, InResults)},
	})))
	limit := step.New(step.Step{
		ID: "settlement.allowable", Title: "allowable out of plane", Symbol: "S_max", Kind: unit.Settlement,
		Formula: step.Parse("1000*11*L^2*Y/(2*E*H)"),
		US:      step.Parse("12*11*L^2*Y/(2*E*H)"),
		Inputs: []step.Input{
			step.From(arc), cell("H", "shell height", t.ShellHeight, unit.Height),
			fixed("Y", "yield strength of "+steel.Name, float64(steel.Yield), unit.StressKind, "by shell steel"),
			fixed("E", "modulus of elasticity", float64(29e6*unit.PSI), unit.StressKind, "29,000,000 psi"),
		},
		Branch: "the formula before 2008; the later table is not built in",
	})
	limit = annex(limit)
	if arc.Known && t.ShellHeight.OK() {
		r.Allowable = AllowableDeflection(unit.Length(arc.Value), t.ShellHeight.Value, steel.Yield)
		if !r.Allowable.Known {
			limit = step.Unknown(limit, "no shell height")
		}
	}
	at := r.Ring.MaxAt
	s := annex(step.Step{
		ID: "settlement.deflection", Title: "out of plane of the worst point", Symbol: "S", Kind: unit.Settlement,
		Formula: step.Parse("abs(z_i - a1*cos(" + radian + "*β_i) - b1*sin(" + radian + "*β_i) - (z_h - a1*cos(" + radian + "*β_h) - b1*sin(" + radian + "*β_h) + z_j - a1*cos(" + radian + "*β_j) - b1*sin(" + radian + "*β_j))/2)"),
		Branch:  "at " + r.Shell[at].Name + ", against its neighbours",
	})
	for _, p := range []struct {
		suffix string
		i      int
	}{{"i", at}, {"h", (at + n - 1) % n}, {"j", (at + 1) % n}} {
		row := &j.in.Settlement[r.Shell[p.i].Row]
		s.Inputs = append(s.Inputs, cell("z_"+p.suffix, "elevation of "+r.Shell[p.i].Name, row.Elevation, unit.Settlement), cell("β_"+p.suffix, "bearing of "+r.Shell[p.i].Name, row.Bearing, unit.Bearing))
	}
	s.Inputs = append(s.Inputs, step.From(*r.Steps.Find("settlement.cos")), step.From(*r.Steps.Find("settlement.sin")))
	s = step.New(s)
	j.keep(limit)
	if r.Allowable.Known {
		s.Limit = &step.Limit{Symbol: "S_max", Value: float64(r.Allowable.V), Known: true, Op: "≤", From: step.Source{Step: limit.ID}}
	}
	s = j.keep(s)
	r.OK, r.Known = s.OK()
}

// edge holds an edge settlement against the limits read from the figures.
func (j judge) edge(i int, s *inspection.Survey) {
	l := Local{Row: i, Name: cmp.Or(s.Point.Text, s.Key), Kind: "edge", Measured: maybe(s.Measured)}
	be, bew, radius := j.criterion("Be", criteria.EdgeLimitBe), j.criterion("Bew", criteria.EdgeLimitBew), j.set.Get(criteria.EdgeLimitRadius)
	limit := annex(step.Step{
		ID: "settlement.edge_limit." + l.Name, Title: "allowable edge settlement, " + l.Name, Symbol: "B", Kind: unit.Settlement,
		Formula: step.Parse("Be - (Be - Bew)*sin(" + radian + "*α)"),
		Inputs:  []step.Input{be, bew, cell("α", "angle of the nearest lap weld to the radius", s.WeldAngle, unit.Bearing)},
	})
	switch {
	case !be.Known || !bew.Known || !radius.Set:
		l.Why = "no limits read from the standard's figures"
	case !s.Radius.OK():
		l.Why = "its radius is not known"
	case float64(s.Radius.Value) < radius.Number-1e-6:
		l.Why = "its radius is smaller than that the limits were read at"
	case !s.WeldAngle.OK():
		l.Why = "the angle of the nearest weld is not known"
	case !EdgeLimit(unit.Length(be.Value), unit.Length(bew.Value), s.WeldAngle.Value).Known:
		l.Why = "the angle of the nearest weld is not 0 to 90°"
	}
	j.local(&l, s, limit)
	if l.Limit.Known && l.Measured.Known {
		l.Examine = float64(l.Measured.V) > 0.75*float64(l.Limit.V)+1e-6 && l.Measured.V > examineFrom+1e-6
	}
	j.r.Edge = append(j.r.Edge, l)
}

// bulge holds a bulge or a depression against its radius.
func (j judge) bulge(i int, s *inspection.Survey) {
	l := Local{Row: i, Name: cmp.Or(s.Point.Text, s.Key), Kind: s.Kind.Value, Measured: maybe(s.Measured)}
	limit := annex(step.Step{
		ID: "settlement.bulge_limit." + l.Name, Title: "allowable " + l.Kind + ", " + l.Name, Symbol: "B", Kind: unit.Settlement,
		Formula: step.Parse("F*R"), Inputs: []step.Input{j.criterion("F", criteria.BulgeFactor), cell("R", "radius of the inscribed circle", s.Radius, unit.Height)},
	})
	if !s.Radius.OK() || s.Radius.Value <= 0 {
		l.Why = "its radius is not known"
	}
	j.local(&l, s, limit)
	j.r.Bulge = append(j.r.Bulge, l)
}

func (j judge) local(l *Local, s *inspection.Survey, limit step.Step) {
	if l.Why != "" {
		limit = step.Unknown(limit, l.Why)
	} else if limit = step.New(limit); limit.Known {
		l.Limit = unit.Some(unit.Length(limit.Value))
	} else {
		l.Why = limit.Why
	}
	j.keep(limit)
	family := "bulge"
	if l.Kind == "edge" {
		family = "edge"
	}
	m := annex(step.New(step.Step{
		ID: "settlement." + family + "." + l.Name, Title: l.Kind + ", " + l.Name, Symbol: "B_m", Kind: unit.Settlement, Formula: step.Parse("m"),
		Inputs: []step.Input{cell("m", "measured", s.Measured, unit.Settlement)},
	}))
	if l.Limit.Known {
		m.Limit = &step.Limit{Symbol: "B", Value: float64(l.Limit.V), Known: true, Op: "≤", From: step.Source{Step: limit.ID}}
	}
	m = j.keep(m)
	l.OK, l.Known = m.OK()
}

func maybe(f inspection.Length) unit.Maybe[unit.Length] {
	return unit.Maybe[unit.Length]{V: f.Value, Known: f.OK()}
}
