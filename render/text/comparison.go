package text

import (
	"platebook/rules"
	"platebook/rules/compare"
	"platebook/rules/inspection"
)

type comparisonPart struct {
	With          string        `json:"with"`
	Inspections   []surveyPart  `json:"inspections"`
	Years         number        `json:"years"`
	Governs       words         `json:"governs"`
	SoilGoverns   words         `json:"soil_governs"`
	ProductGovern words         `json:"product_governs"`
	SoilGrowth    number        `json:"soil_growth_mm_per_year"`
	SoilAt        words         `json:"soil_growth_at"`
	ProductGrowth number        `json:"product_growth_mm_per_year"`
	ProductAt     words         `json:"product_growth_at"`
	SoilLong      number        `json:"soil_long_term_mm_per_year"`
	ProductLong   number        `json:"product_long_term_mm_per_year"`
	Spread        number        `json:"spread_mm"`
	Plan          positionPart  `json:"plan"`
	Classes       []classPart   `json:"classes"`
	Plates        []changedPart `json:"plates"`
	Pairs         []pairPart    `json:"pairs"`
	Near          []nearPart    `json:"near"`
	Trends        []trendPart   `json:"trends"`
	Notes         []string      `json:"notes"`
}

type surveyPart struct {
	File        string `json:"file"`
	SHA256      words  `json:"sha256"`
	End         words  `json:"inspection_end"`
	Indications int    `json:"indications"`
	Examined    number `json:"examined_pct"`
	SoilMin     number `json:"soil_min_mm"`
	ProductMin  number `json:"product_min_mm"`
	LeftOut     int    `json:"rows_left_out"`
}

type positionPart struct {
	Turn     int  `json:"turn_deg"`
	Mirrored bool `json:"mirrored"`
	Within   bool `json:"within_plates"`
	Pairs    int  `json:"pairs"`
	Identity int  `json:"identity_pairs"`
}

type classPart struct {
	Class words `json:"class"`
	Count int   `json:"count"`
}

type changedPart struct {
	Plate    words  `json:"plate"`
	Old      words  `json:"old"`
	Replaced words  `json:"replaced"`
	OldWorst number `json:"old_worst_remaining_mm"`
	Worst    number `json:"worst_remaining_mm"`
	Growth   number `json:"growth_mm_per_year"`
}

type pairPart struct {
	Plate    words  `json:"plate"`
	Old      words  `json:"old"`
	New      words  `json:"new"`
	Class    words  `json:"class"`
	Distance number `json:"distance_mm"`
	Delta    number `json:"delta_mm"`
	Growth   number `json:"growth_mm_per_year"`
	OldPlate words  `json:"old_plate"`
	OldR     number `json:"old_remaining_mm"`
	NewR     number `json:"new_remaining_mm"`
	Least    number `json:"growth_from_mm_per_year"`
	Most     number `json:"growth_to_mm_per_year"`
	Points   number `json:"trend_points_per_year"`
	UT       bool   `json:"ut"`
	Why      words  `json:"why"`
}

type nearPart struct {
	Plate    words  `json:"plate"`
	Old      string `json:"old"`
	New      string `json:"new"`
	Distance number `json:"distance_mm"`
	Why      string `json:"why"`
}

type trendPart struct {
	Plate     words    `json:"plate"`
	New       string   `json:"new"`
	Places    []string `json:"places"`
	Dates     []string `json:"dates"`
	Remaining []number `json:"remaining_mm"`
	Rate      number   `json:"rate_mm_per_year"`
	SE        number   `json:"se_mm_per_year"`
	Half      number   `json:"range_95_mm_per_year"`
	Reading   number   `json:"by_tolerance_mm_per_year"`
}

// comparisonOf is the comparison with earlier inspections, nil without one or
// when it was refused.
func comparisonOf(a *rules.Assessment) *comparisonPart {
	c := a.Comparison
	if c == nil || len(c.Refused) > 0 {
		return nil
	}
	old := c.Old()
	name := func(in *inspection.Inspection, plate int) words {
		if plate < 0 {
			return ""
		}
		return words(in.Plates[plate].Label.Text)
	}
	g := c.Position
	p := &comparisonPart{
		With: old.In.File.Name, Years: maybe(c.Years), Governs: words(c.Governs()), SoilGoverns: words(c.Soil.Governs), ProductGovern: words(c.Product.Governs),
		SoilGrowth: maybe(c.Soil.Growth), SoilAt: words(c.Soil.At), ProductGrowth: maybe(c.Product.Growth), ProductAt: words(c.Product.At),
		SoilLong: maybe(c.Soil.LongTerm), ProductLong: maybe(c.Product.LongTerm), Spread: some(float64(c.Spread)),
		Plan:        positionPart{g.Turn, g.Mirrored, g.Within, g.Pairs, g.Identity},
		Inspections: []surveyPart{}, Classes: []classPart{}, Plates: []changedPart{}, Pairs: []pairPart{}, Near: []nearPart{}, Trends: []trendPart{}, Notes: []string{},
	}
	p.Notes = append(p.Notes, c.Notes...)
	for _, d := range c.Dates {
		p.Inspections = append(p.Inspections, surveyPart{d.File, words(d.SHA256), words(d.End.String()), d.Indications, maybe(d.Examined), maybe(d.SoilMin), maybe(d.ProductMin), d.LeftOut})
	}
	for _, k := range compare.Classes {
		if n := c.Count[k]; n > 0 {
			p.Classes = append(p.Classes, classPart{words(k), n})
		}
	}
	for i := range c.Plates {
		q := &c.Plates[i]
		p.Plates = append(p.Plates, changedPart{name(a.Inspection, q.New), name(old.In, q.Old), words(q.Replaced), maybe(q.OldWorst), maybe(q.NewWorst), maybe(q.Growth)})
	}
	for i := range c.Pairs {
		q := &c.Pairs[i]
		part := pairPart{
			Plate: name(a.Inspection, q.Plate), OldPlate: name(old.In, q.OldPlate), Class: words(q.Class), Distance: maybe(q.Distance), Delta: maybe(q.Delta), Growth: maybe(q.Growth),
			OldR: maybe(q.OldR), NewR: maybe(q.NewR), Least: maybe(q.Least), Most: maybe(q.Most), Points: maybe(q.Points), UT: q.UT, Why: words(q.Why),
		}
		if part.Plate == "" {
			part.Plate = part.OldPlate
		}
		if q.Old >= 0 {
			part.Old = words(compare.ID(old.In, &old.Found.Locations[q.Old]))
		}
		if q.New >= 0 {
			part.New = words(compare.ID(a.Inspection, &a.Result.Locations[q.New]))
		}
		p.Pairs = append(p.Pairs, part)
	}
	for _, n := range c.Near {
		l := &a.Result.Locations[n.New]
		p.Near = append(p.Near, nearPart{name(a.Inspection, l.Plate), compare.ID(old.In, &old.Found.Locations[n.Old]), compare.ID(a.Inspection, l), some(float64(n.Distance)), n.Why})
	}
	for i := range c.Trends {
		t := &c.Trends[i]
		part := trendPart{
			Plate: name(a.Inspection, t.Plate), New: compare.ID(a.Inspection, &a.Result.Locations[t.New]), Places: t.Labels, Dates: []string{}, Remaining: []number{},
			Rate: maybe(t.Fit.Rate), SE: maybe(t.Fit.SE), Half: maybe(t.Fit.Half), Reading: maybe(t.Fit.Reading),
		}
		for k, d := range t.Dates {
			part.Dates = append(part.Dates, d.String())
			part.Remaining = append(part.Remaining, some(float64(t.Remaining[k])))
		}
		p.Trends = append(p.Trends, part)
	}
	return p
}
