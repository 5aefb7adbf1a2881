package validation

import (
	"fmt"
	"math"

	"platebook/rules/method"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
)

func feet(v float64) unit.Length { return unit.Length(v) * unit.Foot }
func psi(v float64) unit.Stress  { return unit.Stress(v) * unit.PSI }

func shells(r *record) {
	r.subject = "Shell thickness"
	type course struct{ d, h, g, s, e, want, tol float64 }
	us := func(courses ...course) {
		for _, c := range courses {
			got, err := api653_5.MinimumShell(feet(c.d), feet(c.h), unit.Ratio(c.g), psi(c.s), unit.Ratio(c.e))
			if err != nil {
				r.t.Error(err)
			}
			r.number("required thickness", fmt.Sprintf("D %v, H %v ft, G %v, S %.0f psi, E %v", c.d, c.h, c.g, c.s, c.e), c.want, float64(got/unit.Inch), c.tol, "in")
		}
	}
	r.from(county+"261636: tank T-6105, in-service report 2013", published)
	us(course{52, 40, 1, 23600, 0.7, 0.319, 6e-4}, course{52, 32.08, 1, 23600, 0.7, 0.254, 6e-4}, course{52, 24.17, 1, 26000, 0.7, 0.172, 6e-4},
		course{52, 16.25, 1, 26000, 0.7, 0.113, 6e-4}, course{52, 8.33, 1, 26000, 0.7, 0.100, 6e-4})
	r.from(county+"261636: tank T-6103, in-service report 2013", published)
	us(course{30, 36, 1, 23600, 0.7, 0.165, 6e-4}, course{30, 32, 1, 23600, 0.7, 0.146, 6e-4}, course{30, 28, 1, 26000, 0.7, 0.116, 6e-4})
	r.from(county+"261636: tank T-7702, in-service report 2013", published)
	us(course{12.5, 13, 1, 27000, 0.85, 0.100, 6e-4}, course{12.5, 8, 1, 27000, 0.85, 0.100, 6e-4}, course{12.5, 3, 1, 27000, 0.85, 0.100, 6e-4})
	r.from("eng-tips.com thread 305468", published)
	us(course{60, 32, 1.5, 23200, 1, 0.31267, 1e-5}, course{60, 24, 1.5, 23200, 1, 0.23198, 1e-5}, course{60, 24, 1.5, 24900, 1, 0.216, 5e-4})
	r.from("public API 653 practice quiz, scribd.com/document/391472585; specific gravity 1 derived", published)
	us(course{94, 22, 1, 23600, 1, 0.2175, 0.003})
	r.from("worked shell calculation by API Std 650, metric, scribd.com/document/750142418", published)
	a, _ := api653_5.MinimumShell(36000, 18000, 0.75, 173, 1)
	r.number("design, with 2.54 mm allowance", "D 36, H 18 m, G 0.75, S 173 MPa, E 1", 16.08, float64(a)+2.54, 0.01, "mm")
	b, _ := api653_5.MinimumShell(36000, 18000, 1, 195, 1)
	r.number("hydrostatic test", "D 36, H 18 m, G 1, S 195 MPa, E 1", 16.01, float64(b), 0.01, "mm")
	r.from(methodP+"6", derived)
	c, _ := api653_5.MinimumShell(30000, 13900, 0.85, psi(23600), 1)
	r.number("required thickness", "D 30, H 13.9 m, G 0.85, S 23,600 psi, E 1", 10.44217, float64(c), 5e-6, "mm")
	r.number("the same as a step of a whole evaluation", "the same tank", 10.44217, method.Scene("ring").Result.Steps.Find("shell.tmin").Value, 5e-6, "mm")
	r.number("the constant in metric units", "2.6 of ft, in, psi, converted exactly", 4.9011289, api653_5.ShellFactor, 5e-8, "")
	_, err := api653_5.MinimumShell(feet(200.1), feet(40), 1, psi(23600), 1)
	r.text("over 200 ft", "D 200.1 ft", "no number", known(err == nil))
	r.from("API Std 653, Table 4.1 against min(0.80Y, 0.429T); tensile strength 58,000 psi by ASTM A36, 70,000 by A516", published)
	r.number("allowable stress of A36", "Y 36,000, T 58,000 psi; the table rounds to 100", 24900, math.Round(float64(api653_5.AllowableStress(psi(36000), psi(58000))/unit.PSI)/100)*100, 0, "psi")
	r.number("allowable stress of A516-70", "Y 38,000, T 70,000 psi; the table rounds to 100", 30000, math.Round(float64(api653_5.AllowableStress(psi(38000), psi(70000))/unit.PSI)/100)*100, 0, "psi")
	for _, s := range []struct {
		name string
		want float64
	}{{"A283-C", 23600}, {"A36", 24900}, {"A516-60", 25600}, {"A516-65", 27900}, {"A537-1", 30000}, {"A537-2", 34300}, {"not listed", 23600}} {
		r.from("API Std 653, Table 4.1 (public extract)", published)
		r.number("allowable stress of a steel", s.name, s.want, float64(api653_5.FindSteel(s.name).Allow/unit.PSI), 1e-6, "psi")
	}
}

func zones(r *record) {
	r.subject = "Critical zone and annular ring"
	in := func(v float64) unit.Length { return unit.Length(v) * unit.Inch }
	r.from(methodP+"6", derived)
	for _, c := range []struct{ shell, want float64 }{{0.218, 0.109}, {0.36, 0.125}, {0.15, 0.100}} {
		r.number("required in the critical zone", fmt.Sprintf("0.25 in bottom, shell %v in", c.shell), c.want, float64(api653_5.CriticalZoneRequired(in(0.25), 0, unit.Some(in(c.shell)))/unit.Inch), 1e-9, "in")
	}
	r.number("required in the critical zone", "6.35 mm bottom, shell 10.44217 mm", 3.175, float64(api653_5.CriticalZoneRequired(6.35, 0, unit.Some(unit.Length(10.44217)))), 1e-9, "mm")
	r.number("without the shell's", "0.25 in bottom", 0.125, float64(api653_5.CriticalZoneRequired(in(0.25), 0, unit.Maybe[unit.Length]{})/unit.Inch), 1e-9, "in")
	s, _ := api653_5.AnnularStress(30000, 13900, 12)
	r.number("stress in the first course", "D 30, H 13.9 m, 12 mm", 149.922, float64(s), 5e-4, "MPa")
	r.number("the constant in metric units", "2.34 of ft, in, psi, converted exactly", 4.4110160, api653_5.StressFactor, 5e-8, "")
	s, _ = api653_5.AnnularStress(feet(120), feet(48), in(0.75))
	r.number("stress in the first course", "D 120, H 48 ft, 0.75 in", 17596.8, float64(s/unit.PSI), 0.05, "psi")
	s2, _ := api653_5.AnnularStress(feet(200), feet(60), in(1.10))
	r.number("stress in the first course", "D 200, H 60 ft, 1.10 in", 25101.8, float64(s2/unit.PSI), 0.05, "psi")
	ring := func(what, inputs string, want float64, stress unit.Stress, t1 float64, read api653_5.Reading) {
		got, err := api653_5.AnnularRequired(stress, in(t1), 0.9, 0, read)
		if err != nil {
			r.t.Error(err)
		}
		r.number(what, inputs, want, float64(got/unit.Inch), 5e-6, "in")
	}
	ring("required of the ring", "17,596.8 psi, 0.75 in", 0.17, s, 0.75, api653_5.NextColumn)
	ring("required of the ring", "25,101.8 psi, 1.10 in", 0.26, s2, 1.10, api653_5.NextColumn)
	ring("read linearly", "25,650 psi, 0.75 in", 0.185, psi(25650), 0.75, api653_5.Linear)
	ring("read linearly", "28,000 psi, 1.00 in", 0.25333, psi(28000), 1.00, api653_5.Linear)
	ring("exactly at a column's limit", "24,300 psi, 0.75 in", 0.20, psi(24300), 0.75, api653_5.NextColumn)
	_, err := api653_5.AnnularRequired(psi(32400), in(0.75), 0.9, 0, api653_5.NextColumn)
	r.text("over the table", "32,400 psi", "no number", known(err == nil))
	_, err = api653_5.AnnularRequired(psi(20000), in(0.75), 1, 0, api653_5.NextColumn)
	r.text("specific gravity of 1", "G 1", "no number", known(err == nil))
	r.from("public engineering forum, eng-tips.com, threads on API 653 beside 515104", published)
	ring("required of the ring", "G below 1, stress below 27,000 psi, first course up to 0.75 in", 0.20, psi(26999), 0.75, api653_5.NextColumn)
	r.from("API Std 653, Table 4.5 (public extract): every entry", published)
	table := [][]float64{{0.17, 0.20, 0.23, 0.30}, {0.17, 0.22, 0.31, 0.38}, {0.17, 0.26, 0.38, 0.48}, {0.22, 0.34, 0.47, 0.59}, {0.27, 0.40, 0.53, 0.68}}
	var w worst
	for i, t1 := range []float64{0.75, 1, 1.25, 1.5, 1.6} {
		for k, limit := range []float64{24300, 27000, 29700, 32400} {
			got, err := api653_5.AnnularRequired(psi(limit-1), in(t1), 0.9, 0, api653_5.NextColumn)
			if err != nil {
				r.t.Error(err)
			}
			w.hold(fmt.Sprintf("%v in, below %.0f psi", t1, limit), table[i][k], float64(got/unit.Inch), 1e-9)
		}
	}
	r.set("annular thickness table", "five rows, four columns", w, "in")
}
