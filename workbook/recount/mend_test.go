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

	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/invented"
	"platebook/workbook/recount"
)

// mended is a floor with repairs as a person plans them: most about a pit and
// rounded up, some too small, shifted, over seams, near others, at the shell,
// in any shape, planned and completed.
func mended(seed uint64) *invented.Tank {
	t := eaten(seed)
	d := rand.New(rand.NewPCG(seed, 77))
	t.Items["Plan up bearing"] = 0.0
	for _, p := range t.Plates {
		if p.Word("Type") != "annular" && d.IntN(3) == 0 {
			p["Datum corner"] = one(d, "bottom right", "top left", "top right")
		}
	}
	t.Indications, t.Patches = nil, nil
	if d.IntN(2) == 0 {
		t.Items["Desired interval"] = one(d, 1.0, 5, 8)
	}
	if t.Items.Word("Annular ring") == "yes" {
		t.Items["Projection outside the shell"] = 60.0
	}
	plan := invented.Lay(t)
	radius := plan.Radius
	free := func(p invented.Row, x, y, within float64) bool {
		px, py, ok := plan.At(p.Word("Plate"), x, y)
		r := math.Hypot(px, py)
		return ok && x > 0 && y > 0 && x < p.Number("Length") && y < p.Number("Width") && r < within && (p.Word("Type") == "annular" || r < plan.Rim-5)
	}
	for k := range d.IntN(4) {
		p := one(d, t.Plates...)
		x, y := float64(d.IntN(int(p.Number("Length")))), float64(d.IntN(int(p.Number("Width"))))
		if p.Word("Type") != "annular" && free(p, x, y, radius-400) {
			q := invented.Row{"Patch": "E" + strconv.Itoa(k), "Plate": p.Word("Plate"), "X": x, "Y": y, "Length": one(d, 200.0, 300), "Width": one(d, 200.0, 250), "Installed": unit.NewDate(2010, 1, 1)}
			if d.IntN(3) == 0 {
				q["Shape"], q["Width"] = "circle", q.Number("Length")
			}
			t.Patches = append(t.Patches, q)
		}
	}
	for k := range d.IntN(3) { // found at the shell
		if p, x, y := atTheShell(d, t, plan); p != nil {
			q := tombstone(d, t, p, x, y)
			q["Patch"] = "T" + strconv.Itoa(k)
			t.Patches = append(t.Patches, q)
		}
	}
	for range 12 {
		p := one(d, t.Plates...)
		x, y := float64(d.IntN(int(p.Number("Length")))), float64(d.IntN(int(p.Number("Width"))))
		switch d.IntN(6) {
		case 0: // about a seam
			x = one(d, 25, p.Number("Length")-25) + float64(d.IntN(500)-250)
		case 1:
			y = one(d, 25, p.Number("Width")-25) + float64(d.IntN(500)-250)
		case 2:
			if len(t.Indications) > 0 {
				q := one(d, t.Indications...)
				p, x, y = t.Plate(q.Word("Plate")), q.Number("X")+float64(d.IntN(500)-250), q.Number("Y")+float64(d.IntN(500)-250)
			}
		case 3:
			if p.Word("Type") == "annular" {
				y = float64(10 * d.IntN(25))
			}
		case 4:
			if q, u, v := atTheShell(d, t, plan); q != nil {
				p, x, y = q, u, v
			}
		}
		if !free(p, x, y, radius-5) {
			continue
		}
		i := invented.Row{
			"ID": strconv.Itoa(len(t.Indications) + 1), "Plate": p.Word("Plate"), "X": x, "Y": y, "Side": one(d, "soil", "soil", "product"), "Method": "UT", "Kind": "pit",
			"Remaining": math.Round(230+390*d.Float64()) / 100, "Length": one(d, 20.0, 40, 60, 120), "Width": one(d, 20.0, 45, 80),
		}
		t.Indications = append(t.Indications, i)
		if d.IntN(4) > 0 {
			t.Repairs = append(t.Repairs, repairOf(d, t, i))
			if q := t.Repairs[len(t.Repairs)-1]; d.IntN(4) == 0 && q.Has("X") { // a reading at its edge
				x, y := q.Number("X")+q.Number("Length")/2+float64(d.IntN(41)-20), q.Number("Y")
				if free(p, x, y, radius-5) {
					t.Readings = append(t.Readings, invented.Row{"Plate": p.Word("Plate"), "X": x, "Y": y, "Thickness": one(d, 6.0, 5.5, 3.9, 2.54, 2.53)})
				}
			}
		}
	}
	return t
}

// atTheShell is a place on a plate of the floor a little inward of the shell, nil
// without one.
func atTheShell(d *rand.Rand, t *invented.Tank, plan *invented.Plan) (p invented.Row, x, y float64) {
	for range 400 {
		p = one(d, t.Plates...)
		x, y = float64(d.IntN(int(p.Number("Length")))), float64(d.IntN(int(p.Number("Width"))))
		px, py, _ := plan.At(p.Word("Plate"), x, y)
		if r := math.Hypot(px, py); p.Word("Type") != "annular" && plan.Rim == plan.Radius && r < plan.Radius-5 && r > plan.Radius-180 {
			return p, x, y
		}
	}
	return nil, 0, 0
}

// tombstone is one about a place beside the shell, most carried to it, some as far
// off as X and Y can tell, and some farther. The place is on its plate still.
func tombstone(d *rand.Rand, t *invented.Tank, p invented.Row, x, y float64) invented.Row {
	plan := invented.Lay(t)
	px, py, _ := plan.At(p.Word("Plate"), x, y)
	r := math.Hypot(px, py)
	width := math.Ceil((plan.Radius-r+float64(50+d.IntN(100)))/10) * 10
	mid := plan.Radius - width/2 - one(d, 0.0, 0, 0, 12, -12, 24, 60, 140)
	q := invented.Row{"Plate": p.Word("Plate"), "X": x, "Y": y, "Length": one(d, 150.0, 200, 300, 600), "Width": width, "Shape": "tombstone"}
	if u, v, ok := plan.From(p.Word("Plate"), px*mid/r, py*mid/r); ok && u > 0 && v > 0 && u < p.Number("Length") && v < p.Number("Width") {
		q["X"], q["Y"] = u, v
	}
	return q
}

// beside says whether a place on the floor stands beside the shell.
func beside(t *invented.Tank, i invented.Row) bool {
	plan := invented.Lay(t)
	px, py, _ := plan.At(i.Word("Plate"), i.Number("X"), i.Number("Y"))
	return math.Hypot(px, py) > plan.Radius-180
}

func repairOf(d *rand.Rand, t *invented.Tank, i invented.Row) invented.Row {
	n := len(t.Repairs) + 1
	q := invented.Row{"Repair": "R" + strconv.Itoa(n), "Kind": "patch", "Plate": i.Word("Plate"), "Remarks": "as agreed"}
	up := func(v float64) float64 { return math.Ceil(v/10) * 10 }
	l, w := max(150, up(i.Number("Length")+100)), max(150, up(i.Number("Width")+100))
	x, y := i.Number("X"), i.Number("Y")
	switch d.IntN(6) {
	case 0:
		l, w = 300, 300
	case 1:
		l, w = one(d, 100.0, 140, 150, 310, 700), one(d, 99.0, 150, 299, 300)
	case 2:
		x, y = x+float64(d.IntN(61)-30), y+float64(d.IntN(61)-30)
	case 3:
		x, y = x+float64(d.IntN(3)-1), y+float64(d.IntN(3)-1)
	}
	q["X"], q["Y"], q["Length"], q["Width"] = x, y, l, w
	switch annular := t.Plate(i.Word("Plate")).Word("Type") == "annular"; {
	case annular && y-w/2 < 200 && d.IntN(4) > 0: // carried to the shell
		q["Shape"], q["Width"] = "tombstone", y+w/2
		q["Y"] = q.Number("Width") / 2
		q["Thickness"] = one(d, 6.35, 6, 8)
	case !annular && beside(t, i) && d.IntN(4) > 0:
		for name, v := range tombstone(d, t, t.Plate(i.Word("Plate")), x, y) {
			q[name] = v
		}
		q["Thickness"] = one(d, 6.35, 6, 8)
	case !annular && d.IntN(4) == 0:
		q["Shape"] = "circle"
		q["Length"], q["Width"] = max(l, w), max(l, w)
	case i.Word("Side") == "product" && d.IntN(3) == 0:
		q["Kind"] = "weld build-up"
	case d.IntN(12) == 0 && !annular:
		q = invented.Row{"Repair": q["Repair"], "Kind": "replace plate", "Plate": q["Plate"], "Remarks": "as agreed"}
	}
	if px, py, ok := invented.Lay(t).At(q.Word("Plate"), q.Number("X"), q.Number("Y")); !ok || math.Hypot(px, py) > t.Items.Number("Diameter")/2 || q.Number("Y") < 0 {
		q["X"], q["Y"] = i.Number("X"), i.Number("Y")
	}
	if q.Word("Kind") == "patch" && d.IntN(3) == 0 {
		q["Thickness"] = one(d, 6.35, 8, 5)
	}
	if d.IntN(5) == 0 && q.Word("Kind") != "replace plate" {
		q["Indications"] = i.Word("ID")
	}
	if d.IntN(4) == 0 {
		q["Status"] = "completed"
		if d.IntN(5) > 0 {
			q["Completed"] = t.Items.Day("Inspection end")
		}
		if d.IntN(3) > 0 {
			q["Retest"] = "vacuum box, accepted"
		}
	}
	if d.IntN(8) == 0 {
		t.Visual = append(t.Visual, invented.Row{"ID": "V" + strconv.Itoa(len(t.Visual)+1), "Plate": i.Word("Plate"), "X": i.Number("X"), "Y": i.Number("Y"), "Item": "dent", "Observation": "dent", "Weight": "note"})
	}
	return q
}

// Every rule for every planned repair, against the second count.
func TestPlannedRepairsAgreeWithTheSecondCount(t *testing.T) {
	from, to := tanks(t)
	tally := map[string]int{}
	seeds := []uint64{137} // a patch too long beside a critical zone is rare
	for seed := from; seed < to; seed++ {
		seeds = append(seeds, seed)
	}
	for _, seed := range seeds {
		system := unit.SI
		if seed%3 == 0 {
			system = unit.US
		}
		tank := mended(seed)
		if tank.Repairs == nil {
			continue // a proposal
		}
		if wrong := judgeMended(t, tank, judged(t, tank, system), tally); wrong != nil {
			t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 12)], "\n\t"))
		}
	}
	for k := range tally {
		if id, ok := strings.CutSuffix(k, " true"); ok && to-from >= 80 && tally[id+" false"] == 0 {
			t.Errorf("%s is kept everywhere: the tanks prove half of it", id)
		}
	}
	decided, open := 0, 0
	for _, k := range slices.Sorted(maps.Keys(tally)) {
		t.Logf("%s %d", k, tally[k])
		if strings.HasPrefix(k, "undecided") {
			open += tally[k]
		} else if !strings.HasPrefix(k, "not counted") {
			decided += tally[k]
		}
	}
	if t.Logf("%d verdicts, %d undecided", decided, open); decided > 1000 && open*20 > decided {
		t.Errorf("%d of %d verdicts could not be decided", open, decided+open)
	}
}

// The states that the planned and the completed rows lead to, counted twice.
func TestStatesAfterRepairAgreeWithTheSecondCount(t *testing.T) {
	from, to := tanks(t)
	for seed := from; seed < from+max(1, (to-from)/4); seed++ {
		tank := mended(seed)
		got, want := flat(t, judged(t, tank, unit.SI)), recount.Of(tank)
		for _, path := range slices.Sorted(maps.Keys(want)) {
			if !strings.HasPrefix(path, "thickness.") {
				continue
			}
			if d := differ(got[path], want[path], 1e-6); d != "" {
				t.Errorf("tank %d %s: %s", seed, path, d)
			}
		}
	}
}

func judgeMended(t *testing.T, tank *invented.Tank, a *rules.Assessment, tally map[string]int) (wrong []string) {
	t.Helper()
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	got := map[string]*repair.Item{}
	for i := range a.Repairs.Items {
		got[a.Repairs.Items[i].Label] = &a.Repairs.Items[i]
	}
	failing := map[string]bool{}
	for _, w := range recount.Mending(tank) {
		it := got[w.Label]
		if it == nil {
			say("%s: not in the list", w.Label)
			continue
		}
		checks := map[string]repair.Check{}
		for _, c := range it.Checks {
			if _, twice := checks[c.ID]; twice {
				say("%s: %s twice", w.Label, c.ID)
			}
			checks[c.ID] = c
			if c.Known && !c.OK {
				failing[w.Label+":"+c.ID] = true
			}
		}
		for _, id := range slices.Sorted(maps.Keys(w.Checks)) {
			v := w.Checks[id]
			c, there := checks[id]
			delete(checks, id)
			if v.None {
				if there && c.Known {
					say("%s %s: %s, though it does not apply", w.Label, id, c.Text(unit.SI))
				}
				continue
			}
			if !v.Known {
				tally["undecided "+id]++
				continue
			}
			tally[fmt.Sprintf("%s %v", id, v.OK)]++
			if !there {
				if !v.OK {
					say("%s %s: absent, want false %.3f..%.3f limit %.3f", w.Label, id, v.Lo, v.Hi, v.Limit)
				}
				continue
			}
			if c.OK != v.OK || !c.Known {
				say("%s %s: got %v known %v (%s), want %v %.4f..%.4f limit %.3f", w.Label, id, c.OK, c.Known, c.Text(unit.SI), v.OK, v.Lo, v.Hi, v.Limit)
			}
			if c.Value.Known && !math.IsNaN(v.Lo) && !math.IsInf(v.Lo, 0) && (float64(c.Value.V) < v.Lo-1e-6 || float64(c.Value.V) > v.Hi+1e-6) {
				say("%s %s: value %.4f (%s), want %.4f..%.4f", w.Label, id, float64(c.Value.V), c.Text(unit.SI), v.Lo, v.Hi)
			}
		}
		var ids []string
		for _, n := range it.Locations {
			ids = append(ids, a.Result.Locations[n].Label)
		}
		slices.Sort(ids)
		if it.Kind != repair.Replace && !slices.Equal(ids, w.Covers) {
			say("%s takes out %v, want %v", w.Label, ids, w.Covers)
		}
		for id, c := range checks {
			tally["not counted "+id]++
			if c.Known && !c.OK {
				say("%s %s: fails, %s; not counted", w.Label, id, c.Text(unit.SI))
			}
		}
		if it.Kind == repair.Patch {
			if math.Abs(float64(it.Weld)-w.Weld) > 1e-6 || math.Abs(float64(it.ShellWeld)-w.ShellWeld) > 1e-6 {
				say("%s: weld %v and %v at the shell, want %v and %v", w.Label, it.Weld, it.ShellWeld, w.Weld, w.ShellWeld)
			}
			if math.Abs(float64(it.Mass.V)-w.Mass) > 1e-9 {
				say("%s: mass %v, want %v", w.Label, it.Mass, w.Mass)
			}
		}
	}
	sums, r := recount.Sums(tank), a.Repairs
	if math.Abs(float64(r.Weld)/1000-sums.Weld) > 1e-9 || math.Abs(float64(r.Mass.V)-sums.Mass) > 1e-9 || r.Vacuum != r.Weld {
		say("weld %v m, vacuum box %v, mass %v, want %v and %v", r.Weld/1000, r.Vacuum/1000, r.Mass, sums.Weld, sums.Mass)
	}
	if r.Pieces != sums.Pieces {
		say("%d pieces, want %d", r.Pieces, sums.Pieces)
	}
	if sums.Exact && math.Abs(float64(r.Area)-sums.Area) > 3e-4*max(0.1, sums.Area) {
		say("area %v, want %v", r.Area, sums.Area)
	}
	if sums.Exact {
		tally["area"]++
	}
	said := map[string]bool{}
	for _, f := range a.Findings {
		keys := f.Members
		if len(keys) == 0 {
			keys = []string{f.Key}
		}
		for _, k := range keys {
			if f.Rule == "R505" {
				said[strings.Join(strings.Split(k, ":")[2:], ":")] = true
			}
		}
		if f.Severity >= finding.Error && f.Rule != "C302" {
			say("error %s %s: %s", f.Rule, f.Place(), f.Message)
		}
	}
	if !maps.Equal(said, failing) {
		say("findings %v, failing %v", slices.Sorted(maps.Keys(said)), slices.Sorted(maps.Keys(failing)))
	}
	return wrong
}
