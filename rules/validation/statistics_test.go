package validation

import (
	"fmt"
	"math"
	"slices"

	"platebook/rules/extreme"
	"platebook/rules/method"
	"platebook/rules/sizing"
	"platebook/rules/statistics"
)

func sizings(r *record) {
	r.subject = "Regression: MFL against UT"
	fit := func(x, y []float64) sizing.Fit {
		var pairs []sizing.Pair
		for i := range x {
			pairs = append(pairs, sizing.Pair{MFL: x[i], UT: y[i]})
		}
		return sizing.Compare(pairs)
	}
	r.from(methodP+"8", derived)
	f := fit([]float64{20, 25, 30, 35, 40, 45, 50, 55, 60, 70}, []float64{18, 30, 27, 41, 38, 52, 49, 50, 66, 73})
	ten := "ten pairs, x 20 … 70, y 18 … 73"
	r.number("bias", ten, -1.4, float64(f.Bias.V), 1e-9, "points")
	r.number("standard deviation of the errors", ten, 4.45222, float64(f.SD.V), 5e-6, "points")
	r.number("within 10 points", ten, 100, float64(f.Within10.V), 1e-9, "%")
	r.number("worst underestimate", ten, 7, float64(f.WorstUnder.V), 1e-9, "points")
	r.number("slope", ten, 1.035931, float64(f.Slope.V), 5e-7, "")
	r.number("intercept", ten, -0.145022, float64(f.Intercept.V), 5e-7, "%")
	r.number("residual standard deviation", ten, 4.682651, float64(f.ResidualSD.V), 5e-7, "%")
	r.number("Student's t", "0.95, 8 degrees of freedom", 1.859548, f.T(0.95), 5e-7, "")
	r.number("95 % prediction limit", "at 35 %", 45.35947, float64(f.Upper(35, 0.95).V), 5e-6, "%")
	left := math.NaN()
	for _, l := range method.Scene("pairs").Result.Locations {
		if l.Label == "3-2/11" {
			left = float64(l.Remaining.V)
		}
	}
	r.number("remaining by the allowance, in a whole evaluation", "6.35 mm at 35 %", 3.46967, left, 5e-6, "mm")
	for _, name := range []string{"norris", "anscombe1", "cars"} {
		var set struct {
			Source string
			Data   struct{ X, Y []float64 }
			Expect struct {
				Coef       []float64
				ResidualSD float64    `json:"residual_sd"`
				At         *float64   `json:"interval_at_x"`
				Prediction [2]float64 `json:"prediction95"`
				Fit        float64
			} `json:"expected"`
			Tolerance struct{ Relative float64 }
		}
		r.read("regression/"+name+".json", &set)
		source, mark := map[string]string{
			"norris":    "NIST Statistical Reference Datasets (SRD 140), linear regression, certified values",
			"anscombe1": "Anscombe, Amer. Statistician 27 (1973); exact recomputation",
			"cars":      "R data set cars; exact recomputation",
		}[name], map[string]string{"norris": published, "anscombe1": reference, "cars": reference}[name]
		r.from(source, mark)
		f := fit(set.Data.X, set.Data.Y)
		tol := func(v float64) float64 { return set.Tolerance.Relative * math.Abs(v) }
		in := fmt.Sprintf("%s, %d points", name, len(set.Data.X))
		r.number("intercept", in, set.Expect.Coef[0], float64(f.Intercept.V), tol(set.Expect.Coef[0]), "")
		r.number("slope", in, set.Expect.Coef[1], float64(f.Slope.V), tol(set.Expect.Coef[1]), "")
		r.number("residual standard deviation", in, set.Expect.ResidualSD, float64(f.ResidualSD.V), tol(set.Expect.ResidualSD), "")
		if set.Expect.At != nil {
			at := fmt.Sprintf("%s, at x = %v", name, *set.Expect.At)
			r.number("95 % prediction interval, lower", at, set.Expect.Prediction[0], float64(f.Lower(*set.Expect.At, 0.975).V), 1e-9*math.Abs(set.Expect.Prediction[0])+1e-10, "")
			r.number("95 % prediction interval, upper", at, set.Expect.Prediction[1], float64(f.Upper(*set.Expect.At, 0.975).V), 1e-9*math.Abs(set.Expect.Prediction[1])+1e-10, "")
		}
	}
	var t struct {
		Quantiles []struct {
			DF int     `json:"df"`
			P  float64 `json:"p"`
			T  float64 `json:"t"`
		} `json:"quantiles"`
		Tolerance struct{ Relative float64 }
	}
	r.read("statistics/tolerance_and_proportions.json", &t)
	r.from("R 4.2.2 qt", reference)
	var w worst
	for _, q := range t.Quantiles {
		x := make([]float64, q.DF+2)
		for i := range x {
			x[i] = float64(i)
		}
		w.hold(fmt.Sprintf("p %v, %d degrees of freedom", q.P, q.DF), q.T, fit(x, x).T(q.P), t.Tolerance.Relative*math.Abs(q.T))
	}
	r.set("Student's t", "p 0.9 to 0.995", w, "")
}

func gumbels(r *record) {
	r.subject = "Extreme values: Gumbel fit"
	r.from(methodP+"9", derived)
	x := []float64{0.9, 1.1, 1.3, 0.8, 1.6, 1.2, 2.0, 1.0, 1.4, 1.2, 1.7, 0.9}
	g, err := extreme.Fit(x)
	if err != nil {
		r.t.Fatal(err)
	}
	twelve := "twelve largest losses, 0.8 to 2.0 mm"
	r.number("scale by moments", twelve, 0.283001, g.MomentsA, 5e-7, "mm")
	r.number("location by moments", twelve, 1.094980, g.MomentsU, 5e-7, "mm")
	r.number("scale by maximum likelihood", twelve, 0.271534, g.Scale, 5e-7, "mm")
	r.number("location by maximum likelihood", twelve, 1.096851, g.Location, 5e-7, "mm")
	r.number("standard error of the location", twelve, 0.0825014, math.Sqrt(g.VarU), 5e-8, "mm")
	r.number("standard error of the scale", twelve, 0.0634943, math.Sqrt(g.VarA), 5e-8, "mm")
	r.number("covariance", twelve, 0.00163396, g.CovUA, 5e-9, "mm²")
	level, se := g.Level(25)
	r.number("level", twelve+", T 25", 1.965362, level, 5e-7, "mm")
	r.number("its standard error", twelve+", T 25", 0.241876, se, 5e-7, "mm")
	r.number("95 % level of the whole", twelve+", T 25", 2.777395, g.Whole(25), 5e-7, "mm")
	r.number("correlation of the probability plot", twelve, 0.994540, g.Correlation, 5e-7, "")

	type set struct {
		Source   string
		What     string
		Data     struct{ X []float64 }
		Expected struct {
			MLE struct {
				Location, Scale, Loglik float64
				SE                      struct{ Location, Scale, Cov float64 } `json:"se_observed"`
				Levels                  []struct{ T, Level, SE float64 }       `json:"return_levels_se_observed"`
			} `json:"mle"`
			Moments struct{ Location, Scale float64 } `json:"moments"`
		} `json:"expected"`
	}
	var pirie set
	r.read("gumbel/portpirie.json", &pirie)
	p, _ := extreme.Fit(pirie.Data.X)
	r.from("Coles, An Introduction to Statistical Modeling of Extreme Values (2001), 3.4.1, as printed", published)
	r.number("location", "annual maximum sea level, Port Pirie", 3.87, p.Location, 0.005, "m")
	r.number("scale", "annual maximum sea level, Port Pirie", 0.195, p.Scale, 0.0005, "m")
	r.number("standard error of the scale", "annual maximum sea level, Port Pirie", 0.019, math.Sqrt(p.VarA), 0.0005, "m")
	r.number("log-likelihood", "annual maximum sea level, Port Pirie", 4.22, p.LogLikelihood, 0.005, "")
	var falls set
	r.read("gumbel/greatfalls_mph.json", &falls)
	w, _ := extreme.Fit(falls.Data.X)
	r.from("Simiu and Scanlan, Wind Effects on Structures: example by moments, as printed", published)
	m := extreme.Gumbel{Location: w.MomentsU, Scale: w.MomentsA}
	level, _ = m.Level(50)
	r.number("level by moments", "largest yearly wind, Great Falls, T 50", 76, level, 0.5, "mph")
	level, _ = m.Level(1000)
	r.number("level by moments", "largest yearly wind, Great Falls, T 1000", 91, level, 0.5, "mph")
	for _, name := range []string{
		"astm_e2283_inclusions_um", "dover", "ftcollins_inch", "greatfalls_mph", "oxford", "portpirie", "sask",
		"small_astm_e2283_runA", "small_lisbon_first10", "small_portpirie_first12",
	} {
		var s set
		r.read("gumbel/"+name+".json", &s)
		r.from("R evd 2.3-6.1 and a fit at 40 digits; data: "+s.Source, reference)
		g, err := extreme.Fit(s.Data.X)
		if err != nil {
			r.t.Error(err)
		}
		tol := func(v float64) float64 { return 1e-6 * math.Max(1e-3, math.Abs(v)) }
		var w worst
		want := s.Expected.MLE
		w.hold("location", want.Location, g.Location, tol(want.Location))
		w.hold("scale", want.Scale, g.Scale, tol(want.Scale))
		w.hold("log-likelihood", want.Loglik, g.LogLikelihood, tol(want.Loglik))
		w.hold("standard error of the location", want.SE.Location, math.Sqrt(g.VarU), tol(want.SE.Location))
		w.hold("standard error of the scale", want.SE.Scale, math.Sqrt(g.VarA), tol(want.SE.Scale))
		w.hold("covariance", want.SE.Cov, g.CovUA, tol(want.SE.Cov))
		w.hold("location by moments", s.Expected.Moments.Location, g.MomentsU, tol(s.Expected.Moments.Location))
		w.hold("scale by moments", s.Expected.Moments.Scale, g.MomentsA, tol(s.Expected.Moments.Scale))
		for _, l := range want.Levels {
			level, se := g.Level(l.T)
			w.hold(fmt.Sprintf("level, T %v", l.T), l.Level, level, tol(l.Level))
			w.hold(fmt.Sprintf("error of the level, T %v", l.T), l.SE, se, tol(l.SE))
		}
		r.set("fit, errors and levels", s.What, w, "")
	}
}

func samples(r *record) {
	r.subject = "Statistics"
	r.from(county+"575814, p. 628: tank TNKO-0480, 2009", published)
	tank := []float64{5.5, 5.4, 5.4, 5.5, 5.6, 5.7, 5.7, 5.5, 5.4, 5.4, 5.3, 5.6, 5.4, 5.5, 5.5}
	r.number("mean", "fifteen readings, 5.3 to 5.7 mm", 5.493333, float64(statistics.Mean(tank).V), 1e-6, "mm")
	r.number("standard deviation", "fifteen readings, 5.3 to 5.7 mm", 0.116291915, float64(statistics.SD(tank).V), 1e-6, "mm")
	r.from(methodP+"14", derived)
	six := []float64{4.1, 4.4, 4.9, 5.2, 5.6, 6.0}
	for _, q := range []struct{ p, want float64 }{{0.1, 4.25}, {0.5, 5.05}, {0.9, 5.8}} {
		r.number("quantile, type 7", fmt.Sprintf("six values, %v", q.p), q.want, float64(statistics.Quantile(six, q.p).V), 1e-9, "mm")
	}
	r.text("mean of nothing", "no value", "no number", known(statistics.Mean(nil).Known))
	var strd struct {
		Cases []struct {
			Name      string
			N         int
			Certified struct{ Mean, SD float64 }
			Data      []float64
			Generator *string
		}
	}
	r.read("statistics/descriptive_strd.json", &strd)
	for _, c := range strd.Cases {
		r.from("NIST Statistical Reference Datasets (SRD 140), univariate, certified values", published)
		x := c.Data
		if x == nil {
			x = generated(c.Name, c.N)
		}
		if len(x) != c.N {
			r.t.Errorf("%s: %d of %d values", c.Name, len(x), c.N)
			continue
		}
		tol, note := 1e-12, ""
		if c.Name == "numacc4" {
			tol, note = 6e-9, "; as doubles the two values stand 0.2000000011 apart"
		}
		r.number("mean", fmt.Sprintf("%s, %d values", c.Name, c.N), c.Certified.Mean, float64(statistics.Mean(x).V), 1e-12*math.Abs(c.Certified.Mean), "")
		r.number("standard deviation", fmt.Sprintf("%s, %d values%s", c.Name, c.N, note), c.Certified.SD, float64(statistics.SD(x).V), tol*math.Max(c.Certified.SD, 1e-3), "")
	}
	var quantiles struct {
		Cases []struct {
			Name  string
			X, P  []float64
			Type7 []float64
		}
	}
	r.read("statistics/quantiles.json", &quantiles)
	r.from("R 4.2.2 quantile type 7; Hyndman and Fan, The American Statistician 50 (1996)", reference)
	for _, c := range quantiles.Cases {
		var w worst
		x := slices.Clone(c.X)
		slices.Sort(x)
		for i, p := range c.P {
			w.hold(fmt.Sprintf("p %v", p), c.Type7[i], float64(statistics.Quantile(x, p).V), 1e-12*math.Max(1, math.Abs(c.Type7[i])))
		}
		r.set("quantiles, type 7", c.Name, w, "")
	}
}

// generated are the data that the sets only describe.
func generated(name string, n int) []float64 {
	start := map[string]float64{"numacc2": 1.2, "numacc4": 10000000.2}[name]
	if start == 0 {
		return nil
	}
	low := map[string]float64{"numacc2": 1.1, "numacc4": 10000000.1}[name]
	high := map[string]float64{"numacc2": 1.3, "numacc4": 10000000.3}[name]
	x := []float64{start}
	for len(x) < n {
		x = append(x, low, high)
	}
	return x
}
