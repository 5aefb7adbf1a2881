package recount_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// typedBack are a floor's proposals as rows of Planned repairs, each number told
// by tell.
func typedBack(tank *invented.Tank, a *rules.Assessment, tell func(k unit.Kind, v unit.Length) float64) *invented.Tank {
	t := tank.Clone()
	t.Repairs = nil
	for i := range a.Repairs.Items {
		it := &a.Repairs.Items[i]
		q := invented.Row{"Repair": it.Label, "Kind": string(it.Kind), "Plate": a.Inspection.Plates[it.Plate].Label.Text, "Remarks": "as proposed"}
		if it.Kind == repair.Patch {
			q["X"], q["Y"], q["Length"], q["Width"] = tell(unit.Position, it.X), tell(unit.Position, it.Y), tell(unit.Size, it.Length), tell(unit.Size, it.Width)
			q["Shape"] = it.Shape
		}
		if it.Thickness.Known {
			q["Thickness"] = float64(it.Thickness.V) // as the list prints it, rounded, it could pass what it fails
		}
		t.Repairs = append(t.Repairs, q)
	}
	return t
}

// A proposal typed into Planned repairs is the same repair: shape, place, what
// it takes out, its checks, weld, steel and the evaluation.
func TestProposalsTypedBackAreTheSame(t *testing.T) {
	from, to := tanks(t)
	shapes := map[string]int{}
	for seed := from; seed < to; seed++ {
		system := unit.SI
		if seed%3 == 0 {
			system = unit.US
		}
		tank := eaten(seed)
		a := judged(t, tank, system)
		if slices.ContainsFunc(a.Repairs.Items, func(it repair.Item) bool { return it.Unsettled() }) {
			shapes["left to an engineer"]++ // and may have no plate under its middle
			continue
		}
		b := judged(t, typedBack(tank, a, func(_ unit.Kind, v unit.Length) float64 { return float64(v) }), system)
		if wrong := unlike(a, b, 1e-6); wrong != nil {
			t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 12)], "\n\t"))
		}
		for i := range a.Repairs.Items {
			it := &a.Repairs.Items[i]
			if it.Kind == repair.Patch && a.Plan.Plates[it.Plate].Sector {
				shapes[it.Shape+" on a ring"]++
			} else {
				shapes[string(it.Kind)+" "+it.Shape]++
			}
		}
	}
	t.Log(shapes)
	if n := shapes["left to an engineer"]; n*50 > int(to-from) {
		t.Errorf("%d floors hold a repair that is left to an engineer", n)
	}
	for _, s := range []string{"patch tombstone", "tombstone on a ring", "patch rounded rectangle", "rounded rectangle on a ring", "replace plate "} {
		if shapes[s] == 0 {
			t.Errorf("no %s was proposed", s)
		}
	}
}

// Typed as the list prints it, to the last digit of a place and a size, a
// tombstone still stands at the shell and keeps its length and its weld.
func TestTombstonesTypedAsPrinted(t *testing.T) {
	at := 0
	for seed := uint64(1); seed < 31; seed++ {
		system := []unit.System{unit.SI, unit.US}[seed%2]
		tank := eaten(seed)
		a := judged(t, tank, system)
		b := judged(t, typedBack(tank, a, func(k unit.Kind, v unit.Length) float64 {
			n, err := strconv.ParseFloat(k.Text(system, float64(v), 0), 64)
			if err != nil {
				t.Fatal(err)
			}
			return n * k.Factor(system)
		}), system)
		for i := range a.Repairs.Items {
			p := &a.Repairs.Items[i]
			q := b.Repairs.Item(p.Label)
			if p.Shape != repair.Tombstone || q == nil || p.Unsettled() {
				continue
			}
			at++
			if q.ShellWeld <= 0 || math.Abs(float64(q.ShellWeld-p.ShellWeld)) > 2 || math.Abs(float64(q.Weld-p.Weld)) > 4 {
				t.Errorf("tank %d %s: welds %v and %v at the shell, typed %v and %v", seed, p.Label, p.Weld, p.ShellWeld, q.Weld, q.ShellWeld)
			}
			for _, c := range q.Checks {
				if (c.ID == "critical.tombstone" || c.ID == "patch.inside") && !c.OK {
					t.Errorf("tank %d %s fails %s: %s", seed, p.Label, c.ID, c.Text(unit.SI))
				}
			}
		}
	}
	if at == 0 {
		t.Error("no tombstone was typed")
	}
}

// unlike says what of a proposal and the same typed back is not alike; lengths
// to within so much, mm.
func unlike(a, b *rules.Assessment, within float64) (wrong []string) {
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	near := func(x, y float64) bool { return math.Abs(x-y) <= within || math.IsNaN(x) && math.IsNaN(y) }
	same := func(what string, x, y float64) {
		if !near(x, y) {
			say("%s %v, typed back %v", what, x, y)
		}
	}
	if len(a.Repairs.Items) != len(b.Repairs.Items) {
		say("%d repairs, typed back %d", len(a.Repairs.Items), len(b.Repairs.Items))
		return wrong
	}
	for i := range a.Repairs.Items {
		p := &a.Repairs.Items[i]
		q := b.Repairs.Item(p.Label)
		if q == nil || q.Kind != p.Kind || q.Plate != p.Plate || q.Shape != p.Shape || q.Zone != p.Zone {
			say("%+v, typed back %+v", p, q)
			continue
		}
		same(p.Label+" length", float64(p.Length), float64(q.Length))
		same(p.Label+" width", float64(p.Width), float64(q.Width))
		same(p.Label+" weld", float64(p.Weld), float64(q.Weld))
		same(p.Label+" shell weld", float64(p.ShellWeld), float64(q.ShellWeld))
		same(p.Label+" mass", float64(p.Mass.Or(-1)), float64(q.Mass.Or(-1)))
		atA, _ := a.Repairs.Footprint(p)
		atB, _ := b.Repairs.Footprint(q)
		ringA, _ := atA.Outline()
		ringB, _ := atB.Outline()
		if len(ringA) != len(ringB) {
			say("%s outline of %d, typed back %d", p.Label, len(ringA), len(ringB))
			continue
		}
		for k := range ringA {
			if d := math.Hypot(ringA[k].X-ringB[k].X, ringA[k].Y-ringB[k].Y); d > within*2 {
				say("%s outline is %v off", p.Label, d)
				break
			}
		}
		if p.Kind == repair.Patch && !slices.Equal(p.IDs, q.IDs) {
			say("%s takes out %v, typed back %v", p.Label, p.IDs, q.IDs)
		}
		if len(p.Checks) != len(q.Checks) {
			say("%s checks %v, typed back %v", p.Label, idsOf(p), idsOf(q))
			continue
		}
		for k := range p.Checks {
			c, d := p.Checks[k], q.Checks[k]
			if c.ID != d.ID || c.OK != d.OK || c.Known != d.Known || !near(float64(c.Value.Or(-1)), float64(d.Value.Or(-1))) || !near(float64(c.Limit.Or(-1)), float64(d.Limit.Or(-1))) {
				say("%s %s known %v %s, typed back %s %v %s", p.Label, c.ID, c.Known, c.Text(unit.SI), d.ID, d.Known, d.Text(unit.SI))
			}
		}
	}
	same("area", float64(a.Repairs.Area)*1e4, float64(b.Repairs.Area)*1e4)
	same("weld", float64(a.Repairs.Weld), float64(b.Repairs.Weld))
	same("mass", float64(a.Repairs.Mass.Or(-1)), float64(b.Repairs.Mass.Or(-1)))
	if a.Repairs.Pieces != b.Repairs.Pieces || a.Repairs.Sheets != b.Repairs.Sheets {
		say("%d pieces of %d sheets, typed back %d of %d", a.Repairs.Pieces, a.Repairs.Sheets, b.Repairs.Pieces, b.Repairs.Sheets)
	}
	for i := range a.Result.Locations {
		l, m := &a.Result.Locations[i], &b.Result.Locations[i]
		if (l.Repair == "") != (m.Repair == "") {
			say("%s is taken out by %q, typed back %q", l.Label, l.Repair, m.Repair)
		}
	}
	s, u := a.Result.AsPlanned, b.Result.AsPlanned
	same("interval", float64(s.IntervalUncapped.Or(-1)), float64(u.IntervalUncapped.Or(-1)))
	same("interval adopted", float64(s.Interval.Or(-1)), float64(u.Interval.Or(-1)))
	same("soil side", float64(s.SoilMin.V), float64(u.SoilMin.V))
	for _, f := range b.Findings {
		if (strings.HasPrefix(f.Rule, "R50") && f.Rule != "R505") || (strings.HasPrefix(f.Rule, "R20") && strings.HasPrefix(f.Place(), "Planned repairs")) {
			say("typed back gives %s %s: %s", f.Rule, f.Place(), f.Message)
		}
	}
	return wrong
}

func idsOf(it *repair.Item) (out []string) {
	for _, c := range it.Checks {
		out = append(out, c.ID)
	}
	return out
}
