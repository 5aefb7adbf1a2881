package text

import (
	"bytes"
	"encoding/json"
	"io"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// Schema names the JSON document's form; fields are only ever added to it.
const Schema = "platebook.result/1"

// Program identifies what made a result.
type Program struct {
	Version string `json:"version"`
	Rules   string `json:"rules"`
}

// Output is a file that was written.
type Output struct {
	Kind  string `json:"kind"`
	File  string `json:"file"`
	Pages int    `json:"pages,omitempty"`
}

// Outputs are the files written, asked for when the rest of a document is
// there: a file may still be at work then. With an error nothing is written.
type Outputs func() ([]Output, error)

// Made is outputs that are there already.
func Made(list ...Output) Outputs { return func() ([]Output, error) { return list, nil } }

// MarshalJSON gives the list.
func (o Outputs) MarshalJSON() ([]byte, error) {
	all, err := o()
	if err != nil || len(all) == 0 {
		return []byte("[]"), err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err = e.Encode(all)
	return b.Bytes(), err
}

type document struct {
	Schema      string           `json:"schema"`
	Program     Program          `json:"program"`
	Input       inputPart        `json:"input"`
	Counts      countsPart       `json:"counts"`
	Findings    []findingPart    `json:"findings"`
	LeftOut     []leftOutPart    `json:"left_out"`
	Tank        tankPart         `json:"tank"`
	Floor       floorPart        `json:"floor"`
	Thickness   thicknessPart    `json:"thickness"`
	Critical    criticalPart     `json:"critical_zone"`
	Annular     annularPart      `json:"annular"`
	Sizing      sizingPart       `json:"sizing"`
	Thresholds  []thresholdPart  `json:"thresholds"`
	Repairs     *repairsPart     `json:"repairs"`
	Steps       []stepPart       `json:"steps"`
	Statistics  *statisticsPart  `json:"statistics"`
	Settlement  *settlementPart  `json:"settlement"`
	Sensitivity []changePart     `json:"sensitivity"`
	Comparison  *comparisonPart  `json:"comparison"`
	Plates      []platePart      `json:"plates"`
	Indications []indicationPart `json:"indications"`
	ProveUps    []indicationPart `json:"prove_ups"`
	Outputs     Outputs          `json:"outputs"`
	Review      *reviewPart      `json:"review,omitempty"`
}

type inputPart struct {
	File         string `json:"file"`
	SHA256       string `json:"sha256"`
	ValuesSHA256 string `json:"values_sha256"`
	Units        string `json:"units"`
	Status       words  `json:"status"`
}

type countsPart struct {
	Error    int `json:"error"`
	Warning  int `json:"warning"`
	Note     int `json:"note"`
	Answered int `json:"answered"`
}

type findingPart struct {
	Key      string        `json:"key"`
	Rule     string        `json:"rule"`
	Severity string        `json:"severity"`
	Sheet    words         `json:"sheet"`
	Cell     words         `json:"cell"`
	Range    words         `json:"range"`
	Row      words         `json:"row"`
	Value    words         `json:"value"`
	Message  string        `json:"message"`
	Do       string        `json:"do"`
	Related  []relatedPart `json:"related"`
	Cells    int           `json:"cells"`
	Answered bool          `json:"answered"`
	Answer   *answerPart   `json:"answer,omitempty"`
}

type answerPart struct {
	Text  string `json:"text"`
	By    string `json:"by"`
	Date  string `json:"date"`
	Until words  `json:"until"`
}

type relatedPart struct {
	Sheet words `json:"sheet"`
	Cell  words `json:"cell"`
	What  words `json:"what"`
}

type leftOutPart struct {
	Sheet string `json:"sheet"`
	Row   int    `json:"row"`
	Key   string `json:"key"`
}

type tankPart struct {
	Label           words  `json:"label"`
	Diameter        number `json:"diameter_m"`
	Height          number `json:"height_m"`
	FillHeight      number `json:"fill_height_m"`
	SpecificGravity number `json:"specific_gravity"`
}

type floorPart struct {
	Plates      number `json:"plates"`
	Area        number `json:"area_m2"`
	PlateArea   number `json:"plate_area_m2"`
	MFL         number `json:"mfl_pct"`
	Hand        number `json:"hand_pct"`
	UT          number `json:"ut_pct"`
	NotExamined number `json:"not_examined_pct"`
	Indications number `json:"indications"`
	ProvedUp    number `json:"proved_up"`
}

type thicknessPart struct {
	Required    number     `json:"required_mm"`
	AsFound     statePart  `json:"as_found"`
	AsPlanned   statePart  `json:"as_planned"`
	AsCompleted *statePart `json:"as_completed"`
}

type statePart struct {
	SoilMin      number `json:"soil_min_mm"`
	SoilMinAt    words  `json:"soil_min_at"`
	ProductMin   number `json:"product_min_mm"`
	ProductMinAt words  `json:"product_min_at"`
	SoilRate     number `json:"soil_rate_mm_per_year"`
	ProductRate  number `json:"product_rate_mm_per_year"`
	MRT          number `json:"mrt_mm"`
	MRTYears     number `json:"mrt_years"`
	Interval     number `json:"interval_years"`
	Uncapped     number `json:"interval_uncapped_years"`
	GovernedBy   words  `json:"governed_by"`
	NextDate     words  `json:"next_date"`
}

type criticalPart struct {
	Required number  `json:"required_mm"`
	Min      number  `json:"min_mm"`
	MinAt    words   `json:"min_at"`
	OK       verdict `json:"ok"`
}

type annularPart struct {
	Stress   number  `json:"stress_MPa"`
	Required number  `json:"required_mm"`
	Min      number  `json:"min_mm"`
	MinAt    words   `json:"min_at"`
	OK       verdict `json:"ok"`
}

type sizingPart struct {
	Pairs      number `json:"pairs"`
	Bias       number `json:"bias_pct"`
	SD         number `json:"sd_pct"`
	WorstUnder number `json:"worst_under_pct"`
	Slope      number `json:"slope"`
	Intercept  number `json:"intercept_pct"`
	ResidualSD number `json:"residual_sd_pct"`
}

type stepPart struct {
	ID      string      `json:"id"`
	Symbol  string      `json:"symbol"`
	Title   string      `json:"title"`
	Formula words       `json:"formula"`
	Value   any         `json:"value"`
	Unit    words       `json:"unit"`
	Clause  words       `json:"clause"`
	Inputs  []stepInput `json:"inputs"`
	Limit   number      `json:"limit"`
	Op      words       `json:"op"`
	OK      verdict     `json:"ok"`
	Why     words       `json:"why"`
	Verify  []string    `json:"verify,omitempty"`
}

type stepInput struct {
	Symbol string `json:"symbol"`
	Value  any    `json:"value"`
	Unit   words  `json:"unit"`
	From   words  `json:"from"`
}

type platePart struct {
	Plate    string `json:"plate"`
	Nominal  number `json:"nominal_mm"`
	Area     number `json:"net_area_m2"`
	Worst    number `json:"worst_remaining_mm"`
	WorstAt  words  `json:"worst_at"`
	Required number `json:"required_mm"`
	Margin   number `json:"margin_mm"`
	Interval number `json:"interval_years"`
}

type indicationPart struct {
	ID        string `json:"id"`
	Plate     string `json:"plate"`
	X         number `json:"x_mm"`
	Y         number `json:"y_mm"`
	PlanX     number `json:"plan_x_mm"`
	PlanY     number `json:"plan_y_mm"`
	Bearing   number `json:"bearing_deg"`
	Radius    number `json:"radius_mm"`
	Zone      words  `json:"zone"`
	Side      string `json:"side"`
	Remaining number `json:"remaining_mm"`
	Basis     words  `json:"basis"`
	Required  number `json:"required_mm"`
	Margin    number `json:"margin_mm"`
	Verdict   words  `json:"verdict"`
	Repair    words  `json:"repair"`
}

// JSON writes the document of one assessment; check asks for it without
// results.
func JSON(w io.Writer, a *rules.Assessment, p Program, outputs Outputs, check, indent bool) error {
	return newDocument(a, p, outputs, check).write(w, indent)
}

func newDocument(a *rules.Assessment, p Program, outputs Outputs, check bool) *document {
	in := a.Inspection
	d := &document{
		Schema: Schema, Program: p,
		Input: inputPart{
			File: in.File.Name, SHA256: in.File.SHA256, ValuesSHA256: in.File.ValuesSHA256,
			Units: in.Units.String(), Status: words(in.Tank.ReportStatus.Or("")),
		},
		Counts:   countsPart{a.Counts.Errors, a.Counts.Warnings, a.Counts.Notes, a.Counts.Answered},
		Findings: findingParts(a.Findings), LeftOut: leftOutParts(a.LeftOut),
		Tank: tankPart{
			Label:    words(in.Tank.Tank.Or("")),
			Diameter: length(in.Tank.Diameter).in(1000), Height: length(in.Tank.ShellHeight).in(1000),
			FillHeight:      length(in.Tank.MaximumFillHeight).in(1000),
			SpecificGravity: number{float64(in.Tank.SpecificGravity.Value), in.Tank.SpecificGravity.OK()},
		},
		Thresholds: []thresholdPart{}, Steps: []stepPart{}, Plates: []platePart{},
		Indications: []indicationPart{}, ProveUps: []indicationPart{}, Outputs: outputs,
	}
	if !check && a.Result != nil {
		d.results(a)
	}
	return d
}

func length(f inspection.Length) number { return number{float64(f.Value), f.OK()} }

func (d *document) results(a *rules.Assessment) {
	r := a.Result
	d.Floor = floorOf(a)
	d.Comparison = comparisonOf(a)
	d.Statistics, d.Settlement, d.Sensitivity = statisticsOf(a), settlementOf(a.Settlement), changes(a)
	d.Thickness = thicknessPart{Required: maybe(r.Required), AsFound: stateOf(r.AsFound), AsPlanned: stateOf(r.AsPlanned)}
	if r.AsCompleted != nil {
		s := stateOf(*r.AsCompleted)
		d.Thickness.AsCompleted = &s
	}
	c, n := r.CriticalZone, r.Annular
	d.Critical = criticalPart{maybe(c.Required), maybe(c.Min), words(c.MinAt), verdict{c.OK, c.OKKnown}}
	d.Annular = annularPart{maybe(n.Stress), maybe(n.Required), maybe(n.Min), words(n.MinAt), verdict{n.OK, n.OKKnown}}
	f := r.Sizing.All
	d.Sizing = sizingPart{
		some(float64(f.Pairs)), maybe(f.Bias), maybe(f.SD), maybe(f.WorstUnder),
		maybe(f.Slope), maybe(f.Intercept), maybe(f.ResidualSD),
	}
	for _, s := range r.Steps {
		d.Steps = append(d.Steps, stepOf(s))
	}
	d.repairs(a)
	for i, p := range r.Plates {
		d.Plates = append(d.Plates, platePart{
			Plate: a.Inspection.Plates[i].Label.Text, Nominal: maybe(p.Nominal), Area: plateArea(a.Plan, i),
			Worst: maybe(p.Worst), WorstAt: words(p.WorstAt), Required: maybe(p.Required), Margin: maybe(p.Margin),
			Interval: maybe(p.Interval),
		})
	}
	for i := range r.Locations {
		switch l := &r.Locations[i]; l.Kind {
		case assess.IndicationAt:
			row := &a.Inspection.Indications[l.Indication]
			d.Indications = append(d.Indications, indicationOf(l, row.ID.Text, row.Plate.Text, row.X, row.Y))
		case assess.ProveUpAt:
			row := &a.Inspection.ProveUps[l.ProveUp]
			d.ProveUps = append(d.ProveUps, indicationOf(l, row.ID.Text, row.Plate.Text, row.X, row.Y))
		}
	}
}

func floorOf(a *rules.Assessment) floorPart {
	p := a.Plan
	f := floorPart{
		Plates: some(float64(len(a.Inspection.Plates))), Area: maybe(p.FloorArea), PlateArea: some(float64(p.PlateArea)),
		MFL: maybe(p.Coverage.MFL), Hand: maybe(p.Coverage.Hand), UT: maybe(p.Coverage.UT), NotExamined: maybe(p.Coverage.NotExamined),
	}
	indications, provedUp := 0, 0
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if l.Kind != assess.IndicationAt || l.Verdict == assess.NotRelevant {
			continue
		}
		indications++
		if len(l.Tied) > 0 {
			provedUp++
		}
	}
	f.Indications, f.ProvedUp = some(float64(indications)), some(float64(provedUp))
	return f
}

func plateArea(p *floor.Plan, i int) number {
	if p == nil || i >= len(p.Plates) || !p.Plates[i].Placed {
		return number{}
	}
	return some(float64(p.Plates[i].NetArea))
}

func stateOf(s assess.StateResult) statePart {
	return statePart{
		maybe(s.SoilMin), words(s.SoilMinAt), maybe(s.ProductMin), words(s.ProductMinAt),
		maybe(s.SoilRate), maybe(s.ProductRate), maybe(s.MRT), maybe(s.MRTYears),
		maybe(s.Interval), maybe(s.IntervalUncapped), words(s.GovernedBy), words(s.NextDate.String()),
	}
}

func indicationOf(l *assess.Location, id, plate string, x, y inspection.Length) indicationPart {
	p := indicationPart{
		ID: id, Plate: plate, X: length(x), Y: length(y), Zone: words(l.Zone), Side: l.Side.String(),
		Remaining: maybe(l.Remaining), Basis: words(l.Basis), Required: maybe(l.Required), Margin: maybe(l.Margin),
		Verdict: words(l.Verdict), Repair: words(l.Repair),
	}
	if l.Placed {
		p.PlanX, p.PlanY, p.Bearing, p.Radius = some(l.At.X), some(l.At.Y), some(l.Bearing), some(l.Radius)
	}
	return p
}

func stepOf(s step.Step) stepPart {
	p := stepPart{
		ID: s.ID, Symbol: s.Symbol, Title: s.Title, Formula: words(s.Symbols(unit.SI)),
		Value: stepValue(s.Kind, s.Value, s.Known), Unit: words(stepUnit(s.Kind)), Clause: words(s.Clause),
		Inputs: []stepInput{}, Why: words(s.Why), Verify: s.Verify,
	}
	if l := s.Limit; l != nil {
		p.Limit, p.Op = number{s.Kind.In(unit.SI, l.Value), l.Known}, words(l.Op)
		p.OK.ok, p.OK.known = s.OK()
	}
	for _, in := range s.All() {
		i := stepInput{Symbol: in.Symbol, Unit: words(stepUnit(in.Kind)), From: words(from(in.From))}
		if in.Values == nil {
			i.Value = stepValue(in.Kind, in.Value, in.Known)
		} else {
			i.Value = number{}
		}
		p.Inputs = append(p.Inputs, i)
	}
	return p
}

func stepValue(k unit.Kind, v float64, known bool) any {
	if k == unit.DateKind {
		if !known {
			return words("")
		}
		return words(unit.DateOf(v).String())
	}
	return number{k.In(unit.SI, v), known}
}

func stepUnit(k unit.Kind) string {
	if k == unit.Time {
		return "year"
	}
	return k.Unit(unit.SI)
}

func from(s step.Source) string {
	switch {
	case s.Ref.Sheet != "":
		return s.Ref.String()
	case s.Step != "":
		return s.Step
	case s.Column != "":
		return s.Column
	}
	return s.Text
}

func findingParts(list []finding.Finding) []findingPart {
	out := make([]findingPart, 0, len(list))
	for _, f := range list {
		p := findingPart{
			Key: f.Key, Rule: f.Rule, Severity: f.Severity.String(), Sheet: words(f.Ref.Sheet), Cell: words(f.Ref.Cell()),
			Range: words(f.Range()), Row: words(f.Row), Value: words(f.Value), Message: f.Message, Do: f.Do,
			Related: []relatedPart{}, Cells: f.Cells(), Answered: f.Answer != nil,
		}
		for _, r := range f.Related {
			p.Related = append(p.Related, relatedPart{words(r.Ref.Sheet), words(r.Ref.Cell()), words(r.Text)})
		}
		if a := f.Answer; a != nil {
			p.Answer = &answerPart{a.Text, a.By, a.Date, words(a.Until)}
		}
		out = append(out, p)
	}
	return out
}

func leftOutParts(rows []inspection.Row) []leftOutPart {
	out := make([]leftOutPart, 0, len(rows))
	for _, r := range rows {
		out = append(out, leftOutPart{r.Sheet, r.Number, r.Key})
	}
	return out
}

type failure struct {
	Schema  string      `json:"schema"`
	Program Program     `json:"program"`
	Input   failedInput `json:"input"`
	Error   failedPart  `json:"error"`
}

type failedInput struct {
	File string `json:"file"`
}

type failedPart struct {
	Rule     words  `json:"rule"`
	Message  string `json:"message"`
	Do       words  `json:"do"`
	ExitCode int    `json:"exit_code"`
}

// FailureJSON is the document of an input that could not be used, or of an
// output that could not be written.
func FailureJSON(p Program, file, rule, message, do string, exit int, indent bool) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if indent {
		e.SetIndent("", " ")
	}
	err := e.Encode(failure{Schema, p, failedInput{file}, failedPart{words(rule), message, words(do), exit}})
	return b.Bytes(), err
}
