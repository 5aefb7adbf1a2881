package assess

import (
	"github.com/tidwall/rtree"

	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// indicationKey finds an indication by plate and folded ID.
type indicationKey struct {
	plate int
	id    string
}

// tie joins prove-ups to indications: by the Indication column on the row's
// plate, else by lying in an indication's box grown by the position tolerance.
// A prove-up that names an indication which is not there, is left out or not
// relevant stays a location of its own, so that its value is never lost. One
// that lies in several boxes goes to the nearest centre, of its own side
// first: the others keep their estimate.
func (w *work) tie() {
	if w.like != nil {
		w.tied, w.byPlace, w.loose, w.probesOf = w.like.tied, w.like.byPlace, w.like.loose, w.like.probesOf
		return
	}
	in := w.in
	w.tied = make([][]int, len(in.Indications))
	w.byPlace = make([]bool, len(in.Indications))
	boxes := make([]floor.Box, len(in.Indications))
	placed := make([]bool, len(in.Indications))
	byID := make(map[indicationKey][]int, len(in.Indications))
	plates := make([]int, len(in.Indications))
	anywhere := map[string][]int{} // by ID, for prove-ups without a plate
	for i := range in.Indications {
		ind := &in.Indications[i]
		plates[i] = w.plateOf(ind.Plate)
		if ind.Out || !relevant(ind) {
			continue
		}
		if ind.ID.OK() {
			id := inspection.Fold(ind.ID.Value)
			byID[indicationKey{plates[i], id}] = append(byID[indicationKey{plates[i], id}], i)
			anywhere[id] = append(anywhere[id], i)
		}
		boxes[i], placed[i] = w.box(plates[i], ind.X, ind.Y, ind.Length, ind.Width)
	}
	tolerance := w.number(criteria.PositionTolerance)
	trees := map[int]*rtree.RTreeG[int]{}
	for i := range in.Indications {
		if !placed[i] || plates[i] < 0 {
			continue
		}
		t := trees[plates[i]]
		if t == nil {
			t = &rtree.RTreeG[int]{}
			trees[plates[i]] = t
		}
		b := boxes[i].Grow(tolerance)
		t.Insert([2]float64{b.U1, b.V1}, [2]float64{b.U2, b.V2}, i)
	}
	for u := range in.ProveUps {
		row := &in.ProveUps[u]
		if row.Out || !(row.Remaining.OK() || row.Depth.OK()) {
			continue
		}
		plate := w.plateOf(row.Plate)
		at, hasPlace := w.spot(plate, row.X, row.Y)
		found := -1
		switch {
		case row.Indication.OK():
			id := inspection.Fold(row.Indication.Value)
			candidates := byID[indicationKey{plate, id}]
			if plate < 0 && row.Plate.State == inspection.Blank && len(anywhere[id]) == 1 {
				candidates = anywhere[id]
			}
			found = pick(candidates, func(i int) bool {
				return hasPlace && placed[i] && boxes[i].Grow(tolerance).Has(at)
			})
		case hasPlace && trees[plate] != nil:
			found = w.nearest(trees[plate], boxes, at, row)
			if found >= 0 {
				w.byPlace[found] = true
			}
		}
		if found < 0 {
			w.loose = append(w.loose, u)
			continue
		}
		w.tied[found] = append(w.tied[found], u)
	}
}

// pick is the first candidate that a repeated ID's place singles out, else the
// first, -1 without one.
func pick(candidates []int, fits func(int) bool) int {
	for _, i := range candidates {
		if len(candidates) == 1 || fits(i) {
			return i
		}
	}
	if len(candidates) > 0 {
		return candidates[0]
	}
	return -1
}

func (w *work) nearest(tree *rtree.RTreeG[int], boxes []floor.Box, at floor.Point, row *inspection.ProveUp) int {
	best, bestFit, bestAway := -1, false, 0.0
	side := sideOf(row.Side)
	tree.Search([2]float64{at.X, at.Y}, [2]float64{at.X, at.Y}, func(_, _ [2]float64, i int) bool {
		own := sideOf(w.in.Indications[i].Side)
		fit := own == side || own == Unknown || side == Unknown
		c := boxes[i].Centre()
		away := (c.X-at.X)*(c.X-at.X) + (c.Y-at.Y)*(c.Y-at.Y)
		better := best < 0 || (fit && !bestFit) ||
			(fit == bestFit && (away < bestAway || (away == bestAway && i < best)))
		if better {
			best, bestFit, bestAway = i, fit, away
		}
		return true
	})
	return best
}

func relevant(i *inspection.Indication) bool { return !inspection.Is(i.Kind, "not relevant") }

func sideOf(f inspection.Word) Side {
	switch {
	case inspection.Is(f, "product"):
		return Product
	case inspection.Is(f, "soil"):
		return Soil
	}
	return Unknown
}

// box is the extent of a row in its plate's frame; a blank extent is the
// assumed indication size.
func (w *work) box(plate int, x, y, length, width inspection.Length) (floor.Box, bool) {
	if plate < 0 || !x.OK() || !y.OK() {
		return floor.Box{}, false
	}
	size := w.set.Length(criteria.AssumedIndicationSize)
	l, b := max(0, float64(length.Or(size))), max(0, float64(width.Or(size)))
	if w.plan == nil {
		return floor.BoxAt(floor.Point{X: float64(x.Value), Y: float64(y.Value)}, l, b), true
	}
	return w.plan.Box(plate, float64(x.Value), float64(y.Value), l, b)
}

func (w *work) spot(plate int, x, y inspection.Length) (floor.Point, bool) {
	if plate < 0 || !x.OK() || !y.OK() {
		return floor.Point{}, false
	}
	if w.plan == nil {
		return floor.Point{X: float64(x.Value), Y: float64(y.Value)}, true
	}
	return w.plan.ToLocal(plate, float64(x.Value), float64(y.Value))
}
