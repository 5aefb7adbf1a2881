package html

import (
	"math"
	"strconv"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/unit"
)

// previousPart is the floor at the inspection before this one, laid on the
// present plan.
type previousPart struct {
	File    string       `json:"file"`
	End     string       `json:"end"`
	Now     string       `json:"now"`
	Years   number       `json:"years"`
	Spread  number       `json:"spread"` // within it two UT values count as unchanged
	Gate    number       `json:"gate"`
	Refused []string     `json:"refused"` // not empty: nothing was compared
	Notes   []string     `json:"notes"`
	Counts  []classPart  `json:"counts"`
	Sides   []growthPart `json:"sides"`
	Plates  []*thenPlate `json:"plates"` // beside plates; null without a counterpart
	Places  thenPart     `json:"places"`
}

type classPart struct {
	Class string `json:"class"`
	N     int    `json:"n"`
}

// growthPart is what was measured on one side of the floor.
type growthPart struct {
	Side     string `json:"side"`
	Growth   number `json:"growth"`
	At       string `json:"at"`
	Class    string `json:"class"`
	LongTerm number `json:"longTerm"`
	Used     number `json:"used"`
	Governs  string `json:"governs"`
	Why      string `json:"why"`
}

type thenPlate struct {
	Label    string `json:"label"`
	Replaced string `json:"replaced,omitempty"`
	Worst    number `json:"worst"`
	Loss     number `json:"loss"`
	LossBand int    `json:"lossBand"`
	Examined number `json:"examined"`
	Growth   number `json:"growth"`
}

// thenPart is the places found then, in the order of the pairs, column by
// column.
type thenPart struct {
	Count     int               `json:"count"`
	ID        []string          `json:"id"`
	Plate     list              `json:"plate"` // labels then
	On        indices           `json:"on"`    // index in plates, -1 where the plate has no counterpart
	PlanX     numbers           `json:"planX"` // null without a place
	PlanY     numbers           `json:"planY"` // y upward
	HalfU     numbers           `json:"halfU"`
	HalfV     numbers           `json:"halfV"`
	Turned    numbers           `json:"turned"`
	Side      list              `json:"side"`
	Loss      numbers           `json:"loss"`
	Band      indices           `json:"band"`
	Remaining numbers           `json:"remaining"`
	Basis     list              `json:"basis"`
	Class     list              `json:"class"`
	Now       indices           `json:"now"` // the place of this inspection that it is, -1
	Why       map[string]string `json:"why"` // of those without a place now
}

// change is what became of a place since, beyond its class.
type change struct {
	Was      number `json:"was"` // remaining then, and now, as compared
	Is       number `json:"is"`
	Delta    number `json:"delta"`
	Growth   number `json:"growth"`
	Least    number `json:"least"` // bounds of a new pit
	Most     number `json:"most"`
	Points   number `json:"points"` // of loss a year, from two scans
	Distance number `json:"distance"`
	Why      string `json:"why,omitempty"`
}

// classes puts what can become of a place in the order of the comparison.
func classes() list {
	l := start()
	for _, c := range compare.Classes {
		l.index(c.Words())
	}
	return l
}

// previous lays out the comparison, and adds to each place what became of it.
func (d *data) previous(a *rules.Assessment, fl *draw.Floor) *previousPart {
	c := a.Comparison
	if c == nil {
		return nil
	}
	p := &previousPart{Refused: []string{}, Notes: c.Notes, Counts: []classPart{}, Sides: []growthPart{}, Plates: []*thenPlate{}}
	for _, r := range c.Refused {
		p.Refused = append(p.Refused, r.Message)
	}
	if p.Notes == nil {
		p.Notes = []string{}
	}
	p.Places.begin()
	if len(c.Refused) > 0 || c.Old().In == nil {
		return p
	}
	old := c.Old().In
	p.File, p.End, p.Now = old.File.Name, old.Tank.InspectionEnd.Value.String(), a.Inspection.Tank.InspectionEnd.Value.String()
	p.Years, p.Spread, p.Gate = maybe(c.Years), some(float64(c.Spread)), some(float64(c.Gate))
	for _, k := range compare.Classes {
		if n := c.Count[k]; n > 0 {
			p.Counts = append(p.Counts, classPart{k.Words(), n})
		}
	}
	p.Sides = append(p.Sides, growthOf("soil", &c.Soil), growthOf("product", &c.Product))
	p.thenPlates(a, fl)
	rows := make(map[int]int, len(fl.Spots))
	for i := range fl.Spots {
		rows[fl.Spots[i].Location] = i
	}
	d.changes(c, rows)
	p.Places.fill(a, fl, rows, d.Places.Then)
	return p
}

func growthOf(side string, g *compare.SideGrowth) growthPart {
	out := growthPart{side, maybe(g.Growth), g.At, "", maybe(g.LongTerm), maybe(g.Used), g.Governs, g.Why}
	if g.Growth.Known {
		out.Class = g.Class.Words()
	}
	return out
}

func (p *previousPart) thenPlates(a *rules.Assessment, fl *draw.Floor) {
	c := a.Comparison
	p.Plates = make([]*thenPlate, len(a.Inspection.Plates))
	for i := range c.Plates {
		q := &c.Plates[i]
		if q.New < 0 || q.Old < 0 || q.New >= len(p.Plates) {
			continue
		}
		was := &c.Old().Found.Plates[q.Old]
		p.Plates[q.New] = &thenPlate{
			Label: oneLine(c.OldLabel(q)), Replaced: q.Replaced, Worst: maybe(was.Worst), Loss: maybe(was.WorstLoss),
			LossBand: bandOf(fl.Loss, was.WorstLoss.Float), Examined: maybe(was.Examined), Growth: maybe(q.Growth),
		}
	}
}

// changes gives each place its class and what was measured.
func (d *data) changes(c *compare.Result, rows map[int]int) {
	none := d.Places.Class.index("")
	d.Places.Class.Of = make(indices, d.Places.Count)
	for i := range d.Places.Class.Of {
		d.Places.Class.Of[i] = none
	}
	for i := range c.Pairs {
		p := &c.Pairs[i]
		row, ok := rows[p.New]
		if p.New < 0 || !ok {
			continue
		}
		d.Places.Class.Of[row] = d.Places.Class.index(p.Class.Words())
		d.Places.Change[strconv.Itoa(row)] = change{
			maybe(p.OldR), maybe(p.NewR), maybe(p.Delta), maybe(p.Growth), maybe(p.Least), maybe(p.Most), maybe(p.Points), maybe(p.Distance), p.Why,
		}
	}
}

func (t *thenPart) begin() {
	*t = thenPart{
		ID: []string{}, Plate: start(), On: indices{}, Side: start("product", "soil", "unknown"), Basis: start(), Class: classes(), Why: map[string]string{},
		PlanX: numbers{}, PlanY: numbers{}, HalfU: numbers{}, HalfV: numbers{}, Turned: numbers{}, Loss: numbers{}, Remaining: numbers{},
		Band: indices{}, Now: indices{},
	}
}

func (t *thenPart) fill(a *rules.Assessment, fl *draw.Floor, rows map[int]int, then map[string]int) {
	c := a.Comparison
	for _, f := range c.Former(a.Plan) {
		p := &c.Pairs[f.Pair]
		n := len(t.ID)
		t.ID = append(t.ID, oneLine(f.ID))
		t.Plate.add(oneLine(f.OldPlate))
		t.On = append(t.On, f.Plate)
		x, y, turned := number{}, number{}, 0.0
		if f.Placed {
			x, y = place(f.At.X), place(f.At.Y)
			turned = turnedAt(a, &f)
		}
		t.PlanX, t.PlanY = append(t.PlanX, x), append(t.PlanY, y)
		t.HalfU, t.HalfV = append(t.HalfU, place(f.Box.Length()/2)), append(t.HalfV, place(f.Box.Width()/2))
		t.Turned = append(t.Turned, some(turned))
		side := f.Side
		if side == assess.Both {
			side = assess.Unknown
		}
		t.Side.add(side.String())
		t.Loss, t.Remaining = append(t.Loss, maybe(f.Loss)), append(t.Remaining, maybe[unit.Length](f.Remaining))
		t.Band = append(t.Band, bandOf(fl.Loss, f.Loss.Float))
		t.Basis.add(string(f.Basis))
		t.Class.add(p.Class.Words())
		row, ok := rows[p.New]
		if p.New < 0 || !ok {
			row = -1
			if p.Why != "" {
				t.Why[strconv.Itoa(n)] = p.Why
			}
		} else {
			then[strconv.Itoa(row)] = n
		}
		t.Now = append(t.Now, row)
	}
	t.Count = len(t.ID)
}

// turnedAt is how a former place's box lies in plan, degrees anticlockwise.
func turnedAt(a *rules.Assessment, f *compare.Former) float64 {
	if f.Elsewhere || f.Plate < 0 {
		return 0
	}
	if p := &a.Plan.Plates[f.Plate]; !p.Sector {
		return p.Turned
	}
	return -(math.Atan2(f.At.X, f.At.Y) * 180 / math.Pi)
}
