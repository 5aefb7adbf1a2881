package check

import (
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// gap is something a row of its kind needs and lacks.
type gap struct {
	names []string
	at    finding.Ref
}

// lack adds a blank field to the gap. A field that is wrong is reported as
// such and is not lacking.
func lack[T any](g *gap, name string, f inspection.Field[T]) {
	if f.State == inspection.Blank || f.State == inspection.Left {
		g.names = append(g.names, name)
		if !g.at.IsCell() {
			g.at = f.Ref
		}
	}
}

// none says whether all of the states are blank.
func none(states ...inspection.State) bool {
	for _, s := range states {
		if s == inspection.Given || s == inspection.Wrong {
			return false
		}
	}
	return true
}

func (j *judge) needs(kind string, r *inspection.Row, key finding.Ref, what string, g gap) {
	if len(g.names) == 0 {
		return
	}
	j.put(onRow("C302", kind, r, g.at, key, "", "%s without %s", what, strings.Join(g.names, ", ")))
}

// neededForKind is what a row lacks for what it says it is (C302).
func (j *judge) neededForKind() {
	in := j.in
	pair := func(kind string, r *inspection.Row, key finding.Ref, x, y inspection.Length) {
		var g gap
		switch {
		case x.OK():
			lack(&g, "Y", y)
			j.needs(kind, r, key, "X", g)
		case y.OK():
			lack(&g, "X", x)
			j.needs(kind, r, key, "Y", g)
		}
	}
	for i := range in.Plates {
		j.neededForPlate(&in.Plates[i])
	}
	for i := range in.Indications {
		r := &in.Indications[i]
		if inspection.Is(r.Method, "visual") || inspection.Is(r.Kind, "not relevant") || !r.Method.OK() {
			continue
		}
		if none(r.Loss.State, r.Remaining.State, r.Depth.State) {
			at := r.Loss.Ref
			if !at.IsCell() {
				at = r.Remaining.Ref
			}
			j.put(onRow("C302", "Indications", &r.Row, at, r.ID.Ref, "", "%s indication without Loss %%, Remaining, Depth", r.Method.Value))
		}
	}
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		pair("Prove-ups", &r.Row, r.ID.Ref, r.X, r.Y)
		if none(r.Remaining.State, r.Depth.State) {
			j.put(onRow("C302", "Prove-ups", &r.Row, r.Remaining.Ref, r.ID.Ref, "", "prove-up without Remaining or Depth"))
		}
	}
	for i := range in.Readings {
		pair("Readings", &in.Readings[i].Row, in.Readings[i].Plate.Ref, in.Readings[i].X, in.Readings[i].Y)
	}
	for i := range in.Photos {
		pair("Photos", &in.Photos[i].Row, in.Photos[i].File.Ref, in.Photos[i].X, in.Photos[i].Y)
	}
	for i := range in.Visual {
		pair("Visual", &in.Visual[i].Row, in.Visual[i].ID.Ref, in.Visual[i].X, in.Visual[i].Y)
	}
	for i := range in.Welds {
		pair("Welds", &in.Welds[i].Row, in.Welds[i].ID.Ref, in.Welds[i].X, in.Welds[i].Y)
	}
	j.neededForFixtures()
	j.neededForRepairs()
	j.neededForSettlement()
	if t := &in.Tank; inspection.Yes(t.AnnularRing) {
		if none(t.AnnularNominal.State) {
			j.put(j.onItem("C302", "Annular nominal thickness", itemOr(t.AnnularNominal.Ref, t.AnnularRing.Ref), "", "Annular ring yes without Annular nominal thickness"))
		}
		if none(t.AnnularWidth.State) {
			j.put(j.onItem("C302", "Annular width inside the shell", itemOr(t.AnnularWidth.Ref, t.AnnularRing.Ref), "", "Annular ring yes without Annular width inside the shell"))
		}
	}
}

func (j *judge) neededForPlate(p *inspection.Plate) {
	var g gap
	what := p.Type.Value + " plate"
	switch {
	case inspection.Is(p.Type, "annular"):
		lack(&g, "Start bearing", p.StartBearing)
		lack(&g, "End bearing", p.EndBearing)
	case inspection.Is(p.Type, "rectangular"), inspection.Is(p.Type, "sketch"):
		byRow := !none(p.RowNo.State) && !none(p.Position.State)
		byPlace := !none(p.Left.State) && !none(p.Bottom.State)
		switch turned := p.Turned.OK() && p.Turned.Value != 0 && p.Turned.Value != 180; {
		case turned:
			what = "plate turned by " + j.bareAngle(float64(p.Turned.Value))
			lack(&g, "Left", p.Left)
			lack(&g, "Bottom", p.Bottom)
		case !byRow && !byPlace && (!none(p.Left.State) || !none(p.Bottom.State)):
			lack(&g, "Left", p.Left)
			lack(&g, "Bottom", p.Bottom)
		case !byRow && !byPlace:
			lack(&g, "Row", p.RowNo)
			lack(&g, "Position", p.Position)
		}
	}
	j.needs("Plates", &p.Row, p.Label.Ref, what, g)
}

func (j *judge) bareAngle(deg float64) string { return short(deg, 1) + "°" }

func (j *judge) neededForFixtures() {
	for i := range j.in.Fixtures {
		f := &j.in.Fixtures[i]
		if !inspection.Is(f.Kind, "sump") {
			continue
		}
		var g gap
		if none(f.Diameter.State) {
			if none(f.Length.State, f.Width.State) {
				g.names, g.at = append(g.names, "size"), f.Length.Ref
			} else {
				lack(&g, "Length", f.Length)
				lack(&g, "Width", f.Width)
			}
		}
		lack(&g, "Radius", f.Radius)
		j.needs("Fixtures", &f.Row, f.Name.Ref, "sump", g)
	}
}

// placeLacked is what is missing of a repair's place and size.
func placeLacked(r *inspection.Repair) (g gap) {
	switch {
	case inspection.Is(r.Kind, "patch"), inspection.Is(r.Kind, "weld build-up"):
		lack(&g, "X", r.X)
		lack(&g, "Y", r.Y)
		lack(&g, "Length", r.Length)
		lack(&g, "Width", r.Width)
	case r.X.OK() != r.Y.OK():
		lack(&g, "X", r.X)
		lack(&g, "Y", r.Y)
	}
	return g
}

func (j *judge) neededForRepairs() {
	for i := range j.in.Repairs {
		r := &j.in.Repairs[i]
		g, what := placeLacked(r), r.Kind.Value
		if inspection.Is(r.Status, "completed") && none(r.Completed.State) {
			if len(g.names) == 0 {
				what = "completed"
			}
			lack(&g, "Completed", r.Completed)
		}
		j.needs("Planned repairs", &r.Row, r.Label.Ref, what, g)
	}
}

func (j *judge) neededForSettlement() {
	for i := range j.in.Settlement {
		s := &j.in.Settlement[i]
		var g gap
		switch {
		case !s.Kind.OK():
		case inspection.Is(s.Kind, "shell"):
			lack(&g, "Bearing", s.Bearing)
			lack(&g, "Elevation", s.Elevation)
		default:
			lack(&g, "Radius", s.Radius)
			lack(&g, "Measured", s.Measured)
		}
		j.needs("Settlement", &s.Row, s.Point.Ref, s.Kind.Value, g)
	}
}
