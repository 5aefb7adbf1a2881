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

// table is the places as rows, the least margin first, for a browser without
// script.
func table(a *rules.Assessment) string {
	sys := a.Inspection.Units
	rows := placesOf(a)
	slices.SortStableFunc(rows, func(x, y int) int {
		a, b := &a.Result.Locations[x], &a.Result.Locations[y]
		if a.Margin.Known != b.Margin.Known {
			if a.Margin.Known {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Margin.V, b.Margin.V)
	})
	var b strings.Builder
	cell := func(s string) {
		b.WriteString("<td>")
		b.WriteString(html.EscapeString(legible(s)))
	}
	bare := func(k unit.Kind, v float64, known bool) {
		if !known {
			cell("–")
			return
		}
		cell(k.Text(sys, v, 0))
	}
	for _, i := range rows {
		l := &a.Result.Locations[i]
		p := recordOf(a, l)
		loss, known := draw.LossOf(l)
		b.WriteString("<tr>")
		cell(p.plate)
		cell(p.name)
		bare(unit.Position, float64(p.x.Value), p.x.OK())
		bare(unit.Position, float64(p.y.Value), p.y.OK())
		cell(l.Side.String())
		cell(orDash(string(l.Zone)))
		cell(orDash(p.method))
		bare(unit.Share, loss, known)
		bare(unit.Thickness, float64(l.Remaining.V), l.Remaining.Known)
		cell(orDash(string(l.Basis)))
		bare(unit.Thickness, float64(l.Required.V), l.Required.Known)
		bare(unit.Thickness, float64(l.Margin.V), l.Margin.Known)
		cell(orDash(string(l.Verdict)))
		cell(l.Repair)
		b.WriteByte('\n')
	}
	return b.String()
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
