package compare

import (
	"slices"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// spotAt is a location that can be paired.
type spotAt struct {
	location int
	pair     int         // index in Result.Plates, −1 without a plate
	at       floor.Point // in the new plate's frame
	placed   bool
}

// readSpots lists the indications and stand-alone prove-ups of both dates, in
// the natural order of their labels, so that ties do not hang on the order of
// rows.
func (w *work) readSpots() {
	byOld, byNew := make(map[int]int), make(map[int]int)
	for k := range w.res.Plates {
		if p := &w.res.Plates[k]; p.Old >= 0 {
			byOld[p.Old] = k
		}
		if p := &w.res.Plates[k]; p.New >= 0 {
			byNew[p.New] = k
		}
	}
	read := func(s Survey, at map[int]int, old bool) []spotAt {
		var out []spotAt
		for i := range s.Found.Locations {
			l := &s.Found.Locations[i]
			if l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt || l.Verdict == assess.NotRelevant {
				continue
			}
			sp := spotAt{location: i, pair: -1}
			if k, ok := at[l.Plate]; ok && l.Plate >= 0 {
				sp.pair = k
			}
			x, y := rowOf(s.In, l)
			if sp.pair >= 0 && x.OK() && y.OK() {
				sp.at, sp.placed = s.Plan.ToLocal(l.Plate, float64(x.Value), float64(y.Value))
				if old {
					sp.at = w.across(&w.res.Plates[sp.pair], sp.at)
				}
			}
			out = append(out, sp)
		}
		ls := s.Found.Locations
		slices.SortStableFunc(out, func(a, b spotAt) int {
			if c := floor.NaturalOrder(ls[a.location].Label, ls[b.location].Label); c != 0 {
				return c
			}
			switch {
			case a.at.X != b.at.X:
				return sign(a.at.X - b.at.X)
			case a.at.Y != b.at.Y:
				return sign(a.at.Y - b.at.Y)
			}
			return 0
		})
		return out
	}
	w.olds, w.news = read(w.old, byOld, true), read(w.now, byNew, false)
	w.metal()
}

// set is the rows of a date that were judged not relevant, and where.
type set struct {
	ids   []string
	spots *squares
}

// judgedIrrelevant is the ID of an indication within the gate of a place that
// was judged not relevant on the other date, "" without one.
func (w *work) judgedIrrelevant(s Survey, pair int, at floor.Point, old bool) string {
	l := w.aside[old]
	if l == nil {
		l = w.readAside(s, old)
	}
	best, id := w.res.Gate+hair, ""
	for _, e := range l.spots.near(&spot{at: at, plate: pair}, false, nil) {
		if unit.Length(e.cost) < best {
			best, id = unit.Length(e.cost), l.ids[e.to]
		}
	}
	return id
}

func (w *work) readAside(s Survey, old bool) *set {
	of := make(map[int]int, len(w.res.Plates))
	for k := range w.res.Plates {
		if p := &w.res.Plates[k]; old {
			of[p.Old] = k
		} else {
			of[p.New] = k
		}
	}
	l := &set{}
	var spots []spot
	for i := range s.Found.Locations {
		m := &s.Found.Locations[i]
		k, ok := of[m.Plate]
		if m.Verdict != assess.NotRelevant || m.Kind != assess.IndicationAt || m.Plate < 0 || !ok {
			continue
		}
		x, y := rowOf(s.In, m)
		if !x.OK() || !y.OK() {
			continue
		}
		at, placed := s.Plan.ToLocal(m.Plate, float64(x.Value), float64(y.Value))
		if !placed {
			continue
		}
		if old {
			at = w.across(&w.res.Plates[k], at)
		}
		l.ids, spots = append(l.ids, ID(s.In, m)), append(spots, spot{at: at, plate: k})
	}
	l.spots = squaresOf(spots, float64(w.res.Gate))
	if w.aside == nil {
		w.aside = map[bool]*set{}
	}
	w.aside[old] = l
	return l
}

func sign(v float64) int {
	if v < 0 {
		return -1
	}
	return 1
}

// metal finds old places whose metal is no longer there or was mended, and new
// ones on metal that was not there: neither can have a partner.
func (w *work) metal() {
	w.repaired, w.fresh = map[int]string{}, map[int]string{}
	patches := w.newPatches()
	for i := range w.olds {
		o := &w.olds[i]
		l := &w.old.Found.Locations[o.location]
		why := ""
		switch {
		case o.pair >= 0 && w.res.Plates[o.pair].Replaced != "":
			why = "plate replaced, " + w.res.Plates[o.pair].Replaced
		case l.Completed && l.Repair != "":
			why = "repair " + l.Repair + " completed at the earlier inspection"
		case o.placed:
			for _, p := range patches[o.pair] {
				if w.under(&p, o.pair, o.at, w.set.Number(criteria.PositionTolerance)) {
					why = "under patch " + p.label
					break
				}
			}
		}
		if why != "" {
			w.repaired[o.location] = why
		}
	}
	for i := range w.news {
		n := &w.news[i]
		l := &w.now.Found.Locations[n.location]
		switch {
		case n.pair >= 0 && w.res.Plates[n.pair].Replaced != "":
			w.fresh[n.location] = "on a plate " + w.res.Plates[n.pair].Replaced
		case l.Patch >= 0:
			for _, p := range patches[n.pair] {
				if p.row == l.Patch {
					w.fresh[n.location] = "on patch " + p.label + ", newer than the earlier inspection"
				}
			}
		}
		if n.placed && w.fresh[n.location] == "" {
			for _, p := range patches[n.pair] {
				if p.row < 0 && w.under(&p, n.pair, n.at, 0) {
					w.fresh[n.location] = "on repair " + p.label + ", a patch completed at the earlier inspection"
				}
			}
		}
	}
}

// patch is metal put on the floor since the earlier inspection.
type patch struct {
	label string
	row   int // in the new Inspection.Patches, −1 for a repair completed then
	at    floor.Footprint
	then  bool // at is told in the frames of the earlier plan
}

// under says whether a place on a new plate lies under a patch, or no farther
// from it than so much.
func (w *work) under(p *patch, k int, at floor.Point, within float64) bool {
	if p.then {
		return p.at.Has(w.res.Plates[k].Old, w.back(&w.res.Plates[k], at), within)
	}
	return p.at.Has(k, at, within)
}

// newPatches are the existing patches put on since, by the plate pairs they may
// lie on: installed after the earlier inspection, or without a date and not
// listed then.
func (w *work) newPatches() map[int][]patch {
	out := map[int][]patch{}
	find := func(in *inspection.Inspection, name inspection.Label) int {
		for i := range in.Plates {
			if name.OK() && in.Plates[i].Label.OK() && inspection.Fold(in.Plates[i].Label.Value) == inspection.Fold(name.Value) {
				return i
			}
		}
		return -1
	}
	found := func(s Survey, p *inspection.Patch) (floor.Footprint, bool) {
		plate := find(s.In, p.Plate)
		if plate < 0 || p.Out {
			return floor.Footprint{}, false
		}
		return s.Plan.PatchAt(plate, p, s.In.Criteria)
	}
	add := func(p patch) {
		for _, k := range p.at.Under() {
			if p.then {
				k = w.plateNow(k)
			}
			if k >= 0 {
				out[k] = append(out[k], p)
			}
		}
	}
	there := map[int][]patch{}
	for i := range w.old.In.Patches {
		if at, ok := found(w.old, &w.old.In.Patches[i]); ok {
			if k := w.plateNow(at.Plate); k >= 0 {
				there[k] = append(there[k], patch{at: at, then: true})
			}
		}
	}
	for i := range w.now.In.Patches {
		p := &w.now.In.Patches[i]
		at, ok := found(w.now, p)
		if !ok || p.Installed.OK() && p.Installed.Value <= w.end {
			continue
		}
		// Result.Plates begins with the new plates in their order
		known := slices.ContainsFunc(there[at.Plate], func(o patch) bool { return w.same(&o, at) })
		if p.Installed.OK() || !known {
			add(patch{label: p.Label.Text, row: i, at: at})
		}
	}
	for i := range w.old.In.Repairs {
		p := &w.old.In.Repairs[i]
		plate := find(w.old.In, p.Plate)
		if plate < 0 || p.Out || !inspection.Is(p.Kind, "patch") || !inspection.Is(p.Status, "completed") {
			continue
		}
		if at, ok := w.old.Plan.RepairAt(plate, p, w.old.In.Criteria); ok && w.plateNow(plate) >= 0 {
			add(patch{label: p.Label.Text, row: -1, at: at, then: true})
		}
	}
	return out
}

// same says whether a patch of then and one of now are one: the middle of either
// lies in the other.
func (w *work) same(then *patch, now floor.Footprint) bool {
	p := &w.res.Plates[now.Plate]
	return w.under(then, now.Plate, now.OnPlate().Centre(), 0) || now.Has(now.Plate, w.across(p, then.at.OnPlate().Centre()), 0)
}
