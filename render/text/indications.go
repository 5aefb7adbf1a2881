package text

import (
	"encoding/csv"
	"io"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Indications writes the indications as CSV: first the columns of the sheet,
// as they were given and in the workbook's units, so that the list can be
// imported again; then what was made of each.
func Indications(w io.Writer, a *rules.Assessment) error {
	out := csv.NewWriter(w)
	sys := a.Inspection.Units
	place, thick := " ("+unit.Position.Unit(sys)+")", " ("+unit.Thickness.Unit(sys)+")"
	if err := out.Write([]string{
		"ID", "Plate", "X" + place, "Y" + place, "Length" + place, "Width" + place, "Side", "Method", "Loss %", "Remaining" + thick, "Depth" + thick,
		"Kind", "By", "Date", "Photo", "Remarks",
		"Plan X" + place, "Plan Y" + place, "Zone", "Counted thickness" + thick, "Basis", "Needed" + thick, "Margin" + thick, "Verdict", "Repair",
	}); err != nil {
		return err
	}
	made := map[int]*assess.Location{}
	if a.Result != nil {
		for i := range a.Result.Locations {
			if l := &a.Result.Locations[i]; l.Kind == assess.IndicationAt {
				made[l.Indication] = l
			}
		}
	}
	given := func(k unit.Kind, f inspection.Length) string {
		if f.OK() {
			return unit.Restoring(k.In(sys, float64(f.Value)))
		}
		return safe(f.Text)
	}
	for i := range a.Inspection.Indications {
		n := &a.Inspection.Indications[i]
		loss, date := safe(n.Loss.Text), safe(n.Date.Text)
		if n.Loss.OK() {
			loss = unit.Restoring(float64(n.Loss.Value))
		}
		if n.Date.OK() {
			date = n.Date.Value.String()
		}
		row := []string{
			safe(n.ID.Text), safe(n.Plate.Text), given(unit.Position, n.X), given(unit.Position, n.Y), given(unit.Size, n.Length), given(unit.Size, n.Width),
			safe(n.Side.Text), safe(n.Method.Text), loss, given(unit.Thickness, n.Remaining), given(unit.Thickness, n.Depth),
			safe(n.Kind.Text), safe(n.By.Text), date, safe(n.Photo.Text), safe(n.Remarks.Text),
		}
		row = append(row, outcome(made[i], sys)...)
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// outcome is what was made of a location, blank where it was left out.
func outcome(l *assess.Location, sys unit.System) []string {
	if l == nil {
		return make([]string, 9)
	}
	thick := func(v unit.Maybe[unit.Length]) string {
		if !v.Known {
			return ""
		}
		return unit.Thickness.Text(sys, float64(v.V), 1)
	}
	x, y := "", ""
	if l.Placed {
		x, y = unit.Restoring(unit.Position.In(sys, l.At.X)), unit.Restoring(unit.Position.In(sys, l.At.Y))
	}
	return []string{x, y, string(words(l.Zone)), thick(l.Remaining), string(l.Basis), thick(l.Required), thick(l.Margin), string(l.Verdict), safe(l.Repair)}
}
