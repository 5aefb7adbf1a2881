package repair

import (
	"sort"

	"platebook/rules/assess"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// planned are the rows of Planned repairs as repairs, in crew order: by plate,
// within it as listed.
func (j *judge) planned() []Item {
	var out []Item
	for i := range j.in.Repairs {
		row := &j.in.Repairs[i]
		k := j.plateOf(row.Plate)
		if row.Out || k < 0 || !row.Kind.OK() {
			continue
		}
		it := Item{
			Label: row.Label.Text, Kind: Kind(row.Kind.Value), Plate: k, Row: i, Shape: row.Shape.Or(Rounded),
			Completed: inspection.Is(row.Status, "completed"), frame: k,
		}
		if it.Kind == Replace {
			pl := &j.plan.Plates[k]
			it.Shape = ""
			if pl.Sized {
				it.Box, it.Boxed = floor.Box{U2: pl.Length, V2: pl.Width}, true
				it.Length, it.Width = unit.Length(pl.Length), unit.Length(pl.Width)
				if x, y, ok := j.plan.FromLocal(k, it.Box.Centre()); ok {
					it.X, it.Y = unit.Length(x), unit.Length(y)
				}
			}
			it.own = it.Box
		} else if at, ok := j.floor.RepairAt(k, row, j.set); ok {
			it.X, it.Y, it.Length, it.Width = row.X.Value, row.Y.Value, row.Length.Value, row.Width.Value
			it.Box, it.Boxed, it.frame, it.own, it.off = at.OnPlate(), true, at.Frame, at.Box, at.Off
			it.Zone = at.Zone(j.z.critical)
		}
		switch {
		case row.Thickness.OK():
			it.Thickness = unit.Some(row.Thickness.Value)
		case row.Thickness.State == inspection.Wrong:
		case it.Kind == Patch:
			it.Thickness = j.thickness(k, false)
		case it.Kind == Replace:
			it.Thickness = j.nominal(k)
		}
		label := row.Label.Value
		for n := range j.res.Locations {
			l := &j.res.Locations[n]
			if l.Repair == "" || label == "" || !repairable(l) {
				continue
			}
			if l.Repair == label && j.holds(&it, l) || l.Repair != label && j.holdsToo(&it, l) {
				it.Locations = append(it.Locations, n)
			}
		}
		if r := row.Remarks.Or(""); r != "" {
			it.Reasons = append(it.Reasons, r)
		}
		it.Engineer = it.Zone == floor.Critical || j.plan.Plates[k].Sector
		out = append(out, it)
	}
	sort.SliceStable(out, func(a, b int) bool { return out[a].Plate < out[b].Plate })
	return out
}

// holdsToo says whether a row takes in a place that another is named to take
// out: two may cover one place.
func (j *judge) holdsToo(it *Item, l *assess.Location) bool {
	if !it.Boxed || (it.Kind != Patch && (it.Kind != BuildUp || l.Side != assess.Product)) || !j.besides(l.Plate, it) {
		return false
	}
	at := j.footprint(it)
	return at.Holds(l.Plate, l.Box, j.z.overlap)
}

// holds says whether the row that takes a location out is this one: on its own
// plate, or, of one that lies over a seam, beside it.
func (j *judge) holds(it *Item, l *assess.Location) bool {
	if l.Plate == it.Plate {
		return true
	}
	b, ok := j.carried(l.Plate, l.Box, it.frame)
	return ok && it.Boxed && it.own.Overlaps(b)
}
