package draw

import (
	"math"
	"strconv"

	"platebook/rules"
	"platebook/rules/spelling"
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
	var small []marked
	pieces := make([]rect, 0, len(cut.Pieces))
	for _, p := range cut.Pieces {
		piece := &g.Pieces[p.Piece]
		r := at(p.X, p.Y, p.Length, p.Width)
		b.box(Path{Fill: ramp[1], Stroke: ink, Width: plain, Class: "piece", ID: piece.Mark}, r)
		it := &a.Repairs.Items[piece.Item]
		switch {
		case b.within(r, []string{piece.Mark, size(float64(piece.Length)) + " × " + size(float64(piece.Width))}, leastSize, ink):
		case b.within(r, []string{it.Label}, leastSize, ink):
		default:
			small = append(small, marked{r, it.Label})
		}
		pieces = append(pieces, r)
	}
	unmarked := b.markBeside(whole, pieces, small)
	b.label(Label{
		Text: "Sheet " + size(cut.Size.Length) + " × " + size(cut.Size.Width) + " × " + unit.Thickness.TextUnit(sys, float64(g.Thickness), 0) + ", " + spelling.Count(len(cut.Pieces), "piece", "pieces"),
		X:    side, Y: head - 1.8, Size: 2.8, Bold: true, Paint: ink, Class: "stock-title",
	})
	note := "X from the left, Y from below; sizes (" + unit.Size.Unit(sys) + "). Dashed: offcut worth keeping. Grey: trim, kerf and waste."
	if unmarked > 0 {
		note += " " + spelling.Count(unmarked, "mark", "marks") + " without room: see the list."
	}
	b.label(Label{
		Text: note, X: side, Y: b.scene.Height - 1.6, Size: leastSize, Paint: steel, Class: "stock-note",
	})
	return b.scene
}

// marked is a piece with its mark.
type marked struct {
	at   rect
	mark string
}

// markBeside writes the marks of pieces too small to hold them beside those, each
// at the end of a leader, and counts those that find no room.
func (b *board) markBeside(sheet rect, pieces []rect, small []marked) (unmarked int) {
	if len(small) == 0 {
		return 0
	}
	f := &frame{board: board{scene: b.scene}, taken: newOccupied(sheet), marks: newOccupied(sheet)}
	for _, r := range pieces {
		f.marks.add(r)
	}
	for _, it := range b.scene.Items {
		if l, ok := it.(Label); ok {
			f.taken.add(l.box().grow(0.3))
		}
	}
	l := f.leads(nil)
	for _, p := range small {
		w := Label{Text: brief(p.mark, leastSize, true), Size: leastSize, Bold: true, Paint: ink, Halo: true, Class: "piece-label"}
		if !l.led(w, p.at, 60) {
			unmarked++
		}
	}
	return unmarked
}

// within writes lines in the middle of a box when they fit there.
func (b *board) within(r rect, lines []string, em float64, paint Paint) bool {
	high := float64(len(lines)) * em * 1.25
	wide := 0.0
	for _, l := range lines {
		wide = math.Max(wide, Width(l, em, true))
	}
	if wide > r.width()-0.3 || high > r.height()-0.4 {
		return false
	}
	for i, l := range lines {
		y := r.centre().y - high/2 + (float64(i)+0.5)*em*1.25
		b.label(Label{Text: l, X: r.centre().x, Y: y, Size: em, Anchor: Centre, Middle: true, Bold: i == 0, Paint: paint, Class: "piece-label"})
	}
	return true
}
