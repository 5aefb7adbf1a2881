package recount_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// planned is a ringed floor without corrosion and with the given rows.
func planned(indications, repairs []invented.Row) *invented.Tank {
	t := eaten(0)
	for seed := uint64(1); t.Items.Word("Annular ring") != "yes" || t.Items.Number("Diameter") != 24000 || t.Items.Number("Lap") != 50 || t.Items.Number("Nominal thickness") != 6.35; seed++ {
		t = eaten(seed)
	}
	t.Items["Plan up bearing"] = 0.0
	for name, v := range map[string]float64{
		"Patch overlap": 50, "Patch minimum": 150, "Patch minimum over weld": 300, "Patch weld clearance": 50, "Patch corner radius": 50,
		"Tombstone distance": 150, "Critical patch length": 609.6, "Critical patch thickness": 6.35, "Position tolerance": 25,
	} {
		t.Criteria[name] = v // the same in US units
	}
	t.Indications, t.Repairs, t.Patches = indications, repairs, nil
	return t
}

func rows(list ...invented.Row) []invented.Row { return list }

func pit(id, plate string, x, y, size, remaining float64) invented.Row {
	return invented.Row{"ID": id, "Plate": plate, "X": x, "Y": y, "Side": "soil", "Method": "UT", "Kind": "pit", "Remaining": remaining, "Length": size, "Width": size}
}

func patch(label, plate string, x, y, length, width float64, more ...string) invented.Row {
	r := invented.Row{"Repair": label, "Kind": "patch", "Plate": plate, "X": x, "Y": y, "Length": length, "Width": width, "Remarks": "as agreed"}
	for i := 0; i+1 < len(more); i += 2 {
		r[more[i]] = more[i+1]
		if more[i+1] == "" {
			delete(r, more[i])
		}
	}
	return r
}

// Each rule for planned repairs, just kept and just not, in both unit systems.
// The plates are 6000 × 1800, the lap 50, the ring 700 wide; a row's neighbours
// meet over x 5950 to 6000. Source: the design's method, section 10, and its
// checks R501 to R505.
func TestPlannedRepairsAtTheirLimits(t *testing.T) {
	in := pit("1", "5-1", 3000, 900, 40, 2.9)
	ring := pit("1", "A1", 3000, 40, 40, 2.9)
	tomb := func(label string, x, length, thick float64, more ...string) invented.Row {
		r := patch(label, "A1", x, 100, length, 200, append([]string{"Shape", "tombstone"}, more...)...)
		r["Thickness"] = thick
		return r
	}
	fill := func(x, y float64) invented.Row {
		return patch("R1", "5-1", x, y, 150, 150, "Kind", "weld build-up")
	}
	with := func(r invented.Row, more ...any) invented.Row {
		for i := 0; i+1 < len(more); i += 2 {
			r[more[i].(string)] = more[i+1]
		}
		return r
	}
	day := unit.NewDate(2026, 4, 25)
	for _, c := range []struct {
		indications []invented.Row
		repairs     []invented.Row
		want        string // what of each finding follows the sheet, in order
	}{
		{rows(in), rows(patch("R1", "5-1", 3000, 900, 150, 150)), ""},
		{rows(pit("1", "5-1", 3000, 900, 50, 2.9)), rows(patch("R1", "5-1", 3000, 900, 150, 150)), ""},
		{rows(pit("1", "5-1", 3000, 900, 52, 2.9)), rows(patch("R1", "5-1", 3000, 900, 150, 150)), "R1:patch.overlap"},
		{nil, rows(patch("R1", "5-1", 3000, 900, 149, 200)), "R1:patch.minimum"},
		{nil, rows(patch("R1", "5-1", 3000, 900, 99, 200)), "R1:patch.corners R1:patch.minimum"},
		{nil, rows(patch("R1", "5-1", 5975, 900, 300, 300)), ""},
		{nil, rows(patch("R1", "5-1", 5975, 900, 300, 299)), "R1:patch.minimum_seam"},
		{nil, rows(patch("R1", "5-1", 5900, 900, 300, 300)), ""},
		{nil, rows(patch("R1", "5-1", 5899, 900, 300, 300)), "R1:patch.beyond_seam"},
		{nil, rows(patch("R1", "5-1", 5825, 900, 150, 150)), ""},
		{nil, rows(patch("R1", "5-1", 5826, 900, 150, 150)), "R1:patch.weld_clearance"},
		{nil, rows(patch("R1", "5-1", 3000, 900, 150, 150), patch("R2", "5-1", 3200, 900, 150, 150)), ""},
		{nil, rows(patch("R1", "5-1", 3000, 900, 150, 150), patch("R2", "5-1", 3199, 900, 150, 150)), "R1:patch.weld_clearance R2:patch.weld_clearance"},
		{nil, rows(patch("R1", "5-1", 3000, 900, 200, 200, "Shape", "circle"), patch("R2", "5-1", 3180, 1080, 200, 200, "Shape", "circle")), ""},
		{nil, rows(patch("R1", "5-1", 3000, 900, 200, 200, "Shape", "circle"), patch("R2", "5-1", 3170, 1070, 200, 200, "Shape", "circle")), "R1:patch.weld_clearance R2:patch.weld_clearance"},
		{rows(ring), rows(tomb("R1", 3000, 609.6, 6.35, "Indications", "1", "Remarks", "")), ""},
		{nil, rows(tomb("R1", 3000, 609.7, 6.35)), "R1:critical.length"},
		{nil, rows(tomb("R1", 3000, 300, 6.36)), "R1:critical.thickness"},
		{nil, rows(tomb("R1", 3000, 300, 6.35), tomb("R2", 3406, 300, 6.35)), ""},
		{nil, rows(tomb("R1", 3000, 300, 6.35), tomb("R2", 3400, 300, 6.35)), "R1:critical.spacing R2:critical.spacing"},
		{nil, rows(with(tomb("R1", 3000, 300, 6.35), "Shape", "rounded rectangle")), "R1:critical.tombstone"},
		{nil, rows(patch("R1", "A1", 3000, 250, 300, 200)), ""},
		{nil, rows(with(patch("R1", "A1", 3000, 249, 300, 200), "Thickness", 6.35)), "R1:critical.tombstone"},
		{nil, rows(with(tomb("R1", 3000, 300, 6.35), "Y", 98.0)), "R1:patch.inside"},
		{nil, rows(patch("R1", "A1", 3000, 260, 200, 200, "Shape", "tombstone")), "R1:critical.tombstone"},
		{rows(with(pit("1", "5-1", 3000, 900, 40, 4.5), "Side", "product")), rows(fill(3000, 900)), ""},
		{rows(pit("1", "5-1", 3000, 900, 40, 4.5)), rows(fill(3000, 900)), "R1:buildup.remaining"},
		{rows(with(pit("1", "5-1", 3000, 900, 40, 2.54), "Side", "product")), rows(fill(3000, 900)), ""},
		{rows(with(pit("1", "5-1", 3000, 900, 40, 2.53), "Side", "product")), rows(fill(3000, 900)), "R1:buildup.remaining"},
		{rows(in), rows(with(patch("R1", "5-1", 3000, 900, 150, 150), "Status", "completed", "Completed", day, "Retest", "vacuum box, accepted")), ""},
		{rows(in), rows(with(patch("R1", "5-1", 3000, 900, 150, 150), "Status", "completed", "Completed", day)), "R501:R1"},
		{rows(in), rows(with(patch("R1", "5-1", 3000, 900, 150, 150), "Status", "completed", "Retest", "vacuum box, accepted")), "C302:R1"},
		{rows(in), rows(patch("R1", "5-1", 3100, 900, 150, 150, "Indications", "1")), "R502:R1"},
		{nil, rows(patch("R1", "5-1", 3000, 900, 150, 150, "Remarks", "")), "R503:R1"},
		{rows(in, pit("2", "5-1", 2500, 900, 40, 2.4)), rows(patch("R1", "5-1", 3000, 900, 150, 150)), "R504:5-1/2"},
		{rows(in, pit("2", "5-1", 2500, 900, 40, 2.4)), rows(invented.Row{"Repair": "R1", "Kind": "replace plate", "Plate": "5-1"}), ""},
	} {
		for _, system := range []unit.System{unit.SI, unit.US} {
			tank := planned(c.indications, c.repairs)
			a := judged(t, tank, system)
			if n := len(a.Repairs.Items); n != len(c.repairs) { // what else a placed repair lacks leaves it in
				t.Errorf("%v: %d repairs", c.repairs, n)
			}
			var got []string
			for _, f := range a.Findings {
				keys := f.Members
				if len(keys) == 0 {
					keys = []string{f.Key}
				}
				for _, k := range keys {
					key := strings.Split(k, ":")
					switch {
					case f.Rule == "R505":
						got = append(got, strings.Join(key[2:], ":"))
					case strings.HasPrefix(f.Rule, "R5"), f.Severity >= finding.Error:
						got = append(got, f.Rule+":"+key[2])
					}
				}
			}
			slices.Sort(got)
			if text := strings.Join(got, " "); text != c.want {
				t.Errorf("%v of %v in %v:\n\tgot  %s\n\twant %s", c.repairs, c.indications, system, text, c.want)
			}
		}
	}
}

// Counts, areas, mass and lengths of a thousand planned patches are the sums of
// their parts; completed ones need no steel any more.
func TestThousandPatchesAddUp(t *testing.T) {
	var list []invented.Row
	for i := range 1000 {
		r := patch(strconv.Itoa(i+1), []string{"6-2", "7-2"}[i%2], 300+float64(i/2%40)*130, 200+float64(i/80)*110, 100+float64(i%7)*10, 100+float64(i%3)*20)
		switch i % 10 {
		case 0:
			r["Status"], r["Completed"], r["Retest"] = "completed", unit.NewDate(2026, 4, 25), "vacuum box, accepted"
		case 1:
			r["Thickness"] = 8.0
		case 2:
			r["Shape"] = "circle"
		}
		list = append(list, r)
	}
	r := judged(t, planned(nil, list), unit.SI).Repairs
	weld, mass, pieces, placed, covered := 0.0, 0.0, 0, map[int]int{}, 0.0
	for i := range r.Items {
		it := &r.Items[i]
		weld += float64(it.Weld)
		mass += float64(it.Mass.V)
		covered += float64(it.Length*it.Width) / 1e6
		if !it.Completed {
			pieces++
		}
	}
	for _, g := range r.Cutting.Groups {
		if g.Layout == nil {
			t.Fatal(g.Why)
		}
		for _, s := range g.Layout.Sheets {
			for _, p := range s.Pieces {
				placed[g.Pieces[p.Piece].Item]++
			}
		}
	}
	for i, n := range placed {
		if n != 1 || r.Items[i].Completed {
			t.Errorf("%s is cut %d times, completed %v", r.Items[i].Label, n, r.Items[i].Completed)
		}
	}
	if len(r.Items) != len(list) || r.Pieces != pieces || len(placed) != pieces {
		t.Errorf("%d repairs of %d, %d pieces, %d on sheets, %d to cut", len(r.Items), len(list), r.Pieces, len(placed), pieces)
	}
	if math.Abs(weld-float64(r.Weld)) > 1e-6 || r.Vacuum != r.Weld || math.Abs(mass-float64(r.Mass.V)) > 1e-9*mass {
		t.Errorf("weld %v of %v, vacuum box %v, mass %v of %v", r.Weld, weld, r.Vacuum, r.Mass.V, mass)
	}
	if a := float64(r.Area); a <= 0 || a > covered {
		t.Errorf("area %v, the patches one by one %v", a, covered)
	}
}
