package recount_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/invented"
)

// eaten is a floor, some with a ring, whose pits lie along the shell.
func eaten(seed uint64) *invented.Tank {
	d := rand.New(rand.NewPCG(seed, 9102))
	end := unit.NewDate(2026, 5, 1)
	diameter := one(d, 9000.0, 15000, 24000)
	ring := d.IntN(3) == 0
	t := &invented.Tank{Seed: seed, Criteria: invented.Row{}, Items: invented.Row{
		"Report number": "R-1", "Revision": "A", "Report status": "preliminary", "Client": "Client A", "Site": "Site B", "Tank": "T-1",
		"Inspection start": end - 10, "Inspection end": end, "Report date": end + 9, "Units": "SI", "Specific gravity": 0.85, "Shell height": 10000.0,
		"Maximum fill height": 9000.0, "Commissioned": unit.NewDate(2001, 5, 1), "Floor installed": unit.NewDate(2001, 5, 1), "Diameter": diameter,
		"Nominal thickness": one(d, 6.35, 8), "Lap": one(d, 0.0, 30, 50), "Annular ring": "no", "Firm name": "Firm", "Prepared by": "A. Day", "Responsible inspector": "B. Night",
		"First-course thickness as built": 12.0, "Plan up bearing": one(d, 0.0, 30),
	}}
	rim := diameter / 2
	if ring {
		t.Items["Annular ring"], t.Items["Annular nominal thickness"], t.Items["Annular width inside the shell"] = "yes", 8.0, 700.0
		rim -= 700
	}
	lap := t.Items.Number("Lap")
	const width, length = 1800.0, 6000.0
	t.Plates = append(t.Plates, rowsOfPlates(rim, width, length, lap)...)
	if ring {
		const segments = 12
		for j := range segments {
			t.Plates = append(t.Plates, invented.Row{
				"Plate": "A" + strconv.Itoa(j+1), "Type": "annular", "Length": math.Round(diameter * math.Pi / segments), "Width": 700.0,
				"Start bearing": float64(30 * j), "End bearing": float64(30 * (j + 1)), "MFL scanned %": 100.0,
			})
		}
	}
	plan := invented.Lay(t)
	t.Readings = []invented.Row{{"Plate": plan.Order[len(plan.Order)/2], "Thickness": 6.3}}
	wanted := one(d, 2, 5, 10, 20)
	for len(t.Indications) < wanted {
		p := one(d, t.Plates...)
		x, y := float64(d.IntN(int(p.Number("Length")))), float64(d.IntN(int(p.Number("Width"))))
		if len(t.Indications) > 0 && d.IntN(3) == 0 {
			q := one(d, t.Indications...)
			p, x, y = t.Plate(q.Word("Plate")), q.Number("X")+float64(d.IntN(700)-350), q.Number("Y")+float64(d.IntN(700)-350)
		}
		i := invented.Row{
			"ID": strconv.Itoa(len(t.Indications) + 1), "Plate": p.Word("Plate"), "X": x, "Y": y, "Side": "soil", "Method": "UT", "Kind": "pit",
			"Remaining": math.Round(230+390*d.Float64()) / 100, "Length": one(d, 20.0, 40, 60, 120, 250), "Width": one(d, 20.0, 45, 80, 180),
		}
		px, py, _ := plan.At(p.Word("Plate"), x, y)
		r := math.Hypot(px, py)
		if x < 0 || y < 0 || x > p.Number("Length") || y > p.Number("Width") || r < diameter/2-900 || r > diameter/2-5 || (p.Word("Type") != "annular" && r > rim-5) {
			continue
		}
		t.Indications = append(t.Indications, i)
	}
	for k := range d.IntN(4) {
		p := one(d, t.Plates...)
		px, py, _ := plan.At(p.Word("Plate"), p.Number("Length")/2, p.Number("Width")/2)
		if r := math.Hypot(px, py); r < diameter/2-250 {
			t.Patches = append(t.Patches, invented.Row{"Patch": "E" + strconv.Itoa(k), "Plate": p.Word("Plate"), "X": p.Number("Length") / 2, "Y": p.Number("Width") / 2, "Length": 300.0, "Width": 250.0, "Installed": unit.NewDate(2010, 1, 1)})
		}
	}
	return t
}

// A proposal at the shell keeps every rule, but where an old patch stands in its
// way or the sound metal itself does not last; then it says what is left to do.
func TestProposalsAtTheShellKeepTheRules(t *testing.T) {
	from, to := tanks(t)
	at := 0
	for seed := from; seed < to; seed++ {
		a := judged(t, eaten(seed), unit.SI)
		for i := range a.Repairs.Items {
			it := &a.Repairs.Items[i]
			if it.Shape == repair.Tombstone {
				at++
			}
			for _, c := range it.Checks {
				switch {
				case !c.Known || c.OK:
				case strings.Contains(c.Note, "existing patch"), c.ID == "critical.projected" && strings.Contains(c.Note, "sound metal"):
					if !it.Engineer || !strings.Contains(it.Reasons[0], "replace the ") {
						t.Errorf("tank %d %s fails %s and says %q", seed, it.Label, c.ID, it.Reasons)
					}
				default:
					t.Errorf("tank %d %s fails %s: %s", seed, it.Label, c.ID, c.Text(unit.SI))
				}
			}
		}
	}
	if at == 0 {
		t.Error("no tombstone was proposed")
	}
}
