package report_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/render/report"
	"platebook/rules/unit"
)

const (
	noPhotos   = "delete sheet Photos\n"
	noneIsDone = noPhotos + "delete sheet Planned repairs\n"
)

// built is the words of a section, with the notes below its tables.
func built(t *testing.T, name, edits string) string {
	t.Helper()
	blocks := section(report.Build(judged(t, "a.xlsx", edits), report.Options{}), name)
	text := words(blocks)
	for _, b := range blocks {
		switch b := b.(type) {
		case report.Table:
			text += b.Note + "\n"
			for _, c := range b.Columns {
				text += c.Head + "\n"
			}
		case report.Pairs:
			for _, p := range b.Rows {
				text += p[0] + ": " + p[1] + "\n"
			}
		case report.Steps:
			for _, s := range b.Steps {
				text += "step " + s.ID + " " + s.Symbol + "\n"
			}
		}
	}
	return text
}

// numbers are the numbers that a pattern finds, each of which must be there.
func numbers(t *testing.T, text, pattern string) []int {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("%q is not in:\n%s", pattern, text)
	}
	var out []int
	for _, s := range m[1:] {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, n)
	}
	return out
}

// What is recorded is told in full: the parts make up the whole, on page one,
// by zone and in the statistics.
func TestIndicationsAddUp(t *testing.T) {
	const edits = noPhotos + "Indications(8).Kind = not relevant\nIndications(20).Kind = not relevant\n"
	sum := numbers(t, built(t, "Summary", edits), `(\d+) indications were recorded: (\d+) marked not relevant and (\d+) judged here, \d+ of them proved up`)
	if sum[0] != sum[1]+sum[2] || sum[1] != 2 {
		t.Errorf("page one: %v", sum)
	}
	zones := numbers(t, built(t, "Floor", edits), `zone: (\d+) general, (\d+) in the critical zone next to the shell; (\d+) marked not relevant are in none of these numbers`)
	if zones[0]+zones[1] != sum[2] || zones[2] != sum[1] {
		t.Errorf("by zone %v, of %v", zones, sum)
	}
	counted := numbers(t, built(t, "Statistics", edits), `(\d+) indications with a known loss \((\d+) marked not relevant are not counted\)`)
	if counted[0] != sum[2] || counted[1] != sum[1] {
		t.Errorf("statistics %v, of %v", counted, sum)
	}
	all := noPhotos
	for i := range 20 {
		all += fmt.Sprintf("Indications(%d).Kind = not relevant\n", i+1)
	}
	if text := built(t, "Summary", all); !strings.Contains(text, "20 indications were recorded, and all are marked not relevant") || strings.Contains(text, "clean floor") {
		t.Errorf("none relevant:\n%s", text)
	}
	left := numbers(t, built(t, "Summary", noPhotos+"Indications(8).X = far\n"), `(\d+) indications were recorded, \d+ of them proved up; (\d+) further row of that sheet was left out because of an error in it`)
	if left[0]+left[1] != 20 {
		t.Errorf("with a row left out: %v", left)
	}
}

// A clean floor is one that was examined.
func TestCleanFloorWasExamined(t *testing.T) {
	none := noneIsDone + "delete sheet Prove-ups\ndelete sheet Tracks\n"
	for i := 21; i >= 2; i-- {
		none += fmt.Sprintf("delete row Indications!%d\n", i)
	}
	if text := built(t, "Summary", none); !strings.Contains(text, "a clean floor within the areas examined") {
		t.Errorf("examined:\n%s", text)
	}
	nothing := none + "Plates!I2:I15 = 0\nPlates!J2:J15 = 0\nPlates!K2:K15 = 0\nPlates!L2:L15 = 100\nPlates!M2:M15 = no access\n"
	if text := built(t, "Summary", nothing); strings.Contains(text, "clean floor") || !strings.Contains(text, "nothing follows from that for the floor") {
		t.Errorf("not examined:\n%s", text)
	}
	// Nothing planned and nothing to propose: there is no second state to show.
	if text := built(t, "Summary", none); strings.Contains(text, "proposal") {
		t.Errorf("a proposal of nothing is shown:\n%s", text)
	}
}

// Errors come first, then warnings, then notes.
func TestFindingsBySeverity(t *testing.T) {
	const edits = noPhotos + "Prove-ups(U4).Remaining = 5.2/5.4\nIndications(8).Side = T\nappend Criteria | Kerf | 4 | mm | | | the saw\nPlates(1-1).Datum corner = top left\n" +
		"Welds(W3).Result = rejected\nTank(Prepared by date).Value = \n"
	a := judged(t, "a.xlsx", edits)
	order := []string{"error", "warning", "note"}
	seen := map[string]bool{}
	for _, name := range []string{"Revision history and open questions", "Appendix: findings and answers"} {
		for _, b := range section(report.Build(a, report.Options{}), name) {
			table, ok := b.(report.Table)
			if !ok || table.Columns[0].Head != "Severity" {
				continue
			}
			at := 0
			for _, r := range table.Rows {
				n := slices.Index(order, r.Cells[0])
				if n < at {
					t.Errorf("%s: %s after %s", name, r.Cells[0], order[at])
				}
				at = n
				seen[name+r.Cells[0]] = true
			}
		}
	}
	for _, want := range []string{"Revision history and open questionserror", "Revision history and open questionswarning", "Appendix: findings and answerserror", "Appendix: findings and answerswarning", "Appendix: findings and answersnote"} {
		if !seen[want] {
			t.Errorf("no %s in the trial", want)
		}
	}
}

// No line is printed from pairs too few to carry one, and all slopes have the
// same decimals.
func TestLineOfTooFewPairs(t *testing.T) {
	enough := built(t, "MFL against UT", noPhotos)
	if !strings.Contains(enough, "step sizing.fit b1") || strings.Contains(enough, "too few") {
		t.Errorf("of ten pairs:\n%s", enough)
	}
	few := noPhotos + "delete row Prove-ups!11\ndelete row Prove-ups!10\ndelete row Prove-ups!9\ndelete row Prove-ups!8\n"
	text := built(t, "MFL against UT", few)
	for _, want := range []string{"All | 6 | ", " | too few | too few\n", "Too few: under 8 pairs (criterion Sizing minimum pairs)"} {
		if !strings.Contains(text, want) {
			t.Errorf("not said: %q\n%s", want, text)
		}
	}
	if strings.Contains(text, "step sizing.fit") {
		t.Errorf("the line's steps are printed:\n%s", text)
	}
	slopes := 0
	for _, b := range section(report.Build(judged(t, "a.xlsx", noPhotos+"Prove-ups(U4).Remaining = 1.8\nPlates(5-1).Scanned by = M. Ito\n"), report.Options{}), "MFL against UT") {
		if table, ok := b.(report.Table); ok {
			for _, r := range table.Rows {
				if !r.Group && r.Cells[6] != "too few" {
					slopes++
					if _, decimals, _ := strings.Cut(r.Cells[6], "."); len(decimals) != 3 {
						t.Errorf("slope %s of %s", r.Cells[6], r.Cells[0])
					}
				}
			}
		}
	}
	if slopes == 0 {
		t.Error("no slope in the trial")
	}
}

// Page one says in words what governs, what falls short and where metal is
// through.
func TestPageOneInWords(t *testing.T) {
	for name, c := range map[string]struct{ edits, want string }{
		"below now":  {noneIsDone + "Prove-ups(U4).Remaining = 1.8\n", "As found, metal is at or below the required 2.54 mm (floor): repair before return to service. No next date is calculated. With the repairs proposed here, if carried out, the calculated interval would be "},
		"hole":       {noneIsDone + "Prove-ups(U4).Remaining = 0\n", "1 hole goes through the floor (plate 3-1, indication 5): it may have opened long ago, so a rate from it is a lower bound."},
		"completed":  {noPhotos, "taken out by the repairs completed. 17 places on 13 plates fall short of the requirement within 10.0 years, and no repair takes them out."},
		"in all":     {noneIsDone, " in all; "},
		"wish":       {noneIsDone + "append Tank | Desired interval | 10 | years\n", "10.0 years: not reached as found, reached if the proposal is carried out"},
		"rests on":   {noneIsDone, "The results after repair rest on the repairs that the program proposes"},
		"no scan":    {noPhotos + "Plates!I2:I15 = 0\nPlates!J2:J15 = 0\nPlates!K2:K15 = 100\nPlates!L2:L15 = 0\n", "Of the plate area 100.0 % was gridded by UT and 0.0 % was not examined."},
		"governor":   {noneIsDone + "Tank(Floor installed).Value = \nTank(Commissioned).Value = \n", "governed by the limit where the corrosion rate is not known"},
		"estimated":  {noPhotos + "delete sheet Prove-ups\n", "on the soil side (plate 3-1, indication 5, estimated)"},
		"lining":     {noPhotos + "Tank(Lining).Value = thin film\nappend Tank | Lining installed | 2025-06-01\nappend Tank | Lining expected life | 15 | years\n", "0.000 (0.055 without the lining)"},
		"where open": {noPhotos + "Prove-ups(U9).Remaining = 5.2/5.4\n", "5-2/U9, Prove-ups!F10 (error C101): "},
	} {
		t.Run(name, func(t *testing.T) {
			if text := built(t, "Summary", c.edits); !strings.Contains(text, c.want) {
				t.Errorf("%q is not in:\n%s", c.want, text)
			}
		})
	}
}

// An interval is rounded down wherever it stands, also as the time after which
// a thickness is left.
func TestIntervalIsNeverRoundedUp(t *testing.T) {
	a := judged(t, "a.xlsx", noPhotos)
	years := a.Result.AsCompleted.MRTYears.V
	down := unit.IntervalText(years)
	if up := unit.Round(float64(years), 1); up == down {
		t.Fatalf("%v years print alike in both ways: another trial is needed", years)
	}
	if text := built(t, "Summary", noPhotos); !strings.Contains(text, "2.54 after "+down+" years") {
		t.Errorf("not after %s years:\n%s", down, text)
	}
}

// A check of a repair is told in words, with the id that the sheets use.
func TestChecksInWords(t *testing.T) {
	if text := built(t, "Repairs and recommendations", noneIsDone); !strings.Contains(text, "Metal under the edge (patch.perimeter) | not checked") {
		t.Errorf("%s", text)
	}
}

// What cannot be judged is not called thin, nor short of its requirement.
func TestUnjudgedIsNotThin(t *testing.T) {
	ring := "Tank(Annular ring).Value = yes\nappend Tank | Annular nominal thickness | 9.5 | mm\nappend Tank | Annular width inside the shell | 600 | mm\nTank(Specific gravity).Value = 1.1\n" +
		"append Plates | A1 | annular | | | 15707.96 | 600 | | | 100 | 0 | 0 | 0 | | 300 | J. Roe | 2026-04-20 | MFL-1\n" +
		"append Indications | 90 | A1 | 4000 | 400 | 30 | 30 | soil | MFL | 21 | | | pit | J. Roe | 2026-04-20\n"
	a := judged(t, "a.xlsx", noneIsDone+ring)
	found := false
	for i := range a.Result.Locations {
		l := &a.Result.Locations[i]
		found = found || l.Label == "A1/90" && l.Verdict == "engineering"
	}
	if !found {
		t.Fatal("the trial has no place that cannot be judged")
	}
	text := words(section(report.Build(a, report.Options{}), "Repairs and recommendations"))
	if want := "1 place on 1 plate cannot be judged here: an engineer has to."; !strings.Contains(text, want) {
		t.Errorf("not said: %q\n%s", want, text)
	}
}

// A table of all rows says which of them count for nothing.
func TestRowsThatDoNotCountAreTold(t *testing.T) {
	if text := built(t, "Appendix: all readings", noPhotos+"Prove-ups(U9).Remaining = 5.2/5.4\n"); !strings.Contains(text, "1 row of these is in no calculation because of an error in it; all such rows are listed below.") {
		t.Errorf("%s", text)
	}
}
