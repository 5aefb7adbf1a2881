package html

import (
	"cmp"
	"html"
	"slices"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// rows is the table for a browser without script: the places, the least margin
// first. What all of them share is said once, above it.
type rows struct {
	Heads []string
	Same  [][2]string
	Body  string // HTML
}

// column is one column of it.
type column struct {
	head string
	text func(*assess.Location, *record) string
}

func columnsOf(a *rules.Assessment, words map[string]string) []column {
	sys := a.Inspection.Units
	bare := func(k unit.Kind, v float64, known bool) string {
		if !known {
			return "–"
		}
		return k.Text(sys, v, 0)
	}
	length := func(m unit.Maybe[unit.Length]) string { return bare(unit.Thickness, float64(m.V), m.Known) }
	in := func(word string, k unit.Kind) string { return words[word] + ", " + k.Unit(sys) }
	list := []column{
		{words["plate"], func(_ *assess.Location, p *record) string { return p.plate }},
		{words["number"], func(_ *assess.Location, p *record) string { return p.name }},
		{in("x", unit.Position), func(_ *assess.Location, p *record) string {
			return bare(unit.Position, float64(p.x.Value), p.x.OK())
		}},
		{in("y", unit.Position), func(_ *assess.Location, p *record) string {
			return bare(unit.Position, float64(p.y.Value), p.y.OK())
		}},
		{words["side"], func(l *assess.Location, _ *record) string { return l.Side.String() }},
		{words["zone"], func(l *assess.Location, _ *record) string { return orDash(string(l.Zone)) }},
		{words["method"], func(_ *assess.Location, p *record) string { return orDash(p.method) }},
		{in("loss", unit.Share), func(l *assess.Location, _ *record) string {
			loss, known := draw.LossOf(l)
			return bare(unit.Share, loss, known)
		}},
		{in("remaining", unit.Thickness), func(l *assess.Location, _ *record) string { return length(l.Remaining) }},
		{words["basis"], func(l *assess.Location, _ *record) string { return orDash(string(l.Basis)) }},
		{in("required", unit.Thickness), func(l *assess.Location, _ *record) string { return length(l.Required) }},
		{in("margin", unit.Thickness), func(l *assess.Location, _ *record) string { return length(l.Margin) }},
		{words["verdict"], func(l *assess.Location, _ *record) string { return orDash(string(l.Verdict)) }},
		{words["repair"], func(l *assess.Location, _ *record) string { return l.Repair }},
	}
	if became := becameOf(a); became != nil {
		list = append(list, column{words["since"], func(l *assess.Location, _ *record) string { return became[l] }})
	}
	return list
}

// becameOf is what became of each place since the previous inspection, nil
// without a comparison.
func becameOf(a *rules.Assessment) map[*assess.Location]string {
	if a.Comparison == nil || len(a.Comparison.Refused) > 0 {
		return nil
	}
	out := map[*assess.Location]string{}
	for i := range a.Comparison.Pairs {
		if p := &a.Comparison.Pairs[i]; p.New >= 0 && p.New < len(a.Result.Locations) {
			out[&a.Result.Locations[p.New]] = p.Class.Words()
		}
	}
	return out
}

func table(a *rules.Assessment, words map[string]string) rows {
	places := byMargin(a)
	columns := columnsOf(a, words)
	cells := make([][]string, len(columns))
	for _, i := range places {
		l := &a.Result.Locations[i]
		p := recordOf(a, l)
		for k := range columns {
			cells[k] = append(cells[k], columns[k].text(l, &p))
		}
	}
	out := rows{}
	var kept [][]string
	for k, c := range cells {
		if k > 1 && len(c) > 1 && len(slices.Compact(slices.Clone(c))) == 1 {
			out.Same = append(out.Same, [2]string{columns[k].head, orDash(c[0])})
			continue
		}
		out.Heads = append(out.Heads, columns[k].head)
		kept = append(kept, c)
	}
	var b strings.Builder
	for n := range places {
		b.WriteString("<tr>")
		for _, c := range kept {
			b.WriteString("<td>")
			b.WriteString(html.EscapeString(legible(c[n])))
		}
		b.WriteByte('\n')
	}
	out.Body = b.String()
	return out
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// placesOf is the indications, and the prove-ups tied to none, in sheet order.
func placesOf(a *rules.Assessment) []int {
	var out []int
	for i := range a.Result.Locations {
		switch a.Result.Locations[i].Kind {
		case assess.IndicationAt, assess.ProveUpAt:
			out = append(out, i)
		}
	}
	return out
}

// byMargin is the places, the least margin first, unknown ones last.
func byMargin(a *rules.Assessment) []int {
	out := placesOf(a)
	slices.SortStableFunc(out, func(x, y int) int {
		a, b := &a.Result.Locations[x], &a.Result.Locations[y]
		if a.Margin.Known != b.Margin.Known {
			if a.Margin.Known {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Margin.V, b.Margin.V)
	})
	return out
}

// record is what a person wrote of a place.
type record struct {
	plate, name   string
	x, y          inspection.Length
	length, width inspection.Length
	method, kind  string
	row           inspection.Row
	by            string
	date          string
	remarks       string
	photos        string
}

func recordOf(a *rules.Assessment, l *assess.Location) record {
	in := a.Inspection
	if l.Kind == assess.ProveUpAt {
		r := &in.ProveUps[l.ProveUp]
		return record{
			plate: r.Plate.Text, name: r.ID.Text, x: r.X, y: r.Y, method: "", kind: "prove-up", row: r.Row,
			by: r.By.Or(""), date: r.Date.Value.String(), remarks: r.Remarks.Or(""),
		}
	}
	r := &in.Indications[l.Indication]
	return record{
		plate: r.Plate.Text, name: r.ID.Text, x: r.X, y: r.Y, length: r.Length, width: r.Width,
		method: r.Method.Or(""), kind: r.Kind.Or(""), row: r.Row,
		by: r.By.Or(""), date: r.Date.Value.String(), remarks: r.Remarks.Or(""), photos: r.Photo.Or(""),
	}
}
