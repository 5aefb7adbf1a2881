package html

import (
	"strconv"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
)

// placesPart is the indications, and the prove-ups tied to none, in sheet
// order and column by column: thousands of rows stay small. What few rows
// have is by row number.
type placesPart struct {
	Count     int                  `json:"count"`
	ID        []string             `json:"id"`
	Plate     indices              `json:"plate"` // index in plates, -1 without one
	Alone     []int                `json:"alone"` // rows that are prove-ups tied to no indication
	X         numbers              `json:"x"`     // from the datum
	Y         numbers              `json:"y"`
	PlanX     numbers              `json:"planX"` // null without a place
	PlanY     numbers              `json:"planY"` // y upward
	Half      map[string][2]number `json:"half"`  // half extents, where they are not those of length and width
	Turned    numbers              `json:"turned"`
	Side      list                 `json:"side"`
	Zone      list                 `json:"zone"`
	Method    list                 `json:"method"`
	Verdict   list                 `json:"verdict"`
	Basis     list                 `json:"basis"`
	Type      list                 `json:"type"`
	By        list                 `json:"by"`
	Date      list                 `json:"date"`
	Repair    list                 `json:"repair"`
	Loss      numbers              `json:"loss"`
	Band      indices              `json:"band"`
	Allowance numbers              `json:"allowance"`
	Remaining numbers              `json:"remaining"`
	Required  numbers              `json:"required"`
	Margin    map[string]number    `json:"margin"` // where it is not the remaining thickness less the required
	Length    numbers              `json:"length"`
	Width     numbers              `json:"width"`
	Row       indices              `json:"row"`
	Sheets    list                 `json:"sheets"`
	Proved    []int                `json:"proved"` // rows proved up
	Faint     []int                `json:"faint"`  // rows that count for nothing: not relevant, excluded
	Hole      []int                `json:"hole"`
	ByPlace   []int                `json:"byPlace"` // rows tied by position, not by name
	Long      map[string]string    `json:"long"`    // outlines that bend along the shell
	Remarks   map[string]string    `json:"remarks"`
	Photos    map[string][]int     `json:"photos"`
	Key       map[string]string    `json:"key"`   // row keys that are not plate/number
	Typed     map[string]string    `json:"typed"` // plates that are in no row of Plates
	Class     list                 `json:"class"` // since the previous inspection
	Then      map[string]int       `json:"then"`  // the place of the previous inspection that it was
	Change    map[string]change    `json:"change"`
}

func (d *data) places(a *rules.Assessment, fl *draw.Floor, photos *shelf) {
	p := &d.Places
	*p = placesPart{
		ID: []string{}, Alone: []int{}, Proved: []int{}, Faint: []int{}, Hole: []int{}, ByPlace: []int{},
		Margin: map[string]number{}, Half: map[string][2]number{}, Long: map[string]string{}, Remarks: map[string]string{}, Photos: map[string][]int{}, Key: map[string]string{}, Typed: map[string]string{},
		Then: map[string]int{}, Change: map[string]change{},
		Basis: start(), Type: start(), By: start(), Date: start(), Repair: start(), Sheets: start(), Class: classes(),
		Side: start("product", "soil", "unknown"), Zone: start("general", "critical", "annular"),
		Method:  start("MFL", "hand scan", "UT", "visual"),
		Verdict: start(string(assess.RepairFirst), string(assess.Repair), string(assess.Engineering), string(assess.Leave), string(assess.Repaired), string(assess.Excluded), string(assess.NotRelevant)),
	}
	for i := range fl.Spots {
		p.add(a, &fl.Spots[i], photos)
		l := &a.Result.Locations[fl.Spots[i].Location]
		if l.Kind == assess.IndicationAt {
			for _, u := range l.Tied {
				d.Proved = append(d.Proved, provedOf(a, l, u, i))
			}
		}
	}
	p.Count = len(p.ID)
}

func (p *placesPart) add(a *rules.Assessment, s *draw.Spot, photos *shelf) {
	l := &a.Result.Locations[s.Location]
	r := recordOf(a, l)
	i := len(p.ID)
	key := strconv.Itoa(i)
	p.ID = append(p.ID, oneLine(r.name))
	p.Plate = append(p.Plate, l.Plate)
	plate := ""
	if l.Plate >= 0 {
		plate = oneLine(a.Inspection.Plates[l.Plate].Label.Text)
	} else {
		plate = oneLine(r.plate)
		p.Typed[key] = plate
	}
	if l.Label != plate+"/"+oneLine(r.name) {
		p.Key[key] = l.Label
	}
	if l.Kind == assess.ProveUpAt {
		p.Alone = append(p.Alone, i)
	}
	p.X, p.Y = append(p.X, typed(r.x)), append(p.Y, typed(r.y))
	at := [2]number{}
	if s.Placed {
		at = [2]number{place(s.X), place(-s.Y)}
		if s.A != float64(r.length.Value)/2 || s.B != float64(r.width.Value)/2 || !r.length.OK() || !r.width.OK() {
			p.Half[key] = [2]number{place(s.A), place(s.B)}
		}
	}
	p.PlanX, p.PlanY = append(p.PlanX, at[0]), append(p.PlanY, at[1])
	p.Turned = append(p.Turned, number{s.Turned, s.Placed})
	if len(s.Long.Segments) > 0 {
		p.Long[key] = s.Long.Data(0)
	}
	p.Side.add(s.Side.String())
	p.Zone.add(string(l.Zone))
	p.Method.add(r.method)
	p.Verdict.add(string(l.Verdict))
	p.Basis.add(string(l.Basis))
	p.Type.add(r.kind)
	p.By.add(oneLine(r.by))
	p.Date.add(r.date)
	p.Repair.add(oneLine(l.Repair))
	p.Loss, p.Band = append(p.Loss, number{s.Loss, s.Known}), append(p.Band, s.Band)
	p.Allowance = append(p.Allowance, maybe(l.Allowance))
	p.Remaining, p.Required = append(p.Remaining, maybe(l.Remaining)), append(p.Required, maybe(l.Required))
	if m := maybe(l.Margin); m.known != (l.Remaining.Known && l.Required.Known) ||
		m.known && millionth(m.v) != millionth(millionth(float64(l.Remaining.V))-millionth(float64(l.Required.V))) {
		p.Margin[key] = m
	}
	p.Length, p.Width = append(p.Length, typed(r.length)), append(p.Width, typed(r.width))
	p.Row = append(p.Row, r.row.Number)
	p.Sheets.add(r.row.Sheet)
	mark := func(list *[]int, on bool) {
		if on {
			*list = append(*list, i)
		}
	}
	mark(&p.Proved, s.Proved)
	mark(&p.Faint, s.Faint)
	mark(&p.Hole, l.Hole)
	mark(&p.ByPlace, l.TiedByPlace)
	if t := oneLine(r.remarks); t != "" {
		p.Remarks[key] = t
	}
	if found := photos.of(r.plate, r.name, r.photos, l.Kind == assess.IndicationAt); len(found) > 0 {
		p.Photos[key] = found
	}
}

func provedOf(a *rules.Assessment, l *assess.Location, u, place0 int) provedPart {
	r := &a.Inspection.ProveUps[u]
	out := provedPart{
		ID: oneLine(r.ID.Text), Place: place0, Remaining: typed(r.Remaining), Means: "UT",
	}
	if !r.Remaining.OK() {
		out.Means = "pit gauge"
	}
	if r.X.OK() && r.Y.OK() && l.Plate >= 0 && samePlate(a, r, l.Plate) {
		if at, ok := a.Plan.ToPlan(l.Plate, float64(r.X.Value), float64(r.Y.Value)); ok {
			out.Placed, out.At = true, [2]number{place(at.X), place(at.Y)}
		}
	}
	return out
}

func samePlate(a *rules.Assessment, r *inspection.ProveUp, plate int) bool {
	return !r.Plate.OK() || inspection.Fold(r.Plate.Value) == inspection.Fold(a.Inspection.Plates[plate].Label.Value)
}
