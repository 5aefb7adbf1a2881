package validation

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/compare"
	"platebook/rules/inspection"
	"platebook/rules/method"
	"platebook/rules/settle"
	"platebook/rules/unit"
)

func settlements(r *record) {
	r.subject = "Settlement"
	r.from(county+"261636: in-service reports 2013, Y 30,000 psi, 8 points", published)
	for _, c := range []struct {
		tank                  string
		d, h, arc, want       float64
		good, bad             float64
		verdictGood, expected string
	}{
		{"T-6103", 30, 36, 11.8, 0.26, 0.24, 0.63, "", ""},
		{"T-6105", 52, 40, 20.4, 0.71, 0.12, 2.16, "", ""},
		{"a tank of 14.5 ft", 14.5, 28.75, 0, 0.08, 0.03, 0, "", ""},
	} {
		arc := unit.Length(c.d*math.Pi/8) * unit.Foot
		in := fmt.Sprintf("%s, D %v, H %v ft", c.tank, c.d, c.h)
		if c.arc > 0 {
			r.number("arc between two points", in, c.arc, float64(arc/unit.Foot), 0.05, "ft")
		}
		limit := settle.AllowableDeflection(arc, feet(c.h), psi(30000))
		r.number("allowable out of plane", in, c.want, float64(limit.V/unit.Inch), 0.006, "in")
		r.text("deflection of "+fmt.Sprint(c.good)+" in", in, "pass", passFail(unit.Length(c.good)*unit.Inch <= limit.V))
		if c.bad > 0 {
			r.text("deflection of "+fmt.Sprint(c.bad)+" in", in, "fail", passFail(unit.Length(c.bad)*unit.Inch <= limit.V))
		}
	}
	r.from("Braune, Edge Settlement of Storage Tank Bottoms, scribd.com/doc/117508235; D 120 ft, R 3 ft, read from the figures; between them derived", published)
	for _, c := range []struct{ deg, want float64 }{{0, 4.7}, {30, 4.25}, {90, 3.8}} {
		got := settle.EdgeLimit(4.7*unit.Inch, 3.8*unit.Inch, unit.Angle(c.deg))
		r.number("edge settlement allowed", fmt.Sprintf("weld at %v°", c.deg), c.want, float64(got.V/unit.Inch), 5e-4, "in")
	}
	r.from("public API 653 practice quiz, scribd.com/document/391472585", published)
	r.number("bulge allowed", "R 1.25 ft", 0.4625, float64(settle.BulgeLimit(30.833333, feet(1.25)).V/unit.Inch), 0.003, "in")
	r.from("eng-tips.com thread 247405", published)
	for _, c := range []struct {
		d      float64
		points int
		want   float64
	}{{60, 20, 9.42}, {6, 8, 2.36}} {
		in := tank(1000 * c.d)
		for i := range c.points {
			in.Settlement = append(in.Settlement, inspection.Survey{Kind: given("shell"), Point: given(fmt.Sprint(i + 1)), Bearing: given(unit.Angle(360 * float64(i) / float64(c.points))), Elevation: mm(float64(i % 3))})
		}
		r.number("arc between points", fmt.Sprintf("%v m, %d points", c.d, c.points), c.want, float64(settle.Judge(in).Arc.V)/1000, 0.005, "m")
	}
	r.from("API 653 Annex B as described in public sources", published)
	for _, c := range []struct{ d, want float64 }{{80, 8}, {100, 10}, {154, 16}, {200, 20}} {
		r.number("points needed", fmt.Sprintf("D %v ft", c.d), c.want, float64(settle.PointsNeeded(feet(c.d))), 0, "")
	}
	r.from(methodP+"12", derived)
	a := method.Scene("survey")
	for _, c := range []struct {
		id, what  string
		want, tol float64
		unit      string
	}{
		{"settlement.mean", "mean term", 1.5, 1e-9, "mm"},
		{"settlement.cos", "cosine term", 8.742641, 5e-7, "mm"},
		{"settlement.sin", "sine term", 9.449747, 5e-7, "mm"},
		{"settlement.tilt", "out of level", 25.74735, 5e-6, "mm"},
		{"settlement.r2", "R²", 0.983570, 5e-7, ""},
		{"settlement.deflection", "greatest out of plane", 2.267767, 5e-7, "mm"},
		{"settlement.allowable", "allowable, D 15, H 12 m, unknown steel", 16.45156, 5e-6, "mm"},
	} {
		r.number(c.what, "eight points every 45°, in a whole evaluation", c.want, a.Result.Steps.Find(c.id).Value, c.tol, c.unit)
	}
	r.number("allowable out of plane", "L 31.416 ft, Y 36,000 psi, H 48 ft", 1.68465, float64(settle.AllowableDeflection(feet(31.416), feet(48), psi(36000)).V/unit.Inch), 5e-6, "in")
	var set struct {
		Cases []struct {
			ID         string        `json:"id"`
			Theta      []unit.Angle  `json:"theta_deg"`
			Settlement []unit.Length `json:"settlement_mm"`
			Expected   struct {
				Mean   float64   `json:"mean_term"`
				Cos    float64   `json:"cos_coef"`
				Sin    float64   `json:"sin_coef"`
				R2     float64   `json:"r_squared"`
				S      []float64 `json:"out_of_plane_S"`
				U      []float64 `json:"residuals"`
				MaxOut float64   `json:"max_abs_S"`
			} `json:"expected"`
		} `json:"cases"`
	}
	r.read("cosine/settlement_rings.json", &set)
	r.from("normal equations at 40 digits; numpy lstsq agrees", reference)
	for _, c := range set.Cases {
		g, err := settle.FitRing(c.Theta, c.Settlement)
		if err != nil {
			r.t.Errorf("%s: %v", c.ID, err)
			continue
		}
		var w worst
		w.hold("mean", c.Expected.Mean, g.A0, 1e-8)
		w.hold("cosine", c.Expected.Cos, g.A1, 1e-8)
		w.hold("sine", c.Expected.Sin, g.B1, 1e-8)
		w.hold("R²", c.Expected.R2, g.R2, 1e-8)
		w.hold("greatest out of plane", c.Expected.MaxOut, g.MaxOut, 1e-8)
		for i := range c.Expected.S {
			w.hold(fmt.Sprintf("out of plane %d", i+1), c.Expected.S[i], g.OutOf[i], 1e-8)
			w.hold(fmt.Sprintf("residual %d", i+1), c.Expected.U[i], g.Residuals[i], 1e-8)
		}
		r.set("plane and residuals", fmt.Sprintf("%s, %d points", c.ID, len(c.Theta)), w, "mm")
	}
}

func comparisons(r *record) {
	r.subject = "Comparison of two inspections"
	r.from(methodP+"13", derived)
	r.number("spread of two readings", "√2 · 0.5 mm", 0.707107, float64(compare.Spread(0.5)), 5e-7, "mm")
	base := func(end string) *inspection.Inspection {
		in := wide(unit.SI)
		in.File = inspection.File{Name: end + ".xlsx", ValuesSHA256: end}
		in.Tank.InspectionEnd = given(day(end))
		return in
	}
	judge := func(old, now *inspection.Inspection) *rules.Assessment {
		return rules.AssessSince(now, nil, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(old, nil)}})
	}
	old, now := base("2014-05-01"), base("2026-05-01")
	pitAt(old, "1", "1-1", "soil", 500, 500, 0, 0, 5.0)
	pitAt(now, "9", "1-1", "soil", 540, 530, 0, 0, 3.6)
	pitAt(now, "2", "1-2", "soil", 900, 900, 0, 0, 4.40)
	c := judge(old, now).Comparison
	for i := range c.Pairs {
		p := &c.Pairs[i]
		switch p.Class {
		case compare.Grown:
			r.number("growth", "5.0 to 3.6 mm in 12 years", 0.116667, float64(p.Growth.V), 5e-7, "mm/year")
			r.number("distance of the pair", "40 and 30 mm apart", 50, float64(p.Distance.V), 1e-9, "mm")
		case compare.New:
			r.number("growth of a new pit, least", "4.40 mm, threshold 5.08, 12 years", 0.0566667, float64(p.Least.V), 5e-8, "mm/year")
			r.number("growth of a new pit, most", "4.40 mm of 6.35, 12 years", 0.1625, float64(p.Most.V), 5e-8, "mm/year")
		}
	}
	assignments(r)
	var set struct {
		Cases []struct {
			ID, Kind string
			Gate     float64
			A, B     [][2]float64
			Expected struct {
				Matched  int
				Distance float64 `json:"total_distance"`
			}
		}
	}
	r.read("assignment/point_matching_gated.json", &set)
	r.from("scipy 1.10.1 linear_sum_assignment, most pairs first", reference)
	for _, c := range set.Cases {
		old, now := base("2014-05-01"), base("2026-05-01")
		for _, in := range []*inspection.Inspection{old, now} {
			in.Tank.Diameter, in.Plates = mm(400000), nil
			p := plate(in, "1", -100000, -100000, 200000, 200000)
			p.MFLScanned = given(unit.Percent(100))
			v := in.Criteria.Get("Matching gate")
			v.Number, v.Set, v.Given = 1000*c.Gate, true, true
			in.Criteria.Put("Matching gate", v)
		}
		for i, q := range c.A {
			pitAt(old, fmt.Sprint(i+1), "1", "soil", 1000*q[0], 1000*q[1], 0, 0, 5)
		}
		for i, q := range c.B {
			pitAt(now, fmt.Sprint(i+1), "1", "soil", 1000*q[0], 1000*q[1], 0, 0, 5)
		}
		pairs, total := 0, 0.0
		res := judge(old, now).Comparison
		for i := range res.Pairs {
			if p := &res.Pairs[i]; p.Old >= 0 && p.New >= 0 {
				pairs++
				total += float64(p.Distance.V) / 1000
			}
		}
		in := fmt.Sprintf("%s, %s, %d and %d places, gate %v m", c.ID, c.Kind, len(c.A), len(c.B), c.Gate)
		r.number("places paired", in, float64(c.Expected.Matched), float64(pairs), 0, "")
		r.number("their total distance", in, c.Expected.Distance, total, 1e-6, "m")
	}
}

func assignments(r *record) {
	sum := func(rows [][]float64) float64 {
		total := 0.0
		for i, j := range compare.Assign(rows) {
			if j >= 0 {
				total += rows[i][j]
			}
		}
		return total
	}
	var hand struct {
		Cases []struct {
			Name     string
			Cost     [][]float64
			Expected struct {
				Min float64 `json:"min_cost"`
			}
		}
	}
	r.read("assignment/hand.json", &hand)
	r.from("common textbook example and others checkable by hand", reference)
	var w worst
	for _, c := range hand.Cases {
		w.hold(c.Name, c.Expected.Min, sum(c.Cost), 1e-9)
	}
	r.set("least sum of an assignment", "small tables", w, "")
	var set struct {
		Instances []struct {
			File     string
			N        int
			Status   string
			Expected struct {
				Min float64 `json:"min_cost"`
			}
		}
	}
	r.read("assignment/assignment.json", &set)
	for _, c := range set.Instances {
		r.from("scipy 1.10.1", reference)
		if strings.HasPrefix(c.Status, "published") {
			r.from("OR-Library, Beasley (1990)", published)
		}
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "assignment", c.File))
		if err != nil {
			r.t.Fatal(err)
		}
		var rows [][]float64
		for _, line := range strings.Fields(string(b)) {
			var row []float64
			for _, f := range strings.Split(line, ",") {
				v, err := strconv.ParseFloat(f, 64)
				if err != nil {
					r.t.Fatal(err)
				}
				row = append(row, v)
			}
			rows = append(rows, row)
		}
		r.number("least sum of an assignment", fmt.Sprintf("%s, %d rows", c.File, c.N), c.Expected.Min, sum(rows), 1e-9, "")
	}
}
