package floor

import (
	"math"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// balance compares the plates' net areas with the floor. What sump openings
// cut out of the plates counts as floor. Without Diameter, or with a floor
// plate whose area is not known, there is no balance.
//
//	floor = πR²,  balance = 100·((Σnet + openings)/floor − 1)
//
// R inside radius, mm; areas m²; sump plates are in no sum.
//
// Source: derived, method section 2.
// Check: 6 m tank → Σnet 28.274334 m² = 9π, balance 0.
func (p *Plan) balance() {
	complete, net := true, 0.0
	for i := range p.Plates {
		pl := &p.Plates[i]
		if pl.Sump {
			continue
		}
		if !pl.Measured {
			complete = false
			continue
		}
		net += float64(pl.NetArea)
	}
	p.PlateArea = unit.Area(net)
	if p.Radius <= 0 {
		return
	}
	whole := math.Pi * p.Radius * p.Radius / perSquareMetre
	p.FloorArea = unit.Some(unit.Area(whole))
	if complete && net > 0 {
		p.Balance = unit.Some(unit.Percent(100 * ((net+float64(p.OpeningArea))/whole - 1)))
	}
}

// cover takes the shares of the net area from each plate's percents. What a
// plate's percents miss to 100 was not examined; an unusable or blank percent
// counts nothing. Unknown when no plate, or not even the Diameter, gives areas.
//
//	coverage = Σ(net·%)/Σnet
//
// net area of a plate, m², sump plates left out.
//
// Source: derived, method section 2.
// Check: two halves of 90 and 50 % → 70 %, TestCoverage.
func (p *Plan) cover(plates []inspection.Plate) {
	var mfl, hand, ut, not, all float64
	for i := range plates {
		pl, w := &p.Plates[i], &plates[i]
		if pl.Sump || !pl.Measured {
			continue
		}
		net := float64(pl.NetArea)
		m, h, u, n := share(w.MFLScanned), share(w.HandScanned), share(w.UTGridded), share(w.NotExamined)
		n += math.Max(0, 100-(m+h+u+n))
		mfl, hand, ut, not, all = mfl+net*m, hand+net*h, ut+net*u, not+net*n, all+net
	}
	if all <= 0 {
		return
	}
	p.Coverage = Coverage{
		MFL:         unit.Some(unit.Percent(mfl / all)),
		Hand:        unit.Some(unit.Percent(hand / all)),
		UT:          unit.Some(unit.Percent(ut / all)),
		NotExamined: unit.Some(unit.Percent(not / all)),
	}
}

func share(f inspection.Percent) float64 { return math.Max(0, float64(f.Or(0))) }
