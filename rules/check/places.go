package check

import (
	"strings"

	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// places judges where rows lie on their plates (R201 to R204). With areas that
// do not balance the rim says nothing, and only the plates' own edges count; so
// in a row in which a plate is missing, whose others are placed too far inwards.
func (j *judge) places(rimHolds bool) {
	tol := j.in.Criteria.Number("Position tolerance")
	j.spots(func(s spot) {
		if !s.x.OK() || !s.y.OK() {
			return
		}
		x, y := float64(s.x.Value), float64(s.y.Value)
		plate := -1
		var label string
		if s.plate != nil {
			plate, label = j.plate(*s.plate), s.plate.Text
		} else {
			parts := j.seam(j.in.Welds[s.index].Seam)
			if len(parts) > 0 {
				label = parts[0]
				plate = j.plate(inspection.Label{Value: label, State: inspection.Given})
			}
		}
		if plate < 0 {
			return
		}
		st := j.plan.Inside(plate, x, y, tol)
		if st.OK || st.Fault == floor.OutsideRim && !rimHolds || st.Fault != floor.OffPlate && j.shifted[plate] {
			return
		}
		h := j.offPlace(s, st, plate, label)
		h.Worth = st.By
		j.put(h)
	})
	if j.plan.Radius <= 0 {
		return
	}
	for i := range j.in.Fixtures {
		f := &j.in.Fixtures[i]
		if f.Radius.OK() && !atMost(float64(f.Radius.Value), j.plan.Radius+tol) && rimHolds {
			h := onRow("R202", "Fixtures", &f.Row, f.Radius.Ref, f.Name.Ref, f.Radius.Text, "%s at radius %s lies outside the tank, radius %s",
				f.Name.Text, j.place(float64(f.Radius.Value)), j.place(j.plan.Radius))
			h.Related = see("diameter", j.in.Tank.Diameter.Ref)
			j.put(h)
		}
	}
}

func (j *judge) offPlace(s spot, st floor.Standing, plate int, label string) finding.Hit {
	var h finding.Hit
	p := &j.in.Plates[plate]
	switch st.Fault {
	case floor.OffPlate:
		at, size, edge := s.x, p.Length, "length"
		if st.Axis == "Y" {
			at, size, edge = s.y, p.Width, "width"
		}
		h = onRow("R201", s.kind, s.row, at.Ref, s.key, at.Text, "%s %s is %s beyond %s (%s %s)%s",
			st.Axis, j.place(st.Value), j.place(st.By), label, edge, j.place(float64(size.Value)), j.exchanged(s, plate))
		if st.Limit == 0 {
			h.Message = st.Axis + " " + j.place(st.Value) + " is " + j.place(st.By) + " before the edge of " + label
		}
		h.Related = see(edge, size.Ref)
	case floor.OutsideRim:
		h = onRow("R202", s.kind, s.row, s.x.Ref, s.key, s.x.Text, "%s outside the rim on %s%s", j.place(st.By), label, j.otherCorner(s, plate))
		h.Related = see("datum corner", p.DatumCorner.Ref)
	default:
		name := ""
		if st.Opening >= 0 && st.Opening < len(j.plan.Openings) {
			name = j.plan.Openings[st.Opening].Name
		}
		h = onRow("R203", s.kind, s.row, s.x.Ref, s.key, s.x.Text, "in the opening of sump %s", name)
		if st.Opening >= 0 {
			h.Related = see("sump", j.in.Fixtures[j.plan.Openings[st.Opening].Row].Name.Ref)
		}
	}
	if !s.strict {
		h.Rule = "R204"
	}
	return h
}

// exchanged asks whether X and Y stand in each other's column: when they fit
// so, and no other datum corner would explain it. A unit factor explains every
// place beyond an edge and so says nothing of a single row; a whole column is
// judged by C104.
func (j *judge) exchanged(s spot, plate int) string {
	tol := j.in.Criteria.Number("Position tolerance")
	if j.plan.Inside(plate, float64(s.y.Value), float64(s.x.Value), tol).OK {
		return "; X and Y exchanged?"
	}
	return ""
}

// otherCorner asks whether the position was measured from another corner: when
// exactly one of them puts it on the floor, and exchanging X and Y does not.
func (j *judge) otherCorner(s spot, plate int) string {
	tol := j.in.Criteria.Number("Position tolerance")
	p := &j.in.Plates[plate]
	if !p.Length.OK() || !p.Width.OK() || j.plan.Plates[plate].Sector {
		return ""
	}
	x, y, l, w := float64(s.x.Value), float64(s.y.Value), float64(p.Length.Value), float64(p.Width.Value)
	found := ""
	for _, c := range []struct {
		name string
		x, y float64
	}{{corner(p, true, false), l - x, y}, {corner(p, false, true), x, w - y}, {corner(p, true, true), l - x, w - y}} {
		if j.plan.Inside(plate, c.x, c.y, tol).OK {
			if found != "" {
				return ""
			}
			found = c.name
		}
	}
	if found == "" || j.plan.Inside(plate, y, x, tol).OK {
		return ""
	}
	return "; measured from the " + found + " corner?"
}

// corner is the name of another corner than the one a plate is measured from:
// at the other end of its length, of its width, or of both.
func corner(p *inspection.Plate, along, across bool) string {
	left, bottom := true, true
	if p.DatumCorner.OK() {
		left = strings.HasSuffix(p.DatumCorner.Value, "left")
		bottom = strings.HasPrefix(p.DatumCorner.Value, "bottom")
	}
	side, end := "top", "right"
	if bottom != across {
		side = "bottom"
	}
	if left != along {
		end = "left"
	}
	return side + " " + end
}
