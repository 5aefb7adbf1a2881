// Package recount calculates an invented tank a second time, from the text of
// the method alone and with nothing of the rules, to hold the program against.
//
// It knows the simple floors that package invented makes: plates along the
// plan's axes, no bad cells. It is slow and short where the program is quick,
// and it is never part of the program.
package recount

import (
	"math"

	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// Wants are the numbers and words that a result must have, by their path in
// its JSON document: "thickness.as_found.mrt_mm", "plates[3-4].net_area_m2".
// nil is an absent value.
type Wants map[string]any

// change is one input moved, for the sensitivity of an interval.
type change struct {
	rates                float64 // factor
	threshold, allowance float64 // points
	older                float64 // years of the floor
}

// count is one evaluation.
type count struct {
	t    *invented.Tank
	plan *invented.Plan
	by   change

	plates []*plate
	named  map[string]*plate
	places []*place
	pairs  []pair
	zoned  []*place // readings held against a zone only

	floorAge  float64
	examined  float64
	unknown   bool // rates cannot be known
	barrier   bool
	lined     bool
	thin      bool
	left      float64 // L
	cathodic  bool
	plain     float64 // t_req without lining
	under     float64 // t_req under the lining
	shell     float64
	shellOK   bool
	ring      bool
	stress    *float64
	ringNeeds *float64
	class     *class
}

// plate is what is known of a plate.
type plate struct {
	row      invented.Row
	label    string
	annular  bool
	sump     bool
	nominal  float64
	age      float64
	readings []float64
	median   *float64
	sound    float64 // least reading or sound thickness, at most nominal
	measured bool    // there is one
	blind    bool    // not examined at all and without a reading
	net      float64 // m²
	examined float64
	scanned  bool
}

// defaults are the criteria of the method's section 15, SI.
var defaults = map[string]any{
	"Minimum thickness": 2.54, "Minimum thickness, barrier": 1.27, "Minimum thickness, reinforced lining": 1.27,
	"Shortest age for a rate": 1.0, "Age for a reliable rate": 5.0, "Least examined for a rate": 80.0, "Planning interval": 10.0,
	"Rate basis": "floor", "Rate after repair": "as found", "Soil-side cause removed": "no", "Product-side cause removed": "no",
	"Minimum soil-side rate": 0.0, "Minimum product-side rate": 0.0, "Mill tolerance": 0.25, "MFL threshold": 20.0,
	"Unproved indications": "estimate minus allowance", "Sizing allowance": 10.0, "Sizing minimum pairs": 8.0,
	"Position tolerance": 25.0, "Assumed indication size": 25.0, "Interval rule": "automatic", "Interval base date": "inspection end",
	"Initial interval": 10.0, "Credit barrier": 10.0, "Credit thin film lining": 2.0, "Credit reinforced lining": 5.0,
	"Credit cathodic protection": 5.0, "Interval cap": 20.0, "Interval cap with barrier": 30.0, "Interval cap, rate unknown": 10.0,
	"Critical zone width": 76.2, "Bottom corrosion allowance": 0.0, "Annular corrosion allowance": 0.0,
	"Isolated pits, critical zone and ring": "count", "Annular interpolation": "next column", "Joint efficiency if unknown": 0.7,
	"Hydrotest planned": "no", "Projection minimum": 9.525, "Threshold step": 0.25, "Extreme value in interval": "no",
	"Extreme value side": "soil", "Extreme value minimum blocks": 10.0, "Patch overlap": 50.0, "Settlement cosine R2": 0.9,
	"Bulge factor": 30.833333, "Loss bands": "20; 40; 60; 80",
}

func (c *count) number(name string) float64 {
	if v, ok := c.t.Criteria[name].(float64); ok {
		return v
	}
	v, _ := defaults[name].(float64)
	return v
}

func (c *count) word(name string) string {
	if v, ok := c.t.Criteria[name].(string); ok {
		return v
	}
	v, _ := defaults[name].(string)
	return v
}

func (c *count) threshold() float64 { return max(0, c.number("MFL threshold")+c.by.threshold) }

func years(from, to unit.Date) float64 { return float64(to-from) / 365.25 }

// Of is what the method gives for a tank.
func Of(t *invented.Tank) Wants {
	c := evaluate(t, change{rates: 1})
	w := Wants{}
	c.tellFloor(w)
	c.tellPlaces(w)
	c.tellStates(w)
	c.tellZones(w)
	c.tellSizing(w)
	c.tellExtreme(w)
	c.tellThresholds(w)
	c.tellSensitivity(w)
	c.tellSettlement(w)
	c.tellStatistics(w)
	return w
}

func evaluate(t *invented.Tank, by change) *count {
	c := &count{t: t.Clone(), by: by, named: map[string]*plate{}}
	c.plan = invented.Lay(c.t)
	c.readTank()
	c.readPlates()
	c.requirements()
	c.locate()
	c.fitExtreme()
	c.join()
	c.readZones()
	c.grounds()
	return c
}

func (c *count) readTank() {
	i := c.t.Items
	end := i.Day("Inspection end")
	c.floorAge = max(0, years(i.Day("Floor installed"), end)+c.by.older)
	c.barrier = i.Word("Release-prevention barrier") == "yes"
	c.cathodic = i.Word("Cathodic protection") == "recorded effective" && i.Has("Cathodic protection evidence")
	c.plain = c.number("Minimum thickness")
	if c.barrier {
		c.plain = c.number("Minimum thickness, barrier")
	}
	c.under = c.plain
	if i.Has("Lining") && i.Has("Lining installed") && i.Has("Lining expected life") {
		c.left = i.Number("Lining expected life") - years(i.Day("Lining installed"), end)
		c.lined, c.thin = c.left > 0, i.Word("Lining") == "thin film"
		if c.lined && !c.thin && i.Word("Reinforced lining over 1.27 mm / 0.05 in") == "yes" {
			c.under = min(c.plain, c.number("Minimum thickness, reinforced lining"))
			if !c.barrier {
				c.under = c.number("Minimum thickness, reinforced lining")
			}
		}
	}
	c.ring = i.Word("Annular ring") == "yes"
}

func (c *count) readPlates() {
	i := c.t.Items
	areas := netAreas(c.plan)
	for _, r := range c.t.Plates {
		p := &plate{row: r, label: r.Word("Plate"), annular: r.Word("Type") == "annular", sump: r.Word("Type") == "sump", age: c.floorAge}
		p.nominal = r.Or("Nominal", i.Number("Nominal thickness"))
		if p.annular {
			p.nominal = r.Or("Nominal", i.Number("Annular nominal thickness"))
		}
		if r.Has("Installed") {
			p.age = years(r.Day("Installed"), i.Day("Inspection end"))
		}
		p.examined = r.Number("MFL scanned %") + r.Number("Hand scanned %") + r.Number("UT gridded %")
		p.scanned = r.Number("MFL scanned %") > 0 || r.Number("Hand scanned %") > 0
		p.net = areas[p.label]
		least := math.Inf(1)
		for _, q := range c.t.Readings {
			if q.Word("Plate") == p.label {
				p.readings = append(p.readings, q.Number("Thickness"))
				least = min(least, q.Number("Thickness"))
			}
		}
		for _, u := range c.t.ProveUps {
			if u.Word("Plate") == p.label && u.Has("Sound thickness") {
				least = min(least, u.Number("Sound thickness"))
			}
		}
		if len(p.readings) > 0 {
			m := quantile(p.readings, 0.5)
			p.median = &m
		}
		p.measured = !math.IsInf(least, 1)
		p.sound = min(p.nominal, least)
		p.blind = r.Number("Not examined %") >= 100 && !p.measured
		c.plates = append(c.plates, p)
		c.named[p.label] = p
	}
}

// metal is t_s where no prove-up gives it.
func (p *plate) metal() float64 {
	if p.median != nil {
		return *p.median
	}
	return p.nominal
}

// grounds settles whether rates can be known, and how much was examined.
func (c *count) grounds() {
	ultrasonic := len(c.t.Readings) > 0
	for _, u := range c.t.ProveUps {
		ultrasonic = ultrasonic || u.Has("Remaining") || u.Has("Sound thickness")
	}
	for _, i := range c.t.Indications {
		ultrasonic = ultrasonic || (i.Word("Method") == "UT" && i.Word("Kind") != "not relevant")
	}
	c.examined = 100 - c.coverage("Not examined %")
	c.unknown = !ultrasonic || c.examined < c.number("Least examined for a rate")-1e-9
}

// coverage is Σ(net·%)/Σnet.
func (c *count) coverage(header string) float64 {
	var sum, all float64
	for _, p := range c.plates {
		if !p.sump {
			sum += p.net * p.row.Number(header)
			all += p.net
		}
	}
	return sum / all
}

func (c *count) tellFloor(w Wants) {
	r := c.plan.Radius / 1000
	w["floor.area_m2"] = math.Pi * r * r
	var all float64
	for _, p := range c.plates {
		if !p.sump {
			all += p.net
			w["plates["+p.label+"].net_area_m2"] = p.net
		}
		w["plates["+p.label+"].nominal_mm"] = p.nominal
	}
	w["floor.plate_area_m2"] = all
	w["floor.mfl_pct"], w["floor.hand_pct"] = c.coverage("MFL scanned %"), c.coverage("Hand scanned %")
	w["floor.ut_pct"], w["floor.not_examined_pct"] = c.coverage("UT gridded %"), c.coverage("Not examined %")
}
