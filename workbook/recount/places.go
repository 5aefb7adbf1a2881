package recount

import (
	"math"

	"platebook/workbook/invented"
)

// place is a location, (a) to (f) of section 3.
type place struct {
	kind     byte
	label    string
	plate    *plate
	row      invented.Row
	id       string
	side     string // product, soil, unknown, both
	r        float64
	counts   bool
	basis    string
	loss     float64 // % of nominal, without allowance
	nominal  float64
	sound    float64
	t0       float64
	age      float64
	zone     string
	box      invented.Rect // in X, Y of its plate
	boxed    bool
	noRate   bool
	lenient  bool // an isolated pit let off the zones
	patched  bool // lies on an existing patch
	irrel    bool
	soilRate *float64
	prodRate *float64
	over     *place
	critical *float64
	annular  *float64

	bare    float64 // remaining without allowance
	own     float64 // remaining without the other side, in a join
	ownSoil *float64
	tied    []invented.Row
}

func (l *place) soil() bool    { return l.side != "product" || l.over != nil }
func (l *place) product() bool { return l.side != "soil" || l.over != nil }

func ptr(v float64) *float64 { return &v }

func (c *count) rate(t0, r, age float64) *float64 {
	if age <= 0 || age < c.number("Shortest age for a rate")-1e-9 {
		return nil
	}
	return ptr((t0 - r) / age)
}

func (c *count) boxOf(r invented.Row) invented.Rect {
	a := c.number("Assumed indication size")
	l, w := r.Or("Length", a)/2, r.Or("Width", a)/2
	x, y := r.Number("X"), r.Number("Y")
	return invented.Rect{X1: x - l, Y1: y - w, X2: x + l, Y2: y + w}
}

func (c *count) zoneOf(p *plate, b invented.Rect) string {
	if p.sump { // has no place in the plan
		return "general"
	}
	reach := c.plan.Reach(p.label, (b.X1+b.X2)/2, (b.Y1+b.Y2)/2, b.X2-b.X1, b.Y2-b.Y1)
	switch {
	case c.plan.Radius-reach <= c.number("Critical zone width")+1e-6:
		return "critical"
	case p.annular:
		return "annular"
	}
	return "general"
}

// ties are the prove-ups of an indication.
func (c *count) ties() (of map[*invented.Row][]invented.Row, alone []invented.Row) {
	of = map[*invented.Row][]invented.Row{}
	for _, u := range c.t.ProveUps {
		tied := false
		for k := range c.t.Indications {
			i := &c.t.Indications[k]
			if i.Word("Plate") != u.Word("Plate") {
				continue
			}
			hit := u.Word("Indication") == i.Word("ID")
			if !u.Has("Indication") && i.Word("Kind") != "not relevant" {
				b, tol := c.boxOf(*i), c.number("Position tolerance")
				hit = u.Number("X") >= b.X1-tol && u.Number("X") <= b.X2+tol && u.Number("Y") >= b.Y1-tol && u.Number("Y") <= b.Y2+tol
			}
			if hit {
				of[i] = append(of[i], u)
				tied = true
			}
		}
		if !tied {
			alone = append(alone, u)
		}
	}
	return of, alone
}

// patch is the existing patch that a point lies on, of several the thinnest; one
// may reach over a seam. A round one goes by its box.
func (c *count) patch(p *plate, x, y float64) (on invented.Row) {
	for _, q := range c.t.Patches {
		own := c.named[q.Word("Plate")]
		at := math.Abs(x-q.Number("X")) <= q.Number("Length")/2 && math.Abs(y-q.Number("Y")) <= q.Number("Width")/2
		if line, along := c.patched(q); own != p || along != p.annular {
			px, py, placed := c.plan.At(p.label, x, y)
			if q.Word("Shape") == "circle" {
				line = c.box(own, q.Number("X"), q.Number("Y"), q.Number("Length"), q.Number("Width"))
			}
			at = placed && line.in(spot{px, py})
		}
		if at && (on == nil || q.Or("Thickness", own.nominal) < on.Or("Thickness", c.named[on.Word("Plate")].nominal)) {
			on = q
		}
	}
	return on
}

// start is a location's plate, zone, nominal and age.
func (c *count) start(kind byte, r invented.Row, id string) *place {
	p := c.named[r.Word("Plate")]
	l := &place{kind: kind, plate: p, row: r, id: id, label: p.label + "/" + id, nominal: p.nominal, sound: p.metal(), age: p.age, side: r.Word("Side"), counts: true}
	l.box, l.boxed = c.boxOf(r), true
	l.zone = c.zoneOf(p, l.box)
	if q := c.patch(p, r.Number("X"), r.Number("Y")); q != nil && kind != 'e' {
		own := c.named[q.Word("Plate")]
		l.patched, l.nominal, l.age = true, q.Or("Thickness", own.nominal), own.age
		l.sound = l.nominal // the plate's readings say nothing of a patch
		if q.Has("Installed") {
			l.age = years(q.Day("Installed"), c.t.Items.Day("Inspection end"))
		}
	}
	return l
}

type value struct {
	r     float64
	basis string
	sound float64
}

func least(vs []value) value {
	best := vs[0]
	for _, v := range vs[1:] {
		if v.r < best.r {
			best = v
		}
	}
	return best
}

func (c *count) locate() {
	of, alone := c.ties()
	var indications []*place
	for k := range c.t.Indications {
		i := &c.t.Indications[k]
		l := c.start('a', *i, i.Word("ID"))
		l.tied = of[i]
		indications = append(indications, l)
		if i.Word("Kind") == "not relevant" {
			l.irrel, l.counts = true, false
		}
		c.pair(l)
	}
	for _, l := range indications {
		if !l.irrel {
			c.weigh(l)
		}
		c.places = append(c.places, l)
	}
	for _, u := range alone {
		l := c.start('b', u, u.Word("ID"))
		if l.side == "" {
			l.side = "unknown"
		}
		c.weigh(l)
		c.places = append(c.places, l)
	}
	for _, p := range c.plates {
		c.own(p)
	}
	for _, q := range c.t.Patches {
		l := c.start('e', q, q.Word("Patch"))
		l.side, l.noRate, l.basis = "both", true, "patch"
		l.r = q.Or("Thickness", l.plate.nominal)
		l.nominal = l.plate.nominal
		if line, along := c.patched(q); along && !l.plate.annular {
			l.zone = "general"
			if _, out := line.reach(); c.plan.Radius-out <= c.number("Critical zone width")+1e-6 {
				l.zone = "critical"
			}
		}
		c.places = append(c.places, l)
	}
	for _, l := range c.places {
		if l.kind == 'a' || l.kind == 'b' || l.kind == 'e' {
			c.hold(l)
		}
	}
}

// hold sets a location against the requirement of its zone.
func (c *count) hold(l *place) {
	// a blank kind is not taken for an isolated pit: nobody said so
	if l.kind == 'a' && l.row.Word("Kind") == "pit" && c.word("Isolated pits, critical zone and ring") == "general requirement" {
		l.lenient = true
		return
	}
	if l.zone == "critical" {
		l.critical = ptr(c.criticalOf(l.plate.nominal))
	}
	if l.plate.annular {
		l.annular = c.ringNeeds
	}
}

// weigh finds which value counts.
func (c *count) weigh(l *place) {
	i := l.row
	tied := l.tied
	if l.kind == 'b' {
		tied = []invented.Row{i}
	}
	metal := l.sound
	for _, u := range tied {
		if u.Has("Sound thickness") {
			l.sound = u.Number("Sound thickness")
			break
		}
	}
	var ut, gauge, estimate []value
	for _, u := range tied {
		s := u.Or("Sound thickness", metal)
		if u.Has("Remaining") {
			ut = append(ut, value{u.Number("Remaining"), "UT", s})
		}
		if u.Has("Depth") {
			gauge = append(gauge, value{s - u.Number("Depth"), "pit gauge", s})
		}
	}
	if l.kind == 'a' {
		var own []value
		for _, v := range []struct {
			name string
			r    float64
		}{
			{"Loss %", l.nominal * (1 - i.Number("Loss %")/100)},
			{"Remaining", i.Number("Remaining")},
			{"Depth", l.sound - i.Number("Depth")},
		} {
			if i.Has(v.name) {
				own = append(own, value{v.r, v.name, l.sound})
			}
		}
		for _, v := range own {
			switch i.Word("Method") {
			case "UT":
				ut = append(ut, value{v.r, "UT", l.sound})
			case "visual":
				if v.basis == "Loss %" {
					estimate = append(estimate, v)
				} else {
					gauge = append(gauge, value{v.r, "pit gauge", l.sound})
				}
			default:
				estimate = append(estimate, v)
			}
		}
	}
	top := ut
	if l.product() {
		top = append(top, gauge...)
	} else if len(top) == 0 {
		top = gauge
	}
	switch {
	case len(top) > 0:
		v := least(top)
		l.r, l.basis, l.bare = max(0, v.r), v.basis, v.r
		if l.kind == 'a' || i.Has("Sound thickness") {
			l.sound = v.sound
		}
	default:
		l.basis = "MFL estimate"
		least := math.Inf(1)
		for _, v := range estimate { // each value by the policy, the least counts
			loss, a := 100*(1-v.r/l.nominal), 0.0
			if c.word("Unproved indications") == "estimate minus allowance" {
				l.basis = "MFL estimate minus allowance"
				a = c.allowance(loss, l.nominal)
			}
			if r := l.nominal * (1 - (loss+a)/100); r < least {
				least, l.bare, l.r = r, v.r, max(0, r)
			}
		}
		if c.word("Unproved indications") == "exclude" {
			l.counts = false
		}
	}
	l.loss = 100 * (1 - l.bare/l.nominal)
	l.t0 = max(l.nominal, l.sound)
	l.noRate = l.kind == 'a' && i.Word("Kind") == "mechanical"
	c.rates(l)
}

func (c *count) rates(l *place) {
	if l.noRate || !l.counts {
		return
	}
	q := c.rate(l.t0, l.r, l.age)
	if l.soil() {
		l.soilRate = q
	}
	if l.product() {
		l.prodRate = q
	}
}

// own are a plate's sound metal and what the scan may have missed.
func (c *count) own(p *plate) {
	t0 := max(p.nominal, p.metal())
	if !p.blind {
		l := &place{kind: 'c', label: p.label, plate: p, side: "both", r: p.sound, counts: true, nominal: p.nominal, sound: p.metal(), t0: t0, age: p.age, basis: "nominal"}
		if p.measured {
			l.basis = "reading"
			if p.annular {
				l.annular = c.ringNeeds
			}
		}
		q := c.rate(t0, p.sound, p.age)
		if q != nil && p.nominal-p.sound <= c.number("Mill tolerance")+1e-6 {
			q = ptr(0)
		}
		l.soilRate, l.prodRate = q, q
		c.places = append(c.places, l)
	}
	if t := c.threshold(); t > 0 && p.scanned {
		l := &place{kind: 'd', label: p.label, plate: p, side: "soil", r: p.nominal * (1 - t/100), counts: true, nominal: p.nominal, t0: t0, age: p.age, basis: "threshold"}
		if p.age < c.number("Age for a reliable rate") {
			l.age = max(p.age, c.floorAge)
		}
		l.soilRate = c.rate(t0, l.r, l.age)
		c.places = append(c.places, l)
	}
}

// join makes a product pit over a soil pit one location.
func (c *count) join() {
	for _, a := range c.places {
		if a.side != "product" || !a.counts || (a.kind != 'a' && a.kind != 'b') {
			continue
		}
		for _, b := range c.places {
			if b.side != "soil" || !b.counts || (b.kind != 'a' && b.kind != 'b') || b.plate != a.plate {
				continue
			}
			if _, ok := a.box.Overlap(b.box); ok && a.over == nil && b.over == nil {
				c.joinTwo(a, b)
			}
		}
	}
}

func (c *count) joinTwo(a, b *place) {
	rp, rs, bp, bs := a.r, b.r, max(0, a.bare), max(0, b.bare)
	inBoth, at := false, math.Inf(1)
	for _, u := range c.t.ProveUps {
		x, y := u.Number("X"), u.Number("Y")
		in := func(r invented.Rect) bool { return x >= r.X1 && x <= r.X2 && y >= r.Y1 && y <= r.Y2 }
		if u.Word("Plate") == a.plate.label && u.Has("Remaining") && in(a.box) && in(b.box) {
			inBoth, at = true, min(at, u.Number("Remaining"))
		}
	}
	sound := min(a.sound, b.sound)
	r := sound - max(0, a.sound-rp) - max(0, b.sound-rs)
	bare := sound - max(0, a.sound-bp) - max(0, b.sound-bs)
	if inBoth {
		r, bare = at, at
		a.basis, b.basis = "UT", "UT"
	}
	r, bare = max(0, r), max(0, bare)
	a.own, b.own, a.ownSoil, b.ownSoil = a.r, b.r, a.soilRate, b.soilRate
	t0 := max(a.t0, b.t0)
	product := a.prodRate
	var soil *float64
	if all := c.rate(t0, r, b.age); all != nil && !b.noRate {
		less := 0.0
		if product != nil {
			less = *product
		}
		soil = ptr(max(0, *all-less))
		if a.noRate {
			soil = b.soilRate
		}
	}
	for _, l := range []*place{a, b} {
		l.r, l.bare, l.t0, l.soilRate, l.prodRate = r, bare, t0, soil, product
		l.loss = 100 * (1 - bare/l.nominal)
	}
	a.over, b.over = b, a
}

// readZones are readings held against the critical zone.
func (c *count) readZones() {
	for _, q := range c.t.Readings {
		p := c.named[q.Word("Plate")]
		if p.sump || !q.Has("X") {
			continue
		}
		if c.zoneOf(p, c.boxOf(q)) == "critical" {
			c.zoned = append(c.zoned, &place{plate: p, r: q.Number("Thickness"), critical: ptr(c.criticalOf(p.nominal)), label: p.label})
		}
	}
}

func (c *count) tellPlaces(w Wants) {
	found := c.state(c.all(), nil, nil)
	worst := map[string]*float64{}
	relevant, proved := 0, 0
	for _, l := range c.places {
		if l.counts && l.kind != 'd' && l.kind != 'f' {
			if o := worst[l.plate.label]; o == nil || l.r < *o {
				worst[l.plate.label] = ptr(l.r)
			}
		}
		if l.kind != 'a' {
			continue
		}
		at := "indications[" + l.label + "]."
		if l.irrel {
			w[at+"verdict"] = "not relevant"
			continue
		}
		relevant++
		if len(l.tied) > 0 {
			proved++
		}
		w[at+"remaining_mm"], w[at+"basis"], w[at+"side"] = l.r, l.basis, l.side
		if x, y, ok := c.plan.At(l.plate.label, l.row.Number("X"), l.row.Number("Y")); ok {
			w[at+"plan_x_mm"], w[at+"plan_y_mm"], w[at+"radius_mm"] = x, y, math.Hypot(x, y)
			w[at+"bearing_deg"] = math.Mod(c.plan.Up+math.Atan2(x, y)*180/math.Pi+720, 360)
			w[at+"zone"] = l.zone
		}
		need := c.needOf(l, found.required)
		w[at+"required_mm"], w[at+"margin_mm"] = need, l.r-need
		if !l.counts {
			w[at+"verdict"] = "excluded"
			continue
		}
		if len(c.t.Repairs) == 0 {
			w[at+"verdict"] = c.verdict(l, need)
		}
	}
	w["floor.indications"], w["floor.proved_up"] = float64(relevant), float64(proved)
	for _, p := range c.plates {
		if v := worst[p.label]; v != nil {
			w["plates["+p.label+"].worst_remaining_mm"] = *v
		} else {
			w["plates["+p.label+"].worst_remaining_mm"] = nil
		}
	}
}

// needOf is the larger of the general requirement and the zone's.
func (c *count) needOf(l *place, general float64) float64 {
	if l.critical != nil {
		general = max(general, *l.critical)
	}
	if l.annular != nil {
		general = max(general, *l.annular)
	}
	return general
}

// target is what repairs are chosen for.
func (c *count) target() float64 {
	return c.t.Items.Or("Desired interval", c.number("Planning interval"))
}

// needs says whether a location needs repair at as-found rates.
func (c *count) needs(l *place) bool {
	or := c.target()
	need := c.needOf(l, c.requiredOver(or))
	if u, p, ok := c.ratesFor(l.plate, c.base()); ok {
		need += or * (u + c.productOver(p, or))
	}
	if l.r < need-1e-6 {
		return true
	}
	return c.t.Criteria.Has("Repair threshold") && l.r < c.number("Repair threshold")-1e-6
}

func (c *count) verdict(l *place, required float64) string {
	need := c.needs(l) || (l.over != nil && c.needs(l.over))
	special := l.zone == "critical" || l.plate.annular
	unjudged := l.plate.annular && c.ringNeeds == nil && !l.lenient
	if l.lenient {
		unjudged = (l.zone == "critical" && l.r < c.criticalOf(l.plate.nominal)-1e-6) ||
			(l.plate.annular && c.ringNeeds != nil && l.r < *c.ringNeeds-1e-6)
	}
	switch {
	case l.r < required-1e-6:
		return "repair first"
	case need && special, unjudged:
		return "engineering"
	case need:
		return "repair"
	}
	return "leave"
}
