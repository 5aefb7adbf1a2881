package check

import (
	"platebook/rules/finding"
	"platebook/rules/inspection"
)

// spot is a row that lies somewhere: what the checks of place need of it.
type spot struct {
	kind   string
	index  int
	row    *inspection.Row
	key    finding.Ref
	plate  *inspection.Label // nil in sheets without a plate
	x, y   *inspection.Length
	strict bool // a wrong place is an error: R201 to R203, else R204
}

// spots is every row with X and Y, sheet by sheet.
func (j *judge) spots(visit func(spot)) {
	in := j.in
	for i := range in.Indications {
		r := &in.Indications[i]
		visit(spot{"Indications", i, &r.Row, r.ID.Ref, &r.Plate, &r.X, &r.Y, true})
	}
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		visit(spot{"Prove-ups", i, &r.Row, r.ID.Ref, &r.Plate, &r.X, &r.Y, true})
	}
	for i := range in.Readings {
		r := &in.Readings[i]
		visit(spot{"Readings", i, &r.Row, r.Plate.Ref, &r.Plate, &r.X, &r.Y, true})
	}
	for i := range in.Patches {
		r := &in.Patches[i]
		visit(spot{"Existing patches", i, &r.Row, r.Label.Ref, &r.Plate, &r.X, &r.Y, true})
	}
	for i := range in.Repairs {
		r := &in.Repairs[i]
		visit(spot{"Planned repairs", i, &r.Row, r.Label.Ref, &r.Plate, &r.X, &r.Y, true})
	}
	for i := range in.Photos {
		r := &in.Photos[i]
		visit(spot{"Photos", i, &r.Row, r.File.Ref, &r.Plate, &r.X, &r.Y, false})
	}
	for i := range in.Visual {
		r := &in.Visual[i]
		visit(spot{"Visual", i, &r.Row, r.ID.Ref, &r.Plate, &r.X, &r.Y, false})
	}
	for i := range in.Welds {
		r := &in.Welds[i]
		visit(spot{"Welds", i, &r.Row, r.ID.Ref, nil, &r.X, &r.Y, false})
	}
}

// measured is one thickness value of a row, or its depth.
type measured struct {
	kind   string
	column string
	index  int
	row    *inspection.Row
	key    finding.Ref
	plate  *inspection.Label
	value  *inspection.Length
	x, y   *inspection.Length
	by     *inspection.Text
	date   *inspection.Date
	depth  bool
	coat   bool // read through coating
}

// columnsOfThickness visits every measured thickness and depth, column by column.
// A column is gone when the next is visited.
func (j *judge) columnsOfThickness(visit func(column []measured)) {
	in := j.in
	column := func(n int, at func(i int) measured) {
		if cap(j.column) < n {
			j.column = make([]measured, n)
		}
		all := j.column[:n]
		for i := range all {
			all[i] = at(i)
			all[i].index = i
		}
		if n > 0 {
			visit(all)
		}
	}
	indication := func(i int, name string, v *inspection.Length) measured {
		r := &in.Indications[i]
		return measured{kind: "Indications", column: name, row: &r.Row, key: r.ID.Ref, plate: &r.Plate, value: v, x: &r.X, y: &r.Y, by: &r.By, date: &r.Date}
	}
	column(len(in.Indications), func(i int) measured {
		return indication(i, "Remaining", &in.Indications[i].Remaining)
	})
	column(len(in.Indications), func(i int) measured {
		m := indication(i, "Depth", &in.Indications[i].Depth)
		m.depth = true
		return m
	})
	proveUp := func(i int, name string, v *inspection.Length) measured {
		r := &in.ProveUps[i]
		return measured{
			kind: "Prove-ups", column: name, row: &r.Row, key: r.ID.Ref, plate: &r.Plate, value: v, x: &r.X, y: &r.Y,
			by: &r.By, date: &r.Date, coat: inspection.Yes(r.ThroughCoating),
		}
	}
	column(len(in.ProveUps), func(i int) measured { return proveUp(i, "Remaining", &in.ProveUps[i].Remaining) })
	column(len(in.ProveUps), func(i int) measured {
		m := proveUp(i, "Depth", &in.ProveUps[i].Depth)
		m.depth = true
		return m
	})
	column(len(in.ProveUps), func(i int) measured { return proveUp(i, "Sound thickness", &in.ProveUps[i].Sound) })
	column(len(in.Readings), func(i int) measured {
		r := &in.Readings[i]
		return measured{
			kind: "Readings", column: "Thickness", row: &r.Row, key: r.Plate.Ref, plate: &r.Plate,
			value: &r.Thickness, x: &r.X, y: &r.Y, by: &r.By, date: &r.Date,
		}
	})
}
