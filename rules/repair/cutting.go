package repair

import (
	"fmt"
	"math"
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
				c.Separate = append(c.Separate, Separate{g.Pieces[n].Item, "fits no stock sheet: order it by itself, or have an engineer split it" + s.inParts(sizes[n], stock, rules)})
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

// inParts proposes how a piece that fits no stock sheet could be cut: the fewest
// equal parts of which each fits one, "" when no sheet can be used.
func (s *shop) inParts(p nest.Size, stock []nest.Size, rules nest.Rules) string {
	const most = 100
	best, along, across := most+1.0, 0.0, 0.0
	for _, b := range stock {
		l, w := b.Length-2*rules.Trim, b.Width-2*rules.Trim
		if !(l > 0 && w > 0) {
			continue
		}
		for _, t := range []nest.Size{{Length: l, Width: w}, {Length: w, Width: l}} {
			n, m := math.Ceil(p.Length/t.Length-1e-9), math.Ceil(p.Width/t.Width-1e-9)
			if n*m < best {
				best, along, across = n*m, p.Length/n, p.Width/m
			}
		}
	}
	if best > most {
		return ""
	}
	return fmt.Sprintf(", %.0f parts of %s × %s", best, unit.Size.Text(s.set.System, along, 0), unit.Size.TextUnit(s.set.System, across, 0))
}
