package report

import (
	"fmt"
	"slices"

	"platebook/render/draw"
	"platebook/rules/repair"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// blanks is the patches' steel: what is to be cut, what fits no sheet, and the
// mass of all.
func (w *writer) blanks() string {
	r := w.a.Repairs
	s := spelling.Count(r.Pieces, "piece", "pieces")
	apart, done := 0, 0
	for _, o := range r.Cutting.Separate {
		if r.Items[o.Item].Kind == repair.Patch {
			apart++
		}
	}
	if apart == 0 {
		s += " to cut"
	} else {
		s += fmt.Sprintf(", %d of them ordered separately", apart)
	}
	for i := range r.Items {
		if it := &r.Items[i]; it.Kind == repair.Patch && it.Completed {
			done++
		}
	}
	if done == 0 {
		return s + ", " + full(w, unit.MassKind, r.Mass)
	}
	return fmt.Sprintf("%s, %d completed; %s in all", s, done, full(w, unit.MassKind, r.Mass))
}

// cutting is the cutting list: pieces by thickness with their marks, and each
// sheet.
func (w *writer) cutting() []Block {
	r := w.a.Repairs
	if len(r.Cutting.Groups)+len(r.Cutting.Separate)+len(r.Cutting.Unknown) == 0 {
		return nil
	}
	blocks := []Block{Heading{2, "Cutting list"}}
	size := func(v float64) string { return unit.Size.Text(w.sys, v, 0) }
	sheets := 0
	for gi, g := range r.Cutting.Groups {
		t := Table{Caption: "Pieces of " + unit.Thickness.TextUnit(w.sys, float64(g.Thickness), 0), Columns: []Column{
			{Head: "Mark", Share: 1.6},
			{Head: w.head("Length", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Width", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Radius", unit.Size), Align: Right, Share: 1},
			{Head: w.head("Mass", unit.MassKind), Align: Right, Share: 1},
			{Head: "Sheet", Align: Right, Share: 0.8},
			{Head: w.head("X", unit.Size), Align: Right, Share: 0.9},
			{Head: w.head("Y", unit.Size), Align: Right, Share: 0.9},
		}, Note: "Paint the mark, repair and plate, on each piece. X and Y: from the sheet's corner to the piece's near corner. Each mass is rounded by itself; their total is of the unrounded ones."}
		at := g.Places()
		remarks := slices.ContainsFunc(at, func(q repair.Place) bool { return q.Sheet < 0 || q.Turned })
		if remarks {
			t.Columns = append(t.Columns, Column{Head: "Remark", Share: 1})
		}
		for i, p := range g.Pieces {
			row := []string{
				p.Mark, size(float64(p.Length)), size(float64(p.Width)), size(float64(p.Radius)),
				unit.MassKind.Text(w.sys, float64(repair.BlankMass(p.Length, p.Width, g.Thickness)), 0),
			}
			remark := ""
			switch q := at[i]; {
			case q.Sheet < 0:
				row = append(row, none, none, none)
				remark = "no sheet"
			default:
				row = append(row, fmt.Sprint(sheets+q.Sheet+1), size(q.X), size(q.Y))
				if q.Turned {
					remark = "turned"
				}
			}
			if remarks {
				row = append(row, remark)
			}
			t.Rows = append(t.Rows, Row{Cells: row})
		}
		blocks = append(blocks, t)
		if g.Layout == nil {
			blocks = append(blocks, Caution{Title: "No layout", Text: g.Why})
			continue
		}
		for si := range g.Layout.Sheets {
			sheets++
			if s := draw.StockSheet(w.a, draw.Sheet{Width: 170, Height: 110}, gi, si); s != nil {
				blocks = append(blocks, Figure{Scene: s, Caption: fmt.Sprintf("Stock sheet %d", sheets)})
			}
		}
	}
	var apart []string
	for _, s := range r.Cutting.Separate {
		it := &r.Items[s.Item]
		apart = append(apart, fmt.Sprintf("%s, plate %s: %s × %s × %s, %s", it.Label, w.in.Plates[it.Plate].Label.Text,
			size(float64(it.Length)), size(float64(it.Width)), full(w, unit.Thickness, it.Thickness), s.Why))
	}
	for _, n := range r.Cutting.Unknown {
		apart = append(apart, r.Items[n].Label+": thickness or size not known, not in the list")
	}
	if len(apart) > 0 {
		blocks = append(blocks, Heading{3, "Ordered separately"}, List{apart})
	}
	return blocks
}
