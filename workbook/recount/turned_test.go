package recount_test

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// mirrored is the tank as seen in a mirror that stands along the plan's y axis:
// bearings run the other way, and datum corners change sides.
func mirrored(t *invented.Tank) *invented.Tank {
	m := t.Clone()
	back := func(bearing float64) float64 { return math.Mod(720-bearing, 360) }
	m.Items["Plan up bearing"] = back(m.Items.Number("Plan up bearing"))
	last := map[string]int{}
	for _, p := range m.Plates {
		if n, err := strconv.Atoi(p.Word("Position")); err == nil {
			last[p.Word("Row")] = max(last[p.Word("Row")], n)
		}
	}
	side := map[string]string{"": "bottom right", "bottom left": "bottom right", "bottom right": "bottom left", "top left": "top right", "top right": "top left"}
	end := map[string]string{"": "top left", "bottom left": "top left", "top left": "bottom left", "bottom right": "top right", "top right": "bottom right"}
	for _, p := range m.Plates {
		if p.Word("Type") == "annular" {
			p["Start bearing"], p["End bearing"] = back(p.Number("End bearing")), 360-p.Number("Start bearing")
			continue
		}
		if n, err := strconv.Atoi(p.Word("Position")); err == nil {
			p["Position"] = strconv.Itoa(last[p.Word("Row")] + 1 - n)
		}
		turned := p.Number("Turned")
		swap := side
		if turned == 90 || turned == 270 {
			swap = end
		}
		p["Datum corner"] = swap[p.Word("Datum corner")]
		if p.Has("Left") {
			across := map[float64]float64{0: p.Number("Length"), 90: -p.Number("Width"), 180: -p.Number("Length"), 270: p.Number("Width")}
			p["Left"] = -(p.Number("Left") + across[turned])
		}
	}
	for _, rows := range [][]invented.Row{m.Indications, m.ProveUps, m.Readings, m.Patches, m.Repairs} {
		for _, r := range rows {
			if p := m.Plate(r.Word("Plate")); r.Has("X") && p.Word("Type") == "annular" {
				// bearings place a segment, its length as measured is rounded
				r["X"] = math.Pi*t.Items.Number("Diameter")*(p.Number("End bearing")-p.Number("Start bearing"))/360 - r.Number("X")
			}
		}
	}
	for _, rows := range [][]invented.Row{m.Fixtures, m.Settlement} {
		for _, r := range rows {
			r["Bearing"] = back(r.Number("Bearing"))
		}
	}
	return m
}

// rotated is the tank with another north: all bearings grow by as much.
func rotated(t *invented.Tank, by float64) *invented.Tank {
	m := t.Clone()
	on := func(bearing float64) float64 { return math.Mod(bearing+by, 360) }
	m.Items["Plan up bearing"] = on(m.Items.Number("Plan up bearing"))
	for _, p := range m.Plates {
		if p.Word("Type") == "annular" {
			p["Start bearing"], p["End bearing"] = on(p.Number("Start bearing")), on(p.Number("Start bearing"))+p.Number("End bearing")-p.Number("Start bearing")
		}
	}
	for _, rows := range [][]invented.Row{m.Fixtures, m.Settlement} {
		for _, r := range rows {
			r["Bearing"] = on(r.Number("Bearing"))
		}
	}
	return m
}

// tilted is the tank with its whole floor turned in the plan, anticlockwise, so
// that no plate lies along the plan's axes any more: each has its own place and
// turn. An opening of a sump lies along the axes always.
func tilted(t *invented.Tank, by float64) *invented.Tank {
	m := t.Clone()
	plan := invented.Lay(t)
	sin, cos := math.Sincos(by * math.Pi / 180)
	for _, p := range m.Plates {
		l := plan.Plates[p.Word("Plate")]
		if l.Annular {
			end := p.Number("End bearing") - p.Number("Start bearing")
			p["Start bearing"] = math.Mod(720+p.Number("Start bearing")-by, 360)
			p["End bearing"] = math.Mod(p.Number("Start bearing")+end, 360)
			continue
		}
		delete(p, "Row")
		delete(p, "Position")
		p["Left"], p["Bottom"] = l.Left*cos-l.Bottom*sin, l.Left*sin+l.Bottom*cos
		p["Turned"] = math.Mod(720+l.Turn+by, 360)
	}
	for _, r := range m.Settlement {
		r["Bearing"] = math.Mod(720+r.Number("Bearing")-by, 360)
	}
	return m
}

// alike holds two results of one tank against each other, where its position
// does not enter: names of places stay, so do all thicknesses, rates, years,
// areas and the repairs at each threshold. The layout on stock sheets follows
// the order of the pieces, and may differ.
func alike(got, want map[string]any) []string {
	var wrong []string
	seen := 0
	for _, path := range slices.Sorted(maps.Keys(want)) {
		switch head, _, _ := strings.Cut(path, "."); {
		case path == "critical_zone.min_at": // a reading is named by its X
			continue
		case strings.HasPrefix(head, "thickness"), strings.HasPrefix(head, "critical_zone"), strings.HasPrefix(head, "annular"), strings.HasPrefix(head, "sizing"),
			strings.HasPrefix(head, "floor"), strings.HasPrefix(head, "statistics"), strings.HasPrefix(head, "sensitivity"), strings.HasPrefix(head, "plates"):
		case strings.HasPrefix(head, "thresholds") && !strings.HasSuffix(path, "stock_sheets"):
		case strings.HasPrefix(path, "settlement") && !strings.Contains(path, "steps"):
		case strings.HasPrefix(head, "indications") && (strings.HasSuffix(path, "_mm") || strings.HasSuffix(path, ".zone") || strings.HasSuffix(path, ".verdict") || strings.HasSuffix(path, ".basis")) &&
			!strings.HasSuffix(path, ".x_mm") && !strings.Contains(path, "plan_"):
		case path == "repairs.pieces", path == "repairs.area_m2", path == "repairs.mass_kg", path == "repairs.weld_m", path == "repairs.threshold_needed_mm":
		default:
			continue
		}
		seen++
		if d := differ(got[path], want[path], 1e-6); d != "" {
			wrong = append(wrong, path+": "+d)
		}
	}
	if seen < 50 {
		wrong = append(wrong, "only "+strconv.Itoa(seen)+" values compared")
	}
	return wrong
}

// Derived: a floor in a mirror has the results of the floor, in a mirror.
func TestMirroredTankHasMirroredResults(t *testing.T) {
	from, to := tanks(t)
	for seed := from; seed < from+max(1, (to-from)/5); seed++ {
		tank := invented.New(seed)
		want, got := flat(t, judged(t, tank, unit.SI)), flat(t, judged(t, mirrored(tank), unit.SI))
		wrong := alike(got, want)
		for path, v := range want {
			x, ok := v.(float64)
			if !ok || !strings.HasPrefix(path, "indications") {
				continue
			}
			switch {
			case strings.HasSuffix(path, ".plan_x_mm"):
				if d := differ(got[path], -x, 1e-6); d != "" {
					wrong = append(wrong, path+": "+d)
				}
			case strings.HasSuffix(path, ".bearing_deg"):
				if g, _ := got[path].(float64); math.Abs(math.Remainder(g+x, 360)) > 1e-6 {
					wrong = append(wrong, path+": "+differ(g, 360-x, 1e-6))
				}
			}
		}
		if wrong != nil {
			t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 8)], "\n\t"))
		}
	}
}

// Derived: where north is, is no matter of the floor's.
func TestRotatedTankHasTheSameResults(t *testing.T) {
	from, to := tanks(t)
	for seed := from; seed < from+max(1, (to-from)/5); seed++ {
		tank := invented.New(seed)
		by := float64(30 * (1 + seed%11))
		want, got := flat(t, judged(t, tank, unit.SI)), flat(t, judged(t, rotated(tank, by), unit.SI))
		wrong := alike(got, want)
		for path, v := range want {
			if x, ok := v.(float64); ok && strings.HasPrefix(path, "indications") && strings.HasSuffix(path, ".bearing_deg") {
				g, _ := got[path].(float64)
				if ring := tank.Plate(strings.TrimSuffix(strings.TrimPrefix(path, "indications["), "].bearing_deg")); ring == nil && math.Abs(math.Remainder(g-x-by, 360)) > 1e-6 {
					wrong = append(wrong, path+": "+differ(g, x+by, 1e-6))
				}
			}
		}
		if wrong != nil {
			t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 8)], "\n\t"))
		}
	}
}

// Derived: which way the plates run is no matter of the floor's, proposals and
// planned repairs among it.
func TestTiltedTankHasTheSameResults(t *testing.T) {
	from, to := tanks(t)
	held := 0
	for seed := from; seed < from+max(1, (to-from)/5); seed++ {
		tank := invented.New(seed)
		if seed%2 == 0 {
			tank = mended(seed)
		}
		if len(tank.Fixtures) > 0 {
			continue
		}
		held++
		by := []float64{7, 30, 45, 61.5, 90, 133, 345}[seed%7]
		want, got := flat(t, judged(t, tank, unit.SI)), flat(t, judged(t, tilted(tank, by), unit.SI))
		wrong := alike(got, want)
		for path, v := range want {
			if !strings.HasPrefix(path, "repairs.list") || !strings.Contains(path, "checks") || strings.HasSuffix(path, ".note") {
				continue
			}
			if strings.Contains(path, "weld_clearance") && !strings.HasSuffix(path, ".ok") {
				continue // a weld just as far off as one is looked for is told or not
			}
			if d := differ(got[path], v, 1e-4); d != "" {
				wrong = append(wrong, path+": "+d)
			}
		}
		if wrong != nil {
			t.Errorf("tank %d by %v: %d differ\n\t%s", seed, by, len(wrong), strings.Join(wrong[:min(len(wrong), 8)], "\n\t"))
		}
	}
	if t.Logf("%d floors tilted", held); held == 0 {
		t.Error("no floor was tilted")
	}
}

// Derived: a US workbook of the tank, its criteria carried over, has the results
// of the SI one.
func TestTwinInInchesHasTheSameResults(t *testing.T) {
	from, to := tanks(t)
	for seed := from; seed < from+max(1, (to-from)/5); seed++ {
		tank := invented.New(seed)
		want, got := flat(t, judged(t, tank, unit.SI)), flat(t, judged(t, tank, unit.US))
		if wrong := alike(got, want); wrong != nil {
			t.Errorf("tank %d: %d differ\n\t%s", seed, len(wrong), strings.Join(wrong[:min(len(wrong), 8)], "\n\t"))
		}
	}
}
