package recount

import (
	"math"
	"slices"
	"sync"
)

// pair is an MFL loss with the loss ultrasonic testing found there.
type pair struct{ x, y, nominal float64 }

func (c *count) pair(l *place) {
	i := l.row
	if l.irrel || (i.Word("Method") != "MFL" && i.Word("Method") != "hand scan") || !i.Has("Loss %") {
		return
	}
	least := math.Inf(1)
	for _, u := range l.tied {
		if u.Has("Remaining") {
			least = min(least, u.Number("Remaining"))
		}
	}
	if !math.IsInf(least, 1) {
		c.pairs = append(c.pairs, pair{i.Number("Loss %"), 100 * (l.nominal - least) / l.nominal, l.nominal})
	}
}

// line is the least-squares line of y on x.
type line struct {
	n, mx, my, sxx, b0, b1, s, low, high float64
	ok                                   bool
}

func fit(ps []pair) line {
	f := line{n: float64(len(ps)), low: math.Inf(1), high: math.Inf(-1)}
	for _, p := range ps {
		f.mx += p.x / f.n
		f.my += p.y / f.n
		f.low, f.high = min(f.low, p.x), max(f.high, p.x)
	}
	var sxy, sse float64
	for _, p := range ps {
		f.sxx += (p.x - f.mx) * (p.x - f.mx)
		sxy += (p.x - f.mx) * (p.y - f.my)
	}
	if f.n < 3 || f.sxx < 1e-12 {
		return f
	}
	f.b1 = sxy / f.sxx
	f.b0 = f.my - f.b1*f.mx
	for _, p := range ps {
		e := p.y - f.b0 - f.b1*p.x
		sse += e * e
	}
	f.s, f.ok = math.Sqrt(sse/(f.n-2)), true
	return f
}

// p95 is the upper prediction limit at x.
func (f line) p95(x float64) float64 {
	return f.b0 + f.b1*x + student(0.95, int(f.n)-2)*f.s*math.Sqrt(1+1/f.n+(x-f.mx)*(x-f.mx)/f.sxx)
}

// allowance is what is taken off an estimate, points.
func (c *count) allowance(loss, nominal float64) float64 {
	plain := max(0, c.number("Sizing allowance")+c.by.allowance)
	var own []pair
	for _, p := range c.pairs {
		if math.Abs(p.nominal-nominal) < 1e-9 {
			own = append(own, p)
		}
	}
	if float64(len(own)) < c.number("Sizing minimum pairs") {
		return plain
	}
	f := fit(own)
	if !f.ok {
		return plain
	}
	a := max(0, f.p95(loss)-loss)
	if loss < f.low-1e-9 || loss > f.high+1e-9 {
		a = max(a, plain)
	}
	return a
}

var students sync.Map

// student is Student's t at p for df degrees of freedom: the integral of its
// density by Simpson's rule, solved by halving.
func student(p float64, df int) float64 {
	if t, ok := students.Load(df); ok {
		return t.(float64)
	}
	n := float64(df)
	a, _ := math.Lgamma((n + 1) / 2)
	b, _ := math.Lgamma(n / 2)
	k := math.Exp(a-b) / math.Sqrt(n*math.Pi)
	density := func(t float64) float64 { return k * math.Pow(1+t*t/n, -(n+1)/2) }
	below := func(t float64) float64 {
		const steps = 1000
		h := t / steps
		sum := density(0) + density(t)
		for i := 1; i < steps; i++ {
			sum += density(float64(i)*h) * float64(2+2*(i%2))
		}
		return 0.5 + sum*h/3
	}
	low, high := 0.0, 10.0
	for range 60 {
		if m := (low + high) / 2; below(m) < p {
			low = m
		} else {
			high = m
		}
	}
	students.Store(df, (low+high)/2)
	return (low + high) / 2
}

func (c *count) tellSizing(w Wants) {
	n := float64(len(c.pairs))
	w["sizing.pairs"] = n
	for _, k := range []string{"bias_pct", "sd_pct", "worst_under_pct", "slope", "intercept_pct", "residual_sd_pct"} {
		w["sizing."+k] = nil
	}
	if n == 0 {
		return
	}
	var es []float64
	worst := 0.0
	for _, p := range c.pairs {
		es = append(es, p.x-p.y)
		worst = max(worst, p.y-p.x)
	}
	w["sizing.bias_pct"], w["sizing.worst_under_pct"] = mean(es), worst
	if n > 1 {
		w["sizing.sd_pct"] = deviation(es)
	}
	if f := fit(c.pairs); f.ok {
		w["sizing.slope"], w["sizing.intercept_pct"], w["sizing.residual_sd_pct"] = f.b1, f.b0, f.s
	}
}

func mean(v []float64) float64 {
	var s float64
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

func deviation(v []float64) float64 {
	m, s := mean(v), 0.0
	for _, x := range v {
		s += (x - m) * (x - m)
	}
	return math.Sqrt(s / float64(len(v)-1))
}

// quantile is type 7 of Hyndman and Fan.
func quantile(v []float64, p float64) float64 {
	s := slices.Clone(v)
	slices.Sort(s)
	h := float64(len(s)-1) * p
	k := int(h)
	if k+1 >= len(s) {
		return s[len(s)-1]
	}
	return s[k] + (h-float64(k))*(s[k+1]-s[k])
}
