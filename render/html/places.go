package html

import (
	"encoding/json"
	"slices"
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
	Plate     []int                `json:"plate"` // index in plates, -1 without one
	Alone     []int                `json:"alone"` // rows that are prove-ups tied to no indication
	X         []number             `json:"x"`     // from the datum
	Y         []number             `json:"y"`
	At        [][2]number          `json:"at"`   // in plan; empty without a place
	Half      map[string][2]number `json:"half"` // half extents, where they are not those of length and width
	Turned    []number             `json:"turned"`
	Side      list                 `json:"side"`
	Zone      list                 `json:"zone"`
	Method    list                 `json:"method"`
	Verdict   list                 `json:"verdict"`
	Basis     list                 `json:"basis"`
	Type      list                 `json:"type"`
	By        list                 `json:"by"`
	Date      list                 `json:"date"`
	Repair    list                 `json:"repair"`
	Loss      []number             `json:"loss"`
	Band      []int                `json:"band"`
	Allowance []number             `json:"allowance"`
	Remaining []number             `json:"remaining"`
	Required  []number             `json:"required"`
	Margin    []number             `json:"margin"`
	Length    []number             `json:"length"`
	Width     []number             `json:"width"`
	Row       []int                `json:"row"`
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
}

// list is a column of words: the words once, then their numbers; one number
// when all rows have the same.
type list struct {
	Words []string
	Of    []int
}

func (l list) MarshalJSON() ([]byte, error) {
	var of any = l.Of
	if same := slices.Compact(slices.Clone(l.Of)); len(same) == 1 {
		of = same[0]
	}
	words := l.Words
	if words == nil {
		words = []string{}
	}
	return json.Marshal(map[string]any{"of": of, "words": words})
}

func (l *list) add(word string) {
	i := slices.Index(l.Words, word)
	if i < 0 {
		i = len(l.Words)
		l.Words = append(l.Words, word)
	}
	l.Of = append(l.Of, i)
}

// start puts words in their usual order before the rows bring theirs.
func start(words ...string) list { return list{Words: words, Of: []int{}} }

func (d *data) places(a *rules.Assessment, fl *draw.Floor, photos *shelf) {
	p := &d.Places
	*p = placesPart{
		Alone: []int{}, Proved: []int{}, Faint: []int{}, Hole: []int{}, ByPlace: []int{},
		Half: map[string][2]number{}, Long: map[string]string{}, Remarks: map[string]string{}, Photos: map[string][]int{}, Key: map[string]string{}, Typed: map[string]string{},
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
	p.At = append(p.At, at)
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
	p.Margin = append(p.Margin, maybe(l.Margin))
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
