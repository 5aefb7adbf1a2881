package check

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/rules/inspection"
)

func TestKeys(t *testing.T) {
	for _, c := range []struct {
		hit  finding.Hit
		want string
	}{
		{finding.Hit{Rule: "C101", Kind: "Indications", Subject: "3-4/17", Column: "X"}, "C101:Indications:3-4/17:X"},
		{finding.Hit{Rule: "R201", Kind: "Indications", Subject: "3-4/17", Column: "X"}, "R201:Indications:3-4/17"},
		{finding.Hit{Rule: "R207", Kind: "Plates", Subject: Pair("3-5", "3-4")}, "R207:Plates:3-4 ~ 3-5"},
		{finding.Hit{Rule: "R207", Kind: "Plates", Subject: Pair("3-10", "3-9")}, "R207:Plates:3-9 ~ 3-10"},
		{finding.Hit{Rule: "R105", Kind: "Indications", Subject: "9-9"}, "R105:Indications:[9-9]"},
		{finding.Hit{Rule: "C104", Kind: "Prove-ups", Column: "Remaining"}, "C104:Prove-ups:[Remaining]"},
		{finding.Hit{Rule: "R601", Kind: "Settlement"}, "R601:Settlement:*"},
		{finding.Hit{Rule: "F201"}, "F201::"},
		{finding.Hit{Rule: "K103", Subject: "interval.adopted.as_found"}, "K103::[interval.adopted.as_found]"},
		{finding.Hit{Rule: "T201", Kind: "Plates", Subject: "5-2"}, "T201:Plates:[5-2]"},
	} {
		if got := Key(c.hit); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

// rowHit is a hit of a row rule on an indication's row.
func rowHit(rule string, row int, worth float64) finding.Hit {
	key := fmt.Sprintf("2-1/%d", row)
	return finding.Hit{
		Rule: rule, Kind: "Indications", Ref: at("Indications", 3, row), Subject: key, Row: key,
		Message: fmt.Sprintf("by %g", worth), Worth: worth,
	}
}

func withIndications(rows ...int) *inspection.Inspection {
	in := builder()
	for _, n := range rows {
		o := indication(in, fmt.Sprint(n), "2-1", 500, 500, 30)
		o.Number = n
	}
	return in
}

func TestRunsFold(t *testing.T) {
	// row 5 is blank and does not break the run; row 7 holds data and does
	in := withIndications(3, 4, 6, 7, 8)
	list := Arrange(in, []finding.Hit{rowHit("R201", 8, 1), rowHit("R201", 6, 2), rowHit("R201", 4, 9), rowHit("R201", 3, 1)})
	if len(list) != 2 {
		t.Fatalf("%d entries: %+v", len(list), list)
	}
	f := list[0]
	if f.Range() != "C3:C6" || f.Cells() != 3 || f.Key != "R201:Indications:2-1/3" || f.Message != "by 9" {
		t.Errorf("%s %d %s %s", f.Range(), f.Cells(), f.Key, f.Message)
	}
	if got := strings.Join(f.Members, " "); got != "R201:Indications:2-1/3 R201:Indications:2-1/4 R201:Indications:2-1/6" {
		t.Error(got)
	}
	if list[1].Range() != "C8" || list[1].Members != nil || list[1].Cells() != 1 {
		t.Errorf("%+v", list[1])
	}
}

func TestItemsNeverFold(t *testing.T) {
	var hits []finding.Hit
	for i, item := range []string{"Client", "Site"} {
		hits = append(hits, finding.Hit{Rule: "C301", Kind: "Tank", Ref: at("Tank", 2, 5+i), Subject: item, Column: "Value"})
	}
	if list := Arrange(builder(), hits); len(list) != 2 {
		t.Errorf("%+v", list)
	}
}

func TestOrder(t *testing.T) {
	in := builder()
	hits := []finding.Hit{
		{Rule: "C107", Kind: "Readings", Ref: at("Readings", 4, 9), Subject: "b", Column: "Thickness"},
		{Rule: "R311", Kind: "Prove-ups", Ref: finding.Ref{Sheet: "Prove-ups"}},
		{Rule: "C108", Kind: "Prove-ups", Ref: at("Prove-ups", 6, 2), Column: "Remaining"},
		{Rule: "C301", Kind: "Plates", Ref: at("Plates", 2, 7), Subject: "p", Column: "Type"},
		{Rule: "C101", Kind: "Plates", Ref: at("Plates", 1, 7), Subject: "p", Column: "Length"},
		{Rule: "Q602", Kind: "", Ref: finding.Ref{Sheet: "Sketches"}, Subject: "s"},
		{Rule: "T101"},
		{Rule: "F205"},
	}
	var got []string
	for _, f := range Arrange(in, hits) {
		got = append(got, f.Rule)
	}
	if s := strings.Join(got, " "); s != "F205 T101 C101 C301 R311 C108 C107 Q602" {
		t.Error(s)
	}
}

func TestEqualFindingsAreOne(t *testing.T) {
	a, b := rowHit("C302", 3, 1), rowHit("C302", 3, 1)
	b.Message = "completed without Completed"
	list := Arrange(withIndications(3), []finding.Hit{a, a, b})
	if len(list) != 1 || list[0].Message != "by 1; completed without Completed" {
		t.Errorf("%+v", list)
	}
}

func TestRelatedAreCut(t *testing.T) {
	h := rowHit("R105", 3, 0)
	for i := range 25 {
		h.Related = append(h.Related, see("", at("Indications", 2, 10+i), at("Indications", 2, 10+i))...)
	}
	f := Arrange(withIndications(3), []finding.Hit{h})[0]
	if len(f.Related) != 20 || f.More != 5 {
		t.Errorf("%d related and %d more", len(f.Related), f.More)
	}
}

func TestSignedRulesDependOnStatus(t *testing.T) {
	hit := []finding.Hit{{Rule: "Q304", Kind: "Tank", Ref: at("Tank", 2, 12), Subject: "Reviewed by"}}
	in := builder()
	if f := Arrange(in, hit)[0]; f.Severity != finding.Note {
		t.Errorf("preliminary: %s", f.Severity)
	}
	in.Tank.ReportStatus = text("final", at("Tank", 2, 2))
	if f := Arrange(in, hit)[0]; f.Severity != finding.Error {
		t.Errorf("final: %s", f.Severity)
	}
}

func TestOneCauseOneFinding(t *testing.T) {
	cell := func(rule, kind, column string, row int) finding.Hit {
		return finding.Hit{Rule: rule, Kind: kind, Column: column, Subject: "k", Ref: at(kind, 6, row)}
	}
	sheet := func(rule, kind string) finding.Hit {
		return finding.Hit{Rule: rule, Kind: kind, Ref: finding.Ref{Sheet: kind}}
	}
	for _, c := range []struct {
		name   string
		cause  finding.Hit
		silent finding.Hit
		stays  finding.Hit
	}{
		{"missing sheet", sheet("S101", "Plates"), cell("R105", "Indications", "Plate", 3), cell("C101", "Indications", "X", 3)},
		{"no header row", sheet("S106", "Indications"), cell("R307", "Indications", "Loss %", 3), cell("R301", "Readings", "Thickness", 3)},
		{"missing column", cell("S201", "Readings", "Thickness", 1), cell("C301", "Readings", "Thickness", 4), cell("C301", "Readings", "Plate", 4)},
		{"column twice", cell("S202", "Indications", "Loss %", 1), cell("C302", "Indications", "", 4), cell("C302", "Prove-ups", "", 4)},
		{"unit of a column", cell("C104", "Prove-ups", "Remaining", 2), cell("C106", "Prove-ups", "Remaining", 7), cell("C106", "Prove-ups", "Sound thickness", 7)},
		{
			"unit of a person",
			finding.Hit{Rule: "C105", Kind: "Readings", Subject: "J. Roe", Ref: at("Readings", 6, 3), Related: see("", at("Readings", 6, 5))},
			cell("C107", "Readings", "Thickness", 5), cell("C107", "Readings", "Thickness", 6),
		},
		{"stray cell", cell("S305", "Readings", "", 90), cell("C402", "Readings", "Thickness", 90), cell("C402", "Readings", "Thickness", 8)},
		{"off the plate", rowHit("R201", 4, 1), rowHit("R310", 4, 1), rowHit("R310", 5, 1)},
		{"far above nominal", cell("R301", "Readings", "Thickness", 4), cell("R315", "Readings", "Thickness", 4), cell("R315", "Readings", "Thickness", 5)},
		{"sorted by halves", sheet("R311", "Prove-ups"), cell("R309", "Prove-ups", "", 4), cell("R309", "Indications", "", 4)},
		{
			"unsigned",
			finding.Hit{Rule: "C301", Kind: "Tank", Subject: "Prepared by", Column: "Value", Ref: at("Tank", 2, 9)},
			finding.Hit{Rule: "Q304", Kind: "Tank", Subject: "Prepared by", Ref: at("Tank", 2, 9)},
			finding.Hit{Rule: "Q304", Kind: "Tank", Subject: "Reviewed by", Ref: at("Tank", 2, 10)},
		},
	} {
		got := make(map[string]bool)
		for _, h := range silence([]finding.Hit{c.silent, c.stays, c.cause}) {
			got[h.Rule+h.Kind+h.Subject+h.Column+fmt.Sprint(h.Ref)] = true
		}
		name := func(h finding.Hit) string { return h.Rule + h.Kind + h.Subject + h.Column + fmt.Sprint(h.Ref) }
		if got[name(c.silent)] {
			t.Errorf("%s: %s is not silent", c.name, c.silent.Rule)
		}
		if !got[name(c.stays)] || !got[name(c.cause)] {
			t.Errorf("%s: %s or its cause is gone", c.name, c.stays.Rule)
		}
	}
}

func answerTo(in *inspection.Inspection, key string) *inspection.Answer {
	n := len(in.Answers) + 2
	in.Answers = append(in.Answers, inspection.Answer{
		Row:      inspection.Row{Sheet: "Answers", Number: n, Key: key},
		Findings: inspection.Labels{Value: strings.Split(key, ";"), State: inspection.Given, Text: key, Ref: at("Answers", 1, n)},
		Answer:   text("cut out and looked at on the bench", at("Answers", 2, n)),
		By:       text("A. Day", at("Answers", 3, n)), Date: date("2026-05-02", at("Answers", 4, n)),
	})
	return &in.Answers[len(in.Answers)-1]
}

func TestAnswers(t *testing.T) {
	warning := rowHit("R304", 3, 1)
	warning.Value = "0"
	const key = "R304:Indications:2-1/3"
	for _, c := range []struct {
		name   string
		change func(in *inspection.Inspection, a *inspection.Answer)
		counts bool
		also   string // rule of the finding about the answer
	}{
		{"complete", func(*inspection.Inspection, *inspection.Answer) {}, true, ""},
		{"ten letters", func(_ *inspection.Inspection, a *inspection.Answer) { a.Answer.Value = "cut out ok so" }, true, ""},
		{"nine letters", func(_ *inspection.Inspection, a *inspection.Answer) { a.Answer.Value = "cut it out" + "!!" }, false, "Q501"},
		{"no name", func(_ *inspection.Inspection, a *inspection.Answer) { a.By = inspection.Text{} }, false, "Q501"},
		{"no date", func(_ *inspection.Inspection, a *inspection.Answer) { a.Date = inspection.Date{} }, false, "Q501"},
		{"on the report date", func(in *inspection.Inspection, a *inspection.Answer) { a.Date.Value = in.AsOf }, true, ""},
		{"after the report date", func(in *inspection.Inspection, a *inspection.Answer) { a.Date.Value = in.AsOf + 1 }, false, "Q501"},
		{"last day of Until", func(in *inspection.Inspection, a *inspection.Answer) {
			a.Until = date("2026-05-04", at("Answers", 5, 2))
		}, true, ""},
		{"past Until", func(in *inspection.Inspection, a *inspection.Answer) {
			a.Until = date("2026-05-03", at("Answers", 5, 2))
		}, false, "Q502"},
		{"another key", func(_ *inspection.Inspection, a *inspection.Answer) {
			a.Findings.Value = []string{"R304:Indications:9"}
		}, false, "Q502"},
		{"several keys", func(_ *inspection.Inspection, a *inspection.Answer) {
			a.Findings.Value = []string{"R304:Indications:9", key}
		}, true, "Q502"},
		{"value unchanged in Findings", func(_ *inspection.Inspection, a *inspection.Answer) { a.InSheet, a.Value = true, "0" }, true, ""},
		{"value changed in Findings", func(_ *inspection.Inspection, a *inspection.Answer) { a.InSheet, a.Value = true, "1.2" }, false, "Q502"},
	} {
		in := withIndications(3)
		c.change(in, answerTo(in, key))
		var answered bool
		about := ""
		for _, f := range Arrange(in, []finding.Hit{warning}) {
			switch f.Rule {
			case "R304":
				answered = f.Answer != nil && f.Answer.By == "A. Day"
			default:
				about = f.Rule
			}
		}
		if answered != c.counts || about != c.also {
			t.Errorf("%s: answered %v, %q", c.name, answered, about)
		}
	}
}

func TestOnlyWarningsAreAnswered(t *testing.T) {
	in := withIndications(3)
	answerTo(in, "R201:Indications:2-1/3")
	answerTo(in, "Q501:Answers:x")
	list := Arrange(in, []finding.Hit{rowHit("R201", 3, 1)})
	if c := Count(list); c.Errors != 1 || c.Answered != 0 || c.Notes != 1 {
		t.Errorf("%+v %+v", c, list)
	}
}

func TestAnsweredAndOpenDoNotFold(t *testing.T) {
	in := withIndications(3, 4, 5)
	answerTo(in, "R304:Indications:2-1/4")
	list := Arrange(in, []finding.Hit{rowHit("R304", 3, 1), rowHit("R304", 4, 1), rowHit("R304", 5, 1)})
	if c := Count(list); len(list) != 3 || c.Warnings != 2 || c.Answered != 1 {
		t.Errorf("%d entries, %+v", len(list), Count(list))
	}
	in = withIndications(3, 4, 5)
	answerTo(in, "R304:Indications:2-1/3;R304:Indications:2-1/4;R304:Indications:2-1/5")
	if list = Arrange(in, []finding.Hit{rowHit("R304", 3, 1), rowHit("R304", 4, 1), rowHit("R304", 5, 1)}); len(list) != 1 || list[0].Cells() != 3 || list[0].Answer == nil {
		t.Errorf("%+v", list)
	}
}

func TestAnUnknownCodeIsAMistakeOfTheProgram(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	Arrange(builder(), []finding.Hit{{Rule: "X999"}})
}

func TestTwoFindingsOfOneRowStayTwo(t *testing.T) {
	in := builder()
	in.Repairs = append(in.Repairs, inspection.Repair{Row: inspection.Row{Sheet: "Planned repairs", Number: 2, Key: "R3"}, Label: text("R3", at("Planned repairs", 1, 2))})
	list := Arrange(in, []finding.Hit{RepairFails(in, 0, "patch.overlap", "30, limit 50 mm"), RepairFails(in, 0, "patch.minimum", "120, limit 150 mm")})
	if len(list) != 2 {
		t.Errorf("%+v", list)
	}
}

// What is allocated for a list of findings grows as the list: eight times the
// hits never take sixteen times as much, be they one run, one finding with
// many related places, or all apart. Copying what is there for each further
// hit would take about 64 times as much.
func TestArrangingGrowsWithTheHits(t *testing.T) {
	const few, times = 2000, 8
	rows := make([]int, few*times)
	for i := range rows {
		rows[i] = 3 + i
	}
	in := withIndications(rows...)
	for name, hit := range map[string]func(i int) finding.Hit{
		"one run": func(i int) finding.Hit {
			h := rowHit("R201", rows[i], 1)
			h.Related = []finding.Related{{Ref: at("Plates", 2, 5)}, {Ref: at("Plates", 3, rows[i])}}
			return h
		},
		"one finding": func(i int) finding.Hit {
			return finding.Hit{Rule: "R105", Kind: "Indications", Subject: "9-9", Ref: at("Indications", 2, rows[i]), Message: "no plate 9-9"}
		},
		"all apart": func(i int) finding.Hit {
			h := rowHit("R201", rows[i], 1)
			h.Do = strings.Repeat("x", i%2) // never the same as that of the row above
			return h
		},
	} {
		taken := func(n int) uint64 {
			hits := make([]finding.Hit, n)
			for i := range hits {
				hits[i] = hit(i)
			}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			Arrange(in, hits)
			runtime.ReadMemStats(&after)
			return after.TotalAlloc - before.TotalAlloc
		}
		taken(few) // what is made once
		if a, b := taken(few), taken(few*times); b > 2*times*a {
			t.Errorf("%s: %d bytes for %d hits, %d for %d", name, a, few, b, few*times)
		} else {
			t.Logf("%s: %.1f times as much", name, float64(b)/float64(a))
		}
	}
}
