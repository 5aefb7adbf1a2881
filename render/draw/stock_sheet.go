package draw

import (
	"math"
	"strconv"

	"platebook/rules"
	"platebook/rules/unit"
)

// StockSheet is one stock sheet as it is cut: pieces with mark, size and place,
// trim, and the offcuts worth keeping. Nil for a sheet that does not exist.
func StockSheet(a *rules.Assessment, s Sheet, group, sheet int) *Scene {
	if a.Repairs == nil || group < 0 || group >= len(a.Repairs.Cutting.Groups) {
		return nil
	}
	g := &a.Repairs.Cutting.Groups[group]
	if g.Layout == nil || sheet < 0 || sheet >= len(g.Layout.Sheets) {
		return nil
	}
	cut := &g.Layout.Sheets[sheet]
	if s.Width <= 0 {
		s.Width = 170
	}
	const head, foot, side = 5.5, 6, 3.0
	k := (s.Width - 2*side) / cut.Size.Length
	if s.Height > 0 {
		k = math.Min(k, (s.Height-head-foot)/cut.Size.Width)
	}
	b := &board{scene: &Scene{
		Name: "stock sheet " + strconv.Itoa(group+1) + "-" + strconv.Itoa(sheet+1), Title: "Stock sheet",
		Width: s.Width, Height: head + cut.Size.Width*k + foot,
	}}
	sys := a.Inspection.Units
	size := func(v float64) string { return unit.Size.Text(sys, v, 0) }
	at := func(x, y, w, h float64) rect {
		top := head + cut.Size.Width*k
		return rect{side + x*k, top - (y+h)*k, side + (x+w)*k, top - y*k}
	}
	whole := at(0, 0, cut.Size.Length, cut.Size.Width)
	b.box(Path{Fill: haze, Stroke: ink, Width: strong, Class: "stock"}, whole)
	for _, o := range cut.Offcuts {
		r := at(o.X, o.Y, o.Length, o.Width)
		b.box(Path{Fill: paper, Stroke: steel, Width: fine, Dash: []float64{1.6, 1}, Class: "offcut"}, r)
		b.within(r, []string{"offcut", size(o.Length) + " × " + size(o.Width)}, 2.3, steel)
	}
	for _, p := range cut.Pieces {
		piece := &g.Pieces[p.Piece]
		r := at(p.X, p.Y, p.Length, p.Width)
		b.box(Path{Fill: ramp[1], Stroke: ink, Width: plain, Class: "piece", ID: piece.Mark}, r)
		it := &a.Repairs.Items[piece.Item]
		switch {
		case b.within(r, []string{piece.Mark, size(float64(piece.Length)) + " × " + size(float64(piece.Width))}, leastSize, ink):
		case b.within(r, []string{it.Label}, leastSize, ink):
		default:
			// Smaller than other words, and larger than nothing: the list beside it
			// has the place of every piece.
			b.within(r, []string{it.Label}, 1.2, ink)
		}
	}
	b.label(Label{
		Text: "Sheet " + size(cut.Size.Length) + " × " + size(cut.Size.Width) + " × " + unit.Thickness.TextUnit(sys, float64(g.Thickness), 0) + ", " + plural(len(cut.Pieces), "piece", "pieces"),
		X:    side, Y: head - 1.8, Size: 2.8, Bold: true, Paint: ink, Class: "stock-title",
	})
	b.label(Label{
		Text: "X from the left, Y from below; sizes in " + unit.Size.Unit(sys) + ". Dashed: offcut worth keeping. Grey: trim, kerf and waste.",
		X:    side, Y: b.scene.Height - 1.6, Size: leastSize, Paint: steel, Class: "stock-note",
	})
	return b.scene
}

// within writes lines in the middle of a box when they fit there.
func (b *board) within(r rect, lines []string, em float64, paint Paint) bool {
	high := float64(len(lines)) * em * 1.25
	wide := 0.0
	for _, l := range lines {
		wide = math.Max(wide, Width(l, em, true))
	}
	if wide > r.width()-0.6 || high > r.height()-0.4 {
		return false
	}
	for i, l := range lines {
		y := r.centre().y - high/2 + (float64(i)+0.5)*em*1.25
		b.label(Label{Text: l, X: r.centre().x, Y: y, Size: em, Anchor: Centre, Middle: true, Bold: i == 0, Paint: paint, Class: "piece-label"})
	}
	return true
}
