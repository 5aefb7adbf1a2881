package recount

import "math"

// psi in MPa, for the few constants of section 6 that are stated in US units.
const psi = 0.006894757293168361

// steels are allowable stress and yield of the lower two courses, psi.
var steels = map[string][2]float64{
	"": {23600, 30000}, "unknown": {23600, 30000}, "A283-C": {23600, 30000}, "A36": {24900, 36000}, "A516-70": {30000, 38000}, "A537-2": {34300, 60000},
}

// ringTable is the table of section 6: first course up to, then the columns.
var ringTable = []struct {
	upTo float64
	t    [4]float64
}{
	{0.75, [4]float64{0.17, 0.20, 0.23, 0.30}},
	{1.00, [4]float64{0.17, 0.22, 0.31, 0.38}},
	{1.25, [4]float64{0.17, 0.26, 0.38, 0.48}},
	{1.50, [4]float64{0.22, 0.34, 0.47, 0.59}},
	{math.Inf(1), [4]float64{0.27, 0.40, 0.53, 0.68}},
}

var ringColumns = [4]float64{24300, 27000, 29700, 32400}

// requirements are those of shell and ring, reckoned in feet, inches and psi.
func (c *count) requirements() {
	i := c.t.Items
	d, h := i.Number("Diameter")/304.8, i.Number("Maximum fill height")/304.8
	g := i.Number("Specific gravity")
	if c.word("Hydrotest planned") == "yes" {
		g = max(g, 1)
	}
	s := steels[i.Word("Shell steel")][0]
	if i.Has("Allowable stress") {
		s = i.Number("Allowable stress") / psi
	}
	e := i.Or("Joint efficiency", c.number("Joint efficiency if unknown"))
	c.shell, c.shellOK = 25.4*max(0.10, 2.6*d*(h-1)*g/(s*e)), d <= 200
	if i.Has("First-course required thickness") {
		c.shell, c.shellOK = i.Number("First-course required thickness"), true
	}
	if !c.ring || !i.Has("First-course thickness as built") {
		return
	}
	t1 := i.Number("First-course thickness as built") / 25.4
	stress := 2.34 * d * (h - 1) / t1
	c.stress = ptr(stress * psi)
	if i.Number("Specific gravity") >= 1 || stress >= ringColumns[3] {
		return
	}
	for _, row := range ringTable {
		if t1 > row.upTo+1e-12 {
			continue
		}
		k := 0
		for stress >= ringColumns[k] {
			k++
		}
		t := row.t[k]
		if c.word("Annular interpolation") == "linear" && k > 0 {
			// the values stand at the columns' upper limits, the first below its own
			share := (stress - ringColumns[k-1]) / (ringColumns[k] - ringColumns[k-1])
			t = row.t[k-1] + share*(row.t[k]-row.t[k-1])
		}
		c.ringNeeds = ptr(25.4*t + c.number("Annular corrosion allowance"))
		return
	}
}

// criticalOf is t_cz of a nominal thickness.
func (c *count) criticalOf(nominal float64) float64 {
	half := (nominal - c.number("Bottom corrosion allowance")) / 2
	if c.shellOK {
		half = min(half, c.shell/2)
	}
	return max(2.54, half)
}

func (c *count) tellZones(w Wants) {
	found := c.state(c.all(), nil, nil)
	c.zone(w, "critical_zone", &found, func(l *place) *float64 { return l.critical })
	if min := c.worstMargin(func(l *place) *float64 { return l.critical }); min != nil {
		w["critical_zone.required_mm"] = *min.critical
	} else {
		n := c.t.Items.Number("Nominal thickness")
		if c.ring {
			n = c.t.Items.Number("Annular nominal thickness")
		}
		w["critical_zone.required_mm"] = c.criticalOf(n)
	}
	if c.ring {
		w["annular.stress_MPa"], w["annular.required_mm"] = deref(c.stress), deref(c.ringNeeds)
		c.zone(w, "annular", &found, func(l *place) *float64 { return l.annular })
	}
	w["steps[shell.tmin].value"] = any(nil)
	if c.shellOK {
		w["steps[shell.tmin].value"] = c.shell
	}
	p := c.t.Items
	if p.Has("Projection outside the shell") {
		w["steps[projection.width].ok"] = p.Number("Projection outside the shell") >= c.number("Projection minimum")-1e-6
	}
	if now := p.Or("First-course thickness now", p.Number("First-course thickness as built")); now > 0 && c.shellOK {
		w["steps[shell.tmin].ok"] = now >= c.shell-1e-6
	}
}

func deref(v *float64) any {
	if v == nil {
		return nil
	}
	return *v
}

func (c *count) zoned2() []*place {
	list := append([]*place{}, c.zoned...)
	for _, l := range c.places {
		if l.counts {
			list = append(list, l)
		}
	}
	return list
}

func (c *count) worstMargin(of func(*place) *float64) *place {
	var worst *place
	for _, l := range c.zoned2() {
		if n := of(l); n != nil && (worst == nil || l.r-*n < worst.r-*of(worst)) {
			worst = l
		}
	}
	return worst
}

// zone is the least in a zone and whether it holds now and at the end.
func (c *count) zone(w Wants, name string, found *state, of func(*place) *float64) {
	var least *float64
	ok := true
	for _, l := range c.zoned2() {
		n := of(l)
		if n == nil {
			continue
		}
		if least == nil || l.r < *least {
			least = ptr(l.r)
		}
		u, p, _ := c.ratesFor(l.plate, found.rates)
		end := l.r - found.years*(u+c.productOver(p, found.years))
		ok = ok && l.r >= *n-1e-6 && end >= *n-1e-6
	}
	w[name+".min_mm"], w[name+".ok"] = deref(least), any(nil)
	if least != nil && !found.rates.unknown {
		w[name+".ok"] = ok
	}
}
