package demo

import (
	"math"
	"strconv"

	"platebook/rules/unit"
)

func day(d int) unit.Date { return unit.NewDate(2026, 4, d) }

// family is a group of indications with one cause.
type family struct {
	count        int
	side, method string
	kind         string
	shallow      float64 // depth as a share of nominal, from … to
	deep         float64
	place        func(*sequence) (x, y float64)
	remarks      string
}

// around is a place near a centre.
func around(x, y, spread float64) func(*sequence) (float64, float64) {
	return func(s *sequence) (float64, float64) { return x + spread*s.scatter(), y + spread*s.scatter() }
}

// byShell is a place at a distance from the shell within a range of bearings.
func byShell(from, to, near, far float64) func(*sequence) (float64, float64) {
	return func(s *sequence) (float64, float64) {
		a := s.between(from, to) * math.Pi / 180
		rho := radius - s.between(near, far)
		return rho * math.Sin(a), rho * math.Cos(a)
	}
}

// anywhere is a place on the floor plates.
func anywhere(s *sequence) (float64, float64) {
	return s.between(-rim, rim), s.between(-rim, rim)
}

// towardsSump is a place along the low line from the centre to the sump.
func towardsSump(s *sequence) (float64, float64) {
	return 260 * s.scatter(), -s.between(900, sumpRadius-sumpSize)
}

// The causes: moisture drawn in under the shell on the weather side, four wet
// spots in the sand pad, water standing along the low line to the sump, and
// single pits from below.
var families = []family{
	{30, "soil", "MFL", "", 0.16, 0.29, byShell(195, 325, 130, 700), ""},
	{5, "soil", "hand scan", "pit", 0.12, 0.17, byShell(200, 320, 45, 70), ""},
	{46, "product", "MFL", "", 0.15, 0.29, towardsSump, ""},
	{20, "soil", "MFL", "", 0.18, 0.40, around(-5200, 3100, 650), ""},
	{18, "soil", "MFL", "", 0.18, 0.37, around(6100, -2600, 700), ""},
	{16, "soil", "MFL", "", 0.18, 0.33, around(-3300, -6300, 600), ""},
	{14, "soil", "MFL", "", 0.18, 0.38, around(3500, 6900, 560), ""},
	{32, "soil", "MFL", "pit", 0.16, 0.29, anywhere, ""},
	{4, "unknown", "MFL", "pit", 0.14, 0.18, anywhere, "Not reached from above"},
	{9, "product", "visual", "pit", 0.10, 0.22, around(8000, 8000, 1400), "Beside the manway"},
	{2, "product", "visual", "mechanical", 0.06, 0.11, anywhere, "Gouge from a dropped tool"},
	{2, "product", "MFL", "not relevant", 0.02, 0.05, anywhere, "Weld spatter, ground off"},
}

// corrode finds the indications of the example.
func corrode(plates []*plate, seq *sequence) {
	for _, f := range families {
		for n := 0; n < f.count; {
			x, y := f.place(seq)
			p, u, v := at(plates, rim, radius, x, y)
			if p == nil || !p.room(u, v, 75) || overSump(x, y) || overColumn(x, y) {
				continue
			}
			n++
			q := &pit{plate: p, x: u, y: v, side: f.side, method: f.method, kind: f.kind, remarks: f.remarks}
			deep := seq.share()
			q.depth = p.nominal * (f.shallow + (f.deep-f.shallow)*deep*deep)
			q.length, q.width = seq.between(15, 55), seq.between(15, 45)
			if q.kind == "" {
				q.kind = "pit"
				if seq.below(4) == 0 {
					q.kind = "cluster"
					q.length, q.width = seq.between(60, 140), seq.between(50, 110)
				}
			}
			// Away from the shell nothing reaches into the critical zone, where
			// every indication would need its own prove-up.
			if p.Type == "annular" && q.y > 76.2 && q.y-q.width/2 < 90 {
				q.width = 2 * max(7, q.y-90)
			}
			q.estimate(seq)
			p.pits = append(p.pits, q)
		}
	}
}

// estimate is what the scan makes of a pit: its true loss with a spread of
// five points.
func (q *pit) estimate(seq *sequence) {
	miss := min(14, max(-12, 1+5*seq.scatter()))
	truth := 100 * (1 - q.remaining()/q.plate.nominal)
	q.loss = int(min(85, max(float64(20+seq.below(5)), math.Round(truth+miss))))
}

func overSump(x, y float64) bool {
	const clear = sumpSize/2 + 120
	return math.Abs(x) < clear && math.Abs(y+sumpRadius) < clear
}

func overColumn(x, y float64) bool { return math.Hypot(x, y) < 400 }

// worst deepens three pits, so that a proved place governs on each side and
// one on the ring is a case for the engineer.
func worst(all []*pit) {
	var soil, product, ring *pit
	deeper := func(q, than *pit) bool { return than == nil || q.depth > than.depth }
	for _, q := range all {
		switch {
		case q.method != "MFL" || q.kind != "pit":
		case q.side == "soil" && q.plate.Type == "annular" && deeper(q, ring):
			ring = q
		case q.side == "soil" && q.plate.Type != "annular" && deeper(q, soil):
			soil = q
		case q.side == "product" && deeper(q, product):
			product = q
		}
	}
	soil.depth, soil.loss = 0.45*soil.plate.nominal, 48
	product.depth, product.loss = 0.34*product.plate.nominal, 37
	ring.depth, ring.loss = 0.41*ring.plate.nominal, 43
}

// record gives every indication its number, finder and day, and decides which
// are proved up: all from the prove-up threshold on, all but one in the
// critical zone, those whose estimate could govern, and some of the rest.
func record(all []*pit, seq *sequence) {
	left := true
	for i, q := range all {
		q.id = strconv.Itoa(i + 1)
		q.by, q.date = scanner(q.plate)
		switch q.method {
		case "hand scan":
			q.by = "M. Ito"
		case "visual":
			q.by, q.date = "P. Stone", day(24)
		case "UT":
			q.by, q.date = "A. Day", day(24)
		}
		critical := q.plate.Type == "annular" && q.y-q.width/2 <= 76.2
		switch {
		case q.kind == "not relevant", q.kind == "mechanical", q.method == "visual", q.method == "UT":
		case critical && left:
			left = false
			q.remarks = "Prove-up outstanding: scaffold foot in the way"
		case critical, q.loss >= 40, q.side == "unknown", q.side == "soil" && q.loss >= 31, q.plate.Type == "annular" && q.loss >= 28:
			q.prove = "UT"
		case q.side == "product" && q.loss >= 23:
			q.prove = []string{"gauge", "UT"}[seq.below(2)]
		case seq.below(6) == 0:
			q.prove = "UT"
		}
	}
}

// scanner is who scanned a plate, and when.
func scanner(p *plate) (string, unit.Date) {
	switch {
	case p.Type == "annular" && p.number%2 == 0:
		return "M. Ito", day(22)
	case p.Type == "annular":
		return "M. Ito", day(23)
	case p.Row <= 5:
		return "J. Roe", day(20)
	case p.Row <= 11:
		return "J. Roe", day(21)
	}
	return "J. Roe", day(22)
}
