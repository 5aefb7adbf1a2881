package compare_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
	"time"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// An invented floor of nine plates, 6.35 mm, installed 2001-05-01.

func given[T any](v T) inspection.Field[T] {
	return inspection.Field[T]{Value: v, State: inspection.Given, Text: fmt.Sprint(v), Ref: finding.Ref{Sheet: "S", Col: 1, Row: 1}}
}

func day(year int, month time.Month, d int) inspection.Date {
	return given(unit.NewDate(year, month, d))
}

type pit struct {
	id, plate string
	x, y      float64
	side      string
	loss      float64 // of a scan, 0 without
	ut        float64 // remaining by UT, 0 without
}

func floorAt(end unit.Date, pits []pit) *inspection.Inspection {
	in := &inspection.Inspection{Criteria: criteria.Defaults(unit.SI), File: inspection.File{Name: end.String() + ".xlsx", ValuesSHA256: end.String()}}
	t := &in.Tank
	t.Tank, t.InspectionEnd, t.FloorInstalled = given("T-7"), given(end), day(2001, 5, 1)
	t.Diameter, t.NominalThickness, t.Lap = given(unit.Length(9000)), given(unit.Length(6.35)), given(unit.Length(0))
	t.ReportStatus, t.AnnularRing = given("preliminary"), given("no")
	for row := 1; row <= 3; row++ {
		for pos := 1; pos <= 3; pos++ {
			l := fmt.Sprintf("%d-%d", row, pos)
			in.Plates = append(in.Plates, inspection.Plate{
				Row: inspection.Row{Sheet: "Plates", Number: len(in.Plates) + 2, Key: l}, Label: given(l), Type: given("sketch"), RowNo: given(fmt.Sprint(row)), Position: given(fmt.Sprint(pos)),
				Length: given(unit.Length(3000)), Width: given(unit.Length(3000)), MFLScanned: given(unit.Percent(100)),
			})
		}
	}
	for _, p := range pits {
		add(in, p)
	}
	return in
}

func add(in *inspection.Inspection, p pit) {
	side := p.side
	if side == "" {
		side = "soil"
	}
	i := inspection.Indication{
		Row: inspection.Row{Sheet: "Indications", Number: len(in.Indications) + 2, Key: p.plate + "/" + p.id}, ID: given(p.id), Plate: given(p.plate),
		X: given(unit.Length(p.x)), Y: given(unit.Length(p.y)), Side: given(side), Method: given("MFL"), Kind: given("pit"),
	}
	if p.loss > 0 {
		i.Loss = given(unit.Percent(p.loss))
	} else {
		i.Method = given("UT")
		i.Remaining = given(unit.Length(p.ut))
	}
	in.Indications = append(in.Indications, i)
	if p.loss > 0 && p.ut > 0 {
		in.ProveUps = append(in.ProveUps, inspection.ProveUp{
			Row: inspection.Row{Sheet: "Prove-ups", Number: len(in.ProveUps) + 2, Key: "U" + p.id}, ID: given("U" + p.id), Indication: given(p.id), Plate: given(p.plate),
			X: given(unit.Length(p.x)), Y: given(unit.Length(p.y)), Remaining: given(unit.Length(p.ut)), Side: given(side),
		})
	}
}

func judged(in *inspection.Inspection, earlier ...*inspection.Inspection) *rules.Assessment {
	var past rules.Past
	for _, e := range earlier {
		past.Earlier = append(past.Earlier, rules.Earlier(e, nil))
	}
	return rules.AssessSince(in, nil, nil, past)
}

func pairOf(t *testing.T, a *rules.Assessment, old, now string) *compare.Pair {
	t.Helper()
	c := a.Comparison
	for i := range c.Pairs {
		p := &c.Pairs[i]
		o, n := "", ""
		if p.Old >= 0 {
			o = c.Old().Found.Locations[p.Old].Label
		}
		if p.New >= 0 {
			n = a.Result.Locations[p.New].Label
		}
		if o == old && n == now {
			return p
		}
	}
	t.Fatalf("no pair %q with %q", old, now)
	return nil
}

func near(t *testing.T, what string, got unit.Maybe[unit.Rate], want float64) {
	t.Helper()
	if !got.Known || math.Abs(float64(got.V)-want) > 1e-6 {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func has(a *rules.Assessment, rule string) *finding.Finding {
	for i := range a.Findings {
		if a.Findings[i].Rule == rule {
			return &a.Findings[i]
		}
	}
	return nil
}

var (
	then = unit.NewDate(2014, 5, 1)
	now  = unit.NewDate(2026, 5, 1) // 4383 days: 12 years exactly
)

// Source: the Check of method section 13: 5.0 → 3.6 in 12 years 0.116667,
// grown; new 4.40, threshold 5.08: 0.0566667 to 0.1625; q 0.707107.
func TestMethodExample(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 5.0}})
	in := floorAt(now, []pit{{id: "9", plate: "2-2", x: 540, y: 530, ut: 3.6}, {id: "2", plate: "2-1", x: 900, y: 900, ut: 4.40}})
	a := judged(in, old)
	c := a.Comparison
	if math.Abs(float64(c.Spread)-0.707107) > 1e-6 || !c.Years.Known || c.Years.V != 12 {
		t.Errorf("q %v, years %v", c.Spread, c.Years)
	}
	p := pairOf(t, a, "2-2/1", "2-2/9")
	if p.Class != compare.Grown || p.Distance.V != 50 {
		t.Errorf("%+v", p)
	}
	near(t, "growth", p.Growth, 0.116667)
	n := pairOf(t, a, "", "2-1/2")
	if n.Class != compare.New {
		t.Errorf("%+v", n)
	}
	near(t, "from threshold", n.Least, 0.0566667)
	near(t, "from zero", n.Most, 0.1625)
	near(t, "picked", n.Growth, 0.0566667)
	near(t, "soil side", c.Soil.Growth, 0.116667)
	if c.Product.Growth.Known {
		t.Errorf("product side %v", c.Product.Growth)
	}
	// 2.75 mm in 24.99932 years: the growth is the greater rate
	near(t, "long-term", c.Soil.LongTerm, 2.75/24.99932)
	near(t, "used", a.Result.AsFound.SoilRate, 0.116667)
	if c.Soil.Governs != compare.ByGrowth || c.Governs() != compare.ByGrowth || c.Product.Governs != compare.ByLongTerm {
		t.Errorf("governs %q, %q", c.Soil.Governs, c.Product.Governs)
	}
	for id, want := range map[string]float64{"compare.years": 12, "compare.growth.soil": 1.4 / 12, "rate.soil.as_found": 1.4 / 12} {
		if s := a.Result.Steps.Find(id); s == nil || !s.Known || math.Abs(s.Value-want) > 1e-9 {
			t.Errorf("step %s: %+v, want %v", id, s, want)
		}
	}
	if s := a.Result.Steps.Find("compare.growth.product"); s == nil || s.Known {
		t.Errorf("compare.growth.product: %+v", s)
	}
	// without the comparison the rate is the long-term one
	near(t, "alone", rules.Assess(in, nil, nil).Result.AsFound.SoilRate, 2.75/24.99932)

	in.Criteria.Put(criteria.NewPitGrowth, criteria.Value{Text: "from zero", Set: true, Given: true})
	a = judged(in, old)
	near(t, "from zero picked", pairOf(t, a, "", "2-1/2").Growth, 0.1625)
	near(t, "from zero used", a.Result.AsFound.SoilRate, 0.1625)
}

// Exactly at the spread a pit is unchanged.
func TestClassLimits(t *testing.T) {
	q := float64(compare.Spread(0.5))
	for _, c := range []struct {
		delta float64
		want  compare.Class
	}{
		{q, compare.Unchanged}, {q + 1e-5, compare.Grown}, {-q, compare.Unchanged}, {-q - 1e-5, compare.Less}, {0, compare.Unchanged},
	} {
		a := judged(floorAt(now, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 4 - c.delta}}), floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 4}}))
		if p := pairOf(t, a, "2-2/1", "2-2/1"); p.Class != c.want {
			t.Errorf("Δ %v: %q, want %q", c.delta, p.Class, c.want)
		}
	}
}

func TestClasses(t *testing.T) {
	old := floorAt(then, []pit{
		{id: "1", plate: "1-1", x: 2000, y: 2000, loss: 30},             // scan both times
		{id: "2", plate: "1-2", x: 500, y: 500, loss: 55},               // vanished
		{id: "3", plate: "1-3", x: 500, y: 2000, loss: 50, ut: 3.2},     // patched since
		{id: "4", plate: "2-1", x: 1500, y: 1500, loss: 45, ut: 3.5},    // plate replaced
		{id: "5", plate: "2-2", x: 1500, y: 1500, ut: 4},                // plate not examined now
		{id: "6", plate: "2-3", x: 500, y: 1500, loss: 25},              // shallow, not found again
		{id: "7", plate: "3-2", x: 500, y: 500, side: "product", ut: 5}, // other side
		{id: "8", plate: "3-2", x: 2500, y: 500, ut: 5},                 // just beyond the gate
		{id: "9", plate: "3-2", x: 1500, y: 1500, ut: 5.2, side: "unknown"},
	})
	old.Plates[6].MFLScanned = given(unit.Percent(0)) // 3-1
	in := floorAt(now, []pit{
		{id: "1", plate: "1-1", x: 2010, y: 2005, loss: 36},
		{id: "11", plate: "1-1", x: 1000, y: 2000, loss: 15},
		{id: "4", plate: "2-1", x: 1500, y: 1500, loss: 45, ut: 3.5},
		{id: "12", plate: "3-1", x: 2000, y: 1500, ut: 4.5},
		{id: "13", plate: "1-3", x: 510, y: 2000, loss: 22},
		{id: "7", plate: "3-2", x: 500, y: 500, ut: 4.9},
		{id: "8", plate: "3-2", x: 2500, y: 650, ut: 4.9},
		{id: "9", plate: "3-2", x: 1500, y: 1500, ut: 4.9},
	})
	in.Plates[3].Installed = day(2018, 6, 1)
	in.Plates[4].MFLScanned, in.Plates[4].ReasonNotExamined = given(unit.Percent(0)), given("heating coil")
	in.Patches = []inspection.Patch{{
		Row: inspection.Row{Sheet: "Existing patches", Number: 2, Key: "1-3/P1"}, Label: given("P1"), Plate: given("1-3"),
		X: given(unit.Length(500)), Y: given(unit.Length(2000)), Length: given(unit.Length(300)), Width: given(unit.Length(300)), Thickness: given(unit.Length(6.4)), Installed: day(2014, 5, 20),
	}}
	a := judged(in, old)
	for _, c := range []struct {
		old, now string
		want     compare.Class
	}{
		{"1-1/1", "1-1/1", compare.Unchanged},
		{"", "1-1/11", compare.Below},
		{"1-2/2", "", compare.Gone},
		{"1-3/3", "", compare.Repaired},
		{"", "1-3/13", compare.Covered},
		{"2-1/4", "", compare.Repaired},
		{"", "2-1/4", compare.Covered},
		{"2-2/5", "", compare.Unseen},
		{"2-3/6", "", compare.Gone},
		{"", "3-1/12", compare.Covered},
		{"3-2/7", "", compare.Gone},
		{"", "3-2/7", compare.New},
		{"3-2/8", "", compare.Gone},
		{"3-2/9", "3-2/9", compare.Unchanged},
	} {
		if p := pairOf(t, a, c.old, c.now); p.Class != c.want {
			t.Errorf("%s, %s: %q (%s), want %q", c.old, c.now, p.Class, p.Why, c.want)
		}
	}
	p := pairOf(t, a, "1-1/1", "1-1/1")
	if p.Growth.Known || !p.Points.Known || math.Abs(float64(p.Points.V)-0.5) > 1e-12 {
		t.Errorf("scan pair: growth %v, points %v", p.Growth, p.Points)
	}
	if f := has(a, "T303"); f == nil || f.Message != "old 2 (55 %) has no match at this inspection" || f.Key != "T303:Plates:1-2/2" {
		t.Errorf("T303: %+v", f)
	}
	whys := map[string]int{}
	for _, n := range a.Comparison.Near {
		whys[n.Why]++
	}
	if whys["beyond the gate"] != 1 || whys["on the other side"] != 1 {
		t.Errorf("near: %v", a.Comparison.Near)
	}
	total := 0
	for _, n := range a.Comparison.Count {
		total += n
	}
	if total != len(a.Comparison.Pairs) {
		t.Errorf("%d counted, %d pairs", total, len(a.Comparison.Pairs))
	}
}

// Every old and every new place stands in the list once.
func everyPlaceOnce(t *testing.T, a *rules.Assessment) {
	t.Helper()
	seen := map[string]int{}
	for i := range a.Comparison.Pairs {
		p := &a.Comparison.Pairs[i]
		if p.Old >= 0 {
			seen[fmt.Sprint("old ", p.Old)]++
		}
		if p.New >= 0 {
			seen[fmt.Sprint("new ", p.New)]++
		}
	}
	want := 0
	for _, ls := range [][]assess.Location{a.Comparison.Old().Found.Locations, a.Result.Locations} {
		for i := range ls {
			if k := ls[i].Kind; (k == assess.IndicationAt || k == assess.ProveUpAt) && ls[i].Verdict != assess.NotRelevant {
				want++
			}
		}
	}
	if len(seen) != want {
		t.Errorf("%d places listed, %d exist", len(seen), want)
	}
	for k, n := range seen {
		if n != 1 {
			t.Errorf("%s stands %d times", k, n)
		}
	}
}

// truth is an invented pair of inspections whose pairs and classes are known.
type truth struct {
	old, now []pit
	partner  map[string]string // new label → old label
	class    map[string]compare.Class
	growth   map[string]float64
}

func invent(rnd *rand.Rand, n int) truth {
	tr := truth{partner: map[string]string{}, class: map[string]compare.Class{}, growth: map[string]float64{}}
	for i := 0; i < n; i++ {
		// a grid with room between, so that the truth is not a matter of luck
		row, pos := 1+i%3, 1+(i/3)%3
		k := i / 9
		p := pit{id: fmt.Sprint(i + 1), plate: fmt.Sprintf("%d-%d", row, pos), x: 1100 + float64(k%4)*330, y: 1100 + float64(k/4%4)*330}
		p.ut = 4.8 - rnd.Float64()
		q := p
		q.id = fmt.Sprint(1000 + rnd.Intn(100000)*100 + i)
		q.x += rnd.NormFloat64() * 25
		q.y += rnd.NormFloat64() * 25
		switch label := q.plate + "/" + q.id; i % 5 {
		case 0: // new
			tr.now = append(tr.now, q)
			tr.class[label] = compare.New
		case 1: // gone
			tr.old = append(tr.old, p)
			tr.class[p.plate+"/"+p.id+" old"] = compare.Gone
		case 2, 3: // grown by 1.2 mm or more
			d := 1.2 + rnd.Float64()
			q.ut = p.ut - d
			tr.old, tr.now = append(tr.old, p), append(tr.now, q)
			tr.partner[label], tr.class[label], tr.growth[label] = p.plate+"/"+p.id, compare.Grown, d/12
		default:
			q.ut = p.ut + rnd.NormFloat64()*0.1
			tr.old, tr.now = append(tr.old, p), append(tr.now, q)
			tr.partner[label], tr.class[label] = p.plate+"/"+p.id, compare.Unchanged
		}
	}
	return tr
}

// Invented pairs of inspections with known truth: moved positions, noise,
// renumbered rows in another order. All pairs and classes come back.
func TestKnownTruth(t *testing.T) {
	for seed := int64(0); seed < 20; seed++ {
		rnd := rand.New(rand.NewSource(seed))
		tr := invent(rnd, 126)
		rnd.Shuffle(len(tr.now), func(i, j int) { tr.now[i], tr.now[j] = tr.now[j], tr.now[i] })
		a := judged(floorAt(now, tr.now), floorAt(then, tr.old))
		everyPlaceOnce(t, a)
		c := a.Comparison
		right := 0
		for i := range c.Pairs {
			p := &c.Pairs[i]
			key, partner := "", ""
			if p.Old >= 0 {
				partner = c.Old().Found.Locations[p.Old].Label
				key = partner + " old"
			}
			if p.New >= 0 {
				key = a.Result.Locations[p.New].Label
				if tr.partner[key] != partner {
					t.Errorf("seed %d: %s with %q, want %q", seed, key, partner, tr.partner[key])
				}
			}
			if tr.class[key] == p.Class {
				right++
			} else {
				t.Errorf("seed %d: %s %q, want %q", seed, key, p.Class, tr.class[key])
			}
			if g, ok := tr.growth[key]; ok {
				near(t, key, p.Growth, g)
			}
		}
		if right != len(c.Pairs) {
			t.Errorf("seed %d: %d of %d classes right", seed, right, len(c.Pairs))
		}
		if c.Position.Better() {
			t.Errorf("seed %d: %+v", seed, c.Position)
		}
	}
}

// The same pairs whatever the order of the rows.
func TestOrderOfRows(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	var olds, news []pit
	for i := 0; i < 60; i++ { // crowded, and full of ties
		olds = append(olds, pit{id: fmt.Sprint(i), plate: "2-2", x: 1000 + 50*float64(rnd.Intn(10)), y: 1000 + 50*float64(rnd.Intn(10)), ut: 4})
		news = append(news, pit{id: fmt.Sprint(i), plate: "2-2", x: 1000 + 50*float64(rnd.Intn(10)), y: 1000 + 50*float64(rnd.Intn(10)), ut: 4})
	}
	list := func() string {
		a := judged(floorAt(now, news), floorAt(then, olds))
		s := ""
		for i := range a.Comparison.Pairs {
			p := &a.Comparison.Pairs[i]
			if p.Old >= 0 {
				s += a.Comparison.Old().Found.Locations[p.Old].Label
			}
			s += "="
			if p.New >= 0 {
				s += a.Result.Locations[p.New].Label
			}
			s += " "
		}
		return s
	}
	first := list()
	for n := 0; n < 10; n++ {
		rnd.Shuffle(len(news), func(i, j int) { news[i], news[j] = news[j], news[i] })
		rnd.Shuffle(len(olds), func(i, j int) { olds[i], olds[j] = olds[j], olds[i] })
		if got := list(); got != first {
			t.Fatalf("other pairs in another order of rows:\n%s\n%s", first, got)
		}
	}
}

// A plan drawn mirrored or turned last time is told, and nothing is turned.
func TestMirroredPlan(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	var news []pit
	for i := 0; i < 40; i++ {
		news = append(news, pit{id: fmt.Sprint(i), plate: fmt.Sprintf("2-%d", 1+i%3), x: 100 + 2800*rnd.Float64(), y: 100 + 2800*rnd.Float64(), ut: 4 + rnd.Float64()})
	}
	mirror := func(p pit) pit { // the drawing seen from below: plates and positions
		p.plate = fmt.Sprintf("2-%d", 4-int(p.plate[2]-'0'))
		p.x = 3000 - p.x
		return p
	}
	turn := func(p pit) pit { // a quarter turn of plate 2-2 about the centre
		p.x, p.y = 3000-p.y, p.x
		return p
	}
	flip := func(p pit) pit { // positions from the top left corner instead
		p.y = 3000 - p.y
		return p
	}
	for _, c := range []struct {
		name string
		do   func(pit) pit
		only string
		want compare.Position
	}{
		{"mirrored", mirror, "", compare.Position{Mirrored: true}},
		{"turned", turn, "2-2", compare.Position{Turn: 270}},
		{"from another datum", flip, "", compare.Position{Turn: 180, Mirrored: true, Within: false}},
	} {
		var from, to []pit
		for _, p := range news {
			if c.only != "" && p.plate != c.only {
				continue
			}
			to, from = append(to, p), append(from, c.do(p))
		}
		a := judged(floorAt(now, to), floorAt(then, from))
		g := a.Comparison.Position
		if !g.Better() || g.Turn != c.want.Turn || g.Mirrored != c.want.Mirrored || g.Pairs < len(to)*9/10 {
			t.Errorf("%s: %+v", c.name, g)
		}
		if f := has(a, "T301"); f == nil || f.Key != "T301::" {
			t.Errorf("%s: no T301 but %v", c.name, f)
		}
		n := 0
		for i := range a.Comparison.Pairs {
			if p := &a.Comparison.Pairs[i]; p.Old >= 0 && p.New >= 0 {
				n++
			}
		}
		if n > g.Pairs/2 {
			t.Errorf("%s: %d pairs made although nothing is turned", c.name, n)
		}
	}
	if a := judged(floorAt(now, news), floorAt(then, news)); has(a, "T301") != nil {
		t.Error("T301 on an equal plan")
	}
}

func TestPlates(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "3-3", x: 500, y: 500, ut: 5}, {id: "2", plate: "2-2", x: 1500, y: 1500, ut: 5}})
	in := floorAt(now, []pit{{id: "1", plate: "9-9", x: 500, y: 500, ut: 4}, {id: "2", plate: "2-2", x: 1500, y: 1500, ut: 4}})
	in.Plates[8].Label, in.Plates[8].Key = given("9-9"), "9-9"

	a := judged(in, old)
	if p := pairOf(t, a, "3-3/1", ""); p.Class != compare.Unseen {
		t.Errorf("without a link: %q", p.Class)
	}
	if p := pairOf(t, a, "", "9-9/1"); p.Class != compare.Covered {
		t.Errorf("without a link: %q", p.Class)
	}
	in.Plates[8].PreviousPlate = given("3-03 ")
	if p := pairOf(t, judged(in, old), "3-3/1", "9-9/1"); p.Class != compare.Grown {
		t.Errorf("by Previous plate: %q", p.Class)
	}
	in.Plates[8].PreviousPlate = inspection.Label{}
	a = rules.AssessSince(in, nil, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(old, nil)}, Renamed: []compare.Renamed{{Old: "3-3", New: "9-9"}}})
	if p := pairOf(t, a, "3-3/1", "9-9/1"); p.Class != compare.Grown {
		t.Errorf("by the list: %q", p.Class)
	}

	in.Plates[4].Nominal = given(unit.Length(8))
	a = judged(in, old)
	if f := has(a, "T302"); f == nil || f.Key != "T302:Plates:[2-2]" || f.Message != "2-2: nominal was 6.35, now 8.00 mm" {
		t.Errorf("T302: %+v", f)
	}
	if p := pairOf(t, a, "2-2/2", "2-2/2"); p.Class != compare.NotJudged || p.Growth.Known {
		t.Errorf("nominal changed: %+v", p)
	}
	if a.Comparison.Soil.Growth.Known {
		t.Error("growth from a plate whose nominal is in question")
	}
	in.Plates[4].Nominal = given(unit.Length(6.60)) // at the mill tolerance
	if f := has(judged(in, old), "T302"); f != nil {
		t.Errorf("T302 at the mill tolerance: %s", f.Message)
	}
	in.Plates[4].Nominal, in.Plates[4].Installed = given(unit.Length(8)), day(2020, 1, 1)
	if f := has(judged(in, old), "T302"); f != nil {
		t.Errorf("T302 on a plate installed anew: %s", f.Message)
	}
}

func TestRefused(t *testing.T) {
	in, old := floorAt(now, nil), floorAt(then, nil)
	for _, c := range []struct {
		name    string
		earlier []*inspection.Inspection
		change  func()
		rule    string
	}{
		{"wrong way round", []*inspection.Inspection{floorAt(now+400, nil)}, nil, "T305"},
		{"same day", []*inspection.Inspection{floorAt(now, nil)}, nil, "T305"},
		{"same inspection", []*inspection.Inspection{in}, nil, "T305"},
		{"same earlier one twice", []*inspection.Inspection{old, old}, nil, "T305"},
		{"other tank", []*inspection.Inspection{old}, func() { old.Tank.Diameter = given(unit.Length(9100)) }, "T305"},
		{"no date there", []*inspection.Inspection{old}, func() {
			old.Tank.Diameter, old.Tank.InspectionEnd = given(unit.Length(9090)), inspection.Date{}
		}, "K104"},
	} {
		if c.change != nil {
			c.change()
		}
		a := judged(in, c.earlier...)
		if f := has(a, c.rule); f == nil {
			t.Errorf("%s: no %s", c.name, c.rule)
		}
		if len(a.Comparison.Refused) == 0 || len(a.Comparison.Pairs) > 0 || a.Comparison.Growth != nil {
			t.Errorf("%s: compared all the same", c.name)
		}
		if !a.Result.AsFound.SoilMin.Known {
			t.Errorf("%s: the new inspection was not evaluated", c.name)
		}
	}
	old.Tank.InspectionEnd = given(then)
	if a := judged(in, old); len(a.Comparison.Refused) > 0 { // 1 % apart exactly
		t.Errorf("%+v", a.Comparison.Refused)
	}
	old.Tank.Tank = given("Tank 9")
	if a := judged(in, old); len(a.Comparison.Notes) == 0 {
		t.Error("another tank's name is not told")
	}
}

func TestCopiedValues(t *testing.T) {
	var olds, news []pit
	for i := 0; i < 30; i++ {
		p := pit{id: fmt.Sprint(i), plate: "2-2", x: 100 * float64(i%6), y: 500 + 100*float64(i/6), loss: 45, ut: 3 + 0.01*float64(i)}
		olds = append(olds, p)
		if i >= 9 {
			p.ut -= 0.3
		}
		news = append(news, p)
	}
	if f := has(judged(floorAt(now, news), floorAt(then, olds)), "T304"); f != nil {
		t.Errorf("nine equal: %s", f.Message)
	}
	news[9].ut += 0.3
	f := has(judged(floorAt(now, news), floorAt(then, olds)), "T304")
	if f == nil || f.Message != "10 of 30 thicknesses equal those of 2014" || f.Key != "T304:Prove-ups:[Remaining]" {
		t.Errorf("ten equal: %+v", f)
	}
	for i := 0; i < 4; i++ { // 10 of 34 is under 30 %
		news = append(news, pit{id: fmt.Sprint(90 + i), plate: "2-2", x: 2500, y: 100 * float64(i+1), loss: 45, ut: 3.3})
	}
	if f := has(judged(floorAt(now, news), floorAt(then, olds)), "T304"); f != nil {
		t.Errorf("under 30 %%: %s", f.Message)
	}
}

// Protection makes no growing pit's rate 0.
func TestGrowthUnderProtection(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 5.0}, {id: "3", plate: "2-3", x: 500, y: 500, ut: 5.5, side: "product"}})
	make := func() *inspection.Inspection {
		return floorAt(now, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 3.8}, {id: "2", plate: "2-1", x: 1500, y: 1500, ut: 3.4}, {id: "3", plate: "2-3", x: 500, y: 500, ut: 4.6, side: "product"}})
	}
	in := make()
	in.Tank.CathodicProtection, in.Tank.CathodicProtectionEvidence = given("recorded effective"), given("survey 2025")
	near(t, "protected, alone", rules.Assess(in, nil, nil).Result.AsFound.SoilRate, 0)
	a := judged(in, old)
	near(t, "protected, grown", a.Result.AsFound.SoilRate, 1.2/12) // not the new pit's 0.14
	if f := has(a, "K104"); f == nil {
		t.Error("no K104 of growth under protection")
	} else if n := 0; true {
		for i := range a.Findings {
			if a.Findings[i].Key == "K104::[compare.growth.soil]" {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%d findings K104::[compare.growth.soil]", n)
		}
	}
	if s := a.Result.Steps.Find("rate.soil.as_found"); s == nil || math.Abs(s.Value-0.1) > 1e-9 {
		t.Errorf("step %+v", s)
	}

	in = make()
	in.Tank.Lining, in.Tank.LiningExpectedLife = given("thin film"), given(unit.Years(30))
	in.Tank.LiningInstalled = day(2010, 1, 1)
	alone, with := rules.Assess(in, nil, nil).Result.AsFound, judged(in, old).Result.AsFound
	near(t, "old lining, alone", alone.ProductRate, 0)
	near(t, "old lining, grown", with.ProductRate, 0.9/12)
	if !(with.IntervalUncapped.V < alone.IntervalUncapped.V) {
		t.Errorf("interval %v with growth, %v without", with.IntervalUncapped, alone.IntervalUncapped)
	}
	in.Tank.LiningInstalled = day(2016, 1, 1) // after OLD: what grew may have grown before it
	near(t, "new lining, grown", judged(in, old).Result.AsFound.ProductRate, 0)
}

// Growth never makes an interval longer.
func TestGrowthNeverHelps(t *testing.T) {
	for seed := int64(0); seed < 15; seed++ {
		rnd := rand.New(rand.NewSource(100 + seed))
		tr := invent(rnd, 40+rnd.Intn(60))
		in := floorAt(now, tr.now)
		if seed%3 == 0 {
			in.Criteria.Put(criteria.RateBasis, criteria.Value{Text: "plate", Set: true, Given: true})
		}
		if seed%2 == 0 {
			in.Tank.CathodicProtection, in.Tank.CathodicProtectionEvidence = given("recorded effective"), given("survey 2025")
		}
		if seed%5 == 0 {
			in.Tank.Lining, in.Tank.LiningInstalled, in.Tank.LiningExpectedLife = given("thin film"), day(2010, 1, 1), given(unit.Years(25))
		}
		if seed%4 == 0 {
			in.Criteria.Put(criteria.RateAfterRepair, criteria.Value{Text: "recomputed", Set: true, Given: true})
		}
		alone, with := rules.Assess(in, nil, nil).Result, judged(in, floorAt(then, tr.old)).Result
		for _, s := range []assess.State{assess.AsFound, assess.AsPlanned} {
			a, w := alone.State(s), with.State(s)
			if s == assess.AsFound && (w.SoilRate.V < a.SoilRate.V-1e-12 && !in.Criteria.Is(criteria.RateBasis, "plate") || w.Interval.V > a.Interval.V+1e-9) {
				t.Errorf("seed %d, %s: rate %v, interval %v; without growth %v, %v", seed, s, w.SoilRate, w.Interval, a.SoilRate, a.Interval)
			}
		}
		for _, s := range []assess.State{assess.AsFound, assess.AsPlanned} {
			st := with.State(s)
			for id, rate := range map[string]unit.Maybe[unit.Rate]{"rate.soil.": st.SoilRate, "rate.product.": st.ProductRate} {
				if f := with.Steps.Find(id + s.String()); f == nil || f.Known != rate.Known || math.Abs(f.Value-float64(rate.V)) > 1e-12 {
					t.Errorf("seed %d: step %s%s %+v, result %v", seed, id, s, f, rate)
				}
			}
		}
		for _, s := range []assess.State{assess.AsFound, assess.AsPlanned} {
			st := with.State(s)
			if f := with.Steps.Find("interval.adopted." + s.String()); st.GovernedBy != assess.GovRepairFirst && (f == nil || math.Abs(f.Value-float64(st.Interval.V)) > 1e-9) {
				t.Errorf("seed %d: step interval.adopted.%s %+v, result %v", seed, s, f, st.Interval)
			}
		}
		for i := range with.Steps {
			if st := &with.Steps[i]; st.Why == "the formula gives no number" {
				t.Errorf("step %s gives no number", st.ID)
			}
		}
	}
}

// Three dates: the trend is the least-squares line through them.
func TestTrendOverThreeDates(t *testing.T) {
	a := floorAt(unit.NewDate(2008, 5, 1), []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 6.0}, {id: "2", plate: "2-2", x: 1500, y: 500, loss: 25}})
	b := floorAt(unit.NewDate(2016, 5, 1), []pit{{id: "8", plate: "2-2", x: 520, y: 500, ut: 5.2}, {id: "2", plate: "2-2", x: 1500, y: 500, loss: 30}})
	c := floorAt(unit.NewDate(2026, 5, 1), []pit{{id: "9", plate: "2-2", x: 540, y: 500, ut: 4.1}, {id: "2", plate: "2-2", x: 1500, y: 500, loss: 35}})
	got := judged(c, b, a).Comparison // in any order
	if len(got.Dates) != 3 || got.Dates[0].End > got.Dates[1].End || got.Old().In != b {
		t.Fatalf("dates %+v", got.Dates)
	}
	if len(got.Trends) != 2 {
		t.Fatalf("%d trends", len(got.Trends))
	}
	for _, tr := range got.Trends {
		if tr.UT != tr.Fit.Rate.Known || len(tr.Dates) != 3 {
			t.Errorf("%+v", tr)
		}
	}
	tr := got.Trends[0]
	if !tr.UT {
		tr = got.Trends[1]
	}
	if fmt.Sprint(tr.Labels) != "[2-2/1 2-2/8 2-2/9]" {
		t.Errorf("%v", tr.Labels)
	}
}

// crowd is a floor with 60 pits on a square metre, measured twice, and how
// long its plates are.
func crowd(rnd *rand.Rand, n int) (olds, news []pit, length float64) {
	length = 3000 * math.Sqrt(float64(n)/5000)
	for i := 0; i < n; i++ {
		p := pit{id: fmt.Sprint(i), plate: fmt.Sprintf("%d-%d", 1+rnd.Intn(3), 1+rnd.Intn(3)), x: length * rnd.Float64(), y: length * rnd.Float64(), loss: 20 + 40*rnd.Float64()}
		olds = append(olds, p)
		p.x, p.y = p.x+20*rnd.NormFloat64(), p.y+20*rnd.NormFloat64()
		news = append(news, p)
	}
	return olds, news, length
}

func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{500, 5000, 50000} {
		olds, news, length := crowd(rand.New(rand.NewSource(1)), n)
		survey := func(in *inspection.Inspection) compare.Survey {
			in.Tank.Diameter = given(unit.Length(3 * length))
			for i := range in.Plates {
				in.Plates[i].Length, in.Plates[i].Width = given(unit.Length(length)), given(unit.Length(length))
			}
			plan := floor.Place(in)
			return compare.Survey{In: in, Plan: plan, Found: assess.Assess(in, plan)}
		}
		old, now := survey(floorAt(then, olds)), survey(floorAt(now, news))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				compare.Compare([]compare.Survey{old}, now, nil)
			}
		})
	}
}

// Another datum corner, or a drawing with the plate turned half round, moves no
// pit.
func TestSamePlaceOnAnotherDrawing(t *testing.T) {
	in := floorAt(now, []pit{{id: "1", plate: "2-2", x: 400, y: 700, ut: 4}, {id: "2", plate: "1-2", x: 400, y: 700, ut: 4}})
	for name, change := range map[string]func(old *inspection.Inspection){
		"datum corner top right": func(old *inspection.Inspection) {
			for i := range old.Plates {
				old.Plates[i].DatumCorner = given("top right")
			}
		},
		"plates turned": func(old *inspection.Inspection) {
			for i := range old.Plates {
				old.Plates[i].Turned = given(unit.Angle(180))
			}
		},
	} {
		old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 2600, y: 2300, ut: 4}, {id: "2", plate: "1-2", x: 2600, y: 2300, ut: 4}})
		change(old)
		a := judged(in, old)
		for _, l := range []string{"2-2/1", "1-2/2"} {
			if p := pairOf(t, a, l, l); p.Distance.V > 1e-6 {
				t.Errorf("%s: %s moved by %v", name, l, p.Distance.V)
			}
		}
	}
}

// Gate and tolerance are those of the new inspection.
func TestGateAndToleranceFromTheNewInspection(t *testing.T) {
	old := floorAt(then, []pit{{id: "1", plate: "2-2", x: 500, y: 500, ut: 4.6}})
	in := floorAt(now, []pit{{id: "1", plate: "2-2", x: 680, y: 500, ut: 4}})
	if p := pairOf(t, judged(in, old), "2-2/1", ""); p.Class != compare.Gone {
		t.Errorf("beyond the gate: %q", p.Class)
	}
	in.Criteria.Put(criteria.MatchingGate, criteria.Value{Number: 200, Set: true, Given: true})
	if p := pairOf(t, judged(in, old), "2-2/1", "2-2/1"); p.Class != compare.Unchanged {
		t.Errorf("a wider gate: %q", p.Class)
	}
	in.Criteria.Put(criteria.UTTolerance, criteria.Value{Number: 0.2, Set: true, Given: true})
	if p := pairOf(t, judged(in, old), "2-2/1", "2-2/1"); p.Class != compare.Grown {
		t.Errorf("a finer tolerance: %q", p.Class)
	}
}
