package draw

import (
	"math"

	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// plateStyle says how a plan paints its plates.
type plateStyle struct {
	fill func(i int) Paint // nil: white, the annular ring apart
	edge Paint
	cast bool // a light line beneath each edge, to be seen between dark plates
	lap  bool // show both edges of a lap where paper has room for them
}

// lapShown is the least width of a lap on paper at which both of its edges
// are drawn; narrower ones would be one thick line.
const lapShown = 0.35

// drawPlates paints the plates in sheet order, then their edges.
func (f *frame) drawPlates(st plateStyle) {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		fill := paper
		if p.Sector {
			fill = haze
		}
		if st.fill != nil {
			fill = st.fill(i)
		}
		f.shape(Path{Fill: fill, Class: "plate", ID: f.plateName(i), EvenOdd: true}, f.view.shape(visible(p))...)
	}
	f.drawEdges(st)
}

func (f *frame) drawEdges(st plateStyle) {
	plan := f.a.Plan
	for i := range plan.Plates {
		if p := &plan.Plates[i]; st.cast && p.Placed && len(p.Cut) > 0 {
			f.shape(Path{Stroke: paper, Width: strong, Class: "cast"}, f.view.shape(visible(p))...)
		}
	}
	laps := st.lap && plan.Lap*f.view.k >= lapShown
	for i := range plan.Plates {
		p := &plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		if laps && !p.Sector {
			f.shape(Path{Stroke: st.edge, Width: fine, Class: "lap"}, f.view.shape(p.Cut)...)
			continue
		}
		f.shape(Path{Stroke: st.edge, Width: plain, Class: "edge"}, f.view.shape(visible(p))...)
	}
}

// visible is the plate less half of each lap, so that neighbours share a line.
func visible(p *floor.Plate) floor.Shape {
	if len(p.Net) > 0 {
		return p.Net
	}
	return p.Cut
}

func (f *frame) plateName(i int) string {
	if f.a.Inspection == nil || i < 0 || i >= len(f.a.Inspection.Plates) {
		return ""
	}
	return f.a.Inspection.Plates[i].Label.Value
}

// drawShell draws the shell's inside and the rim of the floor plates.
func (f *frame) drawShell() {
	plan := f.a.Plan
	if plan == nil || plan.Radius <= 0 {
		return
	}
	c := f.view.pt(floor.Point{})
	if plan.Rim > 0 && plan.Rim < plan.Radius {
		f.circle(Path{Stroke: steel, Width: plain, Class: "rim"}, c, plan.Rim*f.view.k)
	}
	f.circle(Path{Stroke: ink, Width: heavy, Class: "shell"}, c, plan.Radius*f.view.k+heavy/2)
}

// keepOffShell keeps words off the heavy line.
func (f *frame) keepOffShell() {
	if f.a.Plan.Radius <= 0 {
		return
	}
	c, r := f.view.pt(floor.Point{}), f.a.Plan.Radius*f.view.k+heavy/2
	n := max(12, int(2*math.Pi*r/0.7))
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		if b := (rect{c.x + r*cos, c.y + r*sin, c.x + r*cos, c.y + r*sin}).grow(0.4); b.meets(*f.clip) {
			f.taken.add(b)
		}
	}
}

// unplaced lists plates without a place in plan.
func (f *frame) unplaced() {
	plan := f.a.Plan
	if plan == nil {
		return
	}
	var names, why []string
	for i := range plan.Plates {
		if p := &plan.Plates[i]; !p.Placed || len(p.Cut) == 0 {
			names = append(names, f.plateName(i))
			if p.Why != "" {
				why = append(why, f.plateName(i)+" ("+p.Why+")")
			}
		}
	}
	// A few are told with the reason; many would fill the sheet.
	if len(why) == len(names) && len(names) <= 3 {
		names = why
	}
	f.legend.names("Plates without a place in plan", names)
}

// rowKey is a row's key, or its sheet and number when it has none.
func rowKey(r inspection.Row) string {
	if r.Key != "" {
		return r.Key
	}
	return r.Sheet + " row " + count(r.Number)
}
