package method

import (
	"fmt"

	"platebook/rules"
	"platebook/rules/compare"
	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// example is the example tank of the method: soil-side pits of 3.60 and 4.40
// left by UT, a product-side pit 1.30 deep in 6.30 of sound metal, and an MFL
// call of 35 % that nobody proved up.
func example() *tank {
	return seven().desired(10).at(
		spot{id: "1", plate: "2-2", x: 500, y: 500, side: "soil", method: "MFL", loss: 44, ut: 3.60},
		spot{id: "2", plate: "2-2", x: 1200, y: 800, side: "soil", method: "MFL", loss: 32, ut: 4.40},
		spot{id: "3", plate: "3-2", x: 600, y: 700, side: "product", method: "visual", depth: 1.30, pit: 1.30, sound: 6.30},
		spot{id: "4", plate: "2-1", x: 1500, y: 900, side: "soil", method: "MFL", loss: 35},
	)
}

// planned is the example tank with its two worst places planned to be patched.
func planned() *tank {
	return example().
		repair("R1", "patch", "2-2", 500, 500, 150, 150, 6.35, "planned").
		repair("R2", "patch", "2-1", 1500, 900, 150, 150, 6.35, "planned")
}

// ringed has an annular ring and pits near the shell.
func ringed() *tank {
	t := example()
	n := &t.in.Tank
	n.Diameter, n.MaximumFillHeight, n.ShellHeight = t.length("Tank", 30000), t.length("Tank", 13900), t.length("Tank", 14600)
	n.AnnularRing, n.AnnularNominal, n.AnnularWidth = given(t, "Tank", "yes"), t.length("Tank", 9.5), t.length("Tank", 700)
	n.FirstCourseAsBuilt, n.FirstCourseNow = t.length("Tank", 12), t.length("Tank", 11.6)
	n.JointEfficiency = given(t, "Tank", unit.Ratio(1))
	for i := range 4 {
		label := fmt.Sprintf("A%d", i+1)
		p := inspection.Plate{Row: t.row("Plates", label)}
		p.Label, p.Type = given(t, "Plates", label), given(t, "Plates", "annular")
		p.StartBearing, p.EndBearing = given(t, "Plates", unit.Angle(90*i)), given(t, "Plates", unit.Angle(90*i+90))
		p.Width, p.Nominal = t.length("Plates", 700), t.length("Plates", 9.5)
		p.UTGridded = given(t, "Plates", unit.Percent(100))
		t.in.Plates = append(t.in.Plates, p)
	}
	return t.at(
		spot{id: "5", plate: "A1", x: 2500, y: 60, side: "soil", method: "UT", rest: 7.60},
		spot{id: "6", plate: "A2", x: 4000, y: 400, side: "soil", method: "UT", rest: 7.10},
	)
}

// paired has pairs enough for the sizing line to give the allowance.
func paired() *tank {
	t := seven().desired(10)
	x := []float64{20, 25, 30, 35, 40, 45, 50, 55, 60, 70}
	y := []float64{18, 30, 27, 41, 38, 52, 49, 50, 66, 73}
	for i := range x {
		t.at(spot{
			id: fmt.Sprint(i + 1), plate: []string{"2-1", "2-2"}[i%2], x: 300 + 250*float64(i), y: 900,
			side: "soil", method: "MFL", loss: x[i], ut: 6.35 * (1 - y[i]/100),
		})
	}
	return t.at(spot{id: "11", plate: "3-2", x: 1500, y: 900, side: "soil", method: "MFL", loss: 35})
}

// half is a floor of 28 plates of which 16 are examined, for the estimate of
// the rest.
func half() *tank {
	t := bare().desired(10)
	t.in.Tank.Diameter = t.length("Tank", 15000)
	deepest := []float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0, 1.0, 1.4, 1.2, 1.7, 0.9}
	for i := range 28 {
		label := fmt.Sprintf("%d-%d", i/4+1, i%4+1)
		t.plate(label, fmt.Sprint(i/4+1), fmt.Sprint(i%4+1), 3050, 1850)
		if i >= len(deepest) {
			t.in.Plates[i].MFLScanned = given(t, "Plates", unit.Percent(0))
			continue
		}
		t.at(spot{id: fmt.Sprint(i + 1), plate: label, x: 1500, y: 900, side: "soil", method: "UT", rest: 6.35 - deepest[i]})
	}
	return t.set(criteria.ExtremeValueInInterval, "yes").set(criteria.LeastExaminedForARate, "30")
}

// surveyed has a settlement survey: eight points, an edge and a bulge.
func surveyed() *tank {
	t := example()
	n := &t.in.Tank
	n.Diameter, n.ShellHeight = t.length("Tank", 15000), t.length("Tank", 12000)
	for i, z := range []float64{12, 15, 9, 2, -6, -11, -9, 0} {
		t.survey("shell", fmt.Sprintf("P%d", i+1), func(s *inspection.Survey) {
			s.Bearing, s.Elevation = given(t, "Settlement", unit.Angle(45*i)), t.length("Settlement", z)
		})
	}
	t.survey("edge", "E1", func(s *inspection.Survey) {
		s.Radius, s.Measured = t.length("Settlement", 914.4), t.length("Settlement", 80)
		s.WeldAngle = given(t, "Settlement", unit.Angle(30))
	})
	t.survey("bulge", "B1", func(s *inspection.Survey) {
		s.Radius, s.Measured = t.length("Settlement", 1500), t.length("Settlement", 40)
	})
	return t.set(criteria.EdgeLimitBe, "119.38").set(criteria.EdgeLimitBew, "96.52").set(criteria.EdgeLimitRadius, "0.9144")
}

// forms is a floor where each kind of value that a location can have occurs.
func forms() *tank {
	t := example().at(
		spot{id: "5", plate: "4-1", x: 1000, y: 900, side: "soil", method: "UT", depth: 1.1},
		spot{id: "6", plate: "4-1", x: 1400, y: 900, side: "soil", method: "UT", loss: 20},
		spot{id: "7", plate: "4-1", x: 1800, y: 900, side: "soil", method: "MFL", rest: 4.6},
		spot{id: "8", plate: "4-1", x: 2200, y: 900, side: "soil", method: "MFL", depth: 1.5},
		spot{id: "9", plate: "4-1", x: 2600, y: 900, side: "soil", method: "UT", rest: 5.1, depth: 1.4},
		spot{id: "10", plate: "4-1", x: 3000, y: 900, side: "product", method: "visual", depth: 0.6, length: 60, width: 60},
		spot{id: "11", plate: "4-1", x: 3000, y: 900, side: "soil", method: "UT", depth: 0.9, length: 60, width: 60},
		spot{id: "12", plate: "1-1", x: 2000, y: 1500, side: "soil", method: "MFL", loss: 30},
	).patch("X1", "1-1", 2500, 900, 300, 300, 8)
	t.in.ProveUps = append(t.in.ProveUps, t.second("4-1", "9", 2600, 900, 5.0))
	t.repair("R3", "weld build-up", "4-1", 3000, 900, 200, 200, 0, "planned")
	return t
}

func (t *tank) second(plate, indication string, x, y, rest float64) inspection.ProveUp {
	u := inspection.ProveUp{Row: t.row("Prove-ups", plate+"/V"+indication)}
	u.ID, u.Plate, u.Indication = given(t, "Prove-ups", "V"+indication), given(t, "Prove-ups", plate), given(t, "Prove-ups", indication)
	u.X, u.Y, u.Remaining = t.length("Prove-ups", x), t.length("Prove-ups", y), t.length("Prove-ups", rest)
	u.Side = given(t, "Prove-ups", "soil")
	return u
}

// then is the same floor twelve years earlier, with one pit shallower.
func then() *tank {
	t := seven().at(
		spot{id: "1", plate: "2-2", x: 500, y: 500, side: "soil", method: "UT", rest: 5.40},
		spot{id: "3", plate: "3-2", x: 600, y: 700, side: "product", method: "UT", rest: 6.25},
	)
	t.in.File.Name, t.in.File.ValuesSHA256 = "earlier.xlsx", "earlier"
	t.in.Tank.InspectionEnd = t.day("Tank", on("2014-05-01"))
	return t
}

// now is the floor with each pit measured by UT, to be set beside then.
func now() *tank {
	t := seven().desired(10).at(
		spot{id: "1", plate: "2-2", x: 500, y: 500, side: "soil", method: "UT", rest: 3.60},
		spot{id: "2", plate: "2-1", x: 900, y: 900, side: "soil", method: "UT", rest: 4.40},
		spot{id: "3", plate: "3-2", x: 600, y: 700, side: "product", method: "UT", rest: 5.00},
	)
	t.in.File.Name, t.in.File.ValuesSHA256 = "now.xlsx", "now"
	return t
}

// since judges a tank with the earlier inspection beside it.
func since(old, t *tank) *rules.Assessment {
	return rules.AssessSince(t.in, nil, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(old.in, nil)}})
}

func (t *tank) judge() *rules.Assessment { return rules.Assess(t.in, nil, nil) }
