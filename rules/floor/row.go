package floor

import (
	"math"
	"sort"
	"strings"

	"platebook/rules/inspection"
)

// row is one row of plates of the automatic layout.
type row struct {
	label     string
	key       string   // the label folded
	plates    []int    // by position
	positions []string // folded
	height    float64
	bottom    float64 // NaN when unknown
	total     float64 // NaN when a plate's length or position is not known
	automatic bool    // no plate of it has a Left or Bottom of its own
	why       string  // why its total is not known
}

// stack gives every plate of a row its lower left corner, before a given Left
// or Bottom replaces it. Rows stand by their label and plates by their
// position in natural order; missing numbers leave no gap.
//
//	stack = Σh − (rows − 1)·lap,  bottom(1) = −stack/2,  bottom(i+1) = bottom(i) + h(i) − lap
//	total = ΣL − (k − 1)·lap,  left(1) = −total/2,  left(j+1) = left(j) + L(j) − lap
//
// h is the widest plate of a row, L a plate's length (of a plate turned by a
// quarter, its extents as it lies), mm. A row with a plate whose length or
// position is not known is not laid out along x, since every plate of it would
// stand wrong; a row without any known width leaves no row a bottom.
//
// Source: derived, method section 2.
// Check: 6 m tank, four rows of 1800, lap 50: bottoms −3525, −1775, −25, 1725.
func (p *Plan) stack(in *inspection.Inspection) {
	for i := range p.Plates {
		p.Plates[i].Origin = Point{math.NaN(), math.NaN()}
	}
	p.rows = gather(in.Plates)
	if in.Tank.Lap.State == inspection.Wrong {
		for _, r := range p.rows {
			for _, i := range r.plates {
				p.Plates[i].Why = "the Lap is not known"
			}
		}
		p.rows = nil
		return
	}
	high := p.Lap
	for k := range p.rows {
		r := &p.rows[k]
		p.measure(r, in.Plates)
		high += r.height - p.Lap
	}
	bottom := -high / 2
	for k := range p.rows {
		r := &p.rows[k]
		r.bottom = bottom
		bottom += r.height - p.Lap
		left := -r.total / 2
		for _, i := range r.plates {
			pl := &p.Plates[i]
			pl.Origin = Point{left, r.bottom}
			along, _ := lies(pl, &in.Plates[i])
			left += along - p.Lap
			switch {
			case r.why != "":
				pl.Why = r.why
			case math.IsNaN(high):
				pl.Why = "a row has no plate of known Width"
			}
		}
	}
}

// measure takes the height and the length of a row.
func (p *Plan) measure(r *row, plates []inspection.Plate) {
	r.height, r.total, r.automatic = math.NaN(), p.Lap, true
	for _, i := range r.plates {
		pl, w := &p.Plates[i], &plates[i]
		along, across := lies(pl, w)
		if across > 0 && !(r.height >= across) {
			r.height = across
		}
		if along > 0 {
			r.total += along - p.Lap
		} else {
			r.total = math.NaN()
			r.say("the Length of %s in its row is not known", w.Label.Value)
		}
		if !w.Position.OK() {
			r.total = math.NaN()
			r.say("the Position of %s in its row is not known", w.Label.Value)
		}
		if w.Left.OK() || w.Bottom.OK() {
			r.automatic = false
		}
	}
	for k := 1; k < len(r.plates); k++ {
		a, b := &plates[r.plates[k-1]], &plates[r.plates[k]]
		if a.Position.OK() && b.Position.OK() && r.positions[k-1] == r.positions[k] {
			r.total = math.NaN()
			r.say("its row has two plates in one position: %s", a.Label.Value+", "+b.Label.Value)
		}
	}
}

func (r *row) say(format, what string) {
	if r.why == "" {
		r.why = strings.Replace(format, "%s", what, 1)
	}
}

// lies is a plate's extents along and across its row as it lies.
func lies(pl *Plate, w *inspection.Plate) (along, across float64) {
	if knownAngle(w.Turned) {
		if d := whole(float64(w.Turned.Value)); d == 90 || d == 270 {
			return pl.Width, pl.Length
		}
	}
	return pl.Length, pl.Width
}

// gather sorts the plates that belong to rows. A plate with a row but no
// position belongs to it unless its own coordinates place it.
func gather(plates []inspection.Plate) []row {
	var rows []row
	at := make(map[string]int)
	for i := range plates {
		w := &plates[i]
		if !w.RowNo.OK() || inspection.Is(w.Type, "annular") || inspection.Is(w.Type, "sump") {
			continue
		}
		if !w.Position.OK() && w.Left.OK() && w.Bottom.OK() {
			continue
		}
		if !w.Type.OK() && w.StartBearing.OK() {
			continue // of unknown type, but it looks annular
		}
		key := inspection.Fold(w.RowNo.Value)
		k, ok := at[key]
		if !ok {
			k = len(rows)
			at[key] = k
			rows = append(rows, row{label: w.RowNo.Value, key: key})
		}
		rows[k].plates = append(rows[k].plates, i)
		rows[k].positions = append(rows[k].positions, inspection.Fold(w.Position.Value))
	}
	sort.SliceStable(rows, func(a, b int) bool { return naturally(rows[a].key, rows[b].key) < 0 })
	for k := range rows {
		sort.Stable(byPosition{&rows[k]})
	}
	return rows
}

// byPosition sorts the plates of a row along it.
type byPosition struct{ *row }

func (s byPosition) Len() int           { return len(s.plates) }
func (s byPosition) Less(a, b int) bool { return naturally(s.positions[a], s.positions[b]) < 0 }
func (s byPosition) Swap(a, b int) {
	s.plates[a], s.plates[b] = s.plates[b], s.plates[a]
	s.positions[a], s.positions[b] = s.positions[b], s.positions[a]
}
