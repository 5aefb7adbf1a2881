package text

import (
	"strconv"

	"platebook/rules"
	"platebook/rules/extreme"
	"platebook/rules/settle"
	"platebook/rules/statistics"
	"platebook/rules/unit"
)

type statisticsPart struct {
	Bands     []bandPart        `json:"bands"`
	Count     int               `json:"count"`
	Unknown   int               `json:"loss_unknown"`
	Area      number            `json:"area_m2"`
	BySide    []tallyPart       `json:"by_side"`
	ByZone    []tallyPart       `json:"by_zone"`
	ByMethod  []tallyPart       `json:"by_method"`
	ByPlate   []tallyPart       `json:"by_plate"`
	Mean      number            `json:"mean_pct"`
	SD        number            `json:"sd_pct"`
	Quantiles map[string]number `json:"quantiles_pct"`
	Extreme   *extremePart      `json:"extreme"`
}

type bandPart struct {
	From  float64 `json:"from_pct"`
	To    float64 `json:"to_pct"`
	Count int     `json:"count"`
	Area  number  `json:"area_m2"`
}

type tallyPart struct {
	Name  string     `json:"name"`
	Count int        `json:"count"`
	Area  number     `json:"area_m2"`
	Bands []bandPart `json:"bands"`
}

type extremePart struct {
	Side        string `json:"side"`
	Nominal     number `json:"nominal_mm"`
	Blocks      int    `json:"blocks"`
	Location    number `json:"location_mm"`
	Scale       number `json:"scale_mm"`
	Period      number `json:"period"`
	Level       number `json:"level_mm"`
	SE          number `json:"se_mm"`
	Whole       number `json:"level_95_mm"`
	Correlation number `json:"correlation"`
	Used        bool   `json:"used"`
}

type settlementPart struct {
	Points     int         `json:"points"`
	Needed     number      `json:"points_needed"`
	Tilt       number      `json:"tilt_mm"`
	R2         number      `json:"r2"`
	Deflection number      `json:"deflection_mm"`
	Allowable  number      `json:"allowable_mm"`
	OK         verdict     `json:"ok"`
	Edge       []localPart `json:"edge"`
	Bulge      []localPart `json:"bulge"`
}

type localPart struct {
	Point    string  `json:"point"`
	Kind     string  `json:"kind"`
	Measured number  `json:"measured_mm"`
	Limit    number  `json:"limit_mm"`
	OK       verdict `json:"ok"`
	Why      words   `json:"why"`
}

type changePart struct {
	Input    string `json:"input"`
	Change   string `json:"change"`
	Interval number `json:"interval_years"`
}

func statisticsOf(a *rules.Assessment) *statisticsPart {
	t := a.Statistics()
	p := &statisticsPart{
		Bands: bandsOf(t.All.Bands), Count: t.Count, Unknown: t.Unknown, Area: maybe(t.All.Area),
		BySide: tallies(t.BySide), ByZone: tallies(t.ByZone), ByMethod: tallies(t.ByMethod), ByPlate: tallies(t.ByPlate),
		Mean: maybe(t.Mean), SD: maybe(t.SD), Quantiles: map[string]number{}, Extreme: extremeOf(&a.Result.Extreme),
	}
	for _, q := range t.Quantiles {
		p.Quantiles[strconv.Itoa(q.Percent)] = maybe(q.Loss)
	}
	return p
}

func bandsOf(bands []statistics.Band) []bandPart {
	out := make([]bandPart, 0, len(bands))
	for _, b := range bands {
		out = append(out, bandPart{float64(b.From), float64(b.To), b.Count, maybe(b.Area)})
	}
	return out
}

func tallies(groups []statistics.Group) []tallyPart {
	out := make([]tallyPart, 0, len(groups))
	for _, g := range groups {
		out = append(out, tallyPart{g.Name, g.Count, maybe(g.Area), bandsOf(g.Bands)})
	}
	return out
}

func extremeOf(e *extreme.Estimate) *extremePart {
	if !e.Made {
		return nil
	}
	return &extremePart{
		Side: e.Side, Nominal: some(float64(e.Nominal)), Blocks: len(e.Blocks), Location: some(e.Fit.Location), Scale: some(e.Fit.Scale),
		Period: some(e.Period), Level: some(float64(e.Level)), SE: some(float64(e.SE)), Whole: some(float64(e.Whole)),
		Correlation: some(e.Fit.Correlation), Used: e.Used,
	}
}

func settlementOf(r *settle.Result) *settlementPart {
	if r == nil {
		return nil
	}
	p := &settlementPart{
		Points: len(r.Shell), Needed: number{float64(r.Needed), r.Needed > 0}, R2: maybe(r.R2), Allowable: maybe(r.Allowable),
		OK: verdict{r.OK, r.Known}, Edge: locals(r.Edge), Bulge: locals(r.Bulge),
	}
	if r.Fitted {
		p.Tilt, p.Deflection = some(r.Ring.Tilt), some(r.Ring.MaxOut)
	}
	return p
}

func locals(list []settle.Local) []localPart {
	out := make([]localPart, 0, len(list))
	for _, l := range list {
		out = append(out, localPart{l.Name, l.Kind, maybe(l.Measured), maybe(l.Limit), verdict{l.OK, l.Known}, words(l.Why)})
	}
	return out
}

func changes(a *rules.Assessment) []changePart {
	out := []changePart{}
	for _, c := range a.Sensitivity() {
		out = append(out, changePart{c.Input, c.Change, maybe[unit.Years](c.Interval)})
	}
	return out
}
