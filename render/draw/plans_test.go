package draw

import (
	"math"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

var everyPlan = map[string]func(*rules.Assessment, Sheet) *Scene{
	"plate": PlatePlan, "indication": IndicationPlan, "shading": PlateShadingPlan, "margin": MarginPlan,
	"coverage": CoveragePlan, "reading": ReadingPlan, "photo": PhotoPlan, "repair": RepairPlan, "visual": VisualPlan,
	"change": func(a *rules.Assessment, s Sheet) *Scene { return ChangePlan(a, s, changesOf(a)) },
}

// The charts' data are invented; the shapes of the curves are what they show.
func charts(a *rules.Assessment) map[string]*Scene {
	var levels []Threshold
	for i := range 12 {
		l := Threshold{RepairBelow: unit.Length(2.75 + 0.25*float64(i)), Repairs: 3 + i*i}
		if i > 0 {
			l.Interval = unit.Some(unit.Years(5 + 9*(1-math.Exp(-float64(i)/4))))
		}
		levels = append(levels, l)
	}
	// The ring of eight points of the method's section 12.
	var ring []Level
	for i, z := range []float64{12, 15, 9, 2, -6, -11, -9, 0} {
		ring = append(ring, Level{Point: "S" + count(i+1), Bearing: float64(i) * 45, Elevation: z})
	}
	// The twelve largest losses of the method's section 9.
	e := Extreme{
		Losses:   []float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0, 1.0, 1.4, 1.2, 1.7, 0.9},
		Location: 1.096851, Scale: 0.271534, Period: 25, Level: 1.965362, SE: 0.241876,
	}
	return map[string]*Scene{
		"histogram":  Histogram(a, Sheet{}),
		"sizing":     SizingChart(a, Sheet{}),
		"threshold":  ThresholdChart(a, Sheet{}, levels, unit.Some(unit.Years(10)), unit.Some(unit.Length(4.25))),
		"settlement": SettlementChart(a, Sheet{}, ring, 1.5, 8.742641, 9.449747, true),
		"extreme":    ExtremeChart(a, Sheet{}, e),
		"growth":     GrowthChart(a, Sheet{}, changesOf(a), 0.7),
	}
}

func changesOf(a *rules.Assessment) []Change {
	if a.Inspection == nil || a.Result == nil || a.Plan == nil {
		return nil
	}
	var out []Change
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if i >= 60 || l.Kind != assess.IndicationAt || l.Indication < 0 || l.Indication >= len(a.Inspection.Indications) {
			continue
		}
		in := &a.Inspection.Indications[l.Indication]
		c := Change{Label: in.ID.Value, Class: changeClasses[i%len(changeClasses)].name, Plate: l.Plate, New: l.Remaining}
		if in.X.State == inspection.Given {
			c.X, c.Y = unit.Some(in.X.Value), unit.Some(in.Y.Value)
		}
		if l.Remaining.Known {
			c.Old = unit.Some(l.Remaining.V + unit.Length(0.4*float64(i%5)-0.2))
		}
		out = append(out, c)
	}
	return out
}

func TestEmptyChartsSayWhy(t *testing.T) {
	a := &rules.Assessment{}
	nan := math.NaN()
	for name, s := range map[string]*Scene{
		"threshold":  ThresholdChart(a, Sheet{}, nil, unit.Maybe[unit.Years]{}, unit.Maybe[unit.Length]{}),
		"settlement": SettlementChart(a, Sheet{}, nil, 0, 0, 0, true),
		"extreme":    ExtremeChart(a, Sheet{}, Extreme{}),
		"growth":     GrowthChart(a, Sheet{}, nil, 0),
		"histogram":  Histogram(a, Sheet{}),
		"sizing":     SizingChart(a, Sheet{}),
	} {
		said := false
		for _, it := range s.Items {
			if l, ok := it.(Label); ok && l.Class == "empty" {
				said = true
			}
		}
		if !said {
			t.Errorf("an empty %s chart does not say why", name)
		}
	}
	for _, s := range []*Scene{
		ThresholdChart(a, Sheet{}, []Threshold{{RepairBelow: unit.Length(nan)}}, unit.Maybe[unit.Years]{}, unit.Maybe[unit.Length]{}),
		ThresholdChart(a, Sheet{}, []Threshold{{RepairBelow: 3}}, unit.Maybe[unit.Years]{}, unit.Maybe[unit.Length]{}),
		SettlementChart(a, Sheet{}, []Level{{Elevation: nan}}, nan, 0, 0, true),
		SettlementChart(a, Sheet{}, []Level{{Elevation: 3}}, 3, 0, 0, true),
		ExtremeChart(a, Sheet{}, Extreme{Losses: []float64{1}, Period: 5, Level: nan, SE: nan}),
		GrowthChart(a, Sheet{}, []Change{{Old: unit.Some(unit.Length(0)), New: unit.Some(unit.Length(0))}}, math.Inf(1)),
	} {
		parse(t, svgOf(t, s))
	}
}
