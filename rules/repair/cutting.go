package repair

import (
	"sort"

	"platebook/rules/criteria"
	"platebook/rules/nest"
	"platebook/rules/unit"
)

// cut lists the pieces by thickness and lays them out on stock sheets.
// Completed repairs need no steel any more. With an effort only the number of
// sheets is looked for, at no more effort than that.
func (s *shop) cut(items []Item, effort int) Cutting {
	var c Cutting
	groups := map[unit.Length][]Piece{}
	var order []unit.Length
	for i := range items {
		it := &items[i]
		switch {
		case it.Completed || (it.Kind != Patch && it.Kind != Replace):
			continue
		case !it.Thickness.Known || it.Length <= 0 || it.Width <= 0:
			c.Unknown = append(c.Unknown, i)
			continue
		case it.Kind == Replace:
			c.Separate = append(c.Separate, Separate{i, "replacement plate"})
			continue
		}
		t := it.Thickness.V
		if _, known := groups[t]; !known {
			order = append(order, t)
		}
		p := Piece{Item: i, Mark: it.Label + " " + s.in.Plates[it.Plate].Label.Text, Length: it.Length, Width: it.Width, Radius: min(unit.Length(s.z.radius), min(it.Length, it.Width)/2)}
		if it.Shape == Circle {
			d := min(it.Length, it.Width)
			p.Length, p.Width, p.Radius = d, d, d/2
		}
		groups[t] = append(groups[t], p)
	}
	sort.Slice(order, func(a, b int) bool { return order[a] < order[b] })
	stock, rules := s.stock(effort)
	for _, t := range order {
		g := Sheets{Thickness: t, Pieces: groups[t]}
		sizes := make([]nest.Size, len(g.Pieces))
		for i, p := range g.Pieces {
			sizes[i] = nest.Size{Length: float64(p.Length), Width: float64(p.Width)}
		}
		l, err := nest.Cut(sizes, stock, rules)
		if err != nil {
			g.Why = err.Error()
		} else {
			g.Layout = l
			for _, n := range l.TooLarge {
				c.Separate = append(c.Separate, Separate{g.Pieces[n].Item, "fits no stock sheet: order it by itself, or have an engineer split it"})
			}
		}
		c.Groups = append(c.Groups, g)
	}
	sort.SliceStable(c.Separate, func(a, b int) bool { return c.Separate[a].Item < c.Separate[b].Item })
	return c
}

// stock is the sheets of Criteria, length first, and how they are cut.
func (s *shop) stock(effort int) ([]nest.Size, nest.Rules) {
	var out []nest.Size
	v := s.set.Get(criteria.StockSheets)
	for i := 0; i+1 < len(v.Numbers); i += 2 {
		a, b := v.Numbers[i], v.Numbers[i+1]
		out = append(out, nest.Size{Length: max(a, b), Width: min(a, b)})
	}
	return out, nest.Rules{
		Kerf: s.set.Number(criteria.Kerf), Trim: s.set.Number(criteria.EdgeTrim),
		Offcut: s.set.Number(criteria.SmallestOffcut), Turn: true, Effort: effort, Count: effort > 0,
	}
}
