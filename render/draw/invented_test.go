package draw

import (
	"fmt"
	"math"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/sizing"
	"platebook/rules/unit"
)

// An invented floor: its numbers are for the shape of drawings only.
type invented struct {
	diameter, length, width, lap float64 // mm
	ring                         float64 // annular width, 0: no ring
	ringPlates                   int
	spots                        int
	up                           float64
	units                        unit.System
}

func given[T any](v T) inspection.Field[T] {
	return inspection.Field[T]{Value: v, State: inspection.Given}
}

// lcg is a fixed sequence, so that goldens stay as they are.
type lcg uint64

func (g *lcg) next() float64 {
	*g = *g*6364136223846793005 + 1442695040888963407
	return float64(*g>>11) / (1 << 53)
}

func (v invented) assessment() *rules.Assessment {
	in := &inspection.Inspection{Units: v.units, Criteria: criteria.Defaults(v.units)}
	t := &in.Tank
	t.Client, t.Site = given("Harbour Storage Ltd"), given("North terminal")
	t.Tank, t.ReportNumber, t.Revision = given("T-7"), given("26-014"), given("B")
	t.ReportStatus, t.ReportDate = given("preliminary"), given(unit.NewDate(2026, 5, 4))
	t.Diameter = given(unit.Length(v.diameter))
	t.Lap = given(unit.Length(v.lap))
	t.PlanUpBearing = given(unit.Angle(v.up))
	if v.ring > 0 {
		t.AnnularRing = given("yes")
		t.AnnularWidth = given(unit.Length(v.ring))
	}
	v.plates(in)
	v.fixtures(in)
	plan := floor.Place(in)
	a := &rules.Assessment{Inspection: in, Plan: plan, Result: &assess.Result{}}
	a.Result.Plates = make([]assess.PlateResult, len(in.Plates))
	v.locate(a)
	v.more(a)
	return a
}

// more adds readings, photos, strips, coverage and repairs.
func (v invented) more(a *rules.Assessment) {
	g := lcg(11)
	in, plan := a.Inspection, a.Plan
	for i := range in.Plates {
		p := &in.Plates[i]
		p.MFLScanned, p.HandScanned = given(unit.Percent(94)), given(unit.Percent(6))
		if i%7 == 3 {
			p.MFLScanned, p.NotExamined = given(unit.Percent(60)), given(unit.Percent(34))
			p.ReasonNotExamined = given("heating coil")
		}
		if !plan.Plates[i].Placed || len(plan.Plates[i].Cut) == 0 {
			continue
		}
		x, y, _ := plan.FromPlan(i, plan.Plates[i].Label)
		in.Readings = append(in.Readings, inspection.Reading{
			Row: inspection.Row{Sheet: "Readings", Number: i + 4}, Plate: p.Label,
			X: given(unit.Length(x + 150)), Y: given(unit.Length(y - 120)), Thickness: given(unit.Length(5.9 + 0.6*g.next())),
		})
		if i%9 == 2 {
			in.Photos = append(in.Photos, inspection.Photo{
				Row: inspection.Row{Sheet: "Photos", Number: i + 4}, File: given("p.jpg"), Plate: p.Label, X: given(unit.Length(x)), Y: given(unit.Length(y)),
				Direction: given([]string{"north", "looking SW", "135", "along the shell"}[i%4]),
			})
		}
	}
	in.Photos = append(in.Photos, inspection.Photo{File: given("q.jpg"), Plate: in.Plates[0].Label}, inspection.Photo{File: given("r.jpg")})
	if len(in.Indications) > 3 {
		in.Photos = append(in.Photos, inspection.Photo{File: given("s.jpg"), Indication: in.Indications[3].ID})
	}
	for i := range in.Plates {
		p := &plan.Plates[i]
		if i%4 != 1 || !p.Placed || len(p.Cut) == 0 {
			continue
		}
		x, y, _ := plan.FromPlan(i, p.Label)
		in.Visual = append(in.Visual, inspection.Visual{
			Row: inspection.Row{Sheet: "Visual", Number: i + 4}, ID: given(fmt.Sprintf("V%d", i)), Plate: in.Plates[i].Label,
			X: given(unit.Length(x - 300)), Y: given(unit.Length(y - 200)), Weight: given([]string{"note", "monitor", "repair"}[i/4%3]),
		})
		in.Welds = append(in.Welds, inspection.Weld{
			Row: inspection.Row{Sheet: "Welds", Number: i + 4}, ID: given(fmt.Sprintf("W%d", i)), Seam: given(in.Plates[i].Label.Value + "/x"),
			X: given(unit.Length(x)), Y: given(unit.Length(0)), Result: given([]string{"accepted", "rejected", "retested accepted"}[i/4%3]),
		})
	}
	in.Welds = append(in.Welds, inspection.Weld{ID: given("W0"), Seam: given("shell-to-floor"), Bearing: given(unit.Angle(75)), Result: given("accepted")},
		inspection.Weld{ID: given("W99"), Seam: given("nowhere")})
	n := len(in.Plates) / 2
	for i := range 4 {
		in.Tracks = append(in.Tracks, inspection.Track{
			Row: inspection.Row{Sheet: "Tracks", Number: i + 4}, Plate: in.Plates[n].Label, Track: given(fmt.Sprint(i + 1)),
			Offset: given(unit.Length(float64(i) * v.width / 4)), Width: given(unit.Length(v.width / 4)), LargestLoss: given(unit.Percent(10 + 22*float64(i))),
		})
	}
	k := 0
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		if l.Verdict != assess.Repair && l.Verdict != assess.RepairFirst || i%3 == 0 {
			continue
		}
		k++
		x, y, _ := plan.FromLocal(l.Plate, l.Box.Centre())
		l.Repair = fmt.Sprintf("R%d", k)
		r := inspection.Repair{
			Row: inspection.Row{Sheet: "Planned repairs", Number: k + 4}, Label: given(l.Repair), Kind: given("patch"), Plate: in.Plates[l.Plate].Label,
			X: given(unit.Length(x)), Y: given(unit.Length(y)), Length: given(unit.Length(l.Box.Length()) + 200), Width: given(unit.Length(l.Box.Width()) + 200),
			Status: given("planned"), Shape: given("rounded rectangle"),
		}
		switch k % 6 {
		case 1:
			r.Status = given("completed")
		case 2:
			r.Kind = given("weld build-up")
		case 5:
			if k < 8 {
				r.Kind = given("replace plate")
			}
		}
		in.Repairs = append(in.Repairs, r)
	}
}

func (v invented) plates(in *inspection.Inspection) {
	rim := v.diameter/2 - v.ring
	rows := int(math.Ceil((2*rim - v.lap) / (v.width - v.lap)))
	stack := float64(rows)*v.width - float64(rows-1)*v.lap
	for r := range rows {
		// The row is as long as its widest chord.
		low := -stack/2 + float64(r)*(v.width-v.lap)
		near := 0.0
		if low > 0 {
			near = low
		} else if low+v.width < 0 {
			near = low + v.width
		}
		if math.Abs(near) >= rim {
			continue
		}
		chord := 2 * math.Sqrt(rim*rim-near*near)
		n := max(1, int(math.Ceil((chord-v.lap)/(v.length-v.lap))))
		if (r%2 == 0) != (n%2 == 0) && n > 1 {
			n++
		}
		for c := range n {
			in.Plates = append(in.Plates, inspection.Plate{
				Row: inspection.Row{Sheet: "Plates", Number: len(in.Plates) + 4}, Label: given(fmt.Sprintf("%d-%d", r+1, c+1)),
				Type: given("rectangular"), RowNo: given(fmt.Sprint(r + 1)), Position: given(fmt.Sprint(c + 1)),
				Length: given(unit.Length(v.length)), Width: given(unit.Length(v.width)), Nominal: given(unit.Length(6.35)),
			})
		}
	}
	for i := range v.ringPlates {
		in.Plates = append(in.Plates, inspection.Plate{
			Row: inspection.Row{Sheet: "Plates", Number: len(in.Plates) + 4}, Label: given(fmt.Sprintf("A%d", i+1)),
			Type: given("annular"), Length: given(unit.Length(math.Pi * v.diameter / float64(v.ringPlates))), Width: given(unit.Length(v.ring)),
			StartBearing: given(unit.Angle(360 * float64(i) / float64(v.ringPlates))), EndBearing: given(unit.Angle(360 * float64(i+1) / float64(v.ringPlates))),
			Nominal: given(unit.Length(9.5)),
		})
	}
}

func (v invented) fixtures(in *inspection.Inspection) {
	r := v.diameter / 2
	fix := func(name, kind string, bearing, radius, d float64) {
		in.Fixtures = append(in.Fixtures, inspection.Fixture{
			Row: inspection.Row{Sheet: "Fixtures", Number: len(in.Fixtures) + 4}, Name: given(name), Kind: given(kind),
			Bearing: given(unit.Angle(bearing)), Radius: given(unit.Length(radius)), Diameter: given(unit.Length(d)),
		})
	}
	fix("Sump 1", "sump", 200, 0.8*r, 900)
	fix("M1", "manway", 10, r, 600)
	fix("N2 inlet", "nozzle", 130, r, 300)
	if v.diameter > 12000 {
		fix("C0", "column", 0, 0, 500)
		for i := range 6 {
			fix(fmt.Sprintf("C%d", i+1), "column", float64(i*60+20), 0.55*r, 400)
		}
	}
	in.Patches = append(in.Patches, inspection.Patch{
		Row: inspection.Row{Sheet: "Existing patches", Number: 4, Key: "P1"}, Label: given("P1"), Plate: in.Plates[len(in.Plates)/3].Label,
		X: given(unit.Length(v.length / 2)), Y: given(unit.Length(v.width / 2)), Length: given(unit.Length(600)), Width: given(unit.Length(400)), Shape: given("rounded rectangle"),
	})
}

func (v invented) locate(a *rules.Assessment) {
	g := lcg(7)
	in, plan, res := a.Inspection, a.Plan, a.Result
	for len(in.Indications) < v.spots {
		i := int(g.next() * float64(len(in.Plates)))
		p := &plan.Plates[i]
		if !p.Placed || len(p.Cut) == 0 {
			continue
		}
		x, y := g.next()*p.Length, g.next()*p.Width
		at, ok := plan.ToPlan(i, x, y)
		if !ok || !p.Sector && math.Hypot(at.X, at.Y) > plan.Rim-100 {
			continue
		}
		n := len(in.Indications)
		id := fmt.Sprint(n + 1)
		in.Indications = append(in.Indications, inspection.Indication{
			Row: inspection.Row{Sheet: "Indications", Number: n + 4, Key: in.Plates[i].Label.Value + "/" + id},
			ID:  given(id), Plate: in.Plates[i].Label, X: given(unit.Length(x)), Y: given(unit.Length(y)),
		})
		// Most pits are shallow, a few deep.
		q := g.next()
		loss := 15 + 75*q*q*q
		side := [...]assess.Side{assess.Soil, assess.Soil, assess.Soil, assess.Product, assess.Unknown}[int(g.next()*5)]
		size := 20 + 300*g.next()*g.next()
		box, _ := plan.Box(i, x, y, size*(0.5+g.next()), size)
		l := assess.Location{
			Kind: assess.IndicationAt, Label: in.Indications[n].Key, Plate: i, Indication: n, ProveUp: -1, Patch: -1, Over: -1,
			Side: side, Box: box, At: at, Placed: true, Bearing: plan.Bearing(at), Radius: plan.FromCentre(at),
			Nominal: unit.Some(unit.Length(6.35)), Loss: unit.Some(unit.Percent(loss)), Counts: true, Verdict: assess.Leave,
			Remaining: unit.Some(unit.Length(6.35 * (1 - loss/100))), Zone: floor.General,
		}
		if loss > 40 {
			l.ProveUp, l.Tied = len(in.ProveUps), []int{len(in.ProveUps)}
			ut := loss + 8*(g.next()-0.5)
			in.ProveUps = append(in.ProveUps, inspection.ProveUp{ID: given("U" + id), Plate: in.Plates[i].Label, Remaining: given(unit.Length(6.35 * (1 - ut/100)))})
			res.Sizing.Pairs = append(res.Sizing.Pairs, sizing.Pair{MFL: math.Round(loss), UT: ut, Nominal: 6.35, Plate: i, Indication: n, ProveUp: l.ProveUp, Side: side.String()})
		}
		if loss > 60 {
			l.Verdict = assess.Repair
		}
		if loss > 80 {
			l.Verdict = assess.RepairFirst
		}
		res.Locations = append(res.Locations, l)
		pr := &res.Plates[i]
		pr.Indications++
		pr.WorstLoss = pr.WorstLoss.Max(unit.Some(unit.Percent(loss)))
		pr.Worst = pr.Worst.Min(l.Remaining)
	}
	if n := len(res.Sizing.Pairs); n > 3 {
		res.Sizing.All = sizing.Fit{
			Pairs: n, Slope: unit.Some(unit.Ratio(0.97)), Intercept: unit.Some(unit.Percent(1.1)), ResidualSD: unit.Some(unit.Percent(3)),
			MeanX: 60, Sxx: float64(n) * 150, MinX: 40, MaxX: 89,
		}
	}
	for i := range res.Plates {
		pr := &res.Plates[i]
		pr.Nominal = unit.Some(unit.Length(6.35))
		pr.Required = unit.Some(unit.Length(2.54))
		if pr.Worst.Known {
			pr.Margin = unit.Some(pr.Worst.V - pr.Required.V)
		}
	}
}

var (
	small  = invented{diameter: 4000, length: 4000, width: 1500, lap: 40, spots: 9}
	middle = invented{diameter: 25000, length: 6000, width: 1800, lap: 50, ring: 700, ringPlates: 12, spots: 200, up: 30}
	large  = invented{diameter: 90000, length: 9000, width: 2500, lap: 50, ring: 1200, ringPlates: 40, spots: 5000}
)
