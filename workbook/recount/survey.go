package recount

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/workbook/invented"
)

// fewRepairs is how many repairs on a plate surely leave it in place.
const fewRepairs = 3

// tellThresholds is the table of section 7: what is left when every location
// thinner than a level is patched. A level at which section 10 may take to
// other repairs, a new plate, a thinner patch at the shell or, where a place is
// unknown, none, is passed over.
func (c *count) tellThresholds(w Wants) {
	step, required := c.number("Threshold step"), c.pageOne().required
	base := c.base()
	for n := math.Ceil(required/step - 1e-9); n*step <= c.t.Items.Number("Nominal thickness")+1e-9; n++ {
		var left []*place
		repairs, plain := 0, true
		on := map[*plate]int{}
		for _, l := range c.all() {
			thin := (l.kind == 'a' || l.kind == 'b') && (l.r < n*step-1e-6 || (l.over != nil && l.over.r < n*step-1e-6))
			if thin {
				repairs++
				on[l.plate]++
				plain = plain && on[l.plate] <= fewRepairs && !l.plate.sump && !c.nearShell(l)
				// a patch of the plate's nominal in its place
				p := &place{kind: 'n', plate: l.plate, side: "both", r: l.plate.nominal, counts: true, noRate: true}
				if l.zone == "critical" {
					p.critical = ptr(c.criticalOf(l.plate.nominal))
				}
				if l.plate.annular {
					p.annular = c.ringNeeds
				}
				left = append(left, p)
				continue
			}
			left = append(left, l)
		}
		at := "thresholds[" + strconv.FormatFloat(n*step, 'f', 3, 64) + "]."
		if !plain {
			continue
		}
		w[at+"interval_years"] = c.state(left, nil, &base).interval
		if repairs == 0 {
			w[at+"repairs"] = 0.0
		}
	}
}

// nearShell says whether a patch on a location could come near the shell.
func (c *count) nearShell(l *place) bool {
	const near = 500
	b := l.box
	reach := c.plan.Reach(l.plate.label, (b.X1+b.X2)/2, (b.Y1+b.Y2)/2, b.X2-b.X1, b.Y2-b.Y1)
	return l.plate.annular || reach > c.plan.Radius-near
}

// solve3 solves three equations by elimination.
func solve3(m [3][4]float64) [3]float64 {
	for i := range 3 {
		for j := i + 1; j < 3; j++ {
			if math.Abs(m[j][i]) > math.Abs(m[i][i]) {
				m[i], m[j] = m[j], m[i]
			}
		}
		for j := range 3 {
			if j == i {
				continue
			}
			f := m[j][i] / m[i][i]
			for k := range 4 {
				m[j][k] -= f * m[i][k]
			}
		}
	}
	return [3]float64{m[0][3] / m[0][0], m[1][3] / m[1][1], m[2][3] / m[2][2]}
}

func (c *count) tellSettlement(w Wants) {
	if len(c.t.Settlement) == 0 {
		w["settlement"] = nil
		return
	}
	var shell []invented.Row
	for _, r := range c.t.Settlement {
		if r.Word("Kind") == "shell" {
			shell = append(shell, r)
		}
	}
	slices.SortStableFunc(shell, func(a, b invented.Row) int { return cmp.Compare(a.Number("Bearing"), b.Number("Bearing")) })
	n := len(shell)
	var m [3][4]float64
	for _, r := range shell {
		b := r.Number("Bearing") * math.Pi / 180
		basis := [4]float64{1, math.Cos(b), math.Sin(b), r.Number("Elevation")}
		for i := range 3 {
			for j := range 4 {
				m[i][j] += basis[i] * basis[j]
			}
		}
	}
	a := solve3(m)
	var us, zs []float64
	least := 360.0
	for i, r := range shell {
		b := r.Number("Bearing") * math.Pi / 180
		zs = append(zs, r.Number("Elevation"))
		us = append(us, r.Number("Elevation")-a[0]-a[1]*math.Cos(b)-a[2]*math.Sin(b))
		gap := math.Mod(shell[(i+1)%n].Number("Bearing")-r.Number("Bearing")+360, 360)
		least = min(least, gap)
	}
	var sse, sst, out float64
	for i := range us {
		sse += us[i] * us[i]
		sst += (zs[i] - mean(zs)) * (zs[i] - mean(zs))
		out = max(out, math.Abs(us[i]-(us[(i+n-1)%n]+us[(i+1)%n])/2))
	}
	d := c.t.Items.Number("Diameter")
	arc := least / 360 * math.Pi * d / 1000
	height := c.t.Items.Number("Shell height") / 1000
	yield := steels[c.t.Items.Word("Shell steel")][1]
	allowed := 1000 * 11 * arc * arc * yield / (2 * 29e6 * height)
	feet := d / 304.8
	needed := math.Ceil(max(8, feet/10, math.Pi*feet/32) - 1e-9)
	if math.Mod(needed, 2) == 1 {
		needed++
	}
	w["settlement.points"], w["settlement.points_needed"] = float64(n), needed
	w["settlement.tilt_mm"], w["settlement.r2"] = 2*math.Hypot(a[1], a[2]), 1-sse/sst
	w["settlement.deflection_mm"], w["settlement.allowable_mm"] = out, allowed
	w["settlement.ok"] = out <= allowed+1e-6
	for _, r := range c.t.Settlement {
		measured, radius := r.Number("Measured"), r.Number("Radius")
		at := "settlement.bulge[" + r.Word("Point") + "]."
		switch r.Word("Kind") {
		case "edge":
			at = "settlement.edge[" + r.Word("Point") + "]."
			w[at+"limit_mm"], w[at+"ok"] = nil, nil
			if !c.t.Criteria.Has("Edge limit Be") || !c.t.Criteria.Has("Edge limit radius") || radius < 1000*c.number("Edge limit radius")-1e-6 {
				break
			}
			be, bew := c.number("Edge limit Be"), c.number("Edge limit Bew")
			limit := be - (be-bew)*math.Sin(r.Number("Weld angle")*math.Pi/180)
			w[at+"limit_mm"], w[at+"ok"] = limit, measured <= limit+1e-6
		case "bulge", "depression":
			limit := c.number("Bulge factor") * radius / 1000
			w[at+"limit_mm"], w[at+"ok"] = limit, measured <= limit+1e-6
		default:
			continue
		}
		w[at+"measured_mm"] = measured
	}
}

func (c *count) tellStatistics(w Wants) {
	edges := []float64{0}
	for _, t := range strings.Split(c.word("Loss bands"), "; ") {
		v, _ := strconv.ParseFloat(t, 64)
		edges = append(edges, v)
	}
	counts := make([]float64, len(edges))
	by := map[string]float64{}
	var losses []float64
	for _, l := range c.places {
		if l.kind != 'a' || l.irrel {
			continue
		}
		losses = append(losses, l.loss)
		k := 0
		for i, e := range edges {
			if l.loss >= e-1e-9 {
				k = i
			}
		}
		counts[k]++
		by["by_side["+l.side+"]"]++
		by["by_zone["+l.zone+"]"]++
		by["by_method["+l.row.Word("Method")+"]"]++
		by["by_plate["+l.plate.label+"]"]++
	}
	for k, e := range edges {
		w["statistics.bands["+strconv.FormatFloat(e, 'f', -1, 64)+"].count"] = counts[k]
	}
	for name, n := range by {
		w["statistics."+name+".count"] = n
	}
	w["statistics.mean_pct"], w["statistics.sd_pct"] = nil, nil
	for _, q := range []string{"10", "25", "50", "75", "90", "95"} {
		p, _ := strconv.ParseFloat(q, 64)
		w["statistics.quantiles_pct."+q] = nil
		if len(losses) > 0 {
			w["statistics.quantiles_pct."+q] = quantile(losses, p/100)
		}
	}
	if len(losses) > 0 {
		w["statistics.mean_pct"] = mean(losses)
	}
	if len(losses) > 1 {
		w["statistics.sd_pct"] = deviation(losses)
	}
}
