package demo

import (
	"cmp"
	"math"
	"slices"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

// The tank of the example. Its sizes are whole ones in US units, as on many
// old drawings, and read well in SI too.
const (
	diameter     = 80 * 304.8
	radius       = diameter / 2
	ringWidth    = 30 * 25.4
	rim          = radius - ringWidth
	plateLength  = 16 * 304.8
	plateWidth   = 5 * 304.8
	lap          = 2 * 25.4
	nominal      = 6.35
	ringNominal  = 9.525
	sumpRadius   = 30 * 304.8 // of the centre of the sump, at bearing 180
	sumpSize     = 36 * 25.4
	columnAcross = 12 * 25.4
)

// plate is a plate of the example in plan.
type plate struct {
	form.Slot
	left, bottom float64
	nominal      float64
	sound        float64 // thickness of its good metal
	number       int     // in the order of the sheet
	pits         []*pit
}

// layFloor is the generated layout in plan, with the bottom of the sump last.
func layFloor(o form.Options, seq *sequence) ([]*plate, error) {
	slots, err := form.Layout(o)
	if err != nil {
		return nil, err
	}
	lap := float64(o.Lap)
	totals, rows := map[int]float64{}, 0
	for _, s := range slots {
		totals[s.Row] += s.Length - lap
		rows = max(rows, s.Row)
	}
	width := float64(o.PlateWidth)
	stack := float64(rows)*width - float64(rows-1)*lap
	plates := make([]*plate, 0, len(slots)+1)
	next := map[int]float64{}
	for _, s := range slots {
		p := &plate{Slot: s, nominal: nominal, number: len(plates)}
		if s.Type == "annular" {
			p.nominal = ringNominal
		} else {
			if _, ok := next[s.Row]; !ok {
				next[s.Row] = -(totals[s.Row] + lap) / 2
			}
			p.left = next[s.Row]
			next[s.Row] += s.Length - lap
			p.bottom = -stack/2 + float64(s.Row-1)*(width-lap)
		}
		p.sound = p.nominal + seq.between(-0.15, 0.12)
		plates = append(plates, p)
	}
	return plates, nil
}

// at is the plate under a place in plan and the place on it, well inside its
// edges; nil where there is none.
func at(plates []*plate, rim, radius, x, y float64) (*plate, float64, float64) {
	const edge = 70
	rho := math.Hypot(x, y)
	if rho > rim {
		bearing := math.Mod(math.Atan2(x, y)*180/math.Pi+360, 360)
		for _, p := range plates {
			if p.Type == "annular" && bearing >= p.Start && bearing < p.End {
				along := (bearing - p.Start) * math.Pi / 180 * radius
				if along < edge || along > p.Length-edge || radius-rho > p.Width-edge || radius-rho < 20 {
					return nil, 0, 0
				}
				return p, along, radius - rho
			}
		}
		return nil, 0, 0
	}
	if rho > rim-edge {
		return nil, 0, 0
	}
	for _, p := range plates {
		if p.Row == 0 {
			continue
		}
		u, v := x-p.left, y-p.bottom
		if u >= edge && u <= p.Length-edge && v >= edge && v <= p.Width-edge {
			return p, u, v
		}
	}
	return nil, 0, 0
}

// pit is an indication with what the metal really is there.
type pit struct {
	id            string
	plate         *plate
	x, y          float64
	length, width float64
	side, method  string
	kind          string
	depth         float64 // mm from the sound surface
	loss          int     // percent as estimated by the scan
	by            string
	date          unit.Date
	photo         string
	remarks       string
	prove         string // how it was proved up: UT, gauge or not at all
}

// remaining is the thickness really left.
func (p *pit) remaining() float64 { return max(0, p.plate.sound-p.depth) }

// room says whether a place keeps clear of the plate's other indications, so
// that no two are mistaken for one entered twice.
func (p *plate) room(x, y, clear float64) bool {
	for _, q := range p.pits {
		if math.Abs(q.x-x) < clear && math.Abs(q.y-y) < clear {
			return false
		}
	}
	return true
}

// number gives the pits their IDs in the order of the sheet: by plate, then
// by place.
func number(plates []*plate) []*pit {
	var all []*pit
	for _, p := range plates {
		slices.SortFunc(p.pits, func(a, b *pit) int {
			return cmp.Or(cmp.Compare(math.Round(a.x), math.Round(b.x)), cmp.Compare(math.Round(a.y), math.Round(b.y)))
		})
		all = append(all, p.pits...)
	}
	return all
}

// rule is how finely people measure in a unit system; its results are mm.
type rule struct{ system unit.System }

func (r rule) thickness(mm float64) float64 { return r.to(mm, 0.01, 0.001) }
func (r rule) position(mm float64) float64  { return r.to(mm, 5, 0.1) }
func (r rule) size(mm float64) float64      { return r.to(mm, 1, 0.1) }
func (r rule) settlement(mm float64) float64 {
	return r.to(mm, 0.5, 0.02)
}

func (r rule) to(mm, stepSI, stepUS float64) float64 {
	if r.system == unit.US {
		return math.Round(mm/25.4/stepUS) * stepUS * 25.4
	}
	return math.Round(mm/stepSI) * stepSI
}
