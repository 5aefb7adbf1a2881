package check

import (
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// record is a row as the checks of labels and duplicates see it.
type record struct {
	kind    string
	row     *inspection.Row
	key     finding.Ref // its label's cell
	label   string      // folded row key; "" without a label
	content string      // everything but the label, comparable
	shown   string      // what tells it from another: "42 %"
	placed  bool        // has something of its own to be recognised by
}

// apart is what tells two rows of one label apart: what they are known by, or
// the first things in which they differ.
func (r *record) apart(o *record) (string, string) {
	if r.shown != o.shown {
		return r.shown, o.shown
	}
	a, b := strings.Split(r.content, "\x00"), strings.Split(o.content, "\x00")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return orNothing(a[i]), orNothing(b[i])
		}
	}
	return r.shown, o.shown
}

// writer gathers the comparable content of a row.
type writer struct{ strings.Builder }

func (w *writer) text(fields ...inspection.Field[string]) {
	for _, f := range fields {
		if f.State == inspection.Wrong {
			w.WriteString(f.Text)
		} else {
			w.WriteString(inspection.Fold(f.Value))
		}
		w.WriteByte(0)
	}
}

func number[T ~float64 | ~int32](w *writer, fields ...inspection.Field[T]) {
	for _, f := range fields {
		w.WriteString(strings.TrimSpace(f.Text))
		w.WriteByte(0)
	}
}

// labelled is every row with a label of its own that others may cite, sheet by
// sheet.
func (j *judge) labelled() [][]record {
	in := j.in
	var all [][]record
	add := func(n int, at func(i int) record) {
		list := make([]record, n)
		for i := range list {
			list[i] = at(i)
		}
		all = append(all, list)
	}
	name := func(f inspection.Label) string {
		if !f.OK() {
			return ""
		}
		return inspection.Fold(f.Value)
	}
	both := func(plate, id inspection.Label) string {
		if name(plate) == "" || name(id) == "" {
			return ""
		}
		return name(plate) + "/" + name(id)
	}
	add(len(in.Plates), func(i int) record {
		r := &in.Plates[i]
		var w writer
		w.text(r.Type, r.RowNo, r.Position, r.DatumCorner, r.ReasonNotExamined, r.ScannedBy, r.Instrument, r.Remarks)
		number(&w, r.Length, r.Width, r.Nominal, r.Left, r.Bottom)
		number(&w, r.MFLScanned, r.HandScanned, r.UTGridded, r.NotExamined)
		number(&w, r.StartBearing, r.EndBearing)
		number(&w, r.ScanDate, r.Installed)
		shown := "row " + r.RowNo.Text + " position " + r.Position.Text
		if !r.RowNo.OK() {
			shown = r.Length.Text + " × " + r.Width.Text
		}
		return record{"Plates", &r.Row, r.Label.Ref, name(r.Label), w.String(), shown, false}
	})
	add(len(in.Indications), func(i int) record {
		r := &in.Indications[i]
		var w writer
		w.text(r.Plate, r.Side, r.Method, r.Kind, r.By, r.Photo, r.Remarks)
		number(&w, r.X, r.Y, r.Length, r.Width, r.Remaining, r.Depth)
		number(&w, r.Loss)
		number(&w, r.Date)
		return record{"Indications", &r.Row, r.ID.Ref, both(r.Plate, r.ID), w.String(), j.worth(r.Loss, r.Remaining, r.Depth), r.X.OK() && r.Y.OK()}
	})
	add(len(in.ProveUps), func(i int) record {
		r := &in.ProveUps[i]
		var w writer
		w.text(r.Indication, r.Plate, r.Side, r.ThroughCoating, r.By, r.Instrument, r.Remarks)
		number(&w, r.X, r.Y, r.Remaining, r.Depth, r.Sound)
		number(&w, r.Date)
		return record{"Prove-ups", &r.Row, r.ID.Ref, both(r.Plate, r.ID), w.String(), j.worth(inspection.Percent{}, r.Remaining, r.Depth), r.X.OK() && r.Y.OK() || r.Indication.OK()}
	})
	add(len(in.Tracks), func(i int) record {
		r := &in.Tracks[i]
		var w writer
		w.text(r.Plate, r.By)
		number(&w, r.Offset, r.Width, r.Start, r.End)
		number(&w, r.LargestLoss)
		number(&w, r.Date)
		return record{"Tracks", &r.Row, r.Track.Ref, both(r.Plate, r.Track), w.String(), "offset " + r.Offset.Text, r.Offset.OK()}
	})
	add(len(in.Visual), func(i int) record {
		r := &in.Visual[i]
		var w writer
		w.text(r.Plate, r.Item, r.Observation, r.Weight, r.Photo)
		number(&w, r.X, r.Y)
		return record{"Visual", &r.Row, r.ID.Ref, name(r.ID), w.String(), r.Observation.Text, r.X.OK() && r.Y.OK()}
	})
	add(len(in.Welds), func(i int) record {
		r := &in.Welds[i]
		var w writer
		w.text(r.Seam, r.Method, r.Result, r.Defect, r.By, r.Photo, r.Remarks)
		number(&w, r.X, r.Y, r.TestedLength, r.DefectLength)
		number(&w, r.Bearing)
		number(&w, r.Date)
		return record{"Welds", &r.Row, r.ID.Ref, name(r.ID), w.String(), r.Seam.Text + " " + r.Result.Text, r.X.OK() && r.Y.OK() || r.Bearing.OK()}
	})
	add(len(in.Fixtures), func(i int) record {
		r := &in.Fixtures[i]
		var w writer
		w.text(r.Kind, r.Pad, r.Remarks)
		number(&w, r.Radius, r.Length, r.Width, r.Diameter)
		number(&w, r.Bearing)
		return record{"Fixtures", &r.Row, r.Name.Ref, name(r.Name), w.String(), r.Kind.Text + " at " + r.Bearing.Text + "°", r.Radius.OK() && r.Bearing.OK()}
	})
	add(len(in.Patches), func(i int) record {
		r := &in.Patches[i]
		var w writer
		w.text(r.Plate, r.Shape)
		number(&w, r.X, r.Y, r.Length, r.Width, r.Thickness)
		number(&w, r.Installed)
		return record{"Existing patches", &r.Row, r.Label.Ref, both(r.Plate, r.Label), w.String(), r.Length.Text + " × " + r.Width.Text, r.X.OK() && r.Y.OK()}
	})
	add(len(in.Repairs), func(i int) record {
		r := &in.Repairs[i]
		var w writer
		w.text(r.Kind, r.Plate, r.Shape, r.Status, r.Retest, r.Remarks)
		number(&w, r.X, r.Y, r.Length, r.Width, r.Thickness)
		number(&w, r.Completed)
		w.WriteString(r.Indications.Text)
		return record{"Planned repairs", &r.Row, r.Label.Ref, name(r.Label), w.String(), r.Kind.Text + " on " + r.Plate.Text, true}
	})
	add(len(in.Settlement), func(i int) record {
		r := &in.Settlement[i]
		var w writer
		w.text(r.Kind, r.Remarks)
		number(&w, r.Elevation, r.Radius, r.Measured)
		number(&w, r.Bearing, r.WeldAngle)
		label := name(r.Kind) + "/" + name(r.Point)
		if name(r.Point) == "" {
			label = ""
		}
		return record{"Settlement", &r.Row, r.Point.Ref, label, w.String(), r.Elevation.Text + r.Measured.Text, r.Bearing.OK() || r.Radius.OK()}
	})
	add(len(in.Instruments), func(i int) record {
		r := &in.Instruments[i]
		var w writer
		w.text(r.Kind, r.Serial)
		number(&w, r.Reference)
		number(&w, r.CalibrationDue)
		return record{"Instruments", &r.Row, r.Name.Ref, name(r.Name), w.String(), "due " + r.CalibrationDue.Text, false}
	})
	add(len(in.Sections), func(i int) record {
		r := &in.Sections[i]
		var w writer
		w.text(r.Include, r.Text)
		return record{"Report", &r.Row, r.Name.Ref, name(r.Name), w.String(), r.Include.Text, false}
	})
	return all
}

// worth is what a row says of the metal, as a person would tell two rows apart.
func (j *judge) worth(loss inspection.Percent, remaining, depth inspection.Length) string {
	switch {
	case loss.OK():
		return percent(float64(loss.Value))
	case remaining.OK():
		return j.thick(remaining.Value)
	case depth.OK():
		return "depth " + j.thick(depth.Value)
	}
	return "no value"
}

// sameExtent compares two extents: equal within 1e-6 mm, or both empty.
func sameExtent(a, b inspection.Length) bool {
	if none(a.State) != none(b.State) {
		return false
	}
	return none(a.State) || float64(a.Value-b.Value) < 1e-6 && float64(b.Value-a.Value) < 1e-6
}

func near(a, b unit.Length, by float64) bool {
	d := float64(a - b)
	return d <= by+1e-6 && -d <= by+1e-6
}
