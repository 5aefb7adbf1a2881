package check

import (
	"strings"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// readings puts readings of equal spacing and changing values on a plate.
func readings(in *inspection.Inspection, on string, v ...float64) {
	for i, t := range v {
		reading(in, on, 300+float64(i)*211, 400+float64(i%3)*97, t)
	}
}

func TestThicknessLimits(t *testing.T) {
	hold(t, []limit{
		{
			"C106", "5 % of nominal", func(in *inspection.Inspection) { readings(in, "2-1", 0.3175) },
			func(in *inspection.Inspection) { readings(in, "2-1", 0.3174) },
		},
		{
			"R301", "150 % of nominal", func(in *inspection.Inspection) { readings(in, "2-1", 9.525) },
			func(in *inspection.Inspection) { readings(in, "2-1", 9.5251) },
		},
		{
			"R302", "115 % of nominal", func(in *inspection.Inspection) { readings(in, "2-1", 7.3025) },
			func(in *inspection.Inspection) { readings(in, "2-1", 7.3026) },
		},
		{
			"R302", "through coating, mill tolerance", func(in *inspection.Inspection) {
				proveUp(in, "U1", "", "2-1", 500, 500, 6.6).ThroughCoating = text("yes", at("Prove-ups", 10, 2))
			},
			func(in *inspection.Inspection) {
				proveUp(in, "U1", "", "2-1", 500, 500, 6.601).ThroughCoating = text("yes", at("Prove-ups", 10, 2))
			},
		},
		{
			"R303", "sound and 0.5 mm", func(in *inspection.Inspection) { depth(in, 6.85) },
			func(in *inspection.Inspection) { depth(in, 6.851) },
		},
		{
			"R304", "nothing left", func(in *inspection.Inspection) { depth(in, 6.349) },
			func(in *inspection.Inspection) { depth(in, 6.35) },
		},
		{
			"R304", "a loss of 100 %", func(in *inspection.Inspection) { indication(in, "1", "2-1", 500, 500, 99.9) },
			func(in *inspection.Inspection) { indication(in, "1", "2-1", 500, 500, 100) },
		},
		{
			"R305", "5 % of nominal apart", func(in *inspection.Inspection) { beside(in, 40, 3.81+0.3175) },
			func(in *inspection.Inspection) { beside(in, 40, 3.81+0.3176) },
		},
		{
			"R305", "sound and 0.3 mm", func(in *inspection.Inspection) {
				proveUp(in, "U1", "", "2-1", 500, 500, 6.3).Sound = length(6.0, at("Prove-ups", 8, 2))
			},
			func(in *inspection.Inspection) {
				proveUp(in, "U1", "", "2-1", 500, 500, 6.301).Sound = length(6.0, at("Prove-ups", 8, 2))
			},
		},
		{
			"R306", "10 % of nominal of the other", func(in *inspection.Inspection) { beside(in, 20, 1.27+0.6351) },
			func(in *inspection.Inspection) { beside(in, 20, 1.27+0.635) },
		},
		{
			"R306", "30 % of nominal from its own", func(in *inspection.Inspection) { beside(in, 37, 2.35+0.0) },
			func(in *inspection.Inspection) { beside(in, 33, 2.3) },
		},
		{
			"R315", "0.5 mm off the median", func(in *inspection.Inspection) { readings(in, "2-1", 6.3, 6.3, 6.3, 6.3, 6.3, 5.8) },
			func(in *inspection.Inspection) { readings(in, "2-1", 6.3, 6.3, 6.3, 6.3, 6.3, 5.79) },
		},
		{
			"R315", "six readings", func(in *inspection.Inspection) { readings(in, "2-1", 6.3, 6.3, 6.3, 6.3, 5.0) },
			func(in *inspection.Inspection) { readings(in, "2-1", 6.3, 6.3, 6.3, 6.3, 6.3, 5.0) },
		},
		{
			"T201", "108 % of nominal", func(in *inspection.Inspection) { readings(in, "2-1", 6.8, 6.858, 6.9) },
			func(in *inspection.Inspection) { readings(in, "2-1", 6.8, 6.8581, 6.9) },
		},
		{
			"T201", "88 % of nominal", func(in *inspection.Inspection) { readings(in, "2-1", 5.5, 5.588, 5.6) },
			func(in *inspection.Inspection) { readings(in, "2-1", 5.5, 5.5879, 5.6) },
		},
		{
			"T202", "twelve running", func(in *inspection.Inspection) {
				readings(in, "2-1", 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2)
			},
			func(in *inspection.Inspection) {
				readings(in, "2-1", 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2, 6.2)
			},
		},
		{
			"T203", "eight in even steps", func(in *inspection.Inspection) { readings(in, "2-1", 6.0, 6.1, 6.2, 6.3, 6.4, 6.5, 6.6) },
			func(in *inspection.Inspection) { readings(in, "2-1", 6.0, 6.1, 6.2, 6.3, 6.4, 6.5, 6.6, 6.7) },
		},
		{
			"T203", "losses by fives are read so", func(in *inspection.Inspection) { losses(in, 5) },
			func(in *inspection.Inspection) { losses(in, 4) },
		},
	})
}

func depth(in *inspection.Inspection, d float64) {
	o := indication(in, "1", "2-1", 500, 500, 0)
	o.Loss, o.Depth = inspection.Percent{}, length(d, at("Indications", 11, 2))
}

func beside(in *inspection.Inspection, loss, remaining float64) {
	indication(in, "1", "2-1", 500, 500, loss).Remaining = length(remaining, at("Indications", 10, 2))
}

func losses(in *inspection.Inspection, step float64) {
	for i := range 8 {
		id := string(rune('a' + i))
		indication(in, id, "2-1", 200+float64(i)*300, 500+float64(i%2)*300, 20+step*float64(i))
	}
}

func TestPlaceLimits(t *testing.T) {
	hold(t, []limit{
		{
			"R201", "25 mm off the plate", func(in *inspection.Inspection) { indication(in, "1", "2-1", 3025, 900, 30) },
			func(in *inspection.Inspection) { indication(in, "1", "2-1", 3025.1, 900, 30) },
		},
		{
			"R206", "diameter and lap", func(in *inspection.Inspection) { in.Plates[0].Length.Value = 10050 },
			func(in *inspection.Inspection) { in.Plates[0].Length.Value = 10050.1 },
		},
		{
			"R208", "lap and 100 mm", func(in *inspection.Inspection) { in.Plates[1].Left.Value = -150 },
			func(in *inspection.Inspection) { in.Plates[1].Left.Value = -150.1 },
		},
		{
			"R310", "twice the tolerance outside the box", func(in *inspection.Inspection) {
				indication(in, "1", "2-1", 500, 500, 45)
				proveUp(in, "U1", "1", "2-1", 562.5, 500, 3.5)
			},
			func(in *inspection.Inspection) {
				indication(in, "1", "2-1", 500, 500, 45)
				proveUp(in, "U1", "1", "2-1", 562.6, 500, 3.5)
			},
		},
		{
			"R311", "half of ten", func(in *inspection.Inspection) { linked(in, 4) },
			func(in *inspection.Inspection) { linked(in, 5) },
		},
		{
			"R103", "losses 1 point and places 25 mm apart", func(in *inspection.Inspection) {
				indication(in, "1", "2-1", 500, 500, 45)
				indication(in, "2", "2-1", 525.1, 500, 45)
			},
			func(in *inspection.Inspection) {
				indication(in, "1", "2-1", 500, 500, 45)
				indication(in, "2", "2-1", 525, 500, 46)
			},
		},
		{
			"R103", "5 mm where a plate has many", func(in *inspection.Inspection) { many(in, 6) },
			func(in *inspection.Inspection) { many(in, 5) },
		},
	})
}

func linked(in *inspection.Inspection, far int) {
	for i := range 10 {
		id, x := string(rune('a'+i)), 200+float64(i)*250
		indication(in, id, "2-1", x, 500, 45+float64(i*i%7))
		y := 500.0
		if i < far {
			y = 900
		}
		proveUp(in, "U"+id, id, "2-1", x, y, 3.4+0.01*float64(i))
	}
}

func many(in *inspection.Inspection, apart float64) {
	for i := range 10 {
		indication(in, string(rune('a'+i)), "2-1", 200+float64(i)*250, 500, 45)
	}
	indication(in, "z", "2-1", 200+apart, 500, 45)
}

func TestCoverageAndTankLimits(t *testing.T) {
	plateShares := func(in *inspection.Inspection, mfl, not float64) {
		p := &in.Plates[0]
		p.MFLScanned = share100(mfl, p.MFLScanned.Ref)
		p.NotExamined = share100(not, at("Plates", 11, 2))
	}
	hold(t, []limit{
		{
			"R401", "2 points", func(in *inspection.Inspection) { plateShares(in, 98, 2) },
			func(in *inspection.Inspection) { plateShares(in, 97.9, 2.1) },
		},
		{
			"R402", "100.5 %", func(in *inspection.Inspection) { plateShares(in, 100.5, 0) },
			func(in *inspection.Inspection) { plateShares(in, 100.6, 0) },
		},
		{
			"R403", "99.5 %", func(in *inspection.Inspection) { plateShares(in, 99.5, 0) },
			func(in *inspection.Inspection) { plateShares(in, 99.4, 0) },
		},
		{
			"R407", "the coating limit", func(in *inspection.Inspection) { in.Plates[0].Coating = length(6, at("Plates", 13, 2)) },
			func(in *inspection.Inspection) { in.Plates[0].Coating = length(6.001, at("Plates", 13, 2)) },
		},
		{
			"R701", "1 % above the shell", func(in *inspection.Inspection) { in.Tank.MaximumFillHeight.Value = 8080 },
			func(in *inspection.Inspection) { in.Tank.MaximumFillHeight.Value = 8081 },
		},
		{
			"Q303", "two years", func(in *inspection.Inspection) {
				in.Tank.Commissioned, in.Tank.FloorInstalled = date("2001-05-01", at("Tank", 2, 20)), date("1999-05-02", at("Tank", 2, 21))
			},
			func(in *inspection.Inspection) {
				in.Tank.Commissioned, in.Tank.FloorInstalled = date("2001-05-01", at("Tank", 2, 20)), date("1999-04-30", at("Tank", 2, 21))
			},
		},
		{
			"R601", "eight points", func(in *inspection.Inspection) { shell(in, 8) },
			func(in *inspection.Inspection) { shell(in, 7) },
		},
		{
			"R601", "32 ft along the shell", func(in *inspection.Inspection) { in.Tank.Diameter = length(24000, in.Tank.Diameter.Ref); shell(in, 8) },
			func(in *inspection.Inspection) { in.Tank.Diameter = length(25000, in.Tank.Diameter.Ref); shell(in, 8) },
		},
	})
}

func shell(in *inspection.Inspection, n int) {
	for i := range n {
		in.Settlement = append(in.Settlement, inspection.Survey{
			Row:   inspection.Row{Sheet: "Settlement", Number: i + 2, Key: "shell/" + string(rune('1'+i))},
			Kind:  text("shell", at("Settlement", 1, i+2)),
			Point: text(string(rune('1'+i)), at("Settlement", 2, i+2)), Elevation: length(float64(i%3), at("Settlement", 4, i+2)),
			Bearing: inspection.Angle{Value: unit.Angle(float64(i) * 360 / float64(n)), State: inspection.Given, Ref: at("Settlement", 3, i+2)},
		})
	}
}

// Method section 12: D 80, 100, 154, 200 ft → 8, 10, 16, 20 points.
func TestShellPointsNeeded(t *testing.T) {
	for feet, want := range map[unit.Length]int{60: 8, 80: 8, 100: 10, 154: 16, 200: 20} {
		if got := shellPointsNeeded(feet * unit.Foot); got != want {
			t.Errorf("%v ft: %d points, want %d", feet, got, want)
		}
	}
}

func TestUnitOfAColumn(t *testing.T) {
	inches := func(in *inspection.Inspection, wrong, right int) {
		for i := range wrong {
			reading(in, "2-1", 300+float64(i)*100, 400, 0.25)
		}
		for i := range right {
			reading(in, "2-2", 300+float64(i)*100, 400, 6.31)
		}
	}
	hold(t, []limit{
		{
			"C104", "three values", func(in *inspection.Inspection) { inches(in, 2, 0) },
			func(in *inspection.Inspection) { inches(in, 3, 0) },
		},
		{
			"C104", "80 % of the values", func(in *inspection.Inspection) { inches(in, 7, 2) },
			func(in *inspection.Inspection) { inches(in, 8, 2) },
		},
	})
	in := builder()
	inches(in, 4, 0)
	h := judged(in)["C104"]
	if len(h) != 1 || h[0].Message != "Thickness 0.25 is 3.9 % of nominal 6.35 mm; inches?" {
		t.Errorf("%+v", h)
	}
	if h[0].Cells != 4 || h[0].LastRow != 5 || !in.Readings[0].Out || in.Readings[0].Thickness.OK() {
		t.Errorf("the column's values are still known: %+v", h[0])
	}
}

func TestUnitOfAPerson(t *testing.T) {
	in := builder()
	for i := range 4 {
		reading(in, "2-1", 300+float64(i)*100, 400, 0.25).By = text("J. Roe", at("Readings", 5, i+2))
		reading(in, "2-2", 300+float64(i)*100, 400, 6.31)
	}
	h := judged(in)
	if len(h["C105"]) != 1 || h["C105"][0].Message != "4 values of J. Roe look like inches" || len(h["C104"])+len(h["C106"]) > 0 {
		t.Errorf("%+v", h["C105"])
	}
	if Key(h["C105"][0]) != "C105:Readings:[J. Roe]" {
		t.Error(Key(h["C105"][0]))
	}
}

func TestPercentScales(t *testing.T) {
	in := builder()
	indication(in, "1", "2-1", 500, 500, 45)
	indication(in, "2", "2-1", 900, 500, 0.45)
	signed := indication(in, "3", "2-1", 1300, 500, 0.5)
	signed.Loss.Text = "0.5 %"
	h := judged(in)["C110"]
	if len(h) != 1 || h[0].Message != "Loss 0.45 beside 45" || !in.Indications[1].Out || in.Indications[2].Out {
		t.Errorf("%+v", h)
	}
}

func TestNightShiftChecks(t *testing.T) {
	day := func(d int) unit.Date { return unit.Date(46000 + d) }
	days := func(d ...int) []unit.Date {
		var out []unit.Date
		for _, n := range d {
			out = append(out, day(n))
		}
		return out
	}
	for _, c := range []struct {
		name             string
		on, starts, ends []unit.Date
		want             map[unit.Date]string
	}{
		{"days", days(1, 2, 3), days(1, 2, 3), days(1, 2, 3), nil},
		{"an end missing", days(1, 2, 3), days(1, 2, 3), days(1, 3), map[unit.Date]string{day(2): "no end check"}},
		{"a start missing", days(1, 2), days(1), days(1, 2), map[unit.Date]string{day(2): "no start check"}},
		{"none", days(1), nil, nil, map[unit.Date]string{day(1): "no start and no end check"}},
		{"nights", days(1, 2, 3, 4), days(1, 2, 3), days(2, 3, 4), nil},
	} {
		got := unchecked(c.on, c.starts, c.ends, false)
		if night := unchecked(c.on, c.starts, c.ends, true); len(night) < len(got) {
			got = night
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %v", c.name, got)
		}
		for d, w := range c.want {
			if got[d] != w {
				t.Errorf("%s: %v: %q, want %q", c.name, d, got[d], w)
			}
		}
	}
}

func TestClosest(t *testing.T) {
	known := []string{"3-4", "3-5", "12-1"}
	if got := closest("P-3-4", known, nil); got != "3-4" {
		t.Errorf("a prefix: %q", got)
	}
	if got := closest("3-6", known, nil); got != "" {
		t.Errorf("two candidates give %q", got)
	}
	if got := closest("12-2", known, nil); got != "12-1" {
		t.Errorf("one edit: %q", got)
	}
}

func TestDigitSlipIsAsked(t *testing.T) {
	in := builder()
	readings(in, "2-1", 6.41, 6.38, 6.43, 6.39, 6.42, 6.40, 4.55)
	h := judged(in)["R315"]
	if len(h) != 1 || h[0].Message != "4.55 mm; 6 others 6.38 to 6.43 mm" {
		t.Errorf("%+v", h)
	}
	in = builder()
	readings(in, "2-1", 6.24, 6.28, 6.23, 6.29, 6.22, 6.20, 2.64)
	h = judged(in)["R315"]
	if len(h) != 1 || h[0].Message != "2.64 mm; 6 others 6.20 to 6.29 mm; 6.24 mm?" {
		t.Errorf("%+v", h)
	}
}

func TestCrossedCriteria(t *testing.T) {
	in := builder()
	in.Criteria.Put(criteria.ProveUpThreshold, criteria.Value{
		Number: 19, Text: "19", Set: true, Given: true, Changed: true, Note: "trial", Ref: at("Criteria", 2, 5),
	})
	h := judged(in)["Q403"]
	if len(h) != 1 || Key(h[0]) != "Q403:Criteria:Prove-up threshold" {
		t.Errorf("%+v", h)
	}
}

func TestCopiedBlocks(t *testing.T) {
	block := func(in *inspection.Inspection, on string, n int, v ...float64) {
		for i := range n {
			reading(in, on, 300+float64(i)*101, 500, v[i%len(v)])
		}
	}
	hold(t, []limit{
		{
			"R104", "five rows", func(in *inspection.Inspection) {
				block(in, "2-1", 4, 6.31, 6.29, 6.33)
				block(in, "2-2", 4, 6.31, 6.29, 6.33)
			},
			func(in *inspection.Inspection) {
				block(in, "2-1", 5, 6.31, 6.29, 6.33)
				block(in, "2-2", 5, 6.31, 6.29, 6.33)
			},
		},
		{
			"R104", "the same places on every plate", func(in *inspection.Inspection) {
				for i, on := range []string{"2-1", "2-2", "1-1", "1-2"} {
					if i > 1 {
						plate(in, on, -3000+float64(i-2)*2950, -2650)
					}
					block(in, on, 5, 6.3, 6.2, 6.3-float64(i/2)/10)
				}
			},
			func(in *inspection.Inspection) {
				for i, on := range []string{"2-1", "2-2", "1-1", "1-2"} {
					if i > 1 {
						plate(in, on, -3000+float64(i-2)*2950, -2650)
					}
					block(in, on, 12, 6.3, 6.2, 6.3-float64(i/2)/10)
				}
			},
		},
	})
	in := builder()
	block(in, "2-1", 7, 6.31, 6.29, 6.33)
	block(in, "2-2", 7, 6.31, 6.29, 6.33)
	h := judged(in)["R104"]
	if len(h) != 1 || h[0].Message != "7 rows of 2-2 equal those of 2-1" || Key(h[0]) != "R104:Readings:2-1 ~ 2-2" || h[0].Ref != at("Readings", 1, 9) {
		t.Errorf("%+v", h)
	}
}

// With all plate lengths in inches under mm the areas do not balance, and no
// place is blamed for lying off its plate.
func TestPlateSizesInAnotherUnit(t *testing.T) {
	in := builder()
	in.Plates[0].Left.Value, in.Plates[0].Length.Value = -2925, 6000/25.4
	in.Plates[1].Left.Value, in.Plates[1].Length.Value = -50, 6000/25.4
	for i := range 6 {
		indication(in, string(rune('a'+i)), "2-1", 600+400*float64(i*i%5), 500+50*float64(i), 30+float64(i))
		reading(in, "2-2", 500+350*float64(i*i%5), 400+60*float64(i), 6.3)
	}
	got := judged(in)
	if len(got["T101"]) != 1 || len(got["C104"])+len(got["R201"]) > 0 {
		t.Errorf("%+v %+v %+v", got["T101"], got["C104"], got["R201"])
	}
}

// A sheet of plates without rows is no floor with a gap: nothing is known of it.
func TestNoPlates(t *testing.T) {
	in := builder()
	in.Plates = nil
	got := judged(in)
	if len(got["T101"]) != 1 || len(got["R209"]) > 0 || !strings.Contains(got["T101"][0].Message, "plates 0, floor 78.54 m²: −100 %") {
		t.Errorf("%+v %+v", got["T101"], got["R209"])
	}
	in.Tank.Diameter = inspection.Length{}
	if got := judged(in); len(got["T101"]) > 0 {
		t.Errorf("a floor of unknown size: %+v", got["T101"])
	}
}

// A date outside the inspection says nothing of checks and certificates.
func TestADateInErrorIsUnknown(t *testing.T) {
	in := builder()
	r := reading(in, "2-1", 500, 500, 6.3)
	r.Instrument, r.Date = text("UT-1", at("Readings", 7, 2)), date("2026-05-03", at("Readings", 6, 2))
	in.Instruments = []inspection.Instrument{{Name: text("UT-1", at("Instruments", 1, 2)), CalibrationDue: date("2026-04-30", at("Instruments", 4, 2))}}
	in.Checks = []inspection.InstrumentCheck{{
		Row:        inspection.Row{Sheet: "Checks", Number: 2, Key: "UT-1"},
		Instrument: text("UT-1", at("Checks", 1, 2)), Date: date("2026-04-22", at("Checks", 2, 2)), Shift: text("start", at("Checks", 3, 2)),
	}}
	got := judged(in)
	if len(got["Q302"]) != 1 || len(got["Q202"])+len(got["Q203"]) > 0 {
		t.Errorf("%+v %+v %+v", got["Q302"], got["Q202"], got["Q203"])
	}
}
