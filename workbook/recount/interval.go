package recount

import (
	"math"
	"slices"

	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// rates are UPr and StPr of a state, of the floor or plate by plate.
type rates struct {
	soil, product float64
	unknown       bool
	plates        map[*plate]rates
}

// state is the outcome of one state.
type state struct {
	soilMin, productMin       float64
	rates                     rates
	soilRate, productRate     any
	mrt                       any
	years, interval, required float64
	uncapped                  any
	governed                  string
	next                      any
}

func (c *count) all() []*place {
	var list []*place
	for _, l := range c.places {
		if l.counts {
			list = append(list, l)
		}
	}
	return list
}

// ratesOver are the largest rates of some places.
func (c *count) ratesOver(list []*place) rates {
	var u, p *float64
	up := func(to **float64, v *float64) {
		if v != nil && (*to == nil || *v > **to) {
			*to = v
		}
	}
	for _, l := range list {
		up(&u, l.soilRate)
		up(&p, l.prodRate)
	}
	if c.unknown || u == nil || p == nil {
		return rates{unknown: true}
	}
	r := rates{soil: max(0, *u, c.number("Minimum soil-side rate")), product: max(0, *p, c.number("Minimum product-side rate"))}
	if c.cathodic {
		r.soil = 0
	}
	return r
}

func (c *count) ratesOf(list []*place) rates {
	r := c.ratesOver(list)
	if c.word("Rate basis") == "plate" {
		r.plates = map[*plate]rates{}
		for _, p := range c.plates {
			var own []*place
			for _, l := range list {
				if l.plate == p {
					own = append(own, l)
				}
			}
			r.plates[p] = c.ratesOver(own)
		}
	}
	return r
}

// base are the rates as found.
func (c *count) base() rates { return c.ratesOf(c.all()) }

// mixed are the rates after repair by Rate after repair.
func (c *count) mixed(found, now rates) rates {
	soil := c.word("Rate after repair") == "recomputed" || c.word("Soil-side cause removed") == "yes"
	product := c.word("Rate after repair") == "recomputed" || c.word("Product-side cause removed") == "yes"
	out := rates{soil: found.soil, product: found.product, unknown: found.unknown}
	if soil {
		out.soil = now.soil
	}
	if product {
		out.product = now.product
	}
	switch {
	case soil && product:
		out.unknown = now.unknown
	case soil || product:
		out.unknown = found.unknown || now.unknown
	}
	if found.plates != nil {
		out.plates = map[*plate]rates{}
		for p := range found.plates {
			out.plates[p] = c.mixed(found.plates[p], now.plates[p])
		}
	}
	return out
}

// ratesFor are the rates of a plate: under rate basis plate its own, where it
// has any.
func (c *count) ratesFor(p *plate, r rates) (soil, product float64, known bool) {
	if own, ok := r.plates[p]; ok && !own.unknown && !r.unknown {
		return own.soil, own.product, true
	}
	return r.soil, r.product, !r.unknown
}

func (c *count) requiredOver(or float64) float64 {
	if c.lined && c.left >= or-1e-9 {
		return c.under
	}
	return c.plain
}

func (c *count) productOver(rate, or float64) float64 {
	if c.lined && c.left >= or-1e-9 {
		return 0
	}
	return rate
}

type limit struct {
	by    string
	years float64
}

// body is the interval before caps over some places, with what limits it.
func (c *count) body(list, readings []*place, u, p float64, known bool, required float64) []limit {
	out := []limit{{"critical_zone", math.Inf(1)}, {"annular", math.Inf(1)}, {"corrosion", math.Inf(1)}}
	until := func(k int, margin float64) {
		y := math.Inf(1)
		switch {
		case margin <= 1e-9: // nothing to lose: at once, whatever the rates
			y = 0
		case known && u+p > 1e-12:
			y = margin / (u + p)
		}
		out[k].years = min(out[k].years, y)
	}
	for _, l := range append(slices.Clip(list), readings...) {
		if l.critical != nil {
			until(0, l.r-*l.critical)
		}
		if l.annular != nil {
			until(1, l.r-*l.annular)
		}
	}
	for _, l := range list {
		until(2, l.r-required)
	}
	return out
}

func shortest(ls []limit) float64 {
	y := math.Inf(1)
	for _, l := range ls {
		y = min(y, l.years)
	}
	return y
}

// group is I of some places at one pair of rates, with what it rests on.
func (c *count) group(list, readings []*place, u, p float64, known bool) (years float64, by []limit) {
	w := c.body(list, readings, u, p, known, c.plain)
	years, by = shortest(w), w
	if c.lined && known {
		v := c.body(list, readings, u, 0, known, c.under)
		if lived := min(shortest(v), c.left); lived > years {
			years, by = lived, append(v, limit{"lining", c.left})
		}
	}
	return years, by
}

// cap is the limit by the interval rule.
func (c *count) cap(known bool) limit {
	most := c.number("Interval cap")
	if c.barrier {
		most = c.number("Interval cap with barrier")
	}
	rule := c.word("Interval rule")
	if rule == "automatic" {
		rule = "subsequent"
		if c.floorAge < c.number("Age for a reliable rate")-1e-9 {
			rule = "initial"
		}
	}
	if rule == "subsequent" {
		if !known && c.number("Interval cap, rate unknown") <= most {
			return limit{"cap_unknown_rate", c.number("Interval cap, rate unknown")}
		}
		return limit{"cap_rate", most}
	}
	y := c.number("Initial interval")
	if c.lined && c.thin {
		y += c.number("Credit thin film lining")
	}
	if c.lined && !c.thin {
		y += c.number("Credit reinforced lining")
	}
	if c.cathodic {
		y += c.number("Credit cathodic protection")
	}
	if c.barrier {
		y += c.number("Credit barrier")
	}
	if mils := c.number("Bottom corrosion allowance") / 0.0254; mils > 150 {
		y += (mils - 150) / 15
	}
	y = min(y, most)
	if c.t.Items.Day("Floor installed") < c.t.Items.Day("Inspection start") {
		y = max(0, y-c.floorAge)
	}
	return limit{"cap_initial", y}
}

// state evaluates some places with the readings of the zones; found are the
// rates as found, nil when this is as found.
func (c *count) state(list []*place, gone map[*plate]bool, found *rates) state {
	s := state{soilMin: math.Inf(1), productMin: math.Inf(1)}
	s.rates = c.ratesOf(list)
	if found != nil {
		s.rates = c.mixed(*found, s.rates)
	}
	s.rates.soil *= c.by.rates
	s.rates.product *= c.by.rates
	for p, r := range s.rates.plates {
		r.soil, r.product = r.soil*c.by.rates, r.product*c.by.rates
		s.rates.plates[p] = r
	}
	for _, l := range list {
		if l.soil() {
			s.soilMin = min(s.soilMin, l.r)
		}
		if l.product() {
			s.productMin = min(s.productMin, l.r)
		}
	}
	var readings []*place
	for _, l := range c.zoned {
		if !gone[l.plate] {
			readings = append(readings, l)
		}
	}
	type part struct {
		u, p, years, rt float64
		by              []limit
	}
	var parts []part
	known := !s.rates.unknown
	add := func(p *plate, of func(*place) bool) {
		var own, seen []*place
		rt := math.Inf(1)
		for _, l := range list {
			if of(l) {
				own = append(own, l)
				rt = min(rt, l.r)
			}
		}
		for _, l := range readings {
			if of(l) {
				seen = append(seen, l)
			}
		}
		if own == nil {
			return
		}
		u, q, _ := c.ratesFor(p, s.rates)
		years, by := c.group(own, seen, u, q, known)
		parts = append(parts, part{u, q, years, rt, by})
	}
	if s.rates.plates == nil {
		add(nil, func(*place) bool { return true })
	} else {
		for _, p := range c.plates {
			add(p, func(l *place) bool { return l.plate == p })
		}
		add(nil, func(l *place) bool { return l.plate == nil })
	}
	gov := parts[0]
	for _, p := range parts[1:] {
		if p.years < gov.years {
			gov = p
		}
	}
	s.uncapped = any(nil)
	if !math.IsInf(gov.years, 1) {
		s.uncapped = gov.years
	}
	s.interval, s.governed = 0, "repair_first"
	if gov.years > 1e-9 {
		var choices []limit
		for _, l := range gov.by {
			if l.years <= gov.years+1e-9 {
				choices = append(choices, limit{l.by, min(l.years, gov.years)})
			}
		}
		choices = append(choices, c.cap(known))
		if c.t.Items.Has("Jurisdiction limit") {
			choices = append(choices, limit{"jurisdiction", c.t.Items.Number("Jurisdiction limit")})
		}
		if c.t.Criteria.Has("Owner limit") {
			choices = append(choices, limit{"owner", c.number("Owner limit")})
		}
		s.interval = shortest(choices)
		for _, l := range choices {
			if l.years <= s.interval+1e-9 {
				s.governed = l.by
				break
			}
		}
		base := c.t.Items.Day("Inspection end")
		if c.word("Interval base date") == "report date" {
			base = c.t.Items.Day("Report date")
		}
		s.next = (base + unit.Date(math.Floor(365.25*s.interval+1e-6))).String()
	}
	s.years = c.t.Items.Or("Desired interval", s.interval)
	s.required = c.requiredOver(s.years)
	if known {
		s.soilRate, s.productRate = gov.u, c.productOver(gov.p, s.years)
		mrt := math.Inf(1)
		for _, p := range parts {
			mrt = min(mrt, p.rt-s.years*(p.u+c.productOver(p.p, s.years)))
		}
		s.mrt = mrt
	}
	return s
}

// repaired are the places that are left with some of the planned rows, and
// the plates that are replaced.
func (c *count) repaired(rows []invented.Row) (list []*place, gone map[*plate]bool) {
	gone = map[*plate]bool{}
	covered, built := map[*place]bool{}, map[*place]bool{}
	y := &yard{count: c, plates: map[*plate]outline{}}
	for _, q := range rows {
		p := c.named[q.Word("Plate")]
		if q.Word("Kind") == "replace plate" {
			gone[p] = true
			continue
		}
		m := y.mend(q)
		for _, l := range c.places {
			switch {
			case !y.takes(m, l):
			case q.Word("Kind") == "patch":
				covered[l] = true
			case l.side == "product":
				built[l] = true
			}
		}
	}
	for _, l := range c.all() {
		switch {
		case gone[l.plate], covered[l] && (l.over == nil || covered[l.over]):
			continue
		case built[l]:
			n := *l
			n.r, n.soilRate, n.prodRate, n.over = l.sound, nil, nil, nil
			list = append(list, &n)
		case l.over != nil && built[l.over]:
			n := *l
			n.r, n.soilRate, n.prodRate, n.over = l.own, l.ownSoil, nil, nil
			list = append(list, &n)
		default:
			list = append(list, l)
		}
	}
	for _, q := range rows {
		p := c.named[q.Word("Plate")]
		n := &place{kind: 'n', label: q.Word("Repair"), plate: p, side: "both", r: q.Or("Thickness", p.nominal), counts: true, noRate: true}
		switch q.Word("Kind") {
		case "replace plate":
		case "patch":
			if c.zoneOf(p, c.boxOf(q)) == "critical" {
				n.critical = ptr(c.criticalOf(p.nominal))
			}
		default:
			continue
		}
		if p.annular {
			n.annular = c.ringNeeds
		}
		list = append(list, n)
	}
	return list, gone
}

// completed are the planned rows that were carried out.
func (c *count) completed() []invented.Row {
	var rows []invented.Row
	for _, q := range c.t.Repairs {
		if q.Word("Status") == "completed" {
			rows = append(rows, q)
		}
	}
	return rows
}

// pageOne is the state whose figures stand on page one.
func (c *count) pageOne() state {
	if len(c.t.Repairs) == 0 {
		return c.state(c.all(), nil, nil)
	}
	rows := c.t.Repairs
	if done := c.completed(); len(done) == len(rows) {
		rows = done
	}
	return c.after(rows)
}

func (c *count) after(rows []invented.Row) state {
	list, gone := c.repaired(rows)
	base := c.base()
	return c.state(list, gone, &base)
}

func (c *count) tellStates(w Wants) {
	found := c.state(c.all(), nil, nil)
	found.tell(w, "as_found")
	w["thickness.required_mm"] = found.required
	if len(c.t.Repairs) == 0 {
		w["thickness.as_completed"] = nil
	} else {
		planned := c.after(c.t.Repairs)
		planned.tell(w, "as_planned")
		w["thickness.required_mm"] = c.pageOne().required
		if done := c.completed(); done == nil {
			w["thickness.as_completed"] = nil
		} else {
			s := c.after(done)
			s.tell(w, "as_completed")
		}
	}
	limits := c.cap(!found.rates.unknown)
	for _, p := range c.plates {
		var own, readings []*place
		for _, l := range c.all() {
			if l.plate == p {
				own = append(own, l)
			}
		}
		for _, l := range c.zoned {
			if l.plate == p {
				readings = append(readings, l)
			}
		}
		at := "plates[" + p.label + "].interval_years"
		if own == nil {
			w[at] = nil
			continue
		}
		u, q, known := c.ratesFor(p, found.rates)
		y, _ := c.group(own, readings, u, q, known)
		if y <= 1e-9 {
			w[at] = 0.0
			continue
		}
		y = min(y, limits.years)
		if c.t.Items.Has("Jurisdiction limit") {
			y = min(y, c.t.Items.Number("Jurisdiction limit"))
		}
		if c.t.Criteria.Has("Owner limit") {
			y = min(y, c.number("Owner limit"))
		}
		w[at] = y
	}
}

func (s *state) tell(w Wants, name string) {
	at := "thickness." + name + "."
	w[at+"soil_min_mm"], w[at+"product_min_mm"] = s.soilMin, s.productMin
	w[at+"soil_rate_mm_per_year"], w[at+"product_rate_mm_per_year"] = s.soilRate, s.productRate
	w[at+"mrt_mm"], w[at+"mrt_years"] = s.mrt, s.years
	w[at+"interval_years"], w[at+"interval_uncapped_years"] = s.interval, s.uncapped
	w[at+"governed_by"], w[at+"next_date"] = s.governed, s.next
}

func (c *count) tellSensitivity(w Wants) {
	for name, by := range map[string]change{
		"rates +10 %": {rates: 1.1}, "rates −10 %": {rates: 0.9},
		"MFL threshold +5 points": {rates: 1, threshold: 5}, "MFL threshold −5 points": {rates: 1, threshold: -5},
		"Sizing allowance +5 points": {rates: 1, allowance: 5}, "Sizing allowance −5 points": {rates: 1, allowance: -5},
		"floor age +1 year": {rates: 1, older: 1}, "floor age −1 year": {rates: 1, older: -1},
	} {
		w["sensitivity["+name+"].interval_years"] = evaluate(c.t, by).pageOne().interval
	}
}
