package draw

import "platebook/rules/assess"

// key explains what is drawn on this plate, and nothing else.
func (d *detail) key(spots []spot) {
	d.legend.heading("Signs")
	datum := func(b *board, c point) {
		b.shape(Path{Fill: steel, Class: "datum"}, []point{{c.x - 1.2, c.y + 1}, {c.x + 1.2, c.y + 1}, {c.x - 1.2, c.y - 1.4}})
	}
	_, placed := d.a.Plan.ToLocal(d.plate, 0, 0)
	switch {
	case !placed:
		d.legend.text("The plate's datum corner is unusable: X and Y cannot be given")
	case d.sector:
		d.legend.entry("datum: X clockwise along the shell from the first radial seam, Y inward from the shell", datum)
	default:
		d.legend.entry("datum corner of the plate before cutting: X along its length, Y along its width", datum)
	}
	line := func(p Path) func(b *board, c point) {
		return func(b *board, c point) { b.line(p, point{c.x - 1.6, c.y}, point{c.x + 1.6, c.y}) }
	}
	list := []item{{"plate's edge", line(Path{Stroke: ink, Width: strong})}}
	if len(d.laps()) > 0 {
		list = append(list, item{"middle of the lap with the next plate", line(lapPath)})
	}
	if d.trimmed {
		list = append(list, item{"before cutting", line(uncutPath)})
	}
	if d.measured {
		list = append(list, item{"distance to a centre", line(dimensionPath)})
	}
	if d.sector {
		list = append(list, item{"shell, inside face", line(Path{Stroke: ink, Width: 0.8})})
	}
	d.legend.items(list)
	if len(d.old) > 0 {
		d.legend.entry("patch found on the floor: "+some(d.old, 6), func(b *board, c point) {
			b.box(patchPath, rect{c.x - 1.9, c.y - 1.3, c.x + 1.9, c.y + 1.3})
		})
	}
	if len(d.stands) > 0 {
		var names []string
		for _, s := range d.stands {
			names = append(names, s.name)
		}
		d.legend.entry("on the floor here: "+some(names, 6), func(b *board, c point) { b.box(fixturePath, rect{c.x - 1.4, c.y - 1.4, c.x + 1.4, c.y + 1.4}) })
	}
	d.legend.items(d.markItems(spots))
}

// markItems explains the marks that stand on the plate: side, prove-up, band of
// loss.
func (d *detail) markItems(spots []spot) (list []item) {
	bands := lossScale(d.a)
	sides := map[assess.Side]bool{}
	shown := make([]bool, len(bands.names))
	proved, faint, unknown := false, false, false
	for i := range spots {
		m := &spots[i]
		if m.faint {
			faint = true
			continue
		}
		sides[m.side] = true
		proved = proved || m.proved
		if m.band >= 0 {
			shown[m.band] = true
		} else {
			unknown = true
		}
	}
	sign := func(m spot, fill Paint) func(b *board, c point) {
		return func(b *board, c point) {
			m.at, m.a, m.b = c, 1.6, 1.25
			mark(b, &m, fill)
		}
	}
	for _, s := range [...]struct {
		side assess.Side
		text string
	}{{assess.Soil, "soil side"}, {assess.Product, "product side"}, {assess.Unknown, "side unknown"}} {
		if sides[s.side] {
			list = append(list, item{s.text, sign(spot{side: s.side}, bands.paint(len(bands.names)/2))})
		}
	}
	if proved {
		list = append(list, item{"proved up", sign(spot{side: assess.Soil, proved: true}, bands.paint(1))})
	}
	if faint {
		list = append(list, item{"not relevant or excluded", sign(spot{side: assess.Soil, faint: true}, paper)})
	}
	box := func(fill Paint, letter string) func(b *board, c point) {
		return func(b *board, c point) {
			b.box(Path{Fill: fill, Stroke: ink, Width: fine, Class: "band"}, rect{c.x - 1.6, c.y - 1.4, c.x + 1.6, c.y + 1.4})
			b.label(Label{Text: letter, X: c.x, Y: c.y, Size: leastSize, Anchor: Centre, Middle: true, Bold: true, Paint: over(fill), Class: "band"})
		}
	}
	for i := len(shown) - 1; i >= 0; i-- {
		if shown[i] {
			list = append(list, item{"loss " + bands.names[i], box(bands.paint(i), bands.letter(i))})
		}
	}
	if unknown {
		list = append(list, item{"loss unknown", box(paper, "?")})
	}
	return list
}
