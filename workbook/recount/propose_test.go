package recount_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/invented"
	"platebook/workbook/recount"
)

func one[T any](d *rand.Rand, list ...T) T { return list[d.IntN(len(list))] }

// corroded is a floor without a ring, its pits found by UT, crowded about a few
// places and none within 700 mm of the shell.
func corroded(seed uint64) *invented.Tank {
	d := rand.New(rand.NewPCG(seed, 910))
	end := unit.NewDate(2026, 5, 1)
	lap, width, length := one(d, 0.0, 30, 50, 75), one(d, 1500.0, 1800, 2000, 2500), one(d, 4000.0, 5500, 6000, 7315)
	t := &invented.Tank{Seed: seed, Criteria: invented.Row{}, Items: invented.Row{
		"Report number": "R-1", "Revision": "A", "Report status": "preliminary", "Client": "Client A", "Site": "Site B", "Tank": "T-1",
		"Inspection start": end - 10, "Inspection end": end, "Report date": end + 9, "Units": "SI", "Specific gravity": 0.85, "Shell height": 10000.0,
		"Maximum fill height": 9000.0, "Commissioned": unit.NewDate(2001, 5, 1), "Floor installed": unit.NewDate(2001, 5, 1), "Diameter": 20000.0,
		"Nominal thickness": 6.35, "Lap": lap, "Annular ring": "no", "Firm name": "Firm", "Prepared by": "A. Day", "Responsible inspector": "B. Night",
	}}
	if d.IntN(3) == 0 {
		t.Items["Desired interval"] = one(d, 5.0, 8, 15, 20)
	}
	for name, values := range map[string][]float64{
		"Patch overlap": {25, 60, 50.8}, "Patch minimum": {100, 152.4, 200}, "Patch minimum over weld": {250, 304.8, 400},
		"Patch weld clearance": {0, 30, 76}, "Patch gap": {0, 20, 100}, "Patch size step": {0, 5, 12.7, 25},
	} {
		// by name and seed, for maps have no order
		if own := rand.New(rand.NewPCG(seed, uint64(len(name)))); own.IntN(4) == 0 {
			t.Criteria[name] = one(own, values...)
		}
	}
	const radius = 10000
	t.Plates = append(t.Plates, rowsOfPlates(radius, width, length, lap)...)
	plan := invented.Lay(t)
	t.Readings = []invented.Row{{"Plate": plan.Order[len(plan.Order)/2], "Thickness": 6.3}}
	crowded := []invented.Row{one(d, t.Plates...), one(d, t.Plates...), one(d, t.Plates...)}
	wanted := one(d, 3, 8, 20, 40, 60)
	for len(t.Indications) < wanted {
		p, x, y := one(d, t.Plates...), float64(d.IntN(int(length))), float64(d.IntN(int(width)))
		switch d.IntN(3) {
		case 0:
			p = one(d, crowded...)
		case 1:
			if len(t.Indications) > 0 {
				q := one(d, t.Indications...)
				p, x, y = t.Plate(q.Word("Plate")), q.Number("X")+float64(d.IntN(500)-250), q.Number("Y")+float64(d.IntN(500)-250)
			}
		}
		px, py, _ := plan.At(p.Word("Plate"), x, y)
		if x < 0 || x > length || y < 0 || y > width || math.Hypot(px, py) > radius-900 {
			continue
		}
		i := invented.Row{
			"ID": strconv.Itoa(len(t.Indications) + 1), "Plate": p.Word("Plate"), "X": x, "Y": y, "Side": "soil", "Method": "UT", "Kind": "pit",
			"Remaining": math.Round(230+390*d.Float64()) / 100,
		}
		if d.IntN(2) == 0 {
			i["Length"], i["Width"] = one(d, 20.0, 40, 60, 120, 250), one(d, 20.0, 45, 80, 180)
		}
		t.Indications = append(t.Indications, i)
	}
	for k := range d.IntN(3) {
		p := plan.Order[d.IntN(len(plan.Order))]
		if px, py, _ := plan.At(p, length/2, width/2); math.Hypot(px, py) < radius-1200 {
			t.Patches = append(t.Patches, invented.Row{"Patch": "E" + strconv.Itoa(k), "Plate": p, "X": length / 2, "Y": width / 2, "Length": 300.0, "Width": 250.0, "Installed": unit.NewDate(2010, 1, 1)})
			break
		}
	}
	return t
}

// The program proposes, over crowds of pits away from the shell, what the
// method's steps give when every pair is looked at every time; and so at every
// threshold of the table.
func TestProposalsAgreeWithTheSecondCalculation(t *testing.T) {
	from, to := tanks(t)
	settled := 0
	for seed := from; seed < from+max(1, (to-from)/2); seed++ {
		tank := corroded(seed)
		a := judged(t, tank, unit.SI)
		plan := invented.Lay(tank)
		needed := func(asks func(i int) bool) []int {
			var out []int
			for i := range tank.Indications {
				if asks(i) {
					out = append(out, i)
				}
			}
			return out
		}
		left := func(i int) float64 { return tank.Indications[i].Number("Remaining") }
		found := a.Result.AsFound
		limit := float64(a.Result.Required.V) + tank.Items.Or("Desired interval", 10)*float64(found.SoilRate.V+found.ProductRate.V)
		want := recount.Propose(tank, needed(func(i int) bool { return left(i) < limit-1e-6 }))
		if want.Settled {
			settled++
			compareProposal(t, seed, plan, a.Repairs, &want)
		}
		for _, l := range a.Repairs.Thresholds() {
			at := recount.Propose(tank, needed(func(i int) bool { return left(i) < float64(l.Below)-1e-6 }))
			if n := len(at.Patches) + len(at.Replaced); at.Settled && (n != l.Repairs || math.Abs(at.Area-float64(l.Area)) > 1e-6*max(1, at.Area)) {
				t.Errorf("tank %d at %v: %d repairs of %v m², want %d of %v", seed, l.Below, l.Repairs, l.Area, n, at.Area)
			}
			if least, most, mass := at.Steel(tank, 6.35); at.Settled && (l.Plates < least || l.Plates > most || math.Abs(mass-float64(l.Mass)) > 1e-9*max(1, mass)) {
				t.Errorf("tank %d at %v: on %d plates, %v kg, want %d to %d and %v", seed, l.Below, l.Plates, l.Mass, least, most, mass)
			}
		}
	}
	if settled == 0 {
		t.Error("nothing compared")
	}
}

func compareProposal(t *testing.T, seed uint64, plan *invented.Plan, got *repair.Result, want *recount.Proposal) {
	t.Helper()
	w, g := map[string]int{}, map[string]int{}
	for _, p := range want.Patches {
		w[fmt.Sprintf("%.3f × %.3f at %.3f, %.3f", p.Box.X2-p.Box.X1, p.Box.Y2-p.Box.Y1, (p.Box.X1+p.Box.X2)/2+0, (p.Box.Y1+p.Box.Y2)/2+0)]++
	}
	for _, label := range want.Replaced {
		w["replace "+label]++
	}
	for i := range got.Items {
		it := &got.Items[i]
		at := plan.Plates[plan.Order[it.Plate]].Rect
		switch it.Kind {
		case repair.Replace:
			g["replace "+plan.Order[it.Plate]]++
		default:
			g[fmt.Sprintf("%.3f × %.3f at %.3f, %.3f", float64(it.Length), float64(it.Width), at.X1+float64(it.X)+0, at.Y1+float64(it.Y)+0)]++
		}
	}
	if !maps.Equal(w, g) {
		lines := func(m, o map[string]int) string {
			var out []string
			for _, k := range slices.Sorted(maps.Keys(m)) {
				if m[k] != o[k] {
					out = append(out, k)
				}
			}
			return strings.Join(out, "; ")
		}
		t.Errorf("tank %d: proposed %s\n\twant %s", seed, lines(g, w), lines(w, g))
	}
	if math.Abs(want.Area-float64(got.Area)) > 1e-6*max(1, want.Area) {
		t.Errorf("tank %d: area %v, want %v", seed, got.Area, want.Area)
	}
}

// rowsOfPlates are rows of rectangular plates that cover a circle, all sizes in
// mm.
func rowsOfPlates(radius, width, length, lap float64) []invented.Row {
	var out []invented.Row
	rows := int(math.Ceil((2*radius - lap) / (width - lap)))
	bottom := -(float64(rows)*width - float64(rows-1)*lap) / 2
	for i := range rows {
		near := max(0, bottom, -(bottom + width))
		n := max(1, int(math.Ceil((2*math.Sqrt(max(0, radius*radius-near*near))-lap)/(length-lap))))
		for k := range n {
			out = append(out, invented.Row{
				"Plate": fmt.Sprintf("%d-%d", i+1, k+1), "Type": "rectangular", "Row": strconv.Itoa(i + 1), "Position": strconv.Itoa(k + 1),
				"Length": length, "Width": width, "MFL scanned %": 100.0,
			})
		}
		bottom += width - lap
	}
	return out
}
