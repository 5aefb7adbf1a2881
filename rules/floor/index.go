package floor

import (
	"slices"

	"github.com/tidwall/rtree"
)

// Index finds extents near a place among many: indications of a whole floor
// are compared in pairs only where they can meet.
type Index struct{ tree rtree.RTreeG[int] }

// NewIndex holds the given extents by their number.
func NewIndex(extents []Bounds) *Index {
	x := &Index{}
	for i, b := range extents {
		x.tree.Insert([2]float64{b.Min.X, b.Min.Y}, [2]float64{b.Max.X, b.Max.Y}, i)
	}
	return x
}

// Near appends to found, in rising order, the numbers of the extents at most gap
// from b along both axes.
func (x *Index) Near(b Bounds, gap float64, found []int) []int {
	start := len(found)
	x.tree.Search(
		[2]float64{b.Min.X - gap, b.Min.Y - gap}, [2]float64{b.Max.X + gap, b.Max.Y + gap},
		func(_, _ [2]float64, i int) bool {
			found = append(found, i)
			return true
		})
	slices.Sort(found[start:])
	return found
}

// Extent is the axis-parallel extent in plan of a box on a plate, false without
// a place.
func (p *Plan) Extent(plate int, b Box) (Bounds, bool) {
	if !p.has(plate) || !p.Plates[plate].Placed {
		return Bounds{}, false
	}
	pl := &p.Plates[plate]
	if pl.Sector {
		return boundsOf(p.sectorOutline(pl, b)), true
	}
	corners := b.corners()
	for i, c := range corners {
		corners[i] = p.toPlan(pl, c)
	}
	return boundsOf(corners[:]), true
}

// Pairs visits every pair i < j of boxes in one frame whose clear distance
// (Euclid) is at most gap, ordered by i, then j. With gap 0 boxes that only touch are
// visited too.
func Pairs(boxes []Box, gap float64, visit func(i, j int)) {
	order := make([]int, len(boxes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compare(boxes[a].U1, boxes[b].U1) })
	var pairs [][2]int
	var active []int
	for _, i := range order {
		b := boxes[i]
		active = slices.DeleteFunc(active, func(k int) bool { return boxes[k].U2+gap < b.U1 })
		for _, k := range active {
			if boxes[k].Apart(b) <= gap {
				pairs = append(pairs, [2]int{min(i, k), max(i, k)})
			}
		}
		active = append(active, i)
	}
	slices.SortFunc(pairs, func(a, b [2]int) int {
		if a[0] != b[0] {
			return a[0] - b[0]
		}
		return a[1] - b[1]
	})
	for _, q := range pairs {
		visit(q[0], q[1])
	}
}
